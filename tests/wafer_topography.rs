//! Shapes of layers against exact answers: circles, walls, voids, views of the sky.

use barewafer_process::vocabulary::{Dopant, Material};
use barewafer_process::wafer::topography::{
    Addition, Coverage, Rates, Removed, ResistSurface, carve_resist, coat, deposit,
    etch_directional, etch_isotropic, pattern_resist, polish_by, polish_to, reflow,
    sky_share, strip,
};
use barewafer_process::wafer::{DOPANTS, Layer, Matter, Section};
use proptest::prelude::*;

/// A wafer of even columns from 0, 1200 nm of silicon.
fn wafer(width_nm: f64, columns: u32) -> Section {
    let edges =
        (0..=columns).map(|i| width_nm * f64::from(i) / f64::from(columns)).collect();
    let depths = (0..=200).map(|k| 6.0 * f64::from(k)).collect();
    Section::bare(edges, depths, (Dopant::Boron, 1e15))
}

fn film(material: Material, thickness_nm: f64) -> Addition {
    Addition {
        matter: Matter::of(material),
        dopants_cm3: [0.0; DOPANTS],
        thickness_nm,
        coverage: Coverage::Conformal,
    }
}

/// Rates of materials in nm/min; all others do not etch.
fn rates(section: &Section, pairs: &[(Material, f64)]) -> Rates {
    Rates::new(section, |matter| {
        pairs
            .iter()
            .find(|(material, _)| matter.material() == Some(*material))
            .map_or(0.0, |(_, rate)| *rate)
    })
}

/// Puts one layer on the columns whose middles lie between two x.
fn pile(
    section: &mut Section,
    from_nm: f64,
    to_nm: f64,
    material: Material,
    top_nm: f64,
) {
    section.split_at(from_nm);
    section.split_at(to_nm);
    for i in 0..section.columns() {
        let x = section.center_nm(i);
        if from_nm < x && x < to_nm {
            let mut layers = section.layers(i).to_vec();
            layers.push(Layer::new(Matter::of(material), top_nm));
            section.set_layers(i, &layers);
        }
    }
}

/// Height of open space under the layer that covers a place at `z_nm` and below.
fn open_below(section: &Section, x_nm: f64, z_nm: f64) -> f64 {
    let i = section.column_at(x_nm);
    let layers = section.layers(i);
    (0..layers.len())
        .find(|&k| layers[k].matter.is_open() && (layers[k].top_nm - z_nm).abs() < 1e-6)
        .map_or(0.0, |k| layers[k].top_nm - section.floor_nm(i, k))
}

fn close(actual: f64, expected: f64, tolerance: f64) {
    assert!(
        (actual - expected).abs() <= tolerance,
        "{actual} is not {expected} +- {tolerance}"
    );
}

/// Film of `film_nm` under a thin mask right of `mask_nm`.
fn masked(width_nm: f64, columns: u32, film_nm: f64, mask_nm: f64) -> Section {
    let mut section = wafer(width_nm, columns);
    deposit(&mut section, &film(Material::DepositedOxide, film_nm));
    pile(&mut section, mask_nm, width_nm, Material::Nitride, film_nm + 50.0);
    section
}

/// Largest error of the undercut's radius about the mask edge, at the columns' middles and at
/// the tip.
fn undercut_error(columns: u32) -> f64 {
    let (mask, r) = (1000.0, 300.0);
    let mut section = masked(2000.0, columns, 600.0, mask);
    let oxide = rates(&section, &[(Material::DepositedOxide, 100.0)]);
    etch_isotropic(&mut section, &oxide, r / 100.0);
    section.check().unwrap();
    let (mut worst, mut tip) = (0.0_f64, mask);
    for i in section.column_at(mask + 1e-6)..section.columns() {
        let x = section.center_nm(i);
        let height = open_below(&section, x, 600.0);
        if 0.0 < height {
            let dx = x - mask;
            worst = worst.max(((dx * dx + height * height).sqrt() - r).abs());
            tip = section.edges_nm()[i + 1];
        }
    }
    worst.max((tip - mask - r).abs())
}

#[test]
fn an_undercut_is_a_circle_about_the_mask_edge() {
    for (columns, tolerance) in [(400, 1.5), (200, 3.0), (100, 5.0)] {
        let error = undercut_error(columns);
        println!("{columns} columns: {error:.2} nm");
        assert!(error < tolerance, "{columns} columns: {error}");
    }
}

