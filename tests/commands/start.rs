//! `cavitally start`

use super::support::Run;

#[test]
fn the_printed_command_runs_as_it_is() {
    let folder = tempfile::tempdir().unwrap();
    let target = folder.path().join("my job");
    let outcome = Run::new("start").arg(&target).status(0);
    assert!(outcome.stdout.contains("cavitally takeoff '"), "a path with a space is quoted: {}", outcome.stdout);
    let job = target.join("job.toml");
    let run = Run::new("takeoff").args([target.join("surfaces.csv"), target.join("openings.csv")]);
    let outcome = run.arg("--job").arg(job).arg("--strict").status(0);
    assert!(outcome.stdout.contains(" bags for "), "{}", outcome.stdout);
}

#[test]
fn nothing_is_overwritten() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("surfaces.csv"), "mine").unwrap();
    let outcome = Run::new("start").arg(folder.path()).status(2);
    assert!(outcome.stderr.contains("surfaces.csv") && outcome.stderr.contains("not overwritten"));
    assert_eq!(std::fs::read_to_string(folder.path().join("surfaces.csv")).unwrap(), "mine");
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 1);
}
