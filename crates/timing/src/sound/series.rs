//! Several shots together: which shot gives the templates of opening and closing, and each shot's interval in the series.
//!
//! Not here: finding a template (`templates`), the offset (`offset`, `anchor`), what is said of each shot (`gate`).

use super::clusters::Heard;
use super::onsets::Front;
use super::prepared::{Prepared, Tables};
use super::signal::Signal;
use super::templates::{Fit, Templates};

/// Fewer shots are no series.
pub(super) const LEAST_SHOTS: usize = 3;
/// The time that is best to cut templates from \[s\]: openings and closings lie apart, and both in one shot.
const BEST_REFERENCE_S: f64 = 1.0 / 16.0;
/// How loud an event of a template must be, below the loudest of the shot \[dB\].
const THRESHOLDS_DB: [f64; 3] = [10.0, 15.0, 20.0];
/// An opening and a closing last at most so long \[s\].
const SPANS_S: [f64; 2] = [26e-3, 12e-3];
/// The gap between both, as a share of the marked time; and the shortest \[s\].
const GAP: (f64, f64) = (0.25, 1.7);
const GAP_LEAST_S: f64 = 7e-3;
/// Choices tried, and shots they are tried on.
const REFERENCES: usize = 3;
const CHOICES: usize = 6;
const TRIED_ON: usize = 7;
/// After so many of them a choice must have come this near the best so far.
const FIRST_TRIED: usize = 3;
const HOPELESS: f64 = 0.8;
/// A shot is found from this share explained and this margin on.
const LEAST_SHARE: f64 = 0.18;
const LEAST_MARGIN: f64 = 0.03;
/// An interval keeps step when it lies within so many stops of its mark.
const IN_STEP_STOPS: f64 = 0.7;
/// The templates are averaged over at most so many shots, evenly spread: more take little away from what is left of chance.
const AVERAGED_OVER: usize = 24;
/// Below this median share single impacts are tried too, and the series is not to be relied on.
pub(super) const REPEATS: f64 = 0.3;
/// Intervals looked at: this factor about the marked time, and so much more \[s\] for the unknown offset.
const RANGE: f64 = 2.83;
const RANGE_MORE_S: f64 = 22e-3;
/// … and where the marked time is not known, up to \[s\].
const RANGE_UNKNOWN_S: f64 = 0.4;

/// Each shot's place in the series.
pub(super) struct Series {
    /// By shot; nothing where the templates were not found.
    pub fits: Vec<Option<Fit>>,
    /// Median share explained over the shots that did not give the templates.
    pub share: f64,
}

/// Solves the series; nothing where no shot offers templates.
pub(super) fn solve(front: &Front, shots: &[Heard], marked_s: &[Option<f64>]) -> Option<Series> {
    if shots.len() < LEAST_SHOTS {
        return None;
    }
    let mut tables = Tables::default();
    let choices = choices(front, shots, marked_s);
    let longest = choices.iter().flat_map(|choice| [choice.opening, choice.closing]);
    let longest = longest.map(|span| Templates::longest(&front.signal, span)).max()?;
    let prepared: Vec<Prepared> = shots
        .iter()
        .zip(marked_s)
        .map(|(heard, marked)| {
            let range = match marked {
                Some(m) => (m / RANGE - RANGE_MORE_S, m * RANGE + RANGE_MORE_S),
                None => (-RANGE_MORE_S, RANGE_UNKNOWN_S),
            };
            Prepared::of(&front.signal, heard, range, longest, &mut tables)
        })
        .collect();
    let mut search = Search { signal: &front.signal, shots: &prepared, marked_s, tables };
    let mut best: Option<Tried> = None;
    for choice in &choices {
        let templates = Templates::cut(front, choice.opening, choice.closing, &mut search.tables);
        search.consider(&mut best, choice.shot, templates);
    }
    let whole = best.as_ref().map_or(0.0, |best| best.share);
    if whole < REPEATS
        && let Some(choice) = choices.first()
        && let Some(heard) = shots.get(choice.shot)
    {
        for opening in loudest(heard, choice.opening) {
            for closing in loudest(heard, choice.closing) {
                let templates = Templates::impacts(front, opening, closing, &mut search.tables);
                search.consider(&mut best, choice.shot, templates);
            }
        }
    }
    let Tried { reference, mut templates, fits: mut known, .. } = best?;
    let share = |found: &Found| {
        let others = found.iter().filter(|(k, _)| *k != reference);
        median(others.map(|(_, fit)| fit.map_or(0.0, |fit| fit.share)).collect())
    };
    let some: Vec<usize> = match shots.len() {
        few @ ..=AVERAGED_OVER => (0..few).collect(),
        many => (0..AVERAGED_OVER).map(|n| n * many / AVERAGED_OVER).collect(),
    };
    known = search.find(&mut templates, some.iter().copied(), &known);
    let good: Vec<Fit> = known.iter().filter_map(|(_, fit)| *fit).filter(is_clear).collect();
    if let Some(mut mean) =
        (good.len() >= LEAST_SHOTS).then(|| templates.averaged(front, &good, &mut search.tables)).flatten()
    {
        let again = search.find(&mut mean, some.iter().copied(), &Found::new());
        if share(&again) >= share(&known) {
            (templates, known) = (mean, again);
        }
    }
    let found = search.find(&mut templates, 0..shots.len(), &known);
    let share = share(&found);
    let fits = found.into_iter().map(|(_, fit)| fit.filter(|fit| fit.share >= LEAST_SHARE)).collect();
    Some(Series { fits, share })
}

