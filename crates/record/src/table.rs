//! Flat rows for other programs: one for each measurement and finding of an inspection, as CSV (RFC 4180) or as one JSON object a
//! line.
//!
//! Every row has the same columns; what does not apply is empty, in JSON `null`. Not here: the shapes of the file ([`crate::v1`]).

use serde::Serialize;

use crate::error::Error;
use crate::v1::{Inspection, Worked};

/// One row.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Row {
    /// Id of the inspection.
    pub inspection: String,
    /// Its fingerprint.
    pub fingerprint: String,
    /// When it was last changed.
    pub updated: String,
    /// Maker as engraved.
    pub maker: String,
    /// Model as engraved.
    pub model: String,
    /// Serial number.
    pub serial: String,
    /// Key of the outcome.
    pub outcome: String,
    /// `finding`, `shutter`, `meter`, `meter_level`, `aperture`, `glare` or `film`.
    pub row: String,
    /// Key of the point, the mark, or the usage.
    pub item: String,
    /// Condition of a finding, or call of a measurement.
    pub verdict: String,
    /// Light, EV at ISO 100.
    pub reference_ev100: Option<f64>,
    /// Error in stops, with the sign of its own kind: shutter, aperture, meter or film.
    pub error_stops: Option<f64>,
    /// A value that is no error in stops, such as a share of scattered light.
    pub value: Option<f64>,
    /// Standard uncertainty of either.
    pub standard_uncertainty: Option<f64>,
    /// Probability of lying within the tolerance.
    pub conformity: Option<f64>,
    /// How it was got.
    pub method: String,
    /// The person's own words.
    pub note: String,
}

/// The columns, in order.
pub const COLUMNS: [&str; 17] = [
    "inspection",
    "fingerprint",
    "updated",
    "maker",
    "model",
    "serial",
    "outcome",
    "row",
    "item",
    "verdict",
    "reference_ev100",
    "error_stops",
    "value",
    "standard_uncertainty",
    "conformity",
    "method",
    "note",
];

fn measured(result: &Worked, whole: &Row) -> Vec<Row> {
    let mut rows = Vec::new();
    let row = |kind: &str, item: &str| Row { row: kind.to_owned(), item: item.to_owned(), ..whole.clone() };
    for time in result.shutter.iter().flat_map(|shutter| &shutter.times) {
        rows.push(Row {
            verdict: time.call.clone(),
            error_stops: time.error_stops.as_ref().map(|error| error.value),
            standard_uncertainty: time.error_stops.as_ref().map(|error| error.standard_uncertainty),
            conformity: Some(time.conformity),
            method: time.how_words.clone(),
            ..row("shutter", &time.marked)
        });
    }
    if let Some(meter) = &result.meter {
        rows.push(Row {
            verdict: meter.call.clone(),
            error_stops: Some(meter.offset_stops.value),
            standard_uncertainty: Some(meter.offset_stops.standard_uncertainty),
            conformity: Some(meter.conformity),
            ..row("meter", "offset")
        });
        rows.extend(meter.levels.iter().enumerate().map(|(i, level)| Row {
            reference_ev100: Some(level.reference_ev100),
            error_stops: Some(level.error_stops),
            standard_uncertainty: Some(level.error_standard_uncertainty_stops),
            conformity: Some(level.conformity),
            method: level.reading_words.clone(),
            ..row("meter_level", &(i + 1).to_string())
        }));
    }
    for stop in result.aperture.iter().flat_map(|aperture| &aperture.stops) {
        rows.push(Row {
            verdict: stop.call.clone(),
            error_stops: stop.error_stops.as_ref().map(|error| error.value),
            standard_uncertainty: stop.error_stops.as_ref().map(|error| error.standard_uncertainty),
            conformity: Some(stop.conformity),
            method: stop.how_words.clone(),
            ..row("aperture", &stop.f_number)
        });
    }
    for film in &result.film_error {
        rows.push(Row {
            error_stops: film.error_stops,
            standard_uncertainty: film.standard_uncertainty_stops,
            method: film.usage.clone(),
            note: film.why_not.clone(),
            ..row("film", &film.time)
        });
    }
    rows
}

/// The rows of an inspection, worked out anew.
///
/// **Errors** where it cannot be judged.
pub fn rows(record: &Inspection) -> Result<Vec<Row>, Error> {
    let mut record = record.clone();
    crate::convert::work_out(&mut record)?;
    let result = record.result.clone().unwrap_or_default();
    let whole = Row {
        inspection: record.id.clone(),
        fingerprint: result.fingerprint.clone(),
        updated: record.updated.clone(),
        maker: record.camera.maker.clone(),
        model: record.camera.model.clone(),
        serial: record.camera.serial.clone(),
        outcome: result.outcome.clone(),
        ..Row::default()
    };
    let mut rows: Vec<Row> = record
        .findings
        .iter()
        .map(|finding| Row {
            row: "finding".to_owned(),
            item: finding.point.clone(),
            verdict: finding.condition.clone(),
            note: finding.note.clone(),
            ..whole.clone()
        })
        .collect();
    rows.extend(measured(&result, &whole));
    rows.extend(record.lens_measurements.glare.iter().map(|glare| Row {
        row: "glare".to_owned(),
        item: glare.label.clone(),
        value: Some(glare.glare_index),
        standard_uncertainty: Some(glare.standard_uncertainty),
        method: glare.method.clone(),
        ..whole.clone()
    }));
    Ok(rows)
}

/// A cell by RFC 4180. One that a spreadsheet would take for a formula gets a leading apostrophe (common practice).
fn cell(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r']) && text.parse::<f64>().is_err();
    let text = if formula { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\n', '\r']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text }
}

/// Rows as CSV with a head, lines ended by CR and LF.
pub fn csv(rows: &[Row]) -> Result<String, Error> {
    let mut text = format!("{}\r\n", COLUMNS.join(","));
    for row in rows {
        let object = serde_json::to_value(row).map_err(|error| Error::new(format!("it cannot be written: {error}")))?;
        let cells: Vec<String> = COLUMNS
            .iter()
            .map(|column| match object.get(column) {
                Some(serde_json::Value::String(text)) => cell(text),
                Some(serde_json::Value::Number(number)) => number.to_string(),
                _ => String::new(),
            })
            .collect();
        text.push_str(&cells.join(","));
        text.push_str("\r\n");
    }
    Ok(text)
}

/// Rows as one JSON object a line.
pub fn ndjson(rows: &[Row]) -> Result<String, Error> {
    rows.iter()
        .map(|row| {
            let line =
                serde_json::to_string(row).map_err(|error| Error::new(format!("it cannot be written: {error}")))?;
            Ok(format!("{line}\n"))
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_has_its_column_and_cells_are_kept_apart() {
        let object = serde_json::to_value(Row::default()).expect("an object");
        let mut fields: Vec<&String> = object.as_object().expect("an object").keys().collect();
        fields.sort();
        let mut columns = COLUMNS;
        columns.sort_unstable();
        assert_eq!(fields, columns);
        assert_eq!(cell("a, \"b\""), "\"a, \"\"b\"\"\"");
        assert_eq!((cell("=1+1").as_str(), cell("-0.5").as_str()), ("'=1+1", "-0.5"));
    }
}
