//! The units of a model: how many metres, square metres and radians its units have.
//!
//! # Source
//! IFC4 documentation, `IfcUnitAssignment`, `IfcSIUnit` and `IfcConversionBasedUnit`; a prefixed symbol is
//! raised to the power as a whole, so that `MILLI` with `SQUARE_METRE` is (mm)²: NIST SP 811, clause 6.2.2.

use super::class::Class;
use super::file::File;
use super::record::{Record, parse_number, untyped};
use super::trouble::Trouble;
use crate::finding::Code;
use crate::refusal::Refusal;
use crate::source::Place;

/// Deeper than this no conversion rests on another.
const DEEPEST: usize = 16;

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// A length, in metres.
    Length,
    /// An area, in square metres.
    Area,
    /// A plane angle, in radians.
    PlaneAngle,
}

impl Measure {
    /// Type of unit, name of the SI unit, and the power that a prefix is raised to.
    fn spelled(self) -> (&'static str, &'static str, i32) {
        match self {
            Self::Length => ("LENGTHUNIT", "METRE", 1),
            Self::Area => ("AREAUNIT", "SQUARE_METRE", 2),
            Self::PlaneAngle => ("PLANEANGLEUNIT", "RADIAN", 1),
        }
    }
}

/// Units of a model.
#[derive(Clone, Debug, PartialEq)]
pub struct Units {
    /// Metres in a length unit.
    pub length_m: f64,
    /// Square metres in an area unit; `None` where the model names none that can be used.
    pub area_m2: Option<f64>,
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
    let mut units = Units { length_m: f64::NAN, area_m2: None, angle_rad: 1.0, length_name: String::new() };
    for id in assignment.references(0, "units").map_err(refuse_trouble)? {
        let Ok(unit) = file.follow(assignment.id, id) else { continue };
        if unit.says(1, "LENGTHUNIT") {
            units.length_m = factor(file, &unit, Measure::Length).map_err(refuse_trouble)?;
            units.length_name = name_of(&unit);
        } else if unit.says(1, "PLANEANGLEUNIT") {
            units.angle_rad = factor(file, &unit, Measure::PlaneAngle).map_err(refuse_trouble)?;
        } else if unit.says(1, "AREAUNIT") {
            // Bodies need no area unit; only the model's own areas do.
            units.area_m2 = factor(file, &unit, Measure::Area).ok();
        }
    }
    if units.length_m.is_nan() {
        return Err(refuse("the unit assignment has no length unit".to_owned()));
    }
    Ok(units)
}

/// How many metres, square metres or radians a unit has.
///
/// # Errors
/// A unit that measures something else, rests on itself, or has no factor that can be used.
pub fn factor(file: &File<'_>, unit: &Record<'_>, measure: Measure) -> Result<f64, Trouble> {
    factor_at(file, unit, measure, 0)
}

fn factor_at(file: &File<'_>, unit: &Record<'_>, measure: Measure, depth: usize) -> Result<f64, Trouble> {
    let (unit_type, si_name, power) = measure.spelled();
    if depth > DEEPEST {
        return Err(Trouble::new(Code::CircularReference, unit.id, format!("unit cycle at #{}", unit.id)));
    }
    if unit.is("IFCSIUNIT") {
        if !unit.says(3, si_name) {
            let found = unit.enumeration(3).map_or_else(String::new, |name| String::from_utf8_lossy(name).into_owned());
            return Err(unit.trouble(format!("`{found}` stands where a {unit_type} in `{si_name}` is due")));
        }
        return prefix(unit, power);
    }
    if unit.is("IFCCONVERSIONBASEDUNIT") || unit.is("IFCCONVERSIONBASEDUNITWITHOFFSET") {
        let conversion = file.follow(unit.id, unit.reference(3, "conversion factor")?)?;
        let value = conversion.raw(0).and_then(|raw| parse_number(untyped(raw)));
        let value = value.ok_or_else(|| conversion.trouble("the conversion factor is not a number"))?;
        if value <= 0.0 {
            return Err(conversion.trouble(format!("conversion factor {value}; a number over 0 is due")));
        }
        let base = file.follow(conversion.id, conversion.reference(1, "unit of the conversion factor")?)?;
        return Ok(value * factor_at(file, &base, measure, depth + 1)?);
    }
    Err(unit.trouble(format!("a unit of class {} cannot be used: it has no factor to SI", unit.class())))
}

/// The factor of an SI prefix (the SI brochure, 9th edition, table 7), raised to a power.
fn prefix(unit: &Record<'_>, raised: i32) -> Result<f64, Trouble> {
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
    let power = raised * power.ok_or_else(|| unit.trouble(format!("`{shown}` is no SI prefix")))?;
    // A power of ten below 1 is not exact in binary: dividing by the exact one keeps `2700. * MILLI` at 2.7.
    Ok(if power < 0 { 1.0 / 10_f64.powi(-power) } else { 10_f64.powi(power) })
}

