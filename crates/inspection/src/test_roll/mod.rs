//! The test roll: half an hour at the camera, a wait for the film, and what its strips tell about light that gets in and about the
//! evenness of the shutter.
//!
//! Three blank frames tell the ways in apart, for each is lit from elsewhere; a wall tells evenness. Sides of the camera follow from
//! how the strip lies on its photo ([`Lies`]) and from where the hinge is. Not here: measuring a photo (`imaging::fog`,
//! `imaging::evenness`), where a place lies on the drawing ([`crate::drawing::back`]), what it comes to for the camera
//! ([`crate::outcome`]).

mod judge;
mod letters;
mod place;
mod steps;
mod wall;

#[cfg(test)]
mod tests;

use imaging::evenness::Evenness;
use imaging::fog::{Fog, Lies};
use photometry::TimeMark;

use crate::camera::Kind;
use crate::drawing::Drawing;
use crate::drawing::back::{self, BackMark, Side};
use crate::light_tight::Seen;

pub use judge::{Call, Judgement, Told, judge};
pub use letters::{density_of, letters};
pub use place::{gate_side, place_of};
pub use steps::{Step, frame_number, steps};
pub use wall::{WallCall, WallTold};

/// A blank frame, by what was lit while it lay in the gate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Frame {
    /// Lens capped, door shut, turned in bright light.
    Closed,
    /// Lens open, shutter not released, bright light on the lens.
    LensOpen,
    /// Lens capped, shutter open, bright light on finder and mount.
    Bulb,
}

impl Frame {
    /// Every blank frame, in the order they are taken.
    pub const ALL: [Frame; 3] = [Frame::Closed, Frame::LensOpen, Frame::Bulb];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Frame::Closed => "closed",
            Frame::LensOpen => "lens-open",
            Frame::Bulb => "bulb",
        }
    }

    /// In a few words.
    pub const fn words(self) -> &'static str {
        match self {
            Frame::Closed => "closed, in bright light",
            Frame::LensOpen => "light on the lens, shutter shut",
            Frame::Bulb => "light on finder and mount, shutter open",
        }
    }

    /// What it looks for.
    pub const fn looks_for(self) -> &'static str {
        match self {
            Frame::Closed => "door, hinge, latch, window",
            Frame::LensOpen => "holes in the shutter, mirror box, mount",
            Frame::Bulb => "foam under the finder, mount",
        }
    }

    /// The frame with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|frame| frame.key() == key)
    }
}

/// The words for how a strip lies.
pub const fn lies_words(lies: Lies) -> &'static str {
    match lies {
        Lies::PictureUpright => "pictures upright, writing reads normally",
        Lies::AsInCamera => "pictures upside down, writing reads normally",
        Lies::PictureMirrored => "pictures upright, writing reads mirror-wise",
        Lies::MirroredUpsideDown => "pictures upside down, writing reads mirror-wise",
        Lies::Unknown => "not known",
    }
}

/// A blank frame that was photographed. Sides and parts of `fog` are those of the photo, as if it lay as in the camera.
#[derive(Clone, Debug, PartialEq)]
pub struct Blank {
    /// Which frame.
    pub frame: Frame,
    /// How the strip lies on the photo.
    pub lies: Lies,
    /// What the photo shows.
    pub fog: Fog,
    /// What has to be known about it, a sentence each.
    pub notes: Vec<String>,
}

/// A wall that was photographed.
#[derive(Clone, Debug, PartialEq)]
pub struct Wall {
    /// The marked time that it was exposed at, where it was entered.
    pub mark: Option<TimeMark>,
    /// What the frames show.
    pub evenness: Evenness,
}

/// Everything that was entered about a test roll.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Roll {
    /// Keys of the steps that are ticked off.
    pub ticked: Vec<String>,
    /// The day that it was exposed, as text; empty before that.
    pub exposed: String,
    /// Blank frames, in the order they were photographed.
    pub blanks: Vec<Blank>,
    /// Walls.
    pub walls: Vec<Wall>,
}

/// How far a test roll is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// Nobody began one.
    NotBegun,
    /// It is in the camera.
    AtTheCamera,
    /// It is exposed, and the film is not back yet.
    Waiting,
    /// Strips were photographed.
    Read,
}

impl State {
    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            State::NotBegun => "not_begun",
            State::AtTheCamera => "at_the_camera",
            State::Waiting => "waiting",
            State::Read => "read",
        }
    }
}

impl Roll {
    /// How far it is.
    pub fn state(&self) -> State {
        if !self.blanks.is_empty() || !self.walls.is_empty() {
            State::Read
        } else if !self.exposed.is_empty() {
            State::Waiting
        } else if !self.ticked.is_empty() {
            State::AtTheCamera
        } else {
            State::NotBegun
        }
    }
}

/// The open back with what was found at the seals, and marked where the roll points.
pub fn drawing(kind: Kind, hinge: Side, seen: &[Seen], judgement: &Judgement) -> Drawing {
    let mut marks = crate::light_tight::marks(seen);
    marks.extend(judgement.suspected().map(|place| (place, BackMark::Suspected)));
    back::back(kind, hinge, &marks)
}
