//! Files to the reader that knows their format.

use super::claims::{Plan, read_claims_sheet};
use super::csv::SheetFile;
use super::finish::{FinishSheet, read_finish_sheet};
use super::load::{Loaded, load};
use super::log::{Log, read_log_sheet};
use super::survey::{Survey, read_survey_sheet};
use super::{Progress, csv, hpxml, ifc};
use crate::finding::{Code, Finding};
use crate::model::{Building, LayerRule, Subject};
use crate::refusal::Refusal;
use crate::source::Place;
use std::fs::File;
use std::path::{Path, PathBuf};

/// Largest file that is read, in bytes.
const LARGEST: u64 = 2 << 30;
/// The same for what is no regular file, and so may never end.
const LARGEST_STREAM: u64 = 256 << 20;

/// Largest plan or log that is read, in bytes.
const LARGEST_BY_HAND: usize = 32 << 20;

/// How inputs are read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct IntakeOptions {
    /// Leave out rows that cannot be used, as findings, instead of refusing the sheet.
    pub keep_going: bool,
    /// What layers are, in place of what their names say; the first that fits counts.
    pub layer_rules: Vec<LayerRule>,
}

/// What the first bytes of a file say that it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Model,
    Sheet,
    Home,
}

/// Reads all inputs into one building; sheets are read together, since they may refer to each other.
///
/// # Errors
/// Every file that cannot be read, and all that its reader refuses.
pub fn read(paths: &[PathBuf], options: &IntakeOptions, progress: &Progress) -> Result<Building, Vec<Refusal>> {
    let mut building = Building::default();
    let mut sheets = Vec::new();
    let mut refusals = Vec::new();
    for (index, path) in paths.iter().enumerate() {
        let name = path.to_string_lossy().into_owned();
        if paths.iter().take(index).any(|other| is_same_file(other, path)) {
            refusals.push(Refusal::new(Place::input(&name), "this file is given twice", "give each input once"));
            continue;
        }
        match read_bytes(path) {
            Err(refusal) => refusals.push(*refusal),
            Ok(loaded) if kind_of(path, &loaded.bytes) == Kind::Model => {
                match ifc::read_loaded(&name, &loaded.bytes, loaded.sha256, &options.layer_rules, progress) {
                    Ok(model) => building.append(model),
                    Err(refusal) => refusals.push(refusal),
                }
                // To give back hundreds of megabytes takes a while, for which nothing need wait.
                rayon::spawn(move || drop(loaded.bytes));
            }
            Ok(loaded) if kind_of(path, &loaded.bytes) == Kind::Home => match read_home(&name, &loaded.bytes) {
                Ok(home) => building.append(home),
                Err(more) => refusals.extend(more),
            },
            Ok(loaded) => sheets.push(SheetFile { path: name, bytes: loaded.bytes }),
        }
    }
    if !sheets.is_empty() {
        match csv::read(&sheets, options.keep_going) {
            Ok(measured) => building.append(measured),
            Err(more) => refusals.extend(more),
        }
    }
    let unused = unused(&options.layer_rules, &building);
    building.findings.extend(unused);
    if refusals.is_empty() { Ok(building) } else { Err(refusals) }
}

/// Reads a plan: a sheet of claims, or HPXML.
///
/// # Errors
/// A file that cannot be read or holds more than any plan does, and all that its reader refuses.
pub fn read_plan(path: &Path) -> Result<Plan, Vec<Refusal>> {
    let name = path.to_string_lossy();
    let loaded = read_small(path)?;
    if hpxml::is_xml(&loaded.bytes) {
        return hpxml::read_hpxml_plan(&name, &loaded.bytes);
    }
    read_claims_sheet(&name, &loaded.bytes)
}

/// Reads a log of what was blown.
///
/// # Errors
/// A file that cannot be read or holds more than any log does, and all that its reader refuses.
pub fn read_log(path: &Path) -> Result<Log, Vec<Refusal>> {
    let name = path.to_string_lossy();
    read_log_sheet(&name, &read_small(path)?.bytes)
}

/// Reads a survey of surfaces.
///
/// # Errors
/// A file that cannot be read or holds more than any survey does, and all that its reader refuses.
pub fn read_survey(path: &Path) -> Result<Survey, Vec<Refusal>> {
    read_survey_sheet(&path.to_string_lossy(), &read_small(path)?.bytes)
}

/// Reads finished checks.
///
/// # Errors
/// A file that cannot be read or holds more than any such sheet does, and all that its reader refuses.
pub fn read_finish(path: &Path) -> Result<FinishSheet, Vec<Refusal>> {
    read_finish_sheet(&path.to_string_lossy(), &read_small(path)?.bytes)
}

