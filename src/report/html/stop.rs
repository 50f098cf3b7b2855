//! One stop of the crew: what stays empty, the drawing with its figures, the bays.

use super::bits::{figures, plain};
use super::crew::tenth;
use crate::bays::TOO_NARROW;
use crate::crew::{BayRun, CrewSheet, KeepEmpty, Stop, bay_runs};
use crate::fill::FillMethod;
use crate::report::drawing::{Defs, Elevation, elevation};
use crate::report::table::{kind_word, noun, percent};
use crate::takeoff::SurfaceTakeoff;
use crate::units::UnitSystem;
use crate::units::display::grouped;
use maud::{Markup, html};

/// What people call a surface, with its piece where it has several.
pub(super) fn name(surface: &SurfaceTakeoff) -> String {
    let name = plain(surface.label());
    if surface.part > 0 { format!("{name}, part {}", surface.part) } else { name }
}

pub(super) fn stop(stop: &Stop, surface: &SurfaceTakeoff, sheet: &CrewSheet, units: UnitSystem) -> Markup {
    let id = format!("stop-{}", stop.number);
    let heading = format!("h-{id}");
    html! {
        article.stop id=(id) aria-labelledby=(heading) data-surface=(surface.id) data-part=(surface.part)
            data-mass-kg=(stop.mass_kg) data-gross-area-m2=(surface.gross_area_m2)
            data-bay-area-m2=(surface.bay_area_m2) {
            div.head {
                h4 id=(heading) { (stop.number) ". " (name(surface)) }
                p.meta { (what(stop, surface)) }
                (measures(stop, surface, units))
                (empty(stop, units))
                (drawings(stop, surface, units))
            }
            (bays(stop, surface, sheet, units))
        }
    }
}

/// What it is, in a line.
fn what(stop: &Stop, surface: &SurfaceTakeoff) -> String {
    let mut parts = vec![kind_word(surface.kind).to_owned()];
    parts.extend(surface.zone.as_deref().map(plain));
    parts.extend(surface.assembly.as_deref().map(plain));
    parts.extend(surface.fill.as_deref().map(plain));
    parts.extend(surface.method.map(|method| {
        match method {
            FillMethod::Tube => "by tube",
            FillMethod::TwoHoles => "through two holes a bay",
            FillMethod::Netting => "through slits in netting",
            FillMethod::Open => "blown open",
        }
        .to_owned()
    }));
    parts.push(stop.view.words().to_owned());
    if surface.count > 1 {
        parts.push(format!("{} alike: drawing and bays are of one, sums of all", surface.count));
    }
    parts.join("; ")
}

fn measures(stop: &Stop, surface: &SurfaceTakeoff, units: UnitSystem) -> Markup {
    // What rounds to nothing is left away.
    let area = |area_m2: f64| Some(units.show_area(area_m2)).filter(|text| text.starts_with(|c| c != '0'));
    figures(&[
        ("fill", Some(units.show_mass(stop.mass_kg))),
        ("bags", stop.bags_exact.map(tenth)),
        ("depth", surface.filled_depth_m().map(|depth_m| units.show_section(depth_m))),
        ("density", surface.density_kg_m3.map(|density| units.show_density(density))),
        ("gross", area(surface.gross_area_m2)),
        ("openings", area(surface.opening_area_m2)),
        ("members", area(surface.member_area_m2)),
        ("bays", area(surface.bay_area_m2)),
        ("left out", area(surface.left_out_area_m2)),
        ("framing", surface.framing_fraction.map(percent)),
        (ways_in(surface), surface.holes.filter(|holes| *holes > 0).map(|holes| holes.to_string())),
        ("pitch", surface.pitch_deg.filter(|_| stop.view.is_lying()).map(|pitch| format!("{}°", grouped(pitch, 1)))),
    ])
}

/// What is cut or drilled to get the fill in.
fn ways_in(surface: &SurfaceTakeoff) -> &'static str {
    if surface.method == Some(FillMethod::Netting) { "slits" } else { "holes" }
}

/// What must not be filled, before anything is.
fn empty(stop: &Stop, units: UnitSystem) -> Markup {
    html! {
        @if stop.is_to_survey {
            p.caution { strong { "Bays not surveyed: " } "look for bays that must stay empty before the first one is filled." }
        }
        @let (keep, narrow): (Vec<&KeepEmpty>, Vec<&KeepEmpty>) =
            stop.keep_empty.iter().partition(|piece| piece.reason != TOO_NARROW);
        @if !keep.is_empty() {
            div.caution {
                p { strong { "Do not fill:" } }
                ul { @for (words, count) in alike(&keep, units) {
                    li { (words) @if count > 1 { " (" (count) " times)" } }
                } }
            }
        }
        @if !narrow.is_empty() {
            p.soft { (noun(narrow.len() as u64, "gap")) " too narrow for the filling tube, not counted as bays." }
        }
    }
}

/// Pieces that stay empty, those that read alike once.
fn alike(pieces: &[&KeepEmpty], units: UnitSystem) -> Vec<(String, usize)> {
    let mut all: Vec<(String, usize)> = Vec::new();
    for piece in pieces {
        let words = empty_words(piece, units);
        match all.iter_mut().find(|(other, _)| *other == words) {
            Some((_, count)) => *count += 1,
            None => all.push((words, 1)),
        }
    }
    all
}

