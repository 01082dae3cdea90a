//! Shapes of layers against exact answers: circles, walls, voids, views of the sky.

use barewafer_process::vocabulary::{Dopant, Material};
use barewafer_process::wafer::topography::{
    Addition, Coverage, ResistSurface, carve_resist, coat, deposit, etch_directional,
    etch_isotropic, pattern_resist, polish_by, polish_to, reflow, sky_share, strip,
};
use barewafer_process::wafer::{Layer, Matter, Section};
use barewafer_tests::shapes::{film, rates, wafer};

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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
    let (mut top, mut bottom) = (mask, None);
    for i in section.column_at(mask + 1e-6)..section.columns() {
        let height = open_below(&section, section.center_nm(i), d);
        if 0.0 < height {
            top = section.edges_nm()[i + 1];
        }
        // Where the circle through the first place that is not open down to the stop meets it.
        if bottom.is_none() && 0.0 < height && height < d - 1e-6 {
            let dx = section.center_nm(i) - mask;
            bottom = Some(mask + (dx * dx + height * height - d * d).sqrt());
        }
    }
    let bottom = bottom.unwrap();
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
        assert_eq!(section.check(), Ok(()));
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
        assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
    close(section.top_nm(section.column_at(1000.0)), 500.0, 1e-9);
    close(section.top_nm(far), t * before[far], 1e-9);
    // Beside the wall, which sees half of the sky, the film stands as high as the step.
    let wall = (share + (1.0 - share) * 0.5) * t;
    let i = section.column_at(600.0 - wall + 0.01);
    assert!(400.0 < section.top_nm(i));
    let i = section.column_at(600.0 - wall - 0.01);
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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(upright.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
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
    assert_eq!(section.check(), Ok(()));
    close(coated.area_nm2 / (flat * 1200.0), 1.0, 1e-9);
    close(section.area_nm2(Material::PhosphorusGlass) / (flat * 1200.0), 1.0, 1e-9);
    // Thinner over the step, and level far less than 400 nm high.
    let height =
        |section: &Section| section.top_nm(section.columns() - 1) - section.top_nm(0);
    assert!((0.0..350.0).contains(&height(&section)), "{}", height(&section));
    let before = height(&section);
    reflow(&mut section, Material::PhosphorusGlass, 300.0);
    assert_eq!(section.check(), Ok(()));
    close(section.area_nm2(Material::PhosphorusGlass) / (flat * 1200.0), 1.0, 1e-9);
    assert!(height(&section) < before);
    let removed = polish_to(&mut section, 500.0);
    close(removed.area_nm2[0].1 / (flat * 1200.0 + 600.0 * 400.0 - 600_000.0), 1.0, 1e-9);
    let removed = polish_by(&mut section, 200.0);
    close(removed.of(Material::Polysilicon), 100.0 * 600.0, 1e-6);
    assert_eq!(section.check(), Ok(()));
    // A film thinner than it wets, and one on flat ground.
    let mut section = wafer(500.0, 20);
    coat(&mut section, Matter::of(Material::Resist), 1.0, 100.0);
    close(section.top_nm(7), 1.0, 1e-9);
}

