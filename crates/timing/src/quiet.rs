//! Keeping the memory flat: of a long recording only the stretches around what is not quiet are kept.
//!
//! Not here: what a shot is. What is kept is measured by `sound` and `light_trace` as if it were the whole.

use std::collections::VecDeque;

use crate::error::Error;
use crate::shot::Notice;
use crate::waveform::{Stretch, Waveform, all_finite};

/// What the recording is of: it decides what counts as quiet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signal {
    /// A microphone beside the camera.
    Sound,
    /// A photodiode behind the shutter.
    Light,
}

/// A shorter recording is kept whole \[s\].
pub const WHOLE_S: f64 = 180.0;
/// Most that is kept of a longer one \[s\].
pub const MOST_KEPT_S: f64 = 240.0;
/// Most samples that are kept of all channels together, whatever the rate: 192 MB.
pub const MOST_SAMPLES: u64 = 48_000_000;

/// Cells in a block.
const CELLS: usize = 100;
/// Length of a cell \[s\]: shorter than an impact rings, and about as long as the shortest opening.
const CELL_S: f64 = 0.0005;
/// Blocks before something that is not quiet: 0.75 s, for the noise floor and the dark level.
const LEAD: u64 = 15;
/// Blocks after it: 1.25 s, for the tail that tells the coupling of the input.
const TAIL: u64 = 25;
/// Blocks between two things that are not quiet which are kept as one stretch: 6 s, so that a slow shot stays in one piece.
const BRIDGE: u64 = 120;
/// Blocks either way whose levels tell what quiet is here: 10 s.
const AROUND: usize = 200;
/// Corner of the high-pass for sound \[Hz\].
const CORNER_HZ: f64 = 2_000.0;

impl Signal {
    /// How far above the quiet level a block has to lie in power. Noise alone, over an hour, stays below it: the largest of
    /// seven million cells lies about 3 dB over a usual block's largest for sound, 6 dB for the steps of a light trace.
    const fn over(self) -> f64 {
        match self {
            Signal::Sound => 4.0,
            Signal::Light => 6.3,
        }
    }

    /// Power below which everything is quiet \[full scale squared\]: less than half of the last bit of 16.
    const fn least(self) -> f64 {
        1e-11
    }
}

/// One channel's measure of how much happens in a block.
#[derive(Clone, Debug)]
struct Meter {
    signal: Signal,
    /// Coefficient of the two first-order high-passes in a row, which take 12 dB per octave below their corner.
    keep: f64,
    last: Option<f64>,
    first: f64,
    second: f64,
    sum: f64,
    count: usize,
    cell: usize,
    /// Means of the cells before, the older first.
    means: [Option<f64>; 2],
    most: f64,
}

impl Meter {
    fn new(rate_hz: f64, signal: Signal) -> Self {
        let turn = core::f64::consts::TAU * CORNER_HZ / rate_hz;
        Self {
            signal,
            keep: 1.0 / (1.0 + turn),
            last: None,
            first: 0.0,
            second: 0.0,
            sum: 0.0,
            count: 0,
            cell: (libm::round(rate_hz * CELL_S) as usize).max(1),
            means: [None; 2],
            most: 0.0,
        }
    }

    fn push(&mut self, samples: &[f32]) {
        for &sample in samples {
            let x = f64::from(sample);
            self.sum += match self.signal {
                Signal::Light => x,
                Signal::Sound => {
                    let before = self.first;
                    self.first = self.keep * (self.first + x - self.last.unwrap_or(x));
                    self.second = self.keep * (self.second + self.first - before);
                    self.last = Some(x);
                    self.second * self.second
                }
            };
            self.count += 1;
            if self.count == self.cell {
                self.end_cell();
            }
        }
    }

    /// The power of a cell for sound; for light the square of a step between cells, next to one another and one apart, so that
    /// a flank that falls within a cell is seen whole.
    fn end_cell(&mut self) {
        let mean = self.sum / self.count.max(1) as f64;
        let power = match self.signal {
            Signal::Sound => mean,
            Signal::Light => {
                self.means.iter().flatten().map(|before| (mean - before) * (mean - before)).fold(0.0, f64::max)
            }
        };
        self.most = self.most.max(power);
        self.means = [self.means[1], Some(mean)];
        (self.sum, self.count) = (0.0, 0);
    }

