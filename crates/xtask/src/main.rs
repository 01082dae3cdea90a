//! Build, serve, test, bench: the only automation there is.
#![expect(clippy::print_stdout, reason = "a command line talks through its output")]

mod bench;
mod families;
mod manifest;
mod npm;
mod run;
mod scripts;
mod serve;
mod site;
mod size;
mod system;
mod test;
mod tidy;
mod tools;

use std::process::ExitCode;

use anyhow::{Result, bail};

const HELP: &str = "\
Usage: cargo xtask COMMAND

  serve [--port N]   build the lab and serve it on this machine (port 8787)
  build              build the lab into target/site and check its size
  test [STAGE...]    run every check, or only the named stages
  bench              time every bench natively and in the browser
  bless              write the golden files anew from the present results
  help               show this text

Missing tools are installed where that is possible, and it is said which.
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match dispatch(&arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            #[expect(clippy::print_stderr, reason = "errors belong there")]
            {
                eprintln!("error: {error:#}");
            }
            ExitCode::FAILURE
        }
    }
}

fn dispatch(arguments: &[String]) -> Result<()> {
    let Some((command, rest)) = arguments.split_first() else {
        print!("{HELP}\n{}", test::stage_list());
        return Ok(());
    };
    match command.as_str() {
        "serve" => {
            let port = serve::port(rest)?;
            let site = site::build(site::Optimize::IfPossible)?;
            serve::serve(&site, port)
        }
        "build" => {
            none_left(rest)?;
            let site = site::build(site::Optimize::Always)?;
            size::check_budgets(&site)?;
            println!("The site is in {}", site.display());
            Ok(())
        }
        "test" => test::test(rest),
        "bench" => {
            none_left(rest)?;
            bench::bench()
        }
        "bless" => {
            none_left(rest)?;
            test::bless()
        }
        "help" | "--help" | "-h" => {
            print!("{HELP}\n{}", test::stage_list());
            Ok(())
        }
        other => bail!("there is no command `{other}`\n\n{HELP}"),
    }
}

fn none_left(rest: &[String]) -> Result<()> {
    match rest.first() {
        None => Ok(()),
        Some(extra) => bail!("`{extra}` is not expected here\n\n{HELP}"),
    }
}
