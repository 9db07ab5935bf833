//! The shape of an outline: how round it is, how many blades made it, and which of them sits off.
//!
//! Harmonics are those of the outline over its mean. Not here: finding the outline ([`super::opening`]).

use super::opening::RAYS;

/// Fewest and most blades that are looked for.
pub(super) const BLADES: (usize, usize) = (5, 16);
/// Share of a blade's sector about its middle that its distance is taken from.
const SECTOR: f64 = 0.56;
/// Rounds of weighing the blades anew.
const ROUNDS: usize = 40;

/// Cosine and sine parts of the n-th harmonic of `r/mean(r)`.
fn harmonic(outline: &[f64], n: usize) -> (f64, f64) {
    let count = outline.len().max(1) as f64;
    let mean = outline.iter().sum::<f64>() / count;
    let (mut cosine, mut sine) = (0.0, 0.0);
    for (ray, r) in outline.iter().enumerate() {
        let angle = ((ray * n) % outline.len()) as f64 * core::f64::consts::TAU / count;
        cosine += r * libm::cos(angle);
        sine += r * libm::sin(angle);
    }
    let scale = 2.0 / count / mean.max(1e-9);
    (cosine * scale, sine * scale)
}

fn size((cosine, sine): (f64, f64)) -> f64 {
    (cosine * cosine + sine * sine).sqrt()
}

/// Root mean square of harmonics 2 to 4, as a share of the mean radius; a sound iris has 0.002, one blade off by 5 % 0.018.
pub(super) fn roundness(outline: &[f64]) -> f64 {
    let squares: f64 = (2..=4).map(|n| size(harmonic(outline, n))).map(|h| h * h).sum();
    (squares / 2.0).sqrt()
}

/// The number of blades that an outline speaks for, and how clearly: the logarithm of its lead over the next.
pub(super) fn vote(outline: &[f64]) -> Option<(usize, f64)> {
    let mut scores: Vec<(f64, usize)> =
        (BLADES.0..=BLADES.1).map(|n| (size(harmonic(outline, n)) + 0.7 * size(harmonic(outline, 2 * n)), n)).collect();
    scores.sort_by(|a, b| b.0.total_cmp(&a.0));
    let [(best, n), (second, _), ..] = scores.as_slice() else { return None };
    let lead = best / second.max(1e-9);
    (lead > 1.35).then(|| (*n, libm::log(lead)))
}

/// How far each blade lies off: angle of its middle \[rad\] and deviation of its distance from the median, as a share of that.
pub(super) fn blades(outline: &[f64], count: usize) -> Vec<(f64, f64)> {
    let (cosine, sine) = harmonic(outline, count);
    // The outline is nearest where a blade's flat is, half a turn of the harmonic from its crest.
    let first = (libm::atan2(sine, cosine) + core::f64::consts::PI) / count as f64;
    let sector = core::f64::consts::TAU / count as f64;
    let flats: Vec<(f64, f64)> = (0..count)
        .map(|blade| {
            let angle = first + blade as f64 * sector;
            (angle, flat(outline, angle, SECTOR * sector / 2.0))
        })
        .collect();
    about_the_best_centre(&flats)
}

/// Median of `r·cos` about a blade's middle.
fn flat(outline: &[f64], angle: f64, reach: f64) -> f64 {
    let step = core::f64::consts::TAU / RAYS as f64;
    let (from, to) = (((angle - reach) / step).ceil() as i64, ((angle + reach) / step).floor() as i64);
    let mut distances: Vec<f64> = (from..=to)
        .filter_map(|ray| {
            let r = outline.get(ray.rem_euclid(RAYS as i64) as usize)?;
            Some(r * libm::cos(ray as f64 * step - angle))
        })
        .collect();
    median(&mut distances)
}

pub(super) fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    match values.len() {
        0 => 0.0,
        count if count % 2 == 1 => values.get(count / 2).copied().unwrap_or(0.0),
        count => {
            (values.get(count / 2 - 1).copied().unwrap_or(0.0) + values.get(count / 2).copied().unwrap_or(0.0)) / 2.0
        }
    }
}

