//! The quantities that a model states of its own elements, set beside those that are measured.
//!
//! # Source
//! IFC4 documentation, `Qto_WallBaseQuantities`, `Qto_SlabBaseQuantities`, `Qto_RoofBaseQuantities` and
//! `Qto_CoveringBaseQuantities`; IFC2X3 keeps the same in sets of the name `BaseQuantities`.

use super::element::Element;
use super::file::File;
use super::quantity_cause::cause;
use super::record::Record;
use super::relations::Relations;
use super::trouble::Trouble;
use super::units::{Measure, Units, factor};
use crate::finding::Code;
use crate::geometry::{Bounds, Polygon};
use crate::model::{Extent, Surface, SurfaceKind};

/// Figures that differ by more than this share are a finding.
const SHARE: f64 = 0.01;
/// Most quantities that one finding names.
const MOST_NAMED: usize = 3;

/// What a quantity is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// Area with the openings filled.
    Gross,
    /// Area less the openings.
    Net,
    /// Area seen from above, openings filled.
    Plan,
    /// Thickness.
    Thickness,
    /// Length of a wall.
    Length,
    /// Height of a wall.
    Height,
}

/// A quantity as the model states it.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// Name.
    pub name: String,
    /// What it is about.
    pub subject: Subject,
    /// The number as it is written.
    pub(super) number: f64,
    /// Metres or square metres in its unit; `None` where the model names no area unit.
    pub(super) unit: Option<f64>,
}

impl Stated {
    /// The quantity in metres or square metres.
    pub fn value(&self) -> f64 {
        self.number * self.unit.unwrap_or(1.0)
    }

    /// Whether it is an area.
    pub fn is_area(&self) -> bool {
        matches!(self.subject, Subject::Gross | Subject::Net | Subject::Plan)
    }
}

/// What was measured of one element, over all its surfaces.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Area with the openings filled, in square metres.
    pub gross_m2: f64,
    /// Area less the openings, in square metres.
    pub net_m2: f64,
    /// Area seen from above, openings filled, in square metres; `None` for what stands.
    pub plan_m2: Option<f64>,
    /// Thickness in metres, where all surfaces have one.
    pub thickness_m: Option<f64>,
    /// Box around the outline, where there is one surface.
    pub bounds: Option<Bounds>,
    /// Length of all edges, those of openings too, in metres.
    pub edges_m: f64,
}

impl Measured {
    /// Sums up surfaces; `None` where there are none, or one is known by its area alone.
    pub fn of<'a>(surfaces: impl IntoIterator<Item = &'a Surface>) -> Option<Self> {
        let surfaces: Vec<&Surface> = surfaces.into_iter().collect();
        let outline = |surface: &&'a Surface| match &surface.extent {
            Extent::Outline(polygons) => Some(polygons.as_slice()),
            Extent::AreaM2(_) => None,
        };
        let outlines: Vec<&[Polygon]> = surfaces.iter().map(outline).collect::<Option<_>>()?;
        let first = surfaces.first()?;
        let gross_m2 = surfaces.iter().map(|surface| surface.gross_area_m2()).sum::<f64>();
        let opening_m2 = surfaces.iter().map(|surface| surface.opening_area_m2()).sum::<f64>();
        let flattened = |surface: &&Surface| Some(surface.gross_area_m2() * surface.pitch_deg?.to_radians().cos());
        let lies = surfaces.iter().all(|surface| surface.kind != SurfaceKind::Wall);
        let plan_m2 = if lies { surfaces.iter().map(flattened).sum::<Option<f64>>() } else { None };
        let alike = |surface: &&Surface| match (surface.thickness_m, first.thickness_m) {
            (Some(a), Some(b)) => (a - b).abs() <= SHARE * b,
            _ => false,
        };
        let openings = surfaces.iter().flat_map(|surface| &surface.openings).flat_map(|opening| &opening.outline);
        Some(Self {
            gross_m2,
            net_m2: gross_m2 - opening_m2,
            plan_m2,
            thickness_m: first.thickness_m.filter(|_| surfaces.iter().all(alike)),
            bounds: outlines.first().filter(|_| surfaces.len() == 1).and_then(|outline| Bounds::of_polygons(outline)),
            edges_m: outlines.into_iter().flatten().chain(openings).map(edges_m).sum(),
        })
    }

    /// The figure that a quantity is set beside; `None` where there is none that can be.
    fn figure(&self, subject: Subject) -> Option<f64> {
        let bounds = self.bounds;
        match subject {
            Subject::Gross => Some(self.gross_m2),
            Subject::Net => Some(self.net_m2),
            Subject::Plan => self.plan_m2,
            Subject::Thickness => self.thickness_m,
            Subject::Length => bounds.map(|bounds| bounds.width_m()),
            // The height is stated where it is the same all along the wall.
            Subject::Height => bounds
                .filter(|bounds| bounds.width_m() * bounds.height_m() <= self.gross_m2 * (1.0 + SHARE))
                .map(|bounds| bounds.height_m()),
        }
    }

    /// Whether a width is that of the outline: of what lies, some programs state a side in place of the thickness.
    fn is_side(&self, stated: &Stated) -> bool {
        let near = |side_m: f64| (stated.value() - side_m).abs() <= SHARE * side_m;
        let is_side = |bounds: Bounds| near(bounds.width_m()) || near(bounds.height_m());
        stated.subject == Subject::Thickness && self.plan_m2.is_some() && self.bounds.is_some_and(is_side)
    }

    /// How far a quantity may stand off its figure.
    fn allowed(&self, subject: Subject, figure: f64) -> f64 {
        // The ends of a wall may be mitred: along its faces, its length differs by its thickness at each end.
        let ends_m = if subject == Subject::Length { 2.0 * self.thickness_m.unwrap_or(0.0) } else { 0.0 };
        ends_m.max(SHARE * figure.abs()).max(1e-6)
    }
}

