//! Simulated light traces of known truth: trapezoid and leaf pulses through a lagging sensor and a coupled input, computed at
//! eight times the sampling rate, with lamp ripple, bounces, hum and noise from a seed.
//!
//! Not here: what is asked of the measurement (`light_pulses.rs`, `light_corpus.rs`).

use timing::Waveform;

/// Oversampling.
const OVER: usize = 8;
/// Taps of the linear-phase decimation filter, per output sample on each side.
const SIDE: usize = 8;

/// A small generator of pseudo-random numbers (xorshift64*), so that a seed gives the same trace everywhere.
pub struct Chance(u64);

impl Chance {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        let mut chance = Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        (0..8).for_each(|_| {
            chance.uniform();
        });
        chance
    }

    /// In [0, 1).
    pub fn uniform(&mut self) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        (self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Between two numbers.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Between two numbers, evenly in the logarithm.
    pub fn log_between(&mut self, low: f64, high: f64) -> f64 {
        libm::exp(self.between(libm::log(low), libm::log(high)))
    }

    /// Normally distributed.
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * libm::log(1.0 - self.uniform())).sqrt();
        radius * libm::cos(core::f64::consts::TAU * self.uniform())
    }
}

/// What the lamp does.
#[derive(Clone, Copy, Debug)]
pub enum Lamp {
    /// Steady.
    Steady,
    /// Swings as a sine: frequency and depth.
    Ripple(f64, f64),
    /// Goes on and off: frequency and the part of the time that it is on.
    Pulsed(f64, f64),
}

/// What a recording is made of.
#[derive(Clone, Debug)]
pub struct Scene {
    pub rate_hz: f64,
    /// Time constants of the coupling.
    pub taus: Vec<f64>,
    /// Open level over rms noise, in dB.
    pub snr_db: f64,
    /// Open level; below 0 for an inverted input.
    pub level: f64,
    /// Sensor width over curtain speed: flanks of a slit shutter [s].
    pub sensor_s: f64,
    /// Opening, closing and power of the ramps of a leaf shutter instead.
    pub leaf: Option<(f64, f64, f64)>,
    pub lamp: Lamp,
    /// Amplitude over the open level, and frequency.
    pub hum: Option<(f64, f64)>,
    /// Delay, width and height.
    pub bounce: Option<(f64, f64, f64)>,
    /// Time constant of the sensor.
    pub lag_s: f64,
    /// Cut off at this part of the open level.
    pub clip: Option<f64>,
    /// Dark between shots [s].
    pub gap_s: f64,
}

impl Default for Scene {
    fn default() -> Self {
        Self {
            rate_hz: 48_000.0,
            taus: vec![0.02],
            snr_db: 45.0,
            level: 0.4,
            sensor_s: 0.3e-3,
            leaf: None,
            lamp: Lamp::Steady,
            hum: None,
            bounce: None,
            lag_s: 0.0,
            clip: None,
            gap_s: 0.25,
        }
    }
}

/// A recording with the truth.
pub struct Simulated {
    pub samples: Vec<f32>,
    /// Where each shot opens (middle of the flank) [s].
    pub openings_s: Vec<f64>,
}

impl Simulated {
    pub fn waveform(&self, scene: &Scene) -> Waveform {
        Waveform::whole(scene.rate_hz, self.samples.clone()).expect("finite samples")
    }
}

/// How open the shutter is, `t` after its first light, for an effective time.
fn open(scene: &Scene, effective: f64, t: f64) -> f64 {
    if let Some((rise, fall, power)) = scene.leaf {
        // A ramp xᵖ has p/(p + 1) of its length in shade.
        let stay = effective - (rise + fall) / (power + 1.0);
        if t < 0.0 || t > rise + stay + fall {
            0.0
        } else if t < rise {
            libm::pow(t / rise, power)
        } else if t < rise + stay {
            1.0
        } else {
            libm::pow((rise + stay + fall - t) / fall, power)
        }
    } else {
        // A slit of `effective` over a window of `sensor_s`: a trapezoid, lower than 1 where the slit is narrower.
        let (slit, sensor) = (effective, scene.sensor_s);
        let flank = slit.min(sensor);
        let height = (slit / sensor).min(1.0);
        (t.min(slit + sensor - t) / flank).clamp(0.0, 1.0) * height
    }
}

/// Half of the time that the sensor needs to be uncovered.
fn flank_middle(scene: &Scene, effective: f64) -> f64 {
    scene.leaf.map_or(effective.min(scene.sensor_s) / 2.0, |leaf| leaf.0 / 2.0)
}

