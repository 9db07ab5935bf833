//! Version 1 of the inspection file: plain data with its JSON names, field by field, with units in the names.
//!
//! Holds what a person entered (marked values as text, beside their numbers) and, under [`Worked`], what was worked out
//! from it. The same shapes are the file, the store and what crosses to the page.
//! Not here: any rule or arithmetic ([`inspection`]), the way between these shapes and the domain ([`crate::convert`]).
//!
//! Every key is always written; what was not entered is `null`, an empty text or an empty list. Times are RFC 3339 in UTC.

mod aperture;
mod film;
mod lens_measurements;
mod light_tight;
mod shutter;
mod test_roll;
mod wording;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

pub use aperture::{Aperture, ApertureResult, OddBladeResult, OpeningShot, StopResult};
pub use film::{Film, FilmCell, FilmError, FilmLatitude, FilmSentence, FilmVerdict};
pub use lens_measurements::{GlareMeasured, LensComparison, LensMeasurements};
pub use light_tight::{Derived, LightTight, LightTightResult, PlaceLook, PlaceResult};
pub use shutter::{Doubt, Shot, ShotPlace, Shutter, ShutterResult, Take, TimeResult, TimingNotice};
pub use test_roll::{RollFrame, RollFrameResult, RollStep, RollWall, RollWallResult, TestRoll, TestRollResult};
pub use wording::{EditedText, Said, Traced, Wording};

/// The value of `format` in an inspection file.
pub const FORMAT: &str = "lampblack-inspection";
/// The value of `format` in a bench backup.
pub const BENCH_FORMAT: &str = "lampblack-bench";
/// The value of `version`.
pub const VERSION: u32 = 1;

/// One camera taken through the check.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Inspection {
    /// Always `lampblack-inspection`.
    pub format: String,
    /// Always 1 in this shape.
    pub version: u32,
    /// UUID version 7, as text.
    pub id: String,
    /// Counts the changes, from 1.
    pub revision: u32,
    /// When it was begun.
    pub created: String,
    /// When it was last changed.
    pub updated: String,
    /// Program and version that wrote it.
    pub program: String,
    /// Who the camera is.
    pub camera: Camera,
    /// The lens on it.
    pub lens: Lens,
    /// The cells it wants and has.
    pub battery: Battery,
    /// The film in hand.
    pub film: Film,
    /// What was looked at; a point without an entry is not checked.
    pub findings: Vec<Finding>,
    /// The meter's readings and the consistency check.
    pub meter: Meter,
    /// The shutter's takes.
    pub shutter: Shutter,
    /// The openings at the marked f-numbers.
    pub aperture: Aperture,
    /// How much light the lens scatters.
    pub lens_measurements: LensMeasurements,
    /// What was found at the seals, by finger and by lamp.
    pub light_tight: LightTight,
    /// The test roll, as far as it is.
    pub test_roll: TestRoll,
    /// What mending would cost and what the camera is worth, if entered.
    pub costs: Costs,
    /// Free text.
    pub notes: String,
    /// Texts for the listing that the person changed.
    pub texts: Vec<EditedText>,
    /// The pictures; their data only where asked for.
    pub photos: Vec<Photo>,
    /// Keys that this version does not know, kept as they came.
    pub foreign: Vec<Foreign>,
    /// Everything that was worked out.
    pub result: Option<Worked>,
}

/// Who the camera is and what its dials carry.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Camera {
    /// Key of the kind, see `inspection::camera::Kind`; the only thing that must be entered.
    pub kind: String,
    /// Maker as engraved.
    pub maker: String,
    /// Model as engraved.
    pub model: String,
    /// Serial number as engraved.
    pub serial: String,
    /// `modern`, `old`, `stepless` or empty.
    pub time_series: String,
    /// The marked times, in dial order, slow to fast: `"1"`, `"1/125"`.
    pub times: Vec<String>,
    /// Lowest film speed on the dial, as marked.
    pub film_speed_lowest: String,
    /// Highest film speed on the dial, as marked.
    pub film_speed_highest: String,
    /// What the meter shows: key of `inspection::camera::MeterShows`, or empty.
    pub meter_shows: String,
    /// How finely its scale can be read between marks: `whole`, `half` or `third`, or empty.
    pub meter_between: String,
    /// `true` where the camera sets the f-number itself.
    pub automatic_aperture: bool,
}

/// The lens and the marks of its aperture ring.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Lens {
    /// Name as engraved.
    pub name: String,
    /// Serial number as engraved.
    pub serial: String,
    /// The marked f-numbers, wide to narrow: `"2.8"`.
    pub f_numbers: Vec<String>,
}

