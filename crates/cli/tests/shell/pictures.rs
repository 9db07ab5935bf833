//! The verb that reads a photo, on the pictures with a known truth.
//!
//! A small choice of them lies in the tree; the whole corpus is found beside the checkout (`../shared/corpus`) or where
//! `LAMPBLACK_CORPUS` says, and where it is not, its tests say so and pass. Not here: files made up byte by byte (`imaging`).

use std::collections::BTreeSet;
use std::path::PathBuf;

use serde_json::Value;

use super::{Given, called};

struct Case {
    file: PathBuf,
    says: Value,
}

fn truth(folder: PathBuf, base: PathBuf) -> Vec<Case> {
    let Ok(text) = std::fs::read_to_string(folder.join("truth.json")) else {
        println!("{} is not here: nothing was compared", folder.display());
        return Vec::new();
    };
    let says: Vec<Value> = serde_json::from_str(&text).expect("truth as JSON");
    says.into_iter().map(|says| Case { file: base.join(says["file"].as_str().expect("a name")), says }).collect()
}

/// The choice in the tree.
pub fn tree() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/pictures")
}

/// The whole corpus, where it is.
pub fn corpus() -> PathBuf {
    std::env::var_os("LAMPBLACK_CORPUS")
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../shared/corpus"), PathBuf::from)
        .join("images")
}

fn in_the_tree() -> Vec<Case> {
    truth(tree(), tree())
}

fn in_the_corpus() -> Vec<Case> {
    truth(corpus().join("A"), corpus())
}

impl Case {
    fn name(&self) -> String {
        self.file.display().to_string()
    }

    fn call(&self, more: &[&str]) -> Given {
        let edges: Vec<f64> =
            self.says["roi_frac"].as_array().expect("a patch").iter().filter_map(Value::as_f64).collect();
        let shares = format!("{},{},{},{}", edges[0], edges[1], edges[2] - edges[0], edges[3] - edges[1]);
        let name = self.name();
        called(&[&["photo", &name, "--json", "--patch-fraction", &shares], more].concat())
    }

    /// The answer, which a refused picture has too.
    fn answer(&self, more: &[&str]) -> Value {
        let given = self.call(more);
        let answer: Value =
            serde_json::from_str(&given.out).unwrap_or_else(|_| panic!("{}: {}", self.name(), given.err));
        let refused = answer["decision"] == "refuse";
        assert_eq!(given.code, i32::from(refused), "{}", self.name());
        assert_eq!(given.err.lines().count(), usize::from(refused), "{}", given.err);
        assert_eq!(answer["ev100"].is_null(), refused, "{}", self.name());
        answer
    }

    fn kind(&self) -> &str {
        self.says["kind"].as_str().unwrap_or_default()
    }
}

fn codes(list: &Value) -> BTreeSet<&str> {
    list.as_array().into_iter().flatten().filter_map(|told| told["code"].as_str().or(told.as_str())).collect()
}

/// What the file says it was taken with, against the truth; both may not know.
fn exposure(case: &Case, answer: &Value) {
    let expected = &case.says["expect"]["exposure"];
    if expected.is_null() {
        return;
    }
    for (short, key) in [
        ("t", "time_s"),
        ("N", "f_number"),
        ("S", "film_speed"),
        ("Bv", "brightness_value"),
        ("EBV", "compensation_stops"),
        ("orientation", "orientation"),
    ] {
        let (expected, found) = (expected[short].as_f64(), answer["exposure"][key].as_f64());
        let same = match (expected, found) {
            (Some(expected), Some(found)) => (expected - found).abs() <= 1e-6 * expected.abs().max(1.0),
            (None, None) => true,
            _ => false,
        };
        assert!(same, "{}: {key} is {expected:?}, and {found:?} was read", case.name());
    }
}

fn decision(case: &Case, answer: &Value) {
    let expected = &case.says["expect"];
    let decision = answer["decision"].as_str().expect("a decision");
    match expected["decision"].as_str().expect("a decision") {
        "any" => {}
        "ok_or_warn" => assert_ne!(decision, "refuse", "{}", case.name()),
        wanted => {
            assert_eq!(decision, wanted, "{}: {}", case.name(), answer["notices"]);
            if expected["refuse"].is_array() {
                assert_eq!(codes(&answer["reasons"]), codes(&expected["refuse"]), "{}", case.name());
            }
        }
    }
    assert!(codes(&expected["warn_includes"]).is_subset(&codes(&answer["notices"])), "{}", case.name());
    if expected["refuse_meta"].is_array() {
        // What the file's own data say; its grey picture may be refused for its patch beside that.
        let reasons: BTreeSet<&str> =
            codes(&answer["reasons"]).into_iter().filter(|code| !code.starts_with("patch_")).collect();
        assert_eq!(reasons, codes(&expected["refuse_meta"]), "{}", case.name());
    }
}

/// Where the truth is exact, the reading is within it; everywhere else within its own doubt.
fn light(case: &Case, answer: &Value) {
    let (Some(truth), Some(found)) = (case.says["truth"]["EV100"].as_f64(), answer["ev100"].as_f64()) else { return };
    let exact = case.says["truth"]["tol_EV"].as_f64().filter(|_| !case.kind().starts_with("phone"));
    let allowed = exact.unwrap_or_else(|| answer["expanded_uncertainty_stops"].as_f64().expect("a doubt"));
    assert!((found - truth).abs() <= allowed, "{}: {found} is not {truth} ± {allowed}", case.name());
    if let Some(luminance) = case.says["truth"]["cd_m2"].as_f64() {
        let found = answer["luminance_cd_m2"].as_f64().expect("a luminance");
        assert!((found / luminance - 1.0).abs() < 0.03, "{}: {found} is not {luminance}", case.name());
    }
}

