//! The bodies of the fuzz targets over their seeds, as plain tests.

#[path = "../fuzz/bodies.rs"]
mod bodies;

use crate::support::project_file;

/// Every seed as it is, cut short at every eighth, and with one byte changed here and there.
fn each_seed(target: &str, body: fn(&[u8])) {
    let directory = project_file("tests/fuzz/corpus").join(target);
    let mut paths: Vec<_> = std::fs::read_dir(&directory)
        .expect("the seeds are there")
        .map(|entry| entry.expect("a seed can be listed").path())
        .collect();
    paths.sort();
    assert!(!paths.is_empty(), "`{target}` has no seeds");
    for path in paths {
        let seed = std::fs::read(&path).expect("a seed can be read");
        body(&seed);
        for eighth in 1..8 {
            body(&seed[..seed.len() * eighth / 8]);
        }
        for at in (0..seed.len()).step_by(1 + seed.len() / 64) {
            for byte in [0, b'0', b'9', b'\'', b'(', 200] {
                let mut changed = seed.clone();
                changed[at] = byte;
                body(&changed);
            }
        }
    }
}

#[test]
fn step_file() {
    each_seed("step_file", bodies::step_file);
}

#[test]
fn length_text() {
    each_seed("length_text", bodies::length_text);
}

#[test]
fn framing_text() {
    each_seed("framing_text", bodies::framing_text);
}

#[test]
fn job_file() {
    each_seed("job_file", bodies::job_file);
}

#[test]
fn csv_sheet() {
    each_seed("csv_sheet", bodies::csv_sheet);
}

#[test]
fn polygon_cut() {
    each_seed("polygon_cut", bodies::polygon_cut);
}

#[test]
fn wall_cut() {
    each_seed("wall_cut", bodies::wall_cut);
}

#[test]
fn solid_section() {
    each_seed("solid_section", bodies::solid_section);
}

#[test]
fn claims_sheet() {
    each_seed("claims_sheet", bodies::claims_sheet);
}

#[test]
fn log_sheet() {
    each_seed("log_sheet", bodies::log_sheet);
}

#[test]
fn hpxml_file() {
    each_seed("hpxml_file", bodies::hpxml_file);
}

#[test]
fn survey_sheet() {
    each_seed("survey_sheet", bodies::survey_sheet);
}

#[test]
fn finish_sheet() {
    each_seed("finish_sheet", bodies::finish_sheet);
}
