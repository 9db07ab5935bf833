//! When a shutter opened and closed, from nothing but its sound: a whole take ([`measure`]), and the last few seconds while it
//! goes on ([`listen`]).
//!
//! Sound marks where curtains start and stop at the edges of the frame, never the light in its middle; which impact is which has
//! to be inferred. So the first aim is never to state a wrong time as if it were sure ([`crate::State`]), the second to answer.
//!
//! Not here: light and video, which measure; microphones and files; marks on a dial, whose exact values are handed in.

mod about;
mod align;
mod anchor;
mod clusters;
mod curve;
mod doubt;
mod gate;
mod heard;
mod measure;
mod not_a_stop;
mod notices;
mod offset;
mod onsets;
mod pair;
mod picker;
mod prepared;
mod quality;
mod renumber;
mod rows;
mod series;
mod signal;
mod templates;
mod verdict;

pub use about::{About, Anchor, LONGEST_MARKED_S, MOST_MARKED, SHORTEST_MARKED_S, Shutter};
pub use heard::{Heard, Listening, listen};
pub use measure::measure;
pub use notices::ASSUMED_OFFSET;
