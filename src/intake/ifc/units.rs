//! The units of a model: how many metres its length unit has, and how many radians its angle unit.

use super::class::Class;
use super::file::File;
use super::record::{Record, parse_number, untyped};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::refusal::Refusal;
use crate::source::Place;

/// Deeper than this no conversion rests on another.
const DEEPEST: usize = 16;

/// Units of a model.
#[derive(Clone, Debug, PartialEq)]
pub struct Units {
    /// Metres in a length unit.
    pub length_m: f64,
    /// Radians in a plane-angle unit.
    pub angle_rad: f64,
    /// Name of the length unit, in small letters.
    pub length_name: String,
}

/// Reads the units of a model.
///
/// # Errors
/// No project, no length unit, or one that cannot be used: areas would be off by any factor.
pub fn read(file: &File<'_>) -> Result<Units, Refusal> {
    let help = "ask for an export that states its length unit";
    let refuse = |message: String| Refusal::new(Place::input(file.path()), message, help);
    let project = file.of_class(Class::Project).next();
    let project = project.ok_or_else(|| refuse("no IfcProject, hence no length unit".to_owned()))?;
    let refuse_trouble = |trouble: Trouble| {
        Refusal::new(file.place(trouble.entity, None), trouble.message, "ask for an export that states its length unit")
    };
    let project = file.record(project).map_err(refuse_trouble)?;
    let assignment = project.optional_reference(8);
    let assignment =
        assignment.ok_or_else(|| refuse("the project has no unit assignment, hence no length unit".to_owned()))?;
    let assignment = file.follow(project.id, assignment).map_err(refuse_trouble)?;
    let mut units = Units { length_m: f64::NAN, angle_rad: 1.0, length_name: String::new() };
    for id in assignment.references(0, "units").map_err(refuse_trouble)? {
        let Ok(unit) = file.follow(assignment.id, id) else { continue };
        if unit.says(1, "LENGTHUNIT") {
            units.length_m = factor(file, &unit, 0).map_err(refuse_trouble)?;
            units.length_name = name_of(&unit);
        } else if unit.says(1, "PLANEANGLEUNIT") {
            units.angle_rad = factor(file, &unit, 0).map_err(refuse_trouble)?;
        }
    }
    if units.length_m.is_nan() {
        return Err(refuse("the unit assignment has no length unit".to_owned()));
    }
    Ok(units)
}

/// How many metres or radians a unit has.
fn factor(file: &File<'_>, unit: &Record<'_>, depth: usize) -> Result<f64, Trouble> {
    if depth > DEEPEST {
        return Err(Trouble::new(Code::CircularReference, unit.id, format!("unit cycle at #{}", unit.id)));
    }
    if unit.is("IFCSIUNIT") {
        return prefix(unit);
    }
    if unit.is("IFCCONVERSIONBASEDUNIT") || unit.is("IFCCONVERSIONBASEDUNITWITHOFFSET") {
        let measure = file.follow(unit.id, unit.reference(3, "conversion factor")?)?;
        let value = measure.raw(0).and_then(|raw| parse_number(untyped(raw)));
        let value = value.ok_or_else(|| measure.trouble("the conversion factor is not a number"))?;
        if value <= 0.0 {
            return Err(measure.trouble(format!("conversion factor {value}; a number over 0 is due")));
        }
        let base = file.follow(measure.id, measure.reference(1, "unit of the conversion factor")?)?;
        return Ok(value * factor(file, &base, depth + 1)?);
    }
    Err(unit.trouble(format!("a unit of class {} cannot be used", unit.class())))
}

/// The factor of an SI prefix (the SI brochure, 9th edition, table 7).
fn prefix(unit: &Record<'_>) -> Result<f64, Trouble> {
    let Some(prefix) = unit.enumeration(2) else { return Ok(1.0) };
    let known: &[(&str, i32)] = &[
        ("EXA", 18),
        ("PETA", 15),
        ("TERA", 12),
        ("GIGA", 9),
        ("MEGA", 6),
        ("KILO", 3),
        ("HECTO", 2),
        ("DECA", 1),
        ("DECI", -1),
        ("CENTI", -2),
        ("MILLI", -3),
        ("MICRO", -6),
        ("NANO", -9),
        ("PICO", -12),
        ("FEMTO", -15),
        ("ATTO", -18),
    ];
    let power = known.iter().find(|(name, _)| prefix.eq_ignore_ascii_case(name.as_bytes())).map(|(_, power)| *power);
    let shown = String::from_utf8_lossy(prefix);
    let power = power.ok_or_else(|| unit.trouble(format!("`{shown}` is no SI prefix")))?;
    // A power of ten below 1 is not exact in binary: dividing by the exact one keeps `2700. * MILLI` at 2.7.
    Ok(if power < 0 { 1.0 / 10_f64.powi(-power) } else { 10_f64.powi(power) })
}

fn name_of(unit: &Record<'_>) -> String {
    let words = [unit.enumeration(2), unit.enumeration(3).or_else(|| unit.string(2))];
    let words = words.iter().flatten().map(|word| String::from_utf8_lossy(word).to_ascii_lowercase());
    words.collect::<Vec<_>>().concat()
}
