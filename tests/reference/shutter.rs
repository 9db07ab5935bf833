//! Answers to the rows on shutters: light curves, curtains, the places where they are measured.
//!
//! Not here: percent against stops ([`crate::exposure`]).

use crate::rows::Row;
use inspection::shutter::taper;
use metrology::Estimate;
use timing::curtain;
use timing::curve::LightCurve;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("SHUT-001", |_, _| trapezoid().effective_time_s()),
    ("SHUT-002", |_, _| trapezoid().total_time_s()),
    ("SHUT-003", |_, _| trapezoid().efficiency()),
    ("SHUT-004", |_, _| trapezoid().half_width_s()),
    ("SHUT-005", |_, _| triangle().effective_time_s()),
    ("SHUT-006", |_, _| triangle().efficiency()),
    ("SHUT-007", |_, _| quadratic().effective_time_s()),
    ("SHUT-008", |_, _| quadratic().half_width_s()),
    ("SHUT-009", |_, _| quadratic().efficiency()),
    ("SHUT-010", |_, _| libm::log2(quadratic().half_width_s() / quadratic().effective_time_s())),
    ("slit width; travel", |row, _| {
        1e3 * curtain::slit_width_m(1e-3 * row.number("travel "), 1e-3 * row.number(" in "), time(row)).expect("a slit")
    }),
    ("curtain speed;", |row, _| {
        curtain::speed_m_s(1e-3 * row.number("speed; "), 1e-3 * row.number(" in ")).expect("a speed")
    }),
    ("fully open interval;", |row, _| {
        1e3 * curtain::open_interval_s(1e-3 * row.number("travel "), time(row)).expect("an interval")
    }),
    ("time at far edge;", |row, _| 1e3 * far(row)),
    ("SHUT-026", |_, rows| {
        let row = rows.named("SHUT-025");
        let place = |time: f64| Estimate::exact(time).expect("a time");
        taper(&[place(1e-3 * row.number("delay ")), place(far(row))]).expect("a taper").value()
    }),
    ("SHUT-027", |row, _| {
        curtain::efficiency(row.number("w="), row.number(" d="), row.number(" N=")).expect("an efficiency")
    }),
    ("SHUT-028", |row, rows| {
        let set = rows.named("SHUT-027");
        let (slit, distance) = (1e-3 * set.number("w="), 1e-3 * set.number(" d="));
        1e3 * curtain::total_time_s(slit, distance, set.number(" N="), row.number("v=")).expect("a time")
    }),
    ("SHUT-029", |row, _| {
        1e3 * curtain::seen_through_window_s(1e-3 * row.number(" t="), 1e-3 * row.number("a="), row.number(" v="))
            .expect("a time")
    }),
];

/// `t=1/1000 s` in seconds.
fn time(row: &Row) -> f64 {
    1.0 / row.number("t=1/")
}

fn far(row: &Row) -> f64 {
    let (first, second) = (row.number("first curtain 36 mm in "), row.number("second 36 mm in "));
    curtain::far_edge_time_s(1e-3 * row.number("delay "), 1e-3 * first, 1e-3 * second).expect("a time")
}

fn curve(points: Vec<(f64, f64)>) -> LightCurve {
    LightCurve::new(points).expect("a curve")
}

/// Times in milliseconds, as the rows say them.
fn trapezoid() -> LightCurve {
    curve(vec![(0.0, 0.0), (2.0, 1.0), (5.0, 1.0), (7.0, 0.0)])
}

fn triangle() -> LightCurve {
    curve(vec![(0.0, 0.0), (2.0, 1.0), (4.0, 0.0)])
}

/// Ramps `(t/2 ms)²`, drawn with so many straight pieces that their own error is far below the rows' tolerance.
fn quadratic() -> LightCurve {
    const PIECES: usize = 4000;
    let ramp = |i: usize| (2.0 * i as f64 / PIECES as f64, (i as f64 / PIECES as f64) * (i as f64 / PIECES as f64));
    let rising = (0..=PIECES).map(ramp);
    let falling = (0..=PIECES).rev().map(|i| (7.0 - ramp(i).0, ramp(i).1));
    curve(rising.chain(falling).collect())
}
