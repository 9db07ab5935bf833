//! The light trace over simulated pulses of known truth: is the stated doubt true, how near do the times come, and is every
//! thing that spoils a time said. Seeds are fixed.
//!
//! Not here: the corpus (`light_corpus.rs`), the generator (`light/mod.rs`).

mod light;

use light::{Chance, Lamp, Scene, Simulated, simulate};
use proptest::prelude::*;
use timing::{Shot, State, Stretch, Take, Waveform, light_trace};

const LADDER: [f64; 8] =
    [1.0 / 15.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 250.0, 1.0 / 500.0, 1.0 / 1000.0, 1.0 / 2000.0, 1.0 / 4000.0];

fn measure(simulated: &Simulated, scene: &Scene) -> Take {
    light_trace::measure(&[simulated.waveform(scene)]).expect("a take")
}

/// The shot that opens where it should.
fn at(take: &Take, opening_s: f64) -> Option<&Shot> {
    take.shots.iter().find(|shot| (shot.start_s - opening_s).abs() < 5e-3)
}

fn jittered(times: &[f64], chance: &mut Chance) -> Vec<f64> {
    times.iter().map(|time| time * chance.between(0.85, 1.2)).collect()
}

fn plain(snr_db: f64, chance: &mut Chance) -> Scene {
    Scene {
        taus: vec![chance.log_between(0.005, 0.1)],
        snr_db,
        sensor_s: chance.log_between(0.08e-3, 0.8e-3),
        level: if chance.uniform() < 0.5 { 0.4 } else { -0.4 },
        ..Scene::default()
    }
}

/// A scene with something the matter now and then.
fn mixed(chance: &mut Chance) -> Scene {
    let snr_db = chance.between(20.0, 60.0);
    let mut scene = plain(snr_db, chance);
    scene.rate_hz = [44_100.0, 48_000.0, 48_000.0, 96_000.0][(chance.uniform() * 4.0) as usize];
    match (chance.uniform() * 10.0) as usize {
        0 => scene.taus.push(chance.log_between(0.03, 0.5)),
        1 => scene.hum = Some((0.03, 50.04)),
        2 => scene.bounce = Some((1.5e-3, 0.7e-3, 0.2)),
        3 => scene.lag_s = 0.6e-4,
        4 => scene.lamp = Lamp::Ripple(100.0, 0.06),
        5 => {
            scene.leaf =
                Some((chance.between(0.6e-3, 1.6e-3), chance.between(0.6e-3, 1.6e-3), chance.between(1.0, 2.0)))
        }
        6 => scene.taus.clear(),
        _ => {}
    }
    scene
}

#[test]
fn the_stated_doubt_is_true_and_nothing_measured_is_grossly_wrong() {
    let (mut inside, mut answered, mut asked, mut squares, mut fast_inside, mut fast) = (0, 0, 0, 0.0, 0, 0);
    for seed in 0..80 {
        let mut chance = Chance::new(seed);
        let scene = mixed(&mut chance);
        let fastest = if scene.leaf.is_some() { 5 } else { 8 };
        let mut times = vec![LADDER[0]];
        times.extend((0..4).map(|_| LADDER[1 + (chance.uniform() * f64::from(fastest - 1)) as usize]));
        let times = jittered(&times, &mut chance);
        let simulated = simulate(&scene, &times, &mut chance);
        let take = measure(&simulated, &scene);
        for (time, opening) in times.iter().zip(&simulated.openings_s) {
            asked += 1;
            let Some(told) = at(&take, *opening).and_then(|shot| shot.time) else { continue };
            let error = told.value() - time;
            let doubts = error / told.standard_uncertainty();
            answered += 1;
            squares += doubts * doubts;
            let is_inside = error.abs() <= told.expanded_95();
            inside += i32::from(is_inside);
            if *time < 0.01 {
                fast += 1;
                fast_inside += i32::from(is_inside);
            }
            let stops = libm::log2(told.value() / time).abs();
            assert!(
                stops < 0.33 && doubts.abs() < 5.0,
                "seed {seed}: {time} s, {error:e} s, {doubts:.1} doubts, {scene:?}"
            );
        }
    }
    let part = |a: i32, b: i32| f64::from(a) / f64::from(b);
    println!(
        "{asked} shots, {answered} answered, {:.3} inside, fast {:.3}",
        part(inside, answered),
        part(fast_inside, fast)
    );
    println!("rms of error over doubt {:.2}", (squares / f64::from(answered)).sqrt());
    assert!(part(answered, asked) > 0.93);
    assert!(part(inside, answered) > 0.93 && part(fast_inside, fast) > 0.92);
    // A doubt that is never needed would be no truth either.
    assert!((squares / f64::from(answered)).sqrt() > 0.35);
}

