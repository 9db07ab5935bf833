//! Answers to the rows on pictures: codes and light, and the luminance of a patch from its exposure.
//!
//! Not here: the tags' numbers, which a dependency holds; light without pictures ([`crate::exposure`]).

use crate::rows::{Row, numbers};
use imaging::exif::Metadata;
use imaging::glare::{Pair, Sample, glare};
use imaging::luminance::{Pixels, Reading, Setup, assess};
use imaging::raster::{Layout, Region, Size, Tally, View};
use imaging::transfer::{Curve, MID_TONE_CODE, Primaries, Transfer};
use photometry::*;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("sRGB code ", |row, _| {
        if row.id == "PHO-032" {
            return (255.0 * Curve::Srgb.code(row.number("of ") / 100.0)).round();
        }
        Curve::Srgb.light(row.number("code "))
    }),
    ("linear ", |row, _| {
        let light = row.number("linear ");
        if row.input.contains("BT.709") { Curve::Bt709.code(light) } else { 255.0 * Curve::Srgb.code(light) }
    }),
    ("BT.709 studio 8-bit code", |row, _| 16.0 + 219.0 * Curve::Bt709.code(row.number("linear "))),
    ("K' that gives sRGB 118", |_, _| scale() * mid_tone()),
    ("stops K'(q=0.65) above", |row, _| {
        let setup = Setup { reflected_constant: row.number("K="), ..Setup::default() };
        let reading = reading(2.0, 1.0 / 64.0, 100.0, mid_tone(), &setup);
        reading.ev100.value() - reading.settings_ev100
    }),
    ("luminance scale A", |_, _| scale()),
    ("luminance from JPEG; uniform sRGB ", |row, _| {
        let light = Curve::Srgb.light(row.number("sRGB ") / 255.0);
        let time = row.number("t=1/");
        reading(row.number("N="), 1.0 / time, row.number("S="), light, &Setup::default()).luminance.value()
    }),
    ("sRGB value of a uniform target exposed by a K=", |row, _| 255.0 * Curve::Srgb.code(row.number("K=") / scale())),
    ("sRGB value of an 18 % card exposed by an incident C=", |row, _| {
        let light = Illuminance::new(row.number("C=")).expect("lux");
        let card = luminance_of_matt_surface(light, row.number("an ") / 100.0).expect("a luminance");
        255.0 * Curve::Srgb.code(card.value() / scale())
    }),
    ("PHO-045", |row, _| half_and_half(row)),
    ("averaging trap: linear value of mean code", |row, _| Curve::Srgb.light(row.number("code ") / 255.0)),
    ("averaging trap: error", |_, rows| {
        let wrong = rows.named("PHO-046").number("code ") / 255.0;
        libm::log2(half_and_half(rows.named("PHO-045")) / Curve::Srgb.light(wrong))
    }),
    ("VGI; linear black", |row, _| glare_of(row.number("black "), row.number("white "))),
    ("VGI from sRGB codes", |row, _| {
        let light = |mark: &str| Curve::Srgb.light(row.number(mark) / 255.0);
        glare_of(light("black "), light("white "))
    }),
];

/// Glare in per cent of one photo.
fn glare_of(hole: f64, field: f64) -> f64 {
    let normal = Sample { hole, field, field_spread: 0.0, slope: 1.0, field_clipped: 0.0, hole_crushed: 0.0 };
    100.0 * glare(&Pair { normal, long: None }, None).expect("glare").index
}

fn mid_tone() -> f64 {
    Curve::Srgb.light(f64::from(MID_TONE_CODE) / 255.0)
}

/// A patch of so much light, taken so.
fn reading(n: f64, t: f64, s: f64, light: f64, setup: &Setup) -> Reading {
    let mut metadata = Metadata::read(&[]);
    metadata.notices.clear();
    metadata.exposure.f_number = FNumber::new(n).ok();
    metadata.exposure.time = ExposureTime::new(t).ok();
    metadata.exposure.speed = FilmSpeed::new(s).ok();
    let patch = imaging::raster::PatchLight { mean: light, clipped: 0.0, black: 0.0, spread_stops: 0.0, pixels: 1 };
    assess(&metadata, &Pixels::Patch(patch), setup).expect("a photo").reading.expect("a reading")
}

/// A in L = A·Y·N²/(t·S).
fn scale() -> f64 {
    reading(1.0, 1.0, 1.0, mid_tone(), &Setup::default()).luminance.value() / mid_tone()
}

/// Light of a patch of which half the pixels have one code and half the other.
fn half_and_half(row: &Row) -> f64 {
    let codes = numbers(&row.input);
    let bytes: Vec<u8> = (0..64).map(|i| codes[i % 2] as u8).collect();
    let size = Size::new(8, 8).expect("a size");
    let region = Region::new(0, 0, 8, 8, size).expect("a patch");
    let mut tally = Tally::new(region, Transfer::new(Curve::Srgb, Primaries::Srgb));
    tally.strip(&View::new(size, Layout::Grey, &bytes).expect("a view"), 0, 0);
    tally.finish().expect("light").mean
}