    fn end_block(&mut self) -> f32 {
        core::mem::take(&mut self.most) as f32
    }
}

/// A piece of the recording, as long as every other but the last.
#[derive(Clone, Debug)]
struct Block {
    start: u64,
    channels: Vec<Vec<f32>>,
}

/// What was kept of a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Kept {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// The channels, each with the same stretches.
    pub channels: Vec<Waveform>,
    /// How long the recording is, quiet stretches included \[s\].
    pub duration_s: f64,
    /// What has to be known about what was kept.
    pub notices: Vec<Notice>,
}

/// Takes a recording in, block by block, and keeps what is not quiet with 0.75 s before it and 1.25 s after it.
///
/// A recording shorter than [`WHOLE_S`] is kept whole, unless it has more than [`MOST_SAMPLES`]. Of a longer one a block of 50 ms is quiet where its loudest half
/// millisecond (sound, above 2 kHz), or its largest step within a millisecond (light), is less than 6 dB (sound) or 8 dB (light)
/// above the lower quartile of the same in the 10 s on either side. What is less than 6 s apart is kept in one piece. At most
/// [`MOST_KEPT_S`] and [`MOST_SAMPLES`] are kept.
#[derive(Clone, Debug)]
pub struct Keeper {
    rate_hz: f64,
    signal: Signal,
    /// Samples of a block.
    block: usize,
    meters: Vec<Meter>,
    /// The samples of every channel, as long as the recording is so short that it is kept whole.
    whole: Option<Vec<Vec<f32>>>,
    /// Whether all of them are finite.
    finite: bool,
    /// The block that is coming in.
    filling: Block,
    /// Blocks of which it is not settled whether they are kept.
    waiting: VecDeque<Block>,
    /// Number of the first of them.
    first_waiting: u64,
    /// Levels of blocks, one channel after the other, from block number `first_level` on.
    levels: VecDeque<Vec<f32>>,
    first_level: u64,
    /// Number of the first block of which it is not known whether it is quiet.
    undecided: u64,
    last_loud: Option<u64>,
    kept: Vec<Vec<Stretch>>,
    kept_frames: u64,
    /// Samples of one channel that came in.
    frames: u64,
    /// Where the first thing was left out because enough was kept \[sample\].
    full_at: Option<u64>,
}

impl Keeper {
    /// A keeper for a recording of so many channels. **Errors** where there is no channel, or the rate is outside the limits of
    /// [`Waveform`].
    pub fn new(rate_hz: f64, channels: usize, signal: Signal) -> Result<Self, Error> {
        if channels == 0 {
            return Err(Error::new("a recording must have at least one channel, and 0 were given"));
        }
        Waveform::new(rate_hz, Vec::new())?;
        let meter = Meter::new(rate_hz, signal);
        Ok(Self {
            rate_hz,
            signal,
            block: meter.cell * CELLS,
            meters: vec![meter; channels],
            whole: Some(vec![Vec::new(); channels]),
            finite: true,
            filling: Block { start: 0, channels: vec![Vec::new(); channels] },
            waiting: VecDeque::new(),
            first_waiting: 0,
            levels: VecDeque::new(),
            first_level: 0,
            undecided: 0,
            last_loud: None,
            kept: vec![Vec::new(); channels],
            kept_frames: 0,
            frames: 0,
            full_at: None,
        })
    }

    /// Makes room for so many more samples of every channel, but for no more than are ever kept whole.
    pub(crate) fn expect(&mut self, frames: u64) {
        let most = (WHOLE_S * self.rate_hz) as u64;
        let room = frames.min(most).min(MOST_SAMPLES / self.meters.len() as u64);
        for channel in self.whole.iter_mut().flatten() {
            channel.reserve_exact(room as usize);
        }
    }

