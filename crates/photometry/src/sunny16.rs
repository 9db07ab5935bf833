//! Sunny 16 by eye: words for the sky and the light that goes with each.
//!
//! Values of ANSI PH2.7-1973/-1986 as tabulated in secondary pages (Wikipedia, Exposure value, Table 2). The rule taken
//! literally, f/16 at 1/S, is EV 14.64 and not 15. Not here: the computed sun and sky.

/// A word for the sky.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SkyWord {
    /// The key in a file.
    pub key: &'static str,
    /// What one sees.
    pub words: &'static str,
    /// The light \[EV at ISO 100\].
    pub ev100: f64,
    /// The f-number of the rule at 1/speed, as marked.
    pub f_number_mark: &'static str,
    /// Source.
    pub source: &'static str,
}

const SOURCE: &str = "ANSI PH2.7";

/// Every word, the brightest first.
pub const SKY_WORDS: [SkyWord; 6] = [
    SkyWord {
        key: "snow_or_sand",
        words: "sun on light sand or snow",
        ev100: 16.0,
        f_number_mark: "22",
        source: SOURCE,
    },
    SkyWord {
        key: "distinct_shadow",
        words: "sun, shadows with hard edges",
        ev100: 15.0,
        f_number_mark: "16",
        source: SOURCE,
    },
    SkyWord { key: "soft_shadow", words: "hazy sun, soft shadows", ev100: 14.0, f_number_mark: "11", source: SOURCE },
    SkyWord {
        key: "cloudy_bright",
        words: "bright cloud, no shadows",
        ev100: 13.0,
        f_number_mark: "8",
        source: SOURCE,
    },
    SkyWord { key: "heavy_overcast", words: "heavy overcast", ev100: 12.0, f_number_mark: "5.6", source: SOURCE },
    SkyWord {
        key: "open_shade",
        words: "open shade under a clear sky",
        ev100: 12.0,
        f_number_mark: "5.6",
        source: SOURCE,
    },
];

/// The word with this key.
pub fn sky_word(key: &str) -> Option<&'static SkyWord> {
    SKY_WORDS.iter().find(|word| word.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_lead_back() {
        for word in &SKY_WORDS {
            assert_eq!(sky_word(word.key), Some(word));
        }
        assert_eq!(sky_word("dusk"), None);
    }
}
