//! What an id names.

use super::step::{Explanation, Line, Section};
use crate::refusal::Refusal;
use crate::source::Place;
use crate::takeoff::{BayTakeoff, SurfaceTakeoff, Takeoff};
use crate::tally::LeftOutElement;

/// Names that are shown where one is not found.
const SHOWN: usize = 5;
/// How an id is written.
const FORM: &str = "an ID is a surface's id, GlobalId, name or record (`#12`); `ID/2` is its part 2, `ID#3` its bay 3";

/// What an id names.
pub(super) enum Target<'t> {
    /// A surface, or the parts of one element.
    Surfaces(Vec<&'t SurfaceTakeoff>),
    /// A bay.
    Bay(&'t SurfaceTakeoff, &'t BayTakeoff),
    /// What gave no surface.
    LeftOut(&'t LeftOutElement),
}

/// Finds what an id names. The whole text is taken for a surface before its end is taken for a bay.
pub(super) fn find<'t>(takeoff: &'t Takeoff, id: &str) -> Result<Target<'t>, Box<Refusal>> {
    let own = surfaces(takeoff, id, id)?;
    if !own.is_empty() {
        return Ok(Target::Surfaces(own));
    }
    if let Some((head, number)) = id.rsplit_once('#') {
        match surfaces(takeoff, head, id)?.as_slice() {
            [] => {}
            [surface] => {
                let bay = surface.bays.iter().find(|bay| bay.id == number.trim());
                return bay.map(|bay| Target::Bay(surface, bay)).ok_or_else(|| no_such_bay(id, surface));
            }
            several => {
                let first = several.first().map(|first| &first.source);
                let is_one = several.iter().all(|surface| Some(&surface.source) == first);
                // Elements that share a GlobalId are told apart by their records.
                let of = |surface: &&SurfaceTakeoff| match surface.source.entity.as_deref().filter(|_| !is_one) {
                    Some(entity) => format!("`{entity}/{}#{number}`", surface.part),
                    None => format!("`{}/{}#{number}`", surface.id, surface.part),
                };
                let help = format!("say which: {}", several.iter().map(of).take(SHOWN).collect::<Vec<_>>().join(", "));
                let what = if is_one { "parts" } else { "surfaces" };
                return Err(refusal(id, format!("`{head}` has {} {what}", several.len()), help));
            }
        }
    }
    let is_own = |element: &&LeftOutElement| element.id == id || element.name.as_deref() == Some(id);
    if let Some(element) = takeoff.left_out_elements.iter().find(is_own) {
        return Ok(Target::LeftOut(element));
    }
    let near = nearest(takeoff, id.rsplit_once('#').map_or(id, |(head, _)| head));
    let help = format!("{near}; {FORM}");
    Err(refusal(id, format!("`{id}` names no surface and no bay"), help))
}

/// Surfaces that a text names: by id, else by record, else by name; none, one, or the parts of one element.
fn surfaces<'t>(takeoff: &'t Takeoff, text: &str, id: &str) -> Result<Vec<&'t SurfaceTakeoff>, Box<Refusal>> {
    let text = text.trim();
    let with_part = |name: &str, part: u32| {
        text == name
            || text
                .strip_prefix(name)
                .and_then(|rest| rest.strip_prefix('/'))
                .is_some_and(|rest| rest == part.to_string())
    };
    let all = |is_own: &dyn Fn(&SurfaceTakeoff) -> bool| -> Vec<&'t SurfaceTakeoff> {
        takeoff.surfaces.iter().filter(|surface| is_own(surface)).collect()
    };
    let by_id = all(&|surface| with_part(&surface.id, surface.part));
    if !by_id.is_empty() {
        return Ok(by_id);
    }
    let by_record =
        all(&|surface| surface.source.entity.as_deref().is_some_and(|entity| with_part(entity, surface.part)));
    if !by_record.is_empty() {
        return Ok(by_record);
    }
    let found = all(&|surface| surface.name.as_deref().is_some_and(|name| with_part(name, surface.part)));
    let Some(first) = found.first() else { return Ok(found) };
    if found.iter().any(|surface| surface.id != first.id) {
        let mut ids: Vec<String> = found.iter().map(|surface| format!("`{}`", surface.id)).collect();
        ids.dedup();
        let more = ids.len().saturating_sub(SHOWN);
        ids.truncate(SHOWN);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        let help = format!("say which by its id: {}{more}", ids.join(", "));
        return Err(refusal(id, format!("several surfaces are named `{text}`"), help));
    }
    // The parts of an element may have names of their own; its name alone is that of all.
    let is_whole = found.iter().any(|surface| surface.name.as_deref() == Some(text));
    let is_part = |surface: &SurfaceTakeoff| surface.id == first.id && surface.source == first.source;
    Ok(if is_whole { all(&is_part) } else { found })
}

fn refusal(id: &str, message: String, help: String) -> Box<Refusal> {
    Box::new(Refusal::new(Place::input(id), message, help))
}

fn no_such_bay(id: &str, surface: &SurfaceTakeoff) -> Box<Refusal> {
    let bays = match surface.bays.as_slice() {
        [] if surface.counted => "it has no bays".to_owned(),
        [] => format!("it has no bays: not counted, {}", surface.reason.as_deref().unwrap_or("reason not known")),
        [only] => format!("its only bay is `{}#{}`", surface.id, only.id),
        [first, .., last] => format!("its bays are `#{}` to `#{}`", first.id, last.id),
    };
    refusal(id, format!("`{}` has no such bay", surface.id), bays)
}

/// The names that are most like a text, by id and by name.
fn nearest(takeoff: &Takeoff, text: &str) -> String {
    let names = takeoff.surfaces.iter().flat_map(|surface| [Some(surface.id.as_str()), surface.name.as_deref()]);
    let mut ranked: Vec<(f64, &str)> =
        names.flatten().map(|name| (strsim::jaro_winkler(&text.to_lowercase(), &name.to_lowercase()), name)).collect();
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    ranked.dedup_by(|a, b| a.1 == b.1);
    ranked.truncate(SHOWN);
    let shown: Vec<String> = ranked.iter().map(|(_, name)| format!("`{name}`")).collect();
    if shown.is_empty() { "no surface was read".to_owned() } else { format!("the nearest are {}", shown.join(", ")) }
}

/// Of what gave no surface there is only the reason.
pub(super) fn left_out(element: &LeftOutElement) -> Explanation {
    let name = element.name.as_deref().map(|name| format!(" `{name}`")).unwrap_or_default();
    let lines = vec![
        Line::text(format!("{}: {}{name}", element.source, element.class)),
        Line::text(format!("gave no surface: {}", element.reason)),
    ];
    Explanation { title: element.id.clone(), sections: vec![Section::new("Left out", lines)] }
}
