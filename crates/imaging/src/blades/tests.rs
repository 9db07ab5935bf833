//! Openings and series whose truth is known from geometry: discs, polygons, blur, tone curves, and what a broken picture is.
//!
//! Not here: the computed pictures of the corpus, which the shell's tests read.

use photometry::FNumberMark;
use proptest::prelude::*;

use super::*;
use crate::Notice;
use crate::raster::Plane;

/// Light of the field and of the dark.
const FIELD: f64 = 0.30;
const DARK: f64 = 0.01;

/// A shape about a middle: + inside, in pixels from its edge as far as the edge is straight.
type Inside<'a> = &'a dyn Fn(f64, f64) -> f64;

/// A picture of a shape whose edge is a straight ramp of so many pixels, sampled 4 × 4 to a pixel.
fn picture(width: u32, height: u32, ramp: f64, inside: Inside<'_>) -> Plane {
    let size = Size::new(width, height).expect("a size");
    let mut light = Vec::new();
    for y in 0..height {
        for x in 0..width {
            let cover: f64 = (0..16)
                .map(|part| {
                    let (px, py) = (f64::from(part % 4) * 0.25 - 0.375, f64::from(part / 4) * 0.25 - 0.375);
                    (inside(f64::from(x) + px, f64::from(y) + py) / ramp.max(1e-3) + 0.5).clamp(0.0, 1.0)
                })
                .sum::<f64>()
                / 16.0;
            light.push((DARK + (FIELD - DARK) * cover) as f32);
        }
    }
    Plane { size, light }
}

fn disc(centre: (f64, f64), radius: f64) -> impl Fn(f64, f64) -> f64 {
    move |x, y| radius - ((x - centre.0) * (x - centre.0) + (y - centre.1) * (y - centre.1)).sqrt()
}

/// A regular polygon by the distance of its flats.
fn polygon(count: usize, centre: (f64, f64), flat: f64, turn: f64) -> impl Fn(f64, f64) -> f64 {
    let flats: Vec<(f64, f64)> = (0..count)
        .map(|blade| turn + blade as f64 * core::f64::consts::TAU / count as f64)
        .map(|angle| (libm::cos(angle), libm::sin(angle)))
        .collect();
    move |x, y| {
        let nearest = flats.iter().map(|(cos, sin)| flat - (x - centre.0) * cos - (y - centre.1) * sin);
        nearest.fold(f64::INFINITY, f64::min)
    }
}

fn polygon_area(count: usize, flat: f64) -> f64 {
    count as f64 * flat * flat * libm::tan(core::f64::consts::PI / count as f64)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10))]

    #[test]
    fn a_disc_has_its_area_wherever_it_lies_and_however_its_edge_is_blurred(
        x in 95.0..105.0_f64, y in 95.0..105.0_f64, radius in 25.0..60.0_f64, ramp in 0.5..4.0_f64,
    ) {
        let found = measure(&picture(200, 200, ramp, &disc((x, y), radius)), (100.0, 100.0)).unwrap();
        let truth = core::f64::consts::PI * radius * radius;
        prop_assert!((found.area_px / truth - 1.0).abs() < 0.003, "{} for {truth}", found.area_px);
        prop_assert!((found.centre_px.0 - x).abs() < 0.05 && (found.centre_px.1 - y).abs() < 0.05);
        prop_assert!(found.outline_px.iter().all(|r| (r - radius).abs() < 0.4));
        prop_assert!((found.perimeter_px / (core::f64::consts::TAU * radius) - 1.0).abs() < 0.02);
    }

    #[test]
    fn a_polygon_has_its_area_however_it_is_turned_and_at_twice_the_size(
        count in 5_usize..=9, turn in 0.0..1.0_f64, flat in 25.0..40.0_f64,
    ) {
        let found = measure(&picture(160, 160, 1.0, &polygon(count, (80.0, 80.0), flat, turn)), (80.0, 80.0)).unwrap();
        let truth = polygon_area(count, flat);
        prop_assert!((found.area_px / truth - 1.0).abs() < 0.01, "{} for {truth}", found.area_px);
        let twice = picture(320, 320, 1.0, &polygon(count, (160.0, 160.0), 2.0 * flat, turn));
        let twice = measure(&twice, (160.0, 160.0)).unwrap();
        prop_assert!((twice.area_px / found.area_px / 4.0 - 1.0).abs() < 0.01);
    }

    #[test]
    fn nothing_in_a_picture_is_a_trap(
        width in 1_u32..60, height in 1_u32..60, seed in any::<u32>(), tap in (-5.0..70.0_f64, -5.0..70.0_f64), kind in 0..3,
    ) {
        let size = Size::new(width, height).unwrap();
        let noise = |at: u32| (at.wrapping_mul(2_654_435_761).wrapping_add(seed) >> 8) as f32 / 16_777_216.0;
        let light = (0..width * height).map(|at| match kind { 0 => noise(at), 1 => f32::from(u8::from(noise(at) > 0.9)), _ => 1.0 });
        if let Ok(found) = measure(&Plane { size, light: light.collect() }, tap) {
            prop_assert!(found.area_px.is_finite() && found.noise.is_finite());
            prop_assert!(found.outline_px.iter().all(|r| r.is_finite()));
        }
    }
}

