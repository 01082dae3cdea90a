//! The tables of `tests/reference` as checks: one file a table says what is asked for a row.
//!
//! A row that no request can ask for (a function inside the kernel, held by its own test) is
//! left out by name, with the reason.

mod color;
mod deposition;
mod diffusion;
mod diffusion_profiles;
pub mod etch_rates;
mod etching;
mod four_point;
mod implantation;
mod lithography;
mod oxidation;
mod spin_coating;
mod table;
mod words;

use serde::Serialize;
use serde_json::{Map, Value};
use thiserror::Error;

use crate::check::{Allowed, Check, Expected};
use table::Row;

/// Every check, and every row that is none.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Listing {
    /// The checks, in the order of the trade.
    pub checks: Vec<Check>,
    /// Rows of the tables that no request can ask for.
    pub left_out: Vec<LeftOut>,
}

/// A row that is no check.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftOut {
    /// Table and row.
    pub id: String,
    /// Why no request can ask for it.
    pub why: String,
}

/// A table that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("{id}: {what}")]
pub struct TableError {
    /// Table and row.
    pub id: String,
    /// What is wrong with it.
    pub what: String,
}

/// What becomes of a row.
enum Made {
    Check(Box<Check>),
    LeftOut(&'static str),
}

impl Made {
    fn check(check: Check) -> Self {
        Self::Check(Box::new(check))
    }
}

type MadeChecks = Result<Vec<Made>, TableError>;

type Rows = fn() -> Result<Vec<Row<'static>>, TableError>;
type Checks = fn(&Row<'_>) -> MadeChecks;

/// The rows of each table, and what makes checks of one.
const TABLES: &[(Rows, Checks)] = &[
    (|| oxidation::TABLE.rows(), oxidation::checks),
    (|| color::TABLE.rows(), color::checks),
    (|| spin_coating::TABLE.rows(), spin_coating::checks),
    (|| lithography::TABLE.rows(), lithography::checks),
    (lithography::image_rows, lithography::image_checks),
    (|| etch_rates::TABLE.rows(), etch_rates::checks),
    (|| etching::TABLE.rows(), etching::checks),
    (|| deposition::TABLE.rows(), deposition::checks),
    (|| diffusion::TABLE.rows(), diffusion::checks),
    (diffusion_profiles::rows, diffusion_profiles::checks),
    (|| four_point::DEVICES.rows(), four_point::device_checks),
    (|| four_point::CONDUCTIVITY.rows(), four_point::conductivity_checks),
    (|| four_point::FACTORS.rows(), four_point::factor_checks),
    (|| implantation::RANGES.rows(), implantation::range_checks),
    (|| implantation::EXAMPLES.rows(), implantation::example_checks),
    (|| implantation::DAMAGE.rows(), implantation::damage_checks),
];

/// Reads every table.
///
/// # Errors
/// [`TableError`] naming the first row that cannot be read.
pub fn all() -> Result<Listing, TableError> {
    let mut listing = Listing::default();
    for (rows, checks) in TABLES {
        for row in rows()? {
            for made in checks(&row)? {
                match made {
                    Made::Check(check) => listing.checks.push(*check),
                    Made::LeftOut(why) => listing
                        .left_out
                        .push(LeftOut { id: row.id().to_owned(), why: why.to_owned() }),
                }
            }
        }
    }
    Ok(listing)
}

/// The benches that answer checks, by the id in their address.
pub const BENCHES: &[&str] = &[
    "furnace",
    "spinner",
    "aligner",
    "developer",
    "wet-bench",
    "deposition",
    "dry-etcher",
    "polisher",
    "diffusion-tube",
    "implanter",
    "four-point",
];

/// The bench of the page that answers an operation.
fn bench_of(operation: &str) -> Option<&'static str> {
    Some(match operation {
        "oxidation" => "furnace",
        "spin_coating" | "bake" => "spinner",
        "exposure" | "process_window" => "aligner",
        "development" => "developer",
        "wet_etch" => "wet-bench",
        "dry_etch" | "resist_strip" => "dry-etcher",
        "planarization" => "polisher",
        "deposition" => "deposition",
        "predeposition" | "drive_in" | "anneal" => "diffusion-tube",
        "implantation" => "implanter",
        "sheet" => "four-point",
        _ => return None,
    })
}

/// How something is known, by the first of these words that its table uses.
fn kind_of(known_by: &str) -> Option<&'static str> {
    let said = known_by.to_lowercase();
    ["read", "memory", "common practice", "derived", "computed"]
        .into_iter()
        .filter_map(|kind| said.find(kind).map(|at| (at, kind)))
        .min()
        .map(|(_, kind)| kind)
}

/// What a table says about a row, before it is a check.
struct Draft<'a> {
    row: &'a Row<'a>,
    request: Map<String, Value>,
    what: String,
    read: String,
    factor: f64,
    expected: Expected,
    unit: &'a str,
    tolerance: f64,
    allowed: Allowed,
    source: &'a str,
    known_by: &'a str,
}

impl Draft<'_> {
    fn finish(self) -> Result<Made, TableError> {
        let row = self.row;
        let operation = self.request.get("operation").and_then(Value::as_str);
        let operation =
            operation.ok_or_else(|| row.error("the request has no operation"))?;
        let bench = bench_of(operation)
            .ok_or_else(|| row.error(&format!("{operation} has no bench")))?;
        let kind = kind_of(self.known_by)
            .ok_or_else(|| row.error(&format!("{}: how is it known", self.known_by)))?;
        if self.source.is_empty() {
            return Err(row.error("there is no source"));
        }
        Ok(Made::check(Check {
            id: row.id().to_owned(),
            bench: bench.to_owned(),
            what: self.what,
            conditions: words::conditions(&self.request),
            request: self.request,
            read: self.read,
            factor: self.factor,
            expected: self.expected,
            // A plain number.
            unit: if ["1", "-"].contains(&self.unit) { "" } else { self.unit }.to_owned(),
            tolerance: self.tolerance,
            allowed: self.allowed,
            source: self.source.to_owned(),
            known_by: self.known_by.to_owned(),
            kind: kind.to_owned(),
            note: row.optional("note").to_owned(),
            known_deviation: row.optional("known_deviation").to_owned(),
        }))
    }
}

/// A JSON object out of a row's cell.
fn object(row: &Row<'_>, text: &str) -> Result<Map<String, Value>, TableError> {
    serde_json::from_str(text).map_err(|error| row.error(&format!("request: {error}")))
}

/// A JSON value that is an object as a request.
fn request(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(fields) => fields,
        _ => Map::new(),
    }
}
