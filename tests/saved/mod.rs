//! Saved files, read back by other libraries than those that wrote them.

mod bcf;
mod csv;
mod ifc;
mod xlsx;

use crate::commands::support::Run;
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Saves a takeoff in some formats beside its JSON; the JSON, and where the others are.
pub(super) fn save(folder: &Path, arguments: &[&str], names: &[&str]) -> (Value, Vec<PathBuf>) {
    let json = folder.join("takeoff.json");
    let paths: Vec<PathBuf> = names.iter().map(|name| folder.join(name)).collect();
    let saves = paths.iter().flat_map(|path| [PathBuf::from("--save"), path.clone()]);
    Run::new("takeoff").args(arguments).arg("--save").arg(&json).args(saves).status(0);
    (serde_json::from_slice(&std::fs::read(&json).unwrap()).unwrap(), paths)
}

/// The sample house's model with its job.
pub(super) const HOUSE: [&str; 3] = ["samples/house.ifc", "--job", "samples/house.toml"];
