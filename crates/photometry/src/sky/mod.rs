//! The light of sun and sky: illuminance on a flat, a sun-facing and an upright surface under three skies, the EV to expect
//! with its doubt, and how far sunny 16 is from it.
//!
//! *Sources:* IES Calculation Procedures Committee, Recommended Practice for the Calculation of Daylight Availability, J. IES
//! 13(4) 381–392, 1984 (the equations from secondary sources); against it P. Janiczek and J. DeYoung, Computer Programs for Sun
//! and Moon Illuminance, USNO Circular 171, 1987. *Valid:* from the horizon up, for the mean of such a sky; a moment may give
//! half or twice, which is in the doubt. Not here: where the sun stands ([`crate::sun`]).

mod day;
mod doubt;
mod model;
mod second;
mod sunny;

pub use day::{DayLight, DayPoint, DaySpan, day_of_light, good_spans};
pub use doubt::LightDoubt;
pub use model::{Coefficients, Components, Plane, SOLAR_ILLUMINANCE, Sky, components, extraterrestrial, on_plane};
pub use second::{SECOND_SOLAR_ILLUMINANCE, second_model};
pub use sunny::{Daylight, SUNNY_16, daylight, sunny16_elevations, surest_plane};
