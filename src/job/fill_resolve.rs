//! From a fill as it is written to the one that bays get.

use super::coverage_table::{Coverage, read_coverages};
use super::defaults::{self, JOB_FILE, PRACTICE, RETROFIT_ALLOWANCE};
use super::file::nearest;
use super::fill_file::{DepthDensityFile, FillFile};
use super::heat::parse_fill_conductivity;
use super::reader::Reader;
use super::rules::{FillChoice, parse_bag};
use crate::fill::{ClosedUse, DepthStep, Humidity, MATERIALS, Material, material_named};
use crate::model::Assumption;
use crate::order::Price;
use crate::units::{POUND_PER_CUBIC_FOOT_KG_M3, Quantity, parse_density, parse_percent};
use toml::Spanned;

/// Densest that loose fibre is blown: beyond this a density is a slip, in kilograms per cubic metre.
const DENSEST_KG_M3: f64 = 10.0 * POUND_PER_CUBIC_FOOT_KG_M3;

/// More bags than this on a pallet or in a bundle are a slip.
const MOST_IN_A_PACK: u32 = 500;

pub(super) fn resolve_fill(name: &Spanned<String>, file: &FillFile, reader: &mut Reader<'_>) -> Option<FillChoice> {
    let material = material_of(name, file, reader)?;
    let mut fill = defaults::named_fill(name.get_ref(), material);
    read_densities(name, file, &mut fill, reader);
    read_behaviour(name.get_ref(), file, &mut fill, reader);
    if let Some(text) = &file.bag
        && let Some(bag) = reader.quantity(text, parse_bag)
    {
        fill.bag_kg = Some(bag.si);
        fill.order_sources.push(given(name.get_ref(), "bag", &bag));
    }
    if material.is_none() && file.bag.is_none() {
        fill.bag_refusal = Some(Box::new(reader.refusal(
            name.span(),
            format!("`[fill.{}]` is no generic material and has no `bag`", name.get_ref()),
            "give the net mass on its label, such as `bag = \"25 lb\"`",
        )));
    }
    read_sale(name.get_ref(), file, &mut fill, reader);
    fill.coverage = read_coverages(name.get_ref(), &file.coverage, fill.bag_kg, reader);
    allowance(name.get_ref(), file, &mut fill, reader);
    fill.is_retrofit = file.retrofit == Some(true);
    Some(fill)
}

/// What the job file says of a fill, as the list of assumptions has it.
fn given(name: &str, key: &str, quantity: &Quantity) -> Assumption {
    Assumption {
        key: format!("fill.{name}.{key}"),
        value: quantity.number.clone(),
        unit: quantity.unit.clone(),
        source: JOB_FILE.to_owned(),
    }
}

/// Densities by depth and by use.
fn read_densities(name: &Spanned<String>, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    if let Some(density) = read_density(file.density.as_ref(), reader) {
        fill.rules.density_kg_m3 = density.si;
        fill.density_source = given(name.get_ref(), "density", &density);
    } else if file.density.is_none() && fill.material.is_none_or(|material| material.density.is_none()) {
        no_density(name, fill.material, reader);
    }
    read_steps(name.get_ref(), file, fill, reader);
    if let Some(density) = read_density(file.netted_density.as_ref(), reader) {
        fill.rules.netted_kg_m3 = Some(density.si);
        fill.use_sources.push((ClosedUse::Netted, given(name.get_ref(), "netted_density", &density)));
    }
    if let Some(density) = read_density(file.sloped_density.as_ref(), reader) {
        fill.rules.sloped_kg_m3 = Some(density.si);
        fill.use_sources.push((ClosedUse::Sloped, given(name.get_ref(), "sloped_density", &density)));
    }
    if let Some(density) = read_density(file.open_density.as_ref(), reader) {
        fill.rules.open_density_kg_m3 = Some(density.si);
        fill.open_source = Some(given(name.get_ref(), "open_density", &density));
        fill.open_range_kg_m3 = Some(defaults::given_open_range(&density));
    }
}

