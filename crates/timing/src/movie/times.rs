//! Clocks and times of a track: time scales, decoding times, offsets to showing, and the edit list.
//!
//! Not here: where samples lie (`samples`). *Source:* ISO/IEC 14496-12:2022, 8.4.2, 8.6.1, 8.6.6.

use super::boxes::Reader;
use crate::error::Error;

/// Most edits in a list.
const MOST_EDITS: usize = 10_000;

/// Ticks a second, from a `mvhd` or `mdhd` box.
pub(super) fn timescale(head: &[u8], what: &str) -> Result<u32, Error> {
    let mut reader = Reader::new(head);
    // Two dates come first, of 4 or 8 bytes each.
    let dates = if reader.version()? == 1 { 16 } else { 8 };
    reader.take(dates)?;
    match reader.u32()? {
        0 => Err(Error::new(format!("the {what}'s clock must have 1 tick a second or more, and 0 is given"))),
        ticks => Ok(ticks),
    }
}

/// Decoding times \[ticks\] of `count` samples from a `stts` box, without their sum ever being set aside before it is known to be
/// right.
pub(super) fn decoding(stts: &[u8], count: usize) -> Result<Vec<i64>, Error> {
    let mut times = Vec::with_capacity(count);
    let mut at = 0_i64;
    runs(stts, count, "frame durations", |repeats, delta| {
        for _ in 0..repeats {
            times.push(at);
            at = at.saturating_add(i64::from(delta));
        }
    })?;
    if times.len() < count {
        return Err(Error::new(format!("the clip has {count} frames, and {} of them have a time", times.len())));
    }
    Ok(times)
}

/// Adds the offsets of a `ctts` box. Both versions are read with a sign: files with negative offsets and version 0 are common.
pub(super) fn add_offsets(times: &mut [i64], ctts: &[u8]) -> Result<(), Error> {
    let count = times.len();
    let mut rest = times.iter_mut();
    runs(ctts, count, "frame offsets", |repeats, offset| {
        for time in rest.by_ref().take(repeats) {
            *time = time.saturating_add(i64::from(offset.cast_signed()));
        }
    })
}

/// Runs of equal values: how often, and the value; never more often than there are samples left.
fn runs(table: &[u8], count: usize, what: &str, mut each: impl FnMut(usize, u32)) -> Result<(), Error> {
    let mut reader = Reader::new(table);
    reader.version()?;
    let mut left = count;
    for _ in 0..reader.entries(8, what)? {
        let (repeats, value) = (reader.u32()? as usize, reader.u32()?);
        each(repeats.min(left), value);
        left -= repeats.min(left);
        if left == 0 {
            break;
        }
    }
    Ok(())
}

/// A stretch of the track that the edit list shows.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Stretch {
    /// When it begins to be shown \[s\].
    shown_s: f64,
    /// From this tick of the track on.
    from: f64,
    /// To this one.
    to: f64,
    /// Speed at which it is shown.
    rate: f64,
}

/// From ticks of a track to seconds of the clip.
#[derive(Clone, Debug)]
pub(super) struct Showing {
    stretches: Vec<Stretch>,
    ticks_per_s: f64,
    /// The list shows several stretches, or one at another speed.
    pub edited: bool,
}

impl Showing {
    /// From an `elst` box, if there is one.
    pub fn new(elst: Option<&[u8]>, movie_scale: u32, media_scale: u32) -> Result<Self, Error> {
        let ticks_per_s = f64::from(media_scale);
        let mut stretches = Vec::new();
        if let Some(elst) = elst {
            let mut reader = Reader::new(elst);
            let long = reader.version()? == 1;
            let count = reader.entries(if long { 20 } else { 12 }, "edits")?;
            if count > MOST_EDITS {
                return Err(Error::new(format!(
                    "the list of edits must have at most {MOST_EDITS}, and {count} are given"
                )));
            }
            let mut shown_s = 0.0;
            for _ in 0..count {
                let (duration, media) = if long {
                    (reader.u64()? as f64, reader.i64()?)
                } else {
                    (f64::from(reader.u32()?), i64::from(reader.i32()?))
                };
                let rate = f64::from(reader.i32()?) / 65_536.0;
                let duration_s = duration / f64::from(movie_scale);
                // A media time of −1 is a wait; a rate of 0 holds one frame still.
                if media >= 0 && rate > 0.0 {
                    let from = media as f64;
                    // A duration of 0 stands for all that is there.
                    let to = if duration > 0.0 { from + duration_s * rate * ticks_per_s } else { f64::INFINITY };
                    stretches.push(Stretch { shown_s, from, to, rate });
                }
                shown_s += duration_s;
            }
        }
        let edited = stretches.len() > 1 || stretches.iter().any(|stretch| stretch.rate != 1.0);
        if stretches.is_empty() {
            stretches.push(Stretch { shown_s: 0.0, from: f64::NEG_INFINITY, to: f64::INFINITY, rate: 1.0 });
        }
        Ok(Self { stretches, ticks_per_s, edited })
    }

