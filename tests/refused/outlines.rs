//! Outlines, junctions, floors and headings of sheets that cannot be used. What each message must name follows the
//! contract of the sheets; that an outline must not cross itself is ISO 19107, where it is called a simple ring.

use super::sheets::{check, refusal, sheet};
use cavitally::finding::Code;
use cavitally::intake::csv::read;

fn drawn(row: &str) -> String {
    format!("id,kind,outline,length,area,pitch,plan outline\n{row}\n")
}

#[test]
fn cells_of_outlines() {
    for (row, column, marked, message) in [
        ("N,wall,0:0; 4 m:0", 8, "0:0; 4 m:0", "2 corners, and a surface has at least 3"),
        ("N,wall,0:0; 4 m:0; 4 m", 8, "4 m", "is no point"),
        ("N,wall,0:0; 4 m:0; 3 ft:2O ft", 8, "3 ft:2O ft", "a letter `O`"),
        ("N,wall,0:0; 4 m:0; 4:3 m", 8, "4:3 m", "`4` has no unit"),
        ("N,wall,0:0; 4 m:0; -4 m:3 m", 8, "-4 m:3 m", "negative"),
        ("N,wall,0:0; 4 km:0; 4 m:3 m", 8, "4 km:0", "`km` is no unit"),
        ("N,wall,0:0; 4000 m:0; 4 m:3 m", 8, "4000 m:0", "longer than any building"),
        ("N,wall,0:0; 4 m:0; 4 m:0; 4 m:3 m", 8, "4 m:0", "stands twice in a row"),
        ("N,wall,0:0; 4 m:2 m; 4 m:0; 0:2 m", 8, "0:0; 4 m:2 m; 4 m:0; 0:2 m", "edge 1 (`0:0` to `4 m:2 m`)"),
        ("N,wall,0:0; 4 m:0; 2 m:0", 8, "0:0; 4 m:0; 2 m:0", "runs back over"),
        ("N,wall,0:0; 4 m:0; 0:3 m,4 m", 8, "0:0; 4 m:0; 0:3 m", "both `outline` and `length`"),
        ("N,wall,0:0; 4 m:0; 0:3 m,,9 m2", 27, "9 m2", "its outline gives"),
        ("N,wall,,,,,0:0; 4 m:0; 0:3 m", 12, "0:0; 4 m:0; 0:3 m", "a wall stands upright"),
        ("N,roof,,,,,0:0; 4 m:0; 0:3 m", 12, "0:0; 4 m:0; 0:3 m", "the roof has no pitch"),
        ("N,roof,0:0; 4 m:0; 0:3 m,,,6:12,0:0; 4 m:0; 0:3 m", 33, "0:0; 4 m:0; 0:3 m", "`outline` and `plan outline`"),
    ] {
        let found = refusal(&drawn(row));
        let excerpt = found.excerpt.as_ref().expect("a cell has an excerpt");
        assert_eq!(&excerpt.text[excerpt.from..excerpt.to], marked);
        assert_eq!((found.place.line, found.place.column), (Some(2), Some(column)), "{row}: {found:?}");
        assert!(found.message.contains(message), "{row}: {}", found.message);
        assert!(!found.help.is_empty());
    }
}

