//! Writing: the text that `serde_json` writes, to the byte; a shape's own code calls into one writer.
//!
//! Not here: whether what is written may be ([`crate::write`]).

use serde::ser::{
    Error as _, Impossible, Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeTuple, Serializer,
};

use super::JsonError;

/// One line after another, two blanks for each step in.
pub(crate) fn to_pretty<T: Serialize>(value: &T) -> Result<String, JsonError> {
    let mut writer = Writer { out: String::new(), pretty: true, depth: 0, empty: true };
    value.serialize(&mut writer)?;
    Ok(writer.out)
}

/// Without a blank.
pub(crate) fn to_compact<T: Serialize>(value: &T) -> Result<String, JsonError> {
    let mut writer = Writer { out: String::new(), pretty: false, depth: 0, empty: true };
    value.serialize(&mut writer)?;
    Ok(writer.out)
}

struct Writer {
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
    fn text(&mut self, text: &str) {
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
    fn number(&mut self, value: f64) {
        // The shortest digits that come back to the bit; a number that is not finite is null.
        self.out.push_str(
            &serde_json::Number::from_f64(value).map_or_else(|| "null".to_owned(), |number| number.to_string()),
        );
    }

    #[inline(never)]
    fn whole(&mut self, value: u64) {
        self.out.push_str(&value.to_string());
    }

    #[inline(never)]
    fn below(&mut self, value: i64) {
        self.out.push_str(&value.to_string());
    }
}

/// What no shape has.
fn never() -> JsonError {
    JsonError::custom("a shape holds texts, numbers, lists and objects only")
}

macro_rules! wholes {
    ($by:ident $as:ty: $($name:ident $of:ty)*) => {
        $(fn $name(self, value: $of) -> Result<(), JsonError> {
            self.$by(<$as>::from(value));
            Ok(())
        })*
    };
}

impl<'w> Serializer for &'w mut Writer {
    type Ok = ();
    type Error = JsonError;
    type SerializeSeq = Inside<'w>;
    type SerializeTuple = Inside<'w>;
    type SerializeTupleStruct = Impossible<(), JsonError>;
    type SerializeTupleVariant = Impossible<(), JsonError>;
    type SerializeMap = Inside<'w>;
    type SerializeStruct = Inside<'w>;
    type SerializeStructVariant = Impossible<(), JsonError>;

    wholes! { below i64: serialize_i8 i8 serialize_i16 i16 serialize_i32 i32 serialize_i64 i64 }

    wholes! { whole u64: serialize_u8 u8 serialize_u16 u16 serialize_u32 u32 serialize_u64 u64 }

    fn serialize_bool(self, value: bool) -> Result<(), JsonError> {
        self.out.push_str(if value { "true" } else { "false" });
        Ok(())
    }

    fn serialize_f32(self, value: f32) -> Result<(), JsonError> {
        self.number(f64::from(value));
        Ok(())
    }

    fn serialize_f64(self, value: f64) -> Result<(), JsonError> {
        self.number(value);
        Ok(())
    }

    fn serialize_char(self, value: char) -> Result<(), JsonError> {
        self.text(value.encode_utf8(&mut [0; 4]));
        Ok(())
    }

    fn serialize_str(self, text: &str) -> Result<(), JsonError> {
        self.text(text);
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), JsonError> {
        Err(never())
    }

    fn serialize_none(self) -> Result<(), JsonError> {
        self.serialize_unit()
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), JsonError> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), JsonError> {
        self.out.push_str("null");
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), JsonError> {
        Err(never())
    }

    fn serialize_unit_variant(self, _: &'static str, _: u32, _: &'static str) -> Result<(), JsonError> {
        Err(never())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, _: &'static str, _: &T) -> Result<(), JsonError> {
        Err(never())
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: &T,
    ) -> Result<(), JsonError> {
        Err(never())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Inside<'w>, JsonError> {
        self.open('[');
        Ok(Inside(self))
    }

    fn serialize_tuple(self, _: usize) -> Result<Inside<'w>, JsonError> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Self::SerializeTupleStruct, JsonError> {
        Err(never())
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self::SerializeTupleVariant, JsonError> {
        Err(never())
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Inside<'w>, JsonError> {
        self.open('{');
        Ok(Inside(self))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Inside<'w>, JsonError> {
        self.serialize_map(None)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Self::SerializeStructVariant, JsonError> {
        Err(never())
    }
}

/// The inside of a list or an object.
struct Inside<'w>(&'w mut Writer);

impl SerializeSeq for Inside<'_> {
    type Ok = ();
    type Error = JsonError;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), JsonError> {
        self.0.entry();
        value.serialize(&mut *self.0)
    }

    fn end(self) -> Result<(), JsonError> {
        self.0.close(']');
        Ok(())
    }
}

impl SerializeTuple for Inside<'_> {
    type Ok = ();
    type Error = JsonError;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), JsonError> {
        SerializeSeq::serialize_element(self, value)
    }

    fn end(self) -> Result<(), JsonError> {
        SerializeSeq::end(self)
    }
}

impl SerializeMap for Inside<'_> {
    type Ok = ();
    type Error = JsonError;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), JsonError> {
        self.0.entry();
        key.serialize(&mut *self.0)
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), JsonError> {
        self.0.out.push_str(if self.0.pretty { ": " } else { ":" });
        value.serialize(&mut *self.0)
    }

    fn end(self) -> Result<(), JsonError> {
        self.0.close('}');
        Ok(())
    }
}

impl SerializeStruct for Inside<'_> {
    type Ok = ();
    type Error = JsonError;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), JsonError> {
        self.0.key(key);
        value.serialize(&mut *self.0)
    }

    fn end(self) -> Result<(), JsonError> {
        self.0.close('}');
        Ok(())
    }
}
