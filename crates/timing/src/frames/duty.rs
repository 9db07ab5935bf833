//! The light that falls while no frame looks: what a known share of exposed time adds to a sum of frames, and what it leaves
//! open.
//!
//! Each frame looks for `d·T` and is blind for `g = (1 − d)·T`. An edge of the shutter inside a frame's look is known from that
//! frame; an edge in the gap is known only to lie in it. Times here are in frame intervals. Not here: finding the frames of a
//! shot (`shot`) and every other doubt (`doubt`).
//!
//! *Check:* over all phases the sum of a pulse longer than T has the standard deviation `0.41·(1 − d)·T = √(2/12)·g`.

/// What is taken for the duty where a moment is asked for and nobody knows it.
pub(super) const ASSUMED: f64 = 0.8;
/// What is believed of an unknown duty before the frames were looked at: as if one edge of three had been seen in a gap.
const BELIEF: (f64, f64) = (1.0, 2.0);
/// Doubt of a duty that was given.
const GIVEN_DOUBT: f64 = 0.01;
/// An end frame that is full but for this, or for its noise, has its edge in the gap beside it.
const FULL: (f64, f64) = (0.01, 0.05);
/// What a partial end frame leaves open, as a part of what a gap leaves open: rows of a rolling sensor do not all look at
/// once, so that some may be blind at the edge, most likely where the frame is nearly dark or nearly full.
const PARTIAL: (f64, f64) = (0.3, 0.8);
/// What counts as nearly.
const NEARLY: f64 = 0.15;

/// The frames of one pulse.
#[derive(Clone, Copy, Debug)]
pub(super) struct Lit {
    /// Sum of the frames, the open level being 1.
    pub sum: f64,
    /// How many frames are lit.
    pub frames: u64,
    /// The first and the last of them.
    pub first: f64,
    /// See `first`.
    pub last: f64,
    /// Noise of an open frame, the open level being 1.
    pub noise: f64,
}

/// A time with what the gaps leave open, both in frame intervals.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gapped {
    pub time: f64,
    pub doubt: f64,
}

impl Lit {
    /// How many of its ends are full frames, or full but for this.
    fn full_ends(&self, but_for: f64) -> u32 {
        u32::from(self.first >= 1.0 - but_for) + u32::from(self.last >= 1.0 - but_for)
    }
}

/// What is known of the look.
#[derive(Clone, Copy, Debug)]
pub(super) enum Look {
    /// This part of the interval.
    Known(f64),
    /// The part that is not looked at, root mean square, from how often an edge fell into it.
    Unknown { gap: f64 },
}

impl Look {
    /// Learns an unknown gap from pulses of two frames and more: an edge falls into it as often as it is long, and then the
    /// end frame is full, or nearly, where the rows do not all look at once. Three edges' worth of belief come first.
    pub fn learned(pulses: impl Iterator<Item = Lit>) -> Self {
        let (mut full, mut ends) = BELIEF;
        ends += full;
        for lit in pulses.filter(|lit| lit.frames >= 2) {
            full += f64::from(lit.full_ends(FULL.1));
            ends += 2.0;
        }
        // Second moment of a beta distribution.
        Look::Unknown { gap: (full * (full + 1.0) / (ends * (ends + 1.0))).sqrt() }
    }
}

/// The time of a pulse.
///
/// *Equations:* duty d known: `d·sum + (K − 1)·g + g/2 for each end frame that is full`, with `g²/12` for each such end; one
/// frame alone that is not full may have lost an edge in the gap beside it: see [`alone`]. Unknown: the sum itself, with
/// `min(0.41·g, sum·√(g/d))`.
pub(super) fn time(lit: Lit, look: Look) -> Gapped {
    let d = match look {
        Look::Known(d) => d,
        Look::Unknown { gap } => {
            let doubt = ((2.0_f64 / 12.0).sqrt() * gap).min(lit.sum * (gap / (1.0 - gap).max(0.01)).sqrt());
            return Gapped { time: lit.sum, doubt };
        }
    };
    let gap = 1.0 - d;
    let seen = d * lit.sum;
    let between = lit.frames.saturating_sub(1) as f64;
    let full = f64::from(lit.full_ends((4.0 * lit.noise).clamp(FULL.0, FULL.1)));
    // How the time moves with the duty: the sum less what the gaps add.
    let given = ((lit.sum - between - full / 2.0) * GIVEN_DOUBT).abs();
    let gapped = if lit.frames <= 1 && full == 0.0 {
        alone(seen, d)
    } else {
        let nearly = |end: f64| !(NEARLY..=1.0 - NEARLY).contains(&end);
        let near = (f64::from(u8::from(nearly(lit.first)) + u8::from(nearly(lit.last))) - full).max(0.0);
        let parts = full + near * PARTIAL.1 * PARTIAL.1 + (2.0 - full - near) * PARTIAL.0 * PARTIAL.0;
        Gapped { time: seen + between * gap + full * gap / 2.0, doubt: gap * (parts / 12.0).sqrt() }
    };
    Gapped { time: gapped.time, doubt: (gapped.doubt * gapped.doubt + given * given).sqrt() }
}

