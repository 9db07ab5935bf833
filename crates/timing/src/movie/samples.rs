//! Where the coded frames of a track lie: sizes, chunks, and those from which a decoder can begin.
//!
//! Not here: their times (`times`). *Source:* ISO/IEC 14496-12:2022, 8.6.2, 8.7.3 to 8.7.5.

use super::boxes::{Reader, find, need};
use crate::error::Error;

/// Most coded frames in a track.
pub const MOST_SAMPLES: usize = 1_000_000;

/// Place and size of a coded frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Place {
    pub offset: u64,
    pub size: u32,
    pub sync: bool,
}

/// Places of all samples of a sample table (`stbl`).
pub(super) fn places(stbl: &[u8]) -> Result<Vec<Place>, Error> {
    let sizes = sizes(stbl)?;
    let mut places = Vec::with_capacity(sizes.len());
    let (offsets, wide) = match find(stbl, b"co64")? {
        Some(co64) => (co64, true),
        None => (need(stbl, b"stco")?, false),
    };
    let mut chunks = Reader::new(offsets);
    chunks.version()?;
    let count = chunks.entries(if wide { 8 } else { 4 }, "chunks")?;
    let mut runs = Runs::new(need(stbl, b"stsc")?)?;
    let mut sizes = sizes.into_iter().peekable();
    for chunk in 1..=count {
        let mut offset = if wide { chunks.u64()? } else { u64::from(chunks.u32()?) };
        let here = runs.samples_of(chunk)?;
        if sizes.peek().is_none() {
            break;
        }
        for size in sizes.by_ref().take(here) {
            places.push(Place { offset, size, sync: false });
            offset = offset.saturating_add(u64::from(size));
        }
    }
    let left = sizes.count();
    if left > 0 {
        return Err(Error::new(format!("each frame must lie in a chunk of the clip, and {left} of them do not")));
    }
    mark_sync(&mut places, find(stbl, b"stss")?)?;
    Ok(places)
}

fn sizes(stbl: &[u8]) -> Result<Vec<u32>, Error> {
    let (mut reader, compact) = match find(stbl, b"stsz")? {
        Some(stsz) => (Reader::new(stsz), false),
        None => (Reader::new(need(stbl, b"stz2")?), true),
    };
    reader.version()?;
    let uniform = reader.u32()?;
    if !compact && uniform != 0 {
        let count = reader.u32()? as usize;
        return Ok(vec![uniform; limited(count)?]);
    }
    // The compact form keeps the width of its entries in the last byte.
    let width = if compact { uniform & 0xff } else { 32 };
    match width {
        32 => {
            let count = limited(reader.entries(4, "frame sizes")?)?;
            (0..count).map(|_| reader.u32()).collect()
        }
        16 => {
            let count = limited(reader.entries(2, "frame sizes")?)?;
            (0..count).map(|_| reader.u16().map(u32::from)).collect()
        }
        8 => {
            let count = limited(reader.entries(1, "frame sizes")?)?;
            (0..count).map(|_| reader.u8().map(u32::from)).collect()
        }
        other => Err(Error::new(format!("the frame sizes must be 8, 16 or 32 bits wide, and {other} is given"))),
    }
}

fn limited(count: usize) -> Result<usize, Error> {
    if count > MOST_SAMPLES {
        return Err(Error::new(format!("a clip must have at most {MOST_SAMPLES} frames, and {count} are given")));
    }
    Ok(count)
}

/// How many samples a chunk has (`stsc`), chunks being asked for in order from 1.
struct Runs<'a> {
    reader: Reader<'a>,
    left: usize,
    now: usize,
    next: Option<(usize, usize)>,
}

impl<'a> Runs<'a> {
    fn new(stsc: &'a [u8]) -> Result<Self, Error> {
        let mut reader = Reader::new(stsc);
        reader.version()?;
        let left = reader.entries(12, "chunk runs")?;
        let mut runs = Self { reader, left, now: 0, next: None };
        runs.advance()?;
        Ok(runs)
    }

    fn advance(&mut self) -> Result<(), Error> {
        self.next = None;
        if self.left > 0 {
            self.left -= 1;
            let (first, samples, _) = (self.reader.u32()?, self.reader.u32()?, self.reader.u32()?);
            self.next = Some((first as usize, samples as usize));
        }
        Ok(())
    }

    fn samples_of(&mut self, chunk: usize) -> Result<usize, Error> {
        while let Some((_, samples)) = self.next.filter(|(first, _)| *first <= chunk) {
            self.now = samples;
            self.advance()?;
        }
        Ok(self.now)
    }
}

/// Marks the samples of a `stss` box; without one a decoder can begin anywhere.
fn mark_sync(places: &mut [Place], stss: Option<&[u8]>) -> Result<(), Error> {
    let Some(stss) = stss else {
        places.iter_mut().for_each(|place| place.sync = true);
        return Ok(());
    };
    let mut reader = Reader::new(stss);
    reader.version()?;
    for _ in 0..reader.entries(4, "key frames")? {
        let number = reader.u32()? as usize;
        if let Some(place) = number.checked_sub(1).and_then(|index| places.get_mut(index)) {
            place.sync = true;
        }
    }
    Ok(())
}
