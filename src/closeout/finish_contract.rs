//! Finished checks as a contract.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Finished checks, held against the takeoff and the log.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Finish {
    /// One entry a check, those that nobody entered among them.
    pub checks: Vec<FinishCheck>,
    /// Required checks that are open.
    pub open: u64,
    /// Required checks that are not done.
    pub not_done: u64,
    /// What it comes to, in words.
    pub verdict: String,
}

/// A check.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FinishCheck {
    /// What is checked.
    pub what: String,
    /// Name of the fill, of bags.
    pub fill: Option<String>,
    /// Whether the job is closed only with it.
    pub is_required: bool,
    /// How it stands.
    pub state: CheckState,
    /// What was found, in the words of the sheet.
    pub value: Option<String>,
    /// What should have been counted, by the takeoff or the log.
    pub expected_number: Option<f64>,
    /// Why it stands so; empty where the sheet says that it is done.
    pub reason: String,
    /// The day.
    pub date: Option<String>,
    /// Who.
    pub by: Option<String>,
    /// A note.
    pub note: Option<String>,
    /// Where the sheet says it; null where it does not.
    #[serde(rename = "where")]
    pub place: Option<String>,
    /// Where it comes from that this is asked.
    pub source: String,
}

/// How a check stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CheckState {
    /// Done.
    Done,
    /// Not done.
    NotDone,
    /// Not needed, for a reason.
    NotNeeded,
    /// Nobody says, or what was counted differs from what it should be.
    Open,
}

impl CheckState {
    /// As people read it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Done => "done",
            Self::NotDone => "not done",
            Self::NotNeeded => "not needed",
            Self::Open => "open",
        }
    }
}

impl FinishCheck {
    /// As people read it, in one sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut text = self.what.clone();
        if let Some(fill) = &self.fill {
            text.push_str(&format!(" of {fill}"));
        }
        text.push_str(&format!(": {}", self.state.words()));
        for more in [&self.value, &self.date, &self.by].into_iter().flatten() {
            text.push_str(&format!(", {more}"));
        }
        if !self.reason.is_empty() {
            text.push_str(&format!("; {}", self.reason));
        }
        if let Some(note) = self.note.as_ref().filter(|note| **note != self.reason) {
            text.push_str(&format!("; {note}"));
        }
        if !self.is_required {
            text.push_str(" (not required here)");
        }
        text
    }
}
