//! The job with everything resolved, and the texts that options and the file share.

use super::built_in::{built_in, known_names, named};
use super::coverage_table::Coverage;
use super::crew_file::CrewChoice;
use super::defaults;
use super::heat::{AssemblyLayer, HeatChoice, LayerHeatRule};
use super::method::FillingChoice;
use super::order_file::OrderChoice;
use super::papers_file::PaperFacts;
use super::retrofit::Retrofit;
use super::rig::{Rig, Site};
use super::survey::SurveyRead;
use super::tolerance_file::Tolerances;
use super::{ExposureAsked, ExposureRule, Glob, LayoutChoice, SurfaceRule};
use crate::fill::{CeilingBoard, ClosedUse, FillMethod, FillRules, Humidity, Material};
use crate::framing::{Framing, LayoutRules, parse_framing};
use crate::model::{Assumption, Exposure, FileRead, LayerRule, Pattern, Surface};
use crate::order::Price;
use crate::refusal::Refusal;
use crate::source::Place;
use crate::units::{Quantity, parse_mass};

/// All that the user says, and defaults for the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Job {
    /// Name of the project.
    pub project: Option<String>,
    /// What papers say of people and places.
    pub papers: PaperFacts,
    /// Rules of the layout.
    pub layout: LayoutChoice,
    /// Fill materials, at least one; the first is used where an assembly names none.
    pub fills: Vec<FillChoice>,
    /// How bays are filled, and where the filling holes go.
    pub filling: FillingChoice,
    /// How the order is shared out, and what the work takes.
    pub order: OrderChoice,
    /// How the crew works.
    pub crew: CrewChoice,
    /// How far the inputs may be off.
    pub tolerances: Tolerances,
    /// Assemblies in the order of the file.
    pub assemblies: Vec<Assembly>,
    /// Assemblies that are known by name without a job file, as this job lays them out and fills them.
    pub built_in: Vec<Assembly>,
    /// Framing given by `--frame`, in its order.
    pub frames: Vec<FrameRule>,
    /// Which exposures are asked for.
    pub exposure: ExposureAsked,
    /// Where that comes from.
    pub exposure_source: String,
    /// What lies on the other side, by pattern.
    pub exposure_rules: Vec<ExposureRule>,
    /// What layers are, in place of what their names say.
    pub layer_rules: Vec<LayerRule>,
    /// What is said of surfaces, by pattern, in the order of the file.
    pub surface_rules: Vec<SurfaceRule>,
    /// The survey that some of them come from.
    pub survey: Option<SurveyRead>,
    /// Heat through the surfaces.
    pub heat: HeatChoice,
    /// What layers conduct, in place of what their names say.
    pub layer_heat: Vec<LayerHeatRule>,
    /// Rigs, in the order of the file.
    pub rigs: Vec<Rig>,
    /// The place of the work.
    pub site: Site,
    /// Leave surfaces uncounted whose assembly cannot be understood, instead of refusing their sheet.
    pub keep_going: bool,
    /// Path of the job file; empty where there is none.
    pub path: String,
    /// The job file and the coverage tables that it names, as they were read.
    pub sources: Vec<FileRead>,
    /// Keys of values that an option sets, as the list of assumptions has them.
    pub set_keys: Vec<String>,
}

/// A fill material: how it is blown in, and how it is ordered.
#[derive(Clone, Debug, PartialEq)]
pub struct FillChoice {
    /// Densities.
    pub rules: FillRules,
    /// Conductivity at the installed density, in watts per metre and kelvin, where it is known.
    pub conductivity_w_mk: Option<f64>,
    /// Where that comes from.
    pub conductivity_source: Option<Assumption>,
    /// Net mass of a bag, from its label, in kilograms.
    pub bag_kg: Option<f64>,
    /// Fraction added for spill, hopper and run-through.
    pub allowance: f64,
    /// Whether existing walls are filled.
    pub is_retrofit: bool,
    /// Where the density comes from.
    pub density_source: Assumption,
    /// Where the densities of deeper bays, and the depths they begin at, come from.
    pub step_sources: Vec<Assumption>,
    /// Where the densities of some uses come from.
    pub use_sources: Vec<(ClosedUse, Assumption)>,
    /// Where the settled density of open-blown fill comes from.
    pub open_source: Option<Assumption>,
    /// Least and greatest settled density of open-blown fill, for an estimate where the label's table is not given.
    pub open_range_kg_m3: Option<OpenRange>,
    /// What open-blown fill settles, as a fraction of its initial thickness.
    pub settling_fraction: Option<f64>,
    /// Where that comes from.
    pub settling_source: Option<Assumption>,
    /// Humidity of the air that the fill of walls meets.
    pub humidity: Humidity,
    /// Coverage tables of the label, at most one a use.
    pub coverage: Vec<Coverage>,
    /// Price of a bag.
    pub price: Option<Price>,
    /// Bags on a pallet.
    pub pallet_bags: Option<u64>,
    /// Bags in a bundle.
    pub bundle_bags: Option<u64>,
    /// What is refused where no option gives the bag either.
    pub bag_refusal: Option<Box<Refusal>>,
    /// Generic material that it is.
    pub material: Option<&'static Material>,
    /// Where the bag and the allowance come from.
    pub order_sources: Vec<Assumption>,
}

