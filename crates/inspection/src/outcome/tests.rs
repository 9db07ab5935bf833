//! One test per rule of the outcome, in the order of the rules.

use super::*;
use crate::camera::{Camera, Kind, MeterShows};
use crate::catalogue::Point;
use crate::catalogue::{Costs, points_of};
use crate::finding::{Condition, Finding};
use crate::meter::{Level, Reading, Run};
use crate::shutter::{Check, CountsFor, Signal, Take, TakenShot};
use crate::tolerance::OF_TIMES;
use crate::whole::{ReferencedRun, examine};
use metrology::Estimate;
use photometry::{Ev, FilmSpeedMark, Stops, TimeMark};

fn stops(value: f64) -> Stops {
    Stops::new(value).expect("stops")
}

fn sound() -> Inspection {
    let mut inspection = Inspection::of(Camera::of_kind(Kind::SingleLensReflex));
    inspection.camera.meter_shows = Some(MeterShows::Nothing);
    inspection.findings = points_of(&inspection.camera)
        .map(|point| Finding { point, condition: Condition::Sound, note: String::new() })
        .collect();
    inspection.shutter = Some(times(&[("1/60", 0.0), ("1/125", 0.02), ("1/250", -0.02)]));
    inspection
}

/// Three shots of each marked time by light, off by so many stops.
fn times(errors: &[(&str, f64)]) -> Check {
    let mark = |text: &str| TimeMark::parse(text, &[]).expect("a mark");
    let shots = errors
        .iter()
        .flat_map(|(text, error)| {
            let time = mark(text).exact().value() * libm::exp2(*error);
            (0..3).map(move |i| TakenShot {
                counts_for: CountsFor::Mark(mark(text)),
                time: Estimate::new(time * (1.0 + 0.001 * f64::from(i)), 0.001 * time, f64::INFINITY).ok(),
                shared_s: 0.0,
                state: timing::State::Measured,
                mark_sure: true,
                interval_s: None,
                taper: None,
                bounce_s: None,
            })
        })
        .collect();
    Check {
        marks: errors.iter().map(|(text, _)| mark(text)).collect(),
        tolerance: OF_TIMES.usual(),
        takes: vec![Take { signal: Signal::Light, shots }],
    }
}

#[test]
fn marked_times_that_nobody_measured_leave_it_open() {
    let mut inspection = sound();
    inspection.shutter = None;
    let open = outcome(&inspection);
    assert_eq!(open.word, Word::NotYetKnown);
    assert!(open.unchecked.iter().any(|unchecked| unchecked.evidence == Evidence::Shutter && unchecked.matters));
    inspection.camera.stepless = true;
    assert_eq!(outcome(&inspection).word, Word::Ready, "it has no marks");
}

#[test]
fn one_time_that_is_off_is_a_limit_and_most_of_them_want_service() {
    let mut inspection = sound();
    inspection.shutter = Some(times(&[("1/60", 0.0), ("1/125", 0.0), ("1/250", 0.0), ("1/500", 0.9)]));
    let limited = outcome(&inspection);
    assert_eq!(limited.word, Word::ReadyWithLimits);
    assert!(limited.limits[0].text.contains("1/500 gives 0.9 stop over"), "{}", limited.limits[0].text);
    inspection.shutter = Some(times(&[("1/60", 0.8), ("1/125", 0.9), ("1/250", 0.0)]));
    assert_eq!(outcome(&inspection).word, Word::WantsService);
}

fn set(inspection: &mut Inspection, costs: Costs, avoidable: bool, condition: Condition) -> &'static Point {
    let finding = inspection
        .findings
        .iter_mut()
        .find(|finding| finding.point.costs == costs && finding.point.avoid.is_empty() != avoidable)
        .expect("such a point");
    finding.condition = condition;
    finding.point
}

