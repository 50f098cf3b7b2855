//! What a row of a plan or of a log chooses a surface by.

use super::SurfaceTakeoff;
use crate::intake::Chosen;

impl SurfaceTakeoff {
    /// What it is chosen by.
    pub fn chosen(&self) -> Chosen<'_> {
        Chosen {
            id: &self.id,
            part: self.part,
            name: self.name.as_deref(),
            r#type: self.r#type.as_deref(),
            assembly: self.assembly.as_deref(),
            storey: self.storey.as_deref(),
            zone: self.zone.as_deref(),
            kind: self.kind,
        }
    }
}
