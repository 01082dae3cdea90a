//! Predeposition and drive-in as a person asks for them: worked examples, warnings, mistakes.

use barewafer_process::diffusion::closed_form::LimitedSource;
use barewafer_process::num::exp;
use barewafer_process::units::Temperature;
use barewafer_tests::answers::{ask, list, near, number};
use serde_json::{Value, json};

#[test]
fn worked_examples_of_constant_diffusivity() {
    let set = "fuller_ditzenberger_1956";
    let predeposition = |celsius: f64, minutes: f64, surface: f64, substrate: f64| {
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": celsius,
            "time_min": minutes, "surface_concentration_cm3": surface,
            "diffusivity": set, "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": substrate}})
    };
    let drive_in = |start: Value, minutes: f64, substrate: f64| {
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": minutes, "diffusivity": set, "solution": "closed_form",
            "substrate": {"type": "n", "concentration_cm3": substrate}})
    };
    // E1: 950 C, 30 min, 2e20.
    let report = ask(&predeposition(950.0, 30.0, 2e20, 1e15));
    near(number(&report, "dose_cm2"), 7.757e14, 0.01);
    near(number(&report, "junction_depth_um"), 0.2219, 0.01);
    let report = ask(&predeposition(950.0, 30.0, 2e20, 1e16));
    near(number(&report, "junction_depth_um"), 0.1972, 0.01);
    // E2: then 1100 C, 2 h.
    let report = ask(&drive_in(predeposition(950.0, 30.0, 2e20, 1e15), 120.0, 1e15));
    near(number(&report, "surface_concentration_cm3"), 9.407e18, 0.01);
    near(number(&report, "junction_depth_um"), 2.8145, 0.01);
    near(number(&report, "dose_cm2"), 7.757e14, 0.01);
    // E4: 900 C, 15 min, 1.1e20, then 1100 C, 5 h, in 3e16.
    let report = ask(&drive_in(predeposition(900.0, 15.0, 1.1e20, 3e16), 300.0, 3e16));
    near(number(&report, "dose_cm2"), 1.431e14, 0.01);
    near(number(&report, "surface_concentration_cm3"), 1.097e18, 0.01);
    near(number(&report, "junction_depth_um"), 2.791, 0.01);
    // E6: with charge states 5.1 times the dose and 1.74 times the depth of E1.
    let report = ask(&json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 30, "surface_concentration_cm3": 2e20}));
    near(number(&report, "dose_cm2") / 7.757e14, 5.06, 0.01);
    near(number(&report, "junction_depth_um") / 0.2219, 1.742, 0.01);
}

#[test]
fn the_numerical_solution_of_a_constant_set_is_the_closed_form() {
    let request = |solution: &str| {
        json!({"operation": "drive_in", "start": {"gaussian": {"dopant": "phosphorus",
            "dose_cm2": 1e14, "projected_range_nm": 300, "straggle_nm": 60}},
            "temperature_c": 1100, "time_min": 40, "solution": solution,
            "diffusivity": "fuller_ditzenberger_1956"})
    };
    let (numerical, closed) = (ask(&request("numerical")), ask(&request("closed_form")));
    for name in
        ["junction_depth_um", "surface_concentration_cm3", "sheet_resistance_ohm_sq"]
    {
        near(number(&numerical, name), number(&closed, name), 0.005);
    }
    let compared = &numerical["results"]["closed_form_profile"]["phosphorus_cm3"];
    let own = &numerical["results"]["profile"]["phosphorus_cm3"];
    for (a, b) in list(own).iter().zip(list(compared)) {
        if 1e17 < b {
            near(*a, b, 0.01);
        }
    }
}

#[test]
fn heavy_layers_are_limited_in_their_active_part() {
    let request = |limited: bool| {
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 950,
            "time_min": 30, "surface_concentration_cm3": 1.5e20, "active_limit": limited})
    };
    let (all, limited) = (ask(&request(false)), ask(&request(true)));
    // Computed with an independent program: 2.524e15 and 1.306e15 per cm2.
    near(number(&all, "dose_cm2"), 2.524e15, 0.02);
    near(number(&limited, "dose_cm2"), 1.306e15, 0.10);
    let profile = &limited["results"]["profile"];
    let (net, active) = (list(&profile["net_cm3"]), list(&profile["active_net_cm3"]));
    near(net[0], -1.5e20, 1e-3);
    // The rule of the limit, with boron's 9.25e22 exp(-0.73/kT).
    let limit = 9.25e22 * exp(-0.73 / Temperature::celsius(950.0).to_kt_ev());
    let share = -active[0] / limit;
    near(-active[0] * (1.0 + share * share * share), 1.5e20, 1e-3);
    let codes = |report: &Value| report["warnings"].to_string();
    assert!(codes(&all).contains("above_active_limit"));
    assert!(!codes(&limited).contains("above_active_limit"));
}

