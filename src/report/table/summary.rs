//! What a contractor acts on: the order with its reach, and where to set the bags down.

use super::WIDTH;
use super::attics::order_cautions;
use crate::fill::FillUse;
use crate::model::SurfaceKind;
use crate::report::text::{printable, shorten, wrap};
use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};
use crate::units::display::grouped;
use crate::units::{POUND_KG, UnitSystem};

/// Bags that people meet, in pounds; shown side by side where nobody gave one.
const COMMON_BAGS_LB: [f64; 3] = [25.0, 28.0, 30.0];

pub(in crate::report) fn title_words(takeoff: &Takeoff) -> String {
    let what = takeoff.project.as_deref().map(|name| format!("Takeoff of {}", printable(name)));
    let inputs: Vec<String> = takeoff.inputs.iter().map(|input| shorten(&input.path, 60)).collect();
    what.unwrap_or_else(|| format!("Takeoff of {}", inputs.join(", ")))
}

pub(super) fn title(takeoff: &Takeoff) -> Vec<String> {
    wrap(&title_words(takeoff), WIDTH, "  ")
}

/// The order in sentences.
pub(in crate::report) struct OrderWords {
    /// One list a fill that takes something, the order or its estimate with its reach first.
    pub fills: Vec<Vec<String>>,
    /// What is drilled and plugged.
    pub holes: Option<String>,
    /// Hours and what they cost, and what stays in the machine.
    pub labour: Option<String>,
    /// What must be read with it.
    pub cautions: Vec<String>,
}

/// The order, one paragraph a fill; nothing where nothing is counted.
pub fn order_lines(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let OrderWords { fills, holes, labour, cautions } = order_words(takeoff, units);
    let sentences = fills.into_iter().flatten().chain(holes).chain(labour).chain(cautions);
    sentences.flat_map(|text| wrap(&format!("  {text}"), WIDTH, "    ")).collect()
}

/// The order with its reach alone, a sentence a fill.
pub(super) fn order_again(takeoff: &Takeoff, units: UnitSystem) -> Vec<String> {
    let firsts = order_words(takeoff, units).fills.into_iter().filter_map(|fill| fill.into_iter().next());
    firsts.flat_map(|text| wrap(&format!("  {text}"), WIDTH, "    ")).collect()
}

/// The order in sentences, not yet broken into lines.
pub(in crate::report) fn order_words(takeoff: &Takeoff, units: UnitSystem) -> OrderWords {
    let mut fills = Vec::new();
    // A surface may be counted and have no bay to fill; then there is nothing to load.
    for fill in takeoff.fills.iter().filter(|fill| fill.mass_kg > 0.0) {
        let paragraph = match (fill.bag_kg, fill.bags_exact, fill.bags_order) {
            _ if fill.estimate.is_some() => estimated(takeoff, fill, units),
            (Some(bag_kg), Some(exact), Some(order)) => ordered(takeoff, fill, units, (bag_kg, exact, order)),
            _ => not_ordered(takeoff, fill, units),
        };
        fills.push(paragraph);
    }
    OrderWords {
        fills,
        holes: holes(takeoff, units),
        labour: super::staging::labour(takeoff, units),
        cautions: order_cautions(takeoff),
    }
}

/// What is drilled and plugged; nothing where nothing is.
fn holes(takeoff: &Takeoff, units: UnitSystem) -> Option<String> {
    let holes = &takeoff.holes;
    if holes.holes_to_drill == 0 {
        return None;
    }
    let unknown = if holes.not_counted_area_m2 > 0.0 {
        let area = units.show_area(holes.not_counted_area_m2);
        format!("; not for {area} of which only the area is known")
    } else {
        String::new()
    };
    Some(format!(
        "{} of {} to drill, {} to plug{unknown}",
        noun(holes.holes_to_drill, "hole"),
        units.show_section(holes.hole_diameter_m),
        thousands(holes.holes_to_plug)
    ))
}

