//! Sun, sky and screen: from what is typed and chosen to the light that can be reckoned.
//!
//! Not here: the reckoning (`photometry`), what is said of it (`inspection`), where the place is kept (the page, and nowhere else).

use inspection::daylight::{SUN_CAUTION_CODE, direction_words, light_notices, sunny16_words};
use inspection::{drawing, words};
use metrology::student_factor;
use photometry::{
    Air, CITIES, Daylight, Ev, Moment, Place, Plane, SCREEN_STEPS, ScreenKind, ScreenLevel, Sky, Stops, TILE_PX,
    day_of_light, daylight, field_size, good_spans, screen_light, step_doubt, sun_position, surest_plane,
};

use crate::convert::{self, decimal};
use crate::error::Error;
use crate::page::{CityChoice, LampStep, LampView, SunSurface, SunView};
use crate::time;

/// Sunny 16 counts as good within this \[stops\].
const GOOD_STOPS: f64 = 1.0 / 3.0;
/// The day is looked at every ten minutes.
const POINTS: u32 = 145;
/// Furthest time zones from UTC \[min\].
const FURTHEST_ZONE_MIN: i32 = 14 * 60;

fn expanded(stops: Stops) -> String {
    let factor = student_factor(0.95, f64::INFINITY).unwrap_or(1.96);
    format!("±{} stop", words::doubt(stops.value() * factor))
}

/// Large cities, in the order of the alphabet.
pub fn cities() -> Vec<CityChoice> {
    let degrees = |degrees: f64| metrology::to_decimals(degrees, 1);
    CITIES
        .iter()
        .map(|city| CityChoice {
            name: city.name.to_owned(),
            latitude: degrees(city.latitude_deg),
            longitude: degrees(city.longitude_deg),
        })
        .collect()
}

fn surface(plane: Plane, best: Plane, light: &Daylight) -> SunSurface {
    SunSurface {
        key: plane.key().to_owned(),
        words: plane.words().to_owned(),
        best: plane == best,
        lux_words: format!("{} klx", metrology::to_decimals(light.illuminance.value() / 1000.0, 1)),
        ev_words: words::ev(light.ev100.value()),
        doubt_words: expanded(light.doubt.both()),
        sunny16_words: sunny16_words(light, plane),
        typed: metrology::to_decimals(light.illuminance.value(), 0),
        each_doubt_stops: light.doubt.each.value(),
        shared_doubt_stops: light.doubt.shared.value(),
    }
}

/// `10:20` in the zone.
fn clock(moment: Moment, zone_min: i32) -> String {
    let minutes = (moment.seconds_since_1970() / 60.0).round() as i64 + i64::from(zone_min);
    let of_day = minutes.rem_euclid(24 * 60);
    format!("{}:{:02}", of_day / 60, of_day % 60)
}

/// Sun and sky at a time and place, which is rounded to a tenth of a degree. `zone_min` is what the clock on the wall is ahead of
/// UTC. **Errors** where the time, the place or the sky cannot be.
pub fn sun_view(at: &str, zone_min: i32, latitude: &str, longitude: &str, sky: &str) -> Result<SunView, Error> {
    let moment = time::moment(at)?;
    let place = Place::new(decimal(latitude, "latitude")?, decimal(longitude, "longitude")?)?.rounded();
    let sky = Sky::from_key(sky).ok_or_else(|| {
        let shown: String = sky.chars().take(40).collect();
        Error::new(format!("the sky must be one of {}, and \"{shown}\" was given", Sky::ALL.map(Sky::key).join(", ")))
    })?;
    if zone_min.abs() > FURTHEST_ZONE_MIN {
        return Err(Error::new(format!("a time zone is within 14 hours of UTC, and {zone_min} minutes was given")));
    }
    let sun = sun_position(moment, place, Air::usual(place))?;
    let (plot, good_words) = day(moment, zone_min, place, sky)?;
    let mut view = SunView {
        sun_words: format!(
            "{}°, {}",
            metrology::to_decimals(sun.elevation.degrees(), 1),
            direction_words(sun.azimuth_deg())
        ),
        plot: Some(plot),
        good_words,
        ..SunView::default()
    };
    if sun.elevation.degrees() < 0.0 {
        view.refusal = "The sun is below the horizon: no light can be reckoned from it.".to_owned();
        return Ok(view);
    }
    let best = surest_plane(sky, sun.elevation)?;
    for plane in Plane::ALL {
        let light = daylight(moment, place, sky, plane)?;
        if plane == best {
            view.notices =
                // The caution stands on the page whether or not there is light.
                light_notices(moment, place, sky, plane, &light)?
                    .into_iter()
                    .filter(|notice| notice.code != SUN_CAUTION_CODE)
                    .map(|notice| notice.text)
                    .collect();
        }
        view.surfaces.push(surface(plane, best, &light));
    }
    Ok(view)
}

