//! What is handed to the page (and to the sheet of the shell) to show: words, lists and drawings, ready made.
//!
//! Holds shapes only, so that the page needs no arithmetic: it shows these texts and draws these marks.
//! Not here: the file's own shapes ([`crate::v1`]); how the texts come about ([`inspection`]).

mod aperture;
mod compare;
mod light_tight;
mod photo;
mod round;
mod shutter;
mod sky;
mod test_roll;

use serde::Serialize;
use shape::Shape;

use crate::v1;

pub use aperture::{ApertureView, FoundOpening, GlarePhotos, GlareSample, Hole, PictureAbout, SetupView};
pub use compare::{ChangeView, ComparedSide, ComparisonView};
pub use light_tight::{Dose, DoseAfter, DoseAsked, DoseInLight, LeakPicture, LightTightView, PlaceView};
pub use photo::{
    CalibrationEntry, DoubtPart, LiveView, PaperLight, PatchSums, PhoneCalibration, PhotoHead, PhotoLight, PhotoPatch,
};
pub use round::StepView;
pub use shutter::{
    FrameStrips, FrameTable, HeardShot, Listening, MarkView, MeasuredTake, Movie, MovieBox, ShotView, ShutterView,
    TakeAbout, TakeView,
};
pub use sky::{CityChoice, LampStep, LampView, SunSurface, SunView};
pub use test_roll::{FilmRead, RollStepView, TestRollView};

/// A drawing: marks in a box of `width` × `height` units, the same on the page, on the sheet and on paper.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Drawing {
    /// Width in drawing units.
    pub width: f64,
    /// Height in drawing units.
    pub height: f64,
    /// A short name for those who do not see it.
    pub title: String,
    /// What it shows, in a sentence.
    pub description: String,
    /// The marks, back to front.
    pub marks: Vec<Mark>,
}

/// One mark of a drawing.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Mark {
    /// `line` (x, y to x2, y2), `rectangle` (corner x, y to x2, y2), `dot` (centre x, y, radius x2), `text` (x, y) or `path` (`points`).
    pub shape: String,
    /// What it stands for, and so how it looks: `band`, `zero`, `rule`, `over`, `under`, `whisker`, `fit`, `doubt`, `label`, and those of the open back.
    pub role: String,
    /// Units from the left.
    pub x: f64,
    /// Units from the top.
    pub y: f64,
    /// See `shape`.
    pub x2: f64,
    /// See `shape`.
    pub y2: f64,
    /// For `path`: x and y in turn.
    pub points: Vec<f64>,
    /// For `text`.
    pub text: String,
    /// For `text`: `start`, `middle` or `end`.
    pub anchor: String,
}

/// Everything that the pages of one inspection show besides the inspection itself.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct View {
    /// `Halden 35 R · 41 207`, or the kind where no name was entered.
    pub title: String,
    /// The kind in words.
    pub kind_words: String,
    /// `12 of 47 points looked at`.
    pub progress: String,
    /// The areas in order, with their points that this kind of camera has.
    pub areas: Vec<AreaView>,
    /// The round, step by step in the usual order.
    pub round: Vec<StepView>,
    /// The judged run's error over the light, or `null`.
    pub meter_plot: Option<Drawing>,
    /// One bar about zero per level of the judged run.
    pub meter_bars: Vec<Drawing>,
    /// The references of each run in words with their two doubts: `each reading ±0.2, all together ±0.2 stop`.
    pub references: Vec<Vec<ReferenceView>>,
    /// The texts for the listing and the service bench, as they stand.
    pub texts: Vec<TextView>,
    /// What film gets, usage by usage; the figures stand in the result.
    pub film: Vec<FilmView>,
    /// The shutter.
    pub shutter: ShutterView,
    /// The openings, and the light that the lens scatters.
    pub aperture: ApertureView,
    /// The seals on the open back.
    pub light_tight: LightTightView,
    /// The test roll.
    pub test_roll: TestRollView,
    /// One bar per effect of the consistency check.
    pub consistency_bars: Vec<Drawing>,
    /// `1/125 · f/8 · ISO 100` per entry of the consistency check.
    pub consistency_entries: Vec<EquivalentView>,
}

