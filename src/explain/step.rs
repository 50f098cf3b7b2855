//! Steps of a derivation as plain data.

/// What a figure measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Metres.
    Length,
    /// Square metres.
    Area,
    /// Cubic metres.
    Volume,
    /// Kilograms.
    Mass,
    /// Kilograms per cubic metre.
    Density,
    /// Kilograms per square metre.
    MassPerArea,
    /// A number without a unit.
    Number,
}

/// A figure in SI, and what it measures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figure {
    /// What it measures.
    pub measure: Measure,
    /// Its value in the SI unit of the measure.
    pub si: f64,
}

impl Figure {
    pub(super) fn length(si: f64) -> Self {
        Self { measure: Measure::Length, si }
    }

    pub(super) fn area(si: f64) -> Self {
        Self { measure: Measure::Area, si }
    }

    pub(super) fn volume(si: f64) -> Self {
        Self { measure: Measure::Volume, si }
    }

    pub(super) fn mass(si: f64) -> Self {
        Self { measure: Measure::Mass, si }
    }

    pub(super) fn density(si: f64) -> Self {
        Self { measure: Measure::Density, si }
    }

    pub(super) fn mass_per_area(si: f64) -> Self {
        Self { measure: Measure::MassPerArea, si }
    }

    pub(super) fn number(si: f64) -> Self {
        Self { measure: Measure::Number, si }
    }
}

/// What is done with a figure; products and quotients come before sums, from the left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Operation {
    /// Added.
    Plus,
    /// Taken off.
    Minus,
    /// Multiplied by.
    Times,
    /// Divided by.
    Over,
}

/// A computation: a first figure, what is done with further ones, and the result.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What is computed.
    pub what: String,
    /// The first figure.
    pub first: Figure,
    /// What is done with the others.
    pub rest: Vec<(Operation, Figure)>,
    /// What it comes to.
    pub result: Figure,
}

/// A line of a derivation.
#[derive(Clone, Debug, PartialEq)]
pub enum Line {
    /// Words.
    Text(String),
    /// A figure that is given, and where it comes from; empty where that is said elsewhere.
    Given {
        /// What it is.
        what: String,
        /// Its value.
        figure: Figure,
        /// Where it comes from.
        from: String,
    },
    /// Corners of a ring in order, in metres, and the area within: half of the sum of `x1 y2 - x2 y1` over its sides.
    Corners {
        /// What it is.
        what: String,
        /// The corners.
        points: Vec<[f64; 2]>,
        /// The area.
        area: Figure,
    },
    /// A computation.
    Step(Step),
    /// The sum of the results of the lines above, back to one that is no computation.
    SumAbove {
        /// What is computed.
        what: String,
        /// How many lines.
        lines: usize,
        /// What it comes to.
        result: Figure,
    },
    /// A number of things, rounded up.
    RoundedUp {
        /// What they are.
        what: String,
        /// The number before.
        exact: Figure,
        /// The whole number.
        whole: Figure,
    },
}

impl Line {
    pub(super) fn text(text: impl Into<String>) -> Self {
        Self::Text(text.into())
    }

    pub(super) fn given(what: impl Into<String>, figure: Figure, from: impl Into<String>) -> Self {
        Self::Given { what: what.into(), figure, from: from.into() }
    }

    pub(super) fn step(
        what: impl Into<String>,
        first: Figure,
        rest: impl IntoIterator<Item = (Operation, Figure)>,
        result: Figure,
    ) -> Self {
        Self::Step(Step { what: what.into(), first, rest: rest.into_iter().collect(), result })
    }
}

/// Lines about one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// What it is about.
    pub title: String,
    /// Its lines.
    pub lines: Vec<Line>,
}

impl Section {
    pub(super) fn new(title: &str, lines: Vec<Line>) -> Self {
        Self { title: title.to_owned(), lines }
    }
}

/// The derivation of one surface or bay.
#[derive(Clone, Debug, PartialEq)]
pub struct Explanation {
    /// What it is of.
    pub title: String,
    /// Its sections, each resting on those before it.
    pub sections: Vec<Section>,
}
