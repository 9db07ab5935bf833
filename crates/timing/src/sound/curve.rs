//! A correlation over time: the highest of every piece of it, and its peaks.
//!
//! Not here: what a peak is evidence of (`rows`, `templates`).

use crate::extremes::highest;

/// Samples of a piece: a piece of which nothing can count is passed over.
pub(super) const PIECE: usize = 32;

/// A correlation with the highest of every piece of it.
#[derive(Clone, Copy)]
pub(super) struct Curve<'a> {
    pub values: &'a [f32],
    pub tops: &'a [f32],
}

impl<'a> Curve<'a> {
    /// Looks through a correlation; `tops` takes the highest of its pieces, 0 where none is above it.
    pub fn of(values: &'a [f32], tops: &'a mut Vec<f32>) -> Self {
        tops.clear();
        tops.extend(values.chunks(PIECE).map(highest));
        Self { values, tops }
    }

    /// The highest samples that are `apart` from one another and above this share of the highest of all, at most so many.
    pub fn peaks(self, apart: usize, share: f32, most: usize) -> Vec<usize> {
        let curve = self.values;
        let least = share * highest(self.tops);
        let mut tops: Vec<usize> = Vec::new();
        let last = curve.len().saturating_sub(1);
        for (n, &top) in self.tops.iter().enumerate() {
            // Most of a curve lies below.
            if top > least {
                let places = (n * PIECE).max(1)..last.min((n + 1) * PIECE);
                tops.extend(
                    places.filter(|&i| curve[i] > least && curve[i] >= curve[i - 1] && curve[i] > curve[i + 1]),
                );
            }
        }
        tops.sort_unstable_by(|&i, &j| curve[j].total_cmp(&curve[i]).then(i.cmp(&j)));
        let mut chosen: Vec<usize> = Vec::with_capacity(most);
        for top in tops {
            if chosen.len() == most {
                break;
            }
            if chosen.iter().all(|&other| other.abs_diff(top) >= apart) {
                chosen.push(top);
            }
        }
        chosen
    }
}
