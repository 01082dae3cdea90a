//! Charts and pictures of reports built by hand: geometry, data, and the files written.

mod sample;

use barewafer_figures::chart::{Chart, Role};
use barewafer_figures::scene::{Scene, Shape};
use barewafer_figures::style::{Style, Theme};
use barewafer_figures::svg::chart_svg;
use barewafer_figures::text_width::text_width;
use barewafer_figures::{charts, pictures, scene_svg::scene_svg};
use barewafer_process::Report;

fn chart(report: &Report, id: &str) -> Chart {
    charts::of(report)
        .into_iter()
        .find(|chart| chart.id == id)
        .expect("the chart is there")
}

fn style(width: f64, height: f64) -> Style {
    Style::new(Theme::Light, width, height, 1.0)
}

/// Top and bottom of each area of a material, from the top down.
fn heights(scene: &Scene, word: &str) -> Vec<(f64, f64)> {
    scene
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Area { points, material } if material == word => {
                let ys = points.iter().map(|p| p[1]);
                Some((ys.clone().fold(f64::INFINITY, f64::min), ys.fold(0.0, f64::max)))
            }
            _ => None,
        })
        .collect()
}

/// The text boxes of a scene: left, top, right, bottom.
fn text_boxes(scene: &Scene) -> Vec<(String, [f64; 4])> {
    scene
        .shapes
        .iter()
        .filter_map(|shape| {
            let Shape::Text { at, text, anchor, size, .. } = shape else { return None };
            let width = text_width(text, *size);
            let left = match anchor.as_str() {
                "start" => at[0],
                "middle" => at[0] - width / 2.0,
                _ => at[0] - width,
            };
            let half = 0.5 * size;
            Some((text.clone(), [left, at[1] - half, left + width, at[1] + half]))
        })
        .collect()
}

/// Every element closed in order, every attribute quoted, no bare `&`.
fn assert_well_formed(svg: &str) {
    let mut open: Vec<&str> = Vec::new();
    let mut rest = svg;
    while let Some(start) = rest.find('<') {
        assert!(!rest[..start].contains('>'), "stray > in text: {}", &rest[..start]);
        let end = start + rest[start..].find('>').expect("a tag is closed");
        let tag = &rest[start + 1..end];
        assert_eq!(tag.matches('"').count() % 2, 0, "{tag}");
        if let Some(name) = tag.strip_prefix('/') {
            assert_eq!(open.pop(), Some(name), "{tag}");
        } else if !tag.ends_with('/') {
            open.push(tag.split_whitespace().next().expect("a name"));
        }
        rest = &rest[end + 1..];
    }
    assert!(open.is_empty(), "left open: {open:?}");
    for (at, _) in svg.match_indices('&') {
        let entity = svg[at..].split(';').next().unwrap_or_default();
        assert!(
            ["&lt", "&gt", "&amp", "&quot", "&apos"].contains(&entity),
            "bare & in {entity}"
        );
    }
}

#[test]
fn oxide_stands_56_percent_above_the_original_surface() {
    let report = sample::oxidation(400.0, 0.0);
    let scene = pictures::of(&report).unwrap();
    let (top, interface) = heights(&scene, "thermal_oxide")[0];
    let original = scene
        .shapes
        .iter()
        .find_map(|shape| match shape {
            Shape::Line { points, style } if style == "section_dashed" => {
                Some(points[0][1])
            }
            _ => None,
        })
        .expect("the original surface is drawn");
    let share = (original - top) / (interface - top);
    assert!((share - 0.56).abs() < 1e-9, "{share}");
    let (silicon_top, _) = heights(&scene, "silicon")[0];
    assert!((silicon_top - interface).abs() < 1e-9);
    assert!(scene.description.contains("400 nm of oxide"), "{}", scene.description);
    assert!(scene.description.contains("224 nm stand above"), "{}", scene.description);
    assert!(
        scene
            .shapes
            .iter()
            .any(|s| matches!(s, Shape::Ellipse { color, .. } if color == "#7b5fa8"))
    );
}

#[test]
fn thicker_oxide_is_drawn_thicker_at_one_scale() {
    let tall = |nm| {
        let scene = pictures::of(&sample::oxidation(nm, 0.0)).unwrap();
        let (top, bottom) = heights(&scene, "thermal_oxide")[0];
        bottom - top
    };
    assert!((tall(400.0) / tall(300.0) - 400.0 / 300.0).abs() < 1e-9);
}

