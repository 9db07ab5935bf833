//! A minute of sound, of a light trace and of frames, natively; half and twice as long too, since cost should grow as the length does.
//!
//! Not here: pictures ([`super::pictures`]), the same in the browser and in NumPy (`tests/bench`).

use std::hint::black_box;

use record::page::{FrameTable, MeasuredTake, TakeAbout};

use super::takes::Takes;
use super::{SHORT_RUNS, least_ms, least_of, signal_folder, write};

/// Length of each signal \[s\].
pub const SECONDS: f64 = 60.0;
/// Length of a usual take \[s\].
pub const TAKE_SECONDS: f64 = 5.0;
/// Half and twice as long.
const LENGTHS: [(&str, f64); 2] = [("half", SECONDS / 2.0), ("twice", SECONDS * 2.0)];
/// What is measured: name, file, marks in shooting order within one round of the recording.
const SIGNALS: [(&str, &str, &[&str]); 2] = [
    ("sound", "sound-01-ladder-cloth.wav", &["1/8", "1/30", "1/60", "1/125", "1/500", "1/1000"]),
    ("light", "light-01-tau20.wav", &[]),
];

/// A recording and what was asked for, for the script in the browser.
fn signal_asked(name: &str, file: &str, signal: &str, asked: &[&str]) -> String {
    let asked: Vec<String> = asked.iter().map(|mark| format!("\"{mark}\"")).collect();
    format!("{{\"name\":\"{name}\",\"file\":\"{file}\",\"signal\":\"{signal}\",\"asked\":[{}]}}", asked.join(","))
}

/// A recording of 16-bit samples at 48 kHz, repeated or cut to a length.
fn lengthened(bytes: &[u8], seconds: f64) -> Result<Vec<u8>, String> {
    const HEAD: usize = 44;
    let (head, data) = bytes.split_at_checked(HEAD).ok_or("the recording is cut off")?;
    let wanted = (seconds * 48_000.0) as usize * 2;
    let long: Vec<u8> = data.iter().copied().cycle().take(wanted).collect();
    let mut wav = head.to_vec();
    // The sizes of the file and of its samples.
    wav[4..8].copy_from_slice(&u32::try_from(long.len() + HEAD - 8).unwrap_or(u32::MAX).to_le_bytes());
    wav[40..44].copy_from_slice(&u32::try_from(long.len()).unwrap_or(u32::MAX).to_le_bytes());
    wav.extend(long);
    Ok(wav)
}

/// A recording of the tests.
fn recording(file: &str) -> Result<Vec<u8>, String> {
    let path = signal_folder().join(file);
    std::fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))
}

/// Recordings of the tests, repeated to 60 s.
pub fn make() -> Result<(), String> {
    for (name, file, _) in SIGNALS {
        let bytes = recording(file)?;
        write(&format!("{name}.wav"), lengthened(&bytes, SECONDS)?)?;
        if name == "sound" {
            write("take.wav", lengthened(&bytes, TAKE_SECONDS)?)?;
        }
    }
    Ok(())
}

/// What is said of a recording before it is measured.
pub fn about(signal: &str, build: &str, marks: &[&str]) -> TakeAbout {
    TakeAbout {
        signal: signal.to_owned(),
        build: build.to_owned(),
        asked: marks.iter().map(|mark| (*mark).to_owned()).collect(),
        ..TakeAbout::default()
    }
}

fn measured(bytes: &[u8], about: &TakeAbout) -> Result<MeasuredTake, String> {
    record::measure_wav(bytes, about).map_err(|error| error.to_string())
}

/// The marks of a recording as somebody fires them: in rounds, as many as it has shots.
fn asked(bytes: &[u8], signal: &str, marks: &'static [&'static str]) -> Result<Vec<&'static str>, String> {
    if marks.is_empty() {
        return Ok(Vec::new());
    }
    let heard = measured(bytes, &about(signal, "cloth", &[]))?;
    Ok(marks.iter().copied().cycle().take(heard.take.shots.len()).collect())
}

/// A clip at 240 frames a second with a shot each second.
fn clip(seconds: f64) -> FrameTable {
    let interval = 1.0 / 240.0;
    let mut table = FrameTable::default();
    for frame in 0..(seconds / interval) as usize {
        let now = frame as f64 * interval;
        let lit = if now % 1.0 < 0.25 { 0.6 } else { 0.0 };
        table.push(now, [0.01 + lit; 3], 0.0);
    }
    table
}

/// One line for each, as `name milliseconds`.
pub fn run() -> Result<(), String> {
    make()?;
    let (mut for_browser, mut takes) = (Vec::new(), Takes::default());
    let mut timed = |name: &str, file: &str, bytes: &[u8], signal: &str, marks: &[&str]| -> Result<(), String> {
        let about = about(signal, "cloth", marks);
        takes.add(name, file, marks, &measured(bytes, &about)?)?;
        println!("{name} {}", least_ms(|| record::measure_wav(black_box(bytes), &about)));
        Ok(())
    };
    for (name, original, marks) in SIGNALS {
        let file = format!("{name}.wav");
        let original = recording(original)?;
        let bytes = lengthened(&original, SECONDS)?;
        // A series has its own length: the whole minute is one of the same marks over and over.
        let long = asked(&bytes, name, marks)?;
        for_browser.push(signal_asked(name, &file, name, &long));
        timed(name, &file, &bytes, name, &long)?;
        if !long.is_empty() {
            // Some shots more than were asked for: which is which has to be found out too.
            let fewer = &long[..long.len() - long.len() / 30];
            for_browser.push(signal_asked(&format!("{name}-fewer"), &file, name, fewer));
            timed(&format!("{name}-fewer"), &file, &bytes, name, fewer)?;
            let take = lengthened(&original, TAKE_SECONDS)?;
            let short = asked(&take, name, marks)?;
            for_browser.push(signal_asked("take", "take.wav", name, &short));
            timed("take", "take.wav", &take, name, &short)?;
        }
        for (label, seconds) in LENGTHS {
            // Each with as many marks as it has shots, and in whole rounds as the minute is: from the recording itself, since after a minute
            // that ends within a round the marks would no longer be the shots' own.
            let bytes = lengthened(&original, seconds)?;
            let long = asked(&bytes, name, marks)?;
            timed(&format!("{name}-{label}"), "", &bytes, name, &long)?;
        }
        let floor = || black_box(&bytes).iter().map(|byte| u64::from(*byte)).sum::<u64>();
        println!("floor-{name} {}", least_ms(floor));
    }
    write("asked.json", format!("[{}]", for_browser.join(",")))?;
    frames(&mut takes)?;
    write("takes.json", takes.json())
}

fn frames(takes: &mut Takes) -> Result<(), String> {
    let about = about("video", "", &[]);
    for (label, seconds) in [("", SECONDS)].into_iter().chain(LENGTHS) {
        let table = clip(seconds);
        let found = record::measure_frames(&table, &about).map_err(|error| error.to_string())?;
        let name = if label.is_empty() { "frames".to_owned() } else { format!("frames-{label}") };
        takes.add(&name, "", &[], &found)?;
        println!("{name} {}", least_of(SHORT_RUNS, || record::measure_frames(black_box(&table), &about)));
        if label.is_empty() {
            let floor = || black_box(&table.rows).iter().fold(0.0_f64, |most, number| most.max(*number));
            println!("floor-frames {}", least_ms(floor));
        }
    }
    Ok(())
}
