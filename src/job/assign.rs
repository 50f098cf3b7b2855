//! Which framing and which fill a surface gets.

use super::built_in::{known_names, named};
use super::exposure::fits;
use super::rules::{Assembly, Job};
use crate::framing::{Framing, FramingTextError, LayoutRules, parse_framing};
use crate::model::{LayerKind, Subject, Surface, SurfaceKind, is_masonry, is_stud};
use crate::refusal::Refusal;
use crate::source::Place;

/// Why a surface of masonry or concrete gets no framing.
pub const MASONRY: &str = "masonry or concrete";
/// Why a surface that nothing says the framing of gets none.
pub const NOT_KNOWN: &str = "framing not known";

/// What gave a surface its framing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Framing as written in the sheet.
    Sheet,
    /// An assembly of the job file, by index.
    Assembly(usize),
    /// A built-in assembly, by index.
    BuiltIn(usize),
    /// A `--frame`, by index.
    Frame(usize),
    /// The model, member by member.
    Model,
}

/// Framing and fill of a surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Assigned<'j> {
    /// How it is framed.
    pub framing: Framing,
    /// The same in words.
    pub words: String,
    /// Rules of its layout.
    pub layout: &'j LayoutRules,
    /// Index in the job's fills.
    pub fill: usize,
    /// What gave it.
    pub rule: Rule,
}

/// What the job says of a surface.
#[derive(Clone, Debug, PartialEq)]
pub enum Assignment<'j> {
    /// It is framed.
    Framed(Box<Assigned<'j>>),
    /// It is not, and why.
    Unframed(&'static str),
}

/// Finds the framing of a surface: its own assembly, else the members that the model gives, else an assembly of the job file that fits it,
/// else a `--frame` whose pattern fits it, else a plain `--frame` where no cavity would be invented.
///
/// # Errors
/// An assembly in a sheet that is neither a name in the job file nor framing.
pub fn assign<'j>(surface: &Surface, job: &'j Job) -> Result<Assignment<'j>, Box<Refusal>> {
    if let Some(text) = &surface.assembly {
        return of_text(text, surface, job);
    }
    let subject = Subject::of(surface, job.exposure_of(surface).0);
    let layers = || surface.layers.iter().map(|layer| layer.material.as_str());
    let by_match = job.assemblies.iter().position(|a| a.matches.iter().any(|pattern| pattern.fits(&subject, layers())));
    let matched = by_match.and_then(|index| Some((index, job.assemblies.get(index)?)));
    if surface.framing_is_given {
        return Ok(Assignment::Framed(Box::new(of_model(surface, matched, job))));
    }
    if let Some((index, assembly)) = matched {
        return Ok(Assignment::Framed(Box::new(of_assembly(Rule::Assembly(index), assembly))));
    }
    let by_pattern = |(_, frame): &(usize, &super::FrameRule)| frame.pattern.as_ref().is_some_and(|p| fits(p, surface));
    let patterned = job.frames.iter().enumerate().find(by_pattern);
    let plain = || job.frames.iter().enumerate().find(|(_, frame)| frame.pattern.is_none());
    let reason = reason_against_plain_frame(surface);
    let found = match (patterned, reason) {
        (Some(found), _) => Some(found),
        (None, None) => plain(),
        (None, Some(_)) => None,
    };
    Ok(match found {
        Some((index, frame)) => Assignment::Framed(Box::new(match &frame.assembly {
            Some(assembly) => of_assembly(Rule::Frame(index), assembly),
            None => of_framing(frame.framing.clone(), Rule::Frame(index), job),
        })),
        None => Assignment::Unframed(reason.unwrap_or(NOT_KNOWN)),
    })
}

/// Members that the model gives. Of a ceiling, roof or floor an assembly that fits says what else there is to it, such as
/// its vent gap or the thickness of its fill.
fn of_model<'j>(surface: &Surface, matched: Option<(usize, &'j Assembly)>, job: &'j Job) -> Assigned<'j> {
    let framing = as_modelled(surface);
    match matched.filter(|_| surface.kind != SurfaceKind::Wall) {
        Some((index, assembly)) => Assigned {
            words: format!("{}: {}", assembly.name, framing.text),
            framing,
            ..of_assembly(Rule::Assembly(index), assembly)
        },
        None => of_framing(framing, Rule::Model, job),
    }
}

/// Framing that the model gives: its members are as deep as its cavity.
fn as_modelled(surface: &Surface) -> Framing {
    let layer = surface.cavity_layer.and_then(|index| surface.layers.get(index)).map(|layer| layer.thickness_m);
    Framing::as_modelled(surface.measured_depth_m.or(layer).or(surface.thickness_m).unwrap_or(0.0))
}

