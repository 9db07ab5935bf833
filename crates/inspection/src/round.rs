//! The round: every step of a whole check in the order that takes the least handling, each with how far it is and what is left of
//! it. What is fired and heard runs hands free while the eyes look at points: those are named with it.
//!
//! The order is common practice put to the clock: what can stop the sale at once comes first, what needs the lens off or the back
//! open is done in one go, and the body is looked at last. Not here: what there is to look at ([`crate::catalogue`]); the order and
//! the steps left out that a person prefers, which the page remembers.

use crate::catalogue::{self, Area, Point};
use crate::outcome::{METER_SECONDS, SHUTTER_SECONDS, TIME_SECONDS};
use crate::whole::{Examined, Inspection};

/// What a step is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// Names, marks, meter, battery.
    Identity,
    /// The points of an area.
    Points(Area),
    /// Firing through the dial.
    Shutter,
    /// The meter against a reference.
    Meter,
}

impl About {
    /// Every step in the usual order.
    pub const ALL: [About; 9] = [
        About::Identity,
        About::Points(Area::Power),
        About::Points(Area::Seals),
        About::Points(Area::Lens),
        About::Shutter,
        About::Points(Area::Shutter),
        About::Meter,
        About::Points(Area::Meter),
        About::Points(Area::Body),
    ];

    /// The key under which a page remembers its place.
    pub const fn key(self) -> &'static str {
        match self {
            About::Identity => "identity",
            About::Points(area) => area.key(),
            About::Shutter => "marked-times",
            About::Meter => "meter-run",
        }
    }

    const fn words(self) -> &'static str {
        match self {
            About::Identity => "Who it is",
            About::Points(area) => area.words(),
            About::Shutter => "Marked times, hands free",
            About::Meter => "Meter against a reference",
        }
    }
}

/// Points that are seen, heard and felt while the shutter is fired through the dial.
const WHILE_FIRING: [&str; 5] = ["advance", "cocking", "mirror-return", "counter", "marked-times"];

/// A step of the round.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it is about.
    pub about: About,
    /// Its name.
    pub name: &'static str,
    /// `3 of 8`, `11 of 11 marked times within`, `not yet`.
    pub state: String,
    /// Whether nothing of it is left.
    pub done: bool,
    /// What is left of it \[s\].
    pub left_s: u32,
    /// Points that are looked at meanwhile.
    pub meanwhile: Vec<&'static Point>,
}

/// Entering names and marks \[s\] (judged, not measured).
const IDENTITY_SECONDS: u32 = 20;

fn points(inspection: &Inspection, area: Area) -> (usize, usize, u32) {
    catalogue::points_of(&inspection.camera).filter(|point| point.area == area).fold(
        (0, 0, 0),
        |(done, all, left), point| {
            if inspection.condition(point).is_checked() {
                (done + 1, all + 1, left)
            } else {
                (done, all + 1, left + point.seconds)
            }
        },
    )
}

fn step(about: About, state: String, left_s: u32) -> Step {
    Step { about, name: about.words(), state, done: left_s == 0, left_s, meanwhile: Vec::new() }
}

fn identity(inspection: &Inspection) -> Step {
    let named = !inspection.camera.maker.trim().is_empty() || !inspection.camera.model.trim().is_empty();
    let state = if named { "entered" } else { "not yet" };
    step(About::Identity, state.to_owned(), if named { 0 } else { IDENTITY_SECONDS })
}

fn shutter(inspection: &Inspection, examined: &Examined) -> Option<Step> {
    if inspection.camera.stepless {
        return None;
    }
    let judged = examined.shutter.as_ref().filter(|judgement| !judgement.rows.is_empty());
    let (state, left_s) = match judged {
        Some(judgement) => {
            let missing = u32::try_from(judgement.missing.len()).unwrap_or(u32::MAX / TIME_SECONDS);
            (judgement.headline.clone(), TIME_SECONDS * missing)
        }
        None => ("not yet".to_owned(), SHUTTER_SECONDS),
    };
    let meanwhile = catalogue::points_of(&inspection.camera)
        .filter(|point| WHILE_FIRING.contains(&point.key) && !inspection.condition(point).is_checked())
        .collect();
    Some(Step { meanwhile, ..step(About::Shutter, state, left_s) })
}

fn meter(inspection: &Inspection, examined: &Examined) -> Option<Step> {
    inspection.camera.has_meter().then(|| match &examined.meter {
        Some(judgement) => step(About::Meter, judgement.headline(), 0),
        None => step(About::Meter, "not yet".to_owned(), METER_SECONDS),
    })
}

/// The steps that this camera has, in the usual order.
pub fn steps(inspection: &Inspection, examined: &Examined) -> Vec<Step> {
    About::ALL
        .into_iter()
        .filter_map(|about| match about {
            About::Identity => Some(identity(inspection)),
            About::Points(area) => {
                let (done, all, left) = points(inspection, area);
                (all > 0).then(|| step(about, format!("{done} of {all}"), left))
            }
            About::Shutter => shutter(inspection, examined),
            About::Meter => meter(inspection, examined),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::{Camera, Kind};
    use crate::finding::{Condition, Finding};

    fn inspection(kind: Kind) -> Inspection {
        Inspection::of(Camera::of_kind(kind))
    }

    fn examined(inspection: &Inspection) -> Vec<Step> {
        steps(inspection, &crate::examine(inspection).expect("examined"))
    }

    #[test]
    fn every_area_has_a_step_and_every_key_stands_once() {
        for area in Area::ALL {
            assert!(About::ALL.contains(&About::Points(area)), "{area:?}");
        }
        let mut keys: Vec<&str> = About::ALL.map(About::key).to_vec();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), About::ALL.len());
    }

    #[test]
    fn what_is_watched_while_firing_is_in_the_catalogue() {
        for key in WHILE_FIRING {
            assert!(catalogue::point(key).is_some(), "{key}");
        }
    }

    #[test]
    fn what_was_looked_at_is_not_left_and_not_watched_again() {
        let mut one = inspection(Kind::SingleLensReflex);
        let before = examined(&one);
        let body = |steps: &[Step]| steps.iter().find(|step| step.about == About::Points(Area::Body)).cloned();
        let firing = |steps: &[Step]| steps.iter().find(|step| step.about == About::Shutter).cloned();
        let advance = catalogue::point("advance").expect("in the catalogue");
        one.findings.push(Finding { point: advance, condition: Condition::Sound, note: String::new() });
        let after = examined(&one);
        let (before_body, after_body) = (body(&before).expect("a step"), body(&after).expect("a step"));
        assert_eq!(before_body.left_s - after_body.left_s, advance.seconds);
        assert!(firing(&before).expect("a step").meanwhile.contains(&advance));
        assert!(!firing(&after).expect("a step").meanwhile.contains(&advance));
    }

    #[test]
    fn a_camera_without_marks_or_meter_has_no_step_for_them() {
        let mut one = inspection(Kind::FixedLensCompact);
        one.camera.stepless = true;
        let steps = examined(&one);
        assert!(steps.iter().all(|step| step.about != About::Shutter));
    }
}
