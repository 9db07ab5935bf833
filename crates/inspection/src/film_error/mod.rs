//! What film gets: shutter, aperture and meter together, for every marked time, against what each kind of film forgives.
//!
//! Film error `e = e_shutter + e_aperture − e_meter` \[stops\], + is over-exposed; set by hand there is no meter term. The three
//! doubts come from measurements that have nothing in common, so that `u² = u_shutter² + u_aperture² + u_meter²`; what the levels
//! of a reference share is already whole in `u_meter`. Degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4.1), the
//! chance of lying within the latitude by JCGM 106:2012, 7.4 (from memory).
//!
//! Not here: how the three are measured ([`crate::shutter`], [`crate::aperture`], [`crate::meter`]); what follows for the camera
//! ([`crate::outcome`]); drawing ([`crate::drawing`]).

mod metered;
mod say;

use metrology::{Call, Chance, Estimate, PROOF, Tolerance, effective_degrees_of_freedom};
use photometry::{Ev, FNumberMark, FilmKind, FilmSpeedMark, TimeMark};
use timing::State;

use crate::aperture;
use crate::camera::Camera;
use crate::error::Error;
use crate::meter;
use crate::shutter;

pub use say::range_words;

/// Most that a latitude may be \[stops\]: beyond it no film is.
pub const MOST_LATITUDE_STOPS: f64 = 10.0;
/// Compensations are looked for in thirds of a stop, up to this many: the steps of rings and dials.
const MOST_THIRDS: i32 = 9;

/// The film that the camera is to be used with, as far as it was said.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct InHand {
    /// Its kind.
    pub kind: Option<FilmKind>,
    /// The person's own latitude, under and over \[stops\], both positive; it stands for the usual one of that kind.
    pub own: Option<(f64, f64)>,
}

/// A film and what it forgives.
#[derive(Clone, Debug, PartialEq)]
pub struct Film {
    /// Key: the kind's, or `own`.
    pub key: &'static str,
    /// As said: `reversal`.
    pub words: &'static str,
    /// Under-exposure \[stops\], a positive number.
    pub under: f64,
    /// Over-exposure \[stops\], a positive number.
    pub over: f64,
    /// Where the latitude comes from.
    pub source: &'static str,
    /// Whether it is the one in hand.
    pub in_hand: bool,
}

/// How the exposure is set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usage {
    /// By hand, after another measure of the light.
    HandSet,
    /// As the camera's own meter says.
    Metered,
}

impl Usage {
    /// Both, in the order in which they are shown.
    pub const ALL: [Usage; 2] = [Usage::HandSet, Usage::Metered];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Usage::HandSet => "hand_set",
            Usage::Metered => "metered",
        }
    }

    /// As said at the head of a table.
    pub const fn words(self) -> &'static str {
        match self {
            Usage::HandSet => "Set by hand",
            Usage::Metered => "As the camera's meter says",
        }
    }
}

/// What film gets at one marked time, at one f-number or in one light.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The f-number, where it matters.
    pub f_number: Option<FNumberMark>,
    /// Whether the opening at that f-number was measured; else it is taken as marked.
    pub opening_measured: bool,
    /// The light, in metered use.
    pub light: Option<Ev>,
    /// Film error \[stops\].
    pub error: Estimate,
}

/// What a film says to a marked time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Verdict {
    /// Within, outside or not told, for the worst of its cells.
    pub call: Call,
    /// Probability that the worst cell lies within the latitude.
    pub conformity: f64,
    /// The least compensation that makes every cell safe \[stops of film exposure\], + gives more; `None` where none is needed or
    /// none helps.
    pub compensation: Option<f64>,
}

/// One marked time in one usage; without a mark the row stands for all of metered use.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// How the exposure is set.
    pub usage: Usage,
    /// The mark.
    pub mark: Option<TimeMark>,
    /// Film error by f-number or light; empty where it cannot be told.
    pub cells: Vec<Cell>,
    /// Why it cannot be told, a sentence; else empty.
    pub why_not: String,
    /// What each film says, in the order of [`FilmGets::films`]; empty where there are no cells.
    pub verdicts: Vec<Verdict>,
}

impl Row {
    /// The cell that gives least and the one that gives most.
    pub fn ends(&self) -> Option<(&Cell, &Cell)> {
        let by = |a: &&Cell, b: &&Cell| a.error.value().total_cmp(&b.error.value());
        Some((self.cells.iter().min_by(by)?, self.cells.iter().max_by(by)?))
    }

