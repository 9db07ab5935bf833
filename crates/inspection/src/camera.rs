//! Who the camera is: its kind, what its meter shows, how finely a scale can be read, and the marks on its dials.
//!
//! Not here: what was found on it ([`crate::finding`]) and how its readings are judged ([`crate::meter`]).

use photometry::{FNumberMark, FilmSpeedMark, Stops, TimeMark};

/// The kinds of camera that the catalogue tells apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Mirror and prism or waist-level finder behind one lens.
    SingleLensReflex,
    /// Coupled or uncoupled rangefinder, lens usually interchangeable.
    Rangefinder,
    /// Lens built in, no reflex finder.
    FixedLensCompact,
    /// Viewing lens above taking lens.
    TwinLensReflex,
    /// Lens on a bellows that folds into the body.
    Folding,
    /// Sheet film, movements, separate lens and shutter.
    LargeFormat,
}

impl Kind {
    /// Every kind, in the order in which they are offered.
    pub const ALL: [Kind; 6] = [
        Kind::SingleLensReflex,
        Kind::Rangefinder,
        Kind::FixedLensCompact,
        Kind::TwinLensReflex,
        Kind::Folding,
        Kind::LargeFormat,
    ];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Kind::SingleLensReflex => "single_lens_reflex",
            Kind::Rangefinder => "rangefinder",
            Kind::FixedLensCompact => "fixed_lens_compact",
            Kind::TwinLensReflex => "twin_lens_reflex",
            Kind::Folding => "folding",
            Kind::LargeFormat => "large_format",
        }
    }

    /// The trade's words.
    pub const fn words(self) -> &'static str {
        match self {
            Kind::SingleLensReflex => "Single-lens reflex",
            Kind::Rangefinder => "Rangefinder",
            Kind::FixedLensCompact => "Fixed-lens compact",
            Kind::TwinLensReflex => "Twin-lens reflex",
            Kind::Folding => "Folding, with bellows",
            Kind::LargeFormat => "Large format",
        }
    }

    /// A line that helps to choose.
    pub const fn help(self) -> &'static str {
        match self {
            Kind::SingleLensReflex => "you look through the taking lens by a mirror",
            Kind::Rangefinder => "a patch in the finder is brought together to focus",
            Kind::FixedLensCompact => "the lens stays on and the finder is a window",
            Kind::TwinLensReflex => "one lens to look, one to take",
            Kind::Folding => "the lens folds away on a bellows",
            Kind::LargeFormat => "sheet film, ground glass, lens board",
        }
    }

    /// The kind with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }
}

/// How a camera says what its meter reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeterShows {
    /// There is no meter.
    Nothing,
    /// An f-number at a set time, or a time at a set f-number.
    Setting,
    /// A needle to be centred or matched.
    Needle,
    /// Lamps for over, right and under.
    Lamps,
    /// An exposure value.
    Ev,
    /// Only that there is enough light.
    EnoughLight,
}

impl MeterShows {
    /// Every way, in the order in which they are offered.
    pub const ALL: [MeterShows; 6] = [
        MeterShows::Setting,
        MeterShows::Needle,
        MeterShows::Lamps,
        MeterShows::Ev,
        MeterShows::EnoughLight,
        MeterShows::Nothing,
    ];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            MeterShows::Nothing => "none",
            MeterShows::Setting => "setting",
            MeterShows::Needle => "needle",
            MeterShows::Lamps => "lamps",
            MeterShows::Ev => "ev",
            MeterShows::EnoughLight => "enough_light",
        }
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            MeterShows::Nothing => "No meter",
            MeterShows::Setting => "A time or an f-number",
            MeterShows::Needle => "A needle to centre or match",
            MeterShows::Lamps => "Lamps: over, right, under",
            MeterShows::Ev => "An EV number",
            MeterShows::EnoughLight => "Only “enough light”",
        }
    }

    /// What is entered for it.
    pub const fn help(self) -> &'static str {
        match self {
            MeterShows::Nothing => "the meter check is left out",
            MeterShows::Setting => "enter both; between the marks in halves or thirds",
            MeterShows::Needle => "enter the setting at which the needle is right",
            MeterShows::Lamps => "enter the two settings between which the lamps change",
            MeterShows::Ev => "enter the number it shows",
            MeterShows::EnoughLight => "enter the setting at which the signal starts",
        }
    }

    /// The way with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.key() == key)
    }
}

/// How finely a scale can be read or set; the doubt of it is rectangular, `u = step/√12` (JCGM 100:2008, 4.3.7).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Resolution {
    /// Only the marks.
    Whole,
    /// Halves between marks.
    Half,
    /// Thirds between marks.
    Third,
    /// A ring or needle without clicks.
    Sixth,
    /// An EV display with one decimal.
    EvTenth,
    /// An EV display in whole numbers.
    EvWhole,
}