#[test]
fn silicon_is_undercut_like_a_film_and_takes_its_dopants_along() {
    // A mask right of 600 nm; 200 nm of silicon go, the circle's quarter under the mask.
    let mut section = wafer(1200.0, 120);
    deposit(&mut section, &film(Material::Nitride, 50.0));
    let nitride = rates(&section, &[(Material::Nitride, 10.0)]);
    let mut window = section.clone();
    coat(&mut window, Matter::of(Material::Resist), 300.0, 10.0);
    pattern_resist(&mut window, &[(-1.0, 600.0)]);
    etch_directional(&mut window, &nitride, 6.0, 0.0);
    strip(&mut window, Material::Resist);
    section = window;
    let silicon = rates(&section, &[(Material::Silicon, 100.0)]);
    let removed = etch_isotropic(&mut section, &silicon, 2.0);
    assert_eq!(section.check(), Ok(()));
    close(section.silicon_top_nm(0), -200.0, 1e-9);
    let mut worst = 0.0_f64;
    for i in 60..section.columns() {
        let dx = section.center_nm(i) - 600.0;
        let exact = (200.0_f64 * 200.0 - dx * dx).max(0.0).sqrt();
        worst = worst.max((section.silicon_top_nm(i) + exact).abs());
    }
    assert!(worst < 0.01, "{worst}");
    let quarter = core::f64::consts::FRAC_PI_4 * 200.0 * 200.0;
    close(removed.of(Material::Silicon) / (600.0 * 200.0 + quarter), 1.0, 1e-3);
    // 1e15 per cm3 in that area: 1 nm2 is 1e-14 cm2.
    let boron = section.inventory(Dopant::Boron);
    close(boron.removed_cm / (removed.of(Material::Silicon) * 1e-14 * 1e15), 1.0, 1e-9);
}

#[test]
fn a_thin_layer_is_undercut_although_no_level_lies_in_it_by_itself() {
    // 4 nm of oxide between silicon and a mask: the same way sideways as in a thick one.
    let mut section = masked(1600.0, 160, 4.0, 800.0);
    let oxide = rates(&section, &[(Material::DepositedOxide, 50.0)]);
    etch_isotropic(&mut section, &oxide, 3.0);
    assert_eq!(section.check(), Ok(()));
    let reach = (0..section.columns())
        .filter(|&i| open_below(&section, section.center_nm(i), 4.0) > 3.9)
        .map(|i| section.edges_nm()[i + 1])
        .fold(0.0, f64::max);
    close(reach - 800.0, 150.0, 0.05);
}

#[test]
fn an_etch_breaks_through_and_spreads_below() {
    // A slow cap with a window's worth of time to break through, a fast film below it under a
    // mask: what is left of the time, sideways.
    let mut section = wafer(1600.0, 160);
    deposit(&mut section, &film(Material::PhosphorusGlass, 100.0));
    deposit(&mut section, &film(Material::DepositedOxide, 50.0));
    pile(&mut section, 800.0, 1600.0, Material::Nitride, 400.0);
    let etchant = rates(
        &section,
        &[(Material::DepositedOxide, 10.0), (Material::PhosphorusGlass, 100.0)],
    );
    etch_isotropic(&mut section, &etchant, 7.0);
    assert_eq!(section.check(), Ok(()));
    // 5 min through the cap, 2 min in the glass from the mask's edge: 200 nm at its top, and
    // sqrt(200^2 - 100^2) at the stop.
    let wall = |z: f64| {
        (0..section.columns())
            .filter(|&i| section.matter_at(i, z) == Matter::Open || section.top_nm(i) < z)
            .map(|i| section.edges_nm()[i + 1])
            .fold(0.0, f64::max)
    };
    println!("{} {}", wall(99.0), wall(0.5));
    close(wall(99.0) - 800.0, 200.0, 5.0);
    close(wall(0.5) - 800.0, 173.2, 10.0);
}

#[test]
fn a_wall_of_a_third_of_the_film_gets_an_edge_and_a_lower_one_none() {
    for (step_nm, has_edge) in [(100.0, true), (50.0, false)] {
        let mut section = wafer(2000.0, 100);
        pile(&mut section, 0.0, 1003.0, Material::Nitride, step_nm);
        deposit(&mut section, &film(Material::DepositedOxide, 300.0));
        let found = section.edges_nm().iter().any(|x| (x - 1303.0).abs() < 1e-6);
        assert_eq!(found, has_edge, "{step_nm}");
    }
}

#[test]
fn a_liquid_wets_what_it_cannot_cover() {
    let mut section = wafer(4000.0, 100);
    pile(&mut section, 1900.0, 2100.0, Material::Nitride, 1500.0);
    coat(&mut section, Matter::of(Material::Resist), 200.0, 2000.0);
    let i = section.column_at(2000.0);
    let film_nm = section.top_nm(i) - 1500.0;
    close(film_nm, 2.0, 1e-9);
}
