//! What an assembly says of attics, roofs and floors: vent gap, settled thickness, eaves, what holds the fill.

use super::file::AssemblyFile;
use super::reader::Reader;
use crate::cells::read_eaves;
use crate::framing::{Enclosure, HeldBelow};
use crate::units::parse_pitch;
use toml::Spanned;

/// Key and value of what the file gives, as written.
type Given = Vec<(&'static str, String)>;

/// Sets what an assembly gives beyond the job's layout; returns each key with its value as written.
pub(super) fn read_enclosure(file: &AssemblyFile, enclosure: &mut Enclosure, reader: &mut Reader<'_>) -> Given {
    let mut given = Given::new();
    vent_gap(file, enclosure, reader, &mut given);
    let mut length = |key, value: &Option<Spanned<String>>, target: &mut Option<f64>| {
        let Some(text) = value else { return };
        if let Some(length_m) = reader.length_m(text) {
            *target = Some(length_m);
            given.push((key, text.get_ref().clone()));
        }
    };
    length("thickness", &file.thickness, &mut enclosure.open_thickness_m);
    length("heel_height", &file.heel_height, &mut enclosure.heel_height_m);
    length("baffle_gap", &file.baffle_gap, &mut enclosure.baffle_gap_m);
    if let Some(text) = &file.roof_pitch {
        match parse_pitch(text.get_ref(), None, false) {
            Ok(pitch_deg) => enclosure.roof_pitch_deg = Some(pitch_deg),
            Err(error) => reader.refuse(text.span(), error.message, error.help),
        }
        given.push(("roof_pitch", text.get_ref().clone()));
    }
    eaves(file, enclosure, reader, &mut given);
    below(file, enclosure, reader, &mut given);
    given
}

fn vent_gap(file: &AssemblyFile, enclosure: &mut Enclosure, reader: &mut Reader<'_>, given: &mut Given) {
    if let Some(text) = &file.vent_gap
        && let Some(gap_m) = reader.length_m(text)
    {
        enclosure.vent_gap_m = Some(gap_m);
        // What it is like may be unvented.
        enclosure.unvented = None;
        given.push(("vent_gap", text.get_ref().clone()));
    }
    let Some(reason) = &file.unvented else { return };
    let gap = file.vent_gap.as_ref().or(file.layout.vent_gap.as_ref());
    if let Some(gap) = gap {
        reader.refuse(gap.span(), "an assembly has a `vent_gap` or is `unvented`, not both", "take one of them out");
    }
    if reason.get_ref().trim().is_empty() {
        let help = "write why this roof needs no vent channel, such as `unvented = \"foam above the deck\"`";
        reader.refuse(reason.span(), "`unvented` gives no reason", help);
    }
    // What the whole job says of its roofs does not hold for this one.
    enclosure.vent_gap_m = None;
    enclosure.unvented = Some(reason.get_ref().trim().to_owned());
    given.push(("unvented", reason.get_ref().trim().to_owned()));
}

fn eaves(file: &AssemblyFile, enclosure: &mut Enclosure, reader: &mut Reader<'_>, given: &mut Given) {
    let Some(text) = &file.eaves else { return };
    enclosure.eaves =
        read_eaves(text.get_ref()).map_err(|fault| reader.refuse(text.span(), fault.message, fault.help)).ok();
    given.push(("eaves", text.get_ref().clone()));
}

fn below(file: &AssemblyFile, enclosure: &mut Enclosure, reader: &mut Reader<'_>, given: &mut Given) {
    let Some(text) = &file.below else { return };
    enclosure.below = match text.get_ref().trim().to_lowercase().as_str() {
        "netting" => Some(HeldBelow::Netting),
        "board" => Some(HeldBelow::Board),
        other => {
            let message = format!("`{other}` is not known to hold fill from below");
            reader.refuse(text.span(), message, "write `netting` or `board`");
            None
        }
    };
    given.push(("below", text.get_ref().clone()));
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;
    use crate::model::EaveSides;

    fn enclosure(lines: &str) -> Enclosure {
        let text = format!("[layout]\nvent_gap = \"2 in\"\n[assembly.x]\nframing = \"2x10 @ 24 in\"\n{lines}\n");
        read_job("job.toml", &text).unwrap().assemblies[0].layout.enclosure.clone()
    }

    #[test]
    fn an_assembly_says_more_than_the_layout() {
        assert!((enclosure("").vent_gap_m.unwrap() - 0.0508).abs() < 1e-12);
        assert!((enclosure("vent_gap = \"1 in\"").vent_gap_m.unwrap() - 0.0254).abs() < 1e-12);
        let unvented = enclosure("unvented = \"foam above the deck\"");
        assert_eq!((unvented.vent_gap_m, unvented.unvented.as_deref()), (None, Some("foam above the deck")));
        let attic = enclosure(
            "thickness = \"13.25 in\"\nheel_height = \"4 in\"\nroof_pitch = \"6:12\"\nbaffle_gap = \"2 in\"\neaves = \"62 ft\"",
        );
        assert!((attic.open_thickness_m.unwrap() - 13.25 * 0.0254).abs() < 1e-12);
        assert!((attic.roof_pitch_deg.unwrap() - 26.565_051).abs() < 1e-6);
        assert_eq!(attic.eaves, Some(EaveSides::LengthM(62.0 * 0.3048)));
        assert_eq!(enclosure("eaves = \"Long sides\"").eaves, Some(EaveSides::LongSides));
        assert_eq!(enclosure("below = \"netting\"").below, Some(HeldBelow::Netting));
    }

    #[test]
    fn what_cannot_be_used_is_refused() {
        for (lines, found) in [
            ("vent_gap = \"1 in\"\nunvented = \"foam\"", "not both"),
            ("unvented = \" \"", "no reason"),
            ("eaves = \"north\"", "where the eaves are"),
            ("eaves = \"12\"", "unit"),
            ("roof_pitch = \"6\"", "6"),
            ("below = \"hope\"", "hold fill"),
            ("thickness = \"13\"", "unit"),
        ] {
            let text = format!("[assembly.x]\nframing = \"2x10 @ 24 in\"\n{lines}\n");
            let refusals = read_job("job.toml", &text).unwrap_err();
            assert!(refusals[0].message.contains(found), "{lines}: {}", refusals[0].message);
        }
    }
}
