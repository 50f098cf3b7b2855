//! Surfaces one by one, or by type and storey where there are many.

use super::WIDTH;
use super::columns::lines;
use super::summary::kind_word;
use crate::fill::FillMethod;
use crate::report::text::{shorten, shorten_middle, text_columns, wrap_within};
use crate::takeoff::{GroupTakeoff, SurfaceTakeoff, Takeoff, group_by_type_and_storey};
use crate::units::UnitSystem;
use crate::units::display::grouped;

/// More surfaces than this are shown by type and storey.
const MOST: usize = 40;

/// Surfaces within so many columns.
pub(super) fn surfaces(takeoff: &Takeoff, units: UnitSystem, width: usize) -> Vec<String> {
    if takeoff.surfaces.is_empty() {
        return vec!["No surface was read.".to_owned()];
    }
    if takeoff.surfaces.len() > MOST { groups(takeoff, units, width) } else { each(takeoff, units, width) }
}

/// Room that the names of surfaces and the framing get at least; below it the column of openings goes.
const LEAST_TEXT: usize = 24;
/// What begins the framing of a rim strip.
const RIM: &str = "rim: ";
/// Lines that a name or framing takes at most; what does not fit is cut at the end of the last.
const MOST_LINES: usize = 3;

fn each(takeoff: &Takeoff, units: UnitSystem, width: usize) -> Vec<String> {
    let mut columns = figures(units);
    if takeoff.surfaces.iter().all(|surface| !surface.method.is_some_and(FillMethod::is_drilled)) {
        columns.retain(|column| column.name != "holes");
    }
    let rows = |columns: &[Column]| -> Vec<Vec<String>> {
        let row = |surface: &SurfaceTakeoff| columns.iter().map(|column| (column.of)(surface, units)).collect();
        takeoff.surfaces.iter().map(row).collect()
    };
    let kinds = takeoff.surfaces.iter().map(|surface| kind_word(surface.kind).len()).max().unwrap_or(0);
    // Holes, bays and framing are in the JSON as well, and openings in the balance.
    for spare in ["holes", "open", "bays", "frame"] {
        if text_room(&columns, &rows(&columns), kinds, width) < LEAST_TEXT {
            columns.retain(|column| column.name != spare);
        }
    }
    let figures = rows(&columns);
    let room = text_room(&columns, &figures, kinds, width).max(LEAST_TEXT);
    let texts = Texts::within(&takeoff.surfaces, room);
    let rows = takeoff.surfaces.iter().zip(figures).flat_map(|(surface, figures)| texts.rows(surface, figures));
    let mut heading = vec!["surface", "kind", "framing"];
    heading.extend(columns.iter().map(|column| column.name));
    let mut all = vec!["Surfaces".to_owned()];
    all.extend(lines(&heading, 3, rows.collect()));
    all
}

/// How names and framing share the room that figures leave.
struct Texts {
    name_width: usize,
    framing_width: usize,
    /// Whether there is no room for the names of assemblies, only for what they are framed with.
    is_framing_alone: bool,
}

impl Texts {
    fn within(surfaces: &[SurfaceTakeoff], room: usize) -> Self {
        let widest = |text: &dyn Fn(&SurfaceTakeoff) -> String| {
            surfaces.iter().map(|surface| text_columns(&text(surface))).max().unwrap_or(0)
        };
        let names = widest(&label).max("surface".len());
        let whole = widest(&|surface| framing(surface, false));
        let alone = widest(&|surface| framing(surface, true));
        let is_framing_alone = names + whole > room;
        let wanted = if is_framing_alone { alone } else { whole };
        // Names get two fifths of the room, and what framing leaves of the rest.
        let name_width = names.min((room * 2 / 5).max(room.saturating_sub(wanted)));
        Self { name_width, framing_width: room.saturating_sub(name_width), is_framing_alone }
    }

    /// A surface's row, and the rows that its name and framing run on in.
    fn rows(&self, surface: &SurfaceTakeoff, figures: Vec<String>) -> Vec<Vec<String>> {
        let name = wrap_within(&label(surface), self.name_width, MOST_LINES);
        let framing = wrap_within(&framing(surface, self.is_framing_alone), self.framing_width, MOST_LINES);
        let blank = vec![String::new(); figures.len()];
        let mut figures = std::iter::once(figures).chain(std::iter::repeat(blank));
        let mut kind = Some(kind_word(surface.kind).to_owned());
        let line = |lines: &[String], index: usize| lines.get(index).cloned().unwrap_or_default();
        (0..name.len().max(framing.len()))
            .map(|index| {
                let texts = [line(&name, index), kind.take().unwrap_or_default(), line(&framing, index)];
                texts.into_iter().chain(figures.next().unwrap_or_default()).collect()
            })
            .collect()
    }
}

/// A column of figures.
struct Column {
    name: &'static str,
    of: fn(&SurfaceTakeoff, UnitSystem) -> String,
}

fn figures(units: UnitSystem) -> Vec<Column> {
    let column = |name, of| Column { name, of };
    vec![
        column(units.area_symbol(), |s, units| area(s.gross_area_m2, units)),
        column("open", |s, units| area(s.opening_area_m2, units)),
        column("frame", |s, _| or_dash(s.framing_fraction.map(percent))),
        column("depth", |s, units| or_dash(s.depth_m.map(|depth_m| units.show_section(depth_m)))),
        column("bays", |s, _| if s.counted { s.bays.len().to_string() } else { or_dash(None) }),
        column("holes", |s, _| or_dash(s.holes.map(|holes| holes.to_string()))),
        column(units.volume_symbol(), |s, units| or_dash(s.bay_volume_m3.map(|m3| volume(m3, units)))),
        column(units.mass_symbol(), |s, units| or_dash(s.mass_kg.map(|kg| mass(kg, units)))),
    ]
}

