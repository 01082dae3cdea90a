//! `etch_rates`: published rates of wet etching, held against the kernel's default rates.

use serde_json::{Map, Value, json};

use super::table::{Row, Table, table};
use super::{Allowed, Draft, Expected, MadeChecks, request};

pub(super) static TABLE: Table = table!("etch_rates", "id");

/// How the table's names of baths begin, and the kernel's words.
const BATHS: &[(&str, &str)] = &[
    ("HF 49%", "hf_49"),
    ("HF 10:1", "hf_10_1"),
    ("HF 25:1", "hf_25_1"),
    ("BHF 5:1", "bhf_5_1"),
    ("BHF 6:1", "bhf_6_1"),
    ("BHF 10:1", "bhf_10_1"),
    ("H3PO4 85%", "phosphoric_85"),
    ("Al etchant", "aluminum_etch"),
    ("poly/Si etchant", "poly_etch"),
    ("KOH:H2O 1:2", "koh_33"),
    ("KOH 30%", "koh_30"),
    ("KOH (about 30%)", "koh_30"),
    ("TMAH 25%", "tmah_25"),
    ("piranha", "piranha"),
    ("acetone", "acetone"),
];

/// How the table's names of films begin, the kernel's words, and the kind of film. An earlier
/// line goes before a later one.
const FILMS: &[(&str, &str, Option<&str>)] = &[
    ("thermal SiO2 wet", "thermal_oxide", Some("wet")),
    ("thermal SiO2 dry", "thermal_oxide", Some("dry")),
    ("thermal SiO2", "thermal_oxide", None),
    ("LTO", "deposited_oxide", Some("lto")),
    ("TEOS CVD oxide", "deposited_oxide", Some("teos")),
    ("PECVD oxide", "deposited_oxide", Some("pecvd")),
    ("PSG annealed", "phosphorus_glass", Some("annealed")),
    ("PSG unannealed", "phosphorus_glass", Some("as_deposited")),
    ("Si3N4 low-stress", "nitride", Some("low_stress")),
    ("Si3N4", "nitride", None),
    ("polysilicon undoped", "polysilicon", Some("undoped")),
    ("polysilicon", "polysilicon", None),
    ("Si (100)", "silicon", None),
    ("Al/2%Si", "aluminum", Some("silicon_alloy")),
    ("AlSi(2%)", "aluminum", Some("silicon_alloy")),
    ("Al", "aluminum", Some("pure")),
    ("photoresist", "resist", None),
];

pub(super) fn checks(row: &Row<'_>) -> MadeChecks {
    let (bath, film) = (row.text("etchant")?, row.text("material")?);
    let mut asked =
        bath_fields(bath).ok_or_else(|| row.error(&format!("unknown bath {bath}")))?;
    let (material, variant) =
        film_words(film).ok_or_else(|| row.error(&format!("unknown material {film}")))?;
    let mut put = |name: &str, value: Value| asked.insert(name.to_owned(), value);
    put("operation", json!("wet_etch"));
    put("material", json!(material));
    put("thickness_nm", json!(100));
    put("time_s", json!(60));
    if let Some(variant) = variant {
        put("variant", json!(variant));
    }
    // "20-25" means the room: the bath's own default temperature is taken.
    if let Ok(temperature_c) = row.text("temperature_C")?.parse::<f64>() {
        put("temperature_c", json!(temperature_c));
    }
    let published = row.required("rate_nm_per_min")?;
    // Where nothing is etched, the rate may reach the end of the published spread.
    let (tolerance, allowed) = if published == 0.0 {
        (row.required("rate_high")?, Allowed::Absolute)
    } else {
        (row.required("tolerance_rel")?, Allowed::Relative)
    };
    Ok(vec![
        Draft {
            row,
            request: asked,
            what: format!("etch rate of {film} in {bath}"),
            read: "rate_nm_min".to_owned(),
            factor: 1.0,
            expected: Expected::Number(published),
            unit: "nm/min",
            tolerance,
            allowed,
            source: row.text("source")?,
            known_by: row.text("known_by")?,
        }
        .finish()?,
    ])
}

/// The fields of a request for a bath by the table's name; none if the name is not known.
#[must_use]
pub fn bath_fields(name: &str) -> Option<Map<String, Value>> {
    if let Some(rest) = name.strip_prefix("HF, ") {
        let percent: f64 = rest.split(' ').next()?.parse().ok()?;
        return Some(request(json!({
            "etchant": "hf_dilute", "concentration_percent": percent,
        })));
    }
    let (_, word) = BATHS.iter().find(|(begin, _)| name.starts_with(begin))?;
    Some(request(json!({"etchant": word})))
}

/// The kernel's word for a film by the table's name, and for its kind; none if the name is not
/// known.
#[must_use]
pub fn film_words(name: &str) -> Option<(&'static str, Option<&'static str>)> {
    let (_, material, variant) =
        FILMS.iter().find(|(begin, ..)| name.starts_with(begin))?;
    Some((material, *variant))
}
