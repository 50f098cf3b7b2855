//! Papers to print, fill in and sign: self-contained pages, one file each, without script or anything from elsewhere.

mod certificate;
mod opinion;
mod receipt;
mod record;
mod shell;

pub use opinion::opinion;

use super::text::printable;
use crate::closeout::Closeout;
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
    /// What they were made from.
    pub files: Vec<FileRead>,
}

impl Papers {
    fn new(what: &str, project: Option<&str>, files: Vec<FileRead>, bodies: Vec<Markup>) -> Self {
        let title = project.map_or_else(|| what.to_owned(), |project| format!("{what}: {project}"));
        // Control characters that were read would be no markup.
        let bodies = bodies.into_iter().map(|body| PreEscaped(printable(&body.into_string()))).collect();
        Self { title: printable(&title), bodies, files }
    }

    /// One page, to open and print.
    pub fn html(&self) -> String {
        shell::pages(&self.title, &self.bodies)
    }
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
        closeout.project.as_deref(),
        read_files(&closeout.inputs, &closeout.job_files),
        bodies,
    )
}
