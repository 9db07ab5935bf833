//! Invented cameras and the sounds of their shutters, computed from a seed, with every time known.
//!
//! Impacts are sums of damped resonances of one body, begun between samples; each kind of event excites them in its own way, the
//! two stops alike by a known degree, and every shot a little differently. Not here: what is made of the sounds.
#![allow(dead_code)] // Each test uses its own part of this.

use timing::Waveform;
use timing::sound::Shutter;

/// Chance from a seed (splitmix64).
pub struct Chance(pub u64);

impl Chance {
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Evenly between two numbers.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Normal, mean 0, standard deviation 1.
    pub fn normal(&mut self) -> f64 {
        let u = self.between(1e-12, 1.0);
        let angle = self.between(0.0, 2.0 * core::f64::consts::PI);
        (-2.0 * libm::log(u)).sqrt() * libm::cos(angle)
    }

    /// Nearly normal and quick, for noise.
    pub fn hiss(&mut self) -> f64 {
        let b = self.bits();
        let sum = (b & 0xffff) + ((b >> 16) & 0xffff) + ((b >> 32) & 0xffff) + (b >> 48);
        (sum as f64 / 65_536.0 - 2.0) * 1.732
    }
}

/// What a camera and its surroundings are like.
#[derive(Clone, Copy, Debug)]
pub struct Scene {
    pub shutter: Shutter,
    pub mirror: bool,
    pub rate_hz: f64,
    /// Rms of a stop's first 5 ms over rms noise \[dB\].
    pub snr_db: f64,
    /// Likeness of the two stops' excitation, and of one event from shot to shot.
    pub alike: f64,
    pub repeat: f64,
    /// Level of the room's reflections under the direct sound \[dB\], and their duration \[s\].
    pub room_db: f64,
    pub rt60_s: f64,
    /// Shutter's own repeatability, relative.
    pub scatter: f64,
}

impl Scene {
    pub fn of(shutter: Shutter, mirror: bool) -> Self {
        Self {
            shutter,
            mirror,
            rate_hz: 48_000.0,
            snr_db: 35.0,
            alike: 0.6,
            repeat: 0.93,
            room_db: -18.0,
            rt60_s: 0.4,
            scatter: 0.01,
        }
    }
}

/// What one shot really was.
#[derive(Clone, Copy, Debug)]
pub struct Truth {
    pub marked_s: f64,
    /// Effective time in the middle of the frame \[s\].
    pub time_s: f64,
    /// From start to start and from stop to stop \[s\].
    pub starts_s: f64,
    pub stops_s: f64,
    /// First curtain's start and second curtain's stop in the recording \[s\].
    pub from_s: f64,
    pub to_s: f64,
}

const MODES: usize = 80;
const KINDS: usize = 9;
#[derive(Clone, Copy)]
enum Kind {
    Release,
    Start1,
    Stop1,
    Start2,
    Stop2,
    Tick,
    End,
    MirrorUp,
    MirrorDown,
}

/// An invented camera.
pub struct Camera {
    scene: Scene,
    chance: Chance,
    /// Frequency \[Hz\] and decay \[s\] of each mode.
    modes: Vec<(f64, f64)>,
    /// How each kind of event excites each mode, and its level \[dB\].
    excitation: Vec<Vec<f64>>,
    level_db: Vec<f64>,
    travel_s: (f64, f64),
    mirror_s: (f64, f64),
    rebound: (f64, f64),
    tick_s: f64,
    share: f64,
    /// Deviation of the marked times: a constant and a slope over stops.
    bias: (f64, f64),
}