#[test]
fn a_pixel_half_covered_counts_a_half() {
    // Edges through the middles of pixels: each edge pixel lets half the light through.
    let half = 40.0;
    let inside = move |x: f64, y: f64| (half - (x - 100.0).abs()).min(half - (y - 100.0).abs());
    let found = measure(&picture(201, 201, 1e-3, &inside), (100.0, 100.0)).expect("an opening");
    assert!((found.area_px / (4.0 * half * half) - 1.0).abs() < 0.003, "{}", found.area_px);
    // A count of the pixels beyond half light is off by a whole row and column, or by none.
    assert!((found.area_px - 81.0 * 81.0).abs() > 100.0 && (found.area_px - 79.0 * 79.0).abs() > 100.0);
}

#[test]
fn what_is_no_opening_is_refused_and_what_is_doubtful_is_spoken_of() {
    let small = picture(100, 100, 1.0, &disc((50.0, 50.0), 8.0));
    assert!(measure(&small, (50.0, 50.0)).expect_err("too small").to_string().contains("radius"));
    let plain = picture(100, 100, 1.0, &|_, _| -10.0);
    assert!(measure(&plain, (50.0, 50.0)).is_err() && measure(&plain, (f64::NAN, 5.0)).is_err());
    assert!(measure(&plain, (100.0, 5.0)).expect_err("outside").to_string().contains("within the picture"));
    let cut = measure(&picture(100, 100, 1.0, &disc((15.0, 50.0), 30.0)), (20.0, 50.0)).expect("an opening");
    assert!(cut.has("opening_touches_frame"));
    let mut burnt = picture(200, 200, 1.0, &disc((100.0, 100.0), 40.0));
    for light in &mut burnt.light {
        *light = (*light * 4.0).min(1.0);
    }
    assert!(measure(&burnt, (100.0, 100.0)).expect("an opening").has("background_clipped"));
    let mut lit = picture(200, 200, 1.0, &disc((100.0, 100.0), 40.0));
    for (at, light) in lit.light.iter_mut().enumerate() {
        if (150..156).contains(&(at % 200)) && (90..110).contains(&(at / 200)) {
            *light = 0.2;
        }
    }
    let reflected = measure(&lit, (100.0, 100.0)).expect("an opening");
    assert!(reflected.has("reflection_near_opening"));
    assert!((reflected.area_px / (core::f64::consts::PI * 1600.0) - 1.0).abs() < 0.01);
}