    /// Takes the next samples of every channel in. Of channels of unequal length the shortest counts.
    pub fn push<S: AsRef<[f32]>>(&mut self, channels: &[S]) {
        let length = channels.iter().map(|channel| channel.as_ref().len()).min().unwrap_or(0);
        if channels.len() != self.meters.len() {
            return;
        }
        let channels = channels.iter().map(|channel| &channel.as_ref()[..length]);
        if let Some(whole) = &mut self.whole {
            for (kept, new) in whole.iter_mut().zip(channels) {
                kept.extend_from_slice(new);
                self.finite &= all_finite(new);
            }
            self.frames += length as u64;
            if self.is_long() {
                self.begin_blocks();
            }
        } else {
            let channels: Vec<&[f32]> = channels.collect();
            self.fill_blocks(&channels);
        }
    }

    /// Whether the recording is so long that the quiet is left out.
    fn is_long(&self) -> bool {
        self.frames as f64 > WHOLE_S * self.rate_hz
            || self.frames.saturating_mul(self.meters.len() as u64) > MOST_SAMPLES
    }

    /// The recording has become a long one: what there is of it is cut into blocks, the last one first, so that it is let go of
    /// while it is copied.
    fn begin_blocks(&mut self) {
        let mut whole = self.whole.take().unwrap_or_default();
        let mut cut = |place: usize| Block {
            start: place as u64,
            channels: whole
                .iter_mut()
                .map(|channel| {
                    let part = channel.split_off(place);
                    channel.shrink_to_fit();
                    part
                })
                .collect(),
        };
        let full = self.frames as usize / self.block;
        self.filling = cut(full * self.block);
        for number in (0..full).rev() {
            self.waiting.push_front(cut(number * self.block));
        }
        self.decide_known();
    }

    fn fill_blocks(&mut self, channels: &[&[f32]]) {
        let length = channels.first().map_or(0, |channel| channel.len());
        let mut at = 0;
        while at < length {
            let room = self.block - self.filling.channels[0].len();
            let end = length.min(at + room);
            for (channel, part) in channels.iter().zip(&mut self.filling.channels) {
                part.reserve_exact(if part.is_empty() { self.block } else { 0 });
                part.extend_from_slice(&channel[at..end]);
            }
            self.frames += (end - at) as u64;
            at = end;
            if self.filling.channels[0].len() == self.block {
                self.end_block();
                self.decide_known();
            }
        }
    }

    fn end_block(&mut self) {
        let next = Block { start: self.frames, channels: vec![Vec::new(); self.meters.len()] };
        let block = core::mem::replace(&mut self.filling, next);
        self.waiting.push_back(block);
    }

    /// Settles every block of which enough is known.
    fn decide_known(&mut self) {
        let known = self.take_levels();
        self.decide(known.saturating_sub(AROUND as u64));
    }

    /// Takes the levels of the blocks that came in since the last time; the number of the block after them.
    fn take_levels(&mut self) -> u64 {
        let known = self.first_level + self.levels.len() as u64;
        let new = known.saturating_sub(self.first_waiting) as usize;
        for block in self.waiting.iter().skip(new) {
            let of_channel = |(meter, samples): (&mut Meter, &Vec<f32>)| {
                meter.push(samples);
                meter.end_block()
            };
            self.levels.push_back(self.meters.iter_mut().zip(&block.channels).map(of_channel).collect());
        }
        self.first_level + self.levels.len() as u64
    }

    /// Settles the blocks up to number `end`, which is not among them.
    fn decide(&mut self, end: u64) {
        while self.undecided < end {
            let number = self.undecided;
            self.undecided += 1;
            let recent = |blocks: u64| self.last_loud.is_some_and(|last| number - last <= blocks);
            if self.is_loud(number) {
                if !recent(BRIDGE) {
                    self.drop_before(number.saturating_sub(LEAD));
                }
                self.keep_before(number + 1);
                self.last_loud = Some(number);
            } else if recent(TAIL) {
                self.keep_before(number + 1);
            } else if !recent(BRIDGE) {
                self.drop_before(number.saturating_sub(LEAD));
            }
            let needless = number.saturating_sub(AROUND as u64);
            while self.first_level < needless && self.levels.pop_front().is_some() {
                self.first_level += 1;
            }
        }
    }

