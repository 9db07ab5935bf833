//! Times from frames against a simulated phone of known truth: rolling rows, a look shorter than the interval, the video tone
//! curve, shot noise, 8 bits, missing and uneven frames. The doubt must be true: about 95 % of errors inside 95 %.
//!
//! Not here: the corpus (`frames_corpus`), and single flags (the unit tests of `frames`).

use metrology::Estimate;
use timing::frames::{About, Curve, CurveKnown, Lineariser, Range, Strip, Table, measure};

/// Numbers that are the same on every machine (splitmix64).
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Nearly normal, mean 0, standard deviation 1.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// A phone and what happens to its clip.
#[derive(Clone, Copy)]
struct Phone {
    hz: f64,
    duty: f64,
    /// Part of the interval in which the rows are read one after another.
    readout: f64,
    /// Rows of a strip, as a part of the readout.
    span: f64,
    level: f64,
    noise: f64,
    drop: f64,
    /// Unevenness of the frames, as a part of the interval.
    jitter: f64,
    /// Standard deviation of the phone's tone exponent about the video curve.
    bend: f64,
}

const GOOD: Phone = Phone {
    hz: 240.0,
    duty: 0.9,
    readout: 0.6,
    span: 0.12,
    level: 0.7,
    noise: 0.02,
    drop: 0.0,
    jitter: 0.0,
    bend: 0.02,
};

const ROWS: usize = 12;

/// A clip of an open fifth of a second and the pulses, one every 0.15 s at a random phase. Gives the table and the times' truths.
fn clip(phone: Phone, lengths: &[f64], chance: &mut Chance) -> (Table, Vec<f64>) {
    let interval = 1.0 / phone.hz;
    let bend = 1.0 + phone.bend * chance.normal();
    // The duty that is told is a little off too.
    let duty = (phone.duty + 0.01 * chance.normal()).min(1.0);
    let mut at = 0.3 + chance.uniform() * interval;
    let mut pulses = vec![(at, at + 0.2)];
    at += 0.35;
    for length in lengths {
        at += chance.uniform() * interval;
        pulses.push((at, at + length));
        at += length + 0.15;
    }
    let lineariser = Lineariser::new(Curve::Bt709, Range::Limited, 1.0).expect("tables");
    let count = (at / interval) as usize;
    let (mut times, mut values) = (Vec::new(), Vec::new());
    let mut next = 0;
    for k in 0..count {
        let start = (k as f64 + phone.jitter * chance.normal()) * interval;
        let gone = chance.uniform() < phone.drop;
        while next + 1 < pulses.len() && pulses[next].1 + 0.07 < start {
            next += 1;
        }
        let mut sum = 0.0;
        for row in 0..ROWS {
            let from = start + phone.readout * phone.span * interval * row as f64 / ROWS as f64;
            let look = duty * interval;
            let lit = ((from + look).min(pulses[next].1) - from.max(pulses[next].0)).max(0.0) / look;
            let light = (0.004 + phone.level * lit).min(1.0);
            for _ in 0..4 {
                let noisy = light + phone.noise * (light * 0.5 + 1e-4).sqrt() * chance.normal();
                let code = 16.0 + 219.0 * encode(libm::pow(noisy.clamp(0.0, 1.0), bend));
                let code = (code + chance.uniform()).floor().clamp(16.0, 235.0) as u8;
                sum += lineariser.light(code, code, code);
            }
        }
        if !gone {
            times.push((start * 1e6).round() / 1e6);
            values.push(sum / (ROWS * 4) as f64);
        }
    }
    let strips = vec![Strip { name: "middle".into(), values }];
    (Table::new(times, strips).expect("a table"), pulses.iter().map(|(open, close)| close - open).collect())
}

/// Recommendation ITU-R BT.709-6, item 1.2, forwards.
fn encode(light: f64) -> f64 {
    if light < 0.018 { 4.5 * light } else { 1.099 * libm::pow(light, 0.45) - 0.099 }
}

#[derive(Default, Debug)]
struct Score {
    inside: u32,
    stated: u32,
    all: u32,
    squares: f64,
    worst: f64,
    doubts: f64,
}

impl Score {
    fn add(&mut self, time: Option<Estimate>, truth: f64) {
        self.all += 1;
        let Some(time) = time else { return };
        let error = time.value() - truth;
        self.stated += 1;
        self.inside += u32::from(error.abs() <= time.expanded_95());
        self.squares += error * error;
        self.doubts += time.standard_uncertainty() * time.standard_uncertainty();
        self.worst = self.worst.max(error.abs() / time.standard_uncertainty());
    }

