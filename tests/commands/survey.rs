//! What was seen before the work, and what was checked after it.

use super::support::{Run, sample};
use serde_json::Value;
use std::path::PathBuf;

const WALLS: &str = "id,kind,length,height,assembly,depth\n\
                     A,wall,16 ft,8 ft 1 1/8 in,2x4 @ 16 in,\n\
                     B,wall,12 ft,8 ft 1 1/8 in,2x4 @ 16 in,3 5/8 in\n\
                     C,wall,10 ft,8 ft 1 1/8 in,2x4 @ 16 in,\n";
const INCH_M: f64 = 0.0254;

/// A folder with the walls, and files of its own.
struct Folder(tempfile::TempDir);

impl Folder {
    fn new(survey: &str) -> Self {
        let folder = Self(tempfile::tempdir().unwrap());
        folder.write("surfaces.csv", WALLS);
        folder.write("survey.csv", survey);
        folder
    }

    fn write(&self, name: &str, text: &str) -> PathBuf {
        let path = self.0.path().join(name);
        std::fs::write(&path, text).unwrap();
        path
    }

    fn run(&self, command: &str) -> Run {
        let at = |name: &str| self.0.path().join(name);
        Run::new(command).arg(at("surfaces.csv")).args(["--bag", "25 lb", "--survey"]).arg(at("survey.csv"))
    }

    fn saved(&self, run: Run, status: i32) -> Value {
        let path = self.0.path().join("x.json");
        run.arg("--save").arg(&path).status(status);
        serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
    }

    fn takeoff(&self) -> Value {
        self.saved(self.run("takeoff"), 0)
    }
}

fn surface<'v>(takeoff: &'v Value, id: &str) -> &'v Value {
    takeoff["surfaces"].as_array().unwrap().iter().find(|one| one["id"] == id).unwrap()
}

fn inches(takeoff: &Value, id: &str) -> f64 {
    surface(takeoff, id)["depth_m"].as_f64().unwrap() / INCH_M
}

fn findings<'v>(value: &'v Value, code: &str) -> Vec<&'v str> {
    let all = value["findings"].as_array().unwrap().iter();
    all.filter(|one| one["code"] == code).map(|one| one["message"].as_str().unwrap()).collect()
}

fn refused(mut run: Run) -> String {
    run.status(2).stderr
}

#[test]
fn a_measured_depth_is_taken_and_says_where_it_comes_from() {
    let takeoff = Folder::new("surface,depth,date,by\nA,3 3/4 in,2026-05-04,A rater\n").takeoff();
    assert!((inches(&takeoff, "A") - 3.75).abs() < 1e-9);
    assert_eq!(surface(&takeoff, "A")["surveyed"], true);
    let source = |key: &str| {
        let all = takeoff["assumptions"].as_array().unwrap();
        all.iter().find(|one| one["key"] == key).unwrap()["source"].as_str().unwrap().to_owned()
    };
    assert!(source("surface.depth").starts_with("survey: "), "{}", source("surface.depth"));
    assert!(source("surface.depth").contains("survey.csv:2, 2026-05-04, A rater; for 1: A"));
    let inputs = takeoff["inputs"].as_array().unwrap();
    assert_eq!(inputs.last().unwrap()["schema"], "survey");
}

#[test]
fn the_own_row_goes_before_the_survey_and_the_survey_before_the_job_file() {
    let folder = Folder::new("surface,depth\nA,3 3/4 in\nB,3 3/4 in\nA,3 1/4 in\n");
    let job = folder.write("job.toml", "[[surface]]\nmatch = \"*\"\ndepth = \"3 in\"\n");
    let takeoff = folder.saved(folder.run("takeoff").arg("--job").arg(job), 0);
    assert!((inches(&takeoff, "A") - 3.75).abs() < 1e-9, "the first row of the survey");
    assert!((inches(&takeoff, "B") - 3.625).abs() < 1e-9, "its own row");
    assert!((inches(&takeoff, "C") - 3.0).abs() < 1e-9, "the job file");
    // What stands back is not lost in silence.
    let said = findings(&takeoff, "rule-misfit");
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said.iter().any(|text| text.contains("3 3/4 in") && text.contains("`B`")), "{said:?}");
    assert!(said.iter().any(|text| text.contains("3 1/4 in") && text.contains("`A`")), "{said:?}");
}

// A closed cavity with half of it filled takes half as much: arithmetic.
#[test]
fn existing_fill_and_what_is_blocked_are_taken_off() {
    let volume = |survey: &str| surface(&Folder::new(survey).takeoff(), "A")["mass_kg"].as_f64().unwrap();
    let plain = volume("surface,existing\nA,none\n");
    assert!((volume("surface,existing\nA,glass fibre batt 50 %\n") / plain - 0.5).abs() < 1e-9);
    let blocked = Folder::new("surface,blocked\nA,bay 2: air duct\n").takeoff();
    let left = surface(&blocked, "A")["left_out"].as_array().unwrap();
    assert!(left.iter().any(|part| part["reason"].as_str().unwrap().contains("air duct")), "{left:?}");
}

