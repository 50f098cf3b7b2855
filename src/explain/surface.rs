//! The derivation of a surface.

use super::area::{self, Piece};
use super::step::{Explanation, Figure, Line, Operation, Section};
use super::{KEPT_EMPTY, Subject, WITHIN, empty, fill, name_of, order, partial};
use crate::intake::{Reading, WrittenCell};
use crate::source::Source;
use crate::takeoff::SurfaceTakeoff;

pub(super) fn explain(subject: &Subject<'_>) -> Explanation {
    let surface = subject.surface;
    let mut sections = vec![Section::new("As read", as_read(subject)), Section::new("Area of one", gross(surface))];
    sections.push(Section::new("Openings", openings(subject)));
    if surface.counted {
        sections.push(Section::new("Members", members(surface)));
        sections.push(Section::new("Left out of the area", left_out(surface)));
        sections.push(Section::new("Area of the bays", bay_area(surface)));
        sections.push(Section::new("Depth", fill::depth(subject)));
        sections.push(Section::new(WITHIN, partial::of_surface(subject)));
        sections.push(Section::new(KEPT_EMPTY, empty::of_surface(subject)));
        sections.push(Section::new("Volume", volume(surface)));
        sections.push(Section::new("Density", fill::density(subject)));
        sections.push(Section::new("Mass", mass(surface)));
        sections.push(Section::new("Order", order::of_surface(subject)));
    } else {
        let reason = surface.reason.as_deref().unwrap_or("the reason is not known");
        let rest = Figure::area(surface.left_out_area_m2 / f64::from(surface.count));
        sections.push(Section::new(
            "Not counted",
            vec![Line::text(reason), Line::given("area without framing and fill", rest, "gross less openings")],
        ));
    }
    Explanation { title: format!("{}: {}", name_of(surface), kind(surface)), sections }
}

/// `wall`, `wall, 3 alike`.
fn kind(surface: &SurfaceTakeoff) -> String {
    // A kind is a text.
    let kind = serde_json::to_value(surface.kind).ok().and_then(|kind| kind.as_str().map(str::to_owned));
    let kind = kind.unwrap_or_default();
    if surface.count > 1 { format!("{kind}, {} alike", surface.count) } else { kind }
}

