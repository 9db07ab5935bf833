//! Film error against cases reckoned by hand.
//!
//! Not here: the measurements themselves.

use photometry::{FNumberMark, Stops};

use super::*;
use crate::camera::Kind;
use crate::tolerance::{OF_F_NUMBERS, OF_TIMES};

fn estimate(value: f64, doubt: f64) -> Estimate {
    Estimate::new(value, doubt, f64::INFINITY).expect("an estimate")
}

fn time(text: &str) -> TimeMark {
    TimeMark::parse(text, &[]).expect("a mark")
}

fn shutter(rows: &[(&str, f64, f64, State)]) -> shutter::Judgement {
    let check = shutter::Check {
        marks: rows.iter().map(|(text, ..)| time(text)).collect(),
        tolerance: OF_TIMES.usual(),
        takes: Vec::new(),
    };
    let mut judged = shutter::judge(&check).expect("a judgement");
    judged.missing.clear();
    judged.rows = rows
        .iter()
        .map(|(text, error, doubt, state)| shutter::TimeRow {
            mark: time(text),
            signal: shutter::Signal::Light,
            state: *state,
            shots: 3,
            error: Some(estimate(*error, *doubt)),
            parts: Vec::new(),
            spread: None,
            tolerance_stops: 0.3,
            conformity: 1.0,
            call: Call::Within,
            taper: None,
            notices: Vec::new(),
        })
        .collect();
    judged
}

/// A meter that reads `offset` high in every light, known to `each` at every level and to `shared` over all of them.
fn meter(offset: f64, each: f64, shared: f64, lights: &[f64]) -> meter::Judgement {
    let level = |light: &f64| meter::Level {
        reference: Ev::new(*light).expect("an EV"),
        each_doubt: Stops::new(each).expect("stops"),
        source: 0,
        readings: vec![meter::Reading {
            ev100: Ev::new(light + offset).expect("an EV"),
            step: Stops::new(0.0).expect("stops"),
            words: String::new(),
        }],
    };
    meter::judge(&meter::Run {
        levels: lights.iter().map(level).collect(),
        shared_doubts: vec![Stops::new(shared).expect("stops")],
        tolerance: Stops::new(0.5).expect("stops"),
        film_speed: None,
        dial: None,
    })
    .expect("a judgement")
}

fn camera() -> Camera {
    Camera::of_kind(Kind::SingleLensReflex)
}

fn only<'a>(gets: &'a FilmGets, usage: Usage, mark: &str) -> &'a Row {
    gets.rows
        .iter()
        .find(|row| row.usage == usage && row.mark.as_ref().is_some_and(|other| other.text() == mark))
        .expect("a row")
}

#[test]
fn the_three_errors_add_with_their_signs_and_their_doubts_in_squares() {
    let shutter = shutter(&[("1/125", 0.3, 0.04, State::Measured)]);
    // One level: its own doubt 0.09 and the shared 0.12 come to 0.15.
    let meter = meter(0.5, 0.09, 0.12, &[12.0]);
    let measured = Measured { shutter: Some(&shutter), meter: Some(&meter), ..Measured::default() };
    let gets = of(&camera(), &measured, InHand::default()).expect("film errors");
    let hand = only(&gets, Usage::HandSet, "1/125").worst().expect("a cell").error;
    assert_eq!((hand.value(), hand.standard_uncertainty()), (0.3, 0.04));
    let metered = only(&gets, Usage::Metered, "1/125").worst().expect("a cell").error;
    // Reads high, so that film is under-exposed by it: 0.3 − 0.5, and √(0.04² + 0.15²).
    assert!((metered.value() + 0.2).abs() < 1e-12);
    assert!((metered.standard_uncertainty() - (0.04_f64 * 0.04 + 0.15 * 0.15).sqrt()).abs() < 1e-9);
}

