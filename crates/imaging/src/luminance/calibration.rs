//! Calibrating a phone and lens once against a trusted meter or lamp: an offset with its doubt, and the slope of its tone curve.
//!
//! *Equations:* offset `o = mean(EV_reference − EV_photo)`; slope `κ = Σ(e−ē)(z−z̄)/Σ(e−ē)²` over photos of one light with the
//! phone's exposure slider moved, e the exposure and z the tone in stops. Not here: where calibrations are kept, and their dates.

use metrology::{Budget, Estimate, experimental_standard_deviation};
use photometry::{K_DEFAULT, Q_DEFAULT};

use super::{PHOTO_TO_PHOTO, Reading, part, tone_doubt_per_stop};
use crate::error::Error;
use crate::notice::Notice;

/// Largest offset that is believed \[stops\].
const LARGEST_OFFSET: f64 = 5.0;
/// Largest doubt of an offset that is of any use \[stops\].
const LARGEST_DOUBT: f64 = 3.0;
/// Slopes that phones have.
const SLOPES: (f64, f64) = (0.7, 2.0);
/// Exposures must lie this far apart for a slope \[stops\].
const LEAST_SPAN: f64 = 1.0;
/// Scatter between photos that is spoken of \[stops\].
const SCATTER: f64 = 0.35;
/// Most photos of one calibration.
const MOST_PHOTOS: usize = 1000;

/// A phone and lens, calibrated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Calibration {
    /// What is added to the EV of its photos \[stops\].
    pub offset: Estimate,
    /// Slope of its tone curve against sRGB about the mid-tone, where known.
    pub tone_slope: Option<f64>,
    /// How far its own brightness value usually lies above the exposure \[stops\].
    pub brightness_difference_stops: Option<f64>,
}

impl Calibration {
    /// As kept or typed. **Errors** where the offset is beyond 5 stops, its doubt is not above 0 and at most 3 stops, or the slope
    /// is outside 0.7 to 2.
    pub fn new(offset: Estimate, tone_slope: Option<f64>) -> Result<Self, Error> {
        if offset.value().abs() > LARGEST_OFFSET {
            return Err(Error::new(format!(
                "the offset of a phone must be within {LARGEST_OFFSET} stops, and {} was given",
                metrology::to_decimals(offset.value(), 2)
            )));
        }
        let doubt = offset.standard_uncertainty();
        if !(doubt > 0.0 && doubt <= LARGEST_DOUBT) {
            return Err(Error::new(format!(
                "the doubt of a phone's offset must be above 0 and at most {LARGEST_DOUBT} stops, and {doubt} was given"
            )));
        }
        if let Some(slope) = tone_slope.filter(|slope| !(SLOPES.0..=SLOPES.1).contains(slope)) {
            return Err(Error::new(format!(
                "the slope of a tone curve must be {} to {}, and {slope} was given",
                SLOPES.0, SLOPES.1
            )));
        }
        Ok(Self { offset, tone_slope, brightness_difference_stops: None })
    }
}

/// One photo taken for calibrating.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CalibrationPhoto {
    settings_ev100: f64,
    tone_stops: f64,
    brightness_difference_stops: Option<f64>,
    reference_ev100: Option<Estimate>,
}

impl CalibrationPhoto {
    /// A photo as its reading was put down: [`Reading::settings_ev100`], [`Reading::tone_stops`], and
    /// [`Reading::brightness_difference_stops`]. **Errors** where a number is not finite.
    pub fn again(
        settings_ev100: f64,
        tone_stops: f64,
        brightness_difference_stops: Option<f64>,
        reference_ev100: Option<Estimate>,
    ) -> Result<Self, Error> {
        if !settings_ev100.is_finite()
            || !tone_stops.is_finite()
            || brightness_difference_stops.is_some_and(f64::is_nan)
        {
            return Err(Error::new("the reading of a photo must be finite numbers, and one of them was not"));
        }
        Ok(Self { settings_ev100, tone_stops, brightness_difference_stops, reference_ev100 })
    }

