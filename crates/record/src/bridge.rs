//! What the page's worker, the shell and the tests call: plain shapes in, plain shapes out.
//!
//! Not here: how shapes become the domain and back (`convert`), and files (`read`, `write`).

use inspection::camera::{Kind, MeterShows, Resolution};
use inspection::catalogue::{self, BENCH_CAUTIONS};
use inspection::film_error::InHand;
use inspection::finding::Condition;
use inspection::meter::level_error;
use inspection::outcome::Word;
use inspection::reference::{REFERENCE_KINDS, Surface};
use inspection::sheet::Imprint;
use inspection::shutter::{Build, Signal};
use inspection::{drawing, tolerance, words};
use metrology::Estimate;
use photometry::{
    CONSTANTS, F_NUMBER_MARKS, FILM_SPEED_MARKS, FNumberMark, FilmSpeedMark, SKY_WORDS, TIME_MARKS_MODERN,
    TIME_MARKS_MODERN_MORE, TIME_MARKS_OLD, TIME_MARKS_OLD_MORE, TimeMark,
};

use crate::convert::{choice, tolerances};
use crate::error::Error;
use crate::page::{Accepted, LevelPreview, Lists, Place, ReferenceChoice, Series, Sheet, ToleranceChoice, View};
use crate::v1::{FORMAT, Inspection, Level, VERSION};
use crate::{Examination, PROGRAM, convert, sky, time};

fn shown(mut record: Inspection) -> Result<Accepted, Error> {
    let worked = convert::work_out(&mut record)?;
    let view: View = convert::view(&record, &worked.domain, &worked.examined);
    Ok(Accepted { inspection: record, view })
}

/// A new inspection of a camera of which only the kind is known.
pub fn new_inspection(kind: &str, id: &str, now: &str) -> Result<Accepted, Error> {
    let mut record = Inspection { id: id.to_owned(), created: now.to_owned(), ..Inspection::default() };
    record.camera.kind = kind.to_owned();
    accept(record, now)
}

/// Checks an inspection that was changed, fills in its numbers, works out its result, and raises its revision.
///
/// **Errors** with a sentence where something in it cannot be; nothing is changed then.
pub fn accept(mut record: Inspection, now: &str) -> Result<Accepted, Error> {
    time::check(now)?;
    record.format = FORMAT.to_owned();
    record.version = VERSION;
    record.revision = record.revision.saturating_add(1);
    record.updated = now.to_owned();
    if record.created.is_empty() {
        record.created = now.to_owned();
    }
    shown(record)
}

/// What the pages of an inspection show. Its result is worked out again; revision and time stay as they are.
pub fn view(record: Inspection) -> Result<Accepted, Error> {
    shown(record)
}

/// Judges an inspection: what every area comes to, and the outcome. Its numbers are filled in and its result stays as it was:
/// the texts, the fingerprint and everything else that a file keeps are made by [`work_out`].
///
/// **Errors** where something in it cannot be; it is not to be kept then.
pub fn judge(record: &mut Inspection) -> Result<Examination, Error> {
    convert::judge(record)
}

/// Works an inspection's result out and puts it in, without what pages show.
///
/// **Errors** where something in it cannot be; it is not to be kept then.
pub fn work_out(record: &mut Inspection) -> Result<Examination, Error> {
    convert::work_out(record)
}

/// What a level would add to a run, before it is kept.
pub fn preview_level(record: &Inspection, run_index: usize, level: &Level) -> Result<LevelPreview, Error> {
    let run = record
        .meter
        .runs
        .get(run_index)
        .ok_or_else(|| Error::new("choose a reference first: the run that the level belongs to is not there"))?;
    let level = convert::level(record, run, level)?;
    let references = convert::references(run)?;
    let reference =
        references.get(level.source).ok_or_else(|| Error::new("the level's reference is not there: choose one"))?;
    let error = level_error(&level, reference.shared, 0.0)?;
    let film = Estimate::new(-error.value(), error.standard_uncertainty(), error.degrees_of_freedom())
        .map_err(|error| Error::new(error.to_string()))?;
    const FAR: f64 = 3.0;
    Ok(LevelPreview {
        light_words: words::ev(level.reference.value()),
        error_words: words::film_error(film.value()),
        doubt_words: format!("±{} stop", words::doubt(film.expanded_95())),
        bar: convert::drawing(&drawing::bar(
            film,
            run.tolerance_stops,
            drawing::bar_scale(&[film], run.tolerance_stops),
        )),
        notice: if film.value().abs() > FAR {
            "More than three stops off: check that both looked at the same thing, and the film speed of each."
                .to_owned()
        } else {
            String::new()
        },
    })
}

