//! A judged aperture whose openings are regular and whose errors are put in by hand.
//!
//! Not here: openings in pictures (`imaging`).

use super::*;
use crate::tolerance::OF_F_NUMBERS;

fn shot(mark: &str, error: f64) -> Shot {
    let mark = FNumberMark::parse(mark, &[]).expect("a mark");
    let area = libm::exp2(18.0 + error - 2.0 * libm::log2(mark.exact().value()));
    let radius = (area / core::f64::consts::PI).sqrt();
    Shot {
        opening: Some(Opening {
            area_px: area,
            perimeter_px: core::f64::consts::TAU * radius,
            edge_doubt_px: 0.15,
            noise: 0.002,
            centre_px: (400.0, 300.0),
            outline_px: (0..360).map(|i| radius * (1.0 + 0.01 * libm::cos(7.0 * f64::from(i).to_radians()))).collect(),
            notices: Vec::new(),
        }),
        name: format!("photo of {}", mark.label()),
        mark: Some(mark),
        from: From::Unknown,
        size_px: (800, 600),
    }
}

fn check(shots: Vec<Shot>) -> Check {
    Check { marks: Vec::new(), blade_count: None, tolerance: OF_F_NUMBERS.usual(), shots }
}

#[test]
fn a_mark_that_lies_is_outside_and_named() {
    let errors = [("2", 0.3), ("2.8", 0.0), ("4", 0.02), ("5.6", -0.02), ("8", 0.0), ("16", 0.7)];
    let judged = judge(&check(errors.map(|(mark, error)| shot(mark, error)).to_vec())).expect("judged");
    assert_eq!(judged.call, Call::Outside);
    assert_eq!(judged.headline, "4 of 5 stopped-down marks within");
    assert!(judged.pattern.contains("f/16 is too wide (0.7 stop over)"), "{}", judged.pattern);
    let error = judged.error_at("16").expect("an error");
    assert!((error.value() - 0.7).abs() < 0.01 && error.standard_uncertainty() < 0.1);
    // The widest mark is a ring: it is neither judged nor handed on.
    assert!(judged.rows[0].widest && judged.rows[0].call == Call::CannotTell && judged.error_at("2").is_none());
}

#[test]
fn the_same_opening_twice_is_said() {
    let judged =
        judge(&check(vec![shot("2", 0.0), shot("2.8", 0.0), shot("4", 0.0), shot("5.6", 0.0), shot("8", 0.98)]));
    let judged = judged.expect("judged");
    assert_eq!(judged.same.len(), 1);
    assert!(judged.same[0].contains("f/5.6 and f/8") && judged.same[0].contains("does not reach the blades"));
}

#[test]
fn what_cannot_be_used_is_said_by_name_and_the_others_go_on() {
    let mut shots = vec![shot("2", 0.0), shot("2.8", 0.0), shot("4", 0.0), shot("5.6", 0.0)];
    let mut turned = shot("8", 0.0);
    turned.size_px = (600, 800);
    let mut twice = shots[1].clone();
    twice.name = "again.jpg".to_owned();
    let unsaid = Shot { mark: None, name: "other.jpg".to_owned(), ..shot("11", 0.0) };
    shots.extend([turned, twice, unsaid]);
    let judged = judge(&check(shots)).expect("judged");
    assert_eq!((judged.rows.len(), judged.rows[1].shots, judged.call), (4, 1, Call::Within));
    let said = judged.notices.join(" ");
    for part in ["600 × 800", "again.jpg is the same picture as photo of f/2.8", "other.jpg: say which f-number"] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn too_little_is_no_judgement_and_no_error() {
    let judged = judge(&check(vec![shot("4", 0.0)])).expect("judged");
    assert_eq!((judged.call, judged.rows.len()), (Call::CannotTell, 0));
    let judged = judge(&check(vec![shot("2", 0.0), shot("4", 0.0), shot("8", 0.6)])).expect("judged");
    assert_eq!(judged.call, Call::CannotTell);
    assert!(judged.settle.starts_with("One more stopped-down mark"), "{}", judged.settle);
    assert!(judge(&Check { blade_count: Some(40), ..check(vec![shot("2", 0.0), shot("4", 0.0)]) }).is_err());
    assert!(judge(&check(Vec::new())).is_ok());
}
