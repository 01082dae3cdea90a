//! What holds for every operation on random sections: the books balance, films leave what is
//! there, a mirror image stays one, a flat wafer stays flat.

use barewafer_process::vocabulary::{Dopant, Material};
use barewafer_process::wafer::topography::{
    Addition, Coverage, Removed, coat, deposit, etch_directional, etch_isotropic,
    pattern_resist, polish_by, reflow, strip,
};
use barewafer_process::wafer::{Matter, Section};
use barewafer_tests::shapes::{film, rates, wafer};
use proptest::prelude::*;

/// A layer of a random section: what, how thick in nm, and between which parts of the width.
type Part = (Material, f64, f64, f64);

const WIDTH_NM: f64 = 1000.0;

/// A section with films, steps, windows and an undercut, made as a flow makes it.
fn grown(parts: &[Part], undercut_nm: f64) -> Section {
    let mut section = wafer(WIDTH_NM, 50);
    for &(material, thickness, from, to) in parts {
        if to < from {
            deposit(&mut section, &film(material, thickness));
        } else {
            let open = [(-1.0, from * WIDTH_NM), (to * WIDTH_NM, WIDTH_NM + 1.0)];
            coat(&mut section, Matter::of(Material::Resist), thickness, 50.0);
            pattern_resist(&mut section, &open);
        }
    }
    if 1.0 < undercut_nm {
        let etchant = rates(&section, &[(Material::DepositedOxide, 100.0)]);
        etch_isotropic(&mut section, &etchant, undercut_nm / 100.0);
    }
    section
}

/// The mirror image of a section without its dopant mesh's history.
fn mirrored(section: &Section) -> Section {
    let edges: Vec<f64> = section.edges_nm().iter().rev().map(|x| WIDTH_NM - x).collect();
    let depths = section.depths_nm().to_vec();
    let mut mirror = Section::bare(edges, depths, (Dopant::Boron, 1e15));
    let last = section.columns() - 1;
    for i in 0..=last {
        let to = section.silicon_top_nm(last - i);
        mirror.lower_silicon(i, to, barewafer_process::wafer::Swept::Removed);
        mirror.set_layers(i, section.layers(last - i));
    }
    mirror
}

const MATERIALS: [Material; 4] = [
    Material::DepositedOxide,
    Material::Nitride,
    Material::Polysilicon,
    Material::PhosphorusGlass,
];

fn parts() -> impl Strategy<Value = Vec<Part>> {
    let part = (0..MATERIALS.len(), 3.0..220.0_f64, 0.0..1.0_f64, 0.0..1.0_f64)
        .prop_map(|(which, thickness, from, to)| (MATERIALS[which], thickness, from, to));
    proptest::collection::vec(part, 1..6)
}

/// Any operation, by number.
fn operate(section: &mut Section, kind: usize, size: f64) -> f64 {
    let etchant = rates(
        section,
        &[
            (Material::DepositedOxide, 100.0),
            (Material::PhosphorusGlass, 300.0),
            (Material::Polysilicon, 20.0),
            (Material::Silicon, 20.0),
            (Material::Resist, 1.0),
        ],
    );
    let sum = |removed: Removed| {
        let all = removed.area_nm2.iter().chain(&removed.lifted_nm2);
        -all.map(|(_, area)| area).sum::<f64>()
    };
    let with = |coverage| Addition { coverage, ..film(Material::Aluminum, size) };
    match kind {
        0 => deposit(section, &film(Material::DepositedOxide, size)).area_nm2,
        1 => deposit(section, &with(Coverage::Directional { wall_share: 0.4 })).area_nm2,
        2 => deposit(section, &with(Coverage::Beam)).area_nm2,
        3 => coat(section, Matter::of(Material::Resist), 2.0 * size, 80.0).area_nm2,
        4 => sum(etch_isotropic(section, &etchant, size / 100.0)),
        5 => sum(etch_directional(section, &etchant, size / 100.0, 0.0)),
        6 => sum(etch_directional(section, &etchant, size / 100.0, 0.2)),
        7 => sum(strip(section, Material::Resist)),
        8 => sum(polish_by(section, size)),
        _ => {
            reflow(section, Material::DepositedOxide, size);
            0.0
        }
    }
}

fn solid_nm2(section: &Section) -> f64 {
    Material::ALL.iter().map(|&material| section.area_nm2(material)).sum()
}

/// Largest difference between two sections in what is where, in nm of height.
fn difference(a: &Section, b: &Section) -> f64 {
    let mut edges: Vec<f64> = [a.edges_nm(), b.edges_nm()].concat();
    edges.sort_by(f64::total_cmp);
    let mut worst = 0.0_f64;
    for pair in edges.windows(2) {
        if pair[1] - pair[0] < 1e-6 {
            continue;
        }
        let x = 0.5 * (pair[0] + pair[1]);
        let (i, j) = (a.column_at(x), b.column_at(x));
        let mut faces: Vec<f64> = vec![a.silicon_top_nm(i), b.silicon_top_nm(j)];
        faces.extend(a.layers(i).iter().chain(b.layers(j)).map(|layer| layer.top_nm));
        faces.sort_by(f64::total_cmp);
        for z in faces.windows(2) {
            let middle = 0.5 * (z[0] + z[1]);
            if a.matter_at(i, middle) != b.matter_at(j, middle) {
                worst = worst.max(z[1] - z[0]);
            }
        }
    }
    worst
}

/// Random sections for every property, unless `BAREWAFER_SHAPE_CASES` says otherwise.
const CASES: u32 = 96;