fn edges_m(polygon: &Polygon) -> f64 {
    let around = |ring: &Vec<[f64; 2]>| {
        let next = ring.iter().cycle().skip(1);
        ring.iter().zip(next).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).sum::<f64>()
    };
    polygon.rings.iter().map(around).sum()
}

/// Sets what the model states of an element beside what was measured: one trouble, where they differ by over 1 %.
pub fn compare(
    file: &File<'_>,
    units: &Units,
    relations: &Relations,
    element: &Element,
    surfaces: &[&Surface],
) -> Vec<Trouble> {
    let Some(sets) = relations.quantities.get(&element.entity) else { return Vec::new() };
    let (Some(measured), Some(first)) = (Measured::of(surfaces.iter().copied()), surfaces.first()) else {
        return Vec::new();
    };
    let is_wall = first.kind == SurfaceKind::Wall;
    let mut stated: Vec<Stated> = Vec::new();
    let mut troubles = Vec::new();
    for quantity in sets.iter().filter_map(|set| quantities_of(file, *set)).flatten() {
        match read(file, units, quantity, is_wall) {
            Ok(Some(one)) if !stated.contains(&one) => stated.push(one),
            Ok(_) => {}
            Err(trouble) => troubles.push(trouble),
        }
    }
    if let Some(message) = differences(&stated, &measured) {
        troubles.push(Trouble::new(Code::QuantityDiffers, element.entity, message));
    }
    troubles
}

/// The quantities of a set, where it is one of base quantities.
fn quantities_of(file: &File<'_>, set: u64) -> Option<Vec<u64>> {
    let set = file.record(set).ok().filter(|set| set.is("IFCELEMENTQUANTITY"))?;
    let name = String::from_utf8_lossy(set.string(2)?).to_ascii_lowercase();
    if !name.ends_with("basequantities") && name != "quantities" {
        return None;
    }
    set.references(5, "quantities").ok()
}

fn read(file: &File<'_>, units: &Units, id: u64, is_wall: bool) -> Result<Option<Stated>, Trouble> {
    let Ok(record) = file.record(id) else { return Ok(None) };
    let name = record.string(0).map(|name| String::from_utf8_lossy(name).into_owned()).unwrap_or_default();
    let Some(subject) = subject(&record, &name, is_wall) else { return Ok(None) };
    let number = record.number(3, &name)?;
    let stated = Stated { name, subject, number, unit: None };
    let (measure, of_project) =
        if stated.is_area() { (Measure::Area, units.area_m2) } else { (Measure::Length, Some(units.length_m)) };
    let own = record.optional_reference(2).map(|unit| factor(file, &file.follow(id, unit)?, measure)).transpose()?;
    // A length or an area of nothing is a field that was not filled in.
    Ok(Some(Stated { unit: own.or(of_project), ..stated }).filter(|stated| stated.is_area() || stated.number != 0.0))
}

/// What a quantity is about, from its class and name; `None` for those that nothing is measured for.
fn subject(record: &Record<'_>, name: &str, is_wall: bool) -> Option<Subject> {
    let name = name.to_ascii_lowercase();
    if record.is("IFCQUANTITYAREA") {
        return match (name.as_str(), is_wall) {
            ("grosssidearea", true) | ("grossarea", false) => Some(Subject::Gross),
            ("netsidearea", true) | ("netarea", false) => Some(Subject::Net),
            ("projectedarea", false) => Some(Subject::Plan),
            _ => None,
        };
    }
    if !record.is("IFCQUANTITYLENGTH") {
        return None;
    }
    match (name.as_str(), is_wall) {
        ("width" | "nominalwidth", _) => Some(Subject::Thickness),
        ("length" | "nominallength", true) => Some(Subject::Length),
        ("height" | "nominalheight", true) => Some(Subject::Height),
        _ => None,
    }
}

