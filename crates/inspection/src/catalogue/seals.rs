//! Points of seals and doors: what keeps the light out. A seal that is old but neither sticky nor crumbling, and has left
//! nothing on the edge it presses on, still works; sticky or crumbling foam does not, and sheds into the shutter (common
//! practice).
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};
use crate::camera::Kind;

/// Cameras that take film in cassettes or on rolls.
const ROLL: &[Kind] =
    &[Kind::SingleLensReflex, Kind::Rangefinder, Kind::FixedLensCompact, Kind::TwinLensReflex, Kind::Folding];
/// Cameras with a hinged back and foam.
const HINGED: &[Kind] = &[Kind::SingleLensReflex, Kind::Rangefinder, Kind::FixedLensCompact, Kind::TwinLensReflex];
/// Cameras with a mirror.
const MIRROR: &[Kind] = &[Kind::SingleLensReflex];
/// Cameras with a bellows.
const BELLOWS: &[Kind] = &[Kind::Folding, Kind::LargeFormat];
/// Cameras that take sheet film.
const SHEET: &[Kind] = &[Kind::LargeFormat];

/// What a foam seal looks like.
const FOAM_LOOKS: [&str; 4] = [
    "soft, springs back, leaves nothing",
    "old and flat, dry, leaves nothing: still works",
    "sticky or crumbling, sheds",
    "gone, or turned to tar",
];
/// What is done about a bad seal.
const FOAM_REMEDY: &str = "Scrape out the old foam and fit new of the same height.";
/// The caution wherever old foam is washed off.
const SOLVENT: &str = "Isopropyl alcohol for the residue takes fire from 12 °C on: no flame, no charged flash nearby, \
                       fresh air. Keep crumbs out of the shutter.";
