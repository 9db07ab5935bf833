//! The shutter check against shutters whose truth is known.

use metrology::{Call, Estimate};
use photometry::TimeMark;
use timing::State;

use super::*;
use crate::tolerance::OF_TIMES;

fn mark(text: &str) -> TimeMark {
    TimeMark::parse(text, &[]).expect("a mark")
}

fn shot(text: &str, error_stops: f64, doubt_stops: f64) -> TakenShot {
    let mark = mark(text);
    let time = mark.exact().value() * libm::exp2(error_stops);
    let doubt = doubt_stops * time * core::f64::consts::LN_2;
    TakenShot {
        counts_for: CountsFor::Mark(mark),
        time: Some(Estimate::new(time, doubt, f64::INFINITY).expect("a time")),
        shared_s: 0.0,
        state: State::Measured,
        mark_sure: true,
        interval_s: None,
        taper: None,
        bounce_s: None,
    }
}

fn check(marks: &[&str], takes: Vec<Take>) -> Check {
    Check { marks: marks.iter().map(|text| mark(text)).collect(), tolerance: OF_TIMES.usual(), takes }
}

fn light(shots: Vec<TakenShot>) -> Take {
    Take { signal: Signal::Light, shots }
}

#[test]
fn a_true_shutter_is_within_and_its_doubt_has_named_parts() {
    let shots =
        ["1/2", "1/60", "1/500"].iter().flat_map(|text| [-0.02, 0.0, 0.02].map(|e| shot(text, e, 0.002))).collect();
    let judged = judge(&check(&["1/2", "1/60", "1/500"], vec![light(shots)])).expect("a judgement");
    assert_eq!(judged.call, Call::Within);
    assert_eq!(judged.headline, "three of three marked times within".replace("three of three", "3 of three"));
    let row = &judged.rows[0];
    assert!((row.error.expect("an error").value()).abs() < 1e-9);
    let u = row.error.expect("an error").standard_uncertainty();
    assert!((u - 0.02 / 3.0_f64.sqrt()).abs() < 0.002, "{u}");
    assert!(row.parts.iter().any(|part| part.name == "spread between shots"));
    assert_eq!(row.error.expect("an error").degrees_of_freedom().round(), 6.0);
}

#[test]
fn a_slow_escapement_is_named_and_outside() {
    let shots = [("1", 0.6), ("1/2", 0.7), ("1/4", 0.6), ("1/125", 0.0), ("1/250", 0.02)]
        .iter()
        .flat_map(|(text, e)| [e - 0.01, e + 0.01].map(|e| shot(text, e, 0.002)))
        .collect();
    let judged = judge(&check(&["1", "1/2", "1/4", "1/125", "1/250"], vec![light(shots)])).expect("a judgement");
    assert_eq!(judged.call, Call::Outside);
    assert_eq!(judged.outside().count(), 3);
    assert!(judged.pattern.starts_with("Slow times run long by about 0.6 stop"), "{}", judged.pattern);
    assert!(judged.causes[0].contains("escapement"));
}

#[test]
fn one_shot_each_carries_an_assumed_spread() {
    let judged = judge(&check(&["1/60"], vec![light(vec![shot("1/60", 0.0, 0.001)])])).expect("a judgement");
    assert!(judged.spread.is_none() && judged.notices[0].contains("0.05 stop was assumed"));
    assert!(judged.rows[0].error.expect("an error").standard_uncertainty() >= 0.05);
}

#[test]
fn what_is_only_indicated_is_never_judged() {
    let mut heard = shot("1/500", 0.0, 0.01);
    heard.state = State::Indicative;
    let judged =
        judge(&check(&["1/500"], vec![Take { signal: Signal::Sound, shots: vec![heard] }])).expect("a judgement");
    assert_eq!(judged.rows[0].call, Call::CannotTell);
    assert!(judged.settle.contains("photocell"), "{}", judged.settle);
}