/// Where it was read and what stands there.
pub(super) fn as_read(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    let mut lines = vec![Line::text(format!("{}", surface.source))];
    let place = |what: &str, value: &Option<String>| value.as_ref().map(|value| format!("{what} {value}"));
    let words = [place("type", &surface.r#type), place("storey", &surface.storey), place("zone", &surface.zone)];
    let words: Vec<String> = words.into_iter().flatten().collect();
    if !words.is_empty() {
        lines.push(Line::text(words.join("; ")));
    }
    for cell in (subject.origin.written)(std::slice::from_ref(&surface.source)).into_iter().flatten() {
        lines.push(written(&cell));
    }
    let unit = |input: &&crate::model::Input| input.path == surface.source.input;
    if let Some(unit) = subject.takeoff.inputs.iter().find(unit).and_then(|input| input.length_unit.as_ref()) {
        lines.push(Line::text(format!("lengths of the model are in {unit}; measured in the plane of the cavity")));
    }
    if surface.part > 0 {
        lines.push(Line::text(format!("part {} of this element", surface.part)));
    }
    if let Some(thickness_m) = surface.thickness_m {
        lines.push(Line::given("thickness of the whole", Figure::length(thickness_m), ""));
    }
    lines
}

fn written(cell: &WrittenCell) -> Line {
    if cell.text.starts_with(&cell.heading) && cell.heading.starts_with('#') {
        return Line::text(format!("`{}`", cell.text));
    }
    let what = format!("{} `{}`", cell.heading, cell.text);
    match cell.reading {
        Some(Reading::LengthM(length_m)) => Line::given(what, Figure::length(length_m), ""),
        Some(Reading::AreaM2(area_m2)) => Line::given(what, Figure::area(area_m2), ""),
        Some(Reading::PitchDeg(pitch_deg)) => Line::text(format!("{what}: {pitch_deg:.4} degrees")),
        None => Line::text(what),
    }
}

fn gross(surface: &SurfaceTakeoff) -> Vec<Line> {
    area::lines("gross area", &surface.outline_m, surface.gross_area_m2 / f64::from(surface.count))
}

fn openings(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    if surface.openings.is_empty() {
        return vec![Line::text("none")];
    }
    let read = subject.read.map(|read| read.openings.as_slice()).unwrap_or_default();
    let sources: Vec<Option<Source>> = surface
        .openings
        .iter()
        .map(|opening| read.iter().find(|read| read.id == opening.id).and_then(|read| read.source.clone()))
        .collect();
    let known: Vec<Source> = sources.iter().flatten().cloned().collect();
    let mut cells = (subject.origin.written)(&known).into_iter();
    let mut lines = Vec::new();
    let mut parts = Vec::new();
    for (opening, source) in surface.openings.iter().zip(&sources) {
        let kind = serde_json::to_value(opening.kind).ok().and_then(|kind| kind.as_str().map(str::to_owned));
        let name = format!("{} {}", kind.unwrap_or_default(), opening.id);
        if let Some(source) = source {
            lines.push(Line::text(format!("{name}: {source}")));
            lines.extend(cells.next().unwrap_or_default().iter().map(written));
        }
        lines.extend(area::lines(&name, &opening.outline_m.rings, opening.area_m2));
        parts.push(Figure::area(opening.area_m2));
    }
    let total_m2 = surface.opening_area_m2 / f64::from(surface.count);
    lines.extend(sum("openings of one", &parts, Figure::area(total_m2)));
    lines
}

/// A sum of figures; nothing where there is nothing to add.
pub(super) fn sum(what: &str, parts: &[Figure], result: Figure) -> Option<Line> {
    let (first, rest) = parts.split_first().filter(|(_, rest)| !rest.is_empty())?;
    Some(Line::step(what, *first, rest.iter().map(|part| (Operation::Plus, *part)), result))
}

fn members(surface: &SurfaceTakeoff) -> Vec<Line> {
    let mut members: Vec<_> = surface.members.iter().collect();
    // By role, in the order in which the roles come first.
    let rank = |role: &str| surface.members.iter().position(|member| member.role == role);
    members.sort_by_key(|member| rank(&member.role));
    let pieces: Vec<Piece<'_>> = members
        .iter()
        .map(|member| Piece { name: member.role.clone(), outline: &member.outline_m, area_m2: member.area_m2 })
        .collect();
    let mut lines = vec![Line::text(surface.assembly.as_deref().unwrap_or("framing not known"))];
    match (pieces.as_slice(), surface.framing_fraction) {
        ([only], Some(fraction)) if only.outline.rings.is_empty() => lines.extend(by_fraction(surface, only, fraction)),
        _ => lines.extend(area::pieces("members of one", &pieces)),
    }
    if pieces.is_empty() {
        lines.push(Line::text("none goes through the whole depth"));
    }
    lines
}

/// Framing of which only the fraction is known.
fn by_fraction(surface: &SurfaceTakeoff, piece: &Piece<'_>, fraction: f64) -> [Line; 2] {
    let count = f64::from(surface.count);
    let net = Figure::area((surface.gross_area_m2 - surface.opening_area_m2) / count);
    let by = [(Operation::Times, Figure::number(fraction))];
    let openings = [(Operation::Minus, Figure::area(surface.opening_area_m2 / count))];
    [
        Line::step("gross less openings", Figure::area(surface.gross_area_m2 / count), openings, net),
        Line::step(&piece.name, net, by, Figure::area(piece.area_m2)),
    ]
}

fn left_out(surface: &SurfaceTakeoff) -> Vec<Line> {
    let pieces: Vec<Piece<'_>> = surface
        .left_out
        .iter()
        .filter(|piece| piece.area_m2 > 0.0)
        .map(|piece| Piece { name: piece.reason.clone(), outline: &piece.outline_m, area_m2: piece.area_m2 })
        .collect();
    let lines = area::pieces("left out of one", &pieces);
    if lines.is_empty() { vec![Line::text("nothing")] } else { lines }
}

fn bay_area(surface: &SurfaceTakeoff) -> Vec<Line> {
    let count = f64::from(surface.count);
    let of_one = |area_m2: f64| Figure::area(area_m2 / count);
    let rest = [surface.opening_area_m2, surface.member_area_m2, surface.left_out_area_m2];
    let mut lines = vec![Line::step(
        "gross less openings, members and what is left out",
        of_one(surface.gross_area_m2),
        rest.map(|area_m2| (Operation::Minus, of_one(area_m2))),
        of_one(surface.bay_area_m2),
    )];
    let parts: Vec<Figure> = surface.bays.iter().map(|bay| Figure::area(bay.area_m2)).collect();
    lines.extend(sum("and bay by bay", &parts, of_one(surface.bay_area_m2)));
    lines
}

/// Each bay, and their sum.
fn volume(surface: &SurfaceTakeoff) -> Vec<Line> {
    let mut lines: Vec<Line> = surface.bays.iter().map(super::bay::volume).collect();
    let total = Figure::volume(surface.bay_volume_m3.unwrap_or(0.0) / f64::from(surface.count));
    lines.push(Line::SumAbove { what: "bays of one".to_owned(), lines: lines.len(), result: total });
    lines
}

fn mass(surface: &SurfaceTakeoff) -> Vec<Line> {
    let count = f64::from(surface.count);
    let (Some(volume_m3), Some(density), Some(mass_kg)) =
        (surface.bay_volume_m3, surface.density_kg_m3, surface.mass_kg)
    else {
        return vec![Line::text("nothing is filled")];
    };
    let mut rest = vec![(Operation::Times, Figure::density(density))];
    if surface.count > 1 {
        rest.push((Operation::Times, Figure::number(count)));
    }
    vec![Line::step("volume x density", Figure::volume(volume_m3 / count), rest, Figure::mass(mass_kg))]
}
