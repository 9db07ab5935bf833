//! The verbs that work on inspections: judge, sheet, check, schema.
//!
//! Not here: what each bad file is told, which the records' own test has word for word.

use std::fs::File;

use serde_json::Value;

use super::{called, fed, record, written};

#[test]
fn judge_gives_the_outcome_and_why() {
    let json = called(&["judge", &record("v1/corvane.json"), "--json"]).json();
    assert_eq!(json["outcome"], "ready_with_limits");
    for key in ["reasons", "limits", "unchecked", "film_error", "remedies"] {
        assert!(json[key].is_array(), "{key}");
    }
    let rows = json["film_error"].as_array().expect("rows");
    assert!(rows.iter().any(|row| row["usage"] == "metered" && row["error_stops"].is_number()));
    assert_eq!(rows[0]["verdicts"].as_array().map(Vec::len), json["films"].as_array().map(Vec::len));
    let given = called(&["judge", &record("v1/osk.json")]);
    let table = given.table();
    assert!(table.contains("not yet known") && table.contains("Not checked, and it matters"), "{table}");
}

#[test]
fn judge_takes_one_of_a_backup_by_its_id() {
    let one = std::fs::read_to_string(record("v1/osk.json")).expect("read");
    let other = std::fs::read_to_string(record("v1/halden.json")).expect("read");
    let id = serde_json::from_str::<Value>(&other).expect("JSON")["id"].as_str().expect("an id").to_owned();
    let bench = format!("{{\"format\": \"lampblack-bench\", \"version\": 1, \"inspections\": [{one}, {other}]}}");
    let path = written("bench.json", &bench);
    let given = called(&["judge", &path]);
    assert!(given.refused(1).ends_with("it holds 2 inspections: choose one with --id"));
    assert_eq!(called(&["judge", &path, "--id", &id, "--json"]).json()["outcome"], "ready");
    assert!(called(&["judge", &path, "--id", "none"]).refused(1).contains("no inspection with the id none"));
}

#[test]
fn a_file_that_is_no_good_has_no_outcome() {
    for (name, why) in [("bad/empty.json", "the file is empty"), ("bad/truncated.json", "ends too early")] {
        for verb in ["judge", "sheet"] {
            let given = called(&[verb, &record(name), "--json"]);
            assert!(given.refused(1).contains(why));
        }
    }
    called(&["judge", "no such file.json"]).refused(1);
    called(&["judge", &record("v1")]).refused(1);
    let given = fed(&["judge", "-"], &[0x7b, 0xff, 0x7d]);
    assert!(given.refused(1).ends_with("it is not text in UTF-8 (byte 2)"));
}

#[test]
fn a_huge_file_is_not_read() {
    let path = written("huge.json", "");
    File::options().write(true).open(&path).and_then(|file| file.set_len(200 * 1024 * 1024)).expect("a huge file");
    let given = called(&["judge", &path]);
    assert!(given.refused(1).ends_with("it is 200 MB or more long, and at most 20 MB are taken"));
    let json = called(&["check", &path, "--json"]).json();
    assert_eq!(json["valid"], false);
}

#[test]
fn a_sheet_is_one_page_that_needs_nothing_else() {
    let out = written("sheet.html", "");
    let at = "2026-03-01T09:30:00Z";
    let given = called(&["sheet", &record("v1/brindle.json"), "-o", &out, "--at", at]);
    assert_eq!((given.code, given.out.as_str(), given.err.as_str()), (0, "", ""));
    let html = std::fs::read_to_string(&out).expect("a sheet");
    assert_eq!(called(&["sheet", &record("v1/brindle.json"), "--at", at]).out, html);
    for part in [
        "<!DOCTYPE html>",
        "<article class=\"sheet dense-",
        "<h1>Brindle",
        "class=\"call call-wants_service\"",
        "<svg viewBox",
        "2026-03-01",
    ] {
        assert!(html.contains(part), "{part}");
    }
    for part in ["<script", "<link", "<img", "src=", "url(", "@import", "http:", "https:"] {
        assert!(!html.contains(part), "{part}");
    }
    assert!(called(&["sheet", &record("v1/brindle.json"), "--at", "noon"]).refused(1).contains("RFC 3339"));
    assert!(called(&["sheet", &record("v1/brindle.json"), "--json"]).json()["blocks"].is_array());
}