/// Shots by their number, and what was found in them.
type Found = Vec<(usize, Option<Fit>)>;

/// Templates that were tried.
struct Tried {
    /// The median share they explain, times the share of shots that keep step.
    share: f64,
    /// The shot they are cut from.
    reference: usize,
    templates: Templates,
    fits: Found,
}

/// Shots made ready, and what is needed to look through them.
struct Search<'a> {
    signal: &'a Signal,
    shots: &'a [Prepared],
    marked_s: &'a [Option<f64>],
    tables: Tables,
}

impl Search<'_> {
    /// Looks for templates in some shots; where it is known already, that is what was found.
    fn find(&mut self, templates: &mut Templates, some: impl Iterator<Item = usize>, known: &Found) -> Found {
        some.map(|k| {
            let fit = match known.iter().find(|(known, _)| *known == k) {
                Some((_, fit)) => *fit,
                None => templates.find(&self.shots[k], self.signal, &mut self.tables),
            };
            (k, fit)
        })
        .collect()
    }

    /// Tries templates on a few of the shots, and keeps them where they are the best so far.
    fn consider(&mut self, best: &mut Option<Tried>, reference: usize, templates: Option<Templates>) {
        let Some(mut templates) = templates else { return };
        let others: Vec<usize> = (0..self.shots.len()).filter(|&k| k != reference).collect();
        let step = others.len().div_ceil(TRIED_ON).max(1);
        let count = others.len().div_ceil(step);
        let mut fits = Found::new();
        let mut shares = Vec::new();
        let mut steps = Vec::new();
        for k in others.into_iter().step_by(step) {
            let fit = templates.find(&self.shots[k], self.signal, &mut self.tables);
            fits.push((k, fit));
            shares.push(fit.map_or(0.0, |fit| fit.share));
            if let (Some(fit), Some(marked)) = (fit, self.marked_s.get(k).copied().flatten()) {
                steps.push((fit.interval / self.signal.rate_hz, marked));
            }
            if let Some(Tried { share: other, .. }) = best {
                // What is far behind after a few shots does not catch up, and a median that half of the shots lie below cannot.
                let behind =
                    fits.len() == FIRST_TRIED && median(shares.clone()) * keeping_step(&steps) < HOPELESS * *other;
                if behind || shares.iter().filter(|share| *share <= other).count() > count / 2 {
                    return;
                }
            }
        }
        let share = median(shares) * keeping_step(&steps);
        if best.as_ref().is_none_or(|best| share > best.share) {
            *best = Some(Tried { share, reference, templates, fits });
        }
    }
}

/// Whether a fit stands by itself.
pub(super) fn is_clear(fit: &Fit) -> bool {
    fit.share >= LEAST_SHARE && fit.margin >= LEAST_MARGIN
}