/// The pictures that the person wants on the sheet, each with what it shows.
fn on_sheet(record: &Inspection) -> Vec<(String, String)> {
    let shows = |id: &str| {
        record
            .findings
            .iter()
            .filter(|finding| finding.photos.iter().any(|photo| photo == id))
            .find_map(|finding| catalogue::point(&finding.point))
            .map_or_else(|| "Picture".to_owned(), |point| words::sentence_case(point.name))
    };
    record.photos.iter().filter(|photo| photo.on_sheet).map(|photo| (photo.id.clone(), shows(&photo.id))).collect()
}

/// The sheet, block by block.
pub fn sheet(record: &Inspection, now: &str) -> Result<Sheet, Error> {
    time::check(now)?;
    let mut record = record.clone();
    let Examination { domain, examined, .. } = convert::work_out(&mut record)?;
    let day = |time: &str| time.get(..10).unwrap_or(time).to_owned();
    let imprint = Imprint {
        program: PROGRAM.to_owned(),
        made: day(now),
        looked_at: day(&record.updated),
        id: record.id.clone(),
        revision: record.revision,
        notes: record.notes.clone(),
        line: convert::texts(&record)
            .into_iter()
            .find(|text| text.key == "line")
            .map_or_else(String::new, |text| text.text),
        fingerprint: record.result.as_ref().map_or_else(String::new, |result| result.fingerprint.clone()),
        pictures: on_sheet(&record),
    };
    Ok(convert::sheet(&inspection::sheet::compose(&domain, &examined, &imprint)))
}

/// The places of a dial: its marks, or where there are none the usual series, with between-mark places.
pub fn places(marks: &[String], between: &str, dial: &str) -> Result<Vec<Place>, Error> {
    let parts = match between {
        "half" => 2,
        "third" | "sixth" => 3,
        "whole" | "" => 1,
        other => {
            return Err(Error::new(format!(
                "between marks there are whole, half and third, and \"{other}\" was given"
            )));
        }
    };
    let own: Vec<&str> = marks.iter().map(String::as_str).collect();
    let usual = match dial {
        "f_number" => F_NUMBER_MARKS,
        "time" => TIME_MARKS_MODERN_MORE,
        "film_speed" => FILM_SPEED_MARKS,
        other => {
            return Err(Error::new(format!(
                "the dial must be f_number, time or film_speed, and \"{other}\" was given"
            )));
        }
    };
    let series: &[&str] = if own.is_empty() { usual } else { &own };
    // Film-speed dials are marked in thirds already.
    let parts = if dial == "film_speed" { 1 } else { parts };
    photometry::places(series, parts)
        .into_iter()
        .map(|mark| {
            let label = match dial {
                "f_number" => FNumberMark::parse(&mark, series)?.label(),
                "time" => TimeMark::parse(&mark, series)?.label(),
                _ => FilmSpeedMark::parse(&mark, series)?.label(),
            };
            Ok(Place { mark, label })
        })
        .collect()
}

fn texts(marks: &[&str]) -> Vec<String> {
    marks.iter().map(|mark| (*mark).to_owned()).collect()
}

fn series(key: &str, words: &str, marks: &[&str], more: &[&str]) -> Series {
    Series { key: key.to_owned(), words: words.to_owned(), marks: texts(marks), more: texts(more) }
}