#[test]
fn a_shared_doubt_does_not_shrink_with_the_levels_and_an_own_one_does() {
    let shutter = shutter(&[("1/125", 0.0, 0.0, State::Measured)]);
    let lights: Vec<f64> = (0..9).map(|i| 8.0 + f64::from(i) * 0.001).collect();
    let doubt = |each: f64, shared: f64| {
        let meter = meter(0.0, each, shared, &lights);
        let measured = Measured { shutter: Some(&shutter), meter: Some(&meter), ..Measured::default() };
        let gets = of(&camera(), &measured, InHand::default()).expect("film errors");
        only(&gets, Usage::Metered, "1/125").worst().expect("a cell").error.standard_uncertainty()
    };
    assert!((doubt(0.3, 0.0) - 0.1).abs() < 1e-6, "{}", doubt(0.3, 0.0));
    assert!((doubt(0.0, 0.3) - 0.3).abs() < 1e-4, "{}", doubt(0.0, 0.3));
}

/// An aperture whose stopped-down marks are off by so much.
fn openings(rows: &[(&str, f64, f64)]) -> aperture::Judgement {
    let check =
        aperture::Check { marks: Vec::new(), blade_count: None, tolerance: OF_F_NUMBERS.usual(), shots: Vec::new() };
    let mut judged = aperture::judge(&check).expect("a judgement");
    judged.rows = rows
        .iter()
        .enumerate()
        .map(|(i, (text, error, doubt))| aperture::StopRow {
            mark: FNumberMark::parse(text, &[]).expect("a mark"),
            shots: 1,
            widest: i == 0,
            error: Some(estimate(*error, *doubt)),
            tolerance_stops: 0.3,
            conformity: 1.0,
            call: Call::Within,
            roundness: None,
            notices: Vec::new(),
        })
        .collect();
    judged
}

#[test]
fn measured_openings_join_in_f_number_by_f_number() {
    let shutter = shutter(&[("1/125", 0.2, 0.03, State::Measured)]);
    let openings = openings(&[("2", 0.5, 0.01), ("4", -0.1, 0.04), ("8", 0.4, 0.04)]);
    let measured = Measured { shutter: Some(&shutter), aperture: Some(&openings), ..Measured::default() };
    let gets = of(&camera(), &measured, InHand::default()).expect("film errors");
    let row = only(&gets, Usage::HandSet, "1/125");
    let errors: Vec<(bool, f64)> =
        row.cells.iter().map(|cell| (cell.opening_measured, (cell.error.value() * 1e9).round() / 1e9)).collect();
    // The widest is a fixed ring and no opening of the blades: the shutter alone.
    assert_eq!(errors, [(false, 0.2), (true, 0.1), (true, 0.6)]);
    let worst = row.worst().expect("a cell").error;
    assert!((worst.standard_uncertainty() - 0.05).abs() < 1e-12, "0.03 and 0.04 in squares");
    assert_eq!(say::range_words(row), "0.1 over to 0.6 over");
    // What is safe must be so at every f-number.
    assert_eq!(row.verdicts[0].words(), "give 1/3 stop less");
    assert!(gets.notices.iter().any(|notice| notice.contains("all f-numbers share")));
}

#[test]
fn each_film_forgives_what_it_forgives() {
    let shutter = shutter(&[
        ("1/30", 0.2, 0.02, State::Measured),
        ("1/125", 0.8, 0.02, State::Measured),
        ("1/500", -1.3, 0.02, State::Measured),
        ("1/1000", 0.5, 0.4, State::Measured),
    ]);
    let measured = Measured { shutter: Some(&shutter), ..Measured::default() };
    let gets = of(&camera(), &measured, InHand::default()).expect("film errors");
    let said =
        |mark: &str| -> Vec<String> { only(&gets, Usage::HandSet, mark).verdicts.iter().map(Verdict::words).collect() };
    // Reversal ±1/2, colour negative −1/+3, black and white −1/+2.
    assert_eq!(said("1/30"), ["safe", "safe", "safe"]);
    assert_eq!(said("1/125"), ["give 1/3 stop less", "safe", "safe"]);
    assert_eq!(said("1/500"), ["give 1 stop more", "give 1/3 stop more", "give 1/3 stop more"]);
    assert_eq!(said("1/1000"), ["cannot tell", "safe", "safe"]);
    let sentence = gets.sentence(Usage::HandSet, 0).expect("a sentence");
    assert_eq!(
        sentence,
        "Reversal: safe at 1/30; give 1/3 stop less at 1/125; give 1 stop more at 1/500; cannot tell at 1/1000."
    );
}

