use super::model::{Box3, Model, surface};
use crate::support::assert_near;
use cavitally::finding::{Code, Severity};
use cavitally::model::{Building, FlueKind, OpeningKind};

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

// Walls are 4 m by 2.7 m and 0.2 m thick; the door is 0.9 m by 2.1 m, the window 1 m by 1 m.
const FACE: [[f64; 2]; 4] = [[0.0, 0.0], [4.0, 0.0], [4.0, 2.7], [0.0, 2.7]];
const HOLE: [[f64; 2]; 4] = [[1.0, 1.0], [1.0, 2.0], [2.0, 2.0], [2.0, 1.0]];
const NOTCHED: [[f64; 2]; 8] =
    [[0.0, 0.0], [1.0, 0.0], [1.0, 2.1], [1.9, 2.1], [1.9, 0.0], [4.0, 0.0], [4.0, 2.7], [0.0, 2.7]];
const DOOR: Box3 = ([1.0, 0.05, 0.0], [1.9, 0.1, 2.1]);
const WINDOW: Box3 = ([1.0, 0.05, 1.0], [2.0, 0.1, 2.0]);

fn window(model: &mut Model) -> String {
    model.boxed("IFCWINDOW", "window", WINDOW, "1.,1.,$,$,$")
}

fn door(model: &mut Model) -> String {
    model.boxed("IFCDOOR", "door", DOOR, "2.1,0.9,$,$,$")
}

fn codes(building: &Building) -> Vec<Code> {
    building.findings.iter().map(|finding| finding.code).collect()
}

// Contract: a notch open to the edge stays cut out of gross, and is a finding if the model has a door or window there.
#[test]
fn a_door_in_a_notch_is_said_however_the_model_gives_it() {
    for given in ["door alone", "opening without shape", "opening for reference"] {
        let mut model = Model::new();
        let wall = model.wall_by_elevation("wall", &[&NOTCHED]);
        let door = door(&mut model);
        match given {
            "door alone" => {}
            "opening without shape" => model.uncut_opening(&wall, "opening", None, Some(&door)),
            _ => model.uncut_opening(&wall, "opening", Some(([1.0, -0.1, 0.0], [1.9, 0.3, 2.1])), Some(&door)),
        }
        let building = model.read(&[]);
        assert_near!(surface(&building, "wall").gross_area_m2(), 4.0 * 2.7 - 0.9 * 2.1, 1e-9, "{given}");
        assert_eq!(codes(&building), [Code::NotchAtOpening], "{given}");
    }
}

#[test]
fn a_door_or_window_in_a_wall_that_is_not_cut_is_said_and_not_deducted() {
    for make in [door, window] {
        let mut model = Model::new();
        let wall = model.wall_by_elevation("wall", &[&FACE]);
        let filling = make(&mut model);
        let building = model.read(&[]);
        assert!(surface(&building, "wall").openings.is_empty());
        assert_eq!(codes(&building), [Code::OpeningNotGiven]);
        assert!(building.findings[0].message.contains(&filling), "{:?}", building.findings);
        // One that fills an opening with a body is deducted; one beside the wall is no matter of this wall.
        let opening = model.opening(&wall, "opening", ([1.0, -0.1, 0.0], [2.0, 0.3, 2.1]));
        model.add(&format!("IFCRELFILLSELEMENT('f',$,$,$,{opening},{filling})"));
        model.boxed("IFCDOOR", "beside", ([1.0, 0.25, 0.0], [1.9, 0.3, 2.1]), "2.1,0.9,$,$,$");
        assert_eq!(codes(&model.read(&[])), []);
    }
}

// ISO 16739-1, IfcOpeningElement: a shape `Reference` stands for an opening that the body has cut already.
#[test]
fn openings_of_walls_that_are_cut_already_are_no_fault() {
    for reference in [Some(([1.0, -0.1, 1.0], [2.0, 0.3, 2.0])), None] {
        let mut model = Model::new();
        let wall = model.wall_by_elevation("wall", &[&FACE, &HOLE]);
        let window = window(&mut model);
        model.uncut_opening(&wall, "opening", reference, Some(&window));
        let building = model.read(&[]);
        let found = surface(&building, "wall");
        assert_near!(found.gross_area_m2(), 4.0 * 2.7, 1e-9);
        let [opening] = found.openings.as_slice() else { panic!("one opening: {:?}", found.openings) };
        assert_near!(opening.area_m2, 1.0, 1e-9);
        if reference.is_some() {
            assert_eq!((opening.id.as_str(), opening.kind), ("opening", OpeningKind::Window));
        }
        assert_eq!(codes(&building), []);
    }
    // Where the body is not cut, nothing is deducted, and that is said.
    let mut model = Model::new();
    let wall = model.wall_by_elevation("wall", &[&FACE]);
    model.uncut_opening(&wall, "opening", Some(([1.0, -0.1, 1.0], [2.0, 0.3, 2.0])), None);
    let building = model.read(&[]);
    assert!(surface(&building, "wall").openings.is_empty());
    assert_eq!(codes(&building), [Code::NoBody]);
}
