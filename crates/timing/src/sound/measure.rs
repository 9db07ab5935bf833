//! One take from its sound: channels, events, shots, series, zero, gate, in this order.
//!
//! Not here: each of these steps; catching shots while they happen (`heard`).

use super::about::{About, Shutter};
use super::anchor;
use super::clusters::{self, Heard};
use super::doubt::Centre;
use super::gate::{self, Placed, Zero};
use super::not_a_stop::throw_out;
use super::notices;
use super::offset::{self, Voter};
use super::onsets::Front;
use super::pair::{self, Pair};
use super::quality;
use super::renumber;
use super::series::{self, Series};
use super::signal::Signal;
use super::verdict::{self, Verdict};
use crate::error::Error;
use crate::shot::{Shot, State, Take};
use crate::waveform::Waveform;

/// So many ticks outside the shots are a self-timer's.
const LEAST_TICKS: usize = 8;
/// A series whose zero its own pairs elect holds times this far apart \[ratio\] …
const DIFFERENT: f64 = 3.9;
/// … and one so fast that a wrong pair would show \[s\]: faster than a curtain travels.
const SHOWS_WRONG_CLOTH_S: f64 = 1.0 / 100.0;
const SHOWS_WRONG_OTHER_S: f64 = 1.0 / 200.0;

/// Measures every shot of a recording from its sound.
///
/// The time of a shot is from the first curtain's stop to the second one's, brought to the middle of the frame where both travels
/// are heard; in a series of three or more different times it is `interval + offset`, the interval by least squares with the
/// camera's own opening and closing, the offset by the shots' own pairs or by the anchor. Several channels are several
/// microphones of the same take; the one that stands highest above its floor is used. The samples are filtered where they lie.
///
/// **Valid** from 4 s to 1/250 s (series, no mirror), to 1/60 s (one shot), to 1/125 s (leaf shutters); what is beyond is
/// `indicative` or has no time. **Errors** where there is no channel, channels differ in rate, or `about` holds times out of range.
pub fn measure(channels: Vec<Waveform>, about: &About) -> Result<Take, Error> {
    about.check()?;
    let (mut front, clipped) = best_channel(channels)?;
    let height_db = front.height_db();
    let thrown = throw_out(&mut front);
    let mut take = Take::default();
    if clipped {
        take.notices.push(notices::clipped());
    }
    if thrown.beeps > 0 {
        take.notices.push(notices::beep());
    }
    let narrow = quality::is_narrow(&front);
    if narrow {
        take.notices.push(notices::low_rate());
    }
    let mut shots = clusters::shots(&front, about);
    let order = renumber::renumber(&front, about, &mut shots);
    let busy = quality::is_busy(&front, &thrown.train, &shots);
    if busy {
        take.notices.push(notices::speech());
    }
    if quality::outside(&front, &shots, &thrown.self_timer) >= LEAST_TICKS {
        take.notices.push(notices::self_timer());
    }
    if shots.is_empty() || height_db < quality::LEAST_HEIGHT_DB {
        take.notices.push(notices::nothing_there());
        return Ok(take);
    }
    if about.mirror && about.anchor.is_none() {
        take.notices.push(notices::mirror());
    }
    let marked_of = |heard: &Heard| heard.marked.and_then(|mark| about.marked_s.get(mark)).copied();
    let marked: Vec<Option<f64>> = shots.iter().map(marked_of).collect();
    let pairs: Vec<Vec<Pair>> =
        shots.iter().zip(&marked).map(|(heard, marked)| pair::pairs(&front, &heard.events, *marked)).collect();
    let verdicts: Vec<Verdict> = shots
        .iter()
        .zip(&marked)
        .zip(&pairs)
        .map(|((heard, marked), pairs)| verdict::judge(&heard.events, pairs, about, *marked))
        .collect();
    take.shots = shots.iter().zip(&verdicts).map(|(heard, verdict)| describe(&front, heard, verdict, about)).collect();

    let known = !about.marked_s.is_empty() && order.is_sure();
    let series = if known { series::solve(&front, &shots, &marked) } else { None };
    let fitted = series.as_ref().filter(|series| series.share >= series::REPEATS);
    if series.is_some() && fitted.is_none() {
        take.notices.push(notices::waveforms_do_not_repeat());
    }
    let zero = fitted.and_then(|series| zero(&front, series, &pairs, &marked, about, &mut take));
    take.offset_s = zero.and_then(Zero::offset_s);
    let most = match (busy, about.marked_s.is_empty()) {
        (true, true) => State::CannotTell,
        (false, false) if order.is_sure() => State::Probable,
        _ => State::Indicative,
    };
    let evidence =
        Evidence { rate_hz: front.signal.rate_hz, series: fitted, zero, verdicts: &verdicts, marked: &marked, most };
    judge_all(&mut take, &evidence, about);
    if narrow {
        take.shots.iter_mut().for_each(gate::demote);
    }
    order.say(&mut take, about);
    if busy && take.shots.iter().all(|shot| shot.time.is_none()) {
        take.shots.clear();
        take.notices.push(notices::nothing_there());
    }
    Ok(take)
}

