//! How a judged shutter is said: its pattern over the times, usual causes worded as such, what would settle it, notices.
//!
//! Not here: numbers ([`super::group`]), limits that follow for the camera ([`crate::outcome`]).

use metrology::{Call, Estimate, conformance_probability};
use timing::State;

use super::group::{ASSUMED_SPREAD_STOPS, Group, Spread};
use super::taken::{CountsFor, Signal, Special, Take};
use super::{TAPER_LIMIT_STOPS, TimeRow};
use crate::error::Error;
use crate::tolerance::Chosen;
use crate::words;

/// Exact times from this on count as slow \[s\]: the gear train runs.
const SLOW_FROM_S: f64 = 1.0 / 40.0;
/// A group of times is said to be off from this mean error on \[stops\].
const WORTH_SAYING_STOPS: f64 = 0.15;
/// No more shots than this are asked for one time.
const MOST_SHOTS: usize = 10;
/// Times shorter than this share of their mark look like capping.
const CAPPING_STOPS: f64 = -1.5;

/// `1/310 s`, `0.49 s`, with the figures that matter at a bench.
pub fn time(seconds: f64) -> String {
    if seconds >= 9.95 {
        format!("{} s", words::plain(seconds, 1))
    } else if seconds >= 0.35 {
        format!("{} s", words::plain(seconds, 2))
    } else {
        let denominator = 1.0 / seconds.max(1e-9);
        let decimals = usize::from(denominator < 10.0);
        format!("1/{} s", words::plain(denominator, decimals))
    }
}

fn names<'r>(rows: impl Iterator<Item = &'r TimeRow>) -> Vec<String> {
    rows.map(|row| row.mark.label()).collect()
}

/// `a, b and c`.
pub fn listed(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// What has to be known about one row.
pub(super) fn of_row(row: &TimeRow, group: &Group<'_>) -> Vec<String> {
    let mut notices = Vec::new();
    match (row.state, row.signal) {
        (State::CannotTell, Signal::Sound) => {
            notices.push("Heard, but its sound does not tell the time. Light through a photocell does.".to_owned());
        }
        (State::CannotTell, _) => notices.push("Caught, but its time cannot be told; the take says why.".to_owned()),
        (State::Indicative, _) if group.unsure > 0 => {
            notices.push(
                "Only indicated: its shots would fit another mark nearly as well. Say in the take which one was set, and it counts."
                    .to_owned(),
            );
        }
        (State::Indicative, _) => {
            notices.push(
                "Only indicated: another pair of sounds may be the right one, and no doubt can be stated for that."
                    .to_owned(),
            );
        }
        _ => {}
    }
    if row.error.is_some() && group.without_time > 0 {
        notices.push(format!(
            "{} without a usable time was left out.",
            words::sentence_case(&words::count(group.without_time, "shot", "shots"))
        ));
    }
    if let Some(taper) = row.taper
        && taper.value().abs() > taper.expanded_95()
    {
        let limit = if row.is_uneven() {
            format!(", more than the {} stop that practice allows", words::fraction(TAPER_LIMIT_STOPS))
        } else {
            String::new()
        };
        notices.push(format!(
            "One end of the gate gets {} {} more than the other{limit}.",
            words::plain(taper.value().abs(), 2),
            words::unit(taper.value())
        ));
    }
    let bounce = group.bounces_s.iter().copied().fold(0.0, f64::max);
    if let Some(time) = row.time().filter(|_| bounce > 0.0) {
        let extra = libm::log2(1.0 + bounce / time.value());
        notices.push(format!(
            "The shutter bounces: it opens once more after closing and adds {} stop, which is not in the time.",
            words::plain(extra, 2)
        ));
    }
    notices
}

/// What has to be known about all of it.
pub(super) fn of_take(rows: &[TimeRow], spread: &Spread) -> Vec<String> {
    let mut notices = Vec::new();
    if !spread.measured && rows.iter().any(|row| row.error.is_some()) {
        notices.push(format!(
            "One shot for each time does not show how well they repeat: a spread of {} stop was assumed. Two or three shots each measure it.",
            words::plain(ASSUMED_SPREAD_STOPS, 2)
        ));
    }
    if rows.iter().any(|row| row.state == State::Indicative) {
        notices.push("With a mirror, or beyond the fastest times that sound can tell, sound only screens: what it indicates is not judged.".to_owned());
    }
    notices
}

/// Mean error of the rows on one side of [`SLOW_FROM_S`], where all of them are beyond doubt on the same side.
fn common(rows: &[TimeRow], slow: bool) -> Option<f64> {
    let errors: Vec<Estimate> = rows
        .iter()
        .filter(|row| (row.mark.exact().value() >= SLOW_FROM_S) == slow && row.state >= State::Probable)
        .filter_map(|row| row.error)
        .collect();
    let mean = errors.iter().map(|error| error.value()).sum::<f64>() / errors.len().max(1) as f64;
    let same = errors.iter().all(|error| error.value() * mean > 0.0);
    let worth = !errors.is_empty() && same && mean.abs() >= WORTH_SAYING_STOPS;
    let beyond = || errors.iter().any(|error| error.value().abs() > error.expanded_95());
    (worth && beyond()).then_some(mean)
}

/// What the slow times have in common and what the fast ones have, each as [`common`].
pub(super) struct Common {
    slow: Option<f64>,
    fast: Option<f64>,
}

impl Common {
    pub(super) fn of(rows: &[TimeRow]) -> Self {
        Self { slow: common(rows, true), fast: common(rows, false) }
    }
}

fn longer(stops: f64) -> &'static str {
    if stops > 0.0 { "long" } else { "short" }
}

