//! Drawings of what was measured: one bar about zero per error, the error over the light and over the marks, what film gets.
//! The same on a page, in a list and on paper.
//!
//! Film error is drawn, over to the right or up; a pale band is the tolerance, a whisker the doubt. Only positions are
//! worked out here; colours and line widths belong to whoever shows it.

mod aperture;
pub mod back;
mod code;
mod day;
mod density;
mod film;
mod frame;
mod meter;
mod shutter;

use metrology::Estimate;

use crate::words;

pub use aperture::{aperture_plot, opening_outline};
pub use code::code;
pub use day::day_plot;
pub use density::{density_map, wall_plot};
pub use film::film_plot;
pub use meter::meter_plot;
pub use shutter::shutter_plot;

/// Marks in a box of `width` × `height` drawing units.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// A short name.
    pub title: String,
    /// What it shows, in a sentence.
    pub description: String,
    /// The marks, back to front.
    pub marks: Vec<Mark>,
}

/// What a mark stands for, and so how it looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// The tolerance.
    Band,
    /// The zero line.
    Zero,
    /// A hairline of the scale.
    Rule,
    /// Film over-exposed.
    Over,
    /// Film under-exposed.
    Under,
    /// Doubt of one error.
    Whisker,
    /// The fit.
    Fit,
    /// Doubt of the fit.
    Doubt,
    /// An error that is only indicated, and not judged.
    Indicated,
    /// What is safe for a film.
    Safe,
    /// A dark square of a code that a phone reads.
    Code,
    /// Lettering.
    Label,
    /// The outline of a body or door.
    Body,
    /// A word beside a diagram.
    Caption,
    /// A part drawn for orientation.
    Part,
    /// A place of which nothing is known yet.
    Place,
    /// A place found sound.
    PlaceSound,
    /// A place found worn, and doing its work.
    PlaceWorn,
    /// A place found faulty or failed.
    PlaceBad,
    /// A place that a test roll points at.
    Suspected,
    /// The place in hand.
    InHand,
    /// The disc behind a place's number.
    Tag,
    /// A place's number.
    Number,
    /// A ray of light that comes out.
    Ray,
    /// A density, from 0 for none to 9.
    Shade(u8),
}

/// Keys of the shades.
const SHADES: [&str; 10] =
    ["shade-0", "shade-1", "shade-2", "shade-3", "shade-4", "shade-5", "shade-6", "shade-7", "shade-8", "shade-9"];

impl Role {
    /// The key that a page or sheet styles by.
    pub const fn key(self) -> &'static str {
        match self {
            Role::Band => "band",
            Role::Zero => "zero",
            Role::Rule => "rule",
            Role::Over => "over",
            Role::Under => "under",
            Role::Whisker => "whisker",
            Role::Fit => "fit",
            Role::Doubt => "doubt",
            Role::Indicated => "indicated",
            Role::Safe => "safe",
            Role::Code => "code",
            Role::Label => "label",
            Role::Body => "body",
            Role::Caption => "caption",
            Role::Part => "part",
            Role::Place => "place",
            Role::PlaceSound => "place-sound",
            Role::PlaceWorn => "place-worn",
            Role::PlaceBad => "place-bad",
            Role::Suspected => "suspected",
            Role::InHand => "in-hand",
            Role::Tag => "tag",
            Role::Number => "number",
            Role::Ray => "ray",
            Role::Shade(shade) => SHADES[if shade < 10 { shade as usize } else { 9 }],
        }
    }
}

/// The shape of a mark.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// From one point to another.
    Line {
        /// Start.
        from: (f64, f64),
        /// End.
        to: (f64, f64),
    },
    /// Between two corners, the first above and left of the second.
    Rectangle {
        /// Upper left.
        from: (f64, f64),
        /// Lower right.
        to: (f64, f64),
    },
    /// A filled circle.
    Dot {
        /// Centre.
        at: (f64, f64),
        /// Radius.
        radius: f64,
    },
    /// A line through points; closed and filled where the role is a doubt.
    Path {
        /// The points.
        points: Vec<(f64, f64)>,
    },
    /// Lettering.
    Text {
        /// Anchor point on the base line.
        at: (f64, f64),
        /// The letters.
        text: String,
        /// `start`, `middle` or `end`.
        anchor: &'static str,
    },
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// Its shape.
    pub shape: Shape,
    /// What it stands for.
    pub role: Role,
}

