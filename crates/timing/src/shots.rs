//! Shots against the times marked on the dial, in the order in which they were fired.
//!
//! For the ways of measuring that see each shot by itself (light, video); a series of sounds is solved together with its marks
//! (`sound`). Not here: whether an error is allowed (the crates above this one).

use crate::error::Error;
use crate::shot::{Notice, Shot, State, Take};

/// Most shots and most marks that are put against one another.
pub const MOST_SHOTS: usize = 300;
/// Code of the notice that a shot would fit another mark nearly as well.
pub const MARK_UNSURE: &str = "mark-unsure";
/// Most shots of one mark in a row.
pub const MOST_REPEATS: usize = 5;

// Costs are negative logarithms of how likely something is, as far as that can be said of cameras that nobody knows yet.
/// One mark without a shot, or one shot that belongs to no mark: where there are as many shots as marks, and where there are not. As
/// many of both is what a series gives that was fired as it was asked for; that one is missing and another too many is rarer.
const ASTRAY: (f64, f64) = (4.75, 3.5);
/// One shot more of the same mark, where there are more shots than marks, and where there are not.
const REPEATED: (f64, f64) = (0.5, 2.5);
/// How far shots of a camera lie about its own mean error, and that about none \[stops\].
const SPREAD: f64 = 0.3;
const MEAN_SPREAD: f64 = 0.6;
/// Beyond this many spreads a further spread costs no more than the one before it.
const BEND: f64 = 1.5;
/// What a shot without a time costs at any mark.
const UNKNOWN: f64 = 1.0;
/// Mean errors of the camera that are tried \[stops\], each way, and their step.
const MEAN_STEPS: i32 = 12;
const MEAN_STEP: f64 = 0.25;
/// A second way to put the shots that costs less than this more is spoken of: it is not ten times less likely.
const UNSURE: f64 = 2.3;
/// Two marks nearer than this are one and the same \[stops\].
const SAME: f64 = 0.01;
/// An error beyond this is spoken of \[stops\].
const FAR: f64 = 1.0;

/// Which shot belongs to which mark.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Assignment {
    /// For each shot the index of its mark; `None` where it belongs to none.
    pub marks: Vec<Option<usize>>,
    /// Marks that have no shot.
    pub missing: Vec<usize>,
    /// Shots that might as well belong to another mark.
    pub unsure: Vec<usize>,
}

/// Puts shots against marked times.
///
/// **Arguments** `times_s` measured times \[s\] in the order of shooting, `None` where there is none: such a shot takes the
/// place that the order leaves it; `marked_s` exact values of the marks \[s\], in the order of shooting; `repeats` how many shots
/// one mark may have in a row, 1 to [`MOST_REPEATS`].
///
/// Marks keep their order; each has no shot (missing), one, or up to `repeats`; a shot may belong to none (extra). Of all ways
/// the one of the least cost is taken: the sum over shots of ρ((log2(t/t_marked) − m)/0.3 stop), ρ(z) = z²/2 up to 1.5 and
/// straight beyond, with m the mean error of the camera, itself at a cost, and of a cost for each missing, extra and repeated
/// shot. A camera that is a stop slow throughout is therefore not mistaken for one that was fired a mark later.
///
/// **Errors** where there are more than [`MOST_SHOTS`] of either, or a time or mark is not above 0.
pub fn assign(times_s: &[Option<f64>], marked_s: &[f64], repeats: usize) -> Result<Assignment, Error> {
    for (count, what) in [(times_s.len(), "shots"), (marked_s.len(), "marked times")] {
        if count > MOST_SHOTS {
            return Err(Error::new(format!("at most {MOST_SHOTS} {what} are put in order, and {count} were given")));
        }
    }
    if !(1..=MOST_REPEATS).contains(&repeats) {
        return Err(Error::new(format!("a mark may have 1 to {MOST_REPEATS} shots, and {repeats} was given")));
    }
    let stops = |time: f64, what: &str| match libm::log2(time) {
        stops if time > 0.0 && stops.is_finite() => Ok(stops),
        _ => Err(Error::new(format!("the {what} must be above 0 s, and {time} s was given"))),
    };
    let shots = times_s.iter().map(|time| time.map(|time| stops(time, "measured time")).transpose());
    let marks = marked_s.iter().map(|&time| stops(time, "marked time"));
    let problem = Problem {
        shots: shots.collect::<Result<_, _>>()?,
        marks: marks.collect::<Result<_, _>>()?,
        repeats,
        repeated: if times_s.len() > marked_s.len() { REPEATED.0 } else { REPEATED.1 },
        astray: if times_s.len() == marked_s.len() { ASTRAY.0 } else { ASTRAY.1 },
    };
    Ok(problem.solved())
}

