//! Times exposure and development: what a slider of the lithography benches has to wait for.
//!
//! Guards the live section: image, exposure and development of the default case in well under
//! 30 ms.

#![expect(
    clippy::expect_used,
    reason = "a request that does not run leaves nothing to time"
)]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};

const REQUESTS: [(&str, &str); 8] = [
    ("bake", r#"{"operation":"bake","time_s":60}"#),
    ("exposure", r#"{"operation":"exposure"}"#),
    ("development", r#"{"operation":"development"}"#),
    (
        "development, out of focus",
        r#"{"operation":"development","exposure":{"defocus_um":0.5}}"#,
    ),
    (
        "development, isolated space out of focus",
        r#"{"operation":"development","exposure":{"defocus_um":0.5,"mask":{"pattern":"isolated_space"}}}"#,
    ),
    (
        "development, isolated space out of focus, 12 rings",
        r#"{"operation":"development","exposure":{"defocus_um":0.5,"source_rings":12,"mask":{"pattern":"isolated_space"}}}"#,
    ),
    (
        "development, edge",
        r#"{"operation":"development","exposure":{"mask":{"pattern":"edge"}}}"#,
    ),
    (
        "development, proximity",
        r#"{"operation":"development","exposure":{"tool":"proximity","mask":{"pitch_um":10,"opening_um":5}}}"#,
    ),
];

fn lithography(criterion: &mut Criterion) {
    for (name, request) in REQUESTS {
        barewafer_process::run_text(request.as_bytes()).expect("a good request");
        criterion.bench_function(name, |bencher| {
            bencher.iter(|| barewafer_process::run_text(black_box(request.as_bytes())));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = lithography
}
criterion_main!(benches);
