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
/// … and in each of so many parts within this \[dB\], …
const BEEP_PARTS: usize = 5;
const BEEP_EVEN_DB: f64 = 2.5;
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

/// Double steps at least this long \[s\] are a self-timer's; shorter ones a gear train's, or a voice's.
const SELF_TIMER_S: f64 = 30e-3;

/// What was thrown out.
#[derive(Clone, Debug, Default)]
pub(super) struct Thrown {
    /// Beeps that were heard.
    pub beeps: usize,
    /// Ticks as slow as a self-timer's.
    pub self_timer: Vec<Event>,
    /// What followed as evenly as a gear train.
    pub train: Vec<Event>,
}

/// Throws out beeps and clockwork and marks rebounds.
pub(super) fn throw_out(front: &mut Front) -> Thrown {
    let mut thrown = Thrown { beeps: beeps(&front.signal, &mut front.events), ..Thrown::default() };
    clockwork(front.signal.rate_hz, &mut front.events, &mut thrown);
    rebounds(front.signal.rate_hz, &mut front.events);
    thrown
}

fn beeps(signal: &Signal, events: &mut Vec<Event>) -> usize {
    let (from, to) = (signal.count(BEEP_FROM_S), signal.count(BEEP_TO_S));
    let mut tone = None;
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
        // What rings dies away within this time; what beeps is as loud in every part of it.
        let part = ((to - from) / BEEP_PARTS).max(1);
        let parts = (0..BEEP_PARTS).map(|k| decibels(signal.mean_square(start + (k * part) as i64, part)));
        if parts.into_iter().any(|level| (level - held).abs() > BEEP_EVEN_DB) {
            return true;
        }
        let window = signal.read(start, to - from);
        if tone.get_or_insert_with(|| Tone::new(to - from)).share(&window) < BEEP_SHARE {
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

/// Tells one tone from other sounds in windows of one length.
struct Tone {
    fourier: Fourier,
    hann: Vec<f32>,
}

impl Tone {
    fn new(length: usize) -> Self {
        let turn = 2.0 * core::f64::consts::PI / length.max(1) as f64;
        let hann = (0..length).map(|i| (0.5 - 0.5 * libm::cos(turn * (i as f64 + 0.5))) as f32).collect();
        Self { fourier: Fourier::new(length), hann }
    }

    /// The share of the power that lies in the strongest bin and two on either side of it.
    fn share(&self, window: &[f32]) -> f64 {
        let length = self.fourier.length();
        let mut re: Vec<f32> = window.iter().zip(&self.hann).map(|(v, hann)| v * hann).collect();
        re.resize(length, 0.0);
        let mut im = vec![0.0_f32; length];
        self.fourier.forward(&mut re, &mut im);
        let power: Vec<f64> =
            re.iter().zip(&im).take(length / 2).map(|(a, b)| f64::from(a * a) + f64::from(b * b)).collect();
        let total: f64 = power.iter().sum();
        let top = power.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1)).map_or(0, |(k, _)| k);
        let near: f64 = power.iter().skip(top.saturating_sub(2)).take(if top < 2 { top + 3 } else { 5 }).sum();
        if total > 0.0 { near / total } else { 0.0 }
    }
}

fn clockwork(rate_hz: f64, events: &mut Vec<Event>, thrown: &mut Thrown) {
    let mut is_tick = vec![false; events.len()];
    for first in 0..events.len() {
        if is_tick[first] {
            continue;
        }
        let (run, step) = run_from(events, &is_tick, first, TICK_LONGEST_S * rate_hz);
        if run.len() > TICKS {
            let slow = step >= SELF_TIMER_S * rate_hz;
            let list = if slow { &mut thrown.self_timer } else { &mut thrown.train };
            for i in run {
                is_tick[i] = true;
                list.push(events[i]);
            }
        }
    }
    let mut keep = is_tick.into_iter().map(|tick| !tick);
    events.retain(|_| keep.next().unwrap_or(true));
}

/// A run of even and alike ticks that begins with an event, and its median double step. What is quieter, or comes between two
/// ticks, is not part of the run and does not end it.
fn run_from(events: &[Event], taken: &[bool], first: usize, longest: f64) -> (Vec<usize>, f64) {
    let (mut run, mut steps, mut levels) = (vec![first], Vec::new(), vec![events[first].level_db]);
    // The median of the first few dozen is that of the run.
    let insert = |sorted: &mut Vec<f64>, value: f64| {
        if sorted.len() < 64 {
            sorted.insert(sorted.partition_point(|&v| v < value), value);
        }
    };
    let middle = |sorted: &[f64]| sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    for (i, event) in events.iter().enumerate().skip(first + 1) {
        let louder = event.level_db - middle(&levels);
        if louder < -TICK_ALIKE_DB || taken[i] {
            continue;
        }
        if louder > TICK_ALIKE_DB {
            break;
        }
        match run.len().checked_sub(2).map(|before| event.at - events[run[before]].at) {
            None if event.at - events[first].at > longest => break,
            None => {}
            Some(step) if step > longest => break,
            Some(step) if steps.is_empty() => insert(&mut steps, step),
            Some(step) => {
                let even = step / middle(&steps);
                if even > 1.0 + TICK_EVEN {
                    break;
                }
                if even < 1.0 - TICK_EVEN {
                    continue;
                }
                insert(&mut steps, step);
            }
        }
        insert(&mut levels, event.level_db);
        run.push(i);
    }
    (run, middle(&steps))
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
        // A weak sound between two ticks does not hide the run.
        events.insert(5, at(210.0, -60.0));
        let mut thrown = Thrown::default();
        clockwork(48_000.0, &mut events, &mut thrown);
        assert_eq!((thrown.self_timer.len(), thrown.train.len(), events.len()), (20, 0, 5));
    }

    #[test]
    fn a_gear_train_or_a_voice_is_no_self_timer() {
        let mut events: Vec<Event> = (0..20).map(|i| at(5.0 * f64::from(i), -40.0)).collect();
        let mut thrown = Thrown::default();
        clockwork(48_000.0, &mut events, &mut thrown);
        assert_eq!((thrown.self_timer.len(), thrown.train.len(), events.len()), (0, 20, 0));
    }

    #[test]
    fn a_quiet_follower_is_a_rebound_and_an_equal_one_is_not() {
        let mut events = [at(0.0, -20.0), at(3.0, -35.0), at(6.0, -22.0), at(30.0, -50.0)];
        rebounds(48_000.0, &mut events);
        assert_eq!(events.map(|event| event.rebound), [false, true, false, false]);
    }

    #[test]
    fn a_tone_is_one_and_noise_is_none() {
        let judge = Tone::new(960);
        let tone: Vec<f32> = (0..960)
            .map(|i| libm::sin(2.0 * core::f64::consts::PI * 4000.0 * f64::from(i) / 48_000.0) as f32)
            .collect();
        assert!(judge.share(&tone) > 0.95);
        let mut chance = 1_u32;
        let noise: Vec<f32> = (0..960)
            .map(|_| {
                chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (chance >> 24) as f32 - 127.5
            })
            .collect();
        assert!(judge.share(&noise) < 0.3);
    }
}
