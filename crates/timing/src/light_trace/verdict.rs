//! From what a trace shows to a time with its doubt, or to the reason why there is none.
//!
//! *Model:* `u² = u_edges² + (t·u_level)² + (0.5·m·rise)² + u_lag² + (0.03/fs)² + (10⁻⁴·t)²`, with u_edges from the noise on both
//! flanks and the levels beside them, u_level where another shot's open level is used, m the lamp's ripple, fs the sampling rate,
//! and 10⁻⁴ for the recorder's clock. Not here: how flanks and levels are found ([`super::flank`], [`super::seen`]).

use metrology::Estimate;

use super::notices;
use super::seen::Seen;
use super::survey::median;
use crate::shot::{Notice, Shot, State};

/// From this time on a plateau is the open level \[s\]: no sensor is so wide that a slit would take as long to pass it.
const REFERENCE_S: f64 = 6.0e-3;
/// Without such a shot, a plateau of this time is taken for it, and that is said.
const ASSUMED_S: f64 = 1.5e-3;
/// What a steady lamp may drift between two shots, as a part.
const LAMP: f64 = 0.005;
/// Ripple that is worth a word.
pub(super) const RIPPLE: f64 = 0.02;
/// Ripple beyond which times below 1/30 s, and beyond which all times, are refused.
const RIPPLE_FAST: f64 = 0.2;
const RIPPLE_ALL: f64 = 0.45;
const RIPPLE_FAST_S: f64 = 1.0 / 30.0;
/// Part of a lag's lopsidedness that stays in the time, because neither plateau nor dark is quite reached.
const LAG: f64 = 0.06;
/// Clocks of recorders, as a part.
const CLOCK: f64 = 1.0e-4;
/// Below this ratio of light to noise an edge may be anything.
const LEAST_SIGNAL: f64 = 4.5;
/// Dark that scatters more than this part of the light is no dark.
const ROUGHEST: f64 = 0.1;

/// What holds for the whole take.
pub(super) struct Scene {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// Noise of one sample.
    pub noise: f64,
    /// Amplitude of the lamp's mains ripple over its level; 0 where it is steady or not known.
    pub ripple: f64,
    /// The lamp goes on and off.
    pub pulsed: bool,
    /// How wrong the rate of the coupling may be \[1/s\].
    pub rate_doubt: f64,
}

/// The open level that other shots are held against.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reference {
    /// Restored light.
    pub level: f64,
    /// Relative standard uncertainty, the lamp's drift included.
    pub doubt: f64,
    /// Nothing proves that the sensor was fully open.
    pub assumed: bool,
}

/// What is measured of one shot: a time, its standard uncertainty \[s\], and notices.
struct Told {
    time: f64,
    doubt: f64,
    notices: Vec<Notice>,
}

/// Why there is none.
struct Refused {
    notice: Notice,
    candidates: Vec<f64>,
}

impl Refused {
    fn with(notice: Notice) -> Self {
        Self { notice, candidates: Vec::new() }
    }
}

/// Whether what was seen is a pulse of light at all.
pub(super) fn is_clean(seen: &Seen, scene: &Scene) -> bool {
    let lamp = 2.5 * scene.ripple;
    seen.roughness < ROUGHEST && (!seen.plateau || seen.mismatch < 0.25 + lamp + 6.0 * seen.level_doubt)
}

/// The open level from the shots that can give it.
pub(super) fn reference(seen: &[&Seen], scene: &Scene) -> Option<Reference> {
    let time = |s: &Seen| (s.closing - s.opening) / scene.rate_hz;
    let flat: Vec<&Seen> = seen.iter().copied().filter(|s| s.plateau).collect();
    let slow: Vec<&Seen> = flat.iter().copied().filter(|s| time(s) > REFERENCE_S).collect();
    let (of, assumed) = if slow.is_empty() {
        let longest = flat.iter().copied().max_by(|a, b| a.half.total_cmp(&b.half))?;
        // Behind a slit narrower than the sensor the width at half height stays and the level falls. Where the level stays
        // and the width changes, the sensor was fully open.
        let alike: Vec<&Seen> = flat
            .iter()
            .copied()
            .filter(|s| (s.level / longest.level - 1.0).abs() < 0.02 + 2.5 * (s.level_doubt + longest.level_doubt))
            .collect();
        let proved = scene.ripple <= RIPPLE
            && alike.iter().any(|s| s.half < 0.8 * longest.half && s.level_doubt + longest.level_doubt < 0.03);
        if !proved && time(longest) < ASSUMED_S {
            return None;
        }
        (if proved { alike } else { vec![longest] }, !proved)
    } else {
        (slow, false)
    };
    let mut levels: Vec<f64> = of.iter().map(|s| s.level).collect();
    let level = median(&mut levels);
    let mut away: Vec<f64> = levels.iter().map(|x| (x / level - 1.0).abs()).collect();
    let spread = if away.len() > 2 { 1.48 * median(&mut away) } else { away.iter().sum::<f64>() };
    let noise = of.iter().map(|s| s.level_doubt).fold(0.0, f64::max);
    let doubt = (LAMP * LAMP + spread * spread + noise * noise + scene.ripple * scene.ripple / 2.0).sqrt();
    (level > 0.0).then_some(Reference { level, doubt, assumed })
}

