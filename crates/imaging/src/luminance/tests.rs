//! Readings of patches whose light is known, refusals at their limits, and the parts of the doubt.
//!
//! Not here: whole pictures, which the shell's tests read.

use photometry::{ExposureTime, FNumber, FilmSpeed};
use proptest::prelude::*;

use super::*;

fn metadata() -> Metadata {
    let mut metadata = Metadata::read(&[0xFF, 0xD8]);
    metadata.notices.clear();
    metadata.exposure.f_number = FNumber::new(2.0).ok();
    metadata.exposure.time = ExposureTime::new(1.0 / 64.0).ok();
    metadata.exposure.speed = FilmSpeed::new(100.0).ok();
    metadata
}

fn light(mean: f64) -> PatchLight {
    PatchLight { mean, clipped: 0.0, black: 0.0, spread_stops: 0.1, pixels: 100 }
}

fn assessed(light: PatchLight, setup: &Setup) -> Photo {
    assess(&metadata(), &Pixels::Patch(light), setup).expect("a photo")
}

fn calibrated(offset: f64, doubt: f64, slope: Option<f64>) -> Setup {
    let offset = Estimate::new(offset, doubt, f64::INFINITY).expect("an offset");
    Setup { calibration: Some(Calibration::new(offset, slope).expect("a calibration")), ..Setup::default() }
}

fn mid() -> f64 {
    Curve::Srgb.light(118.0 / 255.0)
}

#[test]
fn a_mid_grey_patch_is_its_exposure_and_the_constant() {
    // f/2 at 1/64 s and ISO 100 is EV 8; the constant is log2((10/0.65)/12.5) = 0.2996.
    let photo = assessed(light(mid()), &Setup::default());
    let reading = photo.reading.expect("a reading");
    assert!((reading.ev100.value() - 8.2996).abs() < 1e-4, "{}", reading.ev100.value());
    // L = 10/q·N²/(t·S) is what the sensor was exposed to, whatever K.
    assert!((reading.luminance.value() - 10.0 / 0.65 * 4.0 * 64.0 / 100.0).abs() < 1e-9);
    let other =
        assessed(light(mid()), &Setup { reflected_constant: 14.0, ..Setup::default() }).reading.expect("a reading");
    assert!((other.luminance.value() - reading.luminance.value()).abs() < 1e-9);
    assert!((reading.ev100.value() - other.ev100.value() - libm::log2(14.0 / 12.5)).abs() < 1e-12);
    assert_eq!((photo.decision, photo.notices.len()), (Decision::Ok, 1));
    assert_eq!(photo.notices[0].code, "not_calibrated");
}

#[test]
fn white_paper_tells_the_light_that_falls_on_it() {
    let reading = assessed(light(mid()), &Setup::default()).reading.expect("a reading");
    let (lux, doubt) = reading.on_white_paper().expect("a light");
    assert!((lux.value() * 0.85 / core::f64::consts::PI - reading.luminance.value()).abs() < 1e-9);
    // 0.07 of 0.85 either way, rectangular: 0.069 stop.
    let paper = 0.07 / 0.85 / 3.0_f64.sqrt() / core::f64::consts::LN_2;
    let whole = libm::hypot(reading.ev100.standard_uncertainty(), paper);
    assert!((doubt.value() - whole).abs() < 1e-12, "{}", doubt.value());
}

#[test]
fn the_doubt_is_the_sum_of_its_parts() {
    let u = |mean: f64, setup: &Setup| {
        assessed(light(mean), setup).reading.expect("a reading").ev100.standard_uncertainty()
    };
    let root = |parts: &[f64]| parts.iter().map(|part| part * part).sum::<f64>().sqrt();
    let known = calibrated(0.2, 0.15, None);
    assert!((u(mid(), &Setup::default()) - root(&[0.45, 0.10, 0.05])).abs() < 1e-12);
    assert!((u(mid(), &known) - root(&[0.15, 0.10, 0.10, 0.05])).abs() < 1e-12);
    assert!((u(mid() / 4.0, &known) - root(&[0.15, 0.10, 0.44, 0.10, 0.05])).abs() < 1e-12);
    let sloped = calibrated(0.2, 0.15, Some(1.25));
    assert!((u(mid() / 4.0, &sloped) - root(&[0.15, 0.10, 0.20, 0.10, 0.05])).abs() < 1e-12);
    let uneven = PatchLight { spread_stops: 0.5, ..light(mid()) };
    let photo = assessed(uneven, &known);
    assert_eq!((photo.decision, photo.notices[0].code), (Decision::Warn, "patch_uneven"));
    let part = &photo.reading.expect("a reading").doubt.contributions[3];
    assert_eq!((part.name.as_str(), part.standard_uncertainty), ("evenness of the patch", 0.30));
}

#[test]
fn offset_and_slope_of_the_phone_are_taken_out() {
    let reading = assessed(light(mid() / 2.0), &calibrated(0.4, 0.1, Some(1.25))).reading.expect("a reading");
    assert!((reading.ev100.value() - (8.2996 - 0.8 + 0.4)).abs() < 1e-4);
    assert!((reading.tone_stops + 1.0).abs() < 1e-12);
}