#[test]
fn times_come_as_near_as_noise_lets_them() {
    // What a reference in another language reaches, whatever the time: 18 µs at 20 dB of light over noise, 1.5 µs at 40 dB.
    for (snr_db, known_s) in [(20.0, 18e-6), (40.0, 1.5e-6)] {
        let (mut squares, mut counts) = ([0.0; 8], [0.0; 8]);
        for seed in 0..16 {
            let mut chance = Chance::new(500 + seed);
            let scene = plain(snr_db, &mut chance);
            let times = jittered(&LADDER, &mut chance);
            let simulated = simulate(&scene, &times, &mut chance);
            let take = measure(&simulated, &scene);
            for (i, (time, opening)) in times.iter().zip(&simulated.openings_s).enumerate() {
                if let Some(told) = at(&take, *opening).and_then(|shot| shot.time) {
                    squares[i] += (told.value() - time) * (told.value() - time);
                    counts[i] += 1.0;
                }
            }
        }
        for i in 0..8 {
            let rms = (squares[i] / f64::max(counts[i], 1.0)).sqrt();
            println!("{snr_db} dB, 1/{:.0} s: {:.2} us, {} of 16", 1.0 / LADDER[i], rms * 1e6, counts[i]);
            assert!(rms < 2.0 * known_s && counts[i] >= 12.0, "{snr_db} dB, {} s: {rms:e} s", LADDER[i]);
        }
        let all = (squares.iter().sum::<f64>() / counts.iter().sum::<f64>()).sqrt();
        println!("{snr_db} dB: {:.2} us", all * 1e6);
        assert!(all < 1.25 * known_s, "{snr_db} dB: {all:e} s");
    }
}

#[test]
fn what_spoils_a_time_is_said() {
    let run = |change: &dyn Fn(&mut Scene)| {
        let mut chance = Chance::new(77);
        let mut scene = Scene::default();
        change(&mut scene);
        let times = [1.0 / 15.0, 1.0 / 60.0, 1.0 / 500.0];
        let simulated = simulate(&scene, &times, &mut chance);
        measure(&simulated, &scene)
    };
    let said = |take: &Take, code: &str| take.has(code) || take.shots.iter().any(|shot| shot.has(code));
    let refused = |take: &Take| take.shots.iter().all(|shot| shot.time.is_none() && shot.state == State::CannotTell);
    let clean = run(&|_| ());
    assert!(clean.notices.is_empty() && clean.shots.iter().all(|shot| shot.notices.is_empty()), "{clean:#?}");
    assert!((clean.coupling_s[0] / 0.02 - 1.0).abs() < 0.02);
    let clipped = run(&|scene| scene.clip = Some(0.8));
    assert!(clipped.shots.len() == 3 && refused(&clipped) && said(&clipped, "clipped"));
    let pulsed = run(&|scene| scene.lamp = Lamp::Pulsed(120.0, 0.5));
    assert!(refused(&pulsed) && said(&pulsed, "pulsed-lamp"));
    let swings = run(&|scene| scene.lamp = Lamp::Ripple(100.0, 0.3));
    assert!(said(&swings, "flicker") && swings.shots.len() == 3);
    assert!(swings.shots[0].time.is_some() && swings.shots[1..].iter().all(|shot| shot.time.is_none()));
    let hum = run(&|scene| scene.hum = Some((0.04, 59.95)));
    assert!(said(&hum, "hum") && hum.shots.iter().all(|shot| shot.time.is_some()));
    let wide = run(&|scene| scene.sensor_s = 3e-3);
    assert!(wide.shots[2].has("slit-narrower-than-sensor"), "{:#?}", wide.shots[2]);
    let leaf = run(&|scene| scene.leaf = Some((0.9e-3, 0.9e-3, 2.0)));
    assert!(leaf.shots.iter().all(|shot| shot.has("half-width-differs")));
    let bounced = run(&|scene| scene.bounce = Some((1.5e-3, 0.7e-3, 0.2)));
    // A parabola of that width and height: two thirds of its box.
    let extra = 0.2 * 0.7e-3 * 2.0 / 3.0;
    assert!(
        bounced.shots.iter().all(|shot| shot.bounce.is_some_and(|b| (b.extra_s / extra - 1.0).abs() < 0.15)),
        "{bounced:#?}"
    );
}

#[test]
fn without_a_slower_shot_a_fast_one_is_not_told() {
    let mut chance = Chance::new(5);
    let scene = Scene { sensor_s: 1e-3, ..Scene::default() };
    let simulated = simulate(&scene, &[0.5e-3], &mut chance);
    let take = measure(&simulated, &scene);
    let shot = &take.shots[0];
    assert!(shot.time.is_none() && shot.has("no-open-level"), "{shot:?}");
    // The slit is half as wide as the sensor: the true time is among what would also fit.
    assert!(shot.candidates_s.iter().any(|time| (time / 0.5e-3 - 1.0).abs() < 0.05), "{shot:?}");
}

