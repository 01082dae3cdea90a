//! Aligner: the mask, the light behind it, and the latent image in the resist on its stack.

use barewafer_process::lithography::ExposureResults;

use super::latent::bands;
use super::material_word;
use super::sketch::{HEIGHT, Leader, Sketch, leader, length_words, strong};
use crate::numbers::{short, three};
use crate::scene::Scene;

/// Lower edge of the glass plate, and of the chrome below it.
const GLASS: [f64; 2] = [14.0, 30.0];
const CHROME: f64 = 38.0;
/// Height of the image's zero, and px of an open frame's intensity.
const DARK: f64 = 144.0;
const BRIGHT: f64 = 54.0;
/// Top of the resist, most room for it, and least.
const RESIST_TOP: f64 = 156.0;
const RESIST_ROOM: f64 = 112.0;
const RESIST_LEAST: f64 = 44.0;
/// Room for the films below, and the silicon's lower edge.
const FILMS_ROOM: f64 = 34.0;
const BOTTOM: f64 = 326.0;
/// Compound left at the edges of the tints, and how much each tint covers.
const LEVELS: [f64; 6] = [0.92, 0.75, 0.55, 0.35, 0.2, 0.08];
const TINT: &str = "#8f4e00";
const OPACITY: f64 = 0.17;

/// From um on the wafer to px.
struct Scale {
    left: f64,
    right: f64,
    middle_um: f64,
    px_per_um: f64,
    /// Px per um of depth.
    deep: f64,
}

impl Scale {
    fn x(&self, um: f64) -> f64 {
        0.5 * (self.left + self.right) + (um - self.middle_um) * self.px_per_um
    }

    fn inside(&self, um: f64) -> f64 {
        self.x(um).clamp(self.left, self.right)
    }
}

pub(super) fn picture(results: &ExposureResults, mut sketch: Sketch) -> Scene {
    let [left, right] = sketch.frame.pick([24.0, 440.0], [6.0, 278.0]);
    let [first, last] = results.mask.section_um;
    let section_um = last - first;
    let resist_um = 1e-3 * results.thickness_nm;
    let px_per_um = ((right - left) / section_um).min(RESIST_ROOM / resist_um);
    // A mask that repeats fills the picture; a single feature keeps its field.
    let half = if results.mask.repeats {
        0.5 * (right - left)
    } else {
        0.5 * section_um * px_per_um
    };
    let middle = 0.5 * (left + right);
    let scale = Scale {
        left: middle - half,
        right: middle + half,
        // The wafer stands still; an overlay error moves the mask.
        middle_um: 0.5 * (first + last) - results.overlay.x_um,
        px_per_um,
        deep: px_per_um.max(RESIST_LEAST / resist_um),
    };
    let copies = copies(results, &scale);
    mask(&mut sketch, results, &scale, &copies);
    image(&mut sketch, results, &scale, &copies);
    let foot = RESIST_TOP + resist_um * scale.deep;
    let mut labels = wafer(&mut sketch, results, &scale, foot);
    for shift_um in &copies {
        for (level, outline) in bands(&results.latent, &LEVELS) {
            let points: Vec<[f64; 2]> = outline
                .iter()
                .map(|[x, z]| {
                    [scale.inside(x + shift_um), RESIST_TOP + 1e-3 * z * scale.deep]
                })
                .collect();
            debug_assert!(level < 1.0, "a tint is what is used up");
            sketch.shade(points, TINT, OPACITY);
        }
    }
    let drawn: Vec<Vec<[f64; 2]>> = edges(results, &scale, &copies)
        .into_iter()
        .map(|x| vec![[x, RESIST_TOP], [x, foot]])
        .collect();
    sketch.strokes(drawn, "section_dashed");
    wanted(&mut sketch, results, &scale, &copies);
    scale_words(&mut sketch, &scale);
    labels.push(leader([scale.right, 0.5 * (GLASS[1] + CHROME)], mask_words(results)));
    let at_right = results.image.intensity.last().copied().unwrap_or(0.0);
    labels.push(strong(
        [scale.right, DARK - BRIGHT * at_right.min(1.3)],
        format!("image: contrast {}", three(results.contrast)),
    ));
    let x = sketch.frame.pick(458.0, 298.0);
    sketch.leaders(labels, x, 20.0, HEIGHT - 12.0);
    sketch.finish(description(results))
}

