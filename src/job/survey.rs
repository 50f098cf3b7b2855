//! A survey as rules about surfaces, before those of the job file.

use super::rules::Job;
use super::surface_rule::{Caution, Said, SaidIn, SurfaceRule, SurfaceValue};
use crate::finding::Finding;
use crate::intake::survey::{Finish, Lead, Looked, Moisture, Seen, Siding, Survey};
use crate::model::{Input, Wiring};
use crate::source::Place;

const LEAKS: &str = "leaks and wet basements are mended first; blow nothing until it is dry";
const DRYNESS_NOT_SEEN: &str = "nobody looked whether it is dry; leaks and wet basements are mended first";
const ASBESTOS: &str = "asbestos-cement siding is not drilled, and asbestos stays undisturbed; fill from inside";
const PLASTER: &str = "lath and plaster: keys may break off and the finish bulge; fill one bay and watch it";
const WEAK_BOARD: &str = "a weak board bulges or comes off; fill one bay and watch it, or fill from the other side";
const LEAD: &str = "lead paint: keep dust down and contained, with a respirator; the local rule decides who may drill";
const LEAD_NOT_TESTED: &str = "lead was not tested; take the paint for lead paint until a test says otherwise";
const WIRING_NOT_SEEN: &str =
    "nobody saw the wiring; knob-and-tube is live until an electrician says otherwise: look before anything is blown";

/// The file of a survey that was read into rules.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyRead {
    /// The file.
    pub input: Input,
    /// What was odd in it.
    pub findings: Vec<Finding>,
}

impl Job {
    /// Says of surfaces what a survey saw. What the row of a sheet says itself wins; the `[[surface]]` tables come after.
    pub fn set_survey(&mut self, survey: &Survey) {
        self.surface_rules.splice(0..0, survey.rows.iter().map(rule_of));
        self.survey = Some(SurveyRead { input: survey.input.clone(), findings: survey.findings.clone() });
    }
}

fn rule_of(row: &Looked) -> SurfaceRule {
    let mut source = format!("survey: {}", row.place.clone().without_column());
    if let Some(date) = row.date {
        source.push_str(&format!(", {date}"));
    }
    if let Some(by) = &row.by {
        source.push_str(&format!(", {by}"));
    }
    SurfaceRule {
        patterns: Vec::new(),
        named: row.surfaces.clone(),
        place: row.place.clone(),
        source,
        said_in: SaidIn::Survey,
        cautions: cautions(row),
        said: said(row),
    }
}

fn said(row: &Looked) -> Vec<Said> {
    let mut all = Vec::new();
    take(&mut all, row.depth.as_ref(), |depth_m| SurfaceValue::Depth(*depth_m));
    take(&mut all, row.existing.as_ref(), |fill| SurfaceValue::Existing(fill.clone()));
    take(&mut all, row.blocked.as_ref(), |parts| SurfaceValue::DoNotFill(parts.clone()));
    take(&mut all, row.wiring.as_ref(), |wiring| SurfaceValue::Wiring(*wiring));
    take(&mut all, row.released_by.as_ref(), |name| SurfaceValue::ReleasedBy(name.clone()));
    // Whoever made a test hole has looked.
    all.push(Said { text: "true".to_owned(), place: row.place.clone(), value: SurfaceValue::Surveyed(true) });
    all
}

fn take<T>(all: &mut Vec<Said>, seen: Option<&Seen<T>>, value: impl Fn(&T) -> SurfaceValue) {
    all.extend(seen.map(|seen| Said {
        text: seen.text.split_whitespace().collect::<Vec<_>>().join(" "),
        place: seen.place.clone(),
        value: value(&seen.value),
    }));
}

fn cautions(row: &Looked) -> Vec<Caution> {
    let warn = |place: &Place, message: String| Caution { place: place.clone(), is_warning: true, message };
    let mut all = Vec::new();
    if let Some(seen) = &row.moisture {
        match seen.value {
            Moisture::Dry => {}
            Moisture::Wet => all.push(warn(&seen.place, format!("{}: {LEAKS}", seen.text))),
            Moisture::NotSeen => all.push(warn(&seen.place, DRYNESS_NOT_SEEN.to_owned())),
        }
    }
    if let Some(seen) = row.siding.as_ref().filter(|seen| seen.value == Siding::AsbestosCement) {
        all.push(warn(&seen.place, ASBESTOS.to_owned()));
    }
    if let Some(seen) = &row.finish {
        match seen.value {
            Finish::Other => {}
            Finish::Plaster => all.push(warn(&seen.place, PLASTER.to_owned())),
            Finish::WeakBoard => all.push(warn(&seen.place, WEAK_BOARD.to_owned())),
        }
    }
    if let Some(seen) = &row.lead {
        match seen.value {
            Lead::None => {}
            Lead::There => all.push(warn(&seen.place, LEAD.to_owned())),
            Lead::NotTested => all.push(warn(&seen.place, LEAD_NOT_TESTED.to_owned())),
        }
    }
    if let Some(seen) = row.wiring.as_ref().filter(|seen| seen.value == Wiring::NotSeen) {
        all.push(warn(&seen.place, WIRING_NOT_SEEN.to_owned()));
    }
    if let Some(seen) = &row.access {
        all.push(Caution { place: seen.place.clone(), is_warning: false, message: format!("access: {}", seen.text) });
    }
    all
}
