//! Joists with flanges, and trusses with parallel chords.

use super::FramingTextError;
use super::frame::{Frame, assumed};
use super::text::{Length, read_length, read_number, read_pair, read_spacing, refused_for};
use crate::framing::MemberRow;
use crate::units::INCH_M;

const JOIST: &str = "`I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in) @ 16 in`";
const RATED: &str = "`PRI-40 11-7/8 in @ 16 in`";
const TRUSS: &str = "`truss 14 in (chords 3.5 x 1.5 in) @ 24 in`";
/// Depths of rated joists, in inches.
///
/// # Source
/// APA PRI-400.
const RATED_DEPTHS_IN: [f64; 4] = [9.5, 11.875, 14.0, 16.0];
/// Series, width and thickness of the flange, thickness of the web, in inches.
///
/// # Source
/// APA PRI-400, from memory.
const RATED_SERIES_IN: [(u32, f64, f64, f64); 4] =
    [(40, 2.5, 1.5, 0.375), (60, 2.5, 1.5, 0.375), (80, 3.5, 1.5, 0.4375), (90, 3.5, 1.5, 0.4375)];
/// How flanged members are taken that stand side by side or across the ends of others.
const SOLID: &str = "trimmers, headers, rims and posts are solid over the width of the flanges: filler blocks between webs, \
                     backer blocks beside them, rim boards at the ends";
/// Chord of a truss where none is given, in inches: a two-by-four on its wide face.
const CHORD_IN: [f64; 2] = [3.5, 1.5];

/// The true section of a member with flanges, in metres.
struct Section {
    depth_m: f64,
    flange_m: [f64; 2],
    web_m: f64,
    web_share: f64,
}

/// Reads `I 11.875 in (flange 2.5 x 1.5 in, web 0.375 in)`; `None` where the text is no such joist.
pub(super) fn read_joist(member: &str, spacing: &str) -> Option<Result<Frame, FramingTextError>> {
    let rest =
        ["i-joists ", "i-joist ", "i joists ", "i joist ", "i "].iter().find_map(|name| member.strip_prefix(name))?;
    Some(joist(rest, spacing))
}

fn joist(text: &str, spacing: &str) -> Result<Frame, FramingTextError> {
    let [depth, flange, web] = sections(text, ["flange", "web"]);
    let depth = read_length(&depth, "depth").map_err(|error| refused_for(error.message, JOIST))?;
    let (flange_m, flange) = read_pair(&flange, "flange").map_err(|error| refused_for(error.message, JOIST))?;
    let web = read_length(&web, "web").map_err(|error| refused_for(error.message, JOIST))?;
    let section = Section { depth_m: depth.metres, flange_m, web_m: web.metres, web_share: 1.0 };
    let name = format!("I {} (flange {flange}, web {})", depth.text, web.text);
    flanged(&name, &section, spacing, JOIST)
}

/// Reads `PRI-40 11-7/8 in`; `None` where the text is no such joist.
pub(super) fn read_rated_joist(member: &str, spacing: &str) -> Option<Result<Frame, FramingTextError>> {
    let rest = member.strip_prefix("pri")?.trim_start_matches(['-', ' ']);
    Some(rated_joist(rest, spacing))
}

fn rated_joist(text: &str, spacing: &str) -> Result<Frame, FramingTextError> {
    let (series, depth) = text.split_once(' ').unwrap_or((text, ""));
    let known = RATED_SERIES_IN.iter().find(|(known, ..)| series == known.to_string());
    let Some((series, width_in, thickness_in, web_in)) = known else {
        let names: Vec<String> = RATED_SERIES_IN.iter().map(|(series, ..)| format!("PRI-{series}")).collect();
        let message = format!("the flanges of `PRI-{series}` are not known here (known: {})", names.join(", "));
        return Err(refused_for(message, &format!("its sizes as measured: {JOIST}")));
    };
    let depth = read_length(depth, "depth").map_err(|error| refused_for(error.message, RATED))?;
    if !RATED_DEPTHS_IN.iter().any(|known| (known * INCH_M - depth.metres).abs() < 1e-6) {
        let message = format!("`{}` is no depth of rated joists (9-1/2, 11-7/8, 14 and 16 in)", depth.text);
        return Err(refused_for(message, RATED));
    }
    let flange_m = [width_in * INCH_M, thickness_in * INCH_M];
    let section = Section { depth_m: depth.metres, flange_m, web_m: web_in * INCH_M, web_share: 1.0 };
    let mut frame = flanged(&format!("PRI-{series} {}", depth.text), &section, spacing, RATED)?;
    let sizes = format!("flange {width_in} x {thickness_in} in, web {web_in} in");
    frame.assumptions.push(assumed(&format!("PRI-{series}"), sizes, "", "APA PRI-400, from memory"));
    Ok(frame)
}