/// Shifts in um of the copies of the section that are in sight.
fn copies(results: &ExposureResults, scale: &Scale) -> Vec<f64> {
    let [first, last] = results.mask.section_um;
    let period_um = last - first;
    let mut shifts = vec![0.0];
    if results.mask.repeats {
        let reach_um = 0.5 * (scale.right - scale.left) / scale.px_per_um
            + results.overlay.x_um.abs();
        let mut shift = period_um;
        while shift - 0.5 * period_um < reach_um - 1e-9 && shifts.len() < 60 {
            shifts.extend([-shift, shift]);
            shift += period_um;
        }
    }
    shifts.sort_by(f64::total_cmp);
    shifts
}

/// The drawn edges in px that are in sight.
fn edges(results: &ExposureResults, scale: &Scale, copies: &[f64]) -> Vec<f64> {
    let [first, last] = results.mask.section_um;
    let drawn = results.mask.clear_um.iter().flatten().copied();
    let inner: Vec<f64> =
        drawn.filter(|&x| first + 1e-9 < x && x < last - 1e-9).collect();
    copies
        .iter()
        .flat_map(|shift| inner.iter().map(move |x| scale.x(x + shift)))
        .filter(|x| scale.left < *x && *x < scale.right)
        .collect()
}

/// Where the drawn edges should lie, if the mask is off.
fn wanted(sketch: &mut Sketch, results: &ExposureResults, scale: &Scale, copies: &[f64]) {
    let shift = results.overlay.x_um;
    if shift.abs() < 5e-4 {
        return;
    }
    let moved: Vec<f64> = copies.iter().map(|copy| copy - shift).collect();
    let marks: Vec<Vec<[f64; 2]>> = edges(results, scale, &moved)
        .into_iter()
        .map(|x| vec![[x, RESIST_TOP - 9.0], [x, RESIST_TOP - 1.0]])
        .collect();
    sketch.strokes(marks, "outline");
}

/// The plate, its chrome, and light through what is clear.
fn mask(sketch: &mut Sketch, results: &ExposureResults, scale: &Scale, copies: &[f64]) {
    sketch.block([scale.left, scale.right], GLASS, "glass");
    let [first, last] = results.mask.section_um;
    let clear: Vec<[f64; 2]> = copies
        .iter()
        .flat_map(|shift| results.mask.clear_um.iter().map(move |ends| (shift, ends)))
        .map(|(shift, [a, b])| [scale.inside(a + shift), scale.inside(b + shift)])
        .filter(|[a, b]| a < b)
        .collect();
    if !results.mask.repeats {
        // Beyond the section the mask goes on as it ends.
        let [first, last] = results.mask.section_um.map(|um| scale.x(um));
        let ends = [[scale.left, first], [last, scale.right]];
        let open = |x: f64| clear.iter().any(|[a, b]| *a <= x + 0.5 && x - 0.5 <= *b);
        for ([a, b], edge) in ends.into_iter().zip([first, last]) {
            if a < b && !open(edge) {
                sketch.block([a, b], [GLASS[1], CHROME], "metal");
            }
        }
    }
    let outer = copies.first().zip(copies.last());
    let Some((left, right)) = outer.map(|(a, b)| (first + a, last + b)) else { return };
    let (mut from, right) = (scale.inside(left), scale.inside(right));
    let mut rays = Vec::new();
    for [a, b] in clear.iter().copied().chain([[right, right]]) {
        sketch.block([from, a], [GLASS[1], CHROME], "metal");
        from = b;
        if 8.0 < b - a {
            let count = ((b - a) / 22.0).floor().clamp(1.0, 30.0);
            let mut k = 0.5;
            while k < count {
                rays.push(a + (b - a) * k / count);
                k += 1.0;
            }
        }
    }
    for x in rays {
        sketch.arrow([x, CHROME + 4.0], [x, CHROME + 24.0], "beam");
    }
    if results.defocus_um.is_some() {
        let middle = 0.5 * (scale.left + scale.right);
        let wide = 0.3 * (scale.right - scale.left);
        sketch.ellipse([middle, CHROME + 31.0], [wide, 5.0], "", "hairline");
    }
}

