//! Where the sun stands: its height and direction at a moment and a place, and when it rises and sets.
//!
//! *Method:* the solar position algorithm of NREL (I. Reda and A. Andreas, Solar position algorithm for solar radiation
//! applications, NREL/TP-560-34302, 2003, revised 2008), by the crate `solar-positioning`, which takes its transcendental
//! functions from `libm` as this one does. *Valid:* the algorithm from −2000 to 6000 within 0.0003°; here the years 1600 to
//! 2999, and 0.004° because UTC stands for UT1. *Symbols:* elevation \[°\] above the horizon, azimuth \[°\] from north through
//! east. Not here: the light that the sun gives ([`crate::sky`]).

mod moment;
mod place;
mod position;
mod times;

pub use moment::{Day, Moment};
pub use place::{Air, CITIES, City, Place};
pub use position::{Celestial, SunPosition, celestial, sun_position};
pub use times::{SunTimes, sun_times};
