//! The keys of a file that its version does not know, in the order in which they stand.
//!
//! A version writes every key of its shape, whatever the values are. So the keys that it knows are those that it writes from what
//! it has just read, and no list of them has to be kept. Not here: keeping what stands at such a key ([`crate::read`]).

use std::collections::BTreeMap;

use serde::de::{DeserializeSeed, IgnoredAny, MapAccess, SeqAccess};

use crate::walk::{Any, Walk};

/// The places of keys of `text` that `written` does not have, part by part, up to `most` of them.
///
/// The entries of a list are all of one shape, so a key that one of them has is known in all of them.
/// Call [`crate::scan::check_depth`] first: this recurses as deep as the text does.
pub(crate) fn unknown_keys(text: &str, written: &str, most: usize) -> Result<Vec<Vec<String>>, serde_json::Error> {
    // What the program wrote itself comes back to the letter, and so has nothing unknown in it.
    if text.trim() == written.trim() {
        return Ok(Vec::new());
    }
    let mut keys = Keys::default();
    Any(Task::Learn(&mut keys)).deserialize(&mut serde_json::Deserializer::from_str(written))?;
    let mut unknown = Unknown { place: Vec::new(), found: Vec::new(), most };
    Any(Task::Compare(&keys, &mut unknown)).deserialize(&mut serde_json::Deserializer::from_str(text))?;
    Ok(unknown.found)
}

/// The keys of an object, or of all objects of a list together, each with those below it.
#[derive(Default)]
struct Keys(BTreeMap<String, Keys>);

/// Where a comparison stands, and what it has found so far.
struct Unknown {
    place: Vec<Part>,
    found: Vec<Vec<String>>,
    most: usize,
}

enum Part {
    Key(String),
    Index(usize),
}

impl Unknown {
    fn note(&mut self, key: String) {
        if self.found.len() < self.most {
            let above = self.place.iter().map(|part| match part {
                Part::Key(key) => key.clone(),
                Part::Index(index) => index.to_string(),
            });
            self.found.push(above.chain([key]).collect());
        }
    }
}

/// Keys are learnt, or compared with those that are known.
enum Task<'a> {
    Learn(&'a mut Keys),
    Compare(&'a Keys, &'a mut Unknown),
}

impl<'de> Walk<'de> for Task<'_> {
    fn list<A: SeqAccess<'de>>(self, mut list: A) -> Result<(), A::Error> {
        match self {
            Task::Learn(keys) => while list.next_element_seed(Any(Task::Learn(keys)))?.is_some() {},
            Task::Compare(keys, unknown) => {
                unknown.place.push(Part::Index(0));
                while list.next_element_seed(Any(Task::Compare(keys, unknown)))?.is_some() {
                    if let Some(Part::Index(index)) = unknown.place.last_mut() {
                        *index += 1;
                    }
                }
                unknown.place.pop();
            }
        }
        Ok(())
    }

    fn object<A: MapAccess<'de>>(self, mut object: A) -> Result<(), A::Error> {
        match self {
            Task::Learn(keys) => {
                while let Some(key) = object.next_key::<String>()? {
                    object.next_value_seed(Any(Task::Learn(keys.0.entry(key).or_default())))?;
                }
            }
            Task::Compare(keys, unknown) => {
                while let Some(key) = object.next_key::<String>()? {
                    if let Some(below) = keys.0.get(&key) {
                        unknown.place.push(Part::Key(key));
                        object.next_value_seed(Any(Task::Compare(below, unknown)))?;
                        unknown.place.pop();
                    } else {
                        unknown.note(key);
                        object.next_value::<IgnoredAny>()?;
                    }
                }
            }
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
