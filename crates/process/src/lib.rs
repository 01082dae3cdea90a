//! The process kernel: what furnace, spin, etch and implant steps do to a silicon wafer, and why.
//!
//! One JSON object describes an operation, one [`Report`] answers it: results with units, the
//! numbered working behind them, warnings, published points to compare with, and the hazards
//! of the step. The kernel knows no web page, no file, no clock and no thread, and it gives
//! the same bits natively and in every browser.
//!
//! ```
//! use barewafer_process::run_text;
//!
//! let report = run_text(
//!     br#"{"operation":"oxidation","ambient":"wet","temperature_c":1000,"time_min":60}"#,
//! )
//! .expect("a good request");
//! assert_eq!(report.operation, "oxidation");
//! // Deal & Grove's own table gives 434 nm on <111>; <100> grows about 10 % less.
//! let oxide_nm = report.results.to_value()["oxide_nm"].as_f64().expect("a number");
//! assert!((380.0..400.0).contains(&oxide_nm));
//! ```

// The module of whole flows has no door for single requests, so nothing goes through them.
#![cfg_attr(
    not(any(
        feature = "films",
        feature = "etching",
        feature = "lithography",
        feature = "doping"
    )),
    allow(
        dead_code,
        unused_imports,
        unused_variables,
        unreachable_code,
        reason = "no operation answers, so what would report it has no use"
    )
)]

pub mod bound;
pub mod constants;
pub mod error;
pub mod num;
pub mod profile;
pub mod profile_csv;
pub mod report;
pub mod request;
pub mod sourced;
pub mod units;
pub mod vocabulary;

pub mod cleaning;
pub mod color;
pub mod deposition;
pub mod diffusion;
pub mod electrical;
pub mod etching;
pub mod flow;
pub mod hazards;
pub mod implantation;
pub mod lithography;
pub mod oxidation;
pub mod polishing;
pub mod thin_film;
pub mod wafer;

mod bench;

pub use bench::{OPERATIONS, OperationSchema, run, run_text, schema};
pub use error::RequestError;
pub use report::Report;

/// The version of the kernel, written into every report.
pub const KERNEL_VERSION: &str = env!("CARGO_PKG_VERSION");