impl Resolution {
    /// Those of a scale with marks.
    pub const SCALES: [Resolution; 4] = [Resolution::Whole, Resolution::Half, Resolution::Third, Resolution::Sixth];
    /// Those of an EV display.
    pub const DISPLAYS: [Resolution; 2] = [Resolution::EvTenth, Resolution::EvWhole];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Resolution::Whole => "whole",
            Resolution::Half => "half",
            Resolution::Third => "third",
            Resolution::Sixth => "sixth",
            Resolution::EvTenth => "0.1",
            Resolution::EvWhole => "1",
        }
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Resolution::Whole => "marks only",
            Resolution::Half => "halves",
            Resolution::Third => "thirds",
            Resolution::Sixth => "moves freely",
            Resolution::EvTenth => "tenths of an EV",
            Resolution::EvWhole => "whole EV",
        }
    }

    /// A line of help.
    pub const fn help(self) -> &'static str {
        match self {
            Resolution::Whole => "resolution 1 stop",
            Resolution::Half => "resolution 1/2 stop",
            Resolution::Third => "resolution 1/3 stop",
            Resolution::Sixth => "resolution 1/6 stop",
            Resolution::EvTenth => "resolution 0.1 stop",
            Resolution::EvWhole => "resolution 1 stop",
        }
    }

    /// The resolution in stops.
    pub const fn step_stops(self) -> f64 {
        match self {
            Resolution::Whole | Resolution::EvWhole => 1.0,
            Resolution::Half => 0.5,
            Resolution::Third => 1.0 / 3.0,
            Resolution::Sixth => 1.0 / 6.0,
            Resolution::EvTenth => 0.1,
        }
    }

    /// The resolution with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::SCALES.into_iter().chain(Self::DISPLAYS).find(|resolution| resolution.key() == key)
    }
}

/// Who the camera is, as far as it was entered.
#[derive(Clone, Debug)]
pub struct Camera {
    /// Its kind, the only thing that must be known.
    pub kind: Kind,
    /// Maker as engraved, or empty.
    pub maker: String,
    /// Model as engraved, or empty.
    pub model: String,
    /// Serial number, or empty.
    pub serial: String,
    /// Marked times in dial order.
    pub times: Vec<TimeMark>,
    /// Whether it sets the time itself, without marks.
    pub stepless: bool,
    /// Whether it sets the f-number itself.
    pub automatic_aperture: bool,
    /// Marked f-numbers, wide to narrow.
    pub f_numbers: Vec<FNumberMark>,
    /// Lens as engraved, or empty.
    pub lens: String,
    /// Lens serial number, or empty.
    pub lens_serial: String,
    /// Lowest and highest film speed on the dial.
    pub film_speeds: Option<(FilmSpeedMark, FilmSpeedMark)>,
    /// What its meter shows; `None` where it was not entered.
    pub meter_shows: Option<MeterShows>,
    /// Battery wanted, or empty.
    pub battery_wanted: String,
    /// Battery fitted, or empty.
    pub battery_fitted: String,
    /// Voltage under load [V].
    pub battery_voltage_v: Option<f64>,
}

impl Camera {
    /// A camera of which only the kind is known.
    pub fn of_kind(kind: Kind) -> Self {
        Self {
            kind,
            maker: String::new(),
            model: String::new(),
            serial: String::new(),
            times: Vec::new(),
            stepless: false,
            automatic_aperture: false,
            f_numbers: Vec::new(),
            lens: String::new(),
            lens_serial: String::new(),
            film_speeds: None,
            meter_shows: None,
            battery_wanted: String::new(),
            battery_fitted: String::new(),
            battery_voltage_v: None,
        }
    }

    /// `Halden 35 R · 41 207`; the kind where no name was entered.
    pub fn title(&self) -> String {
        let mut name: String = [self.maker.trim(), self.model.trim()].join(" ").trim().to_owned();
        if name.is_empty() {
            name = format!("{}, not named yet", self.kind.words());
        }
        match self.serial.trim() {
            "" => name,
            serial => format!("{name} · {serial}"),
        }
    }

    /// Whether there is a meter to be checked; unknown counts as yes, since nobody said there is none.
    pub fn has_meter(&self) -> bool {
        self.meter_shows != Some(MeterShows::Nothing)
    }
}

/// `step²/12`, the variance of a reading that can be told to a step [stops²].
pub(crate) fn step_variance(step: Stops) -> f64 {
    step.value() * step.value() / 12.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_lead_back() {
        for kind in Kind::ALL {
            assert_eq!(Kind::from_key(kind.key()), Some(kind));
        }
        for way in MeterShows::ALL {
            assert_eq!(MeterShows::from_key(way.key()), Some(way));
        }
        for resolution in Resolution::SCALES.into_iter().chain(Resolution::DISPLAYS) {
            assert_eq!(Resolution::from_key(resolution.key()), Some(resolution));
        }
        assert_eq!(Kind::from_key("box"), None);
    }

    #[test]
    fn the_title_falls_back_to_the_kind() {
        let mut camera = Camera::of_kind(Kind::Folding);
        assert_eq!(camera.title(), "Folding, with bellows, not named yet");
        camera.maker = "Osk".into();
        camera.serial = "12".into();
        assert_eq!(camera.title(), "Osk · 12");
    }
}
