//! When a shutter opened and closed: from its sound, from the light behind it, or from the frames of a clip.
//!
//! Rooms: [`Waveform`] (a channel of a recording); [`Take`], [`Shot`] (what a measurement gives).
//!
//! Not here: marks on dials, cameras, tolerances, files, microphones. No I/O, no clock, no chance; transcendental functions
//! from `libm`, so that every target gives the same bits.

pub mod curtain;
pub mod curve;
mod error;
mod shot;
mod waveform;

pub use error::Error;
pub use shot::{Bounce, Notice, Place, Shot, State, Take};
pub use waveform::{HIGHEST_RATE_HZ, LOWEST_RATE_HZ, Stretch, Waveform};
