//! The light of a patch of a photo: EV at ISO 100 and cd/m², with the doubt and its parts, or the reasons why not.
//!
//! *Equation:* `EV100 = log2(N²/t) − log2(S/100) + log2((10/q)/K) + z/κ + o`, `z = log2(Y/Y_118)`; `L = K·2^EV100/100`.
//! *Symbols:* N f-number, t time \[s\], S the camera's speed \[ISO\], q = 0.65 lens factor, K reflected-light constant
//! \[cd·s/(m²·ISO)\], Y mean light of the patch, Y_118 light of code 118, κ slope of the phone's tone curve against sRGB about
//! the middle, o offset of the phone \[stops\]; κ = 1 and o = 0 before calibration. *Valid* for |z| up to 2.2 stops.
//! *Sources:* ISO 12232 (standard output sensitivity) and ISO 2720:1974, both as told by secondary sources. Exposure compensation
//! is not added: it is in t, S and the pixels. Not here: what a reading of a camera is against it (`inspection`).

mod calibration;

pub use calibration::{Calibrated, Calibration, CalibrationPhoto, History, calibrate, history};

use metrology::{Budget, Contribution, Distribution, Estimate};
use photometry::{
    Ev, Illuminance, K_DEFAULT, Luminance, Q_DEFAULT, Stops, WHITE_PAPER, exposure_value, illuminance_of_matt_surface,
    luminance,
};

use crate::error::Error;
use crate::exif::{Metadata, unreadable, unsupported};
use crate::notice::{Notice, Weight};
use crate::raster::PatchLight;
use crate::transfer::Curve;

/// Share of clipped pixels from which a patch is refused.
const CLIPPED: f64 = 0.005;
/// Share of nearly black pixels from which a patch is refused.
const BLACK: f64 = 0.02;
/// Distance from the mid-tone that is spoken of, and that is refused \[stops\].
const OFF_MID_TONE: f64 = 1.0;
const TOO_FAR: f64 = 2.2;
/// Spread of a patch that is spoken of \[stops\].
const UNEVEN: f64 = 0.35;
/// A jump of the phone's own brightness against its usual one that is spoken of \[stops\].
const BRIGHTNESS_JUMP: f64 = 1.0;
/// Least light that a logarithm is taken of.
const LEAST: f64 = 1e-6;

/// Doubts, one standard uncertainty in stops: how phones differ that were never calibrated; how one phone differs from photo to
/// photo; the tone curve per stop from the mid-tone without and with its slope known; an even and an uneven patch; the rounded
/// numbers of the exposure data.
const UNCALIBRATED: f64 = 0.45;
pub(super) const PHOTO_TO_PHOTO: f64 = 0.10;
const TONE_PER_STOP: f64 = 0.22;
const TONE_PER_STOP_KNOWN: f64 = 0.10;
const EVEN: f64 = 0.10;
const NOT_EVEN: f64 = 0.30;
const ROUNDING: f64 = 0.05;

/// What there is of the pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pixels {
    /// The light of the patch.
    Patch(PatchLight),
    /// The file is damaged.
    Unreadable,
    /// The file is of a kind that cannot be decoded here.
    Unsupported,
}

/// What a photo is read with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Setup {
    /// Reflected-light constant K.
    pub reflected_constant: f64,
    /// Calibration of this phone and lens.
    pub calibration: Option<Calibration>,
}

impl Default for Setup {
    fn default() -> Self {
        Self { reflected_constant: K_DEFAULT, calibration: None }
    }
}

/// What may be done with a photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    /// It stands.
    Ok,
    /// It stands, and is to be looked at twice.
    Warn,
    /// It cannot be measured.
    Refuse,
}

impl Decision {
    /// In a word, for programs.
    pub const fn key(self) -> &'static str {
        match self {
            Decision::Ok => "ok",
            Decision::Warn => "warn",
            Decision::Refuse => "refuse",
        }
    }
}

/// The light of a patch.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// EV at ISO 100, with its doubt in stops.
    pub ev100: Estimate,
    /// Luminance by K.
    pub luminance: Luminance,
    /// `log2(N²/t) − log2(S/100)` of the exposure alone.
    pub settings_ev100: f64,
    /// How far the patch lies above the mid-tone, z \[stops\].
    pub tone_stops: f64,
    /// The parts of the doubt \[stops\].
    pub doubt: Budget,
    /// How far the phone's own brightness value lies above the exposure \[stops\]; useless by itself, telling when it jumps.
    pub brightness_difference_stops: Option<f64>,
}

