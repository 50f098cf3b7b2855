//! `cavitally explain`: every figure can be computed again from those that are printed before it.

use super::support::{Run, sample};
use cavitally::explain::{Origin, explain};
use cavitally::intake::{IntakeOptions, Progress, as_written, read};
use cavitally::job::{Job, read_job};
use cavitally::model::Building;
use cavitally::report::render_explanations;
use cavitally::takeoff::{Takeoff, build};
use cavitally::units::UnitSystem;
use std::path::PathBuf;

/// What rounding of the printed figures may come to.
fn is_near(again: f64, printed: f64) -> bool {
    (again - printed).abs() <= 5e-6 * printed.abs() + 2e-6
}

/// Lines of a derivation, those that run on put together.
fn lines(text: &str) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for line in text.lines() {
        match (line.strip_prefix("      "), all.last_mut()) {
            (Some(more), Some(last)) => {
                last.push(' ');
                last.push_str(more);
            }
            _ => all.push(line.to_owned()),
        }
    }
    all
}

/// The number at the beginning of a text such as `5.5 ft2`.
fn number(text: &str) -> f64 {
    let word = text.split_whitespace().next().unwrap_or_default();
    word.parse().unwrap_or_else(|_| panic!("`{text}` begins with no number"))
}

/// An expression of `+`, `-`, `x` and `/`, with products before sums.
fn value(expression: &str) -> f64 {
    let mut total = 0.0;
    let mut words = expression.split_whitespace().peekable();
    let (mut sign, mut product) = (1.0, number(words.next().unwrap()));
    while let Some(word) = words.next() {
        match word {
            "+" | "-" => {
                total += sign * product;
                sign = if word == "+" { 1.0 } else { -1.0 };
                product = number(words.next().unwrap());
            }
            "x" => product *= number(words.next().unwrap()),
            "/" => product /= number(words.next().unwrap()),
            // A unit.
            _ => {}
        }
    }
    total + sign * product
}

/// Area within corners such as `(0, 4) (10, 0)`: the surveyor's formula, common practice, no source.
fn enclosed(corners: &str) -> f64 {
    let points: Vec<(f64, f64)> = corners
        .split(')')
        .filter_map(|corner| corner.trim().strip_prefix('(')?.split_once(','))
        .map(|(x, y)| (number(x), number(y)))
        .collect();
    assert!(points.len() >= 3, "{corners}");
    let next = points.iter().cycle().skip(1);
    points.iter().zip(next).map(|((x1, y1), (x2, y2))| x1 * y2 - x2 * y1).sum::<f64>().abs() / 2.0
}

/// Computes every step again; how many there were.
fn recompute(text: &str) -> usize {
    let mut steps = 0;
    let mut results: Vec<f64> = Vec::new();
    for line in lines(text) {
        let behind = line.rsplit_once(": ").map(|(_, behind)| behind).unwrap_or_default();
        if let Some((corners, area)) = line.split_once(" enclose ") {
            let corners = &corners[corners.find('(').unwrap()..];
            // Six decimals of a foot, twelve feet and more from the corner that all is counted from.
            let again = enclosed(corners);
            assert!(is_near(again, number(area)) || (again - number(area)).abs() < 1e-5, "{line}");
        } else if let Some(sum) = behind.strip_prefix("the sum of the ") {
            let (count, result) = sum.split_once(" above = ").unwrap();
            let count: usize = count.parse().unwrap();
            let again: f64 = results[results.len() - count..].iter().sum();
            assert!(is_near(again, number(result)), "{line}: {again}");
        } else if let Some((exact, whole)) = behind.split_once(" gives ") {
            assert_eq!((number(exact) - 1e-9).ceil(), number(whole), "{line}");
        } else if let Some((expression, result)) = behind.split_once(" = ") {
            let again = value(expression);
            assert!(is_near(again, number(result)), "{line}: {again}");
            results.push(number(result));
        } else {
            continue;
        }
        steps += 1;
    }
    steps
}

