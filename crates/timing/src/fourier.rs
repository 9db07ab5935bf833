//! A fast Fourier transform whose bits are the same on every target: radix 2, twiddles from `libm`, no platform's own sine.
//!
//! Not here: windows, correlations (`correlation`).

/// Tables for transforms of one length, a power of two.
#[derive(Clone, Debug)]
pub(crate) struct Fourier {
    length: usize,
    swaps: Vec<(u32, u32)>,
    /// Twiddles of every stage one after another: 1, 2, 4 … length/2 of them.
    cos: Vec<f32>,
    sin: Vec<f32>,
}

impl Fourier {
    /// Tables for `length` rounded up to a power of two, at least 2.
    pub(crate) fn new(length: usize) -> Self {
        let length = length.max(2).next_power_of_two();
        let shift = usize::BITS - length.trailing_zeros();
        let swaps = (0..length)
            .filter_map(|i| {
                let j = i.reverse_bits() >> shift;
                (i < j).then_some((i as u32, j as u32))
            })
            .collect();
        let mut cos = Vec::with_capacity(length);
        let mut sin = Vec::with_capacity(length);
        let mut half = 1;
        while half < length {
            for k in 0..half {
                let angle = -core::f64::consts::PI * k as f64 / half as f64;
                cos.push(libm::cos(angle) as f32);
                sin.push(libm::sin(angle) as f32);
            }
            half *= 2;
        }
        Self { length, swaps, cos, sin }
    }

    /// Number of points.
    pub(crate) const fn length(&self) -> usize {
        self.length
    }

    /// `X[k] = Σ x[n]·exp(−2πi·kn/N)` in place. Both slices hold [`Fourier::length`] numbers; others are left as they are.
    pub(crate) fn forward(&self, re: &mut [f32], im: &mut [f32]) {
        if re.len() != self.length || im.len() != self.length {
            return;
        }
        for &(i, j) in &self.swaps {
            re.swap(i as usize, j as usize);
            im.swap(i as usize, j as usize);
        }
        // The first two stages multiply by nothing but 1 and −i.
        if self.length >= 4 {
            for (re, im) in re.chunks_exact_mut(4).zip(im.chunks_exact_mut(4)) {
                let (&[r0, r1, r2, r3], &[i0, i1, i2, i3]) = (&*re, &*im) else { continue };
                let (sr, si, dr, di) = (r0 + r1, i0 + i1, r0 - r1, i0 - i1);
                let (tr, ti, er, ei) = (r2 + r3, i2 + i3, r2 - r3, i2 - i3);
                re.copy_from_slice(&[sr + tr, dr + ei, sr - tr, dr - ei]);
                im.copy_from_slice(&[si + ti, di - er, si - ti, di + er]);
            }
        }
        let mut half = if self.length >= 4 { 4 } else { 1 };
        // Two stages at a time go through memory half as often.
        while 2 * half < self.length {
            let quads = re.chunks_exact_mut(4 * half).zip(im.chunks_exact_mut(4 * half));
            quads.for_each(|(re, im)| two_stages(re, im, self.twiddles(half), self.twiddles(2 * half)));
            half *= 4;
        }
        if half < self.length {
            butterflies(re, im, self.twiddles(half));
        }
    }

    /// Those of the stage that joins transforms of `half` points: they stand behind those of the smaller ones, of which there are
    /// `half − 1`.
    fn twiddles(&self, half: usize) -> (&[f32], &[f32]) {
        (&self.cos[half - 1..2 * half - 1], &self.sin[half - 1..2 * half - 1])
    }
}

/// Joins two transforms.
fn butterflies(re: &mut [f32], im: &mut [f32], (cos, sin): (&[f32], &[f32])) {
    let half = cos.len();
    let (re_low, re_high) = re.split_at_mut(half);
    let (im_low, im_high) = im.split_at_mut(half);
    let low = re_low.iter_mut().zip(im_low.iter_mut());
    let high = re_high.iter_mut().zip(im_high.iter_mut());
    for (((rl, il), (rh, ih)), (c, s)) in low.zip(high).zip(cos.iter().zip(sin)) {
        let (tr, ti) = (*rh * c - *ih * s, *rh * s + *ih * c);
        (*rh, *ih) = (*rl - tr, *il - ti);
        (*rl, *il) = (*rl + tr, *il + ti);
    }
}

