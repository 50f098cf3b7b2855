//! Rules of the layout beyond counts and plain lengths: where it begins, openings by width, junctions, rows.

use super::layout::Given;
use super::layout_file::LayoutFile;
use super::opening_file::{opening_words, read_opening};
use super::reader::Reader;
use crate::framing::{LayoutEnd, LayoutRules, PartitionBuild, PartitionRows};
use crate::units::parse_length;

/// What stands for the default of a length.
const ONE_SPACING: &str = "one spacing";
/// What switches a length off.
const NONE: &str = "none";

/// Where the layout begins, and panels.
pub(super) fn places(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    if let Some(end) = &file.layout_end {
        let words = [("left", LayoutEnd::Left), ("right", LayoutEnd::Right)];
        rules.layout_end = reader.word("layout_end", end, &words).unwrap_or(rules.layout_end);
        given.push(("layout_end", end.get_ref().clone()));
    }
    if let Some(text) = &file.first_stud {
        let is_default = text.get_ref().trim().eq_ignore_ascii_case(ONE_SPACING);
        rules.first_stud_m = if is_default { None } else { reader.length_m(text) };
        given.push(("first_stud", text.get_ref().clone()));
    }
    if let Some(text) = &file.panel_width {
        rules.panel_width_m = length_or_none(text, reader);
        given.push(("panel_width", text.get_ref().clone()));
    }
}

/// A length, or `none`.
fn length_or_none(text: &toml::Spanned<String>, reader: &mut Reader<'_>) -> Option<f64> {
    if text.get_ref().trim().eq_ignore_ascii_case(NONE) { None } else { reader.length_m(text) }
}

/// Openings: by width, their clearance, and how deep headers are.
pub(super) fn by_width(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    if !file.opening.is_empty() {
        let read = file.opening.iter().filter_map(|entry| read_opening(entry, reader));
        rules.openings_by_width = read.collect();
        let words: Vec<String> = file.opening.iter().map(|entry| opening_words(entry.get_ref())).collect();
        given.push(("opening", words.join("; ")));
    }
    if let Some(text) = &file.header_depth {
        rules.header_depth_m = length_or_none(text, reader);
        given.push(("header_depth", text.get_ref().clone()));
    }
    if let Some(text) = &file.opening_clearance {
        rules.clearance_m = length_or_nought(text, reader).unwrap_or(0.0);
        given.push(("opening_clearance", text.get_ref().clone()));
    }
    if let Some(text) = &file.opening_box {
        rules.opening_box_m = length_or_none(text, reader);
        given.push(("opening_box", text.get_ref().clone()));
    }
}

/// A length, which may be nought.
fn length_or_nought(text: &toml::Spanned<String>, reader: &mut Reader<'_>) -> Option<f64> {
    let is_nought = parse_length(text.get_ref(), None, false).is_ok_and(|length_m| length_m == 0.0);
    if is_nought { Some(0.0) } else { reader.length_m(text) }
}

/// How far fill stays off flues, chimneys and lights.
pub(super) fn clearances(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    let own = &mut rules.clearances;
    let all = [
        ("type_b_vent_clearance", &file.type_b_vent_clearance, &mut own.type_b_vent_m),
        ("single_wall_flue_clearance", &file.single_wall_flue_clearance, &mut own.single_wall_flue_m),
        ("masonry_chimney_clearance", &file.masonry_chimney_clearance, &mut own.masonry_chimney_m),
        ("unnamed_flue_clearance", &file.unnamed_flue_clearance, &mut own.unnamed_flue_m),
        ("recessed_light_clearance", &file.recessed_light_clearance, &mut own.recessed_light_m),
    ];
    for (key, text, target) in all {
        let Some(text) = text else { continue };
        *target = length_or_nought(text, reader);
        given.push((key, text.get_ref().clone()));
    }
}

/// Corners and partitions.
pub(super) fn junctions(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    if let Some(text) = &file.corner_build {
        // Three studs: a second stud and the blocks before it beside the end stud; the third is the other
        // wall's end stud. Two studs: the end studs of both walls alone, and clips.
        let studs = reader.word("corner_build", text, &[("three-stud", 2), ("two-stud", 0)]);
        if file.corner_post_studs.is_none() {
            rules.corner_post_studs = studs.unwrap_or(rules.corner_post_studs);
            given.push(("corner_post_studs", rules.corner_post_studs.to_string()));
        }
        given.push(("corner_build", text.get_ref().clone()));
    }
    if let Some(is_framed) = file.frame_junctions {
        rules.frame_junctions = is_framed;
        given.push(("frame_junctions", is_framed.to_string()));
    }
    if let Some(text) = &file.partition_build {
        let words =
            [("studs", PartitionBuild::Studs), ("ladder", PartitionBuild::Ladder), (NONE, PartitionBuild::Bare)];
        rules.partition_build = reader.word("partition_build", text, &words).unwrap_or(rules.partition_build);
        given.push(("partition_build", text.get_ref().clone()));
    }
    if let Some(text) = &file.partition_rows {
        let words = [("inner", PartitionRows::Inner), ("all", PartitionRows::All)];
        rules.partition_rows = reader.word("partition_rows", text, &words).unwrap_or(rules.partition_rows);
        given.push(("partition_rows", text.get_ref().clone()));
    }
}

/// Fire blocking, floors and rims.
pub(super) fn rows(file: &LayoutFile, rules: &mut LayoutRules, reader: &mut Reader<'_>, given: &mut Given) {
    if let Some(text) = &file.fire_blocking {
        rules.fire_blocking_m = length_or_none(text, reader);
        given.push(("fire_blocking", text.get_ref().clone()));
    }
    if let Some(text) = &file.fire_board {
        rules.fire_board_m = length_or_none(text, reader);
        given.push(("fire_board", text.get_ref().clone()));
    }
    let balloon = file.balloon.as_ref().map(|balloon| *balloon.get_ref());
    if let Some(balloon) = balloon {
        rules.keeps_whole = balloon;
        given.push(("balloon", balloon.to_string()));
    }
    if let Some(text) = &file.walls_through_floors {
        let is_whole = reader.word("walls_through_floors", text, &[("cut", false), ("whole", true)]);
        if balloon == Some(true) && is_whole == Some(false) {
            let message = "`balloon = true` and `walls_through_floors = \"cut\"` contradict each other";
            reader.refuse(text.span(), message, "balloon framing keeps walls whole: leave one of the two out");
        }
        rules.keeps_whole = is_whole.unwrap_or(rules.keeps_whole);
        given.push(("walls_through_floors", text.get_ref().clone()));
    }
    if let Some(is_rim) = &file.rim {
        rules.is_rim = *is_rim.get_ref();
        given.push(("rim", is_rim.get_ref().to_string()));
    }
    if let Some(text) = &file.rim_joist {
        rules.rim_joist_m = length_or_none(text, reader);
        given.push(("rim_joist", text.get_ref().clone()));
    }
}
