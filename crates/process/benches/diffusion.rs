//! Times the diffusions that a slider asks for and holds the answers against the reference
//! profiles: milliseconds, error in depth, nanoseconds a cell and time step.
//!
//! Guards the claim that a drive-in is live, and its ratio to a general-purpose solver:
//! `tests/reference/time_general_solver.py` prints the same cases for the BDF integrator of
//! scipy. What limits the kernel is the block elimination of each Newton pass.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a case that does not run leaves nothing to time"
)]
#![expect(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a bench reads the clock and prints a table; the kernel does neither"
)]

use std::collections::BTreeMap;
use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use barewafer_process::num::ln;
use barewafer_process::run;
use serde_json::{Map, Value};

const CASES: [(&str, &str); 5] = [
    ("drive_in c04 predeposition", "c04_B_predep_950C_30min"),
    ("drive_in c09 boron", "c09_B_drivein_1100C_60min"),
    ("drive_in c10 n-well", "c10_P_nwell_1150C_360min"),
    ("drive_in c11 arsenic", "c11_As_sd_950C_30min"),
    ("drive_in c13 arsenic and boron", "c13_As_B_coupled_1000C_30min"),
];
const ACCURACIES: [&str; 2] = ["interactive", "reference"];
const RUNS: usize = 40;

fn main() {
    let requests: BTreeMap<String, Map<String, Value>> =
        serde_json::from_str(include_str!("requests.json"))
            .expect("the requests are JSON");
    println!(
        "{:<32} {:<12} {:>9} {:>12} {:>7} {:>7} {:>14}",
        "case", "accuracy", "median", "depth error", "cells", "steps", "per cell, step"
    );
    for (name, reference) in CASES {
        for accuracy in ACCURACIES {
            let mut request = requests.get(name).expect("a request of that name").clone();
            if accuracy != "interactive" {
                request.insert("accuracy".to_owned(), Value::from(accuracy));
            }
            // Not every operation has a finer answer: a predeposition is exact already.
            let Ok(report) = run(request.clone()) else { continue };
            let answer = serde_json::to_value(&report).expect("an answer is JSON");
            let mut times: Vec<f64> = (0..RUNS)
                .map(|_| {
                    let start = Instant::now();
                    let _ = black_box(run(black_box(request.clone())));
                    1e3 * start.elapsed().as_secs_f64()
                })
                .collect();
            times.sort_by(f64::total_cmp);
            let median = times[RUNS / 2];
            let (cells, steps) = effort(&answer);
            let each = match (cells, steps) {
                (Some(cells), Some(steps)) => {
                    format!("{:.0} ns", 1e6 * median / (cells * steps))
                }
                _ => "-".to_owned(),
            };
            let count = |n: Option<f64>| n.map_or("-".to_owned(), |n| n.to_string());
            println!(
                "{name:<32} {accuracy:<12} {:>9} {:>10.2} % {:>7} {:>7} {each:>14}",
                format!("{median:.2} ms"),
                100.0 * depth_error(&answer, reference),
                count(cells),
                count(steps),
            );
        }
    }
}

/// Nodes and time steps, as the working states them: `340 nodes, 61 time steps`.
fn effort(answer: &Value) -> (Option<f64>, Option<f64>) {
    let lines = answer["working"].as_array().map_or(&[][..], Vec::as_slice);
    let text = lines
        .iter()
        .filter_map(|line| line["substituted"].as_str())
        .find(|text| text.contains(" time steps"))
        .unwrap_or_default();
    let before = |word: &str| {
        let place = text.find(word)?;
        text.get(..place)?.rsplit(' ').next()?.parse().ok()
    };
    (before(" nodes"), before(" time steps"))
}

/// The largest relative error in depth at a tenth, a hundredth and a thousandth of the largest
/// concentration.
fn depth_error(answer: &Value, reference: &str) -> f64 {
    let profile = &answer["results"]["profile"];
    let list = |name: &str| -> Vec<f64> {
        let values = profile[name].as_array().map_or(&[][..], Vec::as_slice);
        values.iter().filter_map(Value::as_f64).collect()
    };
    let depth = list("depth_um");
    let (names, columns) = read(reference);
    let (exact_depth, dopants) = columns.split_first().expect("a column of depths");
    let mut worst = 0.0_f64;
    for (name, exact) in names.iter().skip(1).zip(dopants) {
        let word = match name.as_str() {
            "B_cm-3" => "boron_cm3",
            "P_cm-3" => "phosphorus_cm3",
            "As_cm-3" => "arsenic_cm3",
            other => panic!("no dopant of the name {other}"),
        };
        let ours = list(word);
        let largest = exact.iter().copied().fold(0.0, f64::max);
        for share in [0.1, 0.01, 0.001] {
            let level = share * largest;
            let wanted = deepest(exact_depth, exact, level);
            worst = worst.max((deepest(&depth, &ours, level) / wanted - 1.0).abs());
        }
    }
    worst
}

/// Names and values of the columns of a reference profile.
fn read(reference: &str) -> (Vec<String>, Vec<Vec<f64>>) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../tests/reference/diffusion_profiles");
    let text = std::fs::read_to_string(folder.join(format!("{reference}.csv")))
        .unwrap_or_else(|error| panic!("{reference}: {error}"));
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let names: Vec<String> =
        lines.next().unwrap_or_default().split(',').map(str::to_owned).collect();
    let mut columns = vec![Vec::new(); names.len()];
    for line in lines {
        for (column, value) in columns.iter_mut().zip(line.split(',')) {
            column.push(value.parse().expect("a number"));
        }
    }
    (names, columns)
}

/// The deepest depth at which a profile falls through a level, on straight lines of the
/// logarithm.
fn deepest(depth: &[f64], values: &[f64], level: f64) -> f64 {
    let Some(i) = values.iter().rposition(|&c| level < c) else { return f64::NAN };
    let (Some(&below), Some(&further)) = (values.get(i + 1), depth.get(i + 1)) else {
        return f64::NAN;
    };
    let share = ln(values[i] / level) / ln(values[i] / below.max(1e-30 * level));
    depth[i] + share * (further - depth[i])
}