/// Volumes that a bay's steps are made of must stand above them, as a result or as a figure that is given.
fn volumes_stand_above(text: &str) {
    let volumes = |words: &str| -> Vec<String> {
        let words: Vec<&str> = words.split_whitespace().map(|word| word.trim_end_matches(';')).collect();
        words.windows(2).filter(|pair| ["ft3", "m3"].contains(&pair[1])).map(|pair| pair[0].to_owned()).collect()
    };
    let mut known: Vec<String> = Vec::new();
    for line in lines(text) {
        match line.rsplit_once(" = ") {
            Some((expression, result)) => {
                for used in volumes(expression) {
                    assert!(known.contains(&used), "{used} of `{line}` is not derived:\n{text}");
                }
                known.extend(volumes(result));
            }
            None => known.extend(volumes(&line)),
        }
    }
}

/// A sample as a job file.
fn sample_job(name: &str) -> Job {
    let path = sample(name);
    read_job(&path.to_string_lossy(), &std::fs::read_to_string(&path).unwrap()).unwrap()
}

fn takeoff(inputs: &[PathBuf], job: &Job) -> (Building, Takeoff) {
    let options = IntakeOptions { keep_going: false, layer_rules: job.layer_rules.clone() };
    let building = read(inputs, &options, &Progress::default()).unwrap();
    let takeoff = build(&building, job).unwrap();
    (building, takeoff)
}

fn check(inputs: &[PathBuf], job: &Job) {
    let (building, takeoff) = takeoff(inputs, job);
    let origin = Origin { building: &building, job, written: &as_written };
    for surface in &takeoff.surfaces {
        let part = if surface.part > 0 { format!("/{}", surface.part) } else { String::new() };
        let own = format!("{}{part}", surface.id);
        let ids =
            std::iter::once(own.clone()).chain(surface.bays.iter().take(3).map(|bay| format!("{own}#{}", bay.id)));
        for (index, id) in ids.enumerate() {
            for (units, per_kg) in [(UnitSystem::Us, 1.0 / 0.453_592_37), (UnitSystem::Si, 1.0)] {
                let text = render_explanations(&explain(&takeoff, &origin, &id).unwrap(), units);
                assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
                assert!(recompute(&text) >= if surface.counted { 5 } else { 1 }, "{id}:\n{text}");
                if index > 0 {
                    volumes_stand_above(&text);
                }
                let mass_kg = if index == 0 { surface.mass_kg } else { Some(surface.bays[index - 1].mass_kg) };
                let shown = lines(&text).into_iter().find(|line| line.starts_with("  volume x density"));
                assert_eq!(shown.is_some(), mass_kg.is_some(), "{id}");
                let shown = shown.map(|line| number(line.rsplit_once("= ").unwrap().1));
                assert!(shown.zip(mass_kg).is_none_or(|(shown, kg)| is_near(kg * per_kg, shown)), "{id}: {shown:?}");
            }
        }
    }
}

#[test]
fn every_step_of_the_sample_model_can_be_computed_again() {
    check(&[sample("house.ifc")], &sample_job("house.toml"));
}

#[test]
fn every_step_of_the_sample_sheets_can_be_computed_again() {
    check(&[sample("house-surfaces.csv"), sample("house-openings.csv")], &sample_job("house.toml"));
    check(&[sample("cabin.csv")], &sample_job("cabin-job.toml"));
    check(&[sample("start/surfaces.csv"), sample("start/openings.csv")], &sample_job("start/job.toml"));
}

