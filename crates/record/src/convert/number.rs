//! Numbers as people type them.
//!
//! Not here: marks of dials, which `photometry` reads.

use crate::error::Error;

/// A decimal number with a point or a comma, spaces between its digits allowed: `1 200,5`.
///
/// **Errors** where it is none, naming the quantity and what was given.
pub(crate) fn decimal(text: &str, quantity: &str) -> Result<f64, Error> {
    let mut compact = String::with_capacity(text.len());
    compact.extend(text.chars().filter(|c| !c.is_whitespace()).map(|c| if c == ',' { '.' } else { c }));
    let digits = !compact.is_empty()
        && compact.len() <= 24
        && compact.strip_prefix('-').unwrap_or(&compact).bytes().all(|c| c.is_ascii_digit() || c == b'.');
    match compact.parse::<f64>() {
        Ok(value) if digits && value.is_finite() => Ok(value),
        _ => {
            let shown: String = text.chars().take(40).collect();
            Err(Error::new(format!("the {quantity} must be a number such as 12.5, and \"{shown}\" was given")))
        }
    }
}

/// The same, where nothing may have been entered.
pub(super) fn optional(text: &str, quantity: &str) -> Result<Option<f64>, Error> {
    if text.trim().is_empty() { Ok(None) } else { decimal(text, quantity).map(Some) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_comma_and_spaces_are_read() {
        assert_eq!(decimal(" 1 200,5 ", "illuminance"), Ok(1200.5));
        assert_eq!(decimal("-0.25", "EV"), Ok(-0.25));
        assert_eq!(optional("  ", "voltage"), Ok(None));
    }

    #[test]
    fn what_is_no_number_is_refused_and_named() {
        for bad in ["", "NaN", "inf", "1e400", "1.2.3", "--1", "twelve", "0x10"] {
            let error = decimal(bad, "illuminance").expect_err(bad).to_string();
            assert!(error.contains("illuminance") && error.contains(bad), "{error}");
        }
    }
}
