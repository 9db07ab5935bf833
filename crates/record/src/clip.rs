//! From a clip to a take: what its file says about time, the light of its frames, the shots in them.
//!
//! Not here: how frames are measured and boxes read (`timing`), recordings ([`crate::measure`]).

use inspection::words;
use timing::frames::{self, Axis, Curve, CurveKnown, Layout, Lineariser, Patch, Range, Strip, Table};
use timing::movie;

use crate::convert::decimal;
use crate::error::Error;
use crate::measure::{asked, kept, put};
use crate::page::{FrameStrips, FrameTable, MeasuredTake, Movie, MovieBox, TakeAbout};

/// Names of the three strips along the curtain's travel.
const STRIPS: [&str; 3] = ["left", "middle", "right"];
/// Rates that differ by more than this part disagree.
const SAME_RATE: f64 = 0.02;

/// The box that begins with these bytes, standing at `at` in a file of `file_size` bytes.
pub fn movie_box(head: &[u8], at: f64, file_size: f64) -> Result<MovieBox, Error> {
    let whole = |value: f64| if value >= 0.0 { value as u64 } else { 0 };
    let found = movie::next_box(head, whole(at), whole(file_size))?;
    Ok(MovieBox {
        kind: found.kind.iter().map(|byte| char::from(*byte)).collect(),
        start: found.start as f64,
        size: found.size as f64,
    })
}

/// What the box `moov` says about the frames.
pub fn read_movie(moov: &[u8]) -> Result<Movie, Error> {
    let read = movie::read_moov(moov)?;
    let rate = |hz: f64| words::frame_rate(hz);
    let slow = read.capture_rate_hz.filter(|capture| (capture / read.file_rate_hz - 1.0).abs() > SAME_RATE);
    let (rate_words, question) = match slow {
        Some(capture) => (
            format!(
                "The file plays at {} frames a second; it says that it was captured at {}.",
                rate(read.file_rate_hz),
                rate(capture)
            ),
            "Which is true? A shot of a known second in the clip tells, if you are not sure.".to_owned(),
        ),
        None => (format!("{} frames a second.", rate(read.file_rate_hz)), String::new()),
    };
    Ok(Movie {
        frame_times_s: read.frame_times_s,
        file_rate_hz: read.file_rate_hz,
        capture_rate_hz: read.capture_rate_hz,
        rate_words,
        question,
        codec: read.codec,
        width_px: read.width_px,
        height_px: read.height_px,
        clock_step_s: read.clock_step_s,
        notices: read.notices.iter().map(|notice| notice.text.clone()).collect(),
    })
}

/// Linear light of three strips of one frame as the page's canvas gives it: red, green, blue and opacity, 8 bits each.
///
/// `across`: the curtain travels along the width. **Errors** as [`frames::strips_of_rgba`].
pub fn frame_strips(rgba: &[u8], width: u32, height: u32, across: bool) -> Result<FrameStrips, Error> {
    let axis = if across { Axis::X } else { Axis::Y };
    let layout = Layout { axis, patch: Patch { x: 0, y: 0, width, height } };
    // A canvas has full-range pixels, whatever the clip had.
    let lineariser = Lineariser::new(Curve::Bt709, Range::Full, 1.0)?;
    let means = frames::strips_of_rgba(rgba, width, height, &layout, &lineariser)?;
    Ok(FrameStrips { means: vec![means.left, means.middle, means.right], clipped_share: means.clipped_share })
}

/// Numbers of a frame: its time, its strips, its share of clipped white.
const COLUMNS: usize = 5;

/// Measures the frames of a clip.
///
/// **Errors** where a frame's numbers are not all there, times run backwards, or what is known about the clip cannot be.
pub fn measure_frames(table: &FrameTable, about: &TakeAbout) -> Result<MeasuredTake, Error> {
    let (frames, rest) = table.rows.as_chunks::<COLUMNS>();
    if !rest.is_empty() {
        return Err(Error::new(format!(
            "every frame must have {COLUMNS} numbers, and {} were given for {} frames",
            table.rows.len(),
            frames.len() + 1
        )));
    }
    let column = |n: usize| frames.iter().map(|frame| frame[n]).collect::<Vec<f64>>();
    let strips =
        STRIPS.iter().enumerate().map(|(i, name)| Strip { name: (*name).to_owned(), values: column(i + 1) }).collect();
    let frames_table = Table::new(column(0), strips)?.with_clipped_share(column(COLUMNS - 1))?;
    let optional = |text: &str, what: &str| {
        if text.trim().is_empty() { Ok(None) } else { decimal(text, what).map(Some) }
    };
    let exponent = if about.tone_steps.is_empty() { None } else { Some(frames::tone(&about.tone_steps)?) };
    let asked = asked(about)?;
    let known = frames::About {
        duty: optional(&about.duty, "share of the interval that a frame is exposed for")?,
        curve_known: if exponent.is_some() { CurveKnown::Calibrated } else { CurveKnown::Assumed },
        exponent,
        capture_rate_hz: optional(&about.capture_rate, "true frame rate")?,
        clock_step_s: Some(table.clock_step_s).filter(|step| *step > 0.0),
        marked_s: asked.seconds.clone(),
    };
    let mut take = frames::measure(&frames_table, &known)?;
    put(&mut take, &asked)?;
    Ok(kept(&take, about, &asked, None))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 240 frames a second, all exposed all the time, open for 0.25 s and then for 8 ms.
    fn clip() -> FrameTable {
        let interval = 1.0 / 240.0;
        let open = [(0.2, 0.45), (0.8, 0.808)];
        let mut table = FrameTable::default();
        for frame in 0..288 {
            let (from, to) = (f64::from(frame) * interval, f64::from(frame + 1) * interval);
            let lit: f64 = open.iter().map(|(a, b)| (to.min(*b) - from.max(*a)).max(0.0)).sum();
            table.push(from, [0.01 + 0.6 * lit / interval; 3], 0.0);
        }
        table
    }

    #[test]
    fn shots_of_a_clip_are_put_against_the_marks_asked_for() {
        let about = TakeAbout {
            signal: "video".to_owned(),
            duty: "1".to_owned(),
            asked: vec!["1/4".to_owned(), "1/125".to_owned()],
            ..TakeAbout::default()
        };
        let take = measure_frames(&clip(), &about).expect("a take").take;
        let times: Vec<f64> = take.shots.iter().filter_map(|shot| shot.time_s).collect();
        assert!((times[0] - 0.25).abs() < 0.001 && (times[1] - 0.008).abs() < 0.0005, "{times:?}");
        assert_eq!(take.shots.iter().map(|shot| shot.marked.as_str()).collect::<Vec<_>>(), ["1/4", "1/125"]);
    }

    #[test]
    fn what_is_no_clip_gets_a_sentence() {
        let mut table = clip();
        table.rows.pop();
        assert!(measure_frames(&table, &TakeAbout::default()).is_err());
        assert!(read_movie(b"not a box at all").is_err() && movie_box(&[0; 3], 0.0, 10.0).is_err());
        assert!(frame_strips(&[0; 16], 64, 64, true).is_err());
        let mut backwards = clip();
        backwards.rows.swap(10 * COLUMNS, 20 * COLUMNS);
        assert!(measure_frames(&backwards, &TakeAbout { signal: "video".to_owned(), ..TakeAbout::default() }).is_err());
    }
}
