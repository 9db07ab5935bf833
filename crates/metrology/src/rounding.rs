//! Numbers as they are shown: rounded to the doubt that they carry (JCGM 100:2008, 7.2.6).
//!
//! Not here: units and words.

/// A value and its expanded uncertainty, rounded alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rounded {
    /// The value.
    pub value: String,
    /// The expanded uncertainty, to its two leading digits.
    pub uncertainty: String,
    /// Decimals of both; 0 where the two leading digits stand before the point.
    pub decimals: usize,
}

/// Most decimals that are ever shown.
const MOST_DECIMALS: i32 = 12;

/// Rounds a value and its expanded uncertainty to the uncertainty's two leading digits; without doubt, to six decimals.
///
/// ```
/// let shown = metrology::rounded(0.71234, 0.1432);
/// assert_eq!((shown.value.as_str(), shown.uncertainty.as_str()), ("0.71", "0.14"));
/// ```
pub fn rounded(value: f64, expanded_uncertainty: f64) -> Rounded {
    let decimals = if expanded_uncertainty > 0.0 && expanded_uncertainty.is_finite() {
        let leading = libm::floor(libm::log10(expanded_uncertainty)) as i32;
        let decimals = (1 - leading).clamp(0, MOST_DECIMALS);
        // 0.0996 becomes 0.100, and one digit less is two again.
        let scale = libm::pow(10.0, f64::from(decimals));
        let carried = libm::round(expanded_uncertainty * scale) >= 100.0 && decimals > 0;
        (if carried { decimals - 1 } else { decimals }) as usize
    } else {
        6
    };
    Rounded { value: to_decimals(value, decimals), uncertainty: to_decimals(expanded_uncertainty, decimals), decimals }
}

/// A number with so many decimals, half rounded away from zero, never `-0.0`. What is no finite number is shown as a dash.
pub fn to_decimals(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "–".to_owned();
    }
    let decimals = decimals.min(MOST_DECIMALS as usize);
    let scaled = value * SCALES[decimals];
    if scaled.abs() >= 1e15 {
        return format!("{value:.decimals$}");
    }
    // Formatting alone would round halves to even, and binary halves such as 0.15 either way: a nudge of a few parts in
    // 10¹² sends what was entered as a decimal half away from zero.
    with_point(libm::round(scaled * (1.0 + 4e-15)) as i64, decimals)
}

/// Powers of ten.
const SCALES: [f64; MOST_DECIMALS as usize + 1] = [1.0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12];

/// A whole number of 10⁻ᵈ, d being the decimals, with its point.
fn with_point(whole: i64, decimals: usize) -> String {
    /// Sign, 19 digits at most, point.
    const ROOM: usize = 24;
    let mut letters = [b'0'; ROOM];
    let (mut at, mut left) = (ROOM, whole.unsigned_abs());
    let mut put = |letter: u8| {
        at -= 1;
        letters[at] = letter;
    };
    let mut done = 0;
    while left > 0 || done <= decimals {
        if done == decimals && decimals > 0 {
            put(b'.');
        }
        put(b'0' + (left % 10) as u8);
        left /= 10;
        done += 1;
    }
    if whole < 0 {
        put(b'-');
    }
    core::str::from_utf8(&letters[at..]).unwrap_or_default().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn two_leading_digits_of_the_doubt() {
        let shown = |value, doubt| {
            let r = rounded(value, doubt);
            (r.value, r.uncertainty)
        };
        assert_eq!(shown(1.23456, 0.0234), ("1.235".into(), "0.023".into()));
        assert_eq!(shown(1.23456, 0.0996), ("1.23".into(), "0.10".into()));
        assert_eq!(shown(1234.5, 56.0), ("1235".into(), "56".into()));
        assert_eq!(shown(-0.001, 0.2), ("0.00".into(), "0.20".into()));
    }

    #[test]
    fn halves_go_away_from_zero() {
        assert_eq!(to_decimals(0.15, 1), "0.2");
        assert_eq!(to_decimals(-0.25, 1), "-0.3");
        assert_eq!(to_decimals(2.5, 0), "3");
        assert_eq!(to_decimals(-0.04, 1), "0.0");
        assert_eq!(to_decimals(f64::NAN, 1), "–");
    }

    proptest! {
        #[test]
        fn digits_are_those_of_the_standard_library(whole in -1_000_000_000_000_000_i64..1_000_000_000_000_000, less in 0..15_u32, decimals in 0..13_usize) {
            let whole = whole / 10_i64.pow(less);
            let scale = libm::pow(10.0, decimals as f64);
            prop_assert_eq!(scale.to_bits(), SCALES[decimals].to_bits());
            let plain = format!("{:.decimals$}", whole as f64 / scale);
            prop_assert_eq!(with_point(whole, decimals), plain);
        }

        #[test]
        fn what_is_shown_lies_within_half_a_last_digit(value in -1e4..1e4_f64, doubt in 1e-6..1e3_f64) {
            let shown = rounded(value, doubt);
            let half = 0.5 * libm::pow(10.0, -(shown.decimals as f64)) * (1.0 + 1e-6);
            prop_assert!((shown.value.parse::<f64>().unwrap() - value).abs() <= half);
            prop_assert!((shown.uncertainty.parse::<f64>().unwrap() - doubt).abs() <= half);
            prop_assert!(!shown.value.starts_with("-0") || shown.value.chars().any(|c| ('1'..='9').contains(&c)));
        }

        #[test]
        fn no_number_makes_a_panic(value in prop::num::f64::ANY, doubt in prop::num::f64::ANY, decimals in 0..400_usize) {
            let _ = (rounded(value, doubt), to_decimals(value, decimals));
        }
    }
}
