use super::model::{Box3, Model, surface};
use cavitally::finding::{Code, Severity};
use cavitally::model::{Building, Exposure};

/// A box in plan, 3 m high.
fn tall(x0: f64, y0: f64, x1: f64, y1: f64) -> Box3 {
    ([x0, y0, 0.0], [x1, y1, 3.0])
}

/// Two rooms and a garage in a row, walls of 0.2 m across the row, and a wall in the garden.
fn row_of_rooms(garage: &str) -> Model {
    let mut model = Model::new();
    model.space("Living room", tall(0.2, 0.0, 4.0, 4.0));
    model.space("Kitchen", tall(4.2, 0.0, 8.0, 4.0));
    model.space(garage, tall(8.2, 0.0, 12.0, 4.0));
    for (name, x) in [("outer", 0.0), ("between", 4.0), ("to garage", 8.0), ("of garage", 12.0)] {
        model.wall(name, tall(x, 0.0, x + 0.2, 4.0));
    }
    model.wall("garden", tall(0.0, -9.0, 4.0, -8.8));
    model
}

#[track_caller]
fn check(building: &Building, expected: &[(&str, Exposure)]) {
    for (name, exposure) in expected {
        assert_eq!(surface(building, name).exposure, *exposure, "{name}");
    }
}

fn message(building: &Building, code: Code) -> Option<(Severity, &str)> {
    let mut found = building.findings.iter().filter(|finding| finding.code == code);
    let first = found.next()?;
    assert!(found.next().is_none(), "{code:?} is said twice");
    Some((first.severity, &first.message))
}

#[test]
fn spaces_on_one_side_or_both_tell_outer_walls_from_inner_ones() {
    let building = row_of_rooms("Garage").read(&[]);
    let expected = [
        ("outer", Exposure::Exterior),
        ("between", Exposure::Interior),
        ("to garage", Exposure::Unconditioned),
        ("of garage", Exposure::Unknown),
        ("garden", Exposure::Unknown),
    ];
    check(&building, &expected);
    let (severity, text) = message(&building, Code::ExposureFromGeometry).expect("it is said");
    assert_eq!(severity, Severity::Note);
    assert!(text.contains("1 exterior, 1 towards unheated rooms, 1 interior"), "{text}");
    assert!(message(&building, Code::OutsideEnvelope).expect("it is said").1.starts_with("1 element bounds"));
}

#[test]
fn a_heated_garage_is_a_room_and_a_terrace_is_outdoors() {
    let building = row_of_rooms("Garage (heated)").read(&[]);
    check(&building, &[("to garage", Exposure::Interior), ("of garage", Exposure::Exterior)]);
    let building = row_of_rooms("Terrace").read(&[]);
    check(&building, &[("to garage", Exposure::Exterior), ("of garage", Exposure::Unknown)]);
}

#[test]
fn what_the_model_says_wins_and_is_doubted_where_it_parts_a_room_from_a_garage() {
    let mut model = row_of_rooms("Garage");
    let inner = model.wall("said internal", tall(8.0, 0.0, 8.2, 4.0));
    let outer = model.wall("said external", tall(4.0, 0.0, 4.2, 4.0));
    model.is_external(&inner, ".F.");
    model.is_external(&outer, ".T.");
    let building = model.read(&[]);
    check(&building, &[("said internal", Exposure::Interior), ("said external", Exposure::Exterior)]);
    let (severity, text) = message(&building, Code::ExposureContradicted).expect("it is said");
    assert_eq!(severity, Severity::Warning);
    assert!(text.starts_with("1 wall is said to be internal but parts a room from an unheated space"), "{text}");
}

