//! A light trace of a shutter of known truth: trapezoids through a coupled input, with noise, at 48 kHz.
//!
//! Each shot is open from half of its opening ramp to half of its closing ramp for exactly its true time, so that its effective
//! time is that time. Not here: what is measured in it (`timing`), which camera it belongs to ([`super`]).

use super::Chance;

/// Sampling rate \[Hz\].
pub const RATE_HZ: f64 = 48_000.0;
/// Time constant of the input's coupling \[s\].
const COUPLING_S: f64 = 0.03;
/// Length of a ramp \[s\].
const RAMP_S: f64 = 0.3e-3;
/// Quiet between shots \[s\].
const PAUSE_S: f64 = 0.6;
/// Light of the open shutter, full scale being 1.
const OPEN: f64 = 0.3;
/// Noise, as a share of the open level.
const NOISE: f64 = 0.004;

/// A trace of shots of these true times \[s\], one after another.
pub fn trace(times_s: &[f64], chance: &mut Chance) -> Vec<f32> {
    let length: f64 = PAUSE_S + times_s.iter().map(|time| time + PAUSE_S).sum::<f64>();
    let mut edges = Vec::new();
    let mut at = PAUSE_S;
    for time in times_s {
        edges.push((at, at + time));
        at += time + PAUSE_S;
    }
    // The same ramp opens and closes, so that half of the light stands at the edge itself.
    let step = |since: f64| ((since / RAMP_S) + 0.5).clamp(0.0, 1.0);
    let mut samples = Vec::with_capacity((length * RATE_HZ) as usize);
    let (mut low, mut next) = (0.0, 0);
    for n in 0..(length * RATE_HZ) as usize {
        let now = n as f64 / RATE_HZ;
        while edges.get(next).is_some_and(|(_, closing)| *closing + RAMP_S < now) {
            next += 1;
        }
        let light = edges.get(next).map_or(0.0, |(opening, closing)| step(now - opening) - step(now - closing));
        // One pole: what stays the same for long is not let through.
        low += (light - low) / (COUPLING_S * RATE_HZ);
        let noise = NOISE * (chance.next() + chance.next() + chance.next());
        samples.push((OPEN * (light - low + noise)) as f32);
    }
    samples
}
