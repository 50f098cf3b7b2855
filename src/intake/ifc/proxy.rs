//! Proxies, elements of no class of their own, that are named like a wall, roof, floor or ceiling.
//!
//! Plain tables of words, to be extended by language. A space in an entry stands for the edge of a word, so that
//! `wand ` is found in `Trennwand` and not in `Wandleuchte`.

use super::class::Class;
use super::element::Element;
use super::file::File;
use super::relations::Relations;
use super::text::decode;
use super::trouble::Trouble;
use crate::finding::Code;
use crate::source::Source;
use crate::tally::LeftOutElement;

/// Words for what is measured: what it is called in a message, the class to ask for, the words.
///
/// Words of the building trades, in the order English, German, French, Spanish, Italian, Portuguese, Dutch,
/// Nordic languages, Czech, Polish: common practice, no source.
const NAMED: [(&str, &str, &[&str]); 4] = [
    (
        "roof",
        "IfcRoof or IfcSlab with ROOF",
        &[
            " roof ",
            " roofs ",
            " roofing ",
            "dach ",
            "dachfläche ",
            "dachflächen ",
            " toit ",
            " toiture ",
            " techo ",
            " tejado ",
            " cubierta ",
            " tetto ",
            " copertura ",
            " telhado ",
            " cobertura ",
            " dak ",
            " tak ",
            " tag ",
            " katto ",
            " střecha ",
        ],
    ),
    (
        "ceiling",
        "IfcCovering with CEILING",
        &[
            " ceiling ",
            " ceilings ",
            "abhangdecke ",
            "unterdecke ",
            " plafond ",
            " faux plafond ",
            " cielo raso ",
            " falso techo ",
            " controsoffitto ",
            " soffitto ",
            " forro ",
            " innertak ",
            " himling ",
            " loft ",
            " podhled ",
            " sufit ",
        ],
    ),
    (
        "floor or slab",
        "IfcSlab",
        &[
            " floor ",
            " floors ",
            " slab ",
            " slabs ",
            "decke ",
            "bodenplatte ",
            "fußboden ",
            " plancher ",
            " dalle ",
            " forjado ",
            " losa ",
            " solaio ",
            " soletta ",
            " laje ",
            " piso ",
            " vloer ",
            "vloer ",
            "bjälklag ",
            " etasjeskille ",
            "dæk ",
            "välipohja ",
            " strop ",
            " podlaha ",
            " podłoga ",
        ],
    ),
    (
        "wall",
        "IfcWall",
        &[
            " wall ",
            " walls ",
            " partition ",
            " partitions ",
            "wand ",
            "wände ",
            "mauer ",
            " mur ",
            " murs ",
            " cloison ",
            " muro ",
            " muros ",
            " pared ",
            " paredes ",
            " tabique ",
            " parete ",
            " pareti ",
            " parede ",
            " muur ",
            " muren ",
            "vägg ",
            "vegg ",
            "væg ",
            "seinä ",
            " stěna ",
            " zeď ",
            " příčka ",
            " ściana ",
            " ścianka ",
        ],
    ),
];

/// Words of things that stand at, hang from or go through a wall, roof or floor and are none.
const OTHER: &[&str] = &[
    " light ",
    " lights ",
    " lamp ",
    " luminaire ",
    " fixture ",
    " fan ",
    " drain ",
    " drains ",
    " gully ",
    " outlet ",
    " socket ",
    " switch ",
    " clock ",
    " cabinet ",
    " shelf ",
    " rail ",
    " handrail ",
    " hook ",
    " mounted ",
    " hung ",
    " mount ",
    " basin ",
    " sink ",
    " toilet ",
    " urinal ",
    " radiator ",
    " heater ",
    " diffuser ",
    " grille ",
    " vent ",
    " sprinkler ",
    " sign ",
    " mat ",
    " finish ",
    " gutter ",
    " window ",
    " hatch ",
    " opening ",
    " void ",
    " anchor ",
    " bracket ",
    " plate ",
    " box ",
    " tile ",
    " tiles ",
    " lining ",
    " hanger ",
    " leuchte ",
    "leuchte ",
    " ablauf ",
    " rinne ",
    " fenster ",
    " öffnung ",
    "durchbruch ",
    " applique ",
    " lámpara ",
    " lampada ",
    " lampa ",
];

