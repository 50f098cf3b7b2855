//! Values that are small languages of their own, such as `bays 3-4: air duct`: text in, data of the model out.
//!
//! Sheets have them in cells, the job file as values of keys.
//! Invariant: knows nothing of sheets, of the job file or of places in either.

mod do_not_fill;
mod eaves;
mod existing;
mod fit;
mod floor_bands;
mod junctions;
mod misread;
mod openings;
mod wiring;

pub use do_not_fill::read_do_not_fill;
pub use eaves::read_eaves;
pub use existing::read_existing;
pub use fit::{
    Room, ceilings_alone, depth_is_likely, eaves_fit, floors_fit, floors_have_walls, heel_is_likely, partitions_fit,
    places_have_room, places_have_walls, stretches_fit,
};
pub use floor_bands::read_floor_bands;
pub use junctions::{Corners, Partitions, read_corners, read_partitions};
pub use misread::{Misread, read_whole};
pub use openings::{FLUE_KINDS, OPENING_KINDS, clearance_fits, clearance_is_likely, flue_fits};
pub use wiring::{plain_word, read_wiring};
