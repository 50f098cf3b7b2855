//! Files written all or none.

use crate::refusal::Refusal;
use crate::source::Place;
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// A file to be written: its path, and its bytes in pieces that stand one behind the other.
pub(super) type Written = (PathBuf, Vec<Vec<u8>>);

/// Writes all files: first each beside its place under another name, then all are moved to their places.
///
/// # Errors
/// The first file that cannot be written; then none of them is left.
pub(super) fn all(files: &[Written]) -> Result<(), Vec<Refusal>> {
    let mut drafts: Vec<(PathBuf, &Path)> = Vec::new();
    for (path, pieces) in files {
        match draft(path, pieces) {
            Ok(draft) => drafts.push((draft, path)),
            Err(error) => return Err(give_up(&drafts, &[], path, &error)),
        }
    }
    let mut placed: Vec<&Path> = Vec::new();
    for (draft, path) in &drafts {
        if let Err(error) = fs::rename(draft, path) {
            return Err(give_up(&drafts, &placed, path, &error));
        }
        placed.push(path);
    }
    Ok(())
}

/// A line for each file that was written.
pub(super) fn saved(files: &[Written]) -> String {
    let line = |(path, _): &Written| format!("saved {}\n", crate::report::printable(&path.to_string_lossy()));
    files.iter().map(line).collect()
}

/// Writes the pieces beside the place that they are meant for.
fn draft(path: &Path, pieces: &[Vec<u8>]) -> io::Result<PathBuf> {
    if path.is_dir() {
        return Err(io::Error::other("a folder of this name is in the way"));
    }
    let name = path.file_name().ok_or_else(|| io::Error::other("this names no file"))?;
    let draft = path.with_file_name(format!(".{}.{}.part", name.to_string_lossy(), std::process::id()));
    let mut file = OpenOptions::new().write(true).create_new(true).open(&draft)?;
    if let Err(error) = pieces.iter().try_for_each(|piece| file.write_all(piece)).and_then(|()| file.sync_all()) {
        // The draft is of no use; that it may not go away either does not change the outcome.
        let _ = fs::remove_file(&draft);
        return Err(error);
    }
    Ok(draft)
}

fn give_up(drafts: &[(PathBuf, &Path)], placed: &[&Path], path: &Path, error: &io::Error) -> Vec<Refusal> {
    for (draft, _) in drafts {
        let _ = fs::remove_file(draft);
    }
    for place in placed {
        let _ = fs::remove_file(place);
    }
    let place = Place::input(&path.to_string_lossy());
    vec![Refusal::new(place, format!("the file cannot be written: {error}"), "no file was written")]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_file_that_cannot_be_written_leaves_none() {
        let folder = tempfile::tempdir().unwrap();
        let good = folder.path().join("a.json");
        let bad = folder.path().join("missing").join("b.json");
        assert!(all(&[(good.clone(), vec![b"1".to_vec()]), (bad, vec![b"2".to_vec()])]).is_err());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
        assert!(all(&[(good.clone(), vec![b"1".to_vec(), b"2".to_vec()])]).is_ok());
        assert_eq!(fs::read(good).unwrap(), b"12");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }
}
