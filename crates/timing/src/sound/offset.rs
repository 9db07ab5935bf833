//! The one offset between a series' intervals and its times: every shot's own pairs vote for it, and no vote may make another
//! shot's time absurd.
//!
//! Not here: the intervals (`templates`), an offset that light or video gave (`anchor`).

use super::doubt;
use super::pair::Pair;
use crate::sound::about::Shutter;

/// Votes this close are for the same offset \[s\].
pub(super) const SAME_S: f64 = 0.25e-3;
/// Offsets this far apart are different answers \[s\].
const OTHER_S: f64 = 1.2e-3;
/// The best answer beats the next by this factor.
const CLEARLY: f64 = 1.15;
/// What a shot costs that lies a third of a stop off its mark, in votes.
const ABSURDITY: f64 = 0.22;
const OFF_STOPS: f64 = 0.35;
/// Pairs of a shot that vote.
pub(super) const VOTES: usize = 14;

/// A shot that takes part.
pub(super) struct Voter<'a> {
    /// Its interval in the series \[s\].
    pub interval_s: f64,
    /// Its pairs, the best first.
    pub pairs: &'a [Pair],
    /// The marked times it may be \[s\].
    pub marked_s: &'a [f64],
}

/// What the votes came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Offset {
    /// Time in the middle of the frame less interval \[s\].
    pub centre_s: f64,
    /// Edge interval less interval \[s\].
    pub edge_s: f64,
    /// Standard uncertainty of the way from the edge to the middle \[s\].
    pub centre_u_s: f64,
    /// Standard deviation of the supporters' votes \[s\].
    pub scatter_s: f64,
    /// Shots whose pairs support it.
    pub supporters: usize,
}

/// The offset that most votes are for; nothing where fewer than two shots support one or another is nearly as good. `near`: where
/// light or video says that it lies, and how far off it may be \[s\]; then only what is there can be elected.
pub(super) fn elect(voters: &[Voter<'_>], shutter: Shutter, near: Option<(f64, f64)>) -> Option<Offset> {
    let mut candidates: Vec<f64> =
        voters.iter().flat_map(|v| v.pairs.iter().take(VOTES).map(|pair| pair.time_s - v.interval_s)).collect();
    candidates.retain(|c| near.is_none_or(|(middle, off)| (c - middle).abs() <= off));
    candidates.sort_by(f64::total_cmp);
    // Near-equal candidates have near-equal votes.
    candidates.dedup_by(|b, a| *b - *a < 0.03e-3);
    let totals: Vec<(f64, f64)> = candidates.iter().map(|&c| (c, total(voters, c))).collect();
    let &(best, votes) = totals.iter().max_by(|p, q| p.1.total_cmp(&q.1))?;
    let next = totals.iter().filter(|(c, _)| (c - best).abs() > OTHER_S).map(|t| t.1).fold(0.0, f64::max);
    if votes <= 0.0 || votes < CLEARLY * next {
        return None;
    }
    // Supporters: the mean of their offsets, by weight; and where their pairs show both travels, the way to the middle.
    let (mut weight, mut sum, mut supporters) = (0.0, 0.0, 0);
    let mut centres = Vec::new();
    for voter in voters {
        if let Some((w, pair)) = vote(voter, best) {
            supporters += 1;
            weight += w;
            sum += w * (pair.time_s - voter.interval_s);
            if shutter != Shutter::Leaf
                && doubt::travels_like(pair, shutter)
                && let Some(centre) = pair.centre_s()
            {
                centres.push(centre - voter.interval_s);
            }
        }
    }
    // A wrong pair that confirms itself is rarely that of most shots.
    if supporters < 2 || 2 * supporters < voters.len() || weight <= 0.0 {
        return None;
    }
    let edge_s = sum / weight;
    let squares: f64 = voters
        .iter()
        .filter_map(|voter| vote(voter, best).map(|(w, pair)| (w, pair.time_s - voter.interval_s - edge_s)))
        .map(|(w, off)| w * off * off)
        .sum();
    let scatter_s = (squares / weight).sqrt();
    let unknown = doubt::Centre::unknown(shutter);
    centres.sort_by(f64::total_cmp);
    let middle = centres.get(centres.len() / 2).copied();
    // Both travels are believed when several shots show the same.
    let agreeing = middle.map_or(0, |m| centres.iter().filter(|&&c| (c - m).abs() < 0.12e-3).count());
    let (centre_s, centre_u_s) = match middle {
        Some(middle) if agreeing >= 2 && (middle - edge_s).abs() < 3.0 * unknown.u_s => (middle, 0.06e-3),
        _ => (edge_s, unknown.u_s),
    };
    Some(Offset { centre_s, edge_s, centre_u_s, scatter_s, supporters })
}

fn vote<'a>(voter: &Voter<'a>, offset: f64) -> Option<(f64, &'a Pair)> {
    let near = voter.pairs.iter().take(VOTES).filter(|pair| (pair.time_s - voter.interval_s - offset).abs() <= SAME_S);
    near.map(|pair| (pair.score.min(1.2), pair)).filter(|(w, _)| *w > 0.0).max_by(|p, q| p.0.total_cmp(&q.0))
}

fn total(voters: &[Voter<'_>], offset: f64) -> f64 {
    voters.iter().map(|v| vote(v, offset).map_or(0.0, |(w, _)| w) - ABSURDITY * absurdity(v, offset)).sum()
}

/// How far a shot would then lie from its mark: Huber's function of stops.
fn absurdity(voter: &Voter<'_>, offset: f64) -> f64 {
    let time = voter.interval_s + offset;
    let off = |marked: &f64| {
        let x = if time > 1e-5 { (libm::log2(time / marked) / OFF_STOPS).abs() } else { 30.0 };
        if x <= 1.0 { 0.5 * x * x } else { x - 0.5 }
    };
    voter.marked_s.iter().map(off).fold(f64::INFINITY, f64::min).min(30.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pair(time_s: f64, score: f64) -> Pair {
        Pair { a: 0, b: 1, time_s, score, likeness: score, doublet: 0.0, travel: None }
    }

    #[test]
    fn a_vote_that_makes_the_fastest_absurd_loses() {
        // Everywhere a second pair, 12 ms longer, is a little more alike.
        let times = [0.125, 0.03, 0.004];
        let pairs: Vec<Vec<Pair>> = times.iter().map(|&t| vec![pair(t + 0.012, 0.75), pair(t, 0.65)]).collect();
        let voters: Vec<Voter<'_>> = times
            .iter()
            .zip(&pairs)
            .map(|(t, pairs)| Voter { interval_s: t - 1e-3, pairs, marked_s: core::slice::from_ref(t) })
            .collect();
        let offset = elect(&voters, Shutter::Metal, None).expect("an offset");
        assert!((offset.edge_s - 1e-3).abs() < 1e-6 && offset.supporters == 3, "{offset:?}");
    }

    #[test]
    fn votes_that_disagree_elect_nobody() {
        let pairs = [vec![pair(0.030, 0.5)], vec![pair(0.017, 0.5)]];
        let marked = [0.03, 0.016];
        let voters: Vec<Voter<'_>> = pairs
            .iter()
            .zip(&marked)
            .zip([0.030, 0.012])
            .map(|((pairs, m), interval_s)| Voter { interval_s, pairs, marked_s: core::slice::from_ref(m) })
            .collect();
        assert_eq!(elect(&voters, Shutter::Cloth, None), None);
    }
}
