//! Aperture blades: the openings of a lens at its marks, measured from pictures of the lit opening.
//!
//! Rooms: [`measure`] (one opening), [`series`] (a lens), both on luminance that was averaged down by areas. Not here: decoding,
//! marks' exact values (`photometry`), tolerances (`inspection`).

mod opening;
mod region;
mod series;
mod shape;
mod surface;

pub use opening::{Opening, measure};
pub use series::{From, OddBlade, Series, Shot, Stop, series};

use crate::raster::Size;

/// Longest side that openings are measured on \[pixels\]; more only costs time.
const LONGEST: u32 = 1600;

/// How often a picture is averaged down before its opening is measured.
pub const fn reduction(size: Size) -> u32 {
    let longest = if size.width() > size.height() { size.width() } else { size.height() };
    longest.div_ceil(LONGEST)
}

#[cfg(test)]
mod tests;
