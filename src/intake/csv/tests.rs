use super::*;
use crate::model::{Exposure, Extent, Surface, SurfaceKind};
use crate::units::INCH_M;
use proptest::prelude::*;

fn sheet(text: &str) -> SheetFile {
    SheetFile { path: "house.csv".to_owned(), bytes: text.as_bytes().to_vec() }
}

fn house(texts: &[&str]) -> Building {
    let files: Vec<SheetFile> = texts.iter().map(|text| sheet(text)).collect();
    match read(&files, false) {
        Ok(building) => building,
        Err(refusals) => panic!("{refusals:#?}"),
    }
}

fn surface(text: &str) -> Surface {
    house(&[text]).surfaces.remove(0)
}

/// Box of an opening in inches: left, sill, right, head.
fn place_in(surface: &Surface, index: usize) -> [f64; 4] {
    let bounds = surface.openings[index].outline[0].bounds().unwrap();
    [bounds.min_x, bounds.min_y, bounds.max_x, bounds.max_y].map(|m| (m / INCH_M * 1e6).round() / 1e6)
}

// 16 ft by 97 1/8 in. is 129.5 ft2 (arithmetic).
#[test]
fn a_wall_is_read_in_feet_and_inches() {
    let wall = surface(
        "id,kind,length,height,assembly,depth,storey\nN,Wall,16',\"8'-1 1/8\"\"\",2x6 @ 16 in,5 1/2 in, Upper \n",
    );
    assert!((wall.gross_area_m2() - 129.5 * 0.092_903_04).abs() < 1e-12);
    assert_eq!((wall.kind, wall.exposure, wall.count), (SurfaceKind::Wall, Exposure::Exterior, 1));
    assert_eq!(wall.measured_depth_m, Some(5.5 * INCH_M));
    assert_eq!(wall.storey.as_deref(), Some("Upper"));
    assert_eq!(wall.pitch_deg, Some(90.0));
    assert_eq!(wall.source.line, Some(2));
}

#[test]
fn semicolons_and_decimal_commas_are_read() {
    let wall = surface("\u{feff}id;kind;length_m;height (mm)\r\nN;wall;4,88;2467\r\n");
    assert!((wall.gross_area_m2() - 4.88 * 2.467).abs() < 1e-12);
    let tabs = surface("id\tkind\tlength (ft)\theight (in)\nN\twall\t16\t97 1/8\n");
    assert!((tabs.gross_area_m2() - 129.5 * 0.092_903_04).abs() < 1e-12);
}

// A roof of 12 ft on plan at 12:12 is 12 sqrt 2 ft along its slope (geometry).
#[test]
fn what_is_measured_on_plan_is_brought_to_the_slope() {
    let roof = surface("id,kind,plan length,height,pitch\nR,roof,10 ft,12 ft,12:12\n");
    assert!((roof.gross_area_m2() / 0.092_903_04 - 120.0 * 2.0_f64.sqrt()).abs() < 1e-9);
    let area = surface("id,kind,plan area (ft2),pitch (deg)\nR,roof,120,45\n");
    assert!((area.gross_area_m2() / 0.092_903_04 - 120.0 * 2.0_f64.sqrt()).abs() < 1e-9);
    assert!(matches!(area.extent, Extent::AreaM2(_)));
    let slope = surface("id,kind,length,height,pitch\nR,roof,10 ft,12 ft,12:12\n");
    assert!((slope.gross_area_m2() / 0.092_903_04 - 120.0).abs() < 1e-9);
}

const WALL: &str = "id,kind,length,height\nN,wall,20',8'-1 1/8\n";

// A door stands on the floor; the head of a window is at 6'-10 1/2" (common practice, no source).
#[test]
fn openings_stand_where_the_sheet_or_common_practice_puts_them() {
    let openings = "surface,id,kind,width (in),height (in),sill (in),offset (in)\n\
                    N,D,door,38,82.5,,\nN,W,window,30,36,,12\nN,V,window,30,36,40,\n";
    let building = house(&[WALL, openings]);
    let wall = &building.surfaces[0];
    // W takes 12..42; the widest free stretch is 42..240, and D stands in its middle, 122..160; V then
    // finds 42..122 and 160..240 equal and takes the left one.
    assert_eq!(place_in(wall, 0), [122.0, 0.0, 160.0, 82.5]);
    assert_eq!(place_in(wall, 1), [12.0, 46.5, 42.0, 82.5]);
    assert_eq!(place_in(wall, 2), [67.0, 40.0, 97.0, 76.0]);
    let keys: Vec<(&str, &str)> = building.assumptions.iter().map(|a| (a.key.as_str(), a.source.as_str())).collect();
    assert!(keys.contains(&("opening.offset", "common practice, no source; for 2: N/D, N/V")), "{keys:?}");
    assert!(keys.contains(&("opening.head", "common practice, no source; for 1: N/W")), "{keys:?}");
}

