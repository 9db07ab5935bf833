//! Filters that recordings go through: a fourth-order high-pass that leaves what an impact sounds like, and a decimator for
//! recordings whose rate is higher than anything here needs.
//!
//! Not here: what is looked for in the filtered signal.

/// Quality factors of the two sections of a fourth-order Butterworth filter.
const BUTTERWORTH_4: [f64; 2] = [0.541_196_100_146_197, 1.306_562_964_876_376_5];
/// A state below this is silence; left alone it would decay into numbers that processors are slow with.
const SILENT: f32 = 1e-15;
/// Samples between two looks at the states.
const CHUNK: usize = 256;

/// Parts of a stretch that are filtered side by side, and the samples that each begins before its first: after so many nothing is
/// left of a beginning above 10⁻⁹ for any cutoff of a hundredth of the rate or more.
const PARTS: usize = 4;
const LEAD: usize = 1024;

/// One number for each part.
type Lanes = [f32; PARTS];

/// One second-order section, `y[n] = x[n] − 2x[n−1] + x[n−2] − a₁y[n−1] − a₂y[n−2]`, for several parts abreast.
///
/// The difference of differences comes first: it takes away what is slow and large before anything is rounded, so that single
/// precision leaves 120 dB between the signal and the rounding.
#[derive(Clone, Copy, Debug, Default)]
struct Section {
    a: [f32; 2],
    /// The input before, and its difference from the one before that.
    x: Lanes,
    difference: Lanes,
    /// The two outputs before, the later first.
    y: [Lanes; 2],
}

impl Section {
    /// The section at rest, and the gain that is left out of it.
    fn high_pass(cutoff_hz: f64, rate_hz: f64, quality: f64) -> (Self, f64) {
        let w = 2.0 * core::f64::consts::PI * cutoff_hz / rate_hz;
        let (cos, alpha) = (libm::cos(w), libm::sin(w) / (2.0 * quality));
        let a0 = 1.0 + alpha;
        let a = [(-2.0 * cos / a0) as f32, ((1.0 - alpha) / a0) as f32];
        (Self { a, ..Self::default() }, 0.5 * (1.0 + cos) / a0)
    }

    #[inline(always)]
    fn step(&mut self, x: Lanes) -> Lanes {
        let difference: Lanes = core::array::from_fn(|k| x[k] - self.x[k]);
        let [y1, y2] = self.y;
        let y = core::array::from_fn(|k| (difference[k] - self.difference[k]) - self.a[1] * y2[k] - self.a[0] * y1[k]);
        (self.x, self.difference, self.y) = (x, difference, [y, y1]);
        y
    }

    fn settle(&mut self) {
        let outputs = self.y.iter_mut().flatten();
        for state in self.x.iter_mut().chain(&mut self.difference).chain(outputs) {
            if state.abs() < SILENT {
                *state = 0.0;
            }
        }
    }
}

/// Fourth-order Butterworth high-pass: −3 dB at the cutoff \[Hz\], 24 dB per octave below it. The cutoff lies below half the
/// rate.
#[derive(Clone, Copy, Debug)]
pub(crate) struct HighPass {
    sections: [Section; 2],
    gain: f32,
}

impl HighPass {
    /// A filter at rest.
    pub(crate) fn new(cutoff_hz: f64, rate_hz: f64) -> Self {
        let [(first, a), (second, b)] = BUTTERWORTH_4.map(|quality| Section::high_pass(cutoff_hz, rate_hz, quality));
        Self { sections: [first, second], gain: (a * b) as f32 }
    }

