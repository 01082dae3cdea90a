//! Etching and polishing against published and derived values, row by row.

#![expect(
    clippy::panic,
    clippy::unwrap_used,
    reason = "a row that cannot be read is a test that fails"
)]

use barewafer_process::etching::{
    time_to_clear_everywhere_s, under_layer_loss_nm, under_layer_worst_loss_nm,
};
use barewafer_process::num::bisect;
use barewafer_tests::answers::{ask, number};
use barewafer_tests::{Row, reference};

/// The selectivity with which 5 nm of the layer below are lost: 0.5 um, both spreads 15 %,
/// etched as long as the last place needs.
fn selectivity_for_5_nm(case: &str) -> f64 {
    let (d_nm, rate, spread) = (500.0, 100.0, 0.15);
    let time_s = time_to_clear_everywhere_s(d_nm, rate, spread, spread);
    let loss = |s: f64| match case {
        "simple" => under_layer_loss_nm(time_s, d_nm, rate, rate / s),
        "worst" => {
            under_layer_worst_loss_nm(time_s, d_nm, rate, rate / s, spread, spread)
        }
        "worst_nominal_under" => under_layer_loss_nm(
            time_s,
            d_nm * (1.0 - spread),
            rate * (1.0 + spread),
            rate / s,
        ),
        other => panic!("case {other}"),
    };
    bisect(|s| loss(s) - 5.0, 1.0, 1e3).unwrap()
}

fn ours(row: &Row) -> f64 {
    let read = row.text("read");
    if let Some((name, case)) = read.split_once(':') {
        assert_eq!(name, "selectivity_for_5_nm");
        return selectivity_for_5_nm(case);
    }
    let report = ask(&serde_json::from_str(row.text("request")).unwrap());
    match read.strip_prefix('=').and_then(|ratio| ratio.split_once('/')) {
        Some((over, under)) => number(&report, over) / number(&report, under),
        None => number(&report, read),
    }
}

#[test]
fn every_row_agrees_or_deviates_as_it_says() {
    let rows = reference("etching_checks.csv");
    assert!(40 <= rows.len(), "{} rows", rows.len());
    let mut failed = Vec::new();
    for row in &rows {
        let (expected, tolerance) =
            (row.required("expected"), row.required("tolerance_rel"));
        let ours = ours(row);
        let off = ours / expected - 1.0;
        println!(
            "{}: {expected} expected, {ours:.5} here ({:+.1} %)",
            row.text("id"),
            100.0 * off
        );
        let known = row.text("known_deviation");
        if (off.abs() <= tolerance) != known.is_empty() {
            failed.push(format!(
                "{}: {expected} ± {tolerance}, {ours} here ({known})",
                row.text("id")
            ));
        }
        assert!(!row.text("source").is_empty() && !row.text("known_by").is_empty());
    }
    assert!(failed.is_empty(), "{failed:#?}");
}
