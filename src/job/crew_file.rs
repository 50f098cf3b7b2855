//! How the crew works: `[crew]`.

use super::defaults::JOB_FILE;
use super::reader::Reader;
use crate::model::Assumption;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use toml::Spanned;

/// How the crew works.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct CrewFile {
    /// From where the crew sees what it fills: `outside` or `inside`. It turns the drawings and the order of the bays.
    #[schemars(with = "Option<String>")]
    pub seen_from: Option<Spanned<String>>,
}

/// Keys of `[crew]`.
pub(super) const CREW: &[&str] = &["seen_from"];

/// From where the crew sees what it fills.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SeenFrom {
    /// The cold side: walls from outdoors, ceilings and roofs from above, floors from below.
    #[default]
    Outside,
    /// The warm side: walls from the room, ceilings and roofs from below, floors from above.
    Inside,
}

/// How the crew works.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CrewChoice {
    /// From where it sees what it fills.
    pub seen_from: SeenFrom,
    /// Where that comes from; `None` where nobody says it.
    pub source: Option<Assumption>,
}

/// Reads the table.
pub(super) fn read_crew(file: &CrewFile, reader: &mut Reader<'_>) -> CrewChoice {
    let words = [("outside", SeenFrom::Outside), ("inside", SeenFrom::Inside)];
    let read = file.seen_from.as_ref().and_then(|text| {
        let seen_from = reader.word("seen_from", text, &words)?;
        let (key, value) = ("crew.seen_from".to_owned(), text.get_ref().clone());
        let source = Assumption { key, value, unit: String::new(), source: JOB_FILE.to_owned() };
        Some(CrewChoice { seen_from, source: Some(source) })
    });
    read.unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn the_side_is_read_and_any_other_word_refused() {
        let seen = |text: &str| {
            read_job("job.toml", text).map(|job| (job.crew.seen_from, job.crew.source.map(|source| source.source)))
        };
        assert_eq!(seen("[crew]\nseen_from = \"inside\"\n"), Ok((SeenFrom::Inside, Some("job file".to_owned()))));
        assert_eq!(seen("").unwrap().0, SeenFrom::Outside);
        let refusals = seen("[crew]\nseen_from = \"within\"\n").unwrap_err();
        assert!(refusals[0].message.contains("`seen_from` cannot be `within`"), "{}", refusals[0].message);
    }
}
