//! What the doubt of a fit claims, held against many seeded runs with a known truth.
//!
//! Not here: single published values ([`crate::metrology`]).

use metrology::generalised_least_squares;
use tests::Chance;

/// Runs: enough that a share of 95 % is known to half a percent.
const RUNS: usize = 2000;

/// Runs of five levels: a shared offset, new scatter at each, offset and slope fitted. Gives the share of runs whose 95 %
/// interval holds the true offset, and the same for the slope.
fn shares(scatter: f64, stated: f64, shared: f64, seed: u64) -> (f64, f64) {
    let (offset, slope) = (0.3, -0.05);
    let levels = [-4.0, -2.0, 0.0, 2.0, 4.0];
    let design: Vec<Vec<f64>> = levels.iter().map(|x| vec![1.0, *x]).collect();
    let mut chance = Chance(seed);
    let (mut offsets, mut slopes) = (0, 0);
    for _ in 0..RUNS {
        let off = shared * chance.normal();
        let y: Vec<f64> = levels.iter().map(|x| offset + slope * x + off + scatter * chance.normal()).collect();
        let fit = generalised_least_squares(&design, &y, &[stated * stated; 5], shared).expect("a fit");
        let holds = |i: usize, truth: f64| {
            let found = fit.coefficient(i);
            usize::from((found.value() - truth).abs() <= found.expanded_95())
        };
        offsets += holds(0, offset);
        slopes += holds(1, slope);
    }
    (offsets as f64 / RUNS as f64, slopes as f64 / RUNS as f64)
}

#[test]
fn a_shared_doubt_is_held_by_the_offset_as_often_as_it_says() {
    let (offset, slope) = shares(0.1, 0.1, 0.3, 11);
    // Scatter that looks too large by chance widens the interval, so that the share may lie above 95 % but never below.
    assert!((0.94..=0.97).contains(&offset), "{offset}");
    assert!((0.945..=0.995).contains(&slope), "{slope}");
}

#[test]
fn scatter_beyond_what_was_stated_is_found_and_allowed_for() {
    let (offset, slope) = shares(0.3, 0.1, 0.0, 12);
    assert!((0.93..=0.97).contains(&offset), "{offset}");
    assert!((0.93..=0.97).contains(&slope), "{slope}");
}

#[test]
fn without_the_shared_part_the_offset_would_promise_too_much() {
    let levels = [-4.0, -2.0, 0.0, 2.0, 4.0];
    let design: Vec<Vec<f64>> = levels.iter().map(|_| vec![1.0]).collect();
    let mut chance = Chance(13);
    let mut held = 0;
    for _ in 0..RUNS {
        let off = 0.3 * chance.normal();
        let y: Vec<f64> = levels.iter().map(|_| off + 0.1 * chance.normal()).collect();
        let fit = generalised_least_squares(&design, &y, &[0.01; 5], 0.0).expect("a fit");
        held += usize::from(fit.coefficient(0).value().abs() <= fit.coefficient(0).expanded_95());
    }
    assert!((held as f64) < 0.6 * RUNS as f64, "{held}");
}