impl Camera {
    pub fn new(scene: Scene, seed: u64) -> Self {
        let mut chance = Chance(seed.wrapping_mul(0x5851_f42d_4c95_7f2d).wrapping_add(99));
        let c = &mut chance;
        let modes: Vec<(f64, f64)> = (0..MODES)
            .map(|k| {
                if k < 10 {
                    (200.0 * libm::pow(45.0, c.between(0.0, 1.0)), 0.4e-3 * libm::pow(30.0, c.between(0.0, 1.0)))
                } else {
                    (c.between(1200.0, 17_500.0), c.between(0.3e-3, 1.2e-3))
                }
            })
            .collect();
        let mut excitation: Vec<Vec<f64>> = (0..KINDS).map(|_| (0..MODES).map(|_| c.normal()).collect()).collect();
        let rest = (1.0 - scene.alike * scene.alike).sqrt();
        for (first, second) in [(Kind::Stop1, Kind::Stop2), (Kind::Start1, Kind::Start2)] {
            let alike = excitation[first as usize].clone();
            for (v, first) in excitation[second as usize].iter_mut().zip(alike) {
                *v = scene.alike * first + rest * *v;
            }
        }
        let mut level_db = vec![0.0; KINDS];
        let start = c.between(-14.0, -4.0);
        level_db[Kind::Start1 as usize] = start;
        level_db[Kind::Start2 as usize] = start + c.normal();
        level_db[Kind::Stop2 as usize] = 1.5 * c.normal();
        level_db[Kind::Release as usize] = c.between(-20.0, -7.0);
        level_db[Kind::Tick as usize] = c.between(-30.0, -20.0);
        level_db[Kind::End as usize] = c.between(-18.0, -10.0);
        level_db[Kind::MirrorUp as usize] = c.between(-4.0, 6.0);
        level_db[Kind::MirrorDown as usize] = c.between(-4.0, 6.0);
        let (travel, mismatch) = match scene.shutter {
            Shutter::Cloth => (c.between(9e-3, 15e-3), 0.03),
            Shutter::Metal => (c.between(2.8e-3, 7e-3), 0.03),
            Shutter::Leaf => (c.between(0.8e-3, 3e-3), 0.0),
        };
        let second = match scene.shutter {
            Shutter::Leaf => c.between(0.8e-3, 3e-3),
            _ => travel * (1.0 + mismatch * c.normal()),
        };
        let p = c.between(1.3, 1.6);
        Self {
            scene,
            modes,
            excitation,
            level_db,
            travel_s: (travel, second),
            mirror_s: (c.between(15e-3, 40e-3), c.between(25e-3, 60e-3)),
            rebound: (c.between(2e-3, 6e-3), c.between(-22.0, -11.0)),
            tick_s: c.between(5e-3, 12e-3),
            share: 1.0 - libm::pow(0.5, 1.0 / p),
            bias: (0.15 * c.normal(), 0.04 * c.normal()),
            chance,
        }
    }

    /// Adds one impact.
    fn strike(&mut self, x: &mut [f64], at_s: f64, kind: Kind, extra_db: f64) {
        let (rate, repeat) = (self.scene.rate_hz, self.scene.repeat);
        let rest = (1.0 - repeat * repeat).sqrt();
        let gain = libm::pow(10.0, (self.level_db[kind as usize] + extra_db + self.chance.normal()) / 20.0);
        let first = (at_s * rate).ceil();
        for k in 0..MODES {
            let (hz, decay) = self.modes[k];
            let amplitude = repeat * self.excitation[kind as usize][k] + rest * self.chance.normal();
            // The long, low resonances are weak in what an impact excites.
            let amplitude = gain * amplitude * if k < 10 { 0.25 } else { 0.1 };
            if hz > 0.46 * rate {
                continue;
            }
            let w = 2.0 * core::f64::consts::PI * hz / rate;
            let shrink = libm::exp(-1.0 / (decay * rate));
            let (cr, ci) = (shrink * libm::cos(w), shrink * libm::sin(w));
            let lag = first - at_s * rate;
            let start = libm::exp(-lag / (decay * rate));
            let (mut zr, mut zi) = (start * libm::cos(w * lag), start * libm::sin(w * lag));
            let from = first as usize;
            let to = x.len().min(from + (6.0 * decay * rate) as usize);
            for v in x.get_mut(from..to).unwrap_or_default() {
                *v += amplitude * zi;
                (zr, zi) = (zr * cr - zi * ci, zr * ci + zi * cr);
            }
        }
    }

    /// The time of a mark for this camera, before its scatter \[s\].
    pub fn time_of(&self, marked_s: f64) -> f64 {
        marked_s * libm::exp2(self.bias.0 + self.bias.1 * libm::log2(marked_s / (1.0 / 60.0)))
    }

