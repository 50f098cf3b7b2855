//! A plan as a sheet: a row a surface, a group or the whole job; a column a figure.

use super::{Basis, Claim, ClaimGroup, Plan, Quantity};
use crate::intake::csv::table::{Column, Holds, Row, Table};
use crate::intake::selection::{KINDS, Selection};
use crate::model::Glob;
use crate::refusal::Refusal;

/// Frictionless Table Schema (Data Package v2) of a plan.
pub const CLAIMS_SCHEMA: &str = include_str!("../../../schemas/claims.table.json");

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Key {
    Surface,
    Type,
    Storey,
    Zone,
    Kind,
    Basis,
    RPerInch,
    Note,
    Figure(Quantity),
}

const fn text(key: Key, heading: &'static str, others: &'static [&'static str]) -> Column<Key> {
    Column { key, heading, others, holds: Holds::Text }
}

const fn figure(
    quantity: Quantity,
    heading: &'static str,
    holds: Holds,
    others: &'static [&'static str],
) -> Column<Key> {
    Column { key: Key::Figure(quantity), heading, others, holds }
}

const COLUMNS: &[Column<Key>] = &[
    text(Key::Surface, "surface", &["id", "surfaces"]),
    text(Key::Type, "type", &[]),
    text(Key::Storey, "storey", &["story"]),
    text(Key::Zone, "zone", &[]),
    text(Key::Kind, "kind", &[]),
    figure(Quantity::GrossArea, "gross area", Holds::Area, &[]),
    figure(Quantity::NetArea, "net area", Holds::Area, &[]),
    figure(Quantity::BayArea, "bay area", Holds::Area, &["cavity area"]),
    figure(Quantity::FramingFraction, "framing fraction", Holds::Share, &["framing", "framing factor"]),
    figure(Quantity::Depth, "depth", Holds::Length, &["cavity depth"]),
    figure(Quantity::SettledThickness, "settled thickness", Holds::Length, &["minimum settled thickness"]),
    figure(Quantity::InitialThickness, "initial thickness", Holds::Length, &["installed thickness"]),
    figure(Quantity::Density, "density", Holds::Density, &[]),
    figure(Quantity::Mass, "mass", Holds::Mass, &["weight"]),
    figure(Quantity::Bags, "bags", Holds::Number, &[]),
    figure(Quantity::BagMass, "bag", Holds::Mass, &["bag mass", "bag weight"]),
    figure(Quantity::RValue, "r value", Holds::Resistance, &["r"]),
    figure(Quantity::UValue, "u value", Holds::Transmittance, &["u", "u factor"]),
    text(Key::Basis, "basis", &["r basis"]),
    Column { key: Key::RPerInch, heading: "r per inch", others: &[], holds: Holds::Resistance },
    text(Key::Note, "note", &["notes"]),
];

/// Headings that leave open what they are of.
const WRONG: &[(&str, &str)] = &[
    (
        "area",
        "name it `gross area` (openings filled), `net area` (openings taken off) or `bay area` (framing taken off too)",
    ),
    ("thickness", "name it `settled thickness`, `initial thickness` or, of a closed cavity, `depth`"),
];

const BASES: [(&str, Basis); 5] = [
    ("label", Basis::Label),
    ("cavity", Basis::Label),
    ("nominal", Basis::Label),
    ("whole assembly", Basis::WholeAssembly),
    ("assembly", Basis::WholeAssembly),
];

/// Reads a plan.
///
/// # Errors
/// Every cell that cannot be read, with its line and column; a row without surfaces; a resistance without a basis.
pub fn read_claims_sheet(path: &str, bytes: &[u8]) -> Result<Plan, Vec<Refusal>> {
    let table = Table::open(path, bytes, COLUMNS, WRONG)?;
    let is_figure = |column: &&Column<Key>| matches!(column.key, Key::Figure(_));
    if !COLUMNS.iter().filter(is_figure).any(|column| table.has(column.key)) {
        let help = "such as `gross area`, `net area`, `depth`, `density`, `bags`, `r value` with `basis`";
        return Err(vec![Refusal::new(table.heading_place(), "the plan has no column of figures", help)]);
    }
    let help = "give a row for each surface or group, or one with `*` for the whole job";
    let groups = table.read_rows(("plan", help), |row, _: &[ClaimGroup]| Some(read_row(row)))?;
    let input = table.input(bytes, "claims");
    Ok(Plan { input, groups, findings: table.findings })
}

