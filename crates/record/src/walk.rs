//! Going through a JSON text of any shape: lists and objects are handed on, plain values are passed over.
//!
//! This recurses as deep as the text does: call [`crate::scan::check_depth`] first. Not here: what is looked for on the way
//! ([`crate::scan`], [`crate::unknown`]).

use std::fmt;

use serde::de::{DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor};

/// What looks at the lists and objects, and goes on to what stands in them with [`Any`].
pub(crate) trait Walk<'de>: Sized {
    fn list<A: SeqAccess<'de>>(self, list: A) -> Result<(), A::Error>;
    fn object<A: MapAccess<'de>>(self, object: A) -> Result<(), A::Error>;
}

/// Any value, looked at by what stands in it.
pub(crate) struct Any<W>(pub(crate) W);

impl<'de, W: Walk<'de>> DeserializeSeed<'de> for Any<W> {
    type Value = ();

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<(), D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de, W: Walk<'de>> Visitor<'de> for Any<W> {
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

    fn visit_seq<A: SeqAccess<'de>>(self, list: A) -> Result<(), A::Error> {
        self.0.list(list)
    }

    fn visit_map<A: MapAccess<'de>>(self, object: A) -> Result<(), A::Error> {
        self.0.object(object)
    }
}
