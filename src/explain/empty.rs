//! What stays empty in bays whose area is filled: fill that is there already, what pipes and keys take, the eave wedge.

use super::partial::of_bay_below;
use super::step::{Figure, Line, Operation};
use super::surface::sum;
use super::{Subject, assigned_of, wedge};
use crate::bays::EAVE_WEDGE;
use crate::job::Filling;
use crate::model::ExistingExtent;
use crate::takeoff::{BayTakeoff, LeftOutTakeoff, SurfaceTakeoff};

/// Volumes that differ by less are the same, in cubic metres.
const SAME_M3: f64 = 1e-9;

/// What takes room in the bays, and how much of it.
enum Takes {
    /// A share of the volume between the framing.
    Share(f64),
    /// All below a thickness, in metres, but for the framing there.
    BelowM(f64),
}

/// One entry of what stays empty in a bay.
struct Entry {
    what: String,
    lines: Vec<Line>,
    volume_m3: f64,
}

/// What stays empty in one bay, step by step.
pub(super) fn of_bay(subject: &Subject<'_>, bay: &BayTakeoff) -> Vec<Line> {
    if bay.empty_m3 <= 0.0 {
        return Vec::new();
    }
    let entries = entries(subject, bay);
    let mut lines = if has_shares(subject) { vec![between(bay)] } else { Vec::new() };
    let mut parts = Vec::new();
    let listed_m3: f64 = entries.iter().map(|entry| entry.volume_m3).sum();
    for piece in own_pieces(subject.surface, bay) {
        // What all bays share is, in this one, what the others leave of its empty volume.
        let volume_m3 = match piece.bay {
            Some(_) => piece.volume_m3.unwrap_or(0.0),
            None => bay.empty_m3 - listed_m3,
        };
        let mut from = "";
        if piece.reason == EAVE_WEDGE {
            lines.extend(wedge::lines(subject));
            from = wedge_words(subject);
        }
        parts.push(Figure::volume(volume_m3));
        lines.push(Line::given(format!("{}, in this bay", piece.reason), Figure::volume(volume_m3), from));
    }
    for entry in entries {
        parts.push(Figure::volume(entry.volume_m3));
        lines.extend(entry.lines);
    }
    lines.extend(sum("stays empty in this bay", &parts, Figure::volume(bay.empty_m3)));
    lines
}

/// What a bay's part of the eave wedge is: old fill is reckoned up to its thickness, so that what the roof takes of that is in it.
fn wedge_words(subject: &Subject<'_>) -> &'static str {
    if taken_by(subject).iter().any(|(_, takes)| matches!(takes, Takes::BelowM(_))) {
        "what of it lies in this bay above what is filled already, less the framing there"
    } else {
        "what of it lies in this bay, less the framing there"
    }
}

/// What stays empty in all bays of one, and how that is shared by them.
pub(super) fn of_surface(subject: &Subject<'_>) -> Vec<Line> {
    let surface = subject.surface;
    let pieces: Vec<&LeftOutTakeoff> = surface.left_out.iter().filter(|piece| piece.area_m2 <= 0.0).collect();
    if pieces.is_empty() {
        return Vec::new();
    }
    let mut lines = Vec::new();
    if let ([only], true) = (surface.bays.as_slice(), pieces.iter().all(|piece| piece.bay.is_none())) {
        return of_bay(subject, only);
    }
    if has_shares(subject) {
        lines.push(between_all(surface));
    }
    if pieces.iter().any(|piece| piece.reason == EAVE_WEDGE) {
        lines.extend(wedge::lines(subject));
    }
    let mut parts = Vec::new();
    for piece in pieces {
        let volume = Figure::volume(piece.volume_m3.unwrap_or(0.0));
        lines.push(piece_of_all(subject, piece, volume));
        parts.push(volume);
    }
    let empty = Figure::volume(surface.bays.iter().map(|bay| bay.empty_m3).sum());
    lines.extend(sum("stays empty in all bays", &parts, empty));
    let by_bay: Vec<Figure> = surface.bays.iter().map(|bay| Figure::volume(bay.empty_m3)).collect();
    lines.extend(sum("and bay by bay", &by_bay, empty));
    lines.push(Line::text("the steps of one bay stand in the derivation of that bay, as `ID#1`"));
    lines
}

/// A share of all bays as a step; what is not the same share of each is given, with where it is computed.
fn piece_of_all(subject: &Subject<'_>, piece: &LeftOutTakeoff, volume: Figure) -> Line {
    let surface = subject.surface;
    if let Some(bay) = &piece.bay {
        return Line::given(format!("{}, in bay {bay}", piece.reason), volume, "");
    }
    let share = taken_by(subject).into_iter().find_map(|takes| match takes {
        (reason, Takes::Share(share)) if reason == piece.reason => Some(share),
        _ => None,
    });
    let framed_m3 = surface.bays.iter().map(framed_m3).sum::<f64>();
    match share {
        Some(share) if (framed_m3 * share - volume.si).abs() <= SAME_M3 => Line::step(
            format!("{}, its share", piece.reason),
            Figure::volume(framed_m3),
            [(Operation::Times, Figure::number(share))],
            volume,
        ),
        Some(_) => Line::given(&piece.reason, volume, "bay by bay, in some of them all that is left"),
        None => Line::given(&piece.reason, volume, "bay by bay"),
    }
}

/// Pieces of a bay's volume that are neither fill that is there nor a share that something takes.
fn own_pieces<'s>(surface: &'s SurfaceTakeoff, bay: &BayTakeoff) -> Vec<&'s LeftOutTakeoff> {
    let is_own = |piece: &&LeftOutTakeoff| match &piece.bay {
        Some(own) => *own == bay.id,
        None => piece.reason == EAVE_WEDGE,
    };
    surface.left_out.iter().filter(|piece| piece.area_m2 <= 0.0).filter(is_own).collect()
}

