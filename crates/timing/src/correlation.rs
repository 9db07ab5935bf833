//! Transforms for correlations, where the order of the frequencies is of no consequence: what goes in is in the order of time,
//! what comes out is multiplied frequency by frequency and comes back in the order of time.
//!
//! So nothing is sorted, and lengths are any product of twos and threes. A sequence is taken as four interleaved ones, which
//! go side by side through the same steps: every step is four numbers wide, written out lane by lane, so that every target
//! rounds alike. Not here: spectra to look at (`fourier`).

use core::f64::consts::TAU;

/// One number of each of the four interleaved sequences.
pub(crate) type Four = [f32; 4];

/// Complex numbers as real and imaginary parts: a spectrum in an order of its own, or two correlations.
#[derive(Clone, Debug, Default)]
pub(crate) struct Parts {
    re: Vec<Four>,
    im: Vec<Four>,
}

impl Parts {
    /// The real parts.
    pub(crate) fn re(&self) -> &[f32] {
        self.re.as_flattened()
    }

    /// The imaginary parts.
    pub(crate) fn im(&self) -> &[f32] {
        self.im.as_flattened()
    }
}

/// One step of the way down: blocks of `radix` parts are joined.
#[derive(Clone, Debug)]
struct Step {
    radix: usize,
    /// Vectors in a part.
    part: usize,
    /// `exp(−2πi·jm/(radix·part))` for m from 1 on, place by place: cosine and sine in turn.
    turns: Vec<f32>,
}

/// Tables for one length, a multiple of 16.
#[derive(Clone, Debug)]
pub(crate) struct Correlation {
    length: usize,
    steps: Vec<Step>,
    /// `exp(−2πi·rk/length)` for r = 1, 2, 3 and four vectors at a time, cosine and sine in turn.
    last: Vec<[Four; 6]>,
}

#[inline(always)]
fn each(a: Four, b: Four, f: impl Fn(f32, f32) -> f32) -> Four {
    [f(a[0], b[0]), f(a[1], b[1]), f(a[2], b[2]), f(a[3], b[3])]
}

#[inline(always)]
fn add(a: Four, b: Four) -> Four {
    each(a, b, |a, b| a + b)
}

#[inline(always)]
fn less(a: Four, b: Four) -> Four {
    each(a, b, |a, b| a - b)
}

#[inline(always)]
fn times(a: Four, b: Four) -> Four {
    each(a, b, |a, b| a * b)
}

/// Real and imaginary part, four of each.
type Complex = (Four, Four);

#[inline(always)]
fn turned((re, im): Complex, (cos, sin): Complex) -> Complex {
    (less(times(re, cos), times(im, sin)), add(times(re, sin), times(im, cos)))
}

#[inline(always)]
fn turned_back((re, im): Complex, (cos, sin): Complex) -> Complex {
    (add(times(re, cos), times(im, sin)), less(times(im, cos), times(re, sin)))
}

#[inline(always)]
fn sum(a: Complex, b: Complex) -> Complex {
    (add(a.0, b.0), add(a.1, b.1))
}

#[inline(always)]
fn difference(a: Complex, b: Complex) -> Complex {
    (less(a.0, b.0), less(a.1, b.1))
}

/// `a − i·b`.
#[inline(always)]
fn less_i(a: Complex, b: Complex) -> Complex {
    (add(a.0, b.1), less(a.1, b.0))
}

/// `a + i·b`.
#[inline(always)]
fn add_i(a: Complex, b: Complex) -> Complex {
    (less(a.0, b.1), add(a.1, b.0))
}

/// The four sums of a transform of four.
#[inline(always)]
fn of_four(a: [Complex; 4]) -> [Complex; 4] {
    let (s, d) = (sum(a[0], a[2]), difference(a[0], a[2]));
    let (t, e) = (sum(a[1], a[3]), difference(a[1], a[3]));
    [sum(s, t), less_i(d, e), difference(s, t), add_i(d, e)]
}

#[inline(always)]
fn back_of_four(a: [Complex; 4]) -> [Complex; 4] {
    let [zero, one, two, three] = of_four(a);
    [zero, three, two, one]
}

/// The three sums of a transform of three; `back` gives those of the way back.
#[inline(always)]
fn of_three(a: [Complex; 3], back: bool) -> [Complex; 3] {
    const HALF_ROOT: f32 = 0.866_025_4;
    let (s, d) = (sum(a[1], a[2]), difference(a[1], a[2]));
    let middle = (less(a[0].0, times(s.0, [0.5; 4])), less(a[0].1, times(s.1, [0.5; 4])));
    let side = (times(d.0, [HALF_ROOT; 4]), times(d.1, [HALF_ROOT; 4]));
    let (one, two) = (less_i(middle, side), add_i(middle, side));
    if back { [sum(a[0], s), two, one] } else { [sum(a[0], s), one, two] }
}

