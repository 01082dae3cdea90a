//! From JSON text to a checked request: every mistake gets one line that names the field.

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use crate::error::RequestError;

/// Largest request that is read, in bytes. A profile of 2000 points fits ten times.
pub const MAX_REQUEST_BYTES: usize = 1_000_000;

/// Reads one JSON object from text.
///
/// # Errors
/// `too_large`, `not_json` or `not_an_object`.
pub fn parse(text: &[u8]) -> Result<Map<String, Value>, RequestError> {
    if text.len() > MAX_REQUEST_BYTES {
        return Err(RequestError::new(
            "too_large",
            "",
            &format!("{} bytes", text.len()),
            "at most 1000000 bytes",
            &format!(
                "a request of {} bytes is too large (allowed: at most 1000000)",
                text.len()
            ),
            "send one operation as one JSON object",
        ));
    }
    let value: Value = serde_json::from_slice(text).map_err(|error| {
        let at = format!("line {} column {}", error.line(), error.column());
        RequestError::new(
            "not_json",
            "",
            &String::from_utf8_lossy(text.get(..60.min(text.len())).unwrap_or_default()),
            "one JSON object",
            &format!("the request is not JSON: {error}"),
            &format!(
                "send one JSON object such as {{\"operation\":\"oxidation\",...}}; look at {at}; numbers are finite and in plain or e notation"
            ),
        )
    })?;
    into_object(value)
}

/// Takes the object out of a JSON value.
///
/// # Errors
/// `not_an_object`.
pub fn into_object(value: Value) -> Result<Map<String, Value>, RequestError> {
    match value {
        Value::Object(map) => Ok(map),
        other => Err(RequestError::new(
            "not_an_object",
            "",
            &other.to_string(),
            "one JSON object",
            &format!("the request is {}, not an object", kind(&other)),
            "send one JSON object such as {\"operation\":\"oxidation\",...}",
        )),
    }
}

/// Reads the fields of one operation into its record; the record refuses unknown fields.
///
/// # Errors
/// `unknown_field`, `missing_field`, `unknown_value` or `wrong_type`, each with the path.
pub fn read_fields<T: DeserializeOwned>(
    fields: Map<String, Value>,
) -> Result<T, RequestError> {
    let object = Value::Object(fields);
    decode(&object).map_err(|wrong| explain(&wrong.path, &wrong.message, &object))
}

/// A JSON value that does not fit a record.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{path}: {message}")]
pub struct Misfit {
    /// Where in the value, as a path; empty for the whole.
    pub path: String,
    /// What is wrong there.
    pub message: String,
}

/// Reads a record from a JSON value.
///
/// # Errors
/// [`Misfit`], with the path of the first field that does not fit.
pub fn decode<T: DeserializeOwned>(value: &Value) -> Result<T, Misfit> {
    serde_path_to_error::deserialize(value).map_err(|error| {
        let path = error.path().to_string();
        Misfit {
            path: if path == "." { String::new() } else { path },
            message: error.inner().to_string(),
        }
    })
}

/// Turns serde's message into ours. The prefixes are those of `serde::de::Error`; a test
/// holds each of them.
fn explain(path: &str, message: &str, object: &Value) -> RequestError {
    // The sender's own word comes first and may hold anything, even a backtick.
    let (before, after) =
        message.rsplit_once("`, expected ").unwrap_or((message, message));
    let first = before.split_once('`').map_or("", |(_, word)| word);
    let first =
        if before == message { first.split('`').next().unwrap_or("") } else { first };
    let known: Vec<&str> = after.split('`').skip(1).step_by(2).collect();
    let known: &[&str] = if before == message { &[] } else { &known };
    let rest = known.join(", ");
    let joined = |name: &str| {
        if path.is_empty() || path == name || path.ends_with(&format!(".{name}")) {
            if path.is_empty() { name.to_owned() } else { path.to_owned() }
        } else {
            format!("{path}.{name}")
        }
    };
    let value = look_up(object, path).map(Value::to_string).unwrap_or_default();
    if message.starts_with("unknown field") {
        // The path may end in the unknown name already.
        let parent = if path == first {
            ""
        } else {
            path.strip_suffix(first).and_then(|p| p.strip_suffix('.')).unwrap_or(path)
        };
        let dot = if parent.is_empty() { "" } else { "." };
        let field = format!("{parent}{dot}{}", plain_name(first));
        let near = nearest(first, known);
        let hint = near.map_or_else(
            || "remove it; the allowed fields are listed in the message".to_owned(),
            |near| format!("did you mean {near}"),
        );
        let known = if rest.is_empty() { "none".to_owned() } else { rest };
        return RequestError::new(
            "unknown_field",
            &field,
            &look_up(object, &joined(first)).map(Value::to_string).unwrap_or_default(),
            &known,
            &format!("{field} is not a field of this operation (allowed: {known})"),
            &hint,
        );
    }
    if message.starts_with("missing field") {
        let field = joined(first);
        return RequestError::missing(
            &field,
            "a value",
            &format!("add {field} to the request"),
        );
    }
    if message.starts_with("unknown variant") {
        let near = nearest(first, known);
        let hint = near.map_or_else(
            || "use one of the allowed values".to_owned(),
            |near| format!("did you mean {near}"),
        );
        return RequestError::new(
            "unknown_value",
            path,
            first,
            &rest,
            &format!(
                "{path}: {} is not known here (allowed: {rest})",
                crate::error::one_line(first)
            ),
            &hint,
        );
    }
    let wanted = message.rsplit("expected ").next().unwrap_or(message);
    let wanted = match wanted {
        "f64" => "a finite number",
        other => other,
    };
    let shown = if value.is_empty() {
        "nothing".to_owned()
    } else {
        crate::error::one_line(&value)
    };
    RequestError::new(
        "wrong_type",
        path,
        &value,
        wanted,
        &format!("{path}: {shown} is not allowed here (allowed: {wanted})"),
        &format!("give {wanted}"),
    )
}

