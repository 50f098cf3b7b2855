//! Floors, ceilings and roof slopes of the written models: plates that lie level or slope.

use super::step_writer::{Frame, Id, Layered, OpeningSpec, UP, Writer};

/// Class and predefined type of what lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SlabClass {
    Floor,
    RoofSlab,
    Roof,
    Ceiling,
}

impl SlabClass {
    fn element(self) -> (&'static str, &'static str) {
        match self {
            Self::Floor => ("IFCSLAB", "FLOOR"),
            Self::RoofSlab => ("IFCSLAB", "ROOF"),
            Self::Roof => ("IFCROOF", "SHED_ROOF"),
            Self::Ceiling => ("IFCCOVERING", "CEILING"),
        }
    }

    fn property_set(self) -> &'static str {
        match self {
            Self::Floor | Self::RoofSlab => "Pset_SlabCommon",
            Self::Roof => "Pset_RoofCommon",
            Self::Ceiling => "Pset_CoveringCommon",
        }
    }
}

/// A type of what lies: its layers from below.
pub struct SlabTypeSpec {
    pub name: String,
    pub class: SlabClass,
    pub layers: Vec<(String, f64)>,
}

impl SlabTypeSpec {
    pub fn thickness_m(&self) -> f64 {
        self.layers.iter().map(|(_, thickness_m)| thickness_m).sum()
    }
}

/// A plate: x along its low edge, y up its slope, its layers along z.
pub struct SlabSpec {
    pub name: String,
    /// Index in `BuildingSpec::slab_types`.
    pub slab_type: usize,
    pub is_external: Option<bool>,
    /// Origin of the outline, on the underside; above the storey.
    pub origin_m: [f64; 3],
    /// Direction of x in plan, of length 1.
    pub direction: [f64; 2],
    /// Rise over run.
    pub slope: f64,
    pub outline_m: Vec<[f64; 2]>,
    /// `sill_m` is the distance from the x axis.
    pub openings: Vec<OpeningSpec>,
}

impl Writer {
    pub(super) fn slab_type(&mut self, spec: &SlabTypeSpec) -> Layered {
        let (class, predefined) = spec.class.element();
        self.layered((&format!("{class}TYPE"), predefined), &spec.name, &spec.layers, ".AXIS3.,.POSITIVE.,0.")
    }

    pub(super) fn slab(
        &mut self,
        slab: &SlabSpec,
        slab_type: &SlabTypeSpec,
        storey: &str,
        frame: &Frame,
        elements: &mut Vec<Id>,
    ) -> Id {
        let ([x, y], run) = (slab.direction, 1.0_f64.hypot(slab.slope));
        // Up the slope is to the left of x; the normal stands on both.
        let normal = [y * slab.slope / run, -x * slab.slope / run, 1.0 / run];
        let axes = self.axes(slab.origin_m, normal, [x, y, 0.0]);
        let placement = self.add(&format!("IFCLOCALPLACEMENT({storey},{axes})"));
        let item = self.plate(&slab.outline_m, [0.0; 3], slab_type.thickness_m());
        let shape = self.shape(frame, "SweptSolid", &item);
        let (class, predefined) = slab_type.class.element();
        let name = &slab.name;
        let id = self.rooted(class, name, &format!("'{name}',$,$,{placement},{shape},'{name}',.{predefined}."));
        elements.push(id.clone());
        if let Some(is_external) = slab.is_external {
            self.exposure(slab_type.class.property_set(), name, &id, is_external);
        }
        for opening in &slab.openings {
            self.hole(opening, &id, slab_type.thickness_m(), &placement, frame);
        }
        id
    }

    /// An opening through the whole plate, with nothing in it.
    fn hole(&mut self, opening: &OpeningSpec, host: &str, thickness_m: f64, placement: &str, frame: &Frame) {
        const BEYOND_M: f64 = 0.1;
        let name = &opening.name;
        let axes = self.axes([opening.left_m, opening.sill_m, 0.0], UP, [1.0, 0.0, 0.0]);
        let place = self.add(&format!("IFCLOCALPLACEMENT({placement},{axes})"));
        let size_m = [opening.width_m, opening.height_m, thickness_m + 2.0 * BEYOND_M];
        let item = self.block([0.0, 0.0, -BEYOND_M], size_m);
        let shape = self.shape(frame, "SweptSolid", &item);
        // Names of openings are not unique in a house, and GlobalIds are.
        let what = format!("{host} {name}");
        let rest = format!("'{name}',$,$,{place},{shape},$,.OPENING.");
        let hole = self.rooted("IFCOPENINGELEMENT", &what, &rest);
        self.relate(&what, "IFCRELVOIDSELEMENT", &format!("{host},{hole}"));
    }

    /// An outline in plan, extruded upwards.
    fn plate(&mut self, outline_m: &[[f64; 2]], corner_m: [f64; 3], thickness_m: f64) -> Id {
        let curve = self.polyline(outline_m);
        let profile = self.add(&format!("IFCARBITRARYCLOSEDPROFILEDEF(.AREA.,$,{curve})"));
        let axes = self.axes(corner_m, UP, [1.0, 0.0, 0.0]);
        self.extrude(&profile, &axes, thickness_m)
    }
}
