//! Times from frames over the corpus of simulated clips with known truth: each shot's grade, each expected flag, and doubts
//! that hold.
//!
//! The corpus is found through `LAMPBLACK_CORPUS`, beside the checkout as `../shared/corpus`, or as a choice in `tests/signals`; where it is not, these tests
//! pass and say so. Not here: the simulator of our own (`frames_simulated`).

use std::path::{Path, PathBuf};

use serde_json::Value;
use timing::frames::{About, Curve, CurveKnown, Range, Strip, Table, column, from_codes, measure};
use timing::{State, Take};

fn corpus() -> Option<PathBuf> {
    let named = std::env::var_os("LAMPBLACK_CORPUS").map(PathBuf::from);
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let places = [here.join("../../../shared/corpus"), here.join("../../tests/signals")];
    let found = named.into_iter().chain(places).map(|root| root.join("timing")).find(|root| root.is_dir());
    if found.is_none() {
        println!("the corpus is not there: nothing was compared");
    }
    found
}

fn cases(root: &Path) -> Vec<Value> {
    let text = std::fs::read_to_string(root.join("truth.json")).expect("the truth");
    let truth: Value = serde_json::from_str(&text).expect("JSON");
    let cases = truth["cases"].as_array().expect("cases").clone();
    cases.into_iter().filter(|case| case["method"] == "video").collect()
}

/// Times and the strips of either kind of column.
fn read(path: &Path, linear: bool) -> (Vec<f64>, Vec<Strip>) {
    let text = std::fs::read_to_string(path).expect("a table");
    let mut lines = text.lines();
    let names: Vec<&str> = lines.next().expect("names").split(',').collect();
    let rows: Vec<Vec<f64>> =
        lines.map(|line| line.split(',').map(|cell| cell.parse().expect("a number")).collect()).collect();
    let at = |index: usize| rows.iter().map(|row| row[index]).collect::<Vec<f64>>();
    let time = names.iter().position(|name| ["t", "time_s"].contains(name)).expect("times");
    let strips = names.iter().enumerate().filter_map(|(index, name)| {
        let found = column(name).filter(|found| found.linear == linear)?;
        Some(Strip { name: found.position.to_owned(), values: at(index) })
    });
    (at(time), strips.collect())
}

fn about(case: &Value) -> About {
    let plain = case["curve"] == "bt709";
    About {
        duty: case["duty"].as_f64(),
        curve_known: if plain { CurveKnown::Calibrated } else { CurveKnown::Unknown },
        ..About::default()
    }
}

struct Seen {
    compared: u32,
    refused: u32,
    inside: u32,
    places: u32,
    places_inside: u32,
}

/// Holds the shots of a take against the truth; `room` widens the grade.
fn grade(case: &Value, take: &Take, room: f64, seen: &mut Seen) {
    let file = case["file"].as_str().expect("a name");
    let truths = case["shots"].as_array().expect("shots");
    assert_eq!(take.shots.len(), truths.len(), "{file}: shots found");
    for (shot, truth) in take.shots.iter().zip(truths) {
        let number = |key: &str| truth[key].as_f64().expect("a number");
        assert!((shot.start_s - number("open")).abs() < 0.012, "{file}: opening {} {}", shot.start_s, number("open"));
        seen.compared += 1;
        let Some(time) = shot.time else {
            assert!(
                truth["grade"]["may_refuse"].as_bool().expect("a flag"),
                "{file}: 1/{:.0} refused",
                1.0 / number("t_mid")
            );
            seen.refused += 1;
            continue;
        };
        assert_eq!(shot.state, State::Measured);
        let off = libm::log2(time.value() / number("t_mid")).abs();
        let allowed = truth["grade"]["tol_stops"].as_f64().expect("a tolerance") * room;
        assert!(off <= allowed, "{file}: 1/{:.0} off by {off:.4} stops, {allowed:.4} allowed", 1.0 / number("t_mid"));
        seen.inside += u32::from((time.value() - number("t_mid")).abs() <= time.expanded_95());
        for place in &shot.places {
            let key = ["t_left", "t_mid", "t_right"]
                [["left", "middle", "right"].iter().position(|p| *p == place.position).expect("a place")];
            seen.places += 1;
            seen.places_inside += u32::from((place.time.value() - number(key)).abs() <= place.time.expanded_95());
        }
    }
}