fn run(errors: &[f64], each: f64, shared: f64) -> Run {
    Run {
        levels: errors
            .iter()
            .enumerate()
            .map(|(i, error)| {
                let light = 6.0 + 2.0 * i as f64;
                Level {
                    reference: Ev::new(light).expect("ev"),
                    each_doubt: stops(each),
                    source: 0,
                    readings: vec![Reading {
                        ev100: Ev::new(light + error).expect("ev"),
                        step: stops(1.0 / 6.0),
                        words: String::new(),
                    }],
                }
            })
            .collect(),
        shared_doubts: vec![stops(shared)],
        tolerance: stops(0.5),
        film_speed: FilmSpeedMark::parse("400", &[]).ok(),
        dial: None,
    }
}

fn outcome(inspection: &Inspection) -> Outcome {
    examine(inspection).expect("an outcome").outcome
}

fn with_meter(mut inspection: Inspection, run: &Run) -> Outcome {
    inspection.camera.meter_shows = Some(MeterShows::Needle);
    inspection.findings = points_of(&inspection.camera)
        .map(|point| Finding { point, condition: Condition::Sound, note: String::new() })
        .collect();
    inspection.meter = Some(ReferencedRun { references: Vec::new(), run: run.clone() });
    outcome(&inspection)
}

#[test]
fn for_parts_is_only_ever_the_persons_own_decision() {
    let mut inspection = sound();
    inspection.costs.value = Some(40.0);
    inspection.costs.mending = Some(90.0);
    let offered = outcome(&inspection);
    assert!(offered.for_parts_offered && offered.word == Word::Ready);
    assert_eq!(inspection.costs.sentence(), "Mending costs 90 and it is worth 40 when sound: 50 too much.");
    inspection.costs.for_parts = true;
    assert_eq!(outcome(&inspection).word, Word::ForParts);
    inspection.costs.mending = Some(10.0);
    assert_eq!(outcome(&inspection).word, Word::Ready, "not where the costs do not exceed the value");
    inspection.costs.currency = "EUR".to_owned();
    assert_eq!(inspection.costs.sentence(), "Worth 40 EUR when sound, less 10 EUR for mending: 30 EUR left.");
    inspection.costs.value = None;
    assert_eq!(inspection.costs.sentence(), "");
}

#[test]
fn what_spoils_film_exposure_or_sharpness_wants_service() {
    for costs in [Costs::Film, Costs::Exposure, Costs::Sharpness] {
        for condition in [Condition::Faulty, Condition::Failed] {
            let mut inspection = sound();
            let point = set(&mut inspection, costs, false, condition);
            let outcome = outcome(&inspection);
            assert_eq!(outcome.word, Word::WantsService, "{costs:?}");
            assert_eq!(outcome.reasons[0].evidence, Evidence::Point(point.key, point.area));
            assert!(outcome.remedies.iter().any(|remedy| remedy.text.contains(point.remedy)));
        }
    }
}

#[test]
fn a_fault_is_known_even_where_the_rest_is_not() {
    let mut inspection = sound();
    set(&mut inspection, Costs::Film, false, Condition::Failed);
    inspection.findings.retain(|finding| finding.condition == Condition::Failed);
    let outcome = outcome(&inspection);
    assert_eq!(outcome.word, Word::WantsService);
    assert!(!outcome.unchecked.is_empty(), "what was not checked is never hidden");
}

#[test]
fn a_meter_outside_that_no_dial_setting_mends_wants_service() {
    let falling = with_meter(sound(), &run(&[2.4, 1.2, 0.0, 0.0, 0.0, 0.0, 0.0], 0.05, 0.05));
    assert_eq!(falling.word, Word::WantsService, "{falling:?}");
    assert_eq!(falling.reasons[0].evidence, Evidence::Meter);
}

#[test]
fn what_matters_and_is_unchecked_is_not_yet_known_the_cheapest_first() {
    let mut inspection = sound();
    for costs in [Costs::Film, Costs::Exposure, Costs::Looks] {
        set(&mut inspection, costs, false, Condition::NotChecked);
    }
    let outcome = outcome(&inspection);
    assert_eq!(outcome.word, Word::NotYetKnown);
    assert_eq!(outcome.unchecked.len(), 3);
    assert!(outcome.unchecked[0].matters && outcome.unchecked[1].matters && !outcome.unchecked[2].matters);
    assert!(outcome.unchecked[0].seconds <= outcome.unchecked[1].seconds);
    assert_eq!(outcome.reasons.len(), 2);
}

