//! The table of a takeoff: what it names, counts and says in which units.

use super::support::{Outcome, Run};
use std::fs;
use tempfile::TempDir;

fn folder(files: &[(&str, &str)]) -> TempDir {
    let folder = TempDir::new().unwrap();
    for (name, text) in files {
        fs::write(folder.path().join(name), text).unwrap();
    }
    folder
}

/// The takeoff of `walls.csv` with `job.toml`.
fn takeoff(sheet: &str, job: &str, more: &[&str]) -> Outcome {
    let folder = folder(&[("walls.csv", sheet), ("job.toml", job)]);
    let run = Run::new("takeoff").arg(folder.path().join("walls.csv")).arg("--job").arg(folder.path().join("job.toml"));
    run.args(more).status(0)
}

/// Lines from one that begins so to the next empty one.
fn part<'t>(text: &'t str, beginning: &str) -> Vec<&'t str> {
    let part = text.lines().skip_while(|line| !line.starts_with(beginning));
    part.take_while(|line| !line.is_empty()).collect()
}

/// Lines as one, with one space between words.
fn words(lines: &[&str]) -> String {
    lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
}

const OLD: &str = "[assembly.old]\nframing = \"2x4 @ 16 in\"\nexisting = \"batt 40 %\"\n";

// A wall of 8 ft at 16 in. has six bays; copies and bays of a surface are no further surfaces.
#[test]
fn how_many_more_counts_surfaces_and_not_their_copies_and_bays() {
    let sheet = "id,kind,assembly,length,height,count,do_not_fill\nA,wall,old,8',8',3,bays 2-3: air duct\n\
                 B,wall,old,8',8',2,\nC,wall,old,8',8',1,\nD,wall,old,8',8',1,\nE,wall,old,8',8',1,\n";
    let text = takeoff(sheet, OLD, &[]).stdout;
    let row = |reason: &str| {
        let left_out = part(&text, "Not counted, or left out");
        let row = left_out.iter().find(|line| line.trim_start().starts_with(reason));
        row.unwrap_or_else(|| panic!("no `{reason}`:\n{text}")).split_whitespace().collect::<Vec<_>>().join(" ")
    };
    // Two bays of each of three copies.
    assert!(row("air duct").starts_with("air duct A 6 "), "{text}");
    assert!(row("filled already").contains(" A, B, C and 2 more 8 "), "{text}");
    let without = words(&part(&text, "Heat not computed"));
    assert!(without.contains("what it conducts is not known: A, B, C, D and 1 more "), "{text}");
}

#[test]
fn every_fill_says_where_it_goes() {
    let job = "[fill.cellulose]\nbag = \"25 lb\"\n[fill.\"glass fibre\"]\nbag = \"30 lb\"\n\
               [assembly.glass]\nframing = \"2x4 @ 16 in\"\nfill = \"glass fibre\"\n";
    let sheet = |storey: &str| {
        format!(
            "id,kind,storey,assembly,length,height\nA,wall,Ground,2x4 @ 16 in,20',8'\nB,wall,Upper,2x4 @ 16 in,20',8'\n\
             C,wall,{storey},glass,20',8'\n"
        )
    };
    let text = takeoff(&sheet("Upper"), job, &[]).stdout;
    let glass = part(&text, "Where it goes: glass fibre");
    let order = text.lines().find(|line| line.contains(" bags of glass fibre for ")).unwrap();
    let bags = order.split_whitespace().next().unwrap();
    let row: Vec<&str> = glass.get(2).unwrap_or_else(|| panic!("{text}")).split_whitespace().collect();
    assert_eq!((row[0], *row.last().unwrap()), ("Upper", bags), "{text}");
    // A place without a name is a place as well.
    let nameless = takeoff(&sheet(""), job, &[]).stdout;
    assert!(part(&nameless, "Where it goes: glass fibre")[2].trim_start().starts_with('-'), "{nameless}");
}

const LAYERS: &str = "layers = [\"cavity\", { name = \"gypsum board\", thickness = \"1/2 in\" }]\n";

#[test]
fn heat_names_its_surfaces_and_tells_depths_apart() {
    let job = format!(
        "[assembly.w]\nframing = \"2x6 @ 16 in\"\n{LAYERS}[assembly.x]\nframing = \"2x4 @ 16 in\"\n\
         existing = {{ what = \"batt\", thickness = \"1 1/2 in\", r_value = \"R-5\" }}\n{LAYERS}"
    );
    let sheet = "id,kind,assembly,length,height,depth\nW,wall,w,20',8',\nV,wall,w,30',8',\nU,wall,w,20',8',4 in\nX,wall,x,20',8',\n";
    let text = takeoff(sheet, &job, &[]).stdout;
    assert!(text.contains("  w: 2x6 @ 16 in, 5 1/2\" deep, 2 walls: W, V; framing "), "{text}");
    assert!(text.contains("  w: 2x6 @ 16 in, 4\" deep, 1 wall: U; framing "), "{text}");
    let without = words(&part(&text, "Heat not computed"));
    assert!(
        without.contains("whose R is given, beside the new fill: two fills in one cavity are not computed: X"),
        "{text}"
    );
    assert!(!without.contains("what it conducts is not known"), "{text}");
}

// Exact: 1 in = 25.4 mm, 1 ft = 0.3048 m, so that 9.25 in is 235 mm and 8 ft 2.438 m.
#[test]
fn what_is_taken_stands_in_the_units_asked_for() {
    let sheet = "id,kind,assembly,length,height\nA,wall,w,20',8'\nB,wall,2x10 @ 16 in,20',8'\n";
    let job = "[assembly.w]\nframing = \"2x6 @ 16 in\"\ndepth = \"5 1/4 in\"\n";
    let taken = |more: &[&str]| words(&part(&takeoff(sheet, job, more).stdout, "Taken as"));
    let si = taken(&["--units", "si"]);
    for expected in ["fill.cellulose.deep_from 235 mm", "filling.tube_reach 2.438 m", "fill.cellulose.density 56 kg/m3"]
    {
        assert!(si.contains(expected), "{expected}: {si}");
    }
    // What the job file says stands as it is written there, and that is said.
    assert!(si.contains("assembly.w.depth 5 1/4 in") && si.contains("the units that they were written in"), "{si}");
    let us = taken(&[]);
    assert!(us.contains("fill.cellulose.deep_from 9.25 in") && !us.contains("written in"), "{us}");
}

#[test]
fn seven_digits_of_pounds_fit_eighty_columns() {
    let sheet = "id,kind,storey,zone,assembly,length,height,count\n\
                 North-west wall of the old wing by the stair,wall,Second floor above the garage,\"Apartment 12, east\",\
                 2x4 @ 16 in + gap 4 in + 2x4 @ 24 in + dividers @ 8 ft,1234',\"29' 11-15/16\"\"\",12\n\
                 South,wall,Ground,,2x6 @ 16 in,20',8',300\n";
    for units in ["us", "si"] {
        let text = takeoff(sheet, "", &["--units", units]).stdout;
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{} columns: {line}\n{text}", line.chars().count());
        }
    }
}
