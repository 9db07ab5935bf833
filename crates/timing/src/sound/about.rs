//! What the person says about the camera and the take before it is measured.
//!
//! Not here: marks on a dial; the times here are exact ones in seconds.

use metrology::Estimate;

use crate::error::Error;

/// The kind of shutter, as far as its sound goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shutter {
    /// Cloth curtains that run along the long side of the frame.
    Cloth,
    /// Metal blades or curtains that run along the short side.
    Metal,
    /// Blades in the lens.
    Leaf,
}

impl Shutter {
    /// Every kind.
    pub const ALL: [Shutter; 3] = [Shutter::Cloth, Shutter::Metal, Shutter::Leaf];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Shutter::Cloth => "cloth",
            Shutter::Metal => "metal",
            Shutter::Leaf => "leaf",
        }
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Shutter::Cloth => "cloth curtains",
            Shutter::Metal => "metal blades",
            Shutter::Leaf => "leaf shutter",
        }
    }

    /// The kind with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|shutter| shutter.key() == key)
    }
}

/// One slow marked time that was measured by light or video: it tells the whole series where its zero lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Anchor {
    /// The exact value of the mark \[s\].
    pub marked_s: f64,
    /// What light or video gave \[s\].
    pub time: Estimate,
}

/// What is known before measuring.
#[derive(Clone, Debug, PartialEq)]
pub struct About {
    /// The kind of shutter.
    pub shutter: Shutter,
    /// Whether a mirror moves at each shot (and is not locked up).
    pub mirror: bool,
    /// The exact marked times in the order of shooting \[s\]; empty where they are not known.
    pub marked_s: Vec<f64>,
    /// A slow time measured by light or video.
    pub anchor: Option<Anchor>,
}

/// Shortest and longest marked time that is taken in \[s\].
pub const SHORTEST_MARKED_S: f64 = 1e-5;
/// Longest marked time that is taken in \[s\].
pub const LONGEST_MARKED_S: f64 = 600.0;
/// The most marked times of one take.
pub const MOST_MARKED: usize = 500;

impl About {
    pub(super) fn check(&self) -> Result<(), Error> {
        if self.marked_s.len() > MOST_MARKED {
            return Err(Error::new(format!(
                "one take may have {MOST_MARKED} marked times at most, and {} were given",
                self.marked_s.len()
            )));
        }
        let all = self.marked_s.iter().copied().chain(self.anchor.map(|anchor| anchor.marked_s));
        for marked_s in all {
            if !(SHORTEST_MARKED_S..=LONGEST_MARKED_S).contains(&marked_s) {
                return Err(Error::new(format!(
                    "a marked time must be between {SHORTEST_MARKED_S} s and {LONGEST_MARKED_S} s, and {marked_s} s was given"
                )));
            }
        }
        if let Some(anchor) = self.anchor
            && anchor.time.value() <= 0.0
        {
            return Err(Error::new(format!(
                "the time measured by light or video must be above 0 s, and {} s was given",
                anchor.time.value()
            )));
        }
        Ok(())
    }
}
