//! `diffusion_profiles/`: depths at which profiles of an independent solver fall through the
//! decades. What was computed, and with what tolerance, stands in the head of each file.

use std::collections::BTreeMap;

use barewafer_process::num::ln;
use serde_json::{Value, json};

use super::table::Row;
use super::{Allowed, Draft, Expected, Made, MadeChecks, TableError, request};

/// The head of every file: 1 % in depth above a thousandth of the largest concentration.
const TOLERANCE: f64 = 0.01;
const LEAST_PART: f64 = 1e-3;
/// Nearer to the top than this a concentration does not tell a depth.
const MOST_PART: f64 = 0.5;

const SOURCE: &str = "finite volumes in a program that shares no code with the kernel, with the \
                      diffusivities of J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI \
                      Technology (2000)";

macro_rules! files {
    ($($name:literal),*) => {
        &[$((
            $name,
            include_str!(concat!(
                env!("CARGO_MANIFEST_DIR"),
                "/../../tests/reference/diffusion_profiles/",
                $name,
                ".csv"
            )),
        )),*]
    };
}

const FILES: &[(&str, &str)] = files![
    "c01_constD_erfc",
    "c02_constD_gaussian",
    "c03_constD_evaporation",
    "c04_B_predep_950C_30min",
    "c05_B_predep_1100C_20min",
    "c06_P_predep_1000C_30min",
    "c07_As_predep_1050C_60min",
    "c08_Sb_buried_1200C_120min",
    "c09_B_drivein_1100C_60min",
    "c10_P_nwell_1150C_360min",
    "c11_As_sd_950C_30min",
    "c12_B_sd_1000C_30min",
    "c13_As_B_coupled_1000C_30min",
    "c14_boron_oxidation_segregation",
    "c15_P_implant_900C_60min",
    "c16_B_twostep_975C_1100C",
    "c17_B_OED_1000C_x3"
];

/// One row a file.
pub(super) fn rows() -> Result<Vec<Row<'static>>, TableError> {
    let row = |&(name, text): &(&str, &str)| {
        let case = name.split('_').next().unwrap_or(name);
        let values = BTreeMap::from([("text", text.to_owned())]);
        Row::new(format!("diffusion_profiles {case}"), values)
    };
    Ok(FILES.iter().map(row).collect())
}

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let text = row.text("text")?;
    let Some(run) = Run::of(row, text)? else {
        return Ok(vec![Made::LeftOut(
            "its diffusivity, start or surface is given to the solver itself, not by a request",
        )]);
    };
    let curve = Curve::of(row, text)?;
    let top = curve.concentration_cm3.iter().copied().fold(0.0, f64::max);
    let mut made = Vec::new();
    for exponent in (14..21).rev() {
        let level: f64 = format!("1e{exponent}").parse().unwrap_or(f64::NAN);
        if !(LEAST_PART * top..MOST_PART * top).contains(&level) {
            continue;
        }
        let Some(depth_um) = curve.depth_um_at(level) else { continue };
        let draft = Draft {
            row,
            request: request(run.request.clone()),
            what: format!("depth of {} at 1e{exponent} per cm³", run.dopant),
            read: format!(
                "profile.depth_um where profile.{}_cm3 = 1e{exponent}",
                run.dopant
            ),
            factor: 1.0,
            expected: Expected::Number(depth_um),
            unit: "um",
            tolerance: TOLERANCE,
            allowed: Allowed::Relative,
            source: SOURCE,
            known_by: "computed",
        };
        made.push(draft.finish()?);
    }
    Ok(made)
}

/// What a file says it computed, as a request.
struct Run {
    dopant: &'static str,
    request: Value,
}

