//! `litho_checks` and `aerial_linespace`: images, the dose to clear, overlay, and what the developer
//! leaves.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, Made, MadeChecks, TableError, request};

pub(super) static TABLE: Table = table!("litho_checks", "id");
static IMAGES: Table = table!("aerial_linespace", "x_um");

/// The image of one period has 241 points: its ends, its middle and a quarter from it.
const MIDDLE: usize = 120;
const QUARTER: usize = 180;
const END: usize = 240;

/// What is asked for one number of a row: in words, the request, and where it is read.
struct Asked {
    what: &'static str,
    request: Value,
    read: String,
}

fn asked(what: &'static str, request: Value, read: &str) -> Asked {
    Asked { what, request, read: read.to_owned() }
}

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let list = questions(row.text("id")?);
    if list.is_empty() {
        return Ok(vec![Made::LeftOut(
            "it is about a part of the computation, which no request asks for",
        )]);
    }
    let values: Vec<f64> = numbers(row, row.text("value")?)?;
    if values.len() != list.len() {
        return Err(row.error("one number for each question is needed"));
    }
    let tolerance = row.text("tolerance")?;
    let (size, allowed) = match tolerance.strip_suffix('%') {
        Some(percent) => (0.01 * numbers(row, percent)?[0], Allowed::Relative),
        None => (numbers(row, tolerance)?[0], Allowed::Absolute),
    };
    list.into_iter()
        .zip(values)
        .map(|(asked, value)| {
            Draft {
                row,
                request: request(asked.request),
                what: asked.what.to_owned(),
                read: asked.read,
                factor: 1.0,
                expected: Expected::Number(value),
                unit: row.text("unit")?,
                tolerance: size,
                allowed,
                source: row.text("source")?,
                known_by: row.text("known_by")?,
            }
            .finish()
        })
        .collect()
}

/// The numbers of a cell, between semicolons.
fn numbers(row: &Row<'_>, text: &str) -> Result<Vec<f64>, TableError> {
    text.split(';')
        .map(|number| {
            let number = number.trim();
            number.parse().map_err(|_| row.error(&format!("{number} is no number")))
        })
        .collect()
}

/// An i-line stepper over lines and spaces of one width.
fn lines(pitch_um: f64, defocus_um: f64) -> Value {
    json!({"operation": "exposure", "defocus_um": defocus_um,
        "mask": {"pattern": "line_space", "pitch_um": pitch_um, "opening_um": 0.5 * pitch_um}})
}

fn single(pattern: &str, pitch_um: f64, opening_um: f64, defocus_um: f64) -> Value {
    json!({"operation": "exposure", "defocus_um": defocus_um,
        "mask": {"pattern": pattern, "pitch_um": pitch_um, "opening_um": opening_um}})
}

/// Resist on bare silicon or on films.
fn film(thickness_nm: f64, oxide_nm: Option<f64>) -> Value {
    let mut request = json!({"operation": "exposure", "thickness_nm": thickness_nm});
    if let Some(nm) = oxide_nm {
        request["stack_below"] =
            json!([{"material": "thermal_oxide", "thickness_nm": nm}]);
    }
    request
}

fn developed(dose_mj_cm2: f64, defocus_um: f64) -> Value {
    json!({"operation": "development", "time_s": 60, "exposure": {
        "thickness_nm": 1000, "dose_mj_cm2": dose_mj_cm2, "defocus_um": defocus_um}})
}

fn image(place: usize) -> String {
    format!("image.intensity.{place}")
}