    /// The cell whose error is largest, whichever its side.
    pub fn worst(&self) -> Option<&Cell> {
        self.cells.iter().max_by(|a, b| a.error.value().abs().total_cmp(&b.error.value().abs()))
    }
}

/// What film gets, over all marked times.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmGets {
    /// The films it is held against.
    pub films: Vec<Film>,
    /// The rows: set by hand first, each in dial order.
    pub rows: Vec<Row>,
    /// What has to be known.
    pub notices: Vec<String>,
}

/// What was measured, as far as it was.
#[derive(Clone, Copy, Debug, Default)]
pub struct Measured<'a> {
    /// The shutter, judged.
    pub shutter: Option<&'a shutter::Judgement>,
    /// The aperture, judged.
    pub aperture: Option<&'a aperture::Judgement>,
    /// The meter run, judged.
    pub meter: Option<&'a meter::Judgement>,
    /// What the film-speed dial stood at in that run.
    pub dial: Option<&'a FilmSpeedMark>,
}

/// The films that everything is held against: each kind with its usual latitude, the one in hand with the person's own.
///
/// **Errors** where an own latitude is below 0, above [`MOST_LATITUDE_STOPS`] or nothing on both sides.
pub fn films(in_hand: InHand) -> Result<Vec<Film>, Error> {
    if let Some((under, over)) = in_hand.own {
        for (stops, side) in [(under, "under"), (over, "over")] {
            if !(0.0..=MOST_LATITUDE_STOPS).contains(&stops) {
                return Err(Error::new(format!(
                    "the latitude {side} must lie between 0 and {MOST_LATITUDE_STOPS} stops, and {stops} was given"
                )));
            }
        }
        if under + over <= 0.0 {
            return Err(Error::new("a latitude of 0 stops on both sides forgives nothing: enter one above 0"));
        }
    }
    let mut films: Vec<Film> = FilmKind::ALL
        .iter()
        .map(|kind| {
            let usual = kind.latitude();
            let chosen = in_hand.kind == Some(*kind);
            let (under, over, source) = match in_hand.own.filter(|_| chosen) {
                Some((under, over)) => (under, over, "entered"),
                None => (usual.under, usual.over, usual.source),
            };
            Film { key: kind.key(), words: kind.words(), under, over, source, in_hand: chosen }
        })
        .collect();
    if let (None, Some((under, over))) = (in_hand.kind, in_hand.own) {
        films.push(Film { key: "own", words: "the film in hand", under, over, source: "entered", in_hand: true });
    }
    Ok(films)
}

/// The sum of up to three independent errors, each with its sign.
fn sum(parts: [Option<(f64, Estimate)>; 3]) -> Result<Estimate, Error> {
    let mut doubts = [(0.0, f64::INFINITY); 3];
    // Nothing at all is −0, so that a lone −0 keeps its sign.
    let (mut count, mut value, mut variance) = (0, -0.0, 0.0);
    for (sign, part) in parts.into_iter().flatten() {
        let doubt = part.standard_uncertainty();
        value += sign * part.value();
        variance += doubt * doubt;
        doubts[count] = (doubt, part.degrees_of_freedom());
        count += 1;
    }
    Ok(Estimate::new(value, variance.sqrt(), effective_degrees_of_freedom(&doubts[..count]))?)
}

/// An f-number that a time can be used with.
struct FStop<'a> {
    mark: &'a FNumberMark,
    /// The error of its opening, where it was measured.
    opening: Option<Estimate>,
}

/// The f-numbers that a time can be used with: those of the lens, else those that were photographed.
fn f_stops<'a>(camera: &'a Camera, aperture: Option<&'a aperture::Judgement>) -> Vec<FStop<'a>> {
    let stop =
        |mark: &'a FNumberMark| FStop { mark, opening: aperture.and_then(|judged| judged.error_at(mark.text())) };
    if camera.f_numbers.is_empty() {
        aperture.into_iter().flat_map(|judged| judged.rows.iter().map(|row| stop(&row.mark))).collect()
    } else {
        camera.f_numbers.iter().map(stop).collect()
    }
}

/// Shutter error of a row, where it is known well enough to reckon with.
fn shutter_error(row: &shutter::TimeRow) -> Result<Estimate, String> {
    match row.error {
        Some(error) if row.state >= State::Probable => Ok(error),
        _ => {
            Err(format!("{} was only indicated: measure it by light or video, or anchor its sound.", row.mark.label()))
        }
    }
}

