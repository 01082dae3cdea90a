//! A profile pasted as text: columns of depth and concentration, as a spreadsheet or an
//! instrument writes them.
//!
//! One header line names the columns with their units: `depth_um` or `depth_nm`, and
//! `<dopant>_cm3` or `net_cm3`. Commas, semicolons or tabs part them; with semicolons or tabs
//! a decimal comma is read too. Lines that begin with `#` are comments.

use crate::error::{RequestError, one_line};
use crate::profile::{MAX_CONCENTRATION_CM3, MAX_DEPTH_UM, MAX_POINTS, Profile};
use crate::vocabulary::{Dopant, Substrate};

/// The most bytes of text that are read.
pub const MAX_BYTES: usize = 200_000;

const COLUMNS: &str = "depth_um or depth_nm, and net_cm3 or dopants such as boron_cm3, phosphorus_cm3, arsenic_cm3";

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Column {
    /// Depth, with its factor to um.
    Depth(f64),
    /// A dopant.
    Dopant(Dopant),
    /// Donors minus acceptors, wafer included.
    Net,
}

/// Reads a profile from text.
///
/// A net column counts donors minus acceptors of everything, the wafer included: what the
/// `substrate` does not hold is taken as phosphorus where it is positive and as boron where it
/// is negative. Beside columns of dopants it is not used.
///
/// # Errors
/// [`RequestError`] with the field `csv`, naming line and column.
pub fn profile_from_csv(
    text: &str,
    substrate: Option<Substrate>,
) -> Result<Profile, RequestError> {
    if MAX_BYTES < text.len() {
        let allowed = format!("at most {MAX_BYTES} bytes");
        return Err(wrong(
            "too_large",
            "csv",
            &format!("{} bytes", text.len()),
            &allowed,
            "leave out columns and points that are not needed",
        ));
    }
    let mut lines = text
        .trim_start_matches('\u{feff}')
        .lines()
        .enumerate()
        .map(|(k, line)| (k + 1, line.trim_end()))
        .filter(|(_, line)| !line.trim().is_empty() && !line.starts_with('#'));
    let Some((number, header)) = lines.next() else {
        return Err(wrong(
            "no_header",
            "csv",
            "no line at all",
            &format!("a header line with {COLUMNS}"),
            "paste a header line and the points below it",
        ));
    };
    let separator = ['\t', ';', ','].into_iter().find(|&c| header.contains(c));
    let separator = separator.unwrap_or(',');
    let columns = columns(number, header, separator)?;
    let mut values: Vec<Vec<f64>> = vec![Vec::new(); columns.len()];
    for (number, line) in lines {
        if MAX_POINTS <= values.first().map_or(0, Vec::len) {
            return Err(wrong(
                "too_large",
                &format!("line {number}"),
                &format!("more than {MAX_POINTS} points"),
                &format!("at most {MAX_POINTS} points"),
                "keep every second point or so",
            ));
        }
        read_line(number, line, separator, &columns, &mut values)?;
    }
    profile(number, &columns, values, substrate)
}

/// One error about a place in the text.
fn wrong(
    code: &'static str,
    place: &str,
    what: &str,
    allowed: &str,
    hint: &str,
) -> RequestError {
    let colon = if place == "csv" { "csv" } else { &format!("csv: {place}") };
    RequestError::new(
        code,
        "csv",
        what,
        allowed,
        &format!("{colon}: {} (allowed: {allowed})", one_line(what)),
        hint,
    )
}

fn columns(
    number: usize,
    header: &str,
    separator: char,
) -> Result<Vec<Column>, RequestError> {
    let mut columns = Vec::new();
    for (k, cell) in header.split(separator).enumerate() {
        let Some(column) = column(&plain_name(cell)) else {
            let hint = if cell.trim().parse::<f64>().is_ok() {
                "the first line names the columns; put a header above the numbers"
            } else {
                "name each column with its unit, or delete the column"
            };
            return Err(wrong(
                "unknown_column",
                &format!("line {number}, column {}", k + 1),
                &format!("{} is not a column", one_line(cell.trim())),
                COLUMNS,
                hint,
            ));
        };
        if columns.iter().any(|&c| same(c, column)) {
            return Err(wrong(
                "unknown_column",
                &format!("line {number}, column {}", k + 1),
                &format!("{} stands twice", one_line(cell.trim())),
                "each quantity once",
                "delete one of the columns",
            ));
        }
        columns.push(column);
    }
    let depth = columns.iter().any(|c| matches!(c, Column::Depth(_)));
    if !depth || columns.len() < 2 {
        let what = if depth { "no concentration" } else { "no depth" };
        return Err(wrong(
            "missing_column",
            &format!("line {number}"),
            &format!("{what} among the columns"),
            COLUMNS,
            "name the columns, for example depth_um,boron_cm3",
        ));
    }
    Ok(columns)
}

