//! Whole takes from small tables computed by hand: flags, refusals, slow motion, taper.
//!
//! Not here: truth over many simulated shots and the corpus, which are in the crate's `tests`.

use proptest::prelude::*;

use super::*;

const HZ: f64 = 240.0;

/// Light of 480 frames that look for `duty` of the interval: open from 0.2 s to 0.4 s, then the pulses (opening \[s\], length \[s\]).
fn light(duty: f64, pulses: &[(f64, f64)]) -> Vec<f64> {
    let look = duty / HZ;
    (0..480)
        .map(|k| {
            let from = f64::from(k) / HZ;
            let lit =
                |(open, length): &(f64, f64)| ((from + look).min(open + length) - from.max(*open)).max(0.0) / look;
            0.004 + 0.7 * core::iter::once(&(0.2, 0.2)).chain(pulses).map(lit).sum::<f64>()
        })
        .collect()
}

fn times(rate_hz: f64) -> Vec<f64> {
    (0..480).map(|k| f64::from(k) / rate_hz).collect()
}

fn one(values: Vec<f64>) -> Table {
    Table::new(times(HZ), vec![Strip { name: "middle".into(), values }]).expect("a table")
}

fn about(duty: f64) -> About {
    About { duty: Some(duty), curve_known: CurveKnown::Calibrated, ..About::default() }
}

#[test]
fn times_come_out_with_doubt_and_opening() {
    let take = measure(&one(light(0.98, &[(1.0, 1.0 / 60.0), (1.5, 1.0 / 250.0)])), &about(0.98)).expect("a take");
    assert!(take.notices.is_empty(), "{:?}", take.notices);
    assert_eq!(take.shots.len(), 3);
    for (shot, (open, length)) in take.shots.iter().zip([(0.2, 0.2), (1.0, 1.0 / 60.0), (1.5, 1.0 / 250.0)]) {
        let time = shot.time.expect("a time");
        assert!((time.value() - length).abs() <= 2.0 * time.standard_uncertainty(), "{time:?}");
        assert!((shot.start_s - open).abs() < 0.5 / HZ && shot.state == State::Measured);
        assert!(shot.systematic_s > 0.0 && shot.systematic_s < time.standard_uncertainty());
        assert_eq!((shot.places.len(), shot.places[0].position), (1, "middle"));
    }
    assert!((take.frame_interval_s.expect("an interval") * HZ - 1.0).abs() < 1e-9);
}

#[test]
fn without_an_open_frame_there_are_no_times() {
    let mut values = vec![0.004; 480];
    values[48..50].copy_from_slice(&[0.3, 0.5]);
    let take = measure(&one(values), &about(0.98)).expect("a take");
    assert!(take.has("no-open-frame") && take.shots.is_empty());
}

#[test]
fn what_is_not_known_is_said_and_widens_the_doubt() {
    let table = one(light(0.98, &[(1.0, 1.0 / 60.0), (1.5, 1.0 / 500.0)]));
    let known = measure(&table, &about(0.98)).expect("a take");
    let unknown = measure(&table, &About { curve_known: CurveKnown::Unknown, ..About::default() }).expect("a take");
    assert!(unknown.has("duty-unknown") && unknown.has("curve-assumed"));
    let doubt = |take: &Take, k: usize| take.shots[k].time.expect("a time").standard_uncertainty();
    assert!(doubt(&unknown, 1) > 2.0 * doubt(&known, 1));
    assert!(unknown.shots[2].time.is_none() && unknown.shots[2].has("too-fast-for-frames"));
    assert_eq!((unknown.shots[2].state, unknown.shots[2].candidates_s.len()), (State::CannotTell, 1));
}

