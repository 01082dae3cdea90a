//! A whole flow: its file run step by step, as text to read or as one JSON object.

use std::fs::File;
use std::io::Read;

use barewafer_process::flow::questions::{
    describe, junctions_at_um, layers_at, profile_down, sheet_at,
};
use barewafer_process::flow::{Flow, FlowReport, Runner, Snapshot, Stopped, json_schema};
use barewafer_process::num::show;
use barewafer_process::request::MAX_REQUEST_BYTES;
use serde_json::{Value, json};

use crate::Failure;

/// What is asked of a flow.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Asked {
    /// Its file; `-` is standard input.
    pub(crate) file: String,
    /// One JSON object instead of text.
    pub(crate) json: bool,
    /// The last step to run.
    pub(crate) until: Option<String>,
    /// A place of the section in um.
    pub(crate) at_um: Option<f64>,
}

/// Runs a flow and writes what it answers.
pub(crate) fn answer(asked: &Asked) -> Result<String, Failure> {
    let flow = Flow::from_text(&read(&asked.file)?).map_err(wrong)?;
    let until = match &asked.until {
        Some(step) => Some(flow.find_step(step).map_err(wrong)?),
        None => None,
    };
    if let Some(x_um) = asked.at_um
        && !(0.0..=flow.width_um()).contains(&x_um)
    {
        return Err(Failure::Wrong(format!(
            "--at {x_um}: outside the section (allowed: 0 to {} µm); give a distance from the beginning of the section line",
            show(flow.width_um())
        )));
    }
    let mut runner = Runner::new();
    match runner.run(&flow, until, &mut |_| true) {
        Ok(_) | Err(Stopped::Cancelled) => {}
        Err(Stopped::Wrong(error)) => return Err(wrong(error)),
    }
    let report = runner.report(&flow);
    let last = runner.snapshots().last();
    if asked.json {
        let mut value = serde_json::to_value(&report).map_err(std::io::Error::from)?;
        if let (Some(x_um), Some(last), Some(object)) =
            (asked.at_um, last, value.as_object_mut())
        {
            object.insert("at".to_owned(), at(&flow, last, x_um));
        }
        return Ok(format!("{value}\n"));
    }
    let mut text = readable(&flow, &report);
    if let Some(last) = last {
        match asked.at_um {
            Some(x_um) => text.push_str(&at_text(&flow, last, x_um)),
            None => {
                text.push('\n');
                for sentence in describe(&flow, last) {
                    text.push_str(&sentence);
                    text.push('\n');
                }
            }
        }
    }
    Ok(text)
}

/// The JSON Schema of flow files.
pub(crate) fn schema() -> Result<String, Failure> {
    let text =
        serde_json::to_string_pretty(&json_schema()).map_err(std::io::Error::from)?;
    Ok(format!("{text}\n"))
}

pub(crate) fn wrong(error: impl std::fmt::Display) -> Failure {
    Failure::Wrong(error.to_string())
}