#[test]
fn an_over_etch_on_a_stop_leans_as_the_circle_does() {
    let (d, r, mask) = (400.0, 800.0, 1000.0);
    let mut section = masked(2400.0, 240, d, mask);
    let oxide = rates(&section, &[(Material::DepositedOxide, 100.0)]);
    etch_isotropic(&mut section, &oxide, r / 100.0);
    section.check().unwrap();
    let (mut top, mut bottom) = (mask, mask);
    for i in section.column_at(mask + 1e-6)..section.columns() {
        let height = open_below(&section, section.center_nm(i), d);
        if 0.0 < height {
            top = section.edges_nm()[i + 1];
        }
        // Where the circle through the first place that is not open down to the stop meets it.
        if bottom == mask && 0.0 < height && height < d - 1e-6 {
            let dx = section.center_nm(i) - mask;
            bottom = mask + (dx * dx + height * height - d * d).sqrt();
        }
    }
    println!("top {:.2}, bottom {:.2}", top - mask, bottom - mask);
    close(top - mask, 800.0, 5.0);
    close(bottom - mask, (r * r - d * d).sqrt(), 5.0);
}

#[test]
fn a_flat_stack_goes_layer_by_layer() {
    let stack = [
        (Material::ThermalOxide, 3.0, 50.0),
        (Material::Nitride, 140.0, 7.0),
        (Material::DepositedOxide, 163.7, 300.0),
        (Material::PhosphorusGlass, 1.3, 900.0),
    ];
    // One flat half, and one with a mask far away: marched and not.
    for is_masked in [false, true] {
        let mut section = wafer(2000.0, 100);
        let mut time = 0.0;
        for (material, thickness, rate) in stack {
            deposit(&mut section, &film(material, thickness));
            time += thickness / rate;
        }
        if is_masked {
            let top = section.top_nm(0) + 100.0;
            pile(&mut section, 1500.0, 2000.0, Material::Resist, top);
        }
        let all: Vec<(Material, f64)> =
            stack.iter().map(|&(material, _, rate)| (material, rate)).collect();
        // Silicon goes on for the rest of the time.
        let rest = 0.25;
        let with_silicon = [all, vec![(Material::Silicon, 200.0)]].concat();
        let etchant = rates(&section, &with_silicon);
        etch_isotropic(&mut section, &etchant, time + rest);
        section.check().unwrap();
        for x in [10.0, 600.0, 1290.0] {
            let i = section.column_at(x);
            assert!(section.layers(i).is_empty());
            close(section.silicon_top_nm(i), -50.0, 1e-9);
        }
        // The same by ions.
        let mut section = wafer(200.0, 10);
        for (material, thickness, _) in stack {
            deposit(&mut section, &film(material, thickness));
        }
        let etchant = rates(&section, &with_silicon);
        etch_directional(&mut section, &etchant, time + rest, 0.0);
        close(section.silicon_top_nm(3), -50.0, 1e-9);
    }
}

/// A step of 400 nm of polysilicon right of 600 nm, on columns of a width.
fn step(columns: u32) -> Section {
    let mut section = wafer(1200.0, columns);
    pile(&mut section, 600.0, 1200.0, Material::Polysilicon, 400.0);
    section
}

#[test]
fn a_conformal_film_is_a_circle_about_the_step_and_even_on_its_wall() {
    for columns in [240, 120, 60, 30] {
        let mut section = step(columns);
        let t = 150.0;
        deposit(&mut section, &film(Material::DepositedOxide, t));
        section.check().unwrap();
        let mut wall = 0.0_f64;
        for i in 0..section.columns() {
            let x = section.center_nm(i);
            let dx = 600.0 - x;
            let exact = if dx < 0.0 {
                400.0 + t
            } else if dx < t {
                400.0 + (t * t - dx * dx).sqrt()
            } else {
                t
            };
            close(section.top_nm(i), exact, 0.01);
            if t + 1.0 < section.top_nm(i) && x < 600.0 {
                wall = wall.max(600.0 - section.edges_nm()[i]);
            }
        }
        close(wall, t, 0.01);
        // A spacer: the flat film is etched away straight down.
        let oxide = rates(&section, &[(Material::DepositedOxide, 100.0)]);
        etch_directional(&mut section, &oxide, t / 100.0, 0.0);
        let (mut area, mut width) = (0.0, 0.0);
        for i in 0..section.columns() {
            if section.center_nm(i) < 600.0 && 1e-6 < section.top_nm(i) {
                area += section.top_nm(i) * section.width_nm(i);
                width += section.width_nm(i);
            }
        }
        let exact = 400.0 * t - t * t * (1.0 - core::f64::consts::FRAC_PI_4);
        println!("{columns}: area {:+.3} %", 100.0 * (area / exact - 1.0));
        close(width, t, 0.01);
        close(area / exact, 1.0, if columns < 60 { 0.005 } else { 0.003 });
    }
}

