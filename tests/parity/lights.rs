//! Light that is already there, as it is worked out natively: sun and sky at many places, and a patch of a photo.
//!
//! Not here: the same in the browser (`tests/browser/parity.test.mjs`).

use std::fs;
use std::path::PathBuf;

use record::page::{PatchSums, PhotoPatch};
use serde_json::json;
use tests::Chance;

use crate::{plain, write};

/// How many places and moments.
const PLACES: usize = 60;
/// The patch, whose codes both sides make from the same rule.
const PATCH: (u32, u32) = (48, 32);

#[test]
fn native_lights_are_written_for_the_browser_to_hold_against() {
    let mut chance = Chance(11);
    let mut lines = String::new();
    let mut line = |value: serde_json::Value| {
        lines.push_str(&value.to_string());
        lines.push('\n');
    };
    for _ in 0..PLACES {
        let at = format!(
            "20{:02}-{:02}-{:02}T{:02}:{:02}:00Z",
            10 + chance.below(40),
            1 + chance.below(12),
            1 + chance.below(28),
            chance.below(24),
            chance.below(60)
        );
        let (latitude, longitude) = (chance.uniform() * 170.0 - 85.0, chance.uniform() * 360.0 - 180.0);
        let (latitude, longitude) = (format!("{latitude:.1}"), format!("{longitude:.1}"));
        let sky = ["clear", "partly", "cloudy"][chance.below(3)];
        let view = record::sun_view(&at, 60, &latitude, &longitude, sky).expect("a view");
        line(json!({ "sun": [at, 60, latitude, longitude, sky], "output": plain(&view) }));
    }
    let rgba: Vec<u8> = (0..PATCH.0 * PATCH.1 * 4).map(|i| (60 + i * 37 % 97) as u8).collect();
    let patch = PhotoPatch { x: 0, y: 0, width: PATCH.0, height: PATCH.1 };
    let empty = PatchSums { patch, ..PatchSums::default() };
    let sums = record::photo_strip(&empty, &rgba, PATCH.0, 0, 0).expect("a strip");
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("pictures");
    for name in ["ideal_03.jpg", "phone2_test_0.jpg"] {
        let bytes = fs::read(folder.join(name)).expect("a picture");
        let light = record::photo_light(&bytes, Some(&sums), None).expect("a light");
        assert!(!light.ev_words.is_empty(), "{name}");
        line(
            json!({ "photo": name, "patch": [PATCH.0, PATCH.1], "output": { "sums": plain(&sums), "light": plain(&light) } }),
        );
    }
    write("lights.ndjson", &lines);
}
