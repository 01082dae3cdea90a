//! Charts and pictures of the kernel's reports: geometry, data, and the files written.

#[path = "benches/requests.rs"]
mod requests;

use barewafer_figures::chart::{Chart, Role};
use barewafer_figures::pictures::Frame;
use barewafer_figures::scene::{Scene, Shape};
use barewafer_figures::style::{Style, Theme};
use barewafer_figures::svg::chart_svg;
use barewafer_figures::{charts, pictures, scene_svg::scene_svg};
use barewafer_process::report::Results;
use barewafer_process::{Report, run_text};

#[expect(clippy::expect_used, reason = "a test cannot go on without its report")]
fn report(name: &str) -> Report {
    let (_, request) = requests::REQUESTS
        .iter()
        .find(|(known, _)| *known == name)
        .expect("a known request");
    run_text(request.as_bytes()).expect("a good request")
}

#[expect(clippy::expect_used, reason = "a test cannot go on without its chart")]
fn chart(name: &str, id: &str) -> Chart {
    let found = charts::of(&report(name)).into_iter().find(|chart| chart.id == id);
    found.expect("the chart is there")
}

fn picture(name: &str) -> Scene {
    pictures::of(&report(name), Frame::Wide).unwrap_or_default()
}

/// The first line of a style.
fn line<'a>(scene: &'a Scene, word: &str) -> Option<&'a [[f64; 2]]> {
    scene.shapes.iter().find_map(|shape| match shape {
        Shape::Line { points, style } if style == word => Some(points.as_slice()),
        _ => None,
    })
}

/// The corners of the first area of a material.
fn area<'a>(scene: &'a Scene, word: &str) -> &'a [[f64; 2]] {
    let found = scene.shapes.iter().find_map(|shape| match shape {
        Shape::Area { points, material } if material == word => Some(points.as_slice()),
        _ => None,
    });
    found.unwrap_or_default()
}

/// Smallest and largest of one coordinate.
fn ends(points: &[[f64; 2]], axis: usize) -> (f64, f64) {
    points.iter().fold((f64::INFINITY, 0.0), |(low, high), p| {
        (low.min(p[axis]), high.max(p[axis]))
    })
}

fn style(width: f64, height: f64) -> Style {
    Style::new(Theme::Light, width, height, 1.0)
}

/// Every element closed in order, every attribute quoted, no bare `&`.
#[expect(clippy::expect_used, reason = "a broken file ends the test")]
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
    let report = report("ox_wet");
    let Results::Oxidation(results) = &report.results else { panic!("an oxidation") };
    let scene = picture("ox_wet");
    let (top, interface) = ends(area(&scene, "thermal_oxide"), 1);
    let original = line(&scene, "section_dashed").unwrap()[0][1];
    // The native oxide of before rides on top; the wet model starts from bare silicon.
    let old = results.initial_oxide_nm / results.oxide_nm * (interface - top);
    let share = (original - top - old) / (interface - top - old);
    assert!((share - 0.56).abs() < 1e-6, "{share}");
    let (silicon_top, _) = ends(area(&scene, "silicon"), 1);
    assert!((silicon_top - interface).abs() < 1e-9);
    assert!(scene.description.contains("of oxide on silicon"), "{}", scene.description);
    assert!(scene.shapes.iter().any(
        |s| matches!(s, Shape::Ellipse { color, .. } if *color == results.color.srgb_hex)
    ));
}

#[test]
fn oxide_from_before_rides_on_top_of_the_new() {
    let report = report("ox_old");
    let Results::Oxidation(results) = &report.results else { panic!("an oxidation") };
    let scene = picture("ox_old");
    let (top, interface) = ends(area(&scene, "thermal_oxide"), 1);
    let seam = line(&scene, "section_dashed").unwrap()[0][1];
    let share = (seam - top) / (interface - top);
    assert!((share - results.initial_oxide_nm / results.oxide_nm).abs() < 1e-6);
}

