//! Properties that every file has: writing, reading and writing again gives the same bytes; no text does any harm.
//!
//! Not here: the files that are kept (`kept`).

use proptest::prelude::*;
use record::v1::{Finding, Inspection};
use record::{accept, read_file, write_file};

use super::{names, text};

const NOW: &str = "2026-03-01T09:30:00Z";
const SEEDS: usize = 5;
const CONDITIONS: [&str; 6] = ["sound", "worn", "faulty", "failed", "not_fitted", "not_checked"];
const POINTS: [&str; 6] = ["bulb", "dents", "advance", "inner-haze", "of another version", "front-glass"];

fn file(seed: usize) -> String {
    text(&format!("v1/{}", names("v1")[seed]))
}

fn inspection(seed: usize) -> Inspection {
    read_file(&file(seed)).expect("read").inspections.remove(0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn write_read_write_is_the_identity(
        seed in 0..SEEDS,
        maker in ".{0,40}",
        notes in any::<String>(),
        tolerance in 0.01..3.0_f64,
        each in 0.001..2.0_f64,
        shared in 0.0..2.0_f64,
        value in proptest::option::of(0.0..1e6_f64),
        conditions in proptest::collection::vec(0..6_usize, 0..12),
        fewer in 0..3_usize,
    ) {
        let mut inspection = inspection(seed);
        inspection.camera.maker = maker;
        inspection.notes = notes;
        inspection.costs.value = value.map_or_else(String::new, |value| format!("{value:.2}"));
        for run in &mut inspection.meter.runs {
            run.tolerance_stops = tolerance;
            run.reference.each_doubt_stops = each;
            run.reference.shared_doubt_stops = shared;
            run.levels.truncate(run.levels.len() - fewer);
        }
        for (i, condition) in conditions.into_iter().enumerate() {
            inspection.findings.push(Finding {
                point: POINTS[i % POINTS.len()].to_owned(),
                condition: CONDITIONS[condition].to_owned(),
                ..Finding::default()
            });
        }
        let kept = accept(inspection.clone(), NOW).expect("accepted").inspection;
        let written = write_file(&kept).expect("text");
        let taken = read_file(&written).expect("read");
        prop_assert_eq!(&taken.inspections[0], &kept);
        prop_assert_eq!(write_file(&taken.inspections[0]).expect("text"), written);
    }

    #[test]
    fn no_text_makes_a_panic(text in any::<String>(), json in "[\\[\\]{}\",:0-9a-z\\\\. -]{0,200}") {
        let _ = read_file(&text);
        let _ = read_file(&json);
        let _ = read_file(&format!("{{{json}"));
        let _ = read_file(&format!("{{\"format\": \"lampblack-inspection\", \"version\": 1, {json}"));
    }

    #[test]
    fn a_file_that_was_spoilt_is_read_or_refused(
        seed in 0..SEEDS,
        at in any::<prop::sample::Index>(),
        length in 0..40_usize,
        put in ".{0,8}",
    ) {
        let letters: Vec<char> = file(seed).chars().collect();
        let at = at.index(letters.len());
        let after = (at + length).min(letters.len());
        let spoilt: String = letters[..at].iter().copied().chain(put.chars()).chain(letters[after..].iter().copied()).collect();
        if let Ok(taken) = read_file(&spoilt) {
            for inspection in &taken.inspections {
                prop_assert!(write_file(inspection).is_ok());
            }
        }
        // Cut off anywhere before its last brace it is no file.
        if at + 1 < letters.len() {
            let cut: String = letters[..at].iter().collect();
            prop_assert!(read_file(&cut).is_err());
        }
    }
}