/// An invented house of every kind of framing and of everything that takes room in bays.
const ODD_SHEET: &str = "\
id,kind,assembly,length,height,depth,existing,do_not_fill,count,area
double,wall,2x4 @ 16 in + gap 4 in + 2x4 @ 24 in + dividers @ 8 ft,20',9',,,,1,
staggered,wall,2x4 @ 16 in staggered on 2x6,20',9',,,,1,
steel,wall,362S162-54 @ 16 in,20',9',,,,1,
punched,wall,600S162-43 punched @ 24 in,20',9',,,,1,
strapped,wall,2x6 @ 16 in + strapping 2x2 @ 24 in,20',9',,,,1,
service,wall,2x6 @ 16 in + service 2x3 @ 24 in,20',9',,,,1,
i-joists,floor,\"I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in\",20',14',,,,1,
rated,floor,PRI-40 11-7/8 in @ 19.2 in,20',14',,,,1,
trusses,floor,truss 14 in (chords 3.5 x 1.5 in) @ 24 in,20',14',,,,1,
netted,floor,netted,24',12',,,,1,
old,wall,old,20',8',3 5/8 in,,bays 2-3: air duct,3,
batts,wall,old,20',8',,cellulose 1 in,,1,
deep,wall,double-stud wall,20',8',,glass fibre 6 in,6' to 10': panel,2,
part,wall,old,,,,,,2,150 ft2
gabled,ceiling,gable attic,30',24',,,,1,
hipped,ceiling,attic,30',24',,,,1,
low,ceiling,low attic,30',24',,,,1,
";
const ODD_OPENINGS: &str = "\
surface,id,kind,width,height,sill,offset
double,w,window,3',4',34 in,6'
staggered,w,window,3',4',34 in,6'
steel,w,window,3',4',34 in,6'
punched,w,window,3',4',34 in,6'
strapped,w,window,3',4',34 in,6'
service,w,window,3',4',34 in,6'
old,w,window,3',4',34 in,12'
";
const ODD_JOB: &str = "\
[fill.cellulose]
bag = \"25 lb\"
[assembly.netted]
framing = \"2x10 @ 16 in\"
below = \"netting\"
netting_bulge = \"3/4 in\"
[assembly.old]
framing = \"2x4 @ 16 in\"
existing = \"glass fibre batt 40 %\"
displaced = { \"plaster keys\" = \"2 %\", pipes = \"0.5 %\" }
method = \"two holes\"
[assembly.attic]
framing = \"2x8 @ 16 in\"
thickness = \"10.5 in\"
board = \"5/8 in\"
heel_height = \"4 in\"
roof_pitch = \"4:12\"
eaves = \"all\"
[assembly.\"gable attic\"]
like = \"attic\"
eaves = \"long sides\"
[assembly.\"low attic\"]
like = \"attic\"
heel_height = \"1/2 in\"
[assembly.deeper]
framing = \"2x4 @ 16 in\"
depth = \"4.5 in\"
";

fn odd_house() -> (tempfile::TempDir, Vec<PathBuf>, Job) {
    let directory = tempfile::tempdir().unwrap();
    let inputs = [("surfaces.csv", ODD_SHEET), ("openings.csv", ODD_OPENINGS)].map(|(name, text)| {
        let path = directory.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    });
    (directory, inputs.to_vec(), read_job("job.toml", ODD_JOB).unwrap())
}

/// The derivation of one surface or bay of the odd house.
fn odd(id: &str) -> String {
    let (_directory, inputs, job) = odd_house();
    let (building, takeoff) = takeoff(&inputs, &job);
    let origin = Origin { building: &building, job: &job, written: &as_written };
    lines(&render_explanations(&explain(&takeoff, &origin, id).unwrap(), UnitSystem::Us)).join("\n")
}

#[test]
fn every_step_of_every_kind_of_framing_can_be_computed_again() {
    let (_directory, inputs, job) = odd_house();
    check(&inputs, &job);
}

/// What stands behind ` = ` in the first line that begins so, less its unit.
fn result_of(text: &str, beginning: &str) -> f64 {
    let line = text.lines().find(|line| line.trim_start().starts_with(beginning));
    let line = line.unwrap_or_else(|| panic!("no line begins with `{beginning}`:\n{text}"));
    number(line.rsplit_once(" = ").unwrap().1)
}

// By hand: eleven trusses at 2 ft over 20 ft, 14 ft less two rims of 3 1/2 in. long; two chords of 3 1/2 x 1 1/2 in. each, and
// between them webs at 45 degrees, which take 1.5 x sqrt(2) of every 11 in. The text gave the webs as solid, so that the
// parts were 50.22 ft3 and the bay was less 18.37.
#[test]
fn webs_of_trusses_take_their_solid_share() {
    let length_ft = 14.0 - 2.0 * 3.5 / 12.0;
    let chords_ft3 = 22.0 * (3.5 / 12.0) * length_ft * (1.5 / 12.0);
    let webs_ft3 = 11.0 * (3.5 / 12.0) * length_ft * (11.0 / 12.0) * (1.5 * 2.0_f64.sqrt() / 11.0);
    for id in ["trusses", "trusses#1"] {
        let text = odd(id);
        assert!(is_near(result_of(&text, "all of them"), chords_ft3 + webs_ft3), "{text}");
        assert!(text.contains("solid between flanges or chords: 0.192847; chord's thickness"), "{text}");
        assert!(text.contains(&format!("- {:.6} ft3 = ", chords_ft3 + webs_ft3)), "{text}");
    }
}

// By hand: a wall of 8 ft with three plates has bays of 7'-7 1/2"; one of 14 1/2 in. at 3 5/8 in. holds 2.7832 ft3, of which
// 40 % is filled already, 2 % is keys and 0.5 % pipes.
#[test]
fn existing_fill_and_shares_have_steps() {
    let bay_ft3 = 14.5 / 12.0 * (7.625) * (3.625 / 12.0);
    let text = odd("old#4");
    assert!(is_near(result_of(&text, "volume between the framing"), bay_ft3), "{text}");
    assert!(is_near(result_of(&text, "filled already: glass fibre batt, its share"), 0.4 * bay_ft3), "{text}");
    assert!(is_near(result_of(&text, "plaster keys, its share"), 0.02 * bay_ft3), "{text}");
    assert!(is_near(result_of(&text, "pipes, its share"), 0.005 * bay_ft3), "{text}");
    assert!(is_near(result_of(&text, "stays empty in this bay"), 0.425 * bay_ft3), "{text}");
    // 1 in. of the 14 1/2 in. of a bay.
    let inch = odd("batts#2");
    assert!(
        is_near(result_of(&inch, "filled already: cellulose: area x thickness"), 14.5 / 12.0 * 7.625 / 12.0),
        "{inch}"
    );
}

// By hand: 10 1/2 in. of fill, 4 in. of heel less 1 in. of channel: 7 1/2 in. are missing at the edge, and at 4:12 full
// height is reached 22 1/2 in. further in. Along 60 ft that is a triangle of 0.625 x 1.875 / 2 ft2; along 108 ft less the four
// corners, where a pyramid of 1.875 x 1.875 / 3 ft2 x 0.625 ft is in two wedges at once.
#[test]
fn the_eave_wedge_says_what_it_is_computed_from() {
    let gabled = odd("gabled");
    assert!(is_near(result_of(&gabled, "wedge along the eaves"), 60.0 * 0.625 * 1.875 / 2.0), "{gabled}");
    assert!(is_near(result_of(&gabled, "full thickness is reached"), 1.875), "{gabled}");
    let hipped = odd("hipped");
    let corners_ft3 = 4.0 * 1.875 * 1.875 / 3.0 * 0.625;
    assert!(is_near(result_of(&hipped, "wedge, with"), 108.0 * 0.625 * 1.875 / 2.0 - corners_ft3), "{hipped}");
    assert!(hipped.contains("eave wedge, in "), "{hipped}");
}

#[test]
fn the_depth_names_where_it_stands() {
    let deeper = |extra: &str, id: &str| {
        let directory = tempfile::tempdir().unwrap();
        let sheet = directory.path().join("walls.csv");
        let rows = "C,wall,deeper,20',8',\nD,wall,deeper,20',8',4 in\nE,wall,2x6 @ 16 in,20',8',\n\
                    F,wall,60x240 mm @ 625 mm,20',8',\n";
        std::fs::write(&sheet, format!("id,kind,assembly,length,height,depth\n{rows}")).unwrap();
        let job = read_job("job.toml", &format!("{ODD_JOB}{extra}")).unwrap();
        let (building, takeoff) = takeoff(&[sheet], &job);
        let origin = Origin { building: &building, job: &job, written: &as_written };
        lines(&render_explanations(&explain(&takeoff, &origin, id).unwrap(), UnitSystem::Us)).join("\n")
    };
    let said = "[[surface]]\nmatch = \"E\"\ndepth = \"5 in\"\n";
    for (extra, id, expected) in [
        ("", "C", "depth: 0.375 ft (4 1/2\"); `depth` of the assembly `deeper`"),
        ("", "D", "depth: 0.333333 ft (4\"); measured: it stands in the input"),
        ("", "E", "depth: 0.458333 ft (5 1/2\"); dressed depth of `2x6 @ 16 in`"),
        (said, "E", "measured: a `[[surface]]` of the job file, or the survey"),
        ("", "F", "; depth of `60x240 mm @ 625 mm`"),
    ] {
        let text = deeper(extra, id);
        assert!(text.contains(expected), "{id}: {expected}\n{text}");
    }
}

/// A step that does not come out must not pass.
#[test]
fn a_wrong_step_is_seen() {
    let wrong = std::panic::catch_unwind(|| recompute("  area: 2 ft x 3 ft = 6.1 ft2"));
    assert!(wrong.is_err());
    assert_eq!(recompute("  area: 2 ft x 3 ft + 1 ft2 = 7 ft2"), 1);
}

#[test]
fn a_bay_is_explained_from_its_cells_to_the_order() {
    let inputs = ["samples/house-surfaces.csv", "samples/house-openings.csv", "--job", "samples/house.toml"];
    for (name, units) in [("us", "us"), ("si", "si")] {
        let outcome = Run::new("explain").args(inputs).args(["--units", units, "O-S/1#2"]).status(0);
        insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
            insta::assert_snapshot!(format!("explain-bay-{name}"), outcome.stdout);
        });
    }
    let surface = Run::new("explain").args(inputs).arg("O-S/1").status(0);
    insta::with_settings!({snapshot_path => "../snapshots", prepend_module_to_snapshot => false}, {
        insta::assert_snapshot!("explain-surface-us", surface.stdout);
    });
}

#[test]
fn what_an_id_may_name() {
    let explain =
        |id: &str| Run::new("explain").arg("samples/house.ifc").args(["--job", "samples/house.toml", id]).outcome();
    let by_name = explain("O-S/1#2");
    assert_eq!(by_name.status, 0, "{}", by_name.stderr);
    assert_eq!(explain("3_SilaE9w$9fm7thhkD0nT/1#2").stdout, by_name.stdout);
    // All parts of one element.
    assert_eq!(explain("O-S").stdout.matches("As read").count(), 3);
    let several = explain("O-S#2");
    assert_eq!(several.status, 2);
    assert!(several.stderr.contains("3 parts") && several.stderr.contains("/2#2`"), "{}", several.stderr);
    let masonry = explain("O-E");
    assert!(masonry.stdout.contains("masonry or concrete"), "{}", masonry.stdout);
    for (id, near) in [("O-S/9", "O-S"), ("N-Z", "N-A"), ("O-S/1#99", "#1` to `#19"), ("O-E#1", "masonry or concrete")]
    {
        let unknown = explain(id);
        assert_eq!((unknown.status, unknown.stdout.as_str()), (2, ""), "{id}");
        assert!(unknown.stderr.contains(near), "{id}: {}", unknown.stderr);
    }
    let alone = Run::new("explain").arg("samples/house.ifc").status(2);
    assert!(alone.stderr.contains("behind it the id"), "{}", alone.stderr);
    let beside = Run::new("explain").args(["samples/cabin.csv", "--bag", "25 lb | 30 lb", "W1"]).status(2);
    assert!(beside.stderr.contains("one takeoff is explained"), "{}", beside.stderr);
}

/// By hand: 5 1/2 in. less a rim joist of 1 1/2 in. are 4 in., 1/3 ft.
#[test]
fn the_depth_of_a_rim_is_what_its_joist_leaves() {
    let run = Run::new("explain").arg(sample("house-surfaces.csv")).arg(sample("house-openings.csv"));
    let text = run.arg("--job").arg(sample("house.toml")).arg("O-S/2").status(0).stdout;
    assert!(text.contains("depth that is filled: 0.458333 ft - 0.125 ft = 0.333333 ft"), "{text}");
}
