//! How sure a time from sound is: the interval between the two sounds, and the way from there to the middle of the frame.
//!
//! Not here: whether the right two sounds were taken; that is the state of a shot, not its doubt.

use metrology::Estimate;

use super::about::Shutter;
use super::pair::Pair;

/// Standard uncertainty of the interval \[s\]: a series that the shot's own pair confirms, one that it does not, one that it does
/// not and that sounds unlike the others (the templates may then lie a cycle off), one shot by likeness or doublet, one shot by
/// loudness alone above and below 30 ms.
pub(super) const CONFIRMED_S: f64 = 0.03e-3;
pub(super) const UNCONFIRMED_S: f64 = 0.05e-3;
pub(super) const UNLIKE_S: f64 = 0.2e-3;
pub(super) const SINGLE_S: f64 = 0.05e-3;
pub(super) const LOUD_SLOW_S: f64 = 0.1e-3;
pub(super) const LOUD_FAST_S: f64 = 1e-3;
pub(super) const LOUD_SLOW_FROM_S: f64 = 30e-3;
/// Standard uncertainty where the second curtain's start may lie under the first one's stop \[s\].
pub(super) const HIDDEN_S: f64 = 1e-3;
/// The clock of a recording: relative.
const CLOCK: f64 = 1e-4;

/// From the interval heard to the effective time in the middle of the frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Centre {
    /// To be added to the interval \[s\].
    pub shift_s: f64,
    /// Standard uncertainty of that \[s\].
    pub u_s: f64,
}

impl Centre {
    /// Where nothing but the kind of shutter is known: curtains that differ by a twentieth of their travel, 0.4 of which is lost
    /// between the far edge and the middle; a leaf whose blades open and close unequally fast (0.5 ms), and sound when they begin
    /// to move as well as when they stop.
    pub fn unknown(shutter: Shutter) -> Self {
        let u_s = match shutter {
            Shutter::Cloth => 0.4 * 0.05 * 12e-3,
            Shutter::Metal => 0.4 * 0.05 * 5e-3,
            Shutter::Leaf => 0.75e-3,
        };
        Self { shift_s: 0.0, u_s }
    }

    /// Where a pair shows both travels.
    pub fn of(pair: &Pair, shutter: Shutter) -> Self {
        match (pair.centre_s(), shutter) {
            (Some(centre), Shutter::Cloth | Shutter::Metal) if travels_like(pair, shutter) => {
                Self { shift_s: centre - pair.time_s, u_s: 0.06e-3 }
            }
            _ => Self::unknown(shutter),
        }
    }
}

/// Whether the travels of a pair's doublet are such as this kind of shutter has.
pub(super) fn travels_like(pair: &Pair, shutter: Shutter) -> bool {
    let range = travel_range_s(shutter);
    pair.travel.is_some_and(|travel| (range.0..=range.1).contains(&(0.5 * (travel.first_s + travel.second_s))))
}

/// How long the curtains of a kind travel \[s\], with room.
pub(super) const fn travel_range_s(shutter: Shutter) -> (f64, f64) {
    match shutter {
        Shutter::Cloth => (6.75e-3, 18.75e-3),
        Shutter::Metal => (2.25e-3, 8.75e-3),
        Shutter::Leaf => (0.0, 0.0),
    }
}

/// A time of so many seconds whose interval and centre have these doubts; nothing where it would not be above 0.
pub(super) fn estimate(time_s: f64, interval_u_s: f64, centre_u_s: f64) -> Option<Estimate> {
    let clock = CLOCK * time_s;
    let u = (interval_u_s * interval_u_s + centre_u_s * centre_u_s + clock * clock).sqrt();
    if time_s > 0.0 { Estimate::new(time_s, u, f64::INFINITY).ok() } else { None }
}
