//! Points of the lens: glass, focus, aperture, mount.
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};
use crate::camera::Kind;

/// Cameras whose lens comes off by a mount.
const MOUNTED: &[Kind] = &[Kind::SingleLensReflex, Kind::Rangefinder];
/// Cameras that stop down a lens for viewing.
const STOPPED_DOWN: &[Kind] = &[Kind::SingleLensReflex];

/// The caution wherever one looks through a lens.
const LAMP: &str = "Hold the lens to a lamp, never to the sun.";
/// Where that caution comes from.
const LAMP_SOURCE: &str = "common practice; American Astronomical Society";

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "front-glass",
        area: Area::Lens,
        name: "front glass",
        question: "Is the front glass free of marks and cleaning haze?",
        looks: ["clean", "a few fine marks", "cleaning haze, or a mark in the middle", "chipped or deeply scratched"],
        costs: Costs::Sharpness,
        remedy: "Clean; marks stay. Fill a deep chip with matt black.",
        avoid: "Use a lens hood and avoid light from the front.",
        caution: LAMP,
        source: LAMP_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "rear-glass",
        area: Area::Lens,
        name: "rear glass",
        question: "Is the rear glass free of marks and of separation, a bright crescent or rainbow rings from the rim?",
        looks: [
            "clean",
            "a fine mark at the rim",
            "marks in the middle, or separation at the rim",
            "separation into the middle, or chipped",
        ],
        costs: Costs::Sharpness,
        remedy: "Clean; separation goes to a workshop that recements.",
        caution: "Yellowed old glass may be thoriated and weakly radioactive: no grinding or polishing, not for \
                  eyepieces. Hold it to a lamp, never to the sun.",
        source: "common practice; 10 CFR 40.13(c)(7); NCRP Report 95; American Astronomical Society",
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "inner-haze",
        names_fault: true,
        area: Area::Lens,
        name: "inner haze",
        question: "With a lamp from behind: is the inside clear?",
        looks: ["clear", "a trace, seen only against the lamp", "a veil over part of the glass", "milky all over"],
        costs: Costs::Sharpness,
        remedy: "Open, clean, close: a workshop's hour.",
        caution: LAMP,
        source: LAMP_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "fungus",
        names_fault: true,
        area: Area::Lens,
        name: "fungus",
        question: "With a lamp from behind: are there threads or webs?",
        looks: ["none", "an old trace, cleaned", "threads at the rim", "webs into the middle"],
        costs: Costs::Sharpness,
        remedy: "Clean soon, store dry; etched coatings stay. Keep it apart from other lenses.",
        caution: LAMP,
        source: LAMP_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "dust",
        names_fault: true,
        area: Area::Lens,
        name: "dust inside",
        question: "With a lamp from behind: are there bright points, which are dust?",
        looks: ["none worth naming", "some specks", "much, or flakes", "so much that it veils the picture"],
        costs: Costs::Sharpness,
        remedy: "Leave specks alone; flakes want opening.",
        avoid: "Use a lens hood and avoid light from the front.",
        caution: LAMP,
        source: LAMP_SOURCE,
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "focus-travel",
        area: Area::Lens,
        name: "focus travel and end stops",
        question: "Does the focus turn evenly from stop to stop?",
        looks: ["even, stops firm", "heavy or light in places", "gritty, or play", "stuck, or runs past its stop"],
        costs: Costs::Sharpness,
        remedy: "Clean and grease the helicoid.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "aperture-ring",
        area: Area::Lens,
        name: "aperture ring clicks",
        question: "Does the aperture ring click at each mark?",
        looks: ["clear clicks", "soft clicks", "some missing, or slips", "turns freely or not at all"],
        costs: Costs::Exposure,
        remedy: "Clean; renew the click ball or spring.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "blades",
        area: Area::Lens,
        name: "aperture blades",
        question: "Do the blades close evenly, dry, and snap back?",
        looks: ["dry, even, snap", "a trace of oil, snap", "oily and slow, or uneven", "stuck, bent or missing"],
        costs: Costs::Exposure,
        remedy: "Take out, wash, dry: a workshop's job.",
        caution: "Solvents for the oil take fire: no flame, no charged flash nearby, fresh air.",
        source: "common practice; safety data sheets of isopropyl alcohol",
        picture_helps: true,
        seconds: 15,
        ..BASE
    },
    Point {
        key: "stop-down",
        area: Area::Lens,
        name: "stop-down preview",
        question: "Does the preview lever close the blades?",
        kinds: STOPPED_DOWN,
        looks: ["closes and opens", "stiff, works", "closes in part", "does nothing"],
        costs: Costs::Handling,
        remedy: "Clean the linkage.",
        avoid: "Do not use the stop-down preview.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "mount",
        area: Area::Lens,
        name: "mount wear and lock",
        question: "Does the mount sit without play and lock?",
        kinds: MOUNTED,
        looks: ["no play, lock snaps", "slight play, lock holds", "wobbles", "does not lock"],
        costs: Costs::Sharpness,
        remedy: "Tighten the screws; renew spring or lock.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "filter-thread",
        area: Area::Lens,
        name: "filter thread",
        question: "Is the filter thread round?",
        looks: ["round", "a small dent, filters go on", "dented, filters do not go on", "rim broken"],
        costs: Costs::Handling,
        remedy: "Press it round with a lens-rim tool.",
        avoid: "Filters do not fit; use a push-on hood.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "hood-and-caps",
        area: Area::Lens,
        name: "hood and caps",
        question: "Are hood and caps there?",
        looks: ["all there", "worn", "some missing", "none, or broken"],
        remedy: "Add the usual ones.",
        seconds: 5,
        ..BASE
    },
];
