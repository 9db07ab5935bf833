//! One track of pictures, put together from its boxes.
//!
//! Not here: what each table means (`times`, `samples`, `codec`), and choosing among tracks (`mod`).

use super::boxes::{Reader, find, need};
use super::codec::{self, Codec};
use super::times::{self, Showing};
use super::{Colour, Sample, keys, samples};
use crate::error::Error;
use crate::shot::Notice;

/// A track of pictures.
pub(super) struct Track {
    pub samples: Vec<Sample>,
    pub codec: Codec,
    pub colour: Option<Colour>,
    pub rotation_deg: Option<u16>,
    pub clock_step_s: f64,
    pub capture_rate_hz: Option<f64>,
    pub notices: Vec<Notice>,
}

/// Reads a `trak` box; `None` for sound and everything else that is no picture.
pub(super) fn read(trak: &[u8], movie_scale: u32) -> Result<Option<Track>, Error> {
    let Some(media) = find(trak, b"mdia")? else { return Ok(None) };
    if !is_picture(media)? {
        return Ok(None);
    }
    let ticks = times::timescale(need(media, b"mdhd")?, "track")?;
    let stbl = need(need(media, b"minf")?, b"stbl")?;
    let codec = codec::read(need(stbl, b"stsd")?)?;
    let places = samples::places(stbl)?;
    let mut shown_at = times::decoding(need(stbl, b"stts")?, places.len())?;
    if let Some(ctts) = find(stbl, b"ctts")? {
        times::add_offsets(&mut shown_at, ctts)?;
    }
    let elst = find(trak, b"edts")?.map(|edts| find(edts, b"elst")).transpose()?.flatten();
    let showing = Showing::new(elst, movie_scale, ticks)?;
    let samples = places
        .into_iter()
        .zip(shown_at)
        .map(|(place, tick)| {
            let (time_s, shown) = showing.time_s(tick);
            Sample { offset: place.offset, size: place.size, time_s, sync: place.sync, shown }
        })
        .collect();
    let mut notices = Vec::new();
    if showing.edited {
        notices.push(Notice::new(
            "edited-clip",
            "The clip was cut or slowed on the phone, so that its times are not those of the camera. Use the original file.",
        ));
    }
    if codec.several {
        notices.push(Notice::new(
            "several-descriptions",
            "The clip changes its coding on the way; only its first part may be readable. Use the original file.",
        ));
    }
    let capture_rate_hz = find(trak, b"meta")?.map(keys::capture_rate_hz).transpose()?.flatten();
    Ok(Some(Track {
        samples,
        colour: codec.colour,
        codec,
        rotation_deg: find(trak, b"tkhd")?.map(rotation).transpose()?.flatten(),
        clock_step_s: 1.0 / f64::from(ticks),
        capture_rate_hz,
        notices,
    }))
}

/// Whether the handler of a media box is one of pictures.
fn is_picture(media: &[u8]) -> Result<bool, Error> {
    let mut reader = Reader::new(need(media, b"hdlr")?);
    reader.version()?;
    reader.u32()?;
    Ok(reader.array::<4>()? == *b"vide")
}

/// The turn in a `tkhd` box's matrix, clockwise, where it is a plain one.
fn rotation(tkhd: &[u8]) -> Result<Option<u16>, Error> {
    let mut reader = Reader::new(tkhd);
    // Dates, number and duration: 20 bytes, or 32 with long ones; then 16 bytes of layer, group and volume.
    let head = if reader.version()? == 1 { 32 } else { 20 };
    reader.take(head + 16)?;
    let (a, b, _) = (reader.i32()?, reader.i32()?, reader.i32()?);
    let (c, d) = (reader.i32()?, reader.i32()?);
    Ok(match (a.signum(), b.signum(), c.signum(), d.signum()) {
        (1, 0, 0, 1) => Some(0),
        (0, 1, -1, 0) => Some(90),
        (-1, 0, 0, -1) => Some(180),
        (0, -1, 1, 0) => Some(270),
        _ => None,
    })
}