#[test]
fn a_good_time_at_a_doubtful_mark_only_indicates() {
    let mut doubtful = shot("1/500", 1.1, 0.001);
    doubtful.mark_sure = false;
    let judged = judge(&check(&["1/500"], vec![light(vec![doubtful.clone(), doubtful.clone()])])).expect("a judgement");
    assert_eq!((judged.rows[0].state, judged.rows[0].call), (State::Indicative, Call::CannotTell));
    assert!(judged.rows[0].notices[0].contains("which one was set"), "{:?}", judged.rows[0].notices);
    doubtful.mark_sure = true;
    let judged = judge(&check(&["1/500"], vec![light(vec![doubtful.clone(), doubtful])])).expect("a judgement");
    assert_eq!(judged.rows[0].call, Call::Outside);
}

#[test]
fn light_counts_before_sound_and_a_missing_time_is_named() {
    let sound = Take { signal: Signal::Sound, shots: vec![shot("1/60", 0.3, 0.02), shot("1/60", 0.3, 0.02)] };
    let judged =
        judge(&check(&["1/30", "1/60"], vec![sound, light(vec![shot("1/60", 0.1, 0.001)])])).expect("a judgement");
    assert_eq!(judged.rows[0].signal, Signal::Light);
    assert_eq!(judged.missing.iter().map(TimeMark::text).collect::<Vec<_>>(), ["1/30"]);
    assert_eq!(judged.call, Call::CannotTell);
}

#[test]
fn one_slow_time_by_light_anchors_a_series_of_sounds() {
    let offset = 0.9e-3;
    let truth = |text: &str| mark(text).exact().value();
    let heard = |text: &str| {
        let mut shot = shot(text, 0.0, 0.01);
        shot.interval_s = Some(truth(text) - offset);
        shot.time = None;
        shot.state = State::CannotTell;
        shot
    };
    let sound =
        Take { signal: Signal::Sound, shots: vec![heard("1/30"), heard("1/30"), heard("1/250"), heard("1/250")] };
    let anchor = light(vec![shot("1/30", 0.0, 0.0001), shot("1/30", 0.0, 0.0001)]);
    let judged = judge(&check(&["1/30", "1/250"], vec![sound, anchor])).expect("a judgement");
    let fast = judged.rows.iter().find(|row| row.mark.text() == "1/250").expect("a row");
    assert_eq!((fast.state, fast.signal), (State::Probable, Signal::Sound));
    let error = fast.error.expect("an error");
    assert!(error.value().abs() < 1e-6 && error.standard_uncertainty() < 0.05, "{error:?}");
}

#[test]
fn more_shots_are_asked_for_where_they_help() {
    let shots = vec![shot("1/60", 0.25, 0.1), shot("1/60", 0.2, 0.1)];
    let judged = judge(&check(&["1/60"], vec![light(shots)])).expect("a judgement");
    assert_eq!(judged.call, Call::CannotTell);
    assert!(judged.settle.contains("more shot"), "{}", judged.settle);
}

#[test]
fn times_read_as_the_trade_says_them() {
    assert_eq!(say::time(1.0 / 310.2), "1/310 s");
    assert_eq!(say::time(0.52), "0.52 s");
    assert_eq!(say::time(0.125), "1/8.0 s");
}

/// Shutters with a spread of their own, measured with doubts of their own: about 95 % of the intervals hold the truth.
#[test]
fn the_stated_doubt_is_true() {
    let mut state = 0x9E37_79B9_7F4A_7C15_u64;
    let mut uniform = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1_u64 << 53) as f64
    };
    let mut normal = || (0..12).map(|_| uniform()).sum::<f64>() - 6.0;
    let (mut inside, mut all) = (0, 0);
    for _ in 0..300 {
        let truths: Vec<(&str, f64)> =
            ["1/4", "1/30", "1/125", "1/500"].iter().map(|text| (*text, 0.3 * normal())).collect();
        let shots = truths
            .iter()
            .flat_map(|(text, truth)| {
                (0..3).map(|_| shot(text, truth + 0.04 * normal() + 0.02 * normal(), 0.02)).collect::<Vec<_>>()
            })
            .collect();
        let judged = judge(&check(&["1/4", "1/30", "1/125", "1/500"], vec![light(shots)])).expect("a judgement");
        for row in &judged.rows {
            let truth = truths.iter().find(|(text, _)| *text == row.mark.text()).expect("a truth").1;
            let error = row.error.expect("an error");
            all += 1;
            inside += usize::from((error.value() - truth).abs() <= error.expanded_95());
        }
    }
    let share = inside as f64 / all as f64;
    assert!((0.92..=0.985).contains(&share), "{share}");
}
