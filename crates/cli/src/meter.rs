//! `lampblack meter`: judges a camera's meter from a table of levels.
//!
//! Not here: reading the table ([`crate::readings`]), the judgement (`inspection`).

use std::path::PathBuf;

use inspection::meter::{Judgement, Run, judge};
use inspection::words;
use lexopt::{Arg, Parser};
use metrology::Estimate;
use photometry::{FilmSpeedMark, Stops};
use record::shell;
use record::v1::MeterResult;

use crate::error::Failure;
use crate::{Answer, file, readings, table, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut shared, mut tolerance, mut film_speed) = (None::<PathBuf>, None, None, None);
    let mut as_json = false;
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("shared-doubt") => shared = Some(usage::number(call, "--shared-doubt")?),
            Arg::Long("tolerance") => tolerance = Some(usage::number(call, "--tolerance")?),
            Arg::Long("film-speed") => film_speed = Some(usage::text(call)?),
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the table of readings (READINGS.csv)")?;
    let shared = usage::needed(shared, "the doubt that all levels share (--shared-doubt 0.1)")?;
    let tolerance = usage::needed(tolerance, "the tolerance (--tolerance 0.5)")?;
    let film_speed = film_speed.map(|text| FilmSpeedMark::parse(&text, &[])).transpose()?;
    let place = file::name(&path);
    let levels = readings::levels(&file::read(&path)?, shared).map_err(|failure| failure.at(&place))?;
    if levels.is_empty() {
        return Err(Failure::None(format!("{place}: there is no level in it, and one is needed at least")));
    }
    let run = Run {
        levels,
        shared_doubts: vec![Stops::new(shared)?],
        tolerance: Stops::new(tolerance)?,
        film_speed,
        dial: None,
    };
    let judgement = judge(&run)?;
    let result = shell::meter(&judgement);
    if as_json { Ok(shell::json(&result)?) } else { Ok(said(&judgement, &result)) }
}

/// `0.71 ± 0.14 stop high`: meter error in words, to the figures that its doubt carries.
fn high_or_low(error: Estimate) -> String {
    let shown = metrology::rounded(error.value().abs(), error.expanded_95());
    let side = if error.value() < 0.0 { "low" } else { "high" };
    format!("reads {} ± {} stop {side}", shown.value, shown.uncertainty)
}

fn slope(slope: Option<Estimate>) -> String {
    slope.map_or_else(
        || "cannot be told: the levels are alike".to_owned(),
        |slope| {
            let shown = metrology::rounded(slope.value(), slope.expanded_95());
            format!("{} ± {} stop of meter error per stop of light", shown.value, shown.uncertainty)
        },
    )
}

fn said(judgement: &Judgement, result: &MeterResult) -> String {
    let mut text = table::facts(&[
        ("film gets", format!("{}, {}", result.headline, result.headline_doubt)),
        ("call", format!("{} ({})", result.call_words, result.call_reason)),
        ("offset", high_or_low(judgement.offset)),
        ("slope", slope(judgement.slope)),
        ("pattern", result.pattern.clone()),
        ("to settle it", result.settle.clone()),
        (
            "remedy",
            result
                .remedy
                .as_ref()
                .map_or_else(|| result.no_remedy.clone(), |remedy| format!("{} {}", remedy.text, remedy.left_text)),
        ),
    ]);
    let rows: Vec<Vec<String>> = result
        .levels
        .iter()
        .map(|level| {
            vec![
                level.light_words.clone(),
                level.reading_words.clone(),
                level.error_words.clone(),
                level.doubt_words.clone(),
                words::film_error_short(-level.fitted_stops),
                words::per_cent(level.conformity),
            ]
        })
        .collect();
    text.push('\n');
    text.push_str(&table::columns(
        &["light", "camera says", "film gets", "doubt", "by the fit", "likely within"],
        &rows,
        true,
    ));
    text.push_str(&table::list("Usual causes", result.causes.iter().map(String::as_str)));
    text.push_str(&table::list("To mind", result.notices.iter().map(String::as_str)));
    text
}
