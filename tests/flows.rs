//! The shipped flows against what was computed for them apart from this program.
#![expect(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test stops at the first surprise and prints every row"
)]

use barewafer_process::flow::questions::{
    dose_cm2, film_nm, junctions_at_um, measurements, pieces_um, profile_across,
    profile_down, sheet_at, silicon_recess_nm,
};
use barewafer_process::flow::{Flow, Runner, Snapshot};
use barewafer_process::vocabulary::{Dopant, DopingType, Material};
use barewafer_tests::{Row, reference};

/// Rows that ask for what is not computed here yet: capacitances, thresholds, resistances of a
/// whole device, the inverter.
const ELECTRICAL: &[&str] = &[
    "F003", "F004", "F006", "F007", "F017", "F023", "F024", "F025", "F026", "F033",
    "F037", "F042", "F045", "F055", "F056", "F057", "F058", "F066", "F067", "F070",
    "F077", "F078", "F079", "F085",
];

/// Permittivity of oxide in F/cm: 3.9 times that of the vacuum.
const OXIDE_F_CM: f64 = 3.9 * 8.854_187_8e-14;

struct Done {
    flow: Flow,
    runner: Runner,
}

impl Done {
    fn of(name: &str) -> Self {
        let path = format!("{}/../www/flows/{name}.json", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read(&path).expect("the flow is there");
        let flow = Flow::from_text(&text).expect("the flow is good");
        let mut runner = Runner::new();
        runner.run(&flow, None, &mut |_| true).expect("the flow runs");
        for snapshot in runner.snapshots() {
            assert_eq!(snapshot.section.check(), Ok(()), "{name} {}", snapshot.report.id);
        }
        Self { flow, runner }
    }

    fn after(&self, step: &str) -> &Snapshot {
        &self.runner.snapshots()[self.flow.find_step(step).expect("the step is there")]
    }

    fn before(&self, step: &str) -> &Snapshot {
        &self.runner.snapshots()
            [self.flow.find_step(step).expect("the step is there") - 1]
    }

    /// The dose of an implanting step per cm2.
    fn step_dose(&self, step: &str) -> f64 {
        let index = self.flow.find_step(step).expect("the step is there");
        self.flow.steps[index].object["dose_cm2"].as_f64().expect("a dose")
    }

    /// Least distance in um between the junctions under a gate over a body of this type: a
    /// channel of the source's own type at the surface, which the body depletes, lies above it.
    fn channel_um(&self, snapshot: &Snapshot, x_um: f64, body: DopingType) -> f64 {
        let section = &snapshot.section;
        let column = section.column_at(1e3 * x_um);
        let sign = if body == DopingType::N { 1.0 } else { -1.0 };
        let mut least = f64::INFINITY;
        for step in 0..60 {
            let depth_um =
                0.006 + 0.01 * f64::from(step) - 1e-3 * section.silicon_top_nm(column);
            let across = profile_across(&self.flow, snapshot, depth_um);
            let net = |i: usize| sign * across.net_cm3[i];
            if net(column) <= 0.0 {
                continue;
            }
            let (mut left, mut right) = (column, column);
            while 0 < left && 0.0 < net(left) {
                left -= 1;
            }
            while right + 1 < across.x_um.len() && 0.0 < net(right) {
                right += 1;
            }
            if 0.0 < net(left) || 0.0 < net(right) {
                continue;
            }
            let edge = |a: usize, b: usize| {
                let share = net(a) / (net(a) - net(b));
                across.x_um[a] + share * (across.x_um[b] - across.x_um[a])
            };
            least = least.min(edge(right - 1, right) - edge(left + 1, left));
        }
        least
    }
}

fn oxides_nm(snapshot: &Snapshot, x_um: f64) -> f64 {
    [Material::ThermalOxide, Material::DepositedOxide, Material::PhosphorusGlass]
        .iter()
        .map(|&m| film_nm(snapshot, x_um, m))
        .sum()
}

/// Our value for a row.
fn ours(done: &Done, row: &Row) -> f64 {
    let id = row.text("id");
    let x = row.text("x_um").parse::<f64>().unwrap_or(f64::NAN);
    let snapshot = done.after(row.text("after_step"));
    let junctions = || junctions_at_um(&done.flow, snapshot, x);
    let first = || junctions().first().copied().unwrap_or(f64::NAN);
    let last = || junctions().last().copied().unwrap_or(f64::NAN);
    let sheet = || sheet_at(&done.flow, snapshot, x);
    let uppermost = || {
        sheet().layers.first().and_then(|l| l.sheet_resistance_ohm_sq).unwrap_or(f64::NAN)
    };
    let surface = |dopant: Dopant| {
        let profile = profile_down(&done.flow, snapshot, x);
        let found = profile.dopants.iter().find(|(d, _)| *d == dopant);
        found.map_or(0.0, |(_, list)| list[0])
    };
    let through = |dopant: Dopant| {
        let step = row.text("after_step");
        let gained =
            dose_cm2(snapshot, x, dopant) - dose_cm2(done.before(step), x, dopant);
        gained / done.step_dose(step)
    };
    match id {
        "F001" | "F010" | "F016" | "F018" | "F022" | "F048" | "F052" | "F053"
        | "F054" | "F083" => film_nm(snapshot, x, Material::ThermalOxide),
        "F002" => OXIDE_F_CM / (1e-7 * film_nm(snapshot, x, Material::ThermalOxide)),
        "F005" | "F009" => done.flow.substrate.doping.concentration_cm3,
        "F008" => surface(Dopant::Boron) / done.flow.substrate.doping.concentration_cm3,
        "F011" | "F073" => dose_cm2(snapshot, x, Dopant::Boron),
        "F012" | "F014" | "F027" | "F029" | "F043" | "F046" | "F060" | "F062" => first(),
        "F013" | "F015" | "F028" | "F030" | "F061" | "F063" => uppermost(),
        "F019" => through(Dopant::Phosphorus),
        "F051" => through(Dopant::Boron),
        "F020" | "F031" | "F034" | "F041" | "F044" | "F047" | "F049" | "F064"
        | "F076" => last(),
        "F021" | "F050" => profile_down(&done.flow, snapshot, x).net_cm3[0],
        "F032" | "F065" => sheet()
            .layers
            .iter()
            .find(|layer| layer.doping_type == DopingType::N)
            .and_then(|layer| layer.sheet_resistance_ohm_sq)
            .unwrap_or(f64::NAN),
        "F035" => done.channel_um(snapshot, 51.5, DopingType::P),
        "F036" => done.channel_um(snapshot, 108.5, DopingType::N),
        "F068" => done.channel_um(snapshot, 21.0, DopingType::P),
        "F069" => done.channel_um(snapshot, 48.0, DopingType::N),
        "F038" => film_nm(snapshot, x, Material::Polysilicon),
        "F039" => sheet().polysilicon_ohm_sq.unwrap_or(f64::NAN),
        "F040" => dose_cm2(snapshot, x, Dopant::Phosphorus),
        "F059" => surface(Dopant::Boron),
        "F071" => silicon_recess_nm(snapshot, x, 21.0),
        "F072" => film_nm(snapshot, x, Material::Nitride),
        "F074" | "F080" => oxides_nm(snapshot, x),
        "F075" => junctions().len() as f64,
        "F084" => dose_cm2(snapshot, x, Dopant::Arsenic),
        "F087" => film_nm(snapshot, x, Material::Aluminum),
        _ => f64::NAN,
    }
}

/// Whether a value is within a row's tolerance, and by how much it is off.
fn judge(row: &Row, ours: f64) -> (bool, String) {
    let expected: f64 = row.text("value").parse().expect("a number");
    let tolerance = row.text("tolerance");
    let relative = ours / expected - 1.0;
    if let Some(percent) = tolerance.strip_suffix(" %") {
        let percent: f64 = percent.parse().expect("a number");
        return (relative.abs() <= 0.01 * percent, format!("{:+.2} %", 100.0 * relative));
    }
    if let Some(factor) = tolerance.strip_prefix("factor ") {
        let factor: f64 = factor.parse().expect("a number");
        let ratio = ours / expected;
        return ((1.0 / factor..=factor).contains(&ratio), format!("x {ratio:.2}"));
    }
    if let Some(limit) = tolerance.strip_prefix("below ") {
        let limit: f64 = limit.parse().expect("a number");
        return (ours.abs() < limit, format!("{ours:e}"));
    }
    assert_eq!(tolerance, "exact");
    ((ours - expected).abs() < 1e-9, format!("{ours}"))
}

/// Rows whose value is a sentence.
fn text_row(done: &Done, row: &Row) -> bool {
    let snapshot = done.after(row.text("after_step"));
    let aluminum = |x: f64| 0.0 < film_nm(snapshot, x, Material::Aluminum);
    match row.text("id") {
        // Bare silicon, no aluminum.
        "F081" => {
            let column = snapshot.section.column_at(41_500.0);
            snapshot.section.layers(column).is_empty()
        }
        // Missing inside the supply's line, present between the lines.
        "F082" => !aluminum(130.0) && aluminum(51.5),
        // The gate spans 22.5 to 24.5 um.
        "F086" => pieces_um(snapshot, Material::Polysilicon).iter().any(|piece| {
            (piece.from_um - 22.5).abs() < 1e-6 && (piece.to_um - 24.5).abs() < 1e-6
        }),
        other => panic!("{other} is no sentence"),
    }
}

fn check(flows: &[&str]) {
    let mut wrong = Vec::new();
    for name in flows {
        let done = Done::of(name);
        for row in reference("flow_expected.csv") {
            let id = row.text("id").to_owned();
            if row.text("flow") != *name || ELECTRICAL.contains(&id.as_str()) {
                continue;
            }
            let (good, found) = if row.text("value").parse::<f64>().is_err() {
                let good = text_row(&done, &row);
                (good, good.to_string())
            } else {
                let value = ours(&done, &row);
                let (good, off) = judge(&row, value);
                (good, format!("{value:.5e} ({off})"))
            };
            let known = !row.text("known_deviation").is_empty();
            println!(
                "{id} {name} {}: {found}, expected {} within {}{}",
                row.text("quantity"),
                row.text("value"),
                row.text("tolerance"),
                if good == known { "  <<<" } else { "" }
            );
            if good == known {
                let text = if known { "the known deviation is gone" } else { "off" };
                wrong.push(format!("{id} {found} {text}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_first_day_capacitor() {
    check(&["mos-capacitor"]);
}

#[test]
fn the_diffused_resistor() {
    check(&["diffused-resistor", "broken-window"]);
}

#[test]
fn the_short_process() {
    check(&["short-cmos", "broken-well", "broken-tone", "broken-undercut"]);
}

#[test]
fn the_wells_of_other_dopants() {
    check(&["short-cmos-gas-well", "short-cmos-arsenic-well"]);
}

#[test]
fn the_full_process() {
    check(&["full-cmos"]);
}

#[test]
fn the_full_process_with_faults() {
    check(&["broken-contact", "broken-gate", "broken-overlay", "broken-mask"]);
}

#[test]
fn every_row_is_asked_or_named() {
    for row in reference("flow_expected.csv") {
        let id = row.text("id");
        let named = ELECTRICAL.contains(&id);
        let number: u32 = id[1..].parse().expect("a number");
        assert!((1..=87).contains(&number), "{id}");
        let electrical = ["threshold", "capacitance in", "flat-band", "switching", "V_T"];
        if electrical.iter().any(|word| row.text("quantity").contains(word)) {
            assert!(named, "{id} asks for what is not computed");
        }
    }
}

#[test]
fn a_finer_mesh_has_so_many_times_the_columns() {
    let path = format!("{}/../www/flows/full-cmos.json", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read(&path).expect("the flow is there");
    let flow = Flow::from_text(&text).expect("the flow is good");
    let columns = |coarseness: f64| {
        let mut runner = Runner::with_mesh(coarseness, None);
        runner.run(&flow, Some(0), &mut |_| true).expect("the first step runs");
        f64::from(u32::try_from(runner.snapshots()[0].section.columns()).unwrap_or(0))
    };
    let usual = columns(1.0);
    for (coarseness, times) in [(0.5, 2.0), (0.25, 4.0)] {
        let ratio = columns(coarseness) / usual;
        println!("{usual} columns x {ratio:.3}");
        // Every interval between two edges rounds its own number up.
        assert!((ratio / times - 1.0).abs() < 0.05, "{ratio}");
    }
}

#[test]
fn columns_do_not_grow_without_end() {
    let done = Done::of("full-cmos");
    let first = done.runner.snapshots()[0].section.columns();
    let most = done.runner.snapshots().iter().map(|s| s.section.columns()).max();
    println!("{first} columns, at most {most:?}");
    // Walls bring edges of their own, however many columns the mesh begins with.
    assert!(most.is_some_and(|most| most <= first + 300), "{first} {most:?}");
}

#[test]
fn a_capacitor_is_told_the_capacitance_of_its_oxide() {
    let done = Done::of("mos-capacitor");
    let measured = measurements(&done.flow, done.runner.snapshots());
    let last = done.runner.snapshots().last().expect("steps ran");
    let mut count = 0;
    for one in measured.iter().filter(|m| m.id == "oxide_capacitance_nf_cm2") {
        let labels = &done.flow.layout.labels;
        let label = labels.iter().find(|label| one.place.starts_with(&label.name));
        // The line runs along x.
        let x_um = label.expect("at a label").at_um[0] - done.flow.section.from_um[0];
        let thick_cm = 1e-7 * film_nm(last, x_um, Material::ThermalOxide);
        let expected = 1e9 * OXIDE_F_CM / thick_cm;
        let value = one.value.as_f64().expect("a number");
        assert!((value / expected - 1.0).abs() < 1e-9, "{value} {expected}");
        count += 1;
    }
    assert_eq!(count, 2, "one a plate");
}
