//! Reading: one pass over the text, a shape's own code called for objects only as objects.
//!
//! Every part that does not depend on the shape stands in a function of its own, so that it is there once. Not here: nesting, keys that
//! stand twice and lists that are too long, which are refused beforehand ([`crate::scan`]).

use std::borrow::Cow;

use serde::de::value::StrDeserializer;
use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, Error as _, Expected, IntoDeserializer, MapAccess, SeqAccess,
    Unexpected, Visitor,
};

use super::{JsonError, SOMEWHERE, Why};

/// A shape from the whole of a text.
pub(crate) fn from_text<T: DeserializeOwned>(text: &str) -> Result<T, JsonError> {
    let mut reader = Reader { text, at: 0 };
    let value = T::deserialize(&mut reader);
    value.and_then(|value| reader.end().map(|()| value)).map_err(|error| reader.placed(error))
}

struct Reader<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Reader<'t> {
    #[inline(never)]
    fn placed(&self, error: JsonError) -> JsonError {
        JsonError { at: if error.at == SOMEWHERE { self.at } else { error.at }, ..error }
    }

    fn wrong(&self, what: &'static str) -> JsonError {
        JsonError { why: if self.at < self.text.len() { Why::Syntax(what) } else { Why::Early }, at: self.at }
    }

    /// The next byte that is no blank; 0 at the end.
    #[inline(never)]
    fn peek(&mut self) -> u8 {
        let bytes = self.text.as_bytes();
        while let Some(byte) = bytes.get(self.at) {
            if !matches!(byte, b' ' | b'\n' | b'\t' | b'\r') {
                return *byte;
            }
            self.at += 1;
        }
        0
    }

    #[inline(never)]
    fn take(&mut self, byte: u8, what: &'static str) -> Result<(), JsonError> {
        if self.peek() == byte {
            self.at += 1;
            Ok(())
        } else {
            Err(self.wrong(what))
        }
    }

    fn end(&mut self) -> Result<(), JsonError> {
        if self.peek() == 0 && self.at >= self.text.len() { Ok(()) } else { Err(self.wrong("trailing characters")) }
    }

    #[inline(never)]
    fn word(&mut self, word: &'static str) -> Result<(), JsonError> {
        if self.text.as_bytes()[self.at..].starts_with(word.as_bytes()) {
            self.at += word.len();
            Ok(())
        } else {
            Err(self.wrong("expected value"))
        }
    }

    #[inline(never)]
    fn text(&mut self) -> Result<Cow<'t, str>, JsonError> {
        self.take(b'"', "expected value")?;
        let (text, begin) = (self.text, self.at);
        let mut whole = String::new();
        let mut from = begin;
        loop {
            match text.as_bytes().get(self.at) {
                None => return Err(self.wrong("")),
                Some(b'"') => {
                    let rest = &text[from..self.at];
                    self.at += 1;
                    return Ok(if from == begin {
                        Cow::Borrowed(rest)
                    } else {
                        whole.push_str(rest);
                        Cow::Owned(whole)
                    });
                }
                Some(b'\\') => {
                    whole.push_str(&text[from..self.at]);
                    self.at += 1;
                    whole.push(self.escaped()?);
                    from = self.at;
                }
                Some(byte) if *byte < 0x20 => return Err(self.wrong("control character in a text")),
                Some(_) => self.at += 1,
            }
        }
    }

    fn escaped(&mut self) -> Result<char, JsonError> {
        let byte = self.text.as_bytes().get(self.at).copied().unwrap_or_default();
        self.at += 1;
        Ok(match byte {
            b'"' | b'\\' | b'/' => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let first = self.unit()?;
                let rest = &self.text.as_bytes()[self.at..];
                if (0xd800..0xdc00).contains(&first) && rest.starts_with(b"\\u") {
                    let before = self.at;
                    self.at += 2;
                    let second = self.unit()?;
                    if (0xdc00..0xe000).contains(&second) {
                        let code = 0x10000 + ((first - 0xd800) << 10) + (second - 0xdc00);
                        return Ok(char::from_u32(code).unwrap_or(char::REPLACEMENT_CHARACTER));
                    }
                    self.at = before;
                }
                // Half a pair stands for no character; a page's text may hold one.
                char::from_u32(first).unwrap_or(char::REPLACEMENT_CHARACTER)
            }
            _ => return Err(self.wrong("invalid escape")),
        })
    }

    fn unit(&mut self) -> Result<u32, JsonError> {
        let digits =
            self.text.get(self.at..self.at + 4).filter(|four| four.bytes().all(|byte| byte.is_ascii_hexdigit()));
        let unit =
            digits.and_then(|four| u32::from_str_radix(four, 16).ok()).ok_or_else(|| self.wrong("invalid escape"))?;
        self.at += 4;
        Ok(unit)
    }

    #[inline(never)]
    fn number(&mut self) -> Result<Number, JsonError> {
        let begin = self.at;
        let of_number = |byte: &u8| matches!(byte, b'0'..=b'9' | b'-' | b'+' | b'.' | b'e' | b'E');
        self.at += self.text.as_bytes()[begin..].iter().take_while(|byte| of_number(byte)).count();
        let digits = &self.text[begin..self.at];
        if let Ok(whole) = digits.parse::<u64>() {
            return Ok(Number::Whole(whole));
        }
        match digits.parse::<i64>() {
            // A zero below zero is no whole number.
            Ok(below) if below < 0 => Ok(Number::Below(below)),
            _ => digits.parse::<f64>().map(Number::Broken).map_err(|_| self.wrong("invalid number")),
        }
    }

    /// A shape met what it does not take.
    #[inline(never)]
    fn mismatch(&mut self, wanted: &dyn Expected) -> JsonError {
        let found = match self.peek() {
            b'"' => match self.text() {
                Ok(text) => return self.placed(JsonError::invalid_type(Unexpected::Str(&text), wanted)),
                Err(error) => return error,
            },
            b'{' => Unexpected::Map,
            b'[' => Unexpected::Seq,
            b'n' => self.word("null").map_or(Unexpected::Unit, |()| Unexpected::Other("null")),
            b't' => self.word("true").map_or(Unexpected::Unit, |()| Unexpected::Bool(true)),
            b'f' => self.word("false").map_or(Unexpected::Unit, |()| Unexpected::Bool(false)),
            b'-' | b'0'..=b'9' => match self.number() {
                Ok(Number::Whole(value)) => Unexpected::Unsigned(value),
                Ok(Number::Below(value)) => Unexpected::Signed(value),
                Ok(Number::Broken(value)) => Unexpected::Float(value),
                Err(error) => return error,
            },
            _ => return self.wrong("expected value"),
        };
        self.placed(JsonError::invalid_type(found, wanted))
    }

    /// Passes over whatever value comes; it may be nested as deep as it likes.
    #[inline(never)]
    fn skip(&mut self) -> Result<(), JsonError> {
        let mut open = 0_usize;
        loop {
            match self.peek() {
                b'"' => drop(self.text()?),
                b'{' | b'[' => {
                    open += 1;
                    self.at += 1;
                    continue;
                }
                b'}' | b']' if open > 0 => {
                    open -= 1;
                    self.at += 1;
                }
                b',' | b':' if open > 0 => {
                    self.at += 1;
                    continue;
                }
                b'n' => self.word("null")?,
                b't' => self.word("true")?,
                b'f' => self.word("false")?,
                b'-' | b'0'..=b'9' => {
                    self.number()?;
                }
                _ => return Err(self.wrong("expected value")),
            }
            if open == 0 {
                return Ok(());
            }
        }
    }

    /// Whether another entry follows in a list or an object.
    #[inline(never)]
    fn another(&mut self, first: &mut bool, close: u8) -> Result<bool, JsonError> {
        let next = self.peek();
        if next == close {
            self.at += 1;
            return Ok(false);
        }
        if !core::mem::take(first) {
            self.take(b',', "expected `,` or the end of it")?;
        }
        Ok(true)
    }

    #[inline(never)]
    fn key(&mut self, first: &mut bool) -> Result<Option<Cow<'t, str>>, JsonError> {
        if !self.another(first, b'}')? {
            return Ok(None);
        }
        self.peek();
        let key = self.text()?;
        self.take(b':', "expected `:`")?;
        Ok(Some(key))
    }
}

