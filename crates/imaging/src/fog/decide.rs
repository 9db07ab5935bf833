//! The answer, level by level, by rules that each rest on how the light travels; where two of them could hold, none is claimed.
//!
//! Not here: the map ([`super::map`]).

use super::map::{Map, Rim, Spot};
use super::rims;
use crate::notice::Notice;

/// ρ below this: cut off by the gate; above that: not.
const FRONT: f64 = 0.30;
const BACK: f64 = 0.60;
/// Whole gate against its densest rim: light from the mount, from the edge of the mirror box.
const MOUNT: f64 = 0.45;
const EDGE: f64 = 0.32;
/// Edges of the film against the middle of a side: light through the cassette's window only.
const WINDOW: f64 = 0.22;
/// What came in at a side is densest there: a centre denser than this share of the densest rim has another cause.
const CENTRE: f64 = 0.75;
/// Pitch of the perforation \[mm\], and how far a spot may lie from it.
const PITCH_MM: f64 = 4.75;
const OFF_MM: f64 = 0.7;
/// Spots rounder than this may be holes of the next layer.
const ROUND: f64 = 2.5;
/// Spots longer than this are no holes: within the four millimetres that are looked at, even a broad streak comes to two.
const LONG: f64 = 1.8;
/// Below this confidence nothing is claimed.
const LEAST: f64 = 0.30;

/// How the strip lies on the photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lies {
    /// Pictures on it are upright and read the right way round: the gate turned by half a turn.
    PictureUpright,
    /// As it lay in the camera, seen from the back: pictures on it are upside down and read the right way round.
    AsInCamera,
    /// The dull side up, pictures upright: writing on them reads mirror-wise.
    PictureMirrored,
    /// The dull side up, pictures upside down.
    MirroredUpsideDown,
    /// Nobody knows.
    Unknown,
}

impl Lies {
    /// Every way, in the order in which they are offered.
    pub const ALL: [Lies; 5] =
        [Lies::PictureUpright, Lies::AsInCamera, Lies::PictureMirrored, Lies::MirroredUpsideDown, Lies::Unknown];

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Lies::PictureUpright => "picture-upright",
            Lies::AsInCamera => "as-in-camera",
            Lies::PictureMirrored => "picture-mirrored",
            Lies::MirroredUpsideDown => "mirrored-upside-down",
            Lies::Unknown => "unknown",
        }
    }

    /// The way with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lies| lies.key() == key)
    }
}

/// A side of the gate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Above.
    Top,
    /// Below.
    Bottom,
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// Every side.
    pub const ALL: [Side; 4] = [Side::Top, Side::Bottom, Side::Left, Side::Right];

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Side::Top => "top",
            Side::Bottom => "bottom",
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// The side with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|side| side.key() == key)
    }

    const fn upside_down(self) -> Self {
        match self {
            Side::Top => Side::Bottom,
            Side::Bottom => Side::Top,
            other => other,
        }
    }

    const fn mirrored(self) -> Self {
        match self {
            Side::Left => Side::Right,
            Side::Right => Side::Left,
            other => other,
        }
    }

    /// The side of the gate as seen from the back, from the side on the photo; nothing where nobody knows how the strip lies.
    pub const fn of_gate(self, lies: Lies) -> Option<Self> {
        match lies {
            // The lens turns the picture by half: upright again, the gate is turned.
            Lies::PictureUpright => Some(self.upside_down().mirrored()),
            Lies::AsInCamera => Some(self),
            Lies::PictureMirrored => Some(self.upside_down()),
            Lies::MirroredUpsideDown => Some(self.mirrored()),
            Lies::Unknown => None,
        }
    }
}

/// Where the light came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// There is none above the threshold.
    None,
    /// From the back: door, hinge, latch, window.
    Back,
    /// Through the front: mirror box, mount.
    Front,
    /// A hole in a curtain.
    Pinhole,
    /// It cannot be told.
    CannotTell,
}

impl Group {
    /// Every group.
    pub const ALL: [Group; 5] = [Group::None, Group::Back, Group::Front, Group::Pinhole, Group::CannotTell];

    /// The group with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|group| group.key() == key)
    }

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Group::None => "none",
            Group::Back => "back",
            Group::Front => "front",
            Group::Pinhole => "pinhole",
            Group::CannotTell => "cannot tell",
        }
    }
}

/// The part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// The door's upper channel.
    DoorTop,
    /// Its lower channel.
    DoorBottom,
    /// The hinge, usually at the right.
    Hinge,
    /// The latch, usually at the left.
    Latch,
    /// The window over the cassette.
    Window,
    /// Foam above the mirror.
    MirrorFoamTop,
    /// Foam below it.
    MirrorFoamBottom,
    /// The mount, or the whole mirror box.
    Mount,
}

