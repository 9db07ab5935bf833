//! The meter check against hand-computed cases and properties that must hold for any run.

use super::*;
use proptest::prelude::*;

fn stops(value: f64) -> Stops {
    Stops::new(value).expect("stops")
}

fn level(light: f64, error: f64, each: f64, step: f64) -> Level {
    let reading =
        Reading { ev100: Ev::new(light + error).expect("ev"), step: stops(step), words: "1/60 · f/4".into() };
    Level { reference: Ev::new(light).expect("ev"), each_doubt: stops(each), source: 0, readings: vec![reading] }
}

fn run(levels: Vec<Level>, shared: f64) -> Run {
    Run {
        levels,
        shared_doubts: vec![stops(shared)],
        tolerance: stops(0.5),
        film_speed: FilmSpeedMark::parse("400", &[]).ok(),
        dial: None,
    }
}

fn even(errors: &[f64], shared: f64) -> Run {
    run(errors.iter().enumerate().map(|(i, &e)| level(6.0 + 2.0 * (i % 9) as f64, e, 0.1, 1.0 / 3.0)).collect(), shared)
}

#[test]
fn nothing_gives_no_outcome_and_says_what_is_missing() {
    let error = judge(&run(Vec::new(), 0.1)).expect_err("no level");
    assert!(error.to_string().contains("no level yet"), "{error}");
    let mut unread = even(&[0.1], 0.1);
    unread.levels[0].readings.clear();
    assert!(judge(&unread).expect_err("no reading").to_string().contains("no reading"));
}

#[test]
fn one_level_has_an_offset_with_all_three_doubts() {
    let judgement = judge(&run(vec![level(10.0, -0.7, 0.1, 0.5)], 0.2)).expect("an outcome");
    let expected = (0.01 + 0.25 / 12.0 + 0.04_f64).sqrt();
    assert!((judgement.offset.value() + 0.7).abs() < 1e-12);
    assert!((judgement.offset.standard_uncertainty() - expected).abs() < 1e-12);
    assert!(judgement.slope.is_none() && judgement.notices[0].contains("One level"));
}

#[test]
fn the_shared_doubt_does_not_average_away() {
    let few = judge(&even(&[0.0; 5], 0.3)).expect("an outcome");
    let many = judge(&even(&[0.0; 20], 0.3)).expect("an outcome");
    assert!(few.offset.standard_uncertainty() > 0.3 && many.offset.standard_uncertainty() > 0.3);
    let none = judge(&even(&[0.0; 5], 0.0)).expect("an outcome");
    let together = (none.offset.standard_uncertainty() * none.offset.standard_uncertainty() + 0.09).sqrt();
    assert!((few.offset.standard_uncertainty() - together).abs() < 1e-12);
}

#[test]
fn an_even_error_gets_a_dial_setting() {
    let judgement = judge(&even(&[-0.62, -0.74, -0.69, -0.77, -0.66], 0.05)).expect("an outcome");
    assert_eq!(judgement.call, Call::Outside);
    assert_eq!(judgement.headline(), "0.7 stop over");
    let DialAdvice::Set(setting) = &judgement.remedy else { panic!("{:?}", judgement.remedy) };
    assert_eq!(setting.dial, "640");
    assert!(setting.residual_stops.abs() < 0.05 && setting.left.iter().all(|left| left.value().abs() < 0.15));
    assert!(judgement.pattern.contains("reads low by the same amount from EV 6.0 to EV 14.0"), "{}", judgement.pattern);
}

#[test]
fn reading_high_goes_to_a_lower_film_speed() {
    let judgement = judge(&even(&[0.67; 5], 0.02)).expect("an outcome");
    let DialAdvice::Set(setting) = &judgement.remedy else { panic!("{:?}", judgement.remedy) };
    assert_eq!(setting.dial, "250");
}

#[test]
fn a_setting_that_the_dial_does_not_have_is_refused() {
    let mut low = even(&[-0.7; 5], 0.02);
    low.dial = FilmSpeedMark::parse("25", &[]).ok().zip(FilmSpeedMark::parse("400", &[]).ok());
    let judgement = judge(&low).expect("an outcome");
    let DialAdvice::None(why) = &judgement.remedy else { panic!("a setting") };
    assert!(why.contains("640") && why.contains("25 to 400"), "{why}");
    assert_eq!(judgement.call, Call::Outside);
}

