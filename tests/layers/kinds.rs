//! What kind of surface an element is, as it or its type says.

use super::model::{Box3, Model};
use cavitally::model::{Building, SurfaceKind};

const PLATE: Box3 = ([0.0, 0.0, 3.0], [5.0, 4.0, 3.2]);

/// A plate that lies: its own predefined type, and the class, element type and predefined type of its type.
fn plate(class: &str, own: &str, (of, element_type, predefined): (&str, &str, &str)) -> Building {
    let mut model = Model::new();
    let plate = model.boxed(class, "plate", PLATE, own);
    model.typed(&plate, of, element_type, predefined);
    model.read(&[])
}

/// The kind of its one surface, or why it was left out.
fn kind(building: &Building) -> Result<SurfaceKind, &str> {
    building.surfaces.first().map(|surface| surface.kind).ok_or_else(|| building.left_out[0].reason.as_str())
}

// ISO 16739-1:2018, IfcSlab.PredefinedType, from memory: "shall only be used, if no IfcSlabType is assigned, providing its own
// IfcSlabType.PredefinedType"; the same of IfcCovering.
#[test]
fn the_type_says_what_the_element_leaves_undefined() {
    for own in ["$", ".NOTDEFINED."] {
        let slab = |predefined: &str| plate("IFCSLAB", own, ("IFCSLABTYPE", "$", predefined));
        assert_eq!(kind(&slab("ROOF")), Ok(SurfaceKind::Roof), "{own}");
        assert_eq!(kind(&slab("BASESLAB")), Ok(SurfaceKind::Floor), "{own}");
        assert!(kind(&slab("LANDING")).unwrap_err().contains("landing"), "{own}");
        let covering = |predefined: &str| plate("IFCCOVERING", own, ("IFCCOVERINGTYPE", "$", predefined));
        assert_eq!(kind(&covering("CEILING")), Ok(SurfaceKind::Ceiling), "{own}");
        assert!(kind(&covering("FLOORING")).unwrap_err().contains("FLOORING"), "{own}");
    }
}

// Programs write a type for all slabs and the use of each on the slab itself.
#[test]
fn what_the_element_says_itself_wins() {
    let roof = plate("IFCSLAB", ".ROOF.", ("IFCSLABTYPE", "$", "FLOOR"));
    assert_eq!(kind(&roof), Ok(SurfaceKind::Roof));
}

#[test]
fn own_words_for_a_kind_are_read() {
    let by_type = |words: &str| plate("IFCSLAB", "$", ("IFCSLABTYPE", words, "USERDEFINED"));
    assert_eq!(kind(&by_type("'Roof slab'")), Ok(SurfaceKind::Roof));
    assert!(kind(&by_type("'landing'")).is_err());
    assert_eq!(kind(&by_type("'Kragplatte'")), Ok(SurfaceKind::Floor));
    let ceiling = plate("IFCCOVERING", "$", ("IFCCOVERINGTYPE", "'Suspended ceiling'", "USERDEFINED"));
    assert_eq!(kind(&ceiling), Ok(SurfaceKind::Ceiling));
}