#[test]
fn an_unmeasured_meter_is_not_yet_known() {
    let mut inspection = sound();
    inspection.camera.meter_shows = None;
    inspection.findings = points_of(&inspection.camera)
        .map(|point| Finding { point, condition: Condition::Sound, note: String::new() })
        .collect();
    let outcome = outcome(&inspection);
    assert_eq!(outcome.word, Word::NotYetKnown);
    assert_eq!(outcome.unchecked[0].evidence, Evidence::Meter);
}

#[test]
fn a_call_that_cannot_be_made_is_not_yet_known() {
    let open = with_meter(sound(), &run(&[0.4, 0.4, 0.4], 0.1, 0.4));
    assert_eq!(open.word, Word::NotYetKnown);
    assert!(open.reasons[0].text.contains("cannot be told"), "{:?}", open.reasons);
}

#[test]
fn what_can_be_allowed_for_is_a_limit() {
    let mut inspection = sound();
    let point = set(&mut inspection, Costs::Handling, true, Condition::Faulty);
    let handled = outcome(&inspection);
    assert_eq!(handled.word, Word::ReadyWithLimits);
    assert!(handled.limits[0].text.contains(point.avoid));

    let metered = with_meter(sound(), &run(&[-0.72, -0.7, -0.7, -0.68, -0.7], 0.05, 0.05));
    assert_eq!(metered.word, Word::ReadyWithLimits, "{metered:?}");
    assert!(metered.limits[0].text.contains("640"), "{:?}", metered.limits);
}

#[test]
fn everything_checked_and_within_is_ready() {
    let mut inspection = sound();
    set(&mut inspection, Costs::Looks, false, Condition::Failed);
    set(&mut inspection, Costs::Film, false, Condition::Worn);
    let plain = outcome(&inspection);
    assert_eq!(plain.word, Word::Ready);
    assert_eq!(plain.remarks.len(), 3, "looks and wear are said, and change nothing");

    let metered = with_meter(sound(), &run(&[0.0, 0.1, -0.1, 0.0, 0.05], 0.05, 0.05));
    assert_eq!(metered.word, Word::Ready, "{metered:?}");
    assert!(metered.next.is_none() && metered.settle.is_empty());
}

#[test]
fn the_quickest_check_that_could_change_it_is_named_and_what_would_settle_it() {
    let mut inspection = sound();
    set(&mut inspection, Costs::Film, false, Condition::NotChecked);
    inspection.shutter = None;
    let open = outcome(&inspection);
    let next = open.next.expect("something is left");
    assert!(
        next.matters && open.unchecked.iter().filter(|other| other.matters).all(|other| other.seconds >= next.seconds)
    );
    assert!(
        open.settle.contains("would settle it") && open.settle.contains("marked times, measured"),
        "{}",
        open.settle
    );
    // What must be mended already is not changed by looking on.
    set(&mut inspection, Costs::Sharpness, false, Condition::Failed);
    let bad = outcome(&inspection);
    assert_eq!((bad.word, bad.next, bad.settle.as_str()), (Word::WantsService, None, ""));
}

#[test]
fn errors_that_are_within_one_by_one_may_add_up_to_more_than_reversal_film_forgives() {
    let mut inspection = sound();
    inspection.camera.meter_shows = Some(MeterShows::Setting);
    // Each is within its own tolerance; together film gets about 0.75 stop over.
    inspection.shutter = Some(times(&[("1/60", 0.25), ("1/125", 0.25), ("1/250", 0.25)]));
    let judged = with_meter(inspection, &run(&[-0.36, -0.36, -0.36, -0.36, -0.36], 0.02, 0.02));
    assert_eq!(judged.word, Word::ReadyWithLimits, "{judged:?}");
    assert_eq!((judged.limits.len(), judged.limits[0].evidence), (1, Evidence::Film));
    assert!(judged.limits[0].text.contains("Reversal: give 1/3 stop less"), "{}", judged.limits[0].text);
}
