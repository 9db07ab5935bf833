//! Fog and evenness through the shell, against the corpora of computed strips where they are there; and jobs that cannot be.
//!
//! Without the corpora (`LAMPBLACK_CORPUS`) those tests say so and pass. Not here: strips computed on the spot (`imaging`).

use std::path::Path;

use serde_json::{Value, json};

use super::pictures::corpus;
use super::{called, written};

/// A job whose pictures are named in full.
fn job(name: &str, job: &Value) -> String {
    written(name, &job.to_string())
}

fn cases(of: &str) -> Vec<Value> {
    let Ok(text) = std::fs::read_to_string(corpus().join(of).join("truth.json")) else {
        println!("the corpus of pictures is not here: nothing was tested");
        return Vec::new();
    };
    let truth: Value = serde_json::from_str(&text).expect("JSON");
    truth.as_array().or_else(|| truth["cases"].as_array()).expect("cases").clone()
}

fn file(name: &Value) -> String {
    corpus().join(name.as_str().expect("a name")).to_string_lossy().into_owned()
}

/// The part as the corpus names it, in the shell's words.
fn part(name: &str) -> String {
    name.replace('_', "-").replace("foam-", "mirror-foam-")
}

#[test]
fn fog_is_told_as_well_as_the_published_reference_does() {
    let cases = cases("B");
    let (mut groups, mut sides, mut sided, mut parts, mut parted) = (0, 0, 0, 0, 0);
    for (n, case) in cases.iter().enumerate() {
        let lies = case["inputs"]["display"].as_str().expect("how it lies").replace('_', "-");
        let path = job(
            &format!("fog-{n}.json"),
            &json!({"file": file(&case["file"]), "gate_corners_px": case["inputs"]["corners"], "strip_lies": lies}),
        );
        let said: Value = called(&["fog", &path, "--json"]).json();
        let group = said["group"].as_str().expect("a group").replace(' ', "_");
        let expected = &case["expect"];
        let right = expected["group"].as_array().expect("groups").iter().any(|one| one == group.as_str());
        groups += usize::from(right);
        // What is claimed with high confidence is right.
        assert!(right || said["confidence"].as_f64().expect("a confidence") < 0.8, "{}: {said}", case["file"]);
        if let Some(side) = expected["side_gate"].as_str()
            && said["group"] != "cannot tell"
        {
            sided += 1;
            sides += usize::from(said["side"] == side);
        }
        if let Some(source) = expected["source"].as_str().filter(|source| !["none", "pinhole"].contains(source)) {
            parted += 1;
            parts += usize::from(said["source"] == part(source).as_str());
        }
    }
    assert!(groups + 1 >= cases.len(), "{groups} of {} groups", cases.len());
    assert_eq!((sides, parts), (sided, parted));
}

#[test]
fn evenness_is_within_the_published_tolerance_and_its_own_doubt() {
    let cases = cases("E");
    let mut inside = 0;
    for (n, case) in cases.iter().enumerate() {
        let photo = |name: &str| json!({"file": file(&case["files"][name]), "gate_corners_px": case["inputs"]["corners"][name]});
        let path = job(
            &format!("evenness-{n}.json"),
            &json!({"travel": case["inputs"]["travel"], "main": photo("main"), "minus_one": photo("minus1"),
                    "plus_one": photo("plus1"), "turned": photo("rotated180")}),
        );
        let said: Value = called(&["evenness", &path, "--json"]).json();
        let number = |name: &str| said[name].as_f64().expect("a number");
        let (found, truth) = (number("taper_stops"), case["truth"]["taper"].as_f64().expect("a taper"));
        let off = (found - truth).abs();
        assert!(
            off <= case["expect"]["tol_pair"].as_f64().expect("a tolerance"),
            "{}: {found} for {truth}",
            case["case"]
        );
        inside += usize::from(off <= 2.0 * number("standard_uncertainty_stops"));
        if let Some(tolerance) = case["expect"]["band_amp_tol"].as_f64() {
            let band = case["truth"]["band_amp"].as_f64().expect("a band");
            assert!((number("band_stops") - band).abs() <= tolerance, "{}: {said}", case["case"]);
        }
        assert_eq!(
            number("end_drop_stops") < -0.3,
            case["expect"]["capping"].as_bool().expect("capping"),
            "{}",
            case["case"]
        );
    }
    assert!(inside + 1 >= cases.len(), "{inside} of {} within 95 %", cases.len());
}

#[test]
fn a_job_that_cannot_be_has_a_sentence() {
    let there = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/pictures/ideal_03.jpg");
    let there = there.to_string_lossy();
    let corners = json!([[10, 10], [300, 10], [300, 200], [10, 200]]);
    for (name, text, said) in [
        ("shape", json!({"file": there}), "no job"),
        (
            "crossed",
            json!({"file": there, "gate_corners_px": [[10, 10], [10, 200], [300, 200], [300, 10]], "strip_lies": "unknown"}),
            "corners",
        ),
        (
            "missing",
            json!({"file": "not-there.jpg", "gate_corners_px": corners, "strip_lies": "unknown"}),
            "not-there.jpg",
        ),
    ] {
        let given = called(&["fog", &job(&format!("bad-{name}.json"), &text), "--json"]);
        assert_eq!(given.code, 1, "{name}");
        assert!(given.err.contains(said) && given.err.trim().lines().count() == 1, "{name}: {}", given.err);
    }
    // A photo of something else has no holes to count from: an answer, and it is no claim.
    let path = job("grey.json", &json!({"file": there, "gate_corners_px": corners, "strip_lies": "as-in-camera"}));
    let given = called(&["fog", &path, "--json"]);
    assert!(given.code == 1 || given.out.contains("cannot tell"), "{}{}", given.out, given.err);
}