/// How the error runs over the times, a sentence.
pub(super) fn pattern(rows: &[TimeRow], common: &Common) -> String {
    let known: Vec<&TimeRow> = rows.iter().filter(|row| row.error.is_some() && row.state >= State::Probable).collect();
    if known.is_empty() {
        return if rows.is_empty() { "Nothing measured yet." } else { "No time that can be stood behind yet." }
            .to_owned();
    }
    let about = |stops: f64| format!("by about {} {}", words::plain(stops.abs(), 1), words::unit(stops));
    match (common.slow, common.fast) {
        (Some(slow), Some(fast)) if slow * fast > 0.0 => {
            format!("All times run {}: slow ones {}, fast ones {}.", longer(slow), about(slow), about(fast))
        }
        (Some(slow), Some(fast)) => {
            format!("Slow times run {} {}, fast ones {} {}.", longer(slow), about(slow), longer(fast), about(fast))
        }
        (Some(slow), None) => format!("Slow times run {} {}.", longer(slow), about(slow)),
        (None, Some(fast)) => format!("Fast times run {} {}.", longer(fast), about(fast)),
        (None, None) => {
            let off: Vec<String> = names(known.iter().copied().filter(|row| {
                row.error.is_some_and(|error| {
                    let size = error.value().abs();
                    size > WORTH_SAYING_STOPS && size > error.expanded_95()
                })
            }));
            if off.is_empty() {
                "What was measured is true within its doubt, or nearly so.".to_owned()
            } else {
                format!(
                    "{} stand{} out; the others are near their marks.",
                    listed(&off),
                    if off.len() == 1 { "s" } else { "" }
                )
            }
        }
    }
}

/// Usual causes, worded as possibilities and never as findings (common practice).
pub(super) fn causes(rows: &[TimeRow], common: &Common) -> Vec<String> {
    let mut causes = Vec::new();
    let mut say = |text: &str| causes.push(text.to_owned());
    let (slow, fast) = (common.slow, common.fast);
    if slow.is_some_and(|stops| stops > 0.0) {
        say("Usual causes of slow times that run long: a dry or gummed escapement.");
    }
    if slow.is_some_and(|stops| stops < 0.0) {
        say("Usual causes of slow times that run short: an escapement that does not engage fully.");
    }
    if fast.is_some_and(|stops| stops > 0.0) {
        say(
            "Usual causes of fast times that run long: a second curtain that is slow, by drag or weak tension; in a leaf shutter, oily blades.",
        );
    }
    if fast.is_some_and(|stops| stops < 0.0) {
        say(
            "Usual causes of fast times that run short: a first curtain that drags, so that the second comes too close.",
        );
    }
    let capping = |row: &TimeRow| {
        row.mark.exact().value() < SLOW_FROM_S
            && row.error.is_some_and(|error| {
                error.value() < CAPPING_STOPS && error.value() + error.expanded_95() < CAPPING_STOPS
            })
    };
    if rows.iter().any(|row| row.state >= State::Probable && capping(row)) {
        say(
            "A fast time this short looks like capping: the second curtain catches the first, and part of the frame stays dark.",
        );
    }
    if rows.iter().any(TimeRow::is_uneven) {
        say("Usual causes of an uneven gate: the tension of the two curtains, or drag of the cloth.");
    }
    if causes.is_empty() {
        return causes;
    }
    causes.push(
        "Curtains, tensions and escapements are a workshop's job; these are possibilities, not findings.".to_owned(),
    );
    causes
}

