//! What can stand in a shape: texts, numbers, lists, what may be absent, and shapes within it.
//!
//! A shape is looked at through [`Shape`], so that one reader and one writer do for all of them; the numbers, lists and the rest are
//! said here once. Not here: how a text is taken apart ([`super::reader`]) and put together ([`super::writer`]); the fields of a
//! shape, which `#[derive(Shape)]` finds.

use super::JsonError;
use super::reader::{Number, Reader};
use super::writer::Writer;

/// Anything that a JSON text can hold for us.
pub trait Value {
    /// Takes what comes next in a text. **Errors** where it is no JSON or not of this kind.
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError>;

    /// Appends itself to a text.
    fn write(&self, to: &mut Writer);
}

/// What all of one shape share.
pub struct About {
    /// As a refusal says it: `struct Camera`.
    pub(crate) name: &'static str,
    /// Keys in the order in which they are written.
    pub(crate) fields: &'static [&'static str],
    /// Whether a key may be missing; what stood in the shape before stays then.
    pub(crate) may_miss: bool,
}

/// An object whose keys are known: its fields by number.
pub trait Shape {
    /// Name and keys.
    fn about(&self) -> &'static About;

    /// The field of that number; null behind the last.
    fn field(&self, number: usize) -> &dyn Value;

    /// The same, to be read into.
    fn field_mut(&mut self, number: usize) -> Option<&mut dyn Value>;
}

impl Value for () {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        from.skip()
    }

    fn write(&self, to: &mut Writer) {
        to.word("null");
    }
}

impl Value for String {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        *self = from.own_text()?;
        Ok(())
    }

    fn write(&self, to: &mut Writer) {
        to.text(self);
    }
}

impl Value for bool {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        *self = from.yes_or_no()?;
        Ok(())
    }

    fn write(&self, to: &mut Writer) {
        to.word(if *self { "true" } else { "false" });
    }
}

impl Value for f64 {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        *self = match from.any_number("f64")? {
            Number::Whole(value) => value as f64,
            Number::Below(value) => value as f64,
            Number::Broken(value) => value,
        };
        Ok(())
    }

    fn write(&self, to: &mut Writer) {
        to.number(*self);
    }
}

impl Value for i64 {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        *self = match from.any_number("i64")? {
            Number::Below(value) => value,
            number => number
                .whole()
                .and_then(|value| Self::try_from(value).ok())
                .ok_or_else(|| from.misfit(&number, "i64"))?,
        };
        Ok(())
    }

    fn write(&self, to: &mut Writer) {
        to.below(*self);
    }
}

macro_rules! wholes {
    ($($of:ident)*) => {
        $(impl Value for $of {
            fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
                let number = from.any_number(stringify!($of))?;
                let fits = number.whole().and_then(|value| Self::try_from(value).ok());
                *self = fits.ok_or_else(|| from.misfit(&number, stringify!($of)))?;
                Ok(())
            }

            fn write(&self, to: &mut Writer) {
                to.whole(*self as u64);
            }
        })*
    };
}

wholes! { u8 u32 u64 usize }

impl<T: Value + Default> Value for Option<T> {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        if from.nothing()? {
            *self = None;
            Ok(())
        } else {
            self.insert(T::default()).read(from)
        }
    }

    fn write(&self, to: &mut Writer) {
        match self {
            Some(value) => value.write(to),
            None => to.word("null"),
        }
    }
}

impl<T: Value> Value for Box<T> {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        (**self).read(from)
    }

    fn write(&self, to: &mut Writer) {
        (**self).write(to);
    }
}

impl<T: Value + Default> Value for Vec<T> {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        self.clear();
        from.list(&mut |from| {
            self.push(T::default());
            self.last_mut().map_or(Ok(()), |value| value.read(from))
        })
    }

    fn write(&self, to: &mut Writer) {
        to.list(&mut self.iter().map(|value| value as &dyn Value));
    }
}

impl Value for [f64; 2] {
    fn read(&mut self, from: &mut Reader<'_>) -> Result<(), JsonError> {
        let mut count = 0;
        let beyond = &mut ();
        from.list(&mut |from| {
            count += 1;
            match self.get_mut(count - 1) {
                Some(value) => value.read(from),
                None => beyond.read(from),
            }
        })?;
        if count == self.len() { Ok(()) } else { Err(from.length(count, self.len())) }
    }

    fn write(&self, to: &mut Writer) {
        to.list(&mut self.iter().map(|value| value as &dyn Value));
    }
}
