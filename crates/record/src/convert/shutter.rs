//! The shutter's part of a file: takes to the domain, the judged shutter back, and what its pages show.
//!
//! Not here: finding shots in a signal ([`crate::measure`]).

use inspection::drawing;
use inspection::shutter::{self, Build, Check, CountsFor, Judgement, Signal, Special, TakenShot, TimeRow};
use inspection::tolerance::OF_TIMES;
use inspection::words;
use metrology::Estimate;
use photometry::TimeMark;
use timing::State;

use super::marks;
use super::number::optional;
use super::shown::drawing as shown;
use super::worked::estimate;
use crate::error::Error;
use crate::{page, v1};

/// The notice of a shot that would fit another mark nearly as well.
const MARK_UNSURE: &str = timing::shots::MARK_UNSURE;

fn unknown(what: &str, key: &str, allowed: &[&str]) -> Error {
    let shown: String = key.chars().take(40).collect();
    Error::new(format!("the {what} must be one of {}, and \"{shown}\" was given", allowed.join(", ")))
}

/// What a shot or an asked time counts for, by its key or mark.
pub(crate) fn counts_for(text: &str, dial: &[&str]) -> Result<CountsFor, Error> {
    match (text, Special::from_key(text)) {
        ("", _) => Ok(CountsFor::Nothing),
        (_, Some(special)) => Ok(CountsFor::Special(special)),
        (text, None) => Ok(CountsFor::Mark(marks::time(text, dial)?)),
    }
}

/// The build with this key; `None` where it is empty.
pub(crate) fn build(key: &str) -> Result<Option<Build>, Error> {
    match key {
        "" => Ok(None),
        key => Build::from_key(key)
            .map(Some)
            .ok_or_else(|| unknown("build of the shutter", key, &Build::ALL.map(Build::key))),
    }
}

fn seconds(value: f64, what: &str) -> Result<f64, Error> {
    if (0.0..=1e6).contains(&value) {
        Ok(value)
    } else {
        Err(Error::new(format!("the {what} must be between 0 s and 1 000 000 s, and {value} was given")))
    }
}

/// The time at a place of the frame.
fn place(entry: &v1::ShotPlace) -> Result<Estimate, Error> {
    let time = seconds(entry.time_s, "time at a place of the frame")?;
    Ok(Estimate::new(time, seconds(entry.standard_uncertainty_s, "doubt at a place of the frame")?, f64::INFINITY)?)
}

fn shot(entry: &v1::Shot, dial: &[&str]) -> Result<TakenShot, Error> {
    let state = State::from_key(&entry.state)
        .ok_or_else(|| unknown("state of a shot", &entry.state, &State::ALL.map(State::key)))?;
    let time = match (entry.time_s, entry.standard_uncertainty_s) {
        (Some(time), Some(doubt)) if time > 0.0 => {
            Some(Estimate::new(seconds(time, "time of a shot")?, seconds(doubt, "doubt of a shot")?, f64::INFINITY)?)
        }
        (Some(time), Some(_)) => {
            return Err(Error::new(format!("the time of a shot must be above 0 s, and {time} was given")));
        }
        (Some(_), None) => {
            return Err(Error::new("a time without a doubt is none: the shot has no standard uncertainty"));
        }
        (None, _) => None,
    };
    let places = entry.places.iter().map(place).collect::<Result<Vec<_>, _>>()?;
    Ok(TakenShot {
        counts_for: counts_for(&entry.marked, dial)?,
        time,
        shared_s: seconds(entry.shared_s, "shared doubt of a shot")?,
        state,
        mark_sure: entry.confirmed || !entry.notices.iter().any(|notice| notice.code == MARK_UNSURE),
        interval_s: entry.interval_s.filter(|interval| interval.is_finite()),
        taper: shutter::taper(&places),
        bounce_s: entry.bounce_s.filter(|bounce| *bounce > 0.0),
    })
}

fn take(entry: &v1::Take, dial: &[&str]) -> Result<shutter::Take, Error> {
    let signal = Signal::from_key(&entry.signal)
        .ok_or_else(|| unknown("signal", &entry.signal, &Signal::ALL.map(Signal::key)))?;
    let shots = entry
        .shots
        .iter()
        .enumerate()
        .filter(|(_, entry)| !entry.dropped)
        .map(|(i, entry)| shot(entry, dial).map_err(|error| error.at(&format!("shot {}", i + 1))))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(shutter::Take { signal, shots })
}

fn dial(record: &v1::Inspection) -> Vec<&str> {
    record.camera.times.iter().map(String::as_str).collect()
}

/// Fills in the numbers beside the texts.
pub(super) fn settle(entry: &mut v1::Shutter) -> Result<(), Error> {
    entry.own_tolerance_stops = optional(&entry.own_tolerance, "own tolerance of marked times")?;
    Ok(())
}

