//! The plot of what film gets: film error over the marked times, and below it what each film says to each of them.
//!
//! Not here: bars, roles and shapes ([`super`]); the figures ([`crate::film_error`]).

use metrology::{Call, Estimate};

use super::frame::{Columns, Frame};
use super::{Drawing, Mark, Role, Shape, label, line, rectangle, upright_whisker};
use crate::film_error::{FilmGets, Row, Usage, Verdict};
use crate::words;

/// More names than this would run into one another.
const MOST_NAMES: usize = 7;
/// Height of a film's line \[units\].
const LINE: f64 = 30.0;

/// A usage over its marked times: bars about zero from the f-number or light that gives least to the one that gives most, with
/// their doubts; the pale band is what reversal film forgives. Below, film by film, a dot where it is safe, a ring where it is with
/// a compensation, a dash where it is not or is not told. `None` where nothing is told.
pub fn film_plot(gets: &FilmGets, usage: Usage) -> Option<Drawing> {
    let rows: Vec<&Row> = gets.of_usage(usage).collect();
    let ends: Vec<Estimate> =
        rows.iter().filter_map(|row| row.ends()).flat_map(|(least, most)| [least.error, most.error]).collect();
    if ends.is_empty() {
        return None;
    }
    let strictest = gets.films.iter().min_by(|a, b| (a.under + a.over).total_cmp(&(b.under + b.over)))?;
    let frame = Frame::within(158.0, 230.0, &ends, strictest.under.max(strictest.over));
    let columns = Columns::of(&frame, rows.len(), MOST_NAMES);
    let (x, y) = (|i: usize| columns.x(i), |stops: f64| frame.y(stops));
    let Frame { left, right, bottom, .. } = frame;
    let width = Frame::SIZE.0;
    let height = bottom + 40.0 + LINE * gets.films.len() as f64 + 34.0;
    let mut marks = vec![frame.band((left, right), strictest.over, strictest.under)];
    marks.extend(frame.scale());
    for (i, row) in rows.iter().enumerate() {
        columns.name(i, row.label(), &mut marks);
        let Some((least, highest)) = row.ends() else { continue };
        let half = (columns.unit * 0.2).min(14.0);
        for (role, value) in [(Role::Over, highest.error.value()), (Role::Under, least.error.value())] {
            let drawn = if role == Role::Over { value > 0.0 } else { value < 0.0 };
            if drawn {
                marks.push(rectangle(role, (x(i) - half, y(value.max(0.0))), (x(i) + half, y(value.min(0.0)))));
            }
        }
        let high = highest.error.value() + highest.error.expanded_95();
        marks.extend(upright_whisker(x(i), y(high), y(least.error.value() - least.error.expanded_95())));
    }
    for (f, film) in gets.films.iter().enumerate() {
        let at = bottom + 40.0 + LINE * (f as f64 + 0.5);
        marks.push(line(Role::Rule, (0.0, at - LINE / 2.0), (right, at - LINE / 2.0)));
        marks.push(label((left - 6.0, at + 4.0), short(film.key).to_owned(), "end"));
        marks.extend(rows.iter().enumerate().flat_map(|(i, row)| sign(row.verdicts.get(f), (x(i), at))));
    }
    marks.push(label(
        (right, height - 8.0),
        "dot: safe · ring: with a compensation · dash: not, or not told".to_owned(),
        "end",
    ));
    Some(Drawing {
        width,
        height,
        title: format!("What film gets: {}", words::sentence_case(&usage.words().to_lowercase())),
        description: format!(
            "{} The pale band is what {} film forgives.",
            gets.sentences(usage).join(" "),
            strictest.words
        ),
        marks,
    })
}

/// A name that fits beside a line.
fn short(key: &str) -> &'static str {
    match key {
        "reversal" => "reversal",
        "colour_negative" => "colour neg.",
        "black_and_white_negative" => "black + white",
        _ => "own",
    }
}

fn sign(verdict: Option<&Verdict>, (x, y): (f64, f64)) -> Vec<Mark> {
    let dot = |role: Role| Mark { role, shape: Shape::Dot { at: (x, y), radius: 6.0 } };
    match verdict {
        Some(verdict) if verdict.call == Call::Within => vec![dot(Role::Safe)],
        Some(verdict) if verdict.compensation.is_some() => vec![dot(Role::Indicated)],
        _ => vec![line(Role::Fit, (x - 6.0, y), (x + 6.0, y))],
    }
}