#[test]
fn the_undercut_is_a_circle_around_the_mask_edge() {
    // 250 nm deep after 150 s in a film of 500 nm.
    let scene = pictures::of(&sample::wet_etch(150.0, Some(1.5), None)).unwrap();
    let film = scene
        .shapes
        .iter()
        .find_map(|shape| match shape {
            Shape::Area { points, material } if material == "thermal_oxide" => {
                Some(points)
            }
            _ => None,
        })
        .unwrap();
    let mask_edge = scene
        .shapes
        .iter()
        .find_map(|shape| match shape {
            Shape::Area { points, material } if material == "resist" => {
                Some(points.iter().map(|p| p[0]).fold(0.0, f64::max))
            }
            _ => None,
        })
        .unwrap();
    let top = film.iter().map(|p| p[1]).fold(f64::INFINITY, f64::min);
    let bottom = film.iter().map(|p| p[1]).fold(0.0, f64::max);
    let radius = 250.0 * (bottom - top) / 500.0;
    let wall: Vec<&[f64; 2]> = film.iter().skip(1).take(48).collect();
    for [x, y] in wall {
        let distance = ((mask_edge - x) * (mask_edge - x) + (y - top) * (y - top)).sqrt();
        assert!((distance - radius).abs() < 1e-6, "{distance} {radius}");
    }
}

#[test]
fn a_line_etched_from_both_sides_lifts_its_mask() {
    let scene = pictures::of(&sample::wet_etch(400.0, None, Some(1.0))).unwrap();
    assert!(scene.description.contains("lifts off"), "{}", scene.description);
    assert!(text_boxes(&scene).iter().any(|(text, _)| text.contains("lifted off")));
}

#[test]
fn doping_changes_color_at_the_junction_and_nowhere_else() {
    let report = sample::drive_in();
    let scene = pictures::of(&report).unwrap();
    let bands: Vec<(f64, f64, &str)> = scene
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Tint { points, color, .. } if color != "#ffffff" => {
                Some((points[0][1], points[2][1], color.as_str()))
            }
            _ => None,
        })
        .collect();
    let changes: Vec<f64> = bands
        .windows(2)
        .filter(|pair| pair[0].2 != pair[1].2)
        .map(|pair| pair[0].1)
        .collect();
    assert_eq!(changes.len(), 1);
    let junction = scene.shapes.iter().any(|shape| {
        matches!(shape, Shape::Line { points, style }
            if style == "section" && points.len() == 2 && (points[0][1] - changes[0]).abs() < 1e-6)
    });
    assert!(junction, "the junction line lies on the change of color");
}

#[test]
fn ions_stop_where_the_profile_says() {
    let scene = pictures::of(&sample::implantation(false)).unwrap();
    let mut stops: Vec<f64> = scene
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Ellipse { center, style, .. } if style == "mark" => Some(center[1]),
            _ => None,
        })
        .collect();
    assert_eq!(stops.len(), 24);
    stops.sort_by(f64::total_cmp);
    let range = scene
        .shapes
        .iter()
        .find_map(|shape| match shape {
            Shape::Line { points, style } if style == "section_dashed" => {
                Some(points[0][1])
            }
            _ => None,
        })
        .unwrap();
    // A symmetric profile: half of the ions stop above the range.
    assert!(stops[11] < range && range < stops[12], "{stops:?} {range}");
}

#[test]
fn texts_of_pictures_keep_apart_and_inside() {
    for (name, report) in sample::all() {
        let scene = pictures::of(&report).unwrap();
        let boxes = text_boxes(&scene);
        for (i, (text, a)) in boxes.iter().enumerate() {
            let inside =
                0.0 <= a[0] && 0.0 <= a[1] && a[2] <= scene.width && a[3] <= scene.height;
            assert!(inside, "{name}: {text} leaves the frame: {a:?}");
            for (other, b) in &boxes[i + 1..] {
                let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
                assert!(apart, "{name}: {text} covers {other}: {a:?} {b:?}");
            }
        }
        assert!(scene.description.contains("nm") || scene.description.contains("µm"));
    }
}

#[test]
fn charts_hold_the_results_with_axes_around_them() {
    for (name, report) in sample::all() {
        let all = charts::of(&report);
        assert!(!all.is_empty(), "{name}");
        for chart in all {
            assert!(chart.x.is_sound() && chart.y.is_sound(), "{name} {}", chart.id);
            assert!(
                chart.summary.ends_with('.'),
                "{name} {}: {}",
                chart.id,
                chart.summary
            );
            assert_eq!(chart.series[0].role, Role::Main);
            for marker in &chart.markers {
                for (axis, value) in [(&chart.x, marker.x), (&chart.y, marker.y)] {
                    let place = axis.place(value).expect("a place");
                    assert!((-1e-9..=1.0 + 1e-9).contains(&place), "{name}: {marker:?}");
                }
            }
            let back: Chart =
                serde_json::from_str(&serde_json::to_string(&chart).unwrap()).unwrap();
            assert_eq!(back, chart, "a page can hand the chart back");
        }
    }
}

