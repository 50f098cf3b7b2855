//! What every reader of geometry needs: the file, its units, and a limit on how much is read.

use super::chimneys::Chimneys;
use super::file::File;
use super::loose::LooseFillings;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::model::LayerRule;
use std::cell::{Cell, RefCell};

static NO_CHIMNEYS: Chimneys = Chimneys::none();
static NO_FILLINGS: LooseFillings = LooseFillings::none();

/// Most representation items that one element may be made of.
const MOST_ITEMS: u32 = 100_000;

/// The file, its units, how many items may still be read for one element, and what was odd about them.
#[derive(Debug)]
pub struct Context<'a> {
    /// The file.
    pub file: &'a File<'a>,
    /// Metres in a length unit.
    pub length_m: f64,
    /// Radians in a plane-angle unit.
    pub angle_rad: f64,
    /// What the job file says of layers.
    pub layer_rules: &'a [LayerRule],
    /// Chimneys that may pass through an element.
    pub chimneys: &'a Chimneys,
    /// Doors and windows without openings that may stand in an element.
    pub fillings: &'a LooseFillings,
    items_left: Cell<u32>,
    notes: RefCell<Vec<Trouble>>,
}

impl<'a> Context<'a> {
    /// The context of one element.
    pub fn new(file: &'a File<'a>, length_m: f64, angle_rad: f64) -> Self {
        Self {
            file,
            length_m,
            angle_rad,
            layer_rules: &[],
            chimneys: &NO_CHIMNEYS,
            fillings: &NO_FILLINGS,
            items_left: Cell::new(MOST_ITEMS),
            notes: RefCell::default(),
        }
    }

    /// Counts one item.
    ///
    /// # Errors
    /// When an element is made of more items than any wall is: mapped items that multiply.
    pub fn count_item(&self, id: u64) -> Result<(), Trouble> {
        let left = self.items_left.get();
        if left == 0 {
            let message = format!("the body is made of more than {MOST_ITEMS} items; it is not measured");
            return Err(Trouble::new(Code::BodyNotMeasured, id, message));
        }
        self.items_left.set(left - 1);
        Ok(())
    }

    /// Notes what is odd about a record that can be used all the same.
    pub fn note(&self, trouble: Trouble) {
        let mut notes = self.notes.borrow_mut();
        if !notes.contains(&trouble) {
            notes.push(trouble);
        }
    }

    /// What was noted, in the order in which it was met.
    pub fn into_notes(self) -> Vec<Trouble> {
        self.notes.into_inner()
    }
}
