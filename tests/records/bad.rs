//! Files that are no good: each is refused, or taken, with exactly these words.
//!
//! Not here: what a page does with the sentence (`browser`).

use std::time::{Duration, Instant};

use record::{check, read_file};

use super::{names, text};

/// Every file of `bad/` with the error it gets.
const REFUSED: [(&str, &str); 16] = [
    (
        "another_format.json",
        "the file is no inspection: its format is \"lampblack-invoice\", and \"lampblack-inspection\" or \"lampblack-bench\" was expected",
    ),
    (
        "duplicate_key.json",
        "the file cannot be read at camera.maker (line 8, column 11): the key \"maker\" stands twice in one object",
    ),
    ("empty.json", "the file is empty"),
    ("list.json", "the file is no inspection: it must be one JSON object, and something else stands first"),
    ("nan.json", "the file is no JSON at battery.voltage_v (line 9, column 29): expected value"),
    (
        "newer_version.json",
        "the file is of version 3, and this program reads up to version 1: update the program; nothing was changed",
    ),
    (
        "no_doubt.json",
        "the inspection: the reference: a reference without a doubt is none: enter how well it is known, in stops",
    ),
    ("no_version.json", "the file says no version, and it must be from 1 to 1"),
    ("not_finite.json", "the file cannot be read at battery.voltage_v (line 9, column 33): the number is not finite"),
    (
        "time_over_zero.json",
        "the inspection: level 1, reading 1: the time must be a mark such as 1/125, 2 or 1/60+1/2, and \"1/0\" was given",
    ),
    (
        "too_many_runs.json",
        "the file cannot be read at meter.runs (line 9, column 225): the list has more than 50 entries, which is the most",
    ),
    ("truncated.json", "the file ends too early (line 28): it was cut off, so take it again from where it came"),
    (
        "unknown_condition.json",
        "the inspection: point bulb: the condition must be one of sound, worn, faulty, failed, not_fitted, not_checked, and \"splendid\" was given",
    ),
    (
        "unknown_kind.json",
        "the inspection: the kind must be one of single_lens_reflex, rangefinder, fixed_lens_compact, twin_lens_reflex, folding, large_format, and \"box\" was given",
    ),
    (
        "wrong_number.json",
        "the file cannot be read at revision (line 9, column 16): a whole number was expected, and integer `-1` was given",
    ),
    (
        "wrong_type.json",
        "the file cannot be read at meter.runs.0.levels.0.readings (line 11, column 41): a list was expected, and string \"three\" was given",
    ),
];

/// Every file of `tolerated/` with what is noticed.
const TOLERATED: [(&str, &[&str]); 6] = [
    ("byte_order_mark.json", &[]),
    (
        "many_unknown_keys.json",
        &[
            "This version does not know “later_0”; it was kept as it came.",
            "This version does not know “later_1”; it was kept as it came.",
            "This version does not know “later_2”; it was kept as it came.",
            "This version does not know “later_3”; it was kept as it came.",
            "This version does not know “later_4”; it was kept as it came.",
            "5 more unknown keys were kept as they came.",
        ],
    ),
    ("marks_disagree.json", &["Level 1, reading 1: the file says EV 9.0, its marks say EV 13.0; the marks count."]),
    (
        "proto.json",
        &[
            "This version does not know “camera.constructor”; it was kept as it came.",
            "This version does not know “__proto__”; it was kept as it came.",
        ],
    ),
    ("script_in_note.json", &[]),
    ("unknown_point.json", &["This version has no point “tape-deck”; its finding was kept and is not judged."]),
];

#[test]
fn each_bad_file_is_refused_in_these_words() {
    assert_eq!(names("bad"), REFUSED.map(|(name, _)| name.to_owned()));
    for (name, why) in REFUSED {
        let file = text(&format!("bad/{name}"));
        assert_eq!(read_file(&file).expect_err(name).to_string(), why, "{name}");
        assert!(!check(&file).valid, "{name}");
    }
}

#[test]
fn each_tolerable_file_is_taken_with_these_words() {
    assert_eq!(names("tolerated"), TOLERATED.map(|(name, _)| name.to_owned()));
    for (name, noticed) in TOLERATED {
        let checked = check(&text(&format!("tolerated/{name}")));
        assert!(checked.valid, "{name}");
        assert_eq!(checked.findings, noticed, "{name}");
    }
    let note = read_file(&text("tolerated/script_in_note.json")).expect("read").inspections.remove(0).notes;
    assert_eq!(note, "</title><script>alert(1)</script>");
}

#[test]
fn nesting_of_any_depth_is_refused_at_once() {
    let begun = Instant::now();
    for open in ["[", "{\"a\":", "[{\"a\":"] {
        let deep = format!("{{\"a\":{}", open.repeat(200_000));
        let error = read_file(&deep).expect_err("refused").to_string();
        assert_eq!(error, "the file is nested more than 64 levels deep, which no inspection is");
    }
    assert!(begun.elapsed() < Duration::from_secs(5));
}

#[test]
fn a_huge_file_is_refused_by_its_size() {
    let error = read_file(&" ".repeat(200 * 1024 * 1024)).expect_err("refused").to_string();
    assert_eq!(error, "the file is 200 MB long, and at most 20 MB are taken");
}

#[test]
fn a_small_file_cannot_ask_for_much_memory() {
    let many = |list: &str, format: &str| {
        let entries = "{},".repeat(1_000_000);
        format!("{{\"format\": \"{format}\", \"version\": 1, \"id\": \"a\", \"{list}\": [{entries}{{}}]}}")
    };
    let error = read_file(&many("inspections", "lampblack-bench")).expect_err("refused").to_string();
    assert!(error.contains("more than 20000 entries"), "{error}");
    let error = read_file(&many("findings", "lampblack-inspection")).expect_err("refused").to_string();
    assert!(error.contains("more than 500 entries"), "{error}");
    let keys: Vec<String> = (0..2_000).map(|i| format!("\"k{i}\": 0")).collect();
    let error = read_file(&format!("{{{}}}", keys.join(","))).expect_err("refused").to_string();
    assert!(error.contains("more than 1000 keys"), "{error}");
}
