//! What the kernel computes with, as a table.

use barewafer_process::sourced::{Constant, all};

use crate::Failure;
use crate::arguments::ChecksForm;
use crate::checks::{csv_line, known_bench, not_written, written};

/// The constants, all or those of one bench.
pub(crate) fn text(bench: Option<&str>, form: ChecksForm) -> Result<String, Failure> {
    known_bench(bench)?;
    let mut constants = all();
    if let Some(name) = bench {
        constants.retain(|constant| constant.bench == name);
    }
    match form {
        ChecksForm::Json => {
            Ok(serde_json::to_string(&constants).map_err(not_written)? + "\n")
        }
        ChecksForm::Csv => {
            let heads =
                ["bench", "constant", "value", "unit", "validity", "source", "known by"];
            let lines = constants.iter().map(|one| {
                let Constant {
                    bench, name, value, unit, validity, source, known_by, ..
                } = one;
                let value = format!("{value}");
                csv_line(&[
                    bench,
                    name.as_str(),
                    value.as_str(),
                    unit,
                    validity,
                    source.as_str(),
                    known_by,
                ])
            });
            Ok(csv_line(&heads) + &lines.collect::<String>())
        }
        ChecksForm::Table | ChecksForm::Rows => {
            let width =
                constants.iter().map(|one| one.name.chars().count()).max().unwrap_or(0);
            let lines = constants.iter().map(|one| {
                let value = written(one.value);
                format!(
                    "{:<width$}  {value} {}\n    {} ({}); {}\n",
                    one.name, one.unit, one.source, one.known_by, one.validity
                )
            });
            Ok(lines.collect::<String>() + &format!("{} constants\n", constants.len()))
        }
    }
}