    /// Filters one stretch where it lies, as if its first sample had stood there for ever: a constant offset makes no click at its
    /// beginning.
    ///
    /// A recursive filter waits for its own last output; four parts of a long stretch are filtered side by side, each begun so
    /// long before its first sample that nothing is left of how it began.
    pub(crate) fn run(&self, samples: &mut [f32]) {
        // A whole number of vectors, so that every part but the last is of one length.
        let part = samples.len().div_ceil(PARTS * PARTS) * PARTS;
        if part < 4 * LEAD {
            let first = samples.first().copied().unwrap_or(0.0);
            self.settled([first; PARTS]).alone(0, samples);
            return;
        }
        // The first part has no lead: it stands still until the others have gone through theirs. Copies, since what lies before a
        // part is filtered with it.
        let mut leads: [[f32; LEAD]; PARTS] = core::array::from_fn(|k| match k {
            0 => [samples[0]; LEAD],
            _ => core::array::from_fn(|n| samples[k * part - LEAD + n]),
        });
        let mut running = self.settled(leads.map(|lead| lead[0]));
        running.abreast(leads.each_mut().map(|lead| lead.as_mut_slice()));
        let last = samples.len() - (PARTS - 1) * part;
        let whole = last - last % PARTS;
        let mut parts = samples.chunks_mut(part);
        let parts: [&mut [f32]; PARTS] = core::array::from_fn(|_| parts.next().unwrap_or_default());
        let mut parts = parts.map(|part| part.split_at_mut(whole));
        running.abreast(parts.each_mut().map(|part| &mut *part.0));
        for (k, (_, rest)) in parts.into_iter().enumerate() {
            running.alone(k, rest);
        }
    }

    /// At rest under constants.
    fn settled(&self, constant: Lanes) -> Running {
        let [mut first, second] = self.sections;
        first.x = constant;
        Running { sections: [first, second], gain: self.gain }
    }
}

/// A filter on its way through several parts.
#[derive(Clone, Copy)]
struct Running {
    sections: [Section; 2],
    gain: f32,
}

impl Running {
    #[inline(always)]
    fn step(&mut self, x: Lanes) -> Lanes {
        let [first, second] = &mut self.sections;
        second.step(first.step(x)).map(|y| y * self.gain)
    }

    fn settle(&mut self) {
        self.sections.iter_mut().for_each(Section::settle);
    }

    /// All parts, which are of one length, a multiple of their number: as many samples of each at a time as there are parts.
    fn abreast(&mut self, parts: [&mut [f32]; PARTS]) {
        let [a, b, c, d] = parts.map(|part| part.chunks_mut(CHUNK));
        for ((a, b), (c, d)) in a.zip(b).zip(c.zip(d)) {
            let [a, b, c, d] = [a, b, c, d].map(|part| part.as_chunks_mut::<PARTS>().0.iter_mut());
            for ((a, b), (c, d)) in a.zip(b).zip(c.zip(d)) {
                let now = transposed([*a, *b, *c, *d]).map(|x| self.step(x));
                [*a, *b, *c, *d] = transposed(now);
            }
            self.settle();
        }
    }

    /// One part, and the others not.
    fn alone(&self, k: usize, samples: &mut [f32]) {
        let mut running = *self;
        for chunk in samples.chunks_mut(CHUNK) {
            for sample in chunk {
                *sample = running.step([*sample; PARTS])[k];
            }
            running.settle();
        }
    }
}

#[inline(always)]
fn transposed([a, b, c, d]: [Lanes; PARTS]) -> [Lanes; PARTS] {
    [[a[0], b[0], c[0], d[0]], [a[1], b[1], c[1], d[1]], [a[2], b[2], c[2], d[2]], [a[3], b[3], c[3], d[3]]]
}

/// Half width of the decimator's kernel, in output samples.
const LOBES: usize = 8;

/// Every `factor`-th sample after a windowed-sinc low-pass at 0.45 of the new rate.
///
/// `start` is the number of the first input sample; output samples lie at multiples of `factor`, and the number of the first of
/// them, counted at the new rate, comes back with them.
pub(crate) fn decimate(input: &[f32], start: u64, factor: usize) -> (u64, Vec<f32>) {
    if factor <= 1 {
        return (start, input.to_vec());
    }
    let half = LOBES * factor;
    let kernel = low_pass_kernel(half, 0.45 / factor as f64);
    let first = start.div_ceil(factor as u64);
    let lead = (first * factor as u64 - start) as usize;
    let output = (lead..input.len())
        .step_by(factor)
        .map(|centre| {
            let from = centre.saturating_sub(half);
            let to = input.len().min(centre + half + 1);
            let skipped = from + half - centre;
            input[from..to].iter().zip(&kernel[skipped..]).map(|(&x, &k)| f64::from(x) * k).sum::<f64>() as f32
        })
        .collect();
    (first, output)
}

