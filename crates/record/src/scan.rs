//! Looking a file's text through before anything is made of it: nesting, keys that stand twice, lists that are too long;
//! and the place of a position, for whoever reports what is wrong there.
//!
//! Nothing here recurses deeper than [`limits::DEPTH`]. Not here: the shapes themselves ([`crate::read`]).

use std::cell::Cell;
use std::collections::HashSet;

use serde::de::{DeserializeSeed, Error as _, MapAccess, SeqAccess};

use crate::error::Error;
use crate::limits;
use crate::walk::{Any, Walk};

/// A key is shown up to this many letters.
const SHOWN: usize = 40;

/// Nesting, counted without recursion, so that no depth can do harm.
pub(crate) fn check_depth(text: &str) -> Result<(), Error> {
    let (mut depth, mut in_text, mut escaped) = (0_usize, false, false);
    for byte in text.bytes() {
        if in_text {
            match byte {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => in_text = false,
                _ => {}
            }
            continue;
        }
        match byte {
            b'"' => in_text = true,
            b'{' | b'[' => {
                depth += 1;
                if depth > limits::DEPTH {
                    return Err(Error::new(format!(
                        "the file is nested more than {} levels deep, which no inspection is",
                        limits::DEPTH
                    )));
                }
            }
            b'}' | b']' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    Ok(())
}

/// That it is JSON in which no key stands twice in one object, every number is finite, and no list is longer than its limit.
///
/// Call [`check_depth`] first: this one recurses as deep as the text does.
pub(crate) fn check_shape(text: &str) -> Result<(), serde_json::Error> {
    let objects = Cell::new(0);
    let mut deserializer = serde_json::Deserializer::from_str(text);
    Any(Look { key: "", objects: &objects }).deserialize(&mut deserializer)?;
    deserializer.end()
}

/// A list or an object, under the key that it stands at.
struct Look<'k> {
    key: &'k str,
    objects: &'k Cell<usize>,
}

impl<'de> Walk<'de> for Look<'_> {
    fn list<A: SeqAccess<'de>>(self, mut list: A) -> Result<(), A::Error> {
        let limit = limits::of_list(self.key);
        let mut count = 0_usize;
        while list.next_element_seed(Any(Look { key: "", objects: self.objects }))?.is_some() {
            count += 1;
            if count > limit {
                return Err(A::Error::custom(format!("the list has more than {limit} entries, which is the most")));
            }
        }
        Ok(())
    }

    fn object<A: MapAccess<'de>>(self, mut object: A) -> Result<(), A::Error> {
        self.objects.set(self.objects.get() + 1);
        if self.objects.get() > limits::OBJECTS {
            return Err(A::Error::custom(format!(
                "there are more than {} objects, which is the most",
                limits::OBJECTS
            )));
        }
        let mut keys = HashSet::new();
        while let Some(key) = object.next_key::<String>()? {
            if keys.contains(&key) {
                let shown: String = key.chars().take(SHOWN).collect();
                return Err(A::Error::custom(format!("the key \"{shown}\" stands twice in one object")));
            }
            if keys.len() == limits::KEYS {
                return Err(A::Error::custom(format!("the object has more than {} keys", limits::KEYS)));
            }
            object.next_value_seed(Any(Look { key: &key, objects: self.objects }))?;
            keys.insert(key);
        }
        Ok(())
    }
}

/// One object or list that is open at a position.
enum Open {
    Object(String),
    List(usize),
}

/// Where in the file's own structure a position lies, as `camera.maker` or `findings.3.note`; empty at the top.
///
/// `line` from 1 and `column` in bytes, as `serde_json` counts them.
pub(crate) fn place_at(text: &str, line: usize, column: usize) -> String {
    let start = match line.checked_sub(2) {
        None => 0,
        Some(n) => {
            text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').nth(n).map_or(text.len(), |(i, _)| i + 1)
        }
    };
    let end = start.saturating_add(column).min(text.len());
    let bytes = &text.as_bytes()[..end];
    let mut open: Vec<Open> = Vec::new();
    let mut awaits_key = false;
    let mut at = 0;
    while at < bytes.len() {
        match bytes[at] {
            b'"' => {
                let begin = at;
                at += 1;
                while at < bytes.len() && bytes[at] != b'"' {
                    at += if bytes[at] == b'\\' { 2 } else { 1 };
                }
                if let (true, Some(Open::Object(key))) = (awaits_key, open.last_mut()) {
                    *key = text.get(begin..=at).and_then(|raw| serde_json::from_str(raw).ok()).unwrap_or_default();
                }
            }
            b'{' => {
                open.push(Open::Object(String::new()));
                awaits_key = true;
            }
            b'[' => {
                open.push(Open::List(0));
                awaits_key = false;
            }
            b'}' | b']' => {
                open.pop();
                awaits_key = false;
            }
            b':' => awaits_key = false,
            b',' => match open.last_mut() {
                Some(Open::List(index)) => *index += 1,
                Some(Open::Object(_)) => awaits_key = true,
                None => {}
            },
            _ => {}
        }
        at += 1;
    }
    let parts: Vec<String> = open
        .into_iter()
        .map(|open| match open {
            Open::Object(key) => key.chars().take(SHOWN).collect(),
            Open::List(index) => index.to_string(),
        })
        .filter(|part: &String| !part.is_empty())
        .collect();
    parts.join(".")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nesting_is_counted_outside_texts_only() {
        assert!(check_depth(&"[".repeat(limits::DEPTH)).is_ok());
        assert!(check_depth(&"[".repeat(limits::DEPTH + 1)).is_err());
        assert!(check_depth(&"{\"a\":".repeat(200_000)).is_err());
        assert!(check_depth(&format!("\"{}\\\"{}\"", "[".repeat(99), "{".repeat(99))).is_ok());
    }

    #[test]
    fn a_position_has_its_place() {
        let text = "{\n \"camera\": {\"maker\": 5},\n \"findings\": [{}, {\"note\": \"a,\\\"b\"}]}";
        assert_eq!(place_at(text, 2, 22), "camera.maker");
        assert_eq!(place_at(text, 3, 34), "findings.1.note");
        assert_eq!(place_at(text, 99, 99), "");
    }

    #[test]
    fn what_is_twice_or_too_many_is_refused() {
        assert!(check_shape("{\"a\": 1, \"b\": {\"a\": 2}}").is_ok());
        let twice = check_shape("{\"b\": {\"a\": 1, \"a\": 2}}").expect_err("refused").to_string();
        assert!(twice.contains("\"a\" stands twice"), "{twice}");
        let many = format!("{{\"runs\": [{}0]}}", "0,".repeat(limits::RUNS));
        assert!(check_shape(&many).expect_err("refused").to_string().contains("more than 50 entries"));
        assert!(check_shape(&format!("[{}0]", "0,".repeat(limits::RUNS))).is_ok());
        assert!(check_shape("1e999").is_err() && check_shape("{} x").is_err());
    }
}
