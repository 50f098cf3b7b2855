//! One surface, to scale.

use super::callouts::{Callout, Callouts};
use super::dimensions::{ABOVE_PX, along, below_px, up};
use super::labels::{Form, place_in, write_in};
use super::members::{Defs, empty_fill, members, patterns};
use super::path::{circles, path, px, strokes};
use super::scale::{SIDE_PX, Scale};
use crate::fill::FillMethod;
use crate::geometry::{Bounds, Point, Polygon};
use crate::report::text::printable;
use crate::takeoff::{BayTakeoff, OpeningTakeoff, SurfaceTakeoff};
use crate::units::UnitSystem;
use maud::{Markup, html};

/// What a drawing shows, and how.
#[derive(Clone, Copy)]
pub struct Elevation<'t> {
    /// The surface.
    pub surface: &'t SurfaceTakeoff,
    /// What identifies the drawing within its page.
    pub id: &'t str,
    /// What it is of, for those who hear it.
    pub title: &'t str,
    /// The figures that it shows, for those who hear it.
    pub description: &'t str,
    /// Whether left and right are exchanged.
    pub is_mirrored: bool,
    /// Units of its texts.
    pub units: UnitSystem,
    /// Whose hatches it uses.
    pub defs: Defs,
}

/// The drawing, in several where the surface is too long for the paper; none where no outline is known.
pub fn elevation(drawing: &Elevation<'_>) -> Vec<Markup> {
    let Some(bounds) = Bounds::of(drawing.surface.outline_m.iter().flatten()) else { return Vec::new() };
    if bounds.max_x <= 0.0 || bounds.max_y <= 0.0 {
        return Vec::new();
    }
    let stretches = Scale::stretches(&bounds, drawing.is_mirrored);
    stretches.iter().enumerate().map(|(index, scale)| stretch(drawing, scale, (index, stretches.len()))).collect()
}

fn stretch(drawing: &Elevation<'_>, scale: &Scale, (index, number): (usize, usize)) -> Markup {
    let surface = drawing.surface;
    let boxes: Vec<Bounds> = surface.openings.iter().filter_map(|opening| opening.outline_m.bounds()).collect();
    let (width, height) = (scale.width_px(), scale.height_px());
    let bays = bay_texts(surface, scale, drawing.units);
    let outside = Callouts::place(bays.outside, scale);
    let (top, foot) = (ABOVE_PX + outside.above_px(), height + outside.below_px());
    let across = width + 2.0 * SIDE_PX;
    let whole = top + foot + below_px(!boxes.is_empty());
    let id = format!("{}-{index}", drawing.id);
    let (title_id, text_id) = (format!("t-{id}"), format!("x-{id}"));
    let part = if number > 1 { format!(", part {} of {number} from the left", index + 1) } else { String::new() };
    let is_last = index + 1 == number;
    let place = format!("translate({} {})", px(SIDE_PX), px(top));
    html! {
        svg.drawing xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {} {}", px(across), px(whole)))
            width=(px(across)) height=(px(whole)) role="img" aria-labelledby=(format!("{title_id} {text_id}"))
            font-family="system-ui, 'DejaVu Sans', Arial, sans-serif" font-size="12" text-anchor="middle" {
            title id=(title_id) { (drawing.title) (part) }
            desc id=(text_id) { (drawing.description) }
            @if drawing.defs == Defs::Own { (patterns()) }
            // A drawing within the drawing is cut off at its edges, where a part of a long surface ends.
            svg x=(px(SIDE_PX)) y=(px(top)) width=(px(width)) height=(px(height)) {
                (pieces(drawing, scale, &bays.inside))
            }
            g transform=(place) { (outside.draw(scale)) }
            g.d-dim transform=(place) fill="none" stroke="#555" stroke-width="0.8" {
                g.d-dimtext {
                    (along(&boxes, scale, foot, drawing.units))
                    @if is_last || index == 0 { (up(&boxes, right_m(surface, scale), scale, drawing.units)) }
                }
            }
        }
    }
}