fn name_of(unit: &Record<'_>) -> String {
    let words = [unit.enumeration(2), unit.enumeration(3).or_else(|| unit.string(2))];
    let words = words.iter().flatten().map(|word| String::from_utf8_lossy(word).to_ascii_lowercase());
    words.collect::<Vec<_>>().concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn units_of(records: &str, list: &str) -> Result<Units, Refusal> {
        let text = format!(
            "ISO-10303-21;HEADER;FILE_SCHEMA(('IFC4'));ENDSEC;DATA;#1=IFCPROJECT('p',$,$,$,$,$,$,$,#2);\
             #2=IFCUNITASSIGNMENT(({list}));{records}ENDSEC;END-ISO-10303-21;"
        );
        read(&File::open("a.ifc", text.as_bytes()).expect("scans"))
    }

    fn converted(kind: &str, name: &str, factor: &str, base: &str) -> Result<Units, Refusal> {
        let records = format!(
            "#10=IFCSIUNIT(*,.{kind}.,{base});#11=IFCMEASUREWITHUNIT(IFCRATIOMEASURE({factor}),#10);\
             #12=IFCCONVERSIONBASEDUNIT(#99,.{kind}.,'{name}',#11);#20=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);"
        );
        units_of(&records, if kind == "LENGTHUNIT" { "#12" } else { "#20,#12" })
    }

    fn near(found: f64, due: f64) {
        assert!((found - due).abs() <= 1e-15 * due.abs().max(1e-6), "{found} {due}");
    }

    // Factors of NIST SP 811 (2008), appendix B.8; the US survey foot of appendix B.6.
    #[test]
    fn lengths_are_what_their_factors_say() {
        for (name, factor, base, due_m) in [
            ("INCH", "25.4", ".MILLI.,.METRE.", 0.0254),
            ("FOOT", "0.3048", "$,.METRE.", 0.3048),
            ("yard", "9.144E-1", "$,.METRE.", 0.9144),
            ("US survey foot", "0.3048006096012192", "$,.METRE.", 1200.0 / 3937.0),
            ("MILE", "1.609344", ".KILO.,.METRE.", 1609.344),
        ] {
            let units = converted("LENGTHUNIT", name, factor, base).expect(name);
            near(units.length_m, due_m);
            assert_eq!(units.length_name, name.to_lowercase());
        }
    }

    // The SI brochure, 9th edition, table 7.
    #[test]
    fn prefixes_are_powers_of_ten_and_squared_with_their_unit() {
        for (prefix, due) in [("$", 1.0), (".DECI.", 1e-1), (".CENTI.", 1e-2), (".MILLI.", 1e-3), (".KILO.", 1e3)] {
            let records = format!(
                "#3=IFCSIUNIT(*,.LENGTHUNIT.,{prefix},.METRE.);#4=IFCSIUNIT(*,.AREAUNIT.,{prefix},.SQUARE_METRE.);"
            );
            let units = units_of(&records, "#3,#4").expect("reads");
            near(units.length_m, due);
            // NIST SP 811, clause 6.2.2: 1 mm2 = (10^-3 m)2.
            near(units.area_m2.expect("area"), due * due);
        }
    }

    // NIST SP 811, appendix B.8: square foot, square inch, degree.
    #[test]
    fn areas_and_angles_are_what_their_factors_say() {
        for (name, factor, due_m2) in
            [("SQUARE FOOT", "0.09290304", 0.092_903_04), ("SQUARE INCH", "6.4516E-4", 0.000_645_16)]
        {
            let units = converted("AREAUNIT", name, factor, "$,.SQUARE_METRE.").expect(name);
            near(units.area_m2.expect(name), due_m2);
        }
        let units = converted("PLANEANGLEUNIT", "DEGREE", "1.7453292519943295E-2", "$,.RADIAN.").expect("degree");
        near(units.angle_rad, 1.745_329_251_994_329_5e-2);
    }

    #[test]
    fn what_has_no_factor_is_refused_for_lengths_and_angles_and_unknown_for_areas() {
        let context = "#3=IFCCONTEXTDEPENDENTUNIT(#99,.LENGTHUNIT.,'ell');";
        assert!(units_of(context, "#3").unwrap_err().message.contains("IFCCONTEXTDEPENDENTUNIT"));
        let grade = "#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);#4=IFCCONTEXTDEPENDENTUNIT(#99,.PLANEANGLEUNIT.,'gon');";
        assert!(units_of(grade, "#3,#4").is_err());
        let area = "#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.METRE.);#4=IFCSIUNIT(*,.AREAUNIT.,$,.METRE.);";
        assert_eq!(units_of(area, "#3,#4").expect("reads").area_m2, None);
        let wrong = "#3=IFCSIUNIT(*,.LENGTHUNIT.,$,.SQUARE_METRE.);";
        assert!(units_of(wrong, "#3").unwrap_err().message.contains("`SQUARE_METRE` stands where"));
    }
}
