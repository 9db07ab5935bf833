//! What was measured, in words: each figure with its doubt and the way it was got.
//!
//! Not here: what was looked at ([`super::full`]).

use metrology::Call;
use timing::State;

use super::Said;
use crate::film_error::Usage;
use crate::meter;
use crate::outcome::Evidence;
use crate::remedy::DialAdvice;
use crate::shutter::{self, TimeRow, listed};
use crate::test_roll;
use crate::whole::{Examined, Inspection};
use crate::words;

fn said(text: String, evidence: Evidence) -> Said {
    Said { paragraph: 0, text, evidence: vec![evidence] }
}

/// The ways in which the times that count were caught: `by light and by sound`.
fn ways(rows: &[TimeRow]) -> String {
    let mut ways: Vec<&str> = Vec::new();
    for row in rows {
        if !ways.contains(&row.signal.by()) {
            ways.push(row.signal.by());
        }
    }
    listed(&ways.iter().map(|way| (*way).to_owned()).collect::<Vec<_>>())
}

/// The shutter, where a time of it was caught.
fn shutter_of(examined: &Examined) -> Option<&shutter::Judgement> {
    examined.shutter.as_ref().filter(|judged| !judged.rows.is_empty())
}

/// `0.7 stop over ±0.1`, with what is not even, which must not stay unsaid beside it.
fn by_meter(judged: &meter::Judgement) -> String {
    let even = format!("{} ±{}", judged.headline(), words::doubt(judged.offset.expanded_95()));
    format!("{even} {}", judged.uneven_words()).trim_end().to_owned()
}

/// A few words on each measurement, for one line.
pub(super) fn shortest(examined: &Examined) -> Vec<String> {
    let mut parts = Vec::new();
    if let Some(judged) = shutter_of(examined) {
        parts.push(format!("shutter {} ({})", judged.headline, ways(&judged.rows)));
    }
    if let Some(judged) = &examined.meter {
        parts.push(format!("by its meter film gets {}", by_meter(judged)));
    }
    if let Some(judged) = examined.aperture.as_ref().filter(|judged| !judged.rows.is_empty()) {
        parts.push(format!("aperture {}", judged.headline));
    }
    parts
}

/// A sentence on each measurement.
pub(super) fn short(inspection: &Inspection, examined: &Examined) -> Vec<Said> {
    let mut parts = Vec::new();
    if let Some(judged) = shutter_of(examined) {
        let off: Vec<String> =
            judged.outside().filter_map(|row| Some(format!("{} ({})", row.mark.label(), error(row)?))).collect();
        let tail = if off.is_empty() { String::new() } else { format!("; off: {}", listed(&off)) };
        parts.push(said(
            format!("Shutter, measured {}: {}{tail}.", ways(&judged.rows), judged.headline),
            Evidence::Shutter,
        ));
    }
    if let (Some(judged), Some(run)) = (&examined.meter, &inspection.meter) {
        let against: Vec<String> = run.references.iter().map(|reference| reference.kind.words.to_lowercase()).collect();
        parts.push(said(
            format!("Meter against {}: film gets {}, {}.", listed(&against), by_meter(judged), calling(judged.call)),
            Evidence::Meter,
        ));
    }
    if let Some(judged) = examined.aperture.as_ref().filter(|judged| !judged.rows.is_empty()) {
        parts.push(said(format!("Openings, measured from photos: {}.", judged.headline), Evidence::Aperture));
    }
    parts
}

fn calling(call: Call) -> &'static str {
    match call {
        Call::Within => "within its tolerance",
        Call::Outside => "outside its tolerance",
        Call::CannotTell => "and it cannot be told yet whether that is within its tolerance",
    }
}

/// Whether a time may be stood behind.
fn is_firm(row: &TimeRow) -> bool {
    row.error.is_some() && row.state >= State::Probable
}

/// `0.12 over ±0.03`; nothing for what is only indicated, since no doubt holds for it.
fn error(row: &TimeRow) -> Option<String> {
    row.error.filter(|_| is_firm(row)).map(words::film_error_with_doubt)
}

/// The shutter in full: how, each marked time, what is only indicated, what was not measured.
fn shutter_in_full(judged: &shutter::Judgement) -> Vec<Said> {
    let about = |text: String| said(text, Evidence::Shutter);
    let shots = judged.rows.iter().map(|row| row.shots).sum();
    let mut parts = vec![about(format!(
        "Shutter: {} measured {}; {}, tolerance {}.",
        words::count(shots, "shot", "shots"),
        ways(&judged.rows),
        judged.headline,
        judged.tolerance.words()
    ))];
    let told: Vec<String> =
        judged.rows.iter().filter_map(|row| Some(format!("{} {}", row.mark.label(), error(row)?))).collect();
    if !told.is_empty() {
        parts.push(about(format!(
            "Error of each marked time in stops, over meaning open too long: {}.",
            told.join("; ")
        )));
    }
    let indicated: Vec<String> = judged.rows.iter().filter(|row| !is_firm(row)).map(|row| row.mark.label()).collect();
    if !indicated.is_empty() {
        parts.push(about(format!(
            "Only indicated, and not measured: {}; nothing is promised for {}.",
            listed(&indicated),
            if indicated.len() == 1 { "it" } else { "them" }
        )));
    }
    let uneven: Vec<String> = judged.rows.iter().filter(|row| row.is_uneven()).map(|row| row.mark.label()).collect();
    if !uneven.is_empty() {
        parts.push(about(format!("Uneven over the frame at {}.", listed(&uneven))));
    }
    let missing: Vec<String> = judged.missing.iter().map(photometry::TimeMark::label).collect();
    if !missing.is_empty() {
        parts.push(about(format!("Marked times that were not measured: {}.", listed(&missing))));
    }
    parts
}

