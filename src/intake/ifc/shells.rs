//! Bodies of faces that an export left open in form only: parted into several items, or with a face given twice.

use super::context::Context;
use super::corners::Corners;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{FaceBody, Solid};
use std::collections::HashSet;

/// The solids of a body, with open ones mended where nothing is missing: faces that stand twice are taken once, and items that
/// close together, as meshes by material do, are one.
pub fn mended(context: &Context<'_>, id: u64, solids: Vec<Solid>) -> Vec<Solid> {
    let (open, mut sound): (Vec<FaceBody>, Vec<Solid>) = parted(solids);
    let open: Vec<FaceBody> = open.into_iter().map(|body| once(context, id, body)).collect();
    let (closed, open): (Vec<FaceBody>, Vec<FaceBody>) = open.into_iter().partition(|body| body.open_edges() == 0);
    sound.extend(closed.into_iter().map(Solid::Faces));
    let together = joined(&open);
    if open.len() > 1 && together.open_edges() == 0 {
        sound.push(Solid::Faces(together));
    } else {
        sound.extend(open.into_iter().map(Solid::Faces));
    }
    sound
}

/// Bodies of faces that are open, and all other solids.
fn parted(solids: Vec<Solid>) -> (Vec<FaceBody>, Vec<Solid>) {
    let (mut open, mut sound) = (Vec::new(), Vec::new());
    for solid in solids {
        match solid {
            Solid::Faces(body) if body.open_edges() > 0 => open.push(body),
            other => sound.push(other),
        }
    }
    (open, sound)
}

/// The body with each face once, where that leaves fewer edges open.
///
/// Two boxes in one set of faces may touch, and then have a face in common that closes both: that body is not open.
fn once(context: &Context<'_>, id: u64, body: FaceBody) -> FaceBody {
    let mut seen: HashSet<Vec<Vec<usize>>> = HashSet::new();
    let is_new = |face: &&Vec<Vec<usize>>| seen.insert(key(face));
    let faces: Vec<Vec<Vec<usize>>> = body.faces.iter().filter(is_new).cloned().collect();
    let twice = body.faces.len() - faces.len();
    let mended = FaceBody { faces, corners: body.corners.clone() };
    if twice == 0 || mended.open_edges() >= body.open_edges() {
        return body;
    }
    let message = match twice {
        1 => "a face of the body stands twice; it is taken once".to_owned(),
        _ => format!("{twice} faces of the body stand twice; they are taken once"),
    };
    context.note(Trouble::note(Code::BodyOpen, id, message));
    mended
}

/// The corners of a face, whichever it begins with and whichever way it looks.
fn key(face: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let sorted = |ring: &Vec<usize>| {
        let mut ring = ring.clone();
        ring.sort_unstable();
        ring
    };
    let mut rings: Vec<Vec<usize>> = face.iter().map(sorted).collect();
    rings.sort_unstable();
    rings
}

/// All faces as one body, whose corners are one where they are in one place.
fn joined(bodies: &[FaceBody]) -> FaceBody {
    let mut corners = Corners::default();
    let mut faces = Vec::new();
    for body in bodies {
        let at: Vec<usize> = body.corners.iter().map(|place| corners.add_near(*place)).collect();
        let moved = |ring: &Vec<usize>| ring.iter().filter_map(|index| at.get(*index).copied()).collect();
        faces.extend(body.faces.iter().map(|face| face.iter().map(moved).collect::<Vec<Vec<usize>>>()));
    }
    FaceBody { corners: corners.into_places(), faces }
}
