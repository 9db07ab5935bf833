//! The aperture check: every marked f-number against the opening that was photographed, with its doubt and its call.
//!
//! Aperture error `log2(A/A_exact)` \[stops\], + is too wide, against the middle of the lens's own series: an error that all marks
//! share does not show. Not here: finding an opening in a picture (`imaging`), words of the pattern ([`say`]), which photo shows
//! which mark ([`guess`]), what follows for the camera ([`crate::outcome`]).

mod guess;
mod say;
mod setup;

use imaging::blades::{self, OddBlade, Opening, Series};
use metrology::{Call, Estimate, conformance_probability};
use photometry::FNumberMark;

use crate::error::Error;
use crate::tolerance::Chosen;

pub use blades::From;
pub use guess::{Guessed, Seen, guess};
pub use setup::{Check as SetupCheck, setup};

/// Stopped-down marks from which their middle says something about each of them.
pub const FEWEST_CLOSED: usize = 3;
/// From here on the side that the ring comes from matters \[stops\] (judged, not measured).
pub const HYSTERESIS_STOPS: f64 = 1.0 / 6.0;
/// From here on an iris does not repeat well \[stops\] (judged, not measured).
pub const SCATTER_STOPS: f64 = 0.1;

/// One photo of an opening.
#[derive(Clone, Debug)]
pub struct Shot {
    /// The mark that it counts for; nothing where it was not said yet.
    pub mark: Option<FNumberMark>,
    /// From which side the ring came.
    pub from: From,
    /// Columns and rows of the picture \[pixels\].
    pub size_px: (u32, u32),
    /// What was found; nothing where the picture gave none.
    pub opening: Option<Opening>,
    /// Its name, for sentences.
    pub name: String,
}

/// Everything that was entered and photographed.
#[derive(Clone, Debug)]
pub struct Check {
    /// The lens's marked f-numbers, wide to narrow.
    pub marks: Vec<FNumberMark>,
    /// Number of blades, where the person counted.
    pub blade_count: Option<usize>,
    /// The tolerance.
    pub tolerance: Chosen,
    /// The photos that were not left out.
    pub shots: Vec<Shot>,
}

/// One marked f-number, judged.
#[derive(Clone, Debug)]
pub struct StopRow {
    /// The mark.
    pub mark: FNumberMark,
    /// How many photos count.
    pub shots: usize,
    /// Whether it is the widest, which shows a ring and not the blades.
    pub widest: bool,
    /// Aperture error \[stops\]; `None` where there is no opening.
    pub error: Option<Estimate>,
    /// Half-width of the tolerance \[stops\].
    pub tolerance_stops: f64,
    /// Probability that the true error is within the tolerance.
    pub conformity: f64,
    /// The call; never within or outside for the widest mark.
    pub call: Call,
    /// Root mean square of the outline's harmonics 2 to 4.
    pub roundness: Option<f64>,
    /// What has to be known.
    pub notices: Vec<String>,
}

/// The aperture, judged.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// Mark by mark, from the widest.
    pub rows: Vec<StopRow>,
    /// Marks of the lens without a photo.
    pub missing: Vec<FNumberMark>,
    /// Outside where one mark is, cannot tell where one is open, else within. The widest mark has no part in it.
    pub call: Call,
    /// `5 of 6 marked f-numbers within`.
    pub headline: String,
    /// How the errors run over the marks, a sentence.
    pub pattern: String,
    /// Neighbours that give the same opening, a sentence each.
    pub same: Vec<String>,
    /// Blades that sit off.
    pub odd_blades: Vec<OddBlade>,
    /// The same, a sentence each.
    pub odd_words: Vec<String>,
    /// Number of blades, where it is known.
    pub blade_count: Option<usize>,
    /// How the iris repeats and whether the side matters, a sentence each.
    pub settling: Vec<String>,
    /// Scatter of one setting \[stops\].
    pub repeatability_stops: Option<f64>,
    /// How much wider the openings are from the open side \[stops\].
    pub hysteresis_stops: Option<f64>,
    /// What would settle what is open, or empty.
    pub settle: String,
    /// The tolerance.
    pub tolerance: Chosen,
    /// What has to be known.
    pub notices: Vec<String>,
}

impl Judgement {
    /// Rows that are outside.
    pub fn outside(&self) -> impl Iterator<Item = &StopRow> {
        self.rows.iter().filter(|row| row.call == Call::Outside)
    }

    /// The blades that sit off, for a photo of the widest judged mark; none for the others, since an iris turns as it closes.
    pub fn odd_in(&self, shot: &Shot) -> &[OddBlade] {
        let first = self.rows.iter().find(|row| !row.widest && row.error.is_some());
        let shown = first.zip(shot.mark.as_ref()).is_some_and(|(row, mark)| row.mark.text() == mark.text());
        if shown { &self.odd_blades } else { &[] }
    }

    /// The error at a marked f-number as written, + too wide \[stops\]: what the film error of that mark takes in. Nothing where the
    /// mark was not measured, or is the widest, which is put against the blades and does not belong to them.
    pub fn error_at(&self, mark: &str) -> Option<Estimate> {
        self.rows.iter().find(|row| row.mark.text() == mark && !row.widest)?.error
    }
}

/// Two photos whose outlines agree to the last digit are one and the same.
fn same_photo(a: &Shot, b: &Shot) -> bool {
    match (&a.opening, &b.opening) {
        (Some(a), Some(b)) => a.area_px == b.area_px && a.centre_px == b.centre_px && a.outline_px == b.outline_px,
        _ => false,
    }
}

