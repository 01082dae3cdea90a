//! Times every bench natively and in the browser, in one run, beside its budget.

use std::collections::BTreeMap;
use std::fs;

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::npm;
use crate::run::{cargo, output, run, target_dir};
use crate::{site, size, test};

/// Milliseconds a request may take in the browser: a quarter of a frame at 60 per second,
/// so that drawing has the rest; diffusion steps through time and gets three quarters.
const REQUEST_BUDGET_MS: f64 = 4.0;
const DIFFUSION_BUDGET_MS: f64 = 12.0;
/// Milliseconds from moving a slider to the painted frame: one frame, and for the slowest in
/// twenty the delay that people just begin to notice.
const PAINT_BUDGET_MS: (f64, f64) = (16.7, 50.0);
/// The same where an image and its resist are computed: two frames.
const IMAGE_PAINT_BUDGET_MS: (f64, f64) = (33.0, 66.0);

/// Milliseconds until the first tracks of single ions show, until all ions have flown, and from
/// a person's Cancel to the end.
const ION_BUDGET_MS: [f64; 3] = [200.0, 4000.0, 200.0];

/// Milliseconds from the link of a whole flow to its first picture and to its last step, from
/// moving the scrubber to the painted frame, and from a changed parameter in the last third to
/// the new picture.
const FLOW_BUDGET_MS: [f64; 4] = [1000.0, 4000.0, 16.7, 500.0];

/// Runs both kinds of benches and prints one table. Times are told, not judged: they belong
/// to the machine.
pub(crate) fn bench() -> Result<()> {
    let site = site::build(site::Optimize::Always)?;
    run(&mut cargo(&[
        "bench",
        "--package",
        "barewafer-process",
        "--bench",
        "operations",
        "--bench",
        "flow",
    ]))?;
    let native = native_medians()?;
    println!("$ node bench.mjs");
    let mut script = test::browser_script()?;
    let text = output(script.arg(npm::folder().join("bench.mjs")))?;
    let browser: Value = serde_json::from_str(&text)
        .with_context(|| format!("the browser bench printed no table:\n{text}"))?;

    println!(
        "\n{:<34} {:>11} {:>11} {:>7} {:>9}",
        "request (median)", "native", "browser", "ratio", "budget"
    );
    for entry in entries(&browser, "requests") {
        let name = entry.get("name").and_then(Value::as_str).unwrap_or("?");
        let browser_ms = number(entry, "median_ms");
        let budget = if name.contains("predeposition") || name.contains("drive_in") {
            DIFFUSION_BUDGET_MS
        } else {
            REQUEST_BUDGET_MS
        };
        let (native_shown, ratio) = match native.get(name) {
            Some(Median { ms, .. }) => {
                (format!("{ms:.3} ms"), format!("{:.1}", browser_ms / ms))
            }
            None => ("-".to_owned(), "-".to_owned()),
        };
        println!(
            "{name:<34} {native_shown:>11} {:>11} {ratio:>7} {:>9}{}",
            format!("{browser_ms:.3} ms"),
            format!("{budget} ms"),
            mark(browser_ms, budget)
        );
    }
    println!(
        "native: the kernel alone; browser: all the page gets, charts and picture included"
    );
    println!(
        "\n{:<34} {:>11} {:>11} {:>17}",
        "slider to painted frame", "median", "95 %", "budget"
    );
    for entry in entries(&browser, "paints") {
        let name = entry.get("name").and_then(Value::as_str).unwrap_or("?");
        let (median, slow) = (number(entry, "median_ms"), number(entry, "p95_ms"));
        let budget = if name.starts_with("aligner") {
            IMAGE_PAINT_BUDGET_MS
        } else {
            PAINT_BUDGET_MS
        };
        let late = if mark(median, budget.0).is_empty() {
            mark(slow, budget.1)
        } else {
            mark(median, budget.0)
        };
        println!(
            "{name:<34} {:>11} {:>11} {:>17}{late}",
            format!("{median:.1} ms"),
            format!("{slow:.1} ms"),
            format!("{} / {} ms", budget.0, budget.1)
        );
    }
    println!(
        "\n{:<34} {:>13} {:>11} {:>11} {:>20}",
        "single ions in the page", "first tracks", "all", "cancel", "budget"
    );
    for entry in entries(&browser, "ions") {
        let name = entry.get("name").and_then(Value::as_str).unwrap_or("?");
        let times = ["first_ms", "all_ms", "cancel_ms"].map(|key| number(entry, key));
        let late = times
            .iter()
            .zip(ION_BUDGET_MS)
            .map(|(&time, budget)| mark(time, budget))
            .find(|word| !word.is_empty());
        println!(
            "{name:<34} {:>13} {:>11} {:>11} {:>20}{}",
            format!("{:.0} ms", times[0]),
            format!("{:.0} ms", times[1]),
            format!("{:.0} ms", times[2]),
            format!(
                "{} / {} / {} ms",
                ION_BUDGET_MS[0], ION_BUDGET_MS[1], ION_BUDGET_MS[2]
            ),
            late.unwrap_or_default()
        );
    }
    println!(
        "\n{:<34} {:>13} {:>11} {:>11} {:>11} {:>26}",
        "whole flow in the page", "first picture", "all", "scrub", "change", "budget"
    );
    for entry in entries(&browser, "flows") {
        let name = entry.get("name").and_then(Value::as_str).unwrap_or("?");
        let times =
            ["first_ms", "all_ms", "scrub_ms", "change_ms"].map(|key| number(entry, key));
        let late = times
            .iter()
            .zip(FLOW_BUDGET_MS)
            .map(|(&time, budget)| mark(time, budget))
            .find(|word| !word.is_empty());
        println!(
            "{name:<34} {:>13} {:>11} {:>11} {:>11} {:>26}{}",
            format!("{:.0} ms", times[0]),
            format!("{:.0} ms", times[1]),
            format!("{:.1} ms", times[2]),
            format!("{:.0} ms", times[3]),
            format!(
                "{} / {} / {} / {} ms",
                FLOW_BUDGET_MS[0],
                FLOW_BUDGET_MS[1],
                FLOW_BUDGET_MS[2],
                FLOW_BUDGET_MS[3]
            ),
            late.unwrap_or_default()
        );
    }
    print_growth(&native);
    println!(
        "\nfirst load: {} bytes of {} (gzip -9)",
        size::first_load(&site)?,
        size::first_load_budget()
    );
    Ok(())
}