/// Puts the shots of a take against marks as [`assign`] does, and says in notices what is missing, extra, unsure or far off.
///
/// More shots than are put in order are left without marks, and a notice says so. **Errors** as [`assign`].
pub fn put(take: &mut Take, marked_s: &[f64], repeats: usize) -> Result<(), Error> {
    if marked_s.is_empty() {
        return Ok(());
    }
    if take.shots.len() > MOST_SHOTS {
        take.notices.push(Notice::new(
            "too-many-shots",
            format!(
                "There are {} shots in the recording, and at most {MOST_SHOTS} are put against marked times: record fewer in one go.",
                take.shots.len()
            ),
        ));
        return Ok(());
    }
    let time = |shot: &Shot| shot.time.map(metrology::Estimate::value).filter(|time| *time > 0.0);
    let times: Vec<Option<f64>> = take.shots.iter().map(time).collect();
    let found = assign(&times, marked_s, repeats)?;
    for (i, (shot, mark)) in take.shots.iter_mut().zip(&found.marks).enumerate() {
        shot.marked = *mark;
        let Some(marked) = mark.and_then(|mark| marked_s.get(mark)) else {
            shot.notices.push(Notice::new(
                "shot-extra",
                "This shot fits none of the marked times in their order: drop it, or say which mark it belongs to.",
            ));
            continue;
        };
        if found.unsure.contains(&i) {
            shot.notices.push(Notice::new(
                MARK_UNSURE,
                "This shot would fit another marked time nearly as well: check which one was set.",
            ));
        }
        let far = shot.state > State::CannotTell
            && times
                .get(i)
                .copied()
                .flatten()
                .and_then(|time| error_stops(time, *marked))
                .is_some_and(|error| error.abs() > FAR);
        if far && !shot.has("far-from-nominal") {
            shot.notices.push(Notice::new(
                "far-from-nominal",
                "The time is more than a stop away from its mark: check which mark was set, and fire it again.",
            ));
        }
    }
    if !take.shots.is_empty() {
        for mark in found.missing {
            take.notices.push(Notice::new(
                "shot-missing",
                format!(
                    "No shot was found for the marked time number {} of {}: fire it again.",
                    mark + 1,
                    marked_s.len()
                ),
            ));
        }
    }
    Ok(())
}

/// Error of a time against its mark, `log2(t/t_marked)` \[stops\]: above 0 it is open too long. `None` where one of the two is
/// not above 0.
pub fn error_stops(time_s: f64, marked_s: f64) -> Option<f64> {
    Some(libm::log2(time_s / marked_s)).filter(|error| time_s > 0.0 && marked_s > 0.0 && error.is_finite())
}

struct Problem {
    /// Measured times [log2 s].
    shots: Vec<Option<f64>>,
    /// Marks [log2 s].
    marks: Vec<f64>,
    repeats: usize,
    repeated: f64,
    astray: f64,
}

/// Costs of everything before (or behind) a place between shots and marks, for each mean error.
type Costs = Vec<f64>;

impl Problem {
    fn means() -> impl Iterator<Item = f64> {
        (-MEAN_STEPS..=MEAN_STEPS).map(|step| f64::from(step) * MEAN_STEP)
    }

    fn at(&self, shot: usize, mark: usize) -> usize {
        shot * (self.marks.len() + 1) + mark
    }

