//! The plot of a day's light: the EV to expect hour by hour, the hours in which sunny 16 is good, and now.
//!
//! Not here: the light itself (`photometry`), roles and shapes ([`super`]).

use photometry::{DayPoint, DaySpan, Moment};

use super::{Drawing, Mark, Role, Shape, label, line, rectangle};
use crate::words;

/// Light at the foot and the head of the plot [EV at ISO 100], and that of sunny 16.
const RANGE: (f64, f64) = (6.0, 16.0);
const SUNNY_16_EV: f64 = 15.0;
/// Hours of a day, and how many of them lie between two names.
const HOURS: f64 = 24.0;
const NAMED: usize = 4;

/// The day from a local midnight on: the light while the sun is up as a line, sunny 16 as the zero line, the hours in which it is
/// good as bands, now as an upright line.
pub fn day_plot(day: &[DayPoint], good: &[DaySpan], start: Moment, now: Moment) -> Drawing {
    let (width, height) = (640.0, 300.0);
    let (left, right, top, bottom) = (64.0, width - 12.0, 14.0, height - 52.0);
    let hour = |moment: Moment| (moment.seconds_since_1970() - start.seconds_since_1970()) / 3600.0;
    let x = |hours: f64| left + (right - left) * hours.clamp(0.0, HOURS) / HOURS;
    let y = |ev: f64| bottom - (bottom - top) * (ev.clamp(RANGE.0, RANGE.1) - RANGE.0) / (RANGE.1 - RANGE.0);

    let mut marks: Vec<Mark> =
        good.iter().map(|(from, to)| rectangle(Role::Band, (x(hour(*from)), top), (x(hour(*to)), bottom))).collect();
    for ev in (RANGE.0 as i32..=RANGE.1 as i32).step_by(3) {
        let ev = f64::from(ev);
        let role = if ev == SUNNY_16_EV { Role::Zero } else { Role::Rule };
        marks.push(line(role, (left, y(ev)), (right, y(ev))));
        marks.push(label((left - 6.0, y(ev) + 4.0), format!("EV {}", words::plain(ev, 0)), "end"));
    }
    for named in (0..=HOURS as usize).step_by(NAMED) {
        let at = x(named as f64);
        marks.push(line(Role::Rule, (at, bottom), (at, bottom + 5.0)));
        marks.push(label((at, bottom + 20.0), format!("{named}"), if named == 24 { "end" } else { "middle" }));
    }
    let mut stretch: Vec<(f64, f64)> = Vec::new();
    let mut end = |stretch: &mut Vec<(f64, f64)>| {
        if stretch.len() > 1 {
            marks.push(Mark { role: Role::Fit, shape: Shape::Path { points: std::mem::take(stretch) } });
        }
        stretch.clear();
    };
    for point in day {
        match point.light {
            Some(light) => stretch.push((x(hour(point.moment)), y(light.ev100.value()))),
            None => end(&mut stretch),
        }
    }
    end(&mut stretch);
    let at = x(hour(now));
    marks.push(line(Role::Whisker, (at, top), (at, bottom)));
    marks.push(label((at, top + 10.0), " now".to_owned(), if hour(now) > HOURS * 0.8 { "end" } else { "start" }));
    marks.push(label((right, bottom + 44.0), "hour of the day".to_owned(), "end"));
    let up = day.iter().filter(|point| point.light.is_some()).count();
    let description = if up == 0 {
        "The sun does not rise on this day.".to_owned()
    } else {
        format!(
            "The line is the light to expect while the sun is up. Sunny 16 is good to a third of a stop {}.",
            if good.is_empty() { "at no hour of this day" } else { "in the shaded hours" }
        )
    };
    Drawing { width, height, title: "The light of this day".to_owned(), description, marks }
}

#[cfg(test)]
mod tests {
    use super::*;
    use photometry::{Place, Plane, Sky, Stops, day_of_light, good_spans};

    fn drawn(latitude: f64, month: u32) -> Drawing {
        let start = Moment::new(2026, month, 21, 0, 0, 0.0).expect("a moment");
        let place = Place::new(latitude, 0.0).expect("a place");
        let day = day_of_light(start, place, Sky::Clear, Plane::FacingSun, 97).expect("a day");
        let good = good_spans(&day, Stops::new(1.0 / 3.0).expect("stops")).expect("spans");
        day_plot(&day, &good, start, start.later_by(43_200.0).expect("noon"))
    }

    fn count(drawing: &Drawing, role: Role) -> usize {
        drawing.marks.iter().filter(|mark| mark.role == role).count()
    }

    #[test]
    fn a_day_has_one_line_and_now_in_its_middle() {
        let day = drawn(50.0, 6);
        assert_eq!((count(&day, Role::Fit), count(&day, Role::Whisker)), (1, 1));
        assert!(count(&day, Role::Band) >= 1 && day.description.contains("shaded"));
    }

    #[test]
    fn polar_night_has_no_line_and_says_so() {
        let night = drawn(80.0, 12);
        assert_eq!((count(&night, Role::Fit), count(&night, Role::Band)), (0, 0));
        assert!(night.description.contains("does not rise"));
        // At midsummer it is the other way round: one line through the whole day.
        assert_eq!(count(&drawn(80.0, 6), Role::Fit), 1);
    }
}