/// The domain's check; `None` where nothing was caught. **Errors** for what no shutter can be.
pub(super) fn check(record: &v1::Inspection, marks: &[TimeMark]) -> Result<Option<Check>, Error> {
    let entry = &record.shutter;
    build(&entry.build)?;
    let tolerance = OF_TIMES.chosen(&entry.tolerance, entry.own_tolerance_stops)?;
    let dial = dial(record);
    let takes = entry
        .takes
        .iter()
        .enumerate()
        .map(|(i, one)| take(one, &dial).map_err(|error| error.at(&format!("shutter, take {}", i + 1))))
        .collect::<Result<Vec<_>, _>>()?;
    Ok((!takes.is_empty()).then(|| Check { marks: marks.to_vec(), tolerance, takes }))
}

fn row(row: &TimeRow) -> v1::TimeResult {
    let firm = row.state >= State::Probable;
    let expanded = row.error.map(Estimate::expanded_95);
    let known = row.error.zip(expanded);
    v1::TimeResult {
        marked: row.mark.text().to_owned(),
        label: row.mark.label(),
        exact_s: row.mark.exact().value(),
        signal: row.signal.key().to_owned(),
        state: row.state.key().to_owned(),
        state_words: row.state.words().to_owned(),
        shots: u32::try_from(row.shots).unwrap_or(u32::MAX),
        time_s: row.time().map(estimate),
        spread_stops: row.spread,
        error_stops: row.error.map(estimate),
        doubts: row
            .parts
            .iter()
            .map(|part| v1::Doubt { name: part.name.to_owned(), standard_uncertainty_stops: part.stops })
            .collect(),
        tolerance_stops: row.tolerance_stops,
        conformity: row.conformity,
        call: row.call.key().to_owned(),
        call_words: row.call.word().to_owned(),
        taper_stops: row.taper.map(estimate),
        time_words: row.time().map_or_else(|| State::CannotTell.words().to_owned(), |time| shutter::time(time.value())),
        error_words: known
            .map_or_else(String::new, |(error, expanded)| words::film_error_known(error.value(), expanded)),
        doubt_words: expanded
            .filter(|_| firm)
            .map_or_else(String::new, |expanded| format!("±{}", words::doubt(expanded))),
        how_words: row.how(),
        notices: row.notices.clone(),
    }
}

/// The judged shutter as the file says it.
pub(super) fn result(judgement: &Judgement) -> v1::ShutterResult {
    v1::ShutterResult {
        call: judgement.call.key().to_owned(),
        call_words: judgement.call.word().to_owned(),
        headline: judgement.headline.clone(),
        pattern: judgement.pattern.clone(),
        tolerance_words: judgement.tolerance.words(),
        spread_stops: judgement.spread,
        times: judgement.rows.iter().map(row).collect(),
        missing: judgement.missing.iter().map(TimeMark::label).collect(),
        settle: judgement.settle.clone(),
        others: judgement.others.clone(),
        causes: judgement.causes.clone(),
        notices: judgement.notices.clone(),
    }
}

/// An error with the doubt that its time has [stops]: u(t) / (t ln 2), doubled.
fn full(error: f64, time: Option<Estimate>) -> String {
    /// What two decimals can show.
    const LEAST: f64 = 0.01;
    let Some(time) = time else { return words::film_error_short(error) };
    let doubt = (time.expanded_95() / (time.value() * core::f64::consts::LN_2)).max(LEAST);
    format!("{} ±{}", words::film_error_known(error, doubt), words::doubt(doubt))
}

/// A shot as said, put on the anchor of its series where light or video gave one.
fn shot_view(entry: &v1::Shot, dial: &[&str], anchor: Option<Estimate>) -> page::ShotView {
    const ANCHORED: &str = "Where zero lies comes from a slow time that was measured by light or video.";
    let found = shot(entry, dial).ok();
    let put = found.as_ref().zip(anchor).and_then(|(found, anchor)| shutter::anchor::put_on(found, anchor));
    let time = put.as_ref().or(found.as_ref()).and_then(|shot| shot.time);
    let time_s = time.map(Estimate::value).or(entry.time_s);
    let error = match (counts_for(&entry.marked, dial), time_s) {
        (Ok(CountsFor::Mark(mark)), Some(time)) => photometry::stops_between(time, mark.exact().value()).ok(),
        _ => None,
    };
    let state = put.as_ref().map(|put| put.state).or(State::from_key(&entry.state));
    let candidates: Vec<String> = match &put {
        Some(_) => Vec::new(),
        None => entry.candidates_s.iter().map(|time| shutter::time(*time)).collect(),
    };
    let settled = |notice: &&v1::TimingNotice| !entry.confirmed || notice.code != MARK_UNSURE;
    let missing_zero = |notice: &&v1::TimingNotice| put.is_none() || notice.code != timing::sound::ASSUMED_OFFSET;
    let mut notices: Vec<String> =
        entry.notices.iter().filter(missing_zero).filter(settled).map(|notice| notice.text.clone()).collect();
    if put.is_some() {
        notices.push(ANCHORED.to_owned());
    }
    page::ShotView {
        at_words: words::moment(entry.start_s),
        time_words: time_s.map_or_else(|| State::CannotTell.words().to_owned(), shutter::time),
        error_words: error.map_or_else(String::new, |error| words::film_error_short(error.value())),
        full_words: error.map_or_else(String::new, |error| full(error.value(), time)),
        state_words: state.map_or("", State::words).to_owned(),
        candidates_words: shutter::listed(&candidates),
        mark_unsure: found.as_ref().is_some_and(|shot| !shot.mark_sure),
        notices,
    }
}