/// The channel whose events stand highest above its floor, and whether any was clipped.
pub(super) fn best_channel(channels: Vec<Waveform>) -> Result<(Front, bool), Error> {
    let no_channel = || Error::new("a take must have at least one channel, and none was given");
    let first = channels.first().ok_or_else(no_channel)?;
    if let Some(other) = channels.iter().find(|channel| channel.rate_hz() != first.rate_hz()) {
        return Err(Error::new(format!(
            "the channels of a take must have one sampling rate, and {} Hz and {} Hz were given",
            first.rate_hz(),
            other.rate_hz()
        )));
    }
    let clipped = channels.iter().any(quality::is_clipped);
    let fronts = channels.into_iter().map(|channel| Front::of(Signal::of(channel)));
    let best = fronts.reduce(|best, front| if front.height_db() > best.height_db() { front } else { best });
    Ok((best.ok_or_else(no_channel)?, clipped))
}

/// What is known of a shot before anything is decided.
fn describe(front: &Front, heard: &Heard, verdict: &Verdict, about: &About) -> Shot {
    let event_s = |i: usize| heard.events.get(i).map(|event| front.seconds(event.at));
    let mut start_s = front.seconds(heard.from);
    let mut travel_s = None;
    if let Some(pair) = &verdict.pair {
        start_s = event_s(pair.a).unwrap_or(start_s);
        if let Some(travel) = pair.travel.filter(|_| super::doubt::travels_like(pair, about.shutter)) {
            travel_s = Some((travel.first_s, travel.second_s));
            if travel.arrivals {
                start_s -= travel.first_s;
            }
        }
    }
    let mut shot = Shot::at(start_s.max(0.0));
    shot.marked = heard.marked;
    shot.travel_s = travel_s;
    shot.candidates_s = verdict.candidates_s.clone();
    shot.events_s = heard.events.iter().take(200).map(|event| front.seconds(event.at)).collect();
    shot
}

/// Where the series' zero lies.
fn zero(
    front: &Front,
    series: &Series,
    pairs: &[Vec<Pair>],
    marked: &[Option<f64>],
    about: &About,
    take: &mut Take,
) -> Option<Zero> {
    let rate = front.signal.rate_hz;
    let placed: Vec<(usize, f64, f64)> = (0..marked.len())
        .filter_map(|k| {
            let fit = series.fits.get(k)?.as_ref().filter(|fit| series::is_clear(fit))?;
            Some((k, fit.interval / rate, (*marked.get(k)?)?))
        })
        .collect();
    let fastest = placed.iter().map(|p| p.2).fold(f64::INFINITY, f64::min);
    let slowest = placed.iter().map(|p| p.2).fold(0.0, f64::max);
    if slowest / fastest < DIFFERENT && about.anchor.is_none() {
        take.notices.push(notices::too_alike());
    }
    let voters: Vec<Voter<'_>> = placed
        .iter()
        .filter_map(|(k, interval_s, marked)| {
            let pairs = pairs.get(*k)?;
            Some(Voter { interval_s: *interval_s, pairs, marked_s: core::slice::from_ref(marked) })
        })
        .collect();
    if let Some(given) = &about.anchor {
        let shots: Vec<(f64, f64)> = placed.iter().map(|&(_, interval, marked)| (interval, marked)).collect();
        if let Some(anchored) = anchor::offset(given, &shots) {
            let near = (anchored.offset_s, 2.0 * anchored.u_s + 2.0 * Centre::unknown(about.shutter).u_s);
            return Some(with_pairs(anchored, offset::elect(&voters, about.shutter, Some(near))));
        }
        take.notices.push(notices::anchor_unused());
    }
    if let Some(offset) = offset::elect(&voters, about.shutter, None) {
        let shows = if about.shutter == Shutter::Cloth { SHOWS_WRONG_CLOTH_S } else { SHOWS_WRONG_OTHER_S };
        let sure = slowest / fastest >= DIFFERENT && fastest <= shows && offset.supporters >= 3;
        return Some(Zero::Elected {
            centre_s: offset.centre_s,
            edge_s: offset.edge_s,
            centre_u_s: offset.centre_u_s,
            scatter_s: offset.scatter_s,
            sure,
        });
    }
    Some(Zero::Unknown)
}

