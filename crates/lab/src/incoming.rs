//! From a value of the page to JSON, with every mistake named before the kernel sees it.
//!
//! Going through JSON text would turn NaN and infinities into null without a word.

use barewafer_process::RequestError;
use js_sys::{Array, Float64Array, Object, Reflect};
use serde::de::DeserializeOwned;
use serde_json::{Map, Number, Value};
use wasm_bindgen::{JsCast, JsValue};

/// Lists and objects inside each other.
const MAX_DEPTH: usize = 12;
/// Values in all; a chart handed back has some ten thousand.
const MAX_VALUES: usize = 400_000;
/// Characters of a chart, picture or list handed back.
const MAX_HANDED_BACK: u32 = 8_000_000;
/// Characters of one text.
const MAX_TEXT: u32 = 100_000;

/// The JSON value of a value of the page.
///
/// # Errors
/// `not_finite`, `wrong_type`, `too_large` or `too_deep`, each with the path of the field.
pub(crate) fn to_json(value: &JsValue) -> Result<Value, RequestError> {
    let mut left = MAX_VALUES;
    walk(value, "", MAX_DEPTH, &mut left)
}

/// What an answer holds, handed back by the page. Nothing in it can be other than finite, so
/// the browser may write it as text: one crossing for thousands of numbers.
///
/// # Errors
/// `wrong_type` or `too_large`.
pub(crate) fn handed_back<T: DeserializeOwned>(
    value: &JsValue,
    name: &str,
) -> Result<T, RequestError> {
    let allowed = "what an answer holds";
    let text = js_sys::JSON::stringify(value)
        .ok()
        .filter(|text| text.is_string())
        .ok_or_else(|| refuse("wrong_type", name, "", allowed, "is nothing to draw"))?;
    if MAX_HANDED_BACK < text.length() {
        let allowed = format!("at most {MAX_HANDED_BACK} characters");
        return Err(refuse("too_large", name, "", &allowed, "is too large"));
    }
    // Parsed to a value first, as requests are: a second parser for every type would make the
    // module that a phone has to load larger.
    serde_json::from_slice::<Value>(String::from(text).as_bytes())
        .and_then(|value| T::deserialize(&value))
        .map_err(|error| {
            refuse("wrong_type", name, "", allowed, &format!("cannot be read: {error}"))
        })
}

/// The JSON object of an object of the page.
///
/// # Errors
/// As [`to_json`]; `not_an_object` for anything else.
pub(crate) fn to_object(value: &JsValue) -> Result<Map<String, Value>, RequestError> {
    barewafer_process::request::into_object(to_json(value)?)
}

fn walk(
    value: &JsValue,
    path: &str,
    depth: usize,
    left: &mut usize,
) -> Result<Value, RequestError> {
    let Some(fewer) = left.checked_sub(1) else {
        let allowed = format!("at most {MAX_VALUES} values");
        return Err(refuse("too_large", path, "", &allowed, "is too large"));
    };
    *left = fewer;
    if value.is_null() || value.is_undefined() {
        return Ok(Value::Null);
    }
    if let Some(truth) = value.as_bool() {
        return Ok(Value::Bool(truth));
    }
    if let Some(number) = value.as_f64() {
        return to_number(number, path);
    }
    if value.is_string() {
        let long = value
            .dyn_ref::<js_sys::JsString>()
            .is_none_or(|text| MAX_TEXT < text.length());
        if long {
            let allowed = format!("at most {MAX_TEXT} characters");
            return Err(refuse("too_large", path, "", &allowed, "is too long"));
        }
        return Ok(Value::String(value.as_string().unwrap_or_default()));
    }
    let Some(deeper) = depth.checked_sub(1) else {
        let allowed = format!("at most {MAX_DEPTH} levels");
        return Err(refuse("too_deep", path, "", &allowed, "is nested too deeply"));
    };
    if let Some(list) = value.dyn_ref::<Float64Array>() {
        let numbers = list.to_vec();
        if *left < numbers.len() {
            return walk(value, path, depth, &mut 0);
        }
        *left -= numbers.len();
        return numbers
            .into_iter()
            .enumerate()
            .map(|(i, number)| to_number(number, &format!("{path}[{i}]")))
            .collect();
    }
    if Array::is_array(value) {
        let list: &Array = value.unchecked_ref();
        let mut out = Vec::new();
        for i in 0..list.length() {
            let one = list.get(i);
            // The path of a number is written only if it is wrong: lists are long.
            let quick = one.as_f64().filter(|number| number.is_finite() && 0 < *left);
            out.push(if let Some(number) = quick {
                *left -= 1;
                to_number(number, path)?
            } else {
                walk(&one, &format!("{path}[{i}]"), deeper, left)?
            });
        }
        return Ok(Value::Array(out));
    }
    if value.is_object() && !value.is_function() {
        let mut out = Map::new();
        for key in Object::keys(value.unchecked_ref::<Object>()).iter() {
            let name = key.as_string().unwrap_or_default();
            let inner =
                if path.is_empty() { name.clone() } else { format!("{path}.{name}") };
            let one = Reflect::get(value, &key).map_err(|_| {
                refuse("wrong_type", &inner, "", "a plain value", "cannot be read")
            })?;
            // A field that is undefined is a field that is not there, as in JSON.stringify.
            if !one.is_undefined() {
                out.insert(name, walk(&one, &inner, deeper, left)?);
            }
        }
        return Ok(Value::Object(out));
    }
    let kind = value.js_typeof().as_string().unwrap_or_default();
    let allowed = "a number, a text, true, false, null, a list or an object";
    Err(refuse("wrong_type", path, &kind, allowed, "has no meaning in a request"))
}

/// A number as JSON.stringify would write it: whole numbers without a point.
fn to_number(number: f64, path: &str) -> Result<Value, RequestError> {
    const SAFE: f64 = 9_007_199_254_740_991.0;
    if number.abs() <= SAFE && (number - number.trunc()).abs() < f64::MIN_POSITIVE {
        #[expect(clippy::cast_possible_truncation, reason = "whole and below 2^53")]
        let whole = number as i64;
        return Ok(Value::Number(Number::from(whole)));
    }
    Number::from_f64(number).map(Value::Number).ok_or_else(|| {
        refuse(
            "not_finite",
            path,
            &number.to_string(),
            "a finite number",
            "is not a finite number",
        )
    })
}

fn refuse(
    code: &'static str,
    path: &str,
    value: &str,
    allowed: &str,
    what: &str,
) -> RequestError {
    let name = if path.is_empty() { "the request" } else { path };
    let shown = if value.is_empty() { String::new() } else { format!(" ({value})") };
    RequestError::new(
        code,
        path,
        value,
        allowed,
        &format!("{name}{shown} {what} (allowed: {allowed})"),
        &format!("give {allowed}"),
    )
}