/// A take as said; what most of its shots have to say is said once, for all of them.
fn take_view(entry: &v1::Take, dial: &[&str], anchor: Option<Estimate>) -> page::TakeView {
    let signal = Signal::from_key(&entry.signal).map_or("", Signal::words);
    let mut shots: Vec<page::ShotView> = entry.shots.iter().map(|shot| shot_view(shot, dial, anchor)).collect();
    let mut notices: Vec<String> = entry.notices.iter().map(|notice| notice.text.clone()).collect();
    let every: Vec<String> = shots.iter().flat_map(|shot| shot.notices.clone()).collect();
    for text in &every {
        let having = every.iter().filter(|other| *other == text).count();
        if having > 2 && 2 * having > shots.len() && !notices.contains(text) {
            notices.push(text.clone());
        }
    }
    for shot in &mut shots {
        shot.notices.retain(|text| !notices.contains(text));
    }
    page::TakeView { title: format!("{signal}: {}", words::count(entry.shots.len(), "shot", "shots")), shots, notices }
}

/// What the shutter's pages show besides the results.
pub(super) fn view(record: &v1::Inspection, marks: &[TimeMark], judgement: Option<&Judgement>) -> page::ShutterView {
    let dial = dial(record);
    let takes = &record.shutter.takes;
    let caught = |mark: &str| {
        takes.iter().flat_map(|take| &take.shots).filter(|shot| !shot.dropped && shot.marked == mark).count()
    };
    // A take that cannot be read is refused where it is judged, and anchors nothing here.
    let read: Vec<shutter::Take> = takes.iter().filter_map(|entry| take(entry, &dial).ok()).collect();
    let anchor = |entry: &v1::Take| take(entry, &dial).ok().and_then(|series| shutter::anchor::offset(&series, &read));
    let rows = judgement.map_or(&[][..], |judgement| &judgement.rows);
    let errors: Vec<Estimate> = rows.iter().filter_map(|row| row.error).collect();
    let widest = rows.iter().map(|row| row.tolerance_stops).fold(0.0, f64::max);
    let scale = drawing::bar_scale(&errors, widest);
    page::ShutterView {
        plot: judgement.and_then(drawing::shutter_plot).as_ref().map(shown),
        bars: rows
            .iter()
            .map(|row| match row.error {
                Some(error) => shown(&drawing::bar(error, row.tolerance_stops, scale)),
                None => page::Drawing::default(),
            })
            .collect(),
        takes: takes.iter().map(|entry| take_view(entry, &dial, anchor(entry))).collect(),
        marks: marks
            .iter()
            .map(|mark| page::MarkView {
                mark: mark.text().to_owned(),
                label: mark.label(),
                spoken: words::spoken_time(mark),
                shots: caught(mark.text()),
            })
            .collect(),
        build: build(&record.shutter.build).ok().flatten().map_or(String::new(), |build| build.words().to_owned()),
    }
}

/// A notice in the file's shape.
pub(crate) fn timing_notice(notice: &timing::Notice) -> v1::TimingNotice {
    v1::TimingNotice { code: notice.code.to_owned(), text: notice.text.clone() }
}

/// A shot as it was found, in the file's shape; `marks` are the texts that its index counts into.
pub(crate) fn found_shot(found: &timing::Shot, marks: &[String]) -> v1::Shot {
    v1::Shot {
        start_s: found.start_s,
        marked: found.marked.and_then(|i| marks.get(i)).cloned().unwrap_or_default(),
        dropped: false,
        confirmed: false,
        time_s: found.time.map(Estimate::value),
        standard_uncertainty_s: found.time.map(Estimate::standard_uncertainty),
        shared_s: found.systematic_s,
        state: found.state.key().to_owned(),
        candidates_s: found.candidates_s.clone(),
        places: found
            .places
            .iter()
            .map(|place| v1::ShotPlace {
                position: place.position.to_owned(),
                time_s: place.time.value(),
                standard_uncertainty_s: place.time.standard_uncertainty(),
            })
            .collect(),
        travel_s: found.travel_s.map_or_else(Vec::new, |(first, second)| vec![first, second]),
        interval_s: found.interval_s,
        events_s: found.events_s.clone(),
        bounce_s: found.bounce.map(|bounce| bounce.extra_s),
        notices: found.notices.iter().map(timing_notice).collect(),
    }
}
