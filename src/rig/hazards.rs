//! Hazards of the house, fed by the takeoff: what to look for before blowing, each with its rule's number.

use super::Hazard;
use crate::fill::FillUse;
use crate::finding::Code;
use crate::job::Site;
use crate::model::{OpeningKind, SurfaceKind};
use crate::takeoff::{SurfaceTakeoff, Takeoff};

/// Year from which paint with lead was no longer sold for houses: 16 CFR 1303, from memory.
const LEAD_PAINT_UNTIL: u32 = 1978;
/// Year up to which knob-and-tube wiring is often met: common practice, no source.
const KNOB_AND_TUBE_UNTIL: u32 = 1950;
/// Year up to which asbestos and vermiculite are often met: common practice, no source.
const ASBESTOS_UNTIL: u32 = 1990;

/// The checklist.
pub(super) fn list(takeoff: Option<&Takeoff>, site: &Site) -> Vec<Hazard> {
    let mut all = vec![
        wiring(site),
        of(
            "recessed lights",
            count(takeoff, |kind| kind == OpeningKind::Light, "recessed light"),
            "Keep fill 3 in. away and nothing above, unless it is rated for contact (type IC).",
            "NEC 410.116(B)",
        ),
        of(
            "flues and chimneys",
            count(takeoff, |kind| matches!(kind, OpeningKind::Flue | OpeningKind::Chimney), "flue"),
            "Keep what can burn 2 in. away or as listed; set a metal shield above the fill.",
            "standard work specification 4.1003.9; the listing of the vent decides",
        ),
        of(
            "combustion appliances",
            None,
            "Have draft and carbon monoxide tested before and after by a licensed technician.",
            "ANSI/BPI-1200, from memory; local code",
        ),
        lead(site),
        asbestos(site),
        moisture(takeoff),
        ventilation(takeoff),
    ];
    all.extend([board(takeoff), kept_empty(takeoff), finish(takeoff)].into_iter().flatten());
    all.push(of(
        "dust",
        None,
        "Wear a respirator, N95 or better, indoors always; no sparks or flames in dust.",
        "29 CFR 1910.1000 table Z-1: 15 mg/m3, 5 of it respirable; 29 CFR 1910.134",
    ));
    all
}

fn of(what: &str, seen: Option<String>, action: &str, rule: &str) -> Hazard {
    Hazard { what: what.to_owned(), seen, action: action.to_owned(), rule: rule.to_owned() }
}

/// What the year of the building says, where it says something.
fn year(site: &Site, until: u32) -> Option<String> {
    let built = site.built?;
    Some(if built < until { format!("built {built}: expect it") } else { format!("built {built}: unlikely, look") })
}

fn wiring(site: &Site) -> Hazard {
    of(
        "knob-and-tube wiring",
        year(site, KNOB_AND_TUBE_UNTIL),
        "Fill no bay that holds it; take it as live until a licensed electrician says otherwise.",
        "NEC 394.12(5); some states amend it",
    )
}

fn lead(site: &Site) -> Hazard {
    of(
        "lead paint",
        year(site, LEAD_PAINT_UNTIL),
        "Before 1978: a certified renovator, contained work, no dry drilling of paint.",
        "40 CFR 745, subpart E",
    )
}

fn asbestos(site: &Site) -> Hazard {
    of(
        "asbestos and vermiculite",
        year(site, ASBESTOS_UNTIL),
        "Stop, and leave it undisturbed; drill no asbestos-cement siding. Have it tested first.",
        "29 CFR 1926.1101; 40 CFR 763, from memory",
    )
}

fn moisture(takeoff: Option<&Takeoff>) -> Hazard {
    let unvented = surfaces(takeoff).filter(|surface| surface.counted && surface.unvented.is_some()).count();
    let seen =
        (unvented > 0).then(|| format!("{} filled without a vent channel", counted(unvented as u64, "roof surface")));
    of(
        "moisture",
        seen,
        "Mend leaks and wet basements first; no fill against a deck that nobody designed so.",
        "IRC R702.7 and R806.5, from memory",
    )
}

