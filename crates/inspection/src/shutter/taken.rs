//! What was caught of a shutter: takes and their shots, put against marked times.
//!
//! Not here: how a shot is found in a signal (`timing`), what the shots come to ([`super::judge`]).

use metrology::Estimate;
use photometry::TimeMark;
use timing::State;

/// How a shutter is built, which decides what its sound tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Build {
    /// Curtains of cloth that run across the long side.
    Cloth,
    /// Curtains or blades of metal in the focal plane.
    Metal,
    /// Blades between or behind the lenses.
    Leaf,
}

impl Build {
    /// Every build, in the order in which they are offered.
    pub const ALL: [Build; 3] = [Build::Cloth, Build::Metal, Build::Leaf];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Build::Cloth => "cloth",
            Build::Metal => "metal",
            Build::Leaf => "leaf",
        }
    }

    /// The trade's words.
    pub const fn words(self) -> &'static str {
        match self {
            Build::Cloth => "Cloth curtains",
            Build::Metal => "Metal curtains or blades at the film",
            Build::Leaf => "Leaf shutter in the lens",
        }
    }

    /// A line that helps to choose.
    pub const fn help(self) -> &'static str {
        match self {
            Build::Cloth => "open the back: cloth that runs sideways",
            Build::Metal => "open the back: metal that runs up or down, or sideways",
            Build::Leaf => "nothing at the film; thin blades inside the lens",
        }
    }

    /// The build with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|build| build.key() == key)
    }
}

/// What a shutter was measured by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// A photocell in the film gate.
    Light,
    /// A clip of the lit gate.
    Video,
    /// Its sound.
    Sound,
}

impl Signal {
    /// Every signal, the best first.
    pub const ALL: [Signal; 3] = [Signal::Light, Signal::Video, Signal::Sound];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Signal::Light => "light",
            Signal::Video => "video",
            Signal::Sound => "sound",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            Signal::Light => "Light, by a photocell",
            Signal::Video => "Video, by this phone's camera",
            Signal::Sound => "Sound, by the microphone",
        }
    }

    /// `by sound`.
    pub const fn by(self) -> &'static str {
        match self {
            Signal::Light => "by light",
            Signal::Video => "by video",
            Signal::Sound => "by sound",
        }
    }

    /// What it is good for, in a line.
    pub const fn help(self) -> &'static str {
        match self {
            Signal::Light => "the reference: 4 s to 1/4000; needs a photocell on the microphone input",
            Signal::Video => "4 s to 1/60, faster ones roughly; needs nothing but the phone and a lamp",
            Signal::Sound => "screening: slow times to 1/250; says “cannot tell” where sound ends",
        }
    }

    /// The signal with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|signal| signal.key() == key)
    }
}

/// What is timed besides marked times.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Special {
    /// Held open and let go.
    Bulb,
    /// From pressing to the release.
    SelfTimer,
}

impl Special {
    /// Both.
    pub const ALL: [Special; 2] = [Special::Bulb, Special::SelfTimer];

    /// The key in a file, where a mark would stand.
    pub const fn key(self) -> &'static str {
        match self {
            Special::Bulb => "bulb",
            Special::SelfTimer => "self-timer",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            Special::Bulb => "Bulb, held and let go",
            Special::SelfTimer => "Self-timer, from the press to the release",
        }
    }

    /// The one with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|special| special.key() == key)
    }
}

/// What a shot counts for.
#[derive(Clone, Debug)]
pub enum CountsFor {
    /// A marked time.
    Mark(TimeMark),
    /// Bulb or self-timer.
    Special(Special),
    /// Nothing: it stands in the take only.
    Nothing,
}

/// One shot that the person did not leave out.
#[derive(Clone, Debug)]
pub struct TakenShot {
    /// What it counts for.
    pub counts_for: CountsFor,
    /// Effective time [s]; `None` where it cannot be told.
    pub time: Option<Estimate>,
    /// The part of its doubt that all shots of the take share [s].
    pub shared_s: f64,
    /// How far its time may be trusted.
    pub state: State,
    /// Whether it is clear which mark it belongs to, by the order of the shots or by the person's word.
    pub mark_sure: bool,
    /// From a series of sounds: opening to closing without the common offset [s].
    pub interval_s: Option<f64>,
    /// Exposure at the far end of the gate over the near end [stops], where both were measured.
    pub taper: Option<Estimate>,
    /// Exposure that a bounce adds [s].
    pub bounce_s: Option<f64>,
}

impl TakenShot {
    /// How far the time may be trusted as that of its mark: a good time at a doubtful mark only indicates.
    pub fn trust(&self) -> State {
        if self.mark_sure { self.state } else { self.state.min(State::Indicative) }
    }
}

/// One recording or clip.
#[derive(Clone, Debug)]
pub struct Take {
    /// What it was measured by.
    pub signal: Signal,
    /// The shots that count.
    pub shots: Vec<TakenShot>,
}

/// Exposure at the last place of the gate over the first, `log2(t_last/t_first)` \[stops\]; `None` where fewer than two were
/// measured or one of them got nothing.
pub fn taper(places: &[Estimate]) -> Option<Estimate> {
    let [first, .., last] = places else { return None };
    if first.value() <= 0.0 || last.value() <= 0.0 {
        return None;
    }
    let relative = |time: &Estimate| time.standard_uncertainty() / time.value() / core::f64::consts::LN_2;
    let stops = libm::log2(last.value() / first.value());
    Estimate::new(stops, libm::hypot(relative(first), relative(last)), f64::INFINITY).ok()
}
