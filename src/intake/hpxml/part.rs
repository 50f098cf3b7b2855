//! Walls, rim joists, roofs, floors and openings, as the file has them.

use super::document::{Document, child, children, name};
use crate::finding::{Code, Finding};
use crate::model::{Exposure, OpeningKind, SurfaceKind};
use crate::refusal::Refusal;
use crate::source::Place;
use crate::units::{HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, INCH_M, SQUARE_FOOT_M2, Written};
use roxmltree::Node;

/// How the trade writes a resistance.
const R: &str = "R-";

/// A surface of the file.
pub(super) struct Part {
    pub class: String,
    pub id: String,
    /// The id that it is the same as, in another state of the building.
    pub same_as: Option<String>,
    pub place: Place,
    pub kind: SurfaceKind,
    pub exposure: Exposure,
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
}

/// Framing.
#[derive(Default)]
pub(super) struct Studs {
    pub size: Option<String>,
    pub spacing_m: Option<f64>,
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

/// Reads all surfaces with their openings.
///
/// # Errors
/// A file without an enclosure, figures that are none, and an id that is missing or comes twice.
pub(super) fn read_parts(document: &Document<'_>, findings: &mut Vec<Finding>) -> Result<Vec<Part>, Vec<Refusal>> {
    let Some(enclosure) = document.enclosure() else {
        let place = document.place(document.root());
        return Err(vec![Refusal::new(
            place,
            "the file has no building with an enclosure",
            "nothing can be read of it",
        )]);
    };
    let mut reader = Reader { document, refusals: Vec::new() };
    let mut parts: Vec<Part> = Vec::new();
    for (group, element, framing) in GROUPS {
        for node in children(enclosure, group).flat_map(|group| children(group, element)) {
            let part = reader.part(node, framing);
            if parts.iter().any(|other| other.id == part.id) {
                let message = format!("the id `{}` comes twice", part.id);
                reader.refusals.push(Refusal::new(part.place.clone(), message, "give each element an id of its own"));
            }
            parts.push(part);
        }
    }
    for (group, element, kind, reference) in OPENINGS {
        for node in children(enclosure, group).flat_map(|group| children(group, element)) {
            reader.opening(node, kind, reference, &mut parts, findings);
        }
    }
    if reader.refusals.is_empty() { Ok(parts) } else { Err(reader.refusals) }
}

struct Reader<'d, 't> {
    document: &'d Document<'t>,
    refusals: Vec<Refusal>,
}

impl Reader<'_, '_> {
    /// A number of an element, nought or more, times what makes it SI.
    fn number(&mut self, node: Option<Node<'_, '_>>, to_si: f64, unit: &str) -> Option<(Place, Written)> {
        let node = node?;
        let text = node.text().unwrap_or_default().trim();
        match text.parse::<f64>() {
            Ok(value) if (0.0..1e9).contains(&value) => {
                let shown =
                    if unit == R { format!("{R}{text}") } else { format!("{text} {unit}").trim_end().to_owned() };
                Some((self.document.place(node), Written::new(value * to_si, shown)))
            }
            _ => {
                let message = format!("`{text}` in `{}` is no number, nought or more", name(node));
                self.refusals.push(Refusal::new(self.document.place(node), message, "write a number such as `252`"));
                None
            }
        }
    }

    fn part(&mut self, node: Node<'_, '_>, framing: &[&str]) -> Part {
        let identifier = child(node, "SystemIdentifier");
        let attribute = |word: &str| identifier.and_then(|node| node.attribute(word)).map(str::to_owned);
        let place = self.document.place(node);
        let id = attribute("id").unwrap_or_default();
        if id.is_empty() {
            let message = format!("this `{}` has no id", name(node));
            self.refusals.push(Refusal::new(place.clone(), message, "give it `<SystemIdentifier id=\"…\"/>`"));
        }
        let insulation = child(node, "Insulation");
        let r = HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;
        let mut nominal_r = Vec::new();
        let mut continuous = 0;
        for layer in insulation.into_iter().flat_map(|node| children(node, "Layer")) {
            let kind = child(layer, "InstallationType").and_then(|node| node.text()).unwrap_or_default();
            if kind.contains("continuous") {
                continuous += 1;
                continue;
            }
            let found = self.number(child(layer, "NominalRValue"), r, R);
            nominal_r.extend(found.filter(|(_, written)| written.si > 0.0));
        }
        Part {
            class: name(node).to_owned(),
            same_as: attribute("sameas"),
            id,
            place,
            kind: kind_of(node),
            exposure: exposure_of(node),
            area: self.number(child(node, "Area"), SQUARE_FOOT_M2, "ft2").filter(|(_, area)| area.si > 0.0),
            studs: self.studs(framing.iter().find_map(|word| child(node, word))),
            // The standard's pitch is the rise over a run of 12.
            pitch_deg: self.number(child(node, "Pitch"), 1.0 / 12.0, "").map(|(_, rise)| rise.si.atan().to_degrees()),
            assembly_r: self
                .number(insulation.and_then(|node| child(node, "AssemblyEffectiveRValue")), r, R)
                .filter(|(_, written)| written.si > 0.0),
            nominal_r,
            continuous,
            openings: Vec::new(),
            unframed: unframed(node),
        }
    }

