//! Answers to the rows on the sun, the light of sun and sky, and sunny 16 against them.
//!
//! Not here: words for the sky by eye ([`crate::exposure`]).

use crate::rows::{Row, numbers};
use photometry::*;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("NREL SPA topocentric zenith", |row, _| 90.0 - position(row).apparent.degrees()),
    ("NREL SPA azimuth", |row, _| position(row).azimuth_deg()),
    ("NREL SPA incidence", |row, _| {
        let cosine = position(row).incidence_cosine(row.number("slope "), row.number("surface azimuth "));
        libm::acos(cosine).to_degrees()
    }),
    ("NREL SPA Julian day", |row, _| moment(row).julian_day()),
    ("NREL SPA R;", |row, _| celestial(moment(row)).expect("the sun").distance_au),
    ("NREL SPA alpha", |row, _| celestial(moment(row)).expect("the sun").right_ascension_deg),
    ("NREL SPA delta;", |row, _| celestial(moment(row)).expect("the sun").declination_deg),
    ("NREL SPA H observer hour angle", |row, _| {
        // As far as the meridian lies behind under which it is noon at that moment.
        let (now, here) = (moment(row), row.number("lon="));
        let start = now.later_by(-43_200.0).expect("a moment");
        let mut under = here;
        for _ in 0..4 {
            let noon = sun_times(start, Place::new(0.0, under).expect("a place")).expect("times").noon.expect("a noon");
            under += (noon.seconds_since_1970() - now.seconds_since_1970()) / 240.0;
        }
        here - under
    }),
    ("SPA sun position", |row, _| {
        let sun = position(row);
        match row.after("expected=").split(';').next() {
            Some("true elevation") => sun.elevation.degrees(),
            Some("apparent elevation") => sun.apparent.degrees(),
            Some("azimuth from north clockwise") => sun.azimuth_deg(),
            other => panic!("{}: nothing is known of {other:?}", row.id),
        }
    }),
    ("IES solar illuminance constant", |_, _| SOLAR_ILLUMINANCE / 1000.0),
    ("IES extinction c clear", |_, _| Sky::Clear.coefficients().extinction.expect("an extinction")),
    ("IES extinction c partly", |_, _| Sky::Partly.coefficients().extinction.expect("an extinction")),
    ("IES extraterrestrial", |row, _| klx(extraterrestrial(row.number("J=") as u32).expect("lux"))),
    ("IES clear direct normal", |row, _| klx(parts(row, Sky::Clear).direct_normal.expect("a sun"))),
    ("IES clear sky-only", |row, _| klx(parts(row, Sky::Clear).sky)),
    ("IES clear sun+sky", |row, _| klx(parts(row, Sky::Clear).global)),
    ("IES partly cloudy sun+sky", |row, _| klx(parts(row, Sky::Partly).global)),
    ("IES cloudy", |row, _| klx(parts(row, Sky::Cloudy).global)),
    ("USNO constant", |_, _| SECOND_SOLAR_ILLUMINANCE),
    ("USNO Circ. 171 horizontal", |row, _| klx(second_model(elevation(row)).expect("light"))),
    ("stops IES clear daylight minus EV15", |row, _| {
        let light = on_plane(Sky::Clear, plane(row), elevation(row), mean_sun()).expect("light");
        ev_from_illuminance(light, row.number("C=")).expect("ev").value() - SUNNY_16
    }),
    ("ANSI PH2.7 reference: max", |row, _| lux(row.number("sun; "))),
    ("ANSI PH2.7 reference at", |row, _| lux(row.number("sun: "))),
];

