//! The check values as rows: reading the file, the numbers in a row's input, and whether an answer lies within its tolerance.
//!
//! Not here: the answers ([`crate::exposure`], [`crate::film`], [`crate::metrology`]).

use std::path::{Path, PathBuf};

/// One row of the file.
pub struct Row {
    pub id: String,
    pub input: String,
    pub expected: String,
    pub tolerance: String,
}

/// Every row, in the order of the file.
pub struct Rows(Vec<Row>);

/// A file beside this one.
pub fn beside(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reference").join(name)
}

impl Rows {
    pub fn read() -> Self {
        // The last column says how sure a row is, and is not always quoted: its own commas make it several.
        let mut reader =
            csv::ReaderBuilder::new().flexible(true).from_path(beside("check_values.csv")).expect("the check values");
        let heads = reader.headers().expect("a head line").clone();
        assert_eq!(
            heads.iter().collect::<Vec<_>>(),
            ["check id", "input", "expected", "tolerance", "source", "confidence"]
        );
        let rows = reader
            .records()
            .map(|record| {
                let record = record.expect("a row");
                let column = |i: usize| record[i].trim().to_owned();
                Row { id: column(0), input: column(1), expected: column(2), tolerance: column(3) }
            })
            .collect();
        Self(rows)
    }

    pub fn iter(&self) -> impl Iterator<Item = &Row> {
        self.0.iter()
    }

    /// The row with this name; several rows say "the same" of an earlier one.
    pub fn named(&self, id: &str) -> &Row {
        self.0.iter().find(|row| row.id == id).unwrap_or_else(|| panic!("no row {id}"))
    }
}

impl Row {
    /// What follows the first `mark` in the input.
    pub fn after(&self, mark: &str) -> &str {
        self.input.split_once(mark).unwrap_or_else(|| panic!("{}: no {mark} in {}", self.id, self.input)).1
    }

    /// The number that follows the first `mark`.
    pub fn number(&self, mark: &str) -> f64 {
        first_number(self.after(mark)).unwrap_or_else(|| panic!("{}: no number after {mark}", self.id))
    }

    /// The word that follows the first `mark`, up to a blank or a semicolon.
    pub fn word(&self, mark: &str) -> &str {
        self.after(mark).split([' ', ';', ',']).next().unwrap_or("")
    }

    /// The numbers of a list that follows the first `mark`, up to a semicolon.
    pub fn list(&self, mark: &str) -> Vec<f64> {
        let list = self.after(mark).split(';').next().unwrap_or("");
        list.split([',', ' ']).filter_map(|text| text.parse().ok()).collect()
    }

    /// The expected number; a row whose expectation is no number cannot be asked for one.
    pub fn expected_number(&self) -> f64 {
        self.expected.parse().unwrap_or_else(|_| panic!("{}: {} is no number", self.id, self.expected))
    }

    /// The expected numbers of a row that has several, parted by semicolons; a time of day counts in seconds.
    pub fn expected_numbers(&self) -> Vec<f64> {
        let number = |text: &str| -> f64 {
            let part =
                |text: &str| text.trim().parse::<f64>().unwrap_or_else(|_| panic!("{}: {text} is no number", self.id));
            text.split(':').fold(0.0, |sum, text| sum * 60.0 + part(text))
        };
        self.expected.split(';').map(number).collect()
    }

    /// How far an answer may lie from the expected number.
    pub fn allowed(&self) -> f64 {
        let mut words = self.tolerance.split_whitespace();
        let kind = words.next();
        let number = || {
            let text = self.tolerance.split_whitespace().nth(1).and_then(|text| text.parse::<f64>().ok());
            text.unwrap_or_else(|| panic!("{}: no tolerance in {}", self.id, self.tolerance))
        };
        match kind {
            Some("abs") => number(),
            Some("rel") => number() * self.expected_number().abs(),
            Some("exact") => 0.0,
            _ => panic!("{}: no tolerance in {}", self.id, self.tolerance),
        }
    }

    /// Whether an answer lies within the row's tolerance.
    pub fn accepts(&self, answer: f64) -> bool {
        // An absolute tolerance of half a last digit would refuse what rounds to that digit in binary.
        (answer - self.expected_number()).abs() <= self.allowed() * (1.0 + 1e-9)
    }
}

