//! Every recording and every frame table of the tests, as it is measured natively: each number of a take to its last bit.
//!
//! Not here: the same in the browser (`tests/browser/parity.test.mjs`); whether the times are true (`timing`'s own tests).

use std::fs;
use std::path::PathBuf;

use record::page::{FrameTable, TakeAbout};
use serde_json::json;

use crate::{plain, write};

const STARTED: &str = "2026-03-01T09:30:00Z";
/// Least number of signals: fewer would mean that the folder was not found.
const LEAST: usize = 30;

/// The marks of a ladder, so that series and anchors are gone through as well.
const LADDER: [&str; 6] = ["1/8", "1/30", "1/60", "1/125", "1/500", "1/1000"];

fn about(name: &str) -> TakeAbout {
    let signal = name.split('-').next().unwrap_or_default();
    let build = ["cloth", "metal", "leaf"].into_iter().find(|build| name.contains(build)).unwrap_or_default();
    let asked = if name.contains("ladder-cloth") { LADDER.map(str::to_owned).to_vec() } else { Vec::new() };
    TakeAbout {
        started: STARTED.to_owned(),
        signal: signal.to_owned(),
        source: name.to_owned(),
        build: build.to_owned(),
        mirror: name.contains("slr"),
        asked,
        ..TakeAbout::default()
    }
}

/// A row is the frame, its time [s], three strips as coded, and the same three in linear light.
fn frames(text: &str) -> FrameTable {
    let mut table = FrameTable::default();
    for line in text.lines().skip(1) {
        let numbers: Vec<f64> = line.split(',').filter_map(|cell| cell.trim().parse().ok()).collect();
        if let [_, time, _, _, _, left, middle, right] = numbers.as_slice() {
            table.push(*time, [*left, *middle, *right], 0.0);
        }
    }
    table
}

#[test]
fn native_takes_are_written_for_the_browser_to_hold_against() {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("signals/timing");
    let mut names: Vec<String> = fs::read_dir(&folder)
        .expect("the signals")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    let (mut lines, mut count) = (String::new(), 0);
    for name in names {
        let about = about(&name);
        let said = |result: Result<record::page::MeasuredTake, record::Error>| match result {
            Ok(measured) => json!({ "take": plain(&measured) }),
            Err(error) => json!({ "error": error.to_string() }),
        };
        let (frames, output) = if name.ends_with(".wav") {
            (None, said(record::measure_wav(&fs::read(folder.join(&name)).expect("a recording"), &about)))
        } else if name.ends_with(".csv") {
            let table = frames(&fs::read_to_string(folder.join(&name)).expect("a table"));
            let output = said(record::measure_frames(&table, &about));
            (Some(table), output)
        } else {
            continue;
        };
        lines.push_str(
            &json!({ "file": name, "about": plain(&about), "frames": plain(&frames), "output": output }).to_string(),
        );
        lines.push('\n');
        count += 1;
    }
    assert!(count >= LEAST, "{count} signals");
    write("signals.ndjson", &lines);
}
