//! Points of body and controls: winding, dials, finder, flash contacts, looks.
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};
use crate::camera::Kind;

/// Cameras that wind film inside.
const ROLL: &[Kind] =
    &[Kind::SingleLensReflex, Kind::Rangefinder, Kind::FixedLensCompact, Kind::TwinLensReflex, Kind::Folding];
/// Cameras that rewind a cassette.
const REWOUND: &[Kind] = &[Kind::SingleLensReflex, Kind::Rangefinder, Kind::FixedLensCompact];
/// Cameras with a mirror and a focus screen above it.
const SCREEN: &[Kind] = &[Kind::SingleLensReflex, Kind::TwinLensReflex];
/// Cameras with a rangefinder.
const PATCH: &[Kind] = &[Kind::Rangefinder, Kind::FixedLensCompact, Kind::Folding];
/// Cameras with a built-in flash as a rule.
const FLASH: &[Kind] = &[Kind::FixedLensCompact];

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "advance",
        area: Area::Body,
        name: "film advance",
        question: "Does the advance wind a full frame, smoothly?",
        kinds: ROLL,
        looks: ["smooth, full stroke", "heavy, even", "slips or overlaps frames", "jammed"],
        costs: Costs::Film,
        remedy: "Clean and set the winding train.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "double-exposure-guard",
        area: Area::Body,
        name: "double-exposure guard",
        question: "Does it refuse a second release without winding?",
        kinds: ROLL,
        looks: ["refuses", "refuses, with play", "lets one through now and then", "does not refuse"],
        costs: Costs::Handling,
        remedy: "Set the interlock.",
        avoid: "Wind after every frame: the guard does not hold.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "counter",
        area: Area::Body,
        name: "frame counter and its reset",
        question: "Does the counter count, and go back when the door opens?",
        kinds: ROLL,
        looks: ["counts and resets", "counts, resets late", "skips or does not reset", "dead"],
        costs: Costs::Handling,
        remedy: "Clean the counter.",
        avoid: "Count the frames yourself.",
        seconds: 10,
        ..BASE
    },
    Point {
        key: "rewind",
        area: Area::Body,
        name: "rewind crank and clutch",
        question: "Does the rewind run free with the clutch pressed?",
        kinds: REWOUND,
        looks: ["free, clutch releases", "stiff, releases", "clutch slips back", "does not release"],
        costs: Costs::Film,
        remedy: "Clean the clutch; unload in the dark meanwhile.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "film-speed-dial",
        area: Area::Body,
        name: "film-speed dial",
        question: "Does the film-speed dial set and hold each mark?",
        looks: ["sets and holds", "worn marks, holds", "slips", "stuck"],
        costs: Costs::Exposure,
        remedy: "Clean the dial.",
        seconds: 5,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "mode-dials",
        area: Area::Body,
        name: "mode and other dials",
        question: "Do the other dials and levers set and hold?",
        looks: ["set and hold", "stiff, hold", "slip", "stuck or broken"],
        costs: Costs::Handling,
        remedy: "Clean; renew a broken lever.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "sync",
        area: Area::Body,
        name: "hot shoe and sync contact",
        question: "Do shoe and sync contact fire a small flash?",
        looks: ["fires at the sync time", "fires after cleaning", "fires now and then", "does not fire"],
        costs: Costs::Handling,
        remedy: "Clean the contacts.",
        avoid: "Do not use flash.",
        caution: "Use a small battery flash only. A flash capacitor holds 250 to 330 V long after it was \
                  switched off: do not open a flash.",
        source: "common practice; D. Klipstein, Xenon strobe safety",
        seconds: 15,
        ..BASE
    },
    Point {
        key: "built-in-flash",
        area: Area::Body,
        name: "built-in flash",
        question: "Does the built-in flash charge and fire?",
        kinds: FLASH,
        looks: ["charges and fires", "slow to charge", "fires now and then", "does not charge"],
        costs: Costs::Handling,
        remedy: "Clean the battery contacts; anything inside is for people trained in it.",
        avoid: "Do not use the flash.",
        caution: "The capacitor holds 250 to 330 V long after it was switched off, and 10 J may kill. Do not open the body.",
        source: "D. Klipstein, Xenon strobe safety",
        seconds: 20,
        ..BASE
    },
    Point {
        key: "finder",
        area: Area::Body,
        name: "finder, clean",
        question: "Is the finder clear?",
        looks: ["clear", "some dust", "hazy or desilvered in part", "dark"],
        costs: Costs::Handling,
        remedy: "Clean what can be reached; desilvering stays.",
        avoid: "Expect a dim finder.",
        caution: "Never look at the sun through the finder; eclipse glasses do not protect behind optics.",
        source: "common practice; American Astronomical Society",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "focus-screen",
        area: Area::Body,
        name: "focus screen",
        question: "Is the focus screen clean, whole and seated?",
        kinds: SCREEN,
        looks: ["clean, seated", "dust or a fine scratch", "scratched, or shifted", "cracked or out of place"],
        costs: Costs::Sharpness,
        remedy: "Seat or renew it; clean with air only.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "ground-glass",
        area: Area::Body,
        name: "ground glass",
        question: "Is the ground glass whole, seated, and its ground side towards the lens?",
        kinds: &[Kind::LargeFormat],
        looks: [
            "whole, seated, ground side in",
            "a chipped corner, seated",
            "loose, shimmed or turned about",
            "cracked or missing",
        ],
        costs: Costs::Sharpness,
        remedy: "Seat or renew it, then check its depth against a film holder.",
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "frame-lines",
        area: Area::Body,
        name: "frame lines",
        question: "Are the frame lines bright and complete?",
        kinds: &[Kind::Rangefinder, Kind::FixedLensCompact],
        looks: ["bright, complete", "faint", "partly missing", "gone"],
        costs: Costs::Handling,
        remedy: "Clean the finder.",
        avoid: "Frame with the edge of the finder.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "rangefinder-patch",
        area: Area::Body,
        name: "rangefinder patch",
        question: "Is the rangefinder patch bright enough to use?",
        kinds: PATCH,
        looks: ["clear", "faint, usable", "hardly seen", "gone"],
        costs: Costs::Sharpness,
        remedy: "Clean; a tinted filter helps contrast. A lost coating stays.",
        avoid: "Focus by the scale.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "rangefinder-alignment",
        area: Area::Body,
        name: "rangefinder alignment",
        question: "On something far away: do the two images fall together, at infinity and in height?",
        kinds: PATCH,
        looks: [
            "together at infinity",
            "a hair off, within focus",
            "off at infinity, or in height",
            "does not move with the lens",
        ],
        costs: Costs::Sharpness,
        remedy: "Set infinity and height by their screws.",
        seconds: 15,
        ..BASE
    },
    Point {
        key: "eyepiece-cup",
        area: Area::Body,
        name: "eyepiece and cup",
        question: "Is the eyepiece whole, and its cup there?",
        looks: ["whole, cup there", "cup worn", "cup missing", "eyepiece cracked"],
        remedy: "Fit a new cup.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "strap-lugs",
        area: Area::Body,
        name: "strap lugs",
        question: "Do the strap lugs hold a pull?",
        looks: ["tight", "worn, hold", "one loose", "one missing"],
        costs: Costs::Handling,
        remedy: "Re-rivet or renew.",
        avoid: "Do not carry it by the strap.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "tripod-socket",
        area: Area::Body,
        name: "tripod socket",
        question: "Does the tripod thread take a screw?",
        looks: ["clean thread", "worn, holds", "cross-threaded", "torn out"],
        costs: Costs::Handling,
        remedy: "Fit a thread insert.",
        avoid: "Do not use a tripod.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "dents",
        names_fault: true,
        area: Area::Body,
        name: "dents",
        question: "Is the body free of dents?",
        looks: ["none", "small, on the surface", "one that presses on a control", "bent body"],
        remedy: "Leave it, or straighten where it presses.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "paint-and-leather",
        area: Area::Body,
        name: "paint and leather",
        question: "Are paint and leather whole?",
        looks: ["whole", "brassing or small lifts", "pieces missing", "bare"],
        remedy: "Glue lifts; new leather if wanted.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "engraved-marks",
        area: Area::Body,
        name: "engraved marks",
        question: "Can every mark be read?",
        looks: ["all clear", "some faint", "some gone", "dial blank"],
        remedy: "Refill with paint.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "accessories",
        area: Area::Body,
        name: "accessories that come with it",
        question: "Is what comes with it listed in the note?",
        looks: ["complete and listed", "some worn", "some missing", "none"],
        remedy: "List what is there in the note.",
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
];
