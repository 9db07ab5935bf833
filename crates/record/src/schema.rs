//! The JSON Schema (2020-12) of the inspection file, generated from the shape itself.
//!
//! Not here: our own checks, which go further ([`crate::read`]).

use crate::v1::{FORMAT, Inspection, VERSION};

/// The schema as text. Its `$id` names a host that can never exist (RFC 6761), since nothing is fetched from anywhere.
pub fn schema_text() -> String {
    let mut schema = schemars::schema_for!(Inspection);
    let root = schema.ensure_object();
    root.insert("$id".to_owned(), format!("https://lampblack.invalid/schema/{FORMAT}-{VERSION}.json").into());
    root.insert("title".to_owned(), "Inspection of a film camera".into());
    root.insert("required".to_owned(), serde_json::json!(["format", "version", "id", "camera"]));
    if let Some(properties) = root.get_mut("properties").and_then(serde_json::Value::as_object_mut) {
        for (key, value) in [("format", serde_json::json!(FORMAT)), ("version", serde_json::json!(VERSION))] {
            if let Some(property) = properties.get_mut(key).and_then(serde_json::Value::as_object_mut) {
                property.insert("const".to_owned(), value);
            }
        }
    }
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}
