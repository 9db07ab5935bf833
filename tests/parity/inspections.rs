//! A few hundred made-up inspections, as they are accepted natively.
//!
//! Not here: the same in the browser (`tests/browser/parity.test.mjs`).

use record::v1::{Inspection, Level, Reading, Reference, ReferenceValue, Run, Setting};
use tests::Chance;

use crate::write;

const NOW: &str = "2026-03-01T09:30:00Z";
const HOW_MANY: usize = 320;

fn made(i: usize, chance: &mut Chance) -> Inspection {
    let kinds = record::lists().kinds;
    let kind = &kinds[i % kinds.len()].key;
    let first = record::new_inspection(kind, &format!("parity-{i}"), NOW).expect("a new inspection");
    let mut made = first.inspection;
    let times = ["1/8", "1/15", "1/30", "1/60+1/3", "1/125", "1/250+1/2", "1/500"];
    let numbers = ["2", "2.8+1/3", "4", "5.6+1/2", "8", "11"];
    let levels = (0..chance.below(10))
        .map(|_| {
            let time = times[chance.below(times.len())].to_owned();
            let f_number = numbers[chance.below(numbers.len())].to_owned();
            let setting = Setting { time, f_number, film_speed: "400".to_owned(), ..Setting::default() };
            let typed = format!("{}.{}", 5 + chance.below(4), chance.below(10));
            let reading = Reading {
                way: "needle".to_owned(),
                setting: Some(setting),
                resolution: "third".to_owned(),
                ..Reading::default()
            };
            Level {
                at: NOW.to_owned(),
                reference: ReferenceValue { way: "ev".to_owned(), typed, ..ReferenceValue::default() },
                readings: vec![reading; 1 + chance.below(3)],
            }
        })
        .collect();
    made.meter.runs.push(Run {
        started: NOW.to_owned(),
        reference: Reference {
            kind: "meter".to_owned(),
            each_doubt_stops: 0.05 * (1 + chance.below(8)) as f64,
            shared_doubt_stops: 0.05 * chance.below(9) as f64,
            ..Reference::default()
        },
        more_references: Vec::new(),
        tolerance_stops: [1.0 / 3.0, 0.5, 1.0][chance.below(3)],
        film_speed: "400".to_owned(),
        levels,
    });
    for point in first.view.areas.iter().flat_map(|area| &area.points) {
        let condition = ["sound", "worn", "faulty", "failed", "not_fitted", "not_checked"][chance.below(6)];
        made.findings.push(record::v1::Finding {
            point: point.key.clone(),
            condition: condition.to_owned(),
            ..record::v1::Finding::default()
        });
    }
    made
}

#[test]
fn native_results_are_written_for_the_browser_to_hold_against() {
    let mut chance = Chance(7);
    let mut lines = String::new();
    for i in 0..HOW_MANY {
        let inspection = made(i, &mut chance);
        let input = record::write_file(&inspection).expect("an input");
        let accepted = record::accept(inspection.clone(), NOW).expect("accepted").inspection;
        let output = record::write_file(&accepted).expect("an output");
        let again = record::read_file(&output).expect("read back");
        assert!(again.findings.is_empty(), "{:?}", again.findings);
        assert_eq!(record::write_file(&again.inspections[0]).expect("written"), output, "write, read, write");
        lines.push_str(&serde_json::json!({ "input": input, "output": output }).to_string());
        lines.push('\n');
    }
    write("inspections.ndjson", &lines);
}
