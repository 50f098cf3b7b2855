//! `[[layout.opening]]`: the framing of openings by width, as it is written.

use super::reader::Reader;
use crate::framing::{OpeningRule, dressed_m};
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

/// The framing of openings up to a width. Lengths are texts with their unit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct OpeningFile {
    /// Widest opening that it is for.
    #[schemars(with = "Option<String>")]
    pub up_to: Option<Spanned<String>>,
    /// The header: a size of lumber such as `2x8`, with the number of plies `2-2x8`, a height, or `none`.
    #[schemars(with = "Option<String>")]
    pub header: Option<Spanned<String>>,
    /// Depth of the header through the wall, where there is cavity behind it.
    #[schemars(with = "Option<String>")]
    pub header_depth: Option<Spanned<String>>,
    /// Jack studs on each side.
    #[schemars(with = "Option<u32>")]
    pub jacks: Option<Spanned<u32>>,
    /// King studs on each side.
    #[schemars(with = "Option<u32>")]
    pub kings: Option<Spanned<u32>>,
    /// Plates that make a rough sill.
    #[schemars(with = "Option<u32>")]
    pub sill_plates: Option<Spanned<u32>>,
}

pub(super) const OPENING: &[&str] = &["up_to", "header", "header_depth", "jacks", "kings", "sill_plates"];

/// Reads one entry; `None` where it cannot be used.
pub(super) fn read_opening(entry: &Spanned<OpeningFile>, reader: &mut Reader<'_>) -> Option<OpeningRule> {
    let file = entry.get_ref();
    let Some(up_to) = &file.up_to else {
        let help = "add a line such as `up_to = \"4 ft\"`";
        reader.refuse(entry.span(), "`[[layout.opening]]` does not say up to which width it is for", help);
        return None;
    };
    let (header_height_m, plies_m) = match &file.header {
        Some(text) => read_header(text, reader).unzip(),
        None => (None, None),
    };
    let own_depth_m = file.header_depth.as_ref().and_then(|text| reader.length_m(text));
    Some(OpeningRule {
        up_to_m: reader.length_m(up_to)?,
        header_height_m,
        header_depth_m: own_depth_m.or(plies_m.flatten()),
        jack_studs: reader.pieces("jacks", file.jacks.as_ref()),
        king_studs: reader.pieces("kings", file.kings.as_ref()),
        sill_plates: reader.pieces("sill_plates", file.sill_plates.as_ref()),
    })
}

/// The entry in words, as an assumption shows it.
pub(super) fn opening_words(file: &OpeningFile) -> String {
    let text = |name: &str, value: &Option<Spanned<String>>| {
        value.as_ref().map(|value| format!("{name} {}", value.get_ref().trim()))
    };
    let count =
        |name: &str, value: &Option<Spanned<u32>>| value.as_ref().map(|value| format!("{name} {}", value.get_ref()));
    let parts = [
        text("up to", &file.up_to),
        text("header", &file.header),
        text("header depth", &file.header_depth),
        count("jacks", &file.jacks),
        count("kings", &file.kings),
        count("sill plates", &file.sill_plates),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// Height of a header, and its depth where the number of plies gives it, in metres.
fn read_header(text: &Spanned<String>, reader: &mut Reader<'_>) -> Option<(f64, Option<f64>)> {
    let words = text.get_ref().trim().to_lowercase();
    if words == "none" {
        return Some((0.0, None));
    }
    let (plies, size) = match words.split_once('-') {
        Some((plies, size)) if plies.trim().parse::<u32>().is_ok() && size.contains('x') => {
            (plies.trim().parse::<u32>().ok(), size.trim())
        }
        _ => (None, words.as_str()),
    };
    let Some((thick, high)) = size.split_once('x') else {
        return reader.length_m(text).map(|height_m| (height_m, None));
    };
    let side_m = |text: &str| text.trim().parse().ok().and_then(dressed_m);
    let (Some(ply_m), Some(height_m), true) = (side_m(thick), side_m(high), plies != Some(0)) else {
        let message = format!("`{}` is no header", text.get_ref().trim());
        let help = "write a size of lumber, `2x8` or `2-2x8`, a height, `7 1/4 in`, or `none`";
        reader.refuse(text.span(), message, help);
        return None;
    };
    Some((height_m, plies.map(|plies| f64::from(plies) * ply_m)))
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;
    use crate::units::INCH_M;

    fn rules(entry: &str) -> OpeningRule {
        read_job("job.toml", &format!("[[layout.opening]]\n{entry}\n")).unwrap().layout.rules.openings_by_width[0]
    }

    // PS 20, dry: a two-by-eight is 1 1/2 x 7 1/4 in.
    #[test]
    fn a_header_is_lumber_a_height_or_none() {
        let near = |found: Option<f64>, inches: f64| assert!((found.unwrap() - inches * INCH_M).abs() < 1e-12);
        let one = rules("up_to = \"4 ft\"\nheader = \"2x8\"\njacks = 0");
        near(Some(one.up_to_m), 48.0);
        near(one.header_height_m, 7.25);
        assert_eq!((one.header_depth_m, one.jack_studs, one.king_studs), (None, Some(0), None));
        let two = rules("up_to = \"1.2 m\"\nheader = \"2-2x8\"");
        near(two.header_height_m, 7.25);
        near(two.header_depth_m, 3.0);
        near(rules("up_to = \"4 ft\"\nheader = \"7 1/4 in\"\nheader_depth = \"1.5 in\"").header_depth_m, 1.5);
        near(rules("up_to = \"4 ft\"\nheader = \"none\"").header_height_m, 0.0);
    }

    #[test]
    fn a_slip_in_an_entry_is_refused() {
        for (entry, found) in [
            ("header = \"2x8\"", "up to which width"),
            ("up_to = \"4\"", "no unit"),
            ("up_to = \"4 ft\"\nheader = \"2x7\"", "no header"),
            ("up_to = \"4 ft\"\nheader = \"0-2x8\"", "no header"),
            ("up_to = \"4 ft\"\njacks = 11", "0 to 10"),
            ("up_to = \"4 ft\"\njack = 1", "no key `jack`"),
        ] {
            let refusals = read_job("job.toml", &format!("[[layout.opening]]\n{entry}\n")).unwrap_err();
            assert!(refusals[0].message.contains(found), "{entry}: {}", refusals[0].message);
        }
    }
}
