//! What is wrong with a file, in sentences: for an archive that is looked through without taking anything in.
//!
//! Not here: the reading itself ([`crate::read`]), whose verdict this is.

use serde::Serialize;

use crate::read::read_file;

/// What was found out about a file.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Checked {
    /// Whether it can be taken in.
    pub valid: bool,
    /// Why not, or what was noticed although it can, a sentence each.
    pub findings: Vec<String>,
}

impl Checked {
    /// A file of which not even the text could be had, with the reason in the manner of an error.
    pub fn refused(why: &str) -> Self {
        Self { valid: false, findings: vec![sentence(why)] }
    }
}

/// Checks a file's text.
pub fn check(text: &str) -> Checked {
    match read_file(text) {
        Ok(taken) => Checked { valid: true, findings: taken.findings },
        Err(error) => Checked::refused(&error.to_string()),
    }
}

/// An error's text as a sentence.
fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().into_iter().flat_map(char::to_uppercase).collect();
    format!("{first}{}.", letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bad_file_says_why_in_a_sentence() {
        assert_eq!(check(" "), Checked { valid: false, findings: vec!["The file is empty.".to_owned()] });
    }
}
