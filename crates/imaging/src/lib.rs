//! Light from pictures: what a patch of a photo came to in cd/m², from its pixels and its exposure data.
//!
//! Rooms: [`raster`] (pixels, patches, averaging by areas), [`transfer`] (codes to light), [`exif`] (how a picture was taken),
//! [`luminance`] (light of a patch with its doubt, and the calibration of a phone), [`blades`] (openings of a lens), [`glare`] (what a lens scatters), [`leak_spots`] (where light comes out of a camera), [`film_strip`] (a developed film laid out), [`evenness`] (how evenly a shutter exposed it), [`fog`] (where light got at it); [`Notice`], what has to be known beside.
//!
//! Not here: decoding files (the page's browser, the shell), tolerances, cameras on the bench. No I/O, no clock, no chance;
//! transcendental functions from `libm`, so that every target gives the same bits.

pub mod blades;
mod error;
pub mod evenness;
pub mod exif;
pub mod film_strip;
pub mod fog;
pub mod glare;
pub mod leak_spots;
mod linear;
pub mod luminance;
mod notice;
pub mod raster;
pub mod transfer;

pub use error::Error;
pub use notice::{Notice, Weight};