enum Number {
    Whole(u64),
    Below(i64),
    Broken(f64),
}

/// Numbers of every kind: a shape's own code says which it takes.
macro_rules! numbers {
    ($($name:ident)*) => {
        $(fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
            if !matches!(self.peek(), b'-' | b'0'..=b'9') {
                return Err(self.mismatch(&visitor));
            }
            match self.number()? {
                Number::Whole(value) => visitor.visit_u64(value),
                Number::Below(value) => visitor.visit_i64(value),
                Number::Broken(value) => visitor.visit_f64(value),
            }
        })*
    };
}

/// What no shape has.
macro_rules! never {
    ($($name:ident)*) => {
        $(fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
            Err(self.mismatch(&visitor))
        })*
    };
}

impl<'de> Deserializer<'de> for &mut Reader<'de> {
    type Error = JsonError;

    numbers! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
        deserialize_f32 deserialize_f64
    }

    never! { deserialize_any deserialize_char deserialize_bytes deserialize_byte_buf deserialize_unit }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        match self.peek() {
            b't' => self.word("true").and_then(|()| visitor.visit_bool(true)),
            b'f' => self.word("false").and_then(|()| visitor.visit_bool(false)),
            _ => Err(self.mismatch(&visitor)),
        }
    }

    fn deserialize_str<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        if self.peek() == b'"' { visitor.visit_str(&self.text()?) } else { Err(self.mismatch(&visitor)) }
    }

    fn deserialize_string<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        if self.peek() == b'n' {
            self.word("null").and_then(|()| visitor.visit_none())
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        if self.peek() != b'[' {
            return Err(self.mismatch(&visitor));
        }
        self.at += 1;
        visitor.visit_seq(Inside { reader: self, first: true })
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        if self.peek() != b'{' {
            return Err(self.mismatch(&visitor));
        }
        self.at += 1;
        visitor.visit_map(Inside { reader: self, first: true })
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _name: &'static str,
        _fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, JsonError> {
        self.deserialize_map(visitor)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _length: usize, visitor: V) -> Result<V::Value, JsonError> {
        if self.peek() != b'[' {
            return Err(self.mismatch(&visitor));
        }
        self.at += 1;
        let mut inside = Inside { reader: self, first: true };
        let value = visitor.visit_seq(&mut inside)?;
        inside.reader.take(b']', "expected `]`").map(|()| value)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        self.skip().and_then(|()| visitor.visit_unit())
    }

    fn deserialize_identifier<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, JsonError> {
        self.deserialize_str(visitor)
    }

    fn deserialize_unit_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, JsonError> {
        Err(self.mismatch(&visitor))
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, JsonError> {
        Err(self.mismatch(&visitor))
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, JsonError> {
        Err(self.mismatch(&visitor))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, JsonError> {
        Err(self.mismatch(&visitor))
    }
}

/// The inside of a list or an object.
struct Inside<'r, 'de> {
    reader: &'r mut Reader<'de>,
    first: bool,
}

impl<'de> SeqAccess<'de> for Inside<'_, 'de> {
    type Error = JsonError;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Result<Option<T::Value>, JsonError> {
        if self.reader.another(&mut self.first, b']')? {
            seed.deserialize(&mut *self.reader).map(Some)
        } else {
            Ok(None)
        }
    }
}

impl<'de> MapAccess<'de> for Inside<'_, 'de> {
    type Error = JsonError;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, JsonError> {
        match self.reader.key(&mut self.first)? {
            Some(key) => {
                let key: StrDeserializer<'_, JsonError> = key.as_ref().into_deserializer();
                seed.deserialize(key).map(Some)
            }
            None => Ok(None),
        }
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, JsonError> {
        seed.deserialize(&mut *self.reader)
    }
}
