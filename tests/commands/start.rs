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
fn the_sheets_of_before_and_after_are_written_and_run() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    Run::new("start").arg(folder.path()).status(0);
    let mut names: Vec<_> = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    names.sort();
    assert_eq!(names, ["finish.csv", "job.toml", "openings.csv", "surfaces.csv", "survey.csv"]);
    let inputs = [at("surfaces.csv"), at("openings.csv")];
    let run = Run::new("takeoff").args(&inputs).arg("--job").arg(at("job.toml"));
    run.arg("--survey").arg(at("survey.csv")).arg("--strict").status(0);
    std::fs::write(at("log.csv"), "what,surface,bags\nblown,N,1\n").unwrap();
    let run = Run::new("closeout").args(&inputs).arg("--job").arg(at("job.toml")).arg("--log").arg(at("log.csv"));
    // Nothing is checked yet.
    let outcome = run.arg("--finish").arg(at("finish.csv")).status(1);
    assert!(outcome.stdout.contains("required checks not done"), "{}", outcome.stdout);
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

/// The key that a line sets, where it sets one.
fn key_of(line: &str) -> Option<&str> {
    let key = line.split_once(" = ")?.0.trim_matches('"');
    let is_key = !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || matches!(c, '_' | '.' | ' '));
    (is_key && key.split(' ').count() <= 2).then_some(key)
}

/// The example with every line in use that is an entry: of two values of one key the first, and one of those that stand in
/// place of each other.
fn all_in_use(text: &str) -> (String, usize) {
    let (mut used, mut seen, mut in_list) = (String::new(), std::collections::BTreeSet::new(), false);
    let mut count = 0;
    for line in text.lines() {
        let Some(entry) = line.strip_prefix("# ") else {
            if line.starts_with('[') {
                seen.clear();
            }
            seen.extend(key_of(line).map(str::to_owned));
            used += &format!("{line}\n");
            continue;
        };
        let is_heading = entry.starts_with('[');
        let is_new = key_of(entry).is_some_and(|key| key != "unvented" && seen.insert(key.to_owned()));
        if is_heading {
            seen.clear();
        }
        if is_heading || is_new || in_list {
            used += &format!("{entry}\n");
            count += usize::from(!in_list);
            let plain = entry.split(" #").next().unwrap().trim_end();
            in_list = if in_list { !plain.starts_with(']') } else { is_new && plain.ends_with('[') };
        }
    }
    (used, count)
}

#[test]
fn every_line_of_the_example_can_be_used_where_it_stands() {
    let text = std::fs::read_to_string(super::support::sample("start/job.toml")).unwrap();
    let (used, count) = all_in_use(&text);
    assert!(count > 150, "{count} lines are entries");
    let read = cavitally::job::read_job("job.toml", &used);
    assert!(read.is_ok(), "{:#?}", read.err());
}