#[inline(always)]
fn transposed([a, b, c, d]: [Four; 4]) -> [Four; 4] {
    [[a[0], b[0], c[0], d[0]], [a[1], b[1], c[1], d[1]], [a[2], b[2], c[2], d[2]], [a[3], b[3], c[3], d[3]]]
}

/// `exp(−2πi·k/length)` for all k, cosine and sine. An eighth of the circle is reckoned, the rest is its mirror images.
fn roots(length: usize) -> Vec<[f32; 2]> {
    let eighth = length / 8;
    let angle = |k: usize| -TAU * k as f64 / length as f64;
    let mut quarter: Vec<[f32; 2]> =
        (0..=eighth).map(|k| [libm::cos(angle(k)) as f32, libm::sin(angle(k)) as f32]).collect();
    quarter.extend_from_within(1..eighth);
    quarter[eighth + 1..].reverse();
    quarter[eighth + 1..].iter_mut().for_each(|[cos, sin]| (*cos, *sin) = (-*sin, -*cos));
    let turned: [fn([f32; 2]) -> [f32; 2]; 4] =
        [|[c, s]| [c, s], |[c, s]| [s, -c], |[c, s]| [-c, -s], |[c, s]| [-s, c]];
    turned.into_iter().flat_map(|turned| quarter.iter().map(move |&root| turned(root))).collect()
}

impl Step {
    /// `roots` are those of any length that `radix · part` divides.
    fn new(radix: usize, part: usize, roots: &[[f32; 2]]) -> Self {
        let unit = roots.len() / (radix * part);
        let turns = (0..part).flat_map(|j| (1..radix).flat_map(move |m| roots[j * m * unit]));
        Self { radix, part, turns: turns.collect() }
    }

    /// On the way down: the parts of every block are joined, then each is turned.
    fn down(&self, re: &mut [Four], im: &mut [Four]) {
        let blocks = re.chunks_exact_mut(self.radix * self.part).zip(im.chunks_exact_mut(self.radix * self.part));
        for (re, im) in blocks {
            match self.radix {
                // The last step of all turns nothing.
                4 if self.part == 1 => self.fours(re, im, |a, _| of_four(a)),
                4 => self.fours(re, im, |a, turn| {
                    let [zero, one, two, three] = of_four(a);
                    [zero, turned(one, turn[0]), turned(two, turn[1]), turned(three, turn[2])]
                }),
                3 => self.threes(re, im, |a, turn| {
                    let [zero, one, two] = of_three(a, false);
                    [zero, turned(one, turn[0]), turned(two, turn[1])]
                }),
                _ => self.twos(re, im, |[a, b], turn| [sum(a, b), turned(difference(a, b), turn)]),
            }
        }
    }

    /// On the way up: each is turned back, then joined.
    fn up(&self, re: &mut [Four], im: &mut [Four]) {
        let blocks = re.chunks_exact_mut(self.radix * self.part).zip(im.chunks_exact_mut(self.radix * self.part));
        for (re, im) in blocks {
            match self.radix {
                4 if self.part == 1 => self.fours(re, im, |a, _| back_of_four(a)),
                4 => self.fours(re, im, |[zero, one, two, three], turn| {
                    let (one, two) = (turned_back(one, turn[0]), turned_back(two, turn[1]));
                    back_of_four([zero, one, two, turned_back(three, turn[2])])
                }),
                3 => self.threes(re, im, |[zero, one, two], turn| {
                    of_three([zero, turned_back(one, turn[0]), turned_back(two, turn[1])], true)
                }),
                _ => self.twos(re, im, |[a, b], turn| {
                    let b = turned_back(b, turn);
                    [sum(a, b), difference(a, b)]
                }),
            }
        }
    }

    /// A block of four parts, place by place.
    #[inline(always)]
    fn fours(&self, re: &mut [Four], im: &mut [Four], join: impl Fn([Complex; 4], [Complex; 3]) -> [Complex; 4]) {
        let ((re_a, re_b), (im_a, im_b)) = (re.split_at_mut(2 * self.part), im.split_at_mut(2 * self.part));
        let ((r0, r1), (i0, i1)) = (re_a.split_at_mut(self.part), im_a.split_at_mut(self.part));
        let ((r2, r3), (i2, i3)) = (re_b.split_at_mut(self.part), im_b.split_at_mut(self.part));
        let first = r0.iter_mut().zip(i0).zip(r1.iter_mut().zip(i1));
        let second = r2.iter_mut().zip(i2).zip(r3.iter_mut().zip(i3));
        for (((zero, one), (two, three)), turns) in first.zip(second).zip(self.turns.as_chunks::<6>().0) {
            let turn = |m: usize| ([turns[2 * m]; 4], [turns[2 * m + 1]; 4]);
            let a = [(*zero.0, *zero.1), (*one.0, *one.1), (*two.0, *two.1), (*three.0, *three.1)];
            let [a, b, c, d] = join(a, [turn(0), turn(1), turn(2)]);
            (*zero.0, *zero.1) = a;
            (*one.0, *one.1) = b;
            (*two.0, *two.1) = c;
            (*three.0, *three.1) = d;
        }
    }