fn ordered(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem, bags: (f64, f64, u64)) -> Vec<String> {
    let (bag_kg, exact, order) = bags;
    let bag = if units == UnitSystem::Us {
        format!("{} lb", trimmed(bag_kg / POUND_KG))
    } else {
        format!("{} kg", trimmed(bag_kg))
    };
    vec![
        format!("{}{} {}", noun(order, "bag"), of_fill(takeoff, fill), reach(takeoff, fill, units)),
        format!(
            "{}: {} of bays at {} take {}, which is {} bags of {bag}; {} % is added for spill, hopper and run-through",
            printable(&fill.name),
            units.show_volume(fill.volume_m3),
            density(takeoff, fill, units),
            units.show_mass(fill.mass_kg),
            grouped(exact, 1),
            trimmed(fill.allowance * 100.0)
        ) + &reached_words(takeoff, fill, units),
    ]
    .into_iter()
    .chain(how_sure(fill))
    .chain(sold(fill))
    .collect()
}

/// ` of cellulose`, where there is more than one material.
fn of_fill(takeoff: &Takeoff, fill: &FillTakeoff) -> String {
    let is_only = takeoff.fills.iter().all(|other| other.name == fill.name);
    if is_only { String::new() } else { format!(" of {}", printable(&fill.name)) }
}

/// `94 bags (90 to 99 at 90 %); that rests most on the depth of …, then on the …`: the three inputs that matter most.
fn how_sure(fill: &FillTakeoff) -> Option<String> {
    let range = fill.range.as_ref()?;
    let (order, least, most) = (fill.bags_order?, range.least_bags?, range.most_bags?);
    let named: Vec<String> = range.inputs.iter().take(3).map(|input| printable(&input.what)).collect();
    Some(format!(
        "{} ({} to {} at {} %); that rests most on the {}",
        noun(order, "bag"),
        thousands(least),
        thousands(most),
        trimmed(range.confidence_share * 100.0),
        named.join(", then on the ")
    ))
}

/// What is left when the allowance is lost: the density, or where there are several the share of the mass.
fn reached_words(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem) -> String {
    let Some(reached) = &fill.reached else { return String::new() };
    let densities = densities(takeoff, fill);
    let left = match (densities.first(), densities.last()) {
        (Some(least), Some(greatest)) if least < greatest => {
            format!("{} % of that mass is still blown", grouped(reached.mass_ratio * 100.0, 1))
        }
        _ => format!("{} is still reached", units.show_density(reached.least_density_kg_m3)),
    };
    format!("; should all of that be lost, {left}")
}

/// An amount of money with commas between the thousands.
pub(super) fn amount(text: &str) -> String {
    let (whole, cents) = text.split_once('.').unwrap_or((text, "00"));
    whole.parse::<u64>().map_or_else(|_| text.to_owned(), |whole| format!("{}.{cents}", thousands(whole)))
}

/// How the order is handed over, and what it costs.
fn sold(fill: &FillTakeoff) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for pack in &fill.packs {
        if pack.whole == 0 {
            parts.push(format!("less than a {} of {}", pack.pack, thousands(pack.bags)));
            continue;
        }
        let loose = if pack.loose > 0 { format!(" and {}", noun(pack.loose, "bag")) } else { String::new() };
        parts.push(format!("{} of {}{loose}", noun(pack.whole, &pack.pack), thousands(pack.bags)));
    }
    parts.extend(fill.price.as_ref().map(|price| {
        format!(
            "{} {} at {} a bag, a basis and not an offer",
            amount(&price.total),
            price.currency,
            amount(&price.each)
        )
    }));
    if parts.is_empty() { Vec::new() } else { vec![format!("{}: {}", printable(&fill.name), parts.join("; "))] }
}

/// Open-blown fill without a label's table.
fn estimated(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem) -> Vec<String> {
    let Some(estimate) = &fill.estimate else { return Vec::new() };
    let decimals = usize::from(units == UnitSystem::Si);
    vec![
        format!(
            "{} to {}, an estimate {}",
            grouped(units.mass(estimate.least_kg), decimals),
            units.show_mass(estimate.most_kg),
            reach(takeoff, fill, units)
        ),
        format!(
            "{}, open-blown: {} at {} to {} settled ({}). This is an estimate, not an order and not for the receipt: the \
             coverage table on the label gives bags and R",
            printable(&fill.name),
            units.show_volume(fill.volume_m3),
            grouped(units.density(estimate.least_kg / fill.volume_m3), density_decimals(units)),
            units.show_density(estimate.most_kg / fill.volume_m3),
            printable(&estimate.source)
        ),
    ]
}

