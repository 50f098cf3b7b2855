//! Models by others, with what they say themselves of exposure taken out, so that their spaces must tell it.

use crate::support::models;
use cavitally::intake::ifc::read;
use cavitally::model::{Exposure, SurfaceKind};
use std::collections::BTreeMap;
use std::path::Path;

/// Exposure of each wall, of a model in which some words are no longer those of the standard.
fn walls(path: &Path, hidden: &[&str]) -> BTreeMap<String, Exposure> {
    let mut bytes = std::fs::read(path).unwrap();
    for word in hidden {
        let last = word.len() - 1;
        let at: Vec<usize> =
            bytes.windows(word.len()).enumerate().filter(|(_, w)| *w == word.as_bytes()).map(|(i, _)| i).collect();
        for at in at {
            bytes[at + last] = b'X';
        }
    }
    let building = read("model.ifc", &bytes).unwrap();
    let walls = building.surfaces.into_iter().filter(|surface| surface.kind == SurfaceKind::Wall);
    walls.map(|wall| (wall.id, wall.exposure)).collect()
}

#[test]
fn spaces_say_the_same_as_the_models_own_property() {
    let Some(folder) = models("spaces_say_the_same_as_the_models_own_property") else { return };
    for (model, outer, inner) in [("samplehouse4", 3, 2), ("rv_faceset_walls", 4, 0)] {
        let path = folder.join("ifc").join(format!("{model}.ifc"));
        let said = walls(&path, &[]);
        assert_eq!(said.values().filter(|exposure| **exposure == Exposure::Exterior).count(), outer, "{model}");
        assert_eq!(said.values().filter(|exposure| **exposure == Exposure::Interior).count(), inner, "{model}");
        assert_eq!(walls(&path, &["IsExternal"]), said, "{model}");
    }
}

#[test]
fn spaces_say_the_same_as_the_models_own_boundaries() {
    let Some(folder) = models("spaces_say_the_same_as_the_models_own_boundaries") else { return };
    let path = folder.join("ifc").join("fzk_haus.ifc");
    let by_boundaries = walls(&path, &["IsExternal"]);
    assert_eq!(by_boundaries.len(), 13);
    assert!(by_boundaries.values().all(|exposure| *exposure != Exposure::Unknown));
    assert_eq!(walls(&path, &["IsExternal", "IFCRELSPACEBOUNDARY", "IFCRELSPACEBOUNDARY2NDLEVEL"]), by_boundaries);
}
