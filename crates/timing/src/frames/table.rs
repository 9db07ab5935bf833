//! The brightness of a clip, frame by frame: what is measured, whoever looked at the pictures.
//!
//! Not here: pixels (`pixels`), the frame grid and shots (`grid`, `shot`), and reading CSV files.

use super::curve::{Curve, Range};
use crate::error::Error;
use crate::shot::Notice;

/// Most frames in one clip: more than an hour at 240 frames a second.
pub const MOST_FRAMES: usize = 1_000_000;
/// Fewest frames that anything is measured from.
pub const FEWEST_FRAMES: usize = 12;
/// Linear light that is taken: 0 to 1, with room for what a black level taken off, or a correction, leaves.
const LIGHT: core::ops::RangeInclusive<f64> = -0.1..=1.5;
/// Names of strips, in the order of the curtain's travel across the picture.
pub const POSITIONS: [&str; 3] = ["left", "middle", "right"];

/// One strip across the curtain's travel, frame by frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// `left`, `middle` or `right`.
    pub name: String,
    /// Mean linear light of the strip in each frame, 0 to 1.
    pub values: Vec<f64>,
}

/// Brightness of a clip, frame by frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    times_s: Vec<f64>,
    strips: Vec<Strip>,
    clipped_share: Vec<f64>,
    exponent: f64,
    notices: Vec<Notice>,
}

impl Table {
    /// A table from the frames' times \[s, as the file says\] and the strips.
    ///
    /// **Errors** where a strip is missing, unnamed or there twice, lengths differ, a time is not finite, a brightness is no linear light, times do not rise,
    /// or there are fewer than [`FEWEST_FRAMES`] or more than [`MOST_FRAMES`] frames.
    pub fn new(times_s: Vec<f64>, strips: Vec<Strip>) -> Result<Self, Error> {
        let count = times_s.len();
        if !(FEWEST_FRAMES..=MOST_FRAMES).contains(&count) {
            return Err(Error::new(format!(
                "a clip must have {FEWEST_FRAMES} to {MOST_FRAMES} frames, and {count} were given"
            )));
        }
        if times_s.iter().any(|time| !time.is_finite()) {
            return Err(Error::new("the times of the frames must be finite numbers, and one of them is not"));
        }
        if let Some(at) = times_s.windows(2).position(|pair| pair[1] <= pair[0]) {
            return Err(Error::new(format!(
                "the times of the frames must rise, and they run backwards or stand still after frame {at} at {} s",
                times_s[at]
            )));
        }
        if strips.is_empty() {
            return Err(Error::new("a clip needs one strip of brightness at least, and none was given"));
        }
        for (index, strip) in strips.iter().enumerate() {
            if !POSITIONS.contains(&strip.name.as_str()) {
                return Err(Error::new(format!(
                    "a strip must be called left, middle or right, and {:?} was given",
                    strip.name.chars().take(40).collect::<String>()
                )));
            }
            if strips[..index].iter().any(|other| other.name == strip.name) {
                return Err(Error::new(format!("each strip must be there once, and {} was given twice", strip.name)));
            }
            if strip.values.len() != count {
                return Err(Error::new(format!(
                    "each strip needs a brightness for each of the {count} frames, and {} has {}",
                    strip.name,
                    strip.values.len()
                )));
            }
            if let Some(value) = strip.values.iter().find(|value| !LIGHT.contains(*value)) {
                return Err(Error::new(format!(
                    "the brightness must be linear light from 0 to 1, and {value} was given in the {} strip",
                    strip.name
                )));
            }
        }
        Ok(Self { times_s, strips, clipped_share: Vec::new(), exponent: 1.0, notices: Vec::new() })
    }

    /// The same, with the share of white-clipped pixels in each frame, 0 to 1. **Errors** where the lengths differ or a share is
    /// not between 0 and 1.
    pub fn with_clipped_share(mut self, share: Vec<f64>) -> Result<Self, Error> {
        if share.len() != self.times_s.len() {
            return Err(Error::new(format!(
                "the share of clipped pixels must be given for each of the {} frames, and {} were given",
                self.times_s.len(),
                share.len()
            )));
        }
        if share.iter().any(|value| !(0.0..=1.0).contains(value)) {
            return Err(Error::new("the share of clipped pixels must be between 0 and 1, and one of them is not"));
        }
        self.clipped_share = share;
        Ok(self)
    }

    /// The same, where the pixels had this tone exponent applied before they were averaged, so that it is not applied twice.
    /// **Errors** outside the range of [`super::tone`].
    pub fn with_exponent(mut self, exponent: f64) -> Result<Self, Error> {
        self.exponent = super::tone::checked_exponent(exponent)?;
        Ok(self)
    }

    /// Times of the frames \[s, as the file says\].
    pub fn times_s(&self) -> &[f64] {
        &self.times_s
    }

    /// The strips.
    pub fn strips(&self) -> &[Strip] {
        &self.strips
    }

    /// Share of white-clipped pixels in each frame; empty where nobody counted.
    pub fn clipped_share(&self) -> &[f64] {
        &self.clipped_share
    }

    /// Tone exponent that is in the values already.
    pub const fn exponent(&self) -> f64 {
        self.exponent
    }

