//! Events that lie together are one shot, or, for slow times, its beginning and its end; which of the marked times each one is,
//! as far as their spacing says.
//!
//! Not here: what the shots' sounds say about that (`series`).

use super::about::About;
use super::align::{Costs, align};
use super::onsets::{Event, Front};

/// Events this close belong together \[s\].
pub(super) const TOGETHER_S: f64 = 0.22;
/// An event this far below the shots' usual loudest \[dB\] does not begin or end a shot.
const STRONG_DB: f64 = 16.0;
/// Groups this far below the loudest are no shots, when the usual loudness is asked for \[dB\].
const SHOTS_DB: f64 = 24.0;
/// Around a shot, weaker events count from so far before and after \[s\].
const MARGIN_S: f64 = 45e-3;
/// A slow shot's ends lie this factor about the marked time at most.
const SPACING: f64 = 2.4;
/// From this marked time on \[s\] beginning and end may lie apart.
const SLOW_S: f64 = 0.12;
/// A shot lasts the marked time times this, and so much more \[s\], and with a mirror so much more again \[s\].
const LONGEST: f64 = 2.83;
const LONGER_S: f64 = 90e-3;
const MIRROR_S: f64 = 160e-3;
/// So many shots are looked at in one take.
pub(super) const MOST_SHOTS: usize = 300;

/// What was heard together.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cluster {
    /// First and last strong event \[samples\].
    pub from: f64,
    pub to: f64,
    /// Loudest event \[dB\].
    pub level_db: f64,
}

/// A shot as the spacing of events gives it.
#[derive(Clone, Debug)]
pub(super) struct Heard {
    /// The strong events' span \[samples\], or that of its beginning.
    pub from: f64,
    pub to: f64,
    /// Where its end begins and ends, when it lies apart \[samples\].
    pub apart: Option<(f64, f64)>,
    /// Which marked time it is, as far as is known.
    pub marked: Option<usize>,
    /// It is too short for its mark: something else may be wrong.
    pub short: bool,
    /// Its events, in the order of time.
    pub events: Vec<Event>,
}

impl Heard {
    /// First sample of its beginning and last of its end.
    pub fn span(&self) -> (f64, f64) {
        (self.from, self.apart.map_or(self.to, |(_, to)| to))
    }
}

/// Groups of strong events.
pub(super) fn clusters(front: &Front) -> Vec<Cluster> {
    let together = front.signal.samples(TOGETHER_S);
    let group = |threshold: f64| {
        let mut groups: Vec<Cluster> = Vec::new();
        for event in front.events.iter().filter(|event| event.level_db >= threshold) {
            match groups.last_mut() {
                Some(last) if event.at - last.to < together => {
                    last.to = event.at;
                    last.level_db = last.level_db.max(event.level_db);
                }
                _ => groups.push(Cluster { from: event.at, to: event.at, level_db: event.level_db }),
            }
        }
        groups
    };
    let mut levels: Vec<f64> = group(f64::NEG_INFINITY).iter().map(|cluster| cluster.level_db).collect();
    levels.sort_by(|a, b| b.total_cmp(a));
    let Some(&loudest) = levels.first() else { return Vec::new() };
    levels.retain(|&level| level >= loudest - SHOTS_DB);
    group(levels[levels.len() / 2] - STRONG_DB)
}

struct Spacing<'a> {
    clusters: &'a [Cluster],
    about: &'a About,
    rate: f64,
    usual_db: f64,
}

impl Costs for Spacing<'_> {
    fn matched(&self, first: usize, last: usize, mark: usize) -> Option<f64> {
        let (a, b) = (self.clusters.get(first)?, self.clusters.get(last)?);
        let marked = *self.about.marked_s.get(mark)?;
        let span = (b.to - a.from) / self.rate;
        if first == last {
            let longest = longest_s(self.about, marked);
            let short = match is_short(span, marked) {
                true if marked >= SLOW_S => 1.8,
                true => 0.8,
                false => 0.0,
            };
            let long = if span > longest { (span / longest - 1.0).min(1.0) } else { 0.0 };
            return Some(short + long);
        }
        if marked < SLOW_S {
            return None;
        }
        let spacing = (b.from - a.from) / self.rate;
        if !(spacing < 2.0 * SPACING * marked && spacing * 2.0 * SPACING > marked) {
            return None;
        }
        let off = libm::log2(spacing / marked).abs();
        // What lies between is the slow train of a clockwork; each of it makes the match less likely.
        let between = (last - first - 1) as f64 * 0.15;
        let weak = (self.usual_db - a.level_db.min(b.level_db) - 10.0).max(0.0) * 0.1;
        (off <= libm::log2(SPACING)).then_some(0.5 * off + between + weak)
    }

    fn extra(&self, thing: usize) -> f64 {
        let below = self.clusters.get(thing).map_or(0.0, |cluster| self.usual_db - cluster.level_db);
        (1.4 - 0.1 * below.max(0.0)).max(0.3)
    }

    fn missing(&self, _: usize) -> f64 {
        1.7
    }
}

