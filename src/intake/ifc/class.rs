//! The classes of records that the intake looks up by class.

/// A class that is indexed by the scan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// `IfcProject`.
    Project,
    /// `IfcWall`.
    Wall,
    /// `IfcWallStandardCase`.
    WallStandardCase,
    /// `IfcWallElementedCase`.
    WallElementedCase,
    /// `IfcSlab` and its special cases.
    Slab,
    /// `IfcRoof`.
    Roof,
    /// `IfcCovering`.
    Covering,
    /// `IfcCurtainWall`.
    CurtainWall,
    /// `IfcPlate` and its special cases.
    Plate,
    /// `IfcBuildingElementProxy`.
    Proxy,
    /// `IfcMember` and its special cases.
    Member,
    /// `IfcBeam` and its special cases.
    Beam,
    /// `IfcColumn` and its special cases.
    Column,
    /// `IfcChimney`.
    Chimney,
    /// `IfcDoor` and its special case.
    Door,
    /// `IfcWindow` and its special case.
    Window,
    /// `IfcOpeningElement`.
    OpeningElement,
    /// `IfcOpeningStandardCase`.
    OpeningStandardCase,
    /// `IfcSpace`.
    Space,
    /// `IfcRelSpaceBoundary` of any level.
    RelSpaceBoundary,
    /// `IfcRelVoidsElement`.
    RelVoidsElement,
    /// `IfcRelFillsElement`.
    RelFillsElement,
    /// `IfcRelAssociatesMaterial`.
    RelAssociatesMaterial,
    /// `IfcRelDefinesByType`.
    RelDefinesByType,
    /// `IfcRelDefinesByProperties`.
    RelDefinesByProperties,
    /// `IfcRelContainedInSpatialStructure`.
    RelContainedInSpatialStructure,
    /// `IfcRelAggregates`.
    RelAggregates,
    /// `IfcElementQuantity`.
    ElementQuantity,
    /// `IfcRelConnectsPathElements`.
    RelConnectsPathElements,
}

impl Class {
    /// Whether it is a piece of framing where it stands in an element.
    pub fn is_member(self) -> bool {
        matches!(self, Self::Member | Self::Beam | Self::Column | Self::Plate)
    }
}

/// Keywords as they stand in a file, with their classes.
const KEYWORDS: &[(&str, Class)] = &[
    ("IFCPROJECT", Class::Project),
    ("IFCWALL", Class::Wall),
    ("IFCWALLSTANDARDCASE", Class::WallStandardCase),
    ("IFCWALLELEMENTEDCASE", Class::WallElementedCase),
    ("IFCSLAB", Class::Slab),
    ("IFCSLABSTANDARDCASE", Class::Slab),
    ("IFCSLABELEMENTEDCASE", Class::Slab),
    ("IFCROOF", Class::Roof),
    ("IFCCOVERING", Class::Covering),
    ("IFCCURTAINWALL", Class::CurtainWall),
    ("IFCPLATE", Class::Plate),
    ("IFCPLATESTANDARDCASE", Class::Plate),
    ("IFCBUILDINGELEMENTPROXY", Class::Proxy),
    ("IFCMEMBER", Class::Member),
    ("IFCMEMBERSTANDARDCASE", Class::Member),
    ("IFCBEAM", Class::Beam),
    ("IFCBEAMSTANDARDCASE", Class::Beam),
    ("IFCCOLUMN", Class::Column),
    ("IFCCOLUMNSTANDARDCASE", Class::Column),
    ("IFCCHIMNEY", Class::Chimney),
    ("IFCDOOR", Class::Door),
    ("IFCDOORSTANDARDCASE", Class::Door),
    ("IFCWINDOW", Class::Window),
    ("IFCWINDOWSTANDARDCASE", Class::Window),
    ("IFCOPENINGELEMENT", Class::OpeningElement),
    ("IFCOPENINGSTANDARDCASE", Class::OpeningStandardCase),
    ("IFCSPACE", Class::Space),
    ("IFCRELSPACEBOUNDARY", Class::RelSpaceBoundary),
    ("IFCRELSPACEBOUNDARY1STLEVEL", Class::RelSpaceBoundary),
    ("IFCRELSPACEBOUNDARY2NDLEVEL", Class::RelSpaceBoundary),
    ("IFCRELVOIDSELEMENT", Class::RelVoidsElement),
    ("IFCRELFILLSELEMENT", Class::RelFillsElement),
    ("IFCRELASSOCIATESMATERIAL", Class::RelAssociatesMaterial),
    ("IFCRELDEFINESBYTYPE", Class::RelDefinesByType),
    ("IFCRELDEFINESBYPROPERTIES", Class::RelDefinesByProperties),
    ("IFCRELCONTAINEDINSPATIALSTRUCTURE", Class::RelContainedInSpatialStructure),
    ("IFCRELAGGREGATES", Class::RelAggregates),
    ("IFCELEMENTQUANTITY", Class::ElementQuantity),
    ("IFCRELCONNECTSPATHELEMENTS", Class::RelConnectsPathElements),
];

/// Longer than this, in bytes, is no keyword that is indexed.
const LONGEST: usize = 40;

/// Which keywords have a length, one bit each: a file has millions of keywords, and most are ruled out by that.
const OF_LENGTH: [u64; LONGEST + 1] = of_length();

#[allow(clippy::indexing_slicing, reason = "evaluated while compiling, where a wrong index is an error")]
const fn of_length() -> [u64; LONGEST + 1] {
    let mut of_length = [0; LONGEST + 1];
    let mut index = 0;
    while index < KEYWORDS.len() {
        of_length[KEYWORDS[index].0.len()] |= 1 << index;
        index += 1;
    }
    of_length
}

/// The class of a keyword, in any case; `None` for one that is not indexed.
pub fn class_of(keyword: &[u8]) -> Option<Class> {
    let mut left = *OF_LENGTH.get(keyword.len())?;
    while left != 0 {
        let (name, class) = KEYWORDS.get(left.trailing_zeros() as usize)?;
        if name.as_bytes().eq_ignore_ascii_case(keyword) {
            return Some(*class);
        }
        left &= left - 1;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_keyword_is_known_in_any_case() {
        for (name, class) in KEYWORDS {
            assert_eq!(class_of(name.as_bytes()), Some(*class), "{name}");
            assert_eq!(class_of(name.to_ascii_lowercase().as_bytes()), Some(*class), "{name}");
        }
        for other in ["", "IFCWALX", "IFCPROPERTYSET", "IFCCARTESIANPOINT"] {
            assert_eq!(class_of(other.as_bytes()), None, "{other}");
        }
        assert_eq!(class_of(&[b'A'; 100]), None);
    }
}
