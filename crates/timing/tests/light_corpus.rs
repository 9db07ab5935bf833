//! The light traces of the corpus against their truth: every shot within its grade, every flag raised, nothing found in nothing.
//!
//! The corpus is found through `LAMPBLACK_CORPUS`, beside the checkout in `../shared/corpus`, or as a choice in `tests/signals`; where it is not there, the test
//! says so and passes. Not here: simulated traces (`light_pulses.rs`).

use std::path::{Path, PathBuf};

use serde_json::Value;
use timing::{Shot, Take, Waveform, light_trace};

fn corpus() -> Option<PathBuf> {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let named = std::env::var_os("LAMPBLACK_CORPUS").map(PathBuf::from);
    let places = [here.join("../../../shared/corpus"), here.join("../../tests/signals")];
    named.into_iter().chain(places).map(|root| root.join("timing")).find(|place| place.join("truth.json").exists())
}

/// Samples of a 16-bit WAV file with one channel.
fn read(path: &Path) -> Waveform {
    let bytes = std::fs::read(path).expect("a file");
    let number = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().expect("four bytes"));
    assert_eq!((&bytes[..4], &bytes[8..12]), (&b"RIFF"[..], &b"WAVE"[..]));
    let (mut at, mut rate) = (12, 0);
    loop {
        let (name, size) = (&bytes[at..at + 4], number(at + 4) as usize);
        match name {
            b"fmt " => rate = number(at + 12),
            b"data" => {
                let data = &bytes[at + 8..at + 8 + size];
                let samples = data
                    .chunks_exact(2)
                    .map(|pair| f32::from(i16::from_le_bytes([pair[0], pair[1]])) / 32_768.0)
                    .collect();
                return Waveform::whole(f64::from(rate), samples).expect("a recording");
            }
            _ => {}
        }
        at += 8 + size + size % 2;
    }
}

fn flagged(take: &Take, code: &str) -> bool {
    take.has(code) || take.shots.iter().any(|shot| shot.has(code))
}

fn nearest(take: &Take, at_s: f64) -> Option<&Shot> {
    let away = |shot: &&Shot| (shot.start_s - at_s).abs();
    take.shots.iter().min_by(|a, b| away(a).total_cmp(&away(b))).filter(|shot| away(shot) < 0.02)
}

#[test]
fn every_light_trace_keeps_its_grade() {
    let Some(place) = corpus() else {
        println!("the corpus is not there: nothing was checked");
        return;
    };
    let truth: Value = serde_json::from_slice(&std::fs::read(place.join("truth.json")).expect("truth")).expect("JSON");
    let (mut passed, mut refused, mut wrong) = (0, 0, Vec::new());
    for case in truth["cases"].as_array().expect("cases").iter().filter(|case| case["method"] == "light") {
        let name = case["file"].as_str().expect("a name");
        let take = light_trace::measure(&[read(&place.join(name))]).expect("a take");
        let shots = case["shots"].as_array().expect("shots");
        let codes: Vec<&str> = take.notices.iter().map(|notice| notice.code).collect();
        println!("{name} {codes:?} coupling {:.4?} s", take.coupling_s);
        if let Some(code) = case["expect"].as_str().and_then(|text| text.strip_suffix(" flag")) {
            assert!(flagged(&take, &code.replace(' ', "-")), "{name}: {code} was not said: {codes:?}");
        }
        assert_eq!(take.shots.len(), shots.len(), "{name}: {:#?}", take.shots);
        if shots.is_empty() {
            assert!(take.has("nothing-there"), "{name}");
        }
        for shot in shots {
            let number = |key: &str| shot[key].as_f64().expect("a number");
            let (exact, tolerance) = (number("t_eff"), shot["grade"]["tol_stops"].as_f64().expect("a tolerance"));
            let found = nearest(&take, number("open"));
            let codes: Vec<&str> = found.iter().flat_map(|shot| shot.notices.iter().map(|n| n.code)).collect();
            match found.and_then(|shot| shot.time) {
                Some(time) => {
                    let stops = libm::log2(time.value() / exact);
                    let in_doubts = (time.value() - exact) / time.standard_uncertainty();
                    println!(
                        "  {exact:.6} s: {stops:+.4} of {tolerance} stop, {:+.2} us, {in_doubts:+.2} u (u {:.2} us) {codes:?}",
                        (time.value() - exact) * 1e6,
                        time.standard_uncertainty() * 1e6
                    );
                    if stops.abs() <= tolerance {
                        passed += 1
                    } else {
                        wrong.push(format!("{name} {exact} {stops:+.4}"))
                    }
                    assert!(in_doubts.abs() < 3.5, "{name} {exact}: off by {in_doubts:.2} of its doubt");
                    if let Some(extra) = shot["bounce"]["area"].as_f64() {
                        let bounce = found.and_then(|shot| shot.bounce).expect("a bounce");
                        println!("    bounce {bounce:?}, true area {extra}");
                        assert!((bounce.extra_s / extra - 1.0).abs() < 0.15, "{name}: {bounce:?}, true area {extra}");
                    }
                }
                None if shot["grade"]["may_refuse"] == true => {
                    println!("  {exact:.6} s: cannot tell {codes:?}");
                    refused += 1;
                }
                None => wrong.push(format!("{name} {exact}: refused, {codes:?}")),
            }
        }
    }
    println!("{passed} passed, {refused} refused where that is as good");
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(passed >= 37, "{passed}");
}
