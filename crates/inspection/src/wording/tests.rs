//! The words claim nothing that nobody looked at or measured.
//!
//! Not here: how they read, which the golden files of the tests show.

use proptest::prelude::*;

use super::*;
use crate::camera::{Camera, Kind};
use crate::catalogue::points_of;
use crate::finding::Finding;
use crate::whole::examine;

fn texts(inspection: &Inspection) -> Wording {
    compose(inspection, &examine(inspection).expect("an outcome"))
}

/// A camera of this kind whose points have these conditions, in turn.
fn camera(kind: Kind, conditions: &[usize]) -> Inspection {
    let mut inspection = Inspection::of(Camera::of_kind(kind));
    inspection.findings = points_of(&inspection.camera)
        .zip(conditions.iter().cycle())
        .map(|(point, condition)| Finding { point, condition: Condition::ALL[condition % 6], note: String::new() })
        .collect();
    inspection
}

/// What is said of a point by its name: the sentences that hold it, other than those of longer names that hold this one.
fn about<'s>(said: &'s [Said], inspection: &Inspection, name: &str) -> Vec<&'s Said> {
    let longer: Vec<&str> = points_of(&inspection.camera)
        .map(|point| point.name)
        .filter(|other| *other != name && other.contains(name))
        .collect();
    said.iter()
        .filter(|one| {
            let mut text = one.text.to_lowercase();
            for other in &longer {
                text = text.replace(&other.to_lowercase(), "");
            }
            text.contains(&name.to_lowercase())
        })
        .collect()
}

proptest! {
    #[test]
    fn a_point_that_nobody_looked_at_is_only_ever_said_to_be_unchecked(
        kind in 0_usize..6,
        conditions in proptest::collection::vec(0_usize..6, 1..40),
    ) {
        let inspection = camera(Kind::ALL[kind], &conditions);
        let wording = texts(&inspection);
        for point in points_of(&inspection.camera) {
            let checked = inspection.condition(point) != Condition::NotChecked;
            for one in &wording.said {
                let rests = one.evidence.iter().any(|evidence| matches!(evidence, Evidence::Point(key, _) if *key == point.key));
                if rests && !checked {
                    prop_assert!(
                        one.text.contains("Not checked") || one.text.starts_with("Outcome of the check"),
                        "{}: {}", point.key, one.text
                    );
                }
                if (one.text.contains("Looked at and in order") || one.text.contains("Looked for and not found")) && rests {
                    prop_assert_eq!(inspection.condition(point), Condition::Sound);
                }
            }
            if !checked && point.key != "dust" {
                for one in about(&wording.said, &inspection, point.name) {
                    prop_assert!(!one.text.contains("in order") && !one.text.contains("not found"), "{}: {}", point.key, one.text);
                }
            }
        }
        // Nothing was measured, and nothing is said to be.
        for text in [&wording.line, &wording.paragraph, &wording.full] {
            prop_assert!(!text.contains("within its tolerance") && !text.contains("marked times within"), "{}", text);
        }
    }

    #[test]
    fn every_sentence_but_who_it_is_rests_on_something(conditions in proptest::collection::vec(0_usize..6, 1..40)) {
        let wording = texts(&camera(Kind::Rangefinder, &conditions));
        let bare = wording.said.iter().filter(|one| one.evidence.is_empty()).count();
        // The name, the closing sentence on doubts, and, where all was looked at, the count.
        prop_assert!(bare <= 4, "{:?}", wording.said);
        prop_assert_eq!(joined(&wording.said), wording.full);
    }
}

#[test]
fn times_judged_by_ear_are_said_to_be_heard() {
    let wording = texts(&camera(Kind::SingleLensReflex, &[0]));
    assert!(wording.full.contains("sound right by ear, which is no measurement"), "{}", wording.full);
    assert!(wording.full.contains("Marked times, measured") || wording.full.contains("marked times, measured"));
}

#[test]
fn the_service_note_says_what_to_mend_and_how_it_was_found() {
    let mut inspection = camera(Kind::SingleLensReflex, &[0]);
    let finding = inspection.findings.iter_mut().find(|finding| finding.point.key == "hinge-seal").expect("a seal");
    finding.condition = Condition::Failed;
    finding.note = "left a black line".to_owned();
    let note = texts(&inspection).service;
    assert!(note.contains("- Hinge seal: ") && note.contains("Found failed: “left a black line”"), "{note}");
    let whole = texts(&camera(Kind::SingleLensReflex, &[0])).service;
    assert!(whole.contains("Nothing was found that wants mending"), "{whole}");
}

/// A meter that is true in the light and falls off in the dark is never said to have no error and nothing more.
#[test]
fn a_fall_off_is_said_in_every_length() {
    let mut inspection = camera(Kind::Rangefinder, &[0]);
    let levels = [2.4, 1.2, 0.0, 0.0, 0.0, 0.0, 0.0].iter().enumerate().map(|(i, error)| {
        let light = 6.0 + 2.0 * i as f64;
        crate::meter::Level {
            reference: photometry::Ev::new(light).expect("an EV"),
            each_doubt: photometry::Stops::new(0.05).expect("stops"),
            source: 0,
            readings: vec![crate::meter::Reading {
                ev100: photometry::Ev::new(light + error).expect("an EV"),
                step: photometry::Stops::new(0.1).expect("stops"),
                words: String::new(),
            }],
        }
    });
    let run = crate::meter::Run {
        levels: levels.collect(),
        shared_doubts: vec![photometry::Stops::new(0.05).expect("stops")],
        tolerance: photometry::Stops::new(0.5).expect("stops"),
        film_speed: None,
        dial: None,
    };
    inspection.meter = Some(crate::whole::ReferencedRun { references: Vec::new(), run });
    let wording = texts(&inspection);
    for text in [&wording.line, &wording.paragraph] {
        assert!(text.contains("above EV 9.") || text.contains("above EV 10."), "{text}");
        assert!(text.contains("an error that grows below"), "{text}");
    }
    assert!(wording.full.contains("fall-off"), "{}", wording.full);
}
