//! The published checks as the page and the command list them: every row of every table is either
//! a check that is met or deviates as it says, or is left out for a reason.

use std::collections::BTreeMap;

use barewafer_checks::tables::{BENCHES, all};
use barewafer_checks::{Check, run, run_text};

#[test]
fn every_check_is_met_or_deviates_as_it_says() {
    let listing = all().unwrap();
    assert!(250 <= listing.checks.len(), "{} checks", listing.checks.len());
    let mut failed = Vec::new();
    for check in &listing.checks {
        let outcome = run(check);
        if !outcome.verdict.is_good() {
            failed.push(format!("{} {}: {outcome:?}", check.id, check.what));
        }
    }
    assert!(failed.is_empty(), "{failed:#?}");
}

#[test]
fn every_check_has_a_source_and_a_kind_of_knowledge() {
    let mut count: BTreeMap<(String, String), usize> = BTreeMap::new();
    for check in all().unwrap().checks {
        assert!(!check.source.is_empty() && !check.what.is_empty(), "{check:?}");
        assert!(BENCHES.contains(&check.bench.as_str()), "{check:?}");
        *count.entry((check.bench, check.kind)).or_default() += 1;
    }
    println!("{count:#?}");
}

#[test]
fn a_check_is_the_same_after_it_was_written_and_read() {
    for check in all().unwrap().checks.iter().step_by(29) {
        let text = serde_json::to_string(check).unwrap();
        let read = Check::from_json(serde_json::from_str(&text).unwrap()).unwrap();
        assert_eq!(&read, check);
        let outcome = serde_json::to_string(&run(check)).unwrap();
        assert_eq!(run_text(&text).unwrap(), outcome);
    }
}

#[test]
fn rows_that_no_request_asks_for_are_few_and_named() {
    let listing = all().unwrap();
    let mut reasons: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for left in listing.left_out {
        reasons.entry(left.why).or_default().push(left.id);
    }
    println!("{reasons:#?}");
    let count: usize = reasons.values().map(Vec::len).sum();
    assert!(6 * count < listing.checks.len(), "{count} rows");
}

#[test]
fn the_bench_of_a_check_is_the_one_that_has_its_operation() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../www/js/benches.js");
    let page = std::fs::read_to_string(path).unwrap();
    for check in all().unwrap().checks {
        let (_, rest) = page.split_once(&format!("id: \"{}\"", check.bench)).unwrap();
        let bench = rest.split("id: \"").next().unwrap();
        let operation = check.request["operation"].to_string();
        assert!(bench.contains(&operation), "{}: {operation} in {bench}", check.id);
    }
}

#[test]
fn a_text_that_is_no_check_is_refused_by_its_field() {
    let error = run_text(r#"{"id": "t 1", "request": {}}"#).unwrap_err();
    assert_eq!(error.code, "wrong_check");
    assert!(error.message.contains(&error.field), "{error}");
}
