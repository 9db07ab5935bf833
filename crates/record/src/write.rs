//! From an inspection to a file's text: strict and canonical, so that the same inspection has the same bytes.
//!
//! Not here: reading ([`crate::read`]).

use crate::error::Error;
use crate::json::{Value, to_pretty};
use crate::read::parse;
use crate::v1::{BENCH_FORMAT, Bench, Inspection, VERSION};
use crate::{PROGRAM, limits};

/// The text of an inspection's file: keys in the order of the shape, two spaces, one line end at the end.
///
/// **Errors** where it holds more than [`limits`] allow, or a number that is not finite.
pub fn write_file(inspection: &Inspection) -> Result<String, Error> {
    limits::check(inspection)?;
    text(inspection)
}

/// The text of a bench backup.
pub fn write_bench(inspections: &[Inspection], now: &str) -> Result<String, Error> {
    if inspections.len() > limits::INSPECTIONS {
        return Err(Error::new(format!(
            "there are {} inspections, and a backup holds at most {}",
            inspections.len(),
            limits::INSPECTIONS
        )));
    }
    inspections.iter().try_for_each(limits::check)?;
    text(&Bench {
        format: BENCH_FORMAT.to_owned(),
        version: VERSION,
        created: now.to_owned(),
        program: PROGRAM.to_owned(),
        inspections: inspections.to_vec(),
    })
}

fn text<T: Value + Default + PartialEq>(value: &T) -> Result<String, Error> {
    let mut text = to_pretty(value);
    text.push('\n');
    if text.len() > limits::FILE_BYTES {
        return Err(Error::new(format!(
            "the file would be {} MB long, and at most {} MB are taken back: leave the pictures out",
            text.len() / (1024 * 1024),
            limits::FILE_BYTES / (1024 * 1024)
        )));
    }
    // A number that is not finite is written as null, and so does not come back: what is handed over is what was kept, or none.
    match parse::<T>(&text) {
        Ok(back) if back == *value => Ok(text),
        _ => Err(Error::new("it cannot be written: a number in it is not finite")),
    }
}

/// What an inspection's file is called: `lampblack-halden-35-r-41207.json`.
pub fn file_name(inspection: &Inspection) -> String {
    let camera = &inspection.camera;
    let mut name = String::from("lampblack");
    for part in [&camera.maker, &camera.model, &camera.serial] {
        for word in part.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()) {
            name.push('-');
            name.push_str(&word.to_ascii_lowercase());
        }
    }
    name.truncate(80);
    format!("{name}.json")
}

/// What was entered and caught, without what was worked out from it, how often it was changed, and the pictures' data.
pub(crate) fn bare(inspection: &Inspection) -> Inspection {
    Inspection {
        result: None,
        program: String::new(),
        updated: String::new(),
        revision: 0,
        photos: inspection.photos.iter().map(|photo| crate::v1::Photo { data: None, ..photo.clone() }).collect(),
        ..inspection.clone()
    }
}

/// Whether two inspections hold the same, whatever was worked out from them and however often they were changed.
pub fn same(a: &Inspection, b: &Inspection) -> bool {
    bare(a) == bare(b)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::v1::Run;

    #[test]
    fn a_number_that_is_not_finite_is_not_written() {
        let mut inspection = Inspection::default();
        assert!(write_file(&inspection).is_ok());
        for bad in [f64::NAN, f64::INFINITY] {
            inspection.battery.voltage_v = Some(bad);
            assert!(write_file(&inspection).expect_err("refused").to_string().contains("not finite"));
            inspection.battery.voltage_v = None;
            inspection.meter.runs = vec![Run { tolerance_stops: bad, ..Run::default() }];
            assert!(write_bench(&[inspection.clone()], "").is_err());
            inspection.meter.runs.clear();
        }
    }

    #[test]
    fn a_file_is_called_after_its_camera() {
        let mut inspection = Inspection::default();
        assert_eq!(file_name(&inspection), "lampblack.json");
        inspection.camera.maker = "Halden".to_owned();
        inspection.camera.model = "35 R".to_owned();
        inspection.camera.serial = "../41 207".to_owned();
        assert_eq!(file_name(&inspection), "lampblack-halden-35-r-41-207.json");
    }

    #[test]
    fn what_was_worked_out_does_not_make_two_of_one() {
        let one = Inspection { id: "a".to_owned(), revision: 3, ..Inspection::default() };
        let other = Inspection { revision: 9, updated: "later".to_owned(), ..one.clone() };
        assert!(same(&one, &other));
        assert!(!same(&one, &Inspection { notes: "x".to_owned(), ..one.clone() }));
    }
}
