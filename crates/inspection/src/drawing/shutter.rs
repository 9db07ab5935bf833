//! The plot of a judged shutter: error over the marked times, in dial order.
//!
//! Not here: bars, roles and shapes ([`super`]).

use metrology::{Call, Estimate};
use timing::State;

use super::frame::{Columns, Frame};
use super::{Drawing, Mark, Role, Shape, upright_whisker};
use crate::shutter::Judgement;
use crate::words;

/// More names than this would run into one another.
const MOST_NAMES: usize = 7;

/// The judged shutter: each time with its doubt, over up and under down, its tolerance as a band; what is only indicated is
/// drawn open and without a doubt. `None` where no time is known.
pub fn shutter_plot(judgement: &Judgement) -> Option<Drawing> {
    let errors: Vec<Estimate> = judgement.rows.iter().filter_map(|row| row.error).collect();
    if errors.is_empty() {
        return None;
    }
    let tolerance = judgement.rows.iter().map(|row| row.tolerance_stops).fold(0.0, f64::max);
    let frame = Frame::of(&errors, tolerance);
    let columns = Columns::of(&frame, judgement.rows.len(), MOST_NAMES);
    let (x, y) = (|i: usize| columns.x(i), |stops: f64| frame.y(stops));
    let mut marks: Vec<Mark> = judgement
        .rows
        .iter()
        .enumerate()
        .map(|(i, row)| frame.band(columns.sides(i), row.tolerance_stops, row.tolerance_stops))
        .collect();
    marks.extend(frame.scale());
    for (i, row) in judgement.rows.iter().enumerate() {
        columns.name(i, row.mark.label(), &mut marks);
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
    marks.push(frame.foot("marked time in seconds"));
    let within = judgement.rows.iter().filter(|row| row.call == Call::Within).count();
    let (width, height) = Frame::SIZE;
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
