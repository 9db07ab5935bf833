//! What a meter is held against: the kinds of reference with the doubts they bring, in one table.
//!
//! Two doubts are kept apart: the one that is new at every level, and the one that all levels of a run share (the
//! calibration of that meter or lamp), which does not average away. Not here: how they enter the fit ([`crate::meter`]).

use photometry::{C_DEFAULT, K_DEFAULT, Stops, incident_to_card_difference};

use crate::words;

/// How the light of a level can be entered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Time, f-number and film speed that the reference says.
    Setting,
    /// EV at ISO 100.
    Ev,
    /// Illuminance in lux.
    Illuminance,
    /// Luminance in cd/m².
    Luminance,
    /// A word for the sky.
    Sky,
}

impl Way {
    /// Every way.
    pub const ALL: [Way; 5] = [Way::Setting, Way::Ev, Way::Illuminance, Way::Luminance, Way::Sky];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Way::Setting => "setting",
            Way::Ev => "ev",
            Way::Illuminance => "illuminance",
            Way::Luminance => "luminance",
            Way::Sky => "sky",
        }
    }

    /// The way with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|way| way.key() == key)
    }
}

/// What the camera's meter looks at when a lux reading is the reference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// The camera's reading is held against the incident equation with C.
    Incident,
    /// The camera reads a grey card of 18 % in that light, and the reflected equation with K holds.
    Card18,
}

impl Surface {
    /// Both, the usual one first.
    pub const ALL: [Surface; 2] = [Surface::Card18, Surface::Incident];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Surface::Incident => "incident",
            Surface::Card18 => "card_18",
        }
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Surface::Incident => "an average scene in that light",
            Surface::Card18 => "an 18 % grey card in that light",
        }
    }

    /// A line of help.
    pub const fn help(self) -> &'static str {
        match self {
            Surface::Incident => "lux to EV by the incident constant, C = 250",
            Surface::Card18 => "lux to luminance by the card, to EV by the reflected constant, K = 12.5",
        }
    }

    /// The surface with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|surface| surface.key() == key)
    }
}

/// What anybody must know who works with the sun.
pub const SUN_CAUTION: &str =
    "Never look at the sun through a finder or a lens, and never lay an open camera down facing it.";

/// Reflectance of the usual grey card.
pub const CARD_REFLECTANCE: f64 = 0.18;

/// A kind of reference and the doubts it brings by default.
#[derive(Debug, PartialEq)]
pub struct ReferenceKind {
    /// The key in a file.
    pub key: &'static str,
    /// The words at the bench.
    pub words: &'static str,
    /// How to use it, in a line.
    pub help: &'static str,
    /// Standard uncertainty that is new at every level [stops].
    pub each_stops: f64,
    /// Standard uncertainty that all levels share [stops].
    pub shared_stops: f64,
    /// Why those.
    pub why: &'static str,
    /// What would make them smaller, about by half.
    pub better: &'static str,
    /// How a level can be entered, the usual way first.
    pub ways: &'static [Way],
    /// The caution where there is one, else empty.
    pub caution: &'static str,
}

/// Every kind of reference, the best first. The default doubts are common practice unless a row says otherwise.
pub const REFERENCE_KINDS: [ReferenceKind; 8] = [
    ReferenceKind {
        key: "lamp",
        words: "A lamp or standard of known luminance",
        help: "Point the camera's meter at the evenly lit field and enter its cd/m² or EV.",
        each_stops: 0.03,
        shared_stops: 0.05,
        why: "its certificate; take the figures printed there where they are larger",
        better: "a newer certificate",
        ways: &[Way::Luminance, Way::Ev],
        caution: "",
    },
    ReferenceKind {
        key: "lux",
        words: "A lux reading from an instrument",
        help: "Lay the instrument's receptor where the target is, facing as the target faces.",
        each_stops: 0.05,
        shared_stops: 0.15,
        why: "a ±10 % class is ±0.14 stop, and the constant C is a choice within its permitted range",
        better: "an instrument of a better class, or its certificate beside the reading",
        ways: &[Way::Illuminance],
        caution: "",
    },
    ReferenceKind {
        key: "meter",
        words: "Another exposure meter, recently checked",
        help: "Read the same evenly lit target with both, from the same place.",
        each_stops: 0.10,
        shared_stops: 0.10,
        why: "the step of its scale and its calibration",
        better: "have it checked against a lamp of known luminance, and read its scale to a tenth",
        ways: &[Way::Setting, Way::Ev],
        caution: "",
    },
    ReferenceKind {
        key: "camera",
        words: "Another camera known to be good",
        help: "Fill both finders with the same evenly lit target.",
        each_stops: 0.15,
        shared_stops: 0.20,
        why: "common practice",
        better: "hold it against a trusted meter first",
        ways: &[Way::Setting, Way::Ev],
        caution: "",
    },
    ReferenceKind {
        key: "photo",
        words: "A photo taken with this phone",
        help: "Photograph the target that the camera sees with the phone's own camera app, from beside it; the page reads the light \
               out of the original file.",
        each_stops: 0.20,
        shared_stops: 0.45,
        why: "phones that were never calibrated differ by half a stop and more; calibrated once, the meter that did it counts",
        better: "calibrate the phone once beside a trusted meter: the shared doubt then is about the meter's own",
        ways: &[Way::Ev, Way::Luminance],
        caution: "",
    },
    ReferenceKind {
        key: "screen",
        words: "A phone's screen as a lamp",
        help: "Camera close to the screen, lens at infinity; the pattern gives steps of exactly one stop below full white.",
        each_stops: 0.05,
        shared_stops: 0.30,
        why: "the steps are counted in pixels; full white is as sure as the meter that read it once, and a stop at best if none did",
        better: "read full white once with a trusted meter; then the steps are as sure as that",
        ways: &[Way::Ev, Way::Luminance],
        caution: "",
    },
    ReferenceKind {
        key: "daylight",
        words: "Sun and sky, computed",
        help: "Outside, nothing in the sun's way: time, place, sky and surface give the light that falls on the target.",
        each_stops: 0.20,
        shared_stops: 0.30,
        why: "two published models against each other, and haze; under clouds or a low sun take the larger doubt that is computed",
        better: "wait for a clear sky and a sun above 30°, and use it only for the level in full sun",
        ways: &[Way::Illuminance, Way::Ev],
        caution: SUN_CAUTION,
    },
    ReferenceKind {
        key: "sunny_16",
        words: "Sunny 16, by eye",
        help: "Outside, two hours after sunrise to two before sunset, target lit from the front: choose the word for the sky.",
        each_stops: 0.30,
        shared_stops: 0.40,
        why: "the word for the sky is a matter of judgement",
        better: "compute the sun and the sky instead, or borrow a meter for one reading",
        ways: &[Way::Sky],
        caution: SUN_CAUTION,
    },
];

