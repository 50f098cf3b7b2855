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
    /// `IfcOpeningElement`.
    OpeningElement,
    /// `IfcOpeningStandardCase`.
    OpeningStandardCase,
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
}

/// Keywords as they stand in a file, with their classes.
const KEYWORDS: &[(&str, Class)] = &[
    ("IFCPROJECT", Class::Project),
    ("IFCWALL", Class::Wall),
    ("IFCWALLSTANDARDCASE", Class::WallStandardCase),
    ("IFCWALLELEMENTEDCASE", Class::WallElementedCase),
    ("IFCOPENINGELEMENT", Class::OpeningElement),
    ("IFCOPENINGSTANDARDCASE", Class::OpeningStandardCase),
    ("IFCRELVOIDSELEMENT", Class::RelVoidsElement),
    ("IFCRELFILLSELEMENT", Class::RelFillsElement),
    ("IFCRELASSOCIATESMATERIAL", Class::RelAssociatesMaterial),
    ("IFCRELDEFINESBYTYPE", Class::RelDefinesByType),
    ("IFCRELDEFINESBYPROPERTIES", Class::RelDefinesByProperties),
    ("IFCRELCONTAINEDINSPATIALSTRUCTURE", Class::RelContainedInSpatialStructure),
    ("IFCRELAGGREGATES", Class::RelAggregates),
];

/// The class of a keyword, in any case; `None` for one that is not indexed.
pub fn class_of(keyword: &[u8]) -> Option<Class> {
    let same =
        |(name, _): &&(&str, Class)| name.len() == keyword.len() && name.as_bytes().eq_ignore_ascii_case(keyword);
    KEYWORDS.iter().find(same).map(|(_, class)| *class)
}