/// One sentence about every quantity that differs; `None` where none does.
fn differences(stated: &[Stated], measured: &Measured) -> Option<String> {
    let mut odd: Vec<(f64, String)> = Vec::new();
    for one in stated {
        let Some(figure) = measured.figure(one.subject).filter(|_| !measured.is_side(one)) else { continue };
        let value = one.value();
        let allowed = measured.allowed(one.subject, figure);
        if (value - figure).abs() <= allowed || (one.unit.is_none() && is_in_length_units(one, figure, allowed)) {
            continue;
        }
        let unit = if one.is_area() { "m2" } else { "m" };
        let why = [ratio(value, figure), cause(one, figure, measured)];
        let why: Vec<String> = why.into_iter().flatten().collect();
        let why = if why.is_empty() { String::new() } else { format!(" ({})", why.join(": ")) };
        // The share in logarithms sets twice and half alike.
        let weight = (value.abs().max(1e-9) / figure.abs().max(1e-9)).ln().abs();
        odd.push((weight, format!("{} is {value:.3} {unit}, measured {figure:.3} {unit}{why}", one.name)));
    }
    // The sort is stable: of equals, the order of the file decides.
    odd.sort_by(|a, b| b.0.total_cmp(&a.0));
    let count = odd.len();
    let named: Vec<String> = odd.into_iter().take(MOST_NAMED).map(|(_, text)| text).collect();
    let more = if count > MOST_NAMED { format!("; and {} more", count - MOST_NAMED) } else { String::new() };
    (count > 0).then(|| format!("the model's own {}{more}; the measured figure is used", named.join("; ")))
}

/// Whether an area without any unit agrees in the square of some unit of length.
fn is_in_length_units(stated: &Stated, figure: f64, allowed: f64) -> bool {
    super::quantity_cause::AREAS.iter().any(|(_, unit)| (stated.number * unit - figure).abs() <= allowed)
}

fn ratio(value: f64, figure: f64) -> Option<String> {
    let ratio = value / figure;
    if !ratio.is_finite() || ratio <= 0.0 {
        return None;
    }
    let text = if (0.01..1000.0).contains(&ratio) { format!("{ratio:.3}") } else { format!("{ratio:.1e}") };
    Some(format!("{text} times"))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A wall of 5 m by 2.7 m, 0.3 m thick, with a window of 1 m by 1.2 m.
    fn wall() -> Measured {
        Measured {
            gross_m2: 13.5,
            net_m2: 12.3,
            plan_m2: None,
            thickness_m: Some(0.3),
            bounds: Polygon::rectangle(0.0, 0.0, 5.0, 2.7).bounds(),
            edges_m: 19.8,
        }
    }

    fn stated(name: &str, subject: Subject, number: f64, unit: Option<f64>) -> Stated {
        Stated { name: name.to_owned(), subject, number, unit }
    }

    #[test]
    fn figures_within_a_hundredth_are_silent_and_others_are_one_sentence() {
        let right = [
            stated("GrossSideArea", Subject::Gross, 13.6, Some(1.0)),
            stated("NetSideArea", Subject::Net, 12.3e6, Some(1e-6)),
            stated("Length", Subject::Length, 5.6, Some(1.0)),
            stated("Height", Subject::Height, 2700.0, Some(1e-3)),
            stated("NetSideArea", Subject::Net, 12.3e4, None),
        ];
        assert_eq!(differences(&right, &wall()), None);
        let wrong = [
            stated("GrossSideArea", Subject::Gross, 13.64, Some(1.0)),
            stated("NetSideArea", Subject::Net, 13.5, Some(1.0)),
            stated("Width", Subject::Thickness, 0.36, Some(1.0)),
        ];
        let message = "the model's own Width is 0.360 m, measured 0.300 m (1.200 times); \
                       NetSideArea is 13.500 m2, measured 12.300 m2 (1.098 times: the openings are not taken out); \
                       GrossSideArea is 13.640 m2, measured 13.500 m2 (1.010 times); the measured figure is used";
        assert_eq!(differences(&wrong, &wall()).as_deref(), Some(message));
    }

    #[test]
    fn a_height_is_held_against_walls_of_one_height_alone() {
        let gable = Measured { gross_m2: 9.0, net_m2: 9.0, ..wall() };
        assert_eq!(differences(&[stated("Height", Subject::Height, 1.0, Some(1.0))], &gable), None);
        assert!(differences(&[stated("Height", Subject::Height, 1.0, Some(1.0))], &wall()).is_some());
    }
}