pub(crate) fn read(name: &str) -> Result<Vec<u8>, Failure> {
    // One byte more than allowed shows that there is too much, without reading it all.
    let limit = u64::try_from(MAX_REQUEST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    let mut text = Vec::new();
    if name == "-" {
        std::io::stdin().lock().take(limit).read_to_end(&mut text)?;
    } else {
        let file = File::open(name).map_err(|error| {
            Failure::Wrong(format!("{name}: {error}; give the path of a flow file"))
        })?;
        file.take(limit).read_to_end(&mut text).map_err(|error| {
            Failure::Wrong(format!("{name}: {error}; give the path of a flow file"))
        })?;
    }
    Ok(text)
}

/// Everything at a place.
fn at(flow: &Flow, last: &Snapshot, x_um: f64) -> Value {
    let sheet = sheet_at(flow, last, x_um);
    json!({
        "x_um": x_um,
        "layers": layers_at(last, x_um),
        "junctions_um": junctions_at_um(flow, last, x_um),
        "sheet": sheet.layers,
        "polysilicon_ohm_sq": sheet.polysilicon_ohm_sq,
        "profile": profile_down(flow, last, x_um),
    })
}

fn readable(flow: &Flow, report: &FlowReport) -> String {
    let mut text = format!("{}: {}\n\n", flow.name, flow.title);
    for step in &report.steps {
        let numbers: Vec<String> = step
            .results
            .iter()
            .filter_map(|(name, value)| match value {
                Value::Number(number) => {
                    Some(format!("{name} {}", show(number.as_f64().unwrap_or_default())))
                }
                _ => None,
            })
            .take(6)
            .collect();
        text.push_str(&format!(
            "{:>3}  {:<20} {:<15} {}\n",
            step.number,
            step.id,
            step.operation,
            numbers.join(", ")
        ));
        for warning in &step.warnings {
            text.push_str(&format!("     ! {}; {}\n", warning.message, warning.hint));
        }
    }
    if !report.rule_breaks.is_empty() {
        text.push_str("\nDesign rules\n");
        for broken in &report.rule_breaks {
            text.push_str(&format!("     ! {}\n", broken.message));
        }
    }
    text.push_str("\nMeasurements\n");
    for measured in &report.measurements {
        let value = match &measured.value {
            Value::Number(number) => show(number.as_f64().unwrap_or_default()),
            Value::Array(list) => {
                let list: Vec<String> =
                    list.iter().filter_map(Value::as_f64).map(show).collect();
                if list.is_empty() { "none".to_owned() } else { list.join(", ") }
            }
            Value::Bool(true) => "yes".to_owned(),
            Value::Bool(false) => "no".to_owned(),
            other => other.to_string(),
        };
        text.push_str(&format!(
            "     {:<45} {value} {}  [{}]\n",
            measured.quantity, measured.unit, measured.place
        ));
    }
    text
}

/// Most lines of a profile in text.
const PROFILE_LINES: usize = 40;

fn at_text(flow: &Flow, last: &Snapshot, x_um: f64) -> String {
    let mut text = format!("\nAt x = {} µm, from the top down\n", show(x_um));
    for layer in layers_at(last, x_um) {
        text.push_str(&format!(
            "     {:>12} nm  {}\n",
            show(layer.thickness_nm),
            layer.material
        ));
    }
    let junctions: Vec<String> =
        junctions_at_um(flow, last, x_um).into_iter().map(show).collect();
    let junctions =
        if junctions.is_empty() { "none".to_owned() } else { junctions.join(", ") };
    text.push_str(&format!("Junctions, µm: {junctions}\n"));
    for layer in sheet_at(flow, last, x_um).layers {
        let ohm_sq = layer.sheet_resistance_ohm_sq.map_or_else(
            || "nothing conducts".to_owned(),
            |r| format!("{} Ω/□", show(r)),
        );
        text.push_str(&format!(
            "     {} to {} µm: {}-type, {ohm_sq}\n",
            show(layer.top_um),
            show(layer.bottom_um),
            layer.doping_type.word()
        ));
    }
    let profile = profile_down(flow, last, x_um);
    text.push_str("depth_um");
    for (dopant, _) in &profile.dopants {
        text.push_str(&format!("\t{}_cm3", dopant.word()));
    }
    text.push_str("\tnet_cm3\tactive_net_cm3\n");
    let stride = profile.depth_um.len().div_ceil(PROFILE_LINES).max(1);
    for k in (0..profile.depth_um.len()).step_by(stride) {
        text.push_str(&show(profile.depth_um[k]));
        for (_, list) in &profile.dopants {
            text.push_str(&format!("\t{:.4e}", list[k]));
        }
        text.push_str(&format!(
            "\t{:.4e}\t{:.4e}\n",
            profile.net_cm3[k], profile.active_net_cm3[k]
        ));
    }
    text
}
