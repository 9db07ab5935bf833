//! Filters that recordings go through: a fourth-order high-pass that leaves what an impact sounds like, and a decimator for
//! recordings whose rate is higher than anything here needs.
//!
//! Not here: what is looked for in the filtered signal.

/// Quality factors of the two sections of a fourth-order Butterworth filter.
const BUTTERWORTH_4: [f64; 2] = [0.541_196_100_146_197, 1.306_562_964_876_376_5];
/// A state below this is silence; left alone it would decay into numbers that processors are slow with.
const SILENT: f64 = 1e-25;
/// Samples between two looks at the states.
const CHUNK: usize = 256;

/// One second-order section, transposed direct form II.
#[derive(Clone, Copy, Debug, Default)]
struct Section {
    b: [f64; 3],
    a: [f64; 2],
    s: [f64; 2],
}

impl Section {
    fn high_pass(cutoff_hz: f64, rate_hz: f64, quality: f64) -> Self {
        let w = 2.0 * core::f64::consts::PI * cutoff_hz / rate_hz;
        let (cos, alpha) = (libm::cos(w), libm::sin(w) / (2.0 * quality));
        let a0 = 1.0 + alpha;
        let b0 = 0.5 * (1.0 + cos) / a0;
        Self { b: [b0, -2.0 * b0, b0], a: [-2.0 * cos / a0, (1.0 - alpha) / a0], s: [0.0; 2] }
    }

    #[inline(always)]
    fn step(&mut self, x: f64) -> f64 {
        let y = self.b[0] * x + self.s[0];
        self.s[0] = self.b[1] * x - self.a[0] * y + self.s[1];
        self.s[1] = self.b[2] * x - self.a[1] * y;
        y
    }

    fn settle(&mut self) {
        for state in &mut self.s {
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
}

impl HighPass {
    /// A filter at rest.
    pub(crate) fn new(cutoff_hz: f64, rate_hz: f64) -> Self {
        Self { sections: BUTTERWORTH_4.map(|quality| Section::high_pass(cutoff_hz, rate_hz, quality)) }
    }

    /// Filters one stretch as if its first sample had stood there for ever: a constant offset makes no click at its beginning.
    pub(crate) fn run(&self, input: &[f32]) -> Vec<f32> {
        let [mut first, mut second] = self.sections;
        if let Some(&x) = input.first() {
            first.s = [-first.b[0] * f64::from(x), first.b[2] * f64::from(x)];
        }
        let mut output = Vec::with_capacity(input.len());
        for chunk in input.chunks(CHUNK) {
            output.extend(chunk.iter().map(|&x| second.step(first.step(f64::from(x))) as f32));
            first.settle();
            second.settle();
        }
        output
    }
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

    #[test]
    fn the_high_pass_is_three_decibels_down_at_its_cutoff_and_steep_below() {
        let filter = HighPass::new(2000.0, 48_000.0);
        let gain = |hz| {
            let y = filter.run(&tone(hz, 48_000.0, 9600));
            20.0 * libm::log10(rms(&y[4800..]) * core::f64::consts::SQRT_2)
        };
        assert!((gain(2000.0) + 3.01).abs() < 0.05, "{}", gain(2000.0));
        assert!(gain(8000.0).abs() < 0.05);
        assert!(gain(500.0) < -45.0);
    }

    #[test]
    fn a_constant_offset_makes_no_click() {
        let y = HighPass::new(2000.0, 48_000.0).run(&[0.7; 500]);
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