/// Cells of a time that is set by hand, at these f-numbers where openings were measured.
fn hand_set(shutter: Estimate, stops: Option<&[FStop<'_>]>) -> Result<Vec<Cell>, Error> {
    let Some(stops) = stops else {
        return Ok(vec![Cell { f_number: None, opening_measured: false, light: None, error: shutter }]);
    };
    stops
        .iter()
        .map(|stop| {
            Ok(Cell {
                f_number: Some(stop.mark.clone()),
                opening_measured: stop.opening.is_some(),
                light: None,
                error: sum([Some((1.0, shutter)), stop.opening.map(|error| (1.0, error)), None])?,
            })
        })
        .collect()
}

/// The errors that differ: with an even meter error every f-number of a time has the same one.
fn distinct(cells: &[Cell]) -> Vec<Chance> {
    let mut errors: Vec<Chance> = Vec::with_capacity(cells.len());
    for cell in cells {
        if errors.last().map(Chance::estimate) != Some(cell.error) {
            errors.push(Chance::of(cell.error));
        }
    }
    errors
}

fn verdict(errors: &[Chance], film: &Film) -> Result<Verdict, Error> {
    let latitude = |shift: f64| Tolerance::new(-film.under - shift, film.over - shift);
    let usual = latitude(0.0)?;
    let now = errors.iter().map(|error| error.within(usual)).fold(1.0, f64::min);
    let call = Call::from_probability(now);
    let mut compensation = None;
    if call != Call::Within {
        // Towards the middle of what the film forgives.
        let middle = errors.iter().map(|error| error.estimate().value()).sum::<f64>() / errors.len().max(1) as f64;
        let side = if middle > (film.over - film.under) / 2.0 { -1.0 } else { 1.0 };
        for thirds in 1..=MOST_THIRDS {
            let stops = side * f64::from(thirds) / 3.0;
            // A best estimate beyond a limit is never proved to lie within it: no probability need be worked out.
            let inside = |error: &Chance| (-film.under..=film.over).contains(&(error.estimate().value() + stops));
            let shifted = latitude(stops)?;
            if errors.iter().all(inside) && errors.iter().all(|error| error.within(shifted) >= PROOF) {
                compensation = Some(stops);
                break;
            }
        }
    }
    Ok(Verdict { call, conformity: now, compensation })
}

fn row(usage: Usage, mark: Option<&TimeMark>, cells: Result<Vec<Cell>, String>, films: &[Film]) -> Result<Row, Error> {
    let (cells, why_not) = match cells {
        Ok(cells) => (cells, String::new()),
        Err(why) => (Vec::new(), why),
    };
    let errors = distinct(&cells);
    let verdicts = match errors.as_slice() {
        [] => Vec::new(),
        some => films.iter().map(|film| verdict(some, film)).collect::<Result<_, _>>()?,
    };
    Ok(Row { usage, mark: mark.cloned(), cells, why_not, verdicts })
}

/// Works out what film gets.
///
/// Set by hand there is a row for every marked time that was fired; a time that was only indicated says why it is not told. In
/// metered use a time goes with the light in which the meter asks for it, f-number by f-number, and is told only where the meter
/// was measured in such light. A camera that sets the time or the f-number itself has no hand-set use.
///
/// **Errors** where an own latitude is none; see [`films`].
pub fn of(camera: &Camera, measured: &Measured<'_>, in_hand: InHand) -> Result<FilmGets, Error> {
    let films = films(in_hand)?;
    let timed: Vec<&shutter::TimeRow> =
        measured.shutter.into_iter().flat_map(|judged| judged.rows.iter()).filter(|_| !camera.stepless).collect();
    let stops = f_stops(camera, measured.aperture);
    let opened = measured.aperture.is_some_and(|judged| judged.rows.iter().any(|row| row.error.is_some()));
    let mut rows = Vec::new();
    if !camera.automatic_aperture {
        for time in &timed {
            let cells = match shutter_error(time) {
                Ok(error) => Ok(hand_set(error, opened.then_some(&stops))?),
                Err(why) => Err(why),
            };
            rows.push(row(Usage::HandSet, Some(&time.mark), cells, &films)?);
        }
    }
    if let Some(meter) = measured.meter {
        let at = metered::Metered::of(camera, measured, meter, &stops);
        if timed.is_empty() {
            rows.push(row(Usage::Metered, None, Ok(at.alone()?), &films)?);
        }
        for time in &timed {
            let cells = match shutter_error(time) {
                Ok(error) => at.cells(time, error)?,
                Err(why) => Err(why),
            };
            rows.push(row(Usage::Metered, Some(&time.mark), cells, &films)?);
        }
    }
    let notices = say::notices(camera, measured, &rows);
    Ok(FilmGets { films, rows, notices })
}

#[cfg(test)]
mod tests;