/// Height of the outline at the right end of what is drawn.
fn right_m(surface: &SurfaceTakeoff, scale: &Scale) -> f64 {
    let points = surface.outline_m.iter().flatten();
    let at_end = points.filter(|point| scale.length_m - scale.along_m(point[0]) < 1e-3).map(|point| point[1]);
    at_end.reduce(f64::max).unwrap_or(scale.height_m)
}

fn pieces(drawing: &Elevation<'_>, scale: &Scale, bay_texts: &[Markup]) -> Markup {
    let surface = drawing.surface;
    let outline = Polygon { rings: surface.outline_m.clone() };
    let shows = |outline: &Polygon| outline.bounds().is_some_and(|bounds| scale.shows(&bounds));
    let solid: Vec<(&str, &Polygon)> =
        surface.members.iter().map(|member| (member.role.as_str(), &member.outline_m)).collect();
    let partial = surface.partial_members.iter().map(|member| &member.outline_m).filter(|outline| shows(outline));
    let bays: Vec<&BayTakeoff> = surface.bays.iter().filter(|bay| shows(&bay.outline_m)).collect();
    let left_out: Vec<&Polygon> =
        surface.left_out.iter().map(|piece| &piece.outline_m).filter(|outline| shows(outline)).collect();
    let out = path(left_out.iter().copied(), scale);
    let partial = path(partial, scale);
    html! {
        path.d-outline d=(path([&outline], scale)) fill="none" stroke="#222" stroke-width="1.2" {}
        @if !bays.is_empty() {
            path.d-bay d=(path(bays.iter().map(|bay| &bay.outline_m), scale)) fill="#e8f1fb" {}
        }
        @if !out.is_empty() {
            path d=(out) fill=(empty_fill()) {}
        }
        (members(&solid, scale))
        @if !partial.is_empty() {
            path.d-part d=(partial) fill="none" stroke="#4d3b17" stroke-width="0.8" stroke-dasharray="4 2" {}
        }
        (openings(surface, scale, drawing.units))
        (holes(surface, &bays, scale))
        g.d-text.d-halo fill="#111" stroke="#fff" stroke-width="2.5" stroke-linejoin="round" paint-order="stroke" {
            @for text in bay_texts { (text) }
            (reasons(surface, scale))
        }
    }
}

/// Openings with a cross, what they are and how large.
fn openings(surface: &SurfaceTakeoff, scale: &Scale, units: UnitSystem) -> Markup {
    let shows = |opening: &&OpeningTakeoff| opening.outline_m.bounds().is_some_and(|bounds| scale.shows(&bounds));
    let shown: Vec<&OpeningTakeoff> = surface.openings.iter().filter(shows).collect();
    if shown.is_empty() {
        return Markup::default();
    }
    let cross = |bounds: &Bounds| {
        let (a, b) = (scale.at([bounds.min_x, bounds.max_y]), scale.at([bounds.max_x, bounds.min_y]));
        format!(
            "M{} {}L{} {}M{} {}L{} {}",
            px(a[0]),
            px(a[1]),
            px(b[0]),
            px(b[1]),
            px(a[0]),
            px(b[1]),
            px(b[0]),
            px(a[1])
        )
    };
    let crosses: String = shown.iter().filter_map(|opening| opening.outline_m.bounds()).map(|b| cross(&b)).collect();
    html! {
        path.d-open d=(path(shown.iter().map(|opening| &opening.outline_m), scale)) fill="#ffffff" stroke="#333"
            stroke-width="0.8" {}
        path.d-cross d=(crosses) fill="none" stroke="#bbb" stroke-width="0.7" {}
        g.d-text.d-halo fill="#111" stroke="#fff" stroke-width="2.5" stroke-linejoin="round" paint-order="stroke" {
            @for opening in &shown {
                (write_in(&opening.outline_m, &opening_forms(opening, units), &[], scale).unwrap_or_default())
            }
        }
    }
}