/// A text that is handed on.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Shape)]
pub struct TextView {
    /// `line`, `paragraph`, `full` or `service`.
    pub key: String,
    /// Its name.
    pub name: String,
    /// What it is for.
    pub purpose: String,
    /// As it stands: the person's own where there is one.
    pub text: String,
    /// As it is put together today.
    pub made: String,
    /// Whether the person changed it.
    pub edited: bool,
    /// Whether something was found or measured since.
    pub outdated: bool,
}

/// What film gets in one usage.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct FilmView {
    /// `hand_set` or `metered`.
    pub usage: String,
    /// `Set by hand`.
    pub words: String,
    /// Film error over the marked times, or `null` where nothing is told.
    pub plot: Option<Drawing>,
}

/// An area of the round.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct AreaView {
    /// Key.
    pub key: String,
    /// Name.
    pub name: String,
    /// How many of its points were looked at.
    pub checked: usize,
    /// How many it has.
    pub total: usize,
    /// `3 of 8`.
    pub progress: String,
    /// Points found faulty or failed.
    pub bad: usize,
    /// The points.
    pub points: Vec<PointView>,
}

/// A point of the round with what was found.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PointView {
    /// Key.
    pub key: String,
    /// Name in a few words.
    pub name: String,
    /// The question as asked at the bench.
    pub question: String,
    /// The condition's key, `not_checked` where there is no finding.
    pub condition: String,
    /// The condition in words.
    pub condition_words: String,
    /// The person's own words.
    pub note: String,
    /// Ids of pictures.
    pub photos: Vec<String>,
    /// The conditions to choose from, each with what it looks like.
    pub choices: Vec<ChoiceView>,
    /// What it costs if it is bad: `spoils film`.
    pub costs_words: String,
    /// The usual remedy.
    pub remedy: String,
    /// The caution at this step, or empty.
    pub caution: String,
    /// Where the line comes from: `common practice`, or a source.
    pub source: String,
    /// Whether a picture helps.
    pub picture_helps: bool,
    /// Whether it can spoil film or exposure.
    pub matters: bool,
}

/// A condition to choose.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ChoiceView {
    /// Key.
    pub key: String,
    /// Word.
    pub words: String,
    /// What it looks like in one line.
    pub looks: String,
}

/// A run's reference as said.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ReferenceView {
    /// `Another exposure meter`.
    pub name: String,
    /// `each reading ±0.20, all together ±0.20 stop`.
    pub doubts: String,
    /// Why those doubts.
    pub why: String,
    /// What would make them smaller.
    pub better: String,
    /// What has to be known about constants and cards, or empty.
    pub constants: String,
}

/// An entry of the consistency check as said.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct EquivalentView {
    /// `1/125 · f/8 · ISO 100`.
    pub words: String,
    /// `EV 13.0`.
    pub ev_words: String,
}

/// What one level would add, shown before it is kept.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LevelPreview {
    /// `EV 10.0`.
    pub light_words: String,
    /// `0.4 stop over`.
    pub error_words: String,
    /// `±0.3 stop`.
    pub doubt_words: String,
    /// Its bar about zero.
    pub bar: Drawing,
    /// What to mind, or empty.
    pub notice: String,
}

