//! The density map of a frame of film with its gate and scale, and the exposure along the travel of a wall.
//!
//! Not here: what they say ([`crate::test_roll`]).

use super::{Drawing, Mark, Role, Shape, label, line, rectangle};
use crate::test_roll::density_of;
use crate::words;

/// Drawing units of a millimetre of film.
const UNIT: f64 = 8.0;
/// Millimetres left of the gate and above the film at which a map begins, and the gate on it.
const LEFT_MM: f64 = 3.0;
const TOP_MM: f64 = 1.5;
const GATE_MM: (f64, f64, f64, f64) = (0.0, 5.5, 36.0, 29.5);
/// Shades, and the densities at which the darker ones begin.
const FROM: [f64; 9] = [0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.7, 1.0];
/// Most letters of a map that are drawn.
const MOST: usize = 64;

fn shade(density: f64) -> u8 {
    FROM.iter().filter(|from| density >= **from - 1e-9).count() as u8
}

/// A map from its rows of letters; nothing where there are none.
pub fn density_map(rows: &[String]) -> Option<Drawing> {
    let across = rows.first()?.chars().count().min(MOST);
    let down = rows.len().min(MOST);
    let mut marks = Vec::new();
    let mut most = 0.0_f64;
    for (y, row) in rows.iter().take(down).enumerate() {
        let shades: Vec<Option<u8>> = row
            .chars()
            .take(across)
            .map(|letter| density_of(letter).inspect(|density| most = most.max(*density)).map(shade))
            .collect();
        // Neighbours of one shade are one mark.
        let mut from = 0;
        while from < shades.len() {
            let own = shades[from];
            let to = shades[from..].iter().position(|other| *other != own).map_or(shades.len(), |at| from + at);
            if let Some(own) = own {
                let corner = |x: usize, y: usize| (x as f64 * UNIT, y as f64 * UNIT);
                marks.push(rectangle(Role::Shade(own), corner(from, y), corner(to, y + 1)));
            }
            from = to;
        }
    }
    let at = |x: f64, y: f64| ((x + LEFT_MM) * UNIT, (y + TOP_MM) * UNIT);
    let (left, top, right, bottom) = GATE_MM;
    marks.push(Mark { role: Role::Body, shape: Shape::Rectangle { from: at(left, top), to: at(right, bottom) } });
    let (width, height) = (across as f64 * UNIT, down as f64 * UNIT);
    marks.extend(scale(width, height + 10.0));
    Some(Drawing {
        width,
        height: height + 52.0,
        title: "Density above the film's base".to_owned(),
        description: format!(
            "The frame as it lies on the photo, the gate outlined; the densest square millimetre has {}.",
            words::plain(most, 2)
        ),
        marks,
    })
}

/// The shades side by side with the densities at which they begin.
fn scale(width: f64, top: f64) -> Vec<Mark> {
    let each = width / (FROM.len() + 1) as f64;
    (0..=FROM.len())
        .flat_map(|i| {
            let (from, to) = (i as f64 * each, (i + 1) as f64 * each);
            let begins = if i == 0 { 0.0 } else { FROM[i - 1] };
            let decimals = if i == 0 || (begins * 10.0).fract() < 1e-9 { 1 } else { 2 };
            let mut marks = vec![rectangle(Role::Shade(i as u8), (from, top), (to, top + 16.0))];
            // Every other number has room.
            if i % 2 == 0 {
                marks.push(label((from, top + 34.0), words::plain(begins, decimals), "start"));
            }
            marks
        })
        .collect()
}

/// Size of the profile's plot and the place of its axes.
const PLOT: (f64, f64) = (360.0, 190.0);
const INNER: (f64, f64, f64, f64) = (62.0, 14.0, 350.0, 160.0);

/// Exposure along the travel of a wall: place \[lengths of the travel from its middle\], stops. Nothing where there is none.
pub fn wall_plot(position: &[f64], stops: &[f64]) -> Option<Drawing> {
    if position.len() < 2 || position.len() != stops.len() {
        return None;
    }
    let most = stops.iter().fold(0.5_f64, |most, value| most.max(value.abs())).min(6.0);
    let (left, top, right, bottom) = INNER;
    let middle = (top + bottom) / 2.0;
    let x = |at: f64| left + (right - left) * (at + 0.5).clamp(0.0, 1.0);
    let y = |value: f64| middle - (bottom - top) / 2.0 * (value / most).clamp(-1.0, 1.0);
    let mut marks = Vec::new();
    for (value, text) in [(most, "more"), (-most, "less")] {
        marks.push(line(Role::Rule, (left, y(value)), (right, y(value))));
        marks.push(label((left - 6.0, y(value) + 4.0), format!("{} {text}", words::plain(most, 1)), "end"));
    }
    marks.push(line(Role::Zero, (left, middle), (right, middle)));
    marks.push(label((left - 6.0, middle + 4.0), "0".to_owned(), "end"));
    let points = position.iter().zip(stops).map(|(at, value)| (x(*at), y(*value))).collect();
    marks.push(Mark { role: Role::Fit, shape: Shape::Path { points } });
    marks.push(label((left, PLOT.1 - 8.0), "one end of the travel".to_owned(), "start"));
    marks.push(label((right, PLOT.1 - 8.0), "the other".to_owned(), "end"));
    Some(Drawing {
        width: PLOT.0,
        height: PLOT.1,
        title: "Exposure along the travel, stops".to_owned(),
        description: format!("Up is more light; the scale ends at {} stop.", words::plain(most, 1)),
        marks,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_map_has_its_gate_and_its_scale_and_stays_within() {
        let rows: Vec<String> = (0..38).map(|row| if row < 4 { "a".repeat(42) } else { "0.".repeat(21) }).collect();
        let drawing = density_map(&rows).expect("a drawing");
        assert_eq!(drawing.marks.iter().filter(|mark| mark.role == Role::Body).count(), 1);
        // A row of one shade is one mark.
        let dark = drawing.marks.iter().filter(|mark| mark.role == Role::Shade(7)).count();
        assert_eq!(dark, 4 + 1);
        assert!(drawing.description.contains("0.50") && density_map(&[]).is_none());
        for mark in drawing.marks {
            if let Shape::Rectangle { to, .. } = mark.shape {
                assert!(to.0 <= drawing.width + 1e-9 && to.1 <= drawing.height);
            }
        }
    }

    #[test]
    fn a_profile_is_drawn_within_its_plot() {
        let drawing = wall_plot(&[-0.5, 0.0, 0.5], &[9.0, 0.0, -9.0]).expect("a drawing");
        assert!(drawing.marks.iter().any(|mark| mark.role == Role::Fit));
        assert!(wall_plot(&[0.0], &[0.0]).is_none() && wall_plot(&[0.0, 1.0], &[0.0]).is_none());
    }
}
