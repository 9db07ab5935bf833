//! The plot of a judged shutter: error over the marked times, in dial order.
//!
//! Not here: bars, roles and shapes ([`super`]).

use metrology::{Call, Estimate};
use timing::State;

use super::{Drawing, Mark, Role, Shape, bar_scale, label, line, rectangle, stops_scale, upright_whisker};
use crate::shutter::Judgement;
use crate::words;

/// More names than this would run into one another.
const MOST_NAMES: usize = 7;
/// Widest scale \[stops\].
const WIDEST_STOPS: f64 = 12.0;

/// The judged shutter: each time with its doubt, over up and under down, its tolerance as a band; what is only indicated is
/// drawn open and without a doubt. `None` where no time is known.
pub fn shutter_plot(judgement: &Judgement) -> Option<Drawing> {
    let errors: Vec<Estimate> = judgement.rows.iter().filter_map(|row| row.error).collect();
    if errors.is_empty() {
        return None;
    }
    let (width, height) = (640.0, 300.0);
    let (left, right, top, bottom) = (80.0, width - 12.0, 14.0, height - 52.0);
    let tolerance = judgement.rows.iter().map(|row| row.tolerance_stops).fold(0.0, f64::max);
    let most = bar_scale(&errors, tolerance).min(WIDEST_STOPS);
    let count = judgement.rows.len();
    let unit = (right - left) / count as f64;
    let x = |i: usize| left + (i as f64 + 0.5) * unit;
    let y = |stops: f64| (top + bottom) / 2.0 - stops.clamp(-most, most) / most * (bottom - top) / 2.0;

    let mut marks: Vec<Mark> = judgement
        .rows
        .iter()
        .enumerate()
        .map(|(i, row)| {
            let (from, to) = (left + i as f64 * unit, left + (i + 1) as f64 * unit);
            rectangle(Role::Band, (from, y(row.tolerance_stops)), (to, y(-row.tolerance_stops)))
        })
        .collect();
    marks.extend(stops_scale(most, (left, right), y));
    let every = count.div_ceil(MOST_NAMES);
    for (i, row) in judgement.rows.iter().enumerate() {
        if i % every == 0 {
            marks.push(line(Role::Rule, (x(i), bottom), (x(i), bottom + 5.0)));
            marks.push(label((x(i), bottom + 20.0), row.mark.label(), "middle"));
        }
        let Some(error) = row.error else { continue };
        let value = error.value();
        let role = match row.state {
            State::Measured | State::Probable if value >= 0.0 => Role::Over,
            State::Measured | State::Probable => Role::Under,
            State::Indicative | State::CannotTell => Role::Indicated,
        };
        if role != Role::Indicated {
            let doubt = error.expanded_95();
            marks.extend(upright_whisker(x(i), y(value + doubt), y(value - doubt)));
        }
        marks.push(Mark { role, shape: Shape::Dot { at: (x(i), y(value)), radius: 5.0 } });
    }
    marks.push(label((right, bottom + 44.0), "marked time in seconds".to_owned(), "end"));
    let within = judgement.rows.iter().filter(|row| row.call == Call::Within).count();
    Some(Drawing {
        width,
        height,
        title: "Shutter error over the marked times".to_owned(),
        description: format!(
            "{} {} measured, {within} of them within. The pale band is the tolerance.",
            judgement.pattern,
            words::sentence_case(&words::count(errors.len(), "marked time", "marked times"))
        ),
        marks,
    })
}
