//! Measured sheets that cannot be used. What each message must name follows the contract of the
//! sheets; how walls and openings are measured is common practice, no source.

use cavitally::finding::Code;
use cavitally::intake::csv::{SheetFile, read};
use cavitally::refusal::Refusal;

/// A surfaces sheet that is good, to stand beside a bad one.
const GOOD: &str = "id,kind,length,height\nN,wall,20 ft,8 ft\n";

pub(super) fn sheet(path: &str, bytes: &[u8]) -> SheetFile {
    SheetFile { path: path.to_owned(), bytes: bytes.to_vec() }
}

/// The only refusal of a sheet.
pub(super) fn refusal(text: &str) -> Refusal {
    only(read(&[sheet("bad.csv", text.as_bytes())], false).map(drop).unwrap_err(), text)
}

/// The only refusal of an openings sheet beside a good surfaces sheet.
fn opening_refusal(row: &str) -> Refusal {
    let text = format!("surface,id,kind,width,height,sill,offset,count\n{row}\n");
    let sheets = [sheet("good.csv", GOOD.as_bytes()), sheet("bad.csv", text.as_bytes())];
    only(read(&sheets, false).map(drop).unwrap_err(), &text)
}

pub(super) fn only(mut refusals: Vec<Refusal>, text: &str) -> Refusal {
    assert_eq!(refusals.len(), 1, "{text}: {refusals:#?}");
    refusals.remove(0)
}

/// Line and column of the cell, what the excerpt marks, and the message.
pub(super) fn check(refusal: &Refusal, line: u64, column: u64, marked: &str, message: &str) {
    assert_eq!(refusal.place.input, "bad.csv");
    assert_eq!((refusal.place.line, refusal.place.column), (Some(line), Some(column)), "{refusal:?}");
    let excerpt = refusal.excerpt.as_ref().expect("a cell has an excerpt");
    assert_eq!(&excerpt.text[excerpt.from..excerpt.to], marked);
    assert!(refusal.message.contains(message), "{}", refusal.message);
    assert!(!refusal.help.is_empty());
}

#[test]
fn files_that_are_no_sheets() {
    for (bytes, message) in [
        (&b""[..], "empty"),
        (b"\n \n", "empty"),
        (b"\x89PNG\r\n\x1a\n\0\0", "NUL"),
        (b"PK\x03\x04\x14", "workbook"),
        (b"id,kind\0,length\n", "NUL"),
        (b"\xff\xfei\0d", "damaged"),
        (b"a,b\n1,2\n", "no heading"),
        (b"id,kind,length,height\n", "no rows"),
        (b"id,length,height\nN,3 m,3 m\n", "`kind` is missing"),
        (b"id,kind,length,length_m,height\nN,wall,3 m,3,3 m\n", "second column"),
        (b"surface,id,kind,width,height\nN,W,window,3',3'\n", "no sheet of surfaces"),
    ] {
        let refusals = read(&[sheet("bad.csv", bytes)], true).map(drop).unwrap_err();
        assert!(refusals.len() == 1 && refusals[0].message.contains(message), "{refusals:?}");
        assert_eq!(refusals[0].place.input, "bad.csv");
    }
}

#[test]
fn a_ceiling_height_is_refused_with_its_reason() {
    let found = refusal("id,kind,length (ft),Ceiling height (ft)\nN,wall,20,8\n");
    check(&found, 1, 21, "Ceiling height (ft)", "stops at the finished ceiling");
    assert!(found.help.contains("plates included"));
}