/// Place of `PredefinedType` among the arguments of a proxy (`CompositionType` in IFC2X3).
const PREDEFINED_TYPE: usize = 8;

/// Every proxy that is named like something that is measured: why it is left out, and what to ask for.
pub fn left_out(file: &File<'_>, relations: &Relations) -> Vec<(LeftOutElement, Trouble, Element)> {
    let named = |id: u64| {
        let record = file.record(id).ok()?;
        let (element, _) = Element::read(file, relations, Class::Proxy, id).ok()?;
        if record.says(PREDEFINED_TYPE, "PROVISIONFORVOID") || record.says(PREDEFINED_TYPE, "PROVISIONFORSPACE") {
            return None;
        }
        let object_type = record.string(4).map(|raw| decode(raw).text);
        let texts = [element.name.as_deref(), element.type_name.as_deref(), object_type.as_deref()];
        let (text, what, class) =
            texts.into_iter().flatten().find_map(|text| reads_like(text).map(|(w, c)| (text, w, c)))?;
        let message = format!(
            "the proxy `{text}` reads like a {what}, but a proxy (IfcBuildingElementProxy) is not measured; \
             ask for it as {class}"
        );
        let left_out = LeftOutElement {
            id: element.global_id.clone(),
            class: element.class.to_owned(),
            name: element.name.clone(),
            reason: format!("a proxy is not measured; its name reads like a {what}"),
            source: Source::of_entity(file.path(), id),
        };
        Some((left_out, Trouble::new(Code::ProxyNotMeasured, id, message), element))
    };
    file.of_class(Class::Proxy).filter_map(named).collect()
}

/// What a name reads like, and the class to ask for.
fn reads_like(text: &str) -> Option<(&'static str, &'static str)> {
    let text = spaced(text);
    let has = |words: &[&str]| words.iter().any(|word| text.contains(word));
    if has(OTHER) {
        return None;
    }
    NAMED.iter().find(|(_, _, words)| has(words)).map(|(what, class, _)| (*what, *class))
}

/// Small letters, one space for everything that is no letter, a space at both ends.
fn spaced(text: &str) -> String {
    let mut out = String::from(" ");
    for character in text.chars().flat_map(char::to_lowercase) {
        if character.is_alphabetic() {
            out.push(character);
        } else if !out.ends_with(' ') {
            out.push(' ');
        }
    }
    if !out.ends_with(' ') {
        out.push(' ');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    // Words of the trade in each language: common practice, no source.
    #[test]
    fn names_in_several_languages_are_told() {
        for (name, due) in [
            ("Exterior Wall 01", "wall"),
            ("Trennwand 12", "wall"),
            ("Außenwände", "wall"),
            ("Mur extérieur", "wall"),
            ("Parete_interna", "wall"),
            ("Yttervägg", "wall"),
            ("Ściana działowa", "wall"),
            ("Flat-Roof", "roof"),
            ("Satteldach", "roof"),
            ("Střecha", "roof"),
            ("Suspended ceiling 2", "ceiling"),
            ("Faux plafond", "ceiling"),
            ("Geschossdecke", "floor or slab"),
            ("Betonvloer", "floor or slab"),
            ("Floor:Generic 12\"", "floor or slab"),
        ] {
            assert_eq!(reads_like(name).map(|(what, _)| what), Some(due), "{name}");
        }
    }

    #[test]
    fn things_beside_them_are_none() {
        for name in
            ["Wall light", "Wandleuchte", "Dachrinne", "Roof drain", "Wall-mounted basin", "Wallace", "Tree", ""]
        {
            assert_eq!(reads_like(name), None, "{name}");
        }
    }
}