    /// What has to be known about how the values came about.
    pub fn notices(&self) -> &[Notice] {
        &self.notices
    }
}

/// A table from mean *codes* of 8 bits. Second best: a mean of codes is not the code of the mean where the shutter's edge lies
/// inside the strip, and the notice `codes-averaged-first` says so.
///
/// A strip whose mean code is above [`Range::white`] counts as clipped. **Errors** as [`Table::new`], and for codes outside 0
/// to 255.
pub fn from_codes(times_s: Vec<f64>, strips: Vec<Strip>, curve: Curve, range: Range) -> Result<Table, Error> {
    if let Some(code) = strips.iter().flat_map(|strip| &strip.values).find(|code| !(0.0..=255.0).contains(*code)) {
        return Err(Error::new(format!("a code must be between 0 and 255, and {code} was given")));
    }
    let white = f64::from(range.white());
    let mut share = vec![0.0; times_s.len()];
    let mut light = Vec::with_capacity(strips.len());
    for strip in strips {
        for (share, code) in share.iter_mut().zip(&strip.values) {
            if *code > white {
                *share = 1.0;
            }
        }
        let values = strip.values.iter().map(|code| curve.light(range.signal(*code))).collect();
        light.push(Strip { name: strip.name, values });
    }
    let mut table = Table::new(times_s, light)?.with_clipped_share(share)?;
    // Where codes are light, the order does not matter.
    if curve != Curve::Linear {
        table.notices.push(super::notices::codes_averaged_first());
    }
    Ok(table)
}

/// What a column of a table of frames holds, from its name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Column {
    /// `left`, `middle` or `right`.
    pub position: &'static str,
    /// Linear light, otherwise mean codes.
    pub linear: bool,
}

/// Reads a column's name: `L`, `M`, `R`, `left`, `middle`, `mid`, `right`, in any case, with `lin` at its end for linear light
/// (with or without `_`, `-` or a space before it). `None` for any other name.
pub fn column(name: &str) -> Option<Column> {
    let name = name.trim().to_ascii_lowercase();
    let (stem, linear) = match name.strip_suffix("lin") {
        Some(stem) => (stem.trim_end_matches(['_', '-', ' ']), true),
        None => (name.as_str(), false),
    };
    let position = match stem {
        "l" | "left" => POSITIONS[0],
        "m" | "mid" | "middle" => POSITIONS[1],
        "r" | "right" => POSITIONS[2],
        _ => return None,
    };
    Some(Column { position, linear })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn strip(name: &str, count: usize) -> Strip {
        Strip { name: name.to_owned(), values: vec![0.5; count] }
    }

    fn times(count: usize) -> Vec<f64> {
        (0..count).map(|k| k as f64 / 240.0).collect()
    }

    #[test]
    fn what_is_no_clip_is_refused_in_a_sentence() {
        let text = |result: Result<Table, Error>| result.expect_err("refused").to_string();
        assert!(text(Table::new(times(3), vec![strip("middle", 3)])).contains("12 to"));
        assert!(text(Table::new(times(20), vec![])).contains("one strip"));
        assert!(text(Table::new(times(20), vec![strip("top", 20)])).contains("\"top\""));
        assert!(text(Table::new(times(20), vec![strip("left", 20), strip("left", 20)])).contains("twice"));
        assert!(text(Table::new(times(20), vec![strip("left", 19)])).contains("20 frames"));
        let mut back = times(20);
        back.swap(7, 8);
        assert!(text(Table::new(back, vec![strip("left", 20)])).contains("backwards"));
        let mut odd = strip("left", 20);
        odd.values[3] = f64::NAN;
        assert!(text(Table::new(times(20), vec![odd])).contains("linear light"));
        let good = Table::new(times(20), vec![strip("left", 20)]).expect("a table");
        assert!(good.clone().with_clipped_share(vec![0.0; 19]).is_err());
        assert!(good.clone().with_clipped_share(vec![1.5; 20]).is_err());
        assert!(good.with_exponent(9.0).is_err());
    }

    #[test]
    fn codes_become_light_and_say_so() {
        let codes = vec![Strip { name: "middle".into(), values: [16.0, 235.0, 125.5].repeat(5) }];
        let table = from_codes(times(15), codes.clone(), Curve::Bt709, Range::Limited).expect("a table");
        assert_eq!(table.strips()[0].values[..2], [0.0, 1.0]);
        assert_eq!(table.clipped_share()[..3], [0.0, 1.0, 0.0]);
        assert_eq!(table.notices()[0].code, "codes-averaged-first");
        let linear = from_codes(times(15), codes, Curve::Linear, Range::Limited).expect("a table");
        assert!(linear.notices().is_empty() && linear.strips()[0].values[2] == 0.5);
        let beyond = vec![Strip { name: "middle".into(), values: vec![256.0; 15] }];
        assert!(from_codes(times(15), beyond, Curve::Srgb, Range::Full).is_err());
    }

    #[test]
    fn columns_are_known_by_their_names() {
        assert_eq!(column("Llin"), Some(Column { position: "left", linear: true }));
        assert_eq!(column(" middle_LIN"), Some(Column { position: "middle", linear: true }));
        assert_eq!(column("R"), Some(Column { position: "right", linear: false }));
        assert_eq!(column("frame"), None);
        assert_eq!(column("lin"), None);
    }
}
