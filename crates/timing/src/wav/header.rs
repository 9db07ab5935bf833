//! What a WAV file says of its samples: channels, rate, and how a sample is written; and what is not read.
//!
//! After the RIFF/WAVE layout of the 1991 multimedia programming interface, with `WAVE_FORMAT_EXTENSIBLE` (2001) and the 64-bit
//! sizes of EBU Tech 3306 / ITU-R BS.2088. Not here: the order of chunks and the samples themselves ([`super::Decoder`]).

use crate::error::Error;
use crate::waveform::{HIGHEST_RATE_HZ, LOWEST_RATE_HZ};

/// Most channels of a file.
pub const MOST_CHANNELS: u16 = 8;

/// How a sample is written, the lowest byte first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Encoding {
    /// One byte, 128 is zero.
    Unsigned8,
    /// Two bytes.
    Signed16,
    /// Three bytes.
    Signed24,
    /// Four bytes.
    Signed32,
    /// A number of single precision, full scale 1.
    Float32,
    /// A number of double precision, full scale 1.
    Float64,
}

impl Encoding {
    /// Bytes of a sample.
    pub const fn bytes(self) -> usize {
        match self {
            Encoding::Unsigned8 => 1,
            Encoding::Signed16 => 2,
            Encoding::Signed24 => 3,
            Encoding::Signed32 | Encoding::Float32 => 4,
            Encoding::Float64 => 8,
        }
    }
}

/// What a file says of its samples.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Header {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// Channels, at least one.
    pub channels: usize,
    /// How a sample is written.
    pub encoding: Encoding,
}

/// Bytes of the `fmt ` chunk that say anything.
pub(super) const FORMAT_BYTES: usize = 40;
const PLAIN_FORMAT_BYTES: usize = 16;

const PCM: u16 = 1;
const FLOAT: u16 = 3;
const EXTENSIBLE: u16 = 0xFFFE;
/// The tail that every sub-format of the extensible kind has behind its number.
const SUB_FORMAT_TAIL: [u8; 14] = [0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xAA, 0, 0x38, 0x9B, 0x71];

/// The usual compressed formats by their numbers.
const COMPRESSED: [(u16, &str); 9] = [
    (0x02, "ADPCM"),
    (0x06, "A-law"),
    (0x07, "mu-law"),
    (0x11, "IMA ADPCM"),
    (0x31, "GSM"),
    (0x50, "MPEG"),
    (0x55, "MP3"),
    (0xFF, "AAC"),
    (0x161, "WMA"),
];

impl Header {
    /// Bytes of one sample of every channel.
    pub const fn frame_bytes(&self) -> usize {
        self.channels * self.encoding.bytes()
    }

    /// From the `fmt ` chunk; of a longer one the first [`FORMAT_BYTES`] are enough. **Errors** where the samples are of a kind,
    /// number or rate that is not read.
    pub(super) fn of(chunk: &[u8]) -> Result<Self, Error> {
        let two = |at: usize| chunk.get(at..at + 2).map(|b| u16::from_le_bytes([b[0], b[1]]));
        let four = |at: usize| chunk.get(at..at + 4).map(|b| u32::from_le_bytes([b[0], b[1], b[2], b[3]]));
        let (Some(kind), Some(channels), Some(rate), Some(byte_rate), Some(align), Some(bits)) =
            (two(0), two(2), four(4), four(8), two(12), two(14))
        else {
            return Err(Error::new(format!(
                "the format of the WAV file takes at least {PLAIN_FORMAT_BYTES} bytes, and {} are there",
                chunk.len()
            )));
        };
        if channels == 0 || channels > MOST_CHANNELS {
            return Err(Error::new(format!(
                "the WAV file must have between 1 and {MOST_CHANNELS} channels, and it says {channels}"
            )));
        }
        let rate_hz = f64::from(rate);
        if !(LOWEST_RATE_HZ..=HIGHEST_RATE_HZ).contains(&rate_hz) {
            return Err(Error::new(format!(
                "the sampling rate must be between {LOWEST_RATE_HZ} Hz and {HIGHEST_RATE_HZ} Hz, and the WAV file says {rate} Hz"
            )));
        }
        let kind = if kind == EXTENSIBLE { sub_format(chunk)? } else { kind };
        let encoding = encoding(kind, bits, container(channels, rate, byte_rate, align, bits))?;
        Ok(Self { rate_hz, channels: usize::from(channels), encoding })
    }
}