#[test]
fn the_words_come_in_three_lengths_and_for_the_service_bench() {
    let of = |length: &str| called(&["wording", &record("v1/brindle.json"), "--length", length]).out;
    assert!(of("line").starts_with("Brindle Wayfarer C") && of("line").lines().count() == 1);
    assert!(of("service").contains("To mend:\n- Door channel"), "{}", of("service"));
    assert_eq!(called(&["wording", &record("v1/brindle.json")]).out, of("full"));
    let json = called(&["wording", &record("v1/brindle.json"), "--json"]).json();
    assert_eq!(json["texts"].as_array().map(Vec::len), Some(4));
    assert!(
        called(&["wording", &record("v1/brindle.json"), "--length", "novel"]).refused(2).contains("line, paragraph")
    );
}

#[test]
fn two_inspections_are_laid_side_by_side_the_earlier_first() {
    let (one, other) = (record("v1/halden.json"), record("v1/brindle.json"));
    let json = called(&["compare", &other, &one, "--json"]).json();
    assert_eq!((&json["before"]["outcome"], &json["after"]["outcome"]), (&"ready".into(), &"wants_service".into()));
    let table = called(&["compare", &one, &other]).out;
    assert!(table.contains("From ready to wants service") && table.contains("two cameras"), "{table}");
    assert!(called(&["compare", &one]).refused(2).contains("and 1 were given"));
}

#[test]
fn the_table_has_a_row_for_each_finding_and_measurement() {
    let csv = called(&["table", &record("v1/osk.json")]).out;
    let mut rows = csv::Reader::from_reader(csv.as_bytes());
    let heads = rows.headers().expect("heads").clone();
    let rows: Vec<csv::StringRecord> = rows.records().collect::<Result<_, _>>().expect("rows");
    let of = |kind: &str| rows.iter().filter(|row| row.get(7) == Some(kind)).count();
    assert_eq!((heads.get(7), of("finding"), of("shutter")), (Some("row"), 2, 6));
    let lines = called(&["table", &record("v1/osk.json"), "--as", "ndjson"]).out;
    assert_eq!(lines.lines().count(), rows.len());
    let first: Value = serde_json::from_str(lines.lines().next().expect("a line")).expect("JSON");
    assert_eq!(
        (&first["row"], &first["item"], &first["error_stops"]),
        (&"finding".into(), &"bellows-corners".into(), &Value::Null)
    );
    assert!(called(&["table", &record("v1/osk.json"), "--as", "xml"]).refused(2).contains("csv or ndjson"));
}

#[test]
fn a_script_in_a_note_stays_a_text_on_the_sheet() {
    let html = called(&["sheet", &record("tolerated/script_in_note.json")]).out;
    assert!(html.contains("&lt;script&gt;alert(1)&lt;/script&gt;") && !html.contains("<script"));
}

#[test]
fn a_sheet_never_overwrites_its_inspection() {
    let text = std::fs::read_to_string(record("v1/osk.json")).expect("read");
    let path = written("kept.json", &text);
    called(&["sheet", &path, "-o", &path]).refused(2);
    assert_eq!(std::fs::read_to_string(&path).expect("read"), text);
    called(&["sheet", &path, "-o", "no such folder/sheet.html"]).refused(1);
}

#[test]
fn check_says_what_is_wrong_with_each_file() {
    let good = record("v1/halden.json");
    let json = called(&["check", &good, "--json"]).json();
    assert_eq!((&json["valid"], json["findings"].as_array().map(Vec::len)), (&Value::Bool(true), Some(0)));
    let both = called(&["check", &good, &record("bad/duplicate_key.json"), "no such file.json", "--json"]).json();
    assert_eq!(both["valid"], false);
    assert_eq!(both["files"][0]["valid"], true);
    assert!(both["files"][1]["findings"][0].as_str().is_some_and(|text| text.contains("stands twice")));
    assert_eq!(both["files"][2]["valid"], false);
    let given = called(&["check", &record("bad/empty.json"), &record("tolerated/proto.json")]);
    assert!(given.out.contains("not valid\n- The file is empty.\n") && given.out.contains("“__proto__”"));
    called(&["check", "no such file.json"]).refused(1);
}

#[test]
fn the_schema_is_one_json_object() {
    let json = called(&["schema"]).json();
    assert_eq!(json["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert_eq!(called(&["schema", "--json"]).json(), json);
}
