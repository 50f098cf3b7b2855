//! One frame: members of one kind and their plates.

use super::FramingTextError;
use super::flanged::{read_joist, read_rated_joist, read_truss};
use super::size::{Size, read_size};
use super::steel::read_steel;
use super::text::{read_spacing, refused, refused_for, without_word};
use crate::framing::MemberRow;
use crate::model::Assumption;

const STAGGERED: &str =
    "`2x4 @ 16 in staggered on 2x6`: studs, the spacing of each row, and the plate that both rows stand on";

/// Members of one kind, from nought on.
pub(super) struct Frame {
    pub(super) text: String,
    pub(super) depth_m: f64,
    pub(super) rows: Vec<MemberRow>,
    pub(super) assumptions: Vec<Assumption>,
}

/// A value that the text does not give.
pub(super) fn assumed(key: &str, value: String, unit: &str, source: &str) -> Assumption {
    Assumption { key: format!("framing.{key}"), value, unit: unit.to_owned(), source: source.to_owned() }
}

/// Reads a frame.
pub(super) fn read_frame(text: &str) -> Result<Frame, FramingTextError> {
    let (plain, is_staggered) = without_word(text, &["staggered", "stagger"]);
    if is_staggered {
        return read_staggered(&plain);
    }
    let pieces: Vec<&str> = text.split('@').collect();
    let [member, spacing] = pieces.as_slice() else {
        return Err(refused(format!("`{text}` is not framing: a size, one `@` and a spacing were expected")));
    };
    let (member, spacing) = (member.trim(), spacing.trim());
    let readers = [read_steel, read_rated_joist, read_joist, read_truss];
    match readers.iter().find_map(|read| read(member, spacing)) {
        Some(frame) => frame,
        None => read_sawn(member, spacing),
    }
}

fn read_sawn(member: &str, spacing: &str) -> Result<Frame, FramingTextError> {
    let size = read_size(member)?;
    let spacing = read_spacing(spacing, size.width_m, &size.text)?;
    Ok(Frame {
        text: format!("{} @ {}", size.text, spacing.text),
        depth_m: size.depth_m,
        rows: vec![MemberRow::solid(size.width_m, size.depth_m, spacing.metres)],
        assumptions: Vec::new(),
    })
}

/// Two rows on one plate: one along each face, the second half a spacing further on.
fn read_staggered(text: &str) -> Result<Frame, FramingTextError> {
    let Some((studs, plate)) = text.rsplit_once(" on ") else {
        return Err(refused_for(format!("`{text}` does not say what the staggered studs stand on"), STAGGERED));
    };
    // `2x4 on 2x6 @ 16 in` says the same.
    let (studs, plate) = match plate.split_once('@') {
        Some((plate, spacing)) => (format!("{studs} @ {spacing}"), plate),
        None => (studs.to_owned(), plate),
    };
    let (plate, _) = without_word(plate, &["plate", "plates", "a"]);
    let plate = read_size(&plate).map_err(|error| refused_for(error.message, STAGGERED))?;
    let Some((member, spacing)) = studs.split_once('@') else {
        return Err(refused_for(format!("`{text}` has no spacing behind an `@`"), STAGGERED));
    };
    let size = read_size(member.trim()).map_err(|error| refused_for(error.message, STAGGERED))?;
    let spacing = read_spacing(spacing.trim(), size.width_m, &size.text)?;
    if plate.depth_m <= size.depth_m + 1e-6 {
        let message =
            format!("studs `{}` are as deep as their plate `{}`: they have no room to stagger", size.text, plate.text);
        return Err(refused_for(message, STAGGERED));
    }
    Ok(staggered(&size, &plate, spacing.metres, &spacing.text))
}

fn staggered(size: &Size, plate: &Size, spacing_m: f64, spacing: &str) -> Frame {
    let row = MemberRow::solid(size.width_m, size.depth_m, spacing_m);
    let outer = MemberRow { to_moves: false, ..row.clone() };
    let inner = MemberRow {
        frame: 1,
        from_m: plate.depth_m - size.depth_m,
        to_m: plate.depth_m,
        shift_m: spacing_m / 2.0,
        from_moves: true,
        ..row
    };
    let reading = format!("{spacing} within each row; the inner row stands half of it beside the outer one");
    Frame {
        text: format!("{} @ {spacing} staggered on {}", size.text, plate.text),
        depth_m: plate.depth_m,
        rows: vec![outer, inner],
        assumptions: vec![assumed("staggered studs", reading, "", "reading of the framing as written")],
    }
}
