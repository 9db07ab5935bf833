//! From a signal to a take that is ready to be kept: recordings, WAV files; and what is heard while one runs.
//!
//! Not here: how a signal is measured (`timing`), the frames of a clip ([`crate::clip`]), what a take comes to
//! ([`inspection`]).

use inspection::shutter::{self, Build, CountsFor, Signal, Special};
use inspection::words;
use metrology::Estimate;
use timing::{Notice, State, Waveform, light_trace, quiet, shots, sound, wav};

use crate::convert::{build, counts_for, found_shot, timing_notice};
use crate::error::Error;
use crate::page::{HeardShot, Listening, MeasuredTake, TakeAbout};
use crate::{limits, v1};

/// Bulb and self-timer are timed from sound to sound; how well a cluster of sounds is placed \[s\] (judged, not measured).
const SPECIAL_DOUBT_S: f64 = 0.02;
/// A mark is fired this many times in one take at most.
const MOST_REPEATS: usize = 5;

/// What was asked for, in order: the texts and their exact times.
pub(crate) struct Asked {
    /// Marks as text, one for each shot.
    pub marks: Vec<String>,
    /// Their exact times \[s\].
    pub seconds: Vec<f64>,
    /// Bulb or self-timer, where that is what was timed.
    pub special: Option<Special>,
}

/// Reads what was asked for. **Errors** for a mark that is none, or too many of them.
pub(crate) fn asked(about: &TakeAbout) -> Result<Asked, Error> {
    if about.asked.len() > limits::SHOTS {
        return Err(Error::new(format!(
            "at most {} shots of a take can be asked for, and {} were given",
            limits::SHOTS,
            about.asked.len()
        )));
    }
    let mut read = Asked { marks: Vec::new(), seconds: Vec::new(), special: None };
    for text in &about.asked {
        match counts_for(text, &[])? {
            CountsFor::Mark(mark) => {
                read.seconds.push(mark.exact().value());
                read.marks.push(text.clone());
            }
            CountsFor::Special(special) => read.special = Some(special),
            CountsFor::Nothing => {}
        }
    }
    Ok(read)
}

pub(crate) fn signal(about: &TakeAbout) -> Result<Signal, Error> {
    Signal::from_key(&about.signal).ok_or_else(|| {
        let shown: String = about.signal.chars().take(40).collect();
        Error::new(format!("the signal must be sound, light or video, and \"{shown}\" was given"))
    })
}

fn about_sound(about: &TakeAbout, marked_s: Vec<f64>) -> Result<sound::About, Error> {
    let shutter = match build(&about.build)? {
        // Cloth has the widest doubt of the curtains: nothing is promised that metal would not keep.
        None | Some(Build::Cloth) => sound::Shutter::Cloth,
        Some(Build::Metal) => sound::Shutter::Metal,
        Some(Build::Leaf) => sound::Shutter::Leaf,
    };
    // A slow time by light or video is brought in where the take is judged, whichever came first.
    Ok(sound::About { shutter, mirror: about.mirror, marked_s, anchor: None })
}

/// Puts a measured take into the file's shape, its shots against the marks asked for.
pub(crate) fn kept(take: &timing::Take, about: &TakeAbout, asked: &Asked, rate_hz: Option<f64>) -> MeasuredTake {
    let shots: Vec<v1::Shot> =
        take.shots.iter().take(limits::SHOTS).map(|shot| found_shot(shot, &asked.marks)).collect();
    let timed = shots.iter().filter(|shot| shot.time_s.is_some()).count();
    let summary = match shots.len() {
        0 => "No shot was found.".to_owned(),
        found => format!("{} found, {timed} with a time.", words::sentence_case(&words::count(found, "shot", "shots"))),
    };
    MeasuredTake {
        take: v1::Take {
            started: about.started.clone(),
            signal: about.signal.clone(),
            source: about.source.clone(),
            capture: about.capture.clone(),
            sample_rate_hz: rate_hz,
            frame_interval_s: take.frame_interval_s,
            mirror: about.mirror,
            asked: about.asked.clone(),
            offset_s: take.offset_s,
            coupling_s: take.coupling_s.clone(),
            shots,
            notices: take.notices.iter().map(timing_notice).collect(),
            kept: String::new(),
        },
        summary,
    }
}

/// How often the same mark follows itself at most.
fn repeats(marks: &[String]) -> usize {
    let most = marks.chunk_by(|a, b| a == b).map(<[String]>::len).max().unwrap_or(1);
    most.min(MOST_REPEATS)
}

/// Puts shots against marks where the measurement did not.
pub(crate) fn put(take: &mut timing::Take, asked: &Asked) -> Result<(), Error> {
    shots::put(take, &asked.seconds, repeats(&asked.marks))?;
    Ok(())
}

/// Bulb or self-timer: from the first thing heard to the last.
fn special(channels: &[Waveform], about: &TakeAbout, special: Special) -> Result<timing::Take, Error> {
    if signal(about)? == Signal::Light {
        return Ok(light_trace::measure(channels)?);
    }
    let mut take = timing::Take::default();
    let first = channels.first().ok_or_else(|| Error::new("the recording has no channel"))?;
    let heard = sound::listen(first, &about_sound(about, Vec::new())?)?.heard;
    if let [first, .., last] = heard.as_slice() {
        let until = if special == Special::Bulb { last.end_s } else { last.start_s };
        let mut shot = timing::Shot::at(first.start_s);
        shot.time = Some(Estimate::new((until - first.start_s).max(SPECIAL_DOUBT_S), SPECIAL_DOUBT_S, f64::INFINITY)?);
        shot.state = State::Measured;
        shot.events_s = vec![first.start_s, until];
        take.shots.push(shot);
    } else {
        take.notices.push(Notice::new(
            "nothing-there",
            "Two sounds are needed, one at the beginning and one at the end, and they were not heard: go nearer and try again.",
        ));
    }
    Ok(take)
}

