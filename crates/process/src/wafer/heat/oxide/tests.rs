//! Oxide on flat wafers, under masks and on polysilicon.

use super::local::{Cover, Network};
use crate::constants::SILICON_PER_OXIDE;
use crate::oxidation::{Conditions, Segment, through_segment};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, Dopant, Material};
use crate::wafer::heat::{
    DopingModel, GrowthModel, HeatSegment, HeatStep, WaferFacts, heat,
};
use crate::wafer::layer::{Layer, Matter};
use crate::wafer::section::{Section, Swept};
use crate::wafer::{DepthMesh, depth_edges_nm};

fn even(from: f64, to: f64, count: u32) -> Vec<f64> {
    (0..=count).map(|k| from + (to - from) * f64::from(k) / f64::from(count)).collect()
}

fn step(ambient: Ambient, celsius: f64, minutes: f64) -> HeatStep {
    HeatStep {
        segments: vec![HeatSegment::hold(ambient, celsius, minutes)],
        wafer: WaferFacts::default(),
        doping: DopingModel::default(),
        growth: GrowthModel::default(),
    }
}

fn film(material: Material, top_nm: f64) -> Layer {
    Layer::new(Matter::of(material), top_nm)
}

/// A bare wafer with pad oxide everywhere and nitride from `mask_nm` on, or between two places.
fn masked(edges_nm: Vec<f64>, pad_nm: f64, is_masked: impl Fn(f64) -> bool) -> Section {
    let depths_nm = depth_edges_nm(DepthMesh::USUAL);
    let mut section = Section::bare(edges_nm, depths_nm, (Dopant::Boron, 1e16));
    for i in 0..section.columns() {
        let pad = film(Material::ThermalOxide, pad_nm);
        let nitride = film(Material::Nitride, pad_nm + 150.0);
        if is_masked(section.center_nm(i)) {
            section.set_layers(i, &[pad, nitride]);
        } else {
            section.set_layers(i, &[pad]);
        }
    }
    section
}

#[test]
fn flat_oxide_is_that_of_the_growth_law() {
    for (ambient, celsius, minutes, before_nm) in [
        (Ambient::Wet, 1000.0, 120.0, 31.0),
        (Ambient::Dry, 1000.0, 45.0, 0.0),
        (Ambient::Steam, 950.0, 30.0, 0.0),
    ] {
        let depths_nm = depth_edges_nm(DepthMesh::USUAL);
        let mut section =
            Section::bare(even(0.0, 500.0, 7), depths_nm, (Dopant::Boron, 1e15));
        if 0.0 < before_nm {
            for i in 0..section.columns() {
                section.set_layers(i, &[film(Material::ThermalOxide, before_nm)]);
            }
        }
        let heated = heat(&mut section, &step(ambient, celsius, minutes));
        section.check().unwrap();
        let time = Time::min(minutes);
        let segment = Segment::hold(ambient, Temperature::celsius(celsius), time);
        let law = Conditions::default();
        let expected_um =
            through_segment(&law, &segment, Length::nm(before_nm), &[time.to_h()])[0];
        let expected_nm = Length::um(expected_um).to_nm();
        for i in 0..section.columns() {
            let thickness = section.top_nm(i) - section.silicon_top_nm(i);
            assert!((thickness / expected_nm - 1.0).abs() < 1e-6, "{thickness}");
            let consumed = SILICON_PER_OXIDE * (expected_nm - before_nm);
            assert!((-section.silicon_top_nm(i) / consumed - 1.0).abs() < 1e-6);
        }
        assert!((heated.grown_nm / (expected_nm - before_nm) - 1.0).abs() < 1e-6);
    }
}

/// Final lengths of the beak as the model has them: `make_local_oxidation.py`.
const BEAKS: &str = include_str!("../../../../../../tests/reference/local_oxidation.csv");

