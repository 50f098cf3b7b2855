//! Finished checks, held against the takeoff and the log.

use super::contract::Closeout;
use super::finish_contract::{CheckState, Finish, FinishCheck};
use super::sure::PART_BAG;
use crate::intake::finish::{Check, Checked, FinishSheet, Stand};
use crate::model::SurfaceKind;
use crate::takeoff::Takeoff;

const PRACTICE: &str = "common practice, no source";
const HOLES: &str = "the takeoff's holes; common practice, no source";
const BAGS: &str = "the order less the log, within 1/4 bag; common practice, no source";
const VENTS: &str = "IRC R806.3: ventilation stays clear";

/// What a check should find, and whether it must be there.
struct Wanted {
    check: Check,
    fill: Option<String>,
    expected: Option<f64>,
    is_required: bool,
    source: &'static str,
}

impl Closeout {
    /// The same with the finished checks; a required one that is not done makes the job short.
    #[must_use]
    pub fn with_finish(mut self, takeoff: &Takeoff, sheet: &FinishSheet) -> Self {
        let finish = held_against(&self, takeoff, sheet);
        self.is_short |= finish.not_done > 0;
        self.inputs.push(sheet.input.clone());
        self.findings.extend(sheet.findings.iter().cloned());
        self.finish = Some(finish);
        self
    }
}

fn held_against(closeout: &Closeout, takeoff: &Takeoff, sheet: &FinishSheet) -> Finish {
    let wanted = wanted(closeout, takeoff);
    let mut used: Vec<&Checked> = Vec::new();
    let mut checks = Vec::new();
    for want in &wanted {
        let row = sheet.rows.iter().find(|row| row.check == want.check && is_of(row, want, &wanted));
        used.extend(row);
        checks.push(row.map_or_else(|| missing(want), |row| held(row, want)));
    }
    // Bags of a fill that the log does not name, or of none where it names several: listed, and nothing to hold them against.
    for row in sheet.rows.iter().filter(|row| !used.iter().any(|other| std::ptr::eq(*other, *row))) {
        checks.push(stray(row));
    }
    let of = |state: CheckState| checks.iter().filter(|one| one.is_required && one.state == state).count();
    let (open, not_done) = (of(CheckState::Open), of(CheckState::NotDone));
    let verdict = match (not_done, open) {
        (0, 0) => "every required check is done".to_owned(),
        (0, open) => format!("not closed: {} open", counted(open, "required check")),
        (not_done, 0) => format!("not closed: {} not done", counted(not_done, "required check")),
        (not_done, open) => format!("not closed: {} not done, {open} open", counted(not_done, "required check")),
    };
    Finish { checks, open: open as u64, not_done: not_done as u64, verdict }
}

fn counted(number: usize, what: &str) -> String {
    if number == 1 { format!("1 {what}") } else { format!("{number} {what}s") }
}

/// A row without a fill is about the only one that there is.
fn is_of(row: &Checked, want: &Wanted, all: &[Wanted]) -> bool {
    let is_only = all.iter().filter(|other| other.check == want.check).count() == 1;
    match (&row.fill, &want.fill) {
        (Some(fill), Some(own)) => fill.eq_ignore_ascii_case(own),
        (Some(_), None) => false,
        (None, _) => is_only,
    }
}

fn wanted(closeout: &Closeout, takeoff: &Takeoff) -> Vec<Wanted> {
    let holes = takeoff.holes.holes_to_plug;
    let is_under_roof =
        takeoff.surfaces.iter().any(|one| one.counted && matches!(one.kind, SurfaceKind::Ceiling | SurfaceKind::Roof));
    let of = |check: Check, is_required: bool, source: &'static str| Wanted {
        check,
        fill: None,
        expected: None,
        is_required,
        source,
    };
    let mut all = Vec::new();
    for check in Check::ALL {
        match check {
            Check::HolesPlugged => {
                #[allow(clippy::cast_precision_loss, reason = "no building has 2^52 holes")]
                let expected = (holes > 0).then_some(holes as f64);
                all.push(Wanted { expected, ..of(check, holes > 0, HOLES) });
            }
            Check::RegistersChecked | Check::BlowerDoor => all.push(of(check, false, PRACTICE)),
            Check::VentsClear => all.push(of(check, is_under_roof, VENTS)),
            Check::CombustionTested | Check::LabelsKept => all.push(of(check, true, PRACTICE)),
            Check::BagsLeft => all.extend(closeout.overall.iter().map(|fill| Wanted {
                fill: Some(fill.fill.clone()),
                expected: fill.left_exact,
                ..of(check, true, BAGS)
            })),
        }
    }
    all
}

fn missing(want: &Wanted) -> FinishCheck {
    FinishCheck {
        what: want.check.word().to_owned(),
        fill: want.fill.clone(),
        is_required: want.is_required,
        state: CheckState::Open,
        value: None,
        expected_number: want.expected,
        reason: "no row says how it stands".to_owned(),
        date: None,
        by: None,
        note: None,
        place: None,
        source: want.source.to_owned(),
    }
}

/// A row as it is written.
fn as_written(row: &Checked) -> FinishCheck {
    let (state, reason) = match row.stand {
        Stand::Done => (CheckState::Done, String::new()),
        Stand::NotDone => (CheckState::NotDone, "the sheet says that it is not done".to_owned()),
        Stand::NotNeeded => (CheckState::NotNeeded, row.note.clone().unwrap_or_default()),
    };
    FinishCheck {
        what: row.check.word().to_owned(),
        fill: row.fill.clone(),
        is_required: false,
        state,
        value: row.value.clone(),
        expected_number: None,
        reason,
        date: row.date.map(|date| date.to_string()),
        by: row.by.clone(),
        note: row.note.clone(),
        place: Some(row.place.clone().without_column().to_string()),
        source: PRACTICE.to_owned(),
    }
}

fn held(row: &Checked, want: &Wanted) -> FinishCheck {
    let mut one = as_written(row);
    one.fill.clone_from(&want.fill);
    one.is_required = want.is_required;
    one.expected_number = want.expected;
    want.source.clone_into(&mut one.source);
    if let (Stand::Done, Some(number), Some(expected)) = (row.stand, row.value_number, want.expected) {
        let is_short = want.check == Check::HolesPlugged && number < expected;
        let is_off = want.check == Check::BagsLeft && (number - expected).abs() > PART_BAG;
        if is_short {
            one.state = CheckState::Open;
            one.reason = format!("the takeoff has {expected} holes; plug the rest, or see why fewer were drilled");
        } else if is_off {
            one.state = CheckState::Open;
            one.reason = format!("the order less the log leaves {expected:.1} bags; count again, or mend the log");
        }
    }
    one
}

fn stray(row: &Checked) -> FinishCheck {
    let reason = "which fill it is about cannot be told from the log; name one that it has in the column `fill`";
    FinishCheck { state: CheckState::Open, reason: reason.to_owned(), ..as_written(row) }
}
