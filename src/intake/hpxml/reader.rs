//! Surfaces and openings out of the elements of a file.

use super::document::{Document, child, children, name};
use super::element::{Element, Objects, layers, text};
use super::part::{GROUPS, Hole, OPENINGS, Part, Studs, kind_of, lacking, unframed, wall_type};
use super::side::sides;
use super::told::Told;
use crate::finding::{Code, Finding};
use crate::model::OpeningKind;
use crate::refusal::Refusal;
use crate::source::Place;
use crate::units::{HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, SQUARE_FOOT_M2, Written};
use roxmltree::Node;
use std::collections::{HashMap, HashSet};

/// How the trade writes a resistance.
const R: &str = "R-";
/// No figure of a home is greater.
const MOST: f64 = 1e9;
/// Surfaces, and openings, beyond which no home is described.
const MOST_OBJECTS: usize = 20_000;

/// Reads all surfaces with their openings.
///
/// # Errors
/// A file without an enclosure or with more than any home has, figures that are none, and an id that is missing or comes twice.
pub(super) fn read_parts(document: &Document<'_>, findings: &mut Vec<Finding>) -> Result<Vec<Part>, Vec<Refusal>> {
    let refuse = |node: Node<'_, '_>, message: String, help: &str| {
        Err(vec![Refusal::new(document.place(node), message, help.to_owned())])
    };
    let Some(enclosure) = document.enclosure() else {
        let message = "the file has no building with an enclosure".to_owned();
        return refuse(document.root(), message, "nothing can be read of it");
    };
    let elements = |group: &'static str, element: &'static str| {
        children(enclosure, group).flat_map(move |group| children(group, element))
    };
    let surfaces =
        || GROUPS.iter().flat_map(|(group, element, framing)| elements(group, element).map(|n| (n, *framing)));
    let holes =
        || OPENINGS.iter().flat_map(|(group, element, kind, to)| elements(group, element).map(|n| (n, *kind, *to)));
    for count in [surfaces().count(), holes().count()] {
        if count > MOST_OBJECTS {
            let message =
                format!("the enclosure has {count} surfaces or openings; at most {MOST_OBJECTS} of each are read");
            return refuse(enclosure, message, "give the file of one home");
        }
    }
    let objects = Objects::of(document);
    let mut reader = Reader { document, objects, refusals: Vec::new(), told: Told::default() };
    let mut parts: Vec<Part> = Vec::new();
    let mut ids: HashSet<String> = HashSet::new();
    for (node, framing) in surfaces() {
        let part = reader.part(node, framing);
        if !ids.insert(part.id.clone()) {
            let message = format!("the id `{}` comes twice", part.id);
            reader.refusals.push(Refusal::new(part.place.clone(), message, "give each element an id of its own"));
        }
        parts.push(part);
    }
    let hosts = hosts(&parts);
    for (node, kind, reference) in holes() {
        reader.opening(node, kind, reference, (&mut parts, &hosts));
    }
    findings.extend(reader.told.findings());
    if reader.refusals.is_empty() { Ok(parts) } else { Err(reader.refusals) }
}

/// Indices of the surfaces by their ids, and by those that they are the same as.
fn hosts(parts: &[Part]) -> HashMap<String, usize> {
    let mut hosts = HashMap::new();
    for (index, part) in parts.iter().enumerate() {
        hosts.insert(part.id.clone(), index);
    }
    for (index, part) in parts.iter().enumerate() {
        for id in &part.same_as {
            hosts.entry(id.clone()).or_insert(index);
        }
    }
    hosts
}

struct Reader<'d, 't> {
    document: &'d Document<'t>,
    objects: Objects<'d, 't>,
    refusals: Vec<Refusal>,
    told: Told,
}

impl<'d, 't> Reader<'d, 't> {
    /// A number of an element, from nought to a greatest, times what makes it SI.
    fn number(
        &mut self,
        node: Option<Node<'_, '_>>,
        to_si: f64,
        (unit, most): (&str, f64),
    ) -> Option<(Place, Written)> {
        let node = node?;
        let text = text(node);
        match text.parse::<f64>() {
            Ok(value) if (0.0..=most).contains(&value) => {
                let shown =
                    if unit == R { format!("{R}{text}") } else { format!("{text} {unit}").trim_end().to_owned() };
                Some((self.document.place(node), Written::new(value * to_si, shown)))
            }
            _ => {
                let (message, help) = if most > 1.0 {
                    (
                        format!("`{text}` in `{}` is no number, nought or more", name(node)),
                        "write a number such as `252`",
                    )
                } else {
                    (format!("`{text}` in `{}` is no fraction from 0 to 1", name(node)), "write 23 % as `0.23`")
                };
                self.refusals.push(Refusal::new(self.document.place(node), message, help));
                None
            }
        }
    }