fn not_ordered(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem) -> Vec<String> {
    let bags: Vec<String> = COMMON_BAGS_LB
        .iter()
        .map(|bag_lb| {
            let bags = grouped(fill.mass_kg / POUND_KG / bag_lb, 1);
            let metric = if units == UnitSystem::Si {
                format!(" ({} kg)", grouped(bag_lb * POUND_KG, 1))
            } else {
                String::new()
            };
            format!("{bags} bags of {bag_lb} lb{metric}")
        })
        .collect();
    vec![
        format!("{} {}", units.show_mass(fill.mass_kg), reach(takeoff, fill, units)),
        format!(
            "{}: {} of bays at {}; {}. This is not an order: the net weight on the bag decides, and \
             `--bag \"25 lb\"` gives it",
            printable(&fill.name),
            units.show_volume(fill.volume_m3),
            density(takeoff, fill, units),
            bags.join(", or ")
        ),
    ]
}

/// Densities of the surfaces of an entry, from the least.
fn densities(takeoff: &Takeoff, fill: &FillTakeoff) -> Vec<f64> {
    let is_estimate = |surface: &SurfaceTakeoff| surface.r#use == Some(FillUse::OpenBlown) && surface.label.is_none();
    let of_fill = takeoff.surfaces.iter().filter(|surface| surface.fill.as_ref() == Some(&fill.name));
    let of_entry = of_fill.filter(|surface| is_estimate(surface) == fill.estimate.is_some());
    let mut densities: Vec<f64> = of_entry.filter_map(|surface| surface.density_kg_m3).collect();
    densities.sort_by(f64::total_cmp);
    densities
}

/// The density as installed, or the least and the greatest where bays of several depths are filled.
fn density(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem) -> String {
    let densities = densities(takeoff, fill);
    match (densities.first(), densities.last()) {
        (Some(least), Some(greatest)) if least < greatest => {
            format!("{} to {}", grouped(units.density(*least), density_decimals(units)), units.show_density(*greatest))
        }
        (Some(only), _) => units.show_density(*only),
        (None, _) => "no density".to_owned(),
    }
}

fn density_decimals(units: UnitSystem) -> usize {
    usize::from(units == UnitSystem::Us)
}

/// `for 1,310 of 1,900 ft2 of exterior wall; 590 ft2 not counted`.
fn reach(takeoff: &Takeoff, fill: &FillTakeoff, units: UnitSystem) -> String {
    let kinds: Vec<&str> = fill.kinds.iter().map(|kind| kind_word(*kind)).collect();
    let exposure = takeoff.exposure_asked.word();
    let what = format!("{exposure} {}", listed(&kinds));
    let missing_m2 = fill.asked_area_m2 - fill.counted_area_m2;
    let decimals = usize::from(units == UnitSystem::Si);
    if missing_m2 <= 1e-9 * fill.asked_area_m2 {
        return format!("for {} of {}, all of it counted", units.show_area(fill.counted_area_m2), what.trim());
    }
    format!(
        "for {} of {} of {}; {} not counted",
        grouped(units.area(fill.counted_area_m2), decimals),
        units.show_area(fill.asked_area_m2),
        what.trim(),
        units.show_area(missing_m2)
    )
}

/// `wall`, `wall and roof`, `wall, roof and floor`.
pub(in crate::report) fn listed(words: &[&str]) -> String {
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        Some((only, _)) => (*only).to_owned(),
        None => String::new(),
    }
}

pub(in crate::report) fn kind_word(kind: SurfaceKind) -> &'static str {
    match kind {
        SurfaceKind::Wall => "wall",
        SurfaceKind::Ceiling => "ceiling",
        SurfaceKind::Roof => "roof",
        SurfaceKind::Floor => "floor",
    }
}

pub(in crate::report) fn noun(count: u64, word: &str) -> String {
    format!("{} {word}{}", thousands(count), if count == 1 { "" } else { "s" })
}

#[allow(clippy::cast_precision_loss, reason = "counts are far below 2^52")]
fn thousands(count: u64) -> String {
    grouped(count as f64, 0)
}

/// A number with up to two decimals and no trailing zeros.
pub(super) fn trimmed(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
