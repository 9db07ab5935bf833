//! Recordings of known content, long and short: what must be kept, what must go, and how much memory that takes.
//!
//! Not here: files (`wav`).

use super::*;

const RATE: f64 = 8_000.0;

/// Noise without a generator's help: a fixed sequence that repeats after 2³² steps, about -1 to 1.
fn noise(state: &mut u32) -> f64 {
    let mut sum = 0.0;
    for _ in 0..4 {
        *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        sum += f64::from(*state >> 8) / f64::from(1_u32 << 24) - 0.5;
    }
    sum
}

/// A recording of so many seconds, made second by second.
fn kept(seconds: usize, channels: usize, signal: Signal, at: impl Fn(f64, usize) -> f64, level: f64) -> Kept {
    let mut keeper = Keeper::new(RATE, channels, signal).expect("a keeper");
    let mut state = 1;
    for second in 0..seconds {
        let made: Vec<Vec<f32>> = (0..channels)
            .map(|channel| {
                (0..RATE as usize)
                    .map(|i| (at(second as f64 + i as f64 / RATE, channel) + level * noise(&mut state)) as f32)
                    .collect()
            })
            .collect();
        keeper.push(&made);
    }
    keeper.finish().expect("kept")
}

/// An impact that begins at 0: 3.1 kHz that dies away in 2 ms.
fn impact(t: f64) -> f64 {
    if !(0.0..0.05).contains(&t) {
        return 0.0;
    }
    libm::exp(-t / 0.002) * libm::sin(core::f64::consts::TAU * 3_100.0 * t)
}

fn covers(kept: &Kept, from: f64, to: f64) -> bool {
    kept.channels
        .iter()
        .all(|channel| channel.stretches().iter().any(|s| s.start as f64 / RATE <= from && s.end() as f64 / RATE >= to))
}

#[test]
fn a_short_recording_is_kept_whole() {
    let short = kept(179, 2, Signal::Sound, |_, _| 0.0, 0.01);
    assert_eq!(short.channels[1].kept(), 179 * 8_000);
    assert_eq!((short.channels[0].stretches().len(), short.duration_s), (1, 179.0));
    assert!(short.notices.is_empty());
}

#[test]
fn of_a_long_one_what_is_around_the_shots_stays() {
    // A shot in the whole part, one that is slow, one in the second channel, one shortly before the end.
    let at = |t: f64, channel: usize| {
        let first = impact(t - 20.0) + impact(t - 20.03) + impact(t - 400.0) + impact(t - 404.1);
        if channel == 0 { 0.2 * first } else { 0.2 * (impact(t - 550.0) + impact(t - 599.9)) }
    };
    let long = kept(600, 2, Signal::Sound, at, 0.01);
    for (from, to) in [(20.0, 20.03), (400.0, 404.1), (550.0, 550.0)] {
        assert!(covers(&long, from - 0.7, to + 1.0), "{from}");
    }
    assert!(covers(&long, 599.2, 600.0));
    let seconds = long.channels[0].kept() as f64 / RATE;
    assert!((8.0..14.0).contains(&seconds), "{seconds} s were kept");
    assert_eq!(long.channels[0].stretches().len(), 4);
    assert_eq!(long.notices.iter().map(|notice| notice.code).collect::<Vec<_>>(), ["long-recording"]);
    assert!(long.notices[0].text.contains("10 min 0 s long"));
    // What is kept is what was there.
    let mut state = 1;
    let first = noise(&mut state);
    let whole = kept(1, 1, Signal::Sound, |_, _| 0.0, 0.01);
    assert_eq!(whole.channels[0].stretches()[0].samples[0], (0.01 * first) as f32);
}

#[test]
fn steps_of_light_count_and_a_level_does_not() {
    // An opening of 1/1000 s at 200 s and one of 4 s at 300 s, behind an input that lets a level die away in 50 ms.
    let step = |t: f64| if (0.0..1.0).contains(&t) { libm::exp(-t / 0.05) } else { 0.0 };
    let at = |t: f64, _| 0.1 + 0.3 * (step(t - 200.0) - step(t - 200.001) + step(t - 300.0) - step(t - 304.0));
    let long = kept(600, 1, Signal::Light, at, 0.01);
    assert!(covers(&long, 199.3, 201.0) && covers(&long, 299.3, 305.0));
    let seconds = long.channels[0].kept() as f64 / RATE;
    assert!((7.0..10.0).contains(&seconds), "{seconds} s were kept");
}

#[test]
fn hum_and_slow_drift_are_quiet() {
    let hum = |t: f64, _| 0.05 * libm::sin(core::f64::consts::TAU * 50.0 * t) + 0.1 * libm::sin(t / 20.0);
    for signal in [Signal::Sound, Signal::Light] {
        let nothing = kept(400, 1, signal, hum, 0.002);
        assert_eq!(nothing.channels[0].kept(), 0, "{signal:?}");
    }
    let silence = kept(200, 1, Signal::Sound, |_, _| 0.0, 0.0);
    assert_eq!(silence.channels[0].kept(), 0);
}

#[test]
fn an_hour_of_noise_alone_keeps_nothing_and_never_holds_more_than_the_beginning() {
    let mut keeper = Keeper::new(RATE, 1, Signal::Sound).expect("a keeper");
    let mut state = 7;
    for second in 0..3_600 {
        let block: Vec<f32> = (0..RATE as usize).map(|_| (0.1 * noise(&mut state)) as f32).collect();
        keeper.push(&[block]);
        let held: usize = keeper.waiting.iter().map(|block| block.channels[0].len()).sum();
        assert!(held as f64 <= WHOLE_S * RATE);
        assert!(second <= 180 || (held as f64) < 20.0 * RATE && keeper.levels.len() < 500, "{held} at {second} s");
    }
    assert_eq!(keeper.finish().expect("kept").channels[0].kept(), 0);
}

#[test]
fn more_than_can_be_kept_is_said() {
    let busy = kept(600, 1, Signal::Sound, |t, _| 0.2 * impact(t - libm::floor(t) - 0.5), 0.001);
    let seconds = busy.channels[0].kept() as f64 / RATE;
    assert!((239.0..=MOST_KEPT_S).contains(&seconds), "{seconds} s were kept");
    let notice = busy.notices.iter().find(|notice| notice.code == "recording-too-full").expect("a notice");
    assert!(notice.text.contains("comes after 4 min 0 s was left out"), "{}", notice.text);
}

#[test]
fn nothing_is_no_recording() {
    assert!(Keeper::new(RATE, 0, Signal::Sound).is_err());
    assert!(Keeper::new(100.0, 1, Signal::Sound).is_err());
    assert!(Keeper::new(RATE, 1, Signal::Sound).expect("a keeper").finish().is_err());
    let mut keeper = Keeper::new(RATE, 1, Signal::Light).expect("a keeper");
    keeper.push(&[vec![f32::NAN]]);
    assert!(keeper.finish().is_err());
}