/// Reads `truss 14 in (chords 3.5 x 1.5 in, webs 0.1)`; `None` where the text is no truss.
pub(super) fn read_truss(member: &str, spacing: &str) -> Option<Result<Frame, FramingTextError>> {
    let rest = ["trusses ", "truss "].iter().find_map(|name| member.strip_prefix(name))?;
    Some(truss(rest, spacing))
}

fn truss(text: &str, spacing: &str) -> Result<Frame, FramingTextError> {
    let [depth, chord, webs] = sections(text, ["chord", "web"]);
    let depth = read_length(&depth, "depth").map_err(|error| refused_for(error.message, TRUSS))?;
    let mut assumptions = Vec::new();
    let (flange_m, chord) = if chord.is_empty() {
        let value = format!("{} x {}", CHORD_IN[0], CHORD_IN[1]);
        assumptions.push(assumed("truss.chords", value, "in", "common practice, no source"));
        (CHORD_IN.map(|inches| inches * INCH_M), format!("{}x{} in", CHORD_IN[0], CHORD_IN[1]))
    } else {
        read_pair(&chord, "chord").map_err(|error| refused_for(error.message, TRUSS))?
    };
    let (web_share, webs) = if webs.is_empty() {
        let share = web_share(&depth, flange_m[1])?;
        let source = "geometry of webs at 45 degrees, of the chords' section; common practice, no source";
        assumptions.push(assumed("truss.webs", share.to_string(), "", source));
        (share, String::new())
    } else {
        let share = read_number(&webs, text)?;
        if share >= 1.0 {
            let message = format!("`webs {webs}` is not the solid share between the chords: less than 1 was expected");
            return Err(refused_for(message, "`truss 14 in (chords 3.5 x 1.5 in, webs 0.1) @ 24 in`"));
        }
        (share, format!(", webs {share}"))
    };
    let section = Section { depth_m: depth.metres, flange_m, web_m: flange_m[0], web_share };
    let mut frame = flanged(&format!("truss {} (chords {chord}{webs})", depth.text), &section, spacing, TRUSS)?;
    frame.assumptions.extend(assumptions);
    Ok(frame)
}

/// Solid share of the depth between the chords: a web at 45 degrees is as long along the truss as that depth, and
/// takes `thickness * sqrt(2)` of it at every height.
fn web_share(depth: &Length, thickness_m: f64) -> Result<f64, FramingTextError> {
    let between_m = depth.metres - 2.0 * thickness_m;
    let share = thickness_m * std::f64::consts::SQRT_2 / between_m;
    if between_m > 0.0 && share < 1.0 {
        return Ok(share);
    }
    let message = format!("a truss of {} has no room for webs at 45 degrees between its chords", depth.text);
    Err(refused_for(message, "`truss 14 in (chords 3.5 x 1.5 in, webs 0.1) @ 24 in`"))
}

/// The text in front of all words, and what follows each of them; marks between them do not matter.
fn sections(text: &str, words: [&str; 2]) -> [String; 3] {
    let plain = text.replace(['(', ')', ',', ';', ':'], " ");
    let mut found: [Vec<&str>; 3] = Default::default();
    let mut own = 0;
    for token in plain.split(' ').filter(|token| !token.is_empty() && *token != "deep") {
        match words.iter().position(|word| token.strip_prefix(word).is_some_and(|rest| rest.is_empty() || rest == "s"))
        {
            Some(index) => own = index + 1,
            None => found.iter_mut().skip(own).take(1).for_each(|section| section.push(token)),
        }
    }
    found.map(|tokens| tokens.join(" "))
}

fn flanged(name: &str, section: &Section, spacing: &str, example: &str) -> Result<Frame, FramingTextError> {
    let Section { depth_m, flange_m: [width_m, thickness_m], web_m, web_share } = *section;
    let is_section = depth_m <= 1.0 && width_m <= 0.4 && thickness_m >= 0.001 && web_m >= 0.001;
    if !is_section || depth_m <= 2.0 * thickness_m + 0.001 || web_m > width_m + 1e-9 {
        let message = format!("`{name}` is no section: between its flanges it has a web, no wider than they are");
        return Err(refused_for(message, example));
    }
    let spacing = read_spacing(spacing, width_m, name)?;
    let flange = MemberRow {
        post_width_m: Some(width_m),
        to_moves: false,
        ..MemberRow::solid(width_m, thickness_m, spacing.metres)
    };
    let web = MemberRow {
        from_m: thickness_m,
        to_m: depth_m - thickness_m,
        post_width_m: Some(width_m),
        solid_share: web_share,
        ..MemberRow::solid(web_m, depth_m, spacing.metres)
    };
    let far =
        MemberRow { from_m: depth_m - thickness_m, to_m: depth_m, from_moves: true, to_moves: true, ..flange.clone() };
    Ok(Frame {
        text: format!("{name} @ {}", spacing.text),
        depth_m,
        rows: vec![flange, web, far],
        assumptions: vec![assumed("flanged members", SOLID.to_owned(), "", "common practice, no source")],
    })
}
