//! A phone's screen as a lamp: fields of black and white device pixels whose white share halves from step to step, so that each
//! step is one stop whatever the screen's gamma.
//!
//! *Known exactly:* how many device pixels are white, and so the ratio of two steps on a screen whose black is black. *Not known:*
//! the level of full white, until a trusted meter has read it once; and what the screen adds on its own (black that is none,
//! dimming by content, edges of cells), which is in the doubt of each step. *Use:* the camera stands close, its lens set to
//! infinity, so that the pattern is blurred away. Not here: putting pixels on a screen (the page).

mod level;
mod pattern;

pub use level::{ScreenKind, ScreenLevel, screen_light, step_doubt};
pub use pattern::{CELL_PX, SCREEN_STEPS, ScreenStep, TILE_PX, field_size};
