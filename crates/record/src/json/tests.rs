//! The reader and the writer held against `serde_json`: the same shapes, the same bytes, the same places of what is wrong.
//!
//! Not here: whole files, which `tests/records` has.

use proptest::prelude::*;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::{from_text, to_compact, to_pretty};

#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, Shape)]
#[serde(default)]
struct Thing {
    text: String,
    number: Option<f64>,
    count: u32,
    below: i64,
    large: u64,
    yes: bool,
    list: Vec<f64>,
    pair: Vec<[f64; 2]>,
    inner: Vec<Inner>,
    one: Option<Box<Inner>>,
}

#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, Shape)]
#[serde(default)]
struct Inner {
    name: String,
    rows: Vec<Vec<String>>,
}

fn inner() -> impl Strategy<Value = Inner> {
    (any::<String>(), prop::collection::vec(prop::collection::vec(any::<String>(), 0..3), 0..3))
        .prop_map(|(name, rows)| Inner { name, rows })
}

prop_compose! {
    fn thing()(
        text in any::<String>(),
        number in prop::option::of(any::<f64>().prop_filter("finite", |value| value.is_finite())),
        count in any::<u32>(),
        below in any::<i64>(),
        large in any::<u64>(),
        yes in any::<bool>(),
        list in prop::collection::vec(any::<f64>().prop_filter("finite", |value| value.is_finite()), 0..5),
        pair in prop::collection::vec(prop::array::uniform2(-9.0..9.0_f64), 0..3),
        inner_list in prop::collection::vec(inner(), 0..3),
        one in prop::option::of(inner()),
    ) -> Thing {
        Thing { text, number, count, below, large, yes, list, pair, inner: inner_list, one: one.map(Box::new) }
    }
}

proptest! {
    #[test]
    fn both_write_the_same_and_read_it_back(thing in thing()) {
        let pretty = to_pretty(&thing);
        prop_assert_eq!(&pretty, &serde_json::to_string_pretty(&thing).expect("written"));
        let compact = to_compact(&thing);
        prop_assert_eq!(&compact, &serde_json::to_string(&thing).expect("written"));
        for text in [pretty, compact] {
            prop_assert_eq!(from_text::<Thing>(&text), Ok(thing.clone()));
        }
    }

    #[test]
    fn a_damaged_text_is_refused_where_the_other_refuses_it(thing in thing(), at in any::<prop::sample::Index>(), byte in any::<u8>()) {
        let mut bytes = to_pretty(&thing).into_bytes();
        let at = at.index(bytes.len());
        bytes[at] = byte;
        let Ok(text) = String::from_utf8(bytes) else { return Ok(()) };
        let (own, other) = (from_text::<Thing>(&text), serde_json::from_str::<Thing>(&text));
        // What the other takes, this one takes as the same. (Looking texts through beforehand is the other's part.)
        if let Ok(other) = other {
            prop_assert_eq!(own, Ok(other));
        }
    }
}

#[test]
fn what_does_not_fit_is_said_with_its_place() {
    for text in [
        "{\n \"text\": 3}",
        "{\"count\": -1}",
        "{\"count\": 1.5}",
        "{\"count\": 4294967296}",
        "{\n\n\"list\": \"three\"}",
        "{\"yes\": null}",
        "{\"list\": [1, true]}",
        "{\"number\": \"wide\"}",
        "{\"inner\": [[]]}",
        "{\"inner\": [\"x\"]}",
        "{\"text\": {}}",
        "{\"text\": []}",
    ] {
        let own = from_text::<Thing>(text).expect_err(text);
        let other = serde_json::from_str::<Thing>(text);
        // A list is no object here, whatever the derived code could do with it.
        let Err(other) = other else { continue };
        let (line, column) = own.place(text);
        assert_eq!(format!("{own} at line {line} column {column}"), other.to_string(), "{text}");
    }
}

/// Every field may not be missing here.
#[derive(Clone, Debug, Default, PartialEq, Deserialize, Shape)]
struct Strict {
    first: f64,
    second: String,
}

#[test]
fn what_is_missing_or_twice_is_said_as_the_other_says_it() {
    for text in ["{\"first\": 1}", "{\"first\": 1, \"second\": \"a\", \"first\": 2}", "{\"second\": \"a\"}", "{}"] {
        let own = from_text::<Strict>(text).expect_err(text);
        let other = serde_json::from_str::<Strict>(text).expect_err(text).to_string();
        // The places differ by the colon behind the key.
        assert!(other.starts_with(&format!("{own} at line 1 ")), "{own} for {other}");
    }
    assert!(from_text::<Strict>("{\"second\": \"a\", \"third\": [{}], \"first\": 1}").is_ok());
}

/// The shapes of the file, filled by what the demo holds: nothing of a shape is written or read otherwise than `serde_json` would.
#[test]
fn the_demo_is_written_and_read_as_the_other_does_it() {
    let text = include_str!("../../../../demo/bench.json");
    let own: crate::v1::Bench = from_text(text).expect("read");
    let other: crate::v1::Bench = serde_json::from_str(text).expect("read");
    assert!(own == other && own.inspections.len() > 3);
    assert_eq!(to_pretty(&own), serde_json::to_string_pretty(&own).expect("written"));
    assert_eq!(to_compact(&own), serde_json::to_string(&own).expect("written"));
}

#[test]
fn odd_texts_are_read_as_the_other_reads_them() {
    for text in ["\"\\u00e9\\ud83d\\ude00\\/\\b\"", "\"\\u0000\""] {
        assert_eq!(from_text::<String>(text).ok(), serde_json::from_str::<String>(text).ok(), "{text}");
    }
    assert_eq!(from_text::<String>("\"a\\ud800b\\udc00\""), Ok("a\u{fffd}b\u{fffd}".to_owned()));
    let unknown = "{\"a\": {\"b\": [1, {\"c\": \"]\"}], \"d\": null}, \"count\": 7, \"z\": [[[]]]}";
    assert_eq!(from_text::<Thing>(unknown).map(|thing| thing.count), Ok(7));
    assert_eq!(
        from_text::<Vec<f64>>("[-0, 1e2, -1.5E-3, 12345678901234567890123]").map(|list| list[0].is_sign_negative()),
        Ok(true)
    );
    for bad in
        ["", "{", "[1,", "{\"a\"", "{} x", "nul", "\"a", "[1 2]", "{\"count\" 1}", "\"\\x\"", "\"\\u12\"", "--1", "[}"]
    {
        assert!(
            from_text::<Thing>(bad).is_err()
                && from_text::<Vec<f64>>(bad).is_err()
                && from_text::<String>(bad).is_err(),
            "{bad}"
        );
    }
}
