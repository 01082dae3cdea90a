//! What an implant does beside placing ions: damage, masks, activation, the spread of tables.

use barewafer_tests::implants::{
    area, at_path, close, codes, implant, number, numbers, results,
};
use serde_json::{Value, json};

/// The bell of the damage holds as much of the energy above a depth as the single ions do.
#[test]
fn every_row_of_the_damage_table_is_met() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/reference/implant_damage.csv");
    let mut rows =
        csv::ReaderBuilder::new().comment(Some(b'#')).from_path(path).expect("the table");
    let mut count = 0;
    for row in rows.records() {
        let row = row.expect("a row");
        let at = |i: usize| row[i].parse::<f64>().expect("a number");
        let ours = results(json!({
            "dopant": &row[1], "energy_kev": at(2), "tilt_deg": 0, "dose_cm2": 1e13,
        }));
        let depth_um = numbers(&ours["damage"]["depth_um"]);
        let energy = numbers(&ours["damage"]["energy_ev_cm3"]);
        let whole = area(&depth_um, &energy);
        let above: f64 = depth_um
            .windows(2)
            .zip(energy.windows(2))
            .map(|(x, y)| {
                let reached = ((1e-3 * at(4) - x[0]) / (x[1] - x[0])).clamp(0.0, 1.0);
                let here = y[0] + reached * (y[1] - y[0]);
                0.5 * reached * (x[1] - x[0]) * (y[0] + here)
            })
            .sum();
        let off = (above / whole - at(3)).abs();
        assert_eq!(off <= at(5), row[6].is_empty(), "{row:?}: off by {off}");
        // Nothing of the energy is missing from the curve.
        close(1e-4 * whole, 1e13 * at_path(&ours, "damage/nuclear_energy_ev"), 2e-3);
        count += 1;
    }
    assert_eq!(count, 45, "every row is run");
}

#[test]
fn the_other_range_table_is_what_it_gives_when_chosen() {
    for dopant in ["boron", "phosphorus", "arsenic", "antimony", "bf2"] {
        for (table, other) in [("gibbons_1975", "computed"), ("computed", "gibbons_1975")]
        {
            let with = |table: &str| {
                results(json!({
                    "dopant": dopant, "energy_kev": 80, "range_table": table,
                    "through": [{"material": "thermal_oxide", "thickness_nm": 20}],
                }))
            };
            let (ours, theirs) = (with(table), with(other));
            let spread = &ours["spread"];
            assert_eq!(spread["range_table"], other);
            for name in [
                "projected_range_nm",
                "straggle_nm",
                "peak_cm3",
                "peak_depth_nm",
                "junction_depth_um",
                "transmitted_fraction",
            ] {
                assert_eq!(spread[name], theirs[name], "{dopant}: {name}");
            }
            assert_eq!(spread["profile"], theirs["stack_profile"]);
        }
    }
    // Above its last row, for indium and with given moments there is no second opinion.
    for request in [
        json!({"dopant": "boron", "energy_kev": 300, "range_table": "computed"}),
        json!({"dopant": "indium", "energy_kev": 100}),
        json!({"dopant": "boron", "energy_kev": 100,
               "moments": {"projected_range_nm": 300, "straggle_nm": 70}}),
    ] {
        assert_eq!(results(request)["spread"], Value::Null);
    }
}

#[test]
fn indium_lies_between_its_neighbors_in_mass() {
    let at = |dopant: &str, energy_kev: f64| {
        implant(json!({"dopant": dopant, "energy_kev": energy_kev}))
    };
    for energy_kev in [20.0, 55.0, 190.0, 400.0] {
        let range = |dopant: &str| {
            let request = json!({"dopant": dopant, "energy_kev": energy_kev, "range_table": "computed"});
            number(&results(request), "projected_range_nm")
        };
        assert!(range("indium") < range("arsenic"));
        close(range("indium"), range("antimony"), 0.06);
    }
    let report = at("indium", 100.0);
    assert!(codes(&report).contains(&"range_table_substituted"));
    assert!(report.hazards.contains(&"HEAT"));
    assert!(report.results.to_value()["profile"]["indium_cm3"].is_array());
}

#[test]
fn each_mask_lets_pass_what_is_allowed() {
    for dopant in ["boron", "arsenic"] {
        for (model, leak) in [("gaussian", 1e-3), ("gaussian", 1e-5), ("pearson", 1e-4)] {
            let request = json!({
                "dopant": dopant, "energy_kev": 60, "model": model, "mask_leak": leak,
                "range_table": "computed",
            });
            for mask in results(request.clone())["masks"].as_array().expect("masks") {
                let mut through = request.clone();
                through["through"] = json!([{
                    "material": mask["material"], "thickness_nm": mask["thickness_nm"],
                }]);
                let passed = number(&results(through), "transmitted_fraction");
                // With a Pearson curve the wider of it and a Gaussian decides.
                assert!(passed <= leak * 1.000_001, "{mask}: {passed}");
                if model == "gaussian" {
                    close(passed, leak, 1e-6);
                }
            }
        }
    }
}