fn read_row(row: &mut Row<'_, '_, Key>) -> ClaimGroup {
    let glob = |row: &Row<'_, '_, Key>, key: Key| row.text(key).map(Glob::new);
    let kind_word = row.text(Key::Kind).map(str::to_lowercase);
    let kind = kind_word.as_deref().and_then(|word| KINDS.iter().find(|(known, _)| *known == word));
    if let Some(word) = kind_word.as_deref().filter(|_| kind.is_none()) {
        row.fault(Key::Kind, format!("`{word}` is no kind of surface"), "write `wall`, `ceiling`, `roof` or `floor`");
    }
    let selection = Selection {
        surfaces: row.text(Key::Surface).map(Selection::patterns).unwrap_or_default(),
        r#type: glob(row, Key::Type),
        storey: glob(row, Key::Storey),
        zone: glob(row, Key::Zone),
        kind: kind.map(|(_, kind)| *kind),
    };
    if selection.is_empty() {
        row.fault(
            Key::Surface,
            "the row names no surface",
            "give an id, a pattern such as `G-*`, a storey, a type, or `*` for the whole job",
        );
    }
    let basis = read_basis(row);
    let mut claims = Vec::new();
    for column in COLUMNS {
        let Key::Figure(quantity) = column.key else { continue };
        let Some(value) = row.measure(column.key) else { continue };
        let is_heat = matches!(quantity, Quantity::RValue | Quantity::UValue);
        if is_heat && basis.is_none() && row.faults.is_empty() {
            let message = format!("`{}` does not say what it is of", column.heading);
            row.fault(
                column.key,
                message,
                "give a `basis`: `label` for the fill alone, `whole assembly` with framing, layers and films",
            );
        } else if quantity == Quantity::UValue && basis == Some(Basis::Label) {
            row.fault(column.key, "a label states no transmittance", "a `u value` is of the `whole assembly`");
        }
        claims.push(Claim { place: row.place(column.key), quantity, value, basis: basis.filter(|_| is_heat) });
    }
    let r_per_inch_m2k_w = row.measure(Key::RPerInch).map(|written| written.si);
    if claims.is_empty() && row.faults.is_empty() {
        row.fault(Key::Surface, "the row claims nothing", "give a figure, or take the row out");
    }
    ClaimGroup { place: row.place(Key::Surface).without_column(), selection, r_per_inch_m2k_w, claims }
}

fn read_basis(row: &mut Row<'_, '_, Key>) -> Option<Basis> {
    let word = row.text(Key::Basis)?.to_lowercase();
    let basis = BASES.iter().find(|(known, _)| *known == word).map(|(_, basis)| *basis);
    if basis.is_none() {
        row.fault(Key::Basis, format!("`{word}` is no basis"), "write `label` (the fill alone) or `whole assembly`");
    }
    basis
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(text: &str) -> String {
        let refusals = read_claims_sheet("plan.csv", text.as_bytes()).unwrap_err();
        refusals.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn figures_keep_their_place_and_basis() {
        let text = "surface,storey,net area (ft2),R value,basis\nG-*,Ground floor,252,R-13,label\n";
        let plan = read_claims_sheet("plan.csv", text.as_bytes()).unwrap();
        let group = &plan.groups[0];
        assert_eq!(group.selection.words(), "G-*, storey Ground floor");
        assert_eq!(group.claims.len(), 2);
        assert_eq!((group.claims[0].quantity, group.claims[0].basis), (Quantity::NetArea, None));
        assert_eq!((group.claims[1].quantity, group.claims[1].basis), (Quantity::RValue, Some(Basis::Label)));
        assert_eq!(group.claims[0].place.to_string(), "plan.csv:2:18");
        assert!((group.claims[0].value.half_step_si - 0.5 * 0.092_903_04).abs() < 1e-9);
    }

    #[test]
    fn each_slip_gets_its_place() {
        assert!(
            refused("surface,net area\nG-S,252 hides\n").starts_with("plan.csv:2:5: `net area`: `hides` is no unit")
        );
        assert!(refused("surface,r value\nG-S,R-13\n").contains("does not say what it is of"));
        assert!(refused("surface,u value,basis\nG-S,U-0.06,label\n").contains("no transmittance"));
        assert!(refused("surface,area\nG-S,252 ft2\n").contains("plan.csv:1:9: the heading `area`"));
        assert!(refused("surface,bags\n,3\n").contains("names no surface"));
        assert!(refused("surface,bags\nG-S,\n").contains("claims nothing"));
        assert!(refused("surface,bags\nG-S,-3\n").contains("not a number"));
        assert!(refused("surface,note\nG-S,x\n").contains("no column of figures"));
        assert!(refused("surface,kind,bags\nG-S,door,3\n").contains("no kind"));
        assert!(refused("surface,bags\n").contains("no rows"));
        assert!(refused("surface,r value,basis\nG-S,R-13,guess\n").contains("no basis"));
    }
}
