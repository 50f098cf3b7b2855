//! `match` as it is written: which surfaces or layers are meant.

use super::file::{in_order, nearest};
use super::reader::Reader;
use crate::model::{Exposure, Glob, Pattern};
use schemars::JsonSchema;
use serde::Deserialize;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// One pattern, or several of which one must fit.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum MatchFile {
    // Before `One`: a list can also be read as the fields of a table, in their order.
    /// Several.
    Several(Vec<PatternFile>),
    /// One.
    One(PatternFile),
}

/// A pattern on type or name, or patterns of which all must fit.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum PatternFile {
    /// On type or name: `*` for any text, `?` for one character.
    Text(String),
    /// All must fit.
    All(WhereFile),
}

/// Patterns of which all must fit; each is a text, or a list of which one must fit.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub(super) struct WhereFile {
    /// On the name of the type.
    pub r#type: OneOrMore<String>,
    /// On the name.
    pub name: OneOrMore<String>,
    /// On a layer: its material, with the layer's own name after it in brackets.
    pub layer: OneOrMore<String>,
    /// On the name of the storey.
    pub storey: OneOrMore<String>,
    /// What lies on the other side.
    pub exposure: OneOrMore<Exposure>,
}

/// One value or a list of them.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum OneOrMore<T> {
    /// One.
    One(T),
    /// Several.
    Several(Vec<T>),
}

impl<T> Default for OneOrMore<T> {
    fn default() -> Self {
        Self::Several(Vec::new())
    }
}

impl<T> OneOrMore<T> {
    fn all(&self) -> &[T] {
        match self {
            Self::One(one) => std::slice::from_ref(one),
            Self::Several(several) => several,
        }
    }
}

impl MatchFile {
    /// The patterns, of which one must fit.
    pub(super) fn patterns(&self) -> Vec<Pattern> {
        match self {
            Self::Several(patterns) => patterns.iter().map(PatternFile::pattern).collect(),
            Self::One(pattern) => vec![pattern.pattern()],
        }
    }
}

impl PatternFile {
    fn pattern(&self) -> Pattern {
        let globs = |texts: &OneOrMore<String>| texts.all().iter().map(|text| Glob::new(text)).collect();
        match self {
            Self::Text(text) => Pattern::on_type_or_name(text),
            Self::All(all) => Pattern {
                either: Vec::new(),
                type_name: globs(&all.r#type),
                name: globs(&all.name),
                layer: globs(&all.layer),
                storey: globs(&all.storey),
                exposure: all.exposure.all().to_vec(),
            },
        }
    }
}

/// Keys of a table under `match`.
pub(super) const WHERE: &[&str] = &["type", "name", "layer", "storey", "exposure"];
const EXPOSURES: &[&str] = &["exterior", "unconditioned", "interior", "unknown"];

/// Refuses what a `match` may not hold, each at its place.
pub(super) fn check_match(table: &DeTable<'_>, reader: &mut Reader<'_>) {
    let Some((_, value)) = table.iter().find(|(key, _)| key.get_ref() == "match") else { return };
    let one = |value: &Spanned<DeValue<'_>>, reader: &mut Reader<'_>| match value.get_ref() {
        DeValue::String(_) => {}
        DeValue::Table(table) => check_where(table, value.span(), reader),
        _ => refuse_kind(value.span(), reader),
    };
    match value.get_ref() {
        DeValue::Array(items) => items.iter().for_each(|item| one(item, reader)),
        _ => one(value, reader),
    }
}

fn refuse_kind(span: Range<usize>, reader: &mut Reader<'_>) {
    let help = "write `match = \"EXT*\"`, on type or name, or `match = { type = \"EXT*\", storey = \"Ground*\" }`";
    reader.refuse(span, "`match` is a text, a table or a list of these", help);
}

fn check_where(table: &DeTable<'_>, span: Range<usize>, reader: &mut Reader<'_>) {
    if table.is_empty() {
        reader.refuse(span, "`match` is empty", format!("give one or more of {}", WHERE.join(", ")));
    }
    for (key, value) in in_order(table) {
        let name = key.get_ref().as_ref();
        if !WHERE.contains(&name) {
            let help = match nearest(name, WHERE) {
                Some(near) => format!("did you mean `{near}`?"),
                None => format!("known here: {}", WHERE.join(", ")),
            };
            reader.refuse(key.span(), format!("`match` has no key `{name}`"), help);
            continue;
        }
        let mut check = |value: &Spanned<DeValue<'_>>| match value.get_ref() {
            DeValue::String(text) if name != "exposure" || EXPOSURES.contains(&text.as_ref()) => {}
            DeValue::String(text) => {
                let message = format!("`{text}` is no exposure");
                reader.refuse(value.span(), message, format!("known here: {}", EXPOSURES.join(", ")));
            }
            _ => reader.refuse(value.span(), format!("`{name}` is a text or a list of texts"), ""),
        };
        match value.get_ref() {
            DeValue::Array(items) => items.iter().for_each(check),
            _ => check(value),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    fn matches(text: &str) -> Vec<Pattern> {
        let text = format!("[assembly.x]\nframing = \"2x4 @ 16 in\"\nmatch = {text}\n");
        read_job("job.toml", &text).unwrap().assemblies[0].matches.clone()
    }

    // A list of texts was once read as the fields of a table.
    #[test]
    fn each_text_of_a_list_is_a_pattern_on_type_or_name() {
        let on = Pattern::on_type_or_name;
        assert_eq!(matches("\"A*\""), [on("A*")]);
        assert_eq!(matches("[\"A*\"]"), [on("A*")]);
        assert_eq!(matches("[\"A*\", \"B*\"]"), [on("A*"), on("B*")]);
        assert_eq!(matches("[]"), []);
        let table = Pattern { name: vec![Glob::new("B*")], ..Pattern::default() };
        assert_eq!(matches("{ name = \"B*\" }"), std::slice::from_ref(&table));
        assert_eq!(matches("[\"A*\", { name = \"B*\" }]"), [on("A*"), table]);
    }
}
