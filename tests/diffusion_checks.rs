//! Predeposition, drive-in and masks against worked examples, and the sources as a person asks
//! for them.

#![expect(
    clippy::panic,
    clippy::unwrap_used,
    reason = "a helper that fails is a test that fails"
)]

use barewafer_process::diffusion::closed_form::{ConstantSource, LimitedSource, TwoStep};
use barewafer_process::diffusion::diffusivity::intrinsic_cm3;
use barewafer_process::diffusion::mask::{front_nm, glass_front, oxide_diffusivity};
use barewafer_process::diffusion::solver::electrons;
use barewafer_process::units::Temperature;
use barewafer_process::vocabulary::{DiffusivitySet, Dopant};
use barewafer_tests::answers::{ask, list, near, number};
use barewafer_tests::reference;
use serde_json::{Value, json};

fn dopant(word: &str) -> Dopant {
    Dopant::ALL.iter().copied().find(|d| d.word() == word).unwrap()
}

/// What the kernel says to one row.
fn answer(kind: &str, inputs: &str, quantity: &str) -> f64 {
    if kind == "request" {
        return number(&ask(&serde_json::from_str(inputs).unwrap()), quantity);
    }
    let words: Vec<&str> = inputs.split(' ').collect();
    let n = |i: usize| words[i].parse::<f64>().unwrap();
    let celsius = |i: usize| Temperature::celsius(n(i));
    match kind {
        "constant_source" => {
            ConstantSource { surface_cm3: n(0), root_dt_um: n(1) }.dose_cm2()
        }
        "limited_source" | "limited_junction" => {
            let width_um = 2.0_f64.sqrt() * n(1);
            let end = LimitedSource { dose_cm2: n(0), range_um: 0.0, width_um };
            if kind == "limited_source" {
                end.concentration_cm3(n(2))
            } else {
                end.junction_um(n(2)).unwrap()
            }
        }
        "two_step" => {
            TwoStep { surface_cm3: n(0), first_root_um: n(1), second_root_um: n(2) }
                .concentration_cm3(n(3))
        }
        "intrinsic" => {
            let set =
                *DiffusivitySet::ALL.iter().find(|set| set.word() == words[0]).unwrap();
            set.diffusivity(dopant(words[1])).unwrap().intrinsic_cm2_s(celsius(2))
        }
        "field_factor" => 1.0 + n(0) * electrons(n(0), intrinsic_cm3(celsius(1))).1,
        "glass_front" => {
            let rate = glass_front(dopant(words[0])).unwrap();
            1e-3 * front_nm(rate, celsius(1), 60.0 * n(2))
        }
        "oxide_diffusivity" => {
            oxide_diffusivity(dopant(words[0])).unwrap().at(celsius(1))
        }
        other => panic!("{other} is no kind of row"),
    }
}

#[test]
fn worked_examples_come_out_as_printed() {
    let rows = reference("diffusion_checks.csv");
    assert!(60 < rows.len());
    for row in rows {
        let found = answer(row.text("kind"), row.text("inputs"), row.text("quantity"));
        let (value, tolerance) = (row.required("value"), row.required("tolerance"));
        let off = (found / value - 1.0).abs();
        assert!(off <= tolerance, "{}: {found} is not {value}", row.text("id"));
        assert!(row.text("known_deviation").is_empty());
        assert!(!row.text("source").is_empty() && !row.text("known_by").is_empty());
    }
}

fn predeposition(extra: &Value) -> Value {
    let mut request = json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 1000, "time_min": 30});
    for (name, value) in extra.as_object().unwrap() {
        request[name] = value.clone();
    }
    request
}

fn codes(report: &Value) -> String {
    report["warnings"].to_string()
}

#[track_caller]
fn fails(request: &Value, code: &str, field: &str, part: &str) {
    let text = request.to_string();
    let Err(error) = barewafer_process::run_text(text.as_bytes()) else {
        panic!("{text} is no good request");
    };
    assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
    assert!(error.to_string().contains(part), "{error}");
}

