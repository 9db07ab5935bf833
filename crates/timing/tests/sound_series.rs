//! Simulated shots in series and alone: how often a time that is stated as sure is wrong, and whether the doubt is true.
//!
//! `LAMPBLACK_CAMERAS` makes the run longer. Not here: recordings with truth (`sound_corpus`), input that is no take (`sound_bad`).

mod sound_maker;

use sound_maker::{Camera, Scene, Truth};
use timing::sound::{About, Shutter, measure};
use timing::{Shot, State, Take};

/// A wrong pair is further than this from both edges' intervals \[s\].
const WRONG_S: f64 = 0.5e-3;

#[derive(Default, Debug, Clone, Copy)]
struct Tally {
    shots: usize,
    answered: usize,
    wrong: usize,
    inside: usize,
    measured: usize,
    measured_wrong: usize,
    probable: usize,
    probable_wrong: usize,
    indicative: usize,
    indicative_wrong: usize,
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
            let wrong = off(t.stops_s).min(off(t.starts_s)).min(off(t.time_s)) > WRONG_S.max(2e-3 * t.time_s);
            self.answered += 1;
            self.wrong += usize::from(wrong);
            self.inside += usize::from(off(t.time_s) <= time.expanded_95());
            let (count, bad) = match shot.state {
                State::Measured => (&mut self.measured, &mut self.measured_wrong),
                State::Probable => (&mut self.probable, &mut self.probable_wrong),
                _ => (&mut self.indicative, &mut self.indicative_wrong),
            };
            *count += 1;
            *bad += usize::from(wrong);
            if wrong
                && (scene_mirror() || shot.state >= State::Probable)
                && std::env::var_os("LAMPBLACK_SHOW").is_some()
            {
                println!(
                    "   {:?} 1/{:.0}: {:.3} ms for {:.3} ms {:?}",
                    shot.state,
                    1.0 / t.marked_s,
                    time.value() * 1e3,
                    t.time_s * 1e3,
                    shot.notices.iter().map(|n| n.code).collect::<Vec<_>>()
                );
            }
        }
    }

    fn say(&self, name: &str) {
        let p = |a: usize, b: usize| 100.0 * a as f64 / b.max(1) as f64;
        println!(
            "{name:32} {:4} shots, {:3.0} % answered ({:.1} % wrong, {:.1} % inside); measured {:4} wrong {:2} ({:.1} %), probable {:4} wrong {:2} ({:.1} %), indicative {:4} wrong {:2} ({:.1} %)",
            self.shots,
            p(self.answered, self.shots),
            p(self.wrong, self.answered),
            p(self.inside, self.answered),
            self.measured,
            self.measured_wrong,
            p(self.measured_wrong, self.measured),
            self.probable,
            self.probable_wrong,
            p(self.probable_wrong, self.probable),
            self.indicative,
            self.indicative_wrong,
            p(self.indicative_wrong, self.indicative),
        );
    }
}

const LADDER: [f64; 9] =
    [0.25, 0.125, 1.0 / 15.0, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 250.0, 1.0 / 500.0, 1.0 / 1000.0];

fn series(scene: Scene, seeds: std::ops::Range<u64>) -> Tally {
    let mut tally = Tally::default();
    for seed in seeds {
        let mut camera = Camera::new(scene, seed);
        let (recording, truth) = camera.take(&LADDER, 0.6);
        let about = About { shutter: scene.shutter, mirror: scene.mirror, marked_s: LADDER.to_vec(), anchor: None };
        let take = measure(&[recording], &about).expect("a take");
        if std::env::var_os("LAMPBLACK_EACH").is_some() {
            println!(
                "  seed {seed} {:?} offset {:?} answered {}",
                take.notices.iter().map(|n| n.code).collect::<Vec<_>>(),
                take.offset_s,
                take.shots.iter().filter(|s| s.time.is_some()).count()
            );
        }
        tally.add(&take, &truth);
    }
    tally
}

#[test]
fn explore() {
    let n = cameras(6);
    for (name, scene) in [
        ("cloth", Scene::of(Shutter::Cloth, false)),
        ("metal", Scene::of(Shutter::Metal, false)),
        ("leaf", Scene::of(Shutter::Leaf, false)),
        ("cloth 20 dB", Scene { snr_db: 20.0, ..Scene::of(Shutter::Cloth, false) }),
        ("metal repeat .8", Scene { repeat: 0.8, ..Scene::of(Shutter::Metal, false) }),
        ("cloth alike .3", Scene { alike: 0.3, ..Scene::of(Shutter::Cloth, false) }),
        ("metal room", Scene { room_db: -3.0, rt60_s: 0.8, ..Scene::of(Shutter::Metal, false) }),
        ("cloth 16 kHz", Scene { rate_hz: 16_000.0, ..Scene::of(Shutter::Cloth, false) }),
        ("cloth mirror", Scene::of(Shutter::Cloth, true)),
        ("metal mirror", Scene::of(Shutter::Metal, true)),
    ] {
        series(scene, 0..n).say(name);
    }
}

fn scene_mirror() -> bool {
    std::env::var_os("LAMPBLACK_MIRROR").is_some()
}
