//! One operation in, one report out: the only door through which requests come.

use serde::Serialize;
use serde_json::{Map, Value};

use crate::bound::{Bound, Choice};
use crate::error::RequestError;
#[cfg(feature = "lithography")]
use crate::lithography;
use crate::report::{Report, Results};
use crate::request::{nearest, parse};
use crate::{KERNEL_VERSION, hazards};
#[cfg(feature = "etching")]
use crate::{cleaning, etching, polishing};
#[cfg(feature = "films")]
use crate::{deposition, oxidation};
#[cfg(feature = "doping")]
use crate::{diffusion, electrical, implantation};

/// What a form needs to know to offer an operation.
#[derive(Clone, Debug, Serialize)]
pub struct OperationSchema {
    /// The operation's name in requests.
    pub operation: &'static str,
    /// Its number fields.
    pub numbers: Vec<Bound>,
    /// Its word fields.
    pub choices: Vec<Choice>,
}

/// An operation behind the door.
struct Operation {
    name: &'static str,
    run: fn(Map<String, Value>) -> Result<Report, RequestError>,
    schema: fn() -> OperationSchema,
}

#[cfg(not(any(
    feature = "films",
    feature = "etching",
    feature = "lithography",
    feature = "doping",
    feature = "wafer"
)))]
compile_error!(
    "name at least one family of operations: films, etching, lithography, doping, wafer"
);

/// Every operation of the families that are built, in the order of the trade.
///
/// Only this table, [`Results`] and what draws them know the families. A module of the page
/// is built for one family, and the compiler leaves out what none of its operations reaches.
const TABLE: &[Operation] = &[
    #[cfg(feature = "etching")]
    Operation {
        name: "clean",
        run: |request| Ok(cleaning::run(request)?.map(Results::Clean)),
        schema: cleaning::schema,
    },
    #[cfg(feature = "films")]
    Operation {
        name: "oxidation",
        run: |request| Ok(oxidation::run(request)?.map(Results::Oxidation)),
        schema: oxidation::schema,
    },
    #[cfg(feature = "doping")]
    Operation {
        name: "predeposition",
        run: |request| Ok(diffusion::run_predeposition(request)?.map(Results::Diffusion)),
        schema: diffusion::predeposition_schema,
    },
    #[cfg(feature = "doping")]
    Operation {
        name: "drive_in",
        run: |request| Ok(diffusion::run_drive_in(request)?.map(Results::Diffusion)),
        schema: diffusion::drive_in_schema,
    },
    #[cfg(feature = "doping")]
    Operation {
        name: "anneal",
        run: |request| Ok(diffusion::run_anneal(request)?.map(Results::Diffusion)),
        schema: diffusion::anneal_schema,
    },
    #[cfg(feature = "doping")]
    Operation {
        name: "implantation",
        run: |request| Ok(implantation::run(request)?.map(Results::Implantation)),
        schema: implantation::schema,
    },
    #[cfg(feature = "lithography")]
    Operation {
        name: "spin_coating",
        run: |request| {
            let report = lithography::run_spin_coating(request)?;
            Ok(report.map(|r| Results::SpinCoating(Box::new(r))))
        },
        schema: lithography::spin_coating_schema,
    },
    #[cfg(feature = "lithography")]
    Operation {
        name: "bake",
        run: |request| Ok(lithography::run_bake(request)?.map(Results::Bake)),
        schema: lithography::bake_schema,
    },
    #[cfg(feature = "lithography")]
    Operation {
        name: "exposure",
        run: |request| {
            let report = lithography::run_exposure(request)?;
            Ok(report.map(|r| Results::Exposure(Box::new(r))))
        },
        schema: lithography::exposure_schema,
    },
    #[cfg(feature = "lithography")]
    Operation {
        name: "development",
        run: |request| {
            let report = lithography::run_development(request)?;
            Ok(report.map(|r| Results::Development(Box::new(r))))
        },
        schema: lithography::development_schema,
    },
    #[cfg(feature = "lithography")]
    Operation {
        name: "process_window",
        run: |request| {
            let report = lithography::run_process_window(request)?;
            Ok(report.map(|r| Results::ProcessWindow(Box::new(r))))
        },
        schema: lithography::process_window_schema,
    },
    #[cfg(feature = "etching")]
    Operation {
        name: "wet_etch",
        run: |request| Ok(etching::run_wet_etch(request)?.map(Results::WetEtch)),
        schema: etching::wet_etch_schema,
    },
    #[cfg(feature = "doping")]
    Operation {
        name: "sheet",
        run: |request| Ok(electrical::run_sheet(request)?.map(Results::Sheet)),
        schema: electrical::sheet_schema,
    },
    #[cfg(feature = "films")]
    Operation {
        name: "deposition",
        run: |request| {
            Ok(deposition::run(request)?.map(|r| Results::Deposition(Box::new(r))))
        },
        schema: deposition::schema,
    },
    #[cfg(feature = "etching")]
    Operation {
        name: "dry_etch",
        run: |request| Ok(etching::run_dry_etch(request)?.map(Results::DryEtch)),
        schema: etching::dry_etch_schema,
    },
    #[cfg(feature = "etching")]
    Operation {
        name: "resist_strip",
        run: |request| Ok(etching::run_resist_strip(request)?.map(Results::ResistStrip)),
        schema: etching::resist_strip_schema,
    },
    #[cfg(feature = "etching")]
    Operation {
        name: "planarization",
        run: |request| Ok(polishing::run(request)?.map(Results::Planarization)),
        schema: polishing::schema,
    },
];

