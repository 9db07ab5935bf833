//! The frame of a plot of film errors: stops up its side, and marks with their names along its foot.
//!
//! Not here: what is drawn in it.

use metrology::Estimate;

use super::{Mark, Role, bar_scale, label, line, rectangle};
use crate::words;

/// Widest scale \[stops\].
const WIDEST_STOPS: f64 = 12.0;

/// Where the errors are drawn \[units\], and the scale up to `most` \[stops\] either way.
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) right: f64,
    top: f64,
    pub(super) bottom: f64,
    most: f64,
}

impl Frame {
    /// The size of a plot with such a frame alone \[units\].
    pub(super) const SIZE: (f64, f64) = (640.0, 300.0);

    /// For these errors and half-width of a tolerance \[stops\], in a plot of its own.
    pub(super) fn of(errors: &[Estimate], tolerance_stops: f64) -> Self {
        Self::within(80.0, Self::SIZE.1 - 52.0, errors, tolerance_stops)
    }

    /// The same with another left edge and foot \[units\].
    pub(super) fn within(left: f64, bottom: f64, errors: &[Estimate], tolerance_stops: f64) -> Self {
        let most = bar_scale(errors, tolerance_stops).min(WIDEST_STOPS);
        Self { left, right: Self::SIZE.0 - 12.0, top: 14.0, bottom, most }
    }

    /// The height of an error \[stops\], over up; what is beyond the scale stands at its end.
    pub(super) fn y(&self, stops: f64) -> f64 {
        let share = stops.clamp(-self.most, self.most) / self.most;
        (self.top + self.bottom) / 2.0 - share * (self.bottom - self.top) / 2.0
    }

    /// A tolerance of so many stops over and under, from side to side.
    pub(super) fn band(&self, (from, to): (f64, f64), over: f64, under: f64) -> Mark {
        rectangle(Role::Band, (from, self.y(over)), (to, self.y(-under)))
    }

    /// The scale: a line at every stop, or every second one where they are many.
    pub(super) fn scale(&self) -> Vec<Mark> {
        let step = if self.most > 6.0 { 2.0 } else { 1.0 };
        let steps = (self.most / step).floor() as i32;
        (-steps..=steps)
            .flat_map(|i| {
                let stops = f64::from(i) * step;
                let text = match i {
                    0 => "0".to_owned(),
                    _ => format!("{} {}", words::plain(stops.abs(), 0), if i > 0 { "over" } else { "under" }),
                };
                let role = if i == 0 { Role::Zero } else { Role::Rule };
                let y = self.y(stops);
                [line(role, (self.left, y), (self.right, y)), label((self.left - 6.0, y + 4.0), text, "end")]
            })
            .collect()
    }

    /// A place along the foot, with its name.
    pub(super) fn tick(&self, x: f64, name: String, marks: &mut Vec<Mark>) {
        marks.push(line(Role::Rule, (x, self.bottom), (x, self.bottom + 5.0)));
        marks.push(label((x, self.bottom + 20.0), name, "middle"));
    }

    /// What stands along the foot.
    pub(super) fn foot(&self, text: &str) -> Mark {
        label((self.right, self.bottom + 44.0), text.to_owned(), "end")
    }
}

/// Marks side by side along a frame's foot.
pub(super) struct Columns<'f> {
    frame: &'f Frame,
    /// Width of one \[units\].
    pub(super) unit: f64,
    /// Each such one is named.
    every: usize,
}

impl<'f> Columns<'f> {
    /// So many, of which at most `most_names` are named: more would run into one another.
    pub(super) fn of(frame: &'f Frame, count: usize, most_names: usize) -> Self {
        Self { frame, unit: (frame.right - frame.left) / count as f64, every: count.div_ceil(most_names) }
    }

    /// The middle of one.
    pub(super) fn x(&self, i: usize) -> f64 {
        self.frame.left + (i as f64 + 0.5) * self.unit
    }

    /// Both sides of one.
    pub(super) fn sides(&self, i: usize) -> (f64, f64) {
        (self.frame.left + i as f64 * self.unit, self.frame.left + (i + 1) as f64 * self.unit)
    }

    /// The name of one, where it is named.
    pub(super) fn name(&self, i: usize, name: String, marks: &mut Vec<Mark>) {
        if i.is_multiple_of(self.every) {
            self.frame.tick(self.x(i), name, marks);
        }
    }
}