#[test]
fn a_slow_motion_file_is_put_right() {
    let values = light(0.98, &[(1.0, 1.0 / 60.0)]);
    let table = Table::new(times(30.0), vec![Strip { name: "middle".into(), values }]).expect("a table");
    let take = measure(&table, &About { capture_rate_hz: Some(240.0), ..about(0.98) }).expect("a take");
    assert!(take.has("slow-motion-file"));
    assert!((take.shots[1].time.expect("a time").value() * 60.0 - 1.0).abs() < 0.02);
    assert!((take.shots[1].start_s - 8.0).abs() < 0.02, "the file's own time");
    let same = measure(&one(light(0.98, &[])), &About { capture_rate_hz: Some(239.9), ..about(0.98) }).expect("a take");
    assert!(!same.has("slow-motion-file"));
}

#[test]
fn a_frame_missing_at_an_edge_refuses_short_times_only() {
    let values = light(0.98, &[(1.0, 1.0 / 30.0), (1.498, 1.0 / 250.0)]);
    let gone = [240_usize, 360];
    let keep = |k: &usize| !gone.contains(k);
    let table = Table::new(
        (0..480).filter(keep).map(|k| k as f64 / HZ).collect(),
        vec![Strip { name: "middle".into(), values: (0..480).filter(keep).map(|k| values[k]).collect() }],
    )
    .expect("a table");
    let take = measure(&table, &about(0.98)).expect("a take");
    assert!(take.has("dropped-frames") && take.shots[1].has("dropped-frames"));
    let slow = take.shots[1].time.expect("a time");
    assert!(
        slow.standard_uncertainty() > 0.29 / HZ
            && (slow.value() - 1.0 / 30.0).abs() < 2.0 * slow.standard_uncertainty()
    );
    assert!(take.shots[2].time.is_none());
}

#[test]
fn clipped_white_an_unsteady_lamp_and_a_cut_off_clip_are_seen() {
    let bright: Vec<f64> = light(0.98, &[(1.0, 0.1)]).iter().map(|v| (v * 1.6).min(1.0)).collect();
    assert!(measure(&one(bright), &about(0.98)).expect("a take").has("white-clipped"));
    let counted = one(light(0.98, &[(1.0, 0.1)])).with_clipped_share(vec![0.3; 480]).expect("a table");
    assert!(measure(&counted, &about(0.98)).expect("a take").has("white-clipped"));
    let waving: Vec<f64> = light(0.98, &[(1.0, 0.1)])
        .iter()
        .enumerate()
        .map(|(k, v)| v * (1.0 + 0.08 * ((k % 24) as f64 / 12.0 - 1.0)))
        .collect();
    assert!(measure(&one(waving), &about(0.98)).expect("a take").has("lamp-or-exposure-not-steady"));
    let cut = measure(&one(light(0.98, &[(1.9, 0.5)])), &about(0.98)).expect("a take");
    assert!(cut.shots[1].has("cut-off") && cut.shots[1].time.is_none());
}

#[test]
fn uneven_curtains_are_told_and_even_ones_are_not() {
    let strip = |name: &str, length: f64| Strip { name: name.into(), values: light(0.98, &[(1.0, length)]) };
    let take = |right: f64| {
        let strips = vec![strip("left", 0.004), strip("middle", 0.0042), strip("right", right)];
        measure(&Table::new(times(HZ), strips).expect("a table"), &about(0.98)).expect("a take")
    };
    assert!(!take(0.00405).shots[1].has("taper"));
    let uneven = take(0.0052);
    assert!(uneven.shots[1].has("taper") && uneven.shots[1].places.len() == 3);
    assert!((uneven.shots[1].time.expect("a time").value() - 0.0042).abs() < 3e-4, "the middle one");
}

