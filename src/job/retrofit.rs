//! What is in the bays of an assembly already, and what is known of them: `existing`, `displaced`, `surveyed`.

use super::assembly_sources::Sources;
use super::defaults::JOB_FILE;
use super::reader::Reader;
use crate::bays::Allowance;
use crate::cells::{Misread, read_existing};
use crate::framing::Framing;
use crate::model::{ExistingExtent, ExistingFill};
use crate::units::display::{resistance_both_ways, section_both_ways};
use crate::units::{Quantity, parse_density, parse_length, parse_percent, parse_resistance};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;
use toml::Spanned;

const EXISTING_HELP: &str = "write what it is and how much of the depth it takes, such as `existing = \"glass fibre batt \
                             50 %\"` or `existing = { what = \"glass fibre batt\", thickness = \"2 in\" }`; with `removed = \
                             true` it is taken out first";
const SHARE_HELP: &str = "a share of the bays' volume is written `\"2 %\"`";

/// Fill that is there already: in one text, or in parts.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum ExistingFile {
    /// What it is and how far it reaches: `glass fibre batt 50 %`, `glass fibre batt 2 in`.
    Text(String),
    /// In parts.
    Parts(ExistingParts),
}

/// Fill that is there already, in parts.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct ExistingParts {
    /// What it is.
    pub what: Option<String>,
    /// Share of the depth that it takes, such as `50 %`.
    pub share: Option<String>,
    /// Its thickness, from the outer face of the cavity; in place of `share`.
    pub thickness: Option<String>,
    /// Whether it is taken out before the new fill goes in.
    pub removed: Option<bool>,
    /// Its thermal resistance, such as `R-19`: what is missing to the `r_value` of the assembly is blown over it.
    pub r_value: Option<String>,
    /// Its density, for the load on the ceiling's board.
    pub density: Option<String>,
}

/// Keys of `existing`.
pub(super) const EXISTING: &[&str] = &["what", "share", "thickness", "removed", "r_value", "density"];

/// What the job says of the bays of an assembly.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Retrofit {
    /// Fill that is there already.
    pub existing: Option<ExistingFill>,
    /// What else takes room in the bays, in the order of the file.
    pub displaced: Vec<Allowance>,
    /// Whether somebody looked for bays that must stay empty.
    pub is_surveyed: bool,
    /// Whether the depth of the cavity is given, so that it is not that of a nominal size.
    pub is_depth_given: bool,
}

/// Keys of an assembly that say what is in its bays.
pub(super) struct RetrofitFile<'f> {
    pub existing: Option<&'f Spanned<ExistingFile>>,
    pub displaced: &'f BTreeMap<Spanned<String>, Spanned<String>>,
    pub surveyed: Option<bool>,
    pub is_depth_given: bool,
    pub is_framing_given: bool,
}

/// Reads them; what is not said is that of `base`, and each value that bears on a figure is one of `sources`.
pub(super) fn read_retrofit(
    file: &RetrofitFile<'_>,
    base: Option<&Retrofit>,
    reader: &mut Reader<'_>,
    sources: &mut Sources,
) -> Retrofit {
    let base = base.cloned().unwrap_or_default();
    let mut existing = base.existing;
    if let Some(text) = file.existing {
        existing = read_existing_file(text.get_ref()).unwrap_or_else(|fault| {
            reader.refuse(text.span(), fault.message, fault.help);
            None
        });
        match &existing {
            Some(existing) => sources.set("existing", words_of(existing), JOB_FILE),
            None => sources.remove("existing"),
        }
    }
    let displaced = read_displaced(file.displaced, base.displaced, reader, sources);
    let is_surveyed = file.surveyed.unwrap_or(base.is_surveyed);
    match file.surveyed {
        Some(true) => sources.set("surveyed", "true".to_owned(), JOB_FILE),
        Some(false) => sources.remove("surveyed"),
        None => {}
    }
    // A depth was measured in the framing that it stands beside.
    let is_depth_given = file.is_depth_given || base.is_depth_given && !file.is_framing_given;
    Retrofit { existing, displaced, is_surveyed, is_depth_given }
}

fn percent(share: f64) -> String {
    // Twelve digits hide what binary fractions add.
    let text = format!("{:.10}", share * 100.0);
    format!("{} %", text.trim_end_matches('0').trim_end_matches('.'))
}

