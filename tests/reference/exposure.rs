//! Answers to the rows on exposure, its constants, its series and the words for the sky.
//!
//! Not here: film ([`crate::film`]); doubt ([`crate::metrology`]).

use crate::rows::{Row, Rows, first_number, numbers};
use photometry::*;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("quantity=EV100", |row, _| settings(row).0),
    ("quantity=luminance", |row, _| luminance(ev(row), row.number("K=")).expect("a luminance").value()),
    ("quantity=illuminance", |row, _| illuminance(ev(row), row.number("C=")).expect("an illuminance").value()),
    ("ISO 2720 permitted K;", |row, _| permitted(row, "K")),
    ("ISO 2720 permitted C flat receptor;", |row, _| permitted(row, "C")),
    ("ISO 2720 permitted C hemispherical receptor;", |row, _| permitted(row, "C, dome")),
    ("stops between K=", |row, _| between_k(row)),
    ("stops K=", |row, _| between_k(row)),
    ("stops between C=", |row, _| {
        let (c, light) = (numbers(&row.input), Illuminance::new(1000.0).expect("lux"));
        let reading = |c: f64| ev_from_illuminance(light, c).expect("a reading");
        reading(c[1]).above(reading(c[0])).value()
    }),
    ("implied reflectance", |row, _| {
        implied_reflectance(row.number("; K="), row.number("; C=")).expect("a reflectance")
    }),
    ("C that makes an 18 % card agree", |row, _| {
        // Readings differ by log2(πK/(ρC)): the C at which they agree lies that far from any other.
        let difference = incident_to_card_difference(row.number("K="), C_DEFAULT, row.number("an ") / 100.0);
        C_DEFAULT * libm::exp2(difference.expect("a difference").value())
    }),
    ("APEX Av;", |row, _| aperture_value(f_number(row.number("N=")))),
    ("APEX Tv;", |row, _| time_value(time(row.number("t=")))),
    ("EXP-073", |row, _| speed_value(speed(row.number("S=")))),
    ("1 foot-lambert", |_, _| FOOT_LAMBERT),
    ("APEX Bv; L=1 fL", |_, _| brightness(FOOT_LAMBERT, 3.125 * FOOT_LAMBERT)),
    ("EXP-078", |row, _| brightness(row.number("L="), 3.125 * FOOT_LAMBERT)),
    ("EXP-079", |row, _| brightness(row.number("L="), row.number("K="))),
    ("K implied by foot-lambert", |_, _| 3.125 * FOOT_LAMBERT),
    ("stops between the two Bv conventions", |_, rows| {
        let l = rows.named("EXP-079").number("L=");
        brightness(l, 3.125 * FOOT_LAMBERT) - brightness(l, rows.named("EXP-079").number("K="))
    }),
    ("f-number nominal", |row, _| FNumberMark::parse(row.word("nominal "), &[]).expect("a mark").exact().value()),
    ("stops by which nominal f/", |row, _| {
        let mark = row.word("nominal f/");
        let exact = FNumberMark::parse(mark, &[]).expect("a mark").exact();
        aperture_value(exact) - aperture_value(f_number(first_number(mark).expect("a number")))
    }),
    ("stops nominal 1/", |row, _| {
        let mark = TimeMark::parse(row.word("nominal "), &[]).expect("a mark");
        assert_eq!(mark.exact().value(), row.number("exact "), "{}", row.id);
        time_value(mark.exact()) - time_value(time(row.number("nominal ")))
    }),
    ("stops old mark", |row, _| {
        let old = TimeMark::parse(row.word("old mark "), &[]).expect("a mark");
        stops_between(old.exact().value(), row.number("modern mark ")).expect("stops").value()
    }),
    ("stops between adjacent old marks 1/2 ", |row, _| adjacent(row)),
    ("stops between adjacent old marks 1/5 ", |row, _| adjacent(row)),
    ("stops between adjacent old marks 1/10 ", |row, _| adjacent(row)),
    ("ISO arithmetic nominal", |row, _| {
        FilmSpeedMark::parse(row.word("nominal "), &[]).expect("a mark").exact().value()
    }),
    ("ISO logarithmic speed", |row, _| f64::from(logarithmic_speed(speed(row.number("S="))))),
    ("stops for +", |row, _| from_percent(row)),
    ("stops for -", |row, _| from_percent(row)),
    ("percent time error for ", |row, _| {
        // The row prints sixths of a stop to four digits; what is meant is the sixth.
        let stops = (6.0 * row.number("error for ")).round() / 6.0;
        let need = |ev: f64| time_for(Ev::new(ev).expect("ev"), f_number(8.0), speed(100.0)).expect("a time").value();
        100.0 * (need(10.0 - stops) / need(10.0) - 1.0)
    }),
    ("same scene if the K=12.5 meter equation", |row, rows| {
        let (ev100, _) = settings(rows.named("PHO-038"));
        luminance(Ev::new(ev100).expect("ev"), row.number("K=")).expect("a luminance").value()
    }),
    ("C implied by 7680 fc", |row, _| {
        // One foot-candle is π foot-lamberts' worth of lux.
        let lux = row.number("by ") * core::f64::consts::PI * FOOT_LAMBERT;
        let one = speed(100.0);
        let ev100 = exposure_value(f_number(row.number("f/")), time(1.0 / one.value()), one);
        lux / illuminance(ev100, 1.0).expect("an illuminance").value()
    }),
    ("common practice sunny-16 f-number at t=1/S: snow or sand", |_, _| rule("snow_or_sand")),
    ("common practice bright sun, distinct shadow", |_, _| rule("distinct_shadow")),
    ("common practice slight overcast or haze, soft shadow", |_, _| rule("soft_shadow")),
    ("common practice overcast, shadow barely visible", |_, _| rule("cloudy_bright")),
    ("common practice heavy overcast", |_, _| rule("heavy_overcast")),
    ("ANSI PH2.7 EV100: light sand or snow", |_, _| sky("snow_or_sand").ev100),
    ("ANSI PH2.7 EV100: typical scene, full or slightly hazy sun", |_, _| sky("distinct_shadow").ev100),
    ("ANSI PH2.7 EV100: typical scene, hazy sun", |_, _| sky("soft_shadow").ev100),
    ("ANSI PH2.7 EV100: cloudy bright", |_, _| sky("cloudy_bright").ev100),
    ("ANSI PH2.7 EV100: heavy overcast", |_, _| sky("heavy_overcast").ev100),
    ("ANSI PH2.7 EV100: open shade", |_, _| sky("open_shade").ev100),
];