/// The day on the wall's clock for a surface that faces the sun, and the hours in which sunny 16 is good there.
fn day(now: Moment, zone_min: i32, place: Place, sky: Sky) -> Result<(crate::page::Drawing, String), Error> {
    const DAY_S: f64 = 86_400.0;
    let zone_s = f64::from(zone_min) * 60.0;
    let start = ((now.seconds_since_1970() + zone_s) / DAY_S).floor() * DAY_S - zone_s;
    let start = Moment::of_seconds_since_1970(start)?;
    let points = day_of_light(start, place, sky, Plane::FacingSun, POINTS)?;
    let good = good_spans(&points, Stops::new(GOOD_STOPS)?)?;
    let spans: Vec<String> =
        good.iter().map(|(from, to)| format!("{} to {}", clock(*from, zone_min), clock(*to, zone_min))).collect();
    let said = match spans.as_slice() {
        [] => "At no hour of this day is sunny 16 good to a third of a stop, even for what faces the sun.".to_owned(),
        _ => {
            format!("For what faces the sun, sunny 16 is good to a third of a stop from {}.", spans.join(" and from "))
        }
    };
    Ok((convert::drawing(&drawing::day_plot(&points, &good, start, now)), said))
}

/// The screen as a lamp in a place of so many device pixels. `white` is full white's EV at ISO 100 as a trusted meter read it, with
/// the meter's standard uncertainty; both empty where nobody has.
///
/// **Errors** where a number cannot be, the kind of screen is not known, or not one tile fits.
pub fn lamp_view(white: &str, meter_doubt: &str, kind: &str, width_px: u32, height_px: u32) -> Result<LampView, Error> {
    let kind = ScreenKind::from_key(kind).ok_or_else(|| {
        let shown: String = kind.chars().take(40).collect();
        let keys = ScreenKind::ALL.map(ScreenKind::key).join(", ");
        Error::new(format!("the screen must be one of {keys}, and \"{shown}\" was given"))
    })?;
    let level = match white.trim() {
        "" => ScreenLevel::assumed()?,
        text => ScreenLevel::calibrated(
            Ev::new(decimal(text, "EV of full white")?)?,
            Stops::new(decimal(meter_doubt, "doubt of the trusted meter")?)?,
        )?,
    };
    let (width_px, height_px) = field_size(width_px, height_px)?;
    let steps = SCREEN_STEPS
        .iter()
        .map(|step| {
            let light = screen_light(&level, step)?;
            Ok(LampStep {
                key: step.key.to_owned(),
                words: step.words(),
                ev_words: words::ev(light.value()),
                typed: metrology::to_decimals(light.value(), 2),
                each_doubt_stops: step_doubt(kind, step).value(),
                tile: step.tile(),
            })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    Ok(LampView {
        width_px,
        height_px,
        tile_px: TILE_PX,
        white_words: format!(
            "full white {} {}, {}",
            words::ev(level.white.value()),
            expanded(level.shared),
            if level.calibrated { "read by a trusted meter" } else { "read by nobody: assumed" }
        ),
        shared_doubt_stops: level.shared.value(),
        calibrated: level.calibrated,
        steps,
    })
}

/// Kinds of screen to choose from.
pub(crate) fn screen_kinds() -> [(&'static str, &'static str); 3] {
    ScreenKind::ALL.map(|kind| (kind.key(), kind.words()))
}

/// Skies to choose from: the published classes of the model.
pub(crate) fn model_skies() -> [(&'static str, &'static str); 3] {
    Sky::ALL.map(|sky| (sky.key(), sky.words()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn noon_has_three_surfaces_and_one_that_is_known_best() {
        let view = sun_view("2026-06-21T11:30:00Z", 120, "48.2", "16.4", "clear").expect("a view");
        assert_eq!(view.surfaces.len(), 3);
        assert_eq!(view.surfaces.iter().filter(|surface| surface.best).count(), 1);
        assert!(view.refusal.is_empty() && view.notices.is_empty() && view.good_words.contains(" to "));
        assert!(view.sun_words.contains("south"), "{}", view.sun_words);
    }

    #[test]
    fn below_the_horizon_there_is_a_reason_and_no_number() {
        for (at, latitude) in
            [("2026-12-21T12:00:00Z", "80"), ("2026-06-21T23:30:00Z", "48"), ("2026-06-21T12:00:00Z", "-80")]
        {
            let view = sun_view(at, 0, latitude, "0", "clear").expect("a view");
            assert!(view.surfaces.is_empty() && view.refusal.contains("below the horizon"), "{at} {latitude}");
        }
        // Midnight sun, the zenith, and the other half of the earth.
        for (at, latitude) in
            [("2026-06-21T00:00:00Z", "80"), ("2026-03-20T12:07:00Z", "0"), ("2026-12-21T12:00:00Z", "-35")]
        {
            let view = sun_view(at, 0, latitude, "0", "clear").expect("a view");
            assert_eq!(view.surfaces.len(), 3, "{at} {latitude}");
        }
        assert!(sun_view("2026-12-21T12:00:00Z", 0, "-35", "0", "clear").expect("a view").sun_words.contains("north"));
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for (at, zone, latitude, sky) in [
            ("now", 0, "0", "clear"),
            ("2026-06-21T12:00:00Z", 0, "91", "clear"),
            ("2026-06-21T12:00:00Z", 0, "x", "clear"),
            ("2026-06-21T12:00:00Z", 0, "0", "grey"),
            ("2026-06-21T12:00:00Z", 9000, "0", "clear"),
        ] {
            assert!(sun_view(at, zone, latitude, "0", sky).is_err());
        }
        assert!(lamp_view("11", "", "unknown", 400, 400).is_err() && lamp_view("", "", "odd", 400, 400).is_err());
        assert!(lamp_view("", "", "unknown", 10, 400).is_err());
    }

    #[test]
    fn a_lamp_has_whole_tiles_and_exact_steps() {
        let lamp = lamp_view("11.30", "0.1", "self_lit", 1079, 2399).expect("a lamp");
        assert_eq!((lamp.width_px % lamp.tile_px, lamp.height_px % lamp.tile_px), (0, 0));
        let typed: Vec<&str> = lamp.steps.iter().map(|step| step.typed.as_str()).collect();
        assert_eq!(typed, ["11.30", "10.30", "9.30", "8.30", "7.30", "6.30", "5.30"]);
        for (n, step) in lamp.steps.iter().enumerate() {
            let white = step.tile.iter().filter(|pixel| **pixel == 255).count();
            assert_eq!(white << n, step.tile.len());
        }
        assert!(lamp.calibrated && !lamp_view("", "", "unknown", 400, 400).expect("a lamp").calibrated);
    }
}