    /// Cost of the shots from `first` on, `count` of them, all at one mark.
    fn at_mark(&self, first: usize, count: usize, mark: usize, mean: f64) -> f64 {
        let Some(marked) = self.marks.get(mark) else { return f64::INFINITY };
        let shots = self.shots.iter().skip(first).take(count);
        let fit: f64 = shots.map(|shot| shot.map_or(UNKNOWN, |time| far((time - marked - mean) / SPREAD))).sum();
        fit + self.repeated * (count.saturating_sub(1)) as f64
    }

    /// Least cost of every way from the beginning to each place, and the step that leads there last: how many shots, and
    /// whether a mark was passed.
    fn before(&self, mean: f64) -> (Costs, Vec<(usize, bool)>) {
        let (shots, marks) = (self.shots.len(), self.marks.len());
        let mut costs = vec![f64::INFINITY; (shots + 1) * (marks + 1)];
        let mut steps = vec![(0, false); costs.len()];
        costs[0] = far(mean / MEAN_SPREAD);
        for shot in 0..=shots {
            for mark in 0..=marks {
                let so_far = costs[self.at(shot, mark)];
                let mut offer = |to: usize, cost: f64, step: (usize, bool)| {
                    if so_far + cost < costs[to] {
                        costs[to] = so_far + cost;
                        steps[to] = step;
                    }
                };
                if mark < marks {
                    for count in 1..=self.repeats.min(shots - shot) {
                        let cost = self.at_mark(shot, count, mark, mean);
                        offer(self.at(shot + count, mark + 1), cost, (count, true));
                    }
                    offer(self.at(shot, mark + 1), self.astray, (0, true));
                }
                if shot < shots {
                    offer(self.at(shot + 1, mark), self.astray, (1, false));
                }
            }
        }
        (costs, steps)
    }

    /// Least cost of every way from each place to the end.
    fn behind(&self, mean: f64) -> Costs {
        let (shots, marks) = (self.shots.len(), self.marks.len());
        let mut costs = vec![f64::INFINITY; (shots + 1) * (marks + 1)];
        for shot in (0..=shots).rev() {
            for mark in (0..=marks).rev() {
                let mut least = if (shot, mark) == (shots, marks) { 0.0 } else { f64::INFINITY };
                if mark < marks {
                    for count in 1..=self.repeats.min(shots - shot) {
                        let on = costs[self.at(shot + count, mark + 1)];
                        least = least.min(self.at_mark(shot, count, mark, mean) + on);
                    }
                    least = least.min(self.astray + costs[self.at(shot, mark + 1)]);
                }
                if shot < shots {
                    least = least.min(self.astray + costs[self.at(shot + 1, mark)]);
                }
                costs[self.at(shot, mark)] = least;
            }
        }
        costs
    }

    fn solved(&self) -> Assignment {
        let (shots, marks) = (self.shots.len(), self.marks.len());
        let end = self.at(shots, marks);
        let mut best = (f64::INFINITY, 0.0, Vec::new());
        for mean in Self::means() {
            let (costs, steps) = self.before(mean);
            if costs[end] < best.0 {
                best = (costs[end], mean, steps);
            }
        }
        let (least, _, steps) = best;
        let mut found = Assignment { marks: vec![None; shots], ..Assignment::default() };
        let (mut shot, mut mark) = (shots, marks);
        while (shot, mark) != (0, 0) {
            let Some(&(count, passed)) = steps.get(self.at(shot, mark)) else { break };
            if passed {
                mark -= 1;
                found.marks.iter_mut().skip(shot - count).take(count).for_each(|place| *place = Some(mark));
                if count == 0 {
                    found.missing.push(mark);
                }
            }
            shot -= count;
        }
        found.missing.reverse();
        found.unsure = self.unsure(&found.marks, least);
        found
    }