fn sub_format(chunk: &[u8]) -> Result<u16, Error> {
    match chunk.get(24..FORMAT_BYTES) {
        Some([low, high, tail @ ..]) if *tail == SUB_FORMAT_TAIL => Ok(u16::from_le_bytes([*low, *high])),
        Some(_) => Err(Error::new(
            "the samples of the WAV file are of a kind that is not known, and only PCM and float are read",
        )),
        None => Err(Error::new(format!(
            "the extended format of the WAV file takes {FORMAT_BYTES} bytes, and {} are there",
            chunk.len()
        ))),
    }
}

/// Bytes that a sample takes in the file: the bits say it, unless block size and byte rate agree on more. Either of those two
/// alone is often written wrongly.
fn container(channels: u16, rate: u32, byte_rate: u32, align: u16, bits: u16) -> u16 {
    let by_bits = bits.div_ceil(8);
    let by_align = align / channels;
    let agreed = align.is_multiple_of(channels) && u64::from(byte_rate) == u64::from(rate) * u64::from(align);
    if agreed && by_align > by_bits && by_align <= 4 { by_align } else { by_bits }
}

fn encoding(kind: u16, bits: u16, bytes: u16) -> Result<Encoding, Error> {
    match (kind, bytes) {
        (PCM, 1) => Ok(Encoding::Unsigned8),
        (PCM, 2) => Ok(Encoding::Signed16),
        (PCM, 3) => Ok(Encoding::Signed24),
        (PCM, 4) => Ok(Encoding::Signed32),
        (FLOAT, 4) => Ok(Encoding::Float32),
        (FLOAT, 8) => Ok(Encoding::Float64),
        (PCM, _) => {
            Err(Error::new(format!("the samples must have 8, 16, 24 or 32 bits, and the WAV file says {bits}")))
        }
        (FLOAT, _) => {
            Err(Error::new(format!("the float samples must have 32 or 64 bits, and the WAV file says {bits}")))
        }
        (other, _) => {
            let name =
                COMPRESSED.iter().find(|(number, _)| *number == other).map_or("not known here", |(_, name)| name);
            Err(Error::new(format!(
                "the samples of the WAV file are compressed (format {other}, {name}), and only PCM and float are read: \
                 save it as plain WAV"
            )))
        }
    }
}

/// What a file begins like that is no WAV file.
pub(super) fn other_kind(start: &[u8]) -> &'static str {
    const KINDS: [(usize, &[u8], &str); 9] = [
        (0, b"RIFX", "it is a WAV file with its bytes the other way round"),
        (0, b"RIFF", "it is another kind of RIFF file"),
        (0, b"FORM", "it begins like an AIFF file"),
        (0, b"OggS", "it begins like an Ogg file"),
        (0, b"fLaC", "it begins like a FLAC file"),
        (0, b"ID3", "it begins like an MP3 file"),
        (0, &[0x1A, 0x45, 0xDF, 0xA3], "it begins like a WebM file"),
        (0, b"caff", "it begins like a CAF file"),
        (4, b"ftyp", "it begins like an MP4 file"),
    ];
    KINDS
        .iter()
        .find(|(at, mark, _)| start.get(*at..).is_some_and(|rest| rest.starts_with(mark)))
        .map_or("it does not begin with RIFF and WAVE", |(_, _, words)| words)
}