/// Simulates one recording of shots with these effective times.
pub fn simulate(scene: &Scene, times_s: &[f64], chance: &mut Chance) -> Simulated {
    let fine_hz = scene.rate_hz * OVER as f64;
    let mut starts = Vec::new();
    let mut at = 0.15 + chance.uniform() / scene.rate_hz + 0.01 * chance.uniform();
    for time in times_s {
        starts.push(at);
        at += time + scene.sensor_s + scene.gap_s * chance.between(1.0, 1.3);
    }
    let len = (at * fine_hz) as usize;
    let phase = chance.between(0.0, core::f64::consts::TAU);
    let mut light = vec![0.0_f64; len];
    for (start, &time) in starts.iter().zip(times_s) {
        let flanks = scene.leaf.map_or(scene.sensor_s, |leaf| leaf.0 + leaf.1);
        let ended = start + time + flanks;
        let (from, to) = ((start * fine_hz) as usize, ((ended + 0.02) * fine_hz) as usize);
        for (i, x) in light.iter_mut().enumerate().take(to.min(len)).skip(from) {
            let t = i as f64 / fine_hz;
            *x += open(scene, time, t - start);
            if let Some((delay, width, height)) = scene.bounce {
                let s = (t - ended - delay) / width;
                if (0.0..1.0).contains(&s) {
                    *x += height * (1.0 - (2.0 * s - 1.0) * (2.0 * s - 1.0));
                }
            }
        }
    }
    for (i, x) in light.iter_mut().enumerate() {
        let t = i as f64 / fine_hz;
        *x *= scene.level
            * match scene.lamp {
                Lamp::Steady => 1.0,
                Lamp::Ripple(frequency, depth) => {
                    1.0 + depth * libm::sin(core::f64::consts::TAU * frequency * t + phase)
                }
                Lamp::Pulsed(frequency, on) => {
                    if (frequency * t + phase).fract() < on {
                        1.0
                    } else {
                        0.1
                    }
                }
            };
    }
    if scene.lag_s > 0.0 {
        let keep = libm::exp(-1.0 / (fine_hz * scene.lag_s));
        let mut y = 0.0;
        for x in &mut light {
            y = keep * y + (1.0 - keep) * *x;
            *x = y;
        }
    }
    for tau in &scene.taus {
        let keep = libm::exp(-1.0 / (fine_hz * tau));
        let (mut y, mut before) = (0.0, 0.0);
        for x in &mut light {
            y = keep * y + (1.0 + keep) / 2.0 * (*x - before);
            before = *x;
            *x = y;
        }
    }
    let noise = scene.level.abs() * libm::pow(10.0, -scene.snr_db / 20.0);
    let samples = decimate(&light)
        .into_iter()
        .enumerate()
        .map(|(i, x)| {
            let hum = scene.hum.map_or(0.0, |(size, frequency)| {
                let turn = core::f64::consts::TAU * frequency * i as f64 / scene.rate_hz + 1.0;
                size * scene.level.abs() * (libm::cos(turn) + 0.3 * libm::sin(3.0 * turn))
            });
            let value = x + hum + noise * chance.normal();
            let value =
                scene.clip.map_or(value, |clip| value.clamp(-clip * scene.level.abs(), clip * scene.level.abs()));
            ((value * 32_768.0).round().clamp(-32_768.0, 32_767.0) / 32_768.0) as f32
        })
        .collect();
    let openings_s = starts.iter().zip(times_s).map(|(start, &time)| start + flank_middle(scene, time)).collect();
    Simulated { samples, openings_s }
}

/// Linear-phase decimation by [`OVER`]: a sinc under a raised cosine, passing 0.9 of half the sampling rate.
fn decimate(fine: &[f64]) -> Vec<f64> {
    let reach = (OVER * SIDE) as i64;
    let mut taps: Vec<f64> = (-reach..=reach)
        .map(|k| {
            let x = 0.9 * k as f64 / OVER as f64 * core::f64::consts::PI;
            let sinc = if k == 0 { 1.0 } else { libm::sin(x) / x };
            sinc * (0.5 + 0.5 * libm::cos(core::f64::consts::PI * k as f64 / (reach + 1) as f64))
        })
        .collect();
    let total: f64 = taps.iter().sum();
    taps.iter_mut().for_each(|tap| *tap /= total);
    let mut padded = vec![0.0; reach as usize];
    padded.extend_from_slice(fine);
    padded.resize(fine.len() + 2 * reach as usize + 1, 0.0);
    (0..fine.len() / OVER).map(|i| taps.iter().zip(&padded[i * OVER..]).map(|(tap, x)| tap * x).sum()).collect()
}
