//! The report on paper.

use super::support::{Run, sample};
use std::fs;

fn paper(more: &[&str]) -> Vec<u8> {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("report.pdf");
    let run = Run::new("takeoff").arg(sample("house.ifc")).arg("--job").arg(sample("house.toml"));
    run.arg("--save").arg(&path).args(more).status(0);
    fs::read(path).unwrap()
}

fn count(bytes: &[u8], what: &str) -> usize {
    bytes.windows(what.len()).filter(|window| *window == what.as_bytes()).count()
}

/// ISO 32000-1: a file begins with its version, ends with a mark, and has a page object for every page.
#[test]
fn a_takeoff_is_saved_as_a_portable_document() {
    let letter = paper(&[]);
    assert!(letter.starts_with(b"%PDF-1.") && letter.trim_ascii_end().ends_with(b"%%EOF"));
    assert!(count(&letter, "/MediaBox") > 10 && count(&letter, "[0 0 612 792]") > 10);
    let a4 = paper(&["--units", "si"]);
    assert!(count(&a4, "[0 0 595.28 841.89]") > 10);
}

#[test]
fn the_same_takeoff_gives_the_same_paper() {
    assert_eq!(paper(&[]), paper(&[]));
}

/// Names may hold what markup may not: characters that are none, controls, and markup itself.
#[test]
fn no_name_keeps_a_report_from_being_saved() {
    let folder = tempfile::tempdir().unwrap();
    let sheet = folder.path().join("walls.csv");
    let text = "id,kind,storey,zone,assembly,length,height\n\"<b>&\u{ffff}\u{fffe}\u{1}]]>\",wall,\u{2028}\u{202e}up,\u{7},2x6 @ 16 in,12 ft,8 ft\n";
    fs::write(&sheet, text).unwrap();
    let mut run = Run::new("takeoff").arg(&sheet);
    for ending in ["html", "pdf", "xlsx", "json", "csv", "bays.csv", "crew.csv", "bcf"] {
        run = run.arg("--save").arg(folder.path().join(format!("x.{ending}")));
    }
    run.status(0);
    let page = fs::read_to_string(folder.path().join("x.html")).unwrap();
    assert!(!page.contains("<b>") && page.contains("&lt;b&gt;&amp;\\u{ffff}"));
}
