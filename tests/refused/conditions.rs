//! What a sheet says of old fill, eaves, platforms and flues, and cannot be used. What each message must name follows
//! the contract of the sheets.

use super::sheets::{check, only, refusal, sheet};
use cavitally::finding::Code;
use cavitally::intake::csv::read;
use cavitally::refusal::Refusal;

#[test]
fn cells_of_what_is_there() {
    let text = |row: &str| format!("id,kind,length,height,existing,eaves,heel_height,pitch,do_not_fill\n{row}\n");
    for (row, column, marked, message) in [
        ("C,wall,8 m,6 m,old batt", 16, "old batt", "does not say how much"),
        ("C,wall,8 m,6 m,old batt 3", 16, "old batt 3", "`3` has no unit"),
        ("C,wall,8 m,6 m,50 %", 16, "50 %", "does not say what is there"),
        ("C,wall,8 m,6 m,batt 120 %", 16, "batt 120 %", "not from 1 to 100 %"),
        ("C,wall,8 m,6 m,batt 0.5 %", 16, "batt 0.5 %", "not from 1 to 100 %"),
        ("C,wall,8 m,6 m,batt 5 m", 16, "batt 5 m", "no thickness"),
        ("C,wall,8 m,6 m,,8 m", 17, "8 m", "`eaves` is for ceilings"),
        ("C,roof,8 m,6 m,,,6 in", 18, "6 in", "`heel_height` is for ceilings"),
        ("C,ceiling,8 m,6 m,,29 m", 20, "29 m", "all edges of the ceiling together 91'-10"),
        ("C,ceiling,8 m,6 m,,16", 20, "16", "no unit"),
        ("C,ceiling,8 m,6 m,,,60 ft", 21, "60 ft", "higher than any roof"),
        ("C,ceiling,8 m,6 m,,,,6", 22, "6", "6:12 (which is 26.6 degrees)"),
        ("C,wall,8 m,6 m,,,,,nothing", 20, "nothing", "no colon"),
    ] {
        check(&refusal(&text(row)), 2, column, marked, message);
    }
}

/// The only refusal of an openings sheet beside a ceiling of 8 m by 6 m and a floor of which the area is known.
fn opening_refusal(row: &str) -> Refusal {
    let good = "id,kind,length,height,area\nC,ceiling,8 m,6 m,\nF,floor,,,48 m2\n";
    let text = format!("surface,id,kind,width,height,sill,offset,flue,clearance,unit width\n{row}\n");
    let sheets = [sheet("good.csv", good.as_bytes()), sheet("bad.csv", text.as_bytes())];
    only(read(&sheets, false).map(drop).unwrap_err(), &text)
}

#[test]
fn cells_of_platforms_and_flues() {
    for (row, column, marked, message) in [
        ("C,P,platform,1 m,1 m,1 m", 1, "C", "`offset` is empty, and a platform has a place"),
        ("C,P,platform,1 m,1 m,,1 m", 22, "", "`sill` is empty, and a platform has a place"),
        ("C,P,platform,1 m,1 m,1 m,7.5 m", 26, "7.5 m", "ends 27'-10"),
        ("C,P,platform,1 m,1 m,5.5 m,1 m", 22, "5.5 m", "6.500 m"),
        ("C,P,platform,,1 m,1 m,1 m,,,1 m", 29, "1 m", "a platform does not"),
        ("F,P,platform,1 m,1 m,1 m,1 m", 5, "platform", "only the area of `F` is known"),
        ("C,P,platform,1 m,1 m,1 m,1 m,type B", 30, "type B", "this row is neither"),
        ("C,L,light,8 in,8 in,1 m,1 m,masonry", 29, "masonry", "this row is neither"),
        ("C,L,flue,8 in,8 in,1 m,1 m,type C", 28, "type C", "`type C` is no flue"),
        ("C,L,flue,8 in,8 in,1 m,1 m,,3", 29, "3", "no unit"),
        ("C,L,flue,8 in,8 in,1 m,1 m,,3 ft 9 in", 29, "3 ft 9 in", "more than fill stays off"),
        ("C,W,window,1 m,1 m,1 m,1 m,,2 in", 29, "2 in", "`clearance` is how far fill stays off"),
        ("C,W,windo,1 m,1 m,1 m,1 m,type B,2 in", 5, "windo", "no kind"),
    ] {
        check(&opening_refusal(row), 2, column, marked, message);
    }
}

#[test]
fn columns_of_the_other_kind_of_row() {
    let combined = |row: &str| {
        format!("id,surface,kind,length,height,width,outline,clearance,existing\nN,,wall,20 ft,8 ft\n{row}\n")
    };
    check(&refusal(&combined("W,N,window,,3 ft,3 ft,0:0")), 3, 23, "0:0", "for surfaces");
    check(&refusal(&combined("S,,wall,9 ft,8 ft,,,2 in")), 3, 21, "2 in", "for openings");
    let unused = combined("W,N,window,,3 ft,3 ft,,,batt 50 %");
    let building = read(&[sheet("odd.csv", unused.as_bytes())], false).expect("it can be read");
    assert!(building.findings.iter().any(|f| f.code == Code::RowDoubt && f.message.contains("`existing`")));
}

// A ceiling with a pitch may be one that slopes: it is said what the pitch was taken for.
#[test]
fn a_ceiling_with_a_pitch_alone_is_said() {
    let ceiling = |more: &str| {
        let text = format!("id,kind,length,height,pitch,eaves\nC,ceiling,8 m,6 m,6:12,{more}\n");
        read(&[sheet("odd.csv", text.as_bytes())], false).expect("it can be read")
    };
    let building = ceiling("");
    assert!(building.findings.iter().any(|f| f.message.contains("a ceiling that slopes itself is a `roof`")));
    let surface = &building.surfaces[0];
    assert_eq!(surface.pitch_deg, Some(0.0));
    // atan(1/2) = 26.565 degrees (trigonometry).
    assert!((surface.eaves.roof_pitch_deg.unwrap() - 26.565_051).abs() < 1e-6);
    assert!(ceiling("16 m").findings.is_empty());
}