/// Whether sounds that last so long cannot hold the marked time.
fn is_short(span_s: f64, marked_s: f64) -> bool {
    span_s < marked_s / SPACING - 4e-3
}

/// How long the sounds of a shot may last \[s\].
pub(super) fn longest_s(about: &About, marked_s: f64) -> f64 {
    LONGEST * marked_s + LONGER_S + if about.mirror { MIRROR_S } else { 0.0 }
}

/// The shots, each with the mark that its place in the order gives it. What matches no mark comes without one.
pub(super) fn shots(front: &Front, about: &About) -> Vec<Heard> {
    let mut clusters = clusters(front);
    if clusters.len() > 2 * MOST_SHOTS {
        // The loudest are kept.
        let mut levels: Vec<f64> = clusters.iter().map(|cluster| cluster.level_db).collect();
        levels.sort_by(|a, b| b.total_cmp(a));
        let least = levels[2 * MOST_SHOTS];
        clusters.retain(|cluster| cluster.level_db > least);
    }
    let mut levels: Vec<f64> = clusters.iter().map(|cluster| cluster.level_db).collect();
    levels.sort_by(f64::total_cmp);
    let usual_db = levels.get(levels.len() / 2).copied().unwrap_or(0.0);
    let spacing = Spacing { clusters: &clusters, about, rate: front.signal.rate_hz, usual_db };
    let matches = align(clusters.len(), about.marked_s.len(), &spacing);
    let mut next = matches.iter().peekable();
    let mut found = Vec::new();
    let mut c = 0;
    while let Some(&cluster) = clusters.get(c) {
        let (mut heard, last) = match next.next_if(|m| m.first == c) {
            Some(m) => {
                let apart = clusters.get(m.last).filter(|_| m.last > c).map(|end| (end.from, end.to));
                let heard = Heard {
                    from: cluster.from,
                    to: cluster.to,
                    apart,
                    marked: Some(m.mark),
                    short: false,
                    events: Vec::new(),
                };
                (heard, m.last)
            }
            None => {
                let heard = Heard {
                    from: cluster.from,
                    to: cluster.to,
                    apart: None,
                    marked: None,
                    short: false,
                    events: Vec::new(),
                };
                (heard, c)
            }
        };
        collect(front, about, &mut heard);
        found.push(heard);
        c = last + 1;
    }
    found.truncate(MOST_SHOTS);
    found
}

/// Gathers a shot's events, after cutting off what precedes it by more than a shot can last.
fn collect(front: &Front, about: &About, heard: &mut Heard) {
    let rate = front.signal.rate_hz;
    let marked_s = heard.marked.and_then(|mark| about.marked_s.get(mark)).copied();
    if let (Some(marked_s), None) = (marked_s, heard.apart) {
        let longest = longest_s(about, marked_s) * rate;
        if heard.to - heard.from > longest {
            heard.from = loudest_stretch(front, heard.from, heard.to, longest);
            let end = heard.from + longest;
            let inside = front.events.iter().rev().find(|event| event.at <= end.min(heard.to));
            heard.to = inside.map_or(end, |event| event.at.max(heard.from));
        }
    }
    let (from, to) = heard.span();
    heard.short = marked_s.is_some_and(|marked_s| is_short((to - from) / rate, marked_s));
    let margin = MARGIN_S * rate;
    let first = front.events.partition_point(|event| event.at < from - margin);
    let last = front.events.partition_point(|event| event.at <= to + margin);
    heard.events = front.events[first..last.max(first)].to_vec();
}

/// The first event of the stretch no longer than `longest` that holds the most energy.
fn loudest_stretch(front: &Front, from: f64, to: f64, longest: f64) -> f64 {
    let first = front.events.partition_point(|event| event.at < from);
    let last = front.events.partition_point(|event| event.at <= to);
    let events = &front.events[first..last.max(first)];
    let energy = |event: &Event| libm::pow(10.0, event.level_db / 10.0);
    let (mut sum, mut end) = (0.0, 0);
    let mut best = (f64::NEG_INFINITY, from);
    for begin in events {
        while let Some(event) = events.get(end).filter(|event| event.at <= begin.at + longest) {
            sum += energy(event);
            end += 1;
        }
        if sum > best.0 * 1.001 {
            best = (sum, begin.at);
        }
        sum -= energy(begin);
    }
    best.1
}
