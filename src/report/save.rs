//! Which format a file is saved in, by its ending.

use super::bcf::findings_bcf;
use super::ifc::model_with_takeoff;
use super::json::json_pieces;
use super::xlsx::workbook;
use super::{bays_csv, crew_csv, render_html, surfaces_csv};
use crate::intake::ifc::ModelText;
use crate::refusal::Refusal;
use crate::source::Place;
use crate::takeoff::Takeoff;
use crate::units::UnitSystem;
use std::io;
use std::path::Path;

/// A format that a takeoff is saved in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SaveFormat {
    /// `.json`: all of the takeoff.
    Json,
    /// `.csv`: one row a surface.
    SurfacesCsv,
    /// `.bays.csv`: one row a bay.
    BaysCsv,
    /// `.xlsx`: a workbook with formulas.
    Xlsx,
    /// `.takeoff.ifc` or another `.ifc`: the model with the takeoff.
    Ifc,
    /// `.findings.bcf` or another `.bcf`: findings about elements of a model.
    Bcf,
    /// `.crew.csv`: one row a step of the crew.
    CrewCsv,
    /// `.html`: the report as a page.
    Html,
}

/// What is saved.
#[derive(Clone, Copy)]
pub struct Saved<'s> {
    /// The takeoff.
    pub takeoff: &'s Takeoff,
    /// Units of the files that people read; files for machines are SI.
    pub units: UnitSystem,
    /// The model that it was taken from, where it is to be written into it.
    pub model: Option<&'s ModelText>,
}

/// All endings, for whoever gave another one.
const ENDINGS: &str = "endings: `.json`, `.csv` (one row a surface), `.bays.csv` (one row a bay), `.crew.csv` (the \
                        crew sheet), `.html` (the report), `.xlsx` (workbook), \
                        `.takeoff.ifc` (the model with the takeoff), \
                        `.findings.bcf` (findings for programs that show models)";

impl SaveFormat {
    /// The format that a file's ending names; the last two endings, where they name one.
    ///
    /// # Errors
    /// Any other ending.
    pub fn of_path(path: &Path) -> Result<Self, Box<Refusal>> {
        let name = path.file_name().map(|name| name.to_string_lossy().to_lowercase()).unwrap_or_default();
        if name == "bays.csv" || name.ends_with(".bays.csv") {
            return Ok(Self::BaysCsv);
        }
        if name == "crew.csv" || name.ends_with(".crew.csv") {
            return Ok(Self::CrewCsv);
        }
        match name.rsplit_once('.').map(|(_, ending)| ending) {
            Some("json") => Ok(Self::Json),
            Some("csv") => Ok(Self::SurfacesCsv),
            Some("html") => Ok(Self::Html),
            Some("xlsx") => Ok(Self::Xlsx),
            Some("ifc") => Ok(Self::Ifc),
            Some("bcf") => Ok(Self::Bcf),
            _ => {
                let place = Place::input(&path.to_string_lossy());
                Err(Box::new(Refusal::new(place, "the ending of this file names no format that is saved", ENDINGS)))
            }
        }
    }
}

/// The takeoff in a format, in pieces that stand one behind the other. What people read is in the units that they asked for.
///
/// # Errors
/// More than the format holds.
pub fn render(saved: &Saved<'_>, format: SaveFormat) -> io::Result<Vec<Vec<u8>>> {
    let Saved { takeoff, units, model } = *saved;
    match format {
        SaveFormat::Json => json_pieces(takeoff),
        SaveFormat::SurfacesCsv => surfaces_csv(takeoff).map(|text| vec![text]),
        SaveFormat::CrewCsv => crew_csv(takeoff, units).map(|text| vec![text]),
        SaveFormat::Html => Ok(vec![render_html(takeoff, units).into_bytes()]),
        SaveFormat::BaysCsv => bays_csv(takeoff).map(|text| vec![text]),
        SaveFormat::Ifc => model
            .map(|model| model_with_takeoff(takeoff, model))
            .ok_or_else(|| io::Error::other("there is no model that the takeoff could be written into")),
        SaveFormat::Bcf => findings_bcf(takeoff).map(|bytes| vec![bytes]),
        SaveFormat::Xlsx => workbook(takeoff, units).map(|bytes| vec![bytes]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_endings_name_the_format() {
        let of = |name: &str| SaveFormat::of_path(Path::new(name)).ok();
        assert_eq!(of("out/x.json"), Some(SaveFormat::Json));
        assert_eq!(of("X.CSV"), Some(SaveFormat::SurfacesCsv));
        assert_eq!(of("bays.csv"), Some(SaveFormat::BaysCsv));
        assert_eq!(of("house.v2.bays.csv"), Some(SaveFormat::BaysCsv));
        assert_eq!(of("crew.csv"), Some(SaveFormat::CrewCsv));
        assert_eq!(of("House.Crew.CSV"), Some(SaveFormat::CrewCsv));
        assert_eq!(of("report.html"), Some(SaveFormat::Html));
        assert_eq!(of("mybays.csv"), Some(SaveFormat::SurfacesCsv));
        for other in ["x", "x.txt", "json", "x.json.bak", ".."] {
            assert_eq!(of(other), None, "{other}");
        }
    }
}