    /// Shots with a way nearly as cheap that puts them at another mark, or at none.
    fn unsure(&self, chosen: &[Option<usize>], least: f64) -> Vec<usize> {
        let (shots, marks) = (self.shots.len(), self.marks.len());
        let value = |mark: Option<usize>| mark.and_then(|mark| self.marks.get(mark)).copied();
        let other = |shot: usize, mark: Option<usize>| match (value(chosen[shot]), value(mark)) {
            (Some(a), Some(b)) => (a - b).abs() > SAME,
            (a, b) => a.is_some() != b.is_some(),
        };
        let mut second = vec![f64::INFINITY; shots];
        for mean in Self::means() {
            let (before, behind) = (self.before(mean).0, self.behind(mean));
            for shot in 0..shots {
                for mark in 0..=marks {
                    let start = before[self.at(shot, mark)];
                    if other(shot, None) {
                        second[shot] = second[shot].min(start + self.astray + behind[self.at(shot + 1, mark)]);
                    }
                    for count in 1..=if mark < marks { self.repeats.min(shots - shot) } else { 0 } {
                        let way =
                            start + self.at_mark(shot, count, mark, mean) + behind[self.at(shot + count, mark + 1)];
                        for (at, least) in second.iter_mut().enumerate().skip(shot).take(count) {
                            if other(at, Some(mark)) {
                                *least = least.min(way);
                            }
                        }
                    }
                }
            }
        }
        (0..shots).filter(|&shot| second[shot] - least < UNSURE).collect()
    }
}

