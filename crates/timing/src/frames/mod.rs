//! Shutter times from the frames of a clip that looks through the open back at a lit white field.
//!
//! *Principle:* a frame k of linear light integrates the light of its look, so a time is `T·Σ(light − black)/(open − black)`
//! with T the frame interval; over random phase the gaps between looks make no error in the mean. Good for 4 s to 1/60 s at
//! 240 frames a second whatever the look, to 1/125 s where it fills nine tenths of the interval, and beyond only where it fills
//! it and the tone curve is known. Tables come from pixels ([`strips_of_rgba`]) or from a file ([`from_codes`]).
//!
//! Not here: the clip's file (`movie`), marks on dials, and whether an error is allowed.

mod curve;
mod doubt;
mod duty;
mod grid;
mod levels;
mod notices;
mod pixels;
mod shot;
mod table;
mod tone;

use core::ops::Range as Span;
use std::borrow::Cow;

use metrology::Estimate;

use crate::error::Error;
use crate::shot::{Bounce, Notice, Place, Shot, State, Take};

pub use curve::{Curve, Range};
pub(crate) use grid::typical_interval_s;
pub use pixels::{Axis, Layout, Lineariser, Patch, StripMeans, WIDEST_STRIP, strips_of_rgba};
pub use table::{Column, FEWEST_FRAMES, MOST_FRAMES, POSITIONS, Strip, Table, column, from_codes};
pub use tone::{EXPONENTS, FEWEST_LEVELS, tone};

use doubt::{Causes, Doubt};
use duty::Look;
use grid::Grid;
use shot::{Lane, Pulse};

/// Slowest and fastest true frame rate that is taken \[Hz\].
pub const RATES_HZ: (f64, f64) = (5.0, 100_000.0);
/// A time with a larger relative standard uncertainty than this is not stated.
const LARGEST_DOUBT: f64 = 0.25;
/// A shot shorter than this with a frame missing at an edge is not stated \[s\]: a marked 1/125, which is 1/128.
const SHORTEST_WITH_DROP_S: f64 = 1.0 / 128.0;
/// A time of fewer intervals than this is not stated where the duty is not known.
const BLIND: f64 = 2.0;
/// A field that varies more than this is not steady.
const STEADY: f64 = 0.03;
/// A share of clipped pixels in the open frames above this is clipped white.
const CLIPPED: f64 = 0.02;
/// Linear light of an open field that is clipped, whoever counted.
const WHITE: f64 = 0.98;
/// A frame rate that differs by more than this part from the file's is another rate.
const SAME_RATE: f64 = 0.02;
/// Frames that are this uneven \[intervals\], or this often not one interval apart, are a variable rate.
const UNEVEN: f64 = 0.1;

/// How well the tone curve is known.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum CurveKnown {
    /// Found by stepping the aperture, or linear to begin with.
    Calibrated,
    /// The camera curve of video was assumed.
    #[default]
    Assumed,
    /// A phone that adjusts its picture, or nobody knows.
    Unknown,
}

impl CurveKnown {
    /// Every way.
    pub const ALL: [CurveKnown; 3] = [CurveKnown::Calibrated, CurveKnown::Assumed, CurveKnown::Unknown];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            CurveKnown::Calibrated => "calibrated",
            CurveKnown::Assumed => "assumed",
            CurveKnown::Unknown => "unknown",
        }
    }

    /// The way with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|known| known.key() == key)
    }

    /// Relative standard uncertainty of the tone exponent.
    pub const fn exponent_doubt(self) -> f64 {
        match self {
            CurveKnown::Calibrated => 0.02,
            CurveKnown::Assumed => 0.1,
            CurveKnown::Unknown => 0.2,
        }
    }
}

/// What is known about a clip beyond its frames.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct About {
    /// Exposure time of a frame over the true frame interval, above 0 to 1.
    pub duty: Option<f64>,
    /// How well the tone curve is known; [`CurveKnown::Calibrated`] is taken where there is an exponent.
    pub curve_known: CurveKnown,
    /// Tone exponent from [`tone`]. Where the pixels had it applied ([`Table::with_exponent`]) it is not applied again.
    pub exponent: Option<Estimate>,
    /// True frame rate \[Hz\] where the file's times are slow motion.
    pub capture_rate_hz: Option<f64>,
    /// A tick of the file's clock \[s\], whose rounding is no unevenness of the frames.
    pub clock_step_s: Option<f64>,
    /// The marked times that were fired \[s\]. Frames need no help from them; they are put against shots elsewhere.
    pub marked_s: Vec<f64>,
}

