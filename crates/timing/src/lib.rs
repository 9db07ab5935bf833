//! When a shutter opened and closed: from its sound, from the light behind it, or from the frames of a clip.
//!
//! Rooms: [`Waveform`] (a channel of a recording); [`Take`], [`Shot`] (what a measurement gives); [`sound`].
//!
//! Not here: marks on dials, cameras, tolerances, files, microphones. No I/O, no clock, no chance; transcendental functions
//! from `libm`, so that every target gives the same bits.

mod error;
mod filter;
mod fourier;
mod shot;
pub mod sound;
mod waveform;

pub use error::Error;
pub use shot::{Bounce, Notice, Place, Shot, State, Take};
pub use waveform::{HIGHEST_RATE_HZ, LOWEST_RATE_HZ, Stretch, Waveform};