#[test]
fn a_unit_gets_its_clearance_and_a_count_its_numbers() {
    let openings = "surface,id,kind,unit width (in),unit height (in),count\nN,W,window,36,48,2\n";
    let wall = &house(&[WALL, openings]).surfaces[0];
    let ids: Vec<&str> = wall.openings.iter().map(|o| o.id.as_str()).collect();
    assert_eq!(ids, ["W-1", "W-2"]);
    assert!((wall.openings[0].area_m2 - 36.5 * 48.5 * INCH_M * INCH_M).abs() < 1e-12);
}

#[test]
fn what_two_openings_share_is_taken_out_once() {
    let openings = "surface,id,kind,width (in),height (in),sill (in),offset (in)\nN,A,window,30,36,40,12\nN,B,window,30,36,40,32\n";
    let building = house(&[WALL, openings]);
    assert!((building.surfaces[0].opening_area_m2() - 50.0 * 36.0 * INCH_M * INCH_M).abs() < 1e-9);
    assert!(building.findings.iter().any(|f| f.code == Code::RowDoubt && f.message.contains("`A`")));
}

#[test]
fn a_window_in_a_gable_goes_under_its_peak() {
    let gable = "id,kind,length (ft),height (ft),peak (ft)\nN,wall,24,0,6\n";
    let openings = "surface,id,kind,width (ft),height (ft)\nN,W,window,2,2\n";
    let wall = &house(&[gable, openings]).surfaces[0];
    assert!((wall.gross_area_m2() / 0.092_903_04 - 72.0).abs() < 1e-9);
    // The room over two feet in the middle is 5 1/2 ft.
    assert_eq!(place_in(wall, 0), [132.0, 42.0, 156.0, 66.0]);
}

// The ground steps up 4 ft at 10 ft from the left: what is free at the common height of a head lies above it all along,
// and what stands on the low ground only to its left.
#[test]
fn openings_find_room_in_a_drawn_wall() {
    let wall = "id,kind,outline (ft)\nN,wall,0:0; 10:0; 10:4; 22:4; 22:12; 0:12\n";
    let openings = "surface,id,kind,width (in),height (in)\nN,D,door,36,82.5\nN,W,window,30,30\n";
    let building = house(&[wall, openings]);
    assert_eq!(place_in(&building.surfaces[0], 0), [42.0, 0.0, 78.0, 82.5]);
    // Free are 0..42 and 78..264 in.; the window stands in the middle of the wider.
    assert_eq!(place_in(&building.surfaces[0], 1), [156.0, 52.5, 186.0, 82.5]);
    let low = "surface,id,kind,width (in),height (in),sill (in),offset (in)\nN,W,window,30,30,20,110\n";
    let refusals = read(&[sheet(wall), sheet(low)], false).unwrap_err();
    assert!(refusals.len() == 1 && refusals[0].message.contains("is not within it"), "{refusals:?}");
}

#[test]
fn one_file_may_hold_both_and_keep_its_notes() {
    let text = "id,surface,kind,length,height,width,sill,offset,colour\nN,,wall,20',8',,,,=red\nW,N,window,,3',3',3',4',\n\n,,,,,,,,\n";
    let building = house(&[text]);
    assert_eq!(building.inputs[0].schema.as_deref(), Some("surfaces and openings"));
    assert_eq!(building.surfaces[0].name.as_deref(), Some("colour: =red"));
    assert_eq!(building.surfaces[0].openings.len(), 1);
    assert_eq!(building.findings.iter().filter(|f| f.code == Code::UnknownColumn).count(), 1);
}

// The digest as `sha256sum` of GNU coreutils gives it for the same bytes.
#[test]
fn the_digest_is_that_of_the_bytes() {
    let digest = "7eea58af29d9cc6df68d6752b2da673ffe9bc3a09da98ae6511d43dd5991ae09";
    assert_eq!(house(&[WALL]).inputs[0].sha256, digest);
    assert_ne!(house(&[&format!("\u{feff}{WALL}")]).inputs[0].sha256, digest);
}

#[test]
fn with_keep_going_good_rows_survive_and_the_rest_is_listed() {
    let surfaces = "id,kind,length,height\nN,wall,20',8'\nS,wall,2O',8'\nN,wall,1',1'\n";
    let openings = "surface,id,kind,width,height\nN,W,window,3',3'\nS,X,window,3',3'\nQ,Y,window,3',3'\n";
    let files = [sheet(surfaces), sheet(openings)];
    let building = read(&files, true).unwrap();
    assert_eq!(building.surfaces.len(), 1);
    let left: Vec<(&str, &str)> = building.left_out.iter().map(|e| (e.id.as_str(), e.class.as_str())).collect();
    assert_eq!(left, [("S", "wall"), ("N", "wall"), ("X", "window"), ("Y", "window")]);
    assert_eq!(building.findings.iter().filter(|f| f.code == Code::RowLeftOut).count(), 4);
    // Without it, the opening of a refused surface is no error of its own.
    assert_eq!(read(&files, false).unwrap_err().len(), 3);
}

