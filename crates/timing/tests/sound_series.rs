//! Simulated shots in series and alone: how often a time that is stated as sure is wrong, and whether the doubt is true.
//!
//! `LAMPBLACK_CAMERAS` makes the run longer (cameras per condition) and `LAMPBLACK_SHOW` prints what was wrong. Not here:
//! recordings with truth (`sound_corpus`), input that is no take (`sound_bad`).

mod sound_maker;

use core::ops::Range;

use metrology::Estimate;
use sound_maker::{Camera, Chance, Scene, Truth};
use timing::sound::{About, Anchor, Shutter, listen, measure};
use timing::{Shot, State, Take};

/// A wrong pair is further than this from both edges' intervals \[s\], or this share.
const WRONG_S: f64 = 0.5e-3;
const WRONG: f64 = 2e-3;

const LADDER: [f64; 9] =
    [0.25, 0.125, 1.0 / 15.0, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 250.0, 1.0 / 500.0, 1.0 / 1000.0];

#[derive(Clone, Copy, Debug, Default)]
struct Count {
    all: usize,
    wrong: usize,
}

#[derive(Clone, Copy, Debug, Default)]
struct Tally {
    shots: usize,
    inside: usize,
    measured: Count,
    probable: Count,
    indicative: Count,
}

fn cameras(usual: u64) -> u64 {
    std::env::var("LAMPBLACK_CAMERAS").ok().and_then(|text| text.parse().ok()).unwrap_or(usual)
}

fn shot_of<'a>(take: &'a Take, truth: &Truth) -> Option<&'a Shot> {
    take.shots.iter().find(|shot| (truth.from_s - 0.06..truth.to_s + 0.06).contains(&shot.start_s))
}

impl Tally {
    fn add(&mut self, take: &Take, truth: &[Truth]) {
        for t in truth {
            self.shots += 1;
            let Some(shot) = shot_of(take, t) else { continue };
            let Some(time) = shot.time else { continue };
            let off = |s: f64| (time.value() - s).abs();
            let wrong = off(t.stops_s).min(off(t.starts_s)).min(off(t.time_s)) > WRONG_S.max(WRONG * t.time_s);
            self.inside += usize::from(off(t.time_s) <= time.expanded_95());
            let count = match shot.state {
                State::Measured => &mut self.measured,
                State::Probable => &mut self.probable,
                _ => &mut self.indicative,
            };
            count.all += 1;
            count.wrong += usize::from(wrong);
            if wrong && std::env::var_os("LAMPBLACK_SHOW").is_some() {
                let codes: Vec<_> = shot.notices.iter().map(|notice| notice.code).collect();
                println!("   {:?} {:.3} ms for {:.3} ms {codes:?}", shot.state, time.value() * 1e3, t.time_s * 1e3);
            }
        }
    }

    fn join(self, other: Tally) -> Tally {
        let count = |a: Count, b: Count| Count { all: a.all + b.all, wrong: a.wrong + b.wrong };
        Tally {
            shots: self.shots + other.shots,
            inside: self.inside + other.inside,
            measured: count(self.measured, other.measured),
            probable: count(self.probable, other.probable),
            indicative: count(self.indicative, other.indicative),
        }
    }

    fn answered(&self) -> usize {
        self.measured.all + self.probable.all + self.indicative.all
    }

    fn say(&self, name: &str) {
        let share = |a: usize, b: usize| 100.0 * a as f64 / b.max(1) as f64;
        let count = |c: Count| format!("{:4} wrong {:2} ({:.1} %)", c.all, c.wrong, share(c.wrong, c.all));
        println!(
            "{name:18} {:4} shots, {:3.0} % answered, {:5.1} % inside; measured {}, probable {}, indicative {}",
            self.shots,
            share(self.answered(), self.shots),
            share(self.inside, self.answered()),
            count(self.measured),
            count(self.probable),
            count(self.indicative),
        );
    }
}

fn about(scene: Scene, marked_s: &[f64]) -> About {
    About { shutter: scene.shutter, mirror: scene.mirror, marked_s: marked_s.to_vec(), anchor: None }
}

fn series(name: &str, scene: Scene, seeds: Range<u64>) -> Tally {
    let mut tally = Tally::default();
    for seed in seeds {
        let (recording, truth) = Camera::new(scene, seed).take(&LADDER, 0.5);
        let take = measure(vec![recording], &about(scene, &LADDER)).expect("a take");
        assert!(take.shots.iter().all(|shot| !(scene.mirror && shot.state > State::Indicative)), "{name} {seed}");
        tally.add(&take, &truth);
    }
    tally.say(name);
    tally
}

