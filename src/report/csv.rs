//! The takeoff as tables: one row a surface, one row a bay. SI, units in the headings.

use crate::fill::FillMethod;
use crate::report::text::printable;
use crate::takeoff::{SurfaceTakeoff, Takeoff};
use serde::Serialize;
use std::io;

const SURFACE_COLUMNS: [&str; 41] = [
    "id",
    "part",
    "input",
    "line",
    "entity",
    "name",
    "type",
    "storey",
    "zone",
    "count",
    "kind",
    "exposure",
    "assembly",
    "thickness_m",
    "depth_m",
    "pitch_deg",
    "gross_area_m2",
    "opening_area_m2",
    "member_area_m2",
    "bay_area_m2",
    "left_out_area_m2",
    "gross_volume_m3",
    "opening_volume_m3",
    "member_volume_m3",
    "bay_volume_m3",
    "left_out_volume_m3",
    "framing_fraction",
    "fill",
    "density_kg_m3",
    "mass_kg",
    "method",
    "netting_bulge_m",
    "holes",
    "surveyed",
    "combined_r_m2k_w",
    "combined_u_w_m2k",
    "heat_reason",
    "counted",
    "reason",
    "openings",
    "bays",
];

/// One row a surface.
///
/// # Errors
/// Those of the writer; writing to memory has none.
pub fn surfaces_csv(takeoff: &Takeoff) -> io::Result<Vec<u8>> {
    let mut writer = writer();
    writer.write_record(SURFACE_COLUMNS)?;
    for surface in &takeoff.surfaces {
        writer.write_record(surface_row(surface))?;
    }
    writer.into_inner().map_err(|error| io::Error::other(error.to_string()))
}

fn surface_row(s: &SurfaceTakeoff) -> [String; 41] {
    [
        text(Some(&s.id)),
        s.part.to_string(),
        text(Some(&s.source.input)),
        s.source.line.map(|line| line.to_string()).unwrap_or_default(),
        text(s.source.entity.as_deref()),
        text(s.name.as_deref()),
        text(s.r#type.as_deref()),
        text(s.storey.as_deref()),
        text(s.zone.as_deref()),
        s.count.to_string(),
        word(&s.kind),
        word(&s.exposure),
        text(s.assembly.as_deref()),
        number(s.thickness_m),
        number(s.depth_m),
        number(s.pitch_deg),
        number(Some(s.gross_area_m2)),
        number(Some(s.opening_area_m2)),
        number(Some(s.member_area_m2)),
        number(Some(s.bay_area_m2)),
        number(Some(s.left_out_area_m2)),
        number(s.gross_volume_m3),
        number(s.opening_volume_m3),
        number(s.member_volume_m3),
        number(s.bay_volume_m3),
        number(s.left_out_volume_m3),
        number(s.framing_fraction),
        text(s.fill.as_deref()),
        number(s.density_kg_m3),
        number(s.mass_kg),
        s.method.map(FillMethod::word).unwrap_or_default().to_owned(),
        number(s.netting_bulge_m),
        s.holes.map(|holes| holes.to_string()).unwrap_or_default(),
        s.surveyed.map(|surveyed| surveyed.to_string()).unwrap_or_default(),
        number(s.heat.as_ref().map(|heat| heat.combined.r_m2k_w)),
        number(s.heat.as_ref().map(|heat| heat.combined.u_w_m2k)),
        text(s.heat_reason.as_deref()),
        s.counted.to_string(),
        text(s.reason.as_deref()),
        s.openings.len().to_string(),
        s.bays.len().to_string(),
    ]
}

/// One row a bay of one surface; `count` says how many surfaces are alike.
///
/// # Errors
/// Those of the writer; writing to memory has none.
pub fn bays_csv(takeoff: &Takeoff) -> io::Result<Vec<u8>> {
    let mut writer = writer();
    writer.write_record([
        "surface",
        "part",
        "name",
        "storey",
        "zone",
        "count",
        "bay",
        "width_m",
        "height_m",
        "depth_m",
        "area_m2",
        "volume_m3",
        "density_kg_m3",
        "mass_kg",
        "holes",
    ])?;
    for s in &takeoff.surfaces {
        for bay in &s.bays {
            writer.write_record([
                text(Some(&s.id)),
                s.part.to_string(),
                text(s.name.as_deref()),
                text(s.storey.as_deref()),
                text(s.zone.as_deref()),
                s.count.to_string(),
                bay.id.clone(),
                number(bay.width_m),
                number(bay.height_m),
                number(Some(bay.depth_m)),
                number(Some(bay.area_m2)),
                number(Some(bay.volume_m3)),
                number(Some(bay.density_kg_m3)),
                number(Some(bay.mass_kg)),
                bay.holes.map(|holes| holes.to_string()).unwrap_or_default(),
            ])?;
        }
    }
    writer.into_inner().map_err(|error| io::Error::other(error.to_string()))
}

/// A writer whose lines end as RFC 4180, section 2, has them.
pub(super) fn writer() -> csv::Writer<Vec<u8>> {
    csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new())
}

fn number(value: Option<f64>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}

fn word(value: &impl Serialize) -> String {
    // Kinds and exposures are texts.
    serde_json::to_value(value).ok().and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default()
}

/// A cell of text that no spreadsheet runs as a formula and no terminal as a command: one that would
/// begin like a formula, in wide letters or behind blanks too, gets an apostrophe in front, and control characters are
/// escaped.
pub(super) fn text(value: Option<&str>) -> String {
    let value = value.unwrap_or_default();
    let shown = printable(value);
    let begins = ['=', '+', '-', '@', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}'];
    let is_formula = value.starts_with(['\t', '\r', '\n']) || value.trim_start().starts_with(begins);
    if is_formula { format!("'{shown}") } else { shown }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Cells that spreadsheets run as formulas: OWASP, CSV injection (from memory).
    #[test]
    fn no_cell_begins_like_a_formula() {
        for bad in ["=1+1", "+1", "-1", "@SUM(A1)", "  =1+1", "\u{ff1d}1+1"] {
            assert_eq!(text(Some(bad)), format!("'{bad}"));
        }
        assert_eq!(text(Some("\t=1\u{1b}")), "'\\t=1\\u{1b}");
        assert_eq!(text(Some("W-1 = west")), "W-1 = west");
        assert_eq!(number(Some(-0.5)), "-0.5");
    }
}
