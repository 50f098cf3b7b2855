//! `do_not_fill`: `bays 3-4: air duct; 4' to 6': panel; all: pocket door`.
//!
//! Entries stand apart by `;` or a line end. Each is a part, a colon and the reason. A part is
//! `all`, `bay N`, `bays N-M`, or two lengths joined by `to`, from the surface's left end. `none` alone
//! says that somebody looked and found nothing.

use super::Misread;
use crate::model::{DoNotFill, DoNotFillExtent};
use crate::units::{LengthUnit, parse_length};

const HELP: &str = "write a part, a colon and the reason: `bays 3-4: air duct`, `4' to 6': panel`, `all: pocket door`; several stand \
                               apart by `;`; `none` where somebody looked and found nothing";

/// Reads what must stay empty; `unit` is that of bare lengths, and `has_comma` says that a comma is a decimal mark.
///
/// # Errors
/// Parts without a reason, and what is no part.
pub fn read_do_not_fill(text: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<Vec<DoNotFill>, Misread> {
    if text.trim().eq_ignore_ascii_case("none") {
        return Ok(Vec::new());
    }
    text.split([';', '\n'])
        .map(str::trim)
        .filter(|entry| !entry.is_empty())
        .map(|entry| read_entry(entry, unit, has_comma).map_err(|message| Misread::new(message, HELP)))
        .collect()
}

fn read_entry(entry: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<DoNotFill, String> {
    let Some((part, reason)) = entry.split_once(':') else {
        return Err(format!("`{entry}` has no colon between the part and the reason"));
    };
    let (part, reason) = (part.trim().to_lowercase(), reason.trim());
    if reason.is_empty() {
        return Err(format!("`{entry}` gives no reason"));
    }
    Ok(DoNotFill { extent: read_extent(&part, unit, has_comma)?, reason: reason.to_owned(), said_by: None })
}

fn read_extent(part: &str, unit: Option<LengthUnit>, has_comma: bool) -> Result<DoNotFillExtent, String> {
    if part == "all" {
        return Ok(DoNotFillExtent::All);
    }
    if let Some(numbers) = part.strip_prefix("bays").or_else(|| part.strip_prefix("bay")) {
        return read_bays(numbers.trim()).ok_or_else(|| format!("`{part}` names no bays"));
    }
    let Some((from, to)) = part.split_once(" to ") else {
        return Err(format!("`{part}` is no part of a surface"));
    };
    let length =
        |text: &str| parse_length(text, unit, has_comma).map_err(|error| format!("in `{part}`, {}", error.message));
    let (from_m, to_m) = (length(from)?, length(to)?);
    if from_m < to_m {
        Ok(DoNotFillExtent::Stretch { from_m, to_m })
    } else {
        Err(format!("`{part}` ends before it begins"))
    }
}

fn read_bays(numbers: &str) -> Option<DoNotFillExtent> {
    let (first, last) =
        numbers.split_once(['-', '\u{2013}']).or_else(|| numbers.split_once("to")).unwrap_or((numbers, numbers));
    let first = first.trim().parse().ok().filter(|first| *first > 0)?;
    let last = last.trim().parse().ok().filter(|last| *last >= first)?;
    Some(DoNotFillExtent::Bays { first, last })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_is_read() {
        let read = read_do_not_fill("Bays 3-4: air duct; 4' to 6': panel\nbay 7: chase; all: pocket door", None, false)
            .unwrap();
        let extents: Vec<DoNotFillExtent> = read.iter().map(|entry| entry.extent).collect();
        assert_eq!(
            extents,
            [
                DoNotFillExtent::Bays { first: 3, last: 4 },
                DoNotFillExtent::Stretch { from_m: 4.0 * 0.3048, to_m: 6.0 * 0.3048 },
                DoNotFillExtent::Bays { first: 7, last: 7 },
                DoNotFillExtent::All,
            ]
        );
        assert_eq!(read[0].reason, "air duct");
    }

    #[test]
    fn none_is_nothing_and_stands_alone() {
        assert_eq!(read_do_not_fill(" None ", None, false), Ok(Vec::new()));
        assert!(read_do_not_fill("none; bay 3: duct", None, false).is_err());
    }

    #[test]
    fn what_names_no_part_or_no_reason_is_refused() {
        for text in ["air duct", "all:", "bays 0: x", "bays 4-3: x", "6' to 4': x", "4 to 6: x", "left: x", "bays x: y"]
        {
            assert!(read_do_not_fill(text, None, false).is_err(), "{text}");
        }
    }
}
