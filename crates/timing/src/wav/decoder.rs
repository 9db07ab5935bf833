//! Bytes of a WAV file in, samples of each channel out, block by block and without going back in the file.
//!
//! Chunks may come in any order and lie about their sizes; what is there is read. Not here: what the format chunk means
//! ([`super::Header`]), and what is kept of the samples ([`crate::quiet`]).

use super::header::{Encoding, FORMAT_BYTES, Header, other_kind};
use crate::error::Error;
use crate::shot::Notice;

/// Most bytes of samples that are held back where they come before the format.
const HELD_BYTES: usize = 16 * 1024 * 1024;
/// Largest sample over full scale. A larger one is no recording, and its square may leave the range of numbers.
const LARGEST: f32 = 1e6;
/// From here on a size may be what a program wrote that did not know it yet, and is nothing to remark on.
const SIZE_UNKNOWN: u64 = 0x7FFF_0000;

/// What the next bytes are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Next {
    /// `RIFF`, a size, `WAVE`.
    Start,
    /// Name and size of a chunk.
    Chunk,
    /// The format chunk, of this many bytes.
    Format(u64),
    /// The 64-bit sizes, in a chunk of this many bytes.
    LongSizes(u64),
    /// Nothing of interest for so many bytes of a chunk.
    Skip { left: u64, odd: bool },
    /// What makes a chunk of odd length even: a zero, which some programs leave out.
    Pad,
    /// Samples, for so many bytes or to the end of the file; `odd` where their chunk is of odd length.
    Samples { left: Option<u64>, odd: bool },
    /// Nothing more is looked at.
    Done,
}

/// Reads a WAV file from its first byte on: PCM of 8, 16, 24 and 32 bits, float of 32 and 64 bits, 1 to 8 channels.
///
/// ```
/// let mut file = Vec::new();
/// file.extend(b"RIFF\x28\0\0\0WAVEfmt \x10\0\0\0\x01\0\x01\0\x80\xBB\0\0\0\x77\x01\0\x02\0\x10\0data\x04\0\0\0");
/// file.extend([0x00, 0x40, 0x00, 0xC0]);
/// let mut decoder = timing::wav::Decoder::new();
/// decoder.push(&file)?;
/// assert_eq!(decoder.samples(), [vec![0.5, -0.5]]);
/// assert!(decoder.finish()?.is_empty());
/// # Ok::<(), timing::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Decoder {
    next: Next,
    /// Bytes of a piece that is not complete yet.
    part: Vec<u8>,
    header: Option<Header>,
    /// Samples that came before the format.
    held: Option<Vec<u8>>,
    /// Size of the samples by the 64-bit sizes.
    long_size: Option<u64>,
    frames: u64,
    /// Whether a chunk of samples was seen.
    found: bool,
    longer_than_said: bool,
    channels: Vec<Vec<f32>>,
}

impl Default for Decoder {
    fn default() -> Self {
        Self::new()
    }
}

impl Decoder {
    /// A decoder before the first byte of a file.
    pub const fn new() -> Self {
        Self {
            next: Next::Start,
            part: Vec::new(),
            header: None,
            held: None,
            long_size: None,
            frames: 0,
            found: false,
            longer_than_said: false,
            channels: Vec::new(),
        }
    }

    /// What the file says of its samples, as soon as that was read.
    pub const fn header(&self) -> Option<&Header> {
        self.header.as_ref()
    }

    /// Samples of each channel so far.
    pub const fn frames(&self) -> u64 {
        self.frames
    }

    /// How many samples of each channel the file says that it holds, decoded ones included; 0 as long as it has not said so. It
    /// may be wrong.
    pub(crate) fn announced(&self) -> u64 {
        match (self.next, self.header) {
            (Next::Samples { left: Some(left), .. }, Some(header)) => self.frames + left / header.frame_bytes() as u64,
            _ => self.frames,
        }
    }

    /// Whether nothing that may follow in the file matters any more.
    pub fn is_done(&self) -> bool {
        self.next == Next::Done
    }

    /// The samples that became complete with the last bytes, channel by channel, full scale 1. Before the format is known
    /// there are no channels.
    pub fn samples(&self) -> &[Vec<f32>] {
        &self.channels
    }

