//! `cavitally start`

use super::args::StartArgs;
use super::{DONE, Done, terminal, write};
use crate::refusal::Refusal;
use crate::source::Place;
use std::path::PathBuf;

/// The files that are written: an invented house, to be replaced by one's own.
const FILES: [(&str, &str); 5] = [
    ("job.toml", include_str!("../../samples/start/job.toml")),
    ("surfaces.csv", include_str!("../../samples/start/surfaces.csv")),
    ("openings.csv", include_str!("../../samples/start/openings.csv")),
    ("survey.csv", include_str!("../../samples/start/survey.csv")),
    ("finish.csv", include_str!("../../samples/start/finish.csv")),
];

/// Runs the command; no file that is there already is touched.
pub(super) fn run(args: &StartArgs) -> Done {
    let files: Vec<write::Written> =
        FILES.iter().map(|(name, text)| (args.folder.join(name), vec![text.as_bytes().to_vec()])).collect();
    let refuse = |path: &PathBuf, message: String, help: &str| {
        Refusal::new(Place::input(&path.to_string_lossy()), message, help)
    };
    let in_the_way: Vec<Refusal> = files
        .iter()
        .filter(|(path, _)| path.symlink_metadata().is_ok())
        .map(|(path, _)| {
            refuse(path, "this file is there already and is not overwritten".to_owned(), "name another folder")
        })
        .collect();
    if !in_the_way.is_empty() {
        return Err(in_the_way);
    }
    std::fs::create_dir_all(&args.folder)
        .map_err(|error| vec![refuse(&args.folder, format!("the folder cannot be made: {error}"), "")])?;
    write::all(&files)?;
    let mut text = String::new();
    for (path, _) in &files {
        text.push_str(&format!("wrote {}\n", path.display()));
    }
    let named = |name: &str| quoted(&args.folder.join(name).display().to_string());
    text.push_str(&format!(
        "\nFill them in, then:\n  cavitally takeoff {} {} --job {} --survey {}\n\
         After the work, `cavitally closeout` takes finish.csv with a log of what was blown.\n",
        named("surfaces.csv"),
        named("openings.csv"),
        named("job.toml"),
        named("survey.csv")
    ));
    terminal::print(text.as_bytes()).map_err(|refusal| vec![*refusal])?;
    Ok(DONE)
}

/// A path as a shell takes it.
fn quoted(path: &str) -> String {
    let is_plain = path.chars().all(|c| c.is_alphanumeric() || matches!(c, '/' | '.' | '-' | '_' | '\\' | ':'));
    if is_plain { path.to_owned() } else { format!("'{}'", path.replace('\'', r"'\''")) }
}