impl Source {
    /// Every part.
    pub const ALL: [Source; 8] = [
        Source::DoorTop,
        Source::DoorBottom,
        Source::Hinge,
        Source::Latch,
        Source::Window,
        Source::MirrorFoamTop,
        Source::MirrorFoamBottom,
        Source::Mount,
    ];

    /// The part with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|source| source.key() == key)
    }

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Source::DoorTop => "door-top",
            Source::DoorBottom => "door-bottom",
            Source::Hinge => "hinge",
            Source::Latch => "latch",
            Source::Window => "window",
            Source::MirrorFoamTop => "mirror-foam-top",
            Source::MirrorFoamBottom => "mirror-foam-bottom",
            Source::Mount => "mount",
        }
    }
}

/// What fogged a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Fog {
    /// Where the light came from.
    pub group: Group,
    /// Side of the gate, seen from the back.
    pub side: Option<Side>,
    /// The part.
    pub source: Option<Source>,
    /// How sure that is, 0 to 1.
    pub confidence: f64,
    /// The densest place above the base.
    pub peak_density: f64,
    /// What counts as light.
    pub threshold_density: f64,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

impl Fog {
    pub(super) fn cannot_tell(notices: Vec<Notice>) -> Self {
        Self {
            group: Group::CannotTell,
            side: None,
            source: None,
            confidence: 0.0,
            peak_density: 0.0,
            threshold_density: 0.0,
            notices,
        }
    }
}

struct Claim {
    group: Group,
    side: Option<Side>,
    source: Option<Source>,
    confidence: f64,
}

const OPEN: Claim = Claim { group: Group::CannotTell, side: None, source: None, confidence: 0.0 };

pub(super) fn decide(map: &Map, threshold: f64, sure: f64, lies: Lies, notices: Vec<Notice>) -> Fog {
    let rims = rims(map);
    let peak = map.peak();
    let claim = claim(map, &rims, peak, threshold, sure, lies);
    let claim = if claim.group != Group::CannotTell && claim.confidence < LEAST { OPEN } else { claim };
    Fog {
        group: claim.group,
        side: claim.side,
        source: claim.source,
        confidence: claim.confidence.clamp(0.0, 1.0),
        peak_density: peak,
        threshold_density: threshold,
        notices,
    }
}

/// How far the light stands above the threshold, as a weight of every confidence.
fn strength(peak: f64, threshold: f64) -> f64 {
    (0.3 + (peak / threshold - 1.0) / 1.5).clamp(0.0, 1.0)
}

/// There is nothing, as sure as the peak stays below the threshold.
pub(super) fn none(peak: f64, threshold: f64, notices: Vec<Notice>) -> Fog {
    Fog {
        group: Group::None,
        side: None,
        source: None,
        confidence: nothing(peak, threshold),
        peak_density: peak,
        threshold_density: threshold,
        notices,
    }
}

fn nothing(peak: f64, threshold: f64) -> f64 {
    (2.0 * (1.0 - peak / threshold)).clamp(0.35, 1.0)
}

fn claim(map: &Map, rims: &[Rim; 4], peak: f64, threshold: f64, sure: f64, lies: Lies) -> Claim {
    if peak < threshold {
        return if threshold < sure {
            Claim { group: Group::None, side: None, source: None, confidence: nothing(peak, threshold) }
        } else {
            OPEN
        };
    }
    let weight = strength(peak, threshold);
    let brightest = rims.iter().map(|rim| rim.inner.max(rim.outer_most)).fold(0.0, f64::max);
    let spots = map.spots(threshold);
    if let Some(side) = row_at_the_pitch(&spots) {
        return Claim { group: Group::Back, side: side.of_gate(lies), source: None, confidence: 0.5 * weight };
    }
    if let Some(spot) = spots.first().filter(|spot| spot.peak > 2.0 * spot.ring && spot.peak > 1.3 * brightest) {
        // A line is a scratch, pressure or processing, and no light that came in.
        if spot.elongation > LONG {
            return OPEN;
        }
        let margin = (spot.peak / (2.0 * spot.ring.max(1e-3)) - 1.0).min(spot.peak / (1.3 * brightest.max(1e-3)) - 1.0);
        return Claim {
            group: Group::Pinhole,
            side: None,
            source: None,
            confidence: (0.4 + margin).clamp(0.0, 1.0) * weight,
        };
    }
    of_side(map, rims, threshold, weight, lies)
}

