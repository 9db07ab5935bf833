//! Film error in metered use: which light a marked time goes with, and the meter's error in that light.
//!
//! At f-number N, time t and dial S the meter reads `m = log2(N²/t) − log2(S/100)` \[EV at ISO 100\]; the light is `r = m − e(r)`,
//! with e the fitted meter error. Not here: the fit ([`crate::meter`]), the sum ([`super`]).

use metrology::Estimate;
use photometry::{Ev, exposure_value};

use super::{Cell, Measured, f_numbers, sum};
use crate::camera::Camera;
use crate::error::Error;
use crate::meter;
use crate::shutter::TimeRow;
use crate::words;

/// How far beyond the measured light the fitted error is still used \[EV\] (judged, not measured).
const BEYOND_EV: f64 = 0.5;

/// What the metered rows are made of.
pub(super) struct Metered<'a> {
    pub(super) camera: &'a Camera,
    pub(super) measured: &'a Measured<'a>,
    pub(super) meter: &'a meter::Judgement,
}

impl Metered<'_> {
    fn range(&self) -> (f64, f64) {
        self.meter
            .levels
            .iter()
            .map(|level| level.reference.value())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), light| (low.min(light), high.max(light)))
    }

    /// The fitted meter error in this light, between the places at which it was worked out; the nearest place at the ends. Doubt
    /// is a convex function along the range, so that between two places it is never taken too small.
    fn error_in(&self, light: f64) -> Option<Estimate> {
        let curve = &self.meter.curve;
        let after = curve.iter().position(|(place, _)| *place >= light);
        let (first, last) = (curve.first()?, curve.last()?);
        let (a, b) = match after {
            None => return Some(last.1),
            Some(0) => return Some(first.1),
            Some(i) => (curve[i - 1], curve[i]),
        };
        let share = if b.0 > a.0 { (light - a.0) / (b.0 - a.0) } else { 0.0 };
        let between = |from: f64, to: f64| from + share * (to - from);
        Estimate::new(
            between(a.1.value(), b.1.value()),
            between(a.1.standard_uncertainty(), b.1.standard_uncertainty()),
            a.1.degrees_of_freedom().min(b.1.degrees_of_freedom()),
        )
        .ok()
    }

    /// The light in which the meter reads this. Two steps are enough: the error changes far less than the light does.
    fn light_at(&self, reading: f64) -> f64 {
        let mut light = reading;
        for _ in 0..3 {
            light = reading - self.error_in(light).map_or(0.0, Estimate::value);
        }
        light
    }

    /// The cells without any marked time: the meter's error alone, level by level.
    pub(super) fn alone(&self) -> Result<Vec<Cell>, Error> {
        self.meter.levels.iter().map(|level| self.cell(None, level.reference, &[], level.fitted)).collect()
    }

    fn cell(
        &self,
        f_number: Option<&photometry::FNumberMark>,
        light: Ev,
        with: &[Estimate],
        meter: Estimate,
    ) -> Result<Cell, Error> {
        let opening = f_number.and_then(|mark| self.measured.aperture.and_then(|judged| judged.error_at(mark.text())));
        let parts: Vec<(f64, Estimate)> = with
            .iter()
            .copied()
            .chain(opening)
            .map(|error| (1.0, error))
            .chain(std::iter::once((-1.0, meter)))
            .collect();
        Ok(Cell {
            f_number: f_number.cloned(),
            opening_measured: opening.is_some(),
            light: Some(light),
            error: sum(&parts)?,
        })
    }

    /// The cells of one marked time: f-number by f-number where both the lens's marks and the dial are known, else over all the
    /// light that the meter was measured in. Says why where there is none.
    pub(super) fn cells(&self, time: &TimeRow, shutter: Estimate) -> Result<Result<Vec<Cell>, String>, Error> {
        let marks = f_numbers(self.camera, self.measured.aperture);
        let (true, Some(dial)) = (!marks.is_empty() && !self.camera.automatic_aperture, self.measured.dial) else {
            let levels = self.meter.levels.iter();
            return levels
                .map(|level| self.cell(None, level.reference, &[shutter], level.fitted))
                .collect::<Result<_, _>>()
                .map(Ok);
        };
        let (low, high) = self.range();
        let mut cells = Vec::new();
        let mut asked = (f64::INFINITY, f64::NEG_INFINITY);
        for mark in marks {
            let reading = exposure_value(mark.exact(), time.mark.exact(), dial.exact()).value();
            let light = self.light_at(reading);
            asked = (asked.0.min(light), asked.1.max(light));
            if light < low - BEYOND_EV || light > high + BEYOND_EV {
                continue;
            }
            let (Some(error), Ok(light)) = (self.error_in(light), Ev::new(light)) else { continue };
            cells.push(self.cell(Some(mark), light, &[shutter], error)?);
        }
        if cells.is_empty() {
            return Ok(Err(format!(
                "the meter asks for {} between {} and {}, and it was measured between {} and {}.",
                time.mark.label(),
                words::ev(asked.0),
                words::ev(asked.1),
                words::ev(low),
                words::ev(high)
            )));
        }
        Ok(Ok(cells))
    }
}
