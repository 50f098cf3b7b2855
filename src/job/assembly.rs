//! From an assembly as it is written to the one that surfaces get.

use super::LayoutChoice;
use super::assembly_sources::Sources;
use super::attic::read_enclosure;
use super::file::{AssemblyFile, Confidence, nearest};
use super::heat::read_layers;
use super::layout::{Said, apply};
use super::method::read_filling;
use super::pattern_file::MatchFile;
use super::reader::Reader;
use super::retrofit::{RetrofitFile, read_retrofit};
use super::rules::{Assembly, FillChoice};
use crate::fill::{CeilingBoard, FillMethod};
use crate::framing::{Framing, parse_framing};
use crate::units::parse_resistance;
use toml::Spanned;

/// What an assembly may refer to, and where its own values come from.
pub(super) struct Known<'k> {
    pub(super) fills: &'k [FillChoice],
    pub(super) layout: &'k LayoutChoice,
    /// Assemblies above it.
    pub(super) own: &'k [Assembly],
    pub(super) built_in: &'k [Assembly],
    pub(super) origin: &'static str,
}

pub(super) fn resolve_assembly(
    name: &Spanned<String>,
    file: &AssemblyFile,
    known: &Known<'_>,
    reader: &mut Reader<'_>,
) -> Option<Assembly> {
    let base = match &file.like {
        Some(like) => Some(find_like(like, known, reader)?),
        None => None,
    };
    let source = source_of(file, known.origin);
    let mut sources = Sources::inherited(name.get_ref(), base);
    let framing = resolve_framing(name, file, base, (reader, &mut sources, &source))?;
    let mut rules = base.map_or(&known.layout.rules, |base| &base.layout).clone();
    for Said { key, value, source } in apply(&file.layout, &mut rules, reader) {
        sources.set(&format!("layout.{key}"), value, source);
    }
    for (key, value) in read_enclosure(file, &mut rules.enclosure, reader) {
        sources.set(key, value, &source);
    }
    // The one takes the other's place, so that what was liked of it is not taken.
    for (given, other) in [(&file.vent_gap, "unvented"), (&file.unvented, "vent_gap")] {
        if given.is_some() {
            sources.remove(other);
        }
    }
    let fill = match &file.fill {
        Some(fill) => find_fill(fill, known.fills, reader)?,
        None => base.map_or(0, |base| base.fill),
    };
    let (method, netting_bulge_m) = resolve_filling(file, base, reader, &mut sources);
    let (r_m2k_w, board) = read_ceiling(file, reader);
    for (key, value) in as_written(file) {
        sources.set(key, value, &source);
    }
    let layers = read_layers(&file.layers, reader).or_else(|| base.and_then(|base| base.layers.clone()));
    let retrofit = read_retrofit(&retrofit_of(file), base.map(|base| &base.retrofit), reader, &mut sources);
    Some(Assembly {
        name: name.get_ref().clone(),
        framing,
        fill,
        layout: rules,
        method,
        netting_bulge_m,
        r_m2k_w: r_m2k_w.or(base.and_then(|base| base.r_m2k_w)),
        board: board.or(base.and_then(|base| base.board)),
        layers,
        retrofit,
        sources: sources.into_list(),
        matches: file.r#match.as_ref().map(MatchFile::patterns).unwrap_or_default(),
    })
}