/// The shot.
pub(super) fn shot(seen: &Seen, scene: &Scene, reference: Option<Reference>, clipped: bool, broken: bool) -> Shot {
    let (opening, closing) = (seen.opening / scene.rate_hz, seen.closing / scene.rate_hz);
    let mut shot = Shot::at(opening.max(0.0));
    shot.events_s = vec![opening.max(0.0), closing.max(0.0)];
    let told = if scene.pulsed {
        Err(Refused::with(notices::pulsed_lamp()))
    } else if clipped {
        Err(Refused::with(notices::clipped()))
    } else if broken {
        Err(Refused::with(notices::came_twice()))
    } else if !is_clean(seen, scene) {
        Err(Refused::with(notices::not_clean()))
    } else if seen.level < LEAST_SIGNAL * scene.noise {
        Err(Refused::with(notices::lost_in_noise()))
    } else {
        time(seen, scene, reference)
    };
    match told {
        Ok(told) if told.time > 0.0 => {
            if let Ok(estimate) = Estimate::new(told.time, told.doubt, f64::INFINITY) {
                shot.time = Some(estimate);
                shot.state = State::Measured;
            }
            shot.notices = told.notices;
            if let Some(bounce) = seen.bounce {
                shot.notices.push(notices::bounce(bounce.extra_s, told.time));
                shot.bounce = Some(bounce);
            }
        }
        Ok(_) => shot.notices.push(notices::not_clean()),
        Err(refused) => {
            shot.notices.push(refused.notice);
            shot.candidates_s = refused.candidates;
        }
    }
    shot
}

fn time(seen: &Seen, scene: &Scene, reference: Option<Reference>) -> Result<Told, Refused> {
    let rate_hz = scene.rate_hz;
    let by_edges = (seen.closing - seen.opening) / rate_hz;
    let half = seen.half / rate_hz;
    let ripple = scene.ripple;
    let flickers = ripple > RIPPLE;
    if ripple > RIPPLE_ALL || (ripple > RIPPLE_FAST && by_edges < RIPPLE_FAST_S) {
        return Err(Refused::with(notices::flicker(ripple, true)));
    }
    let longest = seen.flanks.0.max(seen.flanks.1) / rate_hz;
    let swing = 0.5 * ripple * longest;
    let lag = LAG * seen.lag / rate_hz;
    let base = |time: f64| (0.03 / rate_hz) * (0.03 / rate_hz) + CLOCK * CLOCK * time * time + lag * lag;
    let edges = Told {
        time: by_edges,
        doubt: (seen.variance / (rate_hz * rate_hz) + swing * swing + base(by_edges)).sqrt(),
        notices: Vec::new(),
    };
    let mut told = match reference {
        _ if by_edges > REFERENCE_S && seen.plateau => edges,
        None if seen.plateau => {
            let flank = (seen.flanks.0 + seen.flanks.1) / 2.0 / rate_hz;
            return Err(Refused { notice: notices::no_open_level(true), candidates: vec![flank, half] });
        }
        None => return Err(Refused::with(notices::no_plateau())),
        Some(reference) => against(seen, scene, reference, edges, flickers)?,
    };
    if reference.is_some_and(|reference| reference.assumed) && by_edges <= REFERENCE_S {
        told.notices.push(notices::no_open_level(false));
    }
    if flickers {
        told.notices.push(notices::flicker(ripple, false));
    }
    if (half - told.time).abs() > 2.0 * told.doubt
        && !told.notices.iter().any(|n| n.code == "slit-narrower-than-sensor")
    {
        let why = if longest > 0.8e-3 {
            "the flanks are slow and not straight, as those of a leaf shutter are"
        } else if !seen.plateau {
            "the shutter hardly opens fully at this time"
        } else {
            "the flanks are not alike"
        };
        told.notices.push(notices::half_width(half, told.time, why));
    }
    Ok(told)
}

/// A fast shot against the open level of the slower ones.
fn against(seen: &Seen, scene: &Scene, reference: Reference, edges: Told, flickers: bool) -> Result<Told, Refused> {
    let rate_hz = scene.rate_hz;
    let part = seen.level / reference.level;
    let part_doubt =
        (seen.level_doubt * seen.level_doubt + reference.doubt * reference.doubt - LAMP * LAMP).max(0.0).sqrt();
    let by_area = seen.area.map(|(area, variance)| {
        let time = area / reference.level / rate_hz;
        let noise = variance.sqrt() / reference.level / rate_hz;
        let droop = 0.5 * time * time * scene.rate_doubt;
        let level = time * reference.doubt;
        let ambiguous = if seen.plateau && part > 0.9 { time * (1.0 - part).max(0.0) / 3.0 } else { 0.0 };
        let base = (0.03 + LAG * seen.lag) / rate_hz;
        let doubt = (noise * noise + droop * droop + level * level + ambiguous * ambiguous + base * base).sqrt();
        Told { time, doubt, notices: Vec::new() }
    });
    let as_open = || {
        // A plateau that stays a little below the open level may be a slit's, a lag's or the lamp's.
        let shared = edges.time * part_doubt.max(1.0 - part) / 2.0;
        Told { doubt: (edges.doubt * edges.doubt + shared * shared).sqrt(), time: edges.time, notices: Vec::new() }
    };
    if flickers {
        let least = 1.0 - 1.3 * scene.ripple - 0.02 - 2.0 * seen.level_doubt;
        return match by_area {
            _ if seen.plateau && part > least => Ok(edges),
            Some(area) if !seen.plateau && part > least => Ok(area),
            _ => Err(Refused::with(notices::not_fully_open_flickering())),
        };
    }
    let fully_open = seen.plateau && part > 1.0 - (2.5 * part_doubt).max(0.015);
    match by_area {
        None if fully_open => Ok(as_open()),
        None => Err(Refused::with(notices::no_plateau())),
        Some(area) if fully_open => {
            let open = as_open();
            Ok(if open.doubt < area.doubt || part > 1.0 + (2.5 * part_doubt).max(0.03) { open } else { area })
        }
        Some(mut area) => {
            if part < 0.9 {
                area.notices.push(notices::slit_narrower(part));
            }
            Ok(area)
        }
    }
}