fn words_of(existing: &ExistingFill) -> String {
    let extent = match existing.extent {
        ExistingExtent::Share(share) => percent(share),
        ExistingExtent::ThicknessM(thickness_m) => section_both_ways(thickness_m),
    };
    let removed = if existing.is_removed { ", removed" } else { "" };
    let r = existing.r_m2k_w.map(|r_m2k_w| format!(", {}", resistance_both_ways(r_m2k_w))).unwrap_or_default();
    format!("{} {extent}{removed}{r}", existing.what)
}

/// Reads fill that is there already; `None` where there is none.
pub(super) fn read_existing_file(file: &ExistingFile) -> Result<Option<ExistingFill>, Misread> {
    let read = match file {
        ExistingFile::Text(text) => read_existing(text, None, false).map_err(|fault| fault.message),
        ExistingFile::Parts(parts) => existing_of_parts(parts).map(Some),
    };
    read.map_err(|message| Misread { message, help: EXISTING_HELP })
}

/// Fill that is there already, as it is written.
pub(super) fn words_of_file(file: &ExistingFile) -> String {
    match file {
        ExistingFile::Text(text) => text.clone(),
        ExistingFile::Parts(ExistingParts { what, share, thickness, removed, r_value, density }) => {
            let removed = (*removed == Some(true)).then(|| "removed".to_owned());
            let parts = [what.clone(), share.clone(), thickness.clone(), removed, r_value.clone(), density.clone()];
            parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
        }
    }
}

fn existing_of_parts(parts: &ExistingParts) -> Result<ExistingFill, String> {
    let what = parts.what.as_deref().map(str::trim).filter(|what| !what.is_empty());
    let Some(what) = what else { return Err("`existing` does not say what is there: it has no `what`".to_owned()) };
    let is_removed = parts.removed == Some(true);
    let extent = match (&parts.share, &parts.thickness) {
        (Some(_), Some(_)) => return Err("`existing` has both `share` and `thickness`: one of them counts".to_owned()),
        (Some(share), None) => ExistingExtent::Share(parse_share(share)?),
        (None, Some(thickness)) => match parse_length(thickness, None, false) {
            Ok(thickness_m) if thickness_m > 0.0 => ExistingExtent::ThicknessM(thickness_m),
            Ok(_) => return Err(format!("`thickness` is `{thickness}`: expected more than zero")),
            Err(error) => return Err(error.message),
        },
        // What goes out may have any thickness.
        (None, None) if is_removed => ExistingExtent::Share(1.0),
        (None, None) => return Err("`existing` has neither `share` nor `thickness`".to_owned()),
    };
    let si = |text: &Option<String>, parse: fn(&str) -> Result<Quantity, String>| {
        text.as_deref().map(parse).transpose().map(|quantity| quantity.map(|quantity| quantity.si))
    };
    let r_m2k_w = si(&parts.r_value, parse_resistance)?;
    let density_kg_m3 = si(&parts.density, parse_density)?;
    Ok(ExistingFill { what: what.to_owned(), extent, is_removed, r_m2k_w, density_kg_m3 })
}

/// Reads `50 %`: more than nought, up to the whole.
fn parse_share(text: &str) -> Result<f64, String> {
    let share = parse_percent(text)?.si;
    if share > 0.0 { Ok(share) } else { Err(format!("`{}` is no share: expected more than 0 %", text.trim())) }
}

/// Reads what else takes room: by name in place of what `allowances` of another assembly say; `0 %` takes one of those out.
fn read_displaced(
    file: &BTreeMap<Spanned<String>, Spanned<String>>,
    mut allowances: Vec<Allowance>,
    reader: &mut Reader<'_>,
    sources: &mut Sources,
) -> Vec<Allowance> {
    let mut entries: Vec<_> = file.iter().collect();
    entries.sort_by_key(|(what, _)| what.span().start);
    for (what, share) in entries {
        let name = what.get_ref().trim();
        if name.is_empty() {
            let help = "write what takes room: `\"plaster keys\" = \"2 %\"`";
            reader.refuse(what.span(), "an allowance has no name", help);
            continue;
        }
        let (key, liked) =
            (format!("displaced.{name}"), allowances.iter().position(|allowance| allowance.what == name));
        match (parse_percent(share.get_ref()).map(|share| share.si), liked) {
            (Ok(0.0), Some(at)) => {
                allowances.remove(at);
                sources.remove(&key);
            }
            (Ok(value), _) if value > 0.0 => {
                sources.set(&key, percent(value), JOB_FILE);
                match liked.and_then(|at| allowances.get_mut(at)) {
                    Some(allowance) => allowance.share = value,
                    None => allowances.push(Allowance { what: name.to_owned(), share: value }),
                }
            }
            _ => {
                let message = parse_share(share.get_ref()).err().unwrap_or_default();
                reader.refuse(share.span(), message, SHARE_HELP);
            }
        }
        let sum = allowances.iter().fold(0.0, |sum, allowance: &Allowance| sum + allowance.share);
        if sum >= 1.0 {
            let message = format!("the allowances come to {}: nothing would be left of the bays", percent(sum));
            reader.refuse(share.span(), message, SHARE_HELP);
        }
    }
    allowances
}