/// Least and greatest settled density of open-blown fill.
#[derive(Clone, Debug, PartialEq)]
pub struct OpenRange {
    /// The least.
    pub least_kg_m3: f64,
    /// The greatest.
    pub most_kg_m3: f64,
    /// Where both come from.
    pub source: String,
}

/// A way to frame and fill surfaces, from the job file.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Name.
    pub name: String,
    /// How it is framed; its depth is the job file's where that gives one.
    pub framing: Framing,
    /// Index in the job's fills.
    pub fill: usize,
    /// Rules of the layout.
    pub layout: LayoutRules,
    /// How the fill gets in, where the file says so.
    pub method: Option<FillMethod>,
    /// How far netting bulges beyond the framing, in metres, where the file says so.
    pub netting_bulge_m: Option<f64>,
    /// Thermal resistance that its fill must have, where the file gives one.
    pub r_m2k_w: Option<f64>,
    /// Board of a ceiling, where the file names it.
    pub board: Option<CeilingBoard>,
    /// Its layers from outside inwards, where the file gives them.
    pub layers: Option<Vec<AssemblyLayer>>,
    /// What is in its bays already.
    pub retrofit: Retrofit,
    /// Where the rules that differ from the job's come from.
    pub sources: Vec<Assumption>,
    /// Surfaces that it frames; one pattern must fit.
    pub matches: Vec<Pattern>,
}

/// Framing given by `--frame`, with or without a pattern.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameRule {
    /// As it was written.
    pub text: String,
    /// Pattern on type or name; `None` frames what may be framed at all.
    pub pattern: Option<Glob>,
    /// The framing.
    pub framing: Framing,
    /// The assembly, where it was given by name.
    pub assembly: Option<Assembly>,
}

impl Default for Job {
    fn default() -> Self {
        let (layout, fills) = (LayoutChoice::default(), vec![defaults::default_fill()]);
        let built_in = built_in(&fills, &layout);
        Self {
            project: None,
            papers: PaperFacts::default(),
            layout,
            fills,
            filling: FillingChoice::default(),
            order: OrderChoice::default(),
            crew: CrewChoice::default(),
            tolerances: Tolerances::default(),
            assemblies: Vec::new(),
            built_in,
            frames: Vec::new(),
            exposure: ExposureAsked::default(),
            exposure_source: defaults::PRACTICE.to_owned(),
            exposure_rules: Vec::new(),
            layer_rules: Vec::new(),
            surface_rules: Vec::new(),
            survey: None,
            heat: HeatChoice::default(),
            layer_heat: Vec::new(),
            rigs: Vec::new(),
            site: Site::default(),
            keep_going: false,
            path: String::new(),
            sources: Vec::new(),
            set_keys: Vec::new(),
        }
    }
}

impl Job {
    /// What lies on the other side of a surface, and the index of the rule that says so where one does.
    pub fn exposure_of(&self, surface: &Surface) -> (Exposure, Option<usize>) {
        let rule = self.exposure_rules.iter().position(|rule| rule.fits(surface));
        let said = rule.and_then(|index| self.exposure_rules.get(index));
        (said.map_or(surface.exposure, |rule| rule.exposure), rule)
    }