/// Joins four transforms: two and two by the first twiddles, both halves by the second ones, whose later half is the earlier one
/// turned by −i.
fn two_stages(re: &mut [f32], im: &mut [f32], (c1, s1): (&[f32], &[f32]), (c2, s2): (&[f32], &[f32])) {
    let half = c1.len();
    let (ra, rest) = re.split_at_mut(half);
    let (rb, rest) = rest.split_at_mut(half);
    let (rc, rd) = rest.split_at_mut(half);
    let (ia, rest) = im.split_at_mut(half);
    let (ib, rest) = rest.split_at_mut(half);
    let (ic, id) = rest.split_at_mut(half);
    let (c2, s2) = (&c2[..half], &s2[..half]);
    let (rd, id, s1) = (&mut rd[..half], &mut id[..half], &s1[..half]);
    for k in 0..half {
        let (tr, ti) = (rb[k] * c1[k] - ib[k] * s1[k], rb[k] * s1[k] + ib[k] * c1[k]);
        let (ur, ui) = (rd[k] * c1[k] - id[k] * s1[k], rd[k] * s1[k] + id[k] * c1[k]);
        let (ar, ai, br, bi) = (ra[k] + tr, ia[k] + ti, ra[k] - tr, ia[k] - ti);
        let (cr, ci, dr, di) = (rc[k] + ur, ic[k] + ui, rc[k] - ur, ic[k] - ui);
        let (vr, vi) = (cr * c2[k] - ci * s2[k], cr * s2[k] + ci * c2[k]);
        let (wr, wi) = (dr * c2[k] - di * s2[k], dr * s2[k] + di * c2[k]);
        (ra[k], ia[k], rc[k], ic[k]) = (ar + vr, ai + vi, ar - vr, ai - vi);
        (rb[k], ib[k], rd[k], id[k]) = (br + wi, bi - wr, br - wi, bi + wr);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_agrees_with_the_sum_that_defines_it_and_comes_back() {
        for n in [2, 4, 8, 64, 128] {
            agrees(n);
        }
    }

    fn agrees(n: usize) {
        let fourier = Fourier::new(n);
        let re: Vec<f32> = (0..n).map(|i| ((i * i * 7 + 3) % 31) as f32 - 15.0).collect();
        let im: Vec<f32> = (0..n).map(|i| ((i * 13 + 5) % 17) as f32 - 8.0).collect();
        let (mut fr, mut fi) = (re.clone(), im.clone());
        fourier.forward(&mut fr, &mut fi);
        for k in 0..n {
            let (mut sr, mut si) = (0.0, 0.0);
            for i in 0..n {
                let angle = -2.0 * core::f64::consts::PI * ((k * i) % n) as f64 / n as f64;
                let (c, s) = (libm::cos(angle), libm::sin(angle));
                sr += f64::from(re[i]) * c - f64::from(im[i]) * s;
                si += f64::from(re[i]) * s + f64::from(im[i]) * c;
            }
            assert!((f64::from(fr[k]) - sr).abs() < 1e-3 && (f64::from(fi[k]) - si).abs() < 1e-3, "{k}");
        }
        // With both parts exchanged the transform goes back.
        fourier.forward(&mut fi, &mut fr);
        assert!(fr.iter().zip(&re).all(|(a, b)| (a / n as f32 - b).abs() < 1e-4));
        assert!(fi.iter().zip(&im).all(|(a, b)| (a / n as f32 - b).abs() < 1e-4));
    }

    #[test]
    fn a_wrong_length_changes_nothing() {
        let mut short = [1.0_f32; 3];
        Fourier::new(8).forward(&mut short, &mut [0.0; 8]);
        assert_eq!((short, Fourier::new(5).length()), ([1.0; 3], 8));
    }
}