/// Distances about the centre and the common distance for which the sum of absolute deviations is least, so that one blade that
/// is off does not pull the centre. A centre moved by (a, b) takes `a·cos + b·sin` from each.
fn about_the_best_centre(flats: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut fitted = (0.0, 0.0, flats.iter().map(|(_, k)| k).sum::<f64>() / flats.len().max(1) as f64);
    let off = |(a, b, m): (f64, f64, f64), (angle, k): (f64, f64)| k - m - a * libm::cos(angle) - b * libm::sin(angle);
    for _ in 0..ROUNDS {
        let mut rows = [[0.0; 4]; 3];
        for flat in flats {
            let weight = 1.0 / off(fitted, *flat).abs().max(1e-4);
            let basis = [libm::cos(flat.0), libm::sin(flat.0), 1.0];
            for (row, own) in rows.iter_mut().zip(basis) {
                for (sum, other) in row.iter_mut().zip(basis) {
                    *sum += weight * own * other;
                }
                row[3] += weight * own * flat.1;
            }
        }
        let Some(solved) = solve(rows) else { break };
        fitted = solved;
    }
    let (a, b, _) = fitted;
    let distances: Vec<(f64, f64)> =
        flats.iter().map(|(angle, k)| (*angle, k - a * libm::cos(*angle) - b * libm::sin(*angle))).collect();
    let middle = median(&mut distances.iter().map(|(_, k)| *k).collect::<Vec<_>>()).max(1e-9);
    distances.into_iter().map(|(angle, k)| (angle, k / middle - 1.0)).collect()
}

fn solve(mut rows: [[f64; 4]; 3]) -> Option<(f64, f64, f64)> {
    for column in 0..3 {
        let lead = rows[column];
        if lead[column].abs() < 1e-12 {
            return None;
        }
        for (at, row) in rows.iter_mut().enumerate() {
            if at != column {
                let share = row[column] / lead[column];
                for (own, lead) in row.iter_mut().zip(lead) {
                    *own -= share * lead;
                }
            }
        }
    }
    Some((rows[0][3] / rows[0][0], rows[1][3] / rows[1][1], rows[2][3] / rows[2][2]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Outline of a polygon, some of whose flats lie off.
    fn polygon(count: usize, turn: f64, off: &[(usize, f64)]) -> Vec<f64> {
        let sector = core::f64::consts::TAU / count as f64;
        (0..RAYS)
            .map(|ray| {
                let angle = ray as f64 * core::f64::consts::TAU / RAYS as f64;
                let reach = |blade: usize| {
                    let away = libm::cos(angle - turn - blade as f64 * sector);
                    let moved = off.iter().find(|(own, _)| *own == blade).map_or(0.0, |(_, by)| *by);
                    if away > 0.05 { 100.0 * (1.0 + moved) / away } else { f64::INFINITY }
                };
                (0..count).map(reach).fold(f64::INFINITY, f64::min)
            })
            .collect()
    }

    #[test]
    fn a_circle_has_no_blades() {
        let circle = vec![80.0; RAYS];
        assert!(roundness(&circle) < 1e-12);
    }

    proptest! {
        #[test]
        fn blades_are_counted_and_the_odd_one_is_found(
            count in 5_usize..=11, turn in 0.0..1.2_f64, which in 0_usize..5, by in prop_oneof![0.05..0.15_f64, -0.15..-0.05_f64],
        ) {
            let sound = polygon(count, turn, &[]);
            prop_assert_eq!(vote(&sound).map(|(n, _)| n), Some(count));
            prop_assert!(roundness(&sound) < 0.002);
            prop_assert!(blades(&sound, count).iter().all(|(_, off)| off.abs() < 0.01));
            // A blade that hangs back shows no more than its neighbours leave free.
            let odd = polygon(count, turn, &[(which, by)]);
            let found = blades(&odd, count);
            let (angle, off) = found.iter().copied().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).unwrap();
            let sector = core::f64::consts::TAU / count as f64;
            let away = libm::cos(angle - turn - which as f64 * sector);
            if by < 0.0 {
                prop_assert!((off - by).abs() < 0.04 && away > 0.9, "{off} for {by}, {away}");
            }
        }
    }
}