/// The intensity over the resist, with the level that just turns it.
fn image(sketch: &mut Sketch, results: &ExposureResults, scale: &Scale, copies: &[f64]) {
    let y = |intensity: f64| DARK - BRIGHT * intensity.min(1.35);
    sketch.line(&[[scale.left, DARK], [scale.right, DARK]], "hairline");
    sketch.line(&[[scale.left, y(1.0)], [scale.right, y(1.0)]], "grid");
    if let Some(level) = results.threshold_intensity.filter(|level| *level < 1.35) {
        sketch.line(&[[scale.left, y(level)], [scale.right, y(level)]], "dashed");
    }
    let mut points: Vec<[f64; 2]> = Vec::new();
    for shift in copies {
        for (x, intensity) in results.image.x_um.iter().zip(&results.image.intensity) {
            let x = scale.x(x + shift);
            // Two columns a px are enough.
            let apart = points.last().is_none_or(|last: &[f64; 2]| 0.5 < x - last[0]);
            if scale.left <= x && x <= scale.right && apart {
                points.push([x, y(*intensity)]);
            }
        }
    }
    sketch.line(&points, "amber");
}

/// Resist, films and silicon; gives back their labels.
fn wafer(
    sketch: &mut Sketch,
    results: &ExposureResults,
    scale: &Scale,
    foot: f64,
) -> Vec<Leader> {
    let across = [scale.left, scale.right];
    sketch.block(across, [RESIST_TOP, foot], "resist");
    let mut labels = vec![leader(
        [scale.right, 0.5 * (RESIST_TOP + foot)],
        format!(
            "resist {}; darker: compound used up by light",
            length_words(results.thickness_nm)
        ),
    )];
    let total_um: f64 = results.stack.iter().map(|film| 1e-3 * film.thickness_nm).sum();
    let room = (BOTTOM - 14.0 - foot).min(FILMS_ROOM.max(0.4 * (BOTTOM - foot)));
    let px = scale.deep.min(room / total_um.max(1e-9));
    let mut top = foot;
    for film in &results.stack {
        if film.thickness_nm <= 0.0 {
            continue;
        }
        let low = top + (1e-3 * film.thickness_nm * px).max(2.5);
        sketch.block(across, [top, low], material_word(film.material));
        labels.push(leader(
            [scale.right, 0.5 * (top + low)],
            format!("{} {}", film.material.label(), length_words(film.thickness_nm)),
        ));
        top = low;
    }
    sketch.block(across, [top, BOTTOM], "silicon");
    labels.push(leader([scale.right, 0.5 * (top + BOTTOM)], "silicon"));
    labels
}

fn scale_words(sketch: &mut Sketch, scale: &Scale) {
    let equal = (scale.deep / scale.px_per_um - 1.0).abs() < 0.01;
    if equal {
        sketch.scale_bar(scale.left, 1e-3 * scale.px_per_um, 110.0);
    } else {
        let words = format!(
            "wide {} µm; depth drawn {} times larger",
            short((scale.right - scale.left) / scale.px_per_um),
            short(scale.deep / scale.px_per_um)
        );
        sketch.remark(scale.left, &words);
    }
}

fn mask_words(results: &ExposureResults) -> String {
    let shift = results.overlay.x_um;
    let moved = if shift.abs() < 5e-4 {
        String::new()
    } else {
        let side = if 0.0 < shift { "right" } else { "left" };
        format!(", {} too far {side} of the ticks", length_words(1e3 * shift.abs()))
    };
    match (results.gap_um, results.defocus_um) {
        (Some(gap), _) if gap <= 0.0 => format!("mask on the resist{moved}"),
        (Some(gap), _) => format!("mask, gap {} µm (not to scale){moved}", short(gap)),
        (None, Some(defocus)) if defocus != 0.0 => {
            format!("mask and lens, defocus {} µm{moved}", short(defocus))
        }
        _ => format!("mask and lens, in focus{moved}"),
    }
}

fn description(results: &ExposureResults) -> String {
    let clear = results.dose_to_clear_mj_cm2.map_or_else(String::new, |clear| {
        format!(" An open frame needs {} mJ/cm² to clear.", three(clear))
    });
    format!(
        "Section under the {}: {} mJ/cm² at {} nm on {} of resist. The image has a contrast of {} and a normalized log slope of {} at the drawn edge.{clear}",
        mask_words(results),
        short(results.dose_mj_cm2),
        short(results.wavelength_nm),
        length_words(results.thickness_nm),
        three(results.contrast),
        three(results.nils),
    )
}