fn f_number(value: f64) -> FNumber {
    FNumber::new(value).expect("an f-number")
}

fn time(value: f64) -> ExposureTime {
    ExposureTime::new(value).expect("a time")
}

fn speed(value: f64) -> FilmSpeed {
    FilmSpeed::new(value).expect("a film speed")
}

fn ev(row: &Row) -> Ev {
    Ev::new(row.number("EV100=")).expect("ev")
}

/// EV at ISO 100 by the row's settings as they are printed, and the film speed.
fn settings(row: &Row) -> (f64, f64) {
    let (n, t, s) = (row.number("N="), row.number("t="), row.number("S="));
    (exposure_value(f_number(n), time(t), speed(s)).value(), s)
}

fn permitted(row: &Row, symbol: &str) -> f64 {
    let constant = CONSTANTS.iter().find(|constant| constant.symbol == symbol).expect("a constant");
    match row.word("bound=") {
        "min" => constant.permitted.0,
        "max" => constant.permitted.1,
        other => panic!("{}: no bound {other}", row.id),
    }
}

/// How much lower the same surface reads by the first constant than by the second.
fn between_k(row: &Row) -> f64 {
    let (k, surface) = (numbers(&row.input), Luminance::new(1000.0).expect("cd/m²"));
    let reading = |k: f64| ev_from_luminance(surface, k).expect("a reading");
    reading(k[1]).above(reading(k[0])).value()
}

/// Between marks that only the old series has, and the whole and half second, which both have alike.
fn adjacent(row: &Row) -> f64 {
    let exact = |mark: &str| TimeMark::parse(mark, TIME_MARKS_OLD).expect("a mark").exact().value();
    stops_between(exact(row.word("old marks ")), exact(row.word(" and "))).expect("stops").value()
}

fn from_percent(row: &Row) -> f64 {
    stops_between(1.0 + row.number("stops for ") / 100.0, 1.0).expect("stops").value()
}

fn brightness(cd_m2: f64, k: f64) -> f64 {
    brightness_value(Luminance::new(cd_m2).expect("cd/m²"), k).expect("a brightness value")
}

fn sky(key: &str) -> &'static SkyWord {
    sky_word(key).expect("a word for the sky")
}

fn rule(key: &str) -> f64 {
    first_number(sky(key).f_number_mark).expect("a mark")
}

/// The settings of the rule and the light of its word must agree to what a rule by eye is worth.
#[test]
fn the_rule_and_its_light_agree() {
    for word in &SKY_WORDS {
        let n = FNumberMark::parse(word.f_number_mark, &[]).expect("a mark").exact();
        let literal = exposure_value(n, time(0.01), speed(100.0)).value();
        assert!((literal - (word.ev100 - 0.356_144)).abs() < 1e-5, "{} {literal}", word.key);
    }
    let printed = Rows::read();
    let sunny = settings(printed.named("EXP-004")).0;
    assert!((sunny - 14.643_856).abs() < 1e-5, "f/16 at 1/S is EV {sunny}");
}
