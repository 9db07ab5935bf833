//! The shape of an outline: how round it is, how many blades made it, and which of them sits off.
//!
//! Harmonics are those of the outline over its mean. Not here: finding the outline ([`super::opening`]).

use std::sync::LazyLock;

use super::opening::RAYS;

/// Fewest and most blades that are looked for.
pub(super) const BLADES: (usize, usize) = (5, 16);
/// Share of a blade's sector about its middle that its distance is taken from.
const SECTOR: f64 = 0.56;
/// Most rounds of weighing the blades anew; they end when nothing moves by more than this share of the distance.
const ROUNDS: usize = 40;
const STILL: f64 = 1e-9;

/// Cosine and sine of every ray's angle: harmonics go through them again and again.
fn circle() -> &'static [(f64, f64); RAYS] {
    static CIRCLE: LazyLock<[(f64, f64); RAYS]> = LazyLock::new(|| {
        core::array::from_fn(|ray| {
            let angle = ray as f64 * core::f64::consts::TAU / RAYS as f64;
            (libm::cos(angle), libm::sin(angle))
        })
    });
    &CIRCLE
}

/// Rays of a quarter turn, both ends included.
const QUARTER: usize = RAYS / 4 + 1;
/// Highest harmonic that is asked for.
const HIGHEST: usize = 2 * BLADES.1;

/// Cosines and sines of a harmonic's angles over a quarter turn.
struct Wave {
    cosines: [f64; QUARTER],
    sines: [f64; QUARTER],
}

/// The waves of all harmonics from 0 on.
fn waves() -> &'static [Wave] {
    static WAVES: LazyLock<Vec<Wave>> = LazyLock::new(|| {
        let at = |n: usize, ray: usize| circle()[(n * ray) % RAYS];
        let wave = |n: usize| Wave {
            cosines: core::array::from_fn(|ray| at(n, ray).0),
            sines: core::array::from_fn(|ray| at(n, ray).1),
        };
        (0..=HIGHEST).map(wave).collect()
    });
    &WAVES
}

/// The harmonics of one outline, which has [`RAYS`] rays.
///
/// A ray and its images in both axes have the same cosine and sine but for their signs, and those depend on whether the harmonic is
/// even or odd: four rays are put together before any product.
#[derive(Clone, Debug)]
pub(super) struct Harmonics {
    mean: f64,
    /// For the cosines and for the sines, each of even harmonics and of odd ones.
    of_cosines: [[f64; QUARTER]; 2],
    of_sines: [[f64; QUARTER]; 2],
}

impl Harmonics {
    pub fn of(outline: &[f64]) -> Self {
        let mean = outline.iter().sum::<f64>() / outline.len().max(1) as f64;
        let rays: [f64; RAYS] = core::array::from_fn(|ray| outline.get(ray).copied().unwrap_or(0.0));
        let mut folded = Self { mean, of_cosines: [[0.0; QUARTER]; 2], of_sines: [[0.0; QUARTER]; 2] };
        for ray in 0..QUARTER {
            // On an axis a ray is its own image.
            let share = if ray == 0 || ray == QUARTER - 1 { 0.5 } else { 1.0 };
            let images = [ray, RAYS / 2 - ray, RAYS / 2 + ray, (RAYS - ray) % RAYS];
            let [own, over, opposite, under] = images.map(|image| share * rays[image]);
            let (right, left) = ([own + under, own - under], [over + opposite, over - opposite]);
            folded.of_cosines[0][ray] = right[0] + left[0];
            folded.of_cosines[1][ray] = right[0] - left[0];
            folded.of_sines[0][ray] = right[1] - left[1];
            folded.of_sines[1][ray] = right[1] + left[1];
        }
        folded
    }

    /// Cosine and sine parts of the n-th harmonic of `r/mean(r)`.
    fn part(&self, n: usize) -> (f64, f64) {
        let (wave, odd) = (&waves()[n], n % 2);
        let scale = 2.0 / RAYS as f64 / self.mean.max(1e-9);
        (scale * product(&self.of_cosines[odd], &wave.cosines), scale * product(&self.of_sines[odd], &wave.sines))
    }

    fn size(&self, n: usize) -> f64 {
        let (cosine, sine) = self.part(n);
        (cosine * cosine + sine * sine).sqrt()
    }

    /// Root mean square of harmonics 2 to 4, as a share of the mean radius; a sound iris has 0.002, one blade off by 5 % 0.018.
    pub fn roundness(&self) -> f64 {
        let squares: f64 = (2..=4).map(|n| self.size(n)).map(|h| h * h).sum();
        (squares / 2.0).sqrt()
    }

    /// The number of blades that an outline speaks for, and how clearly: the logarithm of its lead over the next.
    pub fn vote(&self) -> Option<(usize, f64)> {
        let mut scores: [(f64, usize); BLADES.1 - BLADES.0 + 1] = core::array::from_fn(|at| {
            let n = BLADES.0 + at;
            (self.size(n) + 0.7 * self.size(2 * n), n)
        });
        scores.sort_by(|a, b| b.0.total_cmp(&a.0));
        let [(best, n), (second, _), ..] = scores;
        let lead = best / second.max(1e-9);
        (lead > 1.35).then(|| (n, libm::log(lead)))
    }
}

