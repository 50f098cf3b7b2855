//! The verdict, what to do next, and every point that was checked.

use super::WIDTH;
use crate::report::text::{printable, wrap};
use crate::rig::{Point, RigCheck, Status, Topic};

/// Columns of the word of a status.
const STATUS_COLUMNS: usize = 11;

pub(super) fn title(check: &RigCheck) -> Vec<String> {
    let what = check.project.as_ref().map_or_else(String::new, |project| format!(" for {}", printable(project)));
    let verdict = match check.status {
        Status::Holds => "CAN DO THIS JOB".to_owned(),
        Status::NotShown => format!("NOT SHOWN YET to do this job ({})", topics(check)),
        Status::FallsShort => format!("FALLS SHORT ({})", topics(check)),
    };
    let mut all = wrap(&format!("Rig {}{what}: {verdict}", printable(&check.rig)), WIDTH, "  ");
    if !check.has_takeoff {
        let found = "Without a takeoff: pressure for packing any wall, no hours, no bags. Name the house's model or sheets \
                     to check against them.";
        all.extend(wrap(&format!("  {found}"), WIDTH, "  "));
    }
    all
}

/// What the verdict rests on.
fn topics(check: &RigCheck) -> String {
    let mut words: Vec<String> = Vec::new();
    for point in check.points.iter().filter(|point| point.status == check.status) {
        let word = point.topic.word().to_lowercase();
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words.join(", ")
}

/// What to do, worst first; each text once.
pub(super) fn next_steps(check: &RigCheck) -> Vec<String> {
    let mut steps: Vec<(Status, Topic, &str)> = Vec::new();
    for status in [Status::FallsShort, Status::NotShown, Status::Holds] {
        for point in check.points.iter().filter(|point| point.status == status) {
            let Some(action) = point.action.as_deref() else { continue };
            if steps.iter().all(|(_, _, other)| *other != action) {
                steps.push((status, point.topic, action));
            }
        }
    }
    if steps.is_empty() {
        return vec!["Nothing is left to do but the checklist below.".to_owned()];
    }
    let mut all = Vec::new();
    for (status, heading) in [
        (Status::FallsShort, "Mend before you go"),
        (Status::NotShown, "Find out before you pack"),
        (Status::Holds, "Bear in mind"),
    ] {
        let own: Vec<_> = steps.iter().enumerate().filter(|(_, (other, ..))| *other == status).collect();
        if own.is_empty() {
            continue;
        }
        all.push(heading.to_owned());
        for (index, (_, topic, action)) in own {
            all.extend(wrap(&format!("  {}. {}: {}", index + 1, topic.word(), printable(action)), WIDTH, "     "));
        }
    }
    all
}

/// Every point, by topic.
pub(super) fn points(check: &RigCheck) -> Vec<String> {
    let mut all = vec!["What was checked".to_owned()];
    let mut last = None;
    for point in &check.points {
        if last != Some(point.topic) {
            all.push(format!("  {}", point.topic.word()));
            last = Some(point.topic);
        }
        all.extend(one(point));
    }
    all
}

fn one(point: &Point) -> Vec<String> {
    let word = match point.status {
        Status::Holds => "holds",
        Status::NotShown => "not shown",
        Status::FallsShort => "FALLS SHORT",
    };
    let indent = " ".repeat(4 + STATUS_COLUMNS + 2);
    wrap(&format!("    {word:STATUS_COLUMNS$}  {}", printable(&point.found)), WIDTH, &indent).into_iter().collect()
}