#[test]
fn the_undercut_is_a_circle_around_the_mask_edge() {
    let report = report("etch_small");
    let Results::WetEtch(results) = &report.results else { panic!("a wet etch") };
    assert!(results.undercut_nm < results.thickness_nm);
    let scene = picture("etch_small");
    let film = area(&scene, "thermal_oxide");
    let (_, mask_edge) = ends(area(&scene, "resist"), 0);
    let (top, bottom) = ends(film, 1);
    let radius = results.undercut_nm * (bottom - top) / results.thickness_nm;
    for [x, y] in film.iter().skip(1).take(48) {
        let distance = ((mask_edge - x) * (mask_edge - x) + (y - top) * (y - top)).sqrt();
        assert!((distance - radius).abs() < 1e-6, "{distance} {radius}");
    }
}

#[test]
fn crystal_planes_give_straight_walls_of_their_slope() {
    let report = report("etch_silicon");
    let Results::WetEtch(results) = &report.results else { panic!("a wet etch") };
    let wall = results.wall_deg.expect("the planes set the walls").to_radians();
    let scene = picture("etch_silicon");
    // The bulk below is the first silicon drawn, the etched film the second.
    let film = scene
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Area { points, material } if material == "silicon" => Some(points),
            _ => None,
        })
        .nth(1)
        .unwrap();
    let (a, b) = (film[1], film[40]);
    let slope = (b[1] - a[1]) / (b[0] - a[0]);
    let wanted = barewafer_process::num::tan(wall);
    assert!((slope - wanted).abs() < 1e-6, "{slope} {wanted}");
    let (top, bottom) = ends(film, 1);
    let deepest = film.iter().skip(1).take(48).map(|p| p[1]).fold(0.0, f64::max) - top;
    let drawn_nm = deepest * results.thickness_nm / (bottom - top);
    assert!((drawn_nm / results.etched_nm - 1.0).abs() < 1e-6);
}

#[test]
fn a_line_etched_from_both_sides_lifts_its_mask() {
    let scene = picture("etch_gone");
    assert!(scene.description.contains("lifts off"), "{}", scene.description);
}

#[test]
fn doping_changes_color_at_the_junction_and_nowhere_else() {
    for name in ["drive_b", "implant_b"] {
        let scene = picture(name);
        let bands: Vec<(f64, &str)> = scene
            .shapes
            .iter()
            .filter_map(|shape| match shape {
                Shape::Tint { points, color, .. } if color != "#ffffff" => {
                    Some((points[2][1], color.as_str()))
                }
                _ => None,
            })
            .collect();
        let changes: Vec<f64> = bands
            .windows(2)
            .filter(|pair| pair[0].1 != pair[1].1)
            .map(|pair| pair[0].0)
            .collect();
        assert_eq!(changes.len(), 1, "{name}");
        let junction = scene.shapes.iter().any(|shape| {
            matches!(shape, Shape::Line { points, style } if style == "section"
                && points.len() == 2 && (points[0][1] - changes[0]).abs() < 1e-6)
        });
        assert!(junction, "{name}: the junction line lies on the change of color");
    }
}

#[test]
fn ions_stop_where_the_profile_says() {
    let scene = picture("implant_b");
    let stops: Vec<f64> = scene
        .shapes
        .iter()
        .filter_map(|shape| match shape {
            Shape::Strokes { lines, style } if style == "mark" => Some(lines),
            _ => None,
        })
        .flatten()
        // A ring is a closed line of eight corners, the first of them at its right.
        .filter(|ring| ring.len() == 9)
        .map(|ring| ring[0][1])
        .collect();
    assert_eq!(stops.len(), 24);
    let mean = stops.iter().sum::<f64>() / 24.0;
    let range = line(&scene, "section_dashed").unwrap()[0][1];
    let (top, bottom) = (66.0, 322.0);
    // The mean of the stops is the mean depth of the profile, on the scale of the picture.
    assert!((mean - range).abs() < 0.02 * (bottom - top), "{mean} {range}");
}

