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
        exposure_of_speed(FilmKind::BlackAndWhiteNegative, row) / row.number("t=")
    }),
    ("stops relative to speed point", |row, _| {
        stops(row.number("H="), exposure_of_speed(FilmKind::BlackAndWhiteNegative, row))
    }),
];

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
