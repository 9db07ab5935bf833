//! The verbs that measure shots: shutter and frames, on small files made here and on the open corpus where that is there.
//!
//! The corpus is found where `LAMPBLACK_CORPUS` says, beside the checkout (`../shared/corpus`), or as a choice in `tests/signals`; where it is not, its test says
//! so and passes. Not here: whether the times are true, which the rooms below hold against the corpus themselves.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use serde_json::Value;

use super::{Given, called, fed, written};

const SHOT_KEYS: [&str; 9] = [
    "start_s",
    "time_s",
    "standard_uncertainty_s",
    "state",
    "marked",
    "error_stops",
    "candidates_s",
    "places",
    "notices",
];
const STATES: [&str; 4] = ["measured", "probable", "indicative", "cannot tell"];

/// A WAV file of 16 bits.
fn wav(rate: u32, channels: u16, samples: &[i16]) -> Vec<u8> {
    let data: Vec<u8> = samples.iter().flat_map(|sample| sample.to_le_bytes()).collect();
    let mut bytes = header(rate, channels, data.len() as u32);
    bytes.extend(data);
    bytes
}

fn header(rate: u32, channels: u16, size: u32) -> Vec<u8> {
    let mut bytes = b"RIFF\0\0\0\0WAVEfmt \x10\0\0\0\x01\0".to_vec();
    bytes.extend(channels.to_le_bytes());
    bytes.extend(rate.to_le_bytes());
    bytes.extend((rate * u32::from(channels) * 2).to_le_bytes());
    bytes.extend((channels * 2).to_le_bytes());
    bytes.extend(16_u16.to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(size.to_le_bytes());
    bytes
}

/// A photodiode straight on the input: open from 0.4 s for so long, with flanks of 0.3 ms and a little noise.
fn light(time_s: f64) -> Vec<i16> {
    let mut state = 1_u32;
    (0..48_000)
        .map(|i| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = f64::from(state >> 8) / f64::from(1_u32 << 24) - 0.5;
            let t = f64::from(i) / 48_000.0 - 0.4;
            let open = (t / 0.0003).clamp(0.0, 1.0) - ((t - time_s) / 0.0003).clamp(0.0, 1.0);
            (10_000.0 * open + 20.0 * noise) as i16
        })
        .collect()
}

/// A clip of three strips at 240 frames a second, open from one second on for so many frames.
fn clip(open: usize) -> String {
    let rows = (0..480).map(|k| {
        let light = if (240..240 + open).contains(&k) { 0.8 } else { 0.004 };
        format!("{k},{:.6},{light},{light},{light}\n", k as f64 / 240.0)
    });
    format!("frame,t,Llin,Mlin,Rlin\n{}", rows.collect::<String>())
}

fn check(json: &Value, light: bool) {
    let keys: Vec<&str> = json.as_object().expect("an object").keys().map(String::as_str).collect();
    let mut expected = vec!["notices", "sample_rate_hz", "shots"];
    if light {
        expected.push("coupling_s");
    }
    assert!(keys.len() == expected.len() && expected.iter().all(|key| keys.contains(key)), "{keys:?}");
    assert!(json["sample_rate_hz"].as_f64().is_some_and(|rate| rate > 0.0));
    let notices = |notices: &Value| {
        for notice in notices.as_array().expect("notices") {
            let code = notice["code"].as_str().expect("a code");
            assert!(code.chars().all(|c| c.is_ascii_lowercase() || c == '-' || c.is_ascii_digit()), "{code}");
            assert!(notice["text"].as_str().is_some_and(|text| text.ends_with('.')), "{notice}");
        }
    };
    notices(&json["notices"]);
    for shot in json["shots"].as_array().expect("shots") {
        let there = shot.as_object().expect("a shot");
        assert!(there.len() == SHOT_KEYS.len() && SHOT_KEYS.iter().all(|key| there.contains_key(*key)), "{shot}");
        let state = shot["state"].as_str().expect("a state");
        assert!(STATES.contains(&state), "{state}");
        assert_eq!(shot["time_s"].is_null(), state == "cannot tell", "{shot}");
        assert_eq!(shot["time_s"].is_null(), shot["standard_uncertainty_s"].is_null(), "{shot}");
        assert_eq!(shot["error_stops"].is_null(), shot["time_s"].is_null() || shot["marked"].is_null(), "{shot}");
        for place in shot["places"].as_array().expect("places") {
            assert!(place["position"].is_string() && place["time_s"].is_number());
        }
        notices(&shot["notices"]);
    }
}

fn shutter(bytes: &[u8], more: &[&str]) -> Given {
    fed(&[&["shutter", "-"], more].concat(), bytes)
}

