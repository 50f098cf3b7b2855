//! What a check gathers on its way: points and steps.

use super::{Point, Status, Step, Topic};
use crate::units::UnitSystem;

/// Points and steps, and the units that their texts are written in.
pub(super) struct Notes {
    pub units: UnitSystem,
    pub points: Vec<Point>,
    pub steps: Vec<Step>,
}

impl Notes {
    pub(super) fn new(units: UnitSystem) -> Self {
        Self { units, points: Vec::new(), steps: Vec::new() }
    }

    /// A point that holds.
    pub(super) fn holds(&mut self, topic: Topic, found: impl Into<String>) {
        self.point(topic, Status::Holds, found, "");
    }

    /// A point with what to do next; an empty text is nothing to do.
    pub(super) fn point(&mut self, topic: Topic, status: Status, found: impl Into<String>, action: &str) {
        let action = Some(action.to_owned()).filter(|action| !action.is_empty());
        self.points.push(Point { topic, status, found: found.into(), action });
    }

    /// Where a figure comes from.
    pub(super) fn step(
        &mut self,
        topic: Topic,
        [what, value, formula]: [&str; 3],
        inputs: &[(&str, String)],
        source: &str,
    ) {
        self.steps.push(Step {
            topic,
            what: what.to_owned(),
            value: value.to_owned(),
            formula: formula.to_owned(),
            inputs: inputs.iter().map(|(name, value)| format!("{name} = {value}")).collect(),
            source: source.to_owned(),
        });
    }
}
