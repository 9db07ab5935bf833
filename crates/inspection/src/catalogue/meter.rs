//! Points of the meter that are looked at; its readings are measured.
//!
//! Not here: what a row means ([`super::Point`]).

use super::{Area, BASE, Costs, Point};

pub(super) const POINTS: &[Point] = &[
    Point {
        key: "meter-wakes",
        area: Area::Meter,
        name: "meter wakes",
        question: "Does the meter come on and go off?",
        looks: ["comes on, goes off", "needs a second press", "comes on now and then", "dead"],
        costs: Costs::Exposure,
        remedy: "Clean the contacts and the switch; check the cell first.",
        seconds: 5,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "meter-responds",
        area: Area::Meter,
        name: "meter responds",
        question: "Cover the cell, then uncover it: does the reading follow at once?",
        looks: ["follows at once", "slow, arrives", "jumps or sticks", "does not move"],
        costs: Costs::Exposure,
        remedy: "Clean the contacts; a sticking movement goes to a workshop.",
        seconds: 5,
        needs_meter: true,
        ..BASE
    },
    Point {
        key: "meter-follows-film-speed",
        area: Area::Meter,
        name: "meter follows the film-speed dial",
        question: "Turn the film-speed dial one stop: does the reading move by one stop?",
        looks: ["one stop for one stop", "within half a stop", "skips at some marks", "does not follow"],
        costs: Costs::Exposure,
        remedy: "Clean the ring resistor under the dial.",
        seconds: 10,
        needs_meter: true,
        ..BASE
    },
];
