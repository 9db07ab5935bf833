//! Which photo shows which mark, guessed from the order in time and the size of the opening; the person has the last word.
//!
//! Where the count fits a run over the ring (and back, and again), order decides, so that a stop that lies is not taken for its
//! neighbour; else the size does. Not here: whether the openings are right ([`super::judge`]).

use photometry::FNumberMark;

use super::From;

/// Sizes closer than this are one setting \[stops of area\].
const SAME_STOPS: f64 = 0.25;

/// A photo before it has a mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seen {
    /// When it was taken, on any clock that all of them share.
    pub time: f64,
    /// Area of its opening \[pixels\]; nothing where none was found.
    pub area_px: Option<f64>,
}

/// What a photo is taken for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Guessed {
    /// Index of the mark; nothing where it cannot be guessed.
    pub mark: Option<usize>,
    /// From which side the ring came.
    pub from: From,
}

/// Guesses. `marks` from wide to narrow. Gives one answer for each photo, in the order given. Photos without an opening keep their
/// place in time but get no mark, unless the order alone tells it.
pub fn guess(seen: &[Seen], marks: &[FNumberMark]) -> Vec<Guessed> {
    // Photos of one time stay as they were chosen.
    let order: Vec<usize> = metrology::ascending((0..seen.len()).collect(), |at| seen[*at].time);
    let sizes: Vec<Option<f64>> = order
        .iter()
        .map(|at| seen[*at].area_px.filter(|area| *area > 0.0 && area.is_finite()).map(libm::log2))
        .collect();
    let found = by_order(&sizes, marks.len()).unwrap_or_else(|| by_size(&sizes, marks));
    let sides = sides(&sizes);
    let mut guessed = vec![Guessed { mark: None, from: From::Unknown }; seen.len()];
    for ((at, mark), from) in order.into_iter().zip(found).zip(sides) {
        guessed[at] = Guessed { mark, from };
    }
    guessed
}

/// Runs over the whole ring, each to the smaller or to the larger openings, one photo for each mark.
fn by_order(sizes: &[Option<f64>], marks: usize) -> Option<Vec<Option<usize>>> {
    if marks < 2 || sizes.is_empty() || !sizes.len().is_multiple_of(marks) {
        return None;
    }
    let mut found = Vec::new();
    for run in sizes.chunks(marks) {
        let known: Vec<f64> = run.iter().flatten().copied().collect();
        if known.len() < 2 {
            return None;
        }
        let falls = known.windows(2).all(|pair| pair[1] <= pair[0] + SAME_STOPS);
        let rises = known.windows(2).all(|pair| pair[1] >= pair[0] - SAME_STOPS);
        if !falls && !rises {
            return None;
        }
        let falls = falls && known.first() >= known.last();
        found.extend((0..marks).map(|i| Some(if falls { i } else { marks - 1 - i })));
    }
    Some(found)
}

/// The nearest mark by size, for the scale of the pictures at which all of them fit best; nothing without marks.
fn by_size(sizes: &[Option<f64>], marks: &[FNumberMark]) -> Vec<Option<usize>> {
    let levels: Vec<f64> = marks.iter().map(|mark| -2.0 * libm::log2(mark.exact().value())).collect();
    let Some(largest) = sizes.iter().flatten().copied().reduce(f64::max) else { return vec![None; sizes.len()] };
    let nearest = |size: f64, scale: f64| {
        levels.iter().enumerate().map(|(i, level)| (i, (size - scale - level).abs())).min_by(|a, b| a.1.total_cmp(&b.1))
    };
    // Among scales that fit about as well the one with the widest mark is taken: a run begins there.
    let mut best: Option<(f64, f64)> = None;
    for (i, level) in levels.iter().enumerate() {
        let scale = largest - level;
        let misfit: f64 =
            sizes.iter().flatten().filter_map(|size| nearest(*size, scale)).map(|(_, off)| off * off).sum::<f64>()
                + 0.02 * i as f64;
        if best.is_none_or(|(least, _)| misfit < least) {
            best = Some((misfit, scale));
        }
    }
    let Some((_, scale)) = best else { return vec![None; sizes.len()] };
    sizes.iter().map(|size| nearest((*size)?, scale).map(|(i, _)| i)).collect()
}

/// Openings that shrink come from the open side, those that grow from the closed one; a repeat comes from where its like came.
fn sides(sizes: &[Option<f64>]) -> Vec<From> {
    let mut sides = vec![From::Unknown; sizes.len()];
    let mut last: Option<(usize, f64)> = None;
    for (i, size) in sizes.iter().enumerate() {
        let Some(size) = *size else { continue };
        sides[i] = match last {
            None => From::Unknown,
            Some((before, other)) if (size - other).abs() < SAME_STOPS => sides[before],
            Some((_, other)) if size < other => From::Open,
            Some(_) => From::Closed,
        };
        last = Some((i, size));
    }
    // The first one was come to from outside of the run: it has the side of what follows it.
    if let Some(first) = sizes.iter().position(Option::is_some)
        && let Some(next) = sides.iter().find(|side| **side != From::Unknown).copied()
    {
        sides[first] = next;
    }
    sides
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(texts: &[&str]) -> Vec<FNumberMark> {
        texts.iter().map(|text| FNumberMark::parse(text, texts).expect("a mark")).collect()
    }

    fn seen(sizes: &[f64]) -> Vec<Seen> {
        sizes.iter().enumerate().map(|(i, size)| Seen { time: i as f64, area_px: Some(libm::exp2(*size)) }).collect()
    }

    fn indices(guessed: &[Guessed]) -> Vec<Option<usize>> {
        guessed.iter().map(|one| one.mark).collect()
    }

    #[test]
    fn a_run_is_told_by_its_order_even_where_a_stop_lies() {
        let ring = marks(&["2", "2.8", "4", "5.6"]);
        // f/4 is nearly as wide as f/2.8, and stays f/4.
        let found = guess(&seen(&[16.0, 15.0, 14.9, 13.0]), &ring);
        assert_eq!(indices(&found), [Some(0), Some(1), Some(2), Some(3)]);
        assert!(found.iter().all(|one| one.from == From::Open));
        // There and back again, chosen in another order than taken.
        let mut both = seen(&[16.0, 15.0, 14.0, 13.0, 13.0, 14.0, 15.0, 16.0]);
        both.reverse();
        let found = guess(&both, &ring);
        assert_eq!(indices(&found), [0, 1, 2, 3, 3, 2, 1, 0].map(Some));
        assert_eq!((found[0].from, found[7].from), (From::Closed, From::Open));
    }

    #[test]
    fn a_part_of_the_ring_is_told_by_size() {
        let ring = marks(&["2", "2.8", "4", "5.6", "8"]);
        let found = guess(&seen(&[16.0, 14.1, 12.0]), &ring);
        assert_eq!(indices(&found), [Some(0), Some(2), Some(4)]);
        let mut with_gap = seen(&[16.0, 14.0]);
        with_gap.push(Seen { time: 9.0, area_px: None });
        assert_eq!(indices(&guess(&with_gap, &ring)), [Some(0), Some(2), None]);
        assert_eq!(indices(&guess(&seen(&[1.0]), &[])), [None]);
        assert!(guess(&[], &ring).is_empty());
    }
}
