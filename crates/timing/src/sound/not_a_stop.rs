//! What sounds suddenly and is no curtain coming to rest: beeps of a self-timer, clockwork, rebounds.
//!
//! Not here: choosing among what is left (`pair`, `series`).

use super::onsets::{Event, Front};
use super::signal::{Signal, decibels};
use crate::fourier::Fourier;

/// A beep is judged over this time after its onset \[s\].
const BEEP_FROM_S: f64 = 4e-3;
const BEEP_TO_S: f64 = 24e-3;
/// It holds its level within this \[dB\] …
const BEEP_HOLDS_DB: f64 = 4.0;
/// … has this share of its power in five bins, and is over when it has fallen by this \[dB\].
const BEEP_SHARE: f64 = 0.8;
const BEEP_OVER_DB: f64 = 10.0;
/// No beep is followed for longer \[s\].
const BEEP_LONGEST_S: f64 = 1.5;

/// Steps of clockwork that make a run, how evenly they follow (tick and tock may differ, so every second is compared), how
/// alike they are \[dB\], and the longest double step \[s\]: shots that are fired evenly are slower.
const TICKS: usize = 7;
const TICK_EVEN: f64 = 0.15;
const TICK_ALIKE_DB: f64 = 7.0;
const TICK_LONGEST_S: f64 = 0.35;

/// A rebound comes this soon \[s\] after something this much louder \[dB\].
const REBOUND_S: f64 = 8e-3;
const REBOUND_DB: f64 = 11.0;

/// What was thrown out.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Thrown {
    /// Beeps that were heard.
    pub beeps: usize,
    /// Ticks of clockwork.
    pub ticks: usize,
    /// Where a run of clockwork as even as a self-timer's ended \[samples\].
    pub last_tick: Option<f64>,
}

/// Throws out beeps and clockwork and marks rebounds.
pub(super) fn throw_out(front: &mut Front) -> Thrown {
    let beeps = beeps(&front.signal, &mut front.events);
    let (ticks, last_tick) = clockwork(front.signal.rate_hz, &mut front.events);
    rebounds(front.signal.rate_hz, &mut front.events);
    Thrown { beeps, ticks, last_tick }
}

fn beeps(signal: &Signal, events: &mut Vec<Event>) -> usize {
    let (from, to) = (signal.count(BEEP_FROM_S), signal.count(BEEP_TO_S));
    let mut fourier = None;
    let (mut silent_until, mut found) = (f64::NEG_INFINITY, 0);
    events.retain(|event| {
        if event.at < silent_until {
            return false;
        }
        let start = event.at.round() as i64 + from as i64;
        let held = decibels(signal.mean_square(start, to - from));
        if (held - event.level_db).abs() > BEEP_HOLDS_DB {
            return true;
        }
        let window = signal.read(start, to - from);
        if share_of_one_tone(fourier.get_or_insert_with(|| Fourier::new(to - from)), &window) < BEEP_SHARE {
            return true;
        }
        let (step, limit) = (signal.count(2e-3).max(1), start + signal.count(BEEP_LONGEST_S) as i64);
        let mut end = start + step as i64;
        while end < limit && decibels(signal.mean_square(end, step)) > held - BEEP_OVER_DB {
            end += step as i64;
        }
        // Its end rings for a few milliseconds in the filter and in the room.
        silent_until = end as f64 + signal.samples(4e-3);
        found += 1;
        false
    });
    found
}

/// The share of the power that lies in the strongest bin and two on either side of it.
fn share_of_one_tone(fourier: &Fourier, window: &[f32]) -> f64 {
    let n = window.len().max(1) as f64;
    let (mut re, mut im) = (vec![0.0_f32; fourier.length()], vec![0.0_f32; fourier.length()]);
    for (i, (re, &v)) in re.iter_mut().zip(window).enumerate() {
        *re = v * (0.5 - 0.5 * libm::cos(2.0 * core::f64::consts::PI * (i as f64 + 0.5) / n)) as f32;
    }
    fourier.forward(&mut re, &mut im);
    let power: Vec<f64> =
        re.iter().zip(&im).take(fourier.length() / 2).map(|(a, b)| f64::from(a * a) + f64::from(b * b)).collect();
    let total: f64 = power.iter().sum();
    let top = power.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1)).map_or(0, |(k, _)| k);
    let near: f64 = power.iter().skip(top.saturating_sub(2)).take(if top < 2 { top + 3 } else { 5 }).sum();
    if total > 0.0 { near / total } else { 0.0 }
}

