//! The catalogue of points: everything there is to look at on a camera, in one table that the page, the sheet, the shell and
//! the record read.
//!
//! Holds what a [`Point`] is and the order of the areas; the rows stand in one file per area. Unless a row names another
//! source, its lines are common practice at the bench. Not here: what was found ([`crate::finding`]).

mod body;
mod lens;
mod meter;
mod power;
mod seals;
mod shutter;

use std::sync::LazyLock;

use crate::camera::{Camera, Kind};

/// The areas of the round, in its order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Area {
    /// Power and identity.
    Power,
    /// Seals and doors.
    Seals,
    /// Lens.
    Lens,
    /// Shutter.
    Shutter,
    /// Meter.
    Meter,
    /// Body and controls.
    Body,
}

impl Area {
    /// Every area in the order of the round.
    pub const ALL: [Area; 6] = [Area::Power, Area::Seals, Area::Lens, Area::Shutter, Area::Meter, Area::Body];

    /// The key in a file and an address.
    pub const fn key(self) -> &'static str {
        match self {
            Area::Power => "power",
            Area::Seals => "seals",
            Area::Lens => "lens",
            Area::Shutter => "shutter",
            Area::Meter => "meter",
            Area::Body => "body",
        }
    }

    /// The name.
    pub const fn words(self) -> &'static str {
        match self {
            Area::Power => "Power and identity",
            Area::Seals => "Seals and doors",
            Area::Lens => "Lens",
            Area::Shutter => "Shutter",
            Area::Meter => "Meter",
            Area::Body => "Body and controls",
        }
    }
}

/// What a point costs if it is bad, the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Costs {
    /// It fogs, tears or wastes film.
    Film,
    /// It gives the film too much or too little light.
    Exposure,
    /// It takes sharpness or contrast.
    Sharpness,
    /// It makes the camera awkward to use.
    Handling,
    /// It only shows.
    Looks,
}

impl Costs {
    /// `spoils film`.
    pub const fn words(self) -> &'static str {
        match self {
            Costs::Film => "spoils film",
            Costs::Exposure => "spoils exposure",
            Costs::Sharpness => "spoils sharpness",
            Costs::Handling => "spoils handling",
            Costs::Looks => "looks only",
        }
    }

    /// Whether a camera cannot be called ready while such a point is unchecked.
    pub const fn matters(self) -> bool {
        matches!(self, Costs::Film | Costs::Exposure)
    }

    /// Whether such a point, found faulty or failed, wants service.
    pub const fn wants_service(self) -> bool {
        matches!(self, Costs::Film | Costs::Exposure | Costs::Sharpness)
    }
}

/// One thing to look at.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Key in a file: lower case and hyphens.
    pub key: &'static str,
    /// Area.
    pub area: Area,
    /// Name in a few words, lower case: `hinge seal`.
    pub name: &'static str,
    /// The question as asked at the bench.
    pub question: &'static str,
    /// The kinds of camera that have it.
    pub kinds: &'static [Kind],
    /// What it looks like sound, worn, faulty and failed, in one line each.
    pub looks: [&'static str; 4],
    /// What it costs if it is bad.
    pub costs: Costs,
    /// The usual remedy.
    pub remedy: &'static str,
    /// How a fault here can be avoided or allowed for in use, as a limit on the sheet; empty where it cannot.
    pub avoid: &'static str,
    /// The caution at this step, or empty.
    pub caution: &'static str,
    /// Where the line comes from.
    pub source: &'static str,
    /// Whether a picture helps.
    pub picture_helps: bool,
    /// What it takes to look [s].
    pub seconds: u32,
    /// Whether it belongs only to cameras with a meter or other use of a battery.
    pub needs_meter: bool,
    /// Whether its name is that of a fault, so that one says "none seen" and not "in order".
    pub names_fault: bool,
}

/// The usual source of a row.
pub(crate) const COMMON_PRACTICE: &str = "common practice";
/// Every kind of camera.
pub(crate) const ALL_KINDS: &[Kind] = &Kind::ALL;

/// What most rows share; a row names what differs.
const BASE: Point = Point {
    key: "",
    area: Area::Body,
    name: "",
    question: "",
    kinds: ALL_KINDS,
    looks: [""; 4],
    costs: Costs::Looks,
    remedy: "",
    avoid: "",
    caution: "",
    source: COMMON_PRACTICE,
    picture_helps: false,
    seconds: 5,
    needs_meter: false,
    names_fault: false,
};