#[test]
fn a_light_trace_gives_its_time_and_error() {
    let bytes = wav(48_000, 1, &light(0.020));
    let json = shutter(&bytes, &["--signal", "light", "--marked", "1/60", "--json"]).json();
    check(&json, true);
    let shot = &json["shots"][0];
    let time = shot["time_s"].as_f64().expect("a time");
    assert!((time - 0.020).abs() < 5e-5, "{time}");
    assert_eq!(shot["marked"], "1/60");
    let error = shot["error_stops"].as_f64().expect("an error");
    assert!((error - (time * 64.0).log2_by_halves()).abs() < 1e-6, "{error}");
    let given = shutter(&bytes, &["--signal", "light", "--marked", "1/60"]);
    let table = given.table();
    assert!(table.contains("1/60") && table.contains(" over") && table.contains("measured"), "{table}");
    assert!(shutter(&bytes, &["--signal", "light"]).table().contains("ms"));
}

/// The logarithm to the base 2 without the functions that the house forbids.
trait Halves {
    fn log2_by_halves(self) -> f64;
}

impl Halves for f64 {
    fn log2_by_halves(self) -> f64 {
        let (mut rest, mut bits, mut weight) = (self, 0.0, 0.5);
        assert!((1.0..2.0).contains(&rest), "{rest}");
        for _ in 0..50 {
            rest *= rest;
            if rest >= 2.0 {
                rest /= 2.0;
                bits += weight;
            }
            weight /= 2.0;
        }
        bits
    }
}

#[test]
fn a_table_of_frames_gives_its_shots() {
    let json = fed(&["frames", "-", "--duty", "0.95", "--marked", "1/8", "--json"], clip(30).as_bytes()).json();
    check(&json, false);
    let shot = &json["shots"][0];
    assert!((shot["time_s"].as_f64().expect("a time") - 0.125).abs() < 0.002, "{shot}");
    assert_eq!((&shot["marked"], shot["places"].as_array().map(Vec::len)), (&"1/8".into(), Some(3)));
    assert!((json["sample_rate_hz"].as_f64().expect("a rate") - 240.0).abs() < 0.1);
    let given = fed(&["frames", "-", "--curve", "linear"], clip(30).as_bytes());
    assert!(given.table().contains("left") && given.table().contains("240.0"), "{}", given.out);
    let nothing = fed(&["frames", "-", "--json"], clip(0).as_bytes()).json();
    assert_eq!(nothing["shots"].as_array().map(Vec::len), Some(0));
}

#[test]
fn nothing_there_is_said_and_is_no_failure() {
    for signal in ["sound", "light"] {
        let json = shutter(&wav(44_100, 1, &[0; 44_100]), &["--signal", signal, "--json"]).json();
        assert_eq!(json["shots"].as_array().map(Vec::len), Some(0), "{json}");
        check(&json, signal == "light");
        let given = shutter(&wav(8_000, 2, &[0; 16_000]), &["--signal", signal]);
        assert!(given.table().contains("none was found"), "{}", given.out);
    }
}

#[test]
fn what_is_no_recording_is_refused_with_a_sentence() {
    for (bytes, why) in [
        (Vec::new(), "-: the file is empty"),
        (b"OggS and so on".to_vec(), "begins like an Ogg file"),
        (header(48_000, 1, 0), "there are no samples in it"),
        (wav(48_000, 0, &[1, 2]), "between 1 and 8 channels"),
        (wav(4_000, 1, &[1, 2]), "the sampling rate must be between 8000 Hz"),
    ] {
        let given = shutter(&bytes, &["--signal", "sound"]);
        assert!(given.refused(1).contains(why), "{}", given.err);
    }
    assert!(
        called(&["shutter", "nowhere.wav", "--signal", "light"])
            .refused(1)
            .contains("nowhere.wav: it cannot be opened")
    );
    let path = written("frames.csv", "t,M\n0,1\n1,bright\n");
    assert!(called(&["frames", &path]).refused(1).contains("row 2: the M must be a number"));
    let backwards = clip(30).replace("\n7,", "\n7,-");
    assert!(fed(&["frames", "-"], backwards.as_bytes()).refused(1).contains("must rise"));
    assert!(fed(&["frames", "-", "--duty", "2"], clip(30).as_bytes()).refused(1).contains("duty"));
}

#[test]
fn a_call_that_cannot_be_understood_is_named() {
    for (arguments, why) in [
        (&["shutter", "--signal", "light"][..], "the recording (FILE.wav) is missing"),
        (&["shutter", "a.wav"], "--signal sound or --signal light"),
        (&["shutter", "a.wav", "--signal", "smell"], "must be sound or light, and \"smell\" was given"),
        (&["shutter", "a.wav", "--signal", "sound", "--kind", "wood"], "must be cloth or metal or leaf"),
        (&["shutter", "a.wav", "--signal", "sound", "--marked", "1/4,fast"], "the time"),
        (&["shutter", "a.wav", "--signal", "sound", "--anchor", "1/15=0.07"], "MARK=TIME,DOUBT"),
        (&["shutter", "a.wav", "--signal", "light", "--anchor", "1/15=0.07,0.001"], "an anchor is for sound"),
        (&["frames"], "the table of frames (FILE.csv) is missing"),
        (&["frames", "a.csv", "--curve", "log"], "must be bt709 or srgb or linear"),
        (&["frames", "a.csv", "--range", "wide"], "must be limited or full"),
    ] {
        let given = called(arguments);
        assert!(given.refused(2).contains(why), "{}", given.err);
    }
}