    /// A block of three parts, place by place.
    #[inline(always)]
    fn threes(&self, re: &mut [Four], im: &mut [Four], join: impl Fn([Complex; 3], [Complex; 2]) -> [Complex; 3]) {
        let ((r0, re), (i0, im)) = (re.split_at_mut(self.part), im.split_at_mut(self.part));
        let ((r1, r2), (i1, i2)) = (re.split_at_mut(self.part), im.split_at_mut(self.part));
        let parts = r0.iter_mut().zip(i0).zip(r1.iter_mut().zip(i1)).zip(r2.iter_mut().zip(i2));
        for (((zero, one), two), turns) in parts.zip(self.turns.as_chunks::<4>().0) {
            let turn = |m: usize| ([turns[2 * m]; 4], [turns[2 * m + 1]; 4]);
            let a = [(*zero.0, *zero.1), (*one.0, *one.1), (*two.0, *two.1)];
            let [a, b, c] = join(a, [turn(0), turn(1)]);
            (*zero.0, *zero.1) = a;
            (*one.0, *one.1) = b;
            (*two.0, *two.1) = c;
        }
    }

    /// A block of two parts, place by place.
    #[inline(always)]
    fn twos(&self, re: &mut [Four], im: &mut [Four], join: impl Fn([Complex; 2], Complex) -> [Complex; 2]) {
        let ((r0, r1), (i0, i1)) = (re.split_at_mut(self.part), im.split_at_mut(self.part));
        let parts = r0.iter_mut().zip(i0).zip(r1.iter_mut().zip(i1));
        for ((zero, one), turns) in parts.zip(self.turns.as_chunks::<2>().0) {
            let [a, b] = join([(*zero.0, *zero.1), (*one.0, *one.1)], ([turns[0]; 4], [turns[1]; 4]));
            (*zero.0, *zero.1) = a;
            (*one.0, *one.1) = b;
        }
    }
}

impl Correlation {
    /// The shortest length that there are tables for and that is no shorter than `length`: 16 times twos and threes.
    pub(crate) fn fitting(length: usize) -> usize {
        let wanted = length.div_ceil(16).max(1);
        let mut best = wanted.next_power_of_two();
        let mut threes = 3;
        while threes < best {
            best = best.min(threes * wanted.div_ceil(threes).next_power_of_two());
            threes *= 3;
        }
        16 * best
    }

    /// Tables for [`Correlation::fitting`] of `length`.
    pub(crate) fn new(length: usize) -> Self {
        let length = Self::fitting(length);
        let roots = roots(length);
        let vectors = length / 4;
        let mut steps = Vec::new();
        let mut left = vectors;
        while left > 1 {
            let radix = [3, 4, 2].into_iter().find(|radix: &usize| left.is_multiple_of(*radix)).unwrap_or(left);
            left /= radix;
            steps.push(Step::new(radix, left, &roots));
        }
        // Which frequency of its own sequence stands at each place after all steps.
        let frequencies = steps.iter().rev().fold(vec![0], |inner, step| {
            (0..step.radix).flat_map(|digit| inner.iter().map(move |inner| digit + step.radix * inner)).collect()
        });
        let last = frequencies.as_chunks::<4>().0.iter().map(|four| {
            let part = |r: usize, part: usize| four.map(|frequency| roots[r * frequency][part]);
            [part(1, 0), part(1, 1), part(2, 0), part(2, 1), part(3, 0), part(3, 1)]
        });
        let last = last.collect();
        Self { length, steps, last }
    }

    /// Number of points.
    pub(crate) const fn length(&self) -> usize {
        self.length
    }

