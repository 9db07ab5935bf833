//! From the side on a photo to a side of the gate as seen from behind, and on to a place of the open back.
//!
//! Not here: what a photo shows (`imaging::fog`), the drawing ([`crate::drawing::back`]).

use imaging::fog::{Fog, Group, Side as Seen, Source};

use super::Blank;
use crate::camera::Kind;
use crate::drawing::back::{self, Place, Side};

/// The side of the gate seen from behind; nothing where it is open how the strip lies, or no side was found.
pub fn gate_side(blank: &Blank) -> Option<Side> {
    Some(match blank.fog.side?.of_gate(blank.lies)? {
        Seen::Top => Side::Top,
        Seen::Bottom => Side::Bottom,
        Seen::Left => Side::Left,
        Seen::Right => Side::Right,
    })
}

/// The side of the gate on which the cassette or the full roll lies.
fn cassette_side(places: &[Place]) -> Option<Side> {
    let middle = |key: &str| places.iter().find(|place| place.key == key).map(Place::middle);
    let ((cx, cy), (gx, gy)) = (middle("cassette")?, middle("gate").or_else(|| middle("bellows"))?);
    Some(if (cx - gx).abs() >= (cy - gy).abs() {
        if cx > gx { Side::Right } else { Side::Left }
    } else if cy > gy {
        Side::Bottom
    } else {
        Side::Top
    })
}

/// The seal of a side: the channel, hinge or latch seal that lies on it.
fn seal(places: &[Place], side: Side) -> Option<&'static str> {
    places
        .iter()
        .find(|place| place.side == Some(side) && (place.key.ends_with("-seal") || place.key.starts_with("channel-")))
        .map(|place| place.key)
}

/// The place of the open back that a blank frame points at; nothing where it points at none. `hinge` is where this camera's is.
pub fn place_of(kind: Kind, hinge: Side, blank: &Blank) -> Option<&'static str> {
    let Fog { group, source, .. } = blank.fog;
    let places = back::places(kind, hinge);
    let has = |key: &'static str| places.iter().any(|place| place.key == key).then_some(key);
    let side = gate_side(blank);
    match group {
        Group::Back => {
            let side = side?;
            if source == Some(Source::Window) && cassette_side(&places) == Some(side) {
                return has("window-foam");
            }
            seal(&places, side).or_else(|| if side == hinge.across() { has("latch") } else { None })
        }
        Group::Front | Group::Pinhole => {
            let edge = matches!(source, Some(Source::MirrorFoamTop | Source::MirrorFoamBottom));
            let above = group == Group::Front && edge && side == Some(Side::Top);
            if let Some(damper) = has("mirror-damper").filter(|_| above) {
                return Some(damper);
            }
            has("gate").or_else(|| has("bellows"))
        }
        Group::None | Group::CannotTell => None,
    }
}
