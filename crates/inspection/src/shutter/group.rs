//! The shots of one marked time by one signal, brought together: mean error, spread, and the doubt with its named parts.
//!
//! Not here: which signal counts and whether the error is allowed ([`super::judge`]).

use metrology::{Estimate, effective_degrees_of_freedom};
use photometry::TimeMark;
use timing::State;

use super::taken::{Signal, TakenShot};
use crate::error::Error;

/// Spread between shots where no marked time has two of them \[stops\]: assumed, from memory of practice, no source.
pub(super) const ASSUMED_SPREAD_STOPS: f64 = 0.05;
/// The assumed spread is trusted no better than this many repeats would make it.
const ASSUMED_FREEDOM: f64 = 3.0;

/// A marked time that scatters by more than this times the expected variance has a spread of its own: about one in twenty of
/// three shots would by chance (F distribution with 2 and many degrees of freedom).
const FAR_MORE: f64 = 3.0;

/// A named part of a doubt.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// What it is.
    pub name: &'static str,
    /// Standard uncertainty \[stops\].
    pub stops: f64,
}

/// One shot as an error against its marked time.
#[derive(Clone, Copy, Debug)]
struct ShotError {
    /// `log2(t/t_exact)` \[stops\].
    error: f64,
    /// Own part of its doubt \[stops\].
    own: f64,
    /// Part that all shots share \[stops\].
    shared: f64,
}

/// Shots of one marked time by one signal.
#[derive(Clone, Debug)]
pub(super) struct Group<'a> {
    pub mark: &'a TimeMark,
    pub signal: Signal,
    pub state: State,
    shots: Vec<ShotError>,
    tapers: Vec<Estimate>,
    pub bounces_s: Vec<f64>,
    /// Shots that were heard or seen and have no time.
    pub without_time: usize,
    /// Shots that might as well belong to another mark.
    pub unsure: usize,
}

/// `u(log2 t) = u(t)/(t·ln 2)` \[stops\].
fn in_stops(seconds: f64, time_s: f64) -> f64 {
    seconds / (time_s * core::f64::consts::LN_2)
}

impl<'a> Group<'a> {
    /// The shots of one mark by one signal brought together.
    pub fn of(mark: &'a TimeMark, signal: Signal, shots: &[&TakenShot]) -> Self {
        let timed = |shot: &&&TakenShot| shot.time.is_some() && shot.trust() != State::CannotTell;
        // A time that can be stood behind is not mixed with one that is only indicated.
        let firm = shots.iter().filter(timed).any(|shot| shot.trust() >= State::Probable);
        let used: Vec<&TakenShot> =
            shots.iter().filter(timed).filter(|shot| !firm || shot.trust() >= State::Probable).copied().collect();
        let exact = mark.exact().value();
        let errors = used
            .iter()
            .filter_map(|shot| {
                let time = shot.time.filter(|time| time.value() > 0.0)?;
                let whole = in_stops(time.standard_uncertainty(), time.value());
                let shared = in_stops(shot.shared_s.max(0.0), time.value()).min(whole);
                Some(ShotError {
                    error: libm::log2(time.value() / exact),
                    own: (whole * whole - shared * shared).max(0.0).sqrt(),
                    shared,
                })
            })
            .collect();
        Self {
            mark,
            signal,
            unsure: used.iter().filter(|shot| !shot.mark_sure).count(),
            state: used.iter().map(|shot| shot.trust()).min().unwrap_or(State::CannotTell),
            shots: errors,
            tapers: used.iter().filter_map(|shot| shot.taper).collect(),
            bounces_s: used.iter().filter_map(|shot| shot.bounce_s).collect(),
            without_time: shots.len() - used.len(),
        }
    }

    /// How many shots have a time.
    pub fn count(&self) -> usize {
        self.shots.len()
    }

    /// Whether there is any shot at all.
    pub fn is_empty(&self) -> bool {
        self.shots.is_empty() && self.without_time == 0
    }

    fn mean(&self) -> f64 {
        self.shots.iter().map(|shot| shot.error).sum::<f64>() / self.shots.len().max(1) as f64
    }

    fn squares(&self) -> f64 {
        let mean = self.mean();
        self.shots.iter().map(|shot| (shot.error - mean) * (shot.error - mean)).sum()
    }

