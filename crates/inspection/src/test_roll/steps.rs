//! The half-hour at the camera: what to do, frame by frame, each with its time.
//!
//! *Why these:* a door leaks onto any frame, a curtain's hole only where light stands before it, foam under a finder only with the
//! mirror up; a wall that is brighter at one side looks like an uneven shutter unless the camera is turned. *Source:* own derivation;
//! taking a picture first and last to know which way up a strip is, common practice. Not here: what the frames tell ([`super`]).

use super::Frame;
use crate::camera::Kind;

/// Something to do at the camera.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Key in a file: for ever.
    pub key: &'static str,
    /// In a few words.
    pub name: &'static str,
    /// What to do.
    pub text: &'static str,
    /// What it takes, with its handling \[s\].
    pub seconds: u32,
    /// What a timer counts \[s\]; 0 where nothing is to be counted.
    pub timer_s: u32,
    /// Whether a frame of the roll is spent on it.
    pub takes_frame: bool,
}

const fn step(
    key: &'static str,
    name: &'static str,
    text: &'static str,
    seconds: u32,
    timer_s: u32,
    takes_frame: bool,
) -> Step {
    Step { key, name, text, seconds, timer_s, takes_frame }
}

const STEPS: [Step; 11] = [
    step(
        "load",
        "Load a film",
        "A cheap black-and-white negative film, in dim light. Shut the door, wind on two frames with the cap on.",
        240,
        0,
        false,
    ),
    step(
        "key-before",
        "A picture with writing in it",
        "Camera upright, as usual: a shop sign, a page. It tells later which way up the strip lies and from which side it is seen.",
        120,
        0,
        true,
    ),
    step(
        "closed",
        "Blank: closed, in bright light",
        "Cap on. Wind on, and do not release. Turn the camera in the sun or close to a lamp, every seam into the light: door, hinge, \
         latch, window, base. Two minutes. Then release with the cap on.",
        240,
        120,
        true,
    ),
    step(
        "lens-open",
        "Blank: light on the lens",
        "Wind on, and do not release. Cap off, bright light straight into the lens, never the sun itself: it burns curtains. Two \
         minutes. Cap on, then release.",
        240,
        120,
        true,
    ),
    step(
        "bulb",
        "Blank: light on finder and mount",
        "Cap on. Wind on. Bright light on eyepiece, mount and base, then hold the shutter open on B for five seconds.",
        120,
        5,
        true,
    ),
    step(
        "wall",
        "A wall",
        "An evenly lit matt wall in daylight, no lamps. Lens on infinity and close to it, so that the wall is out of focus and fills the \
         frame. The fastest time that is in doubt; f-number as the meter says.",
        180,
        0,
        true,
    ),
    step(
        "wall-minus",
        "The wall, one stop less",
        "Same time, one f-number smaller opening. Nothing else moves.",
        60,
        0,
        true,
    ),
    step("wall-plus", "The wall, one stop more", "Same time, one f-number larger opening than at first.", 60, 0, true),
    step(
        "wall-turned",
        "The wall, camera upside down",
        "Time and f-number as at first, from the same spot. It tells the wall from the shutter.",
        90,
        0,
        true,
    ),
    step(
        "key-after",
        "A picture with writing in it, again",
        "Camera upright. With the first one it brackets the test frames.",
        90,
        0,
        true,
    ),
    step(
        "hand-in",
        "Wind back, hand it in",
        "Have it developed only, cut into strips of six, without prints. Write the camera's name on the bag.",
        240,
        0,
        false,
    ),
];

/// What to do with such a camera, in order; nothing for sheet film.
pub fn steps(kind: Kind) -> &'static [Step] {
    match kind {
        Kind::LargeFormat => &[],
        _ => &STEPS,
    }
}

/// Which frame of the roll a step takes, counted from 1.
pub fn frame_number(key: &str) -> Option<usize> {
    STEPS.iter().filter(|step| step.takes_frame).position(|step| step.key == key).map(|at| at + 1)
}

/// Every blank frame has a step of its own key.
const _: () = assert!(Frame::ALL.len() == 3 && STEPS.len() == 11);