/// Prints how the time of a whole flow grows with the columns of its section.
fn print_growth(native: &BTreeMap<String, Median>) {
    println!(
        "\n{:<34} {:>11} {:>11} {:>9} {:>9}",
        "whole flow natively", "columns", "all", "columns", "time"
    );
    let at = |times: &str| native.get(&format!("full-cmos/cold {times}"));
    let Some(first) = at("1x") else { return };
    for (times, median) in ["1x", "2x", "4x"].iter().filter_map(|&t| Some((t, at(t)?))) {
        println!(
            "{:<34} {:>11} {:>11} {:>9} {:>9}",
            format!("full-cmos, mesh {times}"),
            median.elements,
            format!("{:.0} ms", median.ms),
            format!("x {:.2}", median.elements / first.elements),
            format!("x {:.2}", median.ms / first.ms)
        );
    }
}

/// The word behind a time above its budget.
fn mark(value: f64, budget: f64) -> &'static str {
    if value <= budget { "" } else { "  above" }
}

fn entries<'a>(table: &'a Value, key: &str) -> &'a [Value] {
    table.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

fn number(entry: &Value, key: &str) -> f64 {
    entry.get(key).and_then(Value::as_f64).unwrap_or(f64::NAN)
}

/// What criterion found.
struct Median {
    /// Milliseconds.
    ms: f64,
    /// How many things that were done in it; not a number where none are counted.
    elements: f64,
}

/// Medians that criterion has just written, by the name of the bench.
fn native_medians() -> Result<BTreeMap<String, Median>> {
    let folder = target_dir().join("criterion");
    let mut medians = BTreeMap::new();
    for file in size::files_below(&folder)? {
        if !file.ends_with("new/benchmark.json") {
            continue;
        }
        let about: Value = serde_json::from_slice(&fs::read(&file)?)?;
        let estimates: Value =
            serde_json::from_slice(&fs::read(file.with_file_name("estimates.json"))?)?;
        let name = about.get("full_id").and_then(Value::as_str);
        let nanoseconds =
            estimates.pointer("/median/point_estimate").and_then(Value::as_f64);
        if let (Some(name), Some(nanoseconds)) = (name, nanoseconds) {
            let elements = about.pointer("/throughput/Elements").and_then(Value::as_f64);
            let elements = elements.unwrap_or(f64::NAN);
            medians.insert(name.to_owned(), Median { ms: nanoseconds / 1e6, elements });
        }
    }
    if medians.is_empty() {
        bail!("criterion left no estimates in {}", folder.display());
    }
    Ok(medians)
}