/// A cavity 600 wide and 400 high under a roof with a neck 200 wide.
fn bottle() -> Section {
    let mut section = wafer(1600.0, 160);
    let solid = Matter::of(Material::Nitride);
    for i in 0..section.columns() {
        let x = section.center_nm(i);
        let layers = if (500.0..1100.0).contains(&x) {
            if (700.0..900.0).contains(&x) {
                vec![]
            } else {
                vec![Layer::new(Matter::Open, 400.0), Layer::new(solid, 600.0)]
            }
        } else {
            vec![Layer::new(solid, 600.0)]
        };
        section.set_layers(i, &layers);
    }
    section
}

#[test]
fn a_bottle_keeps_the_void_that_its_neck_shuts_in() {
    let mut section = bottle();
    let added = deposit(&mut section, &film(Material::DepositedOxide, 150.0));
    section.check().unwrap();
    println!("void {:.0} nm2", added.closed_voids_nm2);
    close(added.closed_voids_nm2 / 84_292.0, 1.0, 0.03);
    // What is shut in is not filled by what comes later.
    let open = |section: &Section| -> f64 {
        (0..section.columns())
            .map(|i| {
                let layers = section.layers(i);
                let heights = (0..layers.len())
                    .filter(|&k| layers[k].matter.is_open())
                    .map(|k| layers[k].top_nm - section.floor_nm(i, k));
                heights.sum::<f64>() * section.width_nm(i)
            })
            .sum()
    };
    close(open(&section), added.closed_voids_nm2, 1e-6);
    let again = deposit(&mut section, &film(Material::PhosphorusGlass, 300.0));
    close(open(&section), added.closed_voids_nm2, 1e-6);
    close(again.closed_voids_nm2, 0.0, 1e-9);
    let coated = coat(&mut section, Matter::of(Material::Resist), 500.0, 300.0);
    close(coated.area_nm2, 500.0 * 1600.0, 500.0 * 1600.0 * 1e-9);
    close(open(&section), added.closed_voids_nm2, 1e-6);
}

#[test]
fn a_trench_with_upright_walls_fills_without_a_void() {
    let mut section = bottle();
    // The roof goes: a trench 600 wide; beside it a bottle's rest would need looks.
    for i in 0..section.columns() {
        let x = section.center_nm(i);
        if (500.0..1100.0).contains(&x) {
            section.set_layers(i, &[]);
        }
    }
    for thickness in [300.0, 301.0, 420.0] {
        let mut section = section.clone();
        let added = deposit(&mut section, &film(Material::DepositedOxide, thickness));
        close(added.closed_voids_nm2, 0.0, 1e-9);
        let open = (0..section.columns())
            .any(|i| section.layers(i).iter().any(|layer| layer.matter.is_open()));
        assert!(!open, "{thickness}");
    }
    // The same with an overhang elsewhere, so that the film is looked at on its way.
    let roof = Matter::of(Material::Nitride);
    for i in 0..section.columns() {
        if section.center_nm(i) < 200.0 {
            let oxide = Layer::new(Matter::of(Material::ThermalOxide), 100.0);
            let gap = Layer::new(Matter::Open, 2000.0);
            let layers = [oxide, gap, Layer::new(roof, 2100.0)];
            let is_post = section.center_nm(i) < 20.0;
            section.set_layers(i, if is_post { &layers[2..] } else { &layers });
        }
    }
    let added = deposit(&mut section, &film(Material::DepositedOxide, 301.0));
    section.check().unwrap();
    close(added.closed_voids_nm2, 0.0, 1e-9);
}