fn empty_words(piece: &KeepEmpty, units: UnitSystem) -> String {
    let reason = plain(&piece.reason);
    match (piece.across_m, piece.up_m, &piece.bay) {
        (Some([left_m, right_m]), Some([low_m, high_m]), _) => format!(
            "{} to {} from the left, {} to {} up: {reason}",
            units.show_length(left_m),
            units.show_length(right_m),
            units.show_length(low_m),
            units.show_length(high_m)
        ),
        (_, _, Some(bay)) => format!("part of bay {bay}: {reason}"),
        _ if piece.area_m2 > 0.0 => format!("{}, place not known: {reason}", units.show_area(piece.area_m2)),
        _ => format!("in the bays: {reason}"),
    }
}

fn drawings(stop: &Stop, surface: &SurfaceTakeoff, units: UnitSystem) -> Markup {
    let title = format!("Stop {}: {}, {}", stop.number, name(surface), stop.view.words());
    let description = format!(
        "{} in {}; {}; {} and {}.",
        units.show_mass(stop.mass_kg),
        noun(surface.bays.len() as u64, "bay"),
        surface.assembly.as_deref().map(plain).unwrap_or_default(),
        noun(surface.openings.len() as u64, "opening"),
        noun(surface.left_out.len() as u64, "empty piece")
    );
    let drawn = elevation(&Elevation {
        surface,
        id: &format!("e{}", stop.number),
        title: &title,
        description: &description,
        is_mirrored: stop.is_mirrored,
        units,
        defs: Defs::Page,
    });
    html! {
        @if drawn.is_empty() { p.soft { "Only its area is known: there is no drawing, and no holes are placed." } }
        @else {
            figure {
                @for drawing in &drawn {
                    div.scroll role="region" aria-label=(title) tabindex="0" { (drawing) }
                }
                figcaption { "To scale, " (stop.view.words()) "." }
            }
        }
    }
}

fn bays(stop: &Stop, surface: &SurfaceTakeoff, sheet: &CrewSheet, units: UnitSystem) -> Markup {
    let first = stop.fill.and_then(|fill| sheet.fills.get(fill)?.first.as_ref()).filter(|one| one.stop == stop.number);
    let has_bags = stop.bags_exact.is_some();
    html! {
        div.scroll role="region" aria-label=(format!("Bays of stop {}", stop.number)) tabindex="0" {
            table {
                caption { "Bays of stop " (stop.number) ", in the order in which they are filled" }
                thead { tr {
                    th scope="col" { "bay" } th scope="col" { "from the left" } th scope="col" { "width" }
                    th scope="col" { "height" } th scope="col" { (ways_in(surface)) } th scope="col" { (units.mass_symbol()) }
                    @if has_bags { th scope="col" { "bags" } th scope="col" { "bays to a bag" } }
                } }
                tbody { @for run in &bay_runs(&stop.bays, surface) { (row(run, surface, has_bags, units)) } }
            }
        }
        @if let Some(first) = first {
            p.mark {
                strong { "First mark: " } "at the end of bay " (first.bay)
                @if surface.count > 1 { " of number " (first.copy) }
                ", " (tenth(first.mark.opened_bags_exact)) " bags counted at the machine."
            }
        }
        @if let Some(end) = &stop.end {
            p.mark {
                strong { "At the end of this stop: " } (tenth(end.opened_bags_exact)) " bags counted at the machine, at most "
                (tenth(end.most_bags_exact)) "."
            }
        }
    }
}

/// A bay, or several that are alike and follow one another: figures are of each.
fn row(run: &BayRun<'_>, surface: &SurfaceTakeoff, has_bags: bool, units: UnitSystem) -> Markup {
    let (Some(bay), Some(last)) = (surface.bays.get(run.first.bay), surface.bays.get(run.last.bay)) else {
        return Markup::default();
    };
    let dash = || "-".to_owned();
    let decimals = if units == UnitSystem::Us { 1 } else { 2 };
    let section = |length_m: Option<f64>| length_m.map_or_else(dash, |length_m| units.show_section(length_m));
    let from_left = run.first.from_left_m.map_or_else(dash, |left_m| units.show_length(left_m));
    let is_several = run.number > 1;
    html! {
        tr data-kg=(format!("{:.6}", run.mass_kg)) {
            th scope="row" { (bay.id) @if is_several { "-" (last.id) } }
            td { (from_left) @if is_several { ", every " (units.show_section(run.spacing_m)) } }
            td { (section(bay.width_m)) }
            td { (section(bay.height_m)) }
            td { (bay.holes.map_or_else(dash, |holes| holes.to_string())) @if is_several { " each" } }
            td { (grouped(units.mass(bay.mass_kg), decimals)) @if is_several { " each" } }
            @if has_bags {
                td { (run.first.bags_exact.map_or_else(dash, |bags| grouped(bags, 2))) @if is_several { " each" } }
                td { (run.first.to_a_bag_exact.map_or_else(dash, tenth)) }
            }
        }
    }
}
