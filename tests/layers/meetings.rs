use super::model::{Model, surface};
use cavitally::model::{Building, JunctionKind};

/// A wall 5 m long along x, its near face at y = 0, 0.2 m thick and 3 m high.
fn long_wall(model: &mut Model) -> String {
    model.wall("long", ([0.0, 0.0, 0.0], [5.0, 0.2, 3.0]))
}

/// Junctions of a wall: kind, place along it, entity of the other wall.
fn junctions(building: &Building, name: &str) -> Vec<(JunctionKind, f64, String)> {
    let junctions = surface(building, name).junctions.iter();
    junctions
        .map(|one| {
            let other = one.source.as_ref().and_then(|source| source.entity.clone()).expect("it has a source");
            (one.kind, (one.at_m * 1e6).round() / 1e6, other)
        })
        .collect()
}

#[test]
fn a_wall_that_ends_at_a_side_is_a_partition_to_the_other_and_none_to_itself() {
    let mut model = Model::new();
    long_wall(&mut model);
    let stem = model.wall("stem", ([2.0, 0.2, 0.0], [2.1, 3.0, 3.0]));
    let building = model.read(&[]);
    assert_eq!(junctions(&building, "long"), [(JunctionKind::Partition, 2.05, stem)]);
    assert_eq!(junctions(&building, "stem"), []);
}

#[test]
fn walls_meet_over_a_gap_of_20_mm_and_half_a_metre_of_height_and_not_beyond() {
    let of = |gap_m: f64, height_m: f64| {
        let mut model = Model::new();
        long_wall(&mut model);
        model.wall("stem", ([2.0, 0.2 + gap_m, 0.0], [2.1, 3.0, height_m]));
        junctions(&model.read(&[]), "long").len()
    };
    assert_eq!([of(0.015, 3.0), of(0.03, 3.0), of(0.0, 0.6), of(0.0, 0.4)], [1, 0, 1, 0]);
}

#[test]
fn walls_that_cross_are_two_partitions_to_each_other() {
    let mut model = Model::new();
    let long = long_wall(&mut model);
    let cross = model.wall("cross", ([2.0, -3.0, 0.0], [2.1, 2.2, 3.0]));
    let building = model.read(&[]);
    let twice = |at_m: f64, other: &String| vec![(JunctionKind::Partition, at_m, other.clone()); 2];
    assert_eq!(junctions(&building, "long"), twice(2.05, &cross));
    // Its plane runs along -y, from its end at y = 2.2; the long wall's middle lies at y = 0.1.
    assert_eq!(junctions(&building, "cross"), twice(2.1, &long));
}

#[test]
fn walls_that_end_at_each_other_make_a_corner_however_the_model_joins_them() {
    // Butt joints both ways, both through, and both up to the middle of the other.
    for (from_y, to_x) in [(0.2, 5.0), (0.0, 4.8), (0.0, 5.0), (0.1, 4.9)] {
        let mut model = Model::new();
        let first = model.wall("first", ([0.0, 0.0, 0.0], [to_x, 0.2, 3.0]));
        let second = model.wall("second", ([4.8, from_y, 0.0], [5.0, 3.0, 3.0]));
        let building = model.read(&[]);
        assert_eq!(junctions(&building, "first"), [(JunctionKind::Corner, to_x, second)], "{from_y} {to_x}");
        // The plane of the second runs along -y.
        let length_m = 3.0 - from_y;
        assert_eq!(junctions(&building, "second"), [(JunctionKind::Corner, length_m, first)], "{from_y} {to_x}");
    }
}

#[test]
fn walls_in_line_do_not_meet() {
    let mut model = Model::new();
    long_wall(&mut model);
    model.wall("next", ([5.0, 0.0, 0.0], [9.0, 0.2, 3.0]));
    model.wall("lining", ([0.0, 0.2, 0.0], [5.0, 0.3, 3.0]));
    let building = model.read(&[]);
    assert!(["long", "next", "lining"].iter().all(|name| junctions(&building, name).is_empty()));
}

#[test]
fn what_the_model_says_of_two_walls_counts_in_either_order_of_them() {
    for turned in [false, true] {
        let mut model = Model::new();
        let long = long_wall(&mut model);
        // Too far off to touch.
        let stem = model.wall("stem", ([2.0, 0.35, 0.0], [2.1, 3.0, 3.0]));
        let corner = model.wall("corner", ([4.8, 0.35, 0.0], [5.0, 3.0, 3.0]));
        if turned {
            model.path((&stem, "ATSTART"), (&long, "ATPATH"));
            model.path((&corner, "ATSTART"), (&long, "ATEND"));
        } else {
            model.path((&long, "ATPATH"), (&stem, "ATSTART"));
            model.path((&long, "ATEND"), (&corner, "ATSTART"));
        }
        let building = model.read(&[]);
        let expected = [(JunctionKind::Partition, 2.05, stem.clone()), (JunctionKind::Corner, 5.0, corner.clone())];
        assert_eq!(junctions(&building, "long"), expected, "{turned}");
        assert_eq!(junctions(&building, "stem"), [], "{turned}");
        assert_eq!(junctions(&building, "corner"), [(JunctionKind::Corner, 2.65, long)], "{turned}");
    }
}

#[test]
fn what_the_model_says_twice_or_leaves_open_is_one_meeting() {
    let mut model = Model::new();
    let long = long_wall(&mut model);
    let said = model.wall("said", ([2.0, 0.2, 0.0], [2.1, 3.0, 3.0]));
    let open = model.wall("open", ([3.0, 0.2, 0.0], [3.1, 3.0, 3.0]));
    model.path((&long, "ATPATH"), (&said, "ATSTART"));
    model.path((&said, "ATSTART"), (&long, "ATPATH"));
    model.path((&long, "NOTDEFINED"), (&open, "NOTDEFINED"));
    let expected = [(JunctionKind::Partition, 2.05, said), (JunctionKind::Partition, 3.05, open)];
    assert_eq!(junctions(&model.read(&[]), "long"), expected);
}
