use super::model::{Model, surface};
use crate::support::assert_near;
use cavitally::finding::{Code, Severity};
use cavitally::model::{FlueKind, OpeningKind};

/// A floor of 5 m by 4 m, 0.3 m thick.
fn floor(model: &mut Model) -> String {
    model.slab("floor", ([0.0, 0.0, 2.7], [5.0, 4.0, 3.0]))
}

#[test]
fn openings_in_a_floor_are_what_their_names_say() {
    for (name, kind, flue) in [
        ("Attic hatch", OpeningKind::Hatch, None),
        ("Flue, type B", OpeningKind::Flue, Some(FlueKind::TypeB)),
        ("Brick chimney", OpeningKind::Chimney, Some(FlueKind::Masonry)),
        ("Downlight 3", OpeningKind::Light, None),
        ("Stairwell", OpeningKind::Other, None),
    ] {
        let mut model = Model::new();
        let slab = floor(&mut model);
        model.opening(&slab, name, ([1.0, 1.0, 2.0], [2.0, 2.0, 4.0]));
        let building = model.read(&[]);
        let openings = &surface(&building, "floor").openings;
        assert_eq!(openings.iter().map(|o| (o.kind, o.flue)).collect::<Vec<_>>(), [(kind, flue)], "{name}");
    }
}

#[test]
fn a_chimney_through_a_floor_is_cut_out_and_said() {
    let mut model = Model::new();
    floor(&mut model);
    model.chimney("Chimney, brick", ([1.0, 1.0, 0.0], [1.6, 1.5, 8.0]));
    model.chimney("beside it", ([9.0, 1.0, 0.0], [9.6, 1.5, 8.0]));
    let building = model.read(&[]);
    let [opening] = surface(&building, "floor").openings.as_slice() else { panic!("one opening") };
    assert_eq!((opening.kind, opening.flue), (OpeningKind::Chimney, Some(FlueKind::Masonry)));
    assert_eq!(opening.id, "Chimney, brick");
    assert_near!(opening.area_m2, 0.6 * 0.5, 1e-9);
    let said: Vec<_> = building.findings.iter().filter(|f| f.code == Code::ChimneyWithoutOpening).collect();
    assert!(said.len() == 1 && said[0].severity == Severity::Note, "{said:?}");
    assert!(said[0].message.contains("0.300 m2 are cut out"), "{said:?}");
}

#[test]
fn an_opening_around_a_chimney_is_its_opening() {
    let mut model = Model::new();
    let slab = floor(&mut model);
    model.opening(&slab, "Opening 1", ([0.95, 0.95, 2.0], [1.65, 1.55, 4.0]));
    model.chimney("Chimney", ([1.0, 1.0, 0.0], [1.6, 1.5, 8.0]));
    let building = model.read(&[]);
    let [opening] = surface(&building, "floor").openings.as_slice() else { panic!("one opening") };
    assert_eq!((opening.kind, opening.flue, opening.id.as_str()), (OpeningKind::Chimney, None, "Opening 1"));
    assert_near!(opening.area_m2, 0.7 * 0.6, 1e-9);
    assert!(building.findings.iter().all(|finding| finding.code != Code::ChimneyWithoutOpening));
}
