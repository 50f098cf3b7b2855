//! Openings to their place in a surface: where the sheet says, else by common practice.

use super::assumed::Assumed;
use super::field::Field;
use super::opening_row::{OpeningRow, RowKind};
use super::outline::Shape;
use super::surface_row::SurfaceRow;
use crate::finding::{Code, Finding};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Polygon, difference, intersection, total_area_m2};
use crate::model::{DoNotFill, DoNotFillExtent, Extent, Opening, OpeningKind, Surface, SurfaceKey, SurfaceKind};
use crate::refusal::Refusal;
use crate::units::INCH_M;
use crate::units::display::both_ways;
use std::collections::BTreeSet;

/// Height of the head of a window above the floor: that of a 6'-8" door with its frame (common practice, no source).
const HEAD_M: f64 = 82.5 * INCH_M;

/// Most openings in one surface.
const MOST_IN_ONE: u32 = 1000;

/// One of the openings of a row, with its sill known.
struct Piece {
    row: usize,
    id: String,
    sill_m: f64,
    from_m: Option<f64>,
}

/// What became of the openings of one surface.
#[derive(Default)]
pub(super) struct Placed {
    pub findings: Vec<Finding>,
    /// Rows that could not be placed, by index, each with its reason.
    pub refused: Vec<(usize, Refusal)>,
}

