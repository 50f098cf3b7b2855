//! HPXML, the open data standard for homes (BPI-2100, BPI-2200): as a plan's claims, and as a building where there are no drawings.
//!
//! Versions 3 to 5. Document types and entities are refused: nothing outside the file is read, and nothing in it grows.
//! Invariant: knows the standard's elements; judges none of its figures.

mod building;
mod claims;
mod document;
mod element;
mod part;
mod reader;
mod scan;
mod side;
#[cfg(test)]
mod tests;
mod told;
mod unused;

use super::claims::Plan;
use crate::digest::sha256;
use crate::model::{Building, Input, InputKind};
use crate::refusal::Refusal;
use document::Document;
use reader::read_parts;

/// Where the root stands, in bytes.
const HEAD: usize = 64 << 10;

/// Whether the bytes begin as XML does, in UTF-16 too.
pub(super) fn is_xml(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    document::is_utf16(bytes) || bytes.iter().find(|byte| !byte.is_ascii_whitespace()) == Some(&b'<')
}

/// Whether the bytes are XML that names HPXML near its beginning.
pub(super) fn is_hpxml(bytes: &[u8]) -> bool {
    let head = bytes.get(..bytes.len().min(HEAD)).unwrap_or_default();
    // Nothing else than this reader says what is wrong with XML in UTF-16.
    is_xml(bytes) && (document::is_utf16(bytes) || memchr::memmem::find(head, b"HPXML").is_some())
}

/// Reads a plan.
///
/// # Errors
/// What is no HPXML of a version that is read, and figures that are none.
pub fn read_hpxml_plan(path: &str, bytes: &[u8]) -> Result<Plan, Vec<Refusal>> {
    let text = document::decode(path, bytes).map_err(|refusal| vec![*refusal])?;
    let document = Document::parse(path, text).map_err(|refusal| vec![*refusal])?;
    let mut findings = Vec::new();
    let parts = read_parts(&document, &mut findings)?;
    let groups = claims::groups(&parts, &mut findings);
    findings.extend(unused::unused(&document));
    Ok(Plan { input: input(path, bytes, &document), groups, findings })
}

/// Reads a building.
///
/// # Errors
/// As [`read_hpxml_plan`].
pub fn read_hpxml_building(path: &str, bytes: &[u8]) -> Result<Building, Vec<Refusal>> {
    let text = document::decode(path, bytes).map_err(|refusal| vec![*refusal])?;
    let document = Document::parse(path, text).map_err(|refusal| vec![*refusal])?;
    let mut findings = Vec::new();
    let parts = read_parts(&document, &mut findings)?;
    let mut building = building::building(&document, &parts);
    findings.extend(unused::unused(&document));
    building.findings.extend(findings);
    building.inputs.push(input(path, bytes, &document));
    Ok(building)
}

fn input(path: &str, bytes: &[u8], document: &Document<'_>) -> Input {
    Input {
        path: path.to_owned(),
        sha256: sha256(bytes),
        kind: InputKind::Hpxml,
        schema: Some(format!("HPXML {}", document.version())),
        length_unit: None,
    }
}
