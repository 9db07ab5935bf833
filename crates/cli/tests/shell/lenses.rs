//! The verbs on openings and glare, on the computed pictures with a known truth.
//!
//! The corpus is found as in [`super::pictures`]; a small choice lies in the tree. Not here: single photos.

use std::path::{Path, PathBuf};

use serde_json::{Value, json};

use super::pictures::{corpus, tree};
use super::{called, written};

fn truth(folder: &Path) -> Vec<Value> {
    let Ok(text) = std::fs::read_to_string(folder.join("truth.json")) else {
        println!("{} is not here: nothing was compared", folder.display());
        return Vec::new();
    };
    serde_json::from_str(&text).expect("truth as JSON")
}

fn path(base: &Path, name: &Value) -> String {
    base.join(name.as_str().expect("a name")).display().to_string()
}

/// Exact f-number of a mark in the truth.
fn exact(mark: f64) -> f64 {
    photometry::FNumberMark::parse(&mark.to_string(), &[]).expect("a mark").exact().value()
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let (low, high) = (values[(values.len() - 1) / 2], values[values.len() / 2]);
    (low + high) / 2.0
}

fn codes(answer: &Value) -> Vec<&str> {
    let stops = answer["stops"].as_array().into_iter().flatten().flat_map(|stop| stop["notices"].as_array());
    let all = stops.chain(answer["notices"].as_array()).flatten();
    all.filter_map(|notice| notice["code"].as_str()).collect()
}

/// Looks at one lens: errors within the tolerance, blades and odd blade, flag. Gives how many of its errors lie within their own
/// doubt, of how many.
fn lens(case: &Value, base: &Path) -> (usize, usize) {
    let name = case["case"].as_str().expect("a case");
    let shots: Vec<Value> = case["files"]
        .as_array()
        .expect("files")
        .iter()
        .map(|file| json!({ "f_number": file["f_number"].to_string(), "file": path(base, &file["file"]) }))
        .collect();
    let job = json!({ "centre_px": case["inputs"]["center"], "shots": shots }).to_string();
    let file = written(&format!("{}.json", name.replace(' ', "-")), &job);
    let answer = called(&["blades", &file, "--json"]).json();
    let stops = answer["stops"].as_array().expect("stops");
    let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{name}: {value} is no number"));
    let reduced: Vec<f64> = case["truth"]["per_stop"]
        .as_array()
        .expect("a truth")
        .iter()
        .map(|stop| libm::log2(number(&stop["area_px"])) + 2.0 * libm::log2(exact(number(&stop["f"]))))
        .collect();
    let middle = median(reduced[1..].to_vec());
    let tolerance = number(&case["expect"]["tol_stops"]);
    let mut inside = 0;
    for (stop, truth) in stops.iter().zip(&reduced) {
        let off = number(&stop["error_stops"]) - (truth - middle);
        assert!(off.abs() <= tolerance, "{name}, f/{}: {off}", stop["f_number"]);
        inside += usize::from(off.abs() <= 1.96 * number(&stop["standard_uncertainty_stops"]));
    }
    assert_eq!(answer["blade_count"], case["truth"]["blades"], "{name}");
    let odd = answer["odd_blades"].as_array().expect("a list");
    match case["expect"]["stuck"]["amount"].as_f64() {
        None => assert!(odd.is_empty(), "{name}: {odd:?}"),
        Some(amount) => {
            assert_eq!(odd.len(), 1, "{name}");
            assert!((number(&odd[0]["deviation"]) - amount).abs() < 0.02, "{name}: {odd:?}");
        }
    }
    let codes = codes(&answer);
    match case["expect"]["flag"].as_str() {
        Some(flag) => assert!(codes.contains(&flag), "{name}: {codes:?}"),
        None => assert!(!codes.contains(&"background_clipped"), "{name}: {codes:?}"),
    }
    (inside, stops.len())
}

#[test]
fn the_openings_of_the_tree_are_measured() {
    let cases = truth(&tree().join("blades"));
    assert!(!cases.is_empty());
    for case in cases {
        lens(&case, &tree().join("blades"));
    }
}