#[test]
fn the_two_step_integral_is_the_numerical_solution_where_the_gaussian_is_not() {
    let set = "fuller_ditzenberger_1956";
    let start = predeposition(&json!({"surface_concentration_cm3": 1e18,
        "diffusivity": set}));
    let drive = |solution: &str| {
        ask(&json!({"operation": "drive_in", "start": start, "temperature_c": 1000,
            "time_min": 60, "diffusivity": set, "solution": solution,
            "substrate": {"type": "n", "concentration_cm3": 1e15}}))
    };
    let (numerical, gaussian) = (drive("numerical"), drive("closed_form"));
    let d = DiffusivitySet::FullerDitzenberger1956.diffusivity(Dopant::Boron).unwrap();
    let d_cm2_s = d.intrinsic_cm2_s(Temperature::celsius(1000.0));
    let two = TwoStep {
        surface_cm3: 1e18,
        first_root_um: (d_cm2_s * 1800.0).sqrt() * 1e4,
        second_root_um: (d_cm2_s * 3600.0).sqrt() * 1e4,
    };
    let profile = &numerical["results"]["profile"];
    let (x, c) = (list(&profile["depth_um"]), list(&profile["boron_cm3"]));
    let mut seen = 0;
    for (x, c) in x.iter().zip(&c) {
        if 1e15 < *c {
            near(two.concentration_cm3(*x), *c, 0.01);
            seen += 1;
        }
    }
    assert!(40 < seen);
    let surface = number(&gaussian, "surface_concentration_cm3");
    assert!(1.05 < surface / two.surface_after_cm3());
    assert!(numerical["working"].to_string().contains("atan"));
}

#[test]
fn a_profile_climbs_in_time() {
    let start = predeposition(&json!({"compare": "nothing"}));
    for request in [
        start.clone(),
        predeposition(&json!({"solution": "closed_form"})),
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": 60}),
        json!({"operation": "drive_in", "start": {"dose_cm2": 1e13, "dopant": "boron"},
            "temperature_c": 1100, "time_min": 60, "solution": "closed_form"}),
    ] {
        let report = ask(&request);
        let snapshots = report["results"]["snapshots"].as_array().unwrap().clone();
        assert_eq!(snapshots.len(), 5);
        let minutes = request["time_min"].as_f64().unwrap();
        let mut before = 0.0;
        for (i, snapshot) in snapshots.iter().enumerate() {
            let share = (snapshot["time_min"].as_f64().unwrap() / minutes).sqrt();
            let wanted = (i as f64 + 1.0) / 6.0;
            assert!((wanted - 1e-6..wanted + 0.1).contains(&share), "{i} {share}");
            let (x, c) = (
                list(&snapshot["profile"]["depth_um"]),
                list(&snapshot["profile"]["boron_cm3"]),
            );
            let deep = c.iter().rposition(|&c| 1e15 < c).map_or(0.0, |k| x[k]);
            assert!(before < deep, "{request} {i}: {before} {deep}");
            before = deep;
        }
        assert!(before < number(&report, "junction_depth_um"));
    }
}

#[test]
fn snapshots_do_not_change_the_result() {
    // From a constant source the profile after a quarter of the time is half as deep.
    let whole = ask(&predeposition(&json!({})));
    let third = &whole["results"]["snapshots"][2];
    near(third["time_min"].as_f64().unwrap(), 7.5, 1e-9);
    let quarter = ask(&predeposition(&json!({"time_min": 7.5})));
    let profile = &third["profile"];
    let (x, c) = (list(&profile["depth_um"]), list(&profile["boron_cm3"]));
    let other = &quarter["results"]["profile"];
    let (x2, c2) = (list(&other["depth_um"]), list(&other["boron_cm3"]));
    for (at, value) in x2.iter().zip(&c2).filter(|(_, c)| 1e19 < **c) {
        let k = x.partition_point(|x| x < at).clamp(1, x.len() - 1);
        let t = (at - x[k - 1]) / (x[k] - x[k - 1]);
        near(c[k - 1] + t * (c[k] - c[k - 1]), *value, 0.05);
    }
}

#[test]
fn every_source_holds_the_surface_in_its_own_way() {
    // A dilute vapor needs its concentration, below the solubility.
    fails(
        &predeposition(&json!({"source": "dilute_vapor"})),
        "missing_field",
        "surface_concentration_cm3",
        "dilution",
    );
    fails(
        &predeposition(
            &json!({"source": "dilute_vapor", "surface_concentration_cm3": 4e20}),
        ),
        "conflict",
        "surface_concentration_cm3",
        "solubility",
    );
    let thin = ask(&predeposition(
        &json!({"source": "dilute_vapor", "surface_concentration_cm3": 1e19}),
    ));
    near(number(&thin, "surface_concentration_cm3"), 1e19, 1e-9);
    assert!(thin["hazards"].to_string().contains("B2H6"));
    // Which dopant comes from which source.
    for (dopant, source, allowed) in [
        ("boron", "phosphine", "diborane"),
        ("phosphorus", "diborane", "pocl3, phosphine"),
        ("arsenic", "pocl3", "doped_glass, solid_disc"),
        ("antimony", "solid_disc", "doped_glass, dilute_vapor"),
        ("indium", "dilute_vapor", "doped_glass"),
        ("gallium", "pocl3", "doped_glass, dilute_vapor"),
    ] {
        fails(
            &predeposition(&json!({"dopant": dopant, "source": source,
                "diffusivity": "fuller_ditzenberger_1956"})),
            "conflict",
            "source",
            allowed,
        );
    }
    for (dopant, source, hazard) in [
        ("arsenic", "dilute_vapor", "ASH3"),
        ("antimony", "dilute_vapor", "SBH3"),
        ("antimony", "doped_glass", "SB2O3"),
        ("indium", "doped_glass", "INDIUM"),
        ("arsenic", "doped_glass", "AS2O3"),
        ("phosphorus", "pocl3", "POCL3"),
    ] {
        let report = ask(&predeposition(&json!({"dopant": dopant, "source": source,
            "surface_concentration_cm3": 1e18})));
        let shown = report["hazards"].to_string();
        assert!(shown.contains(hazard) && shown.contains("HEAT"), "{shown}");
        assert!(!shown.contains("UNKNOWN"));
    }
}