#[test]
fn every_answer_has_a_working_and_hazards() {
    let predeposition = json!({"operation": "predeposition", "dopant": "phosphorus",
        "temperature_c": 1000, "time_min": 30});
    let report = ask(&predeposition);
    assert!(8 < report["working"].as_array().unwrap().len());
    assert!(report["hazards"].to_string().contains("POCL3"));
    // Without a given value the source holds the active limit, 4.7e20 at 1000 C.
    near(number(&report, "surface_concentration_cm3"), 4.7e20, 0.01);
    for (ambient, hazards) in
        [("inert", &["N2", "HEAT"][..]), ("steam", &["O2", "H2", "HEAT"][..])]
    {
        let report = ask(&json!({"operation": "drive_in", "start": predeposition,
            "temperature_c": 1100, "time_min": 30, "ambient": ambient}));
        for hazard in hazards {
            assert!(report["hazards"].to_string().contains(&format!("\"{hazard}\"")));
        }
        let warned = report["warnings"].to_string().contains("enhancement_left_out");
        assert_eq!(warned, ambient != "inert");
        let points = list(&report["results"]["profile"]["depth_um"]).len();
        assert!((60..=200).contains(&points), "{points} points");
    }
}

#[test]
fn warnings_name_what_to_doubt() {
    let codes = |request: Value| -> Vec<String> {
        ask(&request)["warnings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|w| w["code"].as_str().unwrap().to_owned())
            .collect()
    };
    let has = |request: Value, code: &str| {
        let codes = codes(request.clone());
        assert!(codes.iter().any(|c| c == code), "{request}: {codes:?}");
    };
    has(
        json!({"operation": "predeposition", "dopant": "antimony", "temperature_c": 1000,
            "time_min": 30, "surface_concentration_cm3": 1e20}),
        "above_solubility",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 700,
            "time_min": 30}),
        "outside_published_range",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 1000,
            "time_min": 30, "substrate": {"type": "p", "concentration_cm3": 1e15}}),
        "no_junction",
    );
    let start = json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 1100, "time_min": 30});
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": 30, "solution": "closed_form"}),
        "drive_in_too_short",
    );
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 700,
            "time_min": 1}),
        "start_deeper_than_diffusion",
    );
    has(
        json!({"operation": "drive_in", "start": start, "temperature_c": 1100,
            "time_min": 30, "substrate": {"type": "n", "concentration_cm3": 1e16}}),
        "substrate_differs",
    );
    has(
        json!({"operation": "predeposition", "dopant": "boron", "temperature_c": 1000,
            "time_min": 30, "solution": "closed_form"}),
        "diffusivity_not_constant",
    );
    // A plain case warns of nothing.
    let plain = codes(json!({"operation": "drive_in",
        "start": {"dose_cm2": 1e14, "dopant": "boron"}, "temperature_c": 1100,
        "time_min": 60}));
    assert!(plain.is_empty(), "{plain:?}");
}