/// What all shots of a clip share.
struct Clip<'a> {
    table: &'a Table,
    grid: Grid,
    /// True frame interval \[s\].
    interval_s: f64,
    look: Look,
    exponent_doubt: f64,
    calibrated: bool,
    clipped: bool,
    clock: f64,
}

/// Measures the shots of a clip.
///
/// **Gives** a take with `Shot::time` of the middle strip (or of the only one), `places` for all strips, `start_s` and `events_s`
/// (opening, closing) in the file's own time, and [`Take::frame_interval_s`] true. A clip without an open frame gives no shots
/// and the notice `no-open-frame`. **Errors** where the duty, the exponent or a rate is out of range.
pub fn measure(table: &Table, about: &About) -> Result<Take, Error> {
    let exponent = check(about)?;
    let light = lightened(table, exponent);
    let grid = grid::find(table.times_s(), about.clock_step_s.unwrap_or(0.0));
    let file_hz = 1.0 / grid.interval_s;
    let true_hz = about.capture_rate_hz.unwrap_or(file_hz);
    if !(RATES_HZ.0..=RATES_HZ.1).contains(&true_hz) || !file_hz.is_finite() {
        return Err(Error::new(format!(
            "the frame rate must be between {} and {} Hz, and the frames' times give {true_hz} Hz",
            RATES_HZ.0, RATES_HZ.1
        )));
    }
    let slow_motion = (true_hz / file_hz - 1.0).abs() > SAME_RATE;
    let interval_s = if slow_motion { 1.0 / true_hz } else { grid.interval_s };
    let mut take = Take { frame_interval_s: Some(interval_s), notices: table.notices().to_vec(), ..Take::default() };
    if slow_motion {
        take.notices.push(notices::slow_motion(file_hz, true_hz));
    }
    if grid.missing > 0 {
        take.notices.push(notices::dropped_frames(grid.missing));
    }
    if grid.jitter > UNEVEN || grid.odd_share > UNEVEN {
        take.notices.push(notices::variable_frame_rate());
    }
    let mut lanes = Vec::new();
    for (strip, light) in table.strips().iter().zip(&light) {
        let position = POSITIONS.into_iter().find(|name| *name == strip.name).unwrap_or(POSITIONS[1]);
        if let Some(levels) = levels::find(light, &grid.numbers) {
            lanes.push(Lane { position, light, levels });
        }
    }
    let lit = |name: &str| lanes.iter().any(|lane| lane.position == name);
    // The time is that of the middle strip: without it there is none.
    let main_is_there = table.strips().iter().any(|strip| strip.name == POSITIONS[1]);
    if lanes.is_empty() || (main_is_there && !lit(POSITIONS[1])) {
        take.notices.push(notices::no_open_frame());
        return Ok(take);
    }
    let dark = table.strips().iter().map(|strip| strip.name.as_str()).filter(|name| !lit(name));
    take.notices.extend(dark.map(notices::strip_not_lit));
    let unsteady = lanes.iter().map(|lane| lane.levels.unsteady).fold(0.0, f64::max);
    if unsteady > STEADY {
        take.notices.push(notices::not_steady(unsteady));
    }
    let clipped = is_clipped(table, &lanes);
    if clipped {
        take.notices.push(notices::white_clipped());
    }
    if about.duty.is_none() {
        take.notices.push(notices::duty_unknown());
    }
    let calibrated = about.exponent.is_some() || about.curve_known == CurveKnown::Calibrated;
    if !calibrated {
        take.notices.push(notices::curve_assumed());
    }
    let exponent_doubt = match about.exponent {
        Some(found) => (found.standard_uncertainty() / found.value()).max(CurveKnown::Calibrated.exponent_doubt()),
        None => about.curve_known.exponent_doubt(),
    };
    let clock = if slow_motion { doubt::MARKED_CLOCK } else { doubt::CLOCK };
    let releases = shot::releases(&lanes, &grid.numbers, interval_s);
    let look = about.duty.map_or_else(
        || {
            Look::learned(
                releases.iter().filter_map(|release| middle(&lanes)?.pulse(release, &grid.numbers)).map(|p| p.lit),
            )
        },
        Look::Known,
    );
    let clip = Clip { table, grid, interval_s, look, exponent_doubt, calibrated, clipped, clock };
    take.shots = releases.iter().filter_map(|release| clip.shot(&lanes, release)).collect();
    Ok(take)
}