/// The cells the camera wants and has.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Battery {
    /// As the camera or its manual says.
    pub wanted: String,
    /// What is in it now.
    pub fitted: String,
    /// Voltage under load as typed.
    pub voltage: String,
    /// The same in volts.
    pub voltage_v: Option<f64>,
}

/// One point looked at.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Finding {
    /// Key of the point in `inspection::catalogue`.
    pub point: String,
    /// `sound`, `worn`, `faulty`, `failed`, `not_fitted` or `not_checked`.
    pub condition: String,
    /// The person's own words.
    pub note: String,
    /// Ids of pictures.
    pub photos: Vec<String>,
    /// When it was looked at.
    pub at: String,
}

/// The meter check.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Meter {
    /// Series of levels, each against one reference; the last one is judged.
    pub runs: Vec<Run>,
    /// Equivalent settings in one steady light, in the order they were taken.
    pub consistency: Vec<Equivalent>,
}

/// A series of levels against one reference.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Run {
    /// When it was begun.
    pub started: String,
    /// What it was held against first.
    pub reference: Reference,
    /// What other levels were held against.
    pub more_references: Vec<Reference>,
    /// Half-width of the tolerance in stops.
    pub tolerance_stops: f64,
    /// Speed of the film in hand, as marked; the dial is set to it.
    pub film_speed: String,
    /// The levels, in the order they were taken.
    pub levels: Vec<Level>,
}

/// A reference and its two doubts.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Reference {
    /// Key of the kind in `inspection::reference`.
    pub kind: String,
    /// Standard uncertainty that is new at every level, in stops.
    pub each_doubt_stops: f64,
    /// Standard uncertainty that all levels of the run share, in stops.
    pub shared_doubt_stops: f64,
    /// For a lux reading: what the camera's meter looks at, `incident` or `card_18`; else empty.
    pub surface: String,
    /// The person's own words: which instrument, when it was checked.
    pub note: String,
}

/// One steady amount of light.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Level {
    /// When it was taken.
    pub at: String,
    /// What the light is.
    pub reference: ReferenceValue,
    /// What the camera's meter said, once or more.
    pub readings: Vec<Reading>,
}

/// What the reference said at one level; which fields are used depends on `way`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct ReferenceValue {
    /// `setting`, `ev`, `illuminance`, `luminance` or `sky`.
    pub way: String,
    /// Which reference: 0 for the run's first, n for the n-th of `more_references`.
    pub source: u32,
    /// Standard uncertainty of this light alone in stops, where it was worked out with one; it stands for the reference's own.
    pub own_doubt_stops: Option<f64>,
    /// For `setting`: time, f-number and film speed that the reference says.
    pub setting: Option<Setting>,
    /// For `ev` (EV at ISO 100), `illuminance` (lux) and `luminance` (cd/m²): the number as typed.
    pub typed: String,
    /// For `sky`: key in `photometry::SKY_WORDS`.
    pub sky: String,
    /// Illuminance in lux, where that was typed.
    pub illuminance_lux: Option<f64>,
    /// Luminance in cd/m², where that was typed.
    pub luminance_cd_m2: Option<f64>,
    /// What it comes to, EV at ISO 100.
    pub ev100: Option<f64>,
}

/// What the camera's meter said once.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Reading {
    /// How the camera says it: a key of `inspection::camera::MeterShows`.
    pub way: String,
    /// Time, f-number and film speed that the camera says or that it agrees with.
    pub setting: Option<Setting>,
    /// For `lamps`: the other of the two settings between which it flips.
    pub other: Option<Setting>,
    /// For `ev`: the number as typed, at the film speed of the run's dial.
    pub typed: String,
    /// How finely it could be read: `whole`, `half`, `third` or `sixth`; for `ev` the last digit, `0.1` or `1`.
    pub resolution: String,
    /// Resolution in stops.
    pub step_stops: Option<f64>,
    /// What it comes to, EV at ISO 100.
    pub ev100: Option<f64>,
}

/// Time, f-number and film speed as marked, `"5.6+1/3"` being a third of the way to the next mark, beside their exact values.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Setting {
    /// As on the aperture ring.
    pub f_number: String,
    /// As on the shutter dial.
    pub time: String,
    /// As on the film-speed dial.
    pub film_speed: String,
    /// Exact f-number.
    pub f_number_exact: Option<f64>,
    /// Exact time in seconds.
    pub time_s: Option<f64>,
    /// Exact film speed, ISO arithmetic.
    pub film_speed_exact: Option<f64>,
}

