//! The shutter check: every marked time against what was measured by light, video or sound, with its doubt and its call.
//!
//! Shutter error `log2(t/t_exact)` \[stops\], + is open too long; t is the effective time (ISO 516) in the middle of the frame.
//! Not here: finding shots in a signal (`timing`), words of the pattern ([`say`]), what follows for the camera
//! ([`crate::outcome`]).

pub mod anchor;
mod group;
mod say;
mod taken;

use metrology::{Call, Estimate, conformance_probability};
use photometry::TimeMark;
use timing::State;

use crate::error::Error;
use crate::tolerance::Chosen;
use crate::words;
use group::{Group, Spread};

pub use group::Part;
pub use say::{listed, time};
pub use taken::{Build, CountsFor, Signal, Special, Take, TakenShot, taper};

/// A gate whose ends differ by more than this is uneven \[stops\] (common practice).
pub const TAPER_LIMIT_STOPS: f64 = 1.0 / 3.0;

/// Everything that was entered and caught.
#[derive(Clone, Debug)]
pub struct Check {
    /// The camera's marked times, in dial order.
    pub marks: Vec<TimeMark>,
    /// The tolerance.
    pub tolerance: Chosen,
    /// The takes.
    pub takes: Vec<Take>,
}

/// One marked time, judged.
#[derive(Clone, Debug)]
pub struct TimeRow {
    /// The mark.
    pub mark: TimeMark,
    /// The signal that counts.
    pub signal: Signal,
    /// How far it may be trusted.
    pub state: State,
    /// How many shots count.
    pub shots: usize,
    /// Shutter error \[stops\]; `None` where it cannot be told.
    pub error: Option<Estimate>,
    /// What its doubt is made of.
    pub parts: Vec<Part>,
    /// Spread between its shots \[stops\].
    pub spread: Option<f64>,
    /// Half-width of the tolerance \[stops\].
    pub tolerance_stops: f64,
    /// Probability that the true error is within the tolerance.
    pub conformity: f64,
    /// The call; never within or outside for a time that is only indicated.
    pub call: Call,
    /// Exposure at the far end of the gate over the near end \[stops\].
    pub taper: Option<Estimate>,
    /// What has to be known.
    pub notices: Vec<String>,
}

impl TimeRow {
    /// Mean time \[s\], `t = t_exact·2^e`, with `u(t) = t·ln 2·u(e)`.
    pub fn time(&self) -> Option<Estimate> {
        let error = self.error?;
        let time = self.mark.exact().value() * libm::exp2(error.value());
        let doubt = time * core::f64::consts::LN_2 * error.standard_uncertainty();
        Estimate::new(time, doubt, error.degrees_of_freedom()).ok()
    }

    /// `3 shots by light, measured`.
    pub fn how(&self) -> String {
        let shots = words::count(self.shots, "shot", "shots");
        match self.state {
            State::CannotTell => format!("{}, cannot tell", self.signal.by()),
            state => format!("{shots} {}, {}", self.signal.by(), state.words()),
        }
    }

    /// `light`, or `sound, indicative`, for a narrow column.
    pub fn how_short(&self) -> String {
        match self.state {
            State::Measured => self.signal.key().to_owned(),
            state => format!("{}, {}", self.signal.key(), state.words()),
        }
    }

    /// Whether one end of the gate gets more than the other, beyond doubt and beyond what practice allows.
    pub fn is_uneven(&self) -> bool {
        self.taper.is_some_and(|taper| taper.value().abs() - taper.expanded_95() > TAPER_LIMIT_STOPS)
    }
}

/// The shutter, judged.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// Time by time, in dial order.
    pub rows: Vec<TimeRow>,
    /// The camera's marked times without any shot.
    pub missing: Vec<TimeMark>,
    /// Outside where one time is, cannot tell where one is open or missing, else within.
    pub call: Call,
    /// `9 of 11 marked times within`.
    pub headline: String,
    /// How the error runs over the times, a sentence.
    pub pattern: String,
    /// The tolerance.
    pub tolerance: Chosen,
    /// Spread between shots, pooled over all times \[stops\]; `None` where it was assumed.
    pub spread: Option<f64>,
    /// What would settle what is open, or empty.
    pub settle: String,
    /// Usual causes, worded as such.
    pub causes: Vec<String>,
    /// Bulb and self-timer, a sentence each.
    pub others: Vec<String>,
    /// What has to be known.
    pub notices: Vec<String>,
}

impl Judgement {
    /// Rows that are outside.
    pub fn outside(&self) -> impl Iterator<Item = &TimeRow> {
        self.rows.iter().filter(|row| row.call == Call::Outside)
    }
}

/// The marks in dial order, slow to fast: the camera's own and those that shots were put against.
fn marks<'a>(own: &'a [TimeMark], takes: &'a [Take]) -> Vec<&'a TimeMark> {
    let mut marks: Vec<&TimeMark> = own.iter().collect();
    for shot in takes.iter().flat_map(|take| &take.shots) {
        if let CountsFor::Mark(mark) = &shot.counts_for
            && !marks.iter().any(|known| known.text() == mark.text())
        {
            marks.push(mark);
        }
    }
    metrology::ascending(marks, |mark| -mark.exact().value())
}

