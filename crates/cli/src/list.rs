//! The operations with their fields, as text.

use barewafer_process::bound::{Bound, Choice};
use barewafer_process::{OPERATIONS, schema};

use crate::Failure;

/// The fields of one operation, or of all.
pub(crate) fn text(operation: Option<&str>) -> Result<String, Failure> {
    if let Some(name) = operation
        && !OPERATIONS.contains(&name)
    {
        return Err(Failure::Wrong(format!(
            "{} is not an operation (allowed: {})",
            name.chars().take(60).collect::<String>(),
            OPERATIONS.join(", ")
        )));
    }
    let mut text = String::new();
    for form in schema() {
        if operation.is_some_and(|name| name != form.operation) {
            continue;
        }
        if !text.is_empty() {
            text.push('\n');
        }
        let rows: Vec<[String; 4]> = form
            .choices
            .iter()
            .map(choice_row)
            .chain(form.numbers.iter().map(number_row))
            .collect();
        line(&mut text, form.operation);
        for row in &rows {
            let width = |column: usize| {
                rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0)
            };
            let [field, allowed, default, label] = row;
            line(
                &mut text,
                format!(
                    "  {field:<0$}  {allowed:<1$}  {default:<2$}  {label}",
                    width(0),
                    width(1).min(48),
                    width(2)
                )
                .trim_end(),
            );
        }
    }
    Ok(text)
}

fn number_row(bound: &Bound) -> [String; 4] {
    let default =
        bound.default.map_or_else(String::new, |value| format!("[{}]", plain(value)));
    [bound.field.to_owned(), bound.allowed(), default, bound.label.to_owned()]
}

fn choice_row(choice: &Choice) -> [String; 4] {
    let words: Vec<&str> = choice.values.iter().map(|(word, _)| *word).collect();
    let default = choice.default.map_or_else(String::new, |word| format!("[{word}]"));
    [choice.field.to_owned(), words.join(" | "), default, choice.label.to_owned()]
}

/// Powers of ten for doses and concentrations.
fn plain(value: f64) -> String {
    if value.abs() < 1e6 { value.to_string() } else { format!("{value:e}") }
}

fn line(text: &mut String, content: &str) {
    text.push_str(content);
    text.push('\n');
}
