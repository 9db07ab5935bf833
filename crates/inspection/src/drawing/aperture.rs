//! The plot of a judged aperture over its marked f-numbers, and the outline of an opening to lay over its picture.
//!
//! Not here: bars, roles and shapes ([`super`]).

use imaging::blades::{OddBlade, Opening};
use metrology::{Call, Estimate};

use super::frame::{Columns, Frame};
use super::{Drawing, Mark, Role, Shape, rectangle, upright_whisker};
use crate::aperture::Judgement;
use crate::words;

/// More names than this would run into one another.
const MOST_NAMES: usize = 9;

/// The judged aperture: each mark with its doubt, over up and under down, the tolerance as a band; the widest mark, which is a
/// ring, is drawn open. `None` where no mark has an error.
pub fn aperture_plot(judgement: &Judgement) -> Option<Drawing> {
    let errors: Vec<Estimate> = judgement.rows.iter().filter_map(|row| row.error).collect();
    if errors.is_empty() {
        return None;
    }
    let tolerance = judgement.tolerance.stops();
    let frame = Frame::of(&errors, tolerance);
    let columns = Columns::of(&frame, judgement.rows.len(), MOST_NAMES);
    let (x, y) = (|i: usize| columns.x(i), |stops: f64| frame.y(stops));
    let mut marks = vec![frame.band((frame.left, frame.right), tolerance, tolerance)];
    marks.extend(frame.scale());
    for (i, row) in judgement.rows.iter().enumerate() {
        columns.name(i, row.mark.label(), &mut marks);
        let Some(error) = row.error else { continue };
        let value = error.value();
        let role = match row.widest {
            true => Role::Indicated,
            false if value >= 0.0 => Role::Over,
            false => Role::Under,
        };
        let doubt = error.expanded_95();
        marks.extend(upright_whisker(x(i), y(value + doubt), y(value - doubt)));
        // A bar about zero, as everywhere, and its end as a dot that a small error still shows.
        if !row.widest {
            let half = (columns.unit * 0.18).min(14.0);
            marks.push(rectangle(role, (x(i) - half, y(value.max(0.0))), (x(i) + half, y(value.min(0.0)))));
        }
        marks.push(Mark { role, shape: Shape::Dot { at: (x(i), y(value)), radius: 4.0 } });
    }
    marks.push(frame.foot("marked f-number; the open dot is the fixed ring"));
    let within = judgement.rows.iter().filter(|row| row.call == Call::Within).count();
    let (width, height) = Frame::SIZE;
    Some(Drawing {
        width,
        height,
        title: "Aperture error over the marked f-numbers".to_owned(),
        description: format!(
            "{} {} measured, {within} of them within. The pale band is the tolerance.",
            judgement.pattern,
            words::sentence_case(&words::count(errors.len(), "marked f-number", "marked f-numbers"))
        ),
        marks,
    })
}

/// What was measured, as a line on the picture of `size_px`, with the blades that sit off as rays from the middle.
pub fn opening_outline(opening: &Opening, size_px: (u32, u32), odd: &[OddBlade]) -> Drawing {
    let (cx, cy) = opening.centre_px;
    let count = opening.outline_px.len().max(1) as f64;
    let at = |radius: f64, angle: f64| (cx + 0.5 + radius * libm::cos(angle), cy + 0.5 + radius * libm::sin(angle));
    let mut points: Vec<(f64, f64)> = opening
        .outline_px
        .iter()
        .enumerate()
        .map(|(i, radius)| at(*radius, i as f64 / count * core::f64::consts::TAU))
        .collect();
    if let Some(first) = points.first().copied() {
        points.push(first);
    }
    let mut marks = vec![Mark { role: Role::Fit, shape: Shape::Path { points } }];
    let radius = (opening.area_px / core::f64::consts::PI).sqrt();
    for blade in odd {
        let angle = blade.angle_deg.to_radians();
        let side = if blade.deviation > 0.0 { Role::Over } else { Role::Under };
        let (from, to) = (at(radius * 1.08, angle), at(radius * 1.6, angle));
        marks.push(Mark { role: side, shape: Shape::Line { from, to } });
        marks.push(Mark { role: side, shape: Shape::Dot { at: from, radius: radius * 0.05 } });
    }
    let (width, height) = (f64::from(size_px.0), f64::from(size_px.1));
    Drawing {
        width,
        height,
        title: "The opening that was measured".to_owned(),
        description: match odd {
            [] => "The line is the edge that was measured.".to_owned(),
            [blade] => format!(
                "The line is the edge that was measured; the ray at {} degrees points at the blade that sits off.",
                words::plain(blade.angle_deg, 0)
            ),
            _ => "The line is the edge that was measured; the rays point at the blades that sit off.".to_owned(),
        },
        marks,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outline_is_closed_and_lies_about_the_middle() {
        let opening = Opening {
            area_px: core::f64::consts::PI * 100.0,
            perimeter_px: 62.8,
            edge_doubt_px: 0.1,
            noise: 0.0,
            centre_px: (49.5, 29.5),
            outline_px: vec![10.0; 360],
            notices: Vec::new(),
        };
        let odd = [OddBlade { angle_deg: 90.0, deviation: 0.1 }];
        let drawn = opening_outline(&opening, (100, 60), &odd);
        let Some(Mark { shape: Shape::Path { points }, .. }) = drawn.marks.first() else { panic!("no path") };
        assert_eq!((points.len(), points[0], points[360]), (361, (60.0, 30.0), (60.0, 30.0)));
        // 90 degrees lie below the middle, as seen.
        let ray = drawn.marks.iter().find_map(|mark| match &mark.shape {
            Shape::Line { from, to } => Some((from.1, to.1)),
            _ => None,
        });
        assert!(ray.is_some_and(|(from, to)| from > 40.0 && to > from));
    }
}
