//! The sound of a shutter of known truth: each curtain's start and stop as an impact that lets one body ring, with the room's noise,
//! at 48 kHz.
//!
//! An impact is a sum of damped resonances of the camera's body, begun between samples; the two curtains' stops excite it nearly
//! alike, and no two shots quite alike. Not here: what is measured in it (`timing`), which camera it belongs to ([`super`]).

use core::f64::consts::PI;

use super::Chance;

/// Sampling rate \[Hz\].
pub const RATE_HZ: f64 = 48_000.0;
/// How long each curtain travels \[s\].
const TRAVEL_S: f64 = 11e-3;
/// Quiet around each shot \[s\].
const PAUSE_S: f64 = 1.2;
/// Resonances of the body.
const MODES: usize = 48;
/// Share of an impact that is new at every shot.
const NEW: f64 = 0.2;
/// Level of a start under a stop, and of the room's noise.
const START: f64 = 0.4;
const NOISE: f64 = 0.004;
/// The loudest sample, full scale being 1.
const PEAK: f64 = 0.5;

struct Body {
    /// Frequency \[Hz\] and decay \[s\].
    modes: Vec<(f64, f64)>,
    /// How a start and a stop excite each.
    start: Vec<f64>,
    stop: Vec<f64>,
}

impl Body {
    fn new(chance: &mut Chance) -> Self {
        let mut draw = |low: f64, high: f64| low + (high - low) * (0.5 + 0.5 * chance.next());
        let modes = (0..MODES).map(|_| (draw(900.0, 16_000.0), draw(0.4e-3, 1.6e-3))).collect();
        let mut excited = || (0..MODES).map(|_| draw(-1.0, 1.0)).collect();
        Self { modes, start: excited(), stop: excited() }
    }

    /// Adds one impact at its exact moment, between samples.
    fn strike(&self, samples: &mut [f64], at_s: f64, excited: &[f64], level: f64, chance: &mut Chance) {
        let first = (at_s * RATE_HZ).ceil();
        for ((hz, decay_s), usual) in self.modes.iter().zip(excited) {
            let amplitude = level * (usual + NEW * chance.next());
            let length = (6.0 * decay_s * RATE_HZ) as usize;
            for (n, sample) in samples.iter_mut().skip(first as usize).take(length).enumerate() {
                let since = (first + n as f64) / RATE_HZ - at_s;
                *sample += amplitude * libm::exp(-since / decay_s) * libm::sin(2.0 * PI * hz * since);
            }
        }
    }
}

/// The sound of shots of these true times \[s\] at the middle of the frame, one after another; both curtains travel alike, so that
/// starts and stops are as far apart as the time.
pub fn series(times_s: &[f64], chance: &mut Chance) -> Vec<f32> {
    let body = Body::new(chance);
    let length: f64 = PAUSE_S + times_s.iter().map(|time| time + TRAVEL_S + PAUSE_S).sum::<f64>();
    let mut samples = vec![0.0; (length * RATE_HZ) as usize];
    let mut at = PAUSE_S;
    for time in times_s {
        for curtain in [at, at + time] {
            body.strike(&mut samples, curtain, &body.start, START, chance);
            body.strike(&mut samples, curtain + TRAVEL_S, &body.stop, 1.0, chance);
        }
        at += time + TRAVEL_S + PAUSE_S;
    }
    let peak = samples.iter().fold(0.0_f64, |peak, sample| peak.max(sample.abs()));
    let scale = PEAK / peak;
    samples
        .iter()
        .map(|sample| (sample * scale + NOISE * (chance.next() + chance.next() + chance.next())) as f32)
        .collect()
}