/// One of several settings that the camera takes for equal in one steady light.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Equivalent {
    /// When it was taken.
    pub at: String,
    /// The setting.
    pub setting: Setting,
    /// How finely it could be set or read: `whole`, `half`, `third` or `sixth`.
    pub resolution: String,
}

/// What mending would cost and what the camera is worth, as the person entered it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Costs {
    /// Value in sound condition, as typed.
    pub value: String,
    /// Cost of mending, as typed.
    pub mending: String,
    /// Currency, free text.
    pub currency: String,
    /// The person's own decision that it is for parts.
    pub for_parts: bool,
}

/// A picture of a point.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Photo {
    /// UUID, as text.
    pub id: String,
    /// When it was added.
    pub taken: String,
    /// `image/jpeg`.
    pub media_type: String,
    /// Width in pixels.
    pub width_px: u32,
    /// Height in pixels.
    pub height_px: u32,
    /// Size of its file.
    pub size_bytes: u32,
    /// `true` where the person wants it on the sheet.
    pub on_sheet: bool,
    /// The file in base64, where pictures were asked for.
    pub data: Option<String>,
}

/// A key that this version does not know, kept as it came.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Foreign {
    /// Where it stood, as `camera.colour` or `findings.3.colour`.
    pub path: String,
    /// Its value as JSON text.
    pub json: String,
}

/// A number with its doubt.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Estimate {
    /// Best estimate.
    pub value: f64,
    /// Standard uncertainty.
    pub standard_uncertainty: f64,
    /// Degrees of freedom; `null` where nothing limits them.
    pub degrees_of_freedom: Option<f64>,
}

/// Everything that was worked out, so that the file speaks for itself; on reading it is worked out again.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Worked {
    /// Program and version that worked it out.
    pub program: String,
    /// First 16 hexadecimal digits of the SHA-256 of what was entered and caught, as printed on the sheet.
    pub fingerprint: String,
    /// Key of the outcome: `ready`, `ready_with_limits`, `wants_service`, `for_parts`, `not_yet_known`.
    pub outcome: String,
    /// The outcome in the trade's words: `wants service`.
    pub outcome_words: String,
    /// One sentence: why this word.
    pub outcome_sentence: String,
    /// `12 of 47 points looked at`.
    pub progress_words: String,
    /// Why this outcome, each pointing at its evidence.
    pub reasons: Vec<Reason>,
    /// What can be avoided or allowed for.
    pub limits: Vec<Reason>,
    /// What was seen and changes nothing.
    pub remarks: Vec<Reason>,
    /// What was not looked at, what matters first, then the cheapest.
    pub unchecked: Vec<Unchecked>,
    /// The quickest thing left that could change the outcome; `null` where nothing left could.
    pub next: Option<Unchecked>,
    /// What would settle the outcome and how long it takes, or empty.
    pub settle: String,
    /// The sum of value and cost of mending, where both were entered.
    pub costs_sentence: String,
    /// The films that `film_error` is held against.
    pub films: Vec<FilmLatitude>,
    /// What film gets: set by hand and in metered use, marked time by marked time.
    pub film_error: Vec<FilmError>,
    /// The same in sentences, film by film.
    pub film_sentences: Vec<FilmSentence>,
    /// What has to be known about it.
    pub film_notices: Vec<String>,
    /// What to do, one for each thing that is off.
    pub remedies: Vec<Reason>,
    /// Cautions for what was found or is about to be done.
    pub cautions: Vec<Reason>,
    /// `true` where the costs entered exceed the value entered and *for parts* may be chosen.
    pub for_parts_offered: bool,
    /// The judged meter run.
    pub meter: Option<MeterResult>,
    /// The shutter, judged.
    pub shutter: Option<ShutterResult>,
    /// The aperture, judged.
    pub aperture: Option<ApertureResult>,
    /// The lens's measurements, compared.
    pub lens_measurements: Option<LensComparison>,
    /// The careful look at the seals.
    pub light_tight: Option<LightTightResult>,
    /// The test roll; `null` where none was begun.
    pub test_roll: Option<TestRollResult>,
    /// The consistency check.
    pub consistency: Option<ConsistencyResult>,
    /// The texts for the listing and the service bench.
    pub wording: Wording,
}

/// A sentence and what it points at.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Reason {
    /// The sentence.
    pub text: String,
    /// `point`, `meter`, `shutter`, `aperture`, `film`, `glare`, `consistency`, `test_roll` or `costs`.
    pub about: String,
    /// Key of the point where `about` is `point`, else empty.
    pub point: String,
    /// Key of the area the evidence is in, or empty.
    pub area: String,
}

