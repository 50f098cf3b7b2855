//! Openings that the job file adds to a surface, or says more of.

use super::say::Outcome;
use super::surface_rule::{OpeningSaid, WhichOpening};
use crate::cells::{Room, clearance_fits, flue_fits};
use crate::geometry::tolerance::{COINCIDENT_M, NEGLIGIBLE_AREA_M2};
use crate::geometry::{Point, Polygon, intersection, total_area_m2};
use crate::model::{Extent, Glob, Opening, Surface};
use crate::units::display::both_ways;

/// Says what is said of a surface's openings, and adds those that it lacks.
pub(super) fn say_openings(surface: &mut Surface, openings: &[OpeningSaid]) -> Outcome {
    let mut outcome = Outcome::default();
    for (entry, said) in openings.iter().enumerate() {
        match &said.which {
            WhichOpening::Own(pattern) => say_own(surface, pattern, said, entry, &mut outcome),
            WhichOpening::New { .. } => match add(surface, said) {
                Ok(is_added) => outcome.is_taken |= is_added,
                Err(misfit) => outcome.misfits.push(misfit),
            },
        }
    }
    outcome
}

fn say_own(surface: &mut Surface, pattern: &Glob, said: &OpeningSaid, entry: usize, outcome: &mut Outcome) {
    let is_row = surface.source.line.is_some();
    for opening in surface.openings.iter_mut().filter(|opening| is_called(pattern, opening)) {
        outcome.entries.push(entry);
        if let Some(flue) = said.flue.filter(|_| !(is_row && opening.flue.is_some())) {
            if flue_fits(Some(opening.kind)).is_ok() {
                opening.flue = Some(flue);
                outcome.is_taken = true;
            } else {
                outcome.misfits.push(format!("its opening `{}` is neither a flue nor a chimney", called(opening)));
            }
        }
        if let Some(clearance_m) = said.clearance_m.filter(|_| !(is_row && opening.clearance_m.is_some())) {
            if clearance_fits(Some(opening.kind)).is_ok() {
                opening.clearance_m = Some(clearance_m);
                outcome.is_taken = true;
            } else {
                outcome.misfits.push(format!("its opening `{}` is a window or a door", called(opening)));
            }
        }
    }
}

/// Whether an opening is meant: by its name in a model, by its id in a sheet.
fn is_called(pattern: &Glob, opening: &Opening) -> bool {
    pattern.is_match(called(opening))
}

fn called(opening: &Opening) -> &str {
    opening.name.as_deref().unwrap_or(&opening.id)
}

/// Adds an opening; nothing where the sheet of the surface has it.
fn add(surface: &mut Surface, said: &OpeningSaid) -> Result<bool, String> {
    let WhichOpening::New { id, kind, from_m, to_m } = &said.which else { return Ok(false) };
    let is_there = surface.openings.iter().any(|opening| called(opening).eq_ignore_ascii_case(id));
    match (is_there, surface.source.line) {
        (true, Some(_)) => return Ok(false),
        (true, None) => {
            return Err(format!("it has an opening `{id}` already; what is known of that is said with `match`"));
        }
        (false, _) => {}
    }
    lies_on(surface, *from_m, *to_m).map_err(|misfit| format!("the opening `{id}` {misfit}"))?;
    let Extent::Outline(own) = &surface.extent else { return Ok(false) };
    let whole = intersection(&[of_box(*from_m, *to_m)], own);
    let is_over = |other: &&Opening| total_area_m2(&intersection(&whole, &other.outline)) > NEGLIGIBLE_AREA_M2;
    if let Some(other) = surface.openings.iter().find(is_over) {
        return Err(format!("the opening `{id}` overlaps its opening `{}`", called(other)));
    }
    surface.openings.push(Opening {
        id: id.clone(),
        name: None,
        kind: *kind,
        source: Some(said.source.clone()),
        area_m2: total_area_m2(&whole),
        flue: said.flue,
        clearance_m: said.clearance_m,
        outline: whole,
    });
    Ok(true)
}

/// Whether a box lies on a surface.
pub(super) fn lies_on(surface: &Surface, from_m: Point, to_m: Point) -> Result<(), String> {
    let (Extent::Outline(outline), Some(room)) = (&surface.extent, Room::of(surface)) else {
        return Err("has a place, and only the area of the surface is known".to_owned());
    };
    let is_in_box = to_m[0] <= room.length_m + COINCIDENT_M && to_m[1] <= room.highest_m + COINCIDENT_M;
    let whole = of_box(from_m, to_m);
    // What lies beyond an edge by less than can be told apart is rounding.
    let rounding_m2 = COINCIDENT_M * 2.0 * (to_m[0] - from_m[0] + to_m[1] - from_m[1]);
    let is_within =
        || whole.area_m2() - total_area_m2(&intersection(std::slice::from_ref(&whole), outline)) <= rounding_m2;
    if is_in_box && is_within() {
        return Ok(());
    }
    Err(format!(
        "reaches from {} to {} along and from {} to {} up, and the surface, {} long and {} high, does not hold it",
        both_ways(from_m[0]),
        both_ways(to_m[0]),
        both_ways(from_m[1]),
        both_ways(to_m[1]),
        both_ways(room.length_m),
        both_ways(room.highest_m)
    ))
}

