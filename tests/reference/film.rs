//! Answers to the rows on film: speed, latitude, and the light that fogs it.
//!
//! Not here: exposure ([`crate::exposure`]).

use crate::rows::Row;
use photometry::*;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("B&W negative speed-point exposure Hm", |row, _| exposure_of_speed(FilmKind::BlackAndWhiteNegative, row)),
    ("colour negative Hm=", |row, _| exposure_of_speed(FilmKind::ColourNegative, row)),
    ("reversal Hm=", |row, _| exposure_of_speed(FilmKind::Reversal, row)),
    ("metered mid-tone film-plane exposure", |row, _| metered(row)),
    ("stops from ISO 6 speed point", |_, rows| {
        let row = rows.named("FILM-014");
        stops(metered(row), exposure_of_speed(FilmKind::BlackAndWhiteNegative, row))
    }),
    ("stops ISO 2240 Hm", |_, rows| {
        let row = rows.named("FILM-014");
        stops(exposure_of_speed(FilmKind::Reversal, row), metered(row))
    }),
    ("colour negative under-exposure latitude", |_, _| FilmKind::ColourNegative.latitude().under),
    ("colour negative over-exposure latitude", |_, _| FilmKind::ColourNegative.latitude().over),
    ("reversal latitude", |_, _| {
        let latitude = FilmKind::Reversal.latitude();
        assert_eq!(latitude.under, latitude.over);
        latitude.over
    }),
    ("ISO 2721 luminance range", |row, _| {
        let ev = Ev::new(row.number("equals EV")).expect("ev");
        luminance(ev, row.number("K=")).expect("a luminance").value()
    }),
    ("film illuminance that gives ISO 6 speed-point density", |row, _| {
        fogging_illuminance(seconds(row.number("t=")), speed(row.number(" S="))).expect("an illuminance").value()
    }),
    ("attenuation for S=400", |row, _| attenuation(row)),
    ("LEAK-014", |_, rows| density_of(attenuation(rows.named("LEAK-013"))).expect("a density")),
    ("dose in lx s", |row, _| {
        let light = Illuminance::new(row.number("leak ")).expect("an illuminance");
        dose(light, seconds(60.0 * row.number(" for ")))
    }),
    ("stops relative to speed point", |row, _| {
        dose_above_fog(row.number("H="), speed(row.number(" S="))).expect("stops").value()
    }),
];

fn speed(iso: f64) -> FilmSpeed {
    FilmSpeed::new(iso).expect("a film speed")
}

fn seconds(time: f64) -> ExposureTime {
    ExposureTime::new(time).expect("a time")
}

/// `attenuation for S=400; 1 h in 100 klx; …`
fn attenuation(row: &Row) -> f64 {
    let outside = Illuminance::new(1e3 * row.number(" in ")).expect("an illuminance");
    attenuation_needed(outside, seconds(3600.0 * row.number("; ")), speed(row.number(" S=")))
}

fn exposure_of_speed(kind: FilmKind, row: &Row) -> f64 {
    kind.speed_exposure(FilmSpeed::new(row.number(" S=")).expect("a film speed"))
}

fn metered(row: &Row) -> f64 {
    let speed = FilmSpeed::new(row.number("S=")).expect("a film speed");
    assert_eq!((row.number("q="), row.number(" K=")), (Q_DEFAULT, K_DEFAULT), "{}", row.id);
    metered_exposure(row.number("q="), row.number(" K="), speed).expect("an exposure")
}

fn stops(a: f64, b: f64) -> f64 {
    stops_between(a, b).expect("stops").value()
}