#[test]
fn rotation_turns_the_shadow_and_nothing_else_on_a_flat_surface() {
    let at = |rotation_deg: f64| {
        results(json!({
            "dopant": "phosphorus", "energy_kev": 80, "tilt_deg": 30,
            "rotation_deg": rotation_deg,
        }))
    };
    let (mut front, mut back) = (at(0.0), at(180.0));
    close(number(&front, "shadow_per_height"), 0.577_350_269, 1e-8);
    close(number(&back, "shadow_per_height"), -0.577_350_269, 1e-8);
    front["shadow_per_height"] = Value::Null;
    back["shadow_per_height"] = Value::Null;
    assert_eq!(front, back);
}

#[test]
fn damage_of_a_molecule_is_that_of_its_atoms() {
    // Boron and fluorine at one speed give more energy to nuclei, and deeper fluorine more of
    // it, than boron alone.
    let bf2 = results(json!({"dopant": "bf2", "energy_kev": 49.006, "dose_cm2": 3e15}));
    let boron =
        results(json!({"dopant": "boron", "energy_kev": 11.009, "dose_cm2": 3e15}));
    let energy = |of: &Value| at_path(of, "damage/nuclear_energy_ev");
    assert!(2.0 * energy(&boron) < energy(&bf2) && energy(&bf2) < 49_006.0);
    close(at_path(&bf2, "fluorine/dose_cm2"), 6e15, 1e-12);
    close(at_path(&bf2, "fluorine/energy_kev"), 18.9985, 1e-9);
    assert!(bf2["amorphous_depth_nm"].is_number(), "3e15 amorphizes");
    assert_eq!(boron["amorphous_depth_nm"], Value::Null);
    assert_eq!(boron["fluorine"], Value::Null);
}

#[test]
fn an_amorphous_layer_grows_deeper_with_dose_and_thinner_below_a_layer() {
    let depth = |dose_cm2: f64, oxide_nm: f64| {
        let ours = results(json!({
            "dopant": "arsenic", "energy_kev": 100, "dose_cm2": dose_cm2,
            "through": [{"material": "thermal_oxide", "thickness_nm": oxide_nm}],
        }));
        ours["amorphous_depth_nm"].as_f64().unwrap_or(0.0)
    };
    assert!(depth(5e14, 0.0) < depth(1e15, 0.0) && depth(1e15, 0.0) < depth(5e15, 0.0));
    assert!(depth(1e15, 20.0) < depth(1e15, 0.0));
    assert_eq!(depth(5e13, 0.0).to_bits(), 0.0_f64.to_bits());
}

#[test]
fn a_furnace_activates_more_when_hotter_and_less_above_the_limit() {
    let active = |dopant: &str, dose_cm2: f64| {
        let ours =
            results(json!({"dopant": dopant, "energy_kev": 60, "dose_cm2": dose_cm2}));
        let shares = numbers(&ours["activation"]["active_fraction"]);
        assert!(shares.iter().all(|share| (0.0..=1.0).contains(share)));
        assert!(shares.windows(2).all(|w| w[0] <= w[1] + 1e-12), "{shares:?}");
        shares
    };
    // 500 to 1100 C in steps of 50: index 2 is 600 C, 10 is 1000 C.
    let (low, high) = (active("boron", 1e13), active("boron", 1e15));
    assert!(0.99 < low[10] && high[2] < 0.2 && high[10] < low[10]);
    // Amorphized arsenic grows in at 600 C where boron of that dose is asleep.
    assert!(3.0 * high[2] < active("arsenic", 1e15)[2]);
    let none = results(json!({"dopant": "indium", "energy_kev": 60}));
    assert_eq!(none["activation"], Value::Null);
}

#[test]
fn transient_diffusion_of_boron_is_bounded_by_its_dose() {
    let at = |dose_cm2: f64| {
        results(
            json!({"dopant": "boron", "energy_kev": 30, "dose_cm2": dose_cm2, "model": "gaussian",
                       "tilt_deg": 0}),
        )
    };
    let bound = |of: &Value| at_path(of, "transient_diffusion/bound_nm");
    assert!(bound(&at(1e12)) < bound(&at(1e13)) && bound(&at(1e13)) < bound(&at(2e14)));
    close(bound(&at(2e14)), 100.0, 1e-9);
    let ours = at(1e14);
    let junction = at_path(&ours, "transient_diffusion/junction_depth_um");
    // By hand, without the surface: S^2 = 37.1^2 + 99.6^2, S = 106.3 nm; the peak falls to
    // 0.3989 * 0.996e14/106.3e-7 = 3.74e18; 98.7 + 106.3 sqrt(2 ln 3740) = 530 nm. The surface
    // sends back what would leave: a little more.
    close(junction, 0.530, 0.03);
    let arsenic = results(json!({"dopant": "arsenic", "energy_kev": 30}));
    assert_eq!(arsenic["transient_diffusion"], Value::Null);
}
