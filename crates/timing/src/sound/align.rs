//! Two lists in the order of time put side by side: things heard and times marked, either of which may lack one or have one
//! too many.
//!
//! Not here: what a good match is (`clusters`, `series`).

/// Most things heard that may be taken together for one mark.
const FURTHEST: usize = 40;

/// What a match costs.
pub(super) trait Costs {
    /// Things `first ..= last` taken together for `mark`; nothing where they cannot be. Infinite costs count as nothing.
    fn matched(&self, first: usize, last: usize, mark: usize) -> Option<f64>;
    /// A thing that was heard and is no shot, or one too many.
    fn extra(&self, thing: usize) -> f64;
    /// A mark for which nothing was heard.
    fn missing(&self, mark: usize) -> f64;
}

/// One match: things `first ..= last` for `mark`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Match {
    pub first: usize,
    pub last: usize,
    pub mark: usize,
}

/// The cheapest way to match `things` with `marks`, both kept in order, by dynamic programming.
pub(super) fn align(things: usize, marks: usize, costs: &impl Costs) -> Vec<Match> {
    #[derive(Clone, Copy)]
    enum Step {
        Begin,
        Extra,
        Missing,
        Matched(usize),
    }
    let width = marks + 1;
    let mut table = vec![(f64::INFINITY, Step::Begin); (things + 1) * width];
    table[0].0 = 0.0;
    for i in 0..=things {
        for k in 0..=marks {
            let (cost, _) = table[i * width + k];
            if !cost.is_finite() {
                continue;
            }
            let mut offer = |cell: usize, new: f64, step: Step| {
                if new < table[cell].0 {
                    table[cell] = (new, step);
                }
            };
            if k < marks {
                offer(i * width + k + 1, cost + costs.missing(k), Step::Missing);
            }
            if i < things {
                offer((i + 1) * width + k, cost + costs.extra(i), Step::Extra);
            }
            if k < marks {
                for last in i..things.min(i + FURTHEST) {
                    if let Some(price) = costs.matched(i, last, k) {
                        offer((last + 1) * width + k + 1, cost + price, Step::Matched(i));
                    }
                }
            }
        }
    }
    let (mut i, mut k) = (things, marks);
    let mut found = Vec::new();
    while i > 0 || k > 0 {
        match table[i * width + k].1 {
            Step::Begin => break,
            Step::Extra => i -= 1,
            Step::Missing => k -= 1,
            Step::Matched(first) => {
                found.push(Match { first, last: i - 1, mark: k - 1 });
                (i, k) = (first, k - 1);
            }
        }
    }
    found.reverse();
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers against numbers; a pair of things may stand for its sum.
    struct Numbers<'a>(&'a [f64], &'a [f64]);

    impl Costs for Numbers<'_> {
        fn matched(&self, first: usize, last: usize, mark: usize) -> Option<f64> {
            (last - first < 2).then(|| (self.0[first..=last].iter().sum::<f64>() - self.1[mark]).abs())
        }
        fn extra(&self, _: usize) -> f64 {
            2.0
        }
        fn missing(&self, _: usize) -> f64 {
            2.0
        }
    }

    fn marks(heard: &[f64], marked: &[f64]) -> Vec<(usize, usize, usize)> {
        align(heard.len(), marked.len(), &Numbers(heard, marked)).iter().map(|m| (m.first, m.last, m.mark)).collect()
    }

    #[test]
    fn one_too_few_and_one_too_many_are_seen() {
        assert_eq!(marks(&[1.1, 8.2, 16.0], &[1.0, 4.0, 8.0, 16.0]), [(0, 0, 0), (1, 1, 2), (2, 2, 3)]);
        assert_eq!(marks(&[1.0, 30.0, 8.0], &[1.0, 8.0]), [(0, 0, 0), (2, 2, 1)]);
        assert_eq!(marks(&[3.0, 5.0, 1.0], &[8.0, 1.0]), [(0, 1, 0), (2, 2, 1)]);
        assert!(marks(&[], &[1.0]).is_empty() && marks(&[1.0], &[]).is_empty());
    }
}