/// A building of an HPXML file.
fn read_home(name: &str, bytes: &[u8]) -> Result<Building, Vec<Refusal>> {
    check_size(name, bytes)?;
    hpxml::read_hpxml_building(name, bytes)
}

fn check_size(name: &str, bytes: &[u8]) -> Result<(), Vec<Refusal>> {
    if bytes.len() <= LARGEST_BY_HAND {
        return Ok(());
    }
    let message = format!("the file holds more than {} MiB", LARGEST_BY_HAND >> 20);
    Err(vec![Refusal::new(Place::input(name), message, "")])
}

/// A file of what people write by hand.
fn read_small(path: &Path) -> Result<Loaded, Vec<Refusal>> {
    let loaded = read_bytes(path).map_err(|refusal| vec![*refusal])?;
    check_size(&path.to_string_lossy(), &loaded.bytes)?;
    Ok(loaded)
}

/// Rules that no layer fits.
fn unused(rules: &[LayerRule], building: &Building) -> Vec<Finding> {
    let is_used = |rule: &&LayerRule| {
        building.surfaces.iter().any(|surface| {
            let subject = Subject::of(surface, surface.exposure);
            surface.layers.iter().any(|layer| rule.fits(&subject, layer))
        })
    };
    let unused = rules.iter().filter(|rule| !is_used(rule));
    unused.map(|rule| Finding::note(Code::RuleUnused, &rule.place, "this `[[layer]]` fits no layer")).collect()
}

fn is_same_file(a: &Path, b: &Path) -> bool {
    a == b || matches!((a.canonicalize(), b.canonicalize()), (Ok(a), Ok(b)) if a == b)
}

/// What a file is, from its content; a file that says nothing of itself is what its ending says.
fn kind_of(path: &Path, bytes: &[u8]) -> Kind {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_ascii_lowercase());
    let is_named_model = ending.is_some_and(|ending| ending.starts_with("ifc"));
    if hpxml::is_hpxml(bytes) && !is_named_model {
        Kind::Home
    } else if ifc::is_model(bytes) || is_named_model {
        Kind::Model
    } else {
        Kind::Sheet
    }
}

fn read_bytes(path: &Path) -> Result<Loaded, Box<Refusal>> {
    let place = Place::input(&path.to_string_lossy());
    let refuse = |message: String, help: &str| Box::new(Refusal::new(place.clone(), message, help));
    let unreadable = |error: std::io::Error| refuse(format!("the file cannot be read: {}", plain(&error)), "");
    let about = std::fs::metadata(path).map_err(unreadable)?;
    if about.is_dir() {
        return Err(refuse("this is a folder".to_owned(), "give the files in it"));
    }
    let (limit, size) = if about.is_file() { (LARGEST, about.len()) } else { (LARGEST_STREAM, 0) };
    let loaded = load(File::open(path).map_err(unreadable)?, size, limit).map_err(unreadable)?;
    if loaded.bytes.len() as u64 > limit {
        return Err(refuse(
            format!("the file holds more than {} MiB", limit >> 20),
            "split the model by storey or building",
        ));
    }
    Ok(loaded)
}

/// The system's own words for an error, without its number.
fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn content_tells_models_from_sheets() {
        let kind = |name: &str, bytes: &[u8]| kind_of(Path::new(name), bytes);
        assert_eq!(kind("a.csv", b"\xef\xbb\xbf\nISO-10303-21;"), Kind::Model);
        assert_eq!(kind("a", b"PK\x03\x04rest"), Kind::Model);
        assert_eq!(kind("a.txt", b"id,kind\n"), Kind::Sheet);
        assert_eq!(kind("a.csv", b""), Kind::Sheet);
        assert_eq!(kind("a.txt", b"\xef\xbb\xbf <?xml version=\"1.0\"?><HPXML/>"), Kind::Home);
        assert_eq!(kind("a.xml", b"<?xml version=\"1.0\"?><ifcXML/>"), Kind::Model);
        assert_eq!(kind("a.ifc", b""), Kind::Model);
    }

    #[test]
    fn a_missing_file_and_a_folder_are_refused() {
        let folder = std::env::temp_dir();
        let paths = [folder.join("no such sheet.csv"), folder];
        let refusals = read(&paths, &IntakeOptions::default(), &Progress::default()).unwrap_err();
        assert!(refusals[0].message.starts_with("the file cannot be read: no such file"));
        assert_eq!(refusals[1].message, "this is a folder");
    }
}
