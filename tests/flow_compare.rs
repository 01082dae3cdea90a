//! Two runs of a flow beside each other: what they have in common runs once, what differs is told.

#![expect(clippy::expect_used, reason = "a failing test may panic")]

use barewafer_process::flow::questions::{compare, compare_runs};
use barewafer_process::flow::{Begun, Flow, Runner, Snapshot};
use serde_json::{Value, json};

/// A window, a doped layer and its drive-in of so many minutes.
fn flow(name: &str, width_um: f64, minutes: f64) -> Flow {
    let file: Value = json!({
        "format": "barewafer-flow", "version": 1, "flow": name,
        "substrate": {"type": "p", "resistivity_ohm_cm": 10.0},
        "layout": {"unit": "um", "extent": [0, 0, width_um, 20], "masks": [
            {"level": "WINDOW", "polarity": "dark_field", "rectangles": [[8, 4, 16, 16]]}
        ]},
        "section": {"from": [0, 10], "to": [width_um, 10]},
        "settings": {"lithography": "ideal"},
        "steps": [
            {"id": "clean", "step": {"operation": "clean", "recipe": "hf_dip"}},
            {"id": "oxide", "step": {"operation": "oxidation", "ambient": "wet",
                "temperature_c": 1000.0, "time_min": 60.0}},
            {"id": "strip", "step": {"operation": "wet_etch", "etchant": "bhf_5_1",
                "material": "thermal_oxide", "time_s": 600.0}},
            {"id": "dope", "step": {"operation": "implantation", "dopant": "phosphorus",
                "energy_kev": 80.0, "dose_cm2": 1e14}},
            {"id": "drive", "step": {"operation": "drive_in", "temperature_c": 1100.0,
                "time_min": minutes, "ambient": "inert"}}
        ]
    });
    Flow::from_text(file.to_string().as_bytes()).expect("a good flow")
}

fn whole(runner: &mut Runner, flow: &Flow) -> Vec<Snapshot> {
    runner.run(flow, None, &mut |_| true).expect("every step can be done").to_vec()
}

#[test]
fn a_second_run_begins_where_the_first_one_differs() {
    let short = flow("one", 24.0, 30.0);
    let long = flow("one", 24.0, 40.0);
    let mut first = Runner::new();
    let before = whole(&mut first, &short);
    let mut second = Runner::new();
    let Begun { kept, own, from } = second.begin_beside(&long, &[&first]).unwrap();
    assert_eq!(own, 0);
    let shares = first.begin(&long).unwrap();
    assert_eq!((kept, from), (shares, (0 < shares).then_some(0)));
    while second.snapshots().len() < long.steps.len() {
        second.advance(&long).unwrap();
    }
    // To the bit what a run of its own gives.
    let alone = whole(&mut Runner::new(), &long);
    for (ours, other) in second.snapshots().iter().zip(&alone) {
        assert_eq!(ours.section, other.section);
        assert_eq!(ours.report, other.report);
    }
    assert_ne!(before[4].section, alone[4].section);
    // To come back to the first one takes no step, and the list says from which run.
    let mut third = Runner::new();
    whole(&mut first, &short);
    whole(&mut third, &long);
    let own = first.clone().begin(&long).unwrap();
    let begun = third.begin_beside(&short, &[&second, &first]).unwrap();
    assert_eq!(begun, Begun { kept: short.steps.len(), own, from: Some(1) });
}

#[test]
fn the_deeper_junction_of_the_longer_drive_is_told_with_both_numbers() {
    let (short, long) = (flow("one", 24.0, 30.0), flow("one", 24.0, 120.0));
    let before = whole(&mut Runner::new(), &short);
    let after = whole(&mut Runner::new(), &long);
    let found = compare_runs([&short, &long], &before[4], &after[4]);
    let junction = found.iter().find(|d| d.kind == "junctions").expect("it moved");
    assert_eq!(junction.quantity, "junction depth");
    let (a, b) = (junction.before.unwrap(), junction.after.unwrap());
    // Both are about as deep as a Gaussian of that heat: deeper by more than a third.
    assert!(0.5 < a && 1.3 * a < b && b < 5.0, "{a} {b}");
    assert!(compare_runs([&short, &long], &before[3], &after[3]).is_empty());
    assert_eq!(found, compare(&long, &before[4], &after[4]));
}

#[test]
fn sections_of_two_lengths_are_compared_as_far_as_both_go() {
    let (narrow, wide) = (flow("one", 20.0, 30.0), flow("two", 30.0, 120.0));
    let before = whole(&mut Runner::new(), &narrow);
    let after = whole(&mut Runner::new(), &wide);
    let found = compare_runs([&narrow, &wide], &before[4], &after[4]);
    assert!(found.iter().any(|d| d.kind == "junctions"));
    assert!(found.iter().all(|d| (0.0..=20.0).contains(&d.x_um)), "{found:?}");
}