/// Why a `--frame` without a pattern does not frame a surface; `None` where it does.
///
/// No cavity is invented in masonry or concrete: what has named layers is framed only where one of
/// them is named as studs.
fn reason_against_plain_frame(surface: &Surface) -> Option<&'static str> {
    if let Some(part) = surface.framing_in_part {
        return Some(part.reason());
    }
    let is_any = |kind: LayerKind| surface.layers.iter().any(|layer| layer.kind == kind);
    if is_any(LayerKind::Studs) {
        return None;
    }
    if is_any(LayerKind::Masonry) {
        return Some(MASONRY);
    }
    let named = surface.layers.iter().filter(|layer| !layer.material.trim().is_empty()).count();
    if named == 0 {
        // Without layers the name of the type is all there is to go by.
        return surface.type_name.as_deref().filter(|name| is_masonry(name) && !is_stud(name)).map(|_| MASONRY);
    }
    (named == surface.layers.len()).then_some(NOT_KNOWN)
}

fn of_text<'j>(text: &str, surface: &Surface, job: &'j Job) -> Result<Assignment<'j>, Box<Refusal>> {
    let text = text.trim();
    let framed = |assigned| Ok(Assignment::Framed(Box::new(assigned)));
    if let Some((rule, assembly)) = named(text, job) {
        return framed(of_assembly(rule, assembly));
    }
    match parse_framing(text) {
        Ok(framing) => framed(of_framing(framing, Rule::Sheet, job)),
        Err(_) if is_solid_wall(text) => Ok(Assignment::Unframed(MASONRY)),
        Err(error) => Err(Box::new(unknown_assembly(text, error, surface, job))),
    }
}

/// Whether a sheet's words for an assembly are masonry or concrete and nothing else: a veneer stands before framing, and
/// what has a size or a spacing was meant as framing.
fn is_solid_wall(text: &str) -> bool {
    let is_size =
        |word: &str| word.split_once(['x', 'X', '×']).is_some_and(|(a, _)| a.ends_with(|c: char| c.is_ascii_digit()));
    let lower = text.to_lowercase();
    is_masonry(text)
        && !is_stud(text)
        && !text.contains(['@', '+'])
        && !lower.contains("veneer")
        && !text.split_whitespace().any(is_size)
}

fn of_assembly(rule: Rule, assembly: &Assembly) -> Assigned<'_> {
    Assigned {
        framing: assembly.framing.clone(),
        words: format!("{}: {}", assembly.name, assembly.framing.text),
        layout: &assembly.layout,
        fill: assembly.fill,
        rule,
    }
}

fn of_framing(framing: Framing, rule: Rule, job: &Job) -> Assigned<'_> {
    Assigned { words: framing.text.clone(), framing, layout: &job.layout.rules, fill: 0, rule }
}

fn unknown_assembly(text: &str, error: FramingTextError, surface: &Surface, job: &Job) -> Refusal {
    let place =
        Place { line: surface.source.line, id: Some(surface.id.clone()), ..Place::input(&surface.source.input) };
    let message = format!("`{text}` is neither an assembly of the job file nor framing");
    // What has a spacing was meant as framing: then the slip in it is what helps.
    if text.contains('@') {
        return Refusal::new(place, format!("{message}: {}", error.message), error.help);
    }
    Refusal::new(place, message, known_names(text, job))
}

#[cfg(test)]
mod tests {
    use super::super::{parse_frame, read_job};
    use super::*;
    use crate::geometry::Polygon;
    use crate::model::{Exposure, Extent, Layer};
    use crate::source::Source;

    fn wall(type_name: &str, layers: &[&str]) -> Surface {
        let layer = |material: &&str| Layer::named(material, 0.1);
        Surface {
            name: Some("W1".to_owned()),
            type_name: (!type_name.is_empty()).then(|| type_name.to_owned()),
            exposure: Exposure::Exterior,
            layers: layers.iter().map(layer).collect(),
            pitch_deg: Some(90.0),
            ..Surface::new(
                "W1",
                Source::of_line("house.csv", 2),
                SurfaceKind::Wall,
                Extent::Outline(vec![Polygon::rectangle(0.0, 0.0, 4.0, 2.5)]),
            )
        }
    }

    fn job(frames: &[&str]) -> Job {
        Job { frames: frames.iter().map(|text| parse_frame(text).unwrap()).collect(), ..Job::default() }
    }

    fn words(surface: &Surface, job: &Job) -> String {
        match assign(surface, job).unwrap() {
            Assignment::Framed(assigned) => assigned.words,
            Assignment::Unframed(reason) => reason.to_owned(),
        }
    }