#[test]
fn four_seconds_with_the_quiet_parts_left_out() {
    let mut chance = Chance::new(9);
    let scene = Scene { taus: vec![0.008], ..Scene::default() };
    let times = [4.0, 0.05, 0.9e-3];
    let simulated = simulate(&scene, &times, &mut chance);
    let rate = scene.rate_hz;
    let ends: Vec<f64> = simulated.openings_s.iter().zip(times).flat_map(|(open, time)| [*open, open + time]).collect();
    let mut stretches: Vec<Stretch> = Vec::new();
    for end in &ends {
        let (from, to) = (((end - 0.1) * rate) as usize, ((end + 0.15) * rate) as usize);
        let from = stretches.last().map_or(from, |last| from.max(last.end() as usize));
        if to > from {
            stretches.push(Stretch { start: from as u64, samples: simulated.samples[from..to].to_vec() });
        }
    }
    let whole = measure(&simulated, &scene);
    let kept = light_trace::measure(&[Waveform::new(rate, stretches).expect("stretches")]).expect("a take");
    assert_eq!((whole.shots.len(), kept.shots.len()), (3, 3));
    for ((a, b), time) in whole.shots.iter().zip(&kept.shots).zip(times) {
        let (a, b) = (a.time.expect("a time"), b.time.expect("a time"));
        assert!((a.value() - time).abs() < 3.0 * a.standard_uncertainty() && (a.value() - time).abs() < 1e-5);
        assert!((b.value() - time).abs() < 3.0 * b.standard_uncertainty() && (b.value() - time).abs() < 1e-5);
    }
}

#[test]
fn two_sensors_give_both_curtains_travel() {
    let scene = Scene::default();
    // The first curtain takes 9 ms from sensor to sensor; the second comes t later and takes 9.4 ms.
    let shots = [(0.3, 1.0 / 30.0), (0.8, 1.0 / 250.0), (1.3, 1.0 / 1000.0)];
    let channel = |later: f64, longer: f64, seed: u64| {
        let mut chance = Chance::new(seed);
        let times: Vec<f64> = shots.iter().map(|(_, time)| time + longer).collect();
        let mut place = Scene { gap_s: 0.5, ..scene.clone() };
        place.level = 0.3;
        let one: Vec<Simulated> = times.iter().map(|time| simulate(&place, &[*time], &mut chance)).collect();
        let mut samples = vec![0.0_f32; 90_000];
        for ((start, _), pulse) in shots.iter().zip(&one) {
            let at = ((start + later - 0.15) * scene.rate_hz) as usize;
            for (to, from) in samples[at..].iter_mut().zip(&pulse.samples) {
                *to = *from;
            }
        }
        let opened = shots.iter().zip(&one).map(|((start, _), pulse)| {
            ((start + later - 0.15) * scene.rate_hz).floor() / scene.rate_hz + pulse.openings_s[0]
        });
        (opened.collect::<Vec<f64>>(), Waveform::whole(scene.rate_hz, samples).expect("a recording"))
    };
    let (first_open, first) = channel(0.0, 0.0, 1);
    let (second_open, second) = channel(9.0e-3, 0.4e-3, 2);
    for channels in [[first.clone(), second.clone()], [second.clone(), first.clone()]] {
        let take = light_trace::measure(&channels).expect("a take");
        assert_eq!(take.shots.len(), 3, "{take:#?}");
        for (i, shot) in take.shots.iter().enumerate() {
            let time = shot.time.expect("a time");
            assert!((time.value() - shots[i].1 - 0.2e-3).abs() < 3.0 * time.standard_uncertainty(), "{shot:#?}");
            let (opening, closing) = shot.travel_s.expect("travel");
            let travelled = second_open[i] - first_open[i];
            assert!((opening - travelled).abs() < 2e-5 && (closing - travelled - 0.4e-3).abs() < 2e-5, "{shot:#?}");
            assert_eq!((shot.places[0].position, shot.places[1].position), ("first", "second"));
            assert!(shot.has("taper"));
        }
    }
    let same = light_trace::measure(&[first.clone(), first.clone()]).expect("a take");
    assert_eq!(same, light_trace::measure(std::slice::from_ref(&first)).expect("a take"));
    let silent = Waveform::whole(scene.rate_hz, vec![0.0; 90_000]).expect("a recording");
    let alone = light_trace::measure(&[silent, first.clone()]).expect("a take");
    assert!(alone.has("one-sensor") && alone.shots.len() == 3);
    assert!(light_trace::measure(&[]).is_err());
    let other = Waveform::whole(44_100.0, vec![0.0; 10]).expect("a recording");
    assert_eq!(
        light_trace::measure(&[first, other]).expect_err("two rates").to_string(),
        "both channels of a light trace must have one sampling rate, and 48000 Hz and 44100 Hz were given"
    );
}

