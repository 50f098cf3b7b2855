//! Sums over surfaces that reports show: by type and storey, and by reason.

use super::{Names, SurfaceTakeoff, Takeoff};
use crate::model::SurfaceKind;

/// Surfaces of one type and kind in one storey.
#[derive(Clone, Debug, PartialEq)]
pub struct GroupTakeoff {
    /// Name of the type; `None` where the surfaces have none.
    pub r#type: Option<String>,
    /// Storey.
    pub storey: Option<String>,
    /// Kind.
    pub kind: SurfaceKind,
    /// How many surfaces.
    pub count: u64,
    /// Their gross area.
    pub gross_area_m2: f64,
    /// Gross area of those that are counted.
    pub counted_area_m2: f64,
    /// Volume of their bays.
    pub volume_m3: f64,
    /// Mass of their fill, allowance not included.
    pub mass_kg: f64,
}

/// Sums by type, kind and storey, in the order in which they are first met.
pub fn group_by_type_and_storey(surfaces: &[SurfaceTakeoff]) -> Vec<GroupTakeoff> {
    let mut groups: Vec<GroupTakeoff> = Vec::new();
    for surface in surfaces {
        let is_same =
            |g: &GroupTakeoff| g.r#type == surface.r#type && g.storey == surface.storey && g.kind == surface.kind;
        let index = groups.iter().position(is_same).unwrap_or_else(|| {
            groups.push(GroupTakeoff {
                r#type: surface.r#type.clone(),
                storey: surface.storey.clone(),
                kind: surface.kind,
                count: 0,
                gross_area_m2: 0.0,
                counted_area_m2: 0.0,
                volume_m3: 0.0,
                mass_kg: 0.0,
            });
            groups.len() - 1
        });
        if let Some(group) = groups.get_mut(index) {
            group.count += u64::from(surface.count);
            group.gross_area_m2 += surface.gross_area_m2;
            group.counted_area_m2 += if surface.counted { surface.gross_area_m2 } else { 0.0 };
            group.volume_m3 += surface.bay_volume_m3.unwrap_or(0.0);
            group.mass_kg += surface.mass_kg.unwrap_or(0.0);
        }
    }
    groups
}

/// What is not counted for one reason.
#[derive(Clone, Debug, PartialEq)]
pub struct NotCounted {
    /// Why.
    pub reason: String,
    /// How many surfaces, pieces or elements.
    pub count: u64,
    /// Their area, less openings; `None` where no surface was read at all, nought for parts of bays' volume.
    pub area_m2: Option<f64>,
    /// Volume of parts of bays that have no area of their own.
    pub volume_m3: f64,
    /// The surfaces or elements, each once.
    pub names: Names,
}

const NAMED: usize = 3;

/// What is not counted, by reason: whole surfaces, pieces of counted ones, and elements that gave no
/// surface, each in the order in which the reasons are first met.
pub fn not_counted_by_reason(takeoff: &Takeoff) -> Vec<NotCounted> {
    let mut all: Vec<NotCounted> = Vec::new();
    for surface in &takeoff.surfaces {
        let named = |names: &mut Names| names.add_surface(surface, NAMED);
        let times = u64::from(surface.count);
        if let Some(reason) = &surface.reason {
            add(&mut all, reason, times, (Some(surface.left_out_area_m2), 0.0), named);
        } else {
            for piece in &surface.left_out {
                let count = f64::from(surface.count);
                let has_area = piece.area_m2 > 0.0;
                let volume_m3 = if has_area { 0.0 } else { piece.volume_m3.unwrap_or(0.0) * count };
                add(&mut all, &piece.reason, times, (Some(piece.area_m2 * count), volume_m3), named);
            }
        }
    }
    for element in &takeoff.left_out_elements {
        let name = element.name.as_deref().unwrap_or(&element.id);
        let own = format!("{} {}", element.source, element.id);
        add(&mut all, &element.reason, 1, (None, 0.0), |names| names.add(&own, name, NAMED));
    }
    all
}

/// Adds an area and a volume under a reason, and a name.
fn add(
    all: &mut Vec<NotCounted>,
    reason: &str,
    count: u64,
    (area_m2, volume_m3): (Option<f64>, f64),
    named: impl FnOnce(&mut Names),
) {
    let found = all.iter_mut().find(|one| one.reason == reason && one.area_m2.is_some() == area_m2.is_some());
    let Some(one) = found else {
        let mut names = Names::default();
        named(&mut names);
        all.push(NotCounted { reason: reason.to_owned(), count, area_m2, volume_m3, names });
        return;
    };
    one.count += count;
    one.area_m2 = one.area_m2.zip(area_m2).map(|(a, b)| a + b);
    one.volume_m3 += volume_m3;
    named(&mut one.names);
}
