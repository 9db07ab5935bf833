//! Comparisons against cases reckoned by hand.
//!
//! Not here: how they read in full, which the golden files of the tests show.

use photometry::TimeMark;
use timing::State;

use super::*;
use crate::camera::{Camera, Kind};
use crate::catalogue;
use crate::finding::Finding;
use crate::shutter::{Check, CountsFor, Signal, Take, TakenShot};
use crate::tolerance::OF_TIMES;
use crate::whole::examine;

/// A camera whose 1/1000 is off by so many stops, each of three shots known to 0.03 stop.
fn camera(error: f64, seal: Condition) -> Inspection {
    let mut inspection = Inspection::of(Camera::of_kind(Kind::SingleLensReflex));
    let mark = TimeMark::parse("1/1000", &[]).expect("a mark");
    let time = mark.exact().value() * libm::exp2(error);
    let shot = TakenShot {
        counts_for: CountsFor::Mark(mark.clone()),
        time: Estimate::new(time, 0.03 * time * core::f64::consts::LN_2, f64::INFINITY).ok(),
        shared_s: 0.0,
        state: State::Measured,
        mark_sure: true,
        interval_s: None,
        taper: None,
        bounce_s: None,
    };
    inspection.shutter = Some(Check {
        marks: vec![mark],
        tolerance: OF_TIMES.usual(),
        takes: vec![Take { signal: Signal::Light, shots: vec![shot.clone(), shot.clone(), shot] }],
    });
    let point = catalogue::point("hinge-seal").expect("a point");
    inspection.findings = vec![Finding { point, condition: seal, note: String::new() }];
    inspection
}

fn compared(before: &Inspection, after: &Inspection) -> Comparison {
    let (was, is) = (examine(before).expect("an outcome"), examine(after).expect("an outcome"));
    compare(Side { inspection: before, examined: &was }, Side { inspection: after, examined: &is })
}

#[test]
fn a_service_shows_as_a_change_beyond_doubt() {
    let both = compared(&camera(-0.8, Condition::Faulty), &camera(0.1, Condition::Sound));
    let time = &both.measured[0];
    assert_eq!((time.name.as_str(), time.verdict), ("1/1000", Verdict::Changed));
    let difference = time.difference.expect("both days");
    assert!((difference.value() - 0.9).abs() < 1e-9);
    let side = examine(&camera(0.1, Condition::Sound)).expect("an outcome").shutter.expect("a shutter").rows[0].error;
    let u = side.expect("an error").standard_uncertainty();
    assert!((difference.standard_uncertainty() - u * 2.0_f64.sqrt()).abs() < 1e-9);
    assert!(
        time.sentence().starts_with("1/1000: 0.80 under") && time.sentence().contains("a change of 0.90"),
        "{}",
        time.sentence()
    );
    assert_eq!((both.findings.len(), both.findings[0].verdict), (1, Verdict::Changed));
    assert!(both.headline.starts_with("From wants service to not yet known"), "{}", both.headline);
}

#[test]
fn what_is_smaller_than_the_doubt_is_no_change() {
    let both = compared(&camera(0.10, Condition::Sound), &camera(0.12, Condition::Sound));
    assert_eq!(both.measured[0].verdict, Verdict::WithinDoubt);
    assert_eq!((both.findings.len(), both.same), (0, 1));
    assert!(both.measured[0].sentence().contains("no change beyond the doubt"));
}

#[test]
fn what_is_known_on_one_day_only_is_said_so() {
    let mut without = camera(0.0, Condition::NotChecked);
    without.shutter = None;
    let both = compared(&without, &camera(0.1, Condition::Sound));
    assert_eq!((both.measured[0].verdict, both.findings[0].verdict), (Verdict::New, Verdict::New));
    let back = compared(&camera(0.1, Condition::Sound), &without);
    assert_eq!((back.measured[0].verdict, back.measured[0].after.as_str()), (Verdict::Gone, ""));
    assert!(back.headline.contains("nothing was measured on both days"), "{}", back.headline);
}

#[test]
fn two_cameras_are_not_taken_for_one() {
    let (one, mut other) = (camera(0.1, Condition::Sound), camera(0.1, Condition::Sound));
    assert!(!compared(&one, &other).notices[0].contains("two cameras"));
    other.camera.serial = "12".to_owned();
    assert!(compared(&one, &other).notices[0].contains("two cameras"));
}
