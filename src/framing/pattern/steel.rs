//! Steel studs and joists by their designator: `362S162-54`.

use super::FramingTextError;
use super::frame::{Frame, assumed};
use super::text::{read_spacing, refused_for, without_word};
use crate::framing::MemberRow;
use crate::model::Assumption;
use crate::units::INCH_M;

const EXAMPLE: &str =
    "`362S162-54 @ 16 in`: web depth in hundredths of an inch, `S`, flange in hundredths, thickness in mils";
const DESIGN: &str = "AISI S240 and S220 design thickness, from memory";
const PRACTICE: &str = "common practice, no source";

/// Mils and design thickness in inches.
///
/// # Source
/// AISI S240 and S220, from memory: the mils are 95 % of the design thickness, the least that is accepted.
pub(super) const DESIGN_THICKNESS_IN: [(u32, f64); 9] = [
    (18, 0.0188),
    (27, 0.0283),
    (30, 0.0312),
    (33, 0.0346),
    (43, 0.0451),
    (54, 0.0566),
    (68, 0.0713),
    (97, 0.1017),
    (118, 0.1242),
];
/// Leg of a track, in inches.
///
/// # Source
/// Common practice, no source.
const TRACK_LEG_IN: f64 = 1.25;
/// Width, length and spacing of punch-outs, in inches.
///
/// # Source
/// Common practice, no source.
const PUNCH_OUT_IN: [f64; 3] = [1.5, 4.0, 24.0];

/// The numbers of a designator.
struct Designator {
    web: u32,
    letter: char,
    flange: u32,
    mils: u32,
}

/// Reads a frame of steel; `None` where the text is no designator.
pub(super) fn read_steel(member: &str, spacing: &str) -> Option<Result<Frame, FramingTextError>> {
    let plain = member.replace(['(', ')', ','], " ");
    let (plain, is_punched) = without_word(&plain, &["punched", "open"]);
    let (plain, is_unpunched) = without_word(&plain, &["unpunched", "solid"]);
    let designator = designator(&plain)?;
    if is_punched && is_unpunched {
        let message = format!("`{member}` is both punched and not");
        return Some(Err(refused_for(message, "`362S162-54 punched @ 16 in`")));
    }
    Some(steel(&designator, is_punched, spacing))
}

fn designator(text: &str) -> Option<Designator> {
    let compact: String = text.chars().filter(|c| !c.is_whitespace()).collect();
    let at = compact.find(|c: char| !c.is_ascii_digit())?;
    let (web, rest) = compact.split_at_checked(at)?;
    let letter = rest.chars().next().filter(char::is_ascii_alphabetic)?;
    let (flange, mils) = rest.get(1..)?.split_once('-')?;
    let is_number = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    if !(is_number(web) && is_number(flange) && is_number(mils)) {
        return None;
    }
    // Numbers too long for a designator are refused with its ranges.
    let number = |text: &str| text.parse().unwrap_or(u32::MAX);
    Some(Designator { web: number(web), letter, flange: number(flange), mils: number(mils) })
}

/// Hundredths of an inch stand for eighths: 362 is 3 5/8 in.
fn eighths_in(hundredths: u32) -> f64 {
    let is_cut_short = matches!(hundredths % 100, 12 | 37 | 62 | 87);
    f64::from(hundredths) / 100.0 + if is_cut_short { 0.005 } else { 0.0 }
}