    /// The spectrum of `re + i·im`, each followed by silence; what is beyond [`Correlation::length`] is left out.
    pub(crate) fn spectrum(&self, re: &[f32], im: &[f32]) -> Parts {
        let fill = |samples: &[f32]| {
            let (fours, rest) = samples[..samples.len().min(self.length)].as_chunks::<4>();
            let mut filled = Vec::with_capacity(self.length / 4);
            filled.extend_from_slice(fours);
            if !rest.is_empty() {
                filled.push(core::array::from_fn(|k| rest.get(k).copied().unwrap_or(0.0)));
            }
            filled.resize(self.length / 4, [0.0; 4]);
            filled
        };
        let (mut re, mut im) = (fill(re), fill(im));
        for step in &self.steps {
            step.down(&mut re, &mut im);
        }
        for ((re, im), last) in re.as_chunks_mut::<4>().0.iter_mut().zip(im.as_chunks_mut::<4>().0).zip(&self.last) {
            // Each vector holds one place of all four sequences, and then four places of one.
            let (a, b) = (transposed(*re), transposed(*im));
            let [zero, one, two, three] = core::array::from_fn(|r| (a[r], b[r]));
            let (one, two) = (turned(one, (last[0], last[1])), turned(two, (last[2], last[3])));
            let joined = of_four([zero, one, two, turned(three, (last[4], last[5]))]);
            (*re, *im) = (joined.map(|one| one.0), joined.map(|one| one.1));
        }
        Parts { re, im }
    }

    /// The correlation of what has the spectrum `y` with what has the spectrum `z`, `Σ y[n + lag]·conj(z[n])`, into `found`; both
    /// spectra are of this length.
    pub(crate) fn correlate(&self, y: &Parts, z: &Parts, found: &mut Parts) {
        let scale = [1.0 / self.length as f32; 4];
        found.re.resize(self.length / 4, [0.0; 4]);
        found.im.resize(self.length / 4, [0.0; 4]);
        let y = y.re.as_chunks::<4>().0.iter().zip(y.im.as_chunks::<4>().0);
        let z = z.re.as_chunks::<4>().0.iter().zip(z.im.as_chunks::<4>().0);
        let out = found.re.as_chunks_mut::<4>().0.iter_mut().zip(found.im.as_chunks_mut::<4>().0);
        for (((y, z), (re, im)), last) in y.zip(z).zip(out).zip(&self.last) {
            let product = core::array::from_fn(|r| {
                let (re, im) = turned_back((y.0[r], y.1[r]), (z.0[r], z.1[r]));
                (times(re, scale), times(im, scale))
            });
            let [zero, one, two, three] = back_of_four(product);
            let (one, two) = (turned_back(one, (last[0], last[1])), turned_back(two, (last[2], last[3])));
            let apart = [zero, one, two, turned_back(three, (last[4], last[5]))];
            (*re, *im) = (transposed(apart.map(|one| one.0)), transposed(apart.map(|one| one.1)));
        }
        for step in self.steps.iter().rev() {
            step.up(&mut found.re, &mut found.im);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn correlations_are_the_sums_that_define_them() {
        for length in [16, 32, 48, 64, 144, 192, 432, 1536] {
            let tables = Correlation::new(length);
            assert_eq!(tables.length(), length);
            let wave = |seed: usize, n: usize| ((n * n * seed + 3 * n + seed) % 31) as f32 - 15.0;
            let y: Vec<f32> = (0..length).map(|n| wave(7, n)).collect();
            let (a, b): (Vec<f32>, Vec<f32>) = (0..length / 2).map(|n| (wave(3, n), wave(11, n))).unzip();
            let minus: Vec<f32> = b.iter().map(|v| -v).collect();
            let mut found = Parts::default();
            tables.correlate(&tables.spectrum(&y, &[]), &tables.spectrum(&a, &minus), &mut found);
            let (re, im) = (found.re(), found.im());
            let sum = |z: &[f32], lag: usize| -> f64 {
                z.iter().enumerate().map(|(n, z)| f64::from(y[(n + lag) % length]) * f64::from(*z)).sum()
            };
            for lag in 0..length {
                let off = (f64::from(re[lag]) - sum(&a, lag)).abs().max((f64::from(im[lag]) - sum(&b, lag)).abs());
                assert!(off < 2e-2, "{length} {lag}: {off}");
            }
        }
    }

    #[test]
    fn roots_lie_on_the_circle_in_turn() {
        for length in [16, 48, 144] {
            for (k, [cos, sin]) in roots(length).into_iter().enumerate() {
                let angle = -TAU * k as f64 / length as f64;
                let off = (f64::from(cos) - libm::cos(angle)).abs().max((f64::from(sin) - libm::sin(angle)).abs());
                assert!(off < 1e-7, "{length} {k}: {off}");
            }
            assert_eq!(roots(length).len(), length);
        }
    }

    #[test]
    fn lengths_are_near_what_is_wanted() {
        assert_eq!([1, 16, 17, 40, 6900, 8193, 13_000].map(Correlation::fitting), [16, 16, 32, 48, 6912, 9216, 13_824]);
        for wanted in (1..20_000).step_by(37) {
            let length = Correlation::fitting(wanted);
            assert!(length >= wanted && length <= 16 + wanted * 4 / 3, "{wanted} {length}");
        }
    }
}
