//! Outlines of a latent image: where less of the compound is left than a level.

use barewafer_process::lithography::exposure::LatentImage;

/// Outlines in um and nm of the parts with less compound left than each level, one polygon a
/// part; a part within another level's lies on it.
pub(super) fn bands(latent: &LatentImage, levels: &[f64]) -> Vec<(f64, Vec<[f64; 2]>)> {
    let mut outlines = Vec::new();
    for &level in levels {
        outlines.extend(below(latent, level).into_iter().map(|outline| (level, outline)));
    }
    outlines
}

/// A part that is followed down from row to row.
struct Part {
    left: Vec<[f64; 2]>,
    right: Vec<[f64; 2]>,
}

impl Part {
    fn closed(mut self) -> Vec<[f64; 2]> {
        self.right.reverse();
        self.left.extend(self.right);
        self.left
    }
}

/// The parts below a level. A row's runs go on in the next row where both rows have as many and
/// each overlaps its follower; otherwise new parts begin.
fn below(latent: &LatentImage, level: f64) -> Vec<Vec<[f64; 2]>> {
    let z = &latent.z_nm;
    // Rows lie in the middle of their heights.
    let half_nm = match z.as_slice() {
        [first, second, ..] => 0.5 * (second - first),
        _ => z.first().copied().unwrap_or(0.0),
    };
    let mut done = Vec::new();
    let mut open: Vec<Part> = Vec::new();
    let mut before: Vec<[f64; 2]> = Vec::new();
    for (row, &depth) in latent.pac.iter().zip(z) {
        let runs = runs(&latent.x_um, row, level);
        let goes_on = runs.len() == before.len()
            && runs.iter().zip(&before).all(|(a, b)| a[0] < b[1] && b[0] < a[1]);
        if !goes_on {
            done.extend(open.drain(..).map(Part::closed));
            let top = if depth <= 1.01 * half_nm { 0.0 } else { depth - half_nm };
            open = runs
                .iter()
                .map(|[a, b]| Part { left: vec![[*a, top]], right: vec![[*b, top]] })
                .collect();
        }
        for (part, [a, b]) in open.iter_mut().zip(&runs) {
            part.left.push([*a, depth + half_nm]);
            part.right.push([*b, depth + half_nm]);
        }
        before = runs;
    }
    done.extend(open.into_iter().map(Part::closed));
    done
}

/// Intervals of a row below a level, their ends on straight lines between the columns; those that
/// reach an end of the row go on by half a column, to the end of the section.
fn runs(x: &[f64], row: &[f64], level: f64) -> Vec<[f64; 2]> {
    let (Some(&first), Some(&last)) = (x.first(), x.last()) else { return Vec::new() };
    let half = if 1 < x.len() { 0.5 * (x[1] - x[0]) } else { 0.0 };
    let mut runs = Vec::new();
    let mut start = row.first().filter(|pac| **pac < level).map(|_| first - half);
    for (x, pac) in x.windows(2).zip(row.windows(2)) {
        let crossing = || x[0] + (x[1] - x[0]) * (level - pac[0]) / (pac[1] - pac[0]);
        match (pac[0] < level, pac[1] < level) {
            (false, true) => start = Some(crossing()),
            (true, false) => {
                runs.extend(start.take().map(|start| [start, crossing()]));
            }
            _ => {}
        }
    }
    runs.extend(start.map(|start| [start, last + half]));
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trench_of_light_is_one_outline_and_a_wave_makes_islands() {
        let x_um = vec![0.0, 1.0, 2.0, 3.0];
        let even = LatentImage {
            x_um: x_um.clone(),
            z_nm: vec![5.0, 15.0, 25.0],
            pac: vec![vec![1.0, 0.0, 0.0, 1.0]; 3],
        };
        let outlines = bands(&even, &[0.5]);
        assert_eq!(outlines.len(), 1);
        let points = &outlines[0].1;
        assert!(points.first().is_some_and(|p| (p[0] - 0.5).abs() < 1e-12));
        assert!(points.contains(&[2.5, 30.0]), "{points:?}");
        let mut wave = even;
        wave.pac[1] = vec![1.0; 4];
        assert_eq!(bands(&wave, &[0.5]).len(), 2);
        assert!(bands(&wave, &[0.0]).is_empty());
    }

    #[test]
    fn a_run_that_touches_the_side_reaches_the_end_of_the_section() {
        let found = runs(&[0.5, 1.5, 2.5], &[0.0, 0.0, 1.0], 0.25);
        assert_eq!(found.len(), 1);
        assert!(found[0][0].abs() < 1e-12 && (found[0][1] - 1.75).abs() < 1e-12);
    }
}