#[test]
fn cells_of_junctions_and_floors() {
    let text = |row: &str| format!("id,kind,length,height,area,corners,partitions,floors\n{row}\n");
    for (row, column, marked, message) in [
        ("N,wall,20 ft,8 ft,,middle", 20, "middle", "neither a number nor an end"),
        ("N,wall,20 ft,8 ft,,1.5", 20, "1.5", "no whole number"),
        ("N,roof,20 ft,8 ft,,left", 20, "left", "for walls alone"),
        ("N,wall,,,160 ft2,both", 18, "both", "only the area is known"),
        ("N,wall,20 ft,8 ft,,,4 ft", 21, "4 ft", "neither a number of partitions nor places"),
        ("N,wall,20 ft,8 ft,,,at", 21, "at", "no place"),
        ("N,wall,20 ft,8 ft,,,at 4", 21, "at 4", "`4` has no unit"),
        ("N,wall,20 ft,8 ft,,,\"at 4 ft, 21 ft\"", 21, "\"at 4 ft, 21 ft\"", "the wall ends at 20'-0\""),
        ("N,wall,20 ft,8 ft,,,at 4 ft; 48 in", 21, "at 4 ft; 48 in", "two partitions meet the wall at 4'-0\""),
        ("N,wall,20 ft,8 ft,,,\"at 4,5 ft\"", 21, "\"at 4,5 ft\"", "one length or two"),
        ("N,ceiling,20 ft,8 ft,,,at 4 ft", 24, "at 4 ft", "for walls alone"),
        ("N,wall,,,160 ft2,,at 4 ft", 19, "at 4 ft", "only the area is known"),
        ("N,wall,20 ft,8 ft,,,,3 ft", 22, "3 ft", "two heights with `to` between"),
        ("N,wall,20 ft,8 ft,,,,4 ft to 3 ft", 22, "4 ft to 3 ft", "ends before it begins"),
        ("N,wall,20 ft,8 ft,,,,7 ft to 9 ft", 22, "7 ft to 9 ft", "the wall is 8'-0\" (2.438 m) high"),
        ("N,wall,20 ft,8 ft,,,,3 ft to 4 ft; 2 ft to 3 ft", 22, "3 ft to 4 ft; 2 ft to 3 ft", "begins below the top"),
        ("N,wall,20 ft,8 ft,,,,3 to 4 ft", 22, "3 to 4 ft", "`3` has no unit"),
        ("N,floor,20 ft,8 ft,,,,3 ft to 4 ft", 23, "3 ft to 4 ft", "runs into walls alone"),
        ("N,wall,,,160 ft2,,,3 ft to 4 ft", 20, "3 ft to 4 ft", "only the area is known"),
    ] {
        check(&refusal(&text(row)), 2, column, marked, message);
    }
}

#[test]
fn headings_in_odd_places() {
    let twice = refusal("id,kind,length (ft),length (in),height (ft)\nN,wall,20,6,8\n");
    check(&twice, 1, 21, "length (in)", "second column for `length`");
    assert!(twice.help.contains("12'-6\""), "{}", twice.help);
    let units = refusal("id,kind,length (ft),height\n,,m,ft\nN,wall,20,8\n");
    check(&units, 2, 3, "m", "another unit than the heading above");

    // One heading merged over feet and inches: the inches must not end as a note.
    for text in
        ["id,kind,length,,height\n,,ft,in,ft\nN,wall,20,6,8\n", "id,kind,length (ft),,height (ft)\nN,wall,20,6,8\n"]
    {
        let merged = refusal(text);
        assert!(merged.message.contains("column 4 holds measures") && merged.help.contains("12'-6\""), "{merged:?}");
        assert_eq!(merged.place.line, Some(1));
    }

    // A title, units in a row of their own, headings that come again, and columns without a heading at the end.
    let text = "Survey of an invented house,,,,,\n,,,,,\nid,kind,length,height,,\n,,ft,(in),,\nN,wall,20,97 1/8,,\n\
                id,kind,length,height,,\nS,wall,20 ft,8 ft,,\n";
    let building = read(&[sheet("odd.csv", text.as_bytes())], false).expect("it can be read");
    let areas_ft2: Vec<f64> = building.surfaces.iter().map(|s| s.gross_area_m2() / (0.3048 * 0.3048)).collect();
    assert!((areas_ft2[0] - 20.0 * 97.125 / 12.0).abs() < 1e-9 && (areas_ft2[1] - 160.0).abs() < 1e-9, "{areas_ft2:?}");
    let found: Vec<(Code, &str)> = building.findings.iter().map(|f| (f.code, f.r#where.as_str())).collect();
    assert_eq!(found, [(Code::RowDoubt, "odd.csv:1"), (Code::RowDoubt, "odd.csv:6")], "{:?}", building.findings);
    assert!(building.findings[0].message.contains("Survey of an invented house"));
}