#[test]
fn a_slope_is_reported_only_beyond_its_doubt() {
    let sloping = judge(&even(&[-0.8, -0.4, 0.0, 0.4, 0.8], 0.1)).expect("an outcome");
    assert!(sloping.slope_reported && (sloping.slope.expect("a slope").value() - 0.2).abs() < 1e-9);
    assert!(matches!(&sloping.remedy, DialAdvice::None(_)));
    let flat = judge(&even(&[0.02, -0.03, 0.01, 0.0, 0.03], 0.1)).expect("an outcome");
    assert!(!flat.slope_reported);
}

#[test]
fn a_fall_off_needs_five_levels_and_names_its_place() {
    let errors = [1.5, 1.0, 0.5, 0.0, 0.05, -0.03, 0.0, 0.02, -0.04];
    let levels = errors.iter().enumerate().map(|(i, &e)| level(3.0 + i as f64, e, 0.03, 0.1)).collect();
    let judgement = judge(&run(levels, 0.05)).expect("an outcome");
    let begins = judgement.fall_off_below.expect("a fall-off").value();
    assert!((begins - 6.0).abs() < 0.3, "{begins}");
    assert!(judgement.offset.value().abs() < 0.1, "the offset is that of the plateau");
    assert!(matches!(&judgement.remedy, DialAdvice::None(_)));
    let four = judge(&even(&[1.5, 0.5, 0.0, 0.0], 0.05)).expect("an outcome");
    assert!(four.fall_off_below.is_none());
}

#[test]
fn scatter_widens_the_independent_part_and_never_the_shared() {
    let wild = [0.9, -0.8, 0.7, -0.9, 0.8, -0.7];
    let judgement = judge(&even(&wild, 0.2)).expect("an outcome");
    assert!(judgement.birge_ratio > 2.0);
    assert!(judgement.notices.iter().any(|notice| notice.contains("scatter")), "{:?}", judgement.notices);
    let alone = judge(&even(&wild, 0.0)).expect("an outcome").offset.standard_uncertainty();
    let both = judgement.offset.standard_uncertainty();
    assert!((both * both - alone * alone - 0.04).abs() < 1e-9);
}

#[test]
fn what_would_settle_it_settles_it() {
    let open = judge(&even(&[0.4; 3], 0.02)).expect("an outcome");
    assert_eq!(open.call, Call::CannotTell);
    assert!(open.settle.contains("like these would settle it"), "{}", open.settle);
    let more =
        (4..40).find(|&n| judge(&even(&vec![0.4; n], 0.02)).expect("an outcome").call == Call::Within).expect("enough")
            - 3;
    assert!(
        open.settle.to_lowercase().starts_with(&crate::words::count(more, "more reading", "more readings")),
        "{more}: {}",
        open.settle
    );

    let shared = judge(&even(&[0.2; 5], 0.4)).expect("an outcome");
    assert!(shared.settle.contains("shared doubt"), "{}", shared.settle);
    let limit = judge(&even(&[0.5; 5], 0.4)).expect("an outcome");
    assert!(limit.settle.contains("limit of the tolerance itself"), "{}", limit.settle);
}

#[test]
fn levels_that_are_alike_tell_no_slope() {
    let levels = vec![level(10.0, 0.1, 0.1, 0.3), level(10.0, 0.2, 0.1, 0.3), level(10.0, 0.15, 0.1, 0.3)];
    let judgement = judge(&run(levels, 0.1)).expect("an outcome");
    assert!(judgement.slope.is_none() && judgement.notices[0].contains("alike"));
}

#[test]
fn repeats_of_one_level_bring_their_scatter() {
    let mut repeated = even(&[0.0, 0.0, 0.0], 0.0);
    for error in [-0.3, 0.3] {
        let again = Reading { ev100: Ev::new(6.0 + error).expect("ev"), step: stops(1.0 / 3.0), words: "again".into() };
        repeated.levels[0].readings.push(again);
    }
    let judgement = judge(&repeated).expect("an outcome");
    let plain = judge(&even(&[0.0; 3], 0.0)).expect("an outcome");
    assert!(judgement.levels[1].error.standard_uncertainty() > plain.levels[1].error.standard_uncertainty() + 0.1);
    assert!(judgement.levels[0].reading_words.contains("read 3 times"));
}