/// Places all openings of a surface, in the order of the sheet.
pub(super) fn place_openings(target: &mut SurfaceRow, rows: &[OpeningRow<'_>], assumed: &mut Assumed) -> Placed {
    let mut placed = Placed::default();
    let rows_by_id = refuse_repeated_ids(&target.surface.id, rows, &mut placed);
    let Some(shape) = &target.shape else {
        take_from_area(&mut target.surface, rows, &rows_by_id, &mut placed);
        return placed;
    };
    let mut pieces: Vec<Piece> = Vec::new();
    for &index in &rows_by_id {
        let Some(row) = rows.get(index) else { continue };
        let sill = check_sizes(shape, row).and_then(|()| sill_of(&target.surface, shape, row, assumed));
        match sill.and_then(|sill_m| check_place(shape, row, sill_m).map(|()| sill_m)) {
            Ok(sill_m) if row.kind == RowKind::Platform => {
                target.surface.do_not_fill.push(platform(row, sill_m));
                target.surface.said.push(SurfaceKey::Platform);
            }
            Ok(sill_m) => {
                pieces.extend(row.ids().into_iter().map(|id| Piece { row: index, id, sill_m, from_m: row.offset_m }));
            }
            Err(refusal) => placed.refused.push((index, *refusal)),
        }
    }
    place_free(shape, rows, &mut pieces, &mut placed);
    let surface = &mut target.surface;
    let refused: BTreeSet<usize> = placed.refused.iter().map(|(index, _)| *index).collect();
    for (index, row) in rows.iter().enumerate().filter(|(_, row)| row.offset_m.is_none()) {
        if !refused.contains(&index) {
            let id = format!("{}/{}", surface.id, row.id);
            assumed.common_practice("opening.offset", "centred in the widest free stretch", "", &id);
        }
    }
    carve(surface, rows, pieces, &mut placed);
    placed
}

/// What a platform keeps empty.
fn platform(row: &OpeningRow<'_>, sill_m: f64) -> DoNotFill {
    let from_m = [row.offset_m.unwrap_or_default(), sill_m];
    let extent = DoNotFillExtent::Box { from_m, to_m: [from_m[0] + row.width_m, from_m[1] + row.height_m] };
    DoNotFill { extent, reason: "platform".to_owned(), said_by: None }
}

/// The opening of a row, with what it takes from the surface.
fn opening(row: &OpeningRow<'_>, kind: OpeningKind, id: String, area_m2: f64, outline: Vec<Polygon>) -> Opening {
    let source = Some(row.row.source());
    Opening { id, name: None, kind, source, area_m2, flue: row.flue, clearance_m: row.clearance_m, outline }
}

/// Indices of the rows whose ids are new in this surface, as far as it can have so many openings.
fn refuse_repeated_ids(surface: &str, rows: &[OpeningRow<'_>], placed: &mut Placed) -> Vec<usize> {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let mut openings = 0;
    let mut kept = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        openings = u32::saturating_add(openings, row.count);
        if openings > MOST_IN_ONE {
            let message = format!("`{surface}` has more than {MOST_IN_ONE} openings");
            placed
                .refused
                .push((index, row.row.refuse(Field::Surface, message, "divide the surface, or check the counts")));
        } else if !seen.insert(row.id) {
            let message = format!("`{}` is the second opening of that id in `{surface}`", row.id);
            placed
                .refused
                .push((index, row.row.refuse(Field::Id, message, "give each opening of a surface an id of its own")));
        } else {
            kept.push(index);
        }
    }
    kept
}

/// Openings of a surface of which only the area is known take their area from it.
fn take_from_area(surface: &mut Surface, rows: &[OpeningRow<'_>], kept: &[usize], placed: &mut Placed) {
    let mut left_m2 = surface.gross_area_m2();
    for &index in kept {
        let Some(row) = rows.get(index) else { continue };
        let RowKind::Opening(kind) = row.kind else {
            let message = format!("a platform has a place, and only the area of `{}` is known", surface.id);
            let help = "give the surface's length and height, or leave the platform's area out of the surface's";
            placed.refused.push((index, row.row.refuse(Field::Kind, message, help)));
            continue;
        };
        let area_m2 = row.width_m * row.height_m;
        let taken_m2 = area_m2 * f64::from(row.count);
        if taken_m2 > left_m2 + NEGLIGIBLE_AREA_M2 {
            let message = format!("the openings of `{}` take more than its whole area", surface.id);
            placed
                .refused
                .push((index, row.row.refuse(row.width_field(), message, "check the sizes and the unit of the area")));
            continue;
        }
        left_m2 -= taken_m2;
        for id in row.ids() {
            surface.openings.push(opening(row, kind, id, area_m2, Vec::new()));
        }
    }
}

fn check_sizes(shape: &Shape, row: &OpeningRow<'_>) -> Result<(), Box<Refusal>> {
    if row.width_m > shape.length_m + COINCIDENT_M {
        let message = format!(
            "the opening is {} wide, and its surface {} long",
            both_ways(row.width_m),
            both_ways(shape.length_m)
        );
        return Err(Box::new(row.row.refuse(row.width_field(), message, "check the size, its unit and the surface")));
    }
    if row.height_m > shape.highest_m + COINCIDENT_M {
        let message =
            format!("the opening is {} high, and its surface {}", both_ways(row.height_m), both_ways(shape.highest_m));
        return Err(Box::new(row.row.refuse(row.height_field(), message, "check the size, its unit and the surface")));
    }
    Ok(())
}

/// The sill as the sheet gives it; else a door stands on the floor, a window's head is at the common height or under
/// the top of a lower wall, and what is in a roof, ceiling or floor lies midway up it.
fn sill_of(surface: &Surface, shape: &Shape, row: &OpeningRow<'_>, assumed: &mut Assumed) -> Result<f64, Box<Refusal>> {
    if let Some(sill_m) = row.sill_m {
        return Ok(sill_m);
    }
    let id = format!("{}/{}", surface.id, row.id);
    let room_m = match row.offset_m {
        Some(from_m) => shape.room_over_m(from_m, from_m + row.width_m),
        None => shape.most_room_m(row.width_m),
    };
    if row.height_m > room_m + COINCIDENT_M {
        let message =
            format!("the opening is {} high, and there is room for {}", both_ways(row.height_m), both_ways(room_m));
        return Err(Box::new(row.row.refuse(row.height_field(), message, "check the size, its unit and the offset")));
    }
    let (key, value, unit, sill_m) = match (row.kind, surface.kind) {
        (RowKind::Opening(OpeningKind::Door), _) => ("opening.sill", "0", "in", 0.0),
        (_, SurfaceKind::Wall) if room_m < HEAD_M => {
            ("opening.head", "under the top of the wall", "", room_m - row.height_m)
        }
        (_, SurfaceKind::Wall) => ("opening.head", "82 1/2", "in", HEAD_M - row.height_m),
        _ => ("opening.sill", "midway up the surface", "", (room_m - row.height_m) / 2.0),
    };
    assumed.common_practice(key, value, unit, &id);
    Ok(sill_m.max(0.0))
}

/// Whether an opening with a sill, and with an offset if it has one, stays within the surface.
fn check_place(shape: &Shape, row: &OpeningRow<'_>, sill_m: f64) -> Result<(), Box<Refusal>> {
    let head_m = sill_m + row.height_m;
    let height = if row.sill_m.is_some() { Field::Sill } else { row.height_field() };
    let room_m = match row.offset_m {
        Some(from_m) if from_m + row.width_m > shape.length_m + COINCIDENT_M => {
            let message = format!(
                "the opening ends {} from the left, and its surface is {} long",
                both_ways(from_m + row.width_m),
                both_ways(shape.length_m)
            );
            let help =
                "measure the offset from the surface's left end, as seen from outside, to the opening's left edge";
            return Err(Box::new(row.row.refuse(Field::Offset, message, help)));
        }
        Some(from_m) => shape.room_over_m(from_m, from_m + row.width_m),
        None => shape.most_room_m(row.width_m),
    };
    if head_m > room_m + COINCIDENT_M {
        let message = format!(
            "the opening's head is at {}, and its surface is {} high there",
            both_ways(head_m),
            both_ways(room_m)
        );
        return Err(Box::new(row.row.refuse(height, message, "check the sill, the height and their units")));
    }
    let is_free = match row.offset_m {
        Some(from_m) => shape.holds_box([from_m, sill_m], [from_m + row.width_m, head_m]),
        None => !shape.free_stretches(sill_m, head_m).is_empty(),
    };
    if !is_free {
        let message = format!(
            "the opening reaches from {} to {} above the low end of its surface's outline, and is not within it",
            both_ways(sill_m),
            both_ways(head_m)
        );
        let help = "measure sill and offset from the lower left of the box around the outline, such as `2'-10\"`";
        return Err(Box::new(row.row.refuse(height, message, help)));
    }
    Ok(())
}

/// Gives a place to the openings without an offset, one by one.
fn place_free(shape: &Shape, rows: &[OpeningRow<'_>], pieces: &mut Vec<Piece>, placed: &mut Placed) {
    let width_of = |piece: &Piece| rows.get(piece.row).map_or(0.0, |row| row.width_m);
    let mut taken: Vec<(f64, f64)> =
        pieces.iter().filter_map(|piece| piece.from_m.map(|from_m| (from_m, from_m + width_of(piece)))).collect();
    let mut refused: Vec<usize> = Vec::new();
    for piece in pieces.iter_mut().filter(|piece| piece.from_m.is_none()) {
        let Some(row) = rows.get(piece.row) else { continue };
        if refused.contains(&piece.row) {
            continue;
        }
        let (from_m, to_m) = widest_free(&shape.free_stretches(piece.sill_m, piece.sill_m + row.height_m), &taken);
        if to_m - from_m < row.width_m - 2.0 * COINCIDENT_M {
            let message = format!(
                "the opening is {} wide, and the widest free stretch is {}",
                both_ways(row.width_m),
                both_ways(to_m - from_m)
            );
            let help = "check the openings of this surface, or give them offsets";
            placed.refused.push((piece.row, row.row.refuse(row.width_field(), message, help)));
            refused.push(piece.row);
            continue;
        }
        let at_m = ((from_m + to_m - row.width_m) / 2.0).clamp(0.0, (shape.length_m - row.width_m).max(0.0));
        piece.from_m = Some(at_m);
        taken.push((at_m, at_m + row.width_m));
    }
    pieces.retain(|piece| !refused.contains(&piece.row));
}

/// The widest stretch, of those that are within reach, that nothing takes; the leftmost of equals.
fn widest_free(reach: &[(f64, f64)], taken: &[(f64, f64)]) -> (f64, f64) {
    let mut sorted = taken.to_vec();
    sorted.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut best = reach.first().map_or((0.0, 0.0), |first| (first.0, first.0));
    for &(start_m, end_m) in reach {
        let mut from_m = start_m;
        for (taken_from_m, taken_to_m) in sorted.iter().copied().chain([(end_m, end_m)]) {
            let to_m = taken_from_m.min(end_m);
            if to_m - from_m > best.1 - best.0 + COINCIDENT_M {
                best = (from_m, to_m);
            }
            from_m = from_m.max(taken_to_m);
        }
    }
    best
}

/// Cuts the openings out in the order of the sheet: a later one keeps only what earlier ones left.
fn carve(surface: &mut Surface, rows: &[OpeningRow<'_>], pieces: Vec<Piece>, placed: &mut Placed) {
    let Extent::Outline(wall) = &surface.extent else { return };
    let mut cut: Vec<(String, Polygon)> = Vec::new();
    for piece in pieces {
        let (Some(row), Some(from_m)) = (rows.get(piece.row), piece.from_m) else { continue };
        let RowKind::Opening(kind) = row.kind else { continue };
        let whole = Polygon::rectangle(from_m, piece.sill_m, from_m + row.width_m, piece.sill_m + row.height_m);
        let inside = intersection(std::slice::from_ref(&whole), wall);
        let over: Vec<&(String, Polygon)> = cut.iter().filter(|(_, other)| boxes_meet(&whole, other)).collect();
        let others: Vec<Polygon> = over.iter().map(|(_, other)| other.clone()).collect();
        let outline = difference(&inside, &others);
        let area_m2 = total_area_m2(&outline);
        let names = over.iter().take(4).map(|(id, _)| format!("`{id}`")).collect::<Vec<_>>().join(", ");
        if area_m2 <= NEGLIGIBLE_AREA_M2 {
            let message = format!("the opening lies wholly within {names}");
            placed.refused.push((
                piece.row,
                row.row.refuse(Field::Offset, message, "check the offset, or remove the row if it is there twice"),
            ));
            continue;
        }
        if !others.is_empty() {
            let message = format!("the opening overlaps {names}; what they share is taken out once");
            placed.findings.push(Finding::warning(Code::RowDoubt, &row.row.place(), message));
        }
        cut.push((piece.id.clone(), whole));
        surface.openings.push(opening(row, kind, piece.id, area_m2, outline));
    }
}

fn boxes_meet(one: &Polygon, other: &Polygon) -> bool {
    let (Some(a), Some(b)) = (one.bounds(), other.bounds()) else { return false };
    let meet = |from: f64, to: f64| to - from > COINCIDENT_M;
    meet(a.min_x.max(b.min_x), a.max_x.min(b.max_x)) && meet(a.min_y.max(b.min_y), a.max_y.min(b.max_y))
}