/// The shots of every mark, signal by signal, as far as there are any; mark by mark in dial order.
fn groups<'a>(marks: &[&'a TimeMark], takes: &'a [Take]) -> Vec<Vec<Group<'a>>> {
    let mut shots: Vec<(usize, Signal, &TakenShot)> = Vec::new();
    for take in takes {
        for shot in &take.shots {
            let CountsFor::Mark(own) = &shot.counts_for else { continue };
            let named = marks.iter().enumerate().filter(|(_, mark)| mark.text() == own.text());
            shots.extend(named.map(|(at, _)| (at, take.signal, shot)));
        }
    }
    let mut of_group = Vec::new();
    let mut group = |at: usize, mark: &'a TimeMark, signal: Signal| {
        of_group.clear();
        of_group.extend(shots.iter().filter(|one| (one.0, one.1) == (at, signal)).map(|one| one.2));
        let group = (!of_group.is_empty()).then(|| Group::of(mark, signal, &of_group));
        group.filter(|group| !group.is_empty())
    };
    marks
        .iter()
        .enumerate()
        .map(|(at, mark)| Signal::ALL.iter().filter_map(|signal| group(at, mark, *signal)).collect())
        .collect()
}

/// A group's mean error with what its doubt is made of, where it can be told.
type GroupError = Option<(Estimate, Vec<Part>)>;

/// Of several signals the one that can be trusted most, with its error; among equals the one with the least doubt.
fn best<'g, 'a>(groups: &'g [Group<'a>], spread: &Spread) -> Result<Option<(&'g Group<'a>, GroupError)>, Error> {
    let mut best: Option<(&Group, GroupError, f64)> = None;
    for group in groups {
        let found = group.error(spread)?;
        let doubt = found.as_ref().map_or(f64::INFINITY, |(error, _)| error.standard_uncertainty());
        let better = best.as_ref().is_none_or(|(other, _, least)| (group.state, -doubt) > (other.state, -least));
        if better {
            best = Some((group, found, doubt));
        }
    }
    Ok(best.map(|(group, found, _)| (group, found)))
}

fn row(group: &Group<'_>, found: GroupError, tolerance: &Chosen) -> Result<TimeRow, Error> {
    let interval = tolerance.interval_at(group.mark)?;
    let (error, parts) = found.map_or((None, Vec::new()), |(error, parts)| (Some(error), parts));
    let conformity = error.map_or(0.5, |error| conformance_probability(error, interval));
    // Behind an indicated time may stand another pair of sounds: no probability holds for it.
    let call = match error {
        Some(_) if group.state >= State::Probable => Call::from_probability(conformity),
        _ => Call::CannotTell,
    };
    let mut row = TimeRow {
        mark: group.mark.clone(),
        signal: group.signal,
        state: if error.is_some() { group.state } else { State::CannotTell },
        shots: group.count(),
        error,
        parts,
        spread: group.spread(),
        tolerance_stops: tolerance.stops_at(group.mark),
        conformity,
        call,
        taper: group.taper(),
        notices: Vec::new(),
    };
    row.notices = say::of_row(&row, group);
    Ok(row)
}

/// Judges a shutter.
///
/// **Errors** where the tolerance is none. Without any shot every marked time is missing and the call is *cannot tell*.
pub fn judge(check: &Check) -> Result<Judgement, Error> {
    let (takes, anchored) = anchor::anchored(&check.takes);
    let marks = marks(&check.marks, &takes);
    let groups = groups(&marks, &takes);
    let spread = Spread::of(groups.iter().flatten());
    let mut rows = Vec::new();
    let mut missing = Vec::new();
    for (mark, groups) in marks.iter().zip(&groups) {
        match best(groups, &spread)? {
            Some((group, found)) => rows.push(row(group, found, &check.tolerance)?),
            None => missing.push((*mark).clone()),
        }
    }
    let call = if rows.iter().any(|row| row.call == Call::Outside) {
        Call::Outside
    } else if rows.is_empty() || !missing.is_empty() || rows.iter().any(|row| row.call == Call::CannotTell) {
        Call::CannotTell
    } else {
        Call::Within
    };
    let within = rows.iter().filter(|row| row.call == Call::Within).count();
    let headline =
        format!("{within} of {} within", words::count(rows.len() + missing.len(), "marked time", "marked times"));
    let mut notices = say::of_take(&rows, &spread);
    if anchored {
        notices
            .push("The series of sounds was anchored by a slow time that was measured by light or video.".to_owned());
    }
    let common = say::Common::of(&rows);
    Ok(Judgement {
        pattern: say::pattern(&rows, &common),
        settle: say::settle(&rows, &groups, &spread, &check.tolerance)?,
        causes: say::causes(&rows, &common),
        others: say::others(&takes),
        tolerance: check.tolerance.clone(),
        spread: spread.measured.then_some(spread.stops),
        rows,
        missing,
        call,
        headline,
        notices,
    })
}

#[cfg(test)]
mod tests;
