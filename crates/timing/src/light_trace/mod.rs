//! Light behind the shutter, as a photocell at an audio input shows it: each pulse's effective time with its doubt.
//!
//! *What is measured:* the effective time of ISO 516:2019, `t = ∫E dt / E_open`, from 1/4000 s to 4 s. A coupled input turns a
//! pulse into two spikes; its one or two time constants are found in the dark after each closing and undone. Polarity, hum,
//! flicker, bounces, slits narrower than the sensor and clipping are found from the trace itself.
//!
//! Rooms, in the order in which they are used: `survey` (noise, clipping), `edges`, `hum`, `coupling`, `restore`, `flank`,
//! `flicker`, `bounce`, `seen` (one release), `verdict` (its time and doubt), `channels` (two sensors), `notices`.
//!
//! Not here: marks on dials, reading files, tolerances.

mod bounce;
mod channels;
mod coupling;
mod edges;
mod flank;
mod flicker;
mod hum;
mod notices;
mod restore;
mod seen;
mod survey;
mod verdict;

use self::flank::Conditions;
use self::restore::Trace;
use self::seen::{Release, Seen};
use self::survey::Survey;
use self::verdict::{RIPPLE, Scene};
use crate::error::Error;
use crate::shot::{Shot, Take};
use crate::waveform::Waveform;

/// Times every pulse of light in a recording of one photocell, or of two at both ends of the gate.
///
/// **Equation** `t = ∫E dt / E_open` \[s\] (ISO 516:2019, effective time; the definition from secondary sources). With two
/// different channels a shot's time is the mean of both sensors' times, `places` has each, and `travel_s` the times that the
/// first and the second curtain take from one sensor to the other.
/// **Valid** from 1/4000 s to 4 s, from about 20 dB of light over noise on; the doubt of each time says the rest. A shot whose
/// time cannot be told has none, and a notice with the reason. A recording without light gives no shots and a notice.
/// **Errors** where there is not one or two channels, or their sampling rates differ.
pub fn measure(channels: &[Waveform]) -> Result<Take, Error> {
    match channels {
        [one_channel] => Ok(one(one_channel)),
        [a, b] => {
            if a.rate_hz() != b.rate_hz() {
                return Err(Error::new(format!(
                    "both channels of a light trace must have one sampling rate, and {} Hz and {} Hz were given",
                    a.rate_hz(),
                    b.rate_hz()
                )));
            }
            Ok(if a == b { one(a) } else { channels::together(one(a), one(b)) })
        }
        _ => Err(Error::new(format!("a light trace has one or two channels, and {} were given", channels.len()))),
    }
}

/// One sensor.
fn one(wave: &Waveform) -> Take {
    let mut survey = survey::survey(wave);
    let rate = edges::rough_rate(&survey);
    let mut found = edges::edges(&survey, rate);
    let hum = hum::hum(&survey, &found.pulses, rate);
    if let Some(hum) = &hum {
        hum::without_hum(&mut survey, hum);
        found = edges::edges(&survey, rate);
    }
    if found.pulses.is_empty() && found.unclosed.is_empty() {
        let notice = if found.found > 0 { notices::no_light_trace() } else { notices::nothing_there() };
        return Take { notices: vec![notice], ..Take::default() };
    }
    let coupling = coupling::coupling(&survey, &found.pulses, rate);
    let trace = Trace { wave, sign: found.sign, hum, coupling };
    let releases = seen::releases(&found.pulses, survey.rate_hz);
    let (shots, scene, level) = shots(&trace, &survey, &releases, found.pulsed);
    let mut take = Take { shots, coupling_s: trace.coupling.constants_s.clone(), ..Take::default() };
    say(&mut take, &trace, &scene, level);
    for edge in &found.unclosed {
        let mut shot = Shot::at((edge.at / survey.rate_hz).max(0.0));
        shot.notices.push(notices::no_closing());
        take.shots.push(shot);
    }
    take.shots.sort_by(|a, b| a.start_s.total_cmp(&b.start_s));
    let dirty = take.shots.iter().filter(|shot| shot.has("not-a-clean-pulse") || shot.has("no-closing")).count();
    let measured = take.shots.iter().filter(|shot| shot.time.is_some()).count();
    if dirty > 3 && dirty > 2 * measured || take.shots.is_empty() {
        return Take { notices: vec![notices::no_light_trace()], ..Take::default() };
    }
    take
}