/// Sum of products, four at a time: one after another, each would wait for the one before.
fn product(a: &[f64; QUARTER], b: &[f64; QUARTER]) -> f64 {
    let (a, a_rest) = a.as_chunks::<4>();
    let (b, b_rest) = b.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (a, b) in a.iter().zip(b) {
        for ((sum, a), b) in sums.iter_mut().zip(a).zip(b) {
            *sum += a * b;
        }
    }
    let rest: f64 = a_rest.iter().zip(b_rest).map(|(a, b)| a * b).sum();
    sums.iter().sum::<f64>() + rest
}

/// How far each blade lies off: angle of its middle \[rad\] and deviation of its distance from the median, as a share of that.
pub(super) fn blades(outline: &[f64], harmonics: &Harmonics, count: usize) -> Vec<(f64, f64)> {
    let (cosine, sine) = harmonics.part(count);
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
    let (circle, cos, sin) = (circle(), libm::cos(angle), libm::sin(angle));
    let mut distances: Vec<f64> = (from..=to)
        .map(|ray| {
            let at = ray.rem_euclid(RAYS as i64) as usize;
            // The cosine of a difference.
            outline.get(at).copied().unwrap_or(0.0) * (circle[at].0 * cos + circle[at].1 * sin)
        })
        .collect();
    median(&mut distances)
}

pub(super) fn median(values: &mut [f64]) -> f64 {
    let middle = values.len() / 2;
    if middle >= values.len() {
        return 0.0;
    }
    let odd = values.len() % 2 == 1;
    let (below, upper, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    if odd { *upper } else { (below.iter().copied().fold(f64::NEG_INFINITY, f64::max) + *upper) / 2.0 }
}

/// Distances about the centre and the common distance for which the sum of absolute deviations is least, so that one blade that
/// is off does not pull the centre. A centre moved by (a, b) takes `a·cos + b·sin` from each.
fn about_the_best_centre(flats: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut fitted = (0.0, 0.0, flats.iter().map(|(_, k)| k).sum::<f64>() / flats.len().max(1) as f64);
    let bases: Vec<[f64; 3]> = flats.iter().map(|(angle, _)| [libm::cos(*angle), libm::sin(*angle), 1.0]).collect();
    for _ in 0..ROUNDS {
        let (a, b, m) = fitted;
        let mut rows = [[0.0; 4]; 3];
        for (basis, (_, k)) in bases.iter().zip(flats) {
            let weight = 1.0 / (k - m - a * basis[0] - b * basis[1]).abs().max(1e-4);
            for (row, own) in rows.iter_mut().zip(basis) {
                for (sum, other) in row.iter_mut().zip(basis) {
                    *sum += weight * own * other;
                }
                row[3] += weight * own * k;
            }
        }
        let Some(solved) = solve(rows) else { break };
        let moved = (solved.0 - a).abs().max((solved.1 - b).abs()).max((solved.2 - m).abs());
        fitted = solved;
        if moved <= STILL * solved.2.abs() {
            break;
        }
    }
    let (a, b, _) = fitted;
    let distances = flats.iter().zip(&bases).map(|((angle, k), [cos, sin, _])| (*angle, k - a * cos - b * sin));
    let distances: Vec<(f64, f64)> = distances.collect();
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
    fn a_harmonic_is_what_its_sums_over_all_rays_say() {
        let outline: Vec<f64> = (0..RAYS).map(|ray| 90.0 + ((ray * 7919) % 101) as f64 / 9.0).collect();
        let harmonics = Harmonics::of(&outline);
        let mean = outline.iter().sum::<f64>() / RAYS as f64;
        for n in [2, 3, 5, 16, 31, 32] {
            let sum = |of: fn(f64) -> f64| -> f64 {
                let angle = |ray: usize| (ray * n) as f64 * core::f64::consts::TAU / RAYS as f64;
                outline.iter().enumerate().map(|(ray, r)| r * of(angle(ray))).sum()
            };
            let scale = 2.0 / RAYS as f64 / mean;
            let (cosine, sine) = harmonics.part(n);
            assert!(
                (cosine - scale * sum(libm::cos)).abs() < 1e-12 && (sine - scale * sum(libm::sin)).abs() < 1e-12,
                "{n}"
            );
        }
    }

    #[test]
    fn a_circle_has_no_blades() {
        let circle = vec![80.0; RAYS];
        assert!(Harmonics::of(&circle).roundness() < 1e-12);
    }

    proptest! {
        #[test]
        fn blades_are_counted_and_the_odd_one_is_found(
            count in 5_usize..=11, turn in 0.0..1.2_f64, which in 0_usize..5, by in prop_oneof![0.05..0.15_f64, -0.15..-0.05_f64],
        ) {
            let sound = polygon(count, turn, &[]);
            prop_assert_eq!(Harmonics::of(&sound).vote().map(|(n, _)| n), Some(count));
            prop_assert!(Harmonics::of(&sound).roundness() < 0.002);
            prop_assert!(blades(&sound, &Harmonics::of(&sound), count).iter().all(|(_, off)| off.abs() < 0.01));
            // A blade that hangs back shows no more than its neighbours leave free.
            let odd = polygon(count, turn, &[(which, by)]);
            let found = blades(&odd, &Harmonics::of(&odd), count);
            let (angle, off) = found.iter().copied().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).unwrap();
            let sector = core::f64::consts::TAU / count as f64;
            let away = libm::cos(angle - turn - which as f64 * sector);
            if by < 0.0 {
                prop_assert!((off - by).abs() < 0.04 && away > 0.9, "{off} for {by}, {away}");
            }
        }
    }
}
