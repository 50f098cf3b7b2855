//! How bays are filled, and where the filling holes go: `[filling]`, and `method` of an assembly.

use super::defaults::{JOB_FILE, PRACTICE};
use super::file::{AssemblyFile, nearest};
use super::reader::Reader;
use crate::fill::{FillMethod, HoleRules};
use crate::model::{Assumption, SurfaceKind};
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

/// Where the diameter of a filling hole comes from.
const CURRICULUM: &str = "US weatherization curriculum, 2012: dense-pack sidewalls";
/// Why a spray-applied fill is refused.
const SPRAYED: &str = "fill that is sprayed damp or wet is not blown into closed bays: its density holds water and \
                       binder, it is trimmed to the studs, and it must dry before it is closed in; it is not estimated \
                       as if it were dry fill";
/// Smallest reach or spacing, in metres: less is a slip.
const LEAST_M: f64 = 0.05;

/// How bays are filled, for all surfaces. Lengths are texts with their unit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct FillingFile {
    /// How the fill gets in: `tube`, `two holes`, `netting` or `open`. A retrofit, and a floor over a board, is filled by tube, other new work through netting.
    #[schemars(with = "Option<String>")]
    pub method: Option<Spanned<String>>,
    /// Height of a bay that one hole serves with a tube.
    #[schemars(with = "Option<String>")]
    pub tube_reach: Option<Spanned<String>>,
    /// Height of a bay that two holes serve.
    #[schemars(with = "Option<String>")]
    pub two_holes_reach: Option<Spanned<String>>,
    /// Height from which a bay gets two holes.
    #[schemars(with = "Option<String>")]
    pub two_holes_from: Option<Spanned<String>>,
    /// Width of a bay that one hole serves.
    #[schemars(with = "Option<String>")]
    pub hole_spacing: Option<Spanned<String>>,
    /// Diameter of a hole.
    #[schemars(with = "Option<String>")]
    pub hole_diameter: Option<Spanned<String>>,
    /// How far netting bulges beyond the framing, as a mean over a bay.
    #[schemars(with = "Option<String>")]
    pub netting_bulge: Option<Spanned<String>>,
}

/// Keys of `[filling]`.
pub(super) const FILLING: &[&str] =
    &["method", "tube_reach", "two_holes_reach", "two_holes_from", "hole_spacing", "hole_diameter", "netting_bulge"];

/// How bays are filled, and where each value comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct FillingChoice {
    /// How the fill gets in, where the job file says so for all surfaces.
    pub method: Option<FillMethod>,
    /// Where the holes go.
    pub holes: HoleRules,
    /// How far netting bulges beyond the framing, in metres.
    pub netting_bulge_m: f64,
    /// Every value with its source.
    pub sources: Vec<Assumption>,
}

impl Default for FillingChoice {
    fn default() -> Self {
        let of = |key: &str, value: &str, unit: &str, source: &str| Assumption {
            key: format!("filling.{key}"),
            value: value.to_owned(),
            unit: unit.to_owned(),
            source: source.to_owned(),
        };
        Self {
            method: None,
            holes: HoleRules::default(),
            netting_bulge_m: 0.0,
            sources: vec![
                of("tube_reach", "8", "ft", PRACTICE),
                of("two_holes_reach", "8", "ft", PRACTICE),
                of("two_holes_from", "2", "ft", PRACTICE),
                of("hole_spacing", "24", "in", PRACTICE),
                of("hole_diameter", "2.5", "in", CURRICULUM),
                of("netting_bulge", "0", "in", "none is taken unless the job file gives one"),
            ],
        }
    }
}

impl FillingChoice {
    /// Takes the values that the job file gives under `[filling]`.
    pub(super) fn take(&mut self, file: &FillingFile, reader: &mut Reader<'_>) {
        self.method = file.method.as_ref().and_then(|method| read_method(method, reader));
        let mut given: Vec<(&str, String)> = Vec::new();
        let mut set = |key, text: &Option<Spanned<String>>, target: &mut f64, least_m: f64| {
            let Some(text) = text else { return };
            let Some(length_m) = reader.length_m(text) else { return };
            if length_m < least_m {
                reader.refuse(text.span(), format!("`{key}` is `{}`: no reach is as short", text.get_ref()), "");
            }
            *target = length_m;
            given.push((key, text.get_ref().clone()));
        };
        set("tube_reach", &file.tube_reach, &mut self.holes.tube_reach_m, LEAST_M);
        set("two_holes_reach", &file.two_holes_reach, &mut self.holes.two_holes_reach_m, LEAST_M);
        set("two_holes_from", &file.two_holes_from, &mut self.holes.two_holes_from_m, 0.0);
        set("hole_spacing", &file.hole_spacing, &mut self.holes.hole_spacing_m, LEAST_M);
        set("hole_diameter", &file.hole_diameter, &mut self.holes.hole_diameter_m, 0.0);
        set("netting_bulge", &file.netting_bulge, &mut self.netting_bulge_m, 0.0);
        for (key, value) in given {
            let key = format!("filling.{key}");
            if let Some(source) = self.sources.iter_mut().find(|source| source.key == key) {
                *source = Assumption { key, value, unit: String::new(), source: JOB_FILE.to_owned() };
            }
        }
    }