/// The anchor's offset, and the mean of both where the shots' own pairs elect one beside it: each is independent of the other.
fn with_pairs(anchored: anchor::Anchored, elected: Option<offset::Offset>) -> Zero {
    let Some(elected) = elected else {
        return Zero::Anchored { offset_s: anchored.offset_s, u_s: anchored.u_s, edge_s: None };
    };
    let u = (elected.centre_u_s * elected.centre_u_s + elected.scatter_s * elected.scatter_s).sqrt();
    let (a, e) = (1.0 / (anchored.u_s * anchored.u_s), 1.0 / (u * u));
    Zero::Anchored {
        offset_s: (a * anchored.offset_s + e * elected.centre_s) / (a + e),
        u_s: (1.0 / (a + e)).sqrt(),
        edge_s: Some(elected.edge_s),
    }
}

/// What the shots are judged by.
struct Evidence<'a> {
    rate_hz: f64,
    series: Option<&'a Series>,
    zero: Option<Zero>,
    verdicts: &'a [Verdict],
    marked: &'a [Option<f64>],
    /// The best that may be said of a shot that stands by itself.
    most: State,
}

fn judge_all(take: &mut Take, evidence: &Evidence<'_>, about: &About) {
    let Evidence { rate_hz: rate, series, zero, verdicts, marked, most } = *evidence;
    let interval = |k: usize| series.and_then(|s| s.fits.get(k).copied().flatten()).map(|fit| fit.interval / rate);
    let clear = |k: usize| series.and_then(|s| s.fits.get(k)).and_then(Option::as_ref).is_some_and(series::is_clear);
    let share = |k: usize| series.and_then(|s| s.fits.get(k)).and_then(Option::as_ref).map_or(0.0, |fit| fit.share);
    let confirmed: Vec<bool> = (0..take.shots.len())
        .map(|k| match (interval(k), zero, verdicts.get(k)) {
            (Some(interval), Some(zero), Some(verdict)) => gate::confirms(verdict.pair.as_ref(), interval, zero),
            _ => false,
        })
        .collect();
    let deviations: Vec<f64> = (0..take.shots.len())
        .filter(|&k| confirmed[k])
        .filter_map(|k| Some(gate::deviation(interval(k)? + zero?.offset_s()?, (*marked.get(k)?)?)))
        .collect();
    let placed = (0..take.shots.len()).filter(|&k| clear(k) || confirmed[k]).count();
    let (others, line_stops) = (deviations.len(), series::median(deviations));
    for (k, shot) in take.shots.iter_mut().enumerate() {
        let Some(verdict) = verdicts.get(k) else { continue };
        let marked_s = marked.get(k).copied().flatten();
        match (interval(k), zero) {
            (Some(interval_s), Some(zero)) if clear(k) || confirmed[k] => {
                let placed = Placed {
                    interval_s,
                    confirmed: confirmed[k],
                    clear: clear(k),
                    share: share(k),
                    placed,
                    others,
                    line_stops,
                };
                gate::from_series(shot, placed, zero, about, marked_s);
            }
            (interval_s, _) => {
                shot.interval_s = interval_s.filter(|_| clear(k));
                let most = if series.is_some() { State::Indicative } else { most };
                gate::from_itself(shot, verdict, about, marked_s, most);
                if series.is_some() && shot.time.is_some() {
                    shot.notices.push(notices::not_in_series());
                }
            }
        }
        if let (Some(first), Some(time)) = (shot.candidates_s.first().copied(), shot.time) {
            // One answer is not a choice.
            if shot.candidates_s.len() == 1 && (first - time.value()).abs() < 0.5e-3 {
                shot.candidates_s.clear();
            }
        }
    }
}