#[test]
fn bad_requests_are_explained() {
    let fails = |request: Value, code: &str, field: &str, part: &str| {
        let error = barewafer_process::run_text(request.to_string().as_bytes())
            .expect_err("the request is wrong");
        assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
        assert!(error.to_string().contains(part), "{error}");
    };
    let predeposition = |extra: Value| {
        let mut request = json!({"operation": "predeposition", "dopant": "boron",
            "temperature_c": 950, "time_min": 30});
        for (name, value) in extra.as_object().unwrap() {
            request[name] = value.clone();
        }
        request
    };
    let drive_in = |start: Value, extra: Value| {
        let mut request = json!({"operation": "drive_in", "start": start,
            "temperature_c": 1100, "time_min": 30});
        for (name, value) in extra.as_object().unwrap() {
            request[name] = value.clone();
        }
        request
    };
    let none = json!({});
    fails(
        predeposition(json!({"temperature_c": 1300})),
        "out_of_range",
        "temperature_c",
        "600 to 1250 °C",
    );
    fails(
        predeposition(json!({"time_min": 0})),
        "out_of_range",
        "time_min",
        "0.01 to 6000 min",
    );
    fails(
        predeposition(json!({"substrate": {"type": "n", "concentration_cm3": 0}})),
        "out_of_range",
        "substrate.concentration_cm3",
        "1e12",
    );
    fails(predeposition(json!({"source": "pocl3"})), "conflict", "source", "solid_disc");
    fails(
        predeposition(json!({"dopant": "indium", "diffusivity": "fair_1981",
            "surface_concentration_cm3": 1e18})),
        "conflict",
        "diffusivity",
        "plummer_2000",
    );
    fails(
        predeposition(json!({"dopant": "indium"})),
        "missing_field",
        "surface_concentration_cm3",
        "indium",
    );
    fails(predeposition(json!({"dopant": "gold"})), "unknown_value", "dopant", "boron");
    fails(
        json!({"operation": "drive_in", "temperature_c": 1100, "time_min": 30}),
        "missing_field",
        "start",
        "start",
    );
    fails(drive_in(json!(5), none.clone()), "wrong_start", "start", "profile");
    fails(
        drive_in(json!({"dose": 1e14}), none.clone()),
        "wrong_start",
        "start",
        "gaussian",
    );
    fails(
        drive_in(json!({"dose_cm2": 1e20, "dopant": "boron"}), none.clone()),
        "out_of_range",
        "start.dose_cm2",
        "1e9",
    );
    fails(
        drive_in(json!({"dose_cm2": 1e14}), none.clone()),
        "missing_field",
        "start.dopant",
        "dopant",
    );
    fails(
        drive_in(
            json!({"gaussian": {"dopant": "boron", "dose_cm2": 1e17,
                "projected_range_nm": 10, "straggle_nm": 1}}),
            none.clone(),
        ),
        "conflict",
        "start.gaussian.dose_cm2",
        "more atoms than silicon has",
    );
    fails(
        drive_in(json!({"operation": "oxidation"}), none.clone()),
        "unknown_value",
        "start.operation",
        "predeposition",
    );
    fails(
        drive_in(
            json!({"operation": "predeposition", "dopant": "boron",
                "temperature_c": 2000, "time_min": 30}),
            none.clone(),
        ),
        "out_of_range",
        "start.temperature_c",
        "1250",
    );
    let profile = |value: Value| drive_in(json!({"profile": value}), json!({}));
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [1e17]})),
        "wrong_length",
        "start.profile.boron_cm3",
        "2 values",
    );
    fails(
        profile(json!({"depth_um": [0, 0], "boron_cm3": [1e17, 1e16]})),
        "not_increasing",
        "start.profile.depth_um[1]",
        "increase",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [1e17, -1]})),
        "out_of_range",
        "start.profile.boron_cm3[1]",
        "0 to 5e22",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "carbon_cm3": [1e17, 1]})),
        "unknown_field",
        "start.profile.carbon_cm3",
        "boron_cm3",
    );
    fails(
        profile(json!({"depth_um": [0, 1], "boron_cm3": [0, 0]})),
        "no_dose",
        "start.profile",
        "dopant",
    );
    fails(
        profile(json!({"depth_um": "deep", "boron_cm3": [0, 0]})),
        "wrong_type",
        "start.profile.depth_um",
        "list",
    );
    fails(
        drive_in(
            json!({"profile": {"depth_um": [0, 1], "boron_cm3": [1e17, 1e16]}}),
            json!({"solution": "closed_form"}),
        ),
        "conflict",
        "solution",
        "numerical",
    );
    let mut deep = json!({"dose_cm2": 1e14, "dopant": "boron"});
    for _ in 0..9 {
        deep = drive_in(deep, none.clone());
    }
    let error = barewafer_process::run_text(deep.to_string().as_bytes()).unwrap_err();
    assert_eq!(error.code, "too_deep");
}

#[test]
fn a_predeposition_grows_no_oxide() {
    let plain = json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 30});
    let with = |field: &str, value: Value| {
        let mut request = plain.clone();
        request[field] = value;
        request
    };
    // Its surface is held by the source, whatever an oxide would take.
    for request in [
        with("oxidation_enhanced_diffusion", json!(false)),
        with("boron_segregation", json!("colby_katz_1976")),
        with("donor_segregation", json!(30)),
        with("target", json!("silicon")),
    ] {
        assert_eq!(ask(&request), ask(&plain));
    }
    let error = |request: Value| {
        barewafer_process::run_text(request.to_string().as_bytes()).expect_err("refused")
    };
    let enhanced = with("oxidation_enhanced_diffusion", json!(true));
    assert_eq!(error(enhanced.clone()).code, "conflict");
    assert_eq!(error(with("donor_segregation", json!(0))).code, "out_of_range");
    // The step inside a start is held to the same.
    let inside = error(json!({"operation": "drive_in", "start": enhanced,
        "temperature_c": 1100, "time_min": 30}));
    assert_eq!(inside.field, "start.oxidation_enhanced_diffusion");
}

