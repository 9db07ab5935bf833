//! The doubt of a time from frames: what each cause adds, and which part of it repeated shots share.
//!
//! Not here: where the numbers come from (`duty`, `levels`, `grid`), and what a person is told (`notices`).

/// Relative doubt of a clip's clock, and where the rate is a marked one of a slow-motion file.
pub(super) const CLOCK: f64 = 1e-4;
/// See [`CLOCK`].
pub(super) const MARKED_CLOCK: f64 = 1e-3;
/// What is left of an interval in the best clip.
const FLOOR: f64 = 0.005;
/// What a frame missing at an edge leaves open \[intervals\].
const DROP: f64 = 0.3;
/// What white that is clipped adds, as a part of the time.
const CLIPPED: f64 = 0.03;

/// Causes of doubt for one strip of one shot; times in frame intervals.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Causes {
    /// The time.
    pub time: f64,
    /// What the gaps between frames leave open.
    pub gap: f64,
    /// Relative doubt of the tone exponent.
    pub exponent: f64,
    /// Relative doubt of the open level.
    pub open: f64,
    /// Noise of the summed frames.
    pub noise: f64,
    /// Unevenness of the frames.
    pub jitter: f64,
    /// Frames missing at an edge.
    pub drops: u64,
    /// White was clipped.
    pub clipped: bool,
    /// Relative doubt of the clock.
    pub clock: f64,
}

/// A standard uncertainty and the part of it that repeats share, in frame intervals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Doubt {
    pub standard: f64,
    pub shared: f64,
    pub curve: f64,
}

/// Puts the causes together.
///
/// *Equation:* `u² = gap² + curve² + (t·open)² + noise² + 2·jitter² + drops·(0.3 T)² + clipped² + (0.005 T)² + (t·clock)²`.
/// Curve: [`curve`]. Repeats share the curve, the open level, the clipping, the floor and the clock.
pub(super) fn combine(causes: Causes) -> Doubt {
    let t = causes.time.max(0.0);
    let curve = curve(t, causes.exponent);
    // A time below two intervals is mostly partial frames, and clipping lifts those more.
    let clipped = if causes.clipped { CLIPPED * t.max((2.0 * t).min(1.0)) } else { 0.0 };
    let shared = [curve, t * causes.open, clipped, FLOOR, t * causes.clock].iter().map(|part| part * part).sum::<f64>();
    let own = causes.gap * causes.gap
        + causes.noise * causes.noise
        + 2.0 * causes.jitter * causes.jitter
        + causes.drops as f64 * DROP * DROP;
    Doubt { standard: (shared + own).sqrt(), shared: shared.sqrt(), curve }
}

/// What a relative doubt of the tone exponent does to a time t \[intervals\].
///
/// Two partial frames, each anywhere between empty and full, lose `δ/4` each: `δ/2` for t ≥ 1. Below one interval a pulse seen by
/// one frame loses `t·ln(1/t)·δ`, and the share t of pulses that two frames see a little more: together
/// `δ·t·(ln(1/t) + t/2)`, which meets the former at t = 1.
fn curve(t: f64, exponent: f64) -> f64 {
    if t >= 1.0 {
        0.5 * exponent
    } else if t > 0.0 {
        exponent * t * (-libm::log(t) + t / 2.0)
    } else {
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_curve_is_one_curve() {
        assert_eq!(curve(1.0, 0.1), 0.05);
        assert!((curve(0.999_999, 0.1) - 0.05).abs() < 1e-6);
        assert!((curve(0.24, 0.1) - 0.1 * 0.24 * (1.427_116 + 0.12)).abs() < 1e-6);
        assert_eq!(curve(0.0, 0.1), 0.0);
    }

    #[test]
    fn repeats_share_what_is_not_chance() {
        let causes = Causes { time: 4.0, gap: 0.03, exponent: 0.02, open: 0.001, ..Causes::default() };
        let doubt = combine(causes);
        let shared = 0.01_f64 * 0.01 + 0.004 * 0.004 + 0.005 * 0.005;
        assert!((doubt.shared - shared.sqrt()).abs() < 1e-12);
        assert!((doubt.standard - (shared + 0.03 * 0.03).sqrt()).abs() < 1e-12);
        let worse = combine(Causes { drops: 1, clipped: true, jitter: 0.1, noise: 0.01, clock: CLOCK, ..causes });
        assert!(worse.standard > (0.09_f64 + 0.02 + 0.0144).sqrt() && worse.shared > 0.12);
    }
}
