//! The sound recordings of the corpus, each shot against its truth and its grade.
//!
//! The corpus is found where `LAMPBLACK_CORPUS` says, beside the checkout (`../shared/corpus`), or as a choice in `tests/signals`; where it is not, these tests
//! say so and pass. Not here: simulated shots (`sound_series`).

mod wav;

use std::path::PathBuf;

use serde_json::Value;
use timing::sound::{About, Shutter, measure};
use timing::{Shot, State, Take};

fn folder() -> Option<PathBuf> {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let named = std::env::var_os("LAMPBLACK_CORPUS").map(PathBuf::from);
    let places = [here.join("../../../shared/corpus"), here.join("../../tests/signals")];
    named.into_iter().chain(places).map(|root| root.join("timing")).find(|place| place.join("truth.json").exists())
}

struct Case {
    file: String,
    truth: Vec<Value>,
    take: Take,
    expect: Option<String>,
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(f64::NAN)
}

fn cases(told: bool) -> Vec<Case> {
    let Some(folder) = folder() else {
        println!("the corpus is not here: nothing was compared");
        return Vec::new();
    };
    let text = std::fs::read_to_string(folder.join("truth.json")).expect("truth.json");
    let truth: Value = serde_json::from_str(&text).expect("JSON");
    let cases = truth["cases"].as_array().expect("cases");
    let sound = cases.iter().filter(|case| case["method"] == "sound");
    sound
        .map(|case| {
            let file = case["file"].as_str().expect("a name").to_string();
            let kind = case["shutter"].as_str().unwrap_or("cloth");
            let shutter = Shutter::from_key(kind.trim_start_matches("slr-")).expect("a kind");
            let nominals = case["nominals"].as_array().expect("nominals");
            let marked_s = if told { nominals.iter().map(number).collect() } else { Vec::new() };
            let about = About { shutter, mirror: kind.starts_with("slr"), marked_s, anchor: None };
            let channel = wav::read(&folder.join(&file));
            let take = measure(vec![channel], &about).expect("a take");
            Case {
                file,
                truth: case["shots"].as_array().cloned().unwrap_or_default(),
                take,
                expect: case["expect"].as_str().map(str::to_string),
            }
        })
        .collect()
}

/// The shot whose sounds lie where the truth says.
fn shot_at<'a>(take: &'a Take, truth: &Value) -> Option<&'a Shot> {
    let events = &truth["events"];
    let (from, to) = (number(&events["start1"]) - 0.06, number(&events["stop2"]) + 0.06);
    take.shots.iter().find(|shot| (from..=to).contains(&shot.start_s))
}

fn error_stops(shot: &Shot, truth: &Value) -> Option<f64> {
    shot.time.map(|time| libm::log2(time.value() / number(&truth["t_mid"])).abs())
}

#[test]
fn every_shot_is_right_or_refused_where_it_may_be() {
    let (mut answered, mut inside, mut shots) = (0, 0, 0);
    let mut wrong = Vec::new();
    for case in cases(true) {
        println!("{} {:?}", case.file, case.take.notices.iter().map(|n| n.code).collect::<Vec<_>>());
        for truth in &case.truth {
            shots += 1;
            let tolerance = number(&truth["grade"]["tol_stops"]);
            let may_refuse = truth["grade"]["may_refuse"] == true;
            let Some(shot) = shot_at(&case.take, truth) else {
                println!("   not found");
                if !may_refuse {
                    wrong.push(format!("{}: not found", case.file));
                }
                continue;
            };
            let error = error_stops(shot, truth);
            let off_ms = shot.time.map(|time| (time.value() - number(&truth["t_mid"])) * 1e3);
            println!(
                "   {:.5} {:?} off {:.3?} ms u {:.3?} ms tol {tolerance} stops {:.3?} {:?} {:?} cands {:.4?}",
                number(&truth["t_mid"]),
                shot.state,
                off_ms,
                shot.time.map(|time| time.standard_uncertainty() * 1e3),
                error,
                shot.marked,
                shot.notices.iter().map(|n| n.code).collect::<Vec<_>>(),
                shot.candidates_s,
            );
            match (error, shot.time) {
                (Some(error), Some(time)) => {
                    answered += 1;
                    inside += usize::from((time.value() - number(&truth["t_mid"])).abs() <= time.expanded_95());
                    let sure = shot.state >= State::Probable;
                    if error > tolerance && (sure || !may_refuse) {
                        wrong.push(format!("{}: {error:.3} stops off", case.file));
                    }
                }
                _ if !may_refuse => wrong.push(format!("{}: refused", case.file)),
                _ => {}
            }
        }
        match case.expect.as_deref() {
            Some(expect) if expect.starts_with("clipped") => assert!(case.take.has("clipped"), "{}", case.file),
            Some(expect) if expect.starts_with("no shutter") => {
                assert!(case.take.shots.iter().all(|shot| shot.time.is_none()), "{}", case.file);
                assert!(case.take.has("nothing-there"), "{}", case.file);
            }
            _ => {}
        }
    }
    println!("{shots} shots, {answered} answered, {inside} inside their doubt");
    assert!(wrong.is_empty(), "{wrong:#?}");
    if shots > 0 {
        assert!(answered * 10 >= shots * 6, "{answered} of {shots} answered");
        assert!(inside * 100 >= answered * 93, "{inside} of {answered} inside their doubt");
    }
}

#[test]
fn blind_nothing_is_stated_as_sure() {
    for case in cases(false) {
        for truth in &case.truth {
            if let Some(shot) = shot_at(&case.take, truth) {
                assert!(shot.state <= State::Indicative, "{}", case.file);
                if let Some(error) = error_stops(shot, truth) {
                    println!("{} {:.5} blind {error:.3}", case.file, number(&truth["t_mid"]));
                }
            }
        }
    }
}
