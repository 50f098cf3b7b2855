//! Where the records of a file stand, by their instance names.

use super::bytes::to_usize;
use super::class::Class;

/// Where one record stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    /// Instance name, without the `#`.
    pub id: u64,
    /// Offset of the `#`.
    pub start: u64,
}

/// Records as they are found, in the order of the file.
#[derive(Default)]
pub struct Found {
    /// Slots of what was scanned before, as they were scanned: a copy of millions would take its time.
    pieces: Vec<Vec<Slot>>,
    /// Slots of what is scanned now.
    pub slots: Vec<Slot>,
    /// Records of indexed classes.
    pub by_class: Vec<(Class, u64)>,
}

impl Found {
    /// Appends what was found behind this.
    pub fn append(&mut self, other: Self) {
        self.pieces.push(std::mem::take(&mut self.slots));
        let (mut pieces, mut by_class) = other.finished();
        self.pieces.append(&mut pieces);
        self.by_class.append(&mut by_class);
    }

    /// All slots, in pieces, and the records of indexed classes.
    pub fn finished(mut self) -> (Vec<Vec<Slot>>, Vec<(Class, u64)>) {
        self.pieces.push(self.slots);
        (self.pieces, self.by_class)
    }

    /// The record that was found last.
    pub fn last(&self) -> Option<&Slot> {
        self.slots.last().or_else(|| self.pieces.iter().rev().find_map(|piece| piece.last()))
    }
}

/// Stands for a name that no record has.
const NONE: u32 = u32::MAX;

/// Offsets of records by instance name.
#[derive(Debug, PartialEq, Eq)]
pub enum Index {
    /// An offset for every name up to the largest, where most of these are used.
    Dense(Vec<u32>),
    /// Slots in the order of their names.
    Sparse(Vec<Slot>),
}

impl Default for Index {
    fn default() -> Self {
        Self::Sparse(Vec::new())
    }
}

impl Index {
    /// Makes an index of all records of a file, in any order.
    ///
    /// # Errors
    /// The first two records, in the order of the file, that have one name; of several such names the least.
    pub fn of(pieces: Vec<Vec<Slot>>) -> Result<Self, (Slot, Slot)> {
        if let Some(dense) = dense(&pieces) {
            return Ok(Self::Dense(dense));
        }
        let mut slots: Vec<Slot> = pieces.into_iter().flatten().collect();
        slots.sort_unstable_by_key(|slot| (slot.id, slot.start));
        let twice = slots.iter().zip(slots.iter().skip(1)).find(|(a, b)| a.id == b.id);
        match twice {
            Some((a, b)) => Err((*a, *b)),
            None => Ok(Self::Sparse(slots)),
        }
    }

    /// The largest name; nought where there is none.
    pub fn largest(&self) -> u64 {
        match self {
            Self::Dense(starts) => (starts.len() as u64).saturating_sub(1),
            Self::Sparse(slots) => slots.last().map_or(0, |slot| slot.id),
        }
    }

    /// Where the record of a name begins; `None` where there is none.
    pub fn start(&self, id: u64) -> Option<usize> {
        match self {
            Self::Dense(starts) => {
                let start = *starts.get(usize::try_from(id).ok()?)?;
                usize::try_from(start).ok().filter(|_| start != NONE)
            }
            Self::Sparse(slots) => {
                let at = slots.binary_search_by_key(&id, |slot| slot.id).ok()?;
                slots.get(at).map(|slot| to_usize(slot.start))
            }
        }
    }
}

/// Offsets by name; `None` where names are sparse, used twice, or stand too far into the file.
fn dense(pieces: &[Vec<Slot>]) -> Option<Vec<u32>> {
    let count: usize = pieces.iter().map(Vec::len).sum();
    let most = usize::try_from(pieces.iter().flatten().map(|slot| slot.id).max()?).ok()?;
    // Instance names never size an array unless most of its places are used.
    if most / 4 > count {
        return None;
    }
    let mut starts = vec![NONE; most + 1];
    for slot in pieces.iter().flatten() {
        let place = starts.get_mut(usize::try_from(slot.id).ok()?)?;
        let start = u32::try_from(slot.start).ok().filter(|start| *start != NONE)?;
        if *place != NONE {
            return None;
        }
        *place = start;
    }
    Some(starts)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn slots(ids: &[u64]) -> Vec<Slot> {
        ids.iter().zip(100..).map(|(&id, start)| Slot { id, start }).collect()
    }

    #[test]
    fn names_are_found_whether_dense_or_sparse() {
        let far = [3_000_000_000, 7, u64::MAX];
        for (ids, is_dense) in [(&[5, 1, 9, 2][..], true), (&far[..], false)] {
            let index = Index::of(vec![slots(ids)]).unwrap();
            assert_eq!(matches!(index, Index::Dense(_)), is_dense);
            for (place, id) in ids.iter().enumerate() {
                assert_eq!(index.start(*id), Some(100 + place));
            }
            assert_eq!((index.start(3), index.start(10)), (None, None));
            assert_eq!(index.largest(), *ids.iter().max().unwrap());
        }
        assert_eq!(Index::of(Vec::new()).unwrap().start(0), None);
    }

    #[test]
    fn a_name_used_twice_is_told_with_its_first_two_places() {
        let (one, other) = Index::of(vec![slots(&[4, 2, 8]), slots(&[2, 4, 2])]).unwrap_err();
        assert_eq!((one, other), (Slot { id: 2, start: 100 }, Slot { id: 2, start: 101 }));
    }

    #[test]
    fn offsets_past_four_gibibytes_are_kept_whole() {
        let far = Slot { id: 1, start: 5 << 32 };
        assert_eq!(Index::of(vec![vec![far]]).unwrap().start(1), Some(5 << 32));
    }
}