/// Every list that the page offers to choose from; each exists once, in the crate that owns it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Lists {
    /// Program and version.
    pub program: String,
    /// Kinds of camera.
    pub kinds: Vec<Choice>,
    /// Conditions.
    pub conditions: Vec<Choice>,
    /// Outcomes.
    pub outcomes: Vec<Choice>,
    /// Series of marked times: `modern`, `old`, `stepless`, each with its marks.
    pub time_series: Vec<Series>,
    /// Presets of marked f-numbers, by the widest opening.
    pub f_number_series: Vec<Series>,
    /// Every film-speed mark.
    pub film_speeds: Vec<String>,
    /// What a meter can show.
    pub meter_shows: Vec<Choice>,
    /// How finely a scale can be read.
    pub resolutions: Vec<Choice>,
    /// Last digits that a meter showing an EV can have.
    pub ev_digits: Vec<Choice>,
    /// Kinds of film, each with what it forgives.
    pub films: Vec<Choice>,
    /// Kinds of reference.
    pub references: Vec<ReferenceChoice>,
    /// Tolerances.
    pub tolerances: Vec<ToleranceChoice>,
    /// Builds of a shutter.
    pub shutter_builds: Vec<Choice>,
    /// Tolerances of marked times; `own` is the last.
    pub shutter_tolerances: Vec<Choice>,
    /// Signals that a shutter can be measured by.
    pub signals: Vec<Choice>,
    /// Lights in which a loaded camera lies.
    pub lights: Vec<Choice>,
    /// Words for the sky.
    pub skies: Vec<Choice>,
    /// Skies that light can be reckoned for.
    pub model_skies: Vec<Choice>,
    /// Kinds of screen.
    pub screens: Vec<Choice>,
    /// What the meter looks at when a lux reading is the reference.
    pub surfaces: Vec<Choice>,
    /// The constants in use, their permitted ranges and reasons, a sentence each.
    pub constants: Vec<String>,
    /// General cautions of the bench.
    pub cautions: Vec<String>,
}

/// A key with its words.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Choice {
    /// Key.
    pub key: String,
    /// Words.
    pub words: String,
    /// A line of help, or empty.
    pub help: String,
}

/// A series of marks.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Series {
    /// Key.
    pub key: String,
    /// Words.
    pub words: String,
    /// The marks that a camera of the series usually has.
    pub marks: Vec<String>,
    /// All marks of the series that could be added.
    pub more: Vec<String>,
}

/// A kind of reference with its default doubts.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ReferenceChoice {
    /// Key.
    pub key: String,
    /// Words.
    pub words: String,
    /// How to use it, in a line.
    pub help: String,
    /// Standard uncertainty that is new at every level, in stops.
    pub each_doubt_stops: f64,
    /// Standard uncertainty that all levels share, in stops.
    pub shared_doubt_stops: f64,
    /// Why those.
    pub why: String,
    /// What would make them smaller.
    pub better: String,
    /// The ways a level can be entered, the usual one first: `setting`, `ev`, `illuminance`, `luminance`, `sky`.
    pub ways: Vec<String>,
    /// What has to be known about constants and cards, or empty.
    pub constants: String,
    /// Caution, or empty.
    pub caution: String,
}

/// A tolerance to choose.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ToleranceChoice {
    /// Half-width in stops.
    pub stops: f64,
    /// `±1/2 stop`.
    pub words: String,
    /// What it is for and where it comes from.
    pub help: String,
}

/// A place on a dial, marked or between marks.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Place {
    /// As kept: `5.6+1/3`.
    pub mark: String,
    /// As shown: `f/5.6 + ⅓`.
    pub label: String,
}

/// An inspection that was accepted, and what its pages show.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Accepted {
    /// As it is to be kept.
    pub inspection: v1::Inspection,
    /// As it is to be shown.
    pub view: View,
}

/// What a file held.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Taken {
    /// `inspection` or `bench`.
    pub kind: String,
    /// The inspections in it.
    pub inspections: Vec<v1::Inspection>,
    /// What was noticed on reading, a sentence each.
    pub findings: Vec<String>,
}

/// The sheet, block by block.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Sheet {
    /// Title of the document.
    pub title: String,
    /// The blocks in order.
    pub blocks: Vec<Block>,
    /// How much smaller its print has to be to stay on two pages: 0, 1 or 2.
    pub density: u8,
}

/// One block of the sheet; which fields are used depends on `kind`.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Block {
    /// `title`, `heading`, `outcome`, `paragraph`, `list`, `facts`, `table`, `drawing`, `picture`, `small`, `label`.
    pub kind: String,
    /// The text of a title, heading, paragraph or small line; the outcome's word.
    pub text: String,
    /// `outcome`: its key. `picture`: the id of the kept picture; its text says what it shows, and a drawing may lie over it.
    pub key: String,
    /// `list`: items. `table`: column heads. `label`: its small print.
    pub items: Vec<String>,
    /// `facts`: pairs of name and value. `table`: rows.
    pub rows: Vec<Vec<String>>,
    /// `drawing`.
    pub drawing: Option<Drawing>,
}
