//! How the order is shared out, and what the work takes: `[order]` and `[labour]`.

use super::defaults::JOB_FILE;
use super::reader::Reader;
use crate::model::Assumption;
use crate::order::Price;
use crate::units::{Quantity, parse_mass};
use schemars::JsonSchema;
use serde::Deserialize;
use toml::Spanned;

/// How the order is shared out.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct OrderFile {
    /// Where bags are set down: `storey and zone`, `storey`, `zone` or `day`; by the day needs `[labour]`.
    #[schemars(with = "Option<String>")]
    pub stage_by: Option<Spanned<String>>,
    /// What stays in hopper and hose at the end, such as `15 lb`: it must lie within the allowance.
    #[schemars(with = "Option<String>")]
    pub left_in_machine: Option<Spanned<String>>,
}

/// Keys of `[order]`.
pub(super) const ORDER: &[&str] = &["stage_by", "left_in_machine"];

/// What the work takes.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct LabourFile {
    /// Fill that a crew blows into closed cavities in an hour, such as `400 lb/h`, holes and plugs included.
    #[schemars(with = "Option<String>")]
    pub closed_rate: Option<Spanned<String>>,
    /// The same of open-blown fill.
    #[schemars(with = "Option<String>")]
    pub open_rate: Option<Spanned<String>>,
    /// People in the crew.
    #[schemars(with = "Option<u32>")]
    pub crew: Option<Spanned<u32>>,
    /// Hours a day in which fill is blown.
    #[schemars(with = "Option<f64>")]
    pub hours_per_day: Option<Spanned<f64>>,
    /// Price of one person's hour, such as `42.00 USD`.
    #[schemars(with = "Option<String>")]
    pub wage: Option<Spanned<String>>,
}

/// Keys of `[labour]`.
pub(super) const LABOUR: &[&str] = &["closed_rate", "open_rate", "crew", "hours_per_day", "wage"];

/// Where bags are set down.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum StageBy {
    /// At each zone of each storey.
    #[default]
    StoreyAndZone,
    /// At each storey.
    Storey,
    /// At each zone.
    Zone,
    /// For each day's work.
    Day,
}

/// How the order is shared out, and what the work takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OrderChoice {
    /// Where bags are set down.
    pub stage_by: StageBy,
    /// What stays in hopper and hose, in kilograms; `None` where nobody says.
    pub left_in_machine_kg: Option<f64>,
    /// What the work takes; `None` where no rate is given.
    pub labour: Option<Labour>,
    /// People in the crew, where the file says so.
    pub crew: Option<u32>,
    /// Hours a day in which fill is blown, where the file says so.
    pub day_h: Option<f64>,
    /// Where all of it comes from.
    pub sources: Vec<Assumption>,
}

/// What the work takes.
#[derive(Clone, Debug, PartialEq)]
pub struct Labour {
    /// Fill that goes into closed cavities in an hour, in kilograms.
    pub closed_kg_per_h: Option<f64>,
    /// The same of open-blown fill.
    pub open_kg_per_h: Option<f64>,
    /// People in the crew.
    pub crew: u32,
    /// Hours a day in which fill is blown; `None` where nobody says.
    pub day_h: Option<f64>,
    /// Price of one person's hour.
    pub wage: Option<Price>,
}

/// Largest crew; more is a slip.
const MOST_PEOPLE: u32 = 50;

/// Reads both tables.
pub(super) fn read_order(order: &OrderFile, labour: &LabourFile, reader: &mut Reader<'_>) -> OrderChoice {
    let mut choice = OrderChoice::default();
    let mut given = |key: &str, value: &str| {
        let (key, value) = (key.to_owned(), value.trim().to_owned());
        choice.sources.push(Assumption { key, value, unit: String::new(), source: JOB_FILE.to_owned() });
    };
    if let Some(text) = &order.left_in_machine {
        choice.left_in_machine_kg = reader.quantity(text, parse_mass).map(|mass| mass.si);
        given("order.left_in_machine", text.get_ref());
    }
    for (key, text) in [
        ("labour.closed_rate", &labour.closed_rate),
        ("labour.open_rate", &labour.open_rate),
        ("labour.wage", &labour.wage),
    ] {
        if let Some(text) = text {
            given(key, text.get_ref());
        }
    }
    if let Some(crew) = &labour.crew {
        given("labour.crew", &crew.get_ref().to_string());
    }
    if let Some(hours) = &labour.hours_per_day {
        given("labour.hours_per_day", &format!("{} h", hours.get_ref()));
    }
    choice.labour = read_labour(labour, reader);
    choice.crew = labour.crew.as_ref().map(|crew| *crew.get_ref());
    choice.day_h = labour.hours_per_day.as_ref().map(|hours| *hours.get_ref());
    if let Some(text) = &order.stage_by {
        let words = [
            ("storey and zone", StageBy::StoreyAndZone),
            ("storey", StageBy::Storey),
            ("zone", StageBy::Zone),
            ("day", StageBy::Day),
        ];
        choice.stage_by = reader.word("stage_by", text, &words).unwrap_or_default();
        let has_days = choice.labour.as_ref().is_some_and(|labour| labour.day_h.is_some());
        if choice.stage_by == StageBy::Day && !has_days {
            let help = "give `closed_rate = \"400 lb/h\"`, `open_rate` and `hours_per_day = 6` under `[labour]`";
            reader.refuse(text.span(), "days cannot be told without a rate and the hours of a day", help);
        }
    }
    choice
}