#[test]
fn doping_charts_show_wafer_junction_and_layers() {
    let drive = chart("drive_b", "profile");
    let roles: Vec<Role> = drive.series.iter().map(|s| s.role).collect();
    assert_eq!(roles[..3], [Role::Main, Role::Second, Role::Third]);
    assert_eq!(roles[3..8], [Role::Past; 5]);
    assert_eq!(roles[8..], [Role::Level]);
    // From one time to the next the surface falls and the front goes deeper.
    for pair in drive.series[3..8].windows(2) {
        assert!(pair[1].y[0] < pair[0].y[0]);
        let reach = |s: &barewafer_figures::chart::Series| {
            s.x[s.y.iter().rposition(|&c| 1e15 < c).unwrap()]
        };
        assert!(reach(&pair[0]) < reach(&pair[1]));
    }
    assert!((drive.series[8].y[0] / 1e15 - 1.0).abs() < 1e-6);
    let junction =
        drive.markers.iter().find(|m| m.label.starts_with("junction")).unwrap();
    assert!((junction.y / 1e15 - 1.0).abs() < 0.05, "{junction:?}");
    let through = chart("implant_oxide", "profile");
    assert_eq!(through.zones[0].material, "thermal_oxide");
    assert!((through.zones[0].to - 0.05).abs() < 1e-12);
    let level = through.series.iter().find(|s| s.role == Role::Level).unwrap();
    assert!((level.y[0] / 1e15 - 1.0).abs() < 0.02, "{}", level.y[0]);
}

#[test]
fn an_implant_shows_the_other_table_the_damage_and_the_furnace() {
    let profile = chart("implant_b", "profile");
    let other = profile.series.iter().find(|s| s.role == Role::Third).unwrap();
    assert_eq!(other.label, "by the computed table");
    assert!(profile.summary.contains("303 nm"), "{}", profile.summary);
    assert!(picture("implant_b").description.contains("303 nm"));

    let damage = chart("implant_as", "damage");
    assert_eq!(damage.zones[0].meaning, "amorphous");
    let scene = picture("implant_as");
    assert!(scene.description.contains("amorphous down to"), "{}", scene.description);
    // The zone ends where the curve crosses the level.
    let (curve, level) = (&damage.series[0], damage.series[1].y[0]);
    let below = curve.x.iter().position(|&x| damage.zones[0].to < x).unwrap();
    assert!(curve.y[below] <= level && level <= curve.y[below - 1]);

    let active = chart("implant_as", "activation");
    assert!(active.series[0].y.iter().all(|share| (0.0..=100.0).contains(share)));
    // Below a thick mask there is no damage to draw.
    let stopped = charts::of(&report("implant_stopped"));
    assert!(stopped.iter().all(|chart| chart.id != "damage"));
}

#[test]
fn a_channeling_tail_is_called_illustrative() {
    let request = r#"{"operation":"implantation","dopant":"boron","energy_kev":50,"model":"dual_pearson","tilt_deg":0}"#;
    let report = run_text(request.as_bytes()).unwrap();
    let chart = &charts::of(&report)[0];
    assert!(chart.title.contains("illustrative"), "{}", chart.title);
    assert!(chart.series[0].label.contains("illustrative"));
    let scene = pictures::of(&report, Frame::Wide).unwrap_or_default();
    assert!(scene.description.contains("illustrative"), "{}", scene.description);
}

#[test]
fn the_band_of_an_etch_opens_with_time() {
    let left = chart("etch", "film_left");
    let band = &left.bands[0];
    assert!((band.high[0] - 500.0).abs() < 1e-9 && (band.low[0] - 500.0).abs() < 1e-9);
    let middle = band.x.len() / 3;
    assert!(band.low[middle] < left.series[0].y[middle]);
    assert!(left.series[0].y[middle] < band.high[middle]);
}

#[test]
fn an_svg_has_its_labels_as_text_and_is_well_formed() {
    let mut profile = chart("drive_b", "profile");
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
    for (name, _) in requests::REQUESTS {
        for theme in [Theme::Light, Theme::Dark] {
            assert_well_formed(&scene_svg(&picture(name), theme));
        }
    }
}

#[test]
fn the_pinned_curve_is_drawn_and_both_fit_the_axes() {
    let now = chart("ox_dry", "oxide_time");
    let before = chart("ox_wet", "oxide_time");
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
    let oxide = chart("ox_wet", "oxide_time");
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
    let good = chart("drive_b", "profile");
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
