//! What an MP4 or MOV file says about its frames: true times in the order in which they are shown, the rate they were taken
//! at, and what a decoder needs.
//!
//! A page walks the top-level boxes with [`next_box`], 16 bytes at a time, and hands the `moov` box to [`read_moov`]; the
//! pictures themselves are never read here. *Source:* ISO/IEC 14496-12:2022 (boxes), 14496-15:2022 (`avcC`, `hvcC`).
//!
//! Not here: pictures, decoding, and what the frames say about a shutter (`frames`).

mod boxes;
mod codec;
mod keys;
mod samples;
mod times;
mod track;

use crate::error::Error;
use crate::frames::{Curve, typical_interval_s};
use crate::shot::Notice;

pub use boxes::{BoxHead, next_box};
pub use samples::MOST_SAMPLES;

use boxes::{children, inside};

/// Largest `moov` box that is read \[bytes\]: a million frames need about 20 MB.
pub const LARGEST_MOOV: usize = 64 << 20;
/// Most tracks in a file.
const MOST_TRACKS: usize = 64;
/// A capture rate that differs by less than this part from the file's is the same.
const SAME_RATE: f64 = 0.02;

/// Where a frame's coded bytes lie, in the order of decoding.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// From the beginning of the file \[bytes\].
    pub offset: u64,
    /// Length \[bytes\].
    pub size: u32,
    /// When it is shown \[s\]; for a frame that is not shown, where it would lie.
    pub time_s: f64,
    /// A decoder can begin here.
    pub sync: bool,
    /// Whether the file's edit list shows it; others are only decoded.
    pub shown: bool,
}

/// What the file says about the colours of its frames: code points of ITU-T H.273.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour {
    /// Colour primaries.
    pub primaries: u16,
    /// Transfer characteristics.
    pub transfer: u16,
    /// Matrix coefficients.
    pub matrix: u16,
    /// Codes 0 to 255 rather than 16 to 235, where the file says.
    pub full_range: Option<bool>,
}

impl Colour {
    /// The tone curve, where it is one that is known here: H.273 table 3 — 1, 6, 14, 15 as BT.709; 13 sRGB; 8 linear.
    pub const fn curve(self) -> Option<Curve> {
        match self.transfer {
            1 | 6 | 14 | 15 => Some(Curve::Bt709),
            13 => Some(Curve::Srgb),
            8 => Some(Curve::Linear),
            _ => None,
        }
    }
}

/// The picture track of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Movie {
    /// When each frame is shown \[s, as the file says\], in that order.
    pub frame_times_s: Vec<f64>,
    /// Frames a second as the file plays.
    pub file_rate_hz: f64,
    /// Frames a second as the camera says it took them, where it says so.
    pub capture_rate_hz: Option<f64>,
    /// A tick of the file's clock \[s\].
    pub clock_step_s: f64,
    /// The codec's four letters: `avc1`, `hvc1`.
    pub codec: String,
    /// The codec as a web page's decoder wants it, `avc1.640028`, where it can be told.
    pub decoder: Option<String>,
    /// The decoder's description: what the `avcC` or `hvcC` box holds; empty where there is none.
    pub description: Vec<u8>,
    /// Width of the coded picture.
    pub width_px: u32,
    /// Height of the coded picture.
    pub height_px: u32,
    /// Turn for showing, clockwise \[degrees\]: 0, 90, 180 or 270; `None` for anything else.
    pub rotation_deg: Option<u16>,
    /// Colours, where the file says.
    pub colour: Option<Colour>,
    /// Coded frames in the order of decoding.
    pub samples: Vec<Sample>,
    /// What has to be known about the file.
    pub notices: Vec<Notice>,
}