#[test]
fn what_is_only_indicated_is_not_reckoned_with() {
    let shutter = shutter(&[("1/60", 0.0, 0.01, State::Probable), ("1/500", 0.0, 0.01, State::Indicative)]);
    let measured = Measured { shutter: Some(&shutter), ..Measured::default() };
    let gets = of(&camera(), &measured, InHand::default()).expect("film errors");
    assert_eq!(only(&gets, Usage::HandSet, "1/60").cells.len(), 1);
    let row = only(&gets, Usage::HandSet, "1/500");
    assert!(row.cells.is_empty() && row.verdicts.is_empty() && row.why_not.contains("only indicated"));
}

#[test]
fn in_metered_use_a_time_goes_with_the_light_that_the_meter_asks_for_it_in() {
    let shutter = shutter(&[("1/125", 0.0, 0.02, State::Measured), ("1", 0.0, 0.02, State::Measured)]);
    let meter = meter(0.0, 0.1, 0.0, &[10.0, 11.0, 12.0, 13.0, 14.0]);
    let dial = FilmSpeedMark::parse("100", &[]).expect("a speed");
    let mut camera = camera();
    camera.f_numbers =
        ["2.8", "4", "5.6", "8"].iter().map(|text| FNumberMark::parse(text, &[]).expect("a mark")).collect();
    let measured = Measured { shutter: Some(&shutter), meter: Some(&meter), dial: Some(&dial), ..Measured::default() };
    let gets = of(&camera, &measured, InHand::default()).expect("film errors");
    let fast = only(&gets, Usage::Metered, "1/125");
    let lights: Vec<f64> = fast.cells.iter().filter_map(|cell| Some(cell.light?.value().round())).collect();
    // f/2.8 to f/8 at 1/128 s: EV 10 to 13.
    assert_eq!(lights, [10.0, 11.0, 12.0, 13.0]);
    // One second at those f-numbers is EV 3 to 6, where nothing was measured.
    let slow = only(&gets, Usage::Metered, "1");
    assert!(slow.cells.is_empty() && slow.why_not.contains("EV 3.0 and EV 6.0"), "{}", slow.why_not);
}

#[test]
fn a_camera_that_sets_the_time_itself_is_told_in_metered_use_only() {
    let meter = meter(0.4, 0.1, 0.0, &[9.0, 12.0]);
    let mut camera = camera();
    camera.stepless = true;
    let measured = Measured { meter: Some(&meter), ..Measured::default() };
    let gets = of(&camera, &measured, InHand::default()).expect("film errors");
    assert_eq!(gets.rows.len(), 1);
    assert_eq!((gets.rows[0].usage, gets.rows[0].cells.len()), (Usage::Metered, 2));
    assert!(gets.notices[0].contains("sets the time itself"), "{:?}", gets.notices);
}

#[test]
fn an_own_latitude_stands_for_the_usual_one() {
    let own = InHand { kind: Some(FilmKind::Reversal), own: Some((0.2, 0.2)) };
    let films = films(own).expect("films");
    assert_eq!((films[0].under, films[0].source, films[0].in_hand), (0.2, "entered", true));
    assert_eq!(super::films(InHand { kind: None, own: Some((1.0, 1.0)) }).expect("films").len(), 4);
    assert!(super::films(InHand { kind: None, own: Some((0.0, 0.0)) }).is_err());
    assert!(super::films(InHand { kind: None, own: Some((-1.0, 2.0)) }).is_err());
    assert!(super::films(InHand { kind: None, own: Some((f64::NAN, 2.0)) }).is_err());
}
