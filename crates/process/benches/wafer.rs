//! Times the operations that change a section's shape, on a mesh as a whole flow has it.
//!
//! Guards the run of a flow of 83 steps on 580 columns within 1.2 s: fifteen etches and ten
//! depositions may take a tenth of it (7 ms and 1 ms each; measured 7 and 0.7).

use std::hint::black_box;

use barewafer_process::vocabulary::{Dopant, Material};
use barewafer_process::wafer::topography::{
    Addition, Coverage, Rates, coat, deposit, etch_directional, etch_isotropic,
    pattern_resist, strip,
};
use barewafer_process::wafer::{
    DOPANTS, DepthMesh, EdgeKind, Matter, Section, column_edges_nm, depth_edges_nm,
};
use criterion::{Criterion, criterion_group, criterion_main};

fn film(material: Material, thickness_nm: f64, coverage: Coverage) -> Addition {
    let dopants_cm3 = [0.0; DOPANTS];
    Addition { matter: Matter::of(material), dopants_cm3, thickness_nm, coverage }
}

/// Gates and field oxide under resist with windows: 36 um with 18 mask edges, about 580 columns.
fn section() -> Section {
    let kinds = [EdgeKind::Active, EdgeKind::Gate, EdgeKind::Gate, EdgeKind::Active];
    let mut edges: Vec<(f64, EdgeKind)> = vec![(18_000.0, EdgeKind::Well)];
    for at in [4000.0, 20_000.0] {
        for (kind, step) in kinds.into_iter().zip([0.0, 3000.0, 5000.0, 8000.0]) {
            edges.push((at + step, kind));
            edges.push((at + step + 1000.0, EdgeKind::Contact));
        }
    }
    let depths = depth_edges_nm(DepthMesh::USUAL);
    let columns = column_edges_nm(36_000.0, &edges, 1.0);
    let mesh = columns.clone();
    let mut section = Section::bare(columns, depths, (Dopant::Boron, 1e15));
    let field = film(Material::ThermalOxide, 600.0, Coverage::Conformal);
    deposit(&mut section, &field);
    let resist = Matter::of(Material::Resist);
    coat(&mut section, resist, 1200.0, 500.0);
    pattern_resist(&mut section, &[(4000.0, 12_000.0), (20_000.0, 28_000.0)]);
    let oxide =
        Rates::new(&section, |matter| if matter.is_oxide() { 100.0 } else { 0.0 });
    etch_isotropic(&mut section, &oxide, 7.0);
    strip(&mut section, Material::Resist);
    deposit(&mut section, &film(Material::ThermalOxide, 20.0, Coverage::Conformal));
    deposit(&mut section, &film(Material::Polysilicon, 350.0, Coverage::Conformal));
    coat(&mut section, resist, 1200.0, 500.0);
    let gates = [(-1.0, 7000.0), (9000.0, 23_000.0), (25_000.0, 36_001.0)];
    pattern_resist(&mut section, &gates);
    let is_poly = |matter: Matter| matter.material() == Some(Material::Polysilicon);
    let poly = Rates::new(&section, |matter| if is_poly(matter) { 200.0 } else { 0.0 });
    etch_directional(&mut section, &poly, 4.0, 0.0);
    strip(&mut section, Material::Resist);
    section.join_alike(&mesh);
    section
}

fn operations(criterion: &mut Criterion) {
    let bare = section();
    assert!((550..620).contains(&bare.columns()), "the mesh of a whole flow");
    let mut time = |name: &str, start: &Section, operation: &dyn Fn(&mut Section)| {
        criterion.bench_function(name, |bencher| {
            bencher.iter_batched(
                || start.clone(),
                |mut section| {
                    operation(black_box(&mut section));
                    section
                },
                criterion::BatchSize::LargeInput,
            );
        });
    };
    let oxide = film(Material::DepositedOxide, 500.0, Coverage::Conformal);
    time("conformal film of 500 nm", &bare, &|section| {
        deposit(section, &oxide);
    });
    let share = Coverage::Directional { wall_share: 0.3 };
    let metal = film(Material::Aluminum, 500.0, share);
    time("directional film of 500 nm", &bare, &|section| {
        deposit(section, &metal);
    });
    let resist = Matter::of(Material::Resist);
    time("spun film", &bare, &|section| {
        coat(section, resist, 1200.0, 500.0);
    });
    let mut covered = bare;
    deposit(&mut covered, &oxide);
    coat(&mut covered, resist, 1200.0, 500.0);
    let windows = [
        (5000.0, 6000.0),
        (10_000.0, 11_000.0),
        (21_000.0, 22_000.0),
        (26_000.0, 27_000.0),
    ];
    pattern_resist(&mut covered, &windows);
    let wet = Rates::new(&covered, |matter| if matter.is_oxide() { 100.0 } else { 0.0 });
    time("wet etch of 500 nm with 20 % over", &covered, &|section| {
        etch_isotropic(section, &wet, 6.0);
    });
    time("dry etch of 500 nm with 10 % sideways", &covered, &|section| {
        etch_directional(section, &wet, 6.0, 0.1);
    });
    time("strip", &covered, &|section| {
        strip(section, Material::Resist);
    });
    etch_isotropic(&mut covered, &wet, 6.0);
    time("conformal film under overhangs", &covered, &|section| {
        deposit(section, &film(Material::Nitride, 150.0, Coverage::Conformal));
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default()
        .sample_size(20)
        .warm_up_time(std::time::Duration::from_millis(500))
        .measurement_time(std::time::Duration::from_secs(2));
    targets = operations
}
criterion_main!(benches);
