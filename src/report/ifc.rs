//! The takeoff written back into the model that it was taken from.
//!
//! Records are added behind those of the data section, which stay as they are, byte for byte: for each element with a
//! counted surface an `IfcElementQuantity` and an `IfcPropertySet`, with units of their own, so that the model's units do
//! not matter.
//!
//! # Source
//! Attributes as in IFC2X3 TC1, IFC4 ADD2 TC1 (ISO 16739-1:2018) and IFC4X3 ADD2 (ISO 16739-1:2024); text as in ISO
//! 10303-21, clause 6.4.3.

use crate::intake::ifc::{ModelText, Schema};
use crate::takeoff::{ElementTakeoff, Takeoff, add_up_by_element};
use sha2::{Digest, Sha256};
use std::fmt::Write;

/// Names of the sets; those that begin with `Qto_` and `Pset_` are the standard's own.
const QUANTITIES: &str = "Cavitally_Takeoff";
const PROPERTIES: &str = "Cavitally_Fill";
/// What the set of quantities says of how they were measured.
const METHOD: &str = "measured in the plane of the cavity; areas as gross = openings + members + bays + left out";
/// Longest text of an `IfcLabel`, in characters.
const LONGEST_LABEL: usize = 255;
/// The digits of a GlobalId, as the standard's compressed form has them.
const DIGITS: &[u8; 64] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$";

/// The model with the takeoff, in pieces that stand one behind the other.
pub(super) fn model_with_takeoff(takeoff: &Takeoff, model: &ModelText) -> Vec<Vec<u8>> {
    let checksum = takeoff.inputs.first().map(|input| input.sha256.as_str()).unwrap_or_default();
    let mut records =
        Records { text: String::new(), last: model.last_instance, schema: model.schema, seed: checksum.to_owned() };
    let (before, behind) = model.bytes.split_at(model.data_end.min(model.bytes.len()));
    if !before.ends_with(b"\n") {
        records.text.push('\n');
    }
    let elements = add_up_by_element(takeoff);
    if !elements.is_empty() {
        let shared = Shared::write(&mut records, model.owner_history);
        for element in &elements {
            shared.quantities(&mut records, element);
            shared.properties(&mut records, element);
        }
    }
    vec![before.to_vec(), records.text.into_bytes(), behind.to_vec()]
}

/// Records that are added.
struct Records {
    text: String,
    /// Instance name that was given last.
    last: u64,
    schema: Schema,
    /// What tells the GlobalIds of one model from those of another.
    seed: String,
}

impl Records {
    /// Adds a record; its instance name.
    fn add(&mut self, record: &str) -> String {
        self.last += 1;
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "#{}={record};", self.last);
        format!("#{}", self.last)
    }

    /// A `GlobalId` that follows from the model, the element and the purpose.
    fn global_id(&self, element: &str, purpose: &str) -> String {
        let hash = Sha256::digest(format!("{}\n{element}\n{purpose}", self.seed));
        let number = hash.iter().take(16).fold(0_u128, |number, byte| (number << 8) | u128::from(*byte));
        // 128 bits as 22 digits of 6 bits each; the first has the uppermost two.
        let digit = |place: u32| {
            let index = usize::try_from((number >> (6 * place)) & 63).unwrap_or(0);
            char::from(DIGITS.get(index).copied().unwrap_or(b'0'))
        };
        (0..22).rev().map(digit).collect()
    }

    /// An argument that IFC4X3 has and earlier schemas have not.
    fn since(&self, first: Schema) -> &'static str {
        let has = match first {
            Schema::Ifc2x3 => true,
            Schema::Ifc4 => self.schema != Schema::Ifc2x3,
            Schema::Ifc4x3 => self.schema == Schema::Ifc4x3,
        };
        if has { ",$" } else { "" }
    }
}

/// What all sets share.
struct Shared {
    owner: String,
    area: String,
    volume: String,
    mass: String,
    length: String,
    density: String,
}

