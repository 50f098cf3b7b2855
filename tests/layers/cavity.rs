use super::model::{Model, surface};
use crate::support::run::saved_takeoff;
use cavitally::finding::{Code, Severity};
use cavitally::model::{Building, Exposure, Glob, LayerKind, LayerRule, LayerUse, Pattern};
use cavitally::source::Place;

/// A wall 5 m long, 3 m high and so many millimetres thick, across its own y axis.
fn wall(model: &mut Model, thickness_mm: f64) -> String {
    model.wall("wall", ([0.0, 0.0, 0.0], [5.0, thickness_mm / 1000.0, 3.0]))
}

/// A wall of layers: material, millimetres, category; the set runs along y from the wall's near side.
fn layered(layers: &[(&str, f64, &str)]) -> Model {
    let mut model = Model::new();
    let wall = wall(&mut model, layers.iter().map(|(_, mm, _)| mm).sum());
    let mut ids = Vec::new();
    for (name, mm, category) in layers {
        let material = model.add(&format!("IFCMATERIAL('{name}',$,$)"));
        let category = if category.is_empty() { "$".to_owned() } else { format!("'{category}'") };
        ids.push(model.add(&format!("IFCMATERIALLAYER({material},{:?},$,$,$,{category},$)", mm / 1000.0)));
    }
    let set = model.add(&format!("IFCMATERIALLAYERSET(({}),$,$)", ids.join(",")));
    let usage = model.add(&format!("IFCMATERIALLAYERSETUSAGE({set},.AXIS2.,.POSITIVE.,0.,$)"));
    model.material(&wall, &usage);
    model
}

fn cavity(building: &Building) -> (Option<usize>, Vec<LayerKind>) {
    let surface = surface(building, "wall");
    (surface.cavity_layer, surface.layers.iter().map(|layer| layer.kind).collect())
}

fn ambiguous(building: &Building) -> Vec<(Severity, &str)> {
    let found = building.findings.iter().filter(|finding| finding.code == Code::LayerAmbiguous);
    found.map(|finding| (finding.severity, finding.message.as_str())).collect()
}

fn rule(layer: &str, is: LayerUse) -> LayerRule {
    let pattern = Pattern { layer: vec![Glob::new(layer)], ..Pattern::default() };
    LayerRule { pattern, is, place: Place::line("job.toml", 1) }
}

#[test]
fn names_in_the_file_s_own_escapes_are_read() {
    // `Gipskarton`, `Ständer 60/200`, `Putz`.
    let building =
        layered(&[("Gipskarton", 15.0, ""), (r"St\X2\00E4\X0\nder 60/200", 200.0, ""), ("Putz", 15.0, "")]).read(&[]);
    assert_eq!(cavity(&building), (Some(1), vec![LayerKind::Other, LayerKind::Studs, LayerKind::Other]));
}

#[test]
fn two_stud_layers_alike_are_in_doubt_until_the_category_or_the_job_file_says_which() {
    let twin = |category: &'static str| {
        layered(&[
            ("Board", 15.0, ""),
            ("Stud A", 95.0, category),
            ("Air", 20.0, ""),
            ("Stud B", 120.0, ""),
            ("Board", 15.0, ""),
        ])
    };
    let building = twin("").read(&[]);
    assert_eq!(cavity(&building).0, None);
    let said = ambiguous(&building);
    assert!(said.len() == 1 && said[0].0 == Severity::Warning, "{said:?}");
    assert!(said[0].1.contains("`Stud A` (95 mm), `Stud B` (120 mm)") && said[0].1.contains("[[layer]]"), "{said:?}");
    let building = twin("LoadBearing").read(&[]);
    assert_eq!(cavity(&building).0, Some(1));
    assert_eq!(ambiguous(&building)[0].0, Severity::Note);
    let building = twin("").read(&[rule("Stud B", LayerUse::Cavity)]);
    assert_eq!(cavity(&building).0, Some(3));
    assert!(ambiguous(&building).is_empty());
    assert_eq!(cavity(&twin("").read(&[rule("*B", LayerUse::None)])).0, Some(1));
}

#[test]
fn a_category_helps_where_the_name_says_nothing() {
    let building =
        layered(&[("Spruce", 20.0, ""), ("Spruce", 160.0, "LoadBearing"), ("X-17", 40.0, "Insulation")]).read(&[]);
    assert_eq!(cavity(&building), (Some(1), vec![LayerKind::Other, LayerKind::Studs, LayerKind::Insulation]));
}