#[test]
fn a_profile_of_an_answer_can_be_the_next_start() {
    let first = ask(&json!({"operation": "predeposition", "dopant": "boron",
        "temperature_c": 950, "time_min": 30}));
    let report = ask(&json!({"operation": "drive_in",
        "start": {"profile": first["results"]["profile"]},
        "temperature_c": 1100, "time_min": 60}));
    near(number(&report, "dose_cm2"), number(&first, "dose_cm2"), 0.01);
}

#[test]
fn an_implantation_starts_a_drive_in_from_where_its_ions_lie() {
    let implanted = |extra: Value| {
        let mut start = json!({"operation": "implantation", "dopant": "boron",
            "energy_kev": 50});
        for (name, value) in extra.as_object().unwrap() {
            start[name] = value.clone();
        }
        json!({"operation": "drive_in", "start": start, "temperature_c": 800,
            "time_min": 1, "solution": "closed_form"})
    };
    // The Gaussian lies where the ions come to rest below the surface, not along the beam.
    for tilt_deg in [0.0, 60.0] {
        let request = implanted(json!({"tilt_deg": tilt_deg}));
        let (ions, report) = (ask(&request["start"]), ask(&request));
        let root = number(&report, "root_dt_um");
        let straggle = 1e-3 * number(&ions, "depth_straggle_nm");
        let expected = LimitedSource {
            dose_cm2: number(&ions, "retained_dose_cm2"),
            range_um: 1e-3 * number(&ions, "range_depth_nm"),
            width_um: (straggle * straggle + 2.0 * root * root).sqrt(),
        };
        let profile = &report["results"]["profile"];
        let (x, c) = (list(&profile["depth_um"]), list(&profile["boron_cm3"]));
        for (x, c) in x.iter().zip(&c) {
            near(*c, expected.concentration_cm3(*x), 1e-6);
        }
        near(
            expected.range_um,
            1e-3 * number(&ions, "projected_range_nm")
                * if tilt_deg > 0.0 { 0.5 } else { 1.0 },
            1e-9,
        );
    }
    // The type of the substrate counts although its concentration is left out.
    let report = ask(&implanted(json!({"substrate": {"type": "p"}})));
    assert!(report["results"]["junction_depth_um"].is_null());
    for (extra, code, field) in [
        (json!({"target": "resist"}), "conflict", "start.target"),
        (
            json!({"energy_kev": 5, "dose_cm2": 1e11,
                "through": [{"material": "aluminum", "thickness_nm": 20_000}]}),
            "no_dose",
            "start.through",
        ),
    ] {
        let error = barewafer_process::run_text(implanted(extra).to_string().as_bytes())
            .unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
    }
}

#[test]
fn a_dose_that_has_hardly_spread_has_no_closed_form() {
    let request = |solution: &str| {
        json!({"operation": "drive_in", "temperature_c": 600, "time_min": 1,
            "start": {"dose_cm2": 1e16, "dopant": "antimony"}, "solution": solution})
    };
    let error =
        barewafer_process::run_text(request("closed_form").to_string().as_bytes())
            .unwrap_err();
    assert_eq!((error.code, error.field.as_str()), ("conflict", "solution"));
    assert!(error.message.contains("more atoms than silicon has"), "{error}");
    let results = &ask(&request("numerical"))["results"];
    assert!(list(&results["closed_form_profile"]["depth_um"]).is_empty());
}

#[test]
fn evaporation_loses_dose_and_the_ledger_knows() {
    let request = |speed: f64| {
        json!({"operation": "drive_in", "start": {"dose_cm2": 1e15, "dopant": "arsenic"},
            "temperature_c": 1050, "time_min": 60, "evaporation_cm_s": speed})
    };
    let kept = number(&ask(&request(0.0)), "dose_cm2");
    let report = ask(&request(5e-9));
    let left = number(&report, "dose_cm2");
    near(kept, 1e15, 1e-9);
    assert!(left < 0.95 * kept, "{left}");
    assert!(number(&report, "dose_balance").abs() <= 1e-9);
}