/// A point or measurement that was not checked.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Unchecked {
    /// What to look at, in a few words.
    pub text: String,
    /// `point`, `meter`, `shutter` or `test_roll`.
    pub about: String,
    /// Key of the point, or empty.
    pub point: String,
    /// Key of the area.
    pub area: String,
    /// `true` where it can spoil film or exposure.
    pub matters: bool,
    /// What it takes, in seconds.
    pub seconds: u32,
}

/// The judged meter run.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct MeterResult {
    /// Meter error in the middle of the range, + reads high.
    pub offset_stops: Estimate,
    /// Change of the meter error with the light, stops per stop; `null` where the levels do not carry one.
    pub slope_stops_per_stop: Option<Estimate>,
    /// `true` where the slope is beyond its doubt and part of the judgement.
    pub slope_reported: bool,
    /// Where a fall-off at the low end begins, EV at ISO 100; `null` where there is none.
    pub fall_off_below_ev100: Option<f64>,
    /// Scatter against the stated doubt (Birge ratio); 0 where it cannot be told.
    pub birge_ratio: f64,
    /// Half-width of the tolerance in stops.
    pub tolerance_stops: f64,
    /// Level by level, in the order they were taken.
    pub levels: Vec<LevelResult>,
    /// Probability that the worst place of the range is within the tolerance.
    pub conformity: f64,
    /// `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said: `cannot tell`.
    pub call_words: String,
    /// `0.7 stop over`.
    pub headline: String,
    /// `±0.1 in the middle of the range`.
    pub headline_doubt: String,
    /// `±1/2 stop · 1 % likely to be within`.
    pub call_reason: String,
    /// One sentence on how the error runs over the range.
    pub pattern: String,
    /// What would settle it, or empty.
    pub settle: String,
    /// What to set the dial to, or `null`.
    pub remedy: Option<Remedy>,
    /// Why no dial setting is offered, or empty.
    pub no_remedy: String,
    /// Usual causes of such a pattern, worded as such.
    pub causes: Vec<String>,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}

/// One level of the judged run.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct LevelResult {
    /// Light, EV at ISO 100.
    pub reference_ev100: f64,
    /// Meter error as read, in stops.
    pub error_stops: f64,
    /// Standard uncertainty of that one error, in stops.
    pub error_standard_uncertainty_stops: f64,
    /// Meter error by the fit, in stops.
    pub fitted_stops: f64,
    /// Standard uncertainty of the fitted error, in stops.
    pub standard_uncertainty_stops: f64,
    /// Probability that the fitted error is within the tolerance.
    pub conformity: f64,
    /// `EV 6.0`.
    pub light_words: String,
    /// `1/8 · f/2.8`, or `twice: …`.
    pub reading_words: String,
    /// `0.6 over`.
    pub error_words: String,
    /// `±0.2`.
    pub doubt_words: String,
}

/// A dial setting that takes the offset out.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Remedy {
    /// Film-speed mark to set.
    pub dial: String,
    /// What is left of the offset, in stops of meter error.
    pub residual_stops: f64,
    /// What is left at each level, in the order of the levels, in stops of meter error.
    pub left_stops: Vec<f64>,
    /// `Set the dial to 640 for ISO 400 film:`
    pub text: String,
    /// `what is left is within 0.15 stop everywhere.`
    pub left_text: String,
}

/// The consistency check.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct ConsistencyResult {
    /// One sentence: what it says.
    pub sentence: String,
    /// Effects that were told apart, largest first.
    pub effects: Vec<Effect>,
    /// The light's own drift over the whole check in stops, where it was measured.
    pub drift_stops: Option<Estimate>,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}

/// By how much one mark of one dial is off.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Effect {
    /// `time`, `f_number` or `film_speed`.
    pub dial: String,
    /// The mark as said: `1/60`, `f/5.6`, `ISO 400`.
    pub mark: String,
    /// How far it is off, in stops.
    pub effect_stops: Estimate,
    /// `true` where it is beyond its doubt.
    pub beyond_doubt: bool,
    /// A sentence.
    pub words: String,
}

/// Many inspections in one file.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Bench {
    /// Always `lampblack-bench`.
    pub format: String,
    /// Always 1 in this shape.
    pub version: u32,
    /// When it was written.
    pub created: String,
    /// Program and version that wrote it.
    pub program: String,
    /// The inspections.
    pub inspections: Vec<Inspection>,
}