#[test]
fn series_without_a_mirror_are_right_and_know_their_doubt() {
    let (cloth, metal) = (Scene::of(Shutter::Cloth, false), Scene::of(Shutter::Metal, false));
    let n = cameras(4);
    let conditions = [
        ("cloth", cloth),
        ("metal", metal),
        ("cloth 20 dB", Scene { snr_db: 20.0, ..cloth }),
        ("metal repeat 0.8", Scene { repeat: 0.8, ..metal }),
        ("cloth alike 0.3", Scene { alike: 0.3, ..cloth }),
        ("metal echoes", Scene { room_db: -3.0, rt60_s: 0.8, ..metal }),
        ("cloth 16 kHz", Scene { rate_hz: 16_000.0, ..cloth }),
        ("metal 96 kHz", Scene { rate_hz: 96_000.0, ..metal }),
    ];
    let all = conditions
        .into_iter()
        .zip(0..)
        .map(|((name, scene), k)| series(name, scene, 1000 * k..1000 * k + n))
        .reduce(Tally::join)
        .expect("conditions");
    all.say("no mirror");
    assert!(all.measured.wrong * 100 <= all.measured.all, "{all:?}");
    assert!(all.probable.wrong * 100 <= 6 * all.probable.all, "{all:?}");
    assert!(all.inside * 100 >= 94 * all.answered(), "{all:?}");
    assert!(all.answered() * 100 >= 75 * all.shots, "{all:?}");
}

#[test]
fn leaf_shutters_are_never_more_than_probable() {
    let tally = series("leaf", Scene::of(Shutter::Leaf, false), 0..cameras(5));
    assert_eq!(tally.measured.all, 0);
    // Blades' start and stop lie a millisecond apart, which is within the doubt that is stated.
    assert!(tally.probable.wrong * 100 <= 20 * tally.probable.all && tally.inside * 100 >= 95 * tally.answered());
    assert!(tally.answered() * 2 >= tally.shots, "{tally:?}");
}

#[test]
fn a_mirror_makes_every_time_a_hint() {
    let n = cameras(4);
    let all = series("cloth, mirror", Scene::of(Shutter::Cloth, true), 0..n).join(series(
        "metal, mirror",
        Scene::of(Shutter::Metal, true),
        0..n,
    ));
    assert_eq!(all.measured.all + all.probable.all, 0);
    assert!(all.indicative.wrong * 100 <= 8 * all.indicative.all, "{all:?}");
    assert!(all.answered() * 3 >= all.shots, "{all:?}");
}

#[test]
fn an_anchor_makes_a_mirror_camera_s_series_probable() {
    let mut tally = Tally::default();
    for seed in 0..cameras(8) {
        let scene = Scene::of(if seed % 2 == 0 { Shutter::Cloth } else { Shutter::Metal }, true);
        let mut camera = Camera::new(scene, 300 + seed);
        let (recording, truth) = camera.take(&LADDER, 0.5);
        // Light saw another release of the same mark, with a doubt of its own.
        let mut chance = Chance(seed);
        let light = camera.time_of(LADDER[2]) * (1.0 + scene.scatter * chance.normal()) + 5e-5 * chance.normal();
        let time = Estimate::new(light, 5e-5, f64::INFINITY).expect("an estimate");
        let anchor = Some(Anchor { marked_s: LADDER[2], time });
        let take = measure(vec![recording], &About { anchor, ..about(scene, &LADDER) }).expect("a take");
        assert!(take.shots.iter().all(|shot| shot.state < State::Measured), "{seed}");
        for t in truth {
            let Some(shot) = shot_of(&take, &t) else { continue };
            let Some(time) = shot.time else { continue };
            tally.shots += 1;
            let inside = (time.value() - t.time_s).abs() <= time.expanded_95();
            tally.inside += usize::from(inside);
            if shot.state == State::Probable {
                tally.probable.all += 1;
                // The anchor's own doubt is no wrong pair: wrong is what lies far outside of it.
                tally.probable.wrong += usize::from((time.value() - t.time_s).abs() > 2.0 * time.expanded_95());
            }
        }
    }
    println!("{tally:?}");
    assert!(tally.probable.all >= 20, "{tally:?}");
    assert!(tally.probable.wrong * 20 <= tally.probable.all, "{tally:?}");
    assert!(tally.inside * 100 >= 88 * tally.shots, "{tally:?}");
}