/// The share of shots whose interval keeps step with the marked time under one common offset: a mirror's sounds explain much
/// and do not.
fn keeping_step(steps: &[(f64, f64)]) -> f64 {
    if steps.len() < 2 {
        return 1.0;
    }
    let kept = |offset: f64| {
        let near = |&&(interval, marked): &&(f64, f64)| {
            let time = interval + offset;
            time > 0.0 && libm::log2(time / marked).abs() < IN_STEP_STOPS
        };
        steps.iter().filter(near).count()
    };
    let most = steps.iter().map(|&(interval, marked)| kept(marked - interval)).max().unwrap_or(0);
    most as f64 / steps.len() as f64
}

/// A way to cut templates.
struct Choice {
    shot: usize,
    opening: (f64, f64),
    closing: (f64, f64),
}

fn choices(front: &Front, shots: &[Heard], marked_s: &[Option<f64>]) -> Vec<Choice> {
    let rate = front.signal.rate_hz;
    let mut order: Vec<(f64, usize)> = Vec::new();
    for (k, (heard, marked)) in shots.iter().zip(marked_s).enumerate() {
        let about = match marked {
            Some(m) => Some(*m),
            None => gap(heard, 15.0, None, rate).map(|(before, after)| (after - before) / rate),
        };
        if let Some(about) = about.filter(|&a| a >= 0.012) {
            order.push((libm::log2(about / BEST_REFERENCE_S).abs(), k));
        }
    }
    order.sort_by(|p, q| p.0.total_cmp(&q.0).then(p.1.cmp(&q.1)));
    let mut choices: Vec<Choice> = Vec::new();
    for &(_, shot) in order.iter().take(REFERENCES) {
        let (Some(heard), Some(marked)) = (shots.get(shot), marked_s.get(shot)) else { continue };
        for threshold in THRESHOLDS_DB {
            let Some((before, after)) = gap(heard, threshold, *marked, rate) else { continue };
            for span in SPANS_S.map(|span| span * rate) {
                let strong = strong(heard, threshold);
                let first = strong.iter().copied().find(|&at| at >= before - span).unwrap_or(before);
                let last = strong.iter().copied().rfind(|&at| at <= after + span).unwrap_or(after);
                let choice = Choice { shot, opening: (first, before), closing: (after, last) };
                let same = |other: &Choice| {
                    other.shot == shot && other.opening == choice.opening && other.closing == choice.closing
                };
                if !choices.iter().any(same) {
                    choices.push(choice);
                }
            }
        }
    }
    choices.truncate(CHOICES * 2);
    choices
}

fn strong(heard: &Heard, threshold_db: f64) -> Vec<f64> {
    let loudest = heard.events.iter().map(|event| event.level_db).fold(f64::NEG_INFINITY, f64::max);
    heard.events.iter().filter(|event| event.level_db >= loudest - threshold_db).map(|event| event.at).collect()
}

/// The largest gap between strong events that can be the time the shutter stood open \[samples\].
fn gap(heard: &Heard, threshold_db: f64, marked_s: Option<f64>, rate: f64) -> Option<(f64, f64)> {
    let strong = strong(heard, threshold_db);
    if let Some((start, _)) = heard.apart {
        let before = strong.iter().copied().rfind(|&at| at <= heard.to + 1.0)?;
        return strong.iter().copied().find(|&at| at >= start - 1.0).map(|after| (before, after));
    }
    let (least, most) = match marked_s {
        Some(m) => ((GAP.0 * m).max(GAP_LEAST_S), GAP.1 * m),
        None => (GAP_LEAST_S, f64::INFINITY),
    };
    let gaps = strong.windows(2).map(|pair| (pair[0], pair[1]));
    gaps.filter(|(a, b)| ((least * rate)..=(most * rate)).contains(&(b - a)))
        .max_by(|p, q| (p.1 - p.0).total_cmp(&(q.1 - q.0)))
}

/// The three loudest events within a span.
fn loudest(heard: &Heard, span: (f64, f64)) -> Vec<f64> {
    let mut inside: Vec<_> =
        heard.events.iter().filter(|event| event.at >= span.0 - 1.0 && event.at <= span.1 + 1.0).collect();
    inside.sort_by(|a, b| b.level_db.total_cmp(&a.level_db));
    inside.into_iter().take(3).map(|event| event.at).collect()
}

pub(super) fn median(mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(0.0)
}
