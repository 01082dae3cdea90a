//! One ion on its way: straight, a little slower, deflected, and again, until it rests.

use super::generator::Generator;
use super::table::ScatteringTable;
use super::tally::Tally;
use super::target::Slab;
use super::tracks::Track;

/// Energy in eV below which an ion counts as at rest: it cannot leave its place among the atoms
/// (displacing one takes some 15 eV; model choice).
pub(super) const REST_EV: f64 = 5.0;

/// Where all ions come from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Source {
    pub(super) seed: u32,
    pub(super) energy_ev: f64,
    /// Direction of the beam; the third part points into the wafer.
    pub(super) direction: [f64; 3],
}

/// How a flight ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum End {
    /// At rest in a slab.
    AtRest {
        slab: usize,
        /// Place in nm; the third part is the depth below the top of the stack.
        position_nm: [f64; 3],
    },
    /// Out through the surface.
    Backscattered,
}

/// Lets one ion fly.
///
/// # Model
/// J. P. Biersack, L. G. Haggmark, Nucl. Instrum. Methods 174, 257 (1980) (memory): ways of one
/// atomic distance, the first a random part of it; at the end of each a collision with an impact
/// parameter drawn uniformly from the area that belongs to one atom. The electrons brake along
/// the way as the speed, `dE/dx = k sqrt(E)`, which is integrated exactly. A way is shortened by
/// what the deflection of the collision before takes off it, `p tan(theta/2)`. At the boundary of
/// two layers the rest of a way goes on, in proportion, in the next.
///
/// Recoiling atoms are not followed: they take energy, and move no dopant.
pub(super) fn fly(
    source: &Source,
    ion: u32,
    table: &ScatteringTable,
    slabs: &[Slab],
    tally: &mut Tally,
    mut track: Option<&mut Track>,
) -> End {
    let mut random = Generator::of_ion(source.seed, ion);
    let mut energy_ev = source.energy_ev;
    let mut direction = source.direction;
    let mut position_nm = [0.0_f64; 3];
    let mut slab_idx = 0;
    let mut slab = &slabs[0];
    let mut way_nm = random.unit() * slab.stopping.free_path_nm;
    loop {
        // Twice the square root of the energy falls by k along each nm.
        let mut root = energy_ev.sqrt();
        let mut depth_nm = position_nm[2] + way_nm * direction[2];
        while depth_nm < slab.top_nm || slab.bottom_nm <= depth_nm {
            let up = depth_nm < slab.top_nm;
            let face_nm = if up { slab.top_nm } else { slab.bottom_nm };
            let part_nm = ((face_nm - position_nm[2]) / direction[2]).clamp(0.0, way_nm);
            advance(&mut position_nm, direction, part_nm);
            position_nm[2] = face_nm;
            root -= 0.5 * slab.stopping.electronic_ev_nm * part_nm;
            let left = (way_nm - part_nm) / slab.stopping.free_path_nm;
            if up && slab_idx == 0 {
                if let Some(track) = &mut track {
                    track.end(position_nm);
                }
                return End::Backscattered;
            }
            slab_idx = if up { slab_idx - 1 } else { slab_idx + 1 };
            slab = &slabs[slab_idx];
            way_nm = left * slab.stopping.free_path_nm;
            depth_nm = position_nm[2] + way_nm * direction[2];
        }
        let stopping = &slab.stopping;
        advance(&mut position_nm, direction, way_nm);
        position_nm[2] = depth_nm;
        root = (root - 0.5 * stopping.electronic_ev_nm * way_nm).max(0.0);
        energy_ev = root * root;
        if let Some(track) = &mut track {
            track.pass(position_nm);
        }
        if energy_ev <= REST_EV {
            break;
        }

        let partner = match stopping.partners.as_slice() {
            [only] => only,
            several => {
                let drawn = random.unit();
                several
                    .iter()
                    .find(|partner| drawn < partner.up_to)
                    .unwrap_or(&several[several.len() - 1])
            }
        };
        let impact_nm = random.unit().sqrt() * stopping.widest_impact_nm;
        let square = table.half_angle_tangent_squared(
            energy_ev * partner.reduced_energy_per_ev,
            impact_nm * partner.per_screening_length,
        );
        let tangent = square.sqrt();
        let cosine_squared = 1.0 / (1.0 + square);
        let sine_squared = square * cosine_squared;
        let handed_ev = partner.handed_over * energy_ev * sine_squared;
        energy_ev -= handed_ev;
        tally.hand_over(slab_idx, position_nm[2], handed_ev);
        way_nm = (stopping.free_path_nm - impact_nm * tangent).max(0.0);
        if energy_ev <= REST_EV {
            break;
        }

        // From the center of mass to the laboratory.
        let along = 1.0 - 2.0 * sine_squared + partner.mass_ratio;
        let across = 2.0 * tangent * cosine_squared;
        let inverse = 1.0 / (along * along + across * across).sqrt();
        direction = deflect(direction, along * inverse, across * inverse, random.turn());
    }
    if let Some(track) = track {
        track.end(position_nm);
    }
    End::AtRest { slab: slab_idx, position_nm }
}

#[inline]
fn advance(position_nm: &mut [f64; 3], direction: [f64; 3], way_nm: f64) {
    for (place, step) in position_nm.iter_mut().zip(direction) {
        *place += way_nm * step;
    }
}

/// A direction turned by an angle, given by cosine and sine, about itself by another.
///
/// The two directions across the first are built without a square root (T. Duff et al., J.
/// Comput. Graph. Techn. 6, 1, 2017; memory). The length is kept at one by a step of Newton's
/// method.
#[inline]
fn deflect(from: [f64; 3], cosine: f64, sine: f64, turn: [f64; 2]) -> [f64; 3] {
    let [x, y, z] = from;
    let sign = if z < 0.0 { -1.0 } else { 1.0 };
    let a = -1.0 / (sign + z);
    let b = x * y * a;
    let first = [1.0 + sign * x * x * a, sign * b, -sign * x];
    let second = [b, sign + y * y * a, -y];
    let (c, s) = (sine * turn[0], sine * turn[1]);
    let to = [
        cosine * x + c * first[0] + s * second[0],
        cosine * y + c * first[1] + s * second[1],
        cosine * z + c * first[2] + s * second[2],
    ];
    let scale = 1.5 - 0.5 * (to[0] * to[0] + to[1] * to[1] + to[2] * to[2]);
    [to[0] * scale, to[1] * scale, to[2] * scale]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_deflection_keeps_the_length_and_makes_the_angle() {
        let mut direction = [0.0, 0.0, 1.0];
        let mut random = Generator::of_ion(3, 4);
        for _ in 0..10_000 {
            let cosine = 2.0 * random.unit() - 1.0;
            let sine = (1.0 - cosine * cosine).sqrt();
            let next = deflect(direction, cosine, sine, random.turn());
            let length: f64 = next.iter().map(|part| part * part).sum();
            assert!((length - 1.0).abs() < 1e-12);
            let dot: f64 = next.iter().zip(direction).map(|(a, b)| a * b).sum();
            assert!((dot - cosine).abs() < 1e-9, "{dot} for {cosine}");
            direction = next;
        }
    }
}
