//! The inspection file and every plain shape that crosses a border: the only crate that knows JSON.
//!
//! Rooms: [`v1`], the shape of the file; [`page`], what is handed over to be shown; `json`, texts and shapes; `read`, `write`, [`schema_text`], [`limits`]
//! and [`check`] for the file; `measure` and `clip`, from signals to takes; `photo` and `sky`, to light that is already there; `aperture`, from pictures to openings; `film`, from strips to the test roll; `compare`, two inspections side by side; [`table`], flat rows for other programs; `fingerprint`; [`shell`], the shell's answers as JSON; `convert`, the only way between these shapes and the domain; [`migrate`], the ladder between versions. The
//! free functions here are what the bridge, the shell and the tests call.
//!
//! Not here: any judgement (`inspection`), any clock: the time is handed in as text.

mod aperture;
mod bridge;
mod check;
mod clip;
mod compare;
mod convert;
mod dose;
mod error;
mod film;
mod fingerprint;
mod hand;
mod json;
mod leak;
pub mod limits;
mod measure;
pub mod migrate;
pub mod page;
mod photo;
mod read;
mod scan;
mod schema;
pub mod shell;
mod sky;
pub mod table;
mod time;
mod unknown;
pub mod v1;
mod walk;
mod write;

pub use aperture::{
    find_hole, find_opening, glare_sample, guess_openings, measure_glare, picture_about, picture_factor, picture_strip,
};
pub use bridge::{accept, judge, lists, new_inspection, places, preview_level, sheet, view, work_out};
pub use check::{Checked, check};
pub use clip::{frame_strips, measure_frames, movie_box, read_movie};
pub use compare::{compare, inspect_again};
pub use convert::Examination;
pub use dose::{dose, dose_by_numbers};
pub use error::Error;
pub use film::{film_factor, film_masked, lay_out_wall, read_blank, read_wall};
pub use fingerprint::fingerprint;
pub use hand::{handed, taken};
pub use json::Value;
pub use leak::leak_picture;
pub use measure::{listen, measure_recording, measure_wav};
pub use photo::{calibrate_phone, calibration_history, patch_difference, photo_head, photo_light, photo_strip};
pub use read::read_file;
pub use schema::schema_text;
pub use sky::{cities, lamp_view, sun_view};
pub use time::moment;
pub use write::{file_name, same, write_bench, write_file};

/// Program and version, as written into files and printed on sheets.
pub const PROGRAM: &str = concat!("lampblack ", env!("CARGO_PKG_VERSION"));
