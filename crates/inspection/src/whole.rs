//! A whole inspection and what it comes to: the inputs of every area together, and one call that judges them.
//!
//! Not here: the judging itself, which each area does; this file only runs it in order.

use crate::aperture;
use crate::camera::Camera;
use crate::catalogue::{self, Point};
use crate::consistency::{self, Consistency, Equivalent};
use crate::error::Error;
use crate::film_error::{self, FilmGets, Measured};
use crate::finding::{Condition, Finding};
use crate::glare;
use crate::light_tight;
use crate::meter::{self, Judgement, Run};
use crate::outcome::{self, Outcome};
use crate::reference::Reference;
use crate::shutter;
use crate::test_roll;

/// What mending would cost and what the camera is worth, in one currency, as far as it was entered.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Costs {
    /// Value in sound condition.
    pub value: Option<f64>,
    /// Cost of mending.
    pub mending: Option<f64>,
    /// The currency, free text.
    pub currency: String,
    /// The person's own decision that it is for parts.
    pub for_parts: bool,
}

impl Costs {
    /// The sum of what was entered, a sentence; empty where one of the two figures is missing. No price is ever guessed.
    pub fn sentence(&self) -> String {
        let (Some(value), Some(mending)) = (self.value, self.mending) else { return String::new() };
        let said = |amount: f64| {
            let whole = (amount - libm::round(amount)).abs() < 0.005;
            format!("{} {}", crate::words::plain(amount, if whole { 0 } else { 2 }), self.currency.trim())
                .trim_end()
                .to_owned()
        };
        let left = value - mending;
        if left < 0.0 {
            format!(
                "Mending costs {} and it is worth {} when sound: {} too much.",
                said(mending),
                said(value),
                said(-left)
            )
        } else {
            format!("Worth {} when sound, less {} for mending: {} left.", said(value), said(mending), said(left))
        }
    }
}

/// A run with what it was held against, level by level.
#[derive(Clone, Debug)]
pub struct ReferencedRun {
    /// The references; the levels count into them.
    pub references: Vec<Reference>,
    /// The run.
    pub run: Run,
}

/// Everything that was entered about one camera.
#[derive(Clone, Debug)]
pub struct Inspection {
    /// Who it is.
    pub camera: Camera,
    /// What was looked at.
    pub findings: Vec<Finding>,
    /// The meter run to be judged: the latest that has a level.
    pub meter: Option<ReferencedRun>,
    /// The shutter check; `None` where nothing was caught.
    pub shutter: Option<shutter::Check>,
    /// The aperture check; `None` where no opening was photographed.
    pub aperture: Option<aperture::Check>,
    /// The lens's glare, in the order it was measured.
    pub glare: Vec<glare::Measured>,
    /// A picture of an opening that the person keeps: its id, and which of the check's shots it shows.
    pub aperture_picture: Option<(String, usize)>,
    /// The careful look at the seals, and the lamp inside.
    pub light_tight: light_tight::Check,
    /// The test roll, as far as it is.
    pub test_roll: test_roll::Roll,
    /// The consistency check, in the order it was taken.
    pub consistency: Vec<Equivalent>,
    /// Costs and value.
    pub costs: Costs,
    /// The film in hand.
    pub film: film_error::InHand,
}

impl Inspection {
    /// An inspection of which only the camera is known.
    pub fn of(camera: Camera) -> Self {
        Self {
            camera,
            findings: Vec::new(),
            meter: None,
            shutter: None,
            aperture: None,
            glare: Vec::new(),
            aperture_picture: None,
            light_tight: light_tight::Check::default(),
            test_roll: test_roll::Roll::default(),
            consistency: Vec::new(),
            costs: Costs::default(),
            film: film_error::InHand::default(),
        }
    }

    /// The condition of a point; not checked where there is no finding. The last finding counts.
    pub fn condition(&self, point: &Point) -> Condition {
        self.finding(point).map_or(Condition::NotChecked, |finding| finding.condition)
    }

    /// The finding at a point.
    pub fn finding(&self, point: &Point) -> Option<&Finding> {
        self.findings.iter().rev().find(|finding| finding.point.key == point.key)
    }

    /// How many of the camera's points were looked at, and how many it has.
    pub fn progress(&self) -> (usize, usize) {
        catalogue::points_of(&self.camera)
            .fold((0, 0), |(done, all), point| (done + usize::from(self.condition(point).is_checked()), all + 1))
    }
}

/// What an inspection comes to.
#[derive(Clone, Debug)]
pub struct Examined {
    /// The outcome with its reasons.
    pub outcome: Outcome,
    /// The meter run, judged.
    pub meter: Option<Judgement>,
    /// The shutter, judged.
    pub shutter: Option<shutter::Judgement>,
    /// The aperture, judged.
    pub aperture: Option<aperture::Judgement>,
    /// The lens's glare, compared.
    pub glare: Option<glare::Comparison>,
    /// The test roll, judged.
    pub test_roll: test_roll::Judgement,
    /// The consistency check.
    pub consistency: Option<Consistency>,
    /// What film gets of all of it.
    pub film: FilmGets,
}

/// Judges everything that was entered.
///
/// **Errors** where a run that was begun cannot be judged; see [`meter::judge`], [`shutter::judge`] and [`consistency::check`].
pub fn examine(inspection: &Inspection) -> Result<Examined, Error> {
    let meter = match &inspection.meter {
        Some(run) if !run.run.levels.is_empty() => Some(meter::judge(&run.run)?),
        _ => None,
    };
    let consistency = match inspection.consistency.as_slice() {
        [] => None,
        settings => Some(consistency::check(settings)?),
    };
    let shutter = inspection.shutter.as_ref().map(shutter::judge).transpose()?;
    let aperture = inspection.aperture.as_ref().map(aperture::judge).transpose()?;
    let glare = glare::compare(&inspection.glare)?;
    let measured = Measured {
        shutter: shutter.as_ref(),
        aperture: aperture.as_ref(),
        meter: meter.as_ref(),
        dial: inspection.meter.as_ref().and_then(|held| held.run.film_speed.as_ref()),
    };
    let film = film_error::of(&inspection.camera, &measured, inspection.film)?;
    let kind = inspection.camera.kind;
    let test_roll = test_roll::judge(&inspection.test_roll, kind, inspection.light_tight.hinge_of(kind));
    let outcome = outcome::of(
        inspection,
        meter.as_ref(),
        shutter.as_ref(),
        consistency.as_ref(),
        aperture.as_ref(),
        &film,
        &test_roll,
    );
    Ok(Examined { outcome, meter, shutter, aperture, glare, test_roll, consistency, film })
}