/// The shots that can be put against one another, and what keeps the others from it.
fn usable(shots: &[Shot]) -> (Vec<blades::Shot>, Vec<String>) {
    let (mut kept, mut notices) = (Vec::new(), Vec::new());
    let wanted = shots.iter().find(|shot| shot.opening.is_some()).map(|shot| shot.size_px);
    for (i, shot) in shots.iter().enumerate() {
        let Some(mark) = &shot.mark else {
            notices.push(format!("{}: say which f-number it shows; it does not count until then.", shot.name));
            continue;
        };
        if shot.opening.is_some() && wanted != Some(shot.size_px) {
            let (width, height) = wanted.unwrap_or(shot.size_px);
            notices.push(format!(
                "{}: it has {} × {} pixels and the first picture {width} × {height}, so that it is left out. Take all of them with the \
                 same lens of the phone, at the same zoom, held the same way.",
                shot.name, shot.size_px.0, shot.size_px.1
            ));
            continue;
        }
        if let Some(first) = shots.iter().take(i).find(|other| same_photo(other, shot)) {
            notices.push(format!(
                "{} is the same picture as {}, so that it counts once. Take one photo for each setting.",
                shot.name, first.name
            ));
            continue;
        }
        kept.push(blades::Shot {
            mark: mark.clone(),
            from: shot.from,
            opening: shot.opening.clone(),
            notices: Vec::new(),
        });
    }
    (kept, notices)
}

fn rows(check: &Check, shots: &[blades::Shot], series: &Series) -> Result<Vec<StopRow>, Error> {
    let closed = series.stops.iter().filter(|stop| !stop.widest && stop.error_stops.is_some()).count();
    let mut rows = Vec::new();
    for stop in &series.stops {
        let Some(mark) = shots.iter().map(|shot| &shot.mark).find(|mark| mark.text() == stop.mark) else { continue };
        let error = match stop.error_stops.zip(stop.standard_uncertainty_stops) {
            Some((error, doubt)) => Some(Estimate::new(error, doubt, f64::INFINITY)?),
            None => None,
        };
        let interval = check.tolerance.interval()?;
        let conformity = error.map_or(0.5, |error| conformance_probability(error, interval));
        let call = match error {
            Some(_) if !stop.widest && closed >= FEWEST_CLOSED => Call::from_probability(conformity),
            _ => Call::CannotTell,
        };
        rows.push(StopRow {
            mark: mark.clone(),
            shots: shots.iter().filter(|shot| shot.mark.text() == stop.mark && shot.opening.is_some()).count(),
            widest: stop.widest,
            error,
            tolerance_stops: check.tolerance.stops(),
            conformity,
            call,
            roundness: stop.roundness,
            // Where the blade is named, that the opening is uneven need not stand at every mark.
            notices: stop
                .notices
                .iter()
                .filter(|notice| notice.code != "uneven_opening" || series.odd_blades.is_empty())
                .map(|notice| notice.text.clone())
                .collect(),
        });
    }
    Ok(rows)
}

/// Judges an aperture.
///
/// **Errors** where the tolerance is none, or the count of blades is outside 5 to 16. With fewer than two usable marks the call is
/// *cannot tell*, and it says what is missing.
pub fn judge(check: &Check) -> Result<Judgement, Error> {
    let (shots, mut notices) = usable(&check.shots);
    let mut marks: Vec<&str> =
        shots.iter().filter(|shot| shot.opening.is_some()).map(|shot| shot.mark.text()).collect();
    marks.sort_unstable();
    marks.dedup();
    let cut_off =
        |shot: &&blades::Shot| shot.opening.as_ref().is_some_and(|opening| opening.has("opening_touches_frame"));
    let whole = shots.iter().filter(|shot| shot.opening.is_some()).count() - shots.iter().filter(cut_off).count();
    let series = if marks.len() < 2 || whole < 2 {
        None
    } else {
        match blades::series(&shots, check.blade_count) {
            Ok(series) => Some(series),
            Err(error) if check.blade_count.is_some_and(|count| !(5..=16).contains(&count)) => return Err(error.into()),
            Err(_) => None,
        }
    };
    let Some(series) = series else {
        return Ok(say::too_few(check, notices));
    };
    let rows = rows(check, &shots, &series)?;
    let missing: Vec<FNumberMark> =
        check.marks.iter().filter(|mark| !rows.iter().any(|row| row.mark.text() == mark.text())).cloned().collect();
    let judged: Vec<&StopRow> = rows.iter().filter(|row| !row.widest).collect();
    let call = if judged.iter().any(|row| row.call == Call::Outside) {
        Call::Outside
    } else if judged.is_empty() || !missing.is_empty() || judged.iter().any(|row| row.call == Call::CannotTell) {
        Call::CannotTell
    } else {
        Call::Within
    };
    let within = judged.iter().filter(|row| row.call == Call::Within).count();
    let all = judged.len() + missing.len();
    let headline = format!("{within} of {all} stopped-down {} within", if all == 1 { "mark" } else { "marks" });
    let of_code = |code: &str| {
        series.notices.iter().filter(|notice| notice.code == code).map(|notice| notice.text.clone()).collect::<Vec<_>>()
    };
    notices.extend(of_code("blade_count_unknown"));
    notices.push(say::COMMON.to_owned());
    Ok(Judgement {
        pattern: say::pattern(&rows),
        same: of_code("same_opening"),
        odd_words: of_code("odd_blade"),
        odd_blades: series.odd_blades,
        blade_count: series.blade_count,
        settling: say::settling(series.repeatability_stops, series.hysteresis_stops),
        repeatability_stops: series.repeatability_stops,
        hysteresis_stops: series.hysteresis_stops,
        settle: say::settle(&rows, &missing),
        tolerance: check.tolerance.clone(),
        rows,
        missing,
        call,
        headline,
        notices,
    })
}

#[cfg(test)]
mod tests;