/// Reads a `moov` box, with or without its head.
///
/// **Errors** where it is cut short, a size does not fit, there is no track of pictures with two frames or more, the frames are
/// kept in fragments, or there are more than [`MOST_SAMPLES`].
pub fn read_moov(moov: &[u8]) -> Result<Movie, Error> {
    if moov.len() > LARGEST_MOOV {
        return Err(Error::new(format!(
            "the index of a clip must be at most {LARGEST_MOOV} bytes, and {} were given",
            moov.len()
        )));
    }
    let moov = match next_box(moov, 0, moov.len() as u64) {
        Ok(head) if head.kind == *b"moov" => inside(moov, &head)?,
        Ok(_) => moov,
        Err(error) if moov.get(4..8) == Some(b"moov") => return Err(error),
        Err(_) => moov,
    };
    let mut movie_scale = None;
    let mut tracks = Vec::new();
    let mut capture_rate_hz = None;
    let mut fragments = false;
    for child in children(moov) {
        let (kind, body) = child?;
        match &kind {
            b"mvhd" => movie_scale = Some(times::timescale(body, "movie")?),
            b"trak" => {
                if tracks.len() >= MOST_TRACKS {
                    return Err(Error::new(format!("a clip must have at most {MOST_TRACKS} tracks, and it has more")));
                }
                tracks.push(body);
            }
            b"cmov" => return Err(Error::new("the index of the clip is compressed, which is not read here")),
            b"mvex" => fragments = true,
            b"meta" => capture_rate_hz = capture_rate_hz.or(keys::capture_rate_hz(body)?),
            b"udta" => {
                for inner in children(body).map_while(Result::ok).filter(|(kind, _)| kind == b"meta") {
                    capture_rate_hz = capture_rate_hz.or(keys::capture_rate_hz(inner.1)?);
                }
            }
            _ => {}
        }
    }
    let scale = movie_scale.ok_or_else(|| Error::new("the clip's index has no head of the movie (mvhd)"))?;
    let mut found: Option<track::Track> = None;
    for body in tracks {
        let Some(track) = track::read(body, scale)? else { continue };
        if found.as_ref().is_none_or(|best| track.samples.len() > best.samples.len()) {
            found = Some(track);
        }
    }
    let Some(track) = found else {
        return Err(Error::new("the clip has no track of pictures"));
    };
    if fragments && track.samples.is_empty() {
        return Err(Error::new(
            "the clip keeps its frames in fragments, which are not read here; save it as an ordinary file",
        ));
    }
    finish(track, capture_rate_hz)
}

fn finish(track: track::Track, capture_rate_hz: Option<f64>) -> Result<Movie, Error> {
    let mut frame_times_s: Vec<f64> =
        track.samples.iter().filter(|sample| sample.shown).map(|sample| sample.time_s).collect();
    frame_times_s.sort_unstable_by(f64::total_cmp);
    let interval_s = typical_interval_s(&frame_times_s);
    if !(interval_s > 0.0 && (1.0 / interval_s).is_finite()) {
        return Err(Error::new(format!(
            "a clip must show two frames or more, one after the other, and this one shows {}",
            frame_times_s.len()
        )));
    }
    let file_rate_hz = 1.0 / interval_s;
    let capture_rate_hz = capture_rate_hz.or(track.capture_rate_hz);
    let mut notices = track.notices;
    if let Some(rate) = capture_rate_hz.filter(|rate| (rate / file_rate_hz - 1.0).abs() > SAME_RATE) {
        notices.push(Notice::new(
            "slow-motion-file",
            format!(
                "The file plays at {file_rate_hz:.0} frames a second and says that it was taken at {rate:.0}. Confirm which is \
                 true before anything is measured."
            ),
        ));
    }
    if track.colour.is_some_and(|colour| matches!(colour.transfer, 16 | 18)) {
        notices.push(Notice::new(
            "high-dynamic-range",
            "The clip was taken with a wide brightness range, whose tone curve is not known here. Switch that off on the phone \
             and take it again.",
        ));
    }
    Ok(Movie {
        frame_times_s,
        file_rate_hz,
        capture_rate_hz,
        clock_step_s: track.clock_step_s,
        codec: track.codec.name,
        decoder: track.codec.decoder,
        description: track.codec.description,
        width_px: track.codec.width_px,
        height_px: track.codec.height_px,
        rotation_deg: track.rotation_deg,
        colour: track.colour,
        samples: track.samples,
        notices,
    })
}