fn has_shares(subject: &Subject<'_>) -> bool {
    taken_by(subject).iter().any(|(_, takes)| matches!(takes, Takes::Share(..)))
}

/// What the job and the sheet say of the bays, in the order in which it is taken off, with the reason in the takeoff.
fn taken_by(subject: &Subject<'_>) -> Vec<(String, Takes)> {
    let filling = filling_of(subject);
    let existing = filling.as_ref().and_then(|filling| filling.existing).filter(|existing| !existing.is_removed);
    let existing = existing.map(|existing| {
        let takes = match existing.extent {
            // Where fill lies open, a share is one of its thickness.
            ExistingExtent::Share(share) if subject.surface.open_blown.is_some() => {
                Takes::BelowM(share * subject.surface.depth_m.unwrap_or(0.0))
            }
            ExistingExtent::Share(share) => Takes::Share(share),
            ExistingExtent::ThicknessM(thickness_m) => Takes::BelowM(thickness_m),
        };
        (format!("filled already: {}", existing.what), takes)
    });
    let displaced = filling.map(|filling| filling.displaced).unwrap_or_default();
    let displaced = displaced.iter().map(|one| (one.what.clone(), Takes::Share(one.share)));
    let all = existing.into_iter().chain(displaced);
    all.filter(|(reason, _)| subject.surface.left_out.iter().any(|piece| piece.reason == *reason)).collect()
}

fn filling_of<'o>(subject: &Subject<'o>) -> Option<Filling<'o>> {
    Some(subject.origin.job.filling_of(subject.read?, &assigned_of(subject)?))
}

fn framed_m3(bay: &BayTakeoff) -> f64 {
    bay.area_m2 * bay.depth_m - bay.displaced_m3
}

fn between(bay: &BayTakeoff) -> Line {
    volume_between(bay.area_m2, bay.depth_m, bay.displaced_m3)
}

fn between_all(surface: &SurfaceTakeoff) -> Line {
    let total = |of: fn(&BayTakeoff) -> f64| surface.bays.iter().map(of).sum::<f64>();
    let depth_m = surface.bays.first().map_or(0.0, |bay| bay.depth_m);
    volume_between(total(|bay| bay.area_m2), depth_m, total(|bay| bay.displaced_m3))
}

fn volume_between(area_m2: f64, depth_m: f64, displaced_m3: f64) -> Line {
    let mut rest = vec![(Operation::Times, Figure::length(depth_m))];
    if displaced_m3 > 0.0 {
        rest.push((Operation::Minus, Figure::volume(displaced_m3)));
    }
    let result = Figure::volume(area_m2 * depth_m - displaced_m3);
    Line::step("volume between the framing: area x depth less framing", Figure::area(area_m2), rest, result)
}

/// What existing fill and shares take of one bay, each in turn and none more than is left.
fn entries(subject: &Subject<'_>, bay: &BayTakeoff) -> Vec<Entry> {
    let taken = taken_by(subject);
    let own_m3: f64 = own_pieces(subject.surface, bay)
        .iter()
        .filter(|piece| piece.bay.is_some())
        .filter_map(|piece| piece.volume_m3)
        .sum();
    let mut room_m3 = framed_m3(bay) - own_m3;
    let mut entries = Vec::new();
    for (reason, takes) in taken {
        let mut entry = match takes {
            Takes::Share(share) => of_share(reason, bay, share),
            Takes::BelowM(thickness_m) => of_thickness(subject, reason, bay, thickness_m),
        };
        if entry.volume_m3 > room_m3 + SAME_M3 {
            entry.volume_m3 = room_m3;
            let left = Line::given(format!("{}, all that is left of the bay", entry.what), Figure::volume(room_m3), "");
            entry.lines.push(left);
        }
        room_m3 -= entry.volume_m3;
        entries.push(entry);
    }
    entries
}

fn of_share(reason: String, bay: &BayTakeoff, share: f64) -> Entry {
    let volume_m3 = framed_m3(bay) * share;
    let by = [(Operation::Times, Figure::number(share))];
    let line =
        Line::step(format!("{reason}, its share"), Figure::volume(framed_m3(bay)), by, Figure::volume(volume_m3));
    Entry { what: reason, lines: vec![line], volume_m3 }
}

fn of_thickness(subject: &Subject<'_>, reason: String, bay: &BayTakeoff, thickness_m: f64) -> Entry {
    let (mut lines, framing_m3) = of_bay_below(subject, bay, thickness_m);
    if !lines.is_empty() {
        lines.insert(0, Line::text("framing in the thickness that is filled already"));
    }
    let volume_m3 = bay.area_m2 * thickness_m - framing_m3;
    let mut rest = vec![(Operation::Times, Figure::length(thickness_m))];
    if framing_m3 > 0.0 {
        rest.push((Operation::Minus, Figure::volume(framing_m3)));
    }
    let what = format!("{reason}: area x thickness{}", if framing_m3 > 0.0 { " less framing" } else { "" });
    lines.push(Line::step(what, Figure::area(bay.area_m2), rest, Figure::volume(volume_m3)));
    Entry { what: reason, lines, volume_m3 }
}