fn same(a: Column, b: Column) -> bool {
    a == b || matches!((a, b), (Column::Depth(_), Column::Depth(_)))
}

fn column(name: &str) -> Option<Column> {
    match name {
        "depth_um" => Some(Column::Depth(1.0)),
        "depth_nm" => Some(Column::Depth(1e-3)),
        "net_cm3" => Some(Column::Net),
        _ => {
            let word = name.strip_suffix("_cm3")?;
            Dopant::ALL.iter().find(|d| d.word() == word).map(|&d| Column::Dopant(d))
        }
    }
}

/// A header as people write it, in our spelling: `Depth [µm]` and `Boron (cm^-3)` become
/// `depth_um` and `boron_cm3`.
fn plain_name(cell: &str) -> String {
    let mut name = String::new();
    for c in cell.trim().trim_matches('"').chars() {
        match c {
            'µ' | 'μ' => name.push('u'),
            '³' => name.push('3'),
            '⁻' => {}
            c if c.is_ascii_alphanumeric() => name.push(c.to_ascii_lowercase()),
            _ if name.ends_with('_') => {}
            _ => name.push('_'),
        }
    }
    let name = name.trim_matches('_');
    match name.strip_suffix("_cm_3").or_else(|| name.strip_suffix("_1_cm3")) {
        Some(quantity) => format!("{quantity}_cm3"),
        None => name.to_owned(),
    }
}

fn read_line(
    number: usize,
    line: &str,
    separator: char,
    columns: &[Column],
    values: &mut [Vec<f64>],
) -> Result<(), RequestError> {
    let cells: Vec<&str> = line.split(separator).collect();
    if cells.len() != columns.len() {
        return Err(wrong(
            "wrong_length",
            &format!("line {number}"),
            &format!("{} values", cells.len()),
            &format!("{} values, as in the header", columns.len()),
            "write numbers with a point, or part the columns by semicolons",
        ));
    }
    for (k, (cell, column)) in cells.iter().zip(columns).enumerate() {
        let place = || format!("line {number}, column {} ({})", k + 1, word(*column));
        let text = cell.trim().trim_matches('"').trim();
        let decimal_comma = separator != ',' && text.contains(',');
        let value = if decimal_comma {
            text.replacen(',', ".", 1).parse::<f64>()
        } else {
            text.parse::<f64>()
        };
        let value = value.ok().filter(|v| v.is_finite()).ok_or_else(|| {
            let what = if text.is_empty() {
                "nothing stands there".to_owned()
            } else {
                format!("{} is not a number", one_line(text))
            };
            let hint = "write it as 0.25 or 3e18";
            wrong("not_a_number", &place(), &what, "a finite number", hint)
        })?;
        let (value, least, most) = match column {
            Column::Depth(factor) => (value * factor, 0.0, MAX_DEPTH_UM),
            Column::Dopant(_) => (value, 0.0, MAX_CONCENTRATION_CM3),
            Column::Net => (value, -MAX_CONCENTRATION_CM3, MAX_CONCENTRATION_CM3),
        };
        if !(least..=most).contains(&value) {
            let unit = if matches!(column, Column::Depth(_)) { "um" } else { "cm⁻³" };
            return Err(wrong(
                "out_of_range",
                &place(),
                &format!("{value} {unit} is outside"),
                &format!("{least} to {most:e} {unit}"),
                "look at the unit in the header",
            ));
        }
        if let (Column::Depth(_), Some(&before)) = (column, values[k].last())
            && value <= before
        {
            return Err(wrong(
                "not_increasing",
                &place(),
                &format!("{value} um is not more than the {before} um before it"),
                "depths that increase",
                "sort the points from the surface down and drop doubles",
            ));
        }
        values[k].push(value);
    }
    Ok(())
}

fn word(column: Column) -> String {
    match column {
        Column::Depth(factor) if factor < 1.0 => "depth_nm".to_owned(),
        Column::Depth(_) => "depth_um".to_owned(),
        Column::Dopant(dopant) => format!("{}_cm3", dopant.word()),
        Column::Net => "net_cm3".to_owned(),
    }
}