// NEC 394.12: knob-and-tube wiring is not to stand in hollow spaces filled with loose insulation.
#[test]
fn knob_and_tube_is_not_counted_until_it_is_released() {
    let live = Folder::new("surface,wiring\nA,knob-and-tube\n").takeoff();
    assert_eq!(surface(&live, "A")["counted"], false);
    assert_eq!(surface(&live, "A")["reason"], "knob-and-tube wiring, not released");
    assert_eq!(surface(&live, "B")["counted"], true);
    let said = findings(&live, "old-wiring");
    assert!(said.len() == 1 && said[0].contains("live until an electrician says otherwise"), "{said:?}");

    let released = Folder::new("surface,wiring,released by\nA,knob-and-tube,an electrician\n").takeoff();
    assert_eq!(surface(&released, "A")["counted"], true);
    assert!(findings(&released, "old-wiring")[0].contains("released by an electrician"));

    let folder = Folder::new("surface,wiring\nA,knob-and-tube\n");
    let job = folder.write("job.toml", "[[surface]]\nmatch = \"A\"\nreleased_by = \"an electrician\"\n");
    let by_job = folder.saved(folder.run("takeoff").arg("--job").arg(job), 0);
    assert_eq!(surface(&by_job, "A")["counted"], true);
}

#[test]
fn a_job_file_can_say_it_without_a_survey() {
    let folder = Folder::new("");
    let job = folder.write("job.toml", "[[surface]]\nmatch = \"B\"\nwiring = \"knob-and-tube\"\n");
    let run = Run::new("takeoff").arg(folder.0.path().join("surfaces.csv")).arg("--job").arg(job);
    assert_eq!(surface(&folder.saved(run, 0), "B")["counted"], false);
    let job = folder.write("wrong.toml", "[[surface]]\nmatch = \"B\"\nwiring = \"knobs\"\nreleased_by = \" \"\n");
    let said = refused(Run::new("takeoff").arg(folder.0.path().join("surfaces.csv")).arg("--job").arg(job));
    assert!(said.contains("wrong.toml:3") && said.contains("`knob-and-tube`"), "{said}");
    assert!(said.contains("`released_by` is empty"), "{said}");
}

// The cautions themselves: common practice, no source.
#[test]
fn each_hazard_that_was_seen_is_named_once_and_the_figures_stay() {
    let survey = "surface,moisture,siding,finish,lead,wiring,access\n\
                  A; C,leak,asbestos-cement,lath and plaster,not tested,not seen,from a ladder\nB,dry,wood,gypsum board,none,cable,\n";
    let takeoff = Folder::new(survey).takeoff();
    let said = findings(&takeoff, "survey-caution");
    assert_eq!(said.len(), 6, "{said:?}");
    for words in
        ["mended first", "not drilled", "watch it", "not tested", "look before anything", "access: from a ladder"]
    {
        assert!(said.iter().any(|text| text.starts_with("A, C: ") && text.contains(words)), "{words}: {said:?}");
    }
    assert_eq!(surface(&takeoff, "A")["counted"], true);
}

#[test]
fn a_row_that_fits_nothing_is_named_and_slips_are_refused() {
    let takeoff = Folder::new("surface,depth\nX,3 in\n").takeoff();
    assert!(findings(&takeoff, "rule-unused")[0].contains("fits no surface"));
    for (survey, words) in [
        ("surface,depth\nA,3.5\n", "survey.csv:2:3"),
        ("surface,wiring\nA,knobs\n", "`knob-and-tube`"),
        ("surface,depth\n,3 in\n", "names no surface"),
        ("surface,depth\n", "no rows"),
    ] {
        let said = refused(Folder::new(survey).run("takeoff"));
        assert!(said.contains(words), "{words}: {said}");
    }
    let folder = Folder::new("surface,depth\nA,3 in\n");
    let path = folder.0.path().join("survey.csv");
    let said = refused(folder.run("takeoff").arg("--save").arg(path.with_extension("csv")));
    assert!(said.contains("overwrite an input"), "{said}");
}

#[test]
fn explain_and_audit_read_it_too() {
    let folder = Folder::new("surface,depth\nA,3 3/4 in\n");
    let outcome = folder.run("explain").arg("A").status(0);
    assert!(outcome.stdout.contains("3 3/4"), "{}", outcome.stdout);
    let claims = folder.write("plan.csv", "surface,depth\nA,3 3/4 in\n");
    let audit = folder.saved(folder.run("audit").arg("--claims").arg(claims), 0);
    assert_eq!(audit["fell_short"], 0);
}

fn house(command: &str) -> Run {
    Run::new(command)
        .args([sample("house-surfaces.csv"), sample("house-openings.csv")])
        .arg("--job")
        .arg(sample("house.toml"))
}

#[test]
fn the_sample_survey_leaves_the_sample_order_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let fills = |name: &str, run: Run| -> Value {
        let path = folder.path().join(name);
        run.arg("--save").arg(&path).status(0);
        let takeoff: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
        takeoff["fills"].clone()
    };
    let surveyed = house("takeoff").arg("--survey").arg(sample("house-survey.csv"));
    assert_eq!(fills("a.json", house("takeoff")), fills("b.json", surveyed));
}

