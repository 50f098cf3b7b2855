//! Sizes of sawn members: nominal, or by measure.

use super::FramingTextError;
use super::text::{EXAMPLES, read_number, refused, split_number, strip_word, unit_of};
use crate::framing::lumber::{dressed_m, known_sizes};

/// Smallest and largest width of a member in the plane, in metres.
const WIDTHS_M: [f64; 2] = [0.001, 0.4];
/// Smallest and largest depth of a member, in metres.
const DEPTHS_M: [f64; 2] = [0.01, 1.0];

/// The size of a sawn member.
pub(super) struct Size {
    pub(super) text: String,
    pub(super) width_m: f64,
    pub(super) depth_m: f64,
}

/// Reads a size: nominal inches without a unit, or what is measured with its unit.
pub(super) fn read_size(text: &str) -> Result<Size, FramingTextError> {
    let (text, is_flat) = strip_word(text, "flat");
    let (text, is_actual) = strip_word(text, "actual");
    let Some((first, rest)) = text.split_once('x') else {
        return Err(refused(format!("`{text}` is not the size of a member: two numbers with an `x` were expected")));
    };
    let (first_number, first_unit) = split_number(first);
    let (second_number, unit) = split_number(rest);
    if !first_unit.is_empty() && first_unit != unit {
        return Err(refused(format!(
            "`{text}` is not the size of a member: the unit stands once, behind both numbers"
        )));
    }
    let (first, second) = (read_number(first_number, text)?, read_number(second_number, text)?);
    if first > second && !is_flat {
        return Err(refused(format!(
            "`{text}` has the larger number first: the width in the surface's plane comes first, then the depth; for a \
             member on its wide face write `flat` behind the size"
        )));
    }
    let pair = [first, second];
    let mut size = if unit.is_empty() { nominal(pair, is_actual)? } else { actual(pair, unit, is_actual)? };
    if is_flat {
        (size.width_m, size.depth_m) = (size.width_m.max(size.depth_m), size.width_m.min(size.depth_m));
        size.text.push_str(" flat");
    }
    let within = |value: f64, [least, most]: [f64; 2]| (least..=most).contains(&value);
    if !within(size.width_m, WIDTHS_M) || !within(size.depth_m, DEPTHS_M) {
        return Err(refused(format!("`{text}` is not the size of a member: no framing is that small or large")));
    }
    Ok(size)
}

fn nominal([width, depth]: [f64; 2], is_actual: bool) -> Result<Size, FramingTextError> {
    if is_actual {
        return Err(refused(format!("`{width} x {depth} actual` has no unit")));
    }
    let dressed = |nominal: f64| {
        dressed_m(nominal).ok_or_else(|| FramingTextError {
            message: format!("`{nominal}` is not a nominal size of lumber (known: {})", known_sizes()),
            help: format!("write {EXAMPLES}; actual sizes need their unit"),
        })
    };
    Ok(Size { text: format!("{width}x{depth}"), width_m: dressed(width)?, depth_m: dressed(depth)? })
}

fn actual([width, depth]: [f64; 2], unit: &str, is_actual: bool) -> Result<Size, FramingTextError> {
    let Some((name, unit_m)) = unit_of(unit) else {
        return Err(refused(format!("`{unit}` is not a unit of length: `mm`, `cm`, `m` or `in` was expected")));
    };
    if name == "in" && !is_actual {
        return Err(FramingTextError {
            message: format!("`{width}x{depth} in` can be a nominal or an actual size"),
            help: format!(
                "for the nominal size write `{width}x{depth}` without a unit; for the actual one write `{width}x{depth} in \
                 actual`"
            ),
        });
    }
    let word = if name == "in" { " actual" } else { "" };
    Ok(Size { text: format!("{width}x{depth} {name}{word}"), width_m: width * unit_m, depth_m: depth * unit_m })
}