impl Reading {
    /// The parts of the doubt that every photo by this phone shares, and those that are new in each \[stops\]: the phone's own
    /// offset is always the first part.
    pub fn shared_and_each(&self) -> (f64, f64) {
        let size = |part: &Contribution| part.sensitivity * part.standard_uncertainty;
        let shared = self.doubt.contributions.first().map_or(0.0, size);
        let each = self.doubt.contributions.iter().skip(1).map(|part| size(part) * size(part)).sum::<f64>().sqrt();
        (shared.abs(), each)
    }

    /// The light that falls on plain white paper, where the patch is such: `E = π·L/ρ` \[lx\] and its standard uncertainty
    /// \[stops\], `u² = u_photo² + (Δρ/(ρ·√3·ln 2))²`, the paper's reflectance being rectangular ([`photometry::WHITE_PAPER`]).
    pub fn on_white_paper(&self) -> Result<(Illuminance, Stops), Error> {
        let (rho, width) = WHITE_PAPER;
        let paper = Distribution::Rectangular { half_width: width / rho / core::f64::consts::LN_2 };
        let doubt = libm::hypot(self.ev100.standard_uncertainty(), paper.standard_uncertainty()?);
        Ok((illuminance_of_matt_surface(self.luminance, rho)?, Stops::new(doubt)?))
    }
}

/// A photo, looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Photo {
    /// What may be done with it.
    pub decision: Decision,
    /// Why it is refused; empty where it is not.
    pub reasons: Vec<Notice>,
    /// Warnings and remarks.
    pub notices: Vec<Notice>,
    /// The light; nothing where it is refused.
    pub reading: Option<Reading>,
}

/// Looks at a photo. **Errors** where K or the calibration is out of its range.
pub fn assess(metadata: &Metadata, pixels: &Pixels, setup: &Setup) -> Result<Photo, Error> {
    let mut notices = metadata.notices.clone();
    let mut say = |notice: Notice| {
        if !notices.iter().any(|other| other.code == notice.code) {
            notices.push(notice);
        }
    };
    let light = match pixels {
        Pixels::Patch(light) => {
            of_patch(light, &mut say);
            Some(light)
        }
        // What is no picture at all has been told so.
        Pixels::Unsupported => {
            say(unsupported());
            None
        }
        Pixels::Unreadable => {
            say(unreadable());
            None
        }
    };
    let measured = light.zip(settings(metadata)).map(|(light, settings)| read(light, settings, setup)).transpose()?;
    let reading = measured.map(|reading| Reading {
        brightness_difference_stops: metadata.brightness_value.map(|value| value + 5.0 - reading.settings_ev100),
        ..reading
    });
    if setup.calibration.is_none() {
        say(Notice::remark(
            "not_calibrated",
            "This phone has not been calibrated, and phones differ by half a stop and more: one photo beside a trusted meter \
             would halve the doubt.",
        ));
    }
    let usual = setup.calibration.and_then(|calibration| calibration.brightness_difference_stops);
    if let (Some(here), Some(usual)) = (reading.as_ref().and_then(|reading| reading.brightness_difference_stops), usual)
        && (here - usual).abs() > BRIGHTNESS_JUMP
    {
        say(Notice::warning(
            "brightness_jump",
            "The phone's own idea of the brightness is a stop and more from its usual one: it may have worked on the picture. \
             Take a second photo and compare.",
        ));
    }
    let (reasons, notices): (Vec<_>, Vec<_>) = notices.into_iter().partition(|notice| notice.weight == Weight::Refusal);
    let decision = if !reasons.is_empty() || reading.is_none() {
        Decision::Refuse
    } else if notices.iter().any(|notice| notice.weight == Weight::Warning) {
        Decision::Warn
    } else {
        Decision::Ok
    };
    Ok(Photo { decision, reasons, notices, reading: reading.filter(|_| decision != Decision::Refuse) })
}

/// How much brighter a patch is than before, with the exposure locked: `log2(Y_now/Y_before)` \[stops\], its doubt that of a tone
/// curve nobody knows over that many stops and of the camera's noise. **Errors** where either patch is burnt out or nearly black.
pub fn brighter(before: &PatchLight, now: &PatchLight) -> Result<Estimate, Error> {
    for (patch, which) in [(before, "first"), (now, "present")] {
        if patch.clipped > CLIPPED || patch.black > BLACK {
            let (what, do_) =
                if patch.clipped > CLIPPED { ("burnt out", "darker") } else { ("nearly black", "brighter") };
            return Err(Error::new(format!("the {which} patch is {what}: lock the exposure again on something {do_}")));
        }
    }
    let stops = libm::log2(now.mean.max(LEAST) / before.mean.max(LEAST));
    Ok(Estimate::new(stops, libm::hypot(TONE_PER_STOP * stops, ROUNDING), f64::INFINITY)?)
}

