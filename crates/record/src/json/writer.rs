//! Writing: the text that `serde_json` writes, to the byte; a shape is asked for its fields in their order.
//!
//! Not here: whether what is written may be ([`crate::write`]).

use super::value::{Shape, Value};

/// One line after another, two blanks for each step in.
pub(crate) fn to_pretty(value: &dyn Value) -> String {
    written(value, true)
}

/// Without a blank.
pub(crate) fn to_compact(value: &dyn Value) -> String {
    written(value, false)
}

fn written(value: &dyn Value, pretty: bool) -> String {
    let mut writer = Writer { out: String::new(), pretty, depth: 0, empty: true };
    value.write(&mut writer);
    writer.out
}

/// A text as far as it is written.
pub struct Writer {
    out: String,
    pretty: bool,
    depth: usize,
    /// Whether the list or object that was opened last has nothing in it yet.
    empty: bool,
}

impl Writer {
    #[inline(never)]
    fn open(&mut self, with: char) {
        self.out.push(with);
        self.depth += 1;
        self.empty = true;
    }

    #[inline(never)]
    fn close(&mut self, with: char) {
        self.depth -= 1;
        if !self.empty {
            self.line();
        }
        self.empty = false;
        self.out.push(with);
    }

    fn line(&mut self) {
        if self.pretty {
            self.out.push('\n');
            for _ in 0..self.depth {
                self.out.push_str("  ");
            }
        }
    }

    #[inline(never)]
    fn entry(&mut self) {
        if !core::mem::take(&mut self.empty) {
            self.out.push(',');
        }
        self.line();
    }

    #[inline(never)]
    fn key(&mut self, key: &str) {
        self.entry();
        self.text(key);
        self.out.push_str(if self.pretty { ": " } else { ":" });
    }

    #[inline(never)]
    pub(crate) fn text(&mut self, text: &str) {
        self.out.push('"');
        let mut from = 0;
        for (at, byte) in text.bytes().enumerate() {
            let escaped = match byte {
                b'"' => "\\\"",
                b'\\' => "\\\\",
                b'\n' => "\\n",
                b'\r' => "\\r",
                b'\t' => "\\t",
                0x8 => "\\b",
                0xc => "\\f",
                0..0x20 => "",
                _ => continue,
            };
            self.out.push_str(&text[from..at]);
            if escaped.is_empty() {
                self.out.push_str("\\u00");
                for digit in [byte >> 4, byte & 15] {
                    self.out.push(char::from_digit(u32::from(digit), 16).unwrap_or('0'));
                }
            } else {
                self.out.push_str(escaped);
            }
            from = at + 1;
        }
        self.out.push_str(&text[from..]);
        self.out.push('"');
    }

    #[inline(never)]
    pub(crate) fn number(&mut self, value: f64) {
        // The shortest digits that come back to the bit; a number that is not finite is null.
        self.out.push_str(
            &serde_json::Number::from_f64(value).map_or_else(|| "null".to_owned(), |number| number.to_string()),
        );
    }

    #[inline(never)]
    pub(crate) fn whole(&mut self, value: u64) {
        self.out.push_str(&value.to_string());
    }

    #[inline(never)]
    pub(crate) fn below(&mut self, value: i64) {
        self.out.push_str(&value.to_string());
    }

    #[inline(never)]
    pub(crate) fn word(&mut self, word: &'static str) {
        self.out.push_str(word);
    }

    /// A list of what comes.
    #[inline(never)]
    pub(crate) fn list(&mut self, values: &mut dyn Iterator<Item = &dyn Value>) {
        self.open('[');
        for value in values {
            self.entry();
            value.write(self);
        }
        self.close(']');
    }

    /// An object: every field in its order.
    #[inline(never)]
    pub(crate) fn shape(&mut self, shape: &dyn Shape) {
        self.open('{');
        for (number, key) in shape.about().fields.iter().enumerate() {
            self.key(key);
            shape.field(number).write(self);
        }
        self.close('}');
    }
}