/// The closeout of one wall, blown through netting or drilled, with finished checks.
fn finished(finish: &str, job: &str, status: i32) -> Value {
    let folder = Folder::new("surface,depth\nA,3 1/2 in\n");
    let log = folder.write("log.csv", "what,surface,bags,hopper before,hopper after\nblown,A,6,run down,run down\n");
    let finish = folder.write("finish.csv", finish);
    let job = folder.write("job.toml", job);
    let run = folder.run("closeout").arg("--job").arg(job).arg("--log").arg(log).arg("--finish").arg(finish);
    folder.saved(run, status)["finish"].clone()
}

fn state<'v>(finish: &'v Value, what: &str) -> &'v str {
    let all = finish["checks"].as_array().unwrap();
    all.iter().find(|one| one["what"] == what).unwrap()["state"].as_str().unwrap()
}

#[test]
fn checks_that_nobody_entered_are_open_and_the_verdict_says_so() {
    let finish = finished("check,state\nlabels kept,done\n", "", 0);
    assert_eq!(state(&finish, "labels kept"), "done");
    assert_eq!(state(&finish, "combustion appliances tested"), "open");
    assert_eq!(state(&finish, "bags left"), "open");
    assert_eq!(finish["verdict"], "not closed: 2 required checks open");
}

#[test]
fn a_required_check_that_is_not_done_ends_with_status_1() {
    let finish = finished("check,state\ncombustion appliances tested,not done\nlabels kept,done\n", "", 1);
    assert_eq!(finish["not_done"], 1);
    // Air leakage is measured where somebody asks for it.
    let finish = finished("check,state\nblower-door test,not done\n", "", 0);
    assert_eq!(state(&finish, "blower-door test"), "not-done");
    let finish = finished("check,state,note\ncombustion appliances tested,not needed,all electric\n", "", 0);
    assert_eq!(state(&finish, "combustion appliances tested"), "not-needed");
}

#[test]
fn counts_are_held_against_the_takeoff_and_the_log() {
    let drilled = "[filling]\nmethod = \"two holes\"\n";
    let expected = |finish: &Value, what: &str| {
        let all = finish["checks"].as_array().unwrap();
        all.iter().find(|one| one["what"] == what).unwrap()["expected_number"].as_f64()
    };
    let open = finished("check,state\nlabels kept,done\n", drilled, 0);
    let holes = expected(&open, "holes plugged").unwrap();
    let left = expected(&open, "bags left").unwrap();
    assert!(holes > 0.0 && left > 0.0);
    let with = |holes: f64, left: f64| {
        finished(&format!("check,value\nholes plugged,{holes}\nbags left,{left}\n"), drilled, 0)
    };
    let right = with(holes, left);
    assert_eq!((state(&right, "holes plugged"), state(&right, "bags left")), ("done", "done"));
    let wrong = with(holes - 1.0, left + 1.0);
    assert_eq!((state(&wrong, "holes plugged"), state(&wrong, "bags left")), ("open", "open"));
}

#[test]
fn the_sample_checks_close_the_job_and_stand_in_table_and_papers() {
    let folder = tempfile::tempdir().unwrap();
    let run =
        || house("closeout").arg("--log").arg(sample("house-log.csv")).arg("--finish").arg(sample("house-finish.csv"));
    // Status 1: one wall of the sample log is short.
    let table = run().status(1).stdout;
    assert!(table.contains("Finish: every required check is done"), "{table}");
    assert!(table.lines().next().unwrap().ends_with("house-log.csv"), "{table}");
    assert!(table.lines().all(|line| line.chars().count() <= 80), "{table}");
    let path = folder.path().join("papers.html");
    run().arg("--save").arg(&path).status(1);
    let papers = std::fs::read_to_string(path).unwrap();
    for words in
        ["Checks after the work", "holes plugged: done, 126", "IRC R806.3", "blower-door test: done, 1450 cfm at 50 Pa"]
    {
        assert!(papers.contains(words), "{words}");
    }
}

#[test]
fn a_check_that_cannot_be_read_is_refused_with_its_place() {
    let folder = Folder::new("surface,depth\nA,3 1/2 in\n");
    let log = folder.write("log.csv", "what,surface,bags,hopper before,hopper after\nblown,A,6,run down,run down\n");
    for (text, words) in [
        ("check,state\nvents,done\n", "`vents` is no check that is known"),
        ("check,state\nvents clear,not needed\n", "gives no reason"),
        ("check,value\nholes plugged,-1\n", "finish.csv:2:15"),
        ("check,state\nlabels kept,done\nlabels kept,done\n", "comes twice"),
    ] {
        let finish = folder.write("finish.csv", text);
        let said = refused(folder.run("closeout").arg("--log").arg(&log).arg("--finish").arg(finish));
        assert!(said.contains(words), "{words}: {said}");
    }
}
