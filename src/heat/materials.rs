//! Conductivities of materials in general, with their sources: the table `materials.csv`.

use super::LayerHeat;
use crate::model::LayerMaterial;
use crate::units::{parse_conductivity, parse_resistance};
use std::sync::OnceLock;

/// A line of the table.
#[derive(Clone, Debug, PartialEq)]
pub struct MaterialEntry {
    /// What it is.
    pub material: LayerMaterial,
    /// Conductivity, or resistance whatever the thickness.
    pub heat: LayerHeat,
    /// The number as the table has it.
    pub value: String,
    /// Its unit.
    pub unit: String,
    /// Where it is published, and how it is known.
    pub source: String,
}

/// The entry of a material; `None` where it is not in the table, as of air and of insulation, which are never guessed.
pub fn material_entry(material: LayerMaterial) -> Option<&'static MaterialEntry> {
    static ENTRIES: OnceLock<Vec<MaterialEntry>> = OnceLock::new();
    let entries = ENTRIES.get_or_init(|| read(include_str!("materials.csv")));
    entries.iter().find(|entry| entry.material == material)
}

fn read(table: &str) -> Vec<MaterialEntry> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(table.as_bytes());
    reader.records().filter_map(Result::ok).filter_map(|record| entry(&record)).collect()
}

fn entry(record: &csv::StringRecord) -> Option<MaterialEntry> {
    let (value, unit) = (record.get(1)?, record.get(2)?);
    let text = format!("{value} {unit}");
    // The readers take no zero, which a membrane has.
    let heat = match (value.parse::<f64>(), parse_conductivity(&text), parse_resistance(&text)) {
        (Ok(number), _, _) if number <= 0.0 => LayerHeat::ResistanceM2kW(0.0),
        (_, Ok(conductivity), _) => LayerHeat::ConductivityWMk(conductivity.si),
        (_, _, resistance) => LayerHeat::ResistanceM2kW(resistance.ok()?.si),
    };
    let recalled = if record.get(4)? == "from memory" { ", from memory" } else { "" };
    Some(MaterialEntry {
        material: LayerMaterial::of_word(record.get(0)?)?,
        heat,
        value: value.to_owned(),
        unit: unit.to_owned(),
        source: format!("{}{recalled}", record.get(3)?),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W, INCH_M};

    fn r_us(material: LayerMaterial, thickness_in: f64) -> f64 {
        let entry = material_entry(material).unwrap();
        let resistance_m2k_w = entry.heat.resistance_m2k_w(Some(thickness_in * INCH_M)).unwrap();
        resistance_m2k_w / HOUR_SQUARE_FOOT_F_PER_BTU_M2K_W
    }

    // California energy code, Joint Appendix 4, table 4.5.1 (copy of 2019): gypsum board 1/2 in. 0.45, plywood 1/2 in.
    // 0.63, softwood 4 in. 5.00. A published example of a 2x6 wall: OSB 7/16 in. 0.62, siding 0.62, stud of 5 1/2 in. 6.875.
    #[test]
    fn published_resistances_come_back() {
        for (material, thickness_in, expected) in [
            (LayerMaterial::GypsumBoard, 0.5, 0.45),
            (LayerMaterial::Plywood, 0.5, 0.63),
            (LayerMaterial::Wood, 4.0, 5.0),
            (LayerMaterial::Wood, 5.5, 6.875),
            (LayerMaterial::Osb, 7.0 / 16.0, 0.62),
            (LayerMaterial::WoodSiding, 1.0, 0.62),
        ] {
            let found = r_us(material, thickness_in);
            assert!((found - expected).abs() < 0.002, "{material:?}: {found}");
        }
    }

    #[test]
    fn every_line_is_read_and_says_where_it_comes_from() {
        let lines = include_str!("materials.csv").lines().filter(|line| !line.starts_with('#')).skip(1).count();
        let entries = read(include_str!("materials.csv"));
        assert_eq!(entries.len(), lines);
        assert!(entries.iter().all(|entry| entry.source.len() > 10));
        for material in [LayerMaterial::Air, LayerMaterial::Other] {
            assert_eq!(material_entry(material), None);
        }
    }
}
