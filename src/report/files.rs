//! The files that a page was computed from.

use crate::model::{FileRead, Input};

/// The inputs, then the job file and what it names, each with its checksum.
pub(super) fn read_files(inputs: &[Input], job_files: &[FileRead]) -> Vec<FileRead> {
    let of_input = |input: &Input| FileRead { path: input.path.clone(), sha256: input.sha256.clone() };
    inputs.iter().map(of_input).chain(job_files.iter().cloned()).collect()
}
