//! What one request gives: the report, its charts and its picture.

use barewafer_figures::chart::Chart;
use barewafer_figures::pictures::Frame;
use barewafer_figures::scene::Scene;
use barewafer_figures::{charts, pictures};
use barewafer_process::{Report, RequestError, run, run_text};
use serde::Serialize;
use serde_json::{Map, Value};

/// The answer to one request.
#[derive(Clone, Debug, Serialize)]
pub struct Answer {
    /// The report of the kernel.
    pub report: Report,
    /// Its charts, the main one first.
    pub charts: Vec<Chart>,
    /// Its picture, if there is something to show.
    pub picture: Option<Scene>,
}

/// The answer to a request, with the picture drawn for a frame.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request.
pub fn answer(request: Map<String, Value>, frame: Frame) -> Result<Answer, RequestError> {
    Ok(Answer::of(run(request)?, frame))
}

impl Answer {
    /// A report with its charts, and its picture drawn for a frame.
    #[must_use]
    pub fn of(report: Report, frame: Frame) -> Self {
        Self {
            charts: charts::of(&report),
            picture: pictures::of(&report, frame),
            report,
        }
    }
}

/// The report to a request, JSON text in and out: the same bits natively and in a browser.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request.
pub fn answer_text(text: &str) -> Result<String, RequestError> {
    let report = run_text(text.as_bytes())?;
    serde_json::to_string(&report).map_err(|error| {
        RequestError::new(
            "not_written",
            "",
            "",
            "",
            &format!("the report could not be written: {error}"),
            "tell the authors which request gave this",
        )
    })
}