/// A pulse that only one frame saw and that does not fill it: either all of it was seen, or an edge was lost in the gap.
///
/// With every time and phase equally likely, a pulse that was seen for m whole inside the look of length d has `d − m` of room;
/// one that lost a piece of 0 to g has `2g` of room (a gap on either side). So the piece lost is 0 with the weight `d − m`, or
/// evenly 0 to g with the weight `2g`. The doubt is the standard deviation, or more where 95 % would not lie inside twice it.
fn alone(seen: f64, duty: f64) -> Gapped {
    let gap = 1.0 - duty;
    let lost = 2.0 * gap / ((duty - seen).max(0.0) + 2.0 * gap).max(1e-9);
    let mean = lost * gap / 2.0;
    let variance = (lost * gap * gap / 3.0 - mean * mean).max(0.0);
    let ninety_five = if lost > 0.05 { gap * (1.0 - 0.05 / lost) } else { 0.0 };
    Gapped {
        time: seen + mean,
        doubt: variance.sqrt().max((ninety_five - mean) / 1.96).max(PARTIAL.0 * gap / 12.0_f64.sqrt()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Frames of a pulse from `open` to `close` (in intervals) with duty d, all rows at once.
    fn lit(open: f64, close: f64, d: f64) -> Option<Lit> {
        let frames: Vec<f64> = (0..400)
            .map(f64::from)
            .map(|k| ((close.min(k + d) - open.max(k)).max(0.0)) / d)
            .skip_while(|f| *f <= 0.0)
            .take_while(|f| *f > 0.0)
            .collect();
        let (first, last) = (*frames.first()?, *frames.last()?);
        Some(Lit { sum: frames.iter().sum(), frames: frames.len() as u64, first, last, noise: 0.0 })
    }

    /// Scatter, share inside 95 % and doubt over phases, and over times from `t` to `t + wide`.
    fn scatter(t: f64, wide: f64, d: f64, known: bool) -> (f64, f64, f64) {
        let (mut squares, mut inside, mut doubt, mut count) = (0.0, 0.0, 0.0, 0.0);
        for step in 0..2000 {
            let open = 3.0 + f64::from(step % 50) / 50.0;
            let t = t + wide * f64::from(step) / 2000.0;
            let Some(lit) = lit(open, open + t, d) else { continue };
            let found = time(lit, if known { Look::Known(d) } else { Look::Unknown { gap: 1.0 - d } });
            squares += (found.time - t) * (found.time - t);
            inside += f64::from(u8::from((found.time - t).abs() <= 1.96 * found.doubt));
            doubt += found.doubt * found.doubt;
            count += 1.0;
        }
        ((squares / count).sqrt(), inside / count, (doubt / count).sqrt())
    }

    #[test]
    fn without_the_duty_the_sum_scatters_as_derived() {
        let (scatter, ..) = scatter(5.0, 1.0, 0.8, false);
        assert!((scatter - 0.2 * (2.0_f64 / 12.0).sqrt()).abs() < 0.004, "{scatter}");
    }

    #[test]
    fn the_duty_divides_the_scatter() {
        let gap_term = |d: f64| (1.0 - d) * (2.0_f64 / 12.0).sqrt();
        for (d, factor) in [(0.9, 2.5), (0.5, 1.3)] {
            let (scatter, inside, doubt) = scatter(5.0, 1.0, d, true);
            assert!(scatter < gap_term(d) / factor, "{d}: {scatter}");
            assert!(inside > 0.95 && doubt > scatter, "{d}: {inside} {doubt} {scatter}");
        }
    }

    #[test]
    fn short_pulses_stay_inside_their_doubt() {
        for d in [0.98, 0.9, 0.7, 0.5] {
            for t in [0.12, 0.24, 0.48, 0.8, 1.2] {
                let (_, inside, _) = scatter(t, 0.0, d, true);
                assert!(inside > 0.75, "duty {d}, time {t}: {inside}");
            }
        }
    }

    #[test]
    fn an_unknown_gap_is_learned_from_full_ends() {
        let learned = |d: f64| {
            let pulses =
                (0..10).filter_map(|step| lit(3.0 + 0.137 * f64::from(step), 9.0 + 0.271 * f64::from(step), d));
            match Look::learned(pulses) {
                Look::Unknown { gap } => gap,
                Look::Known(d) => d,
            }
        };
        assert!(learned(0.98) < 0.16, "{}", learned(0.98));
        assert!((learned(0.5) - 0.52).abs() < 0.06, "{}", learned(0.5));
        let Look::Unknown { gap } = Look::learned(core::iter::empty()) else { panic!("unknown") };
        assert!((gap - 0.408).abs() < 0.001);
    }
}
