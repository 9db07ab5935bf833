//! What a measurement of a take gives, whichever signal it came from: shots with their times and doubts, and notices.
//!
//! Not here: how a shot is found (`sound`, `light_trace`, `frames`); whether an error is allowed
//! (the crates above this one).

use metrology::Estimate;

/// How far a shot's time may be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    /// No time: the physics or the recording ends here.
    CannotTell,
    /// A time that one sound suggests; its doubt cannot be defended against a wrong pair of sounds.
    Indicative,
    /// A series gave it, and the shot's own sounds did not confirm it.
    Probable,
    /// Light, video, or a series of sounds that the shot's own pair confirms.
    Measured,
}

impl State {
    /// Every state, the least first.
    pub const ALL: [State; 4] = [State::CannotTell, State::Indicative, State::Probable, State::Measured];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            State::CannotTell => "cannot_tell",
            State::Indicative => "indicative",
            State::Probable => "probable",
            State::Measured => "measured",
        }
    }

    /// The word at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            State::CannotTell => "cannot tell",
            State::Indicative => "indicative",
            State::Probable => "probable",
            State::Measured => "measured",
        }
    }

    /// The state with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|state| state.key() == key)
    }
}

/// What has to be known about a shot or a take: a code for programs, a sentence for people.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Lower-case words with hyphens: `no-open-level`. Codes are for ever.
    pub code: &'static str,
    /// A sentence that a person at a bench can act on.
    pub text: String,
}

impl Notice {
    /// A notice.
    pub fn new(code: &'static str, text: impl Into<String>) -> Self {
        Self { code, text: text.into() }
    }
}

/// The time at one place of the frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// `left`, `middle`, `right` for strips; `first`, `second` for two sensors.
    pub position: &'static str,
    /// Time \[s\].
    pub time: Estimate,
}

/// Light that came in again after the shutter had closed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounce {
    /// From closing to the bounce \[s\].
    pub delay_s: f64,
    /// Its height over the open level.
    pub height: f64,
    /// The exposure it adds \[s at the open level\]; never part of the shot's time.
    pub extra_s: f64,
}

/// One release of the shutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Shot {
    /// Where it begins in the recording \[s\]: the opening; for sound the first curtain's start, or the first impact heard.
    pub start_s: f64,
    /// Effective time (ISO 516) in the middle of the frame \[s\]; `None` where it cannot be told.
    pub time: Option<Estimate>,
    /// The part of that time's standard uncertainty \[s\] that shots of the same take share, so that repeating does not average
    /// it away; the rest is each shot's own. 0 where nothing is known to be shared.
    pub systematic_s: f64,
    /// How far it may be trusted.
    pub state: State,
    /// Which of the marked times handed in it was put against: an index into that list.
    pub marked: Option<usize>,
    /// Times that would also fit, where one of them cannot be told from the others \[s\].
    pub candidates_s: Vec<f64>,
    /// Times at several places of the frame.
    pub places: Vec<Place>,
    /// How long each curtain travelled, first and second \[s\], where both were seen or heard.
    pub travel_s: Option<(f64, f64)>,
    /// From the series: opening to closing without the common offset \[s\]; with an anchor, time = interval + offset.
    pub interval_s: Option<f64>,
    /// Moments of impacts or edges \[s in the recording\], so that the shot can be looked at again without the recording.
    pub events_s: Vec<f64>,
    /// A bounce after the closing.
    pub bounce: Option<Bounce>,
    /// What has to be known about it.
    pub notices: Vec<Notice>,
}

impl Shot {
    /// A shot that begins at `start_s` and of which nothing more is known.
    pub fn at(start_s: f64) -> Self {
        Self {
            start_s,
            time: None,
            systematic_s: 0.0,
            state: State::CannotTell,
            marked: None,
            candidates_s: Vec::new(),
            places: Vec::new(),
            travel_s: None,
            interval_s: None,
            events_s: Vec::new(),
            bounce: None,
            notices: Vec::new(),
        }
    }

    /// Whether a notice with this code is there.
    pub fn has(&self, code: &str) -> bool {
        self.notices.iter().any(|notice| notice.code == code)
    }
}

/// Everything that was found in one recording or clip.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Take {
    /// The shots in the order of time.
    pub shots: Vec<Shot>,
    /// What has to be known about the take as a whole.
    pub notices: Vec<Notice>,
    /// Time constants of the coupling of the input \[s\], for a light trace.
    pub coupling_s: Vec<f64>,
    /// For a series of sounds: the common offset \[s\] that was added to every interval.
    pub offset_s: Option<f64>,
    /// For frames: interval between frames \[s\].
    pub frame_interval_s: Option<f64>,
}

impl Take {
    /// Whether a notice with this code is there.
    pub fn has(&self, code: &str) -> bool {
        self.notices.iter().any(|notice| notice.code == code)
    }
}
