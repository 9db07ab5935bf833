//! What is wrong with a recording as such: clipped, narrow, busy with other sounds, too quiet.
//!
//! Not here: what is wrong with a shot (`gate`).

use super::clusters::Heard;
use super::onsets::{Event, Front};
use crate::extremes::{highest, largest};
use crate::fourier::Fourier;
use crate::waveform::Waveform;

/// Events that do not stand so far above the floor are no shutter near a microphone \[dB\].
pub(super) const LEAST_HEIGHT_DB: f64 = 10.0;
/// Clipped samples lie within this share of the peak, in runs, and there are more than so many.
const CLIPPED_SHARE: f32 = 0.998;
const CLIPPED_RUN: usize = 3;
const CLIPPED_SAMPLES: usize = 20;
/// Samples that are looked at together.
const PIECE: usize = 256;
/// A peak below this is not at any converter's limit.
const CLIPPED_FROM: f32 = 0.02;
/// More events per second than this outside the shots are voices or music.
const BUSY_PER_S: f64 = 4.0;
/// … which must be so loud, below the shots' loudest \[dB\], to disturb.
const BUSY_DB: f64 = 26.0;
/// What lies so close to a shot is its own \[s\].
const MARGIN_S: f64 = 45e-3;
/// Nothing above this \[Hz\] makes a recording narrow, when less than this share of the impacts' power lies there.
const NARROW_HZ: f64 = 4_500.0;
const NARROW_SHARE: f64 = 3e-3;
const NARROW_RATE_HZ: f64 = 17_000.0;

/// Whether a channel's tops were cut off: more than 20 samples in runs of three or more within 0.2 % of the peak.
pub(super) fn is_clipped(channel: &Waveform) -> bool {
    let pieces = || channel.stretches().iter().flat_map(|stretch| stretch.samples.chunks(PIECE));
    let peaks: Vec<f32> = pieces().map(largest).collect();
    let peak = highest(&peaks);
    if peak < CLIPPED_FROM {
        return false;
    }
    let top = CLIPPED_SHARE * peak;
    let (mut run, mut total) = (0, 0);
    for (samples, peak) in pieces().zip(peaks) {
        // Hardly any piece comes near the peak.
        if peak < top {
            run = 0;
            continue;
        }
        for v in samples {
            if v.abs() >= top {
                run += 1;
                if run == CLIPPED_RUN {
                    total += CLIPPED_RUN;
                } else if run > CLIPPED_RUN {
                    total += 1;
                }
            } else {
                run = 0;
            }
        }
    }
    total > CLIPPED_SAMPLES
}

/// Whether the recording holds little of what impacts have above the voice's range.
pub(super) fn is_narrow(front: &Front) -> bool {
    let rate = front.signal.rate_hz;
    if rate < NARROW_RATE_HZ {
        return true;
    }
    let mut loudest: Vec<_> = front.events.iter().collect();
    loudest.sort_by(|a, b| b.level_db.total_cmp(&a.level_db));
    let fourier = Fourier::new(front.signal.count(10e-3));
    let n = fourier.length();
    let (mut low, mut high) = (0.0, 0.0);
    for event in loudest.into_iter().take(8) {
        let (mut re, mut im) = (front.signal.read(event.at as i64, n).into_owned(), vec![0.0_f32; n]);
        fourier.forward(&mut re, &mut im);
        for (k, (re, im)) in re.iter().zip(&im).enumerate().take(n / 2) {
            let power = f64::from(re * re) + f64::from(im * im);
            if k as f64 * rate / n as f64 > NARROW_HZ { high += power } else { low += power }
        }
    }
    high + low > 0.0 && high < NARROW_SHARE * (high + low)
}

/// Whether so much else is heard that a shot's sounds may be somebody's voice. `train` holds what was thrown out because it
/// follows as evenly as a gear train: within a shot it is one, outside it is a voice.
pub(super) fn is_busy(front: &Front, train: &[Event], shots: &[Heard]) -> bool {
    let rate = front.signal.rate_hz;
    let kept: f64 = front.signal.pieces.iter().map(|piece| piece.samples.len() as f64).sum::<f64>() / rate;
    let loudest = front.events.iter().chain(train).map(|event| event.level_db).fold(f64::NEG_INFINITY, f64::max);
    let lasting: f64 = shots.iter().map(|shot| (shot.span().1 - shot.span().0) / rate + 2.0 * MARGIN_S).sum();
    let loud = |events: &[Event]| -> Vec<Event> {
        events.iter().copied().filter(|event| event.level_db > loudest - BUSY_DB).collect()
    };
    let outside = outside(front, shots, &loud(&front.events)) + outside(front, shots, &loud(train));
    outside as f64 / (kept - lasting).max(0.25) > BUSY_PER_S
}

/// How many events lie outside the shots.
pub(super) fn outside(front: &Front, shots: &[Heard], events: &[Event]) -> usize {
    let margin = MARGIN_S * front.signal.rate_hz;
    let inside = |at: f64| {
        // Shots follow one another, so the one that began last before a moment is the one it may lie in.
        let next = shots.partition_point(|shot| shot.from - margin <= at);
        next.checked_sub(1).and_then(|last| shots.get(last)).is_some_and(|shot| at <= shot.span().1 + margin)
    };
    events.iter().filter(|event| !inside(event.at)).count()
}