fn settings(metadata: &Metadata) -> Option<f64> {
    let exposure = &metadata.exposure;
    Some(exposure_value(exposure.f_number?, exposure.time?, exposure.speed?).value())
}

/// `z = log2(Y/Y_118)` \[stops\].
fn tone(light: &PatchLight) -> f64 {
    let mid_tone = Curve::Srgb.light(f64::from(crate::transfer::MID_TONE_CODE) / 255.0);
    libm::log2(light.mean.max(LEAST) / mid_tone)
}

fn of_patch(light: &PatchLight, say: &mut impl FnMut(Notice)) {
    let z = tone(light);
    let (distance, darker) = (metrology::to_decimals(z.abs(), 1), z < 0.0);
    let side = if darker { "darker" } else { "lighter" };
    if light.clipped > CLIPPED {
        say(Notice::refusal(
            "patch_clipped_high",
            "The patch is burnt out to white. Tap the target in the camera app so that it comes out mid-grey, and take it again.",
        ));
    }
    if light.black > BLACK {
        say(Notice::refusal(
            "patch_clipped_low",
            "The patch is nearly black. Tap the target in the camera app so that it comes out mid-grey, and take it again.",
        ));
    }
    if z.abs() > TOO_FAR {
        say(Notice::refusal(
            "patch_too_far_from_mid_tone",
            format!(
                "The patch is {distance} stops {side} than mid-grey, and beyond 2.2 the phone's tone curve cannot be known. \
                 Fill the frame with the target and tap it, or choose another patch."
            ),
        ));
    } else if z.abs() > OFF_MID_TONE {
        say(Notice::warning(
            "patch_off_mid_tone",
            format!(
                "The patch is {distance} stops {side} than mid-grey, which adds doubt. Fill the frame with the target and tap \
                 it, so that it comes out mid-grey."
            ),
        ));
    }
    if light.spread_stops > UNEVEN {
        say(Notice::warning(
            "patch_uneven",
            format!(
                "The light differs by {} stop within the patch. Choose a smaller one on a plain surface.",
                metrology::to_decimals(light.spread_stops, 1)
            ),
        ));
    }
}

fn read(light: &PatchLight, settings: f64, setup: &Setup) -> Result<Reading, Error> {
    let k = setup.reflected_constant;
    if !(k > 0.0 && k <= 100.0) {
        return Err(Error::new(format!("the constant K must be above 0 and at most 100, and {k} was given")));
    }
    let z = tone(light);
    let (offset, slope) =
        setup.calibration.map_or((0.0, 1.0), |own| (own.offset.value(), own.tone_slope.unwrap_or(1.0)));
    let ev100 = Ev::new(settings + libm::log2(10.0 / Q_DEFAULT / k) + z / slope + offset)?;
    let doubt = budget(light, z, setup.calibration.as_ref());
    let combined = doubt.combined()?;
    Ok(Reading {
        ev100: Estimate::new(ev100.value(), combined.standard_uncertainty, combined.degrees_of_freedom)?,
        luminance: luminance(ev100, k)?,
        settings_ev100: settings,
        tone_stops: z,
        doubt,
        brightness_difference_stops: None,
    })
}

pub(super) fn part(name: impl Into<String>, standard_uncertainty: f64, degrees_of_freedom: f64) -> Contribution {
    Contribution { name: name.into(), sensitivity: 1.0, standard_uncertainty, degrees_of_freedom }
}

/// Doubt that a stop away from mid-grey brings \[stops\].
pub(super) const fn tone_doubt_per_stop(known_slope: Option<f64>) -> f64 {
    if known_slope.is_some() { TONE_PER_STOP_KNOWN } else { TONE_PER_STOP }
}

fn budget(light: &PatchLight, z: f64, calibration: Option<&Calibration>) -> Budget {
    let known = f64::INFINITY;
    let mut contributions = match calibration {
        None => vec![part("what this phone calls its speed, never calibrated", UNCALIBRATED, known)],
        Some(own) => vec![
            part("the phone's calibration", own.offset.standard_uncertainty(), own.offset.degrees_of_freedom()),
            part("the phone from photo to photo", PHOTO_TO_PHOTO, known),
        ],
    };
    let per_stop = tone_doubt_per_stop(calibration.and_then(|own| own.tone_slope));
    contributions.push(part("tone curve away from mid-grey", per_stop * z.abs(), known));
    let even = light.spread_stops <= UNEVEN;
    contributions.push(part("evenness of the patch", if even { EVEN } else { NOT_EVEN }, known));
    contributions.push(part("rounded numbers in the exposure data", ROUNDING, known));
    Budget { contributions, correlations: Vec::new() }
}

#[cfg(test)]
mod tests;
