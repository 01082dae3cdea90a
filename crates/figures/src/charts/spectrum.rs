//! What a film sends back of each color of the light.

use barewafer_process::color::Spectrum;

use super::series;
use crate::axis::linear;
use crate::chart::{Axis, Chart, Role};
use crate::numbers::{short, three};

pub(super) fn chart(spectrum: &Spectrum, film: &str) -> Chart {
    let percent: Vec<f64> = spectrum.reflectance.iter().map(|r| 100.0 * r).collect();
    let ends = [spectrum.wavelength_nm.first(), spectrum.wavelength_nm.last()];
    let [first, last] = ends.map(|end| end.copied().unwrap_or(0.0));
    let brightest = spectrum
        .wavelength_nm
        .iter()
        .zip(&percent)
        .fold((0.0, 0.0), |best, (&nm, &r)| if best.1 < r { (nm, r) } else { best });
    Chart {
        id: "spectrum".to_owned(),
        title: "Light that comes back".to_owned(),
        x: Axis {
            label: "Wavelength".to_owned(),
            unit: "nm".to_owned(),
            log: false,
            min: first,
            max: last,
        },
        y: linear("Reflectance", "%", percent.iter().copied()),
        series: vec![series(film, Role::Main, &spectrum.wavelength_nm, &percent)],
        summary: format!(
            "Of the visible light most comes back at {} nm: {} percent.",
            short(brightest.0),
            three(brightest.1),
        ),
        ..Chart::default()
    }
}