#[test]
fn the_openings_of_the_corpus_are_measured_and_their_doubt_is_true() {
    let looked: Vec<(usize, usize)> = truth(&corpus().join("C")).iter().map(|case| lens(case, &corpus())).collect();
    let (inside, all) = looked.iter().fold((0, 0), |sum, own| (sum.0 + own.0, sum.1 + own.1));
    assert!(10 * inside >= 9 * all, "{inside} of {all}");
}

#[test]
fn a_broken_picture_is_named_and_the_others_go_on() {
    let cases = truth(&tree().join("blades"));
    let files = cases[0]["files"].as_array().expect("files");
    let mut shots: Vec<Value> = files
        .iter()
        .map(|file| json!({ "f_number": file["f_number"], "file": path(&tree().join("blades"), &file["file"]), "from": "open" }))
        .collect();
    shots.push(json!({ "f_number": "22", "file": tree().join("odd_53_pixels_truncated.jpg").display().to_string() }));
    shots.push(json!({ "f_number": "32", "file": tree().join("odd_35_hdr.jpg").display().to_string() }));
    let job = json!({ "centre_px": cases[0]["inputs"]["center"], "shots": shots }).to_string();
    let answer = called(&["blades", &written("broken.json", &job), "--json"]).json();
    let codes = codes(&answer);
    assert!(codes.contains(&"pixels_unreadable") && codes.contains(&"different_size"), "{codes:?}");
    let table = called(&["blades", &written("broken.json", &job)]);
    assert!(table.table().contains("f/22") && table.out.contains("damaged"), "{}", table.out);
    let none =
        called(&["blades", &written("none.json", r#"{"centre_px":[5,5],"shots":[{"f_number":"8","file":"no.jpg"}]}"#)]);
    assert!(none.refused(1).contains("no.jpg") && none.err.contains("at least 2 marks"), "{}", none.err);
    let bad = called(&["blades", &written("bad.json", "{")]);
    assert!(bad.refused(1).contains("it is no job"), "{}", bad.err);
}

fn glare_job(case: &Value, base: &Path, long: bool, reference: bool) -> String {
    let files = &case["files"];
    let pair = |which: &str| {
        let normal = path(base, &files[format!("{which}_normal")]);
        if long {
            json!({ "normal": normal, "long": path(base, &files[format!("{which}_long")]) })
        } else {
            json!({ "normal": normal })
        }
    };
    let mut job = json!({
        "centre_px": case["inputs"]["center"], "radius_px": case["inputs"]["radius"], "with_lens": pair("with_lens"),
    });
    if reference {
        job["without_lens"] = pair("no_lens");
    }
    let name =
        format!("{}-{long}-{reference}.json", case["case"].as_str().expect("a case").replace([' ', ',', '%'], "-"));
    written(&name, &job.to_string())
}

/// Looks at one case; every way must hold within its own doubt, the best one within the corpus's tolerance too.
fn glare(case: &Value, base: &Path) {
    let truth = case["expect"]["vgi_null_minus_ref"].as_f64().expect("a truth");
    for (long, reference) in [(true, true), (false, true), (false, false)] {
        let answer = called(&["glare", &glare_job(case, base, long, reference), "--json"]).json();
        let (found, doubt) = (
            answer["glare_index"].as_f64().expect("an index"),
            answer["standard_uncertainty"].as_f64().expect("a doubt"),
        );
        assert_eq!(answer["method"], if long { "two-exposure" } else { "single" });
        assert!((found - truth).abs() <= 2.0 * doubt, "{}: {found} ± {doubt} for {truth}", case["case"]);
        if long {
            let factor = case["expect"]["tol_factor"].as_f64().expect("a factor");
            let close = (found - truth).abs() <= case["expect"]["tol_abs"].as_f64().expect("a tolerance");
            assert!(close || (found / truth <= factor && truth / found <= factor), "{}: {found}", case["case"]);
        }
    }
}

#[test]
fn the_glare_of_the_tree_and_of_the_corpus_is_within_its_doubt() {
    let own: PathBuf = tree().join("glare");
    let cases = truth(&own);
    assert!(!cases.is_empty());
    for case in &cases {
        glare(case, &own);
    }
    for case in truth(&corpus().join("D")) {
        glare(&case, &corpus());
    }
    let table = called(&["glare", &glare_job(&cases[0], &own, false, false)]);
    assert!(table.table().contains("never by what") && table.out.contains("rough"), "{}", table.out);
}