fn check(about: &About) -> Result<Option<f64>, Error> {
    if let Some(duty) = about.duty.filter(|duty| !(*duty > 0.0 && *duty <= 1.0)) {
        return Err(Error::new(format!(
            "the duty, exposure time over frame interval, must be above 0 and at most 1, and {duty} was given"
        )));
    }
    if let Some(step) = about.clock_step_s.filter(|step| !(*step >= 0.0 && step.is_finite())) {
        return Err(Error::new(format!("the clock step must be a time not below 0 s, and {step} was given")));
    }
    about.exponent.map(|exponent| tone::checked_exponent(exponent.value())).transpose()
}

/// The strips' light with what is left of the tone exponent applied.
fn lightened(table: &Table, exponent: Option<f64>) -> Vec<Cow<'_, [f64]>> {
    let power = exponent.map_or(1.0, |exponent| exponent / table.exponent());
    let bend = |value: &f64| libm::pow(value.max(0.0), power);
    let strips = table.strips().iter().map(|strip| &strip.values);
    if power == 1.0 {
        strips.map(|values| Cow::Borrowed(values.as_slice())).collect()
    } else {
        strips.map(|values| values.iter().map(bend).collect()).collect()
    }
}

/// The middle strip, or the only one.
fn middle<'a, 'b>(lanes: &'a [Lane<'b>]) -> Option<&'a Lane<'b>> {
    lanes.iter().find(|lane| lane.position == POSITIONS[1]).or_else(|| lanes.get(lanes.len() / 2))
}

