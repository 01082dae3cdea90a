//! From our values to values of the page.

use barewafer_process::RequestError;
use serde::Serialize;
use wasm_bindgen::{JsError, JsValue};

/// A plain value of the page: objects, lists, numbers, null for what is none.
///
/// # Errors
/// An `Error` of the page if the value cannot be written.
pub(crate) fn to_js<T: Serialize + ?Sized>(value: &T) -> Result<JsValue, JsValue> {
    // Through text: one crossing and the browser's own parser are faster than a crossing for
    // every number of a profile (a test in the browser holds the time).
    let text =
        serde_json::to_string(value).map_err(|error| JsError::new(&error.to_string()))?;
    js_sys::JSON::parse(&text)
}

/// The same for small answers, value by value: no text is written and read again.
///
/// # Errors
/// As [`to_js`].
pub(crate) fn small_to_js<T: Serialize + ?Sized>(value: &T) -> Result<JsValue, JsValue> {
    // Over one JSON value: a writer of its own for every type would make the module larger.
    let value =
        serde_json::to_value(value).map_err(|error| JsError::new(&error.to_string()))?;
    value
        .serialize(&serde_wasm_bindgen::Serializer::json_compatible())
        .map_err(|error| JsError::new(&error.to_string()).into())
}

/// The plain object that an export throws.
pub(crate) fn thrown(error: &RequestError) -> JsValue {
    small_to_js(error).unwrap_or_else(|other| other)
}
