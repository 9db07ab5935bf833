//! What a photo of a strip shows before anything is measured on it: a film with bright holes, one that was turned into a positive, or
//! no perforation at all.
//!
//! *Equation:* the light of each margin's row of holes, column by column, is folded at the pitch of the perforation, 4.75 mm; there
//! are holes where the fold explains most of it, and the narrow part of the fold, 1.98 mm, is the hole. *Source:* perforation of ISO
//! 1007 (from memory); the share that has to be explained is set on computed strips. Not here: density ([`super::density`]).

use super::{FILM_MM, PX_PER_MM, Strip, TOP_MM};

/// Pitch of the perforation \[mm\] and rows within which only holes and the film between them lie \[mm from the edge\].
const PITCH_MM: f64 = 4.75;
const ROWS_MM: (f64, f64) = (2.6, 4.2);
/// Steps of the fold.
const STEPS: usize = 38;
/// Share of a margin's variation that the fold must explain, and the least contrast \[log10\].
const EXPLAINED: f64 = 0.5;
const CONTRAST: f64 = 0.06;

/// The holes of a film as a photo shows them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holes {
    /// Brighter than the film, as on a light table.
    Bright,
    /// Darker than the film: the photo was turned into a positive, or light fell on the film from above.
    Dark,
    /// There are none at the pitch of a film.
    None,
}

/// The rows of holes of both margins; what is said holds for both.
pub fn holes(strip: &Strip) -> Holes {
    match [false, true].map(|lower| margin(strip, lower)) {
        [Holes::Bright, Holes::Bright] => Holes::Bright,
        [Holes::Dark, Holes::Dark] => Holes::Dark,
        _ => Holes::None,
    }
}

fn margin(strip: &Strip, lower: bool) -> Holes {
    let width = Strip::width();
    let at = |mm: f64| ((if lower { FILM_MM - mm } else { mm } - TOP_MM) * PX_PER_MM) as usize;
    let (a, b) = (at(ROWS_MM.0), at(ROWS_MM.1));
    let rows = a.min(b)..a.max(b);
    let line: Vec<f64> = (0..width)
        .map(|column| {
            rows.clone().map(|row| f64::from(strip.log[row * width + column])).sum::<f64>() / rows.len() as f64
        })
        .collect();
    // What the table and fog change slowly along the film is taken out with a mean over two pitches.
    let half = (PITCH_MM * PX_PER_MM) as usize;
    let flat: Vec<f64> = (0..width)
        .map(|column| {
            let near = &line[column.saturating_sub(half)..(column + half).min(width)];
            line[column] - near.iter().sum::<f64>() / near.len() as f64
        })
        .collect();
    let step = |column: usize| {
        let phase = column as f64 / (PITCH_MM * PX_PER_MM);
        (((phase - phase.floor()) * STEPS as f64) as usize).min(STEPS - 1)
    };
    let mut fold = [(0.0, 0.0); STEPS];
    for (column, value) in flat.iter().enumerate() {
        let own = &mut fold[step(column)];
        (own.0, own.1) = (own.0 + value, own.1 + 1.0);
    }
    let fold = fold.map(|(sum, count)| if count > 0.0 { sum / count } else { 0.0 });
    let whole: f64 = flat.iter().map(|value| value * value).sum();
    let explained: f64 = flat.iter().enumerate().map(|(column, _)| fold[step(column)] * fold[step(column)]).sum();
    let (least, most) = fold.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(*v), b.max(*v)));
    if whole <= 0.0 || explained < EXPLAINED * whole || most - least < CONTRAST {
        return Holes::None;
    }
    let bright = fold.iter().filter(|value| **value > (least + most) / 2.0).count();
    if 2 * bright < STEPS { Holes::Bright } else { Holes::Dark }
}
