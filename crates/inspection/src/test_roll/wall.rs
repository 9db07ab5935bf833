//! What an evenly lit wall tells about the shutter: even, uneven, or not to be told.
//!
//! *Limits:* a third of a stop end to end, ripples of 0.08 stop, a drop of 0.3 stop at an end; set by what shows in even tones
//! (common practice), each beyond its own doubt. Not here: measuring it (`imaging::evenness`).

use super::Wall;
use crate::words;

/// What may differ from end to end, and from where it is a fault \[stops\].
const TAPER: f64 = 0.3;
const FAULT: f64 = 0.7;
/// Ripples: what may be, and what a phone's own processing makes of an even frame \[stops\].
const BAND: f64 = 0.08;
const BAND_DOUBT: f64 = 0.04;
/// A drop at an end that is a shutter closing too early \[stops\].
const DROP: f64 = -0.3;

/// What a wall comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallCall {
    /// Even within its limits.
    Even,
    /// Uneven beyond doubt.
    Uneven,
    /// So uneven that the shutter is at fault.
    Fault,
    /// Not to be told.
    CannotTell,
}

impl WallCall {
    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            WallCall::Even => "within",
            WallCall::Uneven | WallCall::Fault => "outside",
            WallCall::CannotTell => "cannot_tell",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            WallCall::Even => "even",
            WallCall::Uneven => "uneven",
            WallCall::Fault => "badly uneven",
            WallCall::CannotTell => "cannot tell",
        }
    }
}

/// A wall with what it tells.
#[derive(Clone, Debug, PartialEq)]
pub struct WallTold {
    /// What it comes to.
    pub call: WallCall,
    /// The marked time as said, or empty.
    pub mark: String,
    /// `0.4 ± 0.1 stop from end to end`.
    pub figure: String,
    /// What it tells, a sentence or two.
    pub sentence: String,
    /// What would settle it, or empty.
    pub settle: String,
}

pub(super) fn told(wall: &Wall) -> WallTold {
    let found = &wall.evenness;
    let (taper, doubt) = (found.taper_stops.abs(), 2.0 * found.standard_uncertainty_stops);
    let paired = found.wall_stops.is_some();
    let drops = found.end_drop_stops < DROP;
    let ripples = found.band_stops > BAND + BAND_DOUBT;
    let call = if drops || taper - doubt > FAULT {
        WallCall::Fault
    } else if taper - doubt > TAPER || ripples {
        WallCall::Uneven
    } else if taper + doubt <= TAPER && found.band_stops <= BAND {
        WallCall::Even
    } else {
        WallCall::CannotTell
    };
    let mark = wall.mark.as_ref().map_or_else(String::new, photometry::TimeMark::label);
    let figure = format!("{} ± {} stop from end to end", words::plain(taper, 2), words::plain(doubt, 2));
    let at = if mark.is_empty() { "The wall".to_owned() } else { format!("The wall at {mark}") };
    let mut sentence = match call {
        WallCall::Even => format!("{at}: even. {figure}."),
        WallCall::Uneven | WallCall::Fault if taper - doubt > TAPER => {
            format!("{at}: one end of the travel gets more light than the other, {figure}.")
        }
        _ => format!("{at}: {figure}."),
    };
    if drops {
        sentence.push_str(" One end drops off: the second curtain overtakes the first there.");
    }
    if ripples {
        sentence.push_str(&format!(" Ripples of ±{} stop run across it.", words::plain(found.band_stops, 2)));
    }
    if call == WallCall::CannotTell {
        sentence.push_str(" Whether that is the shutter cannot be told.");
    }
    let settle = match call {
        WallCall::CannotTell if !paired => "The same wall with the camera upside down would tell it from the shutter.",
        WallCall::CannotTell => "A second roll, or the times by light, would settle it.",
        _ => "",
    };
    WallTold { call, mark, figure, sentence, settle: settle.to_owned() }
}