fn shot(mark: &str, from: From, flat: f64, blades: usize) -> Shot {
    let middle = 120.0;
    let opening = measure(&picture(240, 240, 1.5, &polygon(blades, (middle, middle), flat, 0.2)), (middle, middle));
    Shot { mark: FNumberMark::parse(mark, &[]).expect("a mark"), from, opening: opening.ok(), notices: Vec::new() }
}

/// Distance of the flats at a mark, with an error in stops.
fn flat(exact: f64, error: f64) -> f64 {
    160.0 / exact * libm::exp2(error / 2.0)
}

#[test]
fn errors_come_out_against_the_middle_of_the_series() {
    let exact = |half_stops: f64| libm::exp2(half_stops / 2.0);
    let marks = [("2", 2.0, 0.0), ("2.8", 3.0, 0.1), ("4", 4.0, 0.0), ("5.6", 5.0, -0.2), ("8", 6.0, 0.0)];
    let shots: Vec<Shot> =
        marks.iter().map(|(mark, k, error)| shot(mark, From::Unknown, flat(exact(*k), *error), 7)).collect();
    let found = series(&shots, None).expect("a series");
    for (stop, (_, _, error)) in found.stops.iter().zip(marks) {
        let value = stop.error_stops.expect("an error");
        assert!((value - error).abs() < 0.01, "f/{}: {value} for {error}", stop.mark);
        assert!(stop.standard_uncertainty_stops.expect("a doubt") < 0.05);
    }
    assert_eq!((found.blade_count, found.odd_blades.len(), found.hysteresis_stops), (Some(7), 0, None));
    assert!(found.stops[0].widest && found.stops[0].notices.iter().any(|notice| notice.code == "widest_mark"));
}

#[test]
fn sides_and_repeats_are_told_apart() {
    let mut shots = vec![shot("2", From::Open, 90.0, 6)];
    for (from, flats) in [(From::Open, [55.0, 55.2, 54.8]), (From::Closed, [54.0, 54.2, 53.8])] {
        shots.extend(flats.map(|flat| shot("4", from, flat, 6)));
    }
    let found = series(&shots, Some(6)).expect("a series");
    assert!((found.hysteresis_stops.expect("both sides") - 2.0 * libm::log2(55.0 / 54.0)).abs() < 0.005);
    let scatter = found.repeatability_stops.expect("repeats");
    assert!((scatter - 2.0 * libm::log2(55.2 / 55.0)).abs() < 0.003, "{scatter}");
}

#[test]
fn a_ring_that_does_not_reach_the_blades_is_spoken_of() {
    let shots =
        [shot("2", From::Unknown, 90.0, 6), shot("2.8", From::Unknown, 64.0, 6), shot("4", From::Unknown, 64.0, 6)];
    let found = series(&shots, None).expect("a series");
    let same = found.notices.iter().find(|notice| notice.code == "same_opening").expect("a notice");
    assert!(same.text.contains("f/2.8 and f/4"), "{}", same.text);
}

#[test]
fn a_picture_without_an_opening_leaves_the_others_going() {
    let mut broken = shot("5.6", From::Unknown, 1.0, 6);
    broken.notices.push(Notice::warning("no_opening_at_tap", "There is no opening."));
    assert!(broken.opening.is_none());
    let shots = [shot("2", From::Unknown, 90.0, 6), shot("4", From::Unknown, 45.0, 6), broken.clone()];
    let found = series(&shots, None).expect("a series");
    assert_eq!((found.stops[2].error_stops, found.stops[2].notices[0].code), (None, "no_opening_at_tap"));
    assert!(series(&[broken.clone(), broken], None).is_err() && series(&[], None).is_err());
    assert!(series(&shots, Some(4)).is_err() && series(&shots, Some(17)).is_err());
}

#[test]
fn large_pictures_are_averaged_down() {
    let size = |width, height| Size::new(width, height).expect("a size");
    assert_eq!((reduction(size(800, 600)), reduction(size(4000, 3000)), reduction(size(3000, 1601))), (1, 3, 2));
}
