//! `--save findings.bcf`: topics of BCF 3.0, read back.

use super::{HOUSE, save};
use crate::commands::support::Run;
use serde_json::Value;
use std::io::Read;
use std::path::Path;

fn files(path: &Path) -> Vec<(String, String)> {
    let mut archive = zip::ZipArchive::new(std::fs::File::open(path).unwrap()).unwrap();
    let names: Vec<String> =
        (0..archive.len()).map(|index| archive.by_index(index).unwrap().name().unwrap().into_owned()).collect();
    let mut read = |name: String| {
        let mut text = String::new();
        archive.by_name(&name).unwrap().read_to_string(&mut text).unwrap();
        (name, text)
    };
    names.into_iter().map(&mut read).collect()
}

/// What stands between an element's tags, the first time.
fn within<'t>(text: &'t str, name: &str) -> &'t str {
    let behind = text.split_once(&format!("<{name}>")).unwrap_or_else(|| panic!("no <{name}> in {text}")).1;
    behind.split_once(&format!("</{name}>")).unwrap().0
}

fn attribute<'t>(text: &'t str, name: &str) -> &'t str {
    let behind = text.split_once(&format!("{name}=\"")).unwrap_or_else(|| panic!("no {name} in {text}")).1;
    behind.split_once('"').unwrap().0
}

fn numbers(text: &str) -> Vec<f64> {
    ["X", "Y", "Z"].iter().map(|axis| within(text, axis).parse().unwrap()).collect()
}

fn of_elements(takeoff: &Value) -> Vec<&Value> {
    let findings = takeoff["findings"].as_array().unwrap().iter();
    findings.filter(|finding| finding["id"].as_str().is_some_and(|id| id.len() == 22)).collect()
}

#[test]
fn every_finding_about_an_element_is_a_topic_with_a_viewpoint() {
    let folder = tempfile::tempdir().unwrap();
    let (takeoff, paths) = save(folder.path(), &HOUSE, &["findings.bcf"]);
    let findings = of_elements(&takeoff);
    assert!(findings.len() > 5, "{}", findings.len());
    let files = files(&paths[0]);
    let text = |name: &str| &files.iter().find(|(own, _)| own == name).unwrap_or_else(|| panic!("no {name}")).1;
    assert_eq!(attribute(text("bcf.version"), "VersionId"), "3.0");
    let markups: Vec<&(String, String)> = files.iter().filter(|(name, _)| name.ends_with("/markup.bcf")).collect();
    assert_eq!(markups.len(), findings.len());
    for (name, markup) in &markups {
        let guid = attribute(markup, "Topic Guid");
        assert_eq!(*name, format!("{guid}/markup.bcf"));
        assert_eq!(within(markup, "Filename"), "house.ifc");
        assert!(text("extensions.xml").contains(within(markup, "Labels").replace("Label>", "TopicLabel>").as_str()));
        let view = text(&format!("{guid}/{}", within(markup, "Viewpoint")));
        assert_eq!(attribute(markup, "ViewPoint Guid"), attribute(view, "VisualizationInfo Guid"));
        let element = attribute(view, "IfcGuid");
        let own: Vec<&&Value> = findings.iter().filter(|finding| finding["id"] == element).collect();
        assert!(own.iter().any(|finding| markup.contains(finding["code"].as_str().unwrap())), "{element}");
    }
    let errors_first: Vec<&str> = markups.iter().map(|(_, markup)| attribute(markup, "TopicType")).collect();
    assert!(errors_first.is_sorted_by_key(|kind| ["Error", "Warning", "Note"].iter().position(|one| one == kind)));
}

/// A wall is looked at from outside, square to it, and is in the middle of the picture: the house's south wall runs along
/// x with its left end in the west, so that whoever faces it looks north.
#[test]
fn the_camera_faces_the_element() {
    let folder = tempfile::tempdir().unwrap();
    let (takeoff, paths) = save(folder.path(), &HOUSE, &["findings.bcf"]);
    let mut seen = 0;
    for (_, view) in files(&paths[0]).iter().filter(|(name, _)| name.ends_with("viewpoint.bcfv")) {
        let id = attribute(view, "IfcGuid");
        let surface = takeoff["surfaces"].as_array().unwrap().iter().find(|surface| surface["id"] == id);
        let Some(surface) = surface.filter(|surface| surface["kind"] == "wall" && surface["plan_m"].is_array()) else {
            continue;
        };
        let point = |index: usize| -> Vec<f64> {
            surface["plan_m"][index].as_array().unwrap().iter().map(|x| x.as_f64().unwrap()).collect()
        };
        let (a, b) = (point(0), point(1));
        let (eye, look) = (numbers(within(view, "CameraViewPoint")), numbers(within(view, "CameraDirection")));
        let along = [b[0] - a[0], b[1] - a[1]];
        assert!((along[0] * look[0] + along[1] * look[1]).abs() < 1e-9, "square to the wall");
        // The left end is at the left: to the left of the direction, by the cross product.
        let side = |p: &[f64]| look[0] * (p[1] - eye[1]) - look[1] * (p[0] - eye[0]);
        assert!(side(&a) > 0.0 && side(&b) < 0.0 && (side(&a) + side(&b)).abs() < 1e-9, "{id}");
        let ahead = (a[0] - eye[0]) * look[0] + (a[1] - eye[1]) * look[1];
        // Half of a view of 60 degrees and half as wide again.
        assert!(ahead > 0.0 && side(&a) / ahead < 60_f64.to_radians().mul_add(0.5, 0.0).tan() * 1.5, "{id}");
        seen += 1;
    }
    assert!(seen >= 2, "{seen}");
}

#[test]
fn sheets_have_no_elements_and_names_no_markup() {
    let folder = tempfile::tempdir().unwrap();
    let (_, paths) = save(folder.path(), &["samples/cabin.csv"], &["x.findings.bcf"]);
    assert!(files(&paths[0]).iter().all(|(name, _)| !name.ends_with("markup.bcf")));
    let model = folder.path().join("named.ifc");
    let text = std::fs::read_to_string(HOUSE[0]).unwrap().replace("'Porch roof'", "'<b>A & \"B\"</b>'");
    std::fs::write(&model, text).unwrap();
    let bcf = folder.path().join("y.bcf");
    Run::new("takeoff").arg(&model).args(&HOUSE[1..]).arg("--save").arg(&bcf).status(0);
    let all: String = files(&bcf).into_iter().map(|(_, text)| text).collect();
    assert!(all.contains("&lt;b&gt;A &amp; \"B\"&lt;/b&gt;") && !all.contains("<b>"));
}
