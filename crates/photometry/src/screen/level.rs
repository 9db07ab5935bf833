//! What a step is worth as light: exact below full white, as sure as full white itself above all.
//!
//! Ratios of the doubt are common practice of screens, no standard behind them; each says where it comes from. Not here: the
//! patterns ([`super::pattern`]).

use super::pattern::ScreenStep;
use crate::constants::K_DEFAULT;
use crate::error::Error;
use crate::exposure::ev_from_luminance;
use crate::quantity::{Ev, Luminance, Stops};

/// What kind of screen it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScreenKind {
    /// Not known which; the larger doubt of both is taken.
    Unknown,
    /// Liquid crystal with a light behind: its black is not quite black.
    Backlit,
    /// Each pixel its own light: its black is black.
    SelfLit,
}

impl ScreenKind {
    /// Every kind, the safe one first.
    pub const ALL: [ScreenKind; 3] = [ScreenKind::Unknown, ScreenKind::Backlit, ScreenKind::SelfLit];

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            ScreenKind::Unknown => "unknown",
            ScreenKind::Backlit => "backlit",
            ScreenKind::SelfLit => "self_lit",
        }
    }

    /// The kind with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            ScreenKind::Unknown => "not known",
            ScreenKind::Backlit => "LCD: a black picture still glows in the dark",
            ScreenKind::SelfLit => "OLED: a black picture is dark in the dark",
        }
    }

    /// Luminance of black over that of white, at most.
    const fn most_black(self) -> f64 {
        match self {
            ScreenKind::SelfLit => 0.0,
            ScreenKind::Unknown | ScreenKind::Backlit => 1.0 / 1000.0,
        }
    }
}

/// Full white may be dimmer than the same white in a dark picture, or a dark picture be dimmed, by so much at most while the
/// brightness is set by hand to a middle value \[stops\].
const DIMMING: f64 = 0.08;
/// What the edges of cells swallow or add \[stops\].
const EDGES: f64 = 0.03;
/// How well the same setting of the brightness gives the same white again, warm and on another day \[stops\].
const AGAIN: f64 = 0.05;
/// What a screen shows at most without a calibration, and how little is known of it: 100 to 1600 cd/m² hold nearly all.
const ASSUMED_WHITE_CD_M2: f64 = 400.0;
const ASSUMED_WHITE_STOPS: f64 = 1.0;

/// The level of full white, with the doubt that every step of the screen shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenLevel {
    /// Full white, EV at ISO 100.
    pub white: Ev,
    /// Standard uncertainty that all steps share.
    pub shared: Stops,
    /// Whether a trusted meter has read it; if not, a run says something of slope and consistency only.
    pub calibrated: bool,
}

impl ScreenLevel {
    /// From one reading of full white by a meter with a standard uncertainty; the brightness must be set as it was then.
    pub fn calibrated(white: Ev, meter: Stops) -> Result<Self, Error> {
        if meter.value() <= 0.0 {
            return Err(Error::new(format!(
                "the doubt of the meter that read full white must be above 0 stops, and {} was given",
                meter.value()
            )));
        }
        Ok(Self { white, shared: Stops::new(libm::hypot(meter.value(), AGAIN))?, calibrated: true })
    }

    /// Where nobody has read it: 400 cd/m², with a doubt of a stop.
    pub fn assumed() -> Result<Self, Error> {
        Ok(Self {
            white: ev_from_luminance(Luminance::new(ASSUMED_WHITE_CD_M2)?, K_DEFAULT)?,
            shared: Stops::new(ASSUMED_WHITE_STOPS)?,
            calibrated: false,
        })
    }
}

/// The light of a step, `EV = EV_white − n`, n halvings: exact against full white.
pub fn screen_light(level: &ScreenLevel, step: &ScreenStep) -> Result<Ev, Error> {
    level.white.plus(-step.below_white())
}

/// Standard uncertainty of a step against full white \[stops\], new at every step: black that is none, `log2(1 + b·(1 − s)/s)` of
/// which anything between nothing and all may be there, s white share, b black over white; dimming by content; edges of cells.
/// Full white has none, since it is what the others are counted from.
pub fn step_doubt(kind: ScreenKind, step: &ScreenStep) -> Stops {
    let share = step.white_share();
    let dark = 1.0 - share;
    let parts = [
        libm::log2(1.0 + kind.most_black() * dark / share) / 3.0_f64.sqrt(),
        DIMMING * dark / 3.0_f64.sqrt(),
        if dark > 0.0 { EDGES } else { 0.0 },
    ];
    Stops::new(parts.iter().map(|u| u * u).sum::<f64>().sqrt()).unwrap_or(Stops::ZERO)
}

#[cfg(test)]
mod tests {
    use super::super::SCREEN_STEPS;
    use super::*;

    #[test]
    fn a_step_is_a_stop() {
        let level =
            ScreenLevel::calibrated(Ev::new(11.3).expect("ev"), Stops::new(0.1).expect("stops")).expect("a level");
        let lights: Vec<f64> =
            SCREEN_STEPS.iter().map(|step| screen_light(&level, step).expect("light").value()).collect();
        assert!(lights.windows(2).all(|pair| pair[0] - pair[1] == 1.0) && lights[0] == 11.3);
        assert!((level.shared.value() - 0.111_8).abs() < 1e-4 && level.calibrated);
    }

    #[test]
    fn over_six_stops_a_reading_of_a_trusted_meter_leaves_a_fifth_of_a_stop() {
        for kind in ScreenKind::ALL {
            let doubts: Vec<f64> = SCREEN_STEPS.iter().map(|step| step_doubt(kind, step).value()).collect();
            assert!(doubts[0] == 0.0 && doubts.windows(2).all(|pair| pair[0] <= pair[1]), "{doubts:?}");
            assert!(doubts[6] < 0.1 && doubts[1] > 0.02, "{doubts:?}");
        }
        let of = |kind| step_doubt(kind, &SCREEN_STEPS[6]).value();
        assert!(
            of(ScreenKind::SelfLit) < of(ScreenKind::Backlit) && of(ScreenKind::Unknown) == of(ScreenKind::Backlit)
        );
    }

    #[test]
    fn an_unread_white_is_worth_a_stop_and_a_meter_without_doubt_nothing() {
        let assumed = ScreenLevel::assumed().expect("a level");
        assert!(!assumed.calibrated && assumed.shared.value() == 1.0 && (assumed.white.value() - 11.644).abs() < 1e-3);
        assert!(ScreenLevel::calibrated(assumed.white, Stops::ZERO).is_err());
        for kind in ScreenKind::ALL {
            assert_eq!(ScreenKind::from_key(kind.key()), Some(kind));
        }
    }
}