#[test]
fn a_rule_holds_for_the_exposure_that_it_names() {
    let mut model = layered(&[("Board", 15.0, ""), ("X-17", 145.0, ""), ("Board", 15.0, "")]);
    let mut of_interior = rule("x-1?", LayerUse::Studs);
    of_interior.pattern.exposure = vec![Exposure::Interior];
    assert_eq!(cavity(&model.read(&[of_interior.clone()])).0, None);
    let wall = surface(&model.read(&[]), "wall").source.entity.clone().unwrap();
    model.is_external(&wall, ".F.");
    assert_eq!(cavity(&model.read(&[of_interior])).0, Some(1));
}

#[test]
fn sets_without_thickness_are_read_and_only_framing_and_its_insulation_fill_the_body() {
    let of = |kind: &str, names: &[&str]| {
        let mut model = Model::new();
        let wall = wall(&mut model, 160.0);
        let materials: Vec<String> =
            names.iter().map(|name| model.add(&format!("IFCMATERIAL('{name}',$,$)"))).collect();
        let parts: Vec<String> = materials
            .iter()
            .map(|material| match kind {
                "IFCMATERIALCONSTITUENTSET" => model.add(&format!("IFCMATERIALCONSTITUENT('Core',$,{material},$,$)")),
                "IFCMATERIALPROFILESET" => model.add(&format!("IFCMATERIALPROFILE('Core',$,{material},$,$,$)")),
                _ => material.clone(),
            })
            .collect();
        let list = parts.join(",");
        let set = match kind {
            "IFCMATERIALLIST" => model.add(&format!("{kind}(({list}))")),
            _ => model.add(&format!("{kind}('Set',$,({list}),$)")),
        };
        model.material(&wall, &set);
        let building = model.read(&[]);
        let thickness_m: f64 = surface(&building, "wall").layers.iter().map(|layer| layer.thickness_m).sum();
        (cavity(&building).0, cavity(&building).1.len(), thickness_m)
    };
    for kind in ["IFCMATERIALCONSTITUENTSET", "IFCMATERIALLIST", "IFCMATERIALPROFILESET"] {
        assert_eq!(of(kind, &["Timber studs", "Mineral wool"]), (Some(0), 2, 0.16), "{kind}");
        assert_eq!(of(kind, &["Timber studs", "Gypsum board"]), (None, 2, 0.0), "{kind}");
        assert_eq!(of(kind, &["Timber studs"]), (Some(0), 1, 0.16), "{kind}");
    }
}

#[test]
fn steel_studs_are_named_once() {
    let building = layered(&[("Board", 12.5, ""), ("CW-Profil 75", 75.0, ""), ("Board", 12.5, "")]).read(&[]);
    let said: Vec<_> = building.findings.iter().filter(|finding| finding.code == Code::SteelStuds).collect();
    assert!(
        said.len() == 1 && said[0].severity == Severity::Note && said[0].message.contains("`CW-Profil 75`"),
        "{said:?}"
    );
    let timber = layered(&[("Board", 12.5, ""), ("KVH 60/120", 120.0, ""), ("Board", 12.5, "")]).read(&[]);
    assert!(timber.findings.iter().all(|finding| finding.code != Code::SteelStuds));
}

#[test]
fn the_job_file_says_what_layers_are_and_assemblies_match_on_them() {
    let folder = tempfile::tempdir().unwrap();
    let (model, job) = (folder.path().join("house.ifc"), folder.path().join("job.toml"));
    std::fs::write(&model, layered(&[("Board", 15.0, ""), ("X-17", 140.0, ""), ("Board", 15.0, "")]).text()).unwrap();
    let text = "[[layer]]\nmatch.layer = \"X-*\"\nis = \"cavity\"\n\n[[layer]]\nmatch = { layer = \"Y-*\" }\nis = \"none\"\n\n\
                [exposure]\nexterior = [\"*\"]\n\n[assembly.other]\nframing = \"2x4 @ 16 in\"\nmatch = { layer = \"Z*\" }\n\n\
                [assembly.core]\nframing = \"2x6 @ 24 in\"\nmatch = [{ layer = \"X-17\", exposure = \"exterior\" }]\n";
    std::fs::write(&job, text).unwrap();
    let takeoff = saved_takeoff(&[&model], &["--job", job.to_str().unwrap()]);
    let wall = &takeoff["surfaces"][0];
    assert_eq!(wall["assembly"], "core: 2x6 @ 24 in");
    // Dressed 2x6 is 139.7 mm deep (PS 20-20, dressed two-by-six), less than the layer.
    assert!((wall["depth_m"].as_f64().unwrap() - 0.1397).abs() < 1e-9);
    let unused: Vec<&str> = takeoff["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|f| f["code"] == "rule-unused")
        .filter_map(|f| f["where"].as_str())
        .collect();
    assert!(unused.iter().any(|place| place.ends_with("job.toml:5:1")), "{unused:?}");
}