/// The operations that can be asked for, in the order of the trade.
pub const OPERATIONS: &[&str] = &names();

const fn names() -> [&'static str; TABLE.len()] {
    let mut names = [""; TABLE.len()];
    let mut i = 0;
    while i < TABLE.len() {
        names[i] = TABLE[i].name;
        i += 1;
    }
    names
}

/// Runs one request given as JSON text.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request; never a panic.
pub fn run_text(text: &[u8]) -> Result<Report, RequestError> {
    run(parse(text)?)
}

/// Runs one request given as a JSON object with the field `operation`.
///
/// # Errors
/// [`RequestError`] for anything that is not a good request; never a panic.
pub fn run(mut request: Map<String, Value>) -> Result<Report, RequestError> {
    let operation = match request.remove("operation") {
        Some(Value::String(name)) => name,
        Some(other) => return Err(unknown_operation(&other.to_string())),
        None => {
            return Err(RequestError::missing(
                "operation",
                &OPERATIONS.join(", "),
                "add \"operation\" with one of these names",
            ));
        }
    };
    let known = TABLE.iter().find(|known| known.name == operation);
    let known = known.ok_or_else(|| unknown_operation(&operation))?;
    Ok(finished((known.run)(request)?))
}

/// A report as it leaves the kernel: hazards in order, version named.
pub(crate) fn finished(mut report: Report) -> Report {
    hazards::sort_worst_first(&mut report.hazards);
    report.kernel_version = KERNEL_VERSION;
    report
}

/// The form of every operation.
#[must_use]
pub fn schema() -> Vec<OperationSchema> {
    TABLE.iter().map(|known| (known.schema)()).collect()
}

fn unknown_operation(given: &str) -> RequestError {
    let shown = crate::error::one_line(given);
    let hint = nearest(given, OPERATIONS).map_or_else(
        || "use one of the allowed names".to_owned(),
        |near| format!("did you mean {near}"),
    );
    RequestError::new(
        "unknown_operation",
        "operation",
        given,
        &OPERATIONS.join(", "),
        &format!(
            "operation: {shown} is not known here (allowed: {})",
            OPERATIONS.join(", ")
        ),
        &hint,
    )
}