    /// When a tick of the track is shown \[s\], and whether it is. What is not shown lies before or after the stretch that is
    /// first.
    pub fn time_s(&self, tick: i64) -> (f64, bool) {
        let tick = tick as f64;
        let shown = self.stretches.iter().find(|stretch| tick >= stretch.from && tick < stretch.to);
        let Some(stretch) = shown.or(self.stretches.first()) else { return (tick / self.ticks_per_s, true) };
        let from = if stretch.from.is_finite() { stretch.from } else { 0.0 };
        (stretch.shown_s + (tick - from) / self.ticks_per_s / stretch.rate, shown.is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(entries: &[(u32, i32, i32)]) -> Vec<u8> {
        let mut bytes = vec![0; 4];
        bytes.extend((entries.len() as u32).to_be_bytes());
        for (duration, media, rate) in entries {
            bytes.extend(duration.to_be_bytes());
            bytes.extend(media.to_be_bytes());
            bytes.extend(rate.to_be_bytes());
        }
        bytes
    }

    const ONE: i32 = 65_536;

    #[test]
    fn an_edit_list_waits_cuts_and_shifts() {
        // Movie clock 1000, track clock 24 000: wait 0.1 s, then from tick 1000 for 0.5 s.
        let showing = Showing::new(Some(&list(&[(100, -1, ONE), (500, 1000, ONE)])), 1_000, 24_000).expect("edits");
        assert_eq!(showing.time_s(1_000), (0.1, true));
        assert!(!showing.time_s(900).1);
        assert!((showing.time_s(12_900).0 - (0.1 + 11_900.0 / 24_000.0)).abs() < 1e-12);
        assert!(!showing.time_s(13_000).1);
        assert!(!showing.edited);
    }

    #[test]
    fn several_stretches_or_speeds_are_edits() {
        let two = Showing::new(Some(&list(&[(500, 0, ONE), (500, 24_000, ONE)])), 1_000, 24_000).expect("edits");
        assert!(two.edited && two.time_s(24_000) == (0.5, true));
        let slow = Showing::new(Some(&list(&[(4_000, 0, ONE / 8)])), 1_000, 24_000).expect("edits");
        assert!(slow.edited && slow.time_s(3_000) == (1.0, true));
        let held = Showing::new(Some(&list(&[(4_000, 0, 0)])), 1_000, 24_000).expect("edits");
        assert_eq!(held.time_s(24_000), (1.0, true));
        let none = Showing::new(None, 1_000, 24_000).expect("no edits");
        assert_eq!(none.time_s(-24_000), (-1.0, true));
    }

    #[test]
    fn runs_never_make_more_than_there_are() {
        let table = |entries: &[(u32, u32)]| {
            let mut bytes = vec![0; 4];
            bytes.extend((entries.len() as u32).to_be_bytes());
            entries.iter().for_each(|(a, b)| bytes.extend([a.to_be_bytes(), b.to_be_bytes()].concat()));
            bytes
        };
        assert_eq!(decoding(&table(&[(2, 10), (u32::MAX, 5)]), 4).expect("times"), [0, 10, 20, 25]);
        assert!(decoding(&table(&[(2, 10)]), 4).is_err());
        let mut times = [0, 10, 20];
        add_offsets(&mut times, &table(&[(1, 7), (9, u32::MAX)])).expect("offsets");
        assert_eq!(times, [7, 9, 19]);
        let mut lies = table(&[(1, 1)]);
        lies[4..8].fill(0xff);
        assert!(decoding(&lies, 4).is_err());
        assert!(timescale(&[0; 20], "movie").is_err());
    }
}
