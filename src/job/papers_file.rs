//! What papers say of people and places: `[papers]`, and what `[project]` and the fills add to it.
//!
//! Nothing here is computed with. What is not given stays a line to fill in by hand.

use super::file::JobFile;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What papers say of people and places, as it is to be printed.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct PapersFile {
    /// Who installs, and signs receipt and certificate.
    pub installer: Option<String>,
    /// The installer's licence number.
    pub installer_licence: Option<String>,
    /// Who rates, and signs the opinion.
    pub rater: Option<String>,
    /// The rater's licence number.
    pub rater_licence: Option<String>,
    /// Who measured.
    pub measured_by: Option<String>,
    /// When, such as `2026-05-10`.
    pub measured_on: Option<String>,
    /// How that was verified, such as `two diagonals of each wall by tape`.
    pub verified: Option<String>,
    /// Who made the plan that is audited, and when.
    pub plan_by: Option<String>,
    /// Editions of the rules that are in force at the place, such as `IECC 2021`.
    pub editions: Vec<String>,
}

/// Keys of `[papers]`.
pub(super) const PAPERS: &[&str] = &[
    "installer",
    "installer_licence",
    "rater",
    "rater_licence",
    "measured_by",
    "measured_on",
    "verified",
    "plan_by",
    "editions",
];

/// What the job file says for the papers; null is a line to fill in by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PaperFacts {
    /// Address of the building.
    pub address: Option<String>,
    /// Whom the work is for.
    pub client: Option<String>,
    /// Who installs.
    pub installer: Option<String>,
    /// The installer's licence number.
    pub installer_licence: Option<String>,
    /// Who rates.
    pub rater: Option<String>,
    /// The rater's licence number.
    pub rater_licence: Option<String>,
    /// Who measured.
    pub measured_by: Option<String>,
    /// When.
    pub measured_on: Option<String>,
    /// How that was verified.
    pub verified: Option<String>,
    /// Who made the plan that is audited, and when.
    pub plan_by: Option<String>,
    /// Editions of the rules that are in force at the place.
    pub editions: Vec<String>,
    /// Of the fills for which something is said, in the order of the file.
    pub fills: Vec<FillFacts>,
}

/// What the job file says of a fill for the papers.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct FillFacts {
    /// Name of the fill.
    pub fill: String,
    /// Who makes it.
    pub manufacturer: Option<String>,
    /// The machine that blows it, and its settings.
    pub machine: Option<String>,
}

impl PaperFacts {
    /// What is said of a fill.
    pub fn of_fill(&self, fill: &str) -> Option<&FillFacts> {
        self.fills.iter().find(|facts| facts.fill == fill)
    }
}

/// Gathers them.
pub(super) fn paper_facts(file: &JobFile) -> PaperFacts {
    // An empty text says nothing.
    let said = |text: &Option<String>| text.as_deref().map(str::trim).filter(|text| !text.is_empty()).map(Into::into);
    let papers = &file.papers;
    let mut fills: Vec<_> = file.fill.iter().collect();
    fills.sort_by_key(|(name, _)| name.span().start);
    let fills = fills.into_iter().map(|(name, fill)| FillFacts {
        fill: name.get_ref().clone(),
        manufacturer: said(&fill.manufacturer),
        machine: said(&fill.machine),
    });
    PaperFacts {
        address: said(&file.project.address),
        client: said(&file.project.client),
        installer: said(&papers.installer),
        installer_licence: said(&papers.installer_licence),
        rater: said(&papers.rater),
        rater_licence: said(&papers.rater_licence),
        measured_by: said(&papers.measured_by),
        measured_on: said(&papers.measured_on),
        verified: said(&papers.verified),
        plan_by: said(&papers.plan_by),
        editions: papers.editions.iter().map(|text| text.trim().to_owned()).filter(|text| !text.is_empty()).collect(),
        fills: fills.filter(|fill| fill.manufacturer.is_some() || fill.machine.is_some()).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_job;

    #[test]
    fn what_is_not_said_stays_open() {
        let text = "[project]\naddress = \"1 Sample Road\"\nclient = \"  \"\n[papers]\neditions = [\"IECC 2021\", \"\"]\n\
                    [fill.wool]\ndensity = \"40 kg/m3\"\nbag = \"30 lb\"\n[fill.cellulose]\nbag = \"25 lb\"\nmanufacturer = \"a maker\"\n";
        let facts = read_job("job.toml", text).unwrap().papers;
        assert_eq!((facts.address.as_deref(), facts.client.as_deref()), (Some("1 Sample Road"), None));
        assert_eq!(facts.editions, ["IECC 2021"]);
        assert_eq!(facts.fills.len(), 1);
        let maker = |fill: &str| facts.of_fill(fill).and_then(|fill| fill.manufacturer.clone());
        assert_eq!((maker("cellulose").as_deref(), maker("wool")), (Some("a maker"), None));
        let refusals = read_job("job.toml", "[papers]\ninstaler = \"x\"\n").unwrap_err();
        assert!(refusals[0].message.contains("`[papers]` has no key `instaler`"), "{}", refusals[0].message);
        assert!(read_job("job.toml", "[papers]\nrater = 5\n").is_err());
    }
}