fn read_labour(file: &LabourFile, reader: &mut Reader<'_>) -> Option<Labour> {
    let mut rate = |text: &Option<Spanned<String>>| {
        text.as_ref().and_then(|text| reader.quantity(text, parse_rate)).map(|quantity| quantity.si)
    };
    let (closed_kg_per_h, open_kg_per_h) = (rate(&file.closed_rate), rate(&file.open_rate));
    let wage = file.wage.as_ref().and_then(|text| reader.quantity(text, Price::parse));
    if let Some(crew) = &file.crew
        && !(1..=MOST_PEOPLE).contains(crew.get_ref())
    {
        reader.refuse(crew.span(), format!("`crew` is {}: expected 1 to {MOST_PEOPLE}", crew.get_ref()), "");
    }
    if let Some(hours) = &file.hours_per_day
        && !(0.5..=24.0).contains(hours.get_ref())
    {
        reader.refuse(hours.span(), format!("`hours_per_day` is {}: expected 0.5 to 24", hours.get_ref()), "");
    }
    let is_given = closed_kg_per_h.is_some() || open_kg_per_h.is_some();
    if !is_given && let Some(wage) = &file.wage {
        let help = "add `closed_rate = \"400 lb/h\"`, measured on a job like this one";
        reader.refuse(wage.span(), "a `wage` without a rate gives no hours", help);
    }
    is_given.then(|| Labour {
        closed_kg_per_h,
        open_kg_per_h,
        crew: file.crew.as_ref().map_or(1, |crew| *crew.get_ref()),
        day_h: file.hours_per_day.as_ref().map(|hours| *hours.get_ref()),
        wage,
    })
}

/// Reads `400 lb/h` or `180 kg/h`, in kilograms an hour.
fn parse_rate(text: &str) -> Result<Quantity, String> {
    let wrong =
        || format!("`{}` is not a rate: expected a mass an hour, such as `400 lb/h` or `180 kg/h`", text.trim());
    let mass = text.trim().strip_suffix("/h").or_else(|| text.trim().strip_suffix("/hour")).ok_or_else(wrong)?;
    parse_mass(mass).map_err(|_| wrong())
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;
    use crate::units::POUND_KG;

    #[test]
    fn order_and_labour_are_read() {
        let text = "[order]\nstage_by = \"day\"\nleft_in_machine = \"15 lb\"\n[labour]\nclosed_rate = \"400 lb/h\"\ncrew = 3\n\
                    hours_per_day = 6\nwage = \"42.00 USD\"\n";
        let order = read_job("job.toml", text).unwrap().order;
        assert_eq!(order.stage_by, StageBy::Day);
        assert!((order.left_in_machine_kg.unwrap() - 15.0 * POUND_KG).abs() < 1e-12);
        let labour = order.labour.unwrap();
        assert!((labour.closed_kg_per_h.unwrap() - 400.0 * POUND_KG).abs() < 1e-9);
        assert_eq!((labour.open_kg_per_h, labour.crew, labour.day_h), (None, 3, Some(6.0)));
        assert_eq!(order.sources.len(), 5);
        assert_eq!(read_job("job.toml", "").unwrap().order, OrderChoice::default());
    }

    #[test]
    fn what_cannot_be_used_is_refused() {
        for (text, found) in [
            ("[order]\nstage_by = \"day\"\n", "without a rate"),
            ("[order]\nstage_by = \"floor\"\n", "`stage_by` cannot be `floor`"),
            ("[order]\nleft_in_machine = \"15\"\n", "no unit"),
            ("[labour]\nclosed_rate = \"400 lb\"\n", "not a rate"),
            ("[labour]\nclosed_rate = \"400 lb/h\"\ncrew = 0\n", "1 to 50"),
            ("[labour]\nclosed_rate = \"400 lb/h\"\nhours_per_day = 30\n", "0.5 to 24"),
            ("[labour]\nwage = \"42 USD\"\n", "gives no hours"),
            ("[labour]\nclosed_rate = \"400 lb/h\"\nwage = \"42\"\n", "not a price"),
        ] {
            let refusals = read_job("job.toml", text).unwrap_err();
            assert!(refusals[0].message.contains(found), "{text}: {}", refusals[0].message);
        }
    }
}