#[test]
fn a_glass_film_gives_what_it_can() {
    let film = |thickness_nm: f64, solution: &str| {
        predeposition(
            &json!({"dopant": "arsenic", "temperature_c": 1150, "time_min": 240,
            "diffusivity": "fuller_ditzenberger_1956", "source": "doped_glass",
            "solution": solution,
            "glass": {"concentration_cm3": 1e21, "thickness_nm": thickness_nm}}),
        )
    };
    let thick = ask(&film(2000.0, "closed_form"));
    // D = 0.32 exp(-3.56/kT), Dg = 250 exp(-4.90/kT) at 1150 C: 1e21/(0.1 + sqrt(D/Dg)).
    let kt = Temperature::celsius(1150.0).to_kt_ev();
    let ratio = (0.32 / 250.0 * barewafer_process::num::exp((4.90 - 3.56) / kt)).sqrt();
    near(number(&thick, "surface_concentration_cm3"), 1e21 / (0.1 + ratio), 1e-6);
    near(
        number(&thick, "surface_concentration_cm3"),
        number(&ask(&film(2000.0, "numerical")), "surface_concentration_cm3"),
        1e-6,
    );
    // A thin film empties: the exact closed form says so, the numerical one warns.
    let thin = ask(&film(50.0, "closed_form"));
    assert!(number(&thin, "dose_cm2") < number(&thick, "dose_cm2"));
    assert!(number(&thin, "dose_cm2") < 1e21 * 50e-7);
    assert!(!codes(&thin).contains("glass_depleted"));
    assert!(codes(&ask(&film(50.0, "numerical"))).contains("glass_depleted"));
    assert!(thin["working"].to_string().contains("Qg = Cg d"));
    let with = |extra: Value| {
        let mut request = film(300.0, "closed_form");
        for (name, value) in extra.as_object().unwrap() {
            request[name] = value.clone();
        }
        request
    };
    fails(&with(json!({"source": "solid_disc"})), "conflict", "glass", "no glass film");
    fails(
        &with(json!({"surface_concentration_cm3": 1e19})),
        "conflict",
        "surface_concentration_cm3",
        "not both",
    );
    fails(&with(json!({"dopant": "gallium"})), "conflict", "glass", "boron, phosphorus");
    fails(
        &with(json!({"glass": {"concentration_cm3": 1e21, "thickness_nm": 1}})),
        "out_of_range",
        "glass.thickness_nm",
        "50 to 3000 nm",
    );
    fails(
        &with(json!({"glass": {"thickness_nm": 100}})),
        "missing_field",
        "glass.concentration_cm3",
        "glass",
    );
    fails(&with(json!({"glass": 3})), "wrong_type", "glass", "glass");
}

#[test]
fn oxide_masks_some_dopants() {
    let least = |extra: Value| number(&ask(&predeposition(&extra)), "mask_oxide_min_nm");
    // sqrt(1.7e-7 exp(-1.46/kT) 1800 s) at 1000 C: 226 nm.
    near(least(json!({"dopant": "phosphorus"})), 226.0, 0.005);
    // Boron's front is 9 nm: the least sound oxide holds.
    near(least(json!({})), 30.0, 1e-12);
    near(least(json!({"temperature_c": 1200, "time_min": 240})), 136.0, 0.01);
    let report = ask(&predeposition(&json!({"dopant": "phosphorus"})));
    let lines = report["working"].as_array().unwrap();
    let last = lines.last().unwrap();
    near(last["result"].as_f64().unwrap(), 1.5 * 226.0, 0.005);
    let gallium =
        ask(&predeposition(&json!({"dopant": "gallium", "diffusivity": "fair_1981"})));
    assert!(gallium["results"]["mask_oxide_min_nm"].is_null());
    assert!(codes(&gallium).contains("oxide_does_not_mask"));
    assert!(codes(&gallium).contains("seldom_used_dopant"));
    fails(
        &predeposition(&json!({"dopant": "aluminum"})),
        "conflict",
        "diffusivity",
        "fair_1981, fuller_ditzenberger_1956",
    );
    fails(
        &predeposition(&json!({"dopant": "boron", "target": "polysilicon"})),
        "not_available_yet",
        "target",
        "thickness",
    );
}

