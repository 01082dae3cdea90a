//! One operation: a request from standard input, its report as text.

use std::io::Read;

use barewafer_process::hazards::{Callout, NOTICE, row};
use barewafer_process::request::{MAX_REQUEST_BYTES, parse};
use barewafer_process::{Report, RequestError, run};
use serde::Serialize;
use serde_json::Value;

use crate::Failure;

/// A report with the words of its cautions: a hazardous step is never shown without them.
#[derive(Serialize)]
struct Answer {
    #[serde(flatten)]
    report: Report,
    cautions: Vec<Callout>,
    /// What the cautions are not; empty without cautions.
    notice: &'static str,
}

/// Reads one request, runs it, and gives the report as one JSON object and a line end.
pub(crate) fn answer(
    input: impl Read,
    operation: Option<String>,
    pretty: bool,
) -> Result<String, Failure> {
    let mut request = Vec::new();
    // One byte more than allowed shows that there is too much, without reading it all.
    let limit = u64::try_from(MAX_REQUEST_BYTES).unwrap_or(u64::MAX).saturating_add(1);
    input.take(limit).read_to_end(&mut request)?;
    let report =
        report(&request, operation).map_err(|error| Failure::Wrong(error.to_string()))?;
    let cautions: Vec<Callout> =
        report.hazards.iter().filter_map(|id| Some(row(id)?.callout())).collect();
    let notice = if cautions.is_empty() { "" } else { NOTICE };
    let answer = Answer { report, cautions, notice };
    let text = if pretty {
        serde_json::to_string_pretty(&answer)
    } else {
        serde_json::to_string(&answer)
    };
    let mut text = text.map_err(std::io::Error::from)?;
    text.push('\n');
    Ok(text)
}

fn report(text: &[u8], operation: Option<String>) -> Result<Report, RequestError> {
    let mut request = parse(text)?;
    if let Some(named) = operation {
        match request.get("operation") {
            None => {
                request.insert("operation".to_owned(), Value::String(named));
            }
            Some(Value::String(inside)) if *inside == named => {}
            Some(inside) => {
                return Err(RequestError::new(
                    "conflict",
                    "operation",
                    &inside.to_string(),
                    &named,
                    &format!(
                        "operation: the request says {}, the command says {}",
                        short(&inside.to_string()),
                        short(&named)
                    ),
                    "leave one of the two out",
                ));
            }
        }
    }
    run(request)
}

fn short(text: &str) -> String {
    text.chars().take(60).collect()
}
