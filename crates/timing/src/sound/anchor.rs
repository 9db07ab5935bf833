//! The offset of a series from one slow time that light or video gave: then no impact has to be recognised at all.
//!
//! Not here: the offset that the shots' own pairs vote for (`offset`).

use super::about::Anchor;

/// A shot is of the anchor's marked time when it was marked within this share of it.
const SAME_MARK: f64 = 0.03;
/// Light measured one release and sound another: a shutter repeats a slow time to about this share.
const REPEATABILITY: f64 = 0.01;

/// `offset = time by light − interval`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Anchored {
    /// Time in the middle of the frame less interval \[s\].
    pub offset_s: f64,
    /// Its standard uncertainty \[s\]: that of the anchor, and the shutter's repeatability.
    pub u_s: f64,
}

/// The offset, from the shots `(interval, marked time)` \[s\]; nothing where none of them is of the anchor's marked time.
pub(super) fn offset(anchor: &Anchor, shots: &[(f64, f64)]) -> Option<Anchored> {
    let same = |marked: f64| (marked / anchor.marked_s - 1.0).abs() <= SAME_MARK;
    let intervals: Vec<f64> = shots.iter().filter(|(_, marked)| same(*marked)).map(|(interval, _)| *interval).collect();
    if intervals.is_empty() {
        return None;
    }
    let n = intervals.len() as f64;
    let mean = intervals.iter().sum::<f64>() / n;
    let time = anchor.time.value();
    let mut spread = REPEATABILITY * time;
    if intervals.len() >= 3 {
        let squares: f64 = intervals.iter().map(|v| (v - mean) * (v - mean)).sum();
        spread = spread.max((squares / (n - 1.0)).sqrt());
    }
    let light = anchor.time.standard_uncertainty();
    // The release that light saw is one draw from the same spread.
    let u_s = (light * light + spread * spread * (1.0 + 1.0 / n)).sqrt();
    Some(Anchored { offset_s: time - mean, u_s })
}

#[cfg(test)]
mod tests {
    use super::*;
    use metrology::Estimate;

    #[test]
    fn the_anchor_s_own_mark_sets_the_offset() {
        let time = Estimate::new(0.068, 0.0002, f64::INFINITY).expect("an estimate");
        let anchor = Anchor { marked_s: 0.0625, time };
        let anchored = offset(&anchor, &[(0.030, 0.03125), (0.066, 0.0625)]).expect("an offset");
        assert!((anchored.offset_s - 0.002).abs() < 1e-12);
        assert!(anchored.u_s > 0.0006 && anchored.u_s < 0.0011, "{}", anchored.u_s);
        assert_eq!(offset(&anchor, &[(0.030, 0.03125)]), None);
    }
}
