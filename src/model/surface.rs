//! One plane piece of the building that may be insulated.

use super::{
    Eaves, ExistingFill, FloorBand, FramingInPart, Junction, LayerKind, Opening, Standing, SurfaceKey, Wiring,
    layer_kind,
};
use crate::geometry::{Polygon, total_area_m2};
use crate::source::Source;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Kind of a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SurfaceKind {
    /// A wall.
    Wall,
    /// A ceiling under an attic.
    Ceiling,
    /// A roof slope.
    Roof,
    /// A floor.
    Floor,
}

/// What lies on the other side of a surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Exposure {
    /// Outdoors.
    Exterior,
    /// A garage, an unheated attic, a crawl space.
    Unconditioned,
    /// Another heated room.
    Interior,
    /// The input does not say.
    Unknown,
}

/// One layer of a surface, from the side where the input begins to count.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// Name of the material, and of the layer where it has one of its own; empty where unnamed.
    pub material: String,
    /// Thickness in metres.
    pub thickness_m: f64,
    /// What it is, as far as the cavity goes.
    pub kind: LayerKind,
}

impl Layer {
    /// A layer of a wall that is what its name says.
    pub fn named(material: &str, thickness_m: f64) -> Self {
        let kind = layer_kind(material, SurfaceKind::Wall, None);
        Self { material: material.to_owned(), thickness_m, kind }
    }
}

/// How far a surface reaches.
#[derive(Clone, Debug, PartialEq)]
pub enum Extent {
    /// Its outline in its own plane, openings filled: x along, y up, origin at the lower left of its box.
    Outline(Vec<Polygon>),
    /// Only its gross area is known, in square metres.
    AreaM2(f64),
}

/// Which part of a surface must stay empty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum DoNotFillExtent {
    /// Bays by number from the left, counted from 1, both included.
    Bays {
        /// First bay.
        first: u32,
        /// Last bay.
        last: u32,
    },
    /// A stretch along the surface, from its left end, in metres.
    Stretch {
        /// Where it begins.
        from_m: f64,
        /// Where it ends.
        to_m: f64,
    },
    /// An upright box from its lower left corner, in metres along and up the surface.
    Box {
        /// Lower left corner.
        from_m: [f64; 2],
        /// Upper right corner.
        to_m: [f64; 2],
    },
    /// All of it.
    All,
}

/// A part of a surface that must stay empty, and why.
#[derive(Clone, Debug, PartialEq)]
pub struct DoNotFill {
    /// Which part.
    pub extent: DoNotFillExtent,
    /// Why, as the sheet words it (`air duct`).
    pub reason: String,
    /// Where the job file says so, such as `job.toml:12`; `None` where the sheet of the surface does.
    pub said_by: Option<String>,
}

/// A piece of framing that the model itself gives, as it lies in the surface's plane.
#[derive(Clone, Debug, PartialEq)]
pub struct GivenMember {
    /// GlobalId.
    pub id: String,
    /// Where it was read.
    pub source: Source,
    /// Its shape in the surface's plane.
    pub outline: Vec<Polygon>,
}