/// Where that caution comes from.
const SOLVENT_SOURCE: &str = "common practice; safety data sheets of isopropyl alcohol";

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "channel-seals",
        area: Area::Seals,
        name: "door channel, top and bottom",
        question: "Press the foam in the long channels: does it spring back and leave nothing?",
        kinds: HINGED,
        looks: FOAM_LOOKS,
        costs: Costs::Film,
        remedy: FOAM_REMEDY,
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "hinge-seal",
        area: Area::Seals,
        name: "hinge seal",
        question: "Press the seal along the hinge: does it spring back and leave nothing?",
        kinds: HINGED,
        looks: FOAM_LOOKS,
        costs: Costs::Film,
        remedy: FOAM_REMEDY,
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "latch-seal",
        area: Area::Seals,
        name: "latch-side seal",
        question: "Press the seal on the latch side: does it spring back and leave nothing?",
        kinds: HINGED,
        looks: FOAM_LOOKS,
        costs: Costs::Film,
        remedy: FOAM_REMEDY,
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "film-window-foam",
        area: Area::Seals,
        name: "film-window foam",
        question: "Is the foam round the film window whole?",
        kinds: ROLL,
        looks: FOAM_LOOKS,
        costs: Costs::Film,
        remedy: FOAM_REMEDY,
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "cassette-foam",
        area: Area::Seals,
        name: "cassette-chamber foam",
        question: "Is the foam at the cassette or roll chamber whole?",
        kinds: ROLL,
        looks: FOAM_LOOKS,
        costs: Costs::Film,
        remedy: FOAM_REMEDY,
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "mirror-damper",
        area: Area::Seals,
        name: "mirror damper",
        question: "Press the strip the mirror lands on: does it spring back and leave nothing?",
        kinds: MIRROR,
        looks: [
            "soft, leaves nothing",
            "flat and dry, leaves nothing",
            "sticky or crumbling",
            "gone: the mirror hits metal",
        ],
        costs: Costs::Film,
        remedy: "Lift out the old strip, keep crumbs off the screen, fit a new one.",
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "edge-residue",
        names_fault: true,
        area: Area::Seals,
        name: "residue on the mating edges",
        question: "Run a finger along the edges of the door: is anything left on them?",
        kinds: HINGED,
        looks: ["clean metal", "a faint line, dry", "sticky line", "strings of it, or crumbs in the body"],
        costs: Costs::Film,
        remedy: "Clean the edges, then renew the seals that left it.",
        caution: SOLVENT,
        source: SOLVENT_SOURCE,
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "back-latch",
        area: Area::Seals,
        name: "back-door latch",
        question: "Does the back latch shut and stay shut under a push?",
        kinds: ROLL,
        looks: ["snaps, no play", "worn, holds", "opens under a push", "does not hold"],
        costs: Costs::Film,
        remedy: "Bend or renew the latch; tape it meanwhile only for a test.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "hinge-play",
        area: Area::Seals,
        name: "hinge play",
        question: "Does the door move at the hinge when closed?",
        kinds: HINGED,
        looks: ["no play", "a hair of play, seals cover it", "moves visibly", "bent or pin missing"],
        costs: Costs::Film,
        remedy: "Straighten or re-pin the hinge.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "pressure-plate",
        area: Area::Seals,
        name: "pressure plate",
        question: "Is the pressure plate flat, clean and sprung?",
        kinds: ROLL,
        looks: ["bright, springs evenly", "light wear, even", "scratched or tilted", "missing, rusty or stuck"],
        costs: Costs::Sharpness,
        remedy: "Clean it; a scratched or missing plate is renewed.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "film-door-interlock",
        area: Area::Seals,
        name: "film-door interlock",
        question: "Does the door open only when it should?",
        kinds: ROLL,
        looks: [
            "opens on its catch only",
            "stiff, works",
            "opens by itself when handled",
            "cannot be opened or locked",
        ],
        costs: Costs::Film,
        remedy: "Clean and adjust the catch.",
        seconds: 5,
        ..BASE
    },
    Point {
        key: "film-window",
        area: Area::Seals,
        name: "red window and its cover",
        question: "Is the frame-number window whole, and does its cover close?",
        kinds: &[Kind::Folding],
        looks: ["deep red, cover closes", "faded, cover closes", "cracked, or cover loose", "missing"],
        costs: Costs::Film,
        remedy: "Renew the window and its cover.",
        avoid: "Wind in the shade and tape the frame-number window shut between frames.",
        picture_helps: true,
        seconds: 5,
        ..BASE
    },
    Point {
        key: "bellows-pinholes",
        names_fault: true,
        area: Area::Seals,
        name: "bellows pinholes",
        question: "In the dark, lamp inside: does any point of light show?",
        kinds: BELLOWS,
        looks: ["none", "patched, none shows", "one or two pinholes", "many, or a split"],
        costs: Costs::Film,
        remedy: "Patch single holes; a bellows with many is renewed.",
        picture_helps: true,
        seconds: 30,
        ..BASE
    },
    Point {
        key: "bellows-corners",
        area: Area::Seals,
        name: "bellows corners",
        question: "Are the folds supple at the corners?",
        kinds: BELLOWS,
        looks: ["supple, no wear", "worn, no light shows", "cracked at the corners", "torn"],
        costs: Costs::Film,
        remedy: "Patch or renew the bellows.",
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
    Point {
        key: "holder-light-trap",
        area: Area::Seals,
        name: "film-holder light trap",
        question: "Are slide, trap and hinge of the holder whole?",
        kinds: SHEET,
        looks: ["velvet whole, slide straight", "worn, dark", "trap thin or slide bent", "slide cracked, hinge torn"],
        costs: Costs::Film,
        remedy: "Renew the trap or retire the holder.",
        picture_helps: true,
        seconds: 15,
        ..BASE
    },
    Point {
        key: "lens-board",
        area: Area::Seals,
        name: "lens board and its seat",
        question: "Does the lens board sit tight and dark?",
        kinds: SHEET,
        looks: ["tight, no light", "loose, dark", "light shows at the rim", "cracked or wrong size"],
        costs: Costs::Film,
        remedy: "Fit a proper board; felt in the seat.",
        seconds: 10,
        ..BASE
    },
];
