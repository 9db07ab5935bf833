//! What a person does with a camera on the bench, and what they are told.
//!
//! Data goes one way: who the camera is ([`camera`]) and what there is to look at ([`catalogue`]); what was found
//! ([`finding`]) and measured ([`meter`], [`consistency`], [`shutter`], [`aperture`], [`glare`], [`test_roll`]) against a [`reference`], such as [`daylight`]; what film gets of it
//! ([`film_error`]); what that comes to ([`outcome`], [`remedy`]), how far the [`round`] is; how it is handed on ([`sheet`], [`wording`], [`compare`], [`drawing`], [`words`]). [`examine`] runs the whole of it.
//!
//! Not here: JSON and files (`record`), anything of a page (`www`). No I/O, no clock, no chance.

pub mod aperture;
pub mod camera;
pub mod catalogue;
pub mod compare;
pub mod consistency;
pub mod daylight;
pub mod drawing;
mod error;
pub mod film_error;
pub mod finding;
pub mod glare;
pub mod light_tight;
pub mod meter;
pub mod outcome;
pub mod reference;
pub mod remedy;
pub mod round;
pub mod sheet;
pub mod shutter;
pub mod test_roll;
pub mod tolerance;
mod whole;
pub mod wording;
pub mod words;

pub use error::Error;
pub use whole::{Costs, Examined, Inspection, ReferencedRun, examine};