fn steel(designator: &Designator, is_punched: bool, spacing: &str) -> Result<Frame, FramingTextError> {
    let Designator { web, letter, flange, mils } = *designator;
    let name = format!("{web}{}{flange}-{mils}", letter.to_ascii_uppercase());
    match letter {
        's' => {}
        't' => {
            let message = format!("`{name}` is a track: tracks are laid out with their studs, so name the stud");
            return Err(refused_for(message, EXAMPLE));
        }
        _ => return Err(refused_for(format!("`{name}` is no stud or joist with flanges (`S`)"), EXAMPLE)),
    }
    if !(150..=1600).contains(&web) || !(100..=400).contains(&flange) {
        let message = format!("`{name}` is beyond what is rolled: web 150 to 1600, flange 100 to 400");
        return Err(refused_for(message, EXAMPLE));
    }
    let Some((_, design_in)) = DESIGN_THICKNESS_IN.iter().find(|(known, _)| *known == mils) else {
        let known: Vec<String> = DESIGN_THICKNESS_IN.iter().map(|(mils, _)| mils.to_string()).collect();
        let message = format!("`{mils}` mils is no thickness of the standard (known: {})", known.join(", "));
        return Err(refused_for(message, EXAMPLE));
    };
    let [web_m, flange_m] = [web, flange].map(|hundredths| eighths_in(hundredths) * INCH_M);
    let spacing = read_spacing(spacing, flange_m, &name)?;
    let word = if is_punched { " punched" } else { "" };
    let share = if is_punched { punched_share(web_m) } else { 1.0 };
    Ok(Frame {
        text: format!("{name}{word} @ {}", spacing.text),
        depth_m: web_m,
        rows: rows(web_m, flange_m, design_in * INCH_M, spacing.metres, share),
        assumptions: assumptions(&name, *design_in, is_punched),
    })
}

/// What punch-outs leave of a web.
fn punched_share(web_m: f64) -> f64 {
    let [width, length, every] = PUNCH_OUT_IN;
    let width_m = (width * INCH_M).min(web_m / 2.0);
    1.0 - width_m * length / (web_m * every)
}

/// Flange, web, flange. The web stands at one side of the flanges; tracks cap the ends.
fn rows(web_m: f64, flange_m: f64, metal_m: f64, spacing_m: f64, share: f64) -> Vec<MemberRow> {
    let flange = MemberRow {
        post_width_m: Some(flange_m),
        plate_thickness_m: Some(TRACK_LEG_IN * INCH_M),
        ..MemberRow::solid(flange_m, metal_m, spacing_m)
    };
    let web = MemberRow {
        from_m: metal_m,
        to_m: web_m - metal_m,
        beside_m: (metal_m - flange_m) / 2.0,
        post_width_m: Some(flange_m),
        plate_thickness_m: Some(metal_m),
        solid_share: share,
        ..MemberRow::solid(metal_m, web_m, spacing_m)
    };
    let far = MemberRow { from_m: web_m - metal_m, to_m: web_m, from_moves: true, ..flange.clone() };
    vec![MemberRow { to_moves: false, ..flange }, web, far]
}

fn assumptions(name: &str, design_in: f64, is_punched: bool) -> Vec<Assumption> {
    let mut all = vec![
        assumed(&format!("{name}.thickness"), design_in.to_string(), "in", DESIGN),
        assumed("steel.track", format!("one at each end, legs {TRACK_LEG_IN} in"), "", PRACTICE),
        assumed(
            "steel.posts",
            "king studs, jack studs, headers, trimmers, corner posts and partition studs are closed boxes that stay empty".to_owned(),
            "",
            PRACTICE,
        ),
    ];
    if is_punched {
        let [width, length, every] = PUNCH_OUT_IN;
        all.push(assumed("steel.punch-outs", format!("{width} x {length} in every {every} in"), "", PRACTICE));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    // Source: AISI S240 and S220: the least base metal thickness is 95 % of the design thickness, and its thousandths
    // name the section (a stud of 43 mil is published with 0.0451 in. design and 0.0428 in. least thickness).
    #[test]
    fn mils_are_the_least_thickness() {
        for (mils, design_in) in DESIGN_THICKNESS_IN {
            assert!((design_in * 950.0 - f64::from(mils)).abs() < 0.5, "{mils}: {design_in}");
        }
    }

    #[test]
    fn hundredths_stand_for_eighths() {
        for (hundredths, inches) in [(362, 3.625), (162, 1.625), (137, 1.375), (550, 5.5), (600, 6.0), (125, 1.25)] {
            assert!((eighths_in(hundredths) - inches).abs() < 1e-12);
        }
    }
}
