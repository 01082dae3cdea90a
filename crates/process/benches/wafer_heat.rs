//! Times heat steps of a whole cross-section, 580 columns by 180 depth cells: well drive-in,
//! field oxidation under nitride, source-drain anneal, and an implant.
//!
//! Guards the claim that a flow of eighty steps takes about a second. The throughput is in
//! cell-solves: one cell of one tridiagonal solve for one dopant, counted without the windows
//! that leave most of them out.

#![expect(
    clippy::expect_used,
    reason = "a case that does not run leaves nothing to time"
)]

use std::hint::black_box;

use barewafer_process::implantation::{ImplantationModel, RangeTable};
use barewafer_process::num::exp;
use barewafer_process::vocabulary::{Ambient, Dopant, Ion, Material};
use barewafer_process::wafer::heat::{
    DopingModel, GrowthModel, HeatSegment, HeatStep, WaferFacts, heat,
};
use barewafer_process::wafer::implant::{ImplantStep, implant};
use barewafer_process::wafer::{
    DepthMesh, EdgeKind, Layer, Matter, Section, column_edges_nm, depth_edges_nm,
};
use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};

const WIDTH_NM: f64 = 36_000.0;
const GATES_NM: [f64; 4] = [8_000.0, 10_000.0, 26_000.0, 28_000.0];
const ACTIVES_NM: [f64; 4] = [5_000.0, 13_000.0, 23_000.0, 31_000.0];
const WELL_NM: f64 = 18_000.0;

fn wafer() -> Section {
    let mut edges: Vec<(f64, EdgeKind)> =
        GATES_NM.iter().map(|&x| (x, EdgeKind::Gate)).collect();
    edges.extend(ACTIVES_NM.iter().map(|&x| (x, EdgeKind::Active)));
    edges.push((WELL_NM, EdgeKind::Well));
    edges.extend([6_500.0, 11_500.0, 24_500.0, 29_500.0].map(|x| (x, EdgeKind::Contact)));
    let x = column_edges_nm(WIDTH_NM, &edges, 1.0);
    Section::bare(x, depth_edges_nm(DepthMesh::USUAL), (Dopant::Boron, 1e15))
}

fn add(
    section: &mut Section,
    dopant: Dopant,
    dose_cm2: f64,
    [range_nm, straggle_nm]: [f64; 2],
    inside: impl Fn(f64) -> bool,
) {
    let cells = section.cells();
    let peak_cm3 = dose_cm2 / (2.5066 * straggle_nm * 1e-7);
    for i in 0..section.columns() {
        if !inside(section.center_nm(i)) {
            continue;
        }
        for k in 0..cells {
            let u = (section.middle_nm(i, k) - range_nm) / straggle_nm;
            section.silicon_cm3_mut(dopant)[i * cells + k] +=
                peak_cm3 * exp(-0.5 * u * u);
        }
    }
    let now = section.inventory(dopant);
    section.book(dopant, now.silicon_cm - now.supplied_cm);
}

fn is_active(x_nm: f64) -> bool {
    (ACTIVES_NM[0]..ACTIVES_NM[1]).contains(&x_nm)
        || (ACTIVES_NM[2]..ACTIVES_NM[3]).contains(&x_nm)
}

fn step(ambient: Ambient, celsius: f64, minutes: f64) -> HeatStep {
    HeatStep {
        segments: vec![HeatSegment::hold(ambient, celsius, minutes)],
        wafer: WaferFacts::default(),
        doping: DopingModel::default(),
        growth: GrowthModel::default(),
    }
}

fn well() -> Section {
    let mut section = wafer();
    add(&mut section, Dopant::Phosphorus, 3.8e12, [189.0, 63.0], |x| WELL_NM < x);
    section
}

fn cases() -> Vec<(&'static str, Section, HeatStep, f64)> {
    let drive = step(Ambient::Inert, 1150.0, 360.0);
    let mut driven = well();
    heat(&mut driven, &drive);
    let mut field = driven.clone();
    add(&mut field, Dopant::Boron, 5e13, [80.0, 31.0], |x| x < WELL_NM && !is_active(x));
    for i in 0..field.columns() {
        let pad = Layer::new(Matter::of(Material::ThermalOxide), 31.0);
        let nitride = Layer::new(Matter::of(Material::Nitride), 181.0);
        if is_active(field.center_nm(i)) {
            field.set_layers(i, &[pad, nitride]);
        } else {
            field.set_layers(i, &[pad]);
        }
    }
    let mut drain = driven;
    let beside_gate = |x: f64, from: usize| {
        is_active(x) && !(GATES_NM[from]..GATES_NM[from + 1]).contains(&x)
    };
    add(&mut drain, Dopant::Arsenic, 5e15, [58.0, 21.0], |x| {
        x < WELL_NM && beside_gate(x, 0)
    });
    add(&mut drain, Dopant::Boron, 2.5e15, [99.0, 37.0], |x| {
        WELL_NM < x && beside_gate(x, 2)
    });
    // Solves of a cell: two stages of two passes in depth and of one along x, a step.
    vec![
        ("well drive-in", well(), drive, 6.0 * 10.0 * 2.0),
        ("field oxidation", field, step(Ambient::Wet, 1000.0, 120.0), 6.0 * 20.0 * 2.0),
        (
            "source-drain anneal",
            drain,
            step(Ambient::Inert, 950.0, 30.0),
            6.0 * 10.0 * 3.0,
        ),
    ]
}

fn bench(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("wafer_heat");
    group.sample_size(10);
    for (name, section, step, solves) in cases() {
        let size = (section.columns() * section.cells()) as f64;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count far below 2^53"
        )]
        group.throughput(Throughput::Elements((solves * size) as u64));
        group.bench_function(name, |bencher| {
            bencher.iter_batched(
                || section.clone(),
                |mut section| black_box(heat(&mut section, &step)),
                BatchSize::PerIteration,
            );
        });
        let mut after = section.clone();
        heat(&mut after, &step);
        after.check().expect("the section is sound");
    }
    let (_, section, _, _) = cases().swap_remove(1);
    let beam = ImplantStep {
        ion: Ion::Boron,
        energy_kev: 25.0,
        dose_cm2: 5e13,
        tilt_deg: 7.0,
        rotation_deg: 22.0,
        model: ImplantationModel::Pearson,
        range_table: RangeTable::Gibbons1975,
    };
    group.throughput(Throughput::Elements((section.columns() * section.cells()) as u64));
    group.bench_function("implant", |bencher| {
        bencher.iter_batched(
            || section.clone(),
            |mut section| black_box(implant(&mut section, &beam)),
            BatchSize::PerIteration,
        );
    });
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