impl Shared {
    fn write(records: &mut Records, owner_history: Option<u64>) -> Self {
        let owner = match (owner_history, records.schema) {
            (Some(id), _) => format!("#{id}"),
            // From IFC4 on a rooted entity need not have one.
            (None, Schema::Ifc4 | Schema::Ifc4x3) => "$".to_owned(),
            (None, Schema::Ifc2x3) => own_history(records),
        };
        let length = records.add("IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.)");
        let area = records.add("IFCSIUNIT(*,.AREAUNIT.,$,.SQUARE_METRE.)");
        let volume = records.add("IFCSIUNIT(*,.VOLUMEUNIT.,$,.CUBIC_METRE.)");
        let mass = records.add("IFCSIUNIT(*,.MASSUNIT.,.KILO.,.GRAM.)");
        let parts = [(&mass, 1), (&length, -3)].map(|(unit, power)| {
            let unit = unit.clone();
            records.add(&format!("IFCDERIVEDUNITELEMENT({unit},{power})"))
        });
        let name = records.since(Schema::Ifc4x3);
        let density = format!("IFCDERIVEDUNIT(({}),.MASSDENSITYUNIT.,${name})", parts.join(","));
        let density = records.add(&density);
        Self { owner, area, volume, mass, length, density }
    }

    fn quantities(&self, records: &mut Records, element: &ElementTakeoff) {
        let all = [
            ("AREA", "GrossArea", &self.area, real(element.gross_area_m2)),
            ("AREA", "OpeningArea", &self.area, real(element.opening_area_m2)),
            ("AREA", "MemberArea", &self.area, real(element.member_area_m2)),
            ("AREA", "BayArea", &self.area, real(element.bay_area_m2)),
            ("AREA", "LeftOutArea", &self.area, real(element.left_out_area_m2)),
            ("VOLUME", "BayVolume", &self.volume, real(element.bay_volume_m3)),
            ("WEIGHT", "FillMass", &self.mass, real(element.mass_kg)),
            ("COUNT", "Bays", &"$".to_owned(), count(element.bays, records.schema)),
        ];
        // IFC4 added the formula behind the value.
        let formula = records.since(Schema::Ifc4);
        let quantities: Vec<String> = all
            .iter()
            .map(|(class, name, unit, value)| {
                records.add(&format!("IFCQUANTITY{class}('{name}',$,{unit},{value}{formula})"))
            })
            .collect();
        let id = records.global_id(&element.id, QUANTITIES);
        let list = quantities.join(",");
        let set = format!("IFCELEMENTQUANTITY('{id}',{},'{QUANTITIES}',$,{},({list}))", self.owner, text(METHOD));
        let set = records.add(&set);
        self.relate(records, element, QUANTITIES, &set);
    }

    fn properties(&self, records: &mut Records, element: &ElementTakeoff) {
        let measure = |class: &str, value: f64| format!("IFC{class}MEASURE({})", real(value));
        let all = [
            ("Assembly", Some(label(&element.assembly)), "$"),
            ("Fill", Some(label(&element.fill)), "$"),
            ("Depth", element.depth_m.map(|depth_m| measure("POSITIVELENGTH", depth_m)), &self.length),
            ("Density", element.density_kg_m3.map(|density| measure("MASSDENSITY", density)), &self.density),
            ("FillMass", Some(measure("MASS", element.mass_kg)), &self.mass),
            ("FramingFraction", element.framing_fraction.map(|share| measure("NORMALISEDRATIO", share)), "$"),
        ];
        let properties: Vec<String> = all
            .into_iter()
            .filter_map(|(name, value, unit)| {
                Some(records.add(&format!("IFCPROPERTYSINGLEVALUE('{name}',$,{},{unit})", value?)))
            })
            .collect();
        let id = records.global_id(&element.id, PROPERTIES);
        let set = format!("IFCPROPERTYSET('{id}',{},'{PROPERTIES}',$,({}))", self.owner, properties.join(","));
        let set = records.add(&set);
        self.relate(records, element, PROPERTIES, &set);
    }

