//! When a shutter opened and closed: from its sound, from the light behind it, or from the frames of a clip.
//!
//! Rooms: [`Waveform`] (a channel of a recording); [`wav`] (files of them); [`quiet`] (what is kept of a long one); [`movie`] (a
//! clip's own times, from its file); [`sound`], [`light_trace`], [`frames`] (the three ways to measure); [`curtain`], [`curve`]
//! (geometry and light curves); [`Take`], [`Shot`] (what a measurement gives); [`shots`] (which shot belongs to which mark).
//!
//! Not here: marks on dials, cameras, tolerances, opening files, microphones. No I/O, no clock, no chance; transcendental
//! functions from `libm`, so that every target gives the same bits.

mod correlation;
pub mod curtain;
pub mod curve;
mod error;
mod extremes;
mod filter;
mod fourier;
pub mod frames;
pub mod light_trace;
pub mod movie;
pub mod quiet;
mod shot;
pub mod shots;
pub mod sound;
pub mod wav;
mod waveform;

pub use error::Error;
pub use shot::{Bounce, Notice, Place, Shot, State, Take};
pub use waveform::{HIGHEST_RATE_HZ, LOWEST_RATE_HZ, Stretch, Waveform};