#[test]
fn boundaries_win_over_geometry_where_the_model_tells_outdoors_from_indoors() {
    let mut model = Model::new();
    // The spaces lie far from the walls: only their boundaries speak.
    let [a, b] = [("A", 50.0), ("B", 60.0)].map(|(name, x)| model.space(name, tall(x, 0.0, x + 4.0, 4.0)));
    let [outer, inner, earth] =
        [("outer", 0.0), ("inner", 4.0), ("earth", 8.0)].map(|(name, x)| model.wall(name, tall(x, 0.0, x + 0.2, 4.0)));
    model.boundary(&a, &outer, "EXTERNAL");
    model.boundary(&a, &inner, "INTERNAL");
    model.boundary(&b, &inner, "INTERNAL");
    model.boundary(&b, &earth, "EXTERNAL_EARTH");
    let building = model.read(&[]);
    let expected = [("outer", Exposure::Exterior), ("inner", Exposure::Interior), ("earth", Exposure::Exterior)];
    check(&building, &expected);
    let text = message(&building, Code::ExposureFromBoundaries).expect("it is said").1;
    assert!(text.contains("2 exterior, 1 interior"), "{text}");
}

#[test]
fn boundaries_that_are_all_internal_tell_nothing() {
    let mut model = Model::new();
    let a = model.space("A", tall(50.0, 0.0, 54.0, 4.0));
    let wall = model.wall("wall", tall(0.0, 0.0, 0.2, 4.0));
    model.boundary(&a, &wall, "INTERNAL");
    check(&model.read(&[]), &[("wall", Exposure::Unknown)]);
}

#[test]
fn neither_a_lining_nor_the_wall_of_a_shaft_is_taken_for_exterior() {
    let mut model = Model::new();
    model.space("Room", tall(0.2, 0.0, 4.0, 4.0));
    model.space("Next room", tall(5.2, 0.0, 9.0, 4.0));
    model.wall("outer", tall(-0.3, 0.0, 0.0, 4.0));
    model.wall("lining", tall(0.0, 0.0, 0.2, 4.0));
    model.wall("shaft", tall(4.0, 0.0, 4.2, 4.0));
    let expected = [("outer", Exposure::Exterior), ("lining", Exposure::Unknown), ("shaft", Exposure::Unknown)];
    check(&model.read(&[]), &expected);
}

#[test]
fn without_spaces_nothing_is_known_and_nothing_is_said_of_it() {
    let mut model = Model::new();
    model.wall("wall", tall(0.0, 0.0, 0.2, 4.0));
    let building = model.read(&[]);
    check(&building, &[("wall", Exposure::Unknown)]);
    assert!(building.findings.is_empty(), "{:?}", building.findings);
}

// The standard has `IfcBoolean` there (ISO 16739-1, Pset_WallCommon); programs write texts and numbers as well.
#[test]
fn texts_and_numbers_that_say_true_or_false_are_read_and_others_are_named() {
    let said = |value: &str| {
        let mut model = Model::new();
        let wall = model.wall("wall", tall(0.0, 0.0, 4.0, 0.2));
        let property = model.add(&format!("IFCPROPERTYSINGLEVALUE('IsExternal',$,{value},$)"));
        let set = model.add(&format!("IFCPROPERTYSET('e',$,'Pset_WallCommon',$,({property}))"));
        model.add(&format!("IFCRELDEFINESBYPROPERTIES('r',$,$,$,({wall}),{set})"));
        let building = model.read(&[]);
        (surface(&building, "wall").exposure, message(&building, Code::RecordUnusable).map(|(_, said)| said.to_owned()))
    };
    for value in ["IFCBOOLEAN(.T.)", "IFCLOGICAL(.T.)", "IFCLABEL('TRUE')", "IFCTEXT('Yes')", "IFCINTEGER(1)"] {
        assert_eq!(said(value), (Exposure::Exterior, None), "{value}");
    }
    for value in ["IFCBOOLEAN(.F.)", "IFCLABEL('false')", "IFCIDENTIFIER('no')", "IFCREAL(0.)"] {
        assert_eq!(said(value), (Exposure::Interior, None), "{value}");
    }
    assert_eq!(said("IFCLOGICAL(.U.)"), (Exposure::Unknown, None));
    let (exposure, odd) = said("IFCLABEL('facade')");
    assert!(exposure == Exposure::Unknown && odd.is_some_and(|odd| odd.contains("IFCLABEL('facade')")));
}