/// Least half-width of a bar's scale [stops], so that small errors look small.
const LEAST_BAR_STOPS: f64 = 1.5;
/// Drawing units of a bar.
const BAR: (f64, f64) = (300.0, 26.0);

/// A scale that bars in one list share: half its width [stops].
pub fn bar_scale(errors: &[Estimate], tolerance_stops: f64) -> f64 {
    errors
        .iter()
        .map(|error| error.value().abs() + error.expanded_95())
        .chain(std::iter::once(tolerance_stops * 1.2))
        .fold(LEAST_BAR_STOPS, f64::max)
}

/// A film error as a bar about zero with its doubt and the tolerance.
///
/// `film_error` \[stops\], + over; `tolerance_stops` half-width of the band \[stops\], 0 for none; `scale_stops` from
/// [`bar_scale`].
pub fn bar(film_error: Estimate, tolerance_stops: f64, scale_stops: f64) -> Drawing {
    let (width, height) = BAR;
    let middle = width / 2.0;
    let unit = (middle - 4.0) / scale_stops.max(1e-6);
    let at = |stops: f64| middle + stops.clamp(-scale_stops, scale_stops) * unit;
    let value = film_error.value();
    let doubt = film_error.expanded_95();
    let mut marks = Vec::new();
    if tolerance_stops > 0.0 {
        marks.push(rectangle(Role::Band, (at(-tolerance_stops), 2.0), (at(tolerance_stops), height - 2.0)));
    }
    marks.push(line(Role::Zero, (middle, 0.0), (middle, height)));
    let (role, from, to) =
        if value >= 0.0 { (Role::Over, middle, at(value)) } else { (Role::Under, at(value), middle) };
    marks.push(rectangle(role, (from, 9.0), (to, 17.0)));
    let (low, high) = (at(value - doubt), at(value + doubt));
    marks.push(line(Role::Whisker, (low, 13.0), (high, 13.0)));
    for end in [low, high] {
        marks.push(line(Role::Whisker, (end, 8.0), (end, 18.0)));
    }
    Drawing {
        width,
        height,
        title: words::film_error(value),
        description: format!("{}, plus or minus {} stop", words::film_error(value), words::doubt(doubt)),
        marks,
    }
}

fn line(role: Role, from: (f64, f64), to: (f64, f64)) -> Mark {
    Mark { role, shape: Shape::Line { from, to } }
}

fn rectangle(role: Role, from: (f64, f64), to: (f64, f64)) -> Mark {
    Mark { role, shape: Shape::Rectangle { from, to } }
}

fn label(at: (f64, f64), text: String, anchor: &'static str) -> Mark {
    Mark { role: Role::Label, shape: Shape::Text { at, text, anchor } }
}

/// A doubt as an upright line with its two ends.
fn upright_whisker(at: f64, top: f64, bottom: f64) -> [Mark; 3] {
    let end = |y: f64| line(Role::Whisker, (at - 4.0, y), (at + 4.0, y));
    [line(Role::Whisker, (at, top), (at, bottom)), end(top), end(bottom)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn over_lies_right_of_zero_and_under_left() {
        let estimate = |value: f64| Estimate::new(value, 0.1, f64::INFINITY).expect("an estimate");
        let over = bar(estimate(0.5), 0.5, 1.5);
        let under = bar(estimate(-0.5), 0.5, 1.5);
        let place = |drawing: &Drawing, role: Role| {
            drawing
                .marks
                .iter()
                .find_map(|mark| match (&mark.shape, mark.role == role) {
                    (Shape::Rectangle { from, to }, true) => Some((from.0, to.0)),
                    _ => None,
                })
                .expect("a bar")
        };
        assert_eq!(place(&over, Role::Over).0, 150.0);
        assert!(place(&over, Role::Over).1 > 150.0);
        assert_eq!(place(&under, Role::Under).1, 150.0);
        assert!(place(&under, Role::Under).0 < 150.0);
        assert!(over.description.contains("over") && under.description.contains("under"));
    }

    #[test]
    fn what_is_beyond_the_scale_stays_in_the_box() {
        let huge = Estimate::new(40.0, 9.0, f64::INFINITY).expect("an estimate");
        for mark in bar(huge, 0.5, 1.5).marks {
            if let Shape::Line { from, to } | Shape::Rectangle { from, to } = mark.shape {
                assert!(from.0 >= 0.0 && to.0 <= 300.0);
            }
        }
    }
}