/// What is asked for a row of `litho_checks`; nothing where no request asks for it.
fn questions(id: &str) -> Vec<Asked> {
    const CLEAR: &str = "dose to clear";
    const FINEST: &str = "finest line by the rule";
    let clear = "dose_to_clear_mj_cm2";
    let at = |what, request: &Value, place| asked(what, request.clone(), &image(place));
    let three = |request: &Value| {
        vec![
            at("image in the middle of a space", request, MIDDLE),
            at("image at the drawn edge", request, QUARTER),
            at("image in the middle of a line", request, END),
        ]
    };
    match id {
        "PX-01" => {
            let request =
                json!({"operation": "exposure", "tool": "contact", "thickness_nm": 1000});
            vec![asked(FINEST, request, "resolution_um")]
        }
        "PX-02" => {
            let request = json!({"operation": "exposure", "tool": "proximity",
                "gap_um": 10, "thickness_nm": 1000});
            vec![asked(FINEST, request, "resolution_um")]
        }
        "AI-04" => three(&lines(1.0, 0.0)),
        "AI-05" => three(&lines(0.8, 0.0)),
        "AI-06" => vec![asked("image contrast", lines(1.0, 0.8), "contrast")],
        "AI-07" => vec![asked("normalized log slope", lines(1.0, 0.0), "nils")],
        "AI-08" | "AI-09" => {
            let defocus_um = if id == "AI-08" { 0.0 } else { 0.8 };
            let request = single("isolated_space", 1.0, 0.5, defocus_um);
            vec![at("image in the middle of a single space", &request, MIDDLE)]
        }
        "AI-10" => [0.0, 0.8]
            .into_iter()
            .map(|defocus_um| {
                let request = single("contact_array", 4.0, 0.6, defocus_um);
                at("image in the middle of a square hole", &request, MIDDLE)
            })
            .collect(),
        "TF-05" => vec![asked(
            "distance of standing waves",
            film(1000.0, None),
            "standing_wave_nm",
        )],
        "TF-06" => vec![asked(CLEAR, film(1000.0, None), clear)],
        "TF-07" => vec![asked(CLEAR, film(1000.0, Some(80.0)), clear)],
        "TF-08" => [1013.6, 1067.2].map(|nm| asked(CLEAR, film(nm, None), clear)).into(),
        "DV-03" => {
            vec![asked("loss of unexposed resist", developed(90.0, 0.0), "loss_nm")]
        }
        "DV-04" => {
            vec![asked("line at the bottom", developed(90.0, 0.0), "cd_bottom_um")]
        }
        "DV-05" => {
            vec![asked("line at the bottom", developed(80.0, 0.6), "cd_bottom_um")]
        }
        "OV-01" => {
            let request = json!({"operation": "exposure",
                "alignment": {"scale_ppm": 2, "place_mm": {"x": 50}}});
            vec![asked("shift of the mask by a wrong scale", request, "overlay.x_um")]
        }
        "OV-02" => {
            let request = json!({"operation": "exposure",
                "alignment": {"random_um": [0.05, 0.08, 0.06]}});
            vec![asked("independent errors together", request, "overlay.random_um")]
        }
        _ => Vec::new(),
    }
}

/// Rows of the table of images whose place is one of the 241 points, on the right side: the left
/// one is its mirror image.
pub(super) fn image_rows() -> Result<Vec<Row<'static>>, TableError> {
    const COLUMNS: [(&str, &str); 3] = [
        ("I_defocus_0.0um", "0"),
        ("I_defocus_0.4um", "0.4"),
        ("I_defocus_0.8um", "0.8"),
    ];
    let mut rows = Vec::new();
    for row in IMAGES.rows()? {
        let x_um = row.required("x_um")?;
        let tenths = 10.0 * x_um;
        if x_um < 0.0 || 1e-6 < (tenths - tenths.round()).abs() {
            continue;
        }
        for (column, defocus) in COLUMNS {
            let values = BTreeMap::from([
                ("x_um", row.text("x_um")?.to_owned()),
                ("defocus_um", defocus.to_owned()),
                ("value", row.text(column)?.to_owned()),
            ]);
            rows.push(Row::new(format!("{} {defocus}", row.id()), values));
        }
    }
    Ok(rows)
}

pub(super) fn image_checks(row: &Row<'_>) -> MadeChecks {
    let x_um = row.required("x_um")?;
    // Steps of 1/240 um from the middle.
    let mut place = MIDDLE;
    while place < END && 1e-9 < x_um - step_um(place - MIDDLE) {
        place += 1;
    }
    Ok(vec![
        Draft {
            row,
            request: request(lines(1.0, row.required("defocus_um")?)),
            what: format!("image of lines of 0.5 µm, {x_um} µm from the middle"),
            read: image(place),
            factor: 1.0,
            expected: Expected::Number(row.required("value")?),
            unit: "",
            tolerance: 5e-4,
            allowed: Allowed::Absolute,
            source: "make_aerial.py: scalar sum over source points, a second program",
            known_by: "computed",
        }
        .finish()?,
    ])
}

#[expect(clippy::cast_precision_loss, reason = "at most 120 steps")]
fn step_um(steps: usize) -> f64 {
    steps as f64 / 240.0
}
