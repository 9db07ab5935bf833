//! What the pages on seals and on stray light show.
//!
//! Not here: the file's own shapes ([`crate::v1`]).

use shape::Shape;

use super::{Choice, Drawing};

/// The seals: the drawing, its places, what follows.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LightTightView {
    /// The open back with what was found.
    pub drawing: Drawing,
    /// Side of the hinge.
    pub hinge: String,
    /// Sides that the hinge can be on; empty where there is none.
    pub hinges: Vec<Choice>,
    /// Feels to choose from.
    pub feels: Vec<Choice>,
    /// Residues to choose from.
    pub residues: Vec<Choice>,
    /// What the lamp can show.
    pub lamps: Vec<Choice>,
    /// The places in order.
    pub places: Vec<PlaceView>,
    /// `3 of 8 seals felt`.
    pub progress: String,
    /// What the lamp showed, in short: `not yet`.
    pub lamp_words: String,
    /// What to fit, a line each.
    pub replace: Vec<String>,
    /// The caution before anything is washed off, or empty.
    pub caution: String,
    /// Where round and look differ, a sentence each.
    pub notices: Vec<String>,
}

/// A place of the open back.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PlaceView {
    /// Key.
    pub key: String,
    /// Its number on the drawing.
    pub number: String,
    /// Name in a few words.
    pub name: String,
    /// Key of the catalogue's point.
    pub point: String,
    /// Key of that point's area.
    pub area: String,
    /// Whether there is something to be pressed.
    pub pressed: bool,
    /// Whether light can be looked for here.
    pub shows_light: bool,
    /// Key of the feel, or empty.
    pub feel: String,
    /// Key of the residue, or empty.
    pub residue: String,
    /// Key of what the lamp showed, or empty.
    pub lamp: String,
    /// `worn`, `light comes out here`.
    pub condition_words: String,
    /// The risk in a sentence, or empty.
    pub risk: String,
    /// What to fit, or empty.
    pub replace: String,
    /// Left on the drawing.
    pub x: f64,
    /// Top on the drawing.
    pub y: f64,
    /// Right on the drawing.
    pub x2: f64,
    /// Bottom on the drawing.
    pub y2: f64,
}

/// A leak's light, as typed.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct DoseAsked {
    /// Illuminance on the film in lux.
    pub illuminance: String,
    /// Its standard uncertainty in stops; empty for the usual one.
    pub doubt: String,
    /// Key of the light in which that was found, see `lights`; empty where it is not known.
    pub found_in: String,
    /// Film speed as marked.
    pub film_speed: String,
    /// How long the camera lies, in minutes; may be empty.
    pub minutes: String,
}

/// How long film may lie before fog shows.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Dose {
    /// Exposure at which fog begins to show, in lux seconds.
    pub fog_exposure_lx_s: f64,
    /// Illuminance on the film in lux.
    pub illuminance_lux: f64,
    /// Its standard uncertainty in stops.
    pub standard_uncertainty_stops: f64,
    /// Film speed, ISO arithmetic.
    pub film_speed: f64,
    /// Time until fog shows, in seconds.
    pub time_s: f64,
    /// Lower end of its 95 % interval in seconds: the time to keep to.
    pub time_low_s: f64,
    /// Upper end in seconds.
    pub time_high_s: f64,
    /// `30 min`.
    pub time_words: String,
    /// `keep below 5 min; above 3 h it shows`.
    pub doubt_words: String,
    /// The same leak in other lights; empty where the light in which it was found is not known.
    pub lights: Vec<DoseInLight>,
    /// What a stated time comes to, or `null`.
    pub after: Option<DoseAfter>,
    /// What has to be known, a sentence each.
    pub notices: Vec<String>,
}

/// The same leak in another light.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct DoseInLight {
    /// Key of the light.
    pub key: String,
    /// `in the sun`.
    pub words: String,
    /// Illuminance outside in lux.
    pub outside_lux: f64,
    /// Illuminance on the film in lux.
    pub on_film_lux: f64,
    /// Time until fog shows, in seconds.
    pub time_s: f64,
    /// Lower end of its 95 % interval in seconds.
    pub time_low_s: f64,
    /// Upper end in seconds.
    pub time_high_s: f64,
    /// `30 min`.
    pub time_words: String,
    /// The time to keep to: `5 min`.
    pub low_words: String,
}

/// The other way round: what a stated time comes to.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct DoseAfter {
    /// The time in seconds.
    pub time_s: f64,
    /// Dose in lux seconds.
    pub dose_lx_s: f64,
    /// How far it lies above the exposure at which fog begins to show, in stops.
    pub above_fog_stops: f64,
    /// Illuminance on the film that begins to show after that time, in lux.
    pub fogging_lux: f64,
    /// A sentence.
    pub sentence: String,
}

/// Where light comes out in a photo.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LeakPicture {
    /// Marks over the picture, in its pixels.
    pub drawing: Drawing,
    /// How many spots there are.
    pub spots: usize,
    /// `Two spots: light comes out here.`.
    pub words: String,
    /// What has to be known, a sentence each.
    pub notices: Vec<String>,
}