/// What the fill does once it is in place.
fn read_behaviour(name: &str, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    if let Some(text) = &file.settling
        && let Some(settling) = reader.quantity(text, parse_percent)
    {
        if settling.si >= 1.0 {
            let message = format!("`{}` leaves nothing of the fill", text.get_ref());
            reader.refuse(text.span(), message, "a label or a fact sheet gives it, such as `13 %`");
        }
        fill.settling_fraction = Some(settling.si);
        fill.settling_source = Some(given(name, "settling", &settling));
    }
    if let Some(text) = &file.conductivity
        && let Some(conductivity) = reader.quantity(text, parse_fill_conductivity)
    {
        fill.conductivity_w_mk = Some(conductivity.si);
        fill.conductivity_source = Some(given(name, "conductivity", &conductivity));
    }
    if let Some(text) = &file.humidity {
        let words = [("steady", Humidity::Steady), ("changing", Humidity::Changing)];
        fill.humidity = reader.word("humidity", text, &words).unwrap_or_default();
    }
}

/// The generic material that a fill is; `Some(None)` where it is none, `None` where it is said to be one that is not known.
#[allow(clippy::option_option, reason = "the outer one says whether the fill can be used at all")]
fn material_of(name: &Spanned<String>, file: &FillFile, reader: &mut Reader<'_>) -> Option<Option<&'static Material>> {
    let Some(given) = &file.material else { return Some(material_named(name.get_ref())) };
    let found = material_named(given.get_ref());
    if found.is_none() {
        let known: Vec<&str> = MATERIALS.iter().map(Material::name).collect();
        let help = match nearest(given.get_ref(), &known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!(
                "known here: {}; any other needs its own `density` and `bag`, and no `material`",
                known.join(", ")
            ),
        };
        reader.refuse(given.span(), format!("there is no generic material `{}`", given.get_ref()), help);
        return None;
    }
    Some(found)
}

fn no_density(name: &Spanned<String>, material: Option<&Material>, reader: &mut Reader<'_>) {
    let (message, help) = match material {
        Some(material) => (
            format!("`[fill.{}]` has no `density`, and none is published for {}", name.get_ref(), material.name()),
            "give what its maker recommends for closed cavities (US Standard Work Specifications 4.1103.1), such as \
             `density = \"2.5 lb/ft3\"`",
        ),
        None => (
            format!("`[fill.{}]` is no generic material and has no `density`", name.get_ref()),
            "give what its label or maker says, such as `density = \"3.5 lb/ft3\"`, or say which generic material it is, \
             such as `material = \"cellulose\"`",
        ),
    };
    reader.refuse(name.span(), message, help);
}

/// Densities from a depth on: one, by `deep_density` and `deep_from`, or several.
fn read_steps(name: &str, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    let of = |key: &str, value: &str, unit: &str| Assumption {
        key: format!("fill.{name}.{key}"),
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: JOB_FILE.to_owned(),
    };
    if let Some(first) = file.depth_density.first() {
        if file.deep_density.is_some() || file.deep_from.is_some() {
            let help = "write every depth in `depth_density`, and take `deep_density` and `deep_from` out";
            reader.refuse(first.span(), format!("`[fill.{name}]` gives densities of depths twice"), help);
        }
        let steps: Vec<(DepthStep, Assumption)> =
            file.depth_density.iter().filter_map(|step| read_step(step, reader, &of)).collect();
        (fill.rules.steps, fill.step_sources) = steps.into_iter().unzip();
        fill.rules.steps.sort_by(|a, b| a.from_m.total_cmp(&b.from_m));
        return;
    }
    let density = read_density(file.deep_density.as_ref(), reader);
    let from = file.deep_from.as_ref().and_then(|text| Some((reader.length_m(text)?, text.get_ref().as_str())));
    match (density, from, fill.rules.steps.as_mut_slice()) {
        (None, None, _) => {}
        (density, from, [step, ..]) => {
            if let Some(density) = density {
                step.density_kg_m3 = density.si;
                replace(&mut fill.step_sources, of("deep_density", &density.number, &density.unit));
            }
            if let Some((from_m, text)) = from {
                step.from_m = from_m;
                replace(&mut fill.step_sources, of("deep_from", text, ""));
            }
        }
        (Some(density), Some((from_m, text)), []) => {
            fill.rules.steps.push(DepthStep { from_m, density_kg_m3: density.si });
            fill.step_sources = vec![of("deep_density", &density.number, &density.unit), of("deep_from", text, "")];
        }
        (Some(_), None, []) => {
            let span = file.deep_density.as_ref().map(Spanned::span).unwrap_or_default();
            reader.refuse(span, "`deep_density` has no `deep_from`", "say where it begins: `deep_from = \"9 1/4 in\"`");
        }
        (None, Some(_), []) => {
            let span = file.deep_from.as_ref().map(Spanned::span).unwrap_or_default();
            reader.refuse(span, "`deep_from` has no `deep_density`", "add `deep_density = \"4 lb/ft3\"`");
        }
    }
}

fn read_step(
    step: &Spanned<DepthDensityFile>,
    reader: &mut Reader<'_>,
    of: &impl Fn(&str, &str, &str) -> Assumption,
) -> Option<(DepthStep, Assumption)> {
    let (Some(from), Some(density)) = (&step.get_ref().from, &step.get_ref().density) else {
        let help = "write `{ from = \"5 1/2 in\", density = \"3.7 lb/ft3\" }`";
        reader.refuse(step.span(), "an entry of `depth_density` needs both `from` and `density`", help);
        return None;
    };
    let from_m = reader.length_m(from)?;
    let density = read_density(Some(density), reader)?;
    let key = format!("depth_density from {}", from.get_ref().trim());
    Some((DepthStep { from_m, density_kg_m3: density.si }, of(&key, &density.number, &density.unit)))
}

/// How bags are sold.
fn read_sale(name: &str, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    let of = |key: &str, value: &str| Assumption {
        key: format!("fill.{name}.{key}"),
        value: value.to_owned(),
        unit: String::new(),
        source: JOB_FILE.to_owned(),
    };
    if let Some(text) = &file.price {
        fill.price = reader.quantity(text, Price::parse);
        fill.order_sources.push(of("price", text.get_ref()));
    }
    for (key, count, target) in
        [("pallet", &file.pallet, &mut fill.pallet_bags), ("bundle", &file.bundle, &mut fill.bundle_bags)]
    {
        let Some(count) = count else { continue };
        if !(1..=MOST_IN_A_PACK).contains(count.get_ref()) {
            let message = format!("`{key}` is {}: expected 1 to {MOST_IN_A_PACK} bags", count.get_ref());
            reader.refuse(count.span(), message, "");
        }
        *target = Some(u64::from(*count.get_ref()));
        fill.order_sources.push(of(key, &format!("{} bags", count.get_ref())));
    }
}

fn allowance(name: &str, file: &FillFile, fill: &mut FillChoice, reader: &mut Reader<'_>) {
    let key = format!("fill.{name}.allowance");
    let of = |value: f64, source: &str| Assumption {
        key: key.clone(),
        value: value.to_string(),
        unit: String::new(),
        source: source.to_owned(),
    };
    if let Some(allowance) = &file.allowance {
        if !(0.0..=1.0).contains(allowance.get_ref()) {
            let message = format!("`allowance` is {}: expected a fraction from 0 to 1", allowance.get_ref());
            reader.refuse(allowance.span(), message, "5 % is written `0.05`");
        }
        fill.allowance = *allowance.get_ref();
        replace(&mut fill.order_sources, of(fill.allowance, JOB_FILE));
    } else if file.retrofit == Some(true) {
        fill.allowance = RETROFIT_ALLOWANCE;
        replace(&mut fill.order_sources, of(fill.allowance, &format!("{PRACTICE}, for `retrofit`")));
    }
}

fn replace(sources: &mut [Assumption], given: Assumption) {
    if let Some(source) = sources.iter_mut().find(|source| source.key == given.key) {
        *source = given;
    }
}

fn read_density(text: Option<&Spanned<String>>, reader: &mut Reader<'_>) -> Option<Quantity> {
    let text = text?;
    let density = reader.quantity(text, parse_density)?;
    if density.si > DENSEST_KG_M3 {
        let message = format!("`{}` is denser than loose fibre is blown", text.get_ref());
        reader.refuse(text.span(), message, "walls take about `3.5 lb/ft3` (56 kg/m3)");
        return None;
    }
    Some(density)
}

impl FillChoice {
    /// The label's table for a use.
    pub fn coverage_for(&self, fill_use: crate::fill::FillUse) -> Option<&Coverage> {
        self.coverage.iter().find(|coverage| coverage.table.fill_use == fill_use)
    }
}