/// The same for rows that expect several numbers.
pub const SEVERAL: &[(&str, crate::Answers)] = &[
    ("NREL SPA sunrise", |_, rows| vec![local_time(rows.named("SUN-001"), |times| times.rise)]),
    ("NREL SPA sunset", |_, rows| vec![local_time(rows.named("SUN-001"), |times| times.set)]),
    ("IES sky clear", |_, _| sky_numbers(Sky::Clear)),
    ("IES sky partly", |_, _| sky_numbers(Sky::Partly)),
    ("IES sky cloudy", |_, _| sky_numbers(Sky::Cloudy)),
    ("sun elevations where IES clear daylight is within 1/3 stop of EV15", |row, _| good_elevations(row, SUNNY_16)),
    ("sun elevations where IES clear daylight is within 1/3 stop of f/16", |row, _| {
        let f = FNumberMark::parse(row.word("of f/"), &[]).expect("a mark").exact();
        let (t, s) = (ExposureTime::new(0.01).expect("a time"), FilmSpeed::new(100.0).expect("a speed"));
        good_elevations(row, exposure_value(f, t, s).value())
    }),
];

/// `2024-06-20 12:00:00` as universal time.
fn written(text: &str) -> Moment {
    let part: Vec<u32> = text.split(['-', ' ', ':']).filter_map(|part| part.parse().ok()).collect();
    Moment::new(i64::from(part[0]), part[1], part[2], part[3], part[4], f64::from(part[5])).expect("a moment")
}

fn moment(row: &Row) -> Moment {
    let (text, hours) = match row.input.split_once("local ") {
        Some((_, text)) => (text, row.number("UTC")),
        None => (row.after("UTC "), 0.0),
    };
    let moment = written(&text[..19]).later_by(-3600.0 * hours).expect("a moment");
    moment.with_delta_t(row.number("delta_t=")).expect("a moment")
}

fn place(row: &Row) -> Place {
    let place = Place::new(row.number("lat="), row.number("lon=")).expect("a place");
    place.at_altitude(row.number("alt=")).expect("a height")
}

fn position(row: &Row) -> SunPosition {
    let air = Air::new(row.number("; p="), row.number("; T=")).expect("air");
    sun_position(moment(row), place(row), air).expect("a position")
}

/// Seconds of the local day of the worked example, whose date is that of universal time: the sun set there on the evening before.
fn local_time(row: &Row, which: fn(SunTimes) -> Option<Moment>) -> f64 {
    let now = moment(row);
    let midnight = now.later_by(-(now.seconds_since_1970() % 86_400.0)).expect("a moment");
    let event = which(sun_times(midnight, place(row)).expect("times")).expect("an event");
    (event.seconds_since_1970() + 3600.0 * row.number("UTC")).rem_euclid(86_400.0)
}

fn mean_sun() -> Illuminance {
    Illuminance::new(SOLAR_ILLUMINANCE).expect("lux")
}

fn elevation(row: &Row) -> Elevation {
    Elevation::new(row.number("elevation=")).expect("an elevation")
}

fn parts(row: &Row, sky: Sky) -> Components {
    components(sky, elevation(row), mean_sun()).expect("light")
}

fn klx(light: Illuminance) -> f64 {
    light.value() / 1000.0
}

/// Foot-candles in lux.
fn lux(foot_candles: f64) -> f64 {
    foot_candles * core::f64::consts::PI * FOOT_LAMBERT
}

fn plane(row: &Row) -> Plane {
    match row.word("plane=") {
        "horizontal" => Plane::Horizontal,
        "normal" => Plane::FacingSun,
        "vertical" => Plane::Upright,
        other => panic!("{}: no plane {other}", row.id),
    }
}

fn sky_numbers(sky: Sky) -> Vec<f64> {
    let (a, b, c) = sky.coefficients().sky;
    vec![a / 1000.0, b / 1000.0, c]
}

fn good_elevations(row: &Row, aim: f64) -> Vec<f64> {
    let third = Stops::new(numbers(row.after("within "))[0]).expect("stops");
    let spans = sunny16_elevations(plane(row), Ev::new(aim).expect("ev"), third, row.number("C="));
    spans.expect("spans").into_iter().flat_map(|(low, high)| [low.degrees(), high.degrees()]).collect()
}
