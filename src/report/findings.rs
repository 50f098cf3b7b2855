//! Findings as people read them, with those of one kind grouped after the first few.

use super::text::{printable, wrap};
use crate::finding::{Finding, Severity};
use std::collections::BTreeMap;

/// How many findings of one code and severity are shown in full.
const SHOWN: usize = 5;
const WIDTH: usize = 100;

/// All findings, the gravest first, then in their own order.
pub fn render_findings(findings: &[Finding]) -> String {
    let mut kinds: BTreeMap<(std::cmp::Reverse<Severity>, crate::finding::Code), Vec<&Finding>> = BTreeMap::new();
    for finding in findings {
        kinds.entry((std::cmp::Reverse(finding.severity), finding.code)).or_default().push(finding);
    }
    let mut out = String::new();
    for group in kinds.values() {
        for finding in group.iter().take(SHOWN) {
            out.push_str(&render(finding));
        }
        if group.len() > SHOWN {
            out.push_str(&format!("  … and {} more of this kind (all in the JSON)\n", group.len() - SHOWN));
        }
    }
    out
}

fn render(finding: &Finding) -> String {
    let severity = match finding.severity {
        Severity::Note => "note",
        Severity::Warning => "warning",
        Severity::Error => "error",
    };
    // A code always is a text; the name of its severity alone would still be true.
    let code =
        serde_json::to_value(finding.code).ok().and_then(|code| code.as_str().map(str::to_owned)).unwrap_or_default();
    let mut text = format!("{severity}[{code}]: ");
    if !finding.r#where.is_empty() {
        text.push_str(&printable(&finding.r#where));
        text.push_str(": ");
    }
    text.push_str(&printable(&finding.message));
    wrap(&text, WIDTH, "  ").join("\n") + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Code;
    use crate::source::Place;

    #[test]
    fn many_of_one_kind_are_counted() {
        let note = |n: u64| Finding::note(Code::GapTooNarrow, &Place::line("a.csv", n), "a gap");
        let mut findings: Vec<Finding> = (1..=42).map(note).collect();
        findings.push(Finding::warning(Code::FramingUnknown, &Place::default(), "no \u{7}framing"));
        let text = render_findings(&findings);
        assert!(text.starts_with("warning[framing-unknown]: no \\u{7}framing\nnote[gap-too-narrow]: a.csv:1: a gap\n"));
        assert!(
            text.ends_with("note[gap-too-narrow]: a.csv:5: a gap\n  … and 37 more of this kind (all in the JSON)\n")
        );
    }

    #[test]
    fn thousands_of_findings_stay_a_page() {
        let kinds = [Code::QuantityDiffers, Code::LayersMismatch, Code::ProxyNotMeasured];
        let place = |n: u64| Place { id: Some(format!("{n:022}")), ..Place::line("house.ifc", n) };
        let numbered = (1..=4000).zip(kinds.into_iter().cycle());
        let findings = numbered.map(|(n, kind)| Finding::warning(kind, &place(n), "word ".repeat(40)));
        let text = render_findings(&findings.collect::<Vec<_>>());
        assert!(text.lines().count() <= 60, "{text}");
        assert_eq!(text.matches("more of this kind").count(), 3);
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH), "{text}");
    }
}
