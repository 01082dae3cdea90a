//! `barewafer`: the lab's benches from the command line.
//!
//! Exit status: 0 done, 1 reading or writing failed, a check is off or a run sheet must stop, 2 the
//! command or the request is wrong.
//! What is wrong is said in one line on standard error; standard output then stays empty.

mod arguments;
mod bench;
mod checks;
mod constants;
mod figure;
mod flow;
mod hazards;
mod list;

use std::io::{self, Write};
use std::process::ExitCode;

use arguments::Command;

const HELP: &str = "\
barewafer: the lab's benches from the command line

Usage:
  barewafer bench [OPERATION] [--pretty]   run one operation: a JSON object from
                                           standard input, its report to standard output
  barewafer run FLOW.json [--json] [--until STEP] [--at X_UM]
                                           run a flow (- reads standard input): what each
                                           step did, what the wafer measures; a step is its
                                           id or its number; --at adds layers and doping
  barewafer figure FLOW.json --out F.svg|F.png [--step STEP] [--dark] [--at X_UM]
                   [--kind section|layout|profile|storyboard]
                                           draw the wafer after a step
  barewafer list [OPERATION]               the operations with their fields, ranges, units
  barewafer hazards [ID] [--json]          the hazard table, or one row of it in full
  barewafer hazards --sheet [--json]       a run sheet or a request from standard input:
                                           the cautions of every step, and known mistakes
                                           between steps; exit status 1 if one must stop
  barewafer checks [--bench NAME] [--json|--csv|--rows]
                                           every published value: ours, deviation,
                                           tolerance, source; exit status 1 if one is off
  barewafer constants [--bench NAME] [--json|--csv]
                                           every constant: value, source, validity
  barewafer flow-schema                    the JSON Schema of flow files
  barewafer --help                         this text
  barewafer --version                      the version

Example:
  echo '{\"dopant\":\"boron\",\"energy_kev\":100}' | barewafer bench implantation --pretty

This lab is a simulation: it is not training and gives no certificate. In a real lab follow
the site's rules, the supplier's safety data sheets, local codes and trained staff.
";

/// Why the command ends early.
#[derive(Debug)]
enum Failure {
    /// The command or the request is wrong; the text is one line.
    Wrong(String),
    /// Reading or writing failed.
    Io(io::Error),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Io(error)
    }
}

fn main() -> ExitCode {
    match run() {
        Ok(status) => status,
        // Whoever reads has seen enough: `barewafer list | head` is no mistake.
        Err(Failure::Io(error)) if error.kind() == io::ErrorKind::BrokenPipe => {
            ExitCode::SUCCESS
        }
        Err(Failure::Io(error)) => {
            complain(&format!("reading or writing failed: {error}"));
            ExitCode::from(1)
        }
        Err(Failure::Wrong(text)) => {
            complain(&text);
            ExitCode::from(2)
        }
    }
}

fn run() -> Result<ExitCode, Failure> {
    let mut status = ExitCode::SUCCESS;
    let text = match arguments::parse()? {
        Command::Help => HELP.to_owned(),
        Command::Version => format!("barewafer {}\n", barewafer_process::KERNEL_VERSION),
        Command::List { operation } => list::text(operation.as_deref())?,
        Command::Bench { operation, pretty } => {
            bench::answer(io::stdin().lock(), operation, pretty)?
        }
        Command::Hazards { id, sheet: false, json } => {
            hazards::table(id.as_deref(), json)?
        }
        Command::Hazards { sheet: true, json, .. } => {
            let done = hazards::sheet_of(io::stdin().lock(), json)?;
            if done.must_stop {
                status = ExitCode::from(1);
            }
            done.text
        }
        Command::Run(asked) => flow::answer(&asked)?,
        Command::Figure(drawing) => figure::draw(&drawing)?,
        Command::FlowSchema => flow::schema()?,
        Command::Checks { bench, form } => {
            let done = checks::answer(bench.as_deref(), form)?;
            if !done.all_good {
                status = ExitCode::from(1);
            }
            done.text
        }
        Command::Constants { bench, form } => constants::text(bench.as_deref(), form)?,
    };
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()?;
    Ok(status)
}

/// One line on standard error, whatever the text holds: a request's own control characters
/// must not reach a terminal.
fn complain(text: &str) {
    let line: String =
        text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    // There is nobody left to tell if standard error is closed too.
    drop(writeln!(io::stderr().lock(), "barewafer: {line}"));
}
