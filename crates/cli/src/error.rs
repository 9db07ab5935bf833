//! Why a call gave nothing, and the exit code that says so.
//!
//! Not here: what was noticed beside an outcome, which belongs to the outcome.

use std::fmt;

/// A text of a user is shown up to this many letters.
const SHOWN: usize = 80;

/// Why a call gave nothing.
#[derive(Debug, PartialEq, Eq)]
pub enum Failure {
    /// There is no outcome.
    None(String),
    /// The call cannot be understood.
    Usage(String),
}

impl Failure {
    /// The exit code.
    pub const fn code(&self) -> u8 {
        match self {
            Failure::None(_) => 1,
            Failure::Usage(_) => 2,
        }
    }

    /// The same with the place where it happened before it.
    pub fn at(self, place: &str) -> Self {
        match self {
            Failure::None(text) => Failure::None(format!("{place}: {text}")),
            Failure::Usage(text) => Failure::Usage(format!("{place}: {text}")),
        }
    }
}

/// A text in one line of bearable length, so that nothing in a file or in its name can write anything else to a terminal.
pub fn one_line(text: &str) -> String {
    let mut line: String = text.chars().take(SHOWN).map(|c| if c.is_control() { ' ' } else { c }).collect();
    if text.chars().nth(SHOWN).is_some() {
        line.push('…');
    }
    line
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let line = |text: &str| -> String { text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect() };
        match self {
            Failure::None(text) => f.write_str(&line(text)),
            Failure::Usage(text) => write!(f, "{} (\"lampblack help\" lists the calls)", line(text)),
        }
    }
}

impl From<lexopt::Error> for Failure {
    fn from(error: lexopt::Error) -> Self {
        Failure::Usage(error.to_string())
    }
}

/// What the rooms of the bench refuse is no outcome.
macro_rules! no_outcome {
    ($($error:ty),*) => {$(
        impl From<$error> for Failure {
            fn from(error: $error) -> Self {
                Failure::None(error.to_string())
            }
        }
    )*};
}

no_outcome!(inspection::Error, photometry::Error, metrology::Error, timing::Error, record::Error);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whatever_is_shown_stays_in_one_line() {
        assert_eq!(one_line("a\nb\u{1b}[2J"), "a b [2J");
        assert!(one_line(&"x".repeat(500)).chars().count() <= SHOWN + 1);
        let usage = Failure::Usage("no\nverb".to_owned());
        assert_eq!(usage.to_string(), "no verb (\"lampblack help\" lists the calls)");
        assert_eq!((usage.code(), Failure::None(String::new()).code()), (2, 1));
    }
}
