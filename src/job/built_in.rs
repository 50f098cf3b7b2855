//! Assemblies that are known by name without a job file.

use super::assembly::{Known, resolve_assembly};
use super::file::parse;
use super::reader::Reader;
use super::resolve::in_order;
use super::rules::{Assembly, FillChoice};
use super::{Job, LayoutChoice, Rule};

/// They are written as a job file writes them, and read by the same reader.
const TEXT: &str = include_str!("built_in.toml");
/// Where their values come from, before their own source.
const ORIGIN: &str = "built-in assembly";

/// All of them, laid out by the job's rules except for what they change, with its first fill.
pub(super) fn built_in(fills: &[FillChoice], layout: &LayoutChoice) -> Vec<Assembly> {
    let mut reader = Reader::new("built_in.toml", TEXT);
    let Some(file) = parse(TEXT, &mut reader) else { return Vec::new() };
    let known = Known { fills, layout, own: &[], built_in: &[], origin: ORIGIN };
    let entries = in_order(file.assembly);
    entries.iter().filter_map(|(name, assembly)| resolve_assembly(name, assembly, &known, &mut reader)).collect()
}

/// The assembly of a name: the job file's own, else a built-in one; small and capital letters as written first.
pub(super) fn named<'j>(name: &str, job: &'j Job) -> Option<(Rule, &'j Assembly)> {
    let name = name.trim();
    let within = |assemblies: &'j [Assembly]| {
        let exact = assemblies.iter().position(|assembly| assembly.name == name);
        let index = exact.or_else(|| assemblies.iter().position(|a| a.name.eq_ignore_ascii_case(name)))?;
        Some((index, assemblies.get(index)?))
    };
    let own = within(&job.assemblies).map(|(index, assembly)| (Rule::Assembly(index), assembly));
    own.or_else(|| within(&job.built_in).map(|(index, assembly)| (Rule::BuiltIn(index), assembly)))
}

/// What a person may write in place of a name that is not known.
pub(super) fn known_names(name: &str, job: &Job) -> String {
    let names =
        |assemblies: &'_ [Assembly]| assemblies.iter().map(|assembly| assembly.name.clone()).collect::<Vec<_>>();
    let (own, built_in) = (names(&job.assemblies), names(&job.built_in));
    let all: Vec<&str> = own.iter().chain(&built_in).map(String::as_str).collect();
    let near = super::file::nearest(name, &all).map(|near| format!("did you mean `{near}`? ")).unwrap_or_default();
    let own = match own.len() {
        0 => String::new(),
        _ => format!("the job file knows {}; ", own.join(", ")),
    };
    format!("{near}{own}built in are {}; framing is written `2x6 @ 24 in` or `60x240 mm @ 625 mm`", built_in.join(", "))
}

#[cfg(test)]
mod tests {
    use super::super::read_job;
    use super::*;

    #[test]
    fn every_entry_is_read_and_says_where_it_comes_from() {
        let mut reader = Reader::new("built_in.toml", TEXT);
        let file = parse(TEXT, &mut reader).unwrap();
        let built_in = Job::default().built_in;
        assert_eq!(built_in.len(), file.assembly.len());
        assert_eq!(built_in.len(), 13);
        for (name, entry) in &file.assembly {
            assert!(entry.source.is_some() && entry.confidence.is_some(), "{}", name.get_ref());
        }
    }

    #[test]
    fn the_readme_lists_them_with_their_framing() {
        let readme = include_str!("../../README.md");
        for assembly in Job::default().built_in {
            let row = format!("| `{}` | `{}` |", assembly.name, assembly.framing.text);
            assert!(readme.contains(&row), "{row}");
        }
    }

    #[test]
    fn an_assembly_of_the_job_file_wins_and_may_change_a_built_in_one() {
        let text = "[layout]\nking_studs = 2\n[assembly.\"Stud wall 2x6\"]\nlike = \"stud wall 2x6\"\ndepth = \"6 in\"\n\
                    [assembly.tall]\nlike = \"advanced stud wall 2x6\"\nlayout.top_plates = 2\n";
        let job = read_job("job.toml", text).unwrap();
        let (rule, own) = named("stud wall 2X6", &job).unwrap();
        assert_eq!(rule, Rule::Assembly(0));
        assert!((own.framing.depth_m - 6.0 * 0.0254).abs() < 1e-12);
        assert!((own.framing.rows[0].to_m - 6.0 * 0.0254).abs() < 1e-12);
        let tall = &job.assemblies[1];
        let rules = &tall.layout;
        assert_eq!((rules.top_plates, rules.corner_post_studs, rules.king_studs), (2, 1, 2));
        let of = |key: &str| tall.sources.iter().filter(|a| a.key == key).map(|a| a.value.clone()).collect::<Vec<_>>();
        assert_eq!(of("assembly.tall.layout.top_plates"), ["2"]);
        assert_eq!(of("assembly.tall.framing"), ["2x6 @ 24 in"]);
        assert_eq!(named("Cassette Wall", &job).unwrap().1.framing.text, "60x240 mm @ 625 mm");
    }

    #[test]
    fn what_a_built_in_one_is_like_must_be_known_before() {
        let refusals = read_job("job.toml", "[assembly.a]\nlike = \"stud wal 2x6\"\n").unwrap_err();
        assert!(refusals[0].help.contains("did you mean `stud wall 2x6`?"), "{}", refusals[0].help);
        let refusals = read_job("job.toml", "[assembly.a]\nlike = \"b\"\n[assembly.b]\nframing = \"2x4 @ 16 in\"\n");
        assert!(refusals.unwrap_err()[0].message.contains("no assembly `b` above"));
        let shallow = "[assembly.a]\nlike = \"double-stud wall\"\ndepth = \"6 in\"\n";
        assert!(read_job("job.toml", shallow).unwrap_err()[0].message.contains("without what lies between"));
    }
}