impl ReferenceKind {
    /// The kind with this key.
    pub fn from_key(key: &str) -> Option<&'static Self> {
        REFERENCE_KINDS.iter().find(|kind| kind.key == key)
    }

    /// What has to be known about constants and cards for this kind, or an empty text: shown, never hidden in an offset.
    pub fn constants(&self) -> String {
        match self.key {
            "lux" | "daylight" => incident_constants(),
            "screen" => {
                "Each step halves the share of white pixels, exactly; only full white has to be read once by a trusted \
                 meter, with the brightness set by hand. Without that a run tells slope and consistency, no offset."
                    .to_owned()
            }
            "lamp" => "cd/m² become EV by K = 12.5; a maker who took K = 14 calibrated 0.16 stop apart.".to_owned(),
            "sunny_16" => {
                "The EV beside each word are those of ANSI PH2.7; f/16 at 1/speed taken literally is EV 14.6, \
                           0.4 stop below its EV 15."
                    .to_owned()
            }
            _ => String::new(),
        }
    }
}

/// How far the incident equation and the reflected one of a grey card lie apart.
fn incident_constants() -> String {
    match incident_to_card_difference(K_DEFAULT, C_DEFAULT, CARD_REFLECTANCE) {
        Ok(difference) => format!(
            "An incident reading (C = 250) and a reflected reading of an 18 % card (K = 12.5) in the same light \
             differ by log2(π·12.5/(0.18·250)) = {} stop: the incident one is the {}.",
            words::plain(difference.value().abs(), 2),
            if difference.value() < 0.0 { "lower" } else { "higher" },
        ),
        Err(_) => String::new(),
    }
}

/// A reference as it was used in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Reference {
    /// Its kind.
    pub kind: &'static ReferenceKind,
    /// Standard uncertainty that is new at every level [stops].
    pub each: Stops,
    /// Standard uncertainty that all levels share [stops].
    pub shared: Stops,
    /// What the camera's meter looks at, for a lux reading.
    pub surface: Surface,
    /// The person's own words.
    pub note: String,
}

impl Reference {
    /// `A photo taken with this phone (each reading ±0.20, all together ±0.20 stop)`.
    pub fn words(&self) -> String {
        format!("{} ({})", self.kind.words, self.doubts())
    }

    /// `each reading ±0.20, all together ±0.20 stop`: both doubts as expanded uncertainties at 95 %.
    pub fn doubts(&self) -> String {
        let twice = |doubt: Stops| words::plain(doubt.value() * metrology_factor(), 2);
        format!("each reading ±{}, all together ±{} stop", twice(self.each), twice(self.shared))
    }
}

/// Coverage factor at 95 % for a doubt with no limit to its degrees of freedom.
fn metrology_factor() -> f64 {
    metrology::student_factor(0.95, f64::INFINITY).unwrap_or(1.96)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_lead_back_and_differ() {
        for kind in &REFERENCE_KINDS {
            assert_eq!(ReferenceKind::from_key(kind.key), Some(kind));
            assert!(kind.each_stops > 0.0 && kind.shared_stops >= kind.each_stops);
        }
        assert_eq!(ReferenceKind::from_key("guess"), None);
    }

    #[test]
    fn the_card_and_the_dome_differ_by_a_fifth_of_a_stop() {
        let text = ReferenceKind::from_key("lux").expect("a row").constants();
        assert!(text.contains("0.20 stop") && text.contains("lower"), "{text}");
    }
}