/// Whether framing is written in nominal inches (`2x4 @ 16 in`), so that its depth is dressed lumber's.
pub(super) fn is_nominal(framing: &Framing) -> bool {
    let size = framing.text.split('@').next().unwrap_or_default();
    let words: Vec<&str> = size.split_whitespace().collect();
    let is_number = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    let is_size = |word: &str| word.split_once('x').is_some_and(|(width, depth)| is_number(width) && is_number(depth));
    words.iter().enumerate().any(|(index, word)| {
        let unit = words.get(index + 1).copied().unwrap_or_default();
        is_size(word) && !matches!(unit, "mm" | "cm" | "m" | "in")
    })
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;
    use crate::framing::parse_framing;

    fn retrofit(lines: &str) -> Retrofit {
        let text = format!("[assembly.x]\nframing = \"2x4 @ 16 in\"\n{lines}\n");
        read_job("job.toml", &text).unwrap().assemblies.remove(0).retrofit
    }

    fn refused(lines: &str) -> String {
        let text = format!("[assembly.x]\nframing = \"2x4 @ 16 in\"\n{lines}\n");
        read_job("job.toml", &text).unwrap_err().remove(0).message
    }

    #[test]
    fn existing_fill_is_read_from_a_text_and_from_parts() {
        let of = |lines: &str| retrofit(lines).existing.unwrap();
        let half = of("existing = \"glass fibre batt 50 %\"");
        assert_eq!((half.what.as_str(), half.extent), ("glass fibre batt", ExistingExtent::Share(0.5)));
        assert_eq!(of("existing = \"batt 50%\"").extent, ExistingExtent::Share(0.5));
        let thick = of("existing = \"batt no. 3 1 1/2 in\"");
        assert_eq!(thick.what, "batt no. 3");
        assert!(matches!(thick.extent, ExistingExtent::ThicknessM(m) if (m - 0.0381).abs() < 1e-12));
        assert_eq!(of("existing = { what = \"batt\", share = \"25 %\" }").extent, ExistingExtent::Share(0.25));
        let removed = of("existing = { what = \"batt\", removed = true }");
        assert!(removed.is_removed);
        for bad in [
            "existing = \"batt\"",
            "existing = \"50 %\"",
            "existing = \"batt 150 %\"",
            "existing = { share = \"50 %\" }",
            "existing = { what = \"batt\" }",
            "existing = { what = \"batt\", share = \"50 %\", thickness = \"1 in\" }",
            "existing = { what = \"batt\", thickness = \"1\" }",
        ] {
            assert!(!refused(bad).is_empty());
        }
        assert!(refused("existing = { what = \"batt\", shares = \"50 %\" }").contains("no key `shares`"));
    }

    #[test]
    fn allowances_are_listed_in_their_order_and_leave_something() {
        let all = retrofit("displaced = { \"plaster keys\" = \"2 %\", pipes = \"0.5 %\" }").displaced;
        assert_eq!(all.iter().map(|one| one.what.as_str()).collect::<Vec<_>>(), ["plaster keys", "pipes"]);
        assert!((all[0].share - 0.02).abs() < 1e-15 && (all[1].share - 0.005).abs() < 1e-15);
        assert!(refused("displaced = { pipes = \"2\" }").contains('%'));
        assert!(refused("displaced = { pipes = \"60 %\", ducts = \"40 %\" }").contains("nothing would be left"));
        assert!(retrofit("").displaced.is_empty());
    }

    #[test]
    fn only_sizes_without_a_unit_are_nominal() {
        let nominal = ["2x4 @ 16 in", "60x240 mm @ 625 mm", "1.625 x 3.625 in actual @ 16 in"]
            .map(|text| is_nominal(&parse_framing(text).unwrap()));
        assert_eq!(nominal, [true, false, false]);
    }
}
