//! Values of the job file that an option sets: `--set fill.cellulose.density="3.7 lb/ft3"`.

use super::keys::nearest;
use super::{Job, read_job};
use crate::fill::material_named;
use crate::refusal::Refusal;
use crate::source::Place;
use toml::{Table, Value};

/// The option, as places name it.
pub const SET: &str = "--set";

/// A value of the job file, set.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// Keys from the top of the file down.
    path: Vec<String>,
    /// The value.
    value: Value,
    /// The value as it was typed.
    pub text: String,
}

impl Setting {
    /// The keys in one word, as the list of assumptions has them.
    pub fn key(&self) -> String {
        self.path.join(".")
    }
}

/// Reads `KEY=VALUE`; several values, parted by `|`, give one setting each.
///
/// A key is written as the job file writes it, with dots between tables and quotes about names with spaces. A value without quotes
/// is a text unless it is a number, `true` or `false`, or a list.
///
/// # Errors
/// A text without `=`, and a key that no job file could have.
pub fn parse_settings(text: &str) -> Result<Vec<Setting>, Box<Refusal>> {
    let help = "write the key as the job file has it, such as `--set fill.cellulose.density=\"3.7 lb/ft3\"`";
    let refuse = |message: String| Box::new(Refusal::new(Place::input(SET), message, help));
    let (key, values) = text.split_once('=').ok_or_else(|| refuse(format!("`{text}` has no `=`")))?;
    let path = path_of(key.trim()).ok_or_else(|| refuse(format!("`{}` is no key of a job file", key.trim())))?;
    let of = |value: &str| Setting { path: path.clone(), value: value_of(value.trim()), text: value.trim().to_owned() };
    Ok(values.split('|').map(of).collect())
}

/// Keys of `a."b c".d`, by the reader of job files itself.
fn path_of(key: &str) -> Option<Vec<String>> {
    let mut table: Table = toml::from_str(&format!("{key} = 0")).ok()?;
    let mut path = Vec::new();
    loop {
        let (key, value) = table.into_iter().next()?;
        path.push(key);
        match value {
            Value::Table(inner) => table = inner,
            _ => return Some(path),
        }
    }
}

fn value_of(text: &str) -> Value {
    let read = toml::from_str::<Table>(&format!("value = {text}")).ok();
    let value = read.filter(|table| table.len() == 1).and_then(|mut table| table.remove("value"));
    match value {
        Some(
            value @ (Value::String(_) | Value::Integer(_) | Value::Float(_) | Value::Boolean(_) | Value::Array(_)),
        ) => value,
        _ => Value::String(text.to_owned()),
    }
}

/// Reads a job file with some of its values set.
///
/// # Errors
/// As [`read_job`]; what is wrong with a value that is set has `--set` for its place.
pub fn read_job_with(path: &str, text: &str, settings: &[Setting]) -> Result<Job, Vec<Refusal>> {
    let job = read_job(path, text)?;
    if settings.is_empty() {
        return Ok(job);
    }
    let table: Table = toml::from_str(text).map_err(|error| vec![refusal(error.message().to_owned(), "")])?;
    for setting in settings {
        known_name(&table, setting, &job).map_err(|refusal| vec![*refusal])?;
    }
    let mut job = read_set(path, &table, settings).map_err(|refusals| {
        // The file alone was read: what is wrong came with the first value after which it cannot be.
        let until = (1..=settings.len())
            .find(|count| read_set(path, &table, settings.get(..*count).unwrap_or_default()).is_err());
        let culprit = until.and_then(|count| settings.get(count - 1));
        refusals.into_iter().map(|refusal| at_option(refusal, culprit)).collect::<Vec<_>>()
    })?;
    for fill in &mut job.fills {
        let is_set = |setting: &&Setting| matches!(setting.path.as_slice(), [kind, name, ..] if kind == "fill" && *name == fill.rules.name);
        if let Some(setting) = settings.iter().find(is_set)
            && !has_table(&table, "fill", &fill.rules.name)
        {
            fill.bag_refusal = fill.bag_refusal.take().map(|refusal| Box::new(at_option(*refusal, Some(setting))));
        }
    }
    job.set_keys = settings.iter().map(Setting::key).collect();
    Ok(job)
}

/// Reads the file with values set in it.
fn read_set(path: &str, table: &Table, settings: &[Setting]) -> Result<Job, Vec<Refusal>> {
    let mut table = table.clone();
    for setting in settings {
        set(&mut table, &setting.path, &setting.value)
            .map_err(|message| vec![refusal(message, "only values of tables can be set")])?;
    }
    let merged = toml::to_string(&table).map_err(|error| vec![refusal(error.to_string(), "")])?;
    read_job(path, &merged)
}

fn refusal(message: String, help: &str) -> Refusal {
    Refusal::new(Place::input(SET), message, help)
}

/// Refuses a name that is nearly one of the file: a slip would make a fill, an assembly or a rig of its own.
fn known_name(table: &Table, setting: &Setting, job: &Job) -> Result<(), Box<Refusal>> {
    let [kind, name, ..] = setting.path.as_slice() else { return Ok(()) };
    let of_job: Vec<&str> = match kind.as_str() {
        "fill" => job.fills.iter().map(|fill| fill.rules.name.as_str()).collect(),
        "assembly" => job.assemblies.iter().map(|assembly| assembly.name.as_str()).collect(),
        "rig" => job.rigs.iter().map(|rig| rig.name.as_str()).collect(),
        _ => return Ok(()),
    };
    let is_known = has_table(table, kind, name) || of_job.contains(&name.as_str());
    let is_generic = kind == "fill" && material_named(name).is_some();
    match nearest(name, &of_job) {
        Some(near) if !is_known && !is_generic => {
            let message = format!("`{}`: there is no {kind} `{name}` in the job file", setting.key());
            Err(Box::new(refusal(message, &format!("did you mean `{near}`?"))))
        }
        _ => Ok(()),
    }
}

