//! Input that is no take of a shutter, or hardly one: a sentence each, and nothing breaks.
//!
//! Not here: whether times are right (`sound_series`, `sound_corpus`).

mod sound_maker;

use metrology::Estimate;
use proptest::prelude::*;
use sound_maker::{Camera, Chance, Scene};
use timing::sound::{About, Anchor, Shutter, listen, measure};
use timing::{State, Stretch, Take, Waveform};

fn about(marked_s: &[f64]) -> About {
    About { shutter: Shutter::Cloth, mirror: false, marked_s: marked_s.to_vec(), anchor: None }
}

fn whole(samples: Vec<f32>) -> Waveform {
    Waveform::whole(48_000.0, samples).expect("a channel")
}

fn nothing_is_stated(take: &Take) {
    assert!(take.shots.iter().all(|shot| shot.state <= State::Indicative), "{take:?}");
    assert!(take.has("nothing-there") || take.shots.iter().all(|shot| shot.time.is_none()), "{take:?}");
}

#[test]
fn silence_and_noise_hold_no_shutter() {
    for marked in [&[][..], &[1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0][..]] {
        let take = measure(vec![whole(vec![0.0; 96_000])], &about(marked)).expect("a take");
        assert!(take.has("nothing-there") && take.shots.is_empty());
        let mut chance = Chance(1);
        let noise = (0..96_000).map(|_| 0.01 * chance.hiss() as f32).collect();
        let take = measure(vec![whole(noise)], &about(marked)).expect("a take");
        assert!(take.has("nothing-there") && take.shots.is_empty());
        let take = measure(vec![whole(Vec::new())], &about(marked)).expect("a take");
        assert!(take.has("nothing-there"));
    }
}

#[test]
fn music_is_not_measured() {
    // Plucked notes of several voices, with their attacks.
    let mut chance = Chance(4);
    let mut x = vec![0.0_f32; 6 * 48_000];
    for _ in 0..70 {
        let start = chance.between(0.0, 5.5 * 48_000.0) as usize;
        let hz = 220.0 * libm::exp2((chance.between(0.0, 36.0)).floor() / 12.0);
        for (i, v) in x[start..].iter_mut().take(20_000).enumerate() {
            let t = i as f64 / 48_000.0;
            let tone: f64 =
                (1..8).map(|k| libm::sin(2.0 * core::f64::consts::PI * hz * f64::from(k) * t) / f64::from(k)).sum();
            *v += (0.1 * tone * libm::exp(-t / 0.15) * (1.0 - libm::exp(-t / 1e-3))) as f32;
        }
    }
    for marked in [&[][..], &[0.125, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 500.0][..]] {
        let take = measure(vec![whole(x.clone())], &about(marked)).expect("a take");
        assert!(take.shots.iter().all(|shot| shot.state <= State::Indicative), "{take:?}");
        if marked.is_empty() {
            nothing_is_stated(&take);
        }
    }
}

#[test]
fn a_slow_rate_says_so_and_states_nothing_as_measured() {
    let ladder = [0.125, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0];
    let scene = Scene { rate_hz: 8_000.0, ..Scene::of(Shutter::Cloth, false) };
    let (recording, _) = Camera::new(scene, 2).take(&ladder, 0.5);
    let take = measure(vec![recording], &about(&ladder)).expect("a take");
    assert!(take.has("low-rate"));
    assert!(take.shots.iter().all(|shot| shot.state < State::Measured));
}

#[test]
fn a_clipped_take_is_said_and_still_measured() {
    let ladder = [0.125, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 500.0];
    let (recording, truth) = Camera::new(Scene::of(Shutter::Cloth, false), 8).take(&ladder, 0.5);
    let clipped = recording.stretches()[0].samples.iter().map(|v| v.clamp(-0.12, 0.12)).collect();
    let take = measure(vec![whole(clipped)], &about(&ladder)).expect("a take");
    assert!(take.has("clipped"));
    let right = take
        .shots
        .iter()
        .zip(&truth)
        .filter(|(shot, t)| shot.time.is_some_and(|time| (time.value() - t.stops_s).abs() < 0.6e-3));
    assert!(right.count() >= 3, "{take:?}");
}