fn opening_forms(opening: &OpeningTakeoff, units: UnitSystem) -> Vec<Form> {
    let Some(bounds) = opening.outline_m.bounds() else { return Vec::new() };
    let kind = opening.kind.word();
    let width = units.show_length(bounds.width_m());
    let height = units.show_length(bounds.height_m());
    let size = format!("{width} x {height}");
    let sill = units.show_length(bounds.min_y);
    let mut forms = Vec::new();
    // A door stands on the floor.
    if bounds.min_y > 1e-3 {
        forms.push(Form::level(&[kind, &size, &format!("sill {sill}")]));
        forms.push(Form::level(&[kind, &format!("{width} x"), &height, "sill", &sill]));
    }
    forms.extend([
        Form::level(&[kind, &size]),
        Form::level(&[kind, &format!("{width} x"), &height]),
        Form::turned(&format!("{kind} {size}")),
        Form::level(&[kind]),
        Form::turned(kind),
    ]);
    forms
}

/// Holes to drill as rings, slits in netting as strokes.
fn holes(surface: &SurfaceTakeoff, bays: &[&BayTakeoff], scale: &Scale) -> Markup {
    let places: Vec<Point> = bays.iter().flat_map(|bay| &bay.holes_m).map(|hole| scale.at(*hole)).collect();
    if places.is_empty() {
        return Markup::default();
    }
    let data = if surface.method == Some(FillMethod::Netting) { strokes(&places, 10.0) } else { circles(&places, 3.0) };
    html! { path.d-hole d=(data) fill="none" stroke="#a3140f" stroke-width="1.4" {} }
}

/// Numbers of bays: written in them, and to be written outside.
struct BayTexts {
    inside: Vec<Markup>,
    outside: Vec<Callout>,
}

/// Number and mass of each bay as far as there is room, else its number, else that outside.
fn bay_texts(surface: &SurfaceTakeoff, scale: &Scale, units: UnitSystem) -> BayTexts {
    let mut texts = BayTexts { inside: Vec::new(), outside: Vec::new() };
    for bay in &surface.bays {
        let Some(bounds) = bay.outline_m.bounds().filter(|bounds| scale.shows(bounds)) else { continue };
        if let Some(text) = text_in(bay, scale, units) {
            texts.inside.push(text);
        } else if scale.shows_middle(&bounds)
            && let Some(at_px) = place_in(&bay.outline_m, scale)
        {
            let at_px = [at_px[0].clamp(0.0, scale.width_px()), at_px[1]];
            texts.outside.push(Callout { number: bay.id.clone(), at_px });
        }
    }
    texts
}

/// What is written in a bay, off its holes where there is room besides; nothing where not even its number fits.
fn text_in(bay: &BayTakeoff, scale: &Scale, units: UnitSystem) -> Option<Markup> {
    let mass = units.show_bay_mass(bay.mass_kg);
    let holes = bay.holes_m.iter().map(|hole| scale.at(*hole)).collect::<Vec<_>>();
    let forms = [
        Form::level(&[&bay.id, &mass]),
        Form::level(&[&format!("{}: {mass}", bay.id)]),
        Form::turned(&format!("{}: {mass}", bay.id)),
        Form::level(&[&bay.id]),
        Form::turned(&bay.id),
    ];
    let off_holes = write_in(&bay.outline_m, &forms, &holes, scale);
    off_holes.or_else(|| write_in(&bay.outline_m, &forms, &[], scale))
}

/// Why pieces stay empty, where there is room.
fn reasons(surface: &SurfaceTakeoff, scale: &Scale) -> Markup {
    html! {
        @for piece in &surface.left_out {
            @let reason = printable(&piece.reason);
            @let forms = [Form::level(&[&reason]), Form::turned(&reason)];
            @if piece.outline_m.bounds().is_some_and(|bounds| scale.shows(&bounds)) {
                (write_in(&piece.outline_m, &forms, &[], scale).unwrap_or_default())
            }
        }
    }
}