#[test]
fn patches_that_say_nothing_are_refused_at_the_limits() {
    for (patch, code) in [
        (PatchLight { clipped: 0.006, ..light(mid()) }, "patch_clipped_high"),
        (PatchLight { black: 0.021, ..light(mid()) }, "patch_clipped_low"),
        (light(mid() * 4.7), "patch_too_far_from_mid_tone"),
        (light(0.0), "patch_too_far_from_mid_tone"),
    ] {
        let photo = assessed(patch, &Setup::default());
        assert_eq!((photo.decision, photo.reading), (Decision::Refuse, None));
        assert_eq!(photo.reasons.iter().map(|reason| reason.code).collect::<Vec<_>>(), [code]);
    }
    let near = PatchLight { clipped: 0.005, black: 0.02, ..light(mid() * 1.9) };
    assert_eq!(assessed(near, &Setup::default()).decision, Decision::Ok);
    assert_eq!(assessed(light(mid() * 2.1), &Setup::default()).notices[0].code, "patch_off_mid_tone");
}

#[test]
fn without_pixels_or_exposure_there_is_no_reading() {
    for (pixels, code) in [(Pixels::Unreadable, "pixels_unreadable"), (Pixels::Unsupported, "unsupported_container")] {
        let photo = assess(&metadata(), &pixels, &Setup::default()).expect("a photo");
        assert_eq!((photo.decision, photo.reasons[0].code), (Decision::Refuse, code));
    }
    let bare = Metadata::read(&[0xFF, 0xD8]);
    let photo = assess(&bare, &Pixels::Patch(light(mid())), &Setup::default()).expect("a photo");
    assert_eq!((photo.decision, photo.reasons[0].code), (Decision::Refuse, "no_exif"));
}

#[test]
fn a_jump_of_the_phones_own_brightness_is_spoken_of() {
    let mut setup = calibrated(0.0, 0.1, None);
    let mut metadata = metadata();
    metadata.brightness_value = Some(4.5);
    let codes = |metadata: &Metadata, setup: &Setup| -> Vec<&'static str> {
        let photo = assess(metadata, &Pixels::Patch(light(mid())), setup).expect("a photo");
        photo.notices.iter().map(|notice| notice.code).collect()
    };
    assert!(codes(&metadata, &setup).is_empty());
    // Usual for this phone is 0.2 above the exposure's EV 8; here it is 1.5 above.
    setup.calibration.as_mut().expect("one").brightness_difference_stops = Some(0.2);
    assert_eq!(codes(&metadata, &setup), ["brightness_jump"]);
}

#[test]
fn a_constant_that_is_none_is_refused() {
    for k in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let setup = Setup { reflected_constant: k, ..Setup::default() };
        assert!(assess(&metadata(), &Pixels::Patch(light(mid())), &setup).is_err(), "{k}");
    }
}

proptest! {
    #[test]
    fn twice_the_light_is_one_stop_whatever_the_exposure(
        n in 1.0..16.0_f64, t in 1e-4..1.0_f64, s in 25.0..6400.0_f64, mean in 0.1..0.35_f64,
    ) {
        let mut metadata = metadata();
        metadata.exposure.f_number = FNumber::new(n).ok();
        metadata.exposure.time = ExposureTime::new(t).ok();
        metadata.exposure.speed = FilmSpeed::new(s).ok();
        let ev = |mean: f64| {
            let photo = assess(&metadata, &Pixels::Patch(light(mean)), &Setup::default()).unwrap();
            photo.reading.unwrap().ev100.value()
        };
        prop_assert!((ev(2.0 * mean) - ev(mean) - 1.0).abs() < 1e-9);
        // Half the time for the same tone is twice the light.
        let before = ev(mean);
        metadata.exposure.time = ExposureTime::new(t / 2.0).ok();
        let after = assess(&metadata, &Pixels::Patch(light(mean)), &Setup::default()).unwrap().reading.unwrap();
        prop_assert!((after.ev100.value() - before - 1.0).abs() < 1e-9);
    }
}

#[test]
fn a_locked_camera_tells_differences_only_and_not_of_white_or_black() {
    let patch = |mean: f64| PatchLight { mean, clipped: 0.0, black: 0.0, spread_stops: 0.0, pixels: 100 };
    let twice = brighter(&patch(0.1), &patch(0.2)).expect("a difference");
    assert!((twice.value() - 1.0).abs() < 1e-12 && twice.standard_uncertainty() > 0.2);
    let same = brighter(&patch(0.1), &patch(0.1)).expect("a difference");
    assert!(same.value() == 0.0 && same.standard_uncertainty() < 0.06);
    for bad in [PatchLight { clipped: 0.1, ..patch(0.9) }, PatchLight { black: 0.5, ..patch(0.001) }] {
        assert!(brighter(&patch(0.1), &bad).is_err() && brighter(&bad, &patch(0.1)).is_err());
    }
}
