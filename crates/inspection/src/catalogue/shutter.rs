//! Points of the shutter: curtains or blades, times by ear, its controls.
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};
use crate::camera::Kind;

/// Cameras whose mirror moves.
const MIRROR: &[Kind] = &[Kind::SingleLensReflex];
/// Cameras that have a shutter lock or a release lock as a rule.
const LOCKED: &[Kind] = &[Kind::SingleLensReflex, Kind::Rangefinder, Kind::FixedLensCompact, Kind::TwinLensReflex];

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "curtains",
        area: Area::Shutter,
        name: "curtains or shutter blades",
        question: "Are curtains or blades flat, dry and without holes?",
        looks: [
            "flat, dry, whole",
            "slight waves, whole",
            "wrinkled, oily or dented",
            "pinholes, torn or off their track",
        ],
        costs: Costs::Film,
        remedy: "Pinholes are patched, wrinkled curtains renewed; oily blades washed.",
        caution: "Do not touch the blades. Never aim an open shutter at the sun.",
        source: "common practice; American Astronomical Society",
        picture_helps: true,
        seconds: 15,
        ..BASE
    },
    Point {
        key: "marked-times",
        area: Area::Shutter,
        name: "marked times by ear",
        question: "Does each marked time sound right, fast to slow?",
        looks: [
            "each one clearly longer than the last",
            "one or two seem slow",
            "slow times drag, or two sound alike",
            "hangs, or does not fire",
        ],
        costs: Costs::Exposure,
        remedy: "Clean, oil and set the shutter: a workshop's job.",
        seconds: 60,
        ..BASE
    },
    Point {
        key: "bulb",
        area: Area::Shutter,
        name: "bulb (B)",
        question: "Does B stay open as long as it is pressed?",
        looks: ["opens and closes with the finger", "closes a moment late", "closes by itself", "does not open"],
        costs: Costs::Handling,
        remedy: "Clean the release linkage.",
        avoid: "Do not use B.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "time-exposure",
        area: Area::Shutter,
        name: "time exposure (T)",
        question: "Does T open at the first press and close at the second?",
        looks: ["as it should", "stiff, works", "closes by itself", "does not open or close"],
        costs: Costs::Handling,
        remedy: "Clean the linkage.",
        avoid: "Do not use T.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "self-timer",
        area: Area::Shutter,
        name: "self-timer",
        question: "Does the self-timer run and end in a release?",
        looks: ["runs evenly, fires", "slow, fires", "stops on its way", "does not run"],
        costs: Costs::Handling,
        remedy: "Clean it; leave it alone until then.",
        avoid: "Do not use the self-timer.",
        seconds: 12,
        ..BASE
    },
    Point {
        key: "shutter-lock",
        area: Area::Shutter,
        name: "shutter lock",
        question: "Does the release lock hold?",
        kinds: LOCKED,
        looks: ["holds", "stiff, holds", "does not hold", "cannot be released"],
        costs: Costs::Handling,
        remedy: "Clean the lock.",
        avoid: "Carry it uncocked: the release does not lock.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "cocking",
        area: Area::Shutter,
        name: "cocking feel",
        question: "Does it cock smoothly, once for each release?",
        looks: ["smooth, one stroke", "heavy, even", "gritty or slips", "does not cock"],
        costs: Costs::Exposure,
        remedy: "Clean and grease the train.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "mirror-return",
        area: Area::Shutter,
        name: "mirror return",
        question: "Does the mirror come back at once at every time?",
        kinds: MIRROR,
        looks: ["at once", "a moment late", "stays up now and then", "stays up, or has slipped"],
        costs: Costs::Sharpness,
        remedy: "Clean the mirror mechanism; a slipped mirror is glued and set.",
        seconds: 10,
        ..BASE
    },
];
