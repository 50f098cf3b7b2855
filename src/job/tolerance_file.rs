//! How far the inputs may be off: `[tolerance]`.

use super::defaults::{JOB_FILE, PRACTICE};
use super::reader::Reader;
use crate::model::Assumption;
use crate::order::CONFIDENCES;
use crate::units::{INCH_M, parse_percent};
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

/// How far the inputs may be off: each is what nineteen of twenty values stay within, two standard deviations.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct ToleranceFile {
    /// Of lengths and heights of surfaces, such as `1/2 in`.
    #[schemars(with = "Option<String>")]
    pub length: Option<Spanned<String>>,
    /// Of the depth of cavities.
    #[schemars(with = "Option<String>")]
    pub depth: Option<Spanned<String>>,
    /// Of the spacing of framing.
    #[schemars(with = "Option<String>")]
    pub spacing: Option<Spanned<String>>,
    /// Of the density that is reached, such as `5 %`.
    #[schemars(with = "Option<String>")]
    pub density: Option<Spanned<String>>,
    /// Of the mass of a bag.
    #[schemars(with = "Option<String>")]
    pub bag: Option<Spanned<String>>,
    /// Of the framing fraction, in points of it, such as `2 %`: for `audit` and `closeout`.
    #[schemars(with = "Option<String>")]
    pub framing: Option<Spanned<String>>,
    /// Of the resistance of a whole assembly, beyond the limits of its methods, such as `5 %`: for `audit`.
    #[schemars(with = "Option<String>")]
    pub resistance: Option<Spanned<String>>,
    /// Confidence of the range of bags: `80 %`, `90 %`, `95 %` or `99 %`.
    #[schemars(with = "Option<String>")]
    pub confidence: Option<Spanned<String>>,
}

/// Keys of `[tolerance]`.
pub(super) const TOLERANCE: &[&str] =
    &["length", "depth", "spacing", "density", "bag", "framing", "resistance", "confidence"];

/// How far the inputs may be off, as two standard deviations.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerances {
    /// Of lengths and heights.
    pub length_m: f64,
    /// Of the depth of cavities.
    pub depth_m: f64,
    /// Of the spacing of framing.
    pub spacing_m: f64,
    /// Of the density, as a share of it.
    pub density_share: f64,
    /// Of the mass of a bag, as a share of it.
    pub bag_share: f64,
    /// Of a framing fraction, in points of it: framing in the wall is seldom what was drawn.
    pub framing_share: f64,
    /// Of a resistance of a whole assembly, beyond the limits of its methods, as a share of it.
    pub resistance_share: f64,
    /// Confidence of the range.
    pub confidence_share: f64,
    /// Where what bears on the takeoff comes from.
    pub sources: Vec<Assumption>,
    /// Where the framing's and the resistance's come from, by which plans and logs alone are judged.
    pub judged_sources: Vec<Assumption>,
}

impl Default for Tolerances {
    fn default() -> Self {
        let of = |key: &str, value: &str, unit: &str, source: &str| Assumption {
            key: format!("tolerance.{key}"),
            value: value.to_owned(),
            unit: unit.to_owned(),
            source: source.to_owned(),
        };
        Self {
            length_m: 0.5 * INCH_M,
            depth_m: 0.125 * INCH_M,
            spacing_m: 0.25 * INCH_M,
            density_share: 0.05,
            bag_share: 0.01,
            framing_share: 0.02,
            resistance_share: 0.05,
            confidence_share: 0.90,
            sources: vec![
                of("length", "1/2", "in", PRACTICE),
                of("depth", "1/8", "in", PRACTICE),
                of("spacing", "1/4", "in", PRACTICE),
                of("density", "5", "%", "samples of ASTM C687 differ by as much, from an abstract"),
                of("bag", "1", "%", PRACTICE),
                of("confidence", "90", "%", PRACTICE),
            ],
            judged_sources: vec![
                of("framing", "2", "points of the framing fraction", PRACTICE),
                of("resistance", "5", "% beyond the limits of ISO 6946", PRACTICE),
            ],
        }
    }
}

/// Reads the table over the defaults.
pub(super) fn read_tolerances(file: &ToleranceFile, reader: &mut Reader<'_>) -> Tolerances {
    let mut all = Tolerances::default();
    let mut given: Vec<(&str, &Spanned<String>)> = Vec::new();
    let lengths = [
        ("length", &file.length, &mut all.length_m),
        ("depth", &file.depth, &mut all.depth_m),
        ("spacing", &file.spacing, &mut all.spacing_m),
    ];
    for (key, text, target) in lengths {
        let Some(text) = text else { continue };
        *target = reader.length_m(text).unwrap_or(*target);
        given.push((key, text));
    }
    let shares = [
        ("density", &file.density, &mut all.density_share),
        ("bag", &file.bag, &mut all.bag_share),
        ("framing", &file.framing, &mut all.framing_share),
        ("resistance", &file.resistance, &mut all.resistance_share),
        ("confidence", &file.confidence, &mut all.confidence_share),
    ];
    for (key, text, target) in shares {
        let Some(text) = text else { continue };
        *target = reader.quantity(text, parse_percent).map_or(*target, |share| share.si);
        given.push((key, text));
    }
    if let Some(text) = &file.confidence
        && !CONFIDENCES.iter().any(|(share, _)| (share - all.confidence_share).abs() < 1e-9)
    {
        reader.refuse(
            text.span(),
            format!("`confidence` cannot be `{}`", text.get_ref()),
            "write `80 %`, `90 %`, `95 %` or `99 %`",
        );
    }
    for (key, text) in given {
        let key = format!("tolerance.{key}");
        let mut sources = all.sources.iter_mut().chain(&mut all.judged_sources);
        if let Some(source) = sources.find(|source| source.key == key) {
            *source =
                Assumption { key, value: text.get_ref().clone(), unit: String::new(), source: JOB_FILE.to_owned() };
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn given_values_replace_the_defaults() {
        let text = "[tolerance]\ndepth = \"1/4 in\"\ndensity = \"3 %\"\nconfidence = \"95 %\"\nframing = \"4 %\"\n";
        let read = read_job("job.toml", text).unwrap().tolerances;
        assert!((read.depth_m - 0.25 * INCH_M).abs() < 1e-12 && (read.density_share - 0.03).abs() < 1e-12);
        assert!((read.confidence_share - 0.95).abs() < 1e-12 && (read.bag_share - 0.01).abs() < 1e-12);
        assert!((read.framing_share - 0.04).abs() < 1e-12 && (read.resistance_share - 0.05).abs() < 1e-12);
        assert_eq!(read.judged_sources[0].source, JOB_FILE);
        let source = |key: &str| read.sources.iter().find(|source| source.key == key).unwrap().source.clone();
        assert_eq!((source("tolerance.depth"), source("tolerance.bag")), (JOB_FILE.to_owned(), PRACTICE.to_owned()));
    }

    #[test]
    fn what_cannot_be_used_is_refused() {
        for text in ["confidence = \"77 %\"", "depth = \"0.25\"", "density = \"5\"", "length = \"0 in\""] {
            assert!(read_job("job.toml", &format!("[tolerance]\n{text}\n")).is_err(), "{text}");
        }
    }
}