    /// Takes the next bytes in, and lets go of the samples of those before.
    ///
    /// **Errors** where this is no WAV file or one of a kind that is not read, and where a sample is no finite number; nothing
    /// is to be pushed after that.
    pub fn push(&mut self, mut bytes: &[u8]) -> Result<(), Error> {
        for channel in &mut self.channels {
            channel.clear();
        }
        while !bytes.is_empty() {
            match self.next {
                Next::Start => {
                    if self.gathered(&mut bytes, 12) {
                        self.start()?;
                    }
                }
                Next::Chunk => {
                    if self.gathered(&mut bytes, 8) {
                        self.chunk()?;
                    }
                }
                Next::Format(size) => {
                    let wanted = size.min(FORMAT_BYTES as u64);
                    if self.gathered(&mut bytes, wanted as usize) {
                        self.format(size - wanted, size % 2 == 1)?;
                    }
                }
                Next::LongSizes(size) => {
                    let wanted = size.min(24);
                    if self.gathered(&mut bytes, wanted as usize) {
                        let part = std::mem::take(&mut self.part);
                        self.long_size = part.get(8..16).and_then(|b| b.try_into().ok()).map(u64::from_le_bytes);
                        self.skip(size - wanted, size % 2 == 1);
                    }
                }
                Next::Skip { left, odd } => {
                    let step = left.min(bytes.len() as u64);
                    bytes = bytes.get(step as usize..).unwrap_or_default();
                    self.skip(left - step, odd);
                }
                Next::Pad => {
                    // What is a letter is not the padding but the name of the next chunk.
                    if !bytes[0].is_ascii_alphabetic() {
                        bytes = &bytes[1..];
                    }
                    self.next = Next::Chunk;
                }
                Next::Samples { left, odd } => {
                    let step = left.map_or(bytes.len(), |left| left.min(bytes.len() as u64) as usize);
                    let (now, later) = bytes.split_at(step);
                    bytes = later;
                    self.dealt(now)?;
                    let left = left.map(|left| left - step as u64);
                    self.next = Next::Samples { left, odd };
                    if left == Some(0) {
                        // A piece of a frame at the end counts for nothing.
                        self.part.clear();
                        self.skip(0, odd);
                    }
                }
                Next::Done => break,
            }
        }
        Ok(())
    }

    /// The end of the file: what has to be known about it. **Errors** where it ended before its format or held no sample.
    pub fn finish(&self) -> Result<Vec<Notice>, Error> {
        if self.next == Next::Start {
            return Err(Error::new(match self.part.len() {
                0 => "the file is empty, and a WAV file was expected".to_owned(),
                n => format!("the file is no WAV file: it ends after {n} bytes"),
            }));
        }
        let Some(header) = &self.header else {
            return Err(Error::new("the WAV file ends before it says the format of its samples"));
        };
        if self.frames == 0 {
            let what = if self.found { "there are no samples in it" } else { "it ends before its samples" };
            return Err(Error::new(format!("the WAV file holds no recording: {what}")));
        }
        let mut notices = Vec::new();
        if let Next::Samples { left: Some(left), .. } = self.next
            && (header.frame_bytes() as u64..SIZE_UNKNOWN).contains(&left)
        {
            let there = self.frames as f64 / header.rate_hz;
            let said = there + (left / header.frame_bytes() as u64) as f64 / header.rate_hz;
            notices.push(Notice::new(
                "file-cut-short",
                format!("The file says that it holds {said:.1} s of recording, and it ends after {there:.1} s: what is there was taken."),
            ));
        }
        if self.longer_than_said {
            notices.push(Notice::new(
                "file-longer-than-said",
                "The file goes on after the recording that it says it holds, with something that is no part of a WAV file: \
                 if the recording seems cut short, save it again.",
            ));
        }
        Ok(notices)
    }

    /// Gathers a piece of `wanted` bytes; whether it is complete.
    fn gathered(&mut self, bytes: &mut &[u8], wanted: usize) -> bool {
        let missing = wanted.saturating_sub(self.part.len()).min(bytes.len());
        let (now, later) = bytes.split_at(missing);
        self.part.extend_from_slice(now);
        *bytes = later;
        self.part.len() >= wanted
    }

    fn start(&mut self) -> Result<(), Error> {
        let known = [b"RIFF", b"RF64", b"BW64"].iter().any(|mark| self.part.starts_with(*mark));
        if !known || !self.part.ends_with(b"WAVE") {
            return Err(Error::new(format!("the file is no WAV file: {}", other_kind(&self.part))));
        }
        self.part.clear();
        self.next = Next::Chunk;
        Ok(())
    }

