//! The project's own order: which module may use which, how long files and functions grow, which words stay out.

mod source_text;

use crate::support::project_file;
use source_text::{SourceFile, functions, project_files, used_modules};
use std::path::Path;

/// Modules in the order in which data flows; each may use those before it.
const ORDER: [&str; 25] = [
    "units", "source", "finding", "refusal", "tally", "geometry", "model", "cells", "digest", "intake", "framing",
    "bays", "fill", "heat", "order", "job", "takeoff", "crew", "explain", "audit", "closeout", "rig", "start",
    "report", "cli",
];
const SOURCE_LINES: usize = 400;
const TEST_LINES: usize = 600;
const FUNCTION_LINES: usize = 60;

/// Ends of the names of public numbers: a unit, or a word for a number without one.
const UNIT_ENDS: [&str; 29] = [
    "_m",
    "_m2",
    "_m3",
    "_mm",
    "_kg",
    "_kg_m3",
    "_deg",
    "_rad",
    "_pa",
    "_k",
    "_w",
    "_m2k_w",
    "_ft2",
    // A number whose unit stands beside it.
    "si",
    "_w_m2k",
    "_w_mk",
    "_s",
    "_h",
    "_min",
    "_a",
    "_v",
    "fraction",
    "allowance",
    "exact",
    "bags_difference",
    "ratio",
    "share",
    "factor",
    "number",
];

#[test]
fn modules_use_only_what_stands_before_them() {
    let mut wrong = Vec::new();
    for file in rust_files("src") {
        let Some(module) = file.module() else { continue };
        let Some(own) = rank(&module) else {
            wrong.push(format!("{}: the module `{module}` has no place in the order", file.path));
            continue;
        };
        for used in used_modules(&file.code_without_tests()) {
            if rank(&used).is_none_or(|other| other > own) {
                wrong.push(format!("{}: `{module}` may not use `{used}`", file.path));
            }
        }
    }
    assert_none(&wrong);
}

#[test]
fn files_stay_short() {
    let long = |directory: &str, limit: usize| {
        let files = rust_files(directory).into_iter();
        files.map(|file| (file.text.lines().count(), file.path)).filter(move |(lines, _)| *lines > limit)
    };
    let wrong: Vec<_> = long("src", SOURCE_LINES)
        .chain(long("tests", TEST_LINES))
        .map(|(lines, path)| format!("{path} has {lines} lines"))
        .collect();
    assert_none(&wrong);
}

#[test]
fn functions_stay_short() {
    let mut wrong = Vec::new();
    for file in rust_files("src").into_iter().chain(rust_files("tests")) {
        for (name, line, lines) in functions(&file.code()) {
            if lines > FUNCTION_LINES {
                wrong.push(format!("{}:{line}: `{name}` has {lines} lines", file.path));
            }
        }
    }
    assert_none(&wrong);
}

#[test]
fn public_numbers_name_their_unit() {
    let mut wrong = Vec::new();
    // Bare metres in the one, numbers that carry their unit beside them in the other.
    let exempt = |file: &SourceFile| matches!(file.module().as_deref(), Some("geometry" | "units"));
    for file in rust_files("src").into_iter().filter(|file| !exempt(file)) {
        for (number, line) in file.code_without_tests().lines().enumerate() {
            let Some((name, kind)) = line.trim().strip_prefix("pub ").and_then(|field| field.split_once(": ")) else {
                continue;
            };
            let is_number = ["f64", "Option<f64>", "Vec<f64>"].contains(&kind.trim_end_matches(','));
            if is_number && !UNIT_ENDS.iter().any(|end| name.ends_with(end)) {
                wrong.push(format!("{}:{}: `{name}` names no unit", file.path, number + 1));
            }
        }
    }
    assert_none(&wrong);
}

#[test]
fn the_project_speaks_of_itself_alone() {
    let root = project_file("");
    let mut wrong = Vec::new();
    for path in project_files(&root) {
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let shown = path.strip_prefix(&root).unwrap_or(&path).display().to_string();
        for (number, line) in std::iter::once(shown.as_str()).chain(text.lines()).enumerate() {
            let line = line.to_lowercase();
            for word in stray_words() {
                if line.contains(&word) {
                    wrong.push(format!("{shown}:{number}: `{word}`"));
                }
            }
        }
    }
    assert_none(&wrong);
}

/// Words that have no place in the project, put together here so that this file does not hold them.
fn stray_words() -> Vec<String> {
    [
        ["ses", "sion"],
        ["work", "tree"],
        ["seed doc", "ument"],
        ["trans", "cript"],
        ["/wo", "rk/"],
        ["/tm", "p/"],
        ["crates", ".io"],
        ["py", "pi"],
        ["docs", ".rs"],
        ["npm", "js"],
        ["cla", "ude"],
        ["anth", "ropic"],
        ["open", "ai"],
        ["chat", "gpt"],
        ["co", "pilot"],
        ["language ", "model"],
        ["work", "place"],
        ["to", "do:"],
        ["fix", "me"],
        ["as an ", "ai"],
        ["sub", "agent"],
    ]
    .iter()
    .map(|halves| halves.concat())
    .collect()
}

fn rank(module: &str) -> Option<usize> {
    ORDER.iter().position(|name| *name == module)
}

fn rust_files(directory: &str) -> Vec<SourceFile> {
    let root = project_file("");
    let is_rust = |path: &Path| path.extension().is_some_and(|ending| ending == "rs");
    let files: Vec<SourceFile> = project_files(&root.join(directory))
        .into_iter()
        .filter(|path| is_rust(path))
        .map(|path| SourceFile::read(&root, &path))
        .collect();
    assert!(!files.is_empty(), "`{directory}` holds no source");
    files
}

#[track_caller]
fn assert_none(wrong: &[String]) {
    assert!(wrong.is_empty(), "{} places are not in order:\n{}", wrong.len(), wrong.join("\n"));
}