/// Bursts of resonances with pauses, as of a voice.
fn voice(len: usize, seed: u64) -> Vec<f32> {
    let mut chance = Chance::new(seed);
    let (mut samples, mut at) = (vec![0.0_f32; len], 2000);
    while at < len {
        let (long, pitch) = (chance.between(3000.0, 14_000.0) as usize, chance.between(90.0, 220.0));
        let formant = chance.between(300.0, 2500.0);
        for i in 0..long.min(len - at) {
            let t = i as f64 / 48_000.0;
            let shape = libm::sin(core::f64::consts::PI * i as f64 / long as f64);
            let pulse = libm::exp(-300.0 * (t * pitch).fract() / pitch);
            samples[at + i] += (0.2 * shape * pulse * libm::sin(core::f64::consts::TAU * formant * t)) as f32;
        }
        at += long + chance.between(500.0, 9000.0) as usize;
    }
    samples.iter_mut().for_each(|x| *x += (0.001 * chance.normal()) as f32);
    samples
}

#[test]
fn what_is_no_light_gives_a_sentence() {
    let take = |samples: Vec<f32>| {
        light_trace::measure(&[Waveform::whole(48_000.0, samples).expect("a recording")]).expect("a take")
    };
    for samples in
        [vec![], vec![0.5], vec![0.0; 48_000], vec![0.7; 48_000], vec![f32::MAX; 300], vec![f32::MIN_POSITIVE; 5000]]
    {
        let nothing = take(samples);
        assert!(nothing.shots.is_empty() && nothing.has("nothing-there"));
    }
    for seed in 0..6 {
        let spoken = take(voice(96_000, seed));
        let told = spoken.shots.iter().filter(|shot| shot.time.is_some()).count();
        assert!(told == 0, "seed {seed}: {spoken:#?}");
        assert!(!spoken.notices.is_empty() || spoken.shots.iter().all(|shot| !shot.notices.is_empty()));
    }
    let late = Stretch { start: u64::MAX - 50, samples: voice(48_000, 1) };
    let late = light_trace::measure(&[Waveform::new(48_000.0, vec![late]).expect("a recording")]).expect("a take");
    assert!(late.shots.iter().all(|shot| shot.time.is_none()));
    let mut cut = vec![0.0_f32; 20_000];
    let mut chance = Chance::new(3);
    cut.iter_mut()
        .enumerate()
        .for_each(|(i, x)| *x = f32::from(u8::from(i > 12_000)) * 0.5 + (0.002 * chance.normal()) as f32);
    let unclosed = take(cut);
    assert!(unclosed.shots.len() == 1 && unclosed.shots[0].has("no-closing"), "{unclosed:#?}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn any_short_input_gives_finite_numbers(
        rate in prop::sample::select(vec![8_000.0, 44_100.0, 48_000.0, 96_000.0, 384_000.0]),
        parts in prop::collection::vec((1_u64..2000, prop::collection::vec((-1.0_f32..1.0, 1_usize..400), 1..40)), 1..5),
        gain in prop::sample::select(vec![1.0_f32, 1e-30, 1e30]),
        sharp in any::<bool>(),
    ) {
        let mut start = 0;
        let stretches: Vec<Stretch> = parts.iter().map(|(gap, levels)| {
            let samples: Vec<f32> = levels.iter().flat_map(|&(level, long)| {
                let level = if sharp { level.round() } else { level };
                std::iter::repeat_n(level * gain, long)
            }).collect();
            let stretch = Stretch { start: start + gap, samples };
            start = stretch.end();
            stretch
        }).collect();
        let a = Waveform::new(rate, stretches.clone()).expect("stretches");
        let b = Waveform::new(rate, stretches.into_iter().skip(1).collect()).expect("stretches");
        for channels in [vec![a.clone()], vec![a, b]] {
            let take = light_trace::measure(&channels).expect("a take");
            prop_assert!(!take.shots.is_empty() || !take.notices.is_empty());
            for shot in &take.shots {
                prop_assert!(shot.start_s.is_finite() && shot.events_s.iter().chain(&shot.candidates_s).all(|x| x.is_finite()));
                prop_assert!(shot.time.is_none() == (shot.state == State::CannotTell));
                prop_assert!(shot.time.is_some() || !shot.notices.is_empty());
                prop_assert!(shot.time.is_none_or(|time| time.value() > 0.0 && time.standard_uncertainty() > 0.0));
                prop_assert!(shot.bounce.is_none_or(|b| (b.delay_s + b.height + b.extra_s).is_finite()));
            }
            prop_assert!(take.coupling_s.iter().all(|tau| tau.is_finite() && *tau > 0.0));
        }
    }
}