/// Its own framing, else that of the assembly that it is like, at the depth that is given.
fn resolve_framing(
    name: &Spanned<String>,
    file: &AssemblyFile,
    base: Option<&Assembly>,
    (reader, sources, source): (&mut Reader<'_>, &mut Sources, &str),
) -> Option<Framing> {
    let framing = match base {
        Some(base) if file.framing.is_none() => base.framing.clone(),
        _ => {
            let framing = read_framing(name, file, reader)?;
            sources.set("framing", framing.text.clone(), source);
            // A depth was measured in the other framing.
            sources.remove("depth");
            framing
        }
    };
    let Some(text) = &file.depth else { return Some(framing) };
    let Some(depth_m) = reader.length_m(text) else { return Some(framing) };
    sources.set("depth", text.get_ref().clone(), source);
    Some(at_depth(&framing, depth_m, text, reader))
}

/// Its own method and bulge, else those of the assembly that it is like; a bulge goes with netting alone.
fn resolve_filling(
    file: &AssemblyFile,
    base: Option<&Assembly>,
    reader: &mut Reader<'_>,
    sources: &mut Sources,
) -> (Option<FillMethod>, Option<f64>) {
    let (method, bulge_m) = read_filling(file, reader);
    let is_netting = |method: FillMethod| method == FillMethod::Netting;
    // Who gives a bulge says that there is netting, whatever holds the fill of what it is like.
    let liked = base.and_then(|base| base.method).filter(|liked| bulge_m.is_none() || is_netting(*liked));
    let liked_bulge_m = base.and_then(|base| base.netting_bulge_m).filter(|_| method.is_none_or(is_netting));
    if method.or(liked).is_none() {
        sources.remove("method");
    }
    if bulge_m.or(liked_bulge_m).is_none() {
        sources.remove("netting_bulge");
    }
    (method.or(liked), bulge_m.or(liked_bulge_m))
}

/// Values that are listed as the file writes them.
fn as_written(file: &AssemblyFile) -> impl Iterator<Item = (&'static str, String)> {
    let all = [
        ("method", &file.method),
        ("netting_bulge", &file.netting_bulge),
        ("r_value", &file.r_value),
        ("board", &file.board),
    ];
    all.into_iter().filter_map(|(key, text)| Some((key, text.as_ref()?.get_ref().clone())))
}

/// The R that is asked for, and the board that carries it.
fn read_ceiling(file: &AssemblyFile, reader: &mut Reader<'_>) -> (Option<f64>, Option<CeilingBoard>) {
    let r_m2k_w = file.r_value.as_ref().and_then(|text| reader.quantity(text, parse_resistance)).map(|r| r.si);
    (r_m2k_w, file.board.as_ref().and_then(|text| reader.word("board", text, &CeilingBoard::ALL)))
}

fn retrofit_of(file: &AssemblyFile) -> RetrofitFile<'_> {
    RetrofitFile {
        existing: file.existing.as_ref(),
        displaced: &file.displaced,
        surveyed: file.surveyed,
        is_depth_given: file.depth.is_some(),
        is_framing_given: file.framing.is_some(),
    }
}

/// Where the values of an assembly come from, in words.
fn source_of(file: &AssemblyFile, origin: &str) -> String {
    let confidence = file.confidence.map(|confidence| match confidence {
        Confidence::High => " (confidence: high)",
        Confidence::Medium => " (confidence: medium)",
        Confidence::Low => " (confidence: low)",
    });
    let source = file.source.as_ref().map(|source| format!(": {}", source.trim())).unwrap_or_default();
    format!("{origin}{source}{}", confidence.unwrap_or_default())
}

fn at_depth(framing: &Framing, depth_m: f64, text: &Spanned<String>, reader: &mut Reader<'_>) -> Framing {
    let least_m = framing.least_depth_m();
    if depth_m < least_m {
        let message = format!(
            "`{}` is too shallow for `{}`, whose parts take {:.1} mm without what lies between them",
            text.get_ref(),
            framing.text,
            least_m * 1000.0
        );
        reader.refuse(text.span(), message, "give the depth of the whole cavity, from face to face");
    }
    framing.at_depth(depth_m)
}

fn find_like<'k>(name: &Spanned<String>, known: &Known<'k>, reader: &mut Reader<'_>) -> Option<&'k Assembly> {
    let within =
        |assemblies: &'k [Assembly]| assemblies.iter().find(|a| a.name.eq_ignore_ascii_case(name.get_ref().trim()));
    let found = within(known.own).or_else(|| within(known.built_in));
    if found.is_none() {
        let names: Vec<&str> = known.own.iter().chain(known.built_in).map(|assembly| assembly.name.as_str()).collect();
        let help = match nearest(name.get_ref(), &names) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", names.join(", ")),
        };
        reader.refuse(name.span(), format!("there is no assembly `{}` above, nor built in", name.get_ref()), help);
    }
    found
}

fn read_framing(name: &Spanned<String>, file: &AssemblyFile, reader: &mut Reader<'_>) -> Option<Framing> {
    let Some(text) = &file.framing else {
        let message = format!("`[assembly.{}]` does not say how it is framed", name.get_ref());
        reader.refuse(
            name.span(),
            message,
            "add a line such as `framing = \"2x6 @ 16 in\"` or `like = \"stud wall 2x6\"`",
        );
        return None;
    };
    parse_framing(text.get_ref()).map_err(|error| reader.refuse(text.span(), error.message, error.help)).ok()
}

fn find_fill(name: &Spanned<String>, fills: &[FillChoice], reader: &mut Reader<'_>) -> Option<usize> {
    let found = fills.iter().position(|fill| fill.rules.name == *name.get_ref());
    if found.is_none() {
        let known: Vec<&str> = fills.iter().map(|fill| fill.rules.name.as_str()).collect();
        let help = match nearest(name.get_ref(), &known) {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("known here: {}", known.join(", ")),
        };
        reader.refuse(name.span(), format!("there is no fill `{}`", name.get_ref()), help);
    }
    found
}