    /// One shot whose first curtain starts at `from_s`.
    fn shot(&mut self, x: &mut [f64], from_s: f64, marked_s: f64) -> Truth {
        let jitter = 1.0 + self.scene.scatter * self.chance.normal();
        let time_s = self.time_of(marked_s) * jitter;
        let t1 = self.travel_s.0 * (1.0 + 0.002 * self.chance.normal());
        let t2 = self.travel_s.1 * (1.0 + 0.002 * self.chance.normal());
        let share = if self.scene.shutter == Shutter::Leaf { 0.5 } else { self.share };
        let stops_s = time_s + share * (t2 - t1);
        let starts_s = stops_s - (t2 - t1);
        let (start1, stop1) = (from_s, from_s + t1);
        let (start2, stop2) = (start1 + starts_s, stop1 + stops_s);
        let before = if self.scene.mirror { self.mirror_s.0 + 1.5e-3 * self.chance.normal() } else { 0.0 };
        let lag = self.chance.between(2e-3, 9e-3);
        self.strike(x, start1 - before - lag, Kind::Release, 0.0);
        if self.scene.mirror {
            self.strike(x, start1 - before, Kind::MirrorUp, 0.0);
            self.strike(x, start1 - before + 4e-3, Kind::MirrorUp, -8.0);
            let down = stop2 + self.mirror_s.1 + 3e-3 * self.chance.normal();
            self.strike(x, down, Kind::MirrorDown, 0.0);
            self.strike(x, down + 5e-3, Kind::MirrorDown, -9.0);
        }
        self.strike(x, start1, Kind::Start1, 0.0);
        self.strike(x, stop1, Kind::Stop1, 0.0);
        let (rebound, rebound_db) = self.rebound;
        if self.scene.shutter != Shutter::Leaf {
            let wobble = 1.0 + 0.05 * self.chance.normal();
            self.strike(x, stop1 + rebound * wobble, Kind::Stop1, rebound_db);
        }
        if time_s > 1.0 / 45.0 {
            let mut at = stop1 + self.tick_s;
            while at < start2 - 3e-3 {
                self.strike(x, at, Kind::Tick, 0.0);
                at += self.tick_s * (1.0 + 0.03 * self.chance.normal());
            }
            self.strike(x, start2 - 2.5e-3, Kind::End, 0.0);
        }
        self.strike(x, start2, Kind::Start2, 0.0);
        self.strike(x, stop2, Kind::Stop2, 0.0);
        if self.scene.shutter != Shutter::Leaf {
            let wobble = 1.0 + 0.05 * self.chance.normal();
            self.strike(x, stop2 + rebound * wobble, Kind::Stop2, rebound_db);
        }
        Truth { marked_s, time_s, starts_s, stops_s, from_s: start1, to_s: stop2 }
    }

    /// A take: a shot of every marked time, `gap_s` apart. A marked time below 0 is a knock that is no shot.
    pub fn take(&mut self, marked_s: &[f64], gap_s: f64) -> (Waveform, Vec<Truth>) {
        let rate = self.scene.rate_hz;
        let total: f64 = marked_s.iter().map(|m| m.max(0.0) * 1.6 + gap_s).sum::<f64>() + 0.5;
        let mut x = vec![0.0; (total * rate) as usize];
        let mut truth = Vec::new();
        let mut at = 0.3;
        for &marked in marked_s {
            if marked < 0.0 {
                self.strike(&mut x, at, Kind::Release, 8.0);
                at += gap_s;
                continue;
            }
            let shot = self.shot(&mut x, at, marked);
            at = shot.to_s + gap_s * self.chance.between(0.9, 1.1);
            truth.push(shot);
        }
        self.room(&mut x);
        // The stops' level is 0 dB for all cameras: their rms over 5 ms sets the noise.
        let mut stop = vec![0.0; (0.006 * rate) as usize];
        self.strike(&mut stop, 0.0, Kind::Stop1, 0.0);
        let length = (0.005 * rate) as usize;
        let rms = (stop.iter().take(length).map(|v| v * v).sum::<f64>() / length as f64).sqrt();
        let noise = rms / libm::pow(10.0, self.scene.snr_db / 20.0);
        let peak = x.iter().fold(0.0_f64, |p, v| p.max(v.abs()));
        let scale = 0.6 / peak;
        let samples = x
            .iter()
            .map(|v| (((v + noise * self.chance.hiss()) * scale * 32_768.0).round() / 32_768.0) as f32)
            .collect();
        (Waveform::whole(rate, samples).expect("a recording"), truth)
    }

    /// A few reflections and a tail of four combs.
    fn room(&mut self, x: &mut [f64]) {
        let rate = self.scene.rate_hz;
        let level = libm::pow(10.0, self.scene.room_db / 20.0);
        let dry = x.to_vec();
        let mut add = |delay: usize, gain: f64| {
            for (v, d) in x.iter_mut().skip(delay).zip(&dry) {
                *v += gain * d;
            }
        };
        for _ in 0..5 {
            let delay = self.chance.between(1e-3, 15e-3);
            add((delay * rate) as usize, level * 0.45 * self.chance.normal());
        }
        for _ in 0..4 {
            let delay = (self.chance.between(23e-3, 41e-3) * rate) as usize;
            let feedback = libm::pow(10.0, -3.0 * delay as f64 / rate / self.scene.rt60_s);
            let mut comb = dry.clone();
            for i in delay..comb.len() {
                comb[i] += feedback * comb[i - delay];
            }
            for (v, c) in x.iter_mut().skip(delay).zip(&comb) {
                *v += 0.25 * level * c;
            }
        }
    }
}
