//! Shots as a table for people, and the marks that a call puts them against.
//!
//! Not here: how they were found, which is the verbs' and `timing`'s.

use lexopt::Parser;
use metrology::{Estimate, rounded, to_decimals};
use photometry::TimeMark;
use record::shell::timing::Shots;
use timing::{Shot, Take};

use crate::error::Failure;
use crate::{table, usage};

/// The value of `--marked`: marks of a dial in the order of shooting, with commas between them.
pub fn marks(call: &mut Parser) -> Result<Vec<TimeMark>, Failure> {
    let text = usage::text(call)?;
    text.split(',').map(|mark| TimeMark::parse(mark, &[]).map_err(|error| Failure::Usage(error.to_string()))).collect()
}

/// `16.92 ± 0.04 ms`, or in seconds from a third of a second on.
fn time(time: Estimate) -> String {
    let (scale, unit) = if time.value() < 0.35 { (1e3, "ms") } else { (1.0, "s") };
    let shown = rounded(time.value() * scale, time.expanded_95() * scale);
    format!("{} ± {} {unit}", shown.value, shown.uncertainty)
}

/// `0.42 ± 0.03 over`: a shutter that is open too long gives the film too much.
fn error(time: Estimate, stops: f64) -> String {
    let shown = rounded(stops.abs(), time.expanded_95() / (time.value() * core::f64::consts::LN_2));
    let side = if stops > 0.0 { "over" } else { "under" };
    format!("{} ± {} {side}", shown.value, shown.uncertainty)
}

fn candidates(shot: &Shot) -> String {
    let times: Vec<String> = shot.candidates_s.iter().take(3).map(|time| to_decimals(time * 1e3, 1)).collect();
    if times.is_empty() { "–".to_owned() } else { format!("{} ms?", times.join(" or ")) }
}

/// The shots under a first line, then what has to be known about them.
pub fn said(head: &str, take: &Take, marks: &[TimeMark], result: &Shots) -> String {
    let coupling: Vec<String> = take.coupling_s.iter().map(|tau| format!("{} ms", to_decimals(tau * 1e3, 1))).collect();
    let mut text = table::facts(&[
        ("recording", head.to_owned()),
        ("shots", words_for(take.shots.len())),
        ("coupling of the input", coupling.join(", ")),
    ]);
    let rows: Vec<Vec<String>> = take
        .shots
        .iter()
        .zip(&result.shots)
        .enumerate()
        .map(|(i, (shot, shown))| {
            let mark = shot.marked.and_then(|mark| marks.get(mark)).map_or_else(|| "–".to_owned(), TimeMark::label);
            vec![
                (i + 1).to_string(),
                mark,
                to_decimals(shot.start_s, 3),
                shot.time.map_or_else(|| candidates(shot), time),
                shot.time.zip(shown.error_stops).map_or_else(|| "–".to_owned(), |(time, stops)| error(time, stops)),
                shot.state.words().to_owned(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        text.push('\n');
        text.push_str(&table::columns(&["shot", "mark", "at s", "time", "stops", "state"], &rows, true));
    }
    text.push_str(&places(take));
    let notices = take.notices.iter().map(|notice| notice.text.as_str());
    text.push_str(&table::list("To mind", notices));
    text.push_str(&table::list("Shot by shot", by_shot(&take.shots).iter().map(String::as_str)));
    text
}

fn words_for(count: usize) -> String {
    if count == 0 { "none was found".to_owned() } else { count.to_string() }
}

/// Times at several places of the frame, where there are any.
fn places(take: &Take) -> String {
    let names: Vec<&str> = take
        .shots
        .iter()
        .map(|shot| shot.places.as_slice())
        .max_by_key(|places| places.len())
        .map_or_else(Vec::new, |places| places.iter().map(|place| place.position).collect());
    if names.len() < 2 {
        return String::new();
    }
    let rows: Vec<Vec<String>> = take
        .shots
        .iter()
        .enumerate()
        .map(|(i, shot)| {
            let here = |name: &&str| shot.places.iter().find(|place| place.position == *name);
            let cells = names.iter().map(|name| here(name).map_or_else(|| "–".to_owned(), |place| time(place.time)));
            core::iter::once((i + 1).to_string()).chain(cells).collect()
        })
        .collect();
    let heads: Vec<&str> = core::iter::once("shot").chain(names.iter().copied()).collect();
    format!("\n{}", table::columns(&heads, &rows, true))
}

/// What has to be known about single shots, each sentence once with the numbers of the shots.
fn by_shot(shots: &[Shot]) -> Vec<String> {
    let mut said: Vec<(&str, Vec<String>)> = Vec::new();
    for (i, shot) in shots.iter().enumerate() {
        for notice in &shot.notices {
            let number = (i + 1).to_string();
            match said.iter_mut().find(|(text, _)| *text == notice.text) {
                Some((_, numbers)) => numbers.push(number),
                None => said.push((&notice.text, vec![number])),
            }
        }
    }
    said.into_iter().map(|(text, numbers)| format!("{}: {text}", numbers.join(", "))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use timing::Notice;

    #[test]
    fn a_time_is_said_with_its_doubt_and_its_side() {
        let of = |value: f64, doubt: f64| Estimate::new(value, doubt, f64::INFINITY).expect("a time");
        assert_eq!(time(of(0.016_92, 0.000_02)), "16.920 ± 0.039 ms");
        assert_eq!(time(of(1.02, 0.01)), "1.020 ± 0.020 s");
        assert_eq!(error(of(0.016_92, 0.000_2), 0.115), "0.115 ± 0.033 over");
        assert!(error(of(0.016_92, 0.000_2), -0.115).ends_with("under"));
    }

    #[test]
    fn a_sentence_is_said_once() {
        let noted = |text: &str| Shot { notices: vec![Notice::new("x", text)], ..Shot::at(0.0) };
        let said = by_shot(&[noted("A."), noted("B."), noted("A.")]);
        assert_eq!(said, ["1, 3: A.", "2: B."]);
    }

    #[test]
    fn marks_are_read_in_their_order() {
        let of = |text: &str| marks(&mut Parser::from_iter(["lampblack", text]));
        let read: Vec<String> = of("1/4, 1/15,2").expect("marks").iter().map(|mark| mark.text().to_owned()).collect();
        assert_eq!(read, ["1/4", "1/15", "2"]);
        assert_eq!(of("1/4,,1/8").expect_err("refused").code(), 2);
    }
}