    fn is_loud(&self, number: u64) -> bool {
        let at = number.saturating_sub(self.first_level) as usize;
        let range = at.saturating_sub(AROUND)..self.levels.len().min(at + AROUND + 1);
        let Some(own) = self.levels.get(at) else { return false };
        own.iter().enumerate().any(|(channel, &level)| {
            let mut around: Vec<f32> =
                self.levels.range(range.clone()).filter_map(|levels| levels.get(channel)).copied().collect();
            let quarter = around.len() / 4;
            let (_, quiet, _) = around.select_nth_unstable_by(quarter, f32::total_cmp);
            f64::from(level) > self.signal.over() * f64::from(*quiet).max(self.signal.least())
        })
    }

    fn drop_before(&mut self, number: u64) {
        while self.first_waiting < number && self.waiting.pop_front().is_some() {
            self.first_waiting += 1;
        }
    }

    fn keep_before(&mut self, number: u64) {
        let most = (MOST_KEPT_S * self.rate_hz) as u64;
        let most = most.min(MOST_SAMPLES / self.meters.len() as u64);
        while self.first_waiting < number {
            let Some(block) = self.waiting.pop_front() else { return };
            self.first_waiting += 1;
            let length = block.channels[0].len() as u64;
            if self.full_at.is_some() || self.kept_frames + length > most {
                self.full_at.get_or_insert(block.start);
                continue;
            }
            self.kept_frames += length;
            for (stretches, samples) in self.kept.iter_mut().zip(block.channels) {
                match stretches.last_mut() {
                    Some(last) if last.end() == block.start => last.samples.extend_from_slice(&samples),
                    _ => stretches.push(Stretch { start: block.start, samples }),
                }
            }
        }
    }

    /// The end of the recording: what was kept of it. **Errors** where a sample is not finite, or where there is none.
    pub fn finish(mut self) -> Result<Kept, Error> {
        if self.frames == 0 {
            return Err(Error::new("the recording must hold at least one sample, and there is none"));
        }
        let whole = self.whole.take();
        let long = whole.is_none();
        let channels: Result<Vec<_>, _> = match whole {
            Some(whole) if self.finite => {
                Ok(whole.into_iter().map(|samples| Waveform::whole_of_finite(self.rate_hz, samples)).collect())
            }
            Some(whole) => whole.into_iter().map(|samples| Waveform::whole(self.rate_hz, samples)).collect(),
            None => {
                if !self.filling.channels[0].is_empty() {
                    self.end_block();
                }
                let known = self.take_levels();
                self.decide(known);
                let kept = core::mem::take(&mut self.kept);
                kept.into_iter().map(|stretches| Waveform::new(self.rate_hz, stretches)).collect()
            }
        };
        let second = |frames: u64| frames as f64 / self.rate_hz;
        let mut notices = Vec::new();
        if long {
            notices.push(Notice::new(
                "long-recording",
                format!(
                    "The recording is {} long: only what stands out from the quiet was looked at, {} of it.",
                    minutes(second(self.frames)),
                    minutes(second(self.kept_frames))
                ),
            ));
        }
        if let Some(at) = self.full_at {
            notices.push(Notice::new(
                "recording-too-full",
                format!(
                    "There is more in the recording than can be looked at in one go: what comes after {} was left out. \
                     Cut it into shorter ones, or record in a quieter place.",
                    minutes(second(at))
                ),
            ));
        }
        let (rate_hz, duration_s) = (self.rate_hz, second(self.frames));
        Ok(Kept { rate_hz, channels: channels?, duration_s, notices })
    }
}

/// `3 min 20 s`.
fn minutes(seconds: f64) -> String {
    let whole = libm::round(seconds) as u64;
    if whole < 60 { format!("{whole} s") } else { format!("{} min {} s", whole / 60, whole % 60) }
}

#[cfg(test)]
mod tests;
