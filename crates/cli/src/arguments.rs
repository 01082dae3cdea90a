//! The command line.

use lexopt::Arg;

use crate::Failure;
use crate::figure::{Drawing, Kind};
use crate::flow::Asked;

const COMMANDS: &str = "bench, run, figure, list, hazards, checks, constants, flow-schema, --help, --version";

/// What is to be done.
#[derive(Debug, PartialEq)]
pub(crate) enum Command {
    /// Explain the command.
    Help,
    /// Say the version.
    Version,
    /// Show operations and fields.
    List {
        /// Only this one.
        operation: Option<String>,
    },
    /// Run one operation.
    Bench {
        /// The operation, if it is not said in the request.
        operation: Option<String>,
        /// Indented output.
        pretty: bool,
    },
    /// Tell of hazards.
    Hazards {
        /// Only this row.
        id: Option<String>,
        /// Read a run sheet from standard input and tell what it uses.
        sheet: bool,
        /// As JSON.
        json: bool,
    },
    /// Run a whole flow.
    Run(Asked),
    /// Draw a picture of a flow.
    Figure(Drawing),
    /// Print the JSON Schema of flow files.
    FlowSchema,
    /// Hold the kernel against what is published.
    Checks {
        /// Only those of this bench.
        bench: Option<String>,
        /// How they are written.
        form: ChecksForm,
    },
    /// List what the kernel computes with.
    Constants {
        /// Only those of this bench.
        bench: Option<String>,
        /// How they are written.
        form: ChecksForm,
    },
}

/// How checks are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ChecksForm {
    /// A table to read.
    Table,
    /// A JSON list, each check with its outcome.
    Json,
    /// A table for a spreadsheet.
    Csv,
    /// The checks themselves as JSON, nothing computed.
    Rows,
}

/// Reads the arguments of this process.
pub(crate) fn parse() -> Result<Command, Failure> {
    read(lexopt::Parser::from_env())
}

fn read(mut parser: lexopt::Parser) -> Result<Command, Failure> {
    let (mut command, mut operation, mut pretty) = (None, None, false);
    let (mut bench, mut form) = (None, ChecksForm::Table);
    let (mut sheet, mut json) = (false, false);
    let mut asked = Asked::default();
    let mut drawing = Drawing::default();
    while let Some(argument) = parser.next().map_err(wrong)? {
        match argument {
            Arg::Short('h') | Arg::Long("help") => return Ok(Command::Help),
            Arg::Short('V') | Arg::Long("version") => return Ok(Command::Version),
            Arg::Long("pretty") if command.as_deref() == Some("bench") => pretty = true,
            Arg::Long("sheet") if command.as_deref() == Some("hazards") => sheet = true,
            Arg::Long("json") if command.as_deref() == Some("hazards") => json = true,
            Arg::Long("json") if command.as_deref() == Some("run") => asked.json = true,
            Arg::Long("until") if command.as_deref() == Some("run") => {
                let value = parser.value().map_err(wrong)?;
                asked.until = Some(value.to_string_lossy().into_owned());
            }
            Arg::Long("at") if command.as_deref() == Some("run") => {
                let value = parser.value().map_err(wrong)?.to_string_lossy().into_owned();
                asked.at_um = Some(place_um(&value)?);
            }
            Arg::Long("dark") if command.as_deref() == Some("figure") => {
                drawing.dark = true
            }
            Arg::Long(name @ ("step" | "kind" | "out" | "at"))
                if command.as_deref() == Some("figure") =>
            {
                let name = name.to_owned();
                let value = parser.value().map_err(wrong)?.to_string_lossy().into_owned();
                match name.as_str() {
                    "step" => drawing.step = Some(value),
                    "out" => drawing.out = Some(value),
                    "at" => drawing.at_um = Some(place_um(&value)?),
                    _ => drawing.kind = Some(kind(&value)?),
                }
            }
            Arg::Long(name) if is_listing(command.as_deref()) => match name {
                "bench" => {
                    let value = parser.value().map_err(wrong)?;
                    bench = Some(value.to_string_lossy().into_owned());
                }
                "json" => form = ChecksForm::Json,
                "csv" => form = ChecksForm::Csv,
                "rows" if command.as_deref() == Some("checks") => form = ChecksForm::Rows,
                _ => return Err(wrong(argument.unexpected())),
            },
            Arg::Value(value) if command.is_none() => {
                let name = value.to_string_lossy().into_owned();
                if !KNOWN.contains(&name.as_str()) {
                    return Err(Failure::Wrong(format!(
                        "{} is not a command (allowed: {COMMANDS}); see barewafer --help",
                        short(&name)
                    )));
                }
                command = Some(name);
            }
            Arg::Value(value)
                if operation.is_none() && !is_listing(command.as_deref()) =>
            {
                operation = Some(value.to_string_lossy().into_owned());
            }
            other => return Err(wrong(other.unexpected())),
        }
    }
    match command.as_deref() {
        Some("bench") => Ok(Command::Bench { operation, pretty }),
        Some("hazards") if sheet && operation.is_some() => Err(Failure::Wrong(
            "hazards: name a row or give --sheet, not both; see barewafer --help"
                .to_owned(),
        )),
        Some("hazards") => Ok(Command::Hazards { id: operation, sheet, json }),
        Some("run") => {
            asked.file = operation.ok_or_else(|| {
                Failure::Wrong(
                    "run needs the file of a flow (- reads standard input); see barewafer --help"
                        .to_owned(),
                )
            })?;
            Ok(Command::Run(asked))
        }
        Some("figure") => {
            drawing.file = operation.ok_or_else(|| {
                Failure::Wrong(
                    "figure needs the file of a flow (- reads standard input); see barewafer --help"
                        .to_owned(),
                )
            })?;
            Ok(Command::Figure(drawing))
        }
        Some("flow-schema") => Ok(Command::FlowSchema),
        Some("checks") => Ok(Command::Checks { bench, form }),
        Some("constants") => Ok(Command::Constants { bench, form }),
        Some("list") => Ok(Command::List { operation }),
        Some(_) => Ok(Command::Help),
        None => Err(Failure::Wrong(format!(
            "a command is missing (allowed: {COMMANDS}); see barewafer --help"
        ))),
    }
}

