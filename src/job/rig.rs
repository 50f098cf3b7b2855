//! A rig and the place of its work, read: plain data in SI, `None` where the job file does not say.

/// The place of the work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Site {
    /// Height above the sea.
    pub altitude_m: Option<f64>,
    /// Temperature of the air that is blown.
    pub air_k: Option<f64>,
    /// Year in which the building was built.
    pub built: Option<u32>,
    /// Volume where bags can lie dry.
    pub dry_storage_m3: Option<f64>,
    /// Most pressure that the finish of the walls stands.
    pub finish_limit_pa: Option<f64>,
}

/// A rig: blower, hose and circuit.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rig {
    /// Its name.
    pub name: String,
    /// What the pressure gauge said.
    pub gauge: Option<Gauge>,
    /// Pressure that makers ask for, in pascals, by the name of the fill.
    pub required: Vec<(String, f64)>,
    /// The hose.
    pub hose: Option<Hose>,
    /// Points of the blower's curve, by rising flow; none or at least two.
    pub curve: Vec<CurvePoint>,
    /// A box that was filled as a trial.
    pub trial_box: Option<TrialBox>,
    /// Voltage at the panel or the generator.
    pub voltage_v: Option<f64>,
    /// Circuits.
    pub circuits: Vec<Circuit>,
    /// A generator.
    pub generator: Option<Generator>,
    /// Fill that goes into closed cavities in an hour, in kilograms, holes not included.
    pub closed_kg_per_h: Option<f64>,
    /// The same of open-blown fill.
    pub open_kg_per_h: Option<f64>,
    /// Holes that one person drills and plugs in an hour.
    pub holes_per_h: Option<f64>,
    /// Hours of each day for setting up and cleaning.
    pub set_up_h: Option<f64>,
    /// What the hopper holds.
    pub hopper_kg: Option<f64>,
    /// What the truck carries.
    pub truck: Truck,
}

/// Where a gauge was held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GaugeAt {
    /// At the end of the hose.
    HoseEnd,
    /// At the outlet of the blower.
    BlowerOutlet,
}

/// A reading of the pressure gauge; `None` of a way means that nobody says.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// The reading.
    pub pressure_pa: f64,
    /// The reading, as it was written.
    pub text: String,
    /// Where.
    pub at: Option<GaugeAt>,
    /// Whether no fill was fed.
    pub is_feed_off: Option<bool>,
    /// Whether the gate of the hopper was closed.
    pub is_gate_closed: Option<bool>,
    /// Whether the air was at its highest setting.
    pub is_air_highest: Option<bool>,
    /// Height above the sea at which it was read.
    pub altitude_m: Option<f64>,
}

/// A hose from the blower to the nozzle.
#[derive(Clone, Debug, PartialEq)]
pub struct Hose {
    /// Its lengths from the blower on.
    pub sections: Vec<HoseSection>,
    /// Air that flows while a bay fills.
    pub air_flow_m3_s: Option<f64>,
    /// Fill that flows.
    pub solids_kg_s: Option<f64>,
    /// Bends of 90 degrees.
    pub bends: u32,
    /// Height of the nozzle above the blower.
    pub lift_m: f64,
    /// Roughness of its wall; nought is smooth.
    pub roughness_m: f64,
    /// Times its own length that a smooth pipe of the same friction is long.
    pub length_factor: Option<f64>,
}

/// A length of hose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoseSection {
    /// Inner diameter.
    pub diameter_m: f64,
    /// Length.
    pub length_m: f64,
}

/// A point of a blower's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurvePoint {
    /// Air that flows.
    pub flow_m3_s: f64,
    /// Pressure at the outlet.
    pub pressure_pa: f64,
}

/// A box that was filled as a trial.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialBox {
    /// Width, height and depth, inside.
    pub sides_m: [f64; 3],
    /// Mass of the empty box; nought where the fill alone was weighed.
    pub before_kg: f64,
    /// Mass of the filled box.
    pub after_kg: f64,
    /// How far the scale may be off.
    pub scale_kg: f64,
    /// How far the tape may be off.
    pub tape_m: f64,
    /// Whether the job file gives both.
    pub is_uncertainty_given: bool,
    /// Name of the fill; the first of the job where `None`.
    pub fill: Option<String>,
}

/// Leg of a 120/240 V service.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Leg {
    /// One.
    A,
    /// The other.
    B,
}

/// A circuit with its cord.
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Its breaker.
    pub breaker_a: f64,
    /// Which breaker of the panel that is, where somebody saw it.
    pub panel_breaker: Option<String>,
    /// Leg of the service.
    pub leg: Option<Leg>,
    /// Wire size of the cord, AWG.
    pub cord_awg: Option<u8>,
    /// Length of the cord.
    pub cord_length_m: Option<f64>,
    /// Whether a part of the cord stays coiled.
    pub is_coiled: Option<bool>,
    /// Whether it has ground-fault protection.
    pub has_ground_fault: Option<bool>,
    /// What runs on it.
    pub loads: Vec<Load>,
}

/// What runs on a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// What it is.
    pub what: String,
    /// Current while it runs.
    pub current_a: f64,
    /// Current while it starts.
    pub start_a: Option<f64>,
    /// Whether it runs for three hours or more.
    pub is_continuous: bool,
}

/// A generator.
#[derive(Clone, Debug, PartialEq)]
pub struct Generator {
    /// Power as long as it runs.
    pub power_w: f64,
    /// Power for a moment.
    pub start_power_w: Option<f64>,
    /// Whether it stands outdoors.
    pub is_outdoors: Option<bool>,
    /// Distance from doors, windows and vents.
    pub distance_m: Option<f64>,
}

/// What a truck carries.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Truck {
    /// Mass that it may still carry.
    pub payload_kg: Option<f64>,
    /// Volume for bags.
    pub volume_m3: Option<f64>,
    /// Volume of one bag, of fills that have none of their own.
    pub bag_m3: Option<f64>,
    /// Volume of one bag by name of fill.
    pub bag_m3_by_fill: Vec<(String, f64)>,
}

impl Truck {
    /// Volume of one bag of a fill.
    pub fn bag_m3_of(&self, fill: &str) -> Option<f64> {
        let own = self.bag_m3_by_fill.iter().find(|(name, _)| name.eq_ignore_ascii_case(fill));
        own.map(|(_, bag_m3)| *bag_m3).or(self.bag_m3)
    }
}