    fn chunk(&mut self) -> Result<(), Error> {
        let part = std::mem::take(&mut self.part);
        let (name, size) = part.split_at(4);
        let size = u64::from(size.try_into().map_or(0, u32::from_le_bytes));
        self.next = match name {
            b"fmt " if self.header.is_none() && size > 0 => Next::Format(size),
            b"ds64" if size > 0 => Next::LongSizes(size),
            b"data" if !self.found => {
                self.found = true;
                let unknown = size == u64::from(u32::MAX);
                let said = if unknown { self.long_size.unwrap_or(0) } else { size };
                // A program that is broken off leaves 0 or the largest number that there is.
                let left = if said == 0 { None } else { Some(said) };
                if self.header.is_none() {
                    if left.is_none_or(|left| left > HELD_BYTES as u64) {
                        return Err(Error::new(format!(
                            "the WAV file says the format of its samples only after them, and at most {HELD_BYTES} bytes of \
                             them are held back until then"
                        )));
                    }
                    self.held = Some(Vec::new());
                }
                Next::Samples { left, odd: said % 2 == 1 }
            }
            // Behind the samples a name that is none means that their size was not true.
            _ if self.found && !name.iter().all(|&letter| (0x20..0x7F).contains(&letter)) => {
                self.longer_than_said = true;
                Next::Done
            }
            _ => {
                self.skip(size, size % 2 == 1);
                self.next
            }
        };
        Ok(())
    }

    fn format(&mut self, rest: u64, odd: bool) -> Result<(), Error> {
        let part = std::mem::take(&mut self.part);
        let header = Header::of(&part)?;
        self.channels = vec![Vec::new(); header.channels];
        self.header = Some(header);
        if let Some(held) = self.held.take() {
            self.dealt(&held)?;
            self.part.clear();
            self.next = Next::Done;
        } else {
            self.skip(rest, odd);
        }
        Ok(())
    }

    fn skip(&mut self, left: u64, odd: bool) {
        self.next = match left {
            0 if odd => Next::Pad,
            0 => Next::Chunk,
            _ => Next::Skip { left, odd },
        };
    }

    /// Bytes of samples, cut anywhere.
    fn dealt(&mut self, mut bytes: &[u8]) -> Result<(), Error> {
        let Some(header) = self.header else {
            if let Some(held) = &mut self.held {
                held.extend_from_slice(bytes);
            }
            return Ok(());
        };
        let size = header.frame_bytes();
        if !self.part.is_empty() {
            if !self.gathered(&mut bytes, size) {
                return Ok(());
            }
            let part = std::mem::take(&mut self.part);
            self.decode(&header, &part)?;
        }
        let (whole, rest) = bytes.split_at(bytes.len() - bytes.len() % size);
        self.decode(&header, whole)?;
        self.part.extend_from_slice(rest);
        Ok(())
    }

    /// Whole frames.
    fn decode(&mut self, header: &Header, bytes: &[u8]) -> Result<(), Error> {
        let out = &mut self.channels;
        let checked = matches!(header.encoding, Encoding::Float32 | Encoding::Float64);
        let before = out.first().map_or(0, Vec::len);
        match header.encoding {
            Encoding::Unsigned8 => spread(bytes, out, |[b]: [u8; 1]| (f32::from(b) - 128.0) / 128.0),
            Encoding::Signed16 => spread(bytes, out, |b| f32::from(i16::from_le_bytes(b)) / 32_768.0),
            Encoding::Signed24 => {
                spread(bytes, out, |[a, b, c]: [u8; 3]| i32::from_le_bytes([0, a, b, c]) as f32 / 2_147_483_648.0);
            }
            Encoding::Signed32 => spread(bytes, out, |b| i32::from_le_bytes(b) as f32 / 2_147_483_648.0),
            Encoding::Float32 => spread(bytes, out, f32::from_le_bytes),
            Encoding::Float64 => spread(bytes, out, |b| f64::from_le_bytes(b) as f32),
        }
        if checked {
            for channel in out.iter() {
                let bad = channel.iter().skip(before).position(|x| x.is_nan() || x.abs() > LARGEST);
                if let Some(at) = bad {
                    let value = channel.get(before + at).copied().unwrap_or(f32::NAN);
                    return Err(Error::new(format!(
                        "the samples must be finite numbers of at most {LARGEST} times full scale, and the one at {:.3} s is {value}",
                        (self.frames + at as u64) as f64 / header.rate_hz
                    )));
                }
            }
        }
        self.frames += (bytes.len() / header.frame_bytes()) as u64;
        Ok(())
    }
}

/// Samples of `N` bytes, dealt out to the channels in turn.
fn spread<const N: usize>(bytes: &[u8], channels: &mut [Vec<f32>], value: impl Fn([u8; N]) -> f32) {
    let samples = bytes.as_chunks::<N>().0;
    if let [channel] = channels {
        channel.extend(samples.iter().map(|&sample| value(sample)));
        return;
    }
    let count = channels.len().max(1);
    for (i, channel) in channels.iter_mut().enumerate() {
        channel.extend(samples.iter().skip(i).step_by(count).map(|&sample| value(sample)));
    }
}
