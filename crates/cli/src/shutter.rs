//! `lampblack shutter`: the times of the shots in a recording, from the shutter's sound or from the light behind it.
//!
//! Not here: how a shot is found and put against its mark (`timing`), the table for people ([`crate::shot_table`]).

use std::path::{Path, PathBuf};

use lexopt::{Arg, Parser};
use metrology::Estimate;
use photometry::TimeMark;
use record::shell;
use timing::quiet::Signal;
use timing::sound::{About, Anchor, Shutter};
use timing::wav::{Reader, Recording};
use timing::{light_trace, shots, sound};

use crate::error::{Failure, one_line};
use crate::{Answer, file, shot_table, usage};

/// Shots of one mark in a row that a recording may hold.
pub const REPEATS: usize = shots::MOST_REPEATS;

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut signal, mut marks, mut shutter, mut anchor) = (None::<PathBuf>, None, Vec::new(), None, None);
    let (mut mirror, mut as_json) = (false, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("signal") => signal = Some(chosen(call, "--signal", &SIGNALS)?),
            Arg::Long("marked") => marks = shot_table::marks(call)?,
            Arg::Long("kind") => {
                shutter = Some(chosen(call, "--kind", &Shutter::ALL.map(|shutter| (shutter.key(), shutter)))?);
            }
            Arg::Long("mirror") => mirror = true,
            Arg::Long("anchor") => anchor = Some(anchor_of(&usage::text(call)?)?),
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the recording (FILE.wav)")?;
    let signal = usage::needed(signal, "what the recording is of (--signal sound or --signal light)")?;
    if anchor.is_some() && signal == Signal::Light {
        return Err(Failure::Usage("an anchor is for sound: light needs none".to_owned()));
    }
    let place = file::name(&path);
    let recording = recorded(&path, signal).map_err(|failure| failure.at(&place))?;
    let marked_s: Vec<f64> = marks.iter().map(|mark| mark.exact().value()).collect();
    let refused = |error: timing::Error| Failure::from(error).at(&place);
    let mut take = match signal {
        Signal::Light => {
            let mut take = light_trace::measure(&recording.channels).map_err(refused)?;
            shots::put(&mut take, &marked_s, REPEATS).map_err(refused)?;
            take
        }
        Signal::Sound => {
            let about = About { shutter: shutter.unwrap_or(Shutter::Cloth), mirror, marked_s, anchor };
            sound::measure(recording.channels, &about).map_err(refused)?
        }
    };
    take.notices.extend(recording.notices);
    let result = shell::timing::recording(&take, &marks, recording.rate_hz, signal == Signal::Light);
    if as_json {
        return Ok(shell::json(&result)?);
    }
    let head = format!(
        "{} s of {}, {} samples a second",
        metrology::to_decimals(recording.duration_s, 1),
        if signal == Signal::Light { "light" } else { "sound" },
        recording.rate_hz
    );
    Ok(shot_table::said(&head, &take, &marks, &result))
}

const SIGNALS: [(&str, Signal); 2] = [("sound", Signal::Sound), ("light", Signal::Light)];

/// The value of an option that has a few words to choose from.
pub fn chosen<T: Copy>(call: &mut Parser, option: &str, words: &[(&str, T)]) -> Result<T, Failure> {
    let text = usage::text(call)?;
    words.iter().find(|(word, _)| *word == text).map(|(_, value)| *value).ok_or_else(|| {
        let words: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
        Failure::Usage(format!(
            "the value of {option} must be {}, and \"{}\" was given",
            words.join(" or "),
            one_line(&text)
        ))
    })
}

/// `1/15=0.0672,0.0003`: a mark, the time that light or video gave, and its standard uncertainty, in seconds.
fn anchor_of(text: &str) -> Result<Anchor, Failure> {
    let number = |text: &str| text.trim().parse::<f64>().ok().filter(|value| value.is_finite() && *value > 0.0);
    let parts = text.split_once('=').and_then(|(mark, rest)| {
        let (time, doubt) = rest.split_once(',')?;
        Some((mark, number(time)?, number(doubt)?))
    });
    let (mark, time, doubt) = parts.ok_or_else(|| {
        Failure::Usage(format!(
            "the value of --anchor must be MARK=TIME,DOUBT with both above 0 s, as 1/15=0.0672,0.0003, and \"{}\" was given",
            one_line(text)
        ))
    })?;
    let mark = TimeMark::parse(mark, &[]).map_err(|error| Failure::Usage(error.to_string()))?;
    Ok(Anchor { marked_s: mark.exact().value(), time: Estimate::new(time, doubt, f64::INFINITY)? })
}

fn recorded(path: &Path, signal: Signal) -> Result<Recording, Failure> {
    let mut reader = Reader::new(signal);
    file::blocks(path, |block| {
        reader.push(block)?;
        Ok(!reader.is_done())
    })?;
    Ok(reader.finish()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_anchor_is_a_mark_a_time_and_its_doubt() {
        let anchor = anchor_of("1/15=0.0672,0.0003").expect("an anchor");
        assert_eq!(
            (anchor.marked_s, anchor.time.value(), anchor.time.standard_uncertainty()),
            (1.0 / 16.0, 0.0672, 0.0003)
        );
        for bad in ["", "1/15", "1/15=0.06", "1/15=0.06,0", "1/15=0,0.1", "1/15=NaN,1", "x=0.06,0.001", "1/15=a,b"] {
            assert_eq!(anchor_of(bad).expect_err(bad).code(), 2, "{bad}");
        }
    }
}