#[test]
fn cells_of_surfaces() {
    let text = |row: &str| format!("id,kind,length,height,height_2,peak,area,depth,pitch,count,corners\n{row}\n");
    for (row, column, marked, message) in [
        ("N,wall,20,8 ft", 8, "20", "no unit"),
        ("N,wall,2O ft,8 ft", 8, "O", "letter `O`"),
        ("N,wall,-20 ft,8 ft", 8, "-20 ft", "negative"),
        ("N,wall,0 ft,8 ft", 8, "0 ft", "no length"),
        ("N,wall,20 ft,0 ft", 14, "0 ft", "no height"),
        ("N,wall,1e400 ft,8 ft", 8, "1e400", "too large"),
        ("N,wall,nan,8 ft", 8, "nan", "`nan`"),
        ("N,wall,4000 ft,8 ft", 8, "4000 ft", "longer than any building"),
        ("N,wall,20 ft,", 14, "", "`height` is empty"),
        ("N,wall", 1, "N", "neither length and height nor an outline nor an area"),
        ("N,wal,20 ft,8 ft", 3, "wal", "no kind"),
        (",wall,20 ft,8 ft", 1, "", "`id` is empty"),
        ("N,,20 ft,8 ft", 3, "", "`kind` is empty"),
        ("N,wall,20 ft,8 ft,,7 ft", 20, "7 ft", "not above the ends"),
        ("N,wall,20 ft,8 ft,,,200 ft2", 21, "200 ft2", "its sides give 160.0 ft2"),
        ("N,wall,,,,,200 ft", 12, "200 ft", "no unit of area"),
        ("N,wall,20 ft,8 ft,,,,66 in", 22, "66 in", "more than any cavity"),
        ("N,roof,20 ft,8 ft,,,,,6", 23, "6", "6:12 (which is 26.6 degrees)"),
        ("N,wall,20 ft,8 ft,,,,,6:12", 23, "6:12", "a pitch is for roofs, and for ceilings under one"),
        ("N,floor,20 ft,8 ft,,,,,6:12", 24, "6:12", "a pitch is for roofs, and for ceilings under one"),
        ("N,wall,20 ft,8 ft,,,,,,0", 24, "0", "from 1 to 100000"),
        ("N,wall,20 ft,8 ft,,,,,,99999999999", 24, "99999999999", "from 1 to 100000"),
        ("N,wall,20 ft,8 ft,,,,,,,1.5", 25, "1.5", "no whole number"),
        ("N,wall,20 ft,8 ft,,,,,,,,9", 26, "9", "12 cells, and there are 11 headings"),
        ("\"N\"x,wall,20 ft,8 ft", 1, "\"N\"x", "text follows"),
        ("N,wall,20 ft,\"8'-1\"\"", 14, "\"8'-1\"\"", "not closed"),
    ] {
        check(&refusal(&text(row)), 2, column, marked, message);
    }
}

#[test]
fn cells_of_openings() {
    for (row, column, marked, message) in [
        ("M,W,window,3 ft,3 ft", 1, "M", "no surface `M`"),
        ("N,W,windo,3 ft,3 ft", 5, "windo", "no kind"),
        ("N,,window,3 ft,3 ft", 3, "", "`id` is empty"),
        (",W,window,3 ft,3 ft", 1, "", "`surface` is empty"),
        ("N,W,window,,3 ft", 12, "", "`width` is empty"),
        ("N,W,window,21 ft,3 ft", 12, "21 ft", "21'-0\" (6.401 m) wide"),
        ("N,W,window,3 ft,9 ft", 17, "9 ft", "9'-0\" (2.743 m) high"),
        ("N,W,window,3 ft,3 ft,6 ft", 22, "6 ft", "head is at 9'-0\""),
        ("N,W,window,3 ft,3 ft,,18 ft", 23, "18 ft", "ends 21'-0\""),
        ("N,W,window,3 ft,3 ft,,1 ft,2", 23, "1 ft", "one offset stands for 2"),
        ("N,W,window,3 ft,3 ft,,,501", 24, "501", "from 1 to 500"),
        ("N,W,window,3 ft,3 ft,,,7", 12, "3 ft", "widest free stretch"),
    ] {
        check(&opening_refusal(row), 2, column, marked, message);
    }
    assert!(opening_refusal("n-,W,window,3 ft,3 ft").help.contains("`N`"));
    let twice = opening_refusal("N,W,window,3 ft,3 ft,,1 ft\nN,W,window,3 ft,3 ft,,9 ft");
    check(&twice, 3, 3, "W", "second opening of that id");
    let within = opening_refusal("N,A,window,6 ft,3 ft,,1 ft\nN,B,window,3 ft,3 ft,,2 ft");
    check(&within, 3, 23, "2 ft", "wholly within `A`");
}

