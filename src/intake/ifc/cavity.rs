//! Which layer of an element holds its cavity.

use super::context::Context;
use super::element::Element;
use super::layers::{Layers, Mark};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::model::{Layer, LayerCategory, LayerKind, Subject, SurfaceKind, layer_kind};

/// A layer this many times as thick as any other of its kind is the cavity's, and the others are not.
const CLEARLY_THICKER: f64 = 2.0;
/// Rounding of thicknesses, as a share.
const ROUNDING: f64 = 1e-9;

/// What the layers of an element say of its cavity.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// Index of the layer that holds it; `None` where none does, or where several could.
    pub layer: Option<usize>,
    /// All layers that could hold it, where there are several.
    pub rivals: Vec<usize>,
}

/// Says what each layer is: by the job file, else by its names and its category.
pub fn classify(context: &Context<'_>, element: &Element, kind: SurfaceKind, found: &mut Layers) {
    let subject = Subject {
        type_name: element.type_name.as_deref(),
        name: element.name.as_deref(),
        id: None,
        storey: element.storey.as_deref(),
        exposure: element.exposure,
    };
    for (layer, mark) in found.layers.iter_mut().zip(&mut found.marks) {
        layer.kind = layer_kind(&layer.material, kind, mark.category);
        if let Some(rule) = context.layer_rules.iter().find(|rule| rule.fits(&subject, layer)) {
            layer.kind = rule.is.kind();
            mark.is_cavity = rule.is == crate::model::LayerUse::Cavity;
        }
    }
}

/// Chooses the cavity layer of an element and notes what is in doubt.
pub fn choose(context: &Context<'_>, element: &Element, layers: &[Layer], marks: &[Mark]) -> Option<usize> {
    let choice = cavity_layer(layers, marks);
    if choice.rivals.is_empty() {
        return choice.layer;
    }
    let named: Vec<String> = choice
        .rivals
        .iter()
        .filter_map(|index| layers.get(*index))
        .map(|layer| format!("`{}` ({:.0} mm)", layer.material, layer.thickness_m * 1000.0))
        .collect();
    let named = named.join(", ");
    context.note(match choice.layer.and_then(|index| layers.get(index)) {
        Some(taken) => Trouble::note(
            Code::LayerAmbiguous,
            element.entity,
            format!("the cavity could be in {named}: it is taken to be in `{}`, by far the thickest or the one that bears load", taken.material),
        ),
        None => Trouble::new(
            Code::LayerAmbiguous,
            element.entity,
            format!(
                "the cavity could be in {named}: none of these is taken; say which in the job file with a `[[layer]]` \
                 whose `match.layer` is its name and `is = \"cavity\"`"
            ),
        ),
    });
    choice.layer
}

/// The layer that the job file names; else the framed one; else the insulation between two others; else none.
///
/// Of several that could be it, the one that bears load or is by far the thickest is taken; else none is.
pub fn cavity_layer(layers: &[Layer], marks: &[Mark]) -> Choice {
    let mark = |index: usize| marks.get(index).copied().unwrap_or_default();
    let indices = |wanted: &dyn Fn(usize, &Layer) -> bool| -> Vec<usize> {
        layers.iter().enumerate().filter(|(index, layer)| wanted(*index, layer)).map(|(index, _)| index).collect()
    };
    let said = indices(&|index, _| mark(index).is_cavity);
    match said.as_slice() {
        [] => {}
        [only] => return Choice { layer: Some(*only), rivals: Vec::new() },
        _ => return Choice { layer: None, rivals: said },
    }
    let framed = indices(&|_, layer| layer.thickness_m > 0.0 && layer.kind == LayerKind::Studs);
    if !framed.is_empty() {
        let bearing: Vec<usize> =
            framed.iter().copied().filter(|i| mark(*i).category == Some(LayerCategory::LoadBearing)).collect();
        return match bearing.as_slice() {
            [only] if framed.len() > 1 => Choice { layer: Some(*only), rivals: framed },
            _ => thickest(layers, framed),
        };
    }
    let last = layers.len().saturating_sub(1);
    let is_between = |index: usize, layer: &Layer| {
        index > 0 && index < last && layer.thickness_m > 0.0 && layer.kind == LayerKind::Insulation
    };
    thickest(layers, indices(&is_between))
}

fn thickest(layers: &[Layer], mut rivals: Vec<usize>) -> Choice {
    let thickness_m = |index: usize| layers.get(index).map_or(0.0, |layer| layer.thickness_m);
    rivals.sort_by(|a, b| thickness_m(*b).total_cmp(&thickness_m(*a)).then(a.cmp(b)));
    match rivals.as_slice() {
        [] => Choice::default(),
        [only] => Choice { layer: Some(*only), rivals: Vec::new() },
        [first, second, ..] => {
            let is_clear = thickness_m(*first) >= CLEARLY_THICKER * thickness_m(*second) * (1.0 - ROUNDING);
            let layer = is_clear.then_some(*first);
            rivals.sort_unstable();
            Choice { layer, rivals }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chosen(of: &[(&str, f64)], category: &[Option<LayerCategory>]) -> (Option<usize>, usize) {
        let layers: Vec<Layer> = of.iter().map(|(material, mm)| Layer::named(material, mm / 1000.0)).collect();
        let marks: Vec<Mark> = category.iter().map(|c| Mark { category: *c, is_cavity: false }).collect();
        let choice = cavity_layer(&layers, &marks);
        (choice.layer, choice.rivals.len())
    }

    #[test]
    fn studs_win_over_thicker_insulation() {
        let wall = [("Gypsum board", 13.0), ("Wood stud", 89.0), ("Rigid insulation", 120.0), ("Render", 10.0)];
        assert_eq!(chosen(&wall, &[]), (Some(1), 0));
    }

    #[test]
    fn insulation_counts_only_between_two_others() {
        assert_eq!(chosen(&[("Mineral wool insulation", 160.0), ("Concrete", 200.0)], &[]), (None, 0));
        assert_eq!(chosen(&[("Brick", 100.0), ("Mineral wool", 90.0), ("Block", 100.0)], &[]), (Some(1), 0));
    }

    #[test]
    fn of_two_stud_layers_one_must_be_twice_as_thick_or_bear_load() {
        let unlike = [("Stud", 45.0), ("Stud", 145.0)];
        let alike = [("Stud", 95.0), ("Air", 20.0), ("Stud", 120.0)];
        assert_eq!(chosen(&unlike, &[]), (Some(1), 2));
        assert_eq!(chosen(&alike, &[]), (None, 2));
        assert_eq!(chosen(&[("Stud", 50.0), ("Stud", 100.0)], &[]), (Some(1), 2));
        assert_eq!(chosen(&alike, &[Some(LayerCategory::LoadBearing), None, None]), (Some(0), 2));
    }

    #[test]
    fn insulation_twice_between_others_is_in_doubt() {
        let wall = [("Brick", 100.0), ("Mineral wool", 90.0), ("Board", 12.0), ("Mineral wool", 80.0), ("Board", 12.0)];
        assert_eq!(chosen(&wall, &[]), (None, 2));
    }

    #[test]
    fn what_the_job_file_says_is_the_cavity_is_it() {
        let layers = [Layer::named("Stud", 0.1), Layer::named("X-17", 0.2)];
        let marks = [Mark::default(), Mark { category: None, is_cavity: true }];
        assert_eq!(cavity_layer(&layers, &marks).layer, Some(1));
    }
}
