//! Relations between elements: openings, fillings, materials, types, properties, storeys, parts.

use super::class::Class;
use super::file::File;
use super::record::Record;
use super::trouble::Trouble;
use crate::finding::Code;
use rayon::prelude::*;
use std::collections::{HashMap, HashSet};

/// What relates to what, by instance name.
#[derive(Debug, Default)]
pub struct Relations {
    /// Openings of an element, in the order of the file, each once.
    pub openings: HashMap<u64, Vec<u64>>,
    /// What fills an opening.
    pub fillings: HashMap<u64, u64>,
    /// Material of an element or a type.
    pub materials: HashMap<u64, u64>,
    /// Type of an element.
    pub types: HashMap<u64, u64>,
    /// Property sets of an element.
    pub properties: HashMap<u64, Vec<u64>>,
    /// Sets of quantities of an element.
    pub quantities: HashMap<u64, Vec<u64>>,
    /// Spatial structure that an element stands in.
    pub containers: HashMap<u64, u64>,
    /// The whole that an element is a part of.
    pub wholes: HashMap<u64, u64>,
    /// The parts of a whole, in the order of the file.
    pub parts: HashMap<u64, Vec<u64>>,
    /// What could not be used.
    pub troubles: Vec<Trouble>,
}

/// One relation, as its record gives it.
struct Related {
    relation: u64,
    class: Class,
    one: u64,
    many: Vec<u64>,
}

impl Relations {
    /// Reads every relation that concerns `elements`; openings, types and structures follow from these.
    pub fn read(file: &File<'_>, elements: &HashSet<u64>) -> Self {
        let quantities: HashSet<u64> = file.of_class(Class::ElementQuantity).collect();
        let read: Vec<Result<Related, Trouble>> = file
            .indexed()
            .par_iter()
            .filter_map(|(class, id)| related(file, *class, *id, elements).transpose())
            .collect();
        let mut relations = Self::default();
        let mut spatial = Vec::new();
        for found in read {
            match found {
                Ok(related) if related.class == Class::RelAggregates => spatial.push(related),
                Ok(related) if related.class == Class::RelDefinesByProperties && quantities.contains(&related.one) => {
                    related.many.iter().for_each(|id| relations.quantities.entry(*id).or_default().push(related.one));
                }
                Ok(related) => relations.take(file, related),
                Err(trouble) => relations.troubles.push(trouble),
            }
        }
        for related in spatial {
            for part in related.many {
                if *relations.wholes.entry(part).or_insert(related.one) == related.one {
                    relations.parts.entry(related.one).or_default().push(part);
                }
            }
        }
        relations
    }

    fn take(&mut self, file: &File<'_>, related: Related) {
        let Related { relation, class, one, many } = related;
        match class {
            Class::RelVoidsElement => self.take_opening(file, relation, one, &many),
            Class::RelFillsElement => {
                for filling in many {
                    self.fillings.entry(one).or_insert(filling);
                }
            }
            // Types carry materials too, and nothing tells them apart here.
            Class::RelAssociatesMaterial => {
                for id in many {
                    self.materials.entry(id).or_insert(one);
                }
            }
            Class::RelDefinesByType => {
                for id in many {
                    self.types.entry(id).or_insert(one);
                }
            }
            Class::RelDefinesByProperties => {
                for id in many {
                    self.properties.entry(id).or_default().push(one);
                }
            }
            Class::RelContainedInSpatialStructure => {
                for id in many {
                    let first = *self.containers.entry(id).or_insert(one);
                    if first != one {
                        let message = format!(
                            "#{id} stands in two structures, #{first} and #{one}; it is counted once, in #{first}"
                        );
                        self.troubles.push(Trouble::new(Code::DuplicateRelation, id, message));
                    }
                }
            }
            _ => {}
        }
    }

    fn take_opening(&mut self, file: &File<'_>, relation: u64, element: u64, openings: &[u64]) {
        if file.record(element).is_err() {
            let message =
                format!("#{relation} puts an opening into #{element}, which is not in the file; nothing is deducted");
            self.troubles.push(Trouble::new(Code::OpeningWithoutElement, relation, message));
            return;
        }
        let list = self.openings.entry(element).or_default();
        for opening in openings {
            if !list.contains(opening) {
                list.push(*opening);
            }
        }
    }

    /// The wholes above an element, the nearest first; a circle ends the walk and is a trouble.
    pub fn wholes_of(&self, element: u64) -> Result<Vec<u64>, Trouble> {
        let (mut found, mut at) = (Vec::new(), element);
        while let Some(&whole) = self.wholes.get(&at) {
            if whole == element || found.contains(&whole) {
                let message = format!("#{element} is a part of itself, by way of #{at}; it is counted once");
                return Err(Trouble::new(Code::CircularReference, element, message));
            }
            found.push(whole);
            at = whole;
        }
        Ok(found)
    }
}

/// A relation; `None` where it is of no class that is read, or concerns none of `elements` and has to.
fn related(file: &File<'_>, class: Class, id: u64, elements: &HashSet<u64>) -> Result<Option<Related>, Trouble> {
    // Where the one and the many stand among the arguments (IFC2X3, IFC4 and IFC4X3 agree).
    let (one, many) = match class {
        Class::RelVoidsElement | Class::RelFillsElement | Class::RelAggregates => (4, 5),
        Class::RelAssociatesMaterial
        | Class::RelDefinesByType
        | Class::RelDefinesByProperties
        | Class::RelContainedInSpatialStructure => (5, 4),
        _ => return Ok(None),
    };
    let record = file.record(id)?;
    let one = record.reference(one, "related element")?;
    let mut many = list(&record, many)?;
    let concerns_elements = matches!(
        class,
        Class::RelDefinesByType | Class::RelDefinesByProperties | Class::RelContainedInSpatialStructure
    );
    if concerns_elements {
        many.retain(|id| elements.contains(id));
        if many.is_empty() {
            return Ok(None);
        }
    }
    Ok(Some(Related { relation: id, class, one, many }))
}

/// A list of references, or a single one.
fn list(record: &Record<'_>, index: usize) -> Result<Vec<u64>, Trouble> {
    match record.optional_reference(index) {
        Some(id) => Ok(vec![id]),
        None => record.references(index, "related elements"),
    }
}