/// Hann-windowed sinc of `2·half + 1` taps, cutoff as a share of the rate, sum 1.
fn low_pass_kernel(half: usize, cutoff: f64) -> Vec<f64> {
    let pi = core::f64::consts::PI;
    let mut kernel: Vec<f64> = (0..=2 * half)
        .map(|tap| {
            let n = tap as f64 - half as f64;
            let sinc = if n == 0.0 { 2.0 * cutoff } else { libm::sin(2.0 * pi * cutoff * n) / (pi * n) };
            sinc * 0.5 * (1.0 + libm::cos(pi * n / (half as f64 + 1.0)))
        })
        .collect();
    let sum: f64 = kernel.iter().sum();
    kernel.iter_mut().for_each(|tap| *tap /= sum);
    kernel
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(hz: f64, rate: f64, n: usize) -> Vec<f32> {
        (0..n).map(|i| libm::sin(2.0 * core::f64::consts::PI * hz * i as f64 / rate) as f32).collect()
    }

    fn rms(x: &[f32]) -> f64 {
        (x.iter().map(|&v| f64::from(v) * f64::from(v)).sum::<f64>() / x.len() as f64).sqrt()
    }

    fn filtered(filter: &HighPass, x: &[f32]) -> Vec<f32> {
        let mut y = x.to_vec();
        filter.run(&mut y);
        y
    }

    #[test]
    fn the_high_pass_is_three_decibels_down_at_its_cutoff_and_steep_below() {
        let filter = HighPass::new(2000.0, 48_000.0);
        let gain = |hz| {
            let y = filtered(&filter, &tone(hz, 48_000.0, 9600));
            20.0 * libm::log10(rms(&y[4800..]) * core::f64::consts::SQRT_2)
        };
        assert!((gain(2000.0) + 3.01).abs() < 0.05, "{}", gain(2000.0));
        assert!(gain(8000.0).abs() < 0.05);
        assert!(gain(500.0) < -45.0);
    }

    #[test]
    fn parts_side_by_side_are_the_whole() {
        let filter = HighPass::new(2000.0, 48_000.0);
        let mut chance = 1_u32;
        let x: Vec<f32> = (0..20_003)
            .map(|_| {
                chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (chance >> 8) as f32 / 8_388_608.0 - 0.5
            })
            .collect();
        let mut whole = x.clone();
        filter.settled([x[0]; PARTS]).alone(0, &mut whole);
        let parts = filtered(&filter, &x);
        assert!(whole.iter().zip(&parts).all(|(a, b)| (a - b).abs() < 1e-6));
        assert_eq!(whole.len(), parts.len());
    }

    #[test]
    fn a_constant_offset_makes_no_click() {
        let y = filtered(&HighPass::new(2000.0, 48_000.0), &[0.7; 500]);
        assert!(y.iter().all(|v| v.abs() < 1e-6));
    }

    #[test]
    fn decimating_keeps_places_and_removes_what_would_fold() {
        let (first, low) = decimate(&tone(1000.0, 96_000.0, 4001), 3, 2);
        assert_eq!((first, low.len()), (2, 2000));
        // Output number 100 lies at input number 204, which is sample 201 of the stretch.
        let want = libm::sin(2.0 * core::f64::consts::PI * 1000.0 * 201.0 / 96_000.0);
        assert!((f64::from(low[100]) - want).abs() < 2e-3, "{} {want}", low[100]);
        let (_, high) = decimate(&tone(40_000.0, 96_000.0, 4000), 0, 2);
        assert!(rms(&high[100..1900]) < 1e-2);
    }
}
