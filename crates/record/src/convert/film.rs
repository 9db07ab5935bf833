//! The film in hand, and what film gets.
//!
//! Not here: the rules ([`inspection::film_error`]).

use inspection::drawing::film_plot;
use inspection::film_error::{Cell, FilmGets, InHand, Row, Usage, range_words};
use inspection::words;
use photometry::FilmKind;

use super::inputs::unknown;
use super::number::optional;
use super::shown::drawing;
use super::worked::estimate;
use crate::error::Error;
use crate::{page, v1};

/// Fills in the numbers beside the texts.
pub(super) fn settle(film: &mut v1::Film) -> Result<(), Error> {
    film.under_stops = optional(&film.under, "latitude under")?;
    film.over_stops = optional(&film.over, "latitude over")?;
    Ok(())
}

/// The film in hand. An own latitude wants both of its sides.
pub(super) fn in_hand(film: &v1::Film) -> Result<InHand, Error> {
    let kind = match film.kind.as_str() {
        "" => None,
        key => Some(
            FilmKind::from_key(key).ok_or_else(|| unknown("kind of film", key, &FilmKind::ALL.map(FilmKind::key)))?,
        ),
    };
    let own = match (optional(&film.under, "latitude under")?, optional(&film.over, "latitude over")?) {
        (Some(under), Some(over)) => Some((under, over)),
        // One side alone is being typed: the usual latitude stands until the other is there.
        _ => None,
    };
    let in_hand = InHand { kind, own };
    inspection::film_error::films(in_hand)?;
    Ok(in_hand)
}

fn cell(cell: &Cell) -> v1::FilmCell {
    let mark = cell.f_number.as_ref();
    let label: Vec<String> =
        mark.map(|mark| mark.label()).into_iter().chain(cell.light.map(|light| words::ev(light.value()))).collect();
    v1::FilmCell {
        f_number: mark.map_or_else(String::new, |mark| mark.text().to_owned()),
        opening_measured: cell.opening_measured,
        reference_ev100: cell.light.map(|light| light.value()),
        error_stops: estimate(cell.error),
        label: label.join(" · "),
        words: words::film_error_short(cell.error.value()),
        doubt_words: format!("±{}", words::doubt(cell.error.expanded_95())),
    }
}

/// F-number by f-number where openings were measured; else only the ends, since what lies between says nothing new.
fn shown_cells(row: &Row, range: &str) -> Vec<v1::FilmCell> {
    if row.cells.iter().any(|cell| cell.opening_measured) {
        return row.cells.iter().map(cell).collect();
    }
    let Some((least, most)) = row.ends() else { return Vec::new() };
    if range == words::film_error_short(least.error.value()) {
        return vec![cell(row.worst().unwrap_or(most))];
    }
    vec![cell(least), cell(most)]
}

fn row(gets: &FilmGets, row: &Row) -> v1::FilmError {
    let worst = row.worst();
    let range = range_words(row);
    v1::FilmError {
        usage: row.usage.key().to_owned(),
        time: row.mark.as_ref().map_or_else(String::new, |mark| mark.text().to_owned()),
        label: row.label(),
        error_stops: worst.map(|cell| cell.error.value()),
        standard_uncertainty_stops: worst.map(|cell| cell.error.standard_uncertainty()),
        cells: shown_cells(row, &range),
        words: range,
        doubt_words: row.doubt_words(),
        why_not: row.why_not.clone(),
        verdicts: gets
            .films
            .iter()
            .zip(&row.verdicts)
            .map(|(film, verdict)| v1::FilmVerdict {
                film: film.key.to_owned(),
                call: verdict.call.key().to_owned(),
                conformity: verdict.conformity,
                compensation_stops: verdict.compensation,
                words: verdict.words(),
            })
            .collect(),
    }
}

/// The rows.
pub(super) fn rows(gets: &FilmGets) -> Vec<v1::FilmError> {
    gets.rows.iter().map(|one| row(gets, one)).collect()
}

/// The films.
pub(super) fn films(gets: &FilmGets) -> Vec<v1::FilmLatitude> {
    gets.films
        .iter()
        .map(|film| v1::FilmLatitude {
            film: film.key.to_owned(),
            words: film.words.to_owned(),
            under_stops: film.under,
            over_stops: film.over,
            latitude_words: film.latitude_words(),
            source: film.source.to_owned(),
            in_hand: film.in_hand,
        })
        .collect()
}

/// The sentences.
pub(super) fn sentences(gets: &FilmGets) -> Vec<v1::FilmSentence> {
    Usage::ALL
        .into_iter()
        .flat_map(|usage| gets.films.iter().enumerate().map(move |(i, film)| (usage, i, film)))
        .filter_map(|(usage, i, film)| {
            let text = gets.sentence(usage, i)?;
            Some(v1::FilmSentence { usage: usage.key().to_owned(), film: film.key.to_owned(), text })
        })
        .collect()
}

/// One table and plot for each usage that has a row.
pub(super) fn view(gets: &FilmGets) -> Vec<page::FilmView> {
    Usage::ALL
        .into_iter()
        .filter(|usage| gets.of_usage(*usage).next().is_some())
        .map(|usage| page::FilmView {
            usage: usage.key().to_owned(),
            words: usage.words().to_owned(),
            plot: film_plot(gets, usage).as_ref().map(drawing),
        })
        .collect()
}