/// Every point, area by area in the order of the round.
static ALL: LazyLock<Vec<&'static Point>> = LazyLock::new(|| {
    [power::POINTS, seals::POINTS, lens::POINTS, shutter::POINTS, meter::POINTS, body::POINTS]
        .into_iter()
        .flatten()
        .collect()
});

/// The same by what their keys come to.
static BY_KEY: LazyLock<Vec<Vec<&'static Point>>> = LazyLock::new(|| {
    let mut points = vec![Vec::new(); 256];
    for point in ALL.iter() {
        points[place_of(point.key)].push(*point);
    }
    points
});

/// A number up to 255 that few keys share: FNV-1a, folded.
fn place_of(key: &str) -> usize {
    let hash = key.bytes().fold(0x811c_9dc5_u32, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193));
    ((hash ^ (hash >> 16)) & 255) as usize
}

/// Every point, area by area in the order of the round.
pub fn points() -> impl Iterator<Item = &'static Point> {
    ALL.iter().copied()
}

/// The points that a camera has.
pub fn points_of(camera: &Camera) -> impl Iterator<Item = &'static Point> {
    let (kind, has_meter) = (camera.kind, camera.has_meter());
    points().filter(move |point| point.kinds.contains(&kind) && (has_meter || !point.needs_meter))
}

/// The point with this key.
pub fn point(key: &str) -> Option<&'static Point> {
    BY_KEY[place_of(key)].iter().find(|point| point.key == key).copied()
}

/// Cautions that hold for the whole bench, from the published figures named in each; they never replace local rules or
/// licensed practice.
pub const BENCH_CAUTIONS: &[&str] = &[
    "Flash capacitors: a built-in flash holds 250 to 330 V long after it was switched off, and 10 J may kill. Treat it as \
     charged; opening such a body is for people trained in it. (D. Klipstein, Xenon strobe safety.)",
    "Leaked alkaline cells: the residue is caustic. Gloves and eye protection, dilute vinegar, wipe, dry. (Common practice.)",
    "Mercury cells: never into general waste. Hand them to a collection point for hazardous household waste; local rules hold. \
     (US Public Law 104-142; Minamata Convention, from memory.)",
    "Solvents: isopropyl alcohol takes fire from 12 °C on. No flame, no charged flash nearby, fresh air. (Safety data sheets.)",
    "The sun: never look at it through a finder or lens, never lay an open camera or a lens down facing it. Eclipse glasses do \
     not protect behind optics. (American Astronomical Society, as cited.)",
    "Thoriated glass: some old lenses are weakly radioactive. No grinding or polishing, not for eyepieces, not for long \
     storage against the body. (10 CFR 40.13(c)(7); NCRP Report 95.)",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_are_unique_and_well_formed() {
        let mut keys: Vec<&str> = points().map(|point| point.key).collect();
        assert!(keys.len() >= 50, "{} points", keys.len());
        assert!(keys.iter().all(|key| key.chars().all(|c| c.is_ascii_lowercase() || c == '-')));
        keys.sort_unstable();
        let all = keys.len();
        keys.dedup();
        assert_eq!(keys.len(), all);
    }

    #[test]
    fn every_row_is_filled_in() {
        for point in points() {
            assert!(point.question.ends_with('?'), "{}", point.key);
            assert!(!point.kinds.is_empty() && point.seconds > 0, "{}", point.key);
            assert!(point.looks.iter().all(|line| !line.is_empty()), "{}", point.key);
            assert!(!point.remedy.is_empty() && !point.source.is_empty() && !point.name.is_empty(), "{}", point.key);
        }
    }

    #[test]
    fn every_area_has_points_for_every_kind_with_a_meter() {
        for kind in Kind::ALL {
            let camera = Camera::of_kind(kind);
            for area in Area::ALL {
                assert!(points_of(&camera).any(|point| point.area == area), "{kind:?} {area:?}");
            }
        }
    }

    #[test]
    fn a_camera_without_a_meter_has_no_meter_points() {
        let mut camera = Camera::of_kind(Kind::Folding);
        camera.meter_shows = Some(crate::camera::MeterShows::Nothing);
        assert!(points_of(&camera).all(|point| point.area != Area::Meter));
    }
}