#[test]
fn a_tone_exponent_is_applied_once() {
    let bent: Vec<f64> = light(0.98, &[(1.0, 0.002)]).iter().map(|v| libm::pow(*v, 0.8)).collect();
    let exponent = Estimate::new(1.25, 0.03, f64::INFINITY).expect("an estimate");
    let with = About { exponent: Some(exponent), ..about(0.98) };
    let time =
        |table: &Table, about: &About| measure(table, about).expect("a take").shots[1].time.expect("a time").value();
    let straight = time(&one(light(0.98, &[(1.0, 0.002)])), &about(0.98));
    assert!((time(&one(bent.clone()), &with) - straight).abs() < 1e-9);
    assert!(time(&one(bent), &about(0.98)) > 1.05 * straight);
    let done = one(light(0.98, &[(1.0, 0.002)])).with_exponent(1.25).expect("a table");
    assert!((time(&done, &with) - straight).abs() < 1e-12);
}

#[test]
fn what_is_out_of_range_is_refused() {
    let table = one(light(0.98, &[]));
    for about in [
        about(0.0),
        about(1.2),
        about(f64::NAN),
        About { capture_rate_hz: Some(0.5), ..About::default() },
        About { capture_rate_hz: Some(f64::NAN), ..About::default() },
        About { clock_step_s: Some(-1.0), ..About::default() },
        About { exponent: Estimate::new(5.0, 0.1, 9.0).ok(), ..About::default() },
    ] {
        assert!(measure(&table, &about).is_err(), "{about:?}");
    }
    let slow =
        Table::new(times(0.1), vec![Strip { name: "middle".into(), values: light(0.98, &[]) }]).expect("a table");
    assert!(measure(&slow, &About::default()).is_err());
}

#[test]
fn a_strip_beside_the_window_is_told_and_the_others_are_measured() {
    let strip = |name: &str, values: Vec<f64>| Strip { name: name.into(), values };
    let lit = light(0.98, &[(1.0, 1.0 / 60.0)]);
    let strips = vec![strip("left", vec![0.004; 480]), strip("middle", lit.clone()), strip("right", lit.clone())];
    let take = measure(&Table::new(times(HZ), strips).expect("a table"), &about(0.98)).expect("a take");
    assert!(take.has("strip-not-lit") && take.shots[1].time.is_some() && take.shots[1].places.len() == 2);
    let strips = vec![strip("left", lit.clone()), strip("middle", vec![0.004; 480]), strip("right", lit)];
    let take = measure(&Table::new(times(HZ), strips).expect("a table"), &about(0.98)).expect("a take");
    assert!(take.has("no-open-frame") && take.shots.is_empty());
}

proptest! {
    #[test]
    fn whatever_the_frames_hold_nothing_traps_and_every_number_is_one(
        // Blocks of frames: a level, how many, and their interval.
        blocks in prop::collection::vec(
            (
                prop_oneof![3 => Just(0.004), 3 => Just(0.7), 1 => -0.1..1.5],
                1..12_usize,
                prop_oneof![8 => Just(1.0 / HZ), 1 => 1e-4..0.5, 1 => Just(1e-9), 1 => Just(1e9)],
            ),
            4..30,
        ),
        duty in prop::option::of(0.001..1.0),
        capture_rate_hz in prop::option::of(5.0..1e5),
    ) {
        let frames = blocks.iter().flat_map(|(value, count, step)| core::iter::repeat_n((*value, *step), *count));
        let (values, steps): (Vec<f64>, Vec<f64>) = frames.unzip();
        let times: Vec<f64> = steps.iter().scan(0.0, |at, step| { *at += step; Some(*at) }).collect();
        let Ok(table) = Table::new(times, vec![Strip { name: "middle".into(), values }]) else { return Ok(()) };
        let about = About { duty, capture_rate_hz, ..About::default() };
        if let Ok(take) = measure(&table, &about) {
            for shot in take.shots {
                prop_assert!(shot.start_s.is_finite() && shot.systematic_s.is_finite());
                prop_assert!(shot.events_s.iter().chain(&shot.candidates_s).all(|time| time.is_finite()));
                prop_assert_eq!(shot.time.is_some(), shot.state == State::Measured);
                prop_assert!(shot.time.is_none_or(|time| time.value() > 0.0));
            }
        }
    }
}
