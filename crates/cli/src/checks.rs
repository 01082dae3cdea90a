//! The kernel held against every published value, as a table.

use barewafer_checks::tables::{BENCHES, Listing, all};
use barewafer_checks::{Check, Expected, Outcome, Verdict, run};
use serde_json::{Value, json};

use crate::Failure;
use crate::arguments::ChecksForm;

/// What is to be printed, and whether the kernel is as it should be.
pub(crate) struct Done {
    pub(crate) text: String,
    pub(crate) all_good: bool,
}

/// Runs the checks, all or those of one bench.
pub(crate) fn answer(bench: Option<&str>, form: ChecksForm) -> Result<Done, Failure> {
    known_bench(bench)?;
    let mut listing = all().map_err(|error| Failure::Wrong(error.to_string()))?;
    if let Some(name) = bench {
        listing.checks.retain(|check| check.bench == name);
    }
    if form == ChecksForm::Rows {
        let text = serde_json::to_string(&listing).map_err(not_written)?;
        return Ok(Done { text: text + "\n", all_good: true });
    }
    let judged: Vec<(Check, Outcome)> = listing
        .checks
        .drain(..)
        .map(|check| {
            let outcome = run(&check);
            (check, outcome)
        })
        .collect();
    let all_good = judged.iter().all(|(_, outcome)| outcome.verdict.is_good());
    if bench.is_some() {
        // They belong to tables, not to benches.
        listing.left_out.clear();
    }
    let text = match form {
        ChecksForm::Json => as_json(&judged).map_err(not_written)?,
        ChecksForm::Csv => as_csv(&judged),
        ChecksForm::Table | ChecksForm::Rows => as_table(&judged, &listing),
    };
    Ok(Done { text, all_good })
}

/// Refuses a bench that there is none of.
pub(crate) fn known_bench(bench: Option<&str>) -> Result<(), Failure> {
    match bench {
        Some(name) if !BENCHES.contains(&name) => Err(Failure::Wrong(format!(
            "{} is not a bench (allowed: {})",
            name.chars().take(60).collect::<String>(),
            BENCHES.join(", ")
        ))),
        _ => Ok(()),
    }
}

pub(crate) fn not_written(error: serde_json::Error) -> Failure {
    Failure::Io(std::io::Error::other(error))
}

fn as_json(judged: &[(Check, Outcome)]) -> Result<String, serde_json::Error> {
    let rows: Vec<Value> = judged
        .iter()
        .map(|(check, outcome)| json!({"check": check, "outcome": outcome}))
        .collect();
    Ok(serde_json::to_string(&rows)? + "\n")
}

/// The columns that say what was found, in words for a person.
const HEADS: [&str; 12] = [
    "id",
    "bench",
    "quantity",
    "conditions",
    "published",
    "ours",
    "unit",
    "deviation",
    "tolerance",
    "verdict",
    "source",
    "known by",
];

fn cells(check: &Check, outcome: &Outcome) -> [String; 12] {
    let published = match &check.expected {
        Expected::Number(number) => written(*number),
        Expected::Color(color) => color.clone(),
    };
    let ours = match &outcome.ours {
        Value::String(color) => color.clone(),
        Value::Number(number) => number.as_f64().map_or_else(String::new, written),
        _ => String::new(),
    };
    let relative = check.allowed == barewafer_checks::Allowed::Relative;
    let away = |value: f64| match 100.0 * value {
        _ if !relative => written(value),
        // Neither a tolerance of rounding nor a deviation far below one needs its digits.
        percent if percent.abs() < 0.005 => "0.00 %".to_owned(),
        percent => format!("{percent:.2} %"),
    };
    [
        check.id.clone(),
        check.bench.clone(),
        check.what.clone(),
        check.conditions.clone(),
        published,
        ours,
        check.unit.clone(),
        outcome.deviation.map_or_else(String::new, away),
        away(check.tolerance),
        verdict(outcome.verdict).to_owned(),
        check.source.clone(),
        check.known_by.clone(),
    ]
}

const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Met => "met",
        Verdict::KnownDeviation => "known deviation",
        Verdict::Off => "OFF",
        Verdict::DeviationGone => "DEVIATION GONE",
        Verdict::Error => "ERROR",
    }
}

/// Five significant digits.
pub(crate) fn written(number: f64) -> String {
    let size = number.abs();
    if size == 0.0 {
        return "0".to_owned();
    }
    if !(1e-3..1e6).contains(&size) {
        return format!("{number:.4e}");
    }
    let digits = (0..8).find(|&k| 1e4 <= size * f64::from(10_u32.pow(k))).unwrap_or(7);
    let text = format!("{number:.*}", digits as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// A line of a table for a spreadsheet.
pub(crate) fn csv_line<T: AsRef<str>>(cells: &[T]) -> String {
    let cell = |text: &T| {
        let text = text.as_ref();
        if text.contains([',', '"', '\n']) {
            format!("\"{}\"", text.replace('"', "\"\""))
        } else {
            text.to_owned()
        }
    };
    cells.iter().map(cell).collect::<Vec<_>>().join(",") + "\r\n"
}

fn as_csv(judged: &[(Check, Outcome)]) -> String {
    let mut text = csv_line(&HEADS);
    for (check, outcome) in judged {
        text += &csv_line(&cells(check, outcome));
    }
    text
}

fn as_table(judged: &[(Check, Outcome)], listing: &Listing) -> String {
    let rows: Vec<[String; 12]> =
        judged.iter().map(|(check, outcome)| cells(check, outcome)).collect();
    let width = |column: usize| {
        rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0)
    };
    let widths = [width(0), width(2), width(4), width(5), width(6), width(7), width(8)];
    let mut text = String::new();
    for (row, (check, outcome)) in rows.iter().zip(judged) {
        let [
            id,
            _,
            what,
            conditions,
            published,
            ours,
            unit,
            away,
            tolerance,
            word,
            source,
            by,
        ] = row;
        let [a, b, c, d, e, f, g] = widths;
        text += &format!(
            "{id:<a$}  {what:<b$}  {published:>c$}  {ours:>d$}  {unit:<e$}  {away:>f$}  \
             within {tolerance:>g$}  {word}\n    {conditions}\n    {source} ({by})\n"
        );
        for remark in [&check.known_deviation, &outcome.error] {
            if !remark.is_empty() {
                text += &format!("    {word}: {remark}\n");
            }
        }
    }
    let count = |verdict: Verdict| {
        judged.iter().filter(|(_, outcome)| outcome.verdict == verdict).count()
    };
    text += &format!(
        "{} checks: {} met, {} known deviations, {} off, {} deviations gone, {} errors",
        judged.len(),
        count(Verdict::Met),
        count(Verdict::KnownDeviation),
        count(Verdict::Off),
        count(Verdict::DeviationGone),
        count(Verdict::Error),
    );
    if !listing.left_out.is_empty() {
        let rows = listing.left_out.len();
        text +=
            &format!("; {rows} more rows of the tables ask for what no request gives");
    }
    text.push('\n');
    text
}