#[test]
fn rows_that_do_not_fit_their_sheet() {
    let combined = |row: &str| format!("id,surface,kind,length,height,width,do_not_fill\nN,,wall,20 ft,8 ft\n{row}\n");
    check(&refusal(&combined("W,,wall,9 ft,8 ft,3 ft")), 3, 19, "3 ft", "for openings");
    check(&refusal(&combined("W,N,window,9 ft,3 ft,3 ft")), 3, 12, "9 ft", "for surfaces");
    check(&refusal(&combined("N,,wall,9 ft,8 ft")), 3, 1, "N", "second surface of that id; the first is at bad.csv:2");
    check(&refusal(&combined("S,,wall,9 ft,8 ft,,air duct")), 3, 20, "air duct", "no colon");
    check(
        &refusal(&combined("S,,wall,9 ft,8 ft,,4 ft to 10 ft: panel")),
        3,
        20,
        "4 ft to 10 ft: panel",
        "the surface at 9'-0\"",
    );
    let plan = refusal("id,kind,plan length (ft),height (ft)\nR,roof,20,8\n");
    check(&plan, 2, 8, "20", "the roof has no pitch");
    let wall = refusal("id,kind,plan length (ft),height (ft)\nR,wall,20,8\n");
    check(&wall, 2, 8, "20", "a wall stands upright");
    let comma = refusal("id;kind;length;height\nN;wall;4,5 m;2.6 m\n");
    check(&comma, 2, 14, "2.6", "decimal mark is a comma");
}

#[test]
fn all_errors_of_all_sheets_come_at_once_and_in_order() {
    let first = "id,kind,length,height\nN,wall,2O ft,8\nS,wal,20 ft,8 ft\n\"E\nE\",wall,20 ft,8 ft\nW,wall,x,8 ft\n";
    let second = "surface,id,kind,width,height\nN,A,window,3 ft,3 ft\nQ,B,window,3 ft,3 ft\n";
    let sheets = [sheet("one.csv", first.as_bytes()), sheet("two.csv", second.as_bytes())];
    let places: Vec<String> = read(&sheets, false).map(drop).unwrap_err().iter().map(|r| r.place.to_string()).collect();
    assert_eq!(
        places,
        ["one.csv:2:8 (N)", "one.csv:2:14 (N)", "one.csv:3:3 (S)", "one.csv:6:8 (W)", "two.csv:3:1 (B)"]
    );

    let building = read(&sheets, true).expect("good rows survive");
    assert_eq!(building.surfaces.iter().map(|s| s.id.as_str()).collect::<Vec<_>>(), ["E\nE"]);
    let left: Vec<&str> = building.left_out.iter().map(|element| element.id.as_str()).collect();
    assert_eq!(left, ["N", "S", "W", "A", "B"]);
    assert!(building.left_out[3].reason.contains("its surface `N` was left out"));
    assert_eq!(building.findings.iter().filter(|f| f.code == Code::RowLeftOut).count(), 6);
}

#[test]
fn what_is_odd_but_can_be_read_is_said() {
    let text = b"id,kind,length,height,colour,lenght\nN,wall,20 ft,8 ft,red\xbd\n";
    let building = read(&[sheet("odd.csv", text)], false).expect("it can be read");
    let said: Vec<Code> = building.findings.iter().map(|finding| finding.code).collect();
    assert_eq!(said, [Code::UnknownColumn, Code::UnknownColumn, Code::EncodingGuessed, Code::RowDoubt]);
    assert!(building.findings[1].message.contains("did you mean `length`?"));
    assert_eq!(building.surfaces[0].name.as_deref(), Some("colour: red½"));
    let tall = read(&[sheet("tall.csv", b"id,kind,length (ft),height (ft)\nN,wall,20,97 1/8\n")], false)
        .expect("it can be read");
    assert_eq!(tall.findings[0].code, Code::RowDoubt);
}