#[test]
fn a_sparse_hour_is_measured_as_if_it_were_whole() {
    let ladder = [0.125, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 500.0];
    let (recording, _) = Camera::new(Scene::of(Shutter::Cloth, false), 8).take(&ladder, 0.5);
    let near = measure(vec![recording.clone()], &about(&ladder)).expect("a take");
    // The same sounds, cut between the shots and put ten minutes apart.
    let samples = &recording.stretches()[0].samples;
    let mut cuts = vec![0_usize];
    cuts.extend(near.shots.windows(2).map(|pair| ((pair[1].start_s - 0.15) * 48_000.0) as usize));
    cuts.push(samples.len());
    let stretches = cuts
        .windows(2)
        .enumerate()
        .map(|(k, cut)| Stretch {
            start: (600 * 48_000 * k + cut[0]) as u64,
            samples: samples[cut[0]..cut[1]].to_vec(),
        })
        .collect();
    let far = measure(vec![Waveform::new(48_000.0, stretches).expect("a channel")], &about(&ladder)).expect("a take");
    assert_eq!(near.shots.len(), far.shots.len());
    for ((k, a), b) in near.shots.iter().enumerate().zip(&far.shots) {
        assert!((b.start_s - a.start_s - 600.0 * k as f64).abs() < 1e-3, "{} {}", a.start_s, b.start_s);
        let (Some(a), Some(b)) = (a.time, b.time) else { continue };
        assert!((a.value() - b.value()).abs() < 1e-4, "{a:?} {b:?}");
    }
}

#[test]
fn two_microphones_are_one_take_and_the_better_one_is_used() {
    let ladder = [0.125, 1.0 / 30.0, 1.0 / 60.0];
    let (good, _) = Camera::new(Scene::of(Shutter::Metal, false), 8).take(&ladder, 0.5);
    let mut chance = Chance(2);
    let poor = good.stretches()[0].samples.iter().map(|v| 0.1 * v + 0.02 * chance.hiss() as f32).collect();
    let metal = About { shutter: Shutter::Metal, ..about(&ladder) };
    let alone = measure(vec![good.clone()], &metal).expect("a take");
    assert_eq!(measure(vec![whole(poor), good], &metal).expect("a take"), alone);
}

#[test]
fn what_is_no_question_is_refused_in_a_sentence() {
    let channel = whole(vec![0.0; 100]);
    let message = |about: &About| measure(vec![channel.clone()], about).expect_err("an error").to_string();
    assert!(message(&about(&[f64::NAN])).contains("marked time"));
    assert!(message(&about(&[-1.0])).contains("marked time"));
    assert!(message(&about(&vec![0.1; 1000])).contains("1000"));
    let time = Estimate::exact(0.0).expect("an estimate");
    let anchored = About { anchor: Some(Anchor { marked_s: 0.1, time }), ..about(&[0.1]) };
    assert!(message(&anchored).contains("light or video"));
    assert!(measure(vec![], &about(&[])).is_err());
    let other = Waveform::whole(44_100.0, vec![0.0; 100]).expect("a channel");
    assert!(measure(vec![channel, other], &about(&[])).is_err());
}

/// Stretches of spikes, noise, constants and tones at any place.
fn anything() -> impl Strategy<Value = Waveform> {
    let rate = prop::sample::select(vec![8_000.0, 11_025.0, 16_000.0, 44_100.0, 48_000.0, 192_000.0]);
    let stretch = (0_u64..2_000_000, 1_usize..9_000, 0_u8..5, any::<u64>());
    (rate, prop::collection::vec(stretch, 0..6)).prop_map(|(rate, list)| {
        let mut start = 0;
        let stretches = list
            .into_iter()
            .map(|(gap, length, kind, seed)| {
                let mut chance = Chance(seed);
                let samples: Vec<f32> = (0..length)
                    .map(|i| match kind {
                        0 => 0.0,
                        1 => 1.0,
                        2 => chance.hiss() as f32,
                        3 if chance.bits().is_multiple_of(400) => 1e6,
                        3 => 0.0,
                        _ => libm::sin(i as f64 * 0.5) as f32,
                    })
                    .collect();
                let begin = start + gap;
                start = begin + length as u64;
                Stretch { start: begin, samples }
            })
            .collect();
        Waveform::new(rate, stretches).expect("a channel")
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn nothing_breaks_and_every_number_is_one(
        channel in anything(),
        marked in prop::collection::vec(1e-5_f64..600.0, 0..6),
        mirror: bool,
        kind in 0_usize..3,
    ) {
        let about = About { shutter: Shutter::ALL[kind], mirror, marked_s: marked.clone(), anchor: None };
        let take = measure(vec![channel.clone()], &about).expect("a take");
        for shot in &take.shots {
            prop_assert!(shot.start_s.is_finite() && shot.start_s >= 0.0);
            prop_assert!(shot.time.is_none_or(|time| time.value() > 0.0));
            prop_assert!(shot.time.is_some() || shot.state == State::CannotTell);
            prop_assert!(shot.marked.is_none_or(|mark| mark < marked.len()));
            prop_assert!(shot.candidates_s.iter().chain(&shot.events_s).all(|v| v.is_finite()));
            prop_assert!(!mirror || shot.state <= State::Indicative);
        }
        let heard = listen(&channel, &about).expect("a window");
        prop_assert!(heard.floor_db.is_finite() && heard.heard.iter().all(|one| one.end_s >= one.start_s));
    }
}