    /// Mean of the squared own doubts \[stops²\].
    fn own_variance(&self) -> f64 {
        self.shots.iter().map(|shot| shot.own * shot.own).sum::<f64>() / self.shots.len().max(1) as f64
    }

    /// Experimental standard deviation between its shots \[stops\].
    pub fn spread(&self) -> Option<f64> {
        (self.shots.len() > 1).then(|| (self.squares() / (self.shots.len() - 1) as f64).sqrt())
    }

    /// Mean error with its doubt, and what that is made of. `None` without a timed shot.
    ///
    /// `u² = (s² + r²)/n + c²`: s the shutter's own spread, pooled over all marked times ([`Spread`]); r the doubt of one shot
    /// that is new each time; c the doubt that all shots share; n the number of shots. Where three shots or more scatter by
    /// far more than s and r allow, their own scatter counts.
    pub fn error(&self, spread: &Spread) -> Result<Option<(Estimate, Vec<Part>)>, Error> {
        if self.shots.is_empty() {
            return Ok(None);
        }
        let n = self.shots.len() as f64;
        let own = (self.own_variance() / n).sqrt();
        let scattered = self.spread().filter(|_| self.shots.len() > 2).unwrap_or(0.0);
        let expected = spread.stops * spread.stops + self.own_variance();
        let (between, freedom) = if scattered * scattered > FAR_MORE * expected {
            // Its own scatter already holds what is new with each shot.
            ((scattered * scattered - self.own_variance()).max(0.0).sqrt(), n - 1.0)
        } else {
            (spread.stops, spread.freedom)
        };
        let shared = self.shots.iter().map(|shot| shot.shared).fold(0.0, f64::max);
        let part = |name: &'static str, stops: f64, freedom: f64| (Part { name, stops }, freedom);
        let parts = [
            part("spread between shots", between / n.sqrt(), freedom),
            part("method, new with each shot", own, f64::INFINITY),
            part(shared_name(self.signal), shared, f64::INFINITY),
        ];
        let doubts = parts.each_ref().map(|(part, freedom)| (part.stops, *freedom));
        let doubt = doubts.iter().map(|(stops, _)| stops * stops).sum::<f64>().sqrt();
        let estimate = Estimate::new(self.mean(), doubt, effective_degrees_of_freedom(&doubts))?;
        Ok(Some((estimate, parts.into_iter().map(|(part, _)| part).filter(|part| part.stops > 0.0).collect())))
    }

    /// Exposure at the far end of the gate over the near end \[stops\].
    pub fn taper(&self) -> Option<Estimate> {
        let n = self.tapers.len() as f64;
        let first = self.tapers.first()?;
        let mean = self.tapers.iter().map(|taper| taper.value()).sum::<f64>() / n;
        let own = self.tapers.iter().map(|taper| taper.standard_uncertainty()).fold(0.0, f64::max);
        let doubt = (own * own / n).sqrt();
        Estimate::new(mean, doubt, first.degrees_of_freedom()).ok()
    }
}

fn shared_name(signal: Signal) -> &'static str {
    match signal {
        Signal::Light => "method, shared by all shots",
        Signal::Video => "tone curve and open level, shared by all shots",
        Signal::Sound => "from the edge that is heard to the middle of the frame, shared by all shots",
    }
}

/// The shutter's own spread between shots of one marked time, pooled over all of them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spread {
    /// Standard deviation \[stops\].
    pub stops: f64,
    /// Its degrees of freedom.
    pub freedom: f64,
    /// Whether it was measured, or assumed for want of repeats.
    pub measured: bool,
}

impl Spread {
    /// `s² = Σ(SS_g − (n_g − 1)r_g²)/Σ(n_g − 1)`, not below 0: what is left of the scatter when the doubt of the method, new
    /// with each shot, is taken out. Assumed where no group has two shots.
    pub fn of<'g>(groups: impl Iterator<Item = &'g Group<'g>>) -> Self {
        let (mut squares, mut freedom) = (0.0, 0.0);
        for group in groups.filter(|group| group.state >= State::Probable && group.count() > 1) {
            let own = (group.count() - 1) as f64;
            squares += group.squares() - own * group.own_variance();
            freedom += own;
        }
        if freedom > 0.0 {
            Self { stops: (squares / freedom).max(0.0).sqrt(), freedom, measured: true }
        } else {
            Self { stops: ASSUMED_SPREAD_STOPS, freedom: ASSUMED_FREEDOM, measured: false }
        }
    }
}