fn look(cases: &[Case]) {
    for case in cases {
        let answer = case.answer(&[]);
        exposure(case, &answer);
        decision(case, &answer);
        light(case, &answer);
    }
}

#[test]
fn the_pictures_of_the_tree_are_read_or_refused_as_they_must() {
    let cases = in_the_tree();
    assert!(cases.len() >= 10);
    look(&cases);
}

#[test]
fn the_pictures_of_the_corpus_are_read_or_refused_as_they_must() {
    look(&in_the_corpus());
}

/// What a calibration photo says: its exposure's EV, its tone, how far the reading lies from the truth.
struct Photo {
    settings: f64,
    tone: f64,
    error: f64,
}

/// Offset and slope of a phone from its calibration photos, as a shell's user reckons them.
fn calibrated(cases: &[Case], phone: &Value) -> [String; 2] {
    let photos: Vec<(bool, Photo)> = cases
        .iter()
        .filter(|case| case.kind() == "phone_cal" && case.says["phone"] == *phone)
        .map(|case| {
            let answer = case.answer(&[]);
            let number = |value: &Value| value.as_f64().expect("a number");
            let (ev, tone) = (number(&answer["ev100"]), number(&answer["tone_stops"]));
            let error = number(&case.says["truth"]["EV100"]) - ev;
            (case.name().contains("+0"), Photo { settings: ev - tone, tone, error })
        })
        .collect();
    let count = photos.len() as f64;
    let settings = photos.iter().map(|(_, photo)| photo.settings).sum::<f64>() / count;
    let above: f64 = photos.iter().map(|(_, photo)| (settings - photo.settings) * photo.tone).sum();
    let below: f64 = photos.iter().map(|(_, photo)| (settings - photo.settings) * (settings - photo.settings)).sum();
    let slope = above / below;
    let middle = photos.iter().find(|(middle, _)| *middle).map(|(_, photo)| photo).expect("a photo in the middle");
    let offset = middle.error + middle.tone * (1.0 - 1.0 / slope);
    [format!("{},0.1", middle.error), format!("{offset},0.1,{slope}")]
}

#[test]
fn a_calibrated_phone_reads_truly_and_its_doubt_is_true() {
    let cases = in_the_corpus();
    let phones: BTreeSet<String> = cases.iter().map(|case| case.says["phone"].to_string()).collect();
    let (mut errors, mut inside) = ([0.0, 0.0], [0, 0]);
    let mut count = 0;
    for phone in phones.iter().filter(|phone| *phone != "null") {
        let phone: Value = serde_json::from_str(phone).expect("a phone");
        let calibrations = calibrated(&cases, &phone);
        for case in cases.iter().filter(|case| case.kind() == "phone_test" && case.says["phone"] == phone) {
            count += 1;
            for (i, calibration) in calibrations.iter().enumerate() {
                let answer = case.answer(&["--calibration", calibration]);
                let error =
                    answer["ev100"].as_f64().expect("an EV") - case.says["truth"]["EV100"].as_f64().expect("a truth");
                errors[i] += error * error;
                inside[i] +=
                    usize::from(error.abs() <= answer["expanded_uncertainty_stops"].as_f64().expect("a doubt"));
            }
        }
    }
    if count > 0 {
        let root = |sum: f64| (sum / f64::from(count)).sqrt();
        assert!(root(errors[0]) < 0.20 && root(errors[1]) < 0.10, "{} {}", root(errors[0]), root(errors[1]));
        assert!(inside.iter().all(|inside| *inside as f64 >= 0.9 * f64::from(count)), "{inside:?} of {count}");
    }
}

#[test]
fn a_patch_is_taken_in_pixels_of_the_upright_picture() {
    let cases = in_the_tree();
    let turned = cases.iter().find(|case| case.name().contains("orientation_8")).expect("a picture on its side");
    let by_shares = turned.answer(&[]);
    let patch = |key: &str| by_shares["patch"][key].as_u64().expect("a patch");
    let pixels = format!("{},{},{},{}", patch("x"), patch("y"), patch("width"), patch("height"));
    let name = turned.name();
    let by_pixels = called(&["photo", &name, "--json", "--patch", &pixels]).json();
    assert_eq!(by_pixels["ev100"], by_shares["ev100"]);
    // The picture stands 360 wide and 480 high when upright: a patch that only fits it lying is refused.
    let refused = called(&["photo", &name, "--patch", "400,0,50,50"]);
    assert!(refused.refused(1).contains("360 × 480"), "{}", refused.err);
}

#[test]
fn the_table_says_the_doubt_by_its_parts_and_a_refusal_says_what_to_do() {
    let cases = in_the_tree();
    let named = |part: &str| cases.iter().find(|case| case.name().contains(part)).expect("a picture").name();
    let given = called(&["photo", &named("ideal_03")]);
    for wanted in ["EV at ISO 100", "cd/m² (K = 12.5)", "tone curve away from mid-grey", "trusted meter"] {
        assert!(given.table().contains(wanted), "{}", given.out);
    }
    let refused = called(&["photo", &named("hdr")]);
    assert!(refused.refused(1).contains("Turn HDR off"), "{}", refused.err);
    let absent = called(&["photo", "no-such-file.jpg"]);
    assert!(absent.refused(1).contains("cannot be opened"), "{}", absent.err);
}