    fn studs(&mut self, node: Option<Node<'_, '_>>) -> Studs {
        let Some(node) = node else { return Studs::default() };
        let text = |word: &str| child(node, word).and_then(|node| node.text()).map(|text| text.trim().to_owned());
        Studs {
            size: text("Size").filter(|size| size != "other"),
            spacing_m: self.number(child(node, "Spacing"), INCH_M, "in").map(|(_, spacing)| spacing.si),
            factor: self.number(child(node, "FramingFactor"), 1.0, ""),
            is_metal: text("Material").as_deref() == Some("metal"),
        }
    }

    fn opening(
        &mut self,
        node: Node<'_, '_>,
        kind: OpeningKind,
        reference: &str,
        parts: &mut [Part],
        findings: &mut Vec<Finding>,
    ) {
        let place = self.document.place(node);
        let id = child(node, "SystemIdentifier").and_then(|node| node.attribute("id")).unwrap_or("opening").to_owned();
        let area = self.number(child(node, "Area"), SQUARE_FOOT_M2, "ft2").map(|(_, area)| area.si);
        let host = child(node, reference).and_then(|node| node.attribute("idref"));
        let host = host.and_then(|host| parts.iter_mut().find(|part| part.id == host));
        match (area.filter(|area_m2| *area_m2 > 0.0), host) {
            (Some(area_m2), Some(host)) => host.openings.push(Hole { id, kind, area_m2, place }),
            (area, _) => {
                let why = if area.is_none() { "has no area" } else { "is in no surface of the file" };
                let message = format!("the {} `{id}` {why}: it takes nothing from any area", name(node).to_lowercase());
                findings.push(Finding::warning(Code::OpeningWithoutElement, &place, message));
            }
        }
    }
}

fn text_of<'a>(node: Node<'a, '_>, word: &str) -> &'a str {
    child(node, word).and_then(|node| node.text()).map_or("", str::trim)
}

fn kind_of(node: Node<'_, '_>) -> SurfaceKind {
    let outside = text_of(node, "ExteriorAdjacentTo");
    match name(node) {
        "Roof" => SurfaceKind::Roof,
        "Floor" | "FrameFloor" => {
            let is_ceiling = text_of(node, "FloorOrCeiling") == "ceiling" || outside.starts_with("attic");
            if is_ceiling || outside == "other housing unit above" { SurfaceKind::Ceiling } else { SurfaceKind::Floor }
        }
        "Slab" => SurfaceKind::Floor,
        _ => SurfaceKind::Wall,
    }
}

/// What lies on the other side, by the standard's words.
fn exposure_of(node: Node<'_, '_>) -> Exposure {
    let side = |word: &str| match text_of(node, word) {
        "" => Exposure::Unknown,
        "outside" | "ambient" | "ground" | "manufactured home underbelly" => Exposure::Exterior,
        "conditioned space" | "living space" | "other heated space" | "other" => Exposure::Interior,
        text if text.starts_with("other housing unit") || text.ends_with("- conditioned") => Exposure::Interior,
        _ => Exposure::Unconditioned,
    };
    match side("ExteriorAdjacentTo") {
        // A roof has the outdoors above it; over an attic that is not heated it bounds no heated room.
        Exposure::Unknown if name(node) == "Roof" => match side("InteriorAdjacentTo") {
            Exposure::Interior => Exposure::Exterior,
            Exposure::Unconditioned => Exposure::Interior,
            other => other,
        },
        other => other,
    }
}

fn unframed(node: Node<'_, '_>) -> Option<&'static str> {
    match name(node) {
        "Slab" => Some("a slab has no cavity"),
        "FoundationWall" => Some("a foundation wall is masonry or concrete"),
        "Wall" => {
            let kind = child(node, "WallType")?.children().find(Node::is_element)?;
            match name(kind) {
                "WoodStud" | "DoubleWoodStud" | "SteelFrame" | "Other" => None,
                _ => Some("its wall type has no framed cavity"),
            }
        }
        _ => None,
    }
}