fn meter_in_full(inspection: &Inspection, examined: &Examined) -> Vec<Said> {
    let (Some(judged), Some(run)) = (&examined.meter, &inspection.meter) else { return Vec::new() };
    let about = |text: String| said(text, Evidence::Meter);
    let against: Vec<String> = run.references.iter().map(|reference| words::lower_first(&reference.words())).collect();
    let lights = judged.levels.iter().map(|level| level.reference.value());
    let (low, high) =
        lights.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), light| (low.min(light), high.max(light)));
    let range = if high - low < 0.05 {
        format!("at {}", words::ev(low))
    } else {
        format!("from {} to {}", words::ev(low), words::ev(high))
    };
    let mut parts = vec![about(format!(
        "Meter: {} {range} against {}: film gets {}, {}; {}.",
        words::count(judged.levels.len(), "level of light", "levels of light"),
        against.join("; "),
        judged.headline(),
        judged.headline_doubt(),
        calling(judged.call)
    ))];
    if !judged.pattern.is_empty() {
        parts.push(about(judged.pattern.clone()));
    }
    if let DialAdvice::Set(setting) = &judged.remedy {
        parts.push(about(format!("{} {}", setting.text(), setting.left_text())));
    }
    parts
}

fn openings_in_full(examined: &Examined) -> Vec<Said> {
    let Some(judged) = examined.aperture.as_ref().filter(|judged| !judged.rows.is_empty()) else { return Vec::new() };
    let about = |text: String| said(text, Evidence::Aperture);
    let mut parts = vec![about(format!(
        "Openings: measured from photos against one another; {}, tolerance {}.",
        judged.headline,
        judged.tolerance.words()
    ))];
    let told: Vec<String> = judged
        .rows
        .iter()
        .filter(|row| !row.widest)
        .filter_map(|row| Some(format!("{} {}", row.mark.label(), words::film_error_with_doubt(row.error?))))
        .collect();
    if !told.is_empty() {
        parts.push(about(format!(
            "Error of each marked f-number in stops, over meaning too wide: {}.",
            told.join("; ")
        )));
    }
    parts.extend([&judged.same, &judged.odd_words, &judged.settling].into_iter().flatten().cloned().map(about));
    parts
}

/// What the test roll told, frame by frame.
fn roll_in_full(examined: &Examined) -> Vec<Said> {
    let judged = &examined.test_roll;
    if judged.state != test_roll::State::Read {
        return Vec::new();
    }
    let about = |text: String| said(text, Evidence::TestRoll);
    let told = judged.told.iter().map(|told| told.sentence.clone());
    let walls = judged.walls.iter().map(|wall| format!("{} {}", wall.sentence, wall.settle).trim_end().to_owned());
    let mut parts: Vec<Said> = told.chain(walls).map(about).collect();
    if let Some(first) = parts.first_mut() {
        first.text = format!("Test roll, exposed in this camera and measured from photos. {}", first.text);
    }
    if !judged.missing.is_empty() {
        parts.push(about(format!("Not tried on the roll: {}.", judged.missing.join("; "))));
    }
    parts
}

/// What film gets, usage by usage, for the film in hand or for all.
fn film_in_full(examined: &Examined) -> Vec<Said> {
    let gets = &examined.film;
    let in_hand = gets.films.iter().any(|film| film.in_hand);
    Usage::ALL
        .into_iter()
        .filter_map(|usage| {
            let sentences: Vec<String> = (0..gets.films.len())
                .filter(|film| !in_hand || gets.films.get(*film).is_some_and(|one| one.in_hand))
                .filter_map(|film| gets.sentence(usage, film))
                .collect();
            (!sentences.is_empty()).then(|| {
                said(
                    format!("What film gets, {}. {}", usage.words().to_lowercase(), sentences.join(" ")),
                    Evidence::Film,
                )
            })
        })
        .collect()
}

/// Everything that was measured, a paragraph for each measurement.
pub(super) fn in_full(inspection: &Inspection, examined: &Examined) -> Vec<Vec<Said>> {
    let glare = examined
        .glare
        .iter()
        .map(|glare| said(format!("Light scattered by the lens: {}", glare.sentence), Evidence::Glare));
    let dials = examined
        .consistency
        .iter()
        .map(|dials| said(format!("Dials against one another: {}", dials.sentence), Evidence::Consistency));
    vec![
        shutter_of(examined).map(shutter_in_full).unwrap_or_default(),
        meter_in_full(inspection, examined),
        openings_in_full(examined),
        glare.collect(),
        dials.collect(),
        roll_in_full(examined),
        film_in_full(examined),
    ]
}