    fn relate(&self, records: &mut Records, element: &ElementTakeoff, name: &str, set: &str) {
        let id = records.global_id(&element.id, &format!("{name}, relation"));
        records.add(&format!("IFCRELDEFINESBYPROPERTIES('{id}',{},$,$,(#{}),{set})", self.owner, element.entity));
    }
}

/// An owner history, which IFC2X3 asks for and a model may lack.
fn own_history(records: &mut Records) -> String {
    let person = records.add("IFCPERSON($,'not given',$,$,$,$,$,$)");
    let organization = records.add("IFCORGANIZATION($,'not given',$,$,$)");
    let both = records.add(&format!("IFCPERSONANDORGANIZATION({person},{organization},$)"));
    let version = env!("CARGO_PKG_VERSION");
    let program = records.add(&format!("IFCAPPLICATION({organization},'{version}','cavitally','cavitally')"));
    // No clock: the same takeoff gives the same bytes.
    records.add(&format!("IFCOWNERHISTORY({both},{program},$,.ADDED.,$,$,$,0)"))
}

/// A number of things: a number up to IFC4, an integer from IFC4X3 on.
fn count(value: u64, schema: Schema) -> String {
    if schema == Schema::Ifc4x3 { value.to_string() } else { format!("{value}.") }
}

/// A real of ISO 10303-21: digits, a point, and an exponent behind `E`.
fn real(value: f64) -> String {
    let plain = format!("{value:?}");
    let (digits, exponent) = plain.split_once('e').map_or((plain.as_str(), None), |(d, e)| (d, Some(e)));
    let digits = if digits.contains('.') { digits.to_owned() } else { format!("{digits}.") };
    let digits = digits.strip_suffix(".0").map_or(digits.clone(), |whole| format!("{whole}."));
    exponent.map_or(digits.clone(), |exponent| format!("{digits}E{exponent}"))
}

/// A short text as a label, a longer one as a text.
fn label(value: &str) -> String {
    let class = if value.chars().count() <= LONGEST_LABEL { "IFCLABEL" } else { "IFCTEXT" };
    format!("{class}({})", text(value))
}

/// A string of ISO 10303-21: apostrophes and backslashes doubled, all that is not printable ASCII by its code.
fn text(value: &str) -> String {
    let mut out = String::from("'");
    for c in value.chars() {
        let code = u32::from(c);
        // Writing to a string cannot fail.
        let _ = match c {
            '\'' => write!(out, "''"),
            '\\' => write!(out, "\\\\"),
            ' '..='~' => write!(out, "{c}"),
            _ if code <= 0xffff => write!(out, "\\X2\\{code:04X}\\X0\\"),
            _ => write!(out, "\\X4\\{code:08X}\\X0\\"),
        };
    }
    out.push('\'');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 10303-21, clauses 6.4.2 and 6.4.3 (from memory).
    #[test]
    fn numbers_and_texts_are_those_of_the_exchange_structure() {
        let shown: Vec<String> = [1.0, 0.0, 12.5, 1e-7, 1.5e300].map(real).into();
        assert_eq!(shown, ["1.", "0.", "12.5", "1.E-7", "1.5E300"]);
        assert_eq!(text("Wand 'a\\b' ä \u{1f3e0}"), "'Wand ''a\\\\b'' \\X2\\00E4\\X0\\ \\X4\\0001F3E0\\X0\\'");
    }

    // The compressed form has 22 digits, the first of them 0 to 3: IFC4 documentation, IfcGloballyUniqueId.
    #[test]
    fn global_ids_follow_from_what_they_are_for() {
        let records = Records { text: String::new(), last: 0, schema: Schema::Ifc4, seed: "a".to_owned() };
        let id = records.global_id("x", "y");
        assert!(id.len() == 22 && ('0'..='3').contains(&id.chars().next().unwrap()), "{id}");
        assert_eq!(records.global_id("x", "y"), id);
        assert_ne!(records.global_id("x", "z"), id);
    }
}
