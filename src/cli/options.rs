//! Arguments resolved: the job, and the files to save.

use super::args::{JobArgs, TakeoffArgs};
use crate::digest::sha256;
use crate::intake::read_survey;
use crate::job::{Job, Setting, parse_bag, read_job_with};
use crate::model::FileRead;
use crate::refusal::Refusal;
use crate::report::SaveFormat;
use crate::source::Place;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

/// Largest job file that is read, in bytes.
const LARGEST_JOB: u64 = 1 << 20;

/// A file to save, and its format.
pub(super) struct Save<F = SaveFormat> {
    /// Where.
    pub path: PathBuf,
    /// What.
    pub format: F,
}

/// Reads the job file and sets what the options say: of those that may have several values the ones given.
///
/// # Errors
/// All that is wrong with the job file and the options.
pub(super) fn job(args: &JobArgs, settings: &[Setting], bag: Option<&str>) -> Result<Job, Vec<Refusal>> {
    let mut job = match &args.job {
        Some(path) => read_job_file(path, settings)?,
        None => read_job_with("", "", settings)?,
    };
    let mut refusals = Vec::new();
    for text in &args.frame {
        match job.parse_frame(text) {
            Ok(frame) if frame.pattern.is_none() && job.frames.iter().any(|other| other.pattern.is_none()) => {
                let help = "a pattern before each tells them apart: `--frame \"NAME*: 2x6 @ 16 in\"`";
                refusals.push(Refusal::new(Place::input("--frame"), "given twice without a pattern", help));
            }
            Ok(frame) => job.frames.push(frame),
            Err(refusal) => refusals.push(*refusal),
        }
    }
    match bag.map(parse_bag) {
        Some(Ok(bag)) => refusals.extend(job.set_bag(&bag).err().map(|refusal| *refusal)),
        Some(Err(message)) => refusals.push(Refusal::new(Place::input("--bag"), message, "")),
        None => {}
    }
    refusals.extend(job.missing_bags());
    if let Some(exposure) = args.exposure {
        job.exposure = exposure.asked();
        "--exposure".clone_into(&mut job.exposure_source);
    }
    job.keep_going = args.keep_going;
    match args.survey.as_deref().map(read_survey) {
        Some(Ok(survey)) => job.set_survey(&survey),
        Some(Err(mut faults)) => refusals.append(&mut faults),
        None => {}
    }
    if refusals.is_empty() { Ok(job) } else { Err(refusals) }
}

fn read_job_file(path: &Path, settings: &[Setting]) -> Result<Job, Vec<Refusal>> {
    let name = path.to_string_lossy();
    let refuse = |message: String| vec![Refusal::new(Place::input(&name), message, "")];
    let mut bytes = Vec::new();
    File::open(path)
        .and_then(|file| file.take(LARGEST_JOB + 1).read_to_end(&mut bytes))
        .map_err(|error| refuse(format!("the job file cannot be read: {error}")))?;
    if bytes.len() as u64 > LARGEST_JOB {
        return Err(refuse("the job file holds more than 1 MiB".to_owned()));
    }
    let file = FileRead { path: name.to_string(), sha256: sha256(&bytes) };
    let text = String::from_utf8(bytes).map_err(|_| refuse("the job file is not UTF-8 text".to_owned()))?;
    let mut job = read_job_with(&name, text.strip_prefix('\u{feff}').unwrap_or(&text), settings)?;
    job.sources.insert(0, file);
    Ok(job)
}

/// The files to save. Nothing is read before these are known to be right.
///
/// # Errors
/// An ending that names no format, a file given twice, or one that is an input.
pub(super) fn saves(args: &TakeoffArgs) -> Result<Vec<Save>, Vec<Refusal>> {
    saves_as(args, &[], SaveFormat::of_path)
}

/// The same for what is saved as a record or as papers; `more` are inputs too.
///
/// # Errors
/// As [`saves`].
pub(super) fn papers(args: &TakeoffArgs, more: &[&PathBuf]) -> Result<Vec<Save<PaperFormat>>, Vec<Refusal>> {
    saves_as(args, more, PaperFormat::of_path)
}

fn saves_as<F>(
    args: &TakeoffArgs,
    more: &[&PathBuf],
    of_path: impl Fn(&Path) -> Result<F, Box<Refusal>>,
) -> Result<Vec<Save<F>>, Vec<Refusal>> {
    let mut saves: Vec<Save<F>> = Vec::new();
    let mut refusals = Vec::new();
    for path in &args.save {
        let refuse =
            |message: &str| Refusal::new(Place::input(&path.to_string_lossy()), message, "give it another name");
        let is_input = |input: &PathBuf| same_file(input, path);
        if args.inputs.iter().chain(&args.job.job).chain(&args.job.survey).chain(more.iter().copied()).any(is_input) {
            refusals.push(refuse("saving to this file would overwrite an input"));
        } else if saves.iter().any(|other| same_file(&other.path, path)) {
            refusals.push(refuse("this file is to be saved twice"));
        } else {
            match of_path(path) {
                Ok(format) => saves.push(Save { path: path.clone(), format }),
                Err(refusal) => refusals.push(*refusal),
            }
        }
    }
    if refusals.is_empty() { Ok(saves) } else { Err(refusals) }
}

/// The job where an option may have one value only.
///
/// # Errors
/// Those of the job, and several values.
pub(super) fn only_job(args: &TakeoffArgs) -> Result<Job, Vec<Refusal>> {
    let mut variants = super::variants::read(&args.job)?;
    match variants.all.pop() {
        Some(only) if variants.all.is_empty() => Ok(only.job),
        _ => {
            let message = "several values are given, and this command takes one job";
            Err(vec![Refusal::new(Place::input("--set"), message, "give one value to each `--set` and to `--bag`")])
        }
    }
}

/// A file that cannot be made.
pub(super) fn cannot_make(path: &Path, error: &std::io::Error) -> Refusal {
    Refusal::new(Place::input(&path.to_string_lossy()), format!("the file cannot be made: {error}"), "")
}

/// A format that an audit or a closeout is saved in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PaperFormat {
    /// `.json`: all of it.
    Json,
    /// `.html`: the papers.
    Html,
    /// `.pdf`: the same on paper.
    Pdf,
}

impl PaperFormat {
    fn of_path(path: &Path) -> Result<Self, Box<Refusal>> {
        let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            Some("json") => Ok(Self::Json),
            Some("html" | "htm") => Ok(Self::Html),
            Some("pdf") => Ok(Self::Pdf),
            _ => {
                let place = Place::input(&path.to_string_lossy());
                let message = "the ending of this file names no format that is saved";
                let help = "endings: `.json` (everything), `.html` or `.pdf` (papers to sign)";
                Err(Box::new(Refusal::new(place, message, help)))
            }
        }
    }
}

/// Whether two paths name one file, which need not be there yet.
fn same_file(a: &Path, b: &Path) -> bool {
    let place = |path: &Path| -> Option<PathBuf> {
        if let Ok(found) = path.canonicalize() {
            return Some(found);
        }
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
        Some(folder.canonicalize().ok()?.join(path.file_name()?))
    };
    a == b || place(a).is_some_and(|a| Some(a) == place(b))
}