impl Run {
    /// `None` where no request asks for it.
    fn of(row: &Row<'_>, text: &str) -> Result<Option<Self>, TableError> {
        let mut lines = text.lines().filter_map(|line| line.strip_prefix("# ")).skip(1);
        let (about, set) = (lines.next().unwrap_or(""), lines.next().unwrap_or(""));
        let dopant = match after(set, "dopants=") {
            Some("B") => "boron",
            Some("P") => "phosphorus",
            Some("As") => "arsenic",
            Some("Sb") => "antimony",
            // Two dopants at once, or no such line.
            _ => return Ok(None),
        };
        let is_plain = set.contains("constD_cm2/s=None")
            && set.contains("D_multiplier=1")
            && !set.contains("D_multiplier=1.");
        let steps = set.split_once("=[(").and_then(|(_, rest)| rest.split_once(")] "));
        let Some((steps, _)) = steps.filter(|_| is_plain) else { return Ok(None) };
        let net: f64 = parse(row, after(set, "background_net_donor_cm-3="))?;
        let substrate = json!({
            "type": if 0.0 < net { "n" } else { "p" }, "concentration_cm3": net.abs(),
        });
        // Where the atoms are before the first step.
        let mut start: Option<Value> = match after(about, " Rp ") {
            None => None,
            Some(range_um) => {
                let range_um: f64 = parse(row, Some(range_um))?;
                let straggle_um: f64 = parse(row, after(about, " dRp "))?;
                let dose_cm2: f64 = parse(row, after(about, " keV "))?;
                let nm = |um: f64| (um * 1e7).round() / 1e4;
                Some(json!({"gaussian": {
                    "dopant": dopant, "dose_cm2": dose_cm2,
                    "projected_range_nm": nm(range_um), "straggle_nm": nm(straggle_um),
                }}))
            }
        };
        for step in steps.split("), (") {
            let mut parts = step.splitn(3, ", ");
            let mut next =
                || parts.next().ok_or_else(|| row.error("a step has three parts"));
            let temperature_c: f64 = parse(row, Some(next()?))?;
            let time_min: f64 = parse::<f64>(row, Some(next()?))? / 60.0;
            let surface = next()?.trim_matches(['[', ']']);
            start = Some(match (surface, start) {
                ("None", Some(start)) => json!({
                    "operation": "drive_in", "start": start, "temperature_c": temperature_c,
                    "time_min": time_min, "substrate": substrate,
                }),
                // A start that the file gives by a formula.
                ("None", None) => return Ok(None),
                (surface, _) => json!({
                    "operation": "predeposition", "dopant": dopant,
                    "temperature_c": temperature_c, "time_min": time_min,
                    "surface_concentration_cm3": parse::<f64>(row, Some(surface))?,
                    "substrate": substrate,
                }),
            });
        }
        Ok(start.map(|request| Self { dopant, request }))
    }
}

/// The word that follows a mark.
fn after<'a>(line: &'a str, mark: &str) -> Option<&'a str> {
    let (_, rest) = line.split_once(mark)?;
    rest.split([' ', ',']).next()
}

fn parse<T: std::str::FromStr>(
    row: &Row<'_>,
    text: Option<&str>,
) -> Result<T, TableError> {
    let parsed = text.and_then(|text| text.parse().ok());
    parsed.ok_or_else(|| row.error(&format!("{text:?} is no number")))
}

/// The first dopant's profile in a file.
struct Curve {
    depth_um: Vec<f64>,
    concentration_cm3: Vec<f64>,
}

impl Curve {
    fn of(row: &Row<'_>, text: &str) -> Result<Self, TableError> {
        let mut curve = Self { depth_um: Vec::new(), concentration_cm3: Vec::new() };
        let is_data = |line: &&str| !line.starts_with(['#', 'd']) && !line.is_empty();
        for line in text.lines().filter(is_data) {
            let mut values = line.split(',');
            curve.depth_um.push(parse(row, values.next())?);
            curve.concentration_cm3.push(parse(row, values.next())?);
        }
        Ok(curve)
    }

    /// The deepest depth at which the curve falls through a level.
    fn depth_um_at(&self, level_cm3: f64) -> Option<f64> {
        let (x, c) = (&self.depth_um, &self.concentration_cm3);
        let i = c.iter().rposition(|&c| level_cm3 < c)?;
        let (c0, c1) = (c.get(i)?, c.get(i + 1)?);
        let (x0, x1) = (x.get(i)?, x.get(i + 1)?);
        if *c1 <= 0.0 {
            return None;
        }
        Some(x0 + ln(c0 / level_cm3) / ln(c0 / c1) * (x1 - x0))
    }
}