const KNOWN: [&str; 9] = [
    "bench",
    "run",
    "figure",
    "list",
    "hazards",
    "checks",
    "constants",
    "flow-schema",
    "help",
];

/// The kind of a picture.
fn kind(text: &str) -> Result<Kind, Failure> {
    Kind::of(text).ok_or_else(|| {
        Failure::Wrong(format!(
            "--kind {}: unknown picture (allowed: section, layout, profile, storyboard); see barewafer --help",
            short(text)
        ))
    })
}

/// A place of the section in um.
fn place_um(text: &str) -> Result<f64, Failure> {
    text.parse().ok().filter(|x: &f64| x.is_finite()).ok_or_else(|| {
        Failure::Wrong(format!(
            "--at {}: not a number (allowed: a distance in µm); see barewafer --help",
            short(text)
        ))
    })
}

/// Whether a command lists what the Sources place of the page shows.
fn is_listing(command: Option<&str>) -> bool {
    matches!(command, Some("checks" | "constants"))
}

fn wrong(error: lexopt::Error) -> Failure {
    Failure::Wrong(format!("{}; see barewafer --help", short(&error.to_string())))
}

/// The text, cut to a readable length.
fn short(text: &str) -> String {
    text.chars().take(100).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(words: &[&str], expected: Command) {
        assert_eq!(read(lexopt::Parser::from_args(words)).expect("good words"), expected);
    }

    #[test]
    fn good_words_are_understood() {
        check(&["--help"], Command::Help);
        check(&["bench", "-h"], Command::Help);
        check(&["--version"], Command::Version);
        check(&["list"], Command::List { operation: None });
        let operation = Some("oxidation".to_owned());
        check(&["list", "oxidation"], Command::List { operation: operation.clone() });
        check(&["bench", "--pretty"], Command::Bench { operation: None, pretty: true });
        check(&["bench", "oxidation"], Command::Bench { operation, pretty: false });
        let all = Command::Checks { bench: None, form: ChecksForm::Table };
        check(&["checks"], all);
        let id = Some("HF49".to_owned());
        check(&["hazards", "HF49"], Command::Hazards { id, sheet: false, json: false });
        check(
            &["hazards", "--sheet", "--json"],
            Command::Hazards { id: None, sheet: true, json: true },
        );
        let bench = Some("furnace".to_owned());
        check(
            &["checks", "--bench", "furnace", "--csv"],
            Command::Checks { bench, form: ChecksForm::Csv },
        );
    }

    #[test]
    fn a_flow_is_asked_by_step_and_place() {
        check(
            &["run", "a.json", "--json", "--until", "gate", "--at", "12.5"],
            Command::Run(Asked {
                file: "a.json".to_owned(),
                json: true,
                until: Some("gate".to_owned()),
                at_um: Some(12.5),
            }),
        );
        check(&["flow-schema"], Command::FlowSchema);
        check(
            &["figure", "a.json", "--step", "7", "--kind", "layout", "--out", "a.png"],
            Command::Figure(Drawing {
                file: "a.json".to_owned(),
                step: Some("7".to_owned()),
                kind: Some(Kind::Layout),
                out: Some("a.png".to_owned()),
                ..Drawing::default()
            }),
        );
    }

    #[test]
    fn bad_words_are_named() {
        for words in [
            &["brench"][..],
            &[],
            &["bench", "a", "b"],
            &["bench", "--loud"],
            &["--pretty"],
            &["checks", "furnace"],
            &["checks", "--bench"],
            &["checks", "--xml"],
            &["constants", "--rows"],
            &["list", "--json"],
            &["bench", "--sheet"],
            &["hazards", "HF49", "--sheet"],
            &["hazards", "--csv"],
            &["run"],
            &["run", "a.json", "--at", "here"],
            &["run", "a.json", "--csv"],
        ] {
            let Err(Failure::Wrong(text)) = read(lexopt::Parser::from_args(words)) else {
                panic!("{words:?} should be refused")
            };
            assert!(text.ends_with("see barewafer --help"), "{text}");
        }
    }
}
