//! The order, with the cells that may be changed, and the densities that the surfaces refer to.

use super::cell::{Cell, NO_BAG, Sheet, headings};
use super::{Book, ORDER, SURFACES, surfaces};
use crate::report::files::read_files;
use crate::takeoff::{FillTakeoff, Takeoff};

/// Rows above the lines of the order: title, what may be changed, headings.
const ABOVE: usize = 3;
/// Rows between the order and the densities: a blank one and headings.
const BETWEEN: usize = 2;

/// The cell of a density, as other sheets refer to it.
pub(super) fn density_cell(takeoff: &Takeoff, index: usize) -> String {
    // Rows are counted from 1.
    format!("{ORDER}!$B${}", ABOVE + takeoff.fills.len() + BETWEEN + index + 1)
}

pub(super) fn sheet(book: &Book<'_>) -> Sheet {
    let (volume, mass, area) = (book.units.volume_symbol(), book.units.mass_symbol(), book.units.area_symbol());
    let takeoff = book.takeoff;
    let title = takeoff.project.as_deref().map_or("Takeoff".to_owned(), |project| format!("Takeoff of {project}"));
    let changed = "Cells on coloured ground may be changed: density, bag, allowance. Masses and bags follow.";
    let mut rows = vec![
        vec![Cell::Heading(title)],
        vec![Cell::text(changed)],
        headings([
            "material".to_owned(),
            format!("volume ({volume})"),
            format!("mass ({mass})"),
            format!("bag ({mass})"),
            "bags, not rounded".to_owned(),
            "allowance".to_owned(),
            "bags to order".to_owned(),
            format!("counted ({area})"),
            format!("of ({area})"),
            "note".to_owned(),
        ]),
    ];
    rows.extend(takeoff.fills.iter().enumerate().map(|(index, fill)| line(book, index, fill)));
    rows.push(Vec::new());
    let density = format!("density ({})", book.units.density_symbol());
    rows.push(headings(["material", &density, "as taken off", "surfaces", "which"]));
    for one in &book.densities {
        let value = book.units.density(one.kg_m3);
        let names: Vec<&str> = one.surfaces.iter().map(|surface| surface.label()).collect();
        let cells = [
            Cell::text(one.fill),
            Cell::Input(Some(value), 2),
            Cell::Number(value, 2),
            Cell::whole(names.len()),
            Cell::text(names.join(", ")),
        ];
        rows.push(cells.into());
    }
    rows.push(Vec::new());
    let estimate = "These figures are estimates. The label on the bag, the local code and the licensed trades decide.";
    rows.push(vec![Cell::text(estimate)]);
    rows.extend(
        takeoff
            .cautions
            .iter()
            .map(|caution| vec![Cell::text(format!("{}: {}", caution.surfaces.join(", "), caution.message))]),
    );
    rows.extend(
        read_files(&takeoff.inputs, &takeoff.job_files)
            .iter()
            .map(|file| vec![Cell::text(format!("{} (SHA-256 {})", file.path, file.sha256))]),
    );
    Sheet { name: ORDER, frozen_rows: u32::try_from(ABOVE).unwrap_or(0), rows }
}

/// One line of the order. Sums are over the surfaces, and bags are rounded up once.
fn line(book: &Book<'_>, index: usize, fill: &FillTakeoff) -> Vec<Cell> {
    let row = ABOVE + index + 1;
    let sum = |column: char| {
        let last = book.takeoff.surfaces.len() + 1;
        let lines = surfaces::ORDER_LINE;
        format!("=SUMIF({SURFACES}!${lines}$2:${lines}${last},{},{SURFACES}!${column}$2:${column}${last})", index + 1)
    };
    let volume = Cell::Formula(sum(surfaces::VOLUME), book.units.volume(fill.volume_m3), 1);
    let mass = Cell::Formula(sum(surfaces::MASS), book.units.mass(fill.mass_kg), 1);
    let area = |area_m2: f64| Cell::Number(book.units.area(area_m2), 1);
    let mut cells = vec![Cell::text(&fill.name), volume, mass];
    if fill.estimate.is_some() {
        cells.extend([Cell::Empty, Cell::Empty, Cell::Empty, Cell::Empty]);
    } else {
        let formula = |inner: String| format!("=IF(D{row}=\"\",\"{NO_BAG}\",{inner})");
        let (exact, order) =
            (formula(format!("C{row}/D{row}")), formula(format!("ROUNDUP(C{row}/D{row}*(1+F{row})-0.000000001,0)")));
        #[allow(clippy::cast_precision_loss, reason = "orders stay far below 2^53 bags")]
        let order = match fill.bags_order {
            Some(bags) => Cell::Formula(order, bags as f64, 0),
            None => Cell::Pending(order, 0),
        };
        cells.extend([
            Cell::Input(fill.bag_kg.map(|bag_kg| book.units.mass(bag_kg)), 2),
            fill.bags_exact.map_or(Cell::Pending(exact.clone(), 1), |bags| Cell::Formula(exact, bags, 1)),
            Cell::Input(Some(fill.allowance), 2),
            order,
        ]);
    }
    cells.extend([area(fill.counted_area_m2), area(fill.asked_area_m2), Cell::text(note(fill))]);
    cells
}

fn note(fill: &FillTakeoff) -> &'static str {
    match (&fill.estimate, fill.bag_kg) {
        (Some(_), _) => "an estimate without a label's coverage table; not an order",
        (None, None) => "the net weight on the bag's label is not given; not an order",
        (None, Some(_)) => "",
    }
}
