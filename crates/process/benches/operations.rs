//! Times one request of each kind: what a slider has to wait for.
//!
//! Guards the live plots of the page: a request may take 4 ms in the browser, a diffusion
//! 12 ms, so that computing and drawing fit into a frame. The same requests are timed in the
//! browser by `cargo xtask bench`.

#![expect(
    clippy::expect_used,
    clippy::panic,
    reason = "a request that does not run leaves nothing to time"
)]

use std::collections::BTreeMap;
use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use serde_json::{Map, Value};

fn operations(criterion: &mut Criterion) {
    let requests: BTreeMap<String, Map<String, Value>> =
        serde_json::from_str(include_str!("requests.json"))
            .expect("the requests are JSON");
    for (name, request) in requests {
        barewafer_process::run(request.clone())
            .unwrap_or_else(|error| panic!("{name}: {error}"));
        criterion.bench_function(&name, |bencher| {
            bencher.iter(|| barewafer_process::run(black_box(request.clone())));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(30);
    targets = operations
}
criterion_main!(benches);
