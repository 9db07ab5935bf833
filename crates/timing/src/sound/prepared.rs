//! A shot made ready for any template: its samples' transform, kept for the next template; and the tables of the transforms.
//!
//! Not here: the templates, and finding them (`templates`).

use super::clusters::Heard;
use super::signal::Signal;
use crate::correlation::{Correlation, Parts};

/// A shot is read from this long before to this long after its strong events \[s\]; beginning and end at most so far each \[s\].
const BEFORE_S: f64 = 30e-3;
const AFTER_S: f64 = 45e-3;
const REGION_S: f64 = 0.34;

/// A stretch of a shot with its transform.
pub(super) struct Region {
    /// First sample.
    pub start: i64,
    /// Number of samples.
    pub length: usize,
    pub spectrum: Parts,
    /// Number of the table that it was made with.
    pub table: usize,
}

/// A shot made ready for any template.
pub(super) struct Prepared {
    pub first: Region,
    /// Where its end lies apart from its beginning.
    pub second: Option<Region>,
    /// The intervals looked at \[samples\].
    pub range: (i64, i64),
}

/// What is filled anew for every shot and template.
#[derive(Default)]
pub(super) struct Scratch {
    pub first: Parts,
    pub second: Parts,
    pub tops: (Vec<f32>, Vec<f32>),
    pub cells: Vec<f32>,
}

/// Transforms by length.
#[derive(Default)]
pub(super) struct Tables {
    tables: Vec<Correlation>,
    pub scratch: Scratch,
}

impl Tables {
    /// The number of the one for so many points; one that there is already where it is no longer than what fits.
    pub fn fitting(&mut self, length: usize) -> usize {
        let most = Correlation::fitting(length);
        self.tables.iter().position(|table| (length..=most).contains(&table.length())).unwrap_or_else(|| {
            self.tables.push(Correlation::new(length));
            self.tables.len() - 1
        })
    }

    /// One of them.
    pub fn table(&self, number: usize) -> &Correlation {
        &self.tables[number]
    }
}

impl Prepared {
    /// Reads a shot for templates of at most `longest` samples. `range_s`: the intervals that may be \[s\].
    pub fn of(signal: &Signal, heard: &Heard, range_s: (f64, f64), longest: usize, tables: &mut Tables) -> Self {
        let (before, after) = (signal.samples(BEFORE_S), signal.samples(AFTER_S));
        let most = signal.samples(REGION_S);
        // What of a template is beyond the end lies on the beginning, as the transform goes round: beyond a shot's own end, on the
        // quiet before it.
        let mut region = |from: f64, to: f64, quiet: f64| {
            let start = from as i64;
            let length = (to - from).max(1.0) as usize;
            let table = tables.fitting(length + longest.saturating_sub(quiet as usize));
            let spectrum = tables.table(table).spectrum(&signal.read(start, length), &[]);
            Region { start, length, spectrum, table }
        };
        let (from, to) = (heard.from - before, heard.to + after);
        let apart = match heard.apart {
            Some((a, b)) => Some((a - before, (b + after).min(a + most))),
            // One long cluster: its beginning, and its end.
            None if to - from > 2.0 * most => Some((to - most, to)),
            None => None,
        };
        let first_end = if apart.is_some() { to.min(from + most) } else { to };
        Self {
            first: region(from, first_end, before),
            second: apart.map(|(a, b)| region(a, b, 0.0)),
            range: (signal.samples(range_s.0) as i64, signal.samples(range_s.1) as i64),
        }
    }
}