#[test]
fn a_hole_sees_its_share_of_the_sky() {
    // 1000 wide, 800 deep; columns of 1 nm at the corner.
    let mut section = wafer(2000.0, 2000);
    for i in 0..section.columns() {
        let x = section.center_nm(i);
        if !(500.0..1500.0).contains(&x) {
            section.set_layers(i, &[Layer::new(Matter::of(Material::Nitride), 800.0)]);
        }
    }
    let middle = sky_share(&section, section.column_at(1000.0));
    close(middle, 500.0 / (500.0_f64 * 500.0 + 800.0 * 800.0).sqrt(), 1e-3);
    close(middle, 0.5300, 1e-3);
    // At the foot of the wall: half of what the far wall leaves, and a little for half a column.
    close(sky_share(&section, section.column_at(500.5)), 0.3909, 1e-3);
    close(sky_share(&section, section.column_at(100.0)), 1.0, 1e-12);
}

#[test]
fn a_directional_film_is_thin_on_walls_and_in_holes() {
    let mut section = step(120);
    let t = 100.0;
    let share = 0.3;
    let before: Vec<f64> = (0..section.columns())
        .map(|i| share + (1.0 - share) * sky_share(&section, i))
        .collect();
    let far = section.column_at(5.0);
    let coverage = Coverage::Directional { wall_share: share };
    let metal = Addition { coverage, ..film(Material::Aluminum, t) };
    deposit(&mut section, &metal);
    section.check().unwrap();
    close(section.top_nm(section.column_at(1000.0)), 500.0, 1e-9);
    close(section.top_nm(far), t * before[far], 1e-9);
    // Beside the wall the film stands as high as the step.
    let i = section.column_at(600.0 - share * t + 0.01);
    assert!(400.0 < section.top_nm(i));
    let i = section.column_at(600.0 - share * t - 0.01);
    assert!(section.top_nm(i) < t);
    // A beam leaves the wall bare.
    let mut section = step(120);
    deposit(&mut section, &Addition { coverage: Coverage::Beam, ..metal });
    close(section.top_nm(section.column_at(599.0)), t, 1e-9);
    close(section.top_nm(section.column_at(601.0)), 400.0 + t, 1e-9);
}

#[test]
fn a_wall_that_ions_bare_recedes_as_the_envelope_says() {
    use barewafer_process::etching::dry::lateral_nm;
    let (d, mask, share) = (600.0, 1000.0, 0.25);
    let mut section = masked(2000.0, 200, d, mask);
    let oxide = rates(&section, &[(Material::DepositedOxide, 100.0)]);
    let front = 500.0;
    etch_directional(&mut section, &oxide, front / 100.0, share);
    section.check().unwrap();
    close(section.top_nm(section.column_at(200.0)), d - front, 1e-9);
    let mut worst = 0.0_f64;
    for i in section.column_at(mask + 1e-6)..section.columns() {
        let x = section.center_nm(i);
        let height = open_below(&section, x, d);
        if 0.0 < height {
            worst = worst.max((lateral_nm(front, 1.0 - share, height) + mask - x).abs());
        }
    }
    println!("lateral error {worst:.2} nm");
    assert!(worst < 4.0, "{worst}");
}

#[test]
fn resist_opens_with_upright_and_with_leaning_walls() {
    let mut section = wafer(4000.0, 40);
    let resist = Matter::of(Material::Resist);
    coat(&mut section, resist, 1000.0, 500.0);
    let mut upright = section.clone();
    let removed = pattern_resist(&mut upright, &[(1033.0, 2077.0)]);
    upright.check().unwrap();
    close(removed.of(Material::Resist), 1044.0 * 1000.0, 1e-3);
    close(upright.top_nm(upright.column_at(1034.0)), 0.0, 1e-12);
    close(upright.top_nm(upright.column_at(1032.0)), 1000.0, 1e-6);
    // Full, a wall from 1000 to 1080, bare, an upright wall at 2000; 20 nm thinner on the right.
    let surface = ResistSurface {
        film_nm: 1000.0,
        points: vec![
            (900.0, 1000.0),
            (1000.0, 1000.0),
            (1080.0, 0.0),
            (2000.0, 0.0),
            (2000.0, 980.0),
        ],
    };
    let removed = carve_resist(&mut section, &surface);
    section.check().unwrap();
    let exact = 40.0 * 1000.0 + 920.0 * 1000.0 + 2000.0 * 20.0;
    close(removed.of(Material::Resist) / exact, 1.0, 1e-9);
    for (x, height) in [(995.0, 1000.0), (1005.0, 937.5), (1075.0, 62.5), (3000.0, 980.0)]
    {
        close(section.top_nm(section.column_at(x)), height, 1e-6);
    }
}

