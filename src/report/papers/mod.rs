//! Papers to print, fill in and sign: self-contained pages, one file each, without script or anything from elsewhere.

mod certificate;
mod opinion;
mod receipt;
mod record;
mod shell;

pub use opinion::opinion;

use super::text::{printable, shorten};
use crate::closeout::Closeout;
use crate::job::PaperFacts;
use crate::model::FileRead;
use crate::report::files::read_files;
use crate::units::UnitSystem;
use maud::{Markup, PreEscaped};

/// Papers that belong together.
pub struct Papers {
    /// What they are, and of which project.
    pub title: String,
    /// Markup of each.
    pub bodies: Vec<Markup>,
    /// What each of their pages says of itself: the place, who measured and when, how that was verified, and the version.
    pub running: String,
    /// What they were made from.
    pub files: Vec<FileRead>,
}

impl Papers {
    fn new(
        what: &str,
        (project, facts): (Option<&str>, &PaperFacts),
        files: Vec<FileRead>,
        bodies: Vec<Markup>,
    ) -> Self {
        let title = project.map_or_else(|| what.to_owned(), |project| format!("{what}: {project}"));
        // Control characters that were read would be no markup.
        let bodies = bodies.into_iter().map(|body| PreEscaped(printable(&body.into_string()))).collect();
        Self { title: printable(&title), bodies, running: printable(&running(facts)), files }
    }

    /// One page, to open and print.
    pub fn html(&self) -> String {
        shell::pages(&self.title, &self.bodies)
    }
}

/// Characters that each fact takes of a page's foot.
const FACT_SHOWN: usize = 64;

/// What stands at the foot of each page, besides the job and its files: what nobody gave is said to be missing.
fn running(facts: &PaperFacts) -> String {
    let given = |text: &Option<String>| text.as_deref().map(|text| shorten(text, FACT_SHOWN));
    let or_not = |text: &Option<String>| given(text).unwrap_or_else(|| "not given".to_owned());
    format!(
        "Address: {} \u{b7} measured by: {}, on: {} \u{b7} verified: {} \u{b7} cavitally {}",
        or_not(&facts.address),
        or_not(&facts.measured_by),
        or_not(&facts.measured_on),
        or_not(&facts.verified),
        env!("CARGO_PKG_VERSION")
    )
}

/// Receipt, certificate and record of a closeout.
pub fn closeout_papers(closeout: &Closeout, units: UnitSystem) -> Papers {
    let bodies = vec![
        receipt::receipt(closeout, units),
        certificate::certificate(closeout, units),
        record::record(closeout, units),
    ];
    Papers::new(
        "Papers of an insulation job",
        (closeout.project.as_deref(), &closeout.papers),
        read_files(&closeout.inputs, &closeout.job_files),
        bodies,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_page_says_where_and_by_whom_it_was_measured_or_that_nobody_says() {
        let facts = PaperFacts {
            address: Some("1 Sample Road".to_owned()),
            measured_by: Some("a rater".to_owned()),
            measured_on: Some("2026-05-04".to_owned()),
            ..PaperFacts::default()
        };
        let text = running(&facts);
        for words in ["1 Sample Road", "measured by: a rater, on: 2026-05-04", "verified: not given", "cavitally 0."] {
            assert!(text.contains(words), "{words}: {text}");
        }
    }
}