fn of_side(map: &Map, rims: &[Rim; 4], threshold: f64, weight: f64, lies: Lies) -> Claim {
    let strongest = |value: fn(&Rim) -> f64| {
        Side::ALL
            .into_iter()
            .zip(rims)
            .max_by(|a, b| value(a.1).total_cmp(&value(b.1)))
            .unwrap_or((Side::Top, &rims[0]))
    };
    let (side, rim) = strongest(|rim| rim.inner);
    let (outer_side, outer_rim) = strongest(|rim| rim.outer_most);
    // Fog in a margin that the gate hardly shows is from the back by its place alone.
    if rim.inner < threshold {
        if outer_rim.outer_most < threshold {
            return OPEN;
        }
        let sure = ((outer_rim.outer_most / threshold - 1.0) / 1.5 + 0.35).clamp(0.0, 1.0);
        return Claim { group: Group::Back, side: outer_side.of_gate(lies), source: None, confidence: sure };
    }
    let rho = (rim.outer / rim.inner).max(0.0);
    if rho < FRONT {
        let elsewhere = rims.iter().map(|rim| rim.outer_most).fold(0.0, f64::max);
        if elsewhere > threshold.max(0.3 * rim.inner) {
            return OPEN;
        }
        return front(map, side, rim, rho, weight, lies);
    }
    if rho > BACK {
        if map.centre_most() > CENTRE * rim.inner {
            return OPEN;
        }
        return back(map, side, rho, weight, lies);
    }
    OPEN
}

fn front(map: &Map, side: Side, rim: &Rim, rho: f64, weight: f64, lies: Lies) -> Claim {
    let whole = map.gate_median() / rim.inner;
    let sure = ((FRONT - rho) / FRONT * 1.4).clamp(0.0, 1.0) * weight;
    if whole > MOUNT {
        let part = ((whole - MOUNT) / 0.15 + 0.3).clamp(0.0, 1.0);
        return Claim { group: Group::Front, side: None, source: Some(Source::Mount), confidence: sure.min(part) };
    }
    let gate = side.of_gate(lies);
    let source = (whole < EDGE)
        .then_some(match gate {
            Some(Side::Top) => Some(Source::MirrorFoamTop),
            Some(Side::Bottom) => Some(Source::MirrorFoamBottom),
            _ => None,
        })
        .flatten();
    Claim { group: Group::Front, side: gate, source, confidence: sure }
}

fn back(map: &Map, side: Side, rho: f64, weight: f64, lies: Lies) -> Claim {
    let sure = ((rho - BACK) / 0.25 + 0.3).clamp(0.0, 1.0) * weight;
    let gate = side.of_gate(lies);
    let source = match gate {
        Some(Side::Top) => Some(Source::DoorTop),
        Some(Side::Bottom) => Some(Source::DoorBottom),
        Some(_) if map.edges_against_middle(side) < WINDOW => Some(Source::Window),
        Some(Side::Right) => Some(Source::Hinge),
        Some(Side::Left) => Some(Source::Latch),
        None => None,
    };
    Claim { group: Group::Back, side: gate, source, confidence: sure }
}

/// Three spots and more in a row along the film, at the pitch of the perforation: light through the holes of the next layer.
fn row_at_the_pitch(spots: &[Spot]) -> Option<Side> {
    for first in spots {
        // A strip along the gate's edge has no round spots, however it ripples.
        let row: Vec<&Spot> =
            spots.iter().filter(|spot| (spot.y - first.y).abs() < 1.5 && spot.elongation < ROUND).collect();
        let fits = row
            .iter()
            .filter(|spot| {
                let steps = ((spot.x - first.x) / PITCH_MM).round();
                (spot.x - first.x - steps * PITCH_MM).abs() < OFF_MM
            })
            .count();
        if fits >= 3 && fits * 3 >= row.len() * 2 {
            return Some(if first.y < 17.5 { Side::Top } else { Side::Bottom });
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strip_with_its_picture_upright_shows_the_gate_turned_by_half() {
        for side in Side::ALL {
            let seen = side.of_gate(Lies::PictureUpright).expect("a side");
            assert_eq!(seen.of_gate(Lies::PictureUpright), Some(side));
            assert_ne!(seen, side);
            assert_eq!((side.of_gate(Lies::AsInCamera), side.of_gate(Lies::Unknown)), (Some(side), None));
            // The strip turned over sideways, and turned by half besides.
            assert_eq!(side.of_gate(Lies::PictureMirrored), side.mirrored().of_gate(Lies::PictureUpright));
            assert_eq!(side.of_gate(Lies::MirroredUpsideDown), side.mirrored().of_gate(Lies::AsInCamera));
        }
        for lies in Lies::ALL {
            assert_eq!(Lies::from_key(lies.key()), Some(lies));
        }
        assert_eq!(Side::Top.of_gate(Lies::PictureUpright), Some(Side::Bottom));
        assert_eq!(Side::Left.of_gate(Lies::PictureUpright), Some(Side::Right));
    }
}