/// Half the square, straight from the bend on.
fn far(spreads: f64) -> f64 {
    let z = spreads.abs();
    if z <= BEND { z * z / 2.0 } else { BEND * (z - BEND / 2.0) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use metrology::Estimate;
    use proptest::prelude::*;

    const LADDER: [f64; 6] = [0.25, 0.125, 0.0625, 1.0 / 32.0, 1.0 / 64.0, 1.0 / 128.0];

    fn of(times: &[f64], repeats: usize) -> Assignment {
        let times: Vec<Option<f64>> = times.iter().map(|&time| Some(time)).collect();
        assign(&times, &LADDER, repeats).expect("an assignment")
    }

    fn off(stops: f64) -> Vec<f64> {
        LADDER.iter().map(|time| time * libm::exp2(stops)).collect()
    }

    /// A gummed escapement and a fast end that runs short: 22 shots of 22 marks stay where they were fired.
    #[test]
    fn as_many_shots_as_marks_are_not_moved_by_one() {
        let marks: Vec<f64> = (0..11).flat_map(|i| [libm::exp2(-f64::from(i)); 2]).collect();
        let error = |time: f64| match time {
            time if time > 0.03 => 0.7,
            time if time < 0.0015 => -0.8,
            _ => 0.1,
        };
        let times: Vec<Option<f64>> = marks.iter().map(|time| Some(time * libm::exp2(error(*time)))).collect();
        let found = assign(&times, &marks, 1).expect("an assignment");
        assert!(found.missing.is_empty());
        assert_eq!(found.marks, (0..22).map(Some).collect::<Vec<_>>());
    }

    #[test]
    fn each_shot_takes_its_mark() {
        for stops in [0.0, 0.3, -0.4, 1.0] {
            let found = of(&off(stops), 1);
            assert_eq!(found.marks, [0, 1, 2, 3, 4, 5].map(Some), "{stops}");
            assert!(found.missing.is_empty());
        }
        assert!(of(&off(0.1), 1).unsure.is_empty());
        let dragging = [0.6, 0.25, 0.09, 0.034, 0.0160, 0.0079];
        assert_eq!(of(&dragging, 1).marks, [0, 1, 2, 3, 4, 5].map(Some));
    }

    #[test]
    fn a_missing_shot_leaves_its_mark_empty() {
        for gone in 0..LADDER.len() {
            let mut times = off(0.15);
            times.remove(gone);
            let found = of(&times, 1);
            assert_eq!(found.missing, [gone], "{gone}");
            let expected: Vec<_> = (0..LADDER.len()).filter(|mark| *mark != gone).map(Some).collect();
            assert_eq!(found.marks, expected);
        }
    }

    #[test]
    fn a_shot_too_many_belongs_to_no_mark_or_is_a_second_one() {
        let mut times = off(-0.1);
        times.insert(3, 1.9);
        let found = of(&times, 3);
        assert_eq!(found.marks[3], None);
        assert!(found.missing.is_empty());
        let mut twice = off(0.05);
        twice.insert(3, LADDER[2]);
        assert_eq!(of(&twice, 2).marks, [0, 1, 2, 2, 3, 4, 5].map(Some));
        assert_eq!(of(&twice, 1).marks.iter().filter(|mark| mark.is_none()).count(), 1);
    }

    #[test]
    fn two_and_three_shots_of_each_mark_stand_together() {
        let times: Vec<f64> = LADDER.iter().flat_map(|t| [t * 1.05, t * 0.98, t * 1.1]).collect();
        let found = of(&times, 3);
        let expected: Vec<_> = (0..18).map(|shot| Some(shot / 3)).collect();
        assert_eq!(found.marks, expected);
        assert!(found.unsure.is_empty() && found.missing.is_empty());
    }

    #[test]
    fn a_shot_without_a_time_takes_the_place_that_is_left() {
        let mut times: Vec<Option<f64>> = off(0.2).into_iter().map(Some).collect();
        times[4] = None;
        let found = assign(&times, &LADDER, 1).expect("an assignment");
        assert_eq!(found.marks, [0, 1, 2, 3, 4, 5].map(Some));
        let none = assign(&[None, None], &[0.25, 0.125], 1).expect("an assignment");
        assert_eq!(none.marks, [Some(0), Some(1)]);
    }

    #[test]
    fn what_fits_two_ways_is_spoken_of() {
        let found = of(&[0.125, 0.0625, 1.0 / 32.0, 1.0 / 64.0, 1.0 / 128.0, 1.0 / 128.0], 2);
        assert!(!found.unsure.is_empty(), "{found:?}");
    }

    #[test]
    fn a_take_is_told_what_is_missing_and_far_off() {
        let shot = |start: f64, time: f64| Shot {
            time: Estimate::new(time, 1e-5, f64::INFINITY).ok(),
            state: State::Measured,
            ..Shot::at(start)
        };
        let times = [0.26, 0.0624, 0.032, 0.0155, 0.02];
        let shots = times.iter().enumerate().map(|(i, &time)| shot(i as f64, time)).collect();
        let mut take = Take { shots, ..Take::default() };
        put(&mut take, &LADDER, 3).expect("put");
        let marks: Vec<_> = take.shots.iter().map(|shot| shot.marked).collect();
        assert_eq!(marks, [0, 2, 3, 4, 5].map(Some));
        assert!(take.has("shot-missing") && take.shots[4].has("far-from-nominal"));
        assert!(take.notices[0].text.contains("number 2 of 6"));
        take.shots = vec![shot(0.0, 0.1); MOST_SHOTS + 1];
        put(&mut take, &LADDER, 3).expect("put");
        assert!(take.has("too-many-shots") && take.shots[0].marked.is_none());
        let mut nothing = Take::default();
        put(&mut nothing, &[0.25], 3).expect("put");
        assert!(nothing.notices.is_empty());
    }

    #[test]
    fn what_cannot_be_is_refused() {
        assert!(assign(&[Some(0.0)], &[0.5], 1).is_err());
        assert_eq!((error_stops(0.5, 0.125), error_stops(0.0, 1.0), error_stops(1.0, 0.0)), (Some(2.0), None, None));
        assert!(assign(&[Some(1.0)], &[f64::NAN], 1).is_err());
        assert!(assign(&[Some(1.0)], &[1.0], 0).is_err());
        assert!(assign(&vec![None; MOST_SHOTS + 1], &[1.0], 1).is_err());
    }

    proptest! {
        #[test]
        fn the_order_is_always_kept(
            times in prop::collection::vec(prop::option::of(1e-4_f64..10.0), 0..12),
            marks in prop::collection::vec(1e-4_f64..10.0, 0..10),
            repeats in 1_usize..4,
        ) {
            let found = assign(&times, &marks, repeats).unwrap();
            prop_assert_eq!(found.marks.len(), times.len());
            let used: Vec<usize> = found.marks.iter().copied().flatten().collect();
            prop_assert!(used.windows(2).all(|pair| pair[0] <= pair[1]));
            for mark in 0..marks.len() {
                let count = used.iter().filter(|&&used| used == mark).count();
                prop_assert!(count <= repeats);
                prop_assert_eq!(count == 0, found.missing.contains(&mark));
            }
        }
    }
}