    fn coverage(&self) -> f64 {
        f64::from(self.inside) / f64::from(self.stated.max(1))
    }
}

fn score(phone: Phone, lengths: &[f64], clips: u64, about: &About) -> Vec<Score> {
    let mut scores: Vec<Score> = lengths.iter().map(|_| Score::default()).collect();
    for seed in 0..clips {
        let mut chance = Chance(seed.wrapping_mul(0x5851_f42d_4c95_7f2d) ^ (phone.duty * 1e6) as u64);
        // Each length a little off its mark, as shutters are.
        let lengths: Vec<f64> = lengths.iter().map(|length| length * chance.between(0.8, 1.25)).collect();
        let (table, truths) = clip(phone, &lengths, &mut chance);
        let take = measure(&table, about).expect("a take");
        let mut opening = 0.65;
        for (index, truth) in truths.iter().enumerate().skip(1) {
            // Shots are told apart by their place in the clip, so that a missed one moves no other.
            let shot = take.shots.iter().find(|shot| (shot.start_s - opening).abs() < 0.06);
            opening += truth + 0.15;
            scores[index - 1].add(shot.and_then(|shot| shot.time), *truth);
        }
    }
    scores
}

fn known(duty: f64) -> About {
    About { duty: Some(duty), curve_known: CurveKnown::Calibrated, ..About::default() }
}

const LADDER: [f64; 8] = [0.5, 1.0 / 8.0, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 250.0, 1.0 / 500.0, 1.0 / 1000.0];
const CLIPS: u64 = 24;

/// Share inside 95 % and share stated, over all shots of several phones.
fn pooled(phones: &[Phone], lengths: &[f64], about: impl Fn(&Phone) -> About) -> (f64, f64) {
    let mut pool = Score::default();
    for phone in phones {
        for score in score(*phone, lengths, CLIPS, &about(phone)) {
            pool.all += score.all;
            pool.stated += score.stated;
            pool.inside += score.inside;
        }
    }
    (pool.coverage(), f64::from(pool.stated) / f64::from(pool.all))
}

#[test]
fn the_doubt_is_true_where_the_duty_is_known() {
    let phones = [0.98, 0.9, 0.7, 0.5, 0.2].map(|duty| Phone { duty, ..GOOD });
    let (inside, stated) = pooled(&phones, &LADDER, |phone| known(phone.duty));
    println!("{inside:.3} inside, {stated:.3} stated");
    assert!((0.94..0.995).contains(&inside), "{inside}");
    assert!(stated > 0.75, "{stated}");
}

#[test]
fn the_doubt_is_true_for_worse_clips() {
    let base = Phone { duty: 0.95, ..GOOD };
    let phones = [
        Phone { span: 0.4, duty: 0.9, ..GOOD },
        Phone { noise: 0.1, ..base },
        Phone { jitter: 0.06, ..base },
        Phone { drop: 0.02, ..base },
        Phone { hz: 120.0, ..base },
        Phone { level: 0.2, ..base },
    ];
    let (inside, stated) = pooled(&phones, &LADDER, |phone| known(phone.duty));
    println!("{inside:.3} inside, {stated:.3} stated");
    assert!((0.94..0.995).contains(&inside), "{inside}");
    assert!(stated > 0.8, "{stated}");
}

#[test]
fn an_unknown_duty_is_learned_and_fast_times_are_refused() {
    let phones = [0.98, 0.9, 0.7, 0.5, 0.2].map(|duty| Phone { duty, ..GOOD });
    let about = |_: &Phone| About { duty: None, ..known(0.5) };
    let (inside, _) = pooled(&phones, &LADDER[..4], about);
    println!("{inside:.3} inside");
    assert!(inside > 0.92, "{inside}");
    let (_, stated) = pooled(&phones[..3], &LADDER[5..], about);
    assert_eq!(stated, 0.0);
}

#[test]
fn an_assumed_curve_costs_what_is_said() {
    let phones = [0.98, 0.9].map(|duty| Phone { duty, bend: 0.1, ..GOOD });
    let (inside, stated) =
        pooled(&phones, &LADDER, |phone| About { curve_known: CurveKnown::Assumed, ..known(phone.duty) });
    println!("{inside:.3} inside, {stated:.3} stated");
    assert!(inside > 0.93 && stated > 0.9, "{inside} {stated}");
}