/// The most memory that a process has had so far in kB, where the system tells.
fn peak_kb(id: u32) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    status.lines().find_map(|line| line.strip_prefix("VmHWM:")?.trim().strip_suffix("kB")?.trim().parse().ok())
}

#[test]
fn an_hour_takes_no_more_memory_than_some_minutes() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lampblack"))
        .args(["shutter", "-", "--signal", "light", "--json"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the shell runs");
    let mut input = child.stdin.take().expect("an input");
    // 600 times six seconds, with a shot in one of them; a header that does not know how long it will be.
    input.write_all(&header(16_000, 1, u32::MAX)).expect("written");
    let mut state = 1_u32;
    let quiet: Vec<i16> = (0..96_000)
        .map(|_| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (state >> 26) as i16 - 32
        })
        .collect();
    let mut shot = quiet.clone();
    shot.iter_mut().skip(32_000).take(800).for_each(|sample| *sample += 8_000);
    for piece in 0..600 {
        let samples = if piece == 400 { &shot } else { &quiet };
        let bytes: Vec<u8> = samples.iter().flat_map(|sample| sample.to_le_bytes()).collect();
        input.write_all(&bytes).expect("written");
    }
    if let Some(peak) = peak_kb(child.id()) {
        // The samples of the hour alone would be 230 MB.
        assert!(peak < 60_000, "{peak} kB");
    }
    drop(input);
    let output = child.wait_with_output().expect("an end");
    let json: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    check(&json, true);
    let shots = json["shots"].as_array().expect("shots");
    assert_eq!(shots.len(), 1, "{json}");
    let start = shots[0]["start_s"].as_f64().expect("a start");
    assert!((start - 2_402.0).abs() < 0.01, "{start}");
    assert!((shots[0]["time_s"].as_f64().expect("a time") - 0.05).abs() < 1e-3, "{json}");
    assert!(json["notices"].as_array().expect("notices").iter().any(|notice| notice["code"] == "long-recording"));
}

/// A mark's text for a nominal time of the corpus.
fn mark(nominal: f64) -> String {
    if nominal < 1.0 { format!("1/{:.0}", 1.0 / nominal) } else { format!("{nominal:.0}") }
}

#[test]
fn the_whole_open_corpus_goes_through_the_shell() {
    let here = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    let places = [here.join("../../../shared/corpus"), here.join("../../tests/signals")];
    let named = std::env::var_os("LAMPBLACK_CORPUS").map(PathBuf::from);
    let corpus = named
        .into_iter()
        .chain(places)
        .map(|root| root.join("timing"))
        .find(|place| place.join("truth.json").exists())
        .unwrap_or_default();
    let Ok(truth) = std::fs::read_to_string(corpus.join("truth.json")) else {
        eprintln!("the corpus is not there: nothing was checked");
        return;
    };
    let truth: Value = serde_json::from_str(&truth).expect("JSON");
    let cases = truth["cases"].as_array().expect("cases");
    assert!(cases.len() >= 30, "{} cases", cases.len());
    for case in cases {
        let path = corpus.join(case["file"].as_str().expect("a file")).to_string_lossy().into_owned();
        let method = case["method"].as_str().expect("a method");
        let nominals: Vec<f64> = case["nominals"].as_array().expect("times").iter().filter_map(Value::as_f64).collect();
        let marked = nominals.iter().map(|nominal| mark(*nominal)).collect::<Vec<_>>().join(",");
        let shutter = case["shutter"].as_str().unwrap_or("cloth");
        let kind = shutter.trim_start_matches("slr-");
        let mut call = if method == "video" {
            vec!["frames", &path, "--json"]
        } else {
            vec!["shutter", &path, "--json", "--signal", method, "--kind", kind]
        };
        if !marked.is_empty() {
            call.extend(["--marked", &marked]);
        }
        if shutter.starts_with("slr") {
            call.push("--mirror");
        }
        let json = called(&call).json();
        check(&json, method == "light");
        let mut wanted = marked.split(',');
        for shot in json["shots"].as_array().expect("shots") {
            if let Some(mark) = shot["marked"].as_str() {
                assert!(wanted.any(|wanted| wanted == mark), "{path}: {mark} is out of its order");
            }
        }
    }
}
