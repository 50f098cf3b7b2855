//! Steel studs are named: they frame the same cavity, but take far less room in it than timber.

use crate::finding::{Code, Finding};
use crate::model::{LayerKind, Surface, is_steel};
use crate::source::Place;

/// One note on all surfaces whose cavity layer has steel studs.
pub fn steel_studs(path: &str, surfaces: &[Surface]) -> Option<Finding> {
    let steel = |surface: &&Surface| {
        let layer = surface.cavity_layer.and_then(|index| surface.layers.get(index));
        let is_framed = layer.is_some_and(|layer| layer.kind == LayerKind::Studs);
        let says = |text: Option<&str>| text.is_some_and(is_steel);
        is_framed && (says(layer.map(|layer| layer.material.as_str())) || says(surface.type_name.as_deref()))
    };
    let found: Vec<&Surface> = surfaces.iter().filter(steel).collect();
    let first = found.first()?;
    let layer =
        first.cavity_layer.and_then(|index| first.layers.get(index)).map_or("", |layer| layer.material.as_str());
    let message = format!(
        "{} surface{} steel studs (`{layer}`): bent from thin sheet, they take far less room than timber studs; framing \
         that is given in timber sizes leaves too little fill",
        found.len(),
        if found.len() == 1 { " has" } else { "s have" }
    );
    Some(Finding::note(Code::SteelStuds, &Place::input(path), message))
}