impl Row {
    /// Whether answers lie within the row's tolerance, one by one; a relative tolerance has one number only.
    pub fn accepts_all(&self, answers: &[f64]) -> bool {
        let (expected, allowed) = (self.expected_numbers(), self.allowed() * (1.0 + 1e-9));
        expected.len() == answers.len() && expected.iter().zip(answers).all(|(a, b)| (a - b).abs() <= allowed)
    }
}

/// The number at the start of a text, `1/60` being a quotient.
pub fn first_number(text: &str) -> Option<f64> {
    let text = text.trim_start();
    let end = text
        .char_indices()
        .find(|(i, c)| {
            let sign = matches!(c, '+' | '-') && (*i == 0 || matches!(text.as_bytes()[i - 1], b'e' | b'E'));
            let exponent =
                matches!(c, 'e' | 'E') && text[i + 1..].starts_with(|c: char| c.is_ascii_digit() || c == '-');
            !(c.is_ascii_digit() || *c == '.' || sign || exponent)
        })
        .map_or(text.len(), |(i, _)| i);
    // A full stop that ends a sentence, or the two of a range, belong to no number.
    let digits = text[..end].split("..").next()?.trim_end_matches('.');
    let over: f64 = digits.parse().ok()?;
    match text[end..].strip_prefix('/') {
        Some(under) if under.starts_with(|c: char| c.is_ascii_digit()) => Some(over / first_number(under)?),
        _ => Some(over),
    }
}

/// Every number in a text, in order.
pub fn numbers(text: &str) -> Vec<f64> {
    let mut found = Vec::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let signed = rest[..start].ends_with(['-', '+']);
        let from = if signed { start - 1 } else { start };
        found.extend(first_number(&rest[from..]));
        let quotient = rest[start..].find(|c: char| !(c.is_ascii_digit() || c == '.' || c == '/'));
        rest = quotient.map_or("", |end| &rest[start + end..]);
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_found_where_they_stand() {
        assert_eq!(first_number("1/60 s"), Some(1.0 / 60.0));
        assert_eq!(first_number("-5.47; u"), Some(-5.47));
        assert_eq!(first_number("2e-3 s"), Some(0.002));
        assert_eq!(first_number("1499.80..1500.20"), Some(1499.8));
        assert_eq!(first_number("s"), None);
        assert_eq!(numbers("old marks 1/2 and 1/5 s"), [0.5, 0.2]);
        assert_eq!(numbers("between K=14 and K=12.5"), [14.0, 12.5]);
    }

    #[test]
    fn several_numbers_and_times_of_day_are_compared_one_by_one() {
        let row = |expected: &str, tolerance: &str| Row {
            id: String::new(),
            input: String::new(),
            expected: expected.to_owned(),
            tolerance: tolerance.to_owned(),
        };
        let time = row("06:12:43", "abs 1 (s)");
        assert_eq!(time.expected_numbers(), [22_363.0]);
        assert!(time.accepts_all(&[22_364.0]) && !time.accepts_all(&[22_364.5]));
        let pair = row("11.9;25.5", "abs 0.2");
        assert!(pair.accepts_all(&[12.0, 25.5]) && !pair.accepts_all(&[11.9]) && !pair.accepts_all(&[11.9, 26.0]));
        assert!(!pair.accepts_all(&[11.9, f64::NAN]));
    }

    /// A comparison that takes anything proves nothing: ten tolerances off, on either side, must be refused.
    #[test]
    fn ten_tolerances_off_are_refused_in_every_row_that_has_a_number() {
        let mut tried = 0;
        for row in Rows::read().iter().filter(|row| row.expected.parse::<f64>().is_ok()) {
            if !["abs", "rel", "exact"].iter().any(|kind| row.tolerance.starts_with(kind)) {
                continue;
            }
            let (expected, off) = (row.expected_number(), 10.0 * row.allowed());
            let off = if off > 0.0 { off } else { 1e-9 * expected.abs().max(1.0) };
            assert!(row.accepts(expected), "{}", row.id);
            assert!(!row.accepts(expected + off) && !row.accepts(expected - off), "{}", row.id);
            assert!(!row.accepts(f64::NAN), "{}", row.id);
            tried += 1;
        }
        assert!(tried > 400, "{tried}");
    }
}
