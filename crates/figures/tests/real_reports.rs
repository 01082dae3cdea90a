//! Charts and pictures of what the kernel answers, from corner to corner of the benches.

#[path = "benches/requests.rs"]
mod requests;

use barewafer_figures::chart::Chart;
use barewafer_figures::pictures::Frame;
use barewafer_figures::scene::{Scene, Shape};
use barewafer_figures::style::{Style, Theme};
use barewafer_figures::svg::chart_svg;
use barewafer_figures::text_width::text_width;
use barewafer_figures::{charts, pictures};
use barewafer_process::run_text;
use requests::REQUESTS;

fn text_box(shape: &Shape) -> Option<(&str, [f64; 4])> {
    let Shape::Text { at, text, anchor, size, .. } = shape else { return None };
    let width = text_width(text, *size);
    let left = match anchor.as_str() {
        "start" => at[0],
        "middle" => at[0] - width / 2.0,
        _ => at[0] - width,
    };
    Some((text, [left, at[1] - 0.5 * size, left + width, at[1] + 0.5 * size]))
}

/// What covers what in a picture, in words.
fn faults(name: &str, scene: &Scene) -> Vec<String> {
    let boxes: Vec<(&str, [f64; 4])> = scene.shapes.iter().filter_map(text_box).collect();
    let mut faults = Vec::new();
    for (i, (text, a)) in boxes.iter().enumerate() {
        if a[0] < 0.0 || a[1] < 0.0 || scene.width < a[2] || scene.height < a[3] {
            faults.push(format!("{name}: {text} leaves the frame: {a:?}"));
        }
        for (other, b) in boxes.iter().skip(i + 1) {
            if a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3] {
                faults.push(format!("{name}: {text} covers {other}"));
            }
        }
    }
    for shape in &scene.shapes {
        let lines = match shape {
            Shape::Area { points, .. }
            | Shape::Ground { points, .. }
            | Shape::Tint { points, .. }
            | Shape::Line { points, .. } => std::slice::from_ref(points),
            Shape::Strokes { lines, .. } => lines,
            Shape::Ellipse { .. } | Shape::Text { .. } => continue,
        };
        let inside = lines.iter().flatten().all(|p| {
            (0.0..=scene.width).contains(&p[0]) && (0.0..=scene.height).contains(&p[1])
        });
        if !inside {
            faults.push(format!("{name}: {shape:?} leaves the frame"));
        }
    }
    faults
}

/// What lies outside its axes in a chart, in words.
fn chart_faults(name: &str, chart: &Chart) -> Vec<String> {
    let mut faults = Vec::new();
    for marker in &chart.markers {
        for (axis, value) in [(&chart.x, marker.x), (&chart.y, marker.y)] {
            let place = axis.place(value).unwrap_or(-1.0);
            if !(-1e-9..=1.0 + 1e-9).contains(&place) {
                faults.push(format!("{name} {}: {marker:?} is off the axes", chart.id));
            }
        }
    }
    for width in [320.0, 1280.0] {
        let style = Style::new(Theme::Dark, width, 320.0, 1.0);
        if let Err(error) = chart_svg(chart, None, &style) {
            faults.push(format!("{name} {}: {error}", chart.id));
        }
    }
    let back: Option<Chart> = serde_json::to_string(chart)
        .ok()
        .and_then(|text| serde_json::from_str(&text).ok());
    if back.as_ref() != Some(chart) {
        faults.push(format!("{name} {}: a page cannot hand it back", chart.id));
    }
    if !chart.summary.ends_with('.') || chart.summary.contains("no value") {
        faults.push(format!("{name} {}: {}", chart.id, chart.summary));
    }
    faults
}

#[test]
fn every_corner_of_the_benches_gives_clean_figures() {
    let mut all = Vec::new();
    for (name, request) in REQUESTS {
        let report = run_text(request.as_bytes());
        assert!(report.is_ok(), "{name}: {report:?}");
        let Ok(report) = report else { continue };
        for frame in [Frame::Wide, Frame::Narrow] {
            let name = &format!("{name} {frame:?}");
            match pictures::of(&report, frame) {
                Some(scene) => all.extend(faults(name, &scene)),
                None => all.push(format!("{name}: no picture")),
            }
        }
        for chart in charts::of(&report) {
            all.extend(chart_faults(name, &chart));
        }
    }
    assert!(all.is_empty(), "{}", all.join("\n"));
}
