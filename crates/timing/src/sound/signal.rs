//! The high-passed recording: its pieces with their true places, read by sample number wherever they are.
//!
//! Not here: finding anything in it (`onsets`).

use std::borrow::Cow;

use crate::filter::{HighPass, decimate};
use crate::waveform::{Stretch, Waveform};

/// Below this an impact has nothing that hum, voices and rumble do not have too \[Hz\].
const CUTOFF_HZ: f64 = 2000.0;
/// Recordings are decimated by the whole factor that keeps them at or above this rate \[Hz\].
const ENOUGH_HZ: f64 = 44_000.0;

/// One unbroken piece.
pub(super) struct Piece {
    /// Number of its first sample at the working rate.
    pub start: i64,
    /// High-passed samples.
    pub samples: Vec<f32>,
}

/// A channel, high-passed, at the working rate.
pub(super) struct Signal {
    /// Working rate \[Hz\].
    pub rate_hz: f64,
    /// In the order of time.
    pub pieces: Vec<Piece>,
}

impl Signal {
    /// Filters a channel.
    pub fn of(channel: Waveform) -> Self {
        let factor = ((channel.rate_hz() / ENOUGH_HZ).floor() as usize).max(1);
        let rate_hz = channel.rate_hz() / factor as f64;
        let high_pass = HighPass::new(CUTOFF_HZ, rate_hz);
        let pieces = channel
            .into_stretches()
            .into_iter()
            .map(|Stretch { start, samples }| {
                let (start, mut samples) =
                    if factor == 1 { (start, samples) } else { decimate(&samples, start, factor) };
                high_pass.run(&mut samples);
                Piece { start: whole(start), samples }
            })
            .collect();
        Self { rate_hz, pieces }
    }

    /// A duration \[s\] in samples.
    pub fn samples(&self, seconds: f64) -> f64 {
        seconds * self.rate_hz
    }

    /// A duration \[s\] in whole samples.
    pub fn count(&self, seconds: f64) -> usize {
        (seconds * self.rate_hz).round().max(0.0) as usize
    }

    /// Samples `start .. start + length`, with silence where nothing was kept.
    pub fn read(&self, start: i64, length: usize) -> Cow<'_, [f32]> {
        let end = start.saturating_add(length as i64);
        let from = self.pieces.partition_point(|piece| piece.start + piece.samples.len() as i64 <= start);
        if let Some(piece) = self.pieces.get(from)
            && piece.start <= start
            && end <= piece.start + piece.samples.len() as i64
        {
            let offset = (start - piece.start) as usize;
            return Cow::Borrowed(&piece.samples[offset..offset + length]);
        }
        let mut out = vec![0.0; length];
        for piece in self.pieces.iter().skip(from).take_while(|piece| piece.start < end) {
            let (a, b) = (piece.start.max(start), (piece.start + piece.samples.len() as i64).min(end));
            if a < b {
                out[(a - start) as usize..(b - start) as usize]
                    .copy_from_slice(&piece.samples[(a - piece.start) as usize..(b - piece.start) as usize]);
            }
        }
        Cow::Owned(out)
    }

    /// Mean square of samples `start .. start + length`.
    pub fn mean_square(&self, start: i64, length: usize) -> f64 {
        let samples = self.read(start, length.max(1));
        dot(&samples, &samples) / samples.len() as f64
    }
}

/// A sample number as a signed one; recordings end long before the difference matters.
fn whole(start: u64) -> i64 {
    i64::try_from(start).unwrap_or(i64::MAX / 4).min(i64::MAX / 4)
}

/// `Σ a·b` over the shorter of the two, in eight lanes whose order is fixed, so that every target rounds alike.
pub(super) fn dot(a: &[f32], b: &[f32]) -> f64 {
    let mut lanes = [0.0_f32; 8];
    let (a8, b8) = (a.chunks_exact(8), b.chunks_exact(8));
    let rest: f32 = if a.len() == b.len() {
        a8.remainder().iter().zip(b8.remainder()).map(|(x, y)| x * y).sum()
    } else {
        let whole = a.len().min(b.len()) / 8 * 8;
        a[whole..].iter().zip(&b[whole..]).map(|(x, y)| x * y).sum()
    };
    for (x, y) in a8.zip(b8) {
        for ((lane, x), y) in lanes.iter_mut().zip(x).zip(y) {
            *lane += x * y;
        }
    }
    lanes.iter().map(|&lane| f64::from(lane)).sum::<f64>() + f64::from(rest)
}

/// Decibels of a mean square; what is not above −200 dB is −200 dB.
pub(super) fn decibels(mean_square: f64) -> f64 {
    10.0 * libm::log10(mean_square.max(1e-20))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_not_kept_reads_as_silence_in_its_place() {
        let piece = |start, value| Piece { start, samples: vec![value; 10] };
        let signal = Signal { rate_hz: 48_000.0, pieces: vec![piece(0, 1.0), piece(15, 2.0)] };
        assert_eq!(signal.read(8, 9).as_ref(), &[1.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 2.0, 2.0]);
        assert_eq!(signal.read(-2, 3).as_ref(), &[0.0, 0.0, 1.0]);
        assert!(matches!(signal.read(16, 4), Cow::Borrowed(_)));
        assert_eq!(signal.read(1000, 2).as_ref(), &[0.0, 0.0]);
    }

    #[test]
    fn a_high_rate_is_brought_down_and_places_stay() {
        let channel =
            Waveform::new(192_000.0, vec![Stretch { start: 400, samples: vec![0.0; 4000] }]).expect("a channel");
        let signal = Signal::of(channel);
        assert_eq!((signal.rate_hz, signal.pieces[0].start, signal.pieces[0].samples.len()), (48_000.0, 100, 1000));
    }

    #[test]
    fn the_lanes_add_up() {
        let a: Vec<f32> = (0..21).map(|i| i as f32).collect();
        assert_eq!(dot(&a, &a), 2870.0);
        assert_eq!(dot(&a[..9], &a), 204.0);
    }
}
