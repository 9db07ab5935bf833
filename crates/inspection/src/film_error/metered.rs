//! Film error in metered use: which light a marked time goes with, and the meter's error in that light.
//!
//! At f-number N, time t and dial S the meter reads `m = log2(N²/t) − log2(S/100)` \[EV at ISO 100\]; the light is `r = m − e(r)`,
//! with e the fitted meter error. Not here: the fit ([`crate::meter`]), the sum ([`super`]).

use metrology::Estimate;
use photometry::{Ev, FilmSpeedMark, exposure_value};

use super::{Cell, FStop, Measured, sum};
use crate::camera::Camera;
use crate::error::Error;
use crate::meter;
use crate::shutter::TimeRow;
use crate::words;

/// How far beyond the measured light the fitted error is still used \[EV\] (judged, not measured).
const BEYOND_EV: f64 = 0.5;

/// What the metered rows are made of.
pub(super) struct Metered<'a> {
    meter: &'a meter::Judgement,
    /// The f-numbers and what the dial stood at, where both are known and the camera leaves the f-number to the person.
    asked: Option<(&'a [FStop<'a>], &'a FilmSpeedMark)>,
    /// Dimmest and brightest light that the meter was measured in.
    range: (f64, f64),
}

impl<'a> Metered<'a> {
    pub(super) fn of(
        camera: &Camera,
        measured: &Measured<'a>,
        meter: &'a meter::Judgement,
        stops: &'a [FStop<'a>],
    ) -> Self {
        let range = meter
            .levels
            .iter()
            .map(|level| level.reference.value())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), light| (low.min(light), high.max(light)));
        let own = !stops.is_empty() && !camera.automatic_aperture;
        Self { meter, asked: measured.dial.filter(|_| own).map(|dial| (stops, dial)), range }
    }

    /// The places of the curve between which a light lies, and how far from the first to the second; the nearest place at the
    /// ends. The curve goes from dim to bright; the place is looked for where it was last.
    fn between(&self, light: f64, near: &mut usize) -> Option<(Estimate, Estimate, f64)> {
        let curve = &self.meter.curve;
        let dimmer = |at: usize| curve.get(at).is_none_or(|(place, _)| *place < light);
        if !(*near > 0 && dimmer(*near - 1) && !dimmer(*near)) {
            *near = curve.partition_point(|(place, _)| *place < light);
        }
        let after = *near;
        let (before, after) = (curve.get(after.saturating_sub(1))?, curve.get(after).or(curve.last())?);
        let share = if after.0 > before.0 { (light - before.0) / (after.0 - before.0) } else { 0.0 };
        Some((before.1, after.1, share))
    }

    /// The fitted meter error in this light, between the places at which it was worked out; the nearest place at the ends. Doubt
    /// is a convex function along the range, so that between two places it is never taken too small.
    fn error_in(&self, light: f64, near: &mut usize) -> Option<Estimate> {
        let (a, b, share) = self.between(light, near)?;
        if share == 0.0 {
            return Some(a);
        }
        let between = |from: f64, to: f64| from + share * (to - from);
        Estimate::new(
            between(a.value(), b.value()),
            between(a.standard_uncertainty(), b.standard_uncertainty()),
            a.degrees_of_freedom().min(b.degrees_of_freedom()),
        )
        .ok()
    }

    /// The light in which the meter reads this. Two steps are enough: the error changes far less than the light does.
    fn light_at(&self, reading: f64, near: &mut usize) -> f64 {
        let mut light = reading;
        for _ in 0..3 {
            let error = self.between(light, near).map(|(a, b, share)| a.value() + share * (b.value() - a.value()));
            light = reading - error.filter(|error| error.is_finite()).unwrap_or(0.0);
        }
        light
    }

    /// The cells without any marked time: the meter's error alone, level by level.
    pub(super) fn alone(&self) -> Result<Vec<Cell>, Error> {
        self.meter.levels.iter().map(|level| cell(None, level.reference, None, level.fitted)).collect()
    }

    /// The cells of one marked time: f-number by f-number where both the lens's marks and the dial are known, else over all the
    /// light that the meter was measured in. Says why where there is none.
    pub(super) fn cells(&self, time: &TimeRow, shutter: Estimate) -> Result<Result<Vec<Cell>, String>, Error> {
        let Some((stops, dial)) = self.asked else {
            let levels = self.meter.levels.iter();
            return levels
                .map(|level| cell(None, level.reference, Some(shutter), level.fitted))
                .collect::<Result<_, _>>()
                .map(Ok);
        };
        let (low, high) = self.range;
        let (mut cells, mut near) = (Vec::with_capacity(stops.len()), 0);
        let mut asked = (f64::INFINITY, f64::NEG_INFINITY);
        for stop in stops {
            let reading = exposure_value(stop.mark.exact(), time.mark.exact(), dial.exact()).value();
            let light = self.light_at(reading, &mut near);
            asked = (asked.0.min(light), asked.1.max(light));
            if light < low - BEYOND_EV || light > high + BEYOND_EV {
                continue;
            }
            let (Some(error), Ok(light)) = (self.error_in(light, &mut near), Ev::new(light)) else { continue };
            cells.push(cell(Some(stop), light, Some(shutter), error)?);
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

fn cell(stop: Option<&FStop<'_>>, light: Ev, shutter: Option<Estimate>, meter: Estimate) -> Result<Cell, Error> {
    let opening = stop.and_then(|stop| stop.opening);
    Ok(Cell {
        f_number: stop.map(|stop| stop.mark.clone()),
        opening_measured: opening.is_some(),
        light: Some(light),
        error: sum([shutter.map(|error| (1.0, error)), opening.map(|error| (1.0, error)), Some((-1.0, meter))])?,
    })
}
