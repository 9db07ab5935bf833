//! The remedy on the film-speed dial: which mark takes an even meter error out, and what is left then.
//!
//! Not here: the remedies of points, which stand beside them in [`crate::catalogue`].

use std::sync::LazyLock;

use metrology::{Estimate, largest_expanded_95};
use photometry::{FILM_SPEED_MARKS, FilmSpeedMark};

use crate::meter::{Chosen, Model, Run};
use crate::words;

/// A slope counts as small where, from the middle to an end of the range, it takes less than this share of the tolerance.
const SMALL_SLOPE_SHARE: f64 = 0.5;

/// The marks of film-speed dials, read once.
static DIAL: LazyLock<Vec<FilmSpeedMark>> =
    LazyLock::new(|| FILM_SPEED_MARKS.iter().filter_map(|mark| FilmSpeedMark::parse(mark, &[]).ok()).collect());

/// A dial setting, or why there is none.
#[derive(Clone, Debug)]
pub enum DialAdvice {
    /// Set the dial to this mark.
    Set(DialSetting),
    /// No setting, with the reason as a sentence; empty where none is needed.
    None(String),
}

/// A mark to set the dial to.
#[derive(Clone, Debug)]
pub struct DialSetting {
    /// The mark.
    pub dial: String,
    /// The film it is for.
    pub film_speed: String,
    /// What is left of the offset [stops of meter error].
    pub residual_stops: f64,
    /// What is left at each level, in the order of the levels [stops of meter error].
    pub left: Vec<Estimate>,
}

impl DialSetting {
    /// `Set the dial to 640 for ISO 400 film:`
    pub fn text(&self) -> String {
        format!("Set the dial to {} for ISO {} film:", self.dial, self.film_speed)
    }

    /// `what is left is within 0.15 stop everywhere, known to ±0.2.`
    pub fn left_text(&self) -> String {
        let most = self.left.iter().map(|left| left.value().abs()).fold(0.0, f64::max);
        let doubt = largest_expanded_95(self.left.iter().copied());
        // Rounded up to a twentieth: the sentence promises a limit.
        let limit = (most * 20.0 - 1e-9).ceil().max(1.0) / 20.0;
        let place = if self.left.len() == 1 { "at this level" } else { "everywhere" };
        format!("what is left is within {} stop {place}, known to ±{}.", words::plain(limit, 2), words::doubt(doubt))
    }
}

/// Reads high by a: film is under-exposed by a, so the dial goes to a lower film speed, `S' = S · 2^(−a)`, taken to the nearest
/// third-of-a-stop mark. Offered where the offset is beyond its doubt and the slope is small; refused where what is left would
/// break the tolerance anywhere.
pub(crate) fn dial_advice(run: &Run, chosen: &Chosen, fitted: &[Estimate]) -> DialAdvice {
    let offset = chosen.offset();
    let none = |text: &str| DialAdvice::None(text.to_owned());
    if offset.value().abs() <= offset.expanded_95() {
        return none("");
    }
    if let Model::FallOff { .. } = chosen.model {
        return none(
            "No dial setting mends a fall-off: it would move the error from one end of the range to the other.",
        );
    }
    if let Some(slope) = chosen.slope.filter(|_| matches!(chosen.model, Model::Line { .. })) {
        let ends = fitted.iter().map(|level| (level.value() - offset.value()).abs()).fold(0.0, f64::max);
        if ends > SMALL_SLOPE_SHARE * run.tolerance.value() && slope.value() != 0.0 {
            return none("No dial setting mends an error that changes with the light.");
        }
    }
    let Some(film) = &run.film_speed else {
        return none(
            "Enter the speed of the film in hand, and the dial setting that takes the error out is worked out.",
        );
    };
    let speed = film.exact().value();
    let wanted = speed * libm::exp2(-offset.value());
    let nearest = DIAL
        .iter()
        .map(|mark| (libm::log2(mark.exact().value() / wanted).abs(), mark))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, mark)) = nearest.filter(|(distance, _)| *distance <= 0.5) else {
        return none("The setting that would take the error out is beyond any film-speed dial.");
    };
    let dial = mark.exact().value();
    if (dial - speed).abs() < 1e-9 * speed {
        return none("");
    }
    if let Some((lowest, highest)) = &run.dial
        && (dial < lowest.exact().value() * 0.999 || dial > highest.exact().value() * 1.001)
    {
        return DialAdvice::None(format!(
            "The setting that would take the error out is {}, and the dial goes from {} to {}.",
            mark.text(),
            lowest.text(),
            highest.text()
        ));
    }
    let shift = libm::log2(dial / speed);
    let left: Vec<Estimate> = fitted
        .iter()
        .filter_map(|level| {
            Estimate::new(level.value() + shift, level.standard_uncertainty(), level.degrees_of_freedom()).ok()
        })
        .collect();
    if left.iter().any(|level| level.value().abs() > run.tolerance.value()) {
        return none("No dial setting keeps the error within the tolerance everywhere.");
    }
    DialAdvice::Set(DialSetting {
        dial: mark.text().to_owned(),
        film_speed: film.text().to_owned(),
        residual_stops: offset.value() + shift,
        left,
    })
}
