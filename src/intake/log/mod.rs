//! A log of what was blown: bags by day and place, what was weighed, cut out, measured and inspected.
//!
//! Invariant: reads entries with their place; judges none of them.

mod bay_list;
mod sheet;

use super::selection::Selection;
use crate::finding::Finding;
use crate::model::Input;
use crate::source::Place;
use jiff::civil::Date;

pub use bay_list::BayList;
pub use sheet::{LOG_SCHEMA, read_log_sheet};

/// What is in the hopper, when it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hopper {
    /// It was run down.
    RunDown,
    /// It was weighed: the mass of what is in it, in kilograms.
    Weighed(f64),
}

/// Material that did not stay in the building.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Spilled.
    Spilled,
    /// Vacuumed off.
    Vacuumed,
    /// Bags that went back.
    Returned,
    /// Left in machine and hose.
    InMachine,
}

impl Taken {
    /// As people write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Spilled => "spilled",
            Self::Vacuumed => "vacuumed",
            Self::Returned => "returned",
            Self::InMachine => "in machine",
        }
    }
}

/// How bays were looked into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Infrared camera.
    Infrared,
    /// Borescope.
    Borescope,
    /// Probe.
    Probe,
    /// Chemical smoke at 50 Pa.
    Smoke,
}

impl Method {
    /// As people write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Infrared => "infrared",
            Self::Borescope => "borescope",
            Self::Probe => "probe",
            Self::Smoke => "smoke at 50 Pa",
        }
    }
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// Material was blown.
    Blown {
        /// Bags, whole or in part.
        bags: f64,
        /// Mass besides the bags, weighed.
        mass_kg: f64,
        /// What was in the hopper before.
        start: Option<Hopper>,
        /// What is in it afterwards.
        end: Option<Hopper>,
    },
    /// Material that did not stay in the building.
    Taken {
        /// Which.
        taken: Taken,
        /// Bags.
        bags: f64,
        /// Mass besides the bags.
        mass_kg: f64,
    },
    /// A core that was cut out.
    Core {
        /// Diameter of the cutter.
        diameter_m: f64,
        /// Depth of the core.
        depth_m: f64,
        /// Its mass.
        mass_kg: f64,
    },
    /// Depth of open-blown fill, or of a cavity.
    Depth {
        /// The reading.
        depth_m: f64,
    },
    /// A rater's grade of the installation.
    Grade {
        /// `I`, `II` or `III`, as the rater entered it.
        grade: String,
        /// How it was seen.
        method: Method,
    },
    /// Bays that were looked into.
    Inspection {
        /// How.
        method: Method,
        /// Which.
        bays: BayList,
        /// Whether they are full.
        is_filled: bool,
    },
}

/// An entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Where it stands.
    pub place: Place,
    /// The day.
    pub date: Option<Date>,
    /// Which surfaces.
    pub selection: Selection,
    /// Name of the fill, where it is said.
    pub fill: Option<String>,
    /// What it says.
    pub what: What,
    /// Who did it.
    pub by: Option<String>,
    /// Photo numbers.
    pub photos: Option<String>,
}

/// A log.
#[derive(Clone, Debug, PartialEq)]
pub struct Log {
    /// The file.
    pub input: Input,
    /// Its entries, in its order.
    pub entries: Vec<Entry>,
    /// What was odd and could be read.
    pub findings: Vec<Finding>,
}
