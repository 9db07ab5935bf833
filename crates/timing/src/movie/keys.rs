//! The camera's own words in a `meta` box: the rate at which frames were taken, where the file plays them slower.
//!
//! Keys stand in `keys`, values in `ilst` under the key's number. Not here: any other word of the camera; a flag that some files
//! carry for playing every frame is the same in ordinary and slow-motion clips, so it is not read. *Source:* QuickTime File
//! Format, metadata; the key as written by common phones.

use super::boxes::{Reader, children, find};
use crate::error::Error;

/// The key under which the rate is written.
const CAPTURE_RATE: &[u8] = b"com.android.capture.fps";
/// Most keys that are looked through.
const MOST_KEYS: usize = 4_096;
/// Rates that a camera can have \[Hz\].
const RATES_HZ: core::ops::RangeInclusive<f64> = 1.0..=100_000.0;

/// The rate at which the frames were taken \[Hz\], where the box says so and the number can be one. **Errors** where a box or a
/// list does not fit.
pub(super) fn capture_rate_hz(meta: &[u8]) -> Result<Option<f64>, Error> {
    // MP4 puts a version before the boxes inside, QuickTime does not: then a box `hdlr` begins at once.
    let body = if meta.get(4..8) == Some(b"hdlr") { meta } else { meta.get(4..).unwrap_or_default() };
    let (Some(keys), Some(list)) = (find(body, b"keys")?, find(body, b"ilst")?) else { return Ok(None) };
    let Some(wanted) = number_of(keys)? else { return Ok(None) };
    for item in children(list) {
        let (number, item) = item?;
        if u32::from_be_bytes(number) == wanted {
            let data = find(item, b"data")?;
            return Ok(data.map(value).transpose()?.flatten().filter(|rate| RATES_HZ.contains(rate)));
        }
    }
    Ok(None)
}

/// The number, counted from 1, of the key that is looked for.
fn number_of(keys: &[u8]) -> Result<Option<u32>, Error> {
    let mut reader = Reader::new(keys);
    reader.version()?;
    let count = reader.entries(8, "keys")?.min(MOST_KEYS);
    for (number, key) in (1..).zip(children(reader.rest()).take(count)) {
        if key?.1 == CAPTURE_RATE {
            return Ok(Some(number));
        }
    }
    Ok(None)
}

/// A number of any of the kinds in which it is written.
fn value(data: &[u8]) -> Result<Option<f64>, Error> {
    let mut reader = Reader::new(data);
    let kind = reader.u32()?;
    reader.u32()?;
    Ok(match kind {
        23 => Some(f64::from(f32::from_be_bytes(reader.array()?))),
        24 => Some(f64::from_be_bytes(reader.array()?)),
        67 => Some(f64::from(reader.i32()?)),
        77 => Some(f64::from(reader.u32()?)),
        1 => core::str::from_utf8(reader.rest()).ok().and_then(|text| text.trim().parse().ok()),
        _ => None,
    })
}