fn measure(channels: Vec<Waveform>, about: &TakeAbout) -> Result<MeasuredTake, Error> {
    let asked = asked(about)?;
    let rate = channels.first().map(Waveform::rate_hz);
    if let Some(wanted) = asked.special {
        let mut kept = kept(&special(&channels, about, wanted)?, about, &asked, rate);
        for shot in &mut kept.take.shots {
            shot.marked = wanted.key().to_owned();
        }
        return Ok(kept);
    }
    let take = match signal(about)? {
        Signal::Sound => sound::measure(channels, &about_sound(about, asked.seconds.clone())?)?,
        Signal::Light => {
            let mut take = light_trace::measure(&channels)?;
            put(&mut take, &asked)?;
            take
        }
        Signal::Video => return Err(Error::new("a recording is sound or a light trace, and video was given")),
    };
    Ok(kept(&take, about, &asked, rate))
}

/// Measures a recording of one or two channels, full scale 1.
///
/// **Errors** where the rate cannot be, a sample is no number, or a mark is none.
pub fn measure_recording(channels: Vec<Vec<f32>>, rate_hz: f64, about: &TakeAbout) -> Result<MeasuredTake, Error> {
    let channels =
        channels.into_iter().map(|samples| Waveform::whole(rate_hz, samples)).collect::<Result<Vec<_>, _>>()?;
    measure(channels, about)
}

/// The same from the bytes of a WAV file.
pub fn measure_wav(bytes: &[u8], about: &TakeAbout) -> Result<MeasuredTake, Error> {
    let kind = match signal(about)? {
        Signal::Light => quiet::Signal::Light,
        _ => quiet::Signal::Sound,
    };
    let mut reader = wav::Reader::new(kind);
    // Block by block, so that what is quiet is never held.
    const BLOCK: usize = 1 << 16;
    for block in bytes.chunks(BLOCK) {
        reader.push(block)?;
        if reader.is_done() {
            break;
        }
    }
    let recording = reader.finish()?;
    let mut measured = measure(recording.channels, about)?;
    measured.take.notices.extend(recording.notices.iter().map(timing_notice));
    Ok(measured)
}

/// What is heard in the last few seconds; `about.asked` holds the marked time that is asked for now.
pub fn listen(samples: &[f32], rate_hz: f64, about: &TakeAbout) -> Result<Listening, Error> {
    let window = Waveform::whole(rate_hz, samples.to_vec())?;
    let asked = asked(about)?;
    let dead = samples.iter().all(|sample| *sample == 0.0);
    match signal(about)? {
        Signal::Light => lit(&window, dead),
        _ => heard(&window, &about_sound(about, asked.seconds)?, dead),
    }
}

fn about_words(time: Option<Estimate>) -> String {
    time.map_or_else(String::new, |time| format!("about {}", shutter::time(time.value())))
}

const DEAD: &str = "Nothing comes in at all: is the microphone switched off, covered or unplugged?";

fn heard(window: &Waveform, about: &sound::About, dead: bool) -> Result<Listening, Error> {
    let listening = sound::listen(window, about)?;
    let advice = if dead {
        DEAD
    } else if listening.clipped {
        "Too loud: go a hand's breadth further from the microphone."
    } else if listening.busy {
        "Something else is heard: voices or music spoil the measurement."
    } else if listening.too_quiet {
        "The shots hardly stand out: bring the camera nearer, five to thirty centimetres from the microphone."
    } else {
        ""
    };
    Ok(Listening {
        heard: listening
            .heard
            .iter()
            .map(|shot| HeardShot { start_s: shot.start_s, end_s: shot.end_s, words: about_words(shot.provisional) })
            .collect(),
        clipped: listening.clipped,
        busy: listening.busy,
        dead,
        advice: advice.to_owned(),
        floor_words: floor(listening.floor_db).to_owned(),
    })
}

/// The quiet between shots, in words; the limits are common sense, not measured.
fn floor(floor_db: f64) -> &'static str {
    match floor_db {
        db if db < -65.0 => "quiet",
        db if db < -45.0 => "some noise",
        _ => "loud",
    }
}

fn lit(window: &Waveform, dead: bool) -> Result<Listening, Error> {
    let take = light_trace::measure(core::slice::from_ref(window))?;
    let clipped = take.has("clipped") || take.shots.iter().any(|shot| shot.has("clipped"));
    let pulsed = take.has("pulsed-lamp");
    let flicker = take.has("flicker") || take.shots.iter().any(|shot| shot.has("flicker"));
    let advice = if dead {
        "Nothing comes in at all: is the photocell plugged in?"
    } else if clipped {
        "Driven too hard: put the lamp further away, until the peak is below half of full scale."
    } else if pulsed {
        "The lamp pulses: use a torch without dimming, or daylight."
    } else if flicker {
        "The lamp flickers: a battery torch or daylight is steadier."
    } else {
        ""
    };
    Ok(Listening {
        heard: take
            .shots
            .iter()
            .map(|shot| HeardShot {
                start_s: shot.start_s,
                end_s: shot.events_s.last().copied().unwrap_or(shot.start_s),
                words: about_words(shot.time),
            })
            .collect(),
        clipped,
        busy: false,
        dead,
        advice: advice.to_owned(),
        floor_words: String::new(),
    })
}
