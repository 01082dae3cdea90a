//! The aerial image.

use barewafer_process::lithography::ExposureResults;

use super::series;
use crate::axis::linear;
use crate::chart::{Chart, Role};
use crate::numbers::three;

pub(super) fn charts(results: &ExposureResults) -> Vec<Chart> {
    vec![image(results)]
}

fn image(results: &ExposureResults) -> Chart {
    let image = &results.image;
    Chart {
        id: "image".to_owned(),
        title: "Light at the top of the resist".to_owned(),
        x: linear("Place", "µm", image.x_um.iter().copied()),
        y: linear("Intensity", "", image.intensity.iter().copied().chain([0.0, 1.0])),
        series: vec![series("image", Role::Main, &image.x_um, &image.intensity)],
        summary: format!(
            "The image has a contrast of {} and a logarithmic slope of {} at the drawn edge.",
            three(results.contrast),
            three(results.nils)
        ),
        ..Chart::default()
    }
}
