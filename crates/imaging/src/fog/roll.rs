//! The answer on roll film without perforation: whether there is light, and at which side of the gate. Nothing of where it came from.
//!
//! A margin of two or three millimetres is all that lies outside the gate, and it also fogs when the roll was wound loosely or
//! unwrapped in the light (common practice): it tells no door from a hand. Not here: film with holes ([`super::decide`]).

use super::decide::{Fog, Group, Lies, Side, none};
use super::map::Map;
use super::rims;
use crate::notice::Notice;

/// One side must exceed the others by this much to be named.
const STANDS_OUT: f64 = 1.25;

pub(super) fn decide(map: &Map, threshold: f64, sure: f64, lies: Lies, mut notices: Vec<Notice>) -> Fog {
    let peak = map.peak();
    if peak < threshold && threshold < sure {
        return none(peak, threshold, notices);
    }
    notices.push(Notice::remark(
        "roll_film",
        "Without perforation it cannot be told whether light came past the door or through the front: the margin also fogs where a \
         roll was wound loosely. A 135 film in an adapter, or a lamp inside, tells more.",
    ));
    let strengths = rims(map).map(|rim| rim.inner.max(rim.outer_most));
    let mut order: Vec<(Side, f64)> = Side::ALL.into_iter().zip(strengths).collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1));
    let side = match order.as_slice() {
        [first, second, ..] if first.1 > threshold && first.1 > STANDS_OUT * second.1 => first.0.of_gate(lies),
        _ => None,
    };
    Fog {
        side,
        peak_density: peak,
        threshold_density: threshold,
        ..Fog { group: Group::CannotTell, ..Fog::cannot_tell(notices) }
    }
}