fn has_table(table: &Table, kind: &str, name: &str) -> bool {
    table.get(kind).and_then(Value::as_table).is_some_and(|tables| tables.contains_key(name))
}

/// A refusal of the text with the values in it is one of the values: no line of the file is meant.
fn at_option(refusal: Refusal, setting: Option<&Setting>) -> Refusal {
    let message = match setting {
        Some(setting) => format!("`{} = {}`: {}", setting.key(), setting.text, refusal.message),
        None => refusal.message,
    };
    Refusal { place: Place::input(SET), excerpt: None, message, ..refusal }
}

fn set(table: &mut Table, path: &[String], value: &Value) -> Result<(), String> {
    let Some((key, rest)) = path.split_first() else { return Ok(()) };
    if rest.is_empty() {
        table.insert(key.clone(), value.clone());
        return Ok(());
    }
    match table.entry(key.clone()).or_insert_with(|| Value::Table(Table::new())) {
        Value::Table(inner) => set(inner, rest, value),
        _ => Err(format!("`{key}` is no table of the job file")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::POUND_PER_CUBIC_FOOT_KG_M3;

    const TEXT: &str = "[fill.\"glass fibre\"]\nbag = \"28 lb\"\n[fill.cellulose]\nbag = \"25 lb\"\n[[layer]]\nmatch.layer = \"x\"\nis = \"none\"\n";

    #[test]
    fn a_value_is_set_and_the_order_of_the_file_stays() {
        let settings = parse_settings("fill.cellulose.density=3.7 lb/ft3").unwrap();
        let job = read_job_with("job.toml", TEXT, &settings).unwrap();
        assert_eq!(
            job.fills.iter().map(|fill| fill.rules.name.as_str()).collect::<Vec<_>>(),
            ["glass fibre", "cellulose"]
        );
        assert!((job.fills[1].rules.density_kg_m3 - 3.7 * POUND_PER_CUBIC_FOOT_KG_M3).abs() < 1e-9);
        assert_eq!(job.set_keys, ["fill.cellulose.density"]);
        assert_eq!(job.layer_rules.len(), 1);
        let quoted = parse_settings("fill.\"glass fibre\".allowance = 0.1").unwrap();
        assert!((read_job_with("", TEXT, &quoted).unwrap().fills[0].allowance - 0.1).abs() < 1e-12);
        assert!(read_job_with("", "", &parse_settings("layout.top_plates=1").unwrap()).is_ok());
    }

    #[test]
    fn several_values_are_one_setting_each() {
        let settings = parse_settings("fill.cellulose.bag = 25 lb | 30 lb").unwrap();
        assert_eq!(settings.iter().map(|setting| setting.text.as_str()).collect::<Vec<_>>(), ["25 lb", "30 lb"]);
        assert_eq!(settings[0].key(), "fill.cellulose.bag");
    }

    #[test]
    fn what_cannot_be_set_is_refused_at_the_option() {
        assert!(parse_settings("fill.cellulose.density").is_err());
        assert!(parse_settings("fill..density=1").is_err());
        assert!(parse_settings("a = 1\nb=2").is_ok_and(|settings| read_job_with("", "", &settings).is_err()));
        for text in
            ["fill.cellulose.densty=3 lb/ft3", "fill.cellulose.density=-3 lb/ft3", "layer.is=none", "project.name.x=1"]
        {
            let settings = parse_settings(text).unwrap();
            let refusals =
                read_job_with("job.toml", &format!("[project]\nname = \"x\"\n{TEXT}"), &settings).unwrap_err();
            assert_eq!(refusals[0].place.to_string(), "--set", "{text}");
        }
    }

    #[test]
    fn a_slip_is_named_with_its_key_and_how_to_write_it() {
        let of = |set: &[&str]| {
            let settings: Vec<Setting> = set.iter().flat_map(|text| parse_settings(text).unwrap()).collect();
            read_job_with("job.toml", TEXT, &settings).map_err(|mut refusals| refusals.remove(0))
        };
        let slip = of(&["fill.celulose.density=3 lb/ft3"]).unwrap_err();
        assert_eq!(slip.message, "`fill.celulose.density`: there is no fill `celulose` in the job file");
        assert_eq!((slip.help.as_str(), slip.place.to_string().as_str()), ("did you mean `cellulose`?", "--set"));
        let bare = of(&["fill.cellulose.bag=30 lb", "fill.cellulose.density=3"]).unwrap_err();
        assert_eq!(bare.message, "`fill.cellulose.density = 3`: found the number 3, expected a text");
        assert!(bare.help.contains("3.5 lb/ft3"), "{}", bare.help);
        let negative = of(&["layout.king_studs=-1"]).unwrap_err();
        assert_eq!(
            negative.message,
            "`layout.king_studs = -1`: found the number -1, expected a whole number from 0 up"
        );
        // A fill of its own may be said by options alone; what it lacks is said at the option.
        let own = of(&["fill.wood.density=3 lb/ft3"]).unwrap();
        let refusal = own.fills.iter().find_map(|fill| fill.bag_refusal.as_ref()).unwrap();
        assert!(refusal.place.to_string() == "--set" && refusal.excerpt.is_none(), "{refusal:?}");
        assert!(of(&["fill.wood.density=3 lb/ft3", "fill.wood.bag=25 lb"]).is_ok());
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}", value in "\\PC{0,20}") {
            for text in [text.clone(), format!("fill.x.bag={value}"), format!("{text}={value}")] {
                if let Ok(settings) = parse_settings(&text) {
                    let _ = read_job_with("job.toml", TEXT, &settings);
                }
            }
        }
    }
}