#[test]
fn the_beak_is_as_long_as_the_converged_one() {
    // A, B in um, um2/h; final oxide, pad; distance under the mask at which the growth is 10 and
    // 5 % of the open one; tolerance.
    let rows = BEAKS.lines().filter(|line| !line.starts_with('#')).skip(1);
    assert_eq!(rows.clone().count(), 6);
    for row in rows {
        let numbers: Vec<f64> =
            row.split(',').take(7).map(|text| text.parse().unwrap()).collect();
        let [a, b, x_final, pad, at_10, at_5, tolerance] = numbers[..] else {
            panic!("{row}")
        };
        let (a_nm, pad_nm) = (1e3 * a, 1e3 * pad);
        let mut x = even(0.0, 1000.0, 25);
        x.extend(even(1000.0, 3200.0, 110).into_iter().skip(1));
        let mask_nm = 2000.0;
        let depths_nm = depth_edges_nm(DepthMesh::USUAL);
        let mut section = Section::bare(x, depths_nm, (Dopant::Boron, 1e15));
        let columns = section.columns();
        let cover: Vec<Cover> =
            (0..columns)
                .map(|i| {
                    if section.center_nm(i) < mask_nm {
                        Cover::Gas
                    } else {
                        Cover::Nitride
                    }
                })
                .collect();
        let mut network = Network::new(&section, &cover).unwrap();
        let mut oxide_nm = vec![pad_nm; columns];
        let time_h = (x_final * x_final - pad * pad + a * (x_final - pad)) / b;
        let rates = |network: &mut Network, section: &Section, oxide_nm: &[f64]| {
            let supply = network.supply(section, oxide_nm, a_nm, a_nm).silicon;
            let rate = |(supply, x): (f64, &f64)| supply * 1e6 * b / (a_nm + 2.0 * x);
            supply.into_iter().zip(oxide_nm).map(rate).collect::<Vec<f64>>()
        };
        let count = 20;
        let at = |k: i32| {
            let share = f64::from(k) / f64::from(count);
            time_h * share * share.sqrt()
        };
        for k in 0..count {
            let dt_h = at(k + 1) - at(k);
            let first = rates(&mut network, &section, &oxide_nm);
            let guess: Vec<f64> =
                oxide_nm.iter().zip(&first).map(|(x, r)| x + dt_h * r).collect();
            let second = rates(&mut network, &section, &guess);
            for i in 0..columns {
                let grown_nm = 0.5 * dt_h * (first[i] + second[i]);
                oxide_nm[i] += grown_nm;
                let to_nm = section.silicon_top_nm(i) - SILICON_PER_OXIDE * grown_nm;
                section.lower_silicon(i, to_nm, Swept::IntoFirstCell);
            }
        }
        let open_nm = oxide_nm[0];
        assert!((open_nm / (1e3 * x_final) - 1.0).abs() < 1e-3, "{open_nm}");
        for (share, expected) in [(0.1, at_10), (0.05, at_5)] {
            let level = pad_nm + share * (open_nm - pad_nm);
            let i = (0..columns).rev().find(|&i| level < oxide_nm[i]).unwrap();
            let t = (oxide_nm[i] - level) / (oxide_nm[i] - oxide_nm[i + 1]);
            let step_nm = section.center_nm(i + 1) - section.center_nm(i);
            let beak_um = 1e-3 * (section.center_nm(i) + t * step_nm - mask_nm);
            println!("{beak_um:.4} {expected}");
            assert!((beak_um / expected - 1.0).abs() < tolerance, "{beak_um} {expected}");
        }
    }
}

#[test]
fn under_a_long_mask_the_oxidant_falls_as_it_should() {
    // On oxide of constant thickness X with D/k = A/2: exp(-m x) with m tan(m X) = 2/A.
    for (oxide_nm, a_nm) in [(10.0, 226.0), (30.0, 226.0), (100.0, 110.0)] {
        let off = |m: f64| m * crate::num::tan(m * oxide_nm) - 2.0 / a_nm;
        let m = crate::num::bisect(off, 1e-6, 1.5 / oxide_nm).unwrap();
        let x = even(0.0, 2000.0, 1000);
        let section = Section::bare(x, vec![0.0, 10.0], (Dopant::Boron, 1e15));
        let columns = section.columns();
        let cover: Vec<Cover> =
            (0..columns)
                .map(|i| {
                    if section.center_nm(i) < 1000.0 {
                        Cover::Gas
                    } else {
                        Cover::Nitride
                    }
                })
                .collect();
        let mut network = Network::new(&section, &cover).unwrap();
        let found =
            network.supply(&section, &vec![oxide_nm; columns], a_nm, a_nm).silicon;
        assert!((found[0] - 1.0).abs() < 1e-6, "{}", found[0]);
        let near = section.column_at(1000.0 + 2.0 / m);
        let far = section.column_at(1000.0 + 5.0 / m);
        let way_nm = section.center_nm(far) - section.center_nm(near);
        let slope = crate::num::ln(found[near] / found[far]) / way_nm;
        println!("{oxide_nm}: {}", slope / m);
        assert!((slope / m - 1.0).abs() < 0.01, "{} {m}", slope);
    }
}

