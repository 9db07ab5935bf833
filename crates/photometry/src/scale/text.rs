//! Marks as text: how they are read, and how fractions are written.
//!
//! Not here: what marks there are ([`super::series`]).

use super::series::{Scale, geometric, usual_step};
use crate::error::Error;

/// A mark longer than this is none.
const LONGEST: usize = 24;
/// The fractions of a between-mark place.
const FRACTIONS: [(&str, f64, &str); 5] =
    [("1/4", 0.25, "¼"), ("1/3", 1.0 / 3.0, "⅓"), ("1/2", 0.5, "½"), ("2/3", 2.0 / 3.0, "⅔"), ("3/4", 0.75, "¾")];

/// A mark taken apart.
pub(super) struct Parsed {
    given: String,
    mark: String,
    fraction: Option<(&'static str, f64)>,
    dial: Scale,
}

fn quantity(dial: Scale) -> &'static str {
    match dial {
        Scale::FNumber => "f-number",
        Scale::Time => "time",
        Scale::FilmSpeed => "film speed",
    }
}

fn example(dial: Scale) -> &'static str {
    match dial {
        Scale::FNumber => "5.6 or 5.6+1/3",
        Scale::Time => "1/125, 2 or 1/60+1/2",
        Scale::FilmSpeed => "400",
    }
}

/// `⅓` for `1/3`; anything else as it is.
pub(super) fn vulgar(fraction: &str) -> String {
    FRACTIONS.iter().find(|(text, ..)| *text == fraction).map_or(fraction, |(_, _, sign)| sign).to_owned()
}

impl Parsed {
    pub(super) fn of(given: &str, dial: Scale) -> Result<Self, Error> {
        let shown: String = given.chars().take(40).collect();
        let refused = || {
            Error::new(format!(
                "the {} must be a mark such as {}, and \"{shown}\" was given",
                quantity(dial),
                example(dial)
            ))
        };
        let compact: String = given.chars().filter(|c| !c.is_whitespace()).collect::<String>().replace(',', ".");
        let compact = match dial {
            Scale::FNumber => compact.strip_prefix("f/").or_else(|| compact.strip_prefix("F/")).unwrap_or(&compact),
            Scale::Time => compact.strip_suffix('s').unwrap_or(&compact),
            Scale::FilmSpeed => compact.strip_prefix("ISO").unwrap_or(&compact),
        };
        if compact.is_empty() || compact.len() > LONGEST {
            return Err(refused());
        }
        let (mark, fraction) = match compact.split_once('+') {
            None => (compact, None),
            Some((mark, tail)) => {
                let known = FRACTIONS.iter().find(|(text, ..)| *text == tail).ok_or_else(refused)?;
                (mark, Some((known.0, known.1)))
            }
        };
        let parsed = Self { given: shown.clone(), mark: mark.to_owned(), fraction, dial };
        if number(mark, dial).is_none() {
            return Err(refused());
        }
        Ok(parsed)
    }

    pub(super) fn text(&self) -> String {
        match self.fraction {
            None => self.mark.clone(),
            Some((fraction, _)) => format!("{}+{fraction}", self.mark),
        }
    }

    pub(super) fn refused(&self, error: &Error) -> Error {
        Error::new(format!("the {} \"{}\" cannot be: {error}", quantity(self.dial), self.given))
    }

    /// The exact value; 0 where the text is no number, which every quantity refuses.
    pub(super) fn exact(&self, dial: Scale, neighbours: &[&str]) -> f64 {
        let own = number(&self.mark, dial).unwrap_or(0.0);
        let Some((_, share)) = self.fraction else { return own };
        let next = neighbours
            .iter()
            .position(|mark| *mark == self.mark)
            .and_then(|i| neighbours.get(i + 1))
            .and_then(|mark| number(mark, dial));
        let step = next.map_or_else(|| usual_step(dial), |next| next / own);
        own * libm::pow(step, share)
    }
}

/// The exact value of a mark without fraction.
fn number(mark: &str, dial: Scale) -> Option<f64> {
    if let Some(exact) = geometric(mark, dial) {
        return Some(exact);
    }
    let plain = |text: &str| -> Option<f64> {
        let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
        if digits { text.parse::<f64>().ok().filter(|value| *value > 0.0) } else { None }
    };
    match (dial, mark.split_once('/')) {
        (_, None) => plain(mark),
        (Scale::Time, Some((over, under))) => Some(plain(over)? / plain(under)?),
        _ => None,
    }
}
