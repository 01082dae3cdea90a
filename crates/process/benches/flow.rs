//! How long a whole flow takes.
//!
//! Guards the run sheet: the full process from the bare wafer within 1.2 s on one core, and
//! after a change in its last third only what follows it. With two and four times the columns
//! the time grows as they do: the throughput, in columns of the last section, stays.
#![expect(clippy::expect_used, reason = "a bench stops at the first surprise")]

use barewafer_process::flow::{Flow, Runner};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use serde_json::{Value, json};

fn full_cmos() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../www/flows/full-cmos.json");
    let text = std::fs::read(path).expect("the flow is there");
    serde_json::from_slice(&text).expect("it is JSON")
}

fn flow(value: Value) -> Flow {
    Flow::from_value(value).expect("a good flow")
}

fn run(runner: &mut Runner, flow: &Flow) -> usize {
    runner.run(flow, None, &mut |_| true).expect("it runs").len()
}

fn whole_flow(criterion: &mut Criterion) {
    let as_shipped = flow(full_cmos());
    let mut value = full_cmos();
    // The implant of source and drain of the p-channel: step 65 of 83.
    value["steps"][64]["step"]["dose_cm2"] = json!(2.4e15);
    let changed = flow(value);
    let mut group = criterion.benchmark_group("full-cmos");
    group.sample_size(10);
    for (name, coarseness) in [("1x", 1.0), ("2x", 0.5), ("4x", 0.25)] {
        let mut runner = Runner::with_mesh(coarseness, None);
        run(&mut runner, &as_shipped);
        let columns = runner.snapshots().last().map_or(0, |last| last.section.columns());
        group.throughput(Throughput::Elements(columns as u64));
        group.bench_function(format!("cold {name}"), |bencher| {
            bencher.iter(|| run(&mut Runner::with_mesh(coarseness, None), &as_shipped));
        });
        let mut turn = false;
        group.bench_function(format!("one step changed {name}"), |bencher| {
            bencher.iter(|| {
                turn = !turn;
                run(&mut runner, if turn { &changed } else { &as_shipped })
            });
        });
    }
    group.finish();
}

criterion_group!(benches, whole_flow);
criterion_main!(benches);