    /// The values that bear on bays filled by a method.
    pub fn sources_of(&self, method: FillMethod, has_wide_bays: bool) -> Vec<&Assumption> {
        let mut keys = match method {
            FillMethod::Tube => vec!["filling.tube_reach", "filling.hole_diameter"],
            FillMethod::TwoHoles => {
                vec!["filling.two_holes_reach", "filling.two_holes_from", "filling.hole_diameter"]
            }
            FillMethod::Netting => vec!["filling.tube_reach", "filling.netting_bulge"],
            FillMethod::Open => Vec::new(),
        };
        if has_wide_bays && method != FillMethod::Open {
            keys.push("filling.hole_spacing");
        }
        self.sources.iter().filter(|source| keys.contains(&source.key.as_str())).collect()
    }
}

/// Reads the method and the bulge of an assembly's netting; only netting bulges.
pub(super) fn read_filling(file: &AssemblyFile, reader: &mut Reader<'_>) -> (Option<FillMethod>, Option<f64>) {
    let method = file.method.as_ref().and_then(|method| read_method(method, reader));
    let Some(bulge) = &file.netting_bulge else { return (method, None) };
    if let Some(other) = method.filter(|method| *method != FillMethod::Netting) {
        let message = format!("`netting_bulge` has no netting: the method is `{}`", other.word());
        reader.refuse(bulge.span(), message, "leave one of them out, or write `method = \"netting\"`");
    }
    (method, reader.length_m(bulge))
}

/// Reads a fill method; what is sprayed is refused with the reason.
fn read_method(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<FillMethod> {
    let word = text.get_ref().trim().to_lowercase().replace(['-', '_'], " ");
    let words: Vec<&str> = FillMethod::ALL.iter().map(|method| method.word()).collect();
    if let Some(method) = FillMethod::ALL.into_iter().find(|method| method.word() == word) {
        return Some(method);
    }
    let known = format!("`method` is one of: {}", words.join(", "));
    if ["spray", "damp", "wet", "stabili"].iter().any(|part| word.contains(part)) {
        reader.refuse(text.span(), format!("`{}` is refused: {SPRAYED}", text.get_ref().trim()), known);
        return None;
    }
    let help = nearest(&word, &words).map_or(known, |near| format!("did you mean `{near}`?"));
    reader.refuse(text.span(), format!("`{}` is no way to fill bays", text.get_ref().trim()), help);
    None
}

/// The method where nobody names one: by tube in a retrofit and behind the board below a floor, else through netting.
///
/// # Source
/// Common practice, no source.
pub(super) fn default_method(kind: SurfaceKind, is_retrofit: bool) -> FillMethod {
    if is_retrofit || kind == SurfaceKind::Floor { FillMethod::Tube } else { FillMethod::Netting }
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn every_key_is_taken_and_carries_the_file_as_its_source() {
        let text = "[filling]\nmethod = \"two-holes\"\ntube_reach = \"12 ft\"\ntwo_holes_reach = \"6 ft\"\n\
                    two_holes_from = \"30 in\"\nhole_spacing = \"600 mm\"\nhole_diameter = \"2 in\"\n\
                    netting_bulge = \"1/2 in\"\n";
        let filling = read_job("job.toml", text).unwrap().filling;
        assert_eq!(filling.method, Some(FillMethod::TwoHoles));
        let holes = &filling.holes;
        let found = [holes.tube_reach_m, holes.two_holes_reach_m, holes.two_holes_from_m, holes.hole_spacing_m];
        for (found, expected) in found.into_iter().zip([3.6576, 1.8288, 0.762, 0.6]) {
            assert!((found - expected).abs() < 1e-12, "{found} {expected}");
        }
        assert!((holes.hole_diameter_m - 0.0508).abs() < 1e-12 && (filling.netting_bulge_m - 0.0127).abs() < 1e-12);
        assert!(filling.sources.iter().all(|source| source.source == "job file"));
    }

    #[test]
    fn what_is_sprayed_is_refused_with_the_reason() {
        for method in ["damp spray", "wet spray", "spray applied", "spray-applied", "Damp-sprayed", "stabilised"] {
            let text = format!("[assembly.x]\nframing = \"2x4 @ 16 in\"\nmethod = \"{method}\"\n");
            let refusal = read_job("job.toml", &text).unwrap_err().remove(0);
            assert!(refusal.message.contains("not estimated") && refusal.message.contains("water"), "{refusal}");
        }
        let refusal = read_job("job.toml", "[filling]\nmethod = \"tub\"\n").unwrap_err().remove(0);
        assert_eq!(refusal.help, "did you mean `tube`?");
        assert!(read_job("job.toml", "[filling]\ntube_reach = \"1 mm\"\n").is_err());
        let text = "[assembly.x]\nframing = \"2x4 @ 16 in\"\nmethod = \"tube\"\nnetting_bulge = \"1 in\"\n";
        assert!(read_job("job.toml", text).unwrap_err()[0].message.contains("no netting"));
    }
}