#[test]
fn local_oxidation_is_open_far_away_lifts_the_nitride_and_mirrors() {
    let right = |x: f64| 2000.0 < x;
    let mut x = even(0.0, 1400.0, 14);
    x.extend(even(1400.0, 2800.0, 70).into_iter().skip(1));
    x.extend(even(2800.0, 5000.0, 22).into_iter().skip(1));
    let mirrored: Vec<f64> = x.iter().rev().map(|x| 5000.0 - x).collect();
    let mut section = masked(x, 31.0, right);
    let mut mirror = masked(mirrored, 31.0, |x| x < 3000.0);
    let step = step(Ambient::Wet, 1000.0, 120.0);
    let heated = heat(&mut section, &step);
    heat(&mut mirror, &step);
    section.check().unwrap();
    let time = Time::min(120.0);
    let segment = Segment::hold(Ambient::Wet, Temperature::celsius(1000.0), time);
    let law = Conditions::default();
    let open_nm =
        Length::um(through_segment(&law, &segment, Length::nm(31.0), &[time.to_h()])[0])
            .to_nm();
    let thickness = |i: usize| {
        let layers = section.layers(i);
        let oxides = layers.iter().take_while(|layer| layer.matter.is_oxide()).count();
        layers[oxides - 1].top_nm - section.silicon_top_nm(i)
    };
    assert!((thickness(0) / open_nm - 1.0).abs() < 1e-4, "{} {open_nm}", thickness(0));
    let last = section.columns() - 1;
    assert!((thickness(last) - 31.0).abs() < 0.5, "{}", thickness(last));
    assert!((0.5..1.0).contains(&(heated.beak_nm / open_nm)), "{}", heated.beak_nm);
    for i in 0..section.columns() {
        // What is there stands 0.56 of the growth higher, the nitride as thick as it was.
        let grown_nm = thickness(i) - 31.0;
        let top_nm = section.top_nm(i);
        let expected = 31.0
            + (1.0 - SILICON_PER_OXIDE) * grown_nm
            + if right(section.center_nm(i)) { 150.0 } else { 0.0 };
        assert!((top_nm - expected).abs() < 1e-9, "{i}: {top_nm} {expected}");
        let j = last - i;
        assert!((section.silicon_top_nm(i) - mirror.silicon_top_nm(j)).abs() < 1e-7);
        let cells = section.cells();
        for k in 0..cells {
            let (a, b) = (
                section.silicon_cm3(Dopant::Boron)[i * cells + k],
                mirror.silicon_cm3(Dopant::Boron)[j * cells + k],
            );
            assert!((a - b).abs() <= 1e-7 * a.max(1e10), "{i} {k}: {a} {b}");
        }
    }
    let nitride_nm2 = section.area_nm2(Material::Nitride);
    assert!((nitride_nm2 / (3000.0 * 150.0) - 1.0).abs() < 1e-9);
}

/// A block of polysilicon, 1000 nm wide and 400 nm high, on 30 nm of gate oxide.
fn gate() -> Section {
    let mut x = even(0.0, 1000.0, 50);
    x.extend(even(1000.0, 2000.0, 50).into_iter().skip(1));
    x.extend(even(2000.0, 3000.0, 50).into_iter().skip(1));
    let depths_nm = depth_edges_nm(DepthMesh::USUAL);
    let mut section = Section::bare(x, depths_nm, (Dopant::Boron, 1e15));
    let oxide = film(Material::ThermalOxide, 30.0);
    let mut poly = film(Material::Polysilicon, 430.0);
    poly.dopants_cm3[Dopant::Phosphorus as usize] = 3e17;
    for i in 0..section.columns() {
        let inside = (1000.0..2000.0).contains(&section.center_nm(i));
        let stack = [oxide, poly];
        section.set_layers(i, if inside { &stack } else { &stack[..1] });
    }
    section
}