proptest! {
    #[test]
    fn raising_every_reading_moves_the_offset_by_as_much(
        errors in prop::collection::vec(-1.5..1.5_f64, 1..12), raise in -2.0..2.0_f64, shared in 0.0..0.5_f64,
    ) {
        let plain = judge(&even(&errors, shared)).unwrap();
        let raised = judge(&even(&errors.iter().map(|e| e + raise).collect::<Vec<_>>(), shared)).unwrap();
        prop_assert!((raised.offset.value() - plain.offset.value() - raise).abs() < 1e-9);
        prop_assert!((raised.offset.standard_uncertainty() - plain.offset.standard_uncertainty()).abs() < 1e-9);
    }

    #[test]
    fn the_shared_doubt_never_changes_the_slope(
        errors in prop::collection::vec(-1.5..1.5_f64, 3..12), shared in 0.01..1.0_f64,
    ) {
        let with = judge(&even(&errors, shared)).unwrap().slope.unwrap();
        let without = judge(&even(&errors, 0.0)).unwrap().slope.unwrap();
        prop_assert!((with.value() - without.value()).abs() < 1e-9);
        prop_assert!((with.standard_uncertainty() - without.standard_uncertainty()).abs() < 1e-9);
    }

    #[test]
    fn more_levels_never_make_the_offset_less_sure_but_by_scatter(
        error in -1.0..1.0_f64, n in 1..10_usize, shared in 0.0..0.5_f64,
    ) {
        let fewer = judge(&even(&vec![error; n], shared)).unwrap();
        let more = judge(&even(&vec![error; n + 1], shared)).unwrap();
        prop_assert!(more.offset.standard_uncertainty() <= fewer.offset.standard_uncertainty() + 1e-12);
    }

    #[test]
    fn no_run_makes_a_panic(
        lights in prop::collection::vec((-10.0..25.0_f64, -9.0..9.0_f64, 0.0..3.0_f64, 0.0..2.0_f64), 0..9),
        shared in 0.0..3.0_f64, tolerance in -1.0..3.0_f64,
    ) {
        let levels = lights.into_iter().map(|(light, error, each, step)| level(light, error, each, step)).collect();
        let mut any = run(levels, shared);
        any.tolerance = stops(tolerance);
        if let Ok(judgement) = judge(&any) {
            prop_assert!(judgement.conformity.is_finite() && judgement.offset.value().is_finite());
            prop_assert!(judgement.levels.iter().all(|level| (0.0..=1.0).contains(&level.conformity)));
        }
    }
}

#[test]
fn two_references_in_one_run_keep_their_own_shared_doubts() {
    // By the second of them everything reads half a stop off, as its shared doubt allows.
    let levels = || {
        [(6.0, 0.0), (8.0, 0.0), (10.0, 0.5), (12.0, 0.5)].map(|(light, error)| level(light, error, 0.05, 0.1)).to_vec()
    };
    let mut mixed = run(levels(), 0.1);
    mixed.shared_doubts = vec![stops(0.1), stops(0.5)];
    mixed.levels[2].source = 1;
    mixed.levels[3].source = 1;
    let judged = judge(&mixed).expect("judged");
    // The better reference counts for more, and the step between the two is no slope and no scatter.
    assert!(judged.offset.value() < 0.25 && judged.offset.value() > 0.0, "{:?}", judged.offset);
    assert!(!judged.slope_reported && judged.birge_ratio < 1.0);
    let alone = judge(&run(levels(), 0.1)).expect("judged");
    // Held against one reference it would be scatter or a slope.
    let slope = |judged: &Judgement| judged.slope.expect("a slope").value();
    assert!(alone.birge_ratio > 1.0 && slope(&judged) < slope(&alone), "{} {}", slope(&judged), slope(&alone));
    mixed.levels[0].source = 2;
    assert!(judge(&mixed).is_err());
}