/// Whether the open frames are at white, by their pixels where somebody counted, and by their light.
fn is_clipped(table: &Table, lanes: &[Lane<'_>]) -> bool {
    let bright = |lane: &Lane<'_>| lane.levels.black + lane.levels.open > WHITE;
    let Some(lane) = lanes.first() else { return false };
    let open = lane.levels.black + 0.85 * lane.levels.open;
    let (sum, count) = table
        .clipped_share()
        .iter()
        .zip(lane.light)
        .filter(|(_, light)| **light > open)
        .fold((0.0, 0_u32), |(sum, count), (share, _)| (sum + share, count + 1));
    lanes.iter().any(bright) || (count > 0 && sum / f64::from(count) > CLIPPED)
}

impl Clip<'_> {
    fn shot(&self, lanes: &[Lane<'_>], release: &Span<usize>) -> Option<Shot> {
        let pulses: Vec<Option<Pulse>> = lanes.iter().map(|lane| lane.pulse(release, &self.grid.numbers)).collect();
        let main = middle(lanes)?.position;
        let start = self.table.times_s().get(release.start).copied()?;
        let mut shot = Shot::at(start);
        if release.start == 0 || release.end == self.table.times_s().len() {
            shot.notices.push(notices::cut_off());
            return Some(shot);
        }
        let mut doubts: Vec<(&'static str, f64, Doubt)> = Vec::new();
        for (lane, pulse) in lanes.iter().zip(&pulses) {
            let Some(pulse) = pulse else {
                if lane.position == main {
                    shot.notices.push(notices::too_fast(true, self.interval_s));
                }
                continue;
            };
            let (time, doubt) = self.time(lane, pulse);
            let refusal = self.refusal(time, doubt, pulse);
            let estimate = Estimate::new(time * self.interval_s, doubt.standard * self.interval_s, f64::INFINITY).ok();
            if lane.position == main {
                self.events(&mut shot, pulse);
                shot.notices.extend(refusal.clone().or_else(|| self.caution(time, pulse)));
                if let (None, Some(stated)) = (&refusal, estimate) {
                    shot.time = Some(stated);
                    shot.state = State::Measured;
                    shot.systematic_s = doubt.shared * self.interval_s;
                } else {
                    shot.candidates_s.push(time * self.interval_s);
                }
            }
            if let (None, Some(time_here)) = (refusal, estimate) {
                doubts.push((lane.position, time, doubt));
                shot.places.push(Place { position: lane.position, time: time_here });
            }
        }
        shot.notices.extend(self.taper(&doubts));
        Some(shot)
    }

    /// Time and doubt of a pulse, in frame intervals.
    fn time(&self, lane: &Lane<'_>, pulse: &Pulse) -> (f64, Doubt) {
        let gapped = duty::time(pulse.lit, self.look);
        let causes = Causes {
            time: gapped.time,
            gap: gapped.doubt,
            exponent: self.exponent_doubt,
            open: lane.levels.open_doubt(),
            noise: pulse.noise,
            jitter: self.grid.jitter,
            drops: pulse.drops,
            clipped: self.clipped,
            clock: self.clock,
        };
        (gapped.time, doubt::combine(causes))
    }

    /// Why a time is not stated.
    fn refusal(&self, time: f64, doubt: Doubt, pulse: &Pulse) -> Option<Notice> {
        if pulse.drops > 0 && time * self.interval_s < SHORTEST_WITH_DROP_S {
            return Some(notices::dropped_at_edge(true));
        }
        let blind = matches!(self.look, Look::Unknown { .. }) && time < BLIND;
        let wide = doubt.standard.is_nan() || doubt.standard > LARGEST_DOUBT * time;
        (blind || wide).then(|| notices::too_fast(true, self.interval_s))
    }

    /// What is said beside a time that is stated.
    fn caution(&self, time: f64, pulse: &Pulse) -> Option<Notice> {
        if pulse.drops > 0 {
            return Some(notices::dropped_at_edge(false));
        }
        let gaps = time < 1.5 && matches!(self.look, Look::Known(duty) if duty < 0.9);
        let curve = time < 1.0 && !self.calibrated;
        (gaps || curve).then(|| notices::too_fast(false, self.interval_s))
    }

    /// Opening and closing in the file's time, from the partial frames, and a bounce.
    fn events(&self, shot: &mut Shot, pulse: &Pulse) {
        let times = self.table.times_s();
        let (Some(first), Some(last)) = (times.get(pulse.first), times.get(pulse.last)) else { return };
        let look = self.grid.interval_s
            * match self.look {
                Look::Known(duty) => duty,
                Look::Unknown { .. } => duty::ASSUMED,
            };
        let opening = first + look * (1.0 - pulse.lit.first.clamp(0.0, 1.0));
        let closing = last + look * pulse.lit.last.clamp(0.0, 1.0);
        shot.start_s = opening;
        // A pulse within one frame leaves open where in it the light came.
        shot.events_s = vec![opening, closing.max(opening)];
        if let Some((again, height, extra)) = pulse.again {
            let delay = times.get(again).map_or(0.0, |again| (again - closing).max(0.0));
            let true_time = self.interval_s / self.grid.interval_s;
            shot.bounce = Some(Bounce { delay_s: delay * true_time, height, extra_s: extra * self.interval_s });
            shot.notices.push(notices::bounce());
        }
    }

    /// Left and right differ beyond their doubts (99 %); what the tone curve does to both is left out.
    fn taper(&self, doubts: &[(&'static str, f64, Doubt)]) -> Option<Notice> {
        let find = |name: &str| doubts.iter().find(|(position, ..)| *position == name);
        let (_, left, left_doubt) = find(POSITIONS[0])?;
        let (_, right, right_doubt) = find(POSITIONS[2])?;
        let own = |doubt: &Doubt| doubt.standard * doubt.standard - doubt.curve * doubt.curve;
        let doubt = (own(left_doubt) + own(right_doubt)).max(0.0).sqrt();
        let difference = left - right;
        (difference.abs() > 2.576 * doubt).then(|| notices::taper(difference > 0.0, difference.abs() * self.interval_s))
    }
}

#[cfg(test)]
mod tests;
