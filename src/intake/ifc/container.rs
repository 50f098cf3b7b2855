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

/// What to ask for in place of a form that is not read.
const STEP: &str = "ask for an export as an IFC exchange file (.ifc, ISO 10303-21)";
/// How many bytes are looked at to tell other forms apart.
const LOOKED_AT: usize = 4096;

/// Whether bytes are an exchange file, an archive, or another form of model that must be spoken of.
pub fn is_model(bytes: &[u8]) -> bool {
    let head = head(bytes);
    is_exchange(head) || is_archive(head) || head.starts_with(b"<") || head.starts_with(b"{")
}

fn is_exchange(head: &[u8]) -> bool {
    // A comment may stand before the name; a sheet has no use for one.
    head.starts_with(b"/*") || head.to_ascii_uppercase().starts_with(b"ISO-10303-21")
}

fn is_archive(head: &[u8]) -> bool {
    head.starts_with(b"PK\x03\x04") || head.starts_with(b"PK\x05\x06")
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
    let step = STEP;
    if bytes.is_empty() {
        return refuse("file is empty", step);
    }
    if is_archive(head) {
        return unzip(path, bytes).map(Cow::Owned);
    }
    let utf16 = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") || bytes.get(1) == Some(&0);
    if utf16 {
        return refuse("the text is UTF-16, which no exchange file may be", "save it as UTF-8 or ask for a new export");
    }
    if let Some(form) = other_form(bytes, head) {
        return refuse(&format!("{form} is not read"), step);
    }
    if !is_exchange(head) {
        return refuse("not a STEP file: it does not begin with `ISO-10303-21;`", step);
    }
    Ok(Cow::Borrowed(bytes))
}

/// The name of another form of building model, told from its first bytes.
fn other_form(bytes: &[u8], head: &[u8]) -> Option<&'static str> {
    let first = bytes.get(..LOOKED_AT).unwrap_or(bytes).to_ascii_lowercase();
    let says = |word: &[u8]| memchr::memmem::find(&first, word).is_some();
    if head.starts_with(b"<") {
        return Some(if says(b"ifcxml") || says(b"ifc:") || says(b"iso_10303_28") { "ifcXML" } else { "XML" });
    }
    if head.starts_with(b"{") || head.starts_with(b"[") {
        let form = if says(b"ifcx") { "IFC5 (ifcx)" } else { "IFC as JSON (IFC-JSON, IFC5)" };
        return Some(form);
    }
    // The signature of HDF5, ISO 10303-26, and that of compound documents, in which programs keep their own models.
    if bytes.starts_with(b"\x89HDF\r\n\x1a\n") {
        return Some("IFC in HDF5 (ISO 10303-26)");
    }
    bytes.starts_with(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1").then_some("a program's own file")
}