fn config() -> ProptestConfig {
    let asked = std::env::var("BAREWAFER_SHAPE_CASES");
    let cases = asked.ok().and_then(|text| text.parse().ok()).unwrap_or(CASES);
    ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(cases) }
}

proptest! {
    #![proptest_config(config())]

    #[test]
    fn every_operation_keeps_its_books(
        parts in parts(), undercut in 0.0..150.0_f64, kind in 0..10_usize, size in 2.0..200.0_f64,
    ) {
        let mut section = grown(&parts, undercut);
        assert_eq!(section.check(), Ok(()));
        let before = solid_nm2(&section);
        let width: f64 = (0..section.columns()).map(|i| section.width_nm(i)).sum();
        let change = operate(&mut section, kind, size);
        assert_eq!(section.check(), Ok(()));
        let after = solid_nm2(&section);
        prop_assert!(
            (after - before - change).abs() <= 1e-9 * before,
            "{} {}", after - before, change
        );
        let now: f64 = (0..section.columns()).map(|i| section.width_nm(i)).sum();
        prop_assert!((now - width).abs() < 1e-9 * width);
        let narrowest = (0..section.columns())
            .map(|i| section.width_nm(i))
            .fold(f64::INFINITY, f64::min);
        prop_assert!(0.3 < narrowest, "{narrowest}");
    }

    #[test]
    fn a_film_leaves_every_solid_and_every_closed_void(
        parts in parts(), undercut in 0.0..150.0_f64, kind in 0..4_usize, size in 2.0..200.0_f64,
    ) {
        let before = grown(&parts, undercut);
        let mut after = before.clone();
        operate(&mut after, kind, size);
        for j in 0..after.columns() {
            let i = before.column_at(after.center_nm(j));
            prop_assert!((before.silicon_top_nm(i) - after.silicon_top_nm(j)).abs() < 1e-12);
            for (k, layer) in before.layers(i).iter().enumerate() {
                let middle = 0.5 * (before.floor_nm(i, k) + layer.top_nm);
                if !layer.matter.is_open() {
                    prop_assert_eq!(after.matter_at(j, middle), layer.matter);
                }
            }
        }
    }

    #[test]
    fn no_rate_changes_nothing(parts in parts(), undercut in 0.0..150.0_f64) {
        let before = grown(&parts, undercut);
        let none = rates(&before, &[]);
        let mut after = before.clone();
        etch_isotropic(&mut after, &none, 10.0);
        prop_assert_eq!(&after, &before);
        etch_directional(&mut after, &none, 10.0, 0.3);
        prop_assert_eq!(&after, &before);
        deposit(&mut after, &film(Material::Aluminum, 0.0));
        prop_assert_eq!(&after, &before);
    }

    #[test]
    fn a_mirror_image_becomes_the_mirror_image(
        parts in parts(), undercut in 0.0..150.0_f64, kind in 0..10_usize, size in 2.0..200.0_f64,
    ) {
        let mut section = grown(&parts, undercut);
        let mut mirror = mirrored(&section);
        prop_assert!(difference(&mirrored(&section), &mirror) < 1e-9);
        operate(&mut section, kind, size);
        operate(&mut mirror, kind, size);
        let error = difference(&mirrored(&section), &mirror);
        prop_assert!(error < 1e-9 * WIDTH_NM, "{error}");
    }

    #[test]
    fn a_flat_wafer_stays_flat_and_takes_what_one_column_takes(
        thicknesses in proptest::collection::vec((0..4_usize, 2.0..200.0_f64), 1..5),
        kind in 0..10_usize, size in 2.0..300.0_f64,
    ) {
        let pile_up = |mut section: Section| {
            for &(which, thickness) in &thicknesses {
                deposit(&mut section, &film(MATERIALS[which], thickness));
            }
            operate(&mut section, kind, size);
            section
        };
        let (many, one) = (pile_up(wafer(WIDTH_NM, 40)), pile_up(wafer(WIDTH_NM, 1)));
        for i in 0..many.columns() {
            prop_assert!((many.silicon_top_nm(i) - one.silicon_top_nm(0)).abs() < 1e-9);
            prop_assert_eq!(many.layers(i).len(), one.layers(0).len());
            for (a, b) in many.layers(i).iter().zip(one.layers(0)) {
                prop_assert_eq!(a.matter, b.matter);
                prop_assert!((a.top_nm - b.top_nm).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_column_in_two_changes_nothing_measurable(
        parts in parts(), undercut in 0.0..150.0_f64, kind in 0..10_usize, size in 2.0..200.0_f64,
        place in 0.0..1.0_f64,
    ) {
        let mut whole = grown(&parts, undercut);
        let mut split = whole.clone();
        // The middle of a column, so that the halves are mirror images.
        let i = whole.column_at(place * WIDTH_NM);
        prop_assume!(split.split_at(whole.center_nm(i)));
        let width = whole.width_nm(i);
        let a = operate(&mut whole, kind, size);
        let b = operate(&mut split, kind, size);
        // What can differ is what was seen of a curved surface at one place and is seen at two:
        // within one column, and no higher than the operation reaches.
        let reach = match kind {
            0..=3 => size,
            4..=6 => 3.0 * size,
            _ => 1e-6,
        };
        prop_assert!((a - b).abs() <= width * reach, "{a} {b}");
        prop_assert!((solid_nm2(&whole) - solid_nm2(&split)).abs() <= width * reach);
    }
}