#[test]
fn linear_columns_meet_every_grade() {
    let Some(root) = corpus() else { return };
    let mut seen = Seen { compared: 0, refused: 0, inside: 0, places: 0, places_inside: 0 };
    for case in cases(&root) {
        let file = case["file"].as_str().expect("a name");
        let (times, strips) = read(&root.join(file), true);
        let take = measure(&Table::new(times, strips).expect("a table"), &about(&case)).expect("a take");
        let expect = case["expect"].as_str().unwrap_or("");
        assert_eq!(take.has("dropped-frames"), expect.contains("dropped"), "{file}");
        assert_eq!(take.has("white-clipped"), expect.contains("clipped"), "{file}");
        assert!(!take.has("lamp-or-exposure-not-steady"), "{file}");
        let tapers = take.shots.iter().filter(|shot| shot.has("taper")).count();
        println!("{file}: {tapers} with taper");
        assert_eq!(tapers > 0, case["params"]["T1"].is_number(), "{file}: taper");
        grade(&case, &take, 1.0, &mut seen);
    }
    let stated = f64::from(seen.compared - seen.refused);
    println!(
        "{} shots, {} refused, {:.3} inside; {} places, {:.3} inside",
        seen.compared,
        seen.refused,
        f64::from(seen.inside) / stated,
        seen.places,
        f64::from(seen.places_inside) / f64::from(seen.places)
    );
    assert!(seen.compared >= 40 && seen.refused <= 4);
    assert!(f64::from(seen.inside) >= 0.92 * stated);
    assert!(f64::from(seen.places_inside) >= 0.92 * f64::from(seen.places));
}

#[test]
fn code_columns_meet_looser_ones() {
    let Some(root) = corpus() else { return };
    let mut seen = Seen { compared: 0, refused: 0, inside: 0, places: 0, places_inside: 0 };
    for case in cases(&root) {
        let file = case["file"].as_str().expect("a name");
        let (times, strips) = read(&root.join(file), false);
        let table = from_codes(times, strips, Curve::Bt709, Range::Limited).expect("a table");
        let take = measure(&table, &about(&case)).expect("a take");
        assert!(take.has("codes-averaged-first"));
        assert_eq!(take.has("white-clipped"), case["expect"].as_str().unwrap_or("").contains("clipped"), "{file}");
        grade(&case, &take, 1.25, &mut seen);
    }
    println!("{} of {} inside", seen.inside, seen.compared - seen.refused);
    assert!(seen.inside * 10 >= (seen.compared - seen.refused) * 9);
}

#[test]
fn without_the_duty_nothing_fast_is_stated_and_the_doubt_holds() {
    let Some(root) = corpus() else { return };
    let (mut stated, mut inside) = (0_u32, 0_u32);
    for case in cases(&root) {
        let (times, strips) = read(&root.join(case["file"].as_str().expect("a name")), true);
        let interval = 1.0 / case["fps"].as_f64().expect("a rate");
        let about = About { duty: None, ..about(&case) };
        let take = measure(&Table::new(times, strips).expect("a table"), &about).expect("a take");
        assert!(take.has("duty-unknown"));
        for (shot, truth) in take.shots.iter().zip(case["shots"].as_array().expect("shots")) {
            let Some(time) = shot.time else { continue };
            assert!(time.value() > 1.9 * interval);
            stated += 1;
            inside += u32::from((time.value() - truth["t_mid"].as_f64().expect("a time")).abs() <= time.expanded_95());
        }
    }
    println!("{inside} of {stated} inside");
    assert!(stated >= 20 && inside * 100 >= stated * 93);
}
