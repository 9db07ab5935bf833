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

/// Parts of a stretch that are filtered side by side, and the samples that each begins before its first: after so many nothing is
/// left of a beginning above 10⁻⁹ for any cutoff of a hundredth of the rate or more.
const PARTS: usize = 4;
const LEAD: usize = 1024;

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
    ///
    /// A recursive filter waits for its own last output; four parts of a long stretch are filtered side by side, each begun so
    /// long before its first sample that nothing is left of how it began.
    pub(crate) fn run(&self, input: &[f32]) -> Vec<f32> {
        let part = input.len().div_ceil(PARTS);
        if part < 4 * LEAD {
            return self.settled(input.first().copied()).run(input);
        }
        let mut output = vec![0.0_f32; input.len()];
        let mut beginnings = [(); PARTS].map(|()| [Section::default(); 2]);
        for (k, sections) in beginnings.iter_mut().enumerate() {
            let start = (k * part).saturating_sub(LEAD);
            let mut lead = self.settled(input.get(start).copied());
            let _ = lead.run(&input[start..k * part]);
            *sections = lead.sections;
        }
        let mut parts = output.chunks_mut(part).zip(input.chunks(part));
        let lanes: [_; PARTS] = core::array::from_fn(|_| parts.next().unwrap_or((&mut [], &[])));
        self.side_by_side(&beginnings, lanes);
        output
    }

    /// Filters as many parts as there are beginnings in step with one another; the last part may be shorter.
    fn side_by_side(&self, beginnings: &[[Section; 2]; PARTS], mut lanes: [(&mut [f32], &[f32]); PARTS]) {
        let shortest = lanes.iter().map(|(_, input)| input.len()).min().unwrap_or(0);
        let [mut first, mut second] = [0, 1].map(|n| Abreast {
            b: self.sections[n].b,
            a: self.sections[n].a,
            s: [0, 1].map(|state| beginnings.map(|sections| sections[n].s[state])),
        });
        let mut from = 0;
        while from < shortest {
            let to = shortest.min(from + CHUNK);
            let [a, b, c, d] = &mut lanes;
            let ins = a.1[from..to].iter().zip(&b.1[from..to]).zip(c.1[from..to].iter().zip(&d.1[from..to]));
            let outs =
                a.0[from..to].iter_mut().zip(&mut b.0[from..to]).zip(c.0[from..to].iter_mut().zip(&mut d.0[from..to]));
            for (((xa, xb), (xc, xd)), ((ya, yb), (yc, yd))) in ins.zip(outs) {
                let x = [*xa, *xb, *xc, *xd].map(f64::from);
                [*ya, *yb, *yc, *yd] = second.step(first.step(x)).map(|y| y as f32);
            }
            first.settle();
            second.settle();
            from = to;
        }
        for (k, (output, input)) in lanes.iter_mut().enumerate() {
            let rest = Running { sections: [first.lane(k), second.lane(k)] }.run(&input[shortest..]);
            output[shortest..].copy_from_slice(&rest);
        }
    }

    /// At rest under a constant.
    fn settled(&self, constant: Option<f32>) -> Running {
        let [mut first, second] = self.sections;
        let x = f64::from(constant.unwrap_or(0.0));
        first.s = [-first.b[0] * x, first.b[2] * x];
        Running { sections: [first, second] }
    }
}

/// A filter on its way through a stretch.
struct Running {
    sections: [Section; 2],
}

impl Running {
    fn run(&mut self, input: &[f32]) -> Vec<f32> {
        let mut output = Vec::with_capacity(input.len());
        let [first, second] = &mut self.sections;
        for chunk in input.chunks(CHUNK) {
            output.extend(chunk.iter().map(|&x| second.step(first.step(f64::from(x))) as f32));
            first.settle();
            second.settle();
        }
        output
    }
}

/// One section for several parts abreast: the same steps as [`Section`], lane by lane.
#[derive(Clone, Copy)]
struct Abreast {
    b: [f64; 3],
    a: [f64; 2],
    s: [[f64; PARTS]; 2],
}

impl Abreast {
    #[inline(always)]
    fn step(&mut self, x: [f64; PARTS]) -> [f64; PARTS] {
        let [s0, s1] = self.s;
        let y: [f64; PARTS] = core::array::from_fn(|k| self.b[0] * x[k] + s0[k]);
        self.s[0] = core::array::from_fn(|k| self.b[1] * x[k] - self.a[0] * y[k] + s1[k]);
        self.s[1] = core::array::from_fn(|k| self.b[2] * x[k] - self.a[1] * y[k]);
        y
    }

    fn settle(&mut self) {
        for state in self.s.iter_mut().flatten() {
            if state.abs() < SILENT {
                *state = 0.0;
            }
        }
    }

    fn lane(&self, k: usize) -> Section {
        Section { b: self.b, a: self.a, s: [self.s[0][k], self.s[1][k]] }
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
    fn parts_side_by_side_are_the_whole() {
        let filter = HighPass::new(2000.0, 48_000.0);
        let mut chance = 1_u32;
        let x: Vec<f32> = (0..20_003)
            .map(|_| {
                chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (chance >> 8) as f32 / 8_388_608.0 - 0.5
            })
            .collect();
        let whole = filter.settled(x.first().copied()).run(&x);
        let parts = filter.run(&x);
        assert!(whole.iter().zip(&parts).all(|(a, b)| (a - b).abs() < 1e-6));
        assert_eq!(whole.len(), parts.len());
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
