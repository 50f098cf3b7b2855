//! Assumptions and findings, one a row.

use super::cell::{Cell, Sheet, headings};
use crate::takeoff::Takeoff;

pub(super) fn assumptions(takeoff: &Takeoff) -> Sheet {
    let mut rows = vec![headings(["key", "value", "unit", "source"])];
    rows.extend(takeoff.assumptions.iter().map(|assumption| {
        vec![
            Cell::text(&assumption.key),
            Cell::text(&assumption.value),
            Cell::text(&assumption.unit),
            Cell::text(&assumption.source),
        ]
    }));
    Sheet { name: "Assumptions", frozen_rows: 1, rows }
}

pub(super) fn findings(takeoff: &Takeoff) -> Sheet {
    let mut rows = vec![headings(["severity", "code", "where", "message"])];
    rows.extend(takeoff.findings.iter().map(|finding| {
        vec![
            Cell::word(&finding.severity),
            Cell::word(&finding.code),
            Cell::text(&finding.r#where),
            Cell::text(&finding.message),
        ]
    }));
    Sheet { name: "Findings", frozen_rows: 1, rows }
}
