//! Reading: one pass over the text; a shape is asked for the field of a key.
//!
//! Every part that does not depend on the shape stands in a function of its own, so that it is there once. Not here: nesting, keys that
//! stand twice and lists that are too long, which are refused beforehand ([`crate::scan`]).

use std::borrow::Cow;

use super::value::{Shape, Value};
use super::{JsonError, Why};

/// A shape from the whole of a text.
pub(crate) fn from_text<T: Value + Default>(text: &str) -> Result<T, JsonError> {
    let mut value = T::default();
    into(&mut value, text)?;
    Ok(value)
}

/// The same into what is there already.
fn into(value: &mut dyn Value, text: &str) -> Result<(), JsonError> {
    let mut reader = Reader { text, at: 0 };
    value.read(&mut reader)?;
    reader.end()
}

/// Where one stands in a text.
pub struct Reader<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Reader<'t> {
    fn shaped(&self, what: String) -> JsonError {
        JsonError { why: Why::Shape(what), at: self.at }
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
    fn mismatch(&mut self, wanted: &str) -> JsonError {
        let found = match self.peek() {
            b'"' => match self.text() {
                Ok(text) => format!("string {text:?}"),
                Err(error) => return error,
            },
            b'{' => "map".to_owned(),
            b'[' => "sequence".to_owned(),
            b'n' => match self.word("null") {
                Ok(()) => "null".to_owned(),
                Err(error) => return error,
            },
            b't' | b'f' => match self.yes_or_no() {
                Ok(said) => format!("boolean `{said}`"),
                Err(error) => return error,
            },
            b'-' | b'0'..=b'9' => match self.number() {
                Ok(number) => number.said(),
                Err(error) => return error,
            },
            _ => return self.wrong("expected value"),
        };
        self.shaped(format!("invalid type: {found}, expected {wanted}"))
    }

    /// A number that is none of those which are wanted.
    #[inline(never)]
    pub(crate) fn misfit(&self, number: &Number, wanted: &str) -> JsonError {
        let what = if matches!(number, Number::Broken(_)) { "type" } else { "value" };
        self.shaped(format!("invalid {what}: {}, expected {wanted}", number.said()))
    }

    /// A list of another length than wanted.
    #[inline(never)]
    pub(crate) fn length(&self, found: usize, wanted: usize) -> JsonError {
        self.shaped(format!("invalid length {found}, expected an array of length {wanted}"))
    }

    /// A text of one's own.
    #[inline(never)]
    pub(crate) fn own_text(&mut self) -> Result<String, JsonError> {
        if self.peek() == b'"' { self.text().map(Cow::into_owned) } else { Err(self.mismatch("a string")) }
    }

    /// `true` or `false`.
    #[inline(never)]
    pub(crate) fn yes_or_no(&mut self) -> Result<bool, JsonError> {
        match self.peek() {
            b't' => self.word("true").map(|()| true),
            b'f' => self.word("false").map(|()| false),
            _ => Err(self.mismatch("a boolean")),
        }
    }

    /// A number of any kind, where `wanted` is.
    #[inline(never)]
    pub(crate) fn any_number(&mut self, wanted: &str) -> Result<Number, JsonError> {
        if matches!(self.peek(), b'-' | b'0'..=b'9') { self.number() } else { Err(self.mismatch(wanted)) }
    }

    /// Whether `null` comes, which is taken then.
    #[inline(never)]
    pub(crate) fn nothing(&mut self) -> Result<bool, JsonError> {
        if self.peek() == b'n' { self.word("null").map(|()| true) } else { Ok(false) }
    }

    /// A list, each of its entries taken by `entry`.
    #[inline(never)]
    pub(crate) fn list(&mut self, entry: &mut dyn FnMut(&mut Self) -> Result<(), JsonError>) -> Result<(), JsonError> {
        if self.peek() != b'[' {
            return Err(self.mismatch("a sequence"));
        }
        self.at += 1;
        let mut first = true;
        while self.another(&mut first, b']')? {
            entry(self)?;
        }
        Ok(())
    }

    /// An object into the fields of a shape; keys that it does not have are passed over.
    ///
    /// **Errors** where a key stands twice, and where one is missing that must not be.
    #[inline(never)]
    pub(crate) fn shape(&mut self, into: &mut dyn Shape) -> Result<(), JsonError> {
        let about = into.about();
        if self.peek() != b'{' {
            return Err(self.mismatch(about.name));
        }
        self.at += 1;
        let (mut first, mut seen, mut next) = (true, 0_u64, 0);
        while let Some(key) = self.key(&mut first)? {
            // What was written by us comes in the order of the shape.
            let number = if about.fields.get(next).is_some_and(|field| *field == key) {
                next
            } else {
                about.fields.iter().position(|field| *field == key).unwrap_or(usize::MAX)
            };
            let Some(field) = into.field_mut(number) else {
                self.skip()?;
                continue;
            };
            let bit = 1 << number;
            if seen & bit != 0 {
                return Err(self.shaped(format!("duplicate field `{key}`")));
            }
            seen |= bit;
            next = number + 1;
            field.read(self)?;
        }
        match about.fields.iter().enumerate().find(|(number, _)| seen & (1 << number) == 0) {
            Some((_, field)) if !about.may_miss => Err(self.shaped(format!("missing field `{field}`"))),
            _ => Ok(()),
        }
    }

    /// Passes over whatever value comes; it may be nested as deep as it likes.
    #[inline(never)]
    pub(crate) fn skip(&mut self) -> Result<(), JsonError> {
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

/// A number as it stands in a text.
pub enum Number {
    /// Without a sign, a point or an exponent.
    Whole(u64),
    /// The same below zero.
    Below(i64),
    /// Any other.
    Broken(f64),
}

impl Number {
    /// Its value where it is whole and not below zero.
    pub(crate) fn whole(&self) -> Option<u64> {
        if let Self::Whole(value) = self { Some(*value) } else { None }
    }

    fn said(&self) -> String {
        match self {
            Self::Whole(value) => format!("integer `{value}`"),
            Self::Below(value) => format!("integer `{value}`"),
            Self::Broken(value) => format!(
                "floating point `{}`",
                serde_json::Number::from_f64(*value).map_or_else(String::new, |number| number.to_string())
            ),
        }
    }
}