/// One plane piece of the building that may be insulated.
#[derive(Clone, Debug, PartialEq)]
pub struct Surface {
    /// GlobalId, or the sheet's own id.
    pub id: String,
    /// Number of the piece where one element gives several planes, else 0.
    pub part: u32,
    /// Where it was read.
    pub source: Source,
    /// Name.
    pub name: Option<String>,
    /// Name of its type.
    pub type_name: Option<String>,
    /// Storey.
    pub storey: Option<String>,
    /// Zone.
    pub zone: Option<String>,
    /// How many alike.
    pub count: u32,
    /// Kind.
    pub kind: SurfaceKind,
    /// What lies on the other side.
    pub exposure: Exposure,
    /// Assembly as the sheet gives it: a name from the job file, or framing as written (`2x6 @ 24 in`).
    pub assembly: Option<String>,
    /// Layers, as far as the input gives them.
    pub layers: Vec<Layer>,
    /// Index in `layers` of the one that holds the cavity.
    pub cavity_layer: Option<usize>,
    /// Thickness of the whole body, in metres.
    pub thickness_m: Option<f64>,
    /// Measured depth of the cavity, in metres; wins over a nominal size.
    pub measured_depth_m: Option<f64>,
    /// Slope against the level, in degrees; 90 for a wall that stands upright.
    pub pitch_deg: Option<f64>,
    /// How far it reaches, openings filled.
    pub extent: Extent,
    /// Holes through it; they do not overlap.
    pub openings: Vec<Opening>,
    /// Framing that the model gives; it wins over laid-out members.
    pub given_members: Vec<GivenMember>,
    /// Whether `given_members` is all of the framing, so that none is laid out.
    pub framing_is_given: bool,
    /// Framing as a share of the area less openings, where the input gives it; used where only the area is known.
    pub framing_fraction: Option<f64>,
    /// What the input does not say of its framing and must, where that is so.
    pub framing_in_part: Option<FramingInPart>,
    /// What must stay empty.
    pub do_not_fill: Vec<DoNotFill>,
    /// Corner posts to frame in.
    pub corner_posts: u32,
    /// Junctions with partitions to frame in, whose place is not known.
    pub partition_junctions: u32,
    /// Where other walls meet this one, as far as the input says.
    pub junctions: Vec<Junction>,
    /// Where the structure of floors runs into this wall, from below.
    pub floor_bands: Vec<FloorBand>,
    /// Fill that is there already.
    pub existing_fill: Option<ExistingFill>,
    /// Whether somebody looked for bays that must stay empty; then none named means none found.
    pub is_surveyed: bool,
    /// Whether the model says that it will be demolished.
    pub is_demolished: bool,
    /// Wiring that somebody saw in its cavity.
    pub wiring: Option<Wiring>,
    /// The electrician who released its wiring.
    pub released_by: Option<String>,
    /// What bounds an attic floor's fill along the eaves.
    pub eaves: Eaves,
    /// Where it stands in the world of its model; `None` where nobody says, as in a sheet.
    pub standing: Option<Standing>,
    /// What its own row gives, also where that is none: the job file does not say it anew.
    pub said: Vec<SurfaceKey>,
}

impl Surface {
    /// A surface of which nothing is known but its place, its kind and how far it reaches.
    pub fn new(id: impl Into<String>, source: Source, kind: SurfaceKind, extent: Extent) -> Self {
        Self {
            id: id.into(),
            part: 0,
            source,
            name: None,
            type_name: None,
            storey: None,
            zone: None,
            count: 1,
            kind,
            exposure: Exposure::Unknown,
            assembly: None,
            layers: Vec::new(),
            cavity_layer: None,
            thickness_m: None,
            measured_depth_m: None,
            pitch_deg: None,
            extent,
            openings: Vec::new(),
            given_members: Vec::new(),
            framing_is_given: false,
            framing_fraction: None,
            framing_in_part: None,
            do_not_fill: Vec::new(),
            corner_posts: 0,
            partition_junctions: 0,
            junctions: Vec::new(),
            floor_bands: Vec::new(),
            existing_fill: None,
            is_surveyed: false,
            is_demolished: false,
            wiring: None,
            released_by: None,
            eaves: Eaves::default(),
            standing: None,
            said: Vec::new(),
        }
    }

    /// Area with the openings filled, of one of `count`, in square metres.
    pub fn gross_area_m2(&self) -> f64 {
        match &self.extent {
            Extent::Outline(polygons) => total_area_m2(polygons),
            Extent::AreaM2(area_m2) => *area_m2,
        }
    }

    /// What the openings take, of one of `count`, in square metres.
    pub fn opening_area_m2(&self) -> f64 {
        // A sum of nothing would be minus nought.
        self.openings.iter().fold(0.0, |sum_m2, opening| sum_m2 + opening.area_m2)
    }
}