fn ventilation(takeoff: Option<&Takeoff>) -> Hazard {
    let attics = surfaces(takeoff).filter(|surface| surface.r#use == Some(FillUse::OpenBlown)).count();
    let baffles: u64 = surfaces(takeoff).filter_map(|surface| surface.baffles).fold(0, u64::saturating_add);
    let seen = (attics > 0 || baffles > 0)
        .then(|| format!("{}; {} to set in roofs", counted(attics as u64, "attic floor"), counted(baffles, "baffle")));
    of(
        "attic ventilation",
        seen,
        "Vents 1/150 of the area, or 1/300 as the code allows; 1 in. clear at the eaves, held by baffles.",
        "IRC R806.2 and R806.3",
    )
}

fn board(takeoff: Option<&Takeoff>) -> Option<Hazard> {
    let takeoff = takeoff?;
    let attics = takeoff.surfaces.iter().any(|surface| surface.r#use == Some(FillUse::OpenBlown));
    let overloaded = takeoff.findings.iter().filter(|finding| finding.code == Code::BoardOverloaded).count();
    let seen = if overloaded > 0 {
        format!("{} too heavy for its board, or of a board that nobody named", counted(overloaded as u64, "ceiling"))
    } else {
        "no ceiling is too heavy by its board".to_owned()
    };
    let action = "Hold the weight of the fill against what the board carries before blowing.";
    let rule = "1.3 lb/ft2 on 1/2 in. at 24 in., 2.2 on 5/8 in.: US Department of Energy, as copied by others";
    attics.then(|| of("board load of ceilings", Some(seen), action, rule))
}

fn kept_empty(takeoff: Option<&Takeoff>) -> Option<Hazard> {
    let takeoff = takeoff?;
    let of_code = |code: Code| takeoff.findings.iter().filter(|finding| finding.code == code).count();
    let (kept, unseen) = (of_code(Code::DoNotFill), of_code(Code::BaysNotSurveyed));
    let unseen_words = if unseen > 0 { "; nobody surveyed others" } else { "" };
    let seen = format!("{} with bays kept empty{unseen_words}", counted(kept as u64, "surface"));
    let action = "Mark ducts, panels, pocket doors and heaters on the wall; probe before filling.";
    (kept + unseen > 0).then(|| of("bays that must stay empty", Some(seen), action, "common practice, no source"))
}

fn finish(takeoff: Option<&Takeoff>) -> Option<Hazard> {
    let packed =
        |surface: &&SurfaceTakeoff| surface.kind == SurfaceKind::Wall && surface.r#use == Some(FillUse::ClosedCavity);
    let walls = surfaces(takeoff).filter(packed).count();
    let seen = format!("{} to pack", counted(walls as u64, "wall"));
    let action =
        "Gypsum board of 1/2 in. at 16 in., 5/8 in. at 24 in., screwed; plaster keyed: fill one bay and watch it.";
    (walls > 0).then(|| of("walls that bulge", Some(seen), action, "a state's field guide to dense packing"))
}

/// A number of things, in words.
fn counted(number: u64, what: &str) -> String {
    format!("{number} {what}{}", if number == 1 { "" } else { "s" })
}

fn surfaces(takeoff: Option<&Takeoff>) -> impl Iterator<Item = &SurfaceTakeoff> {
    takeoff.into_iter().flat_map(|takeoff| &takeoff.surfaces).filter(|surface| surface.counted)
}

/// How many openings of a kind the counted surfaces have; nothing without a takeoff.
fn count(takeoff: Option<&Takeoff>, is_meant: impl Fn(OpeningKind) -> bool, what: &str) -> Option<String> {
    takeoff?;
    let own = |surface: &SurfaceTakeoff| {
        let openings = surface.openings.iter().filter(|opening| is_meant(opening.kind)).count() as u64;
        openings.saturating_mul(u64::from(surface.count))
    };
    match surfaces(takeoff).map(own).fold(0, u64::saturating_add) {
        0 => Some("none in the takeoff: look all the same".to_owned()),
        number => Some(format!("{} in the takeoff", counted(number, what))),
    }
}