/// How many shots in all would settle a group, if the scatter stays as it is; `None` where no number up to the most does.
fn shots_wanted(group: &Group<'_>, spread: &Spread, tolerance: &Chosen) -> Result<Option<usize>, Error> {
    let Some((error, parts)) = group.error(spread)? else { return Ok(None) };
    let interval = tolerance.interval_at(group.mark)?;
    let shared = parts.last().filter(|part| part.name.ends_with("shared by all shots")).map_or(0.0, |part| part.stops);
    let u = error.standard_uncertainty();
    let own = (u * u - shared * shared).max(0.0) * group.count() as f64;
    for n in group.count() + 1..=MOST_SHOTS {
        let doubt = (shared * shared + own / n as f64).sqrt();
        let freedom =
            if error.degrees_of_freedom().is_finite() { error.degrees_of_freedom() + n as f64 } else { f64::INFINITY };
        let guess = Estimate::new(error.value(), doubt, freedom)?;
        if Call::from_probability(conformance_probability(guess, interval)) != Call::CannotTell {
            return Ok(Some(n));
        }
    }
    Ok(None)
}

/// What would settle what is open, a sentence or two; empty where nothing is open.
pub(super) fn settle(
    rows: &[TimeRow],
    groups: &[Vec<Group<'_>>],
    spread: &Spread,
    tolerance: &Chosen,
) -> Result<String, Error> {
    let mut by_shots: Vec<(String, usize)> = Vec::new();
    let mut by_light = Vec::new();
    for row in rows.iter().filter(|row| row.call == Call::CannotTell) {
        let group =
            groups.iter().flatten().find(|group| group.mark.text() == row.mark.text() && group.signal == row.signal);
        let wanted = match group.filter(|_| row.state >= State::Probable) {
            Some(group) => shots_wanted(group, spread, tolerance)?.map(|n| n - group.count()),
            None => None,
        };
        match wanted {
            Some(more) => by_shots.push((row.mark.label(), more)),
            None => by_light.push(row.mark.label()),
        }
    }
    let mut said = Vec::new();
    if let Some(most) = by_shots.iter().map(|(_, more)| *more).max() {
        let marks: Vec<String> = by_shots.into_iter().map(|(mark, _)| mark).collect();
        said.push(format!(
            "{} at {} would settle {}.",
            words::sentence_case(&words::count(most, "more shot", "more shots")),
            listed(&marks),
            if marks.len() == 1 { "it" } else { "them" }
        ));
    }
    if !by_light.is_empty() {
        let way = if rows.iter().any(|row| row.signal == Signal::Light && row.call == Call::CannotTell) {
            "A light trace with less noise"
        } else {
            "Light through a photocell"
        };
        said.push(format!("{way} would settle {}.", listed(&by_light)));
    }
    Ok(said.join(" "))
}

/// Bulb and self-timer, a sentence each.
pub(super) fn others(takes: &[Take]) -> Vec<String> {
    takes
        .iter()
        .flat_map(|take| take.shots.iter().map(move |shot| (take.signal, shot)))
        .filter_map(|(signal, shot)| match (&shot.counts_for, shot.time) {
            (CountsFor::Special(special), Some(time)) => {
                let seconds = words::plain(time.value(), 1);
                Some(match special {
                    Special::Bulb => format!("Bulb stayed open for {seconds} s, {}.", signal.by()),
                    Special::SelfTimer => format!("The self-timer ran for {seconds} s, {}.", signal.by()),
                })
            }
            _ => None,
        })
        .collect()
}