/// A field's name as it is, or in quotes if it is no word: `""`, `"a b"`.
fn plain_name(name: &str) -> String {
    let is_word = !name.is_empty()
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && name.chars().count() <= 40;
    if is_word { name.to_owned() } else { format!("{:?}", crate::error::one_line(name)) }
}

/// The kind of a JSON value, in words.
fn kind(value: &Value) -> &'static str {
    match value {
        Value::Null => "null",
        Value::Bool(_) => "true or false",
        Value::Number(_) => "a number",
        Value::String(_) => "a text",
        Value::Array(_) => "a list",
        Value::Object(_) => "an object",
    }
}

fn look_up<'a>(object: &'a Value, path: &str) -> Option<&'a Value> {
    let mut here = object;
    for part in path.split(['.', '[', ']']).filter(|part| !part.is_empty()) {
        here = match here {
            Value::Object(map) => map.get(part)?,
            Value::Array(list) => list.get(part.parse::<usize>().ok()?)?,
            _ => return None,
        };
    }
    Some(here)
}

/// The allowed word that differs least, if it is close enough to be a slip of the keys.
pub(crate) fn nearest<'a>(word: &str, allowed: &[&'a str]) -> Option<&'a str> {
    let word: String = word.chars().take(60).collect();
    allowed
        .iter()
        .map(|&candidate| (edit_distance(&word, candidate), candidate))
        .min_by_key(|&(distance, _)| distance)
        .filter(|&(distance, candidate)| distance * 3 <= candidate.chars().count().max(6))
        .map(|(_, candidate)| candidate)
}

fn edit_distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, ca) in a.chars().enumerate() {
        let mut diagonal = i;
        let mut left = i + 1;
        for (j, &cb) in b.iter().enumerate() {
            let up = row.get(j + 1).copied().unwrap_or(0);
            let best = (diagonal + usize::from(ca != cb)).min(left + 1).min(up + 1);
            diagonal = up;
            if let Some(cell) = row.get_mut(j) {
                *cell = left;
            }
            left = best;
        }
        if let Some(cell) = row.get_mut(b.len()) {
            *cell = left;
        }
    }
    row.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[derive(Debug, serde::Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Probe {
        #[expect(dead_code, reason = "only its type is tested")]
        temperature_c: f64,
        #[serde(default)]
        #[expect(dead_code, reason = "only its type is tested")]
        parts: Vec<Probe>,
    }

    #[track_caller]
    fn check(text: &str, code: &str, field: &str, message_part: &str) {
        let error = parse(text.as_bytes())
            .and_then(read_fields::<Probe>)
            .expect_err("the request is wrong");
        assert_eq!((error.code, error.field.as_str()), (code, field), "{error}");
        assert!(error.message.contains(message_part), "{error}");
        assert!(!error.to_string().contains('\n'));
    }

    #[test]
    fn each_mistake_names_field_value_and_what_is_allowed() {
        check(
            r#"{"temperature_k":1}"#,
            "unknown_field",
            "temperature_k",
            "temperature_c, parts",
        );
        check("{}", "missing_field", "temperature_c", "temperature_c");
        check(r#"{"temperature_c":"hot"}"#, "wrong_type", "temperature_c", "\"hot\"");
        check(
            r#"{"temperature_c":null}"#,
            "wrong_type",
            "temperature_c",
            "finite number",
        );
        check(
            r#"{"temperature_c":1,"parts":[{"temperature_c":[]}]}"#,
            "wrong_type",
            "parts[0].temperature_c",
            "finite number",
        );
        check(r#"{"temperature_c":NaN}"#, "not_json", "", "not JSON");
        check(r#"{"temperature_c":1e999}"#, "not_json", "", "out of range");
        check(
            r#"{"":1}"#,
            "unknown_field",
            r#""""#,
            r#""" is not a field of this operation (allowed: temperature_c, parts)"#,
        );
        check(
            r#"{"a `b`, expected":1}"#,
            "unknown_field",
            r#""a `b`, expected""#,
            "parts)",
        );
        check(
            r#"{"temperature_c":1,"parts":[{"temprature_c":2}]}"#,
            "unknown_field",
            "parts[0].temprature_c",
            "temperature_c, parts",
        );
        check("[1]", "not_an_object", "", "a list");
        check("", "not_json", "", "not JSON");
    }

    #[test]
    fn a_slip_of_the_keys_is_recognized() {
        assert_eq!(
            nearest("temprature_c", &["time_min", "temperature_c"]),
            Some("temperature_c")
        );
        assert_eq!(nearest("zzz", &["time_min", "temperature_c"]), None);
    }
}