/// Every list that the page offers to choose from.
pub fn lists() -> Lists {
    let resolution = |one: &Resolution| choice(one.key(), one.words(), one.help());
    Lists {
        program: PROGRAM.to_owned(),
        kinds: Kind::ALL.iter().map(|kind| choice(kind.key(), kind.words(), kind.help())).collect(),
        conditions: Condition::ALL.iter().map(|one| choice(one.key(), one.words(), "")).collect(),
        outcomes: Word::ALL.iter().map(|word| choice(word.key(), word.words(), "")).collect(),
        time_series: vec![
            series("modern", "Modern: 1/60, 1/125 …", TIME_MARKS_MODERN, TIME_MARKS_MODERN_MORE),
            series("old", "Old: 1/50, 1/100 …", TIME_MARKS_OLD, TIME_MARKS_OLD_MORE),
            series("stepless", "Stepless: the camera sets the time", &[], TIME_MARKS_MODERN_MORE),
        ],
        f_number_series: F_NUMBER_MARKS[1..7]
            .iter()
            .enumerate()
            .map(|(i, widest)| series(widest, &format!("from f/{widest}"), &F_NUMBER_MARKS[i + 1..9], F_NUMBER_MARKS))
            .collect(),
        film_speeds: texts(FILM_SPEED_MARKS),
        meter_shows: MeterShows::ALL.iter().map(|way| choice(way.key(), way.words(), way.help())).collect(),
        resolutions: Resolution::SCALES.iter().map(resolution).collect(),
        ev_digits: Resolution::DISPLAYS.iter().map(resolution).collect(),
        references: REFERENCE_KINDS
            .iter()
            .map(|kind| ReferenceChoice {
                key: kind.key.to_owned(),
                words: kind.words.to_owned(),
                help: kind.help.to_owned(),
                each_doubt_stops: kind.each_stops,
                shared_doubt_stops: kind.shared_stops,
                better: kind.better.to_owned(),
                why: kind.why.to_owned(),
                ways: kind.ways.iter().map(|way| way.key().to_owned()).collect(),
                constants: kind.constants(),
                caution: kind.caution.to_owned(),
            })
            .collect(),
        films: inspection::film_error::films(InHand::default())
            .unwrap_or_default()
            .iter()
            .map(|film| choice(film.key, film.words, &format!("{} ({})", film.latitude_words(), film.source)))
            .collect(),
        tolerances: tolerance::OF_METERS
            .iter()
            .map(|(stops, help)| ToleranceChoice {
                stops: *stops,
                words: format!("±{} stop", words::fraction(*stops)),
                help: (*help).to_owned(),
            })
            .collect(),
        shutter_builds: Build::ALL.iter().map(|build| choice(build.key(), build.words(), build.help())).collect(),
        shutter_tolerances: tolerances(&tolerance::OF_TIMES),
        signals: Signal::ALL.iter().map(|signal| choice(signal.key(), signal.words(), signal.help())).collect(),
        model_skies: sky::model_skies().iter().map(|(key, words)| choice(key, words, "")).collect(),
        screens: sky::screen_kinds().iter().map(|(key, words)| choice(key, words, "")).collect(),
        lights: crate::dose::lights(),
        skies: SKY_WORDS
            .iter()
            .map(|word| {
                choice(
                    word.key,
                    word.words,
                    &format!("f/{} at 1/speed · {} ({})", word.f_number_mark, words::ev(word.ev100), word.source),
                )
            })
            .collect(),
        surfaces: Surface::ALL.iter().map(|surface| choice(surface.key(), surface.words(), surface.help())).collect(),
        constants: CONSTANTS.iter().map(photometry::Constant::sentence).collect(),
        cautions: texts(BENCH_CAUTIONS),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: &str = "2026-03-01T09:30:00Z";

    #[test]
    fn only_the_kind_is_needed() {
        let accepted = new_inspection("rangefinder", "one", NOW).expect("accepted");
        assert_eq!(accepted.inspection.revision, 1);
        assert_eq!(accepted.inspection.result.as_ref().expect("a result").outcome, "not_yet_known");
        assert!(accepted.view.areas.len() == 6 && accepted.view.title.contains("not named yet"));
        assert!(new_inspection("box", "one", NOW).expect_err("refused").to_string().contains("single_lens_reflex"));
        for bad in [
            "yesterday",
            "",
            "2026-13-01T09:30:00Z",
            "2026-03-01T09:30:00",
            "2026-03-01T09:30:00.xZ",
            "2026-03-01T24:30:00Z",
        ] {
            assert!(new_inspection("rangefinder", "one", bad).is_err(), "{bad}");
        }
        assert!(new_inspection("rangefinder", "one", "2026-03-01T09:30:00.125Z").is_ok());
    }

    #[test]
    fn the_places_of_a_dial_are_its_own() {
        let old = ["1/50".to_owned(), "1/100".to_owned()];
        let labels: Vec<String> = places(&old, "half", "time").expect("places").into_iter().map(|p| p.label).collect();
        assert_eq!(labels, ["1/50", "1/50 + ½", "1/100"]);
        assert!(places(&[], "third", "f_number").expect("places").len() > 30);
        assert!(places(&[], "fifth", "time").is_err() && places(&[], "whole", "gain").is_err());
    }

    #[test]
    fn every_list_has_its_choices() {
        let lists = lists();
        assert_eq!(lists.kinds.len(), 6);
        assert!(lists.references.iter().all(|reference| !reference.why.is_empty() && !reference.ways.is_empty()));
        assert!(lists.f_number_series.iter().all(|series| series.marks.first() == Some(&series.key)));
    }
}
