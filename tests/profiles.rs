//! Reference profiles of diffusions, and depths at concentrations.

use std::path::PathBuf;

use barewafer_process::num::ln;

/// One reference profile: depths in um and each dopant's concentration per cm3.
#[derive(Clone, Debug, Default)]
pub struct ReferenceProfile {
    /// Depths in um.
    pub depth_um: Vec<f64>,
    /// Concentration of each dopant per cm3.
    pub dopants: Vec<Vec<f64>>,
}

/// Reads the profile whose file begins with `case`.
///
/// # Panics
/// If there is none or it holds something else than numbers.
#[must_use]
#[expect(clippy::unwrap_used, reason = "a test without its reference may panic")]
pub fn reference(case: &str) -> ReferenceProfile {
    let folder =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/diffusion_profiles");
    let path = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .find(|path| path.file_name().unwrap().to_str().unwrap().starts_with(case))
        .unwrap();
    let mut reference = ReferenceProfile::default();
    for line in std::fs::read_to_string(path).unwrap().lines() {
        if line.starts_with('#') || line.starts_with("depth") {
            continue;
        }
        let values: Vec<f64> = line.split(',').map(|v| v.parse().unwrap()).collect();
        reference.depth_um.push(values[0]);
        reference.dopants.resize(values.len() - 1, Vec::new());
        for (list, value) in reference.dopants.iter_mut().zip(&values[1..]) {
            list.push(*value);
        }
    }
    reference
}

/// Deepest depth at which a concentration passes `level`, interpolated in its logarithm.
#[must_use]
pub fn depth_at(x: &[f64], c: &[f64], level: f64) -> Option<f64> {
    let i = c.iter().rposition(|&c| level < c)?;
    let (a, b) = (c[i], *c.get(i + 1)?);
    let t = if 0.0 < b { ln(a / level) / ln(a / b) } else { (a - level) / (a - b) };
    Some(x[i] + t * (x[i + 1] - x[i]))
}