fn or_dash(value: Option<String>) -> String {
    value.unwrap_or_else(|| "-".to_owned())
}

/// Columns that kinds and figures leave for the surface and its framing.
fn text_room(columns: &[Column], rows: &[Vec<String>], kinds: usize, within: usize) -> usize {
    // The indent, and two spaces behind each of three texts.
    let taken = 2 + 3 * 2 + kinds;
    let width = |index: usize, column: &Column| {
        let cells = rows.iter().filter_map(|row| row.get(index)).map(|cell| cell.chars().count());
        cells.chain([column.name.chars().count()]).max().unwrap_or(0) + 1
    };
    let figures: usize = columns.iter().enumerate().map(|(index, column)| width(index, column)).sum();
    (within + 1).saturating_sub(taken + figures)
}

fn label(s: &SurfaceTakeoff) -> String {
    let part = if s.part > 0 { format!("/{}", s.part) } else { String::new() };
    let times = if s.count > 1 { format!(" x{}", s.count) } else { String::new() };
    format!("{}{part}{times}", s.label())
}

/// The framing, with the name of its assembly or alone, or the reason against it.
fn framing(s: &SurfaceTakeoff, alone: bool) -> String {
    let words = if s.counted { s.assembly.as_deref() } else { s.reason.as_deref() };
    let words = words.unwrap_or("-");
    match words.rsplit_once(": ") {
        Some((name, framing)) if alone && s.counted => {
            let rim = if name.starts_with(RIM) { RIM } else { "" };
            format!("{rim}{framing}")
        }
        _ => words.to_owned(),
    }
}

fn groups(takeoff: &Takeoff, units: UnitSystem, width: usize) -> Vec<String> {
    let heading = [
        "type",
        "storey",
        "kind",
        "number",
        units.area_symbol(),
        "counted",
        units.volume_symbol(),
        units.mass_symbol(),
    ];
    let groups = group_by_type_and_storey(&takeoff.surfaces);
    // Sheets have no types: the room goes to the storeys.
    let has_types = groups.iter().any(|group| group.r#type.is_some());
    let more = width.saturating_sub(WIDTH);
    let (type_width, storey_width) = if has_types { (22 + more * 2 / 3, 9 + more / 3) } else { (1, 26 + more) };
    let row = |group: &GroupTakeoff| {
        vec![
            shorten_middle(group.r#type.as_deref().unwrap_or("-"), type_width),
            shorten(group.storey.as_deref().unwrap_or("-"), storey_width),
            kind_word(group.kind).to_owned(),
            group.count.to_string(),
            area(group.gross_area_m2, units),
            area(group.counted_area_m2, units),
            volume(group.volume_m3, units),
            mass(group.mass_kg, units),
        ]
    };
    let rows = groups.iter().map(row).collect();
    let mut all = vec![format!("Surfaces by type and storey ({} in all)", takeoff.surfaces.len())];
    all.extend(lines(&heading, 3, rows));
    all.push("  `--save surfaces.csv` lists each of them".to_owned());
    all
}

pub(super) fn area(area_m2: f64, units: UnitSystem) -> String {
    grouped(units.area(area_m2), usize::from(units == UnitSystem::Si))
}

fn volume(volume_m3: f64, units: UnitSystem) -> String {
    grouped(units.volume(volume_m3), if units == UnitSystem::Si { 2 } else { 1 })
}

fn mass(mass_kg: f64, units: UnitSystem) -> String {
    grouped(units.mass(mass_kg), usize::from(units == UnitSystem::Si))
}

pub(in crate::report) fn percent(fraction: f64) -> String {
    format!("{} %", grouped(fraction * 100.0, 1))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::job::{Job, parse_frame};
    use crate::model::{Building, Exposure, Extent, Surface, SurfaceKind};
    use crate::source::Source;
    use crate::takeoff::build;

    const DOUBLE: &str = "2x4 @ 16 in + gap 5 in + 2x4 @ 16 in";

    fn table(width: usize) -> Vec<String> {
        let source = Source::of_entity("house.ifc", 7);
        let outline = Extent::Outline(vec![crate::geometry::Polygon::rectangle(0.0, 0.0, 4.0, 2.5)]);
        let wall = |name: &str| Surface {
            name: Some(name.to_owned()),
            exposure: Exposure::Exterior,
            ..Surface::new(name, source.clone(), SurfaceKind::Wall, outline.clone())
        };
        let walls = vec![wall("Wall on the north side, upper floor"), wall("S")];
        let frames = vec![parse_frame("double-stud wall").unwrap()];
        let takeoff =
            build(&Building { surfaces: walls, ..Building::default() }, &Job { frames, ..Job::default() }).unwrap();
        surfaces(&takeoff, UnitSystem::Us, width)
    }

    #[test]
    fn names_and_framing_run_on_where_they_have_no_room() {
        let lines = table(80);
        assert!(lines.iter().all(|line| line.trim_end().chars().count() <= 80), "{lines:#?}");
        let text = lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(!text.contains('…') && !text.contains("double-stud wall"), "{lines:#?}");
        assert!(lines.len() > 4, "{lines:#?}");
    }

    #[test]
    fn a_wide_terminal_shows_all_in_one_line_each() {
        let lines = table(160);
        assert_eq!(lines.len(), 4);
        assert!(lines[2].contains("Wall on the north side, upper floor") && lines[2].contains(DOUBLE), "{lines:#?}");
        assert!(lines[3].contains("double-stud wall: "), "{lines:#?}");
    }
}
