//! `#[derive(Shape)]`: the fields of a struct by number, for the one reader and the one writer of `record::json`.
//!
//! What is derived is a list of names and two jumps from a number to a field, a few bytes for each field; everything else is there
//! once for all shapes. Knows no JSON, and no shape: it is asked by `record` alone. Not here: enums and structs without names,
//! which no shape is.

use proc_macro::TokenStream;
use proc_macro2::TokenStream as Tokens;
use quote::quote;
use syn::spanned::Spanned;
use syn::{Data, DeriveInput, Error, Fields, parse_macro_input};

/// Most fields that a shape may have: which were there is kept in the bits of one number.
const MOST: usize = 64;

/// Makes a struct with named fields a shape; with `#[serde(default)]` on it any of them may be missing from a text.
#[proc_macro_derive(Shape, attributes(serde))]
pub fn shape(input: TokenStream) -> TokenStream {
    derived(&parse_macro_input!(input as DeriveInput)).unwrap_or_else(Error::into_compile_error).into()
}

fn derived(input: &DeriveInput) -> Result<Tokens, Error> {
    let Data::Struct(data) = &input.data else { return Err(Error::new(input.span(), "a shape is a struct")) };
    let Fields::Named(named) = &data.fields else {
        return Err(Error::new(input.span(), "the fields of a shape have names"));
    };
    let fields: Vec<_> = named.named.iter().filter_map(|field| field.ident.as_ref()).collect();
    if fields.len() > MOST {
        return Err(Error::new(input.span(), format!("a shape has at most {MOST} fields")));
    }
    let may_miss = may_miss(input)?;
    let (name, numbers) = (&input.ident, 0..fields.len());
    let also = numbers.clone();
    let (names, said) = (fields.iter().map(ToString::to_string), format!("struct {name}"));
    Ok(quote! {
        impl crate::json::Shape for #name {
            fn about(&self) -> &'static crate::json::About {
                &crate::json::About { name: #said, fields: &[#(#names),*], may_miss: #may_miss }
            }

            fn field(&self, number: usize) -> &dyn crate::json::Value {
                match number {
                    #(#numbers => &self.#fields,)*
                    _ => &(),
                }
            }

            fn field_mut(&mut self, number: usize) -> Option<&mut dyn crate::json::Value> {
                match number {
                    #(#also => Some(&mut self.#fields),)*
                    _ => None,
                }
            }
        }

        impl crate::json::Value for #name {
            fn read(&mut self, from: &mut crate::json::Reader<'_>) -> Result<(), crate::json::JsonError> {
                from.shape(self)
            }

            fn write(&self, to: &mut crate::json::Writer) {
                to.shape(self);
            }
        }
    })
}

/// Whether `#[serde(default)]` stands on the struct, which is said once for the schema and for this.
fn may_miss(input: &DeriveInput) -> Result<bool, Error> {
    let mut found = false;
    for attribute in input.attrs.iter().filter(|attribute| attribute.path().is_ident("serde")) {
        attribute.parse_nested_meta(|meta| {
            if meta.path.is_ident("default") {
                found = true;
                Ok(())
            } else {
                Err(meta.error("a shape knows `default` only"))
            }
        })?;
    }
    Ok(found)
}