    /// A number above nought; nought stands for nothing, which is said.
    fn positive(&mut self, id: &str, node: Option<Node<'_, '_>>, to_si: f64, unit: &str) -> Option<(Place, Written)> {
        let (place, written) = self.number(node, to_si, (unit, MOST))?;
        if written.si > 0.0 {
            return Some((place, written));
        }
        self.told.nought(node.map_or("", |node| name(node)), id, &place);
        None
    }

    fn part(&mut self, node: Node<'d, 't>, framing: &[&str]) -> Part {
        let element = self.objects.element(node);
        let place = self.document.place(node);
        let id = element.id().unwrap_or_default().to_owned();
        if id.is_empty() {
            let message = format!("this `{}` has no id", name(node));
            self.refusals.push(Refusal::new(place.clone(), message, "give it `<SystemIdentifier id=\"…\"/>`"));
        }
        self.told.same(&element, &place);
        let insulation = element.child("Insulation");
        let r = HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W;
        let mut nominal_r = Vec::new();
        let mut continuous = 0;
        for layer in layers(insulation) {
            if child(layer, "InstallationType").is_some_and(|node| text(node).contains("continuous")) {
                continuous += 1;
                continue;
            }
            nominal_r.extend(self.positive(&id, child(layer, "NominalRValue"), r, R));
        }
        let sides = sides(&element);
        if sides.bounds_no_room {
            self.told.no_room(&id, &place);
        }
        let kind = kind_of(&element);
        Part {
            class: name(node).to_owned(),
            same_as: element.same_ids(),
            place,
            kind,
            sides,
            area: self.positive(&id, element.child("Area"), SQUARE_FOOT_M2, "ft2"),
            studs: self.studs(&element, framing),
            // The standard's pitch is the rise over a run of 12.
            pitch_deg: self
                .number(element.child("Pitch"), 1.0 / 12.0, ("", MOST))
                .map(|(_, rise)| rise.si.atan().to_degrees()),
            assembly_r: self.positive(&id, insulation.and_then(|node| child(node, "AssemblyEffectiveRValue")), r, R),
            nominal_r,
            continuous,
            openings: Vec::new(),
            unframed: unframed(&element),
            lacking: lacking(&element, kind),
            id,
        }
    }

    fn studs(&mut self, element: &Element<'d, 't>, framing: &[&str]) -> Studs {
        let Some(node) = framing.iter().find_map(|word| element.child(word)) else { return Studs::default() };
        let of = |word: &str| child(node, word).map(text);
        let is_steel = wall_type(element) == Some("SteelFrame");
        Studs {
            size: of("Size").filter(|size| size != "other"),
            spacing: self.number(child(node, "Spacing"), 1.0, ("", MOST)).map(|(_, inches)| inches.si.to_string()),
            factor: self.number(child(node, "FramingFactor"), 1.0, ("", 1.0)),
            is_metal: is_steel || of("Material").as_deref() == Some("metal"),
        }
    }

    fn opening(
        &mut self,
        node: Node<'d, 't>,
        kind: OpeningKind,
        reference: &str,
        (parts, hosts): (&mut [Part], &HashMap<String, usize>),
    ) {
        let element = self.objects.element(node);
        let place = self.document.place(node);
        let id = element.id().unwrap_or("opening").to_owned();
        let has_area = element.child("Area").is_some();
        let area = self.positive(&id, element.child("Area"), SQUARE_FOOT_M2, "ft2").map(|(_, area)| area.si);
        let host = element.child(reference).and_then(|node| node.attribute("idref")).and_then(|host| hosts.get(host));
        match (area, host.and_then(|index| parts.get_mut(*index))) {
            (Some(area_m2), Some(host)) => host.openings.push(Hole { id, kind, area_m2, place }),
            // Nought is told of already.
            (None, _) if has_area => {}
            (area, _) => {
                let why = if area.is_none() { "has no area" } else { "is in no surface of the file" };
                let message = format!("the {} `{id}` {why}: it takes nothing from any area", name(node).to_lowercase());
                self.told.say(Finding::warning(Code::OpeningWithoutElement, &place, message));
            }
        }
    }
}
