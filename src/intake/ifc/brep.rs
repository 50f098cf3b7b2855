//! Bodies given by their boundary: shells of faces, each face bounded by loops of points or of edges.

use super::context::Context;
use super::corners::Corners;
use super::edge::{Edges, Used};
use super::record::Record;
use super::ruled::Ruled;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::geometry::{FaceBody, Frame, Solid};

/// How often the edges of curved faces are given corners on each other's rulings: faces side by side need a few rounds.
const ROUNDS: usize = 8;

/// `IfcFacetedBrep` and `IfcAdvancedBrep`, with or without voids.
///
/// # Errors
/// A face, loop, edge or surface that cannot be used, or of a class that is not measured.
pub fn boundary(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let mut shells = vec![record.reference(0, "outer shell")?];
    if record.class().ends_with("WITHVOIDS") {
        shells.extend(record.references(1, "voids")?);
    }
    body_of(context, record, &shells, frame)
}

/// `IfcFaceBasedSurfaceModel` and `IfcShellBasedSurfaceModel`.
///
/// # Errors
/// As for [`boundary`].
pub fn surface_model(context: &Context<'_>, record: &Record<'_>, frame: &Frame) -> Result<Solid, Trouble> {
    let shells = record.references(0, "face sets")?;
    body_of(context, record, &shells, frame)
}

fn body_of(context: &Context<'_>, record: &Record<'_>, shells: &[u64], frame: &Frame) -> Result<Solid, Trouble> {
    let mut shape = Boundary { context, frame, corners: Corners::default(), edges: Edges::default() };
    let mut faces = Vec::new();
    for &id in shells {
        let shell = context.file.follow(record.id, id)?;
        let turned = shell.is("IFCORIENTEDCLOSEDSHELL") && shell.logical(2) == Some(false);
        let shell = if shell.is("IFCORIENTEDCLOSEDSHELL") {
            context.file.follow(id, shell.reference(1, "shell")?)?
        } else {
            shell
        };
        for face in shell.references(0, "faces")? {
            faces.push(Face { turned, ..shape.face(shell.id, face)? });
        }
    }
    if faces.is_empty() {
        return Err(Trouble::new(Code::NoBody, record.id, "the body has no faces"));
    }
    let faces = shape.flat_faces(&faces)?;
    Ok(Solid::Faces(FaceBody { corners: shape.corners.into_places(), faces }))
}

/// A face as it is read: its edges may be refined before it is laid out.
struct Face {
    id: u64,
    loops: Vec<Loop>,
    /// The surface, where it is curved.
    surface: Option<Ruled>,
    /// Whether the face looks against the normal of its surface.
    against: bool,
    /// Whether its shell is turned inside out.
    turned: bool,
}

enum Loop {
    /// Straight from corner to corner.
    Corners(Vec<usize>),
    /// Along edges.
    Edges { used: Vec<Used>, turned: bool },
}

struct Boundary<'a> {
    context: &'a Context<'a>,
    frame: &'a Frame,
    corners: Corners,
    edges: Edges,
}

impl Boundary<'_> {
    fn face(&mut self, from: u64, id: u64) -> Result<Face, Trouble> {
        let face = self.context.file.follow(from, id)?;
        let mut loops = Vec::new();
        for bound in face.references(0, "bounds")? {
            let bound = self.context.file.follow(id, bound)?;
            let turned = bound.logical(1) == Some(false);
            let ring = self.context.file.follow(bound.id, bound.reference(0, "loop")?)?;
            loops.push(self.read_loop(&ring, turned)?);
        }
        let has_surface = face.is("IFCADVANCEDFACE") || face.is("IFCFACESURFACE");
        let by_edges = loops.iter().all(|ring| matches!(ring, Loop::Edges { .. }));
        let surface = if has_surface && by_edges { self.surface(&face)? } else { None };
        Ok(Face { id, loops, surface, against: face.logical(2) == Some(false), turned: false })
    }

    fn read_loop(&mut self, ring: &Record<'_>, turned: bool) -> Result<Loop, Trouble> {
        let (context, frame) = (self.context, self.frame);
        if ring.is("IFCPOLYLOOP") {
            let points = ring.references(0, "points")?;
            let named = |point: &u64| self.corners.named(context, ring.id, *point, frame);
            let mut corners = points.iter().map(named).collect::<Result<Vec<_>, _>>()?;
            if turned {
                corners.reverse();
            }
            return Ok(Loop::Corners(corners));
        }
        if ring.is("IFCEDGELOOP") {
            let used = self.edges.read(context, ring, frame, &mut self.corners)?;
            return Ok(Loop::Edges { used, turned });
        }
        let message = format!("face loops of class {} are not measured", ring.class());
        Err(Trouble::new(Code::BodyNotMeasured, ring.id, message))
    }

    /// The surface of a face, where it is curved.
    fn surface(&self, face: &Record<'_>) -> Result<Option<Ruled>, Trouble> {
        let surface = self.context.file.follow(face.id, face.reference(1, "surface")?)?;
        match surface.class().as_ref() {
            "IFCPLANE" => Ok(None),
            "IFCCYLINDRICALSURFACE" | "IFCSURFACEOFLINEAREXTRUSION" => {
                Ruled::read(self.context, &surface, self.frame).map(Some)
            }
            class => {
                let message = format!("faces on surfaces of class {class} are not measured");
                Err(Trouble::new(Code::BodyNotMeasured, surface.id, message))
            }
        }
    }

    /// All faces as flat ones: loops of corners.
    fn flat_faces(&mut self, faces: &[Face]) -> Result<Vec<Vec<Vec<usize>>>, Trouble> {
        for _ in 0..ROUNDS {
            let mut is_new = false;
            for face in faces {
                if let Some(surface) = &face.surface {
                    is_new |= surface.refine(face.id, &face.edges(), &mut self.edges, &mut self.corners)?;
                }
            }
            if !is_new {
                break;
            }
        }
        let mut flat = Vec::new();
        for face in faces {
            match &face.surface {
                Some(surface) => {
                    let strips = surface.strips(face.id, &face.edges(), &self.edges, &self.corners)?;
                    let facing = |mut strip: Vec<usize>| {
                        if face.against != face.turned {
                            strip.reverse();
                        }
                        vec![strip]
                    };
                    flat.extend(strips.into_iter().map(facing));
                }
                None => flat.push(face.loops.iter().map(|ring| self.ring(ring, face.turned)).collect()),
            }
        }
        Ok(flat)
    }

    fn ring(&self, ring: &Loop, face_turned: bool) -> Vec<usize> {
        let (mut corners, turned) = match ring {
            Loop::Corners(corners) => (corners.clone(), false),
            Loop::Edges { used, turned } => (self.edges.ring(used), *turned),
        };
        if turned != face_turned {
            corners.reverse();
        }
        corners
    }
}

impl Face {
    fn edges(&self) -> Vec<Vec<Used>> {
        let edges = |ring: &Loop| if let Loop::Edges { used, .. } = ring { Some(used.clone()) } else { None };
        self.loops.iter().filter_map(edges).collect()
    }
}
