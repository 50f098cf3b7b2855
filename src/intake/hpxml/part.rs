//! Walls, rim joists, roofs, floors and openings, as the file has them.

use super::document::name;
use super::element::{Element, layers};
use super::side::Sides;
use crate::model::{FramingInPart, OpeningKind, SurfaceKind};
use crate::source::Place;
use crate::units::Written;
use roxmltree::Node;

/// A surface of the file.
pub(super) struct Part {
    pub class: String,
    pub id: String,
    /// The ids that it is the same as, in other states of the building.
    pub same_as: Vec<String>,
    pub place: Place,
    pub kind: SurfaceKind,
    pub sides: Sides,
    /// Gross area.
    pub area: Option<(Place, Written)>,
    pub studs: Studs,
    pub pitch_deg: Option<f64>,
    /// R of the whole assembly.
    pub assembly_r: Option<(Place, Written)>,
    /// R of each layer that is no continuous one and not nought.
    pub nominal_r: Vec<(Place, Written)>,
    /// Layers that are continuous.
    pub continuous: usize,
    pub openings: Vec<Hole>,
    /// Why it can be no framed surface; `None` where it can.
    pub unframed: Option<&'static str>,
    /// What the file does not say of its framing and must.
    pub lacking: Option<FramingInPart>,
}

/// Framing.
#[derive(Default)]
pub(super) struct Studs {
    pub size: Option<String>,
    /// Spacing in inches, as it is written.
    pub spacing: Option<String>,
    pub factor: Option<(Place, Written)>,
    pub is_metal: bool,
}

/// An opening.
pub(super) struct Hole {
    pub id: String,
    pub kind: OpeningKind,
    pub area_m2: f64,
    pub place: Place,
}

/// Groups of the enclosure that are read: the group, its elements, and the element that holds their framing.
pub(super) const GROUPS: [(&str, &str, &[&str]); 7] = [
    ("RimJoists", "RimJoist", &["FloorJoists"]),
    ("Walls", "Wall", &["Studs"]),
    ("FoundationWalls", "FoundationWall", &["InteriorStuds"]),
    ("Roofs", "Roof", &["Rafters"]),
    ("FrameFloors", "FrameFloor", &["FloorJoists", "FloorTrusses"]),
    ("Floors", "Floor", &["FloorJoists", "FloorTrusses"]),
    ("Slabs", "Slab", &[]),
];

/// Openings: the group, its elements, their kind, and the reference to the surface.
pub(super) const OPENINGS: [(&str, &str, OpeningKind, &str); 3] = [
    ("Windows", "Window", OpeningKind::Window, "AttachedToWall"),
    ("Doors", "Door", OpeningKind::Door, "AttachedToWall"),
    ("Skylights", "Skylight", OpeningKind::Skylight, "AttachedToRoof"),
];

/// Kind of a surface.
pub(super) fn kind_of(element: &Element<'_, '_>) -> SurfaceKind {
    let outside = element.text("ExteriorAdjacentTo");
    match name(element.own) {
        "Roof" => SurfaceKind::Roof,
        "Floor" | "FrameFloor" => {
            let is_ceiling = element.text("FloorOrCeiling") == "ceiling" || borders_attic(element);
            if is_ceiling || outside == "other housing unit above" { SurfaceKind::Ceiling } else { SurfaceKind::Floor }
        }
        "Slab" => SurfaceKind::Floor,
        _ => SurfaceKind::Wall,
    }
}

/// Whether an attic lies on one side: either may be called the inner one.
fn borders_attic(element: &Element<'_, '_>) -> bool {
    ["ExteriorAdjacentTo", "InteriorAdjacentTo"].iter().any(|side| element.text(side).starts_with("attic"))
}

/// The element that says how a wall is built.
pub(super) fn wall_type<'a>(element: &Element<'a, '_>) -> Option<&'a str> {
    element.child("WallType")?.children().find(Node::is_element).map(|node| name(node))
}

/// Why a surface has no framed cavity.
pub(super) fn unframed(element: &Element<'_, '_>) -> Option<&'static str> {
    match name(element.own) {
        "Slab" => Some("a slab has no cavity"),
        "FoundationWall" if element.text("Type") == "wood" => None,
        "FoundationWall" => Some("a foundation wall is masonry or concrete; studs before it are not read"),
        "Wall" => match wall_type(element)? {
            "WoodStud" | "DoubleWoodStud" | "SteelFrame" | "Other" => None,
            _ => Some("its wall type has no framed cavity"),
        },
        _ => None,
    }
}

/// What the file does not say of the framing and must. Two rows of studs have one `Studs`, without depth or gap. Over an attic
/// floor fill lies open, loose fill by its `InsulationMaterial` or not; the file says nothing of boards on the joists. The joists
/// at a rim are as high as the rim, and run into the floor: nothing says how far in it is filled.
pub(super) fn lacking(element: &Element<'_, '_>, kind: SurfaceKind) -> Option<FramingInPart> {
    let is_loose = |node: &Node<'_, '_>| node.descendants().any(|node| node.is_element() && name(node) == "LooseFill");
    match kind {
        _ if name(element.own) == "RimJoist" => Some(FramingInPart::RimDepth),
        SurfaceKind::Wall if wall_type(element) == Some("DoubleWoodStud") => Some(FramingInPart::TwoRows),
        SurfaceKind::Ceiling if borders_attic(element) => Some(FramingInPart::OpenAbove),
        SurfaceKind::Ceiling if layers(element.child("Insulation")).any(|layer| is_loose(&layer)) => {
            Some(FramingInPart::OpenAbove)
        }
        _ => None,
    }
}
