//! A table of levels, as CSV: what the light was and what the camera's meter said.
//!
//! Not here: what they come to (`inspection`).

use inspection::meter::{Level, Reading};
use photometry::{Ev, Stops};
use record::limits::LEVELS;

use crate::error::{Failure, one_line};

/// The columns, which may stand in any order; others are passed over.
const COLUMNS: [&str; 4] = ["reference_ev100", "reference_doubt_stops", "reading_ev100", "reading_step_stops"];

/// Reads the levels, each row one.
///
/// `shared_doubt` \[stops\] is only looked at to know whether the reference has any doubt at all.
pub fn levels(text: &str, shared_doubt: f64) -> Result<Vec<Level>, Failure> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|error| Failure::None(format!("the table cannot be read: {error}")))?.clone();
    let mut places = [0; COLUMNS.len()];
    for (place, column) in places.iter_mut().zip(COLUMNS) {
        let mut found = heads.iter().enumerate().filter(|(_, head)| *head == column);
        *place = match (found.next(), found.next()) {
            (Some((i, _)), None) => i,
            (Some(_), Some(_)) => {
                return Err(Failure::None(format!("the column {column} stands twice in the first line")));
            }
            (None, _) => {
                return Err(Failure::None(format!(
                    "the column {column} is missing: the first line must name {}",
                    COLUMNS.join(", ")
                )));
            }
        };
    }
    let mut levels = Vec::new();
    for (i, row) in reader.records().enumerate() {
        let place = format!("row {}", i + 1);
        if i == LEVELS {
            return Err(Failure::None(format!("the table has more than {LEVELS} rows, which is the most")));
        }
        let row = row.map_err(|error| Failure::None(format!("{place}: {}", broken(&error))))?;
        let cells = places.map(|place| row.get(place).unwrap_or_default());
        levels.push(level(cells, shared_doubt).map_err(|failure| failure.at(&place))?);
    }
    Ok(levels)
}

/// Why a row cannot be read.
pub fn broken(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::UnequalLengths { expected_len, len, .. } => {
            format!("it has {len} cells, and the first line has {expected_len}")
        }
        _ => format!("it cannot be read: {error}"),
    }
}

fn level([reference, doubt, reading, step]: [&str; 4], shared_doubt: f64) -> Result<Level, Failure> {
    let not_below_zero = |text: &str, column: &str| {
        let value = number(text, column)?;
        if value < 0.0 {
            return Err(Failure::None(format!("the {column} must not be below 0, and {value} was given")));
        }
        Ok(Stops::new(value)?)
    };
    let each_doubt = not_below_zero(doubt, COLUMNS[1])?;
    if each_doubt.value() == 0.0 && shared_doubt == 0.0 {
        return Err(Failure::None(
            "a reference without a doubt is none: give reference_doubt_stops or --shared-doubt, in stops".to_owned(),
        ));
    }
    let said = number(reading, COLUMNS[2])?;
    Ok(Level {
        reference: Ev::new(number(reference, COLUMNS[0])?)?,
        source: 0,
        each_doubt,
        readings: vec![Reading {
            ev100: Ev::new(said)?,
            step: not_below_zero(step, COLUMNS[3])?,
            words: inspection::words::ev(said),
        }],
    })
}

/// A cell as a number.
pub fn number(text: &str, column: &str) -> Result<f64, Failure> {
    match text.parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ if text.is_empty() => Err(Failure::None(format!("the {column} is empty, and it must be a number"))),
        _ => Err(Failure::None(format!("the {column} must be a number, and \"{}\" was given", one_line(text)))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HEAD: &str = "reference_ev100,reference_doubt_stops,reading_ev100,reading_step_stops\n";

    fn refused(text: &str) -> String {
        levels(text, 0.1).expect_err(text).to_string()
    }

    #[test]
    fn columns_may_stand_in_any_order() {
        let text =
            "\u{feff}note, reading_ev100,reading_step_stops,reference_ev100,reference_doubt_stops\nx,8.5,0.5,8,0.1\n";
        let levels = levels(text, 0.1).expect("levels");
        assert_eq!(levels.len(), 1);
        assert_eq!((levels[0].reference.value(), levels[0].readings[0].ev100.value()), (8.0, 8.5));
        assert_eq!((levels[0].each_doubt.value(), levels[0].readings[0].step.value()), (0.1, 0.5));
    }

    #[test]
    fn what_cannot_be_is_refused_with_its_row() {
        assert!(refused(&format!("{HEAD}8,0.1,8,0.5\n8,0.1,NaN,0.5\n")).starts_with("row 2: the reading_ev100"));
        assert!(refused(&format!("{HEAD}400,0.1,8,0.5\n")).contains("EV 40"));
        assert!(refused(&format!("{HEAD}8,-0.1,8,0.5\n")).contains("below 0"));
        assert!(refused(&format!("{HEAD}8,,8,0.5\n")).contains("is empty"));
        assert!(refused(&format!("{HEAD}8,0.1,8\n")).contains("row 1: it has 3 cells"));
        assert!(refused("reference_ev100\n8\n").contains("reference_doubt_stops is missing"));
        assert!(refused(&format!("{HEAD}{}", "8,0.1,8,0.5\n".repeat(LEVELS + 1))).contains("more than 200 rows"));
        assert!(
            levels(&format!("{HEAD}8,0,8,0.5\n"), 0.0).expect_err("refused").to_string().contains("without a doubt")
        );
        assert!(levels(HEAD, 0.1).expect("no level").is_empty());
    }
}
