//! Points of power and identity: what the camera is fed with, and who it is.
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "battery-wanted",
        area: Area::Power,
        name: "battery wanted",
        question: "Is it known which battery the camera wants?",
        looks: ["known and entered", "known by size only", "only guessed", "not to be found out"],
        costs: Costs::Handling,
        remedy: "Look it up in the camera's own manual and enter it.",
        avoid: "Do not trust the meter until the right cell is known.",
        seconds: 10,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "battery-fitted",
        area: Area::Power,
        name: "battery fitted",
        question: "Is the battery that is fitted the one it wants?",
        looks: [
            "the right type, fresh",
            "right type, voltage near its end",
            "another voltage than it wants",
            "flat, or none to be had",
        ],
        costs: Costs::Exposure,
        remedy: "Fit a fresh cell of the right voltage, or an adapter made for it.",
        caution: "A mercury cell is hazardous household waste: hand it to a collection point, never into \
                  the bin. Local rules hold.",
        source: "common practice; US Public Law 104-142",
        seconds: 15,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "battery-under-load",
        area: Area::Power,
        name: "voltage under load",
        question: "Does the cell hold its voltage with the meter on?",
        looks: [
            "within a few hundredths of nominal",
            "a tenth below nominal",
            "falls while the meter is on",
            "collapses at once",
        ],
        costs: Costs::Exposure,
        remedy: "Fit a fresh cell; clean the contacts if it still falls.",
        seconds: 20,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "battery-contacts",
        area: Area::Power,
        name: "battery contacts",
        question: "Are the contacts bright and springy?",
        looks: [
            "bright metal, springs back",
            "dull, still springy",
            "green or white crust",
            "eaten away or broken off",
        ],
        costs: Costs::Exposure,
        remedy: "Clean with a fibre pen; renew what is eaten away.",
        caution: "The crust is caustic: gloves and eye protection; dilute vinegar, wipe, dry.",
        picture_helps: true,
        seconds: 10,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "battery-leakage",
        names_fault: true,
        area: Area::Power,
        name: "leakage",
        question: "Has a cell leaked in the chamber?",
        looks: ["dry and clean", "old stain, wiped clean", "residue in the chamber", "residue has crept into the body"],
        costs: Costs::Handling,
        remedy: "Neutralise with dilute vinegar, wipe, dry; a body it crept into goes to a workshop.",
        avoid: "Do not leave a cell in it.",
        caution: "Leaked alkaline cells are caustic: gloves and eye protection; dilute vinegar, wipe, dry.",
        picture_helps: true,
        seconds: 10,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "battery-door",
        area: Area::Power,
        name: "battery door and latch",
        question: "Does the battery door close and hold?",
        looks: [
            "closes flush, thread or latch clean",
            "stiff or worn, holds",
            "cross-threaded or needs tape",
            "missing or cracked",
        ],
        costs: Costs::Handling,
        remedy: "Renew the door; a cracked thread wants a workshop.",
        avoid: "Hold the battery door with tape.",
        picture_helps: true,
        seconds: 5,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "serial-read",
        area: Area::Power,
        name: "serial number",
        question: "Is the serial number legible and entered?",
        looks: ["clear and entered", "worn, still legible", "partly illegible", "removed or ground off"],
        remedy: "Enter what can be read; a removed number is for the papers to explain.",
        picture_helps: true,
        seconds: 10,
        ..BASE
    },
];