    /// Sets the bag from an option: of the only fill, where it wins over the job file, or of those of several that have none.
    ///
    /// # Errors
    /// Another bag than the one that a fill's coverage table is of, and several fills that all have one.
    pub fn set_bag(&mut self, bag: &Quantity) -> Result<(), Box<Refusal>> {
        let has_several = self.fills.len() > 1;
        if has_several && self.fills.iter().all(|fill| fill.bag_kg.is_some()) {
            let message = "the job file has several fills, each with a bag of its own: one bag does not serve them all";
            let help = "name the fill: `--set fill.cellulose.bag=\"25 lb\"`";
            return Err(Box::new(Refusal::new(Place::input("--bag"), message, help)));
        }
        for fill in self.fills.iter_mut().filter(|fill| !has_several || fill.bag_kg.is_none()) {
            let is_other = |bag_kg: f64| (bag.si / bag_kg - 1.0).abs() > SAME_BAG;
            if let Some(of_label) = fill.bag_kg.filter(|bag_kg| !fill.coverage.is_empty() && is_other(*bag_kg)) {
                let message = format!(
                    "the coverage table of `{}` is of bags of {:.2} kg, and `{} {}` is another",
                    fill.rules.name, of_label, bag.number, bag.unit
                );
                let help = "leave `--bag` out, or give the table of the other bag's label";
                return Err(Box::new(Refusal::new(Place::input("--bag"), message, help)));
            }
            fill.bag_kg = Some(bag.si);
            let key = format!("fill.{}.bag", fill.rules.name);
            fill.order_sources.retain(|assumption| assumption.key != key);
            fill.order_sources.push(Assumption {
                key,
                value: bag.number.clone(),
                unit: bag.unit.clone(),
                source: "--bag".to_owned(),
            });
        }
        Ok(())
    }

    /// What is refused of fills that must have a bag and have none, once the options are known.
    pub fn missing_bags(&self) -> Vec<Refusal> {
        let without = self.fills.iter().filter(|fill| fill.bag_kg.is_none());
        without.filter_map(|fill| fill.bag_refusal.as_deref().cloned()).collect()
    }
}

/// How far two masses of one bag may differ, as a ratio: what labels round.
const SAME_BAG: f64 = 0.005;

/// Reads the mass of a bag, `25 lb` or `11.3 kg`.
///
/// # Errors
/// What is wrong with it, where it is no mass or not one that a bag has.
pub fn parse_bag(text: &str) -> Result<Quantity, String> {
    let bag = parse_mass(text)?;
    if !(0.5..=1000.0).contains(&bag.si) {
        return Err(format!(
            "`{}` is not what a bag weighs: expected the net mass on its label, such as `25 lb`",
            text.trim()
        ));
    }
    Ok(bag)
}

/// Reads the text of `--frame` where there is no job file: framing or the name of a built-in assembly,
/// with or without `PATTERN:` in front.
///
/// # Errors
/// Framing that cannot be read.
pub fn parse_frame(text: &str) -> Result<FrameRule, Box<Refusal>> {
    Job::default().parse_frame(text)
}

impl Job {
    /// Reads the text of `--frame`: framing or the name of an assembly, with or without `PATTERN:` in front.
    ///
    /// # Errors
    /// Framing that cannot be read, and a name that is not known.
    pub fn parse_frame(&self, text: &str) -> Result<FrameRule, Box<Refusal>> {
        // The last colon parts them, since names of types may hold colons of their own.
        let (pattern, framing) = match text.rsplit_once(':') {
            Some((pattern, framing)) => (Some(Glob::new(pattern)), framing),
            None => (None, text),
        };
        let rule = |framing, assembly| FrameRule { text: text.trim().to_owned(), pattern, framing, assembly };
        if let Some((_, assembly)) = named(framing, self) {
            return Ok(rule(assembly.framing.clone(), Some(assembly.clone())));
        }
        match parse_framing(framing) {
            Ok(framing) => Ok(rule(framing, None)),
            Err(error) => {
                let is_name = !framing.contains('@') && framing.contains(char::is_alphabetic);
                let help = if is_name { known_names(framing.trim(), self) } else { error.help };
                Err(Box::new(Refusal::new(Place::input("--frame"), error.message, help)))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_colon_parts_pattern_and_framing() {
        let rule = parse_frame("Basic Wall:Interior*: 2x4 @ 16 in").unwrap();
        assert_eq!(rule.pattern.unwrap().text(), "Basic Wall:Interior*");
        assert!((rule.framing.depth_m - 0.0889).abs() < 1e-12);
        assert!(parse_frame("2x4 @ 16 in").unwrap().pattern.is_none());
        assert!(parse_frame("Partition*: studs").is_err());
        let named = parse_frame("Partition*: Steel-stud wall").unwrap();
        assert_eq!((named.framing.text.as_str(), named.assembly.is_some()), ("362S162-33 punched @ 16 in", true));
        assert!(parse_frame("steel stud wall").unwrap_err().help.contains("did you mean `steel-stud wall`?"));
    }

    #[test]
    fn a_bag_has_the_mass_of_a_bag() {
        assert!(parse_bag("25 lb").is_ok());
        assert!(parse_bag("25").is_err());
        assert!(parse_bag("25000 lb").is_err());
    }
}
