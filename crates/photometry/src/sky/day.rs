//! The light of a whole day, point by point, and the hours in which sunny 16 holds.
//!
//! Not here: drawing it (`inspection`), the light of one moment ([`super::sunny`]).

use super::model::{Plane, Sky};
use super::sunny::under;
use crate::error::Error;
use crate::quantity::{Elevation, Ev, Stops};
use crate::sun::{Air, Moment, Place, sun_position};

/// Most points of a day: one every minute.
const MOST: u32 = 1_441;

/// One moment of a day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayPoint {
    /// When.
    pub moment: Moment,
    /// True elevation of the sun.
    pub elevation: Elevation,
    /// The light, while the sun is up.
    pub light: Option<DayLight>,
}

/// The light of a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DayLight {
    /// EV at ISO 100.
    pub ev100: Ev,
    /// Standard uncertainty.
    pub standard_uncertainty: Stops,
    /// What sunny 16 says less what the light is: + reads high.
    pub sunny16_error: Stops,
}

/// A part of a day, from its first moment to its last.
pub type DaySpan = (Moment, Moment);

/// The 24 hours after a moment in so many even steps, both ends included. **Errors** below 2 or above 1441 points, and where the
/// day reaches beyond the year 2999.
pub fn day_of_light(start: Moment, place: Place, sky: Sky, plane: Plane, points: u32) -> Result<Vec<DayPoint>, Error> {
    if !(2..=MOST).contains(&points) {
        return Err(Error::new(format!("the points of a day must be between 2 and {MOST}, and {points} was given")));
    }
    (0..points)
        .map(|i| {
            let moment = start.later_by(86_400.0 * f64::from(i) / f64::from(points - 1))?;
            let sun = sun_position(moment, place, Air::usual(place))?;
            let elevation = sun.elevation;
            let light = if elevation.degrees() < 0.0 {
                None
            } else {
                let light = under(sun, moment, sky, plane)?;
                Some(DayLight {
                    ev100: light.ev100,
                    standard_uncertainty: light.doubt.both(),
                    sunny16_error: light.sunny16_error,
                })
            };
            Ok(DayPoint { moment, elevation, light })
        })
        .collect()
}

/// The parts of a day in which sunny 16 is off by no more than so many stops; where it goes in or out between two points, the
/// edge lies on the straight line between them.
pub fn good_spans(day: &[DayPoint], within: Stops) -> Result<Vec<DaySpan>, Error> {
    let error = |point: &DayPoint| point.light.map(|light| light.sunny16_error.value().abs());
    let good = |point: &DayPoint| error(point).is_some_and(|error| error <= within.value());
    let mut spans = Vec::new();
    let mut begun = day.first().filter(|point| good(point)).map(|point| point.moment);
    for pair in day.windows(2) {
        let [before, here] = pair else { continue };
        let crossing = || -> Result<Moment, Error> {
            let whole = here.moment.seconds_since_1970() - before.moment.seconds_since_1970();
            let share = match (error(before), error(here)) {
                (Some(a), Some(b)) if a != b => ((within.value() - a) / (b - a)).clamp(0.0, 1.0),
                // At sunrise and sunset the side that has light decides.
                (Some(_), _) => 0.0,
                _ => 1.0,
            };
            before.moment.later_by(whole * share)
        };
        match (begun, good(here)) {
            (None, true) => begun = Some(crossing()?),
            (Some(from), false) => {
                spans.push((from, crossing()?));
                begun = None;
            }
            _ => {}
        }
    }
    if let (Some(from), Some(last)) = (begun, day.last()) {
        spans.push((from, last.moment));
    }
    Ok(spans)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(latitude: f64, month: u32, plane: Plane) -> Vec<DayPoint> {
        let start = Moment::new(2024, month, 21, 0, 0, 0.0).expect("a day");
        day_of_light(start, Place::new(latitude, 0.0).expect("a place"), Sky::Clear, plane, 145)
            .expect("a day of light")
    }

    fn hours(span: &DaySpan) -> f64 {
        (span.1.seconds_since_1970() - span.0.seconds_since_1970()) / 3600.0
    }

    #[test]
    fn sunny_16_holds_for_most_of_a_summer_day_and_never_of_a_winter_one() {
        let third = Stops::new(1.0 / 3.0).expect("stops");
        let summer = good_spans(&day(45.0, 6, Plane::Upright), third).expect("spans");
        // Up to 62° and down to 16°: parted at noon, when the sun stands at 68°.
        assert_eq!(summer.len(), 2, "{summer:?}");
        assert!(summer.iter().all(|span| (3.0..6.0).contains(&hours(span))), "{summer:?}");
        assert!(good_spans(&day(60.0, 12, Plane::Horizontal), third).expect("spans").is_empty());
        assert!(good_spans(&[], third).expect("spans").is_empty());
    }

    #[test]
    fn the_edges_do_not_hang_on_the_number_of_points() {
        let third = Stops::new(1.0 / 3.0).expect("stops");
        let start = Moment::new(2024, 3, 21, 0, 0, 0.0).expect("a day");
        let place = Place::new(50.0, 0.0).expect("a place");
        let spans = |points| {
            let day = day_of_light(start, place, Sky::Clear, Plane::Upright, points).expect("a day");
            good_spans(&day, third).expect("spans")
        };
        let (rough, fine) = (spans(97), spans(1441));
        assert!(rough.len() == 1 && fine.len() == 1);
        assert!((rough[0].0.seconds_since_1970() - fine[0].0.seconds_since_1970()).abs() < 60.0, "{rough:?} {fine:?}");
    }

    #[test]
    fn a_polar_night_has_points_without_light() {
        let night = day(80.0, 12, Plane::Upright);
        assert!(night.len() == 145 && night.iter().all(|point| point.light.is_none()));
        let start = night[0].moment;
        for points in [0, 1, 5000] {
            assert!(
                day_of_light(start, Place::new(0.0, 0.0).expect("a place"), Sky::Clear, Plane::Upright, points)
                    .is_err()
            );
        }
    }
}