    #[test]
    fn a_sheet_that_says_masonry_is_not_framed_and_not_refused() {
        let job = Job::default();
        let of = |assembly: &str| assign(&Surface { assembly: Some(assembly.to_owned()), ..wall("", &[]) }, &job);
        for solid in ["brick", "8 in concrete block", "Brick wall"] {
            assert!(matches!(of(solid), Ok(Assignment::Unframed(MASONRY))), "{solid}");
        }
        for doubtful in ["brick veneer", "brick on 2x4", "brick + 2x4 at 16 in", "outer wall"] {
            assert!(of(doubtful).is_err(), "{doubtful}");
        }
    }

    #[test]
    fn no_cavity_is_invented_in_masonry_or_concrete() {
        let plain = job(&["2x6 @ 24 in"]);
        assert_eq!(words(&wall("", &[]), &plain), "2x6 @ 24 in");
        assert_eq!(words(&wall("", &["", ""]), &plain), "2x6 @ 24 in");
        assert_eq!(words(&wall("", &["Gypsum", "Wood Stud", "Brick"]), &plain), "2x6 @ 24 in");
        assert_eq!(words(&wall("", &["Plaster", "Brick", ""]), &plain), "masonry or concrete");
        assert_eq!(words(&wall("Concrete 200", &[]), &plain), "masonry or concrete");
        assert_eq!(words(&wall("", &["Gypsum", "Air"]), &plain), "framing not known");
        assert_eq!(words(&wall("", &[]), &job(&[])), "framing not known");
    }

    #[test]
    fn a_pattern_frames_what_it_fits_whatever_the_layers() {
        let both = job(&["2x6 @ 24 in", "Concrete*: 2x4 @ 16 in"]);
        assert_eq!(words(&wall("Concrete 200", &["Concrete"]), &both), "2x4 @ 16 in");
        assert_eq!(words(&wall("", &["Concrete"]), &job(&["*: 2x4 @ 16 in"])), "2x4 @ 16 in");
    }

    #[test]
    fn a_frame_may_name_an_assembly() {
        let text = "[fill.cellulose]\n[fill.\"glass fibre\"]\n[assembly.outer]\nframing = \"2x6 @ 16 in\"\nfill = \"glass fibre\"\n";
        let mut job = read_job("job.toml", text).unwrap();
        let frame = job.parse_frame("*: outer").unwrap();
        job.frames.push(frame);
        let Assignment::Framed(assigned) = assign(&wall("", &["Concrete"]), &job).unwrap() else { panic!() };
        assert_eq!((assigned.words.as_str(), assigned.fill, assigned.rule), ("outer: 2x6 @ 16 in", 1, Rule::Frame(0)));
    }

    #[test]
    fn a_sheet_names_an_assembly_or_framing_and_nothing_else() {
        let job = read_job("job.toml", "[assembly.outer]\nframing = \"2x6 @ 16 in\"\n").unwrap();
        let of = |text: &str| Surface { assembly: Some(text.to_owned()), ..wall("", &[]) };
        assert_eq!(words(&of("Outer"), &job), "outer: 2x6 @ 16 in");
        assert_eq!(words(&of("2x4 @ 16 in"), &job), "2x4 @ 16 in");
        assert_eq!(words(&of("Cassette wall"), &job), "cassette wall: 60x240 mm @ 625 mm");
        let refusal = assign(&of("2x7 @ 16 in"), &job).unwrap_err();
        assert!(refusal.message.contains("`7` is not a nominal size"), "{}", refusal.message);
        let refusal = assign(&of("outr"), &job).unwrap_err();
        assert_eq!(refusal.to_string(), "house.csv:2 (W1): `outr` is neither an assembly of the job file nor framing");
        assert!(refusal.help.contains("did you mean `outer`?") && refusal.help.contains("2x6 @ 24 in"));
    }

    // A model that gives its rafters still needs the job to say how they are vented.
    #[test]
    fn members_of_a_model_take_the_rest_from_an_assembly() {
        let text = "[assembly.slope]\nframing = \"2x8 @ 16 in\"\nmatch = \"W1\"\nvent_gap = \"1 in\"\n";
        let job = read_job("job.toml", text).unwrap();
        let modelled = |kind| Surface { framing_is_given: true, kind, ..wall("", &[]) };
        let roof = modelled(SurfaceKind::Roof);
        let Assignment::Framed(assigned) = assign(&roof, &job).unwrap() else { panic!("it is framed") };
        assert_eq!((assigned.words.as_str(), assigned.rule), ("slope: as modelled", Rule::Assembly(0)));
        assert!(assigned.framing.rows.is_empty() && assigned.layout.enclosure.vent_gap_m.is_some());
        assert_eq!(words(&modelled(SurfaceKind::Wall), &job), "as modelled");
    }
}
