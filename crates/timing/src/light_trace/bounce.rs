//! Light that comes in again just after the closing, because a curtain or blade has bounced.
//!
//! It is reported beside the time and never added to it. Not here: what that means for a picture (the crates above).

use super::flank::View;
use crate::shot::Bounce;

/// Bounces are looked for up to this long after the closing \[s\].
pub(super) const LOOKED_S: f64 = 0.012;
/// A hump goes back on both sides within this \[s\].
const SIDE_S: f64 = 1.5e-3;
/// Least height over the open level.
const LEAST: f64 = 0.03;

/// What is known of the closing, in samples of the window.
pub(super) struct Closed {
    /// Effective moment of the closing.
    pub moment: f64,
    /// From here on it is dark.
    pub foot: f64,
    /// Level in the dark.
    pub dark: f64,
    /// The open level over it.
    pub open: f64,
}

/// The largest hump after a closing; its delay is to where it begins.
pub(super) fn bounce(view: &View, closed: &Closed, noise: f64, rate_hz: f64) -> Option<Bounce> {
    let half = (0.08e-3 * rate_hz) as usize;
    let scatter = noise / ((2 * half + 1) as f64).sqrt();
    let least = (7.0 * scatter).max(LEAST * closed.open);
    let (from, to) = (view.index(closed.foot + 1.0), view.index(closed.foot + LOOKED_S * rate_hz));
    let height = |i: usize| view.smooth(i, half) - closed.dark;
    let (peak, most) = (from..to).map(|i| (i, height(i))).max_by(|a, b| a.1.total_cmp(&b.1))?;
    if most < least {
        return None;
    }
    let side = (SIDE_S * rate_hz) as usize;
    let gone = (0.15 * most).max(2.5 * scatter).min(0.5 * most);
    let left = (from..peak).rev().take(side).find(|&i| height(i) < gone)?;
    let right = (peak..view.len()).take(side).find(|&i| height(i) < gone)?;
    let (first, last) = (left.saturating_sub(half).max(from), right + half + 1);
    let area = view.sum(first, last.min(view.len())) - closed.dark * (last.min(view.len()) - first) as f64;
    Some(Bounce {
        delay_s: (left as f64 - closed.moment) / rate_hz,
        height: most / closed.open,
        extra_s: (area / closed.open).max(0.0) / rate_hz,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hump_is_measured_and_a_step_is_none() {
        let shape = |i: usize| match i {
            0..100 => 1.0,
            160..200 => 0.2,
            _ => 0.0,
        };
        let closed = Closed { moment: 99.5, foot: 102.0, dark: 0.0, open: 1.0 };
        let found = bounce(&View::new((0..800).map(shape).collect()), &closed, 1e-4, 48_000.0).expect("a bounce");
        assert!((found.extra_s * 48_000.0 - 8.0).abs() < 0.1 && (found.height - 0.2).abs() < 0.01, "{found:?}");
        assert!((found.delay_s * 48_000.0 - 60.0).abs() < 5.0);
        let step = View::new((0..800).map(|i| if i < 100 { 1.0 } else { f64::from(i > 200) * 0.2 }).collect());
        assert!(bounce(&step, &closed, 1e-4, 48_000.0).is_none());
    }
}
