//! The plot of a judged meter run: film error over the light.
//!
//! Not here: bars, roles and shapes ([`super`]).

use metrology::Estimate;

use super::frame::Frame;
use super::{Drawing, Mark, Role, Shape, upright_whisker};
use crate::meter::Judgement;
use crate::words;

/// The judged run: film error over the light, each level with its doubt, the fit with its own, the tolerance as a band.
pub fn meter_plot(judgement: &Judgement) -> Drawing {
    let lights = judgement.levels.iter().map(|level| level.reference.value());
    let (mut low, mut high) = lights.clone().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
    low = (low - 0.7).floor();
    high = (high + 0.7).ceil();
    let fits: Vec<Estimate> = judgement.levels.iter().flat_map(|level| [level.error, level.fitted]).collect();
    let tolerance = judgement.tolerance.value();
    let frame = Frame::of(&fits, tolerance);
    let x = |ev: f64| frame.left + (ev - low) / (high - low) * (frame.right - frame.left);
    let y = |stops: f64| frame.y(stops);

    let mut marks = vec![frame.band((frame.left, frame.right), tolerance, tolerance)];
    marks.extend(frame.scale());
    let every = ((high - low) / 9.0).ceil().max(1.0);
    let mut ev = low;
    while ev <= high {
        frame.tick(x(ev), words::plain(ev, 0), &mut marks);
        ev += every;
    }
    marks.push(frame.foot("light, EV at ISO 100"));
    let upper = judgement.curve.iter().map(|(ev, e)| (x(*ev), y(-e.value() + e.expanded_95())));
    let lower = judgement.curve.iter().rev().map(|(ev, e)| (x(*ev), y(-e.value() - e.expanded_95())));
    if judgement.levels.len() > 1 {
        marks.push(Mark { role: Role::Doubt, shape: Shape::Path { points: upper.chain(lower).collect() } });
        let points = judgement.curve.iter().map(|(ev, e)| (x(*ev), y(-e.value()))).collect();
        marks.push(Mark { role: Role::Fit, shape: Shape::Path { points } });
    }
    for level in &judgement.levels {
        let (at, value, doubt) = (x(level.reference.value()), -level.error.value(), level.error.expanded_95());
        marks.extend(upright_whisker(at, y(value + doubt), y(value - doubt)));
        let role = if value >= 0.0 { Role::Over } else { Role::Under };
        marks.push(Mark { role, shape: Shape::Dot { at: (at, y(value)), radius: 5.0 } });
    }
    let (width, height) = Frame::SIZE;
    Drawing {
        width,
        height,
        title: "Film error over the light".to_owned(),
        description: format!(
            "{} {}. The pale band is the tolerance of ±{} stop, the grey one the doubt of the fit.",
            judgement.pattern,
            words::sentence_case(&words::count(judgement.levels.len(), "level", "levels")),
            words::fraction(tolerance)
        ),
        marks,
    }
}
