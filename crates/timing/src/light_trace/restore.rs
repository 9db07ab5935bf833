//! A window of samples near an edge, with hum, polarity and the coupling undone.
//!
//! *Equation:* light behind a coupling of rates a and b: `x = y + (a + b)·∫y dt + a·b·∬y dt + K·t`, with y from the level
//! in the dark on; K, what the slower coupling still holds from before, is 0 for one constant. Nothing is carried from one
//! window to the next, so that no error of the coupling can grow. Not here: what the restored light means ([`super::flank`]).

use super::coupling::Coupling;
use super::hum::Hum;
use crate::waveform::Waveform;

/// A channel with what is known of it.
pub(super) struct Trace<'a> {
    /// The recording.
    pub wave: &'a Waveform,
    /// +1 where light makes the signal rise.
    pub sign: f64,
    /// Hum to take away.
    pub hum: Option<Hum>,
    /// The coupling to undo.
    pub coupling: Coupling,
}

/// Restored light, up from an unknown constant.
pub(super) struct Window {
    /// Sample number of the first value.
    pub start: f64,
    /// Light, in the unit of the samples.
    pub light: Vec<f64>,
}

impl Trace<'_> {
    /// The restored light between two sample numbers, as far as stretch `stretch` goes. The first `lead` seconds are steady
    /// (dark or fully open) and level the window where two couplings make it lean.
    pub fn window(&self, stretch: usize, from: f64, to: f64, lead: f64) -> Option<Window> {
        let stretch = self.wave.stretches().get(stretch)?;
        let rate_hz = self.wave.rate_hz();
        let inside = |at: f64| (at - stretch.start as f64).clamp(0.0, stretch.samples.len() as f64) as usize;
        let (first, last) = (inside(from), inside(to));
        let samples = stretch.samples.get(first..last)?;
        if samples.is_empty() {
            return None;
        }
        let start = stretch.start as f64 + first as f64;
        let mut light: Vec<f64> = samples.iter().map(|&x| f64::from(x)).collect();
        if let Some(hum) = &self.hum {
            hum.subtract(&mut light, start, 1.0, rate_hz);
        }
        let (rate, product) = (self.coupling.rate() / rate_hz, self.coupling.product() / (rate_hz * rate_hz));
        let (mut once, mut twice) = (0.0, 0.0);
        for value in &mut light {
            let y = (*value - self.coupling.level) * self.sign;
            let middle = once + y / 2.0;
            *value = y + rate * middle + product * (twice + middle / 2.0);
            twice += middle;
            once += y;
        }
        if product > 0.0 {
            level(&mut light, (lead * rate_hz) as usize);
        }
        Some(Window { start, light })
    }
}

/// Takes away the straight line that lies in the first values.
fn level(light: &mut [f64], lead: usize) {
    let Some(part) = light.get(..lead.min(light.len())).filter(|part| part.len() >= 16) else { return };
    let middle = (part.len() as f64 - 1.0) / 2.0;
    let (mut up, mut squares) = (0.0, 0.0);
    for (i, x) in part.iter().enumerate() {
        let t = i as f64 - middle;
        up += t * x;
        squares += t * t;
    }
    let slope = up / squares;
    light.iter_mut().enumerate().for_each(|(i, x)| *x -= slope * i as f64);
}