fn unzip(path: &str, bytes: &[u8]) -> Result<Vec<u8>, Refusal> {
    let refuse =
        |message: String| Refusal::new(Place::input(path), message, "unpack the archive and give the .ifc file");
    let damaged = |error: &dyn std::fmt::Display| refuse(format!("damaged zip archive: {error}"));
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(bytes)).map_err(|e| damaged(&e))?;
    let has_ending = |name: &str, ending: &str| name.to_ascii_lowercase().ends_with(ending);
    let all: Vec<String> =
        (0..archive.len()).filter_map(|index| Some(archive.name_for_index(index)?.ok()?.into_owned())).collect();
    let names: Vec<String> = all.iter().filter(|name| has_ending(name, ".ifc")).cloned().collect();
    let name = match names.as_slice() {
        [name] => name.clone(),
        [] if all.iter().any(|name| has_ending(name, ".ifcxml")) => {
            let message = "no .ifc file in the archive; its ifcXML is not read";
            return Err(Refusal::new(Place::input(path), message, STEP));
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use zip::write::SimpleFileOptions;

    const MODEL: &[u8] = b"ISO-10303-21;HEADER;ENDSEC;DATA;ENDSEC;END-ISO-10303-21;";

    fn archive(members: &[(&str, &[u8])]) -> Vec<u8> {
        let mut writer = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
        for (name, bytes) in members {
            writer.start_file(*name, SimpleFileOptions::default()).expect("starts");
            writer.write_all(bytes).expect("writes");
        }
        writer.finish().expect("finishes").into_inner()
    }

    fn refused(bytes: &[u8]) -> Refusal {
        unpack("a.ifczip", bytes).expect_err("refused")
    }

    #[test]
    fn forms_that_are_not_read_are_named_with_what_to_ask_for() {
        // First bytes as each form is specified: ISO 10303-28, the buildingSMART ifcJSON and IFC5 drafts, HDF5.
        for (bytes, form) in [
            (&b"<?xml version='1.0'?><ifc:ifcXML xmlns:ifc='http://x/IFC4'>"[..], "ifcXML"),
            (b"\xef\xbb\xbf <ifc:uos/>", "ifcXML"),
            (b"<html>", "XML is"),
            (b"{\"type\":\"ifcJSON\",\"version\":\"0.0.1\"}", "IFC-JSON"),
            (b"[{\"type\":\"IfcWall\"}]", "IFC-JSON"),
            (b"{\"header\":{\"id\":\"x\",\"ifcxVersion\":\"ifcx_alpha\"}}", "IFC5"),
            (b"\x89HDF\r\n\x1a\n", "HDF5"),
            (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "own file"),
        ] {
            let refusal = refused(bytes);
            assert!(refusal.message.contains(form), "{form}: {}", refusal.message);
            assert!(refusal.help.contains(".ifc, ISO 10303-21"), "{}", refusal.help);
        }
        assert!(refused(b"I\0S\0O\0").message.contains("UTF-16"));
        assert!(refused(b"").message.contains("empty"));
        assert!(refused(b"solid cube").message.contains("not a STEP file"));
    }

    #[test]
    fn one_model_in_an_archive_is_unpacked_whatever_its_name() {
        for name in ["house.ifc", "../../etc/HOUSE.IFC", "/a/b.ifc"] {
            let bytes = archive(&[("readme.txt", b"hello"), (name, MODEL)]);
            assert_eq!(unpack("a.ifczip", &bytes).expect(name).as_ref(), MODEL);
        }
        assert!(is_model(&archive(&[("house.ifc", MODEL)])));
    }

    #[test]
    fn archives_without_one_model_are_refused() {
        let two = refused(&archive(&[("b.ifc", MODEL), ("a.ifc", MODEL)]));
        assert!(two.message.contains("2 .ifc files in the archive: `a.ifc`, `b.ifc`"), "{}", two.message);
        assert!(refused(&archive(&[("a.txt", b"x")])).message.contains("no .ifc file"));
        let xml = refused(&archive(&[("a.ifcXML", b"<ifcXML/>")]));
        assert!(xml.message.contains("ifcXML is not read") && xml.help.contains("ISO 10303-21"), "{}", xml.message);
    }

    #[test]
    fn damaged_archives_are_refused() {
        let good = archive(&[("a.ifc", MODEL)]);
        assert!(refused(&good[..good.len() - 30]).message.contains("damaged zip archive"));
        let mut bytes = good;
        // The content begins behind the local header: 30 bytes and the name.
        for byte in &mut bytes[36..44] {
            *byte ^= 0xff;
        }
        assert!(refused(&bytes).message.contains("damaged zip archive"));
    }

    #[test]
    fn an_archive_that_unpacks_without_end_is_refused() {
        // 12 MiB of blanks pack to some 12 KB: a thousand times, as deflate can at most.
        let bytes = archive(&[("a.ifc", &vec![b' '; 12 << 20])]);
        let refusal = refused(&bytes);
        assert!(refusal.message.contains("unpacks to more than"), "{}", refusal.message);
        let small = archive(&[("a.ifc", &vec![b' '; 4 << 20])]);
        assert_eq!(unpack("a.ifczip", &small).expect("small").len(), 4 << 20);
    }
}
