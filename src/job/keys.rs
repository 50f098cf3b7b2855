//! Keys of a job file: in their order, known or not.

use super::reader::Reader;
use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

/// A key and its value, with their places.
type KeyAndValue<'t, 'i> = (&'t Spanned<DeString<'i>>, &'t Spanned<DeValue<'i>>);

/// Keys and values as they stand in the file, from its top.
pub(super) fn in_order<'t, 'i>(table: &'t DeTable<'i>) -> Vec<KeyAndValue<'t, 'i>> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

pub(super) fn check_keys(table: &DeTable<'_>, section: &str, known: &[&str], reader: &mut Reader<'_>) {
    let mut unknown: Vec<_> = table.keys().filter(|key| !known.contains(&key.get_ref().as_ref())).collect();
    unknown.sort_by_key(|key| key.span().start);
    for key in unknown {
        let name = key.get_ref().as_ref();
        let help = match nearest(name, known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", known.join(", ")),
        };
        reader.refuse(key.span(), format!("{section} has no key `{name}`"), help);
    }
}

/// The known word that an unknown one is most like; `None` where none is like it.
pub(super) fn nearest<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let likeness = |word: &str| strsim::jaro_winkler(&name.to_lowercase(), &word.to_lowercase());
    known.iter().copied().filter(|word| likeness(word) > 0.8).max_by(|a, b| likeness(a).total_cmp(&likeness(b)))
}