#[test]
fn doping_charts_show_wafer_junction_and_layers() {
    let chart_of = |report: &Report| chart(report, "profile");
    let drive = chart_of(&sample::drive_in());
    let roles: Vec<Role> = drive.series.iter().map(|s| s.role).collect();
    assert_eq!(roles, [Role::Main, Role::Second, Role::Third, Role::Level]);
    assert!((drive.series[3].y[0] / 1e15 - 1.0).abs() < 1e-9);
    let junction =
        drive.markers.iter().find(|m| m.label.starts_with("junction")).unwrap();
    assert!(
        (junction.y / 1e15 - 1.0).abs() < 0.05,
        "the junction lies on the wafer level"
    );
    let through = chart_of(&sample::implantation(true));
    assert_eq!(through.zones[0].material, "thermal_oxide");
    assert!((through.zones[0].to - 0.1).abs() < 1e-12);
    // The peak lies 200 nm below the silicon surface, 300 nm below the top.
    assert!((through.markers[0].x - 0.3).abs() < 1e-12);
}

#[test]
fn an_svg_has_its_labels_as_text_and_is_well_formed() {
    let mut profile = chart(&sample::drive_in(), "profile");
    profile.title = "Boron < \"n\" & others".to_owned();
    for width in [320.0, 1280.0] {
        let svg = chart_svg(&profile, None, &style(width, 400.0)).unwrap();
        assert_well_formed(&svg);
        for text in ["10¹⁴", "10²⁰", "Concentration (cm⁻³)", "Depth (µm)", "junction"]
        {
            assert!(svg.contains(text), "{text} at {width}");
        }
        assert!(svg.contains("<title>Boron &lt; &quot;n&quot; &amp; others</title>"));
        assert!(svg.contains("<desc>Boron falls from"));
        assert!(svg.contains(&format!("width=\"{width}\" height=\"400\"")));
    }
    for (_, report) in sample::all() {
        for theme in [Theme::Light, Theme::Dark] {
            assert_well_formed(&scene_svg(&pictures::of(&report).unwrap(), theme));
        }
    }
}

#[test]
fn the_pinned_curve_is_drawn_and_both_fit_the_axes() {
    let now = chart(&sample::oxidation(200.0, 0.0), "oxide_time");
    let before = chart(&sample::oxidation(434.0, 0.0), "oxide_time");
    let alone = chart_svg(&now, None, &style(800.0, 450.0)).unwrap();
    let both = chart_svg(&now, Some(&before), &style(800.0, 450.0)).unwrap();
    assert!(!alone.contains("pinned") && both.contains("pinned"));
    assert!(
        both.contains("450\n") || both.contains("400\n"),
        "the axis reaches the pinned curve"
    );
    assert!(alone.matches("<polyline").count() + 20 < both.matches("<polyline").count());
}

#[test]
fn strokes_are_two_css_pixels_and_more_at_every_sharpness() {
    let oxide = chart(&sample::oxidation(434.0, 0.0), "oxide_time");
    let svg = chart_svg(&oxide, None, &style(800.0, 450.0)).unwrap();
    // 8 steps a CSS pixel: the main curve is 2.5 px wide.
    assert!(svg.contains("stroke=\"#0072B2\" stroke-width=\"20\""));
    for ratio in [1.0, 1.5, 2.0, 3.0] {
        let style = Style::new(Theme::Light, 500.0, 300.0, ratio);
        let (width, height) = style.backing_size();
        assert_eq!((f64::from(width), f64::from(height)), (500.0 * ratio, 300.0 * ratio));
    }
}

#[test]
fn spoiled_charts_are_refused_or_drawn_without_panic() {
    let good = chart(&sample::drive_in(), "profile");
    let mut bad = good.clone();
    bad.y.min = 0.0;
    assert!(chart_svg(&bad, None, &style(640.0, 400.0)).is_err());
    let mut bad = good.clone();
    bad.x.max = f64::NAN;
    assert!(chart_svg(&bad, None, &style(640.0, 400.0)).is_err());
    let mut odd = good.clone();
    odd.series[0].y.truncate(3);
    odd.series[1].y = vec![f64::NAN, f64::INFINITY, -1.0, 0.0, 1e300, 1e-300];
    odd.series[2].x.clear();
    odd.markers[0].x = 1e300;
    assert_well_formed(&chart_svg(&odd, Some(&good), &style(f64::NAN, 1.0)).unwrap());
    assert!(chart_svg(&Chart::default(), None, &style(640.0, 400.0)).is_err());
}
