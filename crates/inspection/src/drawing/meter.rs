//! The plot of a judged meter run: film error over the light.
//!
//! Not here: bars, roles and shapes ([`super`]).

use metrology::Estimate;

use super::{Drawing, Mark, Role, Shape, bar_scale, label, line, rectangle, stops_scale, upright_whisker};
use crate::meter::Judgement;
use crate::words;

/// The judged run: film error over the light, each level with its doubt, the fit with its own, the tolerance as a band.
pub fn meter_plot(judgement: &Judgement) -> Drawing {
    let (width, height) = (640.0, 300.0);
    let (left, right, top, bottom) = (80.0, width - 12.0, 14.0, height - 52.0);
    let lights = judgement.levels.iter().map(|level| level.reference.value());
    let (mut low, mut high) = lights.clone().fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), x| (l.min(x), h.max(x)));
    low = (low - 0.7).floor();
    high = (high + 0.7).ceil();
    let fits: Vec<Estimate> = judgement.levels.iter().flat_map(|level| [level.error, level.fitted]).collect();
    let most = bar_scale(&fits, judgement.tolerance.value()).min(12.0);
    let x = |ev: f64| left + (ev - low) / (high - low) * (right - left);
    let y = |stops: f64| (top + bottom) / 2.0 - stops.clamp(-most, most) / most * (bottom - top) / 2.0;

    let tolerance = judgement.tolerance.value();
    let mut marks = vec![rectangle(Role::Band, (left, y(tolerance)), (right, y(-tolerance)))];
    marks.extend(stops_scale(most, (left, right), y));
    let every = ((high - low) / 9.0).ceil().max(1.0);
    let mut ev = low;
    while ev <= high {
        marks.push(line(Role::Rule, (x(ev), bottom), (x(ev), bottom + 5.0)));
        marks.push(label((x(ev), bottom + 20.0), words::plain(ev, 0), "middle"));
        ev += every;
    }
    marks.push(label((right, bottom + 44.0), "light, EV at ISO 100".to_owned(), "end"));
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