/// The shots, what holds for all of them, and the open level.
fn shots(trace: &Trace, survey: &Survey, releases: &[Release], pulsed: bool) -> (Vec<Shot>, Scene, f64) {
    let rate_hz = survey.rate_hz;
    let noise = survey.noise * seen::grain(trace, survey, releases);
    let clipped: Vec<bool> = releases.iter().map(|release| is_clipped(survey, release)).collect();
    let ripple = ripple(trace, releases, &clipped, noise);
    let how = Conditions { rate_hz, noise, flickers: ripple > RIPPLE };
    let scene = Scene { rate_hz, noise, ripple, pulsed, rate_doubt: trace.coupling.rate_doubt() };
    let beside = 1.0e-3 * rate_hz;
    let looks: Vec<Option<Seen>> = (0..releases.len())
        .map(|i| {
            let release = releases.get(i)?;
            let before = i.checked_sub(1).and_then(|i| releases.get(i)).map_or(0.0, |last| last.ended.at + beside);
            let after = releases.get(i + 1).map_or(f64::INFINITY, |next| next.pulse.opening.at - beside);
            seen::look(trace, survey, release, (before, after), how)
        })
        .collect();
    let usable: Vec<&Seen> = looks
        .iter()
        .zip(&clipped)
        .zip(releases)
        .filter(|((_, clipped), release)| !**clipped && !release.broken)
        .filter_map(|((seen, _), _)| seen.as_ref())
        .filter(|seen| verdict::is_clean(seen, &scene))
        .collect();
    let reference = verdict::reference(&usable, &scene);
    let level =
        reference.map_or_else(|| usable.iter().map(|s| s.level).fold(0.0, f64::max), |reference| reference.level);
    let shots = looks
        .iter()
        .zip(&clipped)
        .zip(releases)
        .map(|((seen, &clipped), release)| match seen {
            Some(seen) => verdict::shot(seen, &scene, reference, clipped, release.broken),
            None => {
                let mut shot = Shot::at((release.pulse.opening.at / rate_hz).max(0.0));
                shot.notices.push(match (clipped, pulsed) {
                    (true, _) => notices::clipped(),
                    (_, true) => notices::pulsed_lamp(),
                    _ => notices::not_clean(),
                });
                shot
            }
        })
        .collect();
    (shots, scene, level)
}

/// The lamp's ripple over the open level, from the exposures that are long enough; 0 where it does not stand out.
fn ripple(trace: &Trace, releases: &[Release], clipped: &[bool], noise: f64) -> f64 {
    releases
        .iter()
        .zip(clipped)
        .filter(|(_, clipped)| !**clipped)
        .filter_map(|(release, _)| {
            let pulse = &release.pulse;
            let step = pulse.opening.step.abs().max(pulse.closing.step.abs());
            flicker::flicker(trace, pulse, step, noise)
        })
        .filter(|(size, doubt)| *size > RIPPLE && *size > 4.0 * doubt)
        .map(|(size, _)| size)
        .fold(0.0, f64::max)
}

fn is_clipped(survey: &Survey, release: &Release) -> bool {
    let beside = 2.0e-3 * survey.rate_hz;
    let (from, to) = (release.pulse.opening.at - beside, release.ended.at + beside);
    let next = survey.clipped.partition_point(|run| (run.1 as f64) < from);
    survey.clipped.get(next).is_some_and(|run| (run.0 as f64) < to)
}

/// What has to be known about the take as a whole.
fn say(take: &mut Take, trace: &Trace, scene: &Scene, level: f64) {
    for code in ["clipped", "pulsed-lamp", "flicker"] {
        let notice = take.shots.iter().flat_map(|shot| &shot.notices).find(|notice| notice.code == code).cloned();
        take.notices.extend(notice);
    }
    if scene.ripple > RIPPLE && !take.has("flicker") && !take.has("pulsed-lamp") {
        take.notices.push(notices::flicker(scene.ripple, false));
    }
    if let Some(hum) = &trace.hum
        && level > 0.0
    {
        take.notices.push(notices::hum(hum.amplitude() / level, hum.frequency_hz));
    }
    let coupling = &trace.coupling;
    if !coupling.constants_s.is_empty() && (coupling.doubt > 0.3 || coupling.at_end) {
        take.notices.push(notices::tau_uncertain());
    }
    if coupling.not_exponential {
        take.notices.push(notices::tail_not_exponential());
    }
}
