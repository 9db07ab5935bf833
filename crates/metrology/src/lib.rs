//! What a measured value is: an estimate with its doubt, and what may be concluded from it.
//!
//! Rooms: [`Estimate`]; type A doubt ([`mean_of`], [`pooled_repeatability`]); type B doubt ([`Distribution`]); a [`Budget`];
//! coverage ([`student_factor`], [`effective_degrees_of_freedom`]); least squares with a shared doubt
//! ([`generalised_least_squares`]); conformity ([`conformance_probability`], [`Chance`], [`Call`]); rounding ([`rounded`]); lists in the order of a number ([`ascending`]). Words are those
//! of JCGM 200 (VIM) and JCGM 100 (GUM).
//!
//! Not here: light, time or cameras. No I/O, no clock, no chance; transcendental functions from `libm`, so that every target
//! gives the same bits.

mod budget;
mod conformity;
mod coverage;
mod distribution;
mod error;
mod estimate;
mod fit;
mod order;
mod repeatability;
mod rounding;

pub use budget::{Budget, Combined, Contribution};
pub use conformity::{Call, Chance, GlobalRisks, PROOF, Tolerance, conformance_probability, global_risks};
pub use coverage::{effective_degrees_of_freedom, normal_cdf, normal_quantile, student_cdf, student_factor};
pub use distribution::Distribution;
pub use error::Error;
pub use estimate::{Estimate, largest_expanded_95};
pub use fit::{Fit, generalised_least_squares, least_squares_by_source};
pub use order::ascending;
pub use repeatability::{Pooled, experimental_standard_deviation, mean_of, pooled_repeatability};
pub use rounding::{Rounded, rounded, to_decimals};
