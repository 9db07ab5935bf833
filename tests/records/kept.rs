//! Files of version 1 stay readable, and writing what was read gives the same bytes.
//!
//! Not here: files that are no good (`bad`).

use record::{read_file, same, schema_text, write_bench, write_file};

use super::{names, text};

const NOW: &str = "2026-03-01T09:30:00Z";

#[test]
fn every_file_of_version_1_is_read_and_loses_nothing() {
    let mut outcomes = Vec::new();
    for name in names("v1") {
        let file = text(&format!("v1/{name}"));
        let taken = read_file(&file).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!((taken.kind.as_str(), taken.inspections.len()), ("inspection", 1), "{name}");
        let inspection = &taken.inspections[0];
        outcomes.push((name.clone(), inspection.result.as_ref().expect("a result").outcome.clone()));
        // What is worked out may be said in better words by a later program; what a person entered may not change.
        let kept: record::v1::Inspection = serde_json::from_str(&file).expect("the shape");
        assert!(same(&kept, inspection), "{name}");
        let written = write_file(inspection).expect("text");
        let again = read_file(&written).expect("read");
        assert_eq!(again.findings, Vec::<String>::new(), "{name}");
        assert_eq!(write_file(&again.inspections[0]).expect("text"), written, "{name}");
    }
    let told: Vec<(&str, &str)> = outcomes.iter().map(|(name, outcome)| (name.as_str(), outcome.as_str())).collect();
    assert_eq!(
        told,
        [
            ("brindle.json", "wants_service"),
            ("corvane.json", "ready_with_limits"),
            ("every_way.json", "wants_service"),
            ("halden.json", "ready"),
            ("osk.json", "not_yet_known"),
        ]
    );
}

#[test]
fn numbers_stand_beside_their_texts() {
    let held = read_file(&text("v1/every_way.json")).expect("read").inspections.remove(0);
    let level = &held.meter.runs[0].levels[4];
    assert_eq!((level.reference.typed.as_str(), level.reference.illuminance_lux), ("3 200", Some(3200.0)));
    let setting = &held.meter.consistency[0].setting;
    assert_eq!((setting.time.as_str(), setting.time_s, setting.f_number_exact), ("1/60", Some(1.0 / 64.0), Some(8.0)));
    assert_eq!((held.battery.voltage.as_str(), held.battery.voltage_v), ("1,52", Some(1.52)));
}

#[test]
fn a_backup_holds_them_all() {
    let all: Vec<_> = names("v1")
        .iter()
        .map(|name| read_file(&text(&format!("v1/{name}"))).expect("read").inspections.remove(0))
        .collect();
    let backup = write_bench(&all, NOW).expect("text");
    let taken = read_file(&backup).expect("read");
    assert_eq!((taken.kind.as_str(), &taken.inspections, taken.findings.len()), ("bench", &all, 0));
    assert_eq!(write_bench(&taken.inspections, NOW).expect("text"), backup);
}

#[test]
fn nothing_that_was_in_a_file_is_dropped() {
    let taken = read_file(&text("tolerated/many_unknown_keys.json")).expect("read");
    let kept: Vec<(&str, &str)> =
        taken.inspections[0].foreign.iter().map(|foreign| (foreign.path.as_str(), foreign.json.as_str())).collect();
    assert_eq!(kept.len(), 10);
    assert_eq!(kept[8..], [("a.b", "1"), ("?", "2")]);
    let again = read_file(&write_file(&taken.inspections[0]).expect("text")).expect("read");
    assert_eq!(again.inspections[0].foreign, taken.inspections[0].foreign);
    // A key beside the inspections of a backup goes with the first of them.
    let one = text("tolerated/script_in_note.json");
    let bench =
        format!("{{\"format\": \"lampblack-bench\", \"version\": 1, \"shop\": \"x\", \"inspections\": [{one}]}}");
    let foreign = &read_file(&bench).expect("read").inspections[0].foreign;
    assert_eq!((foreign[0].path.as_str(), foreign[0].json.as_str()), ("bench.shop", "\"x\""));
}

#[test]
fn a_difference_from_what_the_file_worked_out_is_said() {
    let file = text("v1/halden.json").replacen("\"outcome\": \"ready\"", "\"outcome\": \"for_parts\"", 1);
    let taken = read_file(&file).expect("read");
    assert_eq!(
        taken.findings,
        ["What the file says was worked out differs from what this program works out; what it works out counts."]
    );
    assert_eq!(taken.inspections[0].result.as_ref().expect("a result").outcome, "ready");
}

#[test]
fn the_schema_is_always_the_same_and_names_what_must_be_there() {
    let schema: serde_json::Value = serde_json::from_str(&schema_text()).expect("JSON");
    assert_eq!(schema_text(), schema_text());
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert_eq!(schema["required"], serde_json::json!(["format", "version", "id", "camera"]));
    assert_eq!(schema["properties"]["version"]["const"], 1);
}
