//! How walls are connected, as the model itself says: `IfcRelConnectsPathElements`.

use super::class::Class;
use super::file::File;
use super::record::Record;
use rayon::prelude::*;
use std::collections::HashMap;

/// Where along its path an element is connected.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum At {
    /// At its start or its end; which of them, the bodies tell.
    End,
    /// Somewhere along it.
    Path,
    /// The model does not say.
    NotSaid,
}

/// A connection as one of the two elements sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Connection {
    /// The other element.
    pub other: u64,
    /// Where on this element.
    pub own: At,
    /// Where on the other one.
    pub others: At,
}

impl Connection {
    /// Whether the model says where both are connected.
    pub fn is_told(&self) -> bool {
        self.own != At::NotSaid && self.others != At::NotSaid
    }
}

/// The connections of a model, by element, in the order of the file.
#[derive(Debug, Default)]
pub struct Paths {
    by_element: HashMap<u64, Vec<Connection>>,
}

impl Paths {
    /// Reads them; one that cannot be read says nothing, and the bodies speak in its place.
    pub fn read(file: &File<'_>) -> Self {
        let ids: Vec<u64> = file.of_class(Class::RelConnectsPathElements).collect();
        let read: Vec<Option<[(u64, Connection); 2]>> =
            ids.par_iter().map(|id| file.record(*id).ok().and_then(|record| connection(&record))).collect();
        let mut paths = Self::default();
        for (element, connection) in read.into_iter().flatten().flatten() {
            let known = paths.by_element.entry(element).or_default();
            if !known.contains(&connection) {
                known.push(connection);
            }
        }
        paths
    }

    /// The connections of an element.
    pub fn of(&self, element: u64) -> &[Connection] {
        self.by_element.get(&element).map_or(&[], Vec::as_slice)
    }
}

/// A connection as both of its elements see it.
///
/// # Source
/// ISO 16739-1:2024, `IfcRelConnectsPathElements`; the order of the arguments is the same in IFC2X3: the related
/// element's connection type stands before that of the relating one (from memory).
fn connection(record: &Record<'_>) -> Option<[(u64, Connection); 2]> {
    let (relating, related) = (record.optional_reference(5)?, record.optional_reference(6)?);
    let (on_related, on_relating) = (at(record, 9), at(record, 10));
    (relating != related).then_some([
        (relating, Connection { other: related, own: on_relating, others: on_related }),
        (related, Connection { other: relating, own: on_related, others: on_relating }),
    ])
}

fn at(record: &Record<'_>, index: usize) -> At {
    match record.enumeration(index).map(<[u8]>::to_ascii_uppercase).as_deref() {
        Some(b"ATSTART" | b"ATEND") => At::End,
        Some(b"ATPATH") => At::Path,
        _ => At::NotSaid,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_related_element_s_place_stands_first() {
        let record = Record::split(9, b"IFCRELCONNECTSPATHELEMENTS('g',$,$,$,$,#1,#2,(),(),.ATSTART.,.ATPATH.)");
        let [(relating, of_relating), (related, of_related)] = connection(&record).expect("it is one");
        assert_eq!((relating, of_relating), (1, Connection { other: 2, own: At::Path, others: At::End }));
        assert_eq!((related, of_related), (2, Connection { other: 1, own: At::End, others: At::Path }));
    }
}