#[test]
fn single_shots_are_never_measured() {
    let mut told = Tally::default();
    let mut blind = Tally::default();
    for seed in 0..cameras(8) {
        for (k, marked) in [0.5, 0.125, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 250.0].into_iter().enumerate() {
            let shutter = Shutter::ALL[(seed as usize + k) % 3];
            let scene = Scene::of(shutter, seed % 4 == 3);
            let (recording, truth) = Camera::new(scene, 700 + seed).take(&[marked], 0.3);
            let take = measure(vec![recording.clone()], &about(scene, &[marked])).expect("a take");
            assert!(take.shots.iter().all(|shot| shot.state < State::Measured));
            let fast = marked < 1.0 / 70.0 || scene.mirror;
            assert!(!fast || take.shots.iter().all(|shot| shot.state <= State::Indicative));
            told.add(&take, &truth);
            let take = measure(vec![recording], &about(scene, &[])).expect("a take");
            assert!(take.shots.iter().all(|shot| shot.state <= State::Indicative));
            blind.add(&take, &truth);
        }
    }
    told.say("told");
    blind.say("blind");
    assert!(told.probable.wrong * 100 <= 7 * told.probable.all, "{told:?}");
    assert!(told.answered() * 3 >= told.shots, "{told:?}");
}

/// Where the marks of a take's shots lie in the list.
fn marks(take: &Take) -> Vec<Option<usize>> {
    take.shots.iter().map(|shot| shot.marked).collect()
}

#[test]
fn a_missing_shot_a_doubled_one_and_a_knock_are_found() {
    let (mut right, mut all) = (0, 0);
    for seed in 0..cameras(6) {
        let scene = Scene::of(if seed % 2 == 0 { Shutter::Cloth } else { Shutter::Metal }, false);
        // The fifth mark is skipped.
        let fired: Vec<f64> = LADDER.iter().copied().enumerate().filter(|(k, _)| *k != 4).map(|(_, m)| m).collect();
        let (recording, truth) = Camera::new(scene, 900 + seed).take(&fired, 0.5);
        let take = measure(vec![recording], &about(scene, &LADDER)).expect("a take");
        let want: Vec<Option<usize>> = (0..9).filter(|k| *k != 4).map(Some).collect();
        all += 1;
        right += usize::from(marks(&take) == want && take.has("shot-missing"));
        sure_ones_are_right(&take, &truth);
        // The third mark is fired twice.
        let fired: Vec<f64> =
            LADDER.iter().copied().flat_map(|m| if m == LADDER[2] { vec![m; 2] } else { vec![m] }).collect();
        let (recording, truth) = Camera::new(scene, 950 + seed).take(&fired, 0.5);
        let take = measure(vec![recording], &about(scene, &LADDER)).expect("a take");
        all += 1;
        let mut seen: Vec<usize> = marks(&take).into_iter().flatten().collect();
        seen.dedup();
        right += usize::from(take.shots.len() == 10 && seen == (0..9).collect::<Vec<_>>() && take.has("shot-extra"));
        sure_ones_are_right(&take, &truth);
        // Somebody knocks against the table.
        let mut fired = LADDER.to_vec();
        fired.insert(5, -1.0);
        let (recording, truth) = Camera::new(scene, 980 + seed).take(&fired, 0.5);
        let take = measure(vec![recording], &about(scene, &LADDER)).expect("a take");
        all += 1;
        right += usize::from(marks(&take) == (0..9).map(Some).collect::<Vec<_>>());
        sure_ones_are_right(&take, &truth);
    }
    println!("{right} of {all} orders right");
    assert!(right * 10 >= all * 7, "{right} of {all} orders right");
}

/// Whatever was taken for what: a time that is stated as sure is right.
fn sure_ones_are_right(take: &Take, truth: &[Truth]) {
    for t in truth {
        if let Some(shot) = shot_of(take, t)
            && let (Some(time), State::Measured) = (shot.time, shot.state)
        {
            let off = |s: f64| (time.value() - s).abs();
            assert!(
                off(t.stops_s).min(off(t.time_s)) < WRONG_S.max(WRONG * t.time_s),
                "{:?} for {}",
                shot.time,
                t.time_s
            );
        }
    }
}

#[test]
fn a_live_window_shows_each_shot_with_a_provisional_time() {
    let scene = Scene::of(Shutter::Cloth, false);
    let (window, truth) = Camera::new(scene, 5).take(&[1.0 / 30.0; 3], 0.8);
    let heard = listen(&window, &about(scene, &[1.0 / 30.0])).expect("a window");
    assert_eq!(heard.heard.len(), 3);
    for (one, t) in heard.heard.iter().zip(&truth) {
        assert!(one.start_s <= t.from_s + 0.02 && one.end_s >= t.to_s - 0.01, "{one:?} {t:?}");
        if let Some(time) = one.provisional {
            assert!((time.value() - t.time_s).abs() < 1.5e-3, "{time:?} {}", t.time_s);
        }
    }
    assert!(heard.heard.iter().any(|one| one.provisional.is_some()));
    assert!(!heard.clipped && !heard.busy && !heard.too_quiet && heard.floor_db < -40.0);
}