fn of_box(from_m: Point, to_m: Point) -> Polygon {
    Polygon::rectangle(from_m[0], from_m[1], to_m[0], to_m[1])
}

#[cfg(test)]
mod tests {
    use super::super::{read_job, say_of_surfaces};
    use super::*;
    use crate::model::{Building, FlueKind, OpeningKind, SurfaceKind};
    use crate::source::Source;

    /// A ceiling of 6 m by 4 m of a model, with a light and a window by name.
    fn ceiling() -> Surface {
        let extent = Extent::Outline(vec![Polygon::rectangle(0.0, 0.0, 6.0, 4.0)]);
        let opening = |name: &str, kind, x: f64| Opening {
            id: format!("id of {name}"),
            name: Some(name.to_owned()),
            kind,
            source: None,
            area_m2: 0.04,
            flue: None,
            clearance_m: None,
            outline: vec![Polygon::rectangle(x, 1.0, x + 0.2, 1.2)],
        };
        let openings = vec![
            opening("L1 light", OpeningKind::Light, 1.0),
            opening("roof window", OpeningKind::Window, 3.0),
            opening("K1", OpeningKind::Chimney, 5.0),
        ];
        let source = Source::of_entity("house.ifc", 7);
        Surface { name: Some("C".to_owned()), openings, ..Surface::new("C", source, SurfaceKind::Ceiling, extent) }
    }

    fn said(surface: Surface, tables: &str) -> (Surface, Vec<String>) {
        let job = read_job("job.toml", &format!("[[surface]]\nmatch = \"C\"\n{tables}")).unwrap();
        let building = Building { surfaces: vec![surface], ..Building::default() };
        let mut said = say_of_surfaces(&building, &job).into_owned();
        (said.surfaces.remove(0), said.findings.into_iter().map(|finding| finding.message).collect())
    }

    fn light(id: &str, offset: &str) -> String {
        format!(
            "[[surface.opening]]\nid = \"{id}\"\nkind = \"light\"\nwidth = \"20 cm\"\nheight = \"20 cm\"\n\
             offset = \"{offset}\"\nsill = \"1 m\"\n"
        )
    }

    #[test]
    fn what_is_known_of_own_openings_is_said_by_their_names() {
        let tables = "[[surface.opening]]\nmatch = \"*\"\nclearance = \"1 in\"\n\
                      [[surface.opening]]\nmatch = \"K?\"\nflue = \"single wall\"\n\
                      [[surface.opening]]\nmatch = \"L1*\"\nflue = \"masonry\"\n";
        let (surface, findings) = said(ceiling(), tables);
        let clearances: Vec<Option<f64>> = surface.openings.iter().map(|opening| opening.clearance_m).collect();
        assert_eq!(clearances, [Some(0.0254), None, Some(0.0254)]);
        assert_eq!(surface.openings[2].flue, Some(FlueKind::SingleWall));
        assert_eq!(findings.len(), 2, "{findings:?}");
        assert!(findings[0].contains("`roof window` is a window or a door"), "{findings:?}");
        assert!(findings[1].contains("`L1 light` is neither a flue nor a chimney"), "{findings:?}");
    }

    #[test]
    fn an_opening_is_added_where_there_is_room_for_it() {
        let (surface, findings) = said(ceiling(), &light("L2", "2 m"));
        assert_eq!((surface.openings.len(), findings.len()), (4, 0));
        // 20 cm square is 0.04 m2 (geometry).
        assert!((surface.openings[3].area_m2 - 0.04).abs() < 1e-9);
        for (table, misfit) in [
            (light("L2", "1.1 m"), "overlaps its opening `L1 light`"),
            (light("L2", "5.9 m"), "does not hold it"),
            (light("L1 LIGHT", "2 m"), "has an opening `L1 LIGHT` already"),
        ] {
            let (surface, findings) = said(ceiling(), &table);
            assert_eq!(surface, ceiling(), "{table}");
            assert!(findings.len() == 1 && findings[0].contains(misfit), "{findings:?}");
        }
        let row = Surface { source: Source::of_line("house.csv", 2), ..ceiling() };
        assert_eq!(said(row.clone(), &light("L1 light", "2 m")), (row, Vec::new()), "what a row says wins");
    }

    #[test]
    fn what_needs_a_place_or_framing_of_its_own_is_not_said_without() {
        let area = Surface { extent: Extent::AreaM2(24.0), openings: Vec::new(), ..ceiling() };
        let platform = "[[surface.platform]]\nwidth = \"1 m\"\nheight = \"1 m\"\noffset = \"1 m\"\nsill = \"1 m\"\n";
        for table in [light("L2", "2 m"), platform.to_owned(), "do_not_fill = \"1 m to 2 m: duct\"\n".to_owned()] {
            let (surface, findings) = said(area.clone(), &table);
            assert_eq!(surface, area);
            assert!(findings.len() == 1 && findings[0].contains("only the area"), "{findings:?}");
        }
        let given = Surface { kind: SurfaceKind::Wall, framing_is_given: true, ..ceiling() };
        for table in ["corners = 2", "partitions = \"at 1 m\"", "floors = \"1 m to 1.3 m\""] {
            let (surface, findings) = said(given.clone(), table);
            assert_eq!(surface, given);
            assert!(findings.len() == 1 && findings[0].contains("member by member"), "{findings:?}");
        }
    }
}
