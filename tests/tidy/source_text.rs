//! Source files as text, roughly understood: comments and strings blanked, functions and used modules found.

use std::path::{Path, PathBuf};

/// A source file.
pub struct SourceFile {
    /// Path within the project.
    pub path: String,
    /// Its text.
    pub text: String,
}

impl SourceFile {
    pub fn read(root: &Path, path: &Path) -> Self {
        let shown = path.strip_prefix(root).unwrap_or(path).to_string_lossy().replace('\\', "/");
        Self { path: shown, text: std::fs::read_to_string(path).expect("source is text") }
    }

    /// The module below the crate that a file of `src` belongs to; `None` for the crate's own two files.
    pub fn module(&self) -> Option<String> {
        let below = self.path.strip_prefix("src/")?;
        let first = below.split('/').next()?.trim_end_matches(".rs");
        (!matches!(first, "lib" | "main")).then(|| first.to_owned())
    }

    /// The text with comments, strings and characters blanked; lines stay where they are.
    pub fn code(&self) -> String {
        blanked(&self.text)
    }

    /// The same up to the unit tests.
    pub fn code_without_tests(&self) -> String {
        let code = self.code();
        let end = code.find("#[cfg(test)]\nmod tests {").unwrap_or(code.len());
        code[..end].to_owned()
    }
}

/// Files that belong to the project, sorted: no build output, no version control, no lock file.
pub fn project_files(directory: &Path) -> Vec<PathBuf> {
    const NOT_OURS: [&str; 6] = [".git", "target", "Cargo.lock", "__pycache__", "artifacts", "proptest-regressions"];
    let mut entries: Vec<_> = std::fs::read_dir(directory)
        .unwrap_or_else(|error| panic!("`{}` can't be read: {error}", directory.display()))
        .map(|entry| entry.expect("an entry can be read").path())
        .filter(|path| path.file_name().is_some_and(|name| !NOT_OURS.iter().any(|other| name == *other)))
        .collect();
    entries.sort();
    entries.into_iter().flat_map(|path| if path.is_dir() { project_files(&path) } else { vec![path] }).collect()
}

/// Top modules named behind `crate::`, in code.
pub fn used_modules(code: &str) -> Vec<String> {
    let mut used = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            None => used.push(identifier(rest)),
            Some(list) => used.extend(first_names(list)),
        }
    }
    used.retain(|name| !name.is_empty());
    used
}

/// First names of the entries of a braced list that has just been opened.
fn first_names(list: &str) -> Vec<String> {
    let (mut names, mut depth, mut entry) = (Vec::new(), 0_usize, String::new());
    for character in list.chars() {
        match character {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(std::mem::take(&mut entry)),
            _ if depth == 0 => entry.push(character),
            _ => {}
        }
    }
    names.push(entry);
    names.iter().map(|name| identifier(name.trim())).collect()
}

fn identifier(text: &str) -> String {
    text.chars().take_while(|character| character.is_alphanumeric() || *character == '_').collect()
}

/// Name, first line and number of lines of each function that has a body.
pub fn functions(code: &str) -> Vec<(String, usize, usize)> {
    let mut found = Vec::new();
    for (at, _) in code.match_indices("fn ") {
        let name = identifier(&code[at + 3..]);
        let starts_word =
            code[..at].chars().next_back().is_none_or(|before| !before.is_alphanumeric() && before != '_');
        if name.is_empty() || !starts_word {
            continue;
        }
        if let Some(body) = body(&code[at..]) {
            let line = code[..at].matches('\n').count() + 1;
            found.push((name, line, body.matches('\n').count() + 1));
        }
    }
    found
}

/// A function from its keyword to its closing brace; `None` for one without a body.
fn body(code: &str) -> Option<&str> {
    let (mut depth, mut brackets) = (0_usize, 0_i32);
    for (at, character) in code.char_indices() {
        match character {
            '(' | '[' => brackets += 1,
            ')' | ']' => brackets -= 1,
            ';' if depth == 0 && brackets == 0 => return None,
            '{' => depth += 1,
            '}' => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return Some(&code[..=at]);
                }
            }
            _ => {}
        }
    }
    None
}

fn blanked(text: &str) -> String {
    let mut code = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let taken = match hidden_length(rest, code.chars().next_back()) {
            0 => {
                code.push(first);
                first.len_utf8()
            }
            hidden => {
                code.extend(rest[..hidden].chars().map(|character| if character == '\n' { '\n' } else { ' ' }));
                hidden
            }
        };
        rest = &rest[taken..];
    }
    code
}

/// Bytes of the comment, string or character that the text begins with; 0 where it begins with code.
fn hidden_length(text: &str, before: Option<char>) -> usize {
    let upto = |end: &str, from: usize| text[from..].find(end).map_or(text.len(), |at| from + at + end.len());
    if text.starts_with("//") {
        return text.find('\n').unwrap_or(text.len());
    }
    if text.starts_with("/*") {
        return upto("*/", 2);
    }
    if text.starts_with('"') {
        return quoted_length(text, '"');
    }
    let raw = text.strip_prefix('r').map(|rest| rest.len() - rest.trim_start_matches('#').len());
    if let Some(hashes) = raw
        && text[1 + hashes..].starts_with('"')
        && before.is_none_or(|character| !character.is_alphanumeric() && character != '_' || character == 'b')
    {
        return upto(&format!("\"{}", "#".repeat(hashes)), 2 + hashes);
    }
    if text.starts_with("'\\") || (text.starts_with('\'') && text.chars().nth(2) == Some('\'')) {
        return quoted_length(text, '\'');
    }
    0
}

/// Bytes up to the closing quote, escapes minded.
fn quoted_length(text: &str, quote: char) -> usize {
    let mut escaped = false;
    for (at, character) in text.char_indices().skip(1) {
        match character {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            _ if character == quote => return at + 1,
            _ => {}
        }
    }
    text.len()
}

#[test]
fn comments_strings_and_characters_hold_no_code() {
    let code = blanked("a(\"{ \\\" }\"); // {\nb('{', '\\'', r#\"}\"#); /* { */ c<'x>();");
    assert!(!code.contains(['{', '}']), "{code}");
    assert!(code.contains("c<'x>()"), "{code}");
    assert_eq!(code.matches('\n').count(), 1);
}

#[test]
fn functions_are_measured_from_keyword_to_brace() {
    let found = functions("fn one() {\n    if x {\n    }\n}\ntrait T {\n    fn none(&self, a: [u8; 2]);\n}\n");
    assert_eq!(found, vec![("one".to_owned(), 1, 4)]);
}

#[test]
fn used_modules_are_found_in_lists_too() {
    let used = used_modules("use crate::units::INCH_M;\nuse crate::{model::{A, B}, bays::cut};");
    assert_eq!(used, ["units", "model", "bays"]);
}
