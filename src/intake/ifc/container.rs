//! What a file is, from its first bytes, and what is in an archive.

use crate::refusal::Refusal;
use crate::source::Place;
use std::borrow::Cow;
use std::io::Read;

/// Most bytes that an archive may unpack to: far over any model of one building.
const MOST_UNPACKED: u64 = 2 << 30;
/// Most times its packed size that an archive may unpack to; exchange files pack about 5 to 10 times.
const MOST_RATIO: u64 = 200;
/// An archive that unpacks to less than this is never refused for its ratio.
const FREE_UNPACKED: u64 = 8 << 20;

/// Whether bytes are an exchange file, an archive, or another thing that the model intake must speak of.
pub fn is_model(bytes: &[u8]) -> bool {
    let head = head(bytes);
    head.starts_with(b"PK\x03\x04")
        || head.starts_with(b"PK\x05\x06")
        || head.to_ascii_uppercase().starts_with(b"ISO-10303-21")
        || head.starts_with(b"<?xml")
        || head.starts_with(b"<")
}

fn head(bytes: &[u8]) -> &[u8] {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    bytes.get(..200).unwrap_or(bytes).trim_ascii_start()
}

/// The exchange file in some bytes, unpacked where it is in an archive.
///
/// # Errors
/// Where the bytes are something else.
pub fn unpack<'a>(path: &str, bytes: &'a [u8]) -> Result<Cow<'a, [u8]>, Refusal> {
    let refuse = |message: &str, help: &str| Err(Refusal::new(Place::input(path), message, help));
    let head = head(bytes);
    let step = "ask for an export as an IFC exchange file (.ifc, ISO 10303-21)";
    if bytes.is_empty() {
        return refuse("file is empty", step);
    }
    if head.starts_with(b"PK\x03\x04") || head.starts_with(b"PK\x05\x06") {
        return unzip(path, bytes).map(Cow::Owned);
    }
    let utf16 = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") || bytes.get(1) == Some(&0);
    if utf16 {
        return refuse("the text is UTF-16, which no exchange file may be", "save it as UTF-8 or ask for a new export");
    }
    if head.starts_with(b"<") {
        return refuse("ifcXML is not read", step);
    }
    if head.starts_with(b"{") || head.starts_with(b"[") {
        return refuse("IFC as JSON (IFC-JSON, IFC5) is not read", step);
    }
    if !head.to_ascii_uppercase().starts_with(b"ISO-10303-21") {
        return refuse("not a STEP file: it does not begin with `ISO-10303-21;`", step);
    }
    Ok(Cow::Borrowed(bytes))
}

fn unzip(path: &str, bytes: &[u8]) -> Result<Vec<u8>, Refusal> {
    let refuse =
        |message: String| Refusal::new(Place::input(path), message, "unpack the archive and give the .ifc file");
    let damaged = |error: &dyn std::fmt::Display| refuse(format!("damaged zip archive: {error}"));
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).map_err(|e| damaged(&e))?;
    let is_model = |name: &str| name.to_ascii_lowercase().ends_with(".ifc");
    let names: Vec<String> = (0..archive.len())
        .filter_map(|index| Some(archive.name_for_index(index)?.ok()?.into_owned()))
        .filter(|name| is_model(name))
        .collect();
    let name = match names.as_slice() {
        [name] => name.clone(),
        [] => return Err(refuse("no .ifc file in the archive".to_owned())),
        several => {
            let mut names = several.to_vec();
            names.sort();
            return Err(refuse(format!(
                "ambiguous: {} .ifc files in the archive: `{}`",
                names.len(),
                names.join("`, `")
            )));
        }
    };
    let member = archive.by_name(&name).map_err(|e| damaged(&e))?;
    let packed = member.compressed_size().min(bytes.len() as u64);
    let most = MOST_UNPACKED.min(FREE_UNPACKED.max(packed.saturating_mul(MOST_RATIO)));
    let mut unpacked = Vec::new();
    member.take(most + 1).read_to_end(&mut unpacked).map_err(|e| damaged(&e))?;
    if unpacked.len() as u64 > most {
        return Err(refuse(format!(
            "the archive unpacks to more than {most} bytes, its limit for {packed} packed bytes"
        )));
    }
    Ok(unpacked)
}
