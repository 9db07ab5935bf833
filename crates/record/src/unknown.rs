//! The keys of a file that its version does not know, in the order in which they stand.
//!
//! A version writes every key of its shape, whatever the values are. So the keys that it knows are those that it writes from what
//! it has just read, and no list of them has to be kept. Not here: keeping what stands at such a key ([`crate::read`]).

use std::collections::HashSet;
use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

/// The places of keys of `text` that `written` does not have, part by part, up to `most` of them.
///
/// The entries of a list are all of one shape, so a key that one of them has is known in all of them.
/// Call [`crate::scan::check_depth`] first: this recurses as deep as the text does.
pub(crate) fn unknown_keys(text: &str, written: &str, most: usize) -> Result<Vec<Vec<String>>, serde_json::Error> {
    let mut known: HashSet<Vec<String>> = HashSet::new();
    walk(written, &mut |place| {
        if !known.contains(&place.keys) {
            known.insert(place.keys.clone());
        }
        true
    })?;
    let mut unknown = Vec::new();
    walk(text, &mut |place| {
        let knows = known.contains(&place.keys);
        if !knows && unknown.len() < most {
            unknown.push(place.parts.clone());
        }
        knows
    })?;
    Ok(unknown)
}

/// Where a walk stands.
#[derive(Default)]
struct Place {
    /// Keys and places in lists.
    parts: Vec<String>,
    /// Keys alone.
    keys: Vec<String>,
}

/// Shows every key of a text to `see`, which says whether to go on below it.
fn walk(text: &str, see: &mut dyn FnMut(&Place) -> bool) -> Result<(), serde_json::Error> {
    Walk { place: &mut Place::default(), see }.deserialize(&mut serde_json::Deserializer::from_str(text))
}

struct Walk<'a> {
    place: &'a mut Place,
    see: &'a mut dyn FnMut(&Place) -> bool,
}

impl<'de> DeserializeSeed<'de> for Walk<'_> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Walk<'_> {
    type Value = ();

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_bool<E>(self, _: bool) -> Result<(), E> {
        Ok(())
    }

    fn visit_i64<E>(self, _: i64) -> Result<(), E> {
        Ok(())
    }

    fn visit_u64<E>(self, _: u64) -> Result<(), E> {
        Ok(())
    }

    fn visit_f64<E>(self, _: f64) -> Result<(), E> {
        Ok(())
    }

    fn visit_str<E>(self, _: &str) -> Result<(), E> {
        Ok(())
    }

    fn visit_unit<E>(self) -> Result<(), E> {
        Ok(())
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<(), A::Error> {
        for index in 0_usize.. {
            self.place.parts.push(index.to_string());
            let more = list.next_element_seed(Walk { place: &mut *self.place, see: &mut *self.see })?;
            self.place.parts.pop();
            if more.is_none() {
                break;
            }
        }
        Ok(())
    }

    fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<(), A::Error> {
        while let Some(key) = object.next_key::<String>()? {
            self.place.parts.push(key.clone());
            self.place.keys.push(key);
            if (self.see)(self.place) {
                object.next_value_seed(Walk { place: &mut *self.place, see: &mut *self.see })?;
            } else {
                object.next_value::<IgnoredAny>()?;
            }
            self.place.parts.pop();
            self.place.keys.pop();
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn found(text: &str, written: &str) -> Vec<String> {
        unknown_keys(text, written, 9).expect("JSON").into_iter().map(|parts| parts.join("/")).collect()
    }

    #[test]
    fn unknown_keys_are_named_once_and_in_their_order() {
        let written = r#"{"a": {"b": 1}, "list": [{"x": null}, {"x": {"y": 2}}], "none": null}"#;
        assert_eq!(found(written, written), Vec::<String>::new());
        let text =
            r#"{"z": {"a": {"q": 1}}, "list": [{"x": {"y": 0, "w": 1}}, {"y": 3}, {"x": 1}], "a": {"b": 2, "a": 3}}"#;
        assert_eq!(found(text, written), ["z", "list/0/x/w", "list/1/y", "a/a"]);
    }

    #[test]
    fn a_key_is_not_taken_for_the_keys_that_it_looks_like() {
        let written = r#"{"a": {"b": [{"c": 1}]}}"#;
        let text = r#"{"a.b": 1, "a\u0000b": 2, "b": 3, "": 4, "a": {"0": 5, "b": [{"c": 6, "0": 7}]}}"#;
        assert_eq!(found(text, written), ["a.b", "a\0b", "b", "", "a/0", "a/b/0/0"]);
    }

    #[test]
    fn no_more_are_collected_than_were_asked_for() {
        let many: Vec<String> = (0..50).map(|i| format!("\"k{i}\": 0")).collect();
        assert_eq!(found(&format!("{{{}}}", many.join(",")), "{}").len(), 9);
    }
}