fn profile(
    header: usize,
    columns: &[Column],
    values: Vec<Vec<f64>>,
    substrate: Option<Substrate>,
) -> Result<Profile, RequestError> {
    let mut profile = Profile::default();
    let mut net = Vec::new();
    for (column, list) in columns.iter().zip(values) {
        match column {
            Column::Depth(_) => profile.depth_um = list,
            Column::Dopant(dopant) => profile.dopants.push((*dopant, list)),
            Column::Net => net = list,
        }
    }
    if profile.depth_um.len() < 2 {
        return Err(wrong(
            "missing_field",
            &format!("below line {header}"),
            &format!("{} points", profile.depth_um.len()),
            "2 to 2000 points",
            "paste the points below the header",
        ));
    }
    if profile.dopants.is_empty() {
        let Some(substrate) = substrate else {
            return Err(wrong(
                "missing_field",
                "csv",
                "net doping without a substrate",
                "net_cm3 together with a substrate",
                "give the substrate: the net doping counts it",
            ));
        };
        let wafer = substrate.net_donors_cm3();
        let part = |sign: f64| {
            net.iter().map(|n| (sign * (n - wafer)).max(0.0)).collect::<Vec<f64>>()
        };
        profile.dopants =
            vec![(Dopant::Boron, part(-1.0)), (Dopant::Phosphorus, part(1.0))];
    }
    if profile.dopants.iter().all(|(_, list)| list.iter().all(|&c| c <= 0.0)) {
        return Err(wrong(
            "no_dose",
            "csv",
            "there is no dopant in it",
            "a concentration above 0 somewhere",
            "paste a profile with a dopant in it",
        ));
    }
    Ok(profile)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::vocabulary::DopingType;

    #[track_caller]
    fn read(text: &str) -> Profile {
        profile_from_csv(text, None).unwrap()
    }

    #[track_caller]
    fn refused(text: &str, code: &str, words: &str) {
        let error = profile_from_csv(text, None).unwrap_err();
        assert_eq!((error.code, error.field.as_str()), (code, "csv"), "{error}");
        assert!(error.message.contains(words), "{error}");
    }

    #[test]
    fn three_ways_of_writing_the_same_points() {
        let expected = Profile {
            depth_um: vec![0.0, 0.25],
            dopants: vec![(Dopant::Boron, vec![1e19, 2.5e17])],
            ..Profile::default()
        };
        assert_eq!(read("depth_um,boron_cm3\n0,1e19\n0.25,2.5e17\n"), expected);
        assert_eq!(
            read(
                "# by SIMS\r\nBoron (cm^-3);Depth [µm]\r\n1E19;0\r\n\r\n2,5e17;0,25\r\n"
            ),
            expected
        );
        assert_eq!(
            read("\u{feff}\"depth nm\"\tboron cm⁻³\n0\t1e+19\n# break\n250\t2,5e17"),
            expected
        );
    }

    #[test]
    fn net_doping_is_shared_out_beyond_the_wafer() {
        let n = Substrate { doping_type: DopingType::N, concentration_cm3: 1e15 };
        let text = "depth_um,net_cm3\n0,-9e17\n1,1e15\n2,3e15";
        let found = profile_from_csv(text, Some(n)).unwrap();
        let boron = vec![9.01e17, 0.0, 0.0];
        let phosphorus = vec![0.0, 0.0, 2e15];
        assert_eq!(
            found.dopants,
            [(Dopant::Boron, boron), (Dopant::Phosphorus, phosphorus)]
        );
        refused(text, "missing_field", "without a substrate");
    }

    #[test]
    fn errors_name_line_and_column() {
        refused("", "no_header", "csv: no line");
        refused("0,1e18\n1,1e17", "unknown_column", "line 1, column 1: 0 is not");
        refused(
            "depth_um,boron_cm3\n0,1e18\n1,x",
            "not_a_number",
            "line 3, column 2 (boron_cm3): x",
        );
        refused(
            "depth_um,boron_cm3\n0,\n",
            "not_a_number",
            "line 2, column 2 (boron_cm3): nothing",
        );
        refused(
            "depth_um,boron_cm3\n0,1e18\n0,1e17",
            "not_increasing",
            "line 3, column 1",
        );
        refused("depth_um,boron_cm3\n0,1e18,2", "wrong_length", "line 2: 3 values");
        refused("depth_um,boron_cm3\n0,-1", "out_of_range", "line 2, column 2");
        refused("depth_um,boron_cm3\n0,nan", "not_a_number", "nan");
        refused("depth_um,boron_cm3\n0,1e18", "missing_field", "below line 1: 1 points");
        refused("depth_um,depth_nm\n0,1", "unknown_column", "stands twice");
        refused("depth_um\n0", "missing_column", "no concentration");
        refused("boron_cm3,arsenic_cm3\n0,1", "missing_column", "no depth");
        refused("depth_um,boron_cm3\n0,0\n1,0", "no_dose", "no dopant");
        let long = format!(
            "depth_um,boron_cm3\n{}",
            (0..2001)
                .map(|k| format!("{},1e15\n", f64::from(k) / 10.0))
                .collect::<String>()
        );
        refused(&long, "too_large", "line 2002");
        refused(&"#".repeat(MAX_BYTES + 1), "too_large", "200001 bytes");
    }
}