#[test]
fn recipes_stand_side_by_side() {
    let compared = |request: &Value| ask(request)["results"]["comparison"].clone();
    assert!(compared(&predeposition(&json!({}))).is_null());
    assert!(compared(&predeposition(&json!({"compare": "nothing"}))).is_null());
    let models = compared(&predeposition(&json!({"compare": "models"})));
    let rows = models["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    for row in rows {
        // Each row is what the request alone gives.
        let alone = ask(&predeposition(&json!({"diffusivity": row["diffusivity"]})));
        for name in ["junction_depth_um", "dose_cm2", "root_dt_um"] {
            near(row[name].as_f64().unwrap(), number(&alone, name), 1e-9);
        }
    }
    // Boron at 1000 C: the sets lie within 0.9 to 2.6e-14 cm2/s.
    for row in rows {
        let d = row["intrinsic_d_cm2_s"].as_f64().unwrap();
        assert!((0.8e-14..2.7e-14).contains(&d), "{d}");
    }
    assert!(1.0 < models["junction_spread"].as_f64().unwrap());
    // Of the acceptors this set has only boron and indium; the others are named with the reason.
    let dopants = compared(&predeposition(&json!({"compare": "dopants",
        "surface_concentration_cm3": 1e18})));
    assert_eq!(dopants["rows"].as_array().unwrap().len(), 2);
    assert!(dopants["left_out"].to_string().contains("fair_1981"));
    // Why arsenic makes no deep well: the same drive-in moves phosphorus several times as far.
    let well = |compare: &str| {
        json!({"operation": "drive_in", "compare": compare, "temperature_c": 1150,
            "time_min": 480, "start": {"operation": "implantation", "dopant": "phosphorus",
                "energy_kev": 150, "dose_cm2": 3.8e12}})
    };
    let donors = compared(&well("dopants"));
    let depth = |word: &str| {
        let rows = donors["rows"].as_array().unwrap();
        let row = rows.iter().find(|row| row["dopant"] == word).unwrap().clone();
        row["junction_depth_um"].as_f64().unwrap()
    };
    assert!(2.0 * depth("arsenic") < depth("phosphorus"));
    assert!(2.0 * depth("antimony") < depth("phosphorus"));
    // A light well diffuses with the intrinsic diffusivity: as the solver finds it.
    near(depth("phosphorus"), number(&ask(&well("nothing")), "junction_depth_um"), 0.01);
    assert_eq!(compared(&well("models"))["rows"].as_array().unwrap().len(), 3);
}

#[test]
fn heavy_phosphorus_has_kink_and_tail_if_asked() {
    let request = |extra: Value| {
        let mut all = json!({"dopant": "phosphorus", "surface_concentration_cm3": 5e20});
        for (name, value) in extra.as_object().unwrap() {
            all[name] = value.clone();
        }
        predeposition(&all)
    };
    let (plain, tail) =
        (ask(&request(json!({}))), ask(&request(json!({"phosphorus_tail": true}))));
    assert!(
        1.5 * number(&plain, "junction_depth_um") < number(&tail, "junction_depth_um")
    );
    assert!(
        codes(&tail).contains("illustrative")
            && !codes(&plain).contains("phosphorus_tail")
    );
    // Still a constant source: twice as deep after four times the time.
    let long = ask(&request(json!({"phosphorus_tail": true, "time_min": 120})));
    near(
        number(&long, "junction_depth_um"),
        2.0 * number(&tail, "junction_depth_um"),
        1e-6,
    );
    assert!(number(&tail, "dose_balance").abs() < 1e-9);
    let light =
        ask(&predeposition(&json!({"dopant": "phosphorus", "phosphorus_tail": true,
        "surface_concentration_cm3": 5e19})));
    assert!(codes(&light).contains("there is no tail"));
    for (extra, part) in [
        (json!({"solution": "closed_form"}), "closed form"),
        (json!({"diffusivity": "fuller_ditzenberger_1956"}), "charge states"),
        (json!({"dopant": "arsenic"}), "arsenic"),
    ] {
        let mut with = extra;
        with["phosphorus_tail"] = json!(true);
        fails(&request(with), "conflict", "phosphorus_tail", part);
    }
}
