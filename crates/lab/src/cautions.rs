//! Cautions for the page.

use barewafer_process::hazards::{Callout, of_request, row};
use serde_json::{Map, Value};

/// The cautions of a request, worst first.
///
/// They follow the settings and not the answer: settings that the kernel refuses name chemicals
/// all the same.
pub(crate) fn of(request: &Map<String, Value>) -> Vec<Callout> {
    of_request(request).into_iter().filter_map(|id| Some(row(id)?.callout())).collect()
}

/// The known mistakes of a request's settings, those that stop first.
///
/// The benches of the films and doping families are furnaces: their modules carry only the rules
/// that a furnace can break.
#[cfg(any(feature = "films", feature = "doping", feature = "etching"))]
pub(crate) fn findings(
    request: &Map<String, Value>,
) -> Vec<barewafer_process::hazards::Finding> {
    #[cfg(feature = "etching")]
    return barewafer_process::hazards::setting(request);
    #[cfg(not(feature = "etching"))]
    barewafer_process::hazards::furnace_setting(request)
}

/// The cautions of rows of the hazard table, in this order; unknown ids are left out.
#[cfg(feature = "wafer")]
pub(crate) fn of_rows(ids: &[String]) -> Vec<Callout> {
    ids.iter().take(1000).filter_map(|id| Some(row(id)?.callout())).collect()
}

/// The safety sheet of a run sheet given as JSON text.
#[cfg(feature = "etching")]
pub(crate) fn sheet_of(
    text: &str,
) -> Result<barewafer_process::hazards::Sheet, barewafer_process::RequestError> {
    use barewafer_process::RequestError;
    use barewafer_process::request::MAX_REQUEST_BYTES;

    let refuse = |message: &str| {
        RequestError::new(
            "bad_json",
            "",
            "",
            "a JSON text",
            message,
            "open a flow file, or paste the request of one step",
        )
    };
    if MAX_REQUEST_BYTES < text.len() {
        return Err(refuse(&format!(
            "the run sheet is longer than {MAX_REQUEST_BYTES} bytes"
        )));
    }
    let value: Value = serde_json::from_slice(text.as_bytes())
        .map_err(|error| refuse(&format!("the run sheet is no JSON: {error}")))?;
    barewafer_process::hazards::sheet(&value)
}