#[test]
fn polysilicon_oxidizes_alike_on_top_and_side_walls() {
    let mut section = gate();
    let heated = heat(&mut section, &step(Ambient::Dry, 1000.0, 90.0));
    section.check().unwrap();
    let x_nm = heated.grown_on_polysilicon_nm;
    assert!((50.0..150.0).contains(&x_nm));
    // On top, in the middle.
    let middle = section.column_at(1500.0);
    let layers = section.layers(middle);
    let at = layers
        .iter()
        .position(|layer| layer.matter.material() == Some(Material::Polysilicon))
        .unwrap();
    let poly = layers[at];
    let top_nm = layers[at + 1].top_nm - poly.top_nm;
    assert!((top_nm - x_nm).abs() < 0.01, "{top_nm}");
    // At half its height.
    let z_nm = 0.5 * (section.floor_nm(middle, at) + poly.top_nm);
    let is = |i: usize| section.matter_at(i, z_nm).material();
    let edges_nm = section.edges_nm();
    let first =
        (0..section.columns()).find(|&i| is(i) == Some(Material::Polysilicon)).unwrap();
    let oxide =
        (0..section.columns()).find(|&i| is(i) == Some(Material::ThermalOxide)).unwrap();
    let wall_nm = edges_nm[first] - edges_nm[oxide];
    assert!((wall_nm - x_nm).abs() < 0.01, "wall {wall_nm}, top {x_nm}");
    let taken_nm = edges_nm[first] - 1000.0;
    assert!((taken_nm - SILICON_PER_OXIDE * x_nm).abs() < 0.01, "{taken_nm}");
    let last = (0..section.columns())
        .rev()
        .find(|&i| is(i) == Some(Material::Polysilicon))
        .unwrap();
    let width_nm = edges_nm[last + 1] - edges_nm[first];
    assert!((width_nm - (1000.0 - 2.0 * SILICON_PER_OXIDE * x_nm)).abs() < 0.02);
    // Its phosphorus is still in the layers.
    let phosphorus = section.inventory(Dopant::Phosphorus);
    assert!(phosphorus.imbalance() < 1e-12);
    // Again: the oxide that is there counts.
    let again = heat(&mut section, &step(Ambient::Dry, 1000.0, 90.0));
    section.check().unwrap();
    assert!(again.grown_on_polysilicon_nm < x_nm);
}

#[test]
fn a_split_column_changes_nothing() {
    let mut whole = masked(even(0.0, 3000.0, 150), 31.0, |x| 1500.0 < x);
    let mut split = whole.clone();
    for x_nm in [333.0, 1411.0, 1593.0, 2208.0] {
        split.split_at(x_nm);
    }
    let step = step(Ambient::Wet, 1000.0, 60.0);
    heat(&mut whole, &step);
    heat(&mut split, &step);
    for i in 0..whole.columns() {
        // The mean over all parts of the column.
        let (from, to) = (whole.edges_nm()[i], whole.edges_nm()[i + 1]);
        let parts = split.column_at(from + 1e-6)..=split.column_at(to - 1e-6);
        let b: f64 = parts
            .map(|j| split.silicon_top_nm(j) * split.width_nm(j) / (to - from))
            .sum();
        let a = whole.silicon_top_nm(i);
        assert!((a - b).abs() < 0.5, "{i}: {a} {b}");
    }
    let area = |section: &Section| section.area_nm2(Material::ThermalOxide);
    let change = area(&split) / area(&whole) - 1.0;
    assert!(change.abs() < 1e-3, "{change}");
}

#[test]
fn oxide_too_thin_for_a_layer_takes_no_dopant_from_nowhere() {
    let depths_nm = depth_edges_nm(DepthMesh::USUAL);
    let mut section =
        Section::bare(even(0.0, 500.0, 3), depths_nm, (Dopant::Boron, 1e15));
    let mut oxide = film(Material::ThermalOxide, 340.0);
    oxide.dopants_cm3[Dopant::Boron as usize] = 1e20;
    section.set_layers(0, &[oxide]);
    section.set_layers(1, &[film(Material::Nitride, 20.0)]);
    let bare_nm = section.silicon_top_nm(0);
    heat(&mut section, &step(Ambient::Dry, 389.0, 22.0));
    // It grows, but by less than a millionth of a nanometer.
    let grown_nm = bare_nm - section.silicon_top_nm(0);
    assert!(0.0 < grown_nm && grown_nm < 1e-6, "{grown_nm}");
    assert!(section.inventory(Dopant::Boron).imbalance() < 1e-14);
}