    /// A photo and what the trusted meter said; without a reading it is of the same light as the photo before it.
    pub const fn new(photo: &Reading, reference_ev100: Option<Estimate>) -> Self {
        Self {
            settings_ev100: photo.settings_ev100,
            tone_stops: photo.tone_stops,
            brightness_difference_stops: photo.brightness_difference_stops,
            reference_ev100,
        }
    }
}

/// A calibration and how it came about.
#[derive(Clone, Debug, PartialEq)]
pub struct Calibrated {
    /// What it comes to.
    pub calibration: Calibration,
    /// Photos that had a reading of the meter.
    pub photos: usize,
    /// Standard deviation between them \[stops\]; nothing with one.
    pub scatter_stops: Option<f64>,
    /// The parts of the offset's doubt \[stops\].
    pub doubt: Budget,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

/// Combines photos of one phone and lens, in the order in which they were taken. The meter's doubt is shared by all of them and
/// does not average away. **Errors** where no photo has a reading beside it, or what comes out is beyond belief.
pub fn calibrate(photos: &[CalibrationPhoto]) -> Result<Calibrated, Error> {
    if photos.len() > MOST_PHOTOS {
        return Err(Error::new(format!("at most {MOST_PHOTOS} photos are taken, and {} were given", photos.len())));
    }
    let mut notices = Vec::new();
    let tone_slope = slope(photos, &mut notices);
    let (mut offsets, mut meter, mut off_mid_tone) = (Vec::new(), 0.0_f64, 0.0);
    let mut meter_freedom = f64::INFINITY;
    for photo in photos {
        let Some(reference) = photo.reference_ev100 else { continue };
        let own = photo.settings_ev100
            + libm::log2(10.0 / Q_DEFAULT / K_DEFAULT)
            + photo.tone_stops / tone_slope.unwrap_or(1.0);
        offsets.push(reference.value() - own);
        off_mid_tone += photo.tone_stops.abs();
        meter = meter.max(reference.standard_uncertainty());
        meter_freedom = meter_freedom.min(reference.degrees_of_freedom());
    }
    let count = offsets.len();
    if count == 0 {
        return Err(Error::new(
            "a calibration needs 1 photo with a meter's reading beside it at least, and 0 were given",
        ));
    }
    let scatter_stops = experimental_standard_deviation(&offsets).ok();
    // A scatter that is smaller than usual is luck; a larger one is what it is.
    let (spread, freedom) = match scatter_stops {
        Some(scatter) if scatter > PHOTO_TO_PHOTO => (scatter, count as f64 - 1.0),
        _ => (PHOTO_TO_PHOTO, f64::INFINITY),
    };
    if let Some(scatter) = scatter_stops.filter(|scatter| *scatter > SCATTER) {
        notices.push(Notice::warning(
            "calibration_scatter",
            format!(
                "The photos lie {} stop apart from one another. See that phone and meter look at the same plain surface, with \
                 HDR and zoom off, and take them again.",
                metrology::to_decimals(scatter, 1)
            ),
        ));
    }
    let doubt = Budget {
        contributions: vec![
            part("the trusted meter", meter, meter_freedom),
            part("the photos among themselves", spread / (count as f64).sqrt(), freedom),
            // A target that lay off mid-grey carries the unknown tone curve into the offset.
            part(
                "tone curve away from mid-grey",
                tone_doubt_per_stop(tone_slope) * off_mid_tone / count as f64,
                f64::INFINITY,
            ),
        ],
        correlations: Vec::new(),
    };
    let combined = doubt.combined()?;
    let mean = offsets.iter().sum::<f64>() / count as f64;
    let offset = Estimate::new(mean, combined.standard_uncertainty, combined.degrees_of_freedom)?;
    let differences: Vec<f64> = photos.iter().filter_map(|photo| photo.brightness_difference_stops).collect();
    let usual = differences.iter().sum::<f64>() / differences.len().max(1) as f64;
    let calibration = Calibration {
        brightness_difference_stops: if differences.is_empty() { None } else { Some(usual) },
        ..Calibration::new(offset, tone_slope)?
    };
    Ok(Calibrated { calibration, photos: count, scatter_stops, doubt, notices })
}

/// The slope from all photos that share a light with another, each light with its own middle.
fn slope(photos: &[CalibrationPhoto], notices: &mut Vec<Notice>) -> Option<f64> {
    let (mut above, mut below) = (0.0, 0.0);
    let mut widest = 0.0_f64;
    for light in photos.chunk_by(|_, next| next.reference_ev100.is_none()) {
        let count = light.len() as f64;
        let mean = |of: &dyn Fn(&CalibrationPhoto) -> f64| light.iter().map(of).sum::<f64>() / count;
        let exposure = |photo: &CalibrationPhoto| -photo.settings_ev100;
        let (e, z) = (mean(&exposure), mean(&|photo| photo.tone_stops));
        for photo in light {
            above += (exposure(photo) - e) * (photo.tone_stops - z);
            below += (exposure(photo) - e) * (exposure(photo) - e);
            widest = widest.max((exposure(photo) - e).abs());
        }
    }
    if 2.0 * widest < LEAST_SPAN {
        return None;
    }
    let found = above / below;
    if !(SLOPES.0..=SLOPES.1).contains(&found) {
        notices.push(Notice::warning(
            "tone_slope_unlikely",
            "The patch did not follow the exposure slider as a phone's photo does. Keep the light and the framing still while \
             the slider is moved, and take the photos again.",
        ));
    }
    found.is_finite().then(|| found.clamp(SLOPES.0, SLOPES.1))
}

/// How the calibrations of one phone and lens lie to one another.
#[derive(Clone, Debug, PartialEq)]
pub struct History {
    /// Number of them.
    pub count: usize,
    /// Their standard deviation \[stops\].
    pub spread_stops: f64,
    /// The latest against the mean of those before it \[stops\].
    pub moved_stops: f64,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

/// Looks at calibrations from the oldest to the latest; nothing with fewer than two.
pub fn history(offsets: &[Estimate]) -> Option<History> {
    let (latest, earlier) = offsets.split_last()?;
    let values: Vec<f64> = offsets.iter().map(|offset| offset.value()).collect();
    let spread_stops = experimental_standard_deviation(&values).ok()?;
    let mean = earlier.iter().map(|offset| offset.value()).sum::<f64>() / earlier.len() as f64;
    let widest = earlier.iter().map(|offset| offset.expanded_95()).fold(0.0, f64::max);
    let moved_stops = latest.value() - mean;
    let allowed = (latest.expanded_95() * latest.expanded_95() + widest * widest).sqrt();
    let mut notices = Vec::new();
    if moved_stops.abs() > allowed {
        notices.push(Notice::warning(
            "calibration_moved",
            format!(
                "The latest calibration lies {} stop from those before it, more than their doubts allow. Check the meter and \
                 whether the phone's program was renewed; throw away the one that is wrong.",
                metrology::to_decimals(moved_stops.abs(), 1)
            ),
        ));
    }
    Some(History { count: offsets.len(), spread_stops, moved_stops, notices })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn reference(value: f64) -> Option<Estimate> {
        Some(Estimate::new(value, 0.1, f64::INFINITY).expect("a reference"))
    }

    /// A photo by a phone of known offset and slope, of a light, with the slider moved.
    fn photo(light: f64, slider: f64, offset: f64, slope: f64, reference: Option<Estimate>) -> CalibrationPhoto {
        let constant = libm::log2(10.0 / Q_DEFAULT / K_DEFAULT);
        CalibrationPhoto {
            settings_ev100: light - offset - constant - slider,
            tone_stops: slope * slider,
            brightness_difference_stops: Some(0.5),
            reference_ev100: reference,
        }
    }

    #[test]
    fn one_photo_gives_the_offset_with_the_meters_doubt() {
        let calibrated = calibrate(&[photo(10.0, 0.0, 0.3, 1.3, reference(10.0))]).expect("a calibration");
        let Calibration { offset, tone_slope, brightness_difference_stops } = calibrated.calibration;
        assert!((offset.value() - 0.3).abs() < 1e-12);
        assert!((offset.standard_uncertainty() - (0.1_f64 * 0.1 + 0.1 * 0.1).sqrt()).abs() < 1e-12);
        assert_eq!((tone_slope, calibrated.scatter_stops, brightness_difference_stops), (None, None, Some(0.5)));
        assert!(calibrate(&[photo(10.0, 0.0, 0.3, 1.3, None)]).is_err() && calibrate(&[]).is_err());
    }

    #[test]
    fn a_meters_doubt_does_not_average_away() {
        let many: Vec<_> = (0..50)
            .map(|i| photo(5.0 + f64::from(i) / 5.0, 0.0, -0.2, 1.0, reference(5.0 + f64::from(i) / 5.0)))
            .collect();
        let offset = calibrate(&many).expect("a calibration").calibration.offset;
        assert!((offset.value() + 0.2).abs() < 1e-9 && offset.standard_uncertainty() > 0.1);
        assert!(offset.standard_uncertainty() < 0.102);
    }

    #[test]
    fn photos_that_disagree_widen_the_doubt_and_are_spoken_of() {
        let photos = [photo(10.0, 0.0, 0.8, 1.0, reference(10.0)), photo(10.0, 0.0, -0.2, 1.0, reference(10.0))];
        let calibrated = calibrate(&photos).expect("a calibration");
        assert!((calibrated.scatter_stops.expect("a scatter") - 0.5_f64.sqrt()).abs() < 1e-3);
        assert_eq!(calibrated.notices[0].code, "calibration_scatter");
        assert!(calibrated.calibration.offset.expanded_95() > 2.0);
    }

    #[test]
    fn a_slope_that_no_phone_has_is_spoken_of() {
        let photos = [photo(10.0, 0.0, 0.0, 0.1, reference(10.0)), photo(10.0, 1.0, 0.0, 0.1, None)];
        let calibrated = calibrate(&photos).expect("a calibration");
        assert_eq!(calibrated.calibration.tone_slope, Some(0.7));
        assert_eq!(calibrated.notices[0].code, "tone_slope_unlikely");
    }

    #[test]
    fn a_calibration_that_moved_is_seen() {
        let offset = |value| Estimate::new(value, 0.1, f64::INFINITY).expect("an offset");
        assert_eq!(history(&[offset(0.3)]), None);
        let steady = history(&[offset(0.3), offset(0.35), offset(0.28)]).expect("a history");
        assert!(steady.notices.is_empty() && steady.spread_stops < 0.05);
        let moved = history(&[offset(0.3), offset(0.35), offset(1.2)]).expect("a history");
        assert!((moved.moved_stops - 0.875).abs() < 1e-12);
        assert_eq!(moved.notices[0].code, "calibration_moved");
    }

    #[test]
    fn what_is_typed_is_checked() {
        let offset = |value, doubt| Estimate::new(value, doubt, f64::INFINITY).expect("an offset");
        assert!(Calibration::new(offset(0.3, 0.15), Some(1.2)).is_ok());
        for (bad, slope) in [
            (offset(6.0, 0.1), None),
            (offset(0.0, 0.0), None),
            (offset(0.0, 4.0), None),
            (offset(0.0, 0.1), Some(0.1)),
        ] {
            assert!(Calibration::new(bad, slope).is_err());
        }
    }

    proptest! {
        #[test]
        fn slope_and_offset_of_a_phone_are_found_again(
            offset in -1.5..1.5_f64, slope in 0.75..1.9_f64, light in 0.0..16.0_f64, slider in 0.6..1.1_f64,
        ) {
            let photos = [
                photo(light, 0.0, offset, slope, reference(light)),
                photo(light, -slider, offset, slope, None),
                photo(light, slider, offset, slope, None),
            ];
            let found = calibrate(&photos).unwrap().calibration;
            prop_assert!((found.tone_slope.unwrap() - slope).abs() < 1e-9);
            prop_assert!((found.offset.value() - offset).abs() < 1e-9);
        }
    }
}