fn samples(names: &[&str]) -> Building {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("samples");
    let files: Vec<SheetFile> = names
        .iter()
        .map(|name| SheetFile { path: (*name).to_owned(), bytes: std::fs::read(folder.join(name)).unwrap() })
        .collect();
    match read(&files, false) {
        Ok(building) => building,
        Err(refusals) => panic!("{refusals:#?}"),
    }
}

// By hand, in square inches: four walls of 373 x 97 1/8, two of 288 x 97 1/8, two of the same with a gable of
// 288 x 72 / 2, partitions of 222 and 144 x 97 1/8.
#[test]
fn the_sample_house_has_the_areas_of_its_drawing() {
    let building = samples(&["house-surfaces.csv", "house-openings.csv"]);
    let square_inches = |m2: f64| m2 / (INCH_M * INCH_M);
    // The main part of the house; its wings have zones of their own.
    let is_main =
        |s: &&Surface| s.kind == SurfaceKind::Wall && matches!(s.zone.as_deref(), Some("Living" | "Sleeping"));
    let main: Vec<&Surface> = building.surfaces.iter().filter(is_main).collect();
    let gross: f64 = main.iter().map(|s| s.gross_area_m2()).sum();
    let by_hand = (4.0 * 373.0 + 4.0 * 288.0 + 222.0 + 144.0) * 97.125 + 288.0 * 72.0;
    assert!((square_inches(gross) - by_hand).abs() < 1e-6);
    let south = &building.surfaces[0];
    assert!((square_inches(south.opening_area_m2()) - (38.5 * 82.5 + 2.0 * 48.5 * 48.5)).abs() < 1e-6);
    assert_eq!(place_in(south, 1), [54.0, 34.0, 102.5, 82.5]);
    assert_eq!(main.iter().map(|s| s.openings.len()).sum::<usize>(), 17);
}

#[test]
fn line_ends_order_of_columns_and_a_byte_order_mark_change_nothing() {
    let plain = house(&[WALL]).surfaces;
    for text in [
        WALL.replace('\n', "\r\n"),
        WALL.replace('\n', "\r"),
        WALL.trim_end().to_owned(),
        format!("\u{feff}{WALL}"),
        "HEIGHT,Length,Id,KIND\n8'-1 1/8,20',N,Wall\n".to_owned(),
        format!("{WALL},,,\n"),
    ] {
        assert_eq!(house(&[&text]).surfaces, plain, "{text:?}");
    }
}

#[test]
fn every_sample_sheet_is_read_without_a_doubt() {
    for names in [&["cabin.csv"][..], &["house-millimetres.csv"], &["start/surfaces.csv", "start/openings.csv"]] {
        let building = samples(names);
        assert!(building.findings.is_empty(), "{names:?}: {:?}", building.findings);
        assert!(building.left_out.is_empty() && building.surfaces.len() >= 6, "{names:?}");
    }
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_fail(text in "(id|kind|surface|length|height|width|[,;\"\n\r'x0-9 .-]){0,40}", go: bool) {
        let _ = read(&[sheet(&text)], go);
        let _ = read(&[sheet(&format!("id,kind,surface,length (ft),height (ft),width (ft),offset (ft)\n{text}"))], go);
    }

    #[test]
    fn no_cell_makes_the_reader_fail(
        cells in proptest::collection::vec("(at|to|none|left|%|removed|batt|all:|[0-9]{1,3}|'|in| m|[;:, .-]){0,12}", 8),
        kind in "(wall|roof|ceiling)",
        go: bool,
    ) {
        let headings = "id;kind;outline (ft);partitions;floors;existing;do_not_fill;eaves (ft);pitch;corners";
        let cells: Vec<String> = cells.iter().map(|cell| format!("\"{cell}\"")).collect();
        let _ = read(&[sheet(&format!("{headings}\nN;{kind};{}\n", cells.join(";")))], go);
        let _ = read(&[sheet(&format!("{headings}\nN;{kind};\"0:0;{};9:9\";{}\n", cells[0].replace('"', ""), cells[1..].join(";")))], go);
    }

    #[test]
    fn no_bytes_make_the_reader_fail(bytes in proptest::collection::vec(any::<u8>(), 0..60)) {
        let _ = read(&[SheetFile { path: "x".to_owned(), bytes }], true);
    }
}