fn clockwork(rate_hz: f64, events: &mut Vec<Event>) -> (usize, Option<f64>) {
    let mut tick = vec![false; events.len()];
    let longest = TICK_LONGEST_S * rate_hz;
    let mut first = 0;
    while first + TICKS < events.len() {
        let last = run_from(&events[first..], longest) + first;
        // Between two of its own ticks a run may hold others, so runs are looked for among like levels too.
        if last >= first + TICKS {
            tick[first..=last].fill(true);
            first = last + 1;
        } else {
            first += 1;
        }
    }
    let ticks = tick.iter().filter(|&&t| t).count();
    let last = events.iter().zip(&tick).rev().find(|(_, tick)| **tick).map(|(event, _)| event.at);
    let mut keep = tick.into_iter().map(|t| !t);
    events.retain(|_| keep.next().unwrap_or(true));
    (ticks, last)
}

/// The last event, counted from the first, of a run of even and alike ticks.
fn run_from(events: &[Event], longest: f64) -> usize {
    let (mut steps, mut levels): (Vec<f64>, Vec<f64>) = (Vec::new(), Vec::new());
    // The median of the first few dozen is that of the run.
    let insert = |sorted: &mut Vec<f64>, value: f64| {
        if sorted.len() < 64 {
            sorted.insert(sorted.partition_point(|&v| v < value), value);
        }
    };
    for (i, event) in events.iter().enumerate() {
        if !levels.is_empty() && (event.level_db - levels[levels.len() / 2]).abs() > TICK_ALIKE_DB {
            return i - 1;
        }
        if i >= 2 {
            let step = event.at - events[i - 2].at;
            let even = steps.is_empty() || (step / steps[steps.len() / 2] - 1.0).abs() <= TICK_EVEN;
            if step > longest || !even {
                return i - 1;
            }
            insert(&mut steps, step);
        }
        insert(&mut levels, event.level_db);
    }
    events.len().saturating_sub(1)
}

fn rebounds(rate_hz: f64, events: &mut [Event]) {
    let soon = REBOUND_S * rate_hz;
    for i in 0..events.len() {
        let (before, rest) = events.split_at_mut(i);
        if let Some(event) = rest.first_mut() {
            let near = before.iter().rev().take_while(|earlier| event.at - earlier.at < soon);
            event.rebound = near.into_iter().any(|earlier| earlier.level_db > event.level_db + REBOUND_DB);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(ms: f64, level_db: f64) -> Event {
        Event { at: ms * 48.0, level_db, rebound: false }
    }

    #[test]
    fn tick_and_tock_go_and_the_shot_stays() {
        let mut events: Vec<Event> = (0..20).map(|i| at(50.0 * f64::from(i) + f64::from(i % 2) * 8.0, -40.0)).collect();
        events.extend([at(1200.0, -20.0), at(1213.0, -15.0), at(1230.0, -20.0), at(1243.0, -15.0)]);
        let (ticks, last) = clockwork(48_000.0, &mut events);
        assert_eq!((ticks, events.len()), (20, 4));
        assert!(last.is_some_and(|last| (last / 48.0 - 958.0).abs() < 1e-9));
    }

    #[test]
    fn a_quiet_follower_is_a_rebound_and_an_equal_one_is_not() {
        let mut events = [at(0.0, -20.0), at(3.0, -35.0), at(6.0, -22.0), at(30.0, -50.0)];
        rebounds(48_000.0, &mut events);
        assert_eq!(events.map(|event| event.rebound), [false, true, false, false]);
    }

    #[test]
    fn a_tone_is_one_and_noise_is_none() {
        let fourier = Fourier::new(960);
        let tone: Vec<f32> =
            (0..960).map(|i| libm::sin(2.0 * core::f64::consts::PI * 4000.0 * f64::from(i) / 48_000.0) as f32).collect();
        assert!(share_of_one_tone(&fourier, &tone) > 0.95);
        let mut chance = 1_u32;
        let noise: Vec<f32> = (0..960)
            .map(|_| {
                chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (chance >> 24) as f32 - 127.5
            })
            .collect();
        assert!(share_of_one_tone(&fourier, &noise) < 0.3);
    }
}
