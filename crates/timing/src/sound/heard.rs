//! What is heard while a take goes on: shots in the last few seconds, each with its provisional time, and whether the level is
//! right.
//!
//! Nothing is kept between calls; a shot near either end of the window is seen whole in the next one. Not here: the take as a
//! whole (`measure`), which alone decides.

use metrology::Estimate;

use super::about::About;
use super::clusters;
use super::doubt::{self, Centre};
use super::measure::best_channel;
use super::not_a_stop::throw_out;
use super::pair;
use super::quality;
use super::verdict::{self, Single};
use crate::error::Error;
use crate::waveform::Waveform;

/// A shot's loudest impact stands at least so far above the floor \[dB\]; less is too quiet to measure.
const QUIET_DB: f64 = 20.0;

/// A shot that was caught.
#[derive(Clone, Debug, PartialEq)]
pub struct Heard {
    /// First and last of its strong sounds \[s\], as the window counts.
    pub start_s: f64,
    /// See `start_s`.
    pub end_s: f64,
    /// Its loudest impact over the floor \[dB\].
    pub level_db: f64,
    /// Its time as far as one shot by itself gives one; only ever a hint.
    pub provisional: Option<Estimate>,
    /// Times that would fit, the best first \[s\].
    pub candidates_s: Vec<f64>,
}

/// The last few seconds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listening {
    /// Shots in the order of time.
    pub heard: Vec<Heard>,
    /// Whether the level is so high that tops are cut off.
    pub clipped: bool,
    /// The floor above 2 kHz \[dB re full scale\].
    pub floor_db: f64,
    /// Whether much else is heard: voices, music.
    pub busy: bool,
    /// Whether the shots hardly stand above the floor.
    pub too_quiet: bool,
}

/// Looks through the last few seconds. `about.marked_s` may hold the one marked time that is asked for now.
///
/// **Errors** where `about` holds times out of range.
pub fn listen(window: &Waveform, about: &About) -> Result<Listening, Error> {
    about.check()?;
    let (mut front, clipped) = best_channel(vec![window.clone()])?;
    let thrown = throw_out(&mut front);
    let asked_s = match about.marked_s.as_slice() {
        [one] => Some(*one),
        _ => None,
    };
    // Several shots of the one time may lie in the window: each cluster is taken for one, or two for one where it is slow.
    let repeated = About { marked_s: asked_s.into_iter().cycle().take(8).collect(), ..about.clone() };
    let shots = clusters::shots(&front, &repeated);
    let busy = quality::is_busy(&front, &thrown.train, &shots);
    let mut too_quiet = false;
    let mut heard = Vec::new();
    for shot in &shots {
        let level = shot.events.iter().map(|event| event.level_db).fold(f64::NEG_INFINITY, f64::max) - front.floor_db;
        if level < quality::LEAST_HEIGHT_DB {
            continue;
        }
        too_quiet |= level < QUIET_DB;
        let pairs = pair::pairs(&front, &shot.events, asked_s);
        let verdict = verdict::judge(&shot.events, &pairs, about, asked_s);
        let provisional = verdict.pair.filter(|_| verdict.single == Single::Answer && !busy).and_then(|pair| {
            let centre = Centre::of(&pair, about.shutter);
            doubt::estimate(pair.time_s + centre.shift_s, verdict.u_s, centre.u_s)
        });
        let (from, to) = shot.span();
        heard.push(Heard {
            start_s: front.seconds(from),
            end_s: front.seconds(to),
            level_db: level,
            provisional,
            candidates_s: verdict.candidates_s,
        });
    }
    Ok(Listening { heard, clipped, floor_db: front.floor_db, busy, too_quiet })
}