#[test]
fn a_strip_takes_what_it_reaches_and_what_hung_on_it() {
    let mut section = wafer(1000.0, 100);
    pile(&mut section, 200.0, 400.0, Material::Resist, 300.0);
    pile(&mut section, 600.0, 800.0, Material::Resist, 300.0);
    let beam = Addition { coverage: Coverage::Beam, ..film(Material::Aluminum, 100.0) };
    deposit(&mut section, &beam);
    // Lift-off: the metal on the resist goes with it.
    let lifted = strip(&mut section, Material::Resist);
    section.check().unwrap();
    close(lifted.of(Material::Resist), 400.0 * 300.0, 1e-6);
    assert_eq!(lifted.lifted_nm2.len(), 1);
    close(lifted.lifted_nm2[0].1, 400.0 * 100.0, 1e-6);
    close(section.top_nm(section.column_at(300.0)), 0.0, 1e-12);
    close(section.top_nm(section.column_at(500.0)), 100.0, 1e-12);
    // Under a closed film nothing is reached.
    pile(&mut section, 250.0, 350.0, Material::Resist, 50.0);
    deposit(&mut section, &film(Material::DepositedOxide, 40.0));
    let kept = strip(&mut section, Material::Resist);
    close(kept.unreached_nm2, 100.0 * 50.0, 1e-6);
    assert!(kept.area_nm2.is_empty());
}

#[test]
fn a_plane_comes_down_and_liquids_keep_their_area() {
    let mut section = step(60);
    let flat = 800.0;
    let glass = Matter::of(Material::PhosphorusGlass);
    let coated = coat(&mut section, glass, flat, 400.0);
    section.check().unwrap();
    close(coated.area_nm2 / (flat * 1200.0), 1.0, 1e-9);
    close(section.area_nm2(Material::PhosphorusGlass) / (flat * 1200.0), 1.0, 1e-9);
    // Thinner over the step, and level far less than 400 nm high.
    let height =
        |section: &Section| section.top_nm(section.columns() - 1) - section.top_nm(0);
    assert!((0.0..350.0).contains(&height(&section)), "{}", height(&section));
    let before = height(&section);
    reflow(&mut section, Material::PhosphorusGlass, 300.0);
    section.check().unwrap();
    close(section.area_nm2(Material::PhosphorusGlass) / (flat * 1200.0), 1.0, 1e-9);
    assert!(height(&section) < before);
    let removed = polish_to(&mut section, 500.0);
    close(removed.area_nm2[0].1 / (flat * 1200.0 + 600.0 * 400.0 - 600_000.0), 1.0, 1e-9);
    let removed = polish_by(&mut section, 200.0);
    close(removed.of(Material::Polysilicon), 100.0 * 600.0, 1e-6);
    section.check().unwrap();
    // A film thinner than it wets, and one on flat ground.
    let mut section = wafer(500.0, 20);
    coat(&mut section, Matter::of(Material::Resist), 1.0, 100.0);
    close(section.top_nm(7), 1.0, 1e-9);
}

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

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_operation_keeps_its_books(
        parts in parts(), undercut in 0.0..150.0_f64, kind in 0..10_usize, size in 2.0..200.0_f64,
    ) {
        let mut section = grown(&parts, undercut);
        section.check().unwrap();
        let before = solid_nm2(&section);
        let width: f64 = (0..section.columns()).map(|i| section.width_nm(i)).sum();
        let change = operate(&mut section, kind, size);
        section.check().unwrap();
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
        prop_assert!(error < 1e-9, "{error}");
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
        // What can differ is what was seen of a curved surface at one place and is seen at two.
        let height = 3.0 * size + 100.0;
        prop_assert!((a - b).abs() <= 2.0 * width * height.min(400.0), "{a} {b}");
        prop_assert!(
            (solid_nm2(&whole) - solid_nm2(&split)).abs() <= 2.0 * width * height.min(400.0)
        );
    }
}
