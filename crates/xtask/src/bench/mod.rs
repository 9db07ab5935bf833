//! Benchmarks, apart from the tests: each measurement native and in the browser's worker in one run on one machine, with
//! ratios; the floor, reading the input once; and impacts of the shutter's sound against a detector that is not ours.
//!
//! Not here: anything that decides whether the project is sound ([`crate::test`]); the scripts (`tests/bench`).

mod film;
mod pictures;

use std::hint::black_box;
use std::path::PathBuf;
use std::time::Instant;

use record::page::{FrameTable, TakeAbout};

use crate::shell::{cargo, command, root, step, target};
use crate::{serve, setup, site};

/// Length of each signal \[s\].
const SECONDS: f64 = 60.0;
/// Length of a usual take \[s\], and how much slower a phone is taken to be than this machine.
const TAKE_SECONDS: f64 = 5.0;
const PHONE: f64 = 4.0;
/// Times that each is measured; the median counts.
const RUNS: usize = 5;
/// What is measured: file, signal, marks in shooting order within one round of the recording.
const SIGNALS: [(&str, &str, &str, &[&str]); 2] = [
    ("sound", "sound-01-ladder-cloth.wav", "cloth", &["1/8", "1/30", "1/60", "1/125", "1/500", "1/1000"]),
    ("light", "light-01-tau20.wav", "cloth", &[]),
];
/// Milliseconds of a NumPy reference on another machine, as published with the method; a scale, no race.
const REFERENCE_MS: [(&str, f64); 3] = [("sound", 254.0), ("light", 366.0), ("frames", 28.0)];

fn folder() -> PathBuf {
    target().join("bench")
}

/// Runs all of it and prints a table.
pub fn run() -> Result<(), String> {
    let here = folder();
    std::fs::create_dir_all(&here).map_err(|error| format!("cannot make {}: {error}", here.display()))?;
    step("bench: signals of 60 s", signals)?;
    let native =
        step("bench: native", || said(&mut cargo(&["run", "--release", "-q", "-p", "xtask", "--", "bench-native"])))?;
    setup::build()?;
    step("bench: site", site::run)?;
    let worker = step("bench: in the browser's worker", in_the_browser)?;
    let python = step("bench: SciPy, in an environment of its own", environment)?;
    let onsets = step("bench: impacts against SciPy's", || {
        said(
            command(&python.to_string_lossy(), &["tests/bench/onsets.py"])
                .arg(here.join("events.csv"))
                .arg(signal_folder()),
        )
    })?;
    let numpy = step("bench: pictures in NumPy", || {
        said(&mut command(&python.to_string_lossy(), &["tests/bench/pictures.py"]))
    })?;
    table(&native, &worker);
    list_table(&worker);
    pictures_table(&native, &worker, &numpy);
    print!("\n{onsets}");
    Ok(())
}

fn signal_folder() -> PathBuf {
    root().join("tests/signals/timing")
}

fn said(call: &mut std::process::Command) -> Result<String, String> {
    let output = call.output().map_err(|error| format!("cannot run it: {error}"))?;
    if output.status.success() {
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    } else {
        Err(format!("it failed ({}): {}", output.status, String::from_utf8_lossy(&output.stderr)))
    }
}

/// A recording and what was asked for, for the script in the browser.
fn signal_asked(name: &str, signal: &str, asked: &[&str]) -> String {
    let asked: Vec<String> = asked.iter().map(|mark| format!("\"{mark}\"")).collect();
    format!("{{\"name\":\"{name}\",\"signal\":\"{signal}\",\"asked\":[{}]}}", asked.join(","))
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

/// A recording of the tests, repeated to 60 s.
fn signals() -> Result<(), String> {
    for (name, file, ..) in SIGNALS {
        let path = signal_folder().join(file);
        let bytes = std::fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        let write = |name: &str, seconds: f64| {
            let out = folder().join(format!("{name}.wav"));
            std::fs::write(&out, lengthened(&bytes, seconds)?).map_err(|error| format!("{}: {error}", out.display()))
        };
        write(name, SECONDS)?;
        if name == "sound" {
            write("take", TAKE_SECONDS)?;
        }
    }
    Ok(())
}

/// The marks of a recording as somebody fires them: in rounds, as many as it has shots.
fn asked(bytes: &[u8], signal: &str, build: &str, marks: &'static [&'static str]) -> Result<Vec<&'static str>, String> {
    if marks.is_empty() {
        return Ok(Vec::new());
    }
    let heard = record::measure_wav(bytes, &about(signal, build, &[])).map_err(|error| error.to_string())?;
    Ok(marks.iter().copied().cycle().take(heard.take.shots.len()).collect())
}

fn about(signal: &str, build: &str, marks: &[&str]) -> TakeAbout {
    TakeAbout {
        signal: signal.to_owned(),
        build: build.to_owned(),
        asked: marks.iter().map(|mark| (*mark).to_owned()).collect(),
        ..TakeAbout::default()
    }
}

/// 60 s of a clip at 240 frames a second with a shot each second.
fn clip() -> FrameTable {
    let interval = 1.0 / 240.0;
    let mut table = FrameTable::default();
    for frame in 0..(SECONDS / interval) as usize {
        let now = frame as f64 * interval;
        let lit = if now % 1.0 < 0.25 { 0.6 } else { 0.0 };
        table.push(now, [0.01 + lit; 3], 0.0);
    }
    table
}

fn median_ms(mut work: impl FnMut()) -> f64 {
    let mut times: Vec<f64> = (0..RUNS)
        .map(|_| {
            let begun = Instant::now();
            work();
            begun.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    times[RUNS / 2]
}

/// The native part, which [`run`] has built with every optimisation: one line for each, and the impacts of every sound in a file.
pub fn native() -> Result<(), String> {
    let mut written = Vec::new();
    for (name, _, build, marks) in SIGNALS {
        let path = folder().join(format!("{name}.wav"));
        let bytes = std::fs::read(&path).map_err(|error| format!("{}: {error}", path.display()))?;
        // A series has its own length: the whole minute is one of the same marks over and over.
        let long = asked(&bytes, name, build, marks)?;
        written.push(signal_asked(name, name, &long));
        let about = about(name, build, &long);
        record::measure_wav(&bytes, &about).map_err(|error| error.to_string())?;
        println!("{name} {}", median_ms(|| drop(black_box(record::measure_wav(black_box(&bytes), &about)))));
        if !long.is_empty() {
            // Some shots more than were asked for: which is which has to be found out too.
            let fewer = self::about(name, build, &long[..long.len() - long.len() / 30]);
            println!("{name}-fewer {}", median_ms(|| drop(black_box(record::measure_wav(black_box(&bytes), &fewer)))));
            let take = lengthened(&bytes, TAKE_SECONDS)?;
            let short = asked(&take, name, build, marks)?;
            written.push(signal_asked("take", name, &short));
            let short = self::about(name, build, &short);
            println!("take {}", median_ms(|| drop(black_box(record::measure_wav(black_box(&take), &short)))));
        }
        // Half and twice as long, each with as many marks as it has shots: cost should grow as the length does.
        for (label, seconds) in [("half", SECONDS / 2.0), ("twice", SECONDS * 2.0)] {
            let bytes = lengthened(&bytes, seconds)?;
            let long = asked(&bytes, name, build, marks)?;
            let about = self::about(name, build, &long);
            println!(
                "{name}-{label} {}",
                median_ms(|| drop(black_box(record::measure_wav(black_box(&bytes), &about))))
            );
        }
        println!(
            "floor-{name} {}",
            median_ms(|| {
                black_box(black_box(&bytes).iter().map(|byte| u64::from(*byte)).sum::<u64>());
            })
        );
    }
    let out = folder().join("asked.json");
    std::fs::write(&out, format!("[{}]", written.join(","))).map_err(|error| format!("{}: {error}", out.display()))?;
    let (table, about) = (clip(), about("video", "", &[]));
    println!(
        "floor-frames {}",
        median_ms(|| {
            black_box(black_box(&table.rows).iter().fold(0.0_f64, |most, number| most.max(*number)));
        })
    );
    record::measure_frames(&table, &about).map_err(|error| error.to_string())?;
    println!("frames {}", median_ms(|| drop(black_box(record::measure_frames(black_box(&table), &about)))));
    pictures::run()?;
    film::run()?;
    judging()?;
    events()
}

/// A thousand inspections of the demo's kind, each read as domain and judged; the same with the result as a file keeps it, texts
/// and fingerprint included; and with everything that the page shows of it.
fn judging() -> Result<(), String> {
    const COUNT: usize = 1000;
    let text =
        std::fs::read_to_string(root().join("demo/bench.json")).map_err(|error| format!("demo/bench.json: {error}"))?;
    let taken = record::read_file(&text).map_err(|error| error.to_string())?;
    let mut all: Vec<_> = taken.inspections.iter().cycle().take(COUNT).cloned().collect();
    let mut judge = || all.iter_mut().filter_map(|one| record::judge(one).ok()).count();
    if judge() != COUNT {
        return Err("not every inspection of the demo could be judged".to_owned());
    }
    println!(
        "judging {}",
        median_ms(|| {
            black_box(judge());
        })
    );
    println!(
        "working-out {}",
        median_ms(|| {
            black_box(all.iter_mut().filter_map(|one| record::work_out(one).ok()).count());
        })
    );
    let show = || all.iter().filter(|one| record::view((*one).clone()).is_ok()).count();
    println!(
        "showing {}",
        median_ms(|| {
            black_box(show());
        })
    );
    Ok(())
}

/// The moments of every impact that a shot rests on, for the detector that is not ours.
fn events() -> Result<(), String> {
    let mut csv = String::from("file,moment_s\n");
    let entries = std::fs::read_dir(signal_folder()).map_err(|error| error.to_string())?;
    let mut names: Vec<String> = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect();
    names.retain(|name| name.starts_with("sound-") && name.ends_with(".wav"));
    names.sort();
    for name in names {
        let bytes = std::fs::read(signal_folder().join(&name)).map_err(|error| error.to_string())?;
        let build = if name.contains("leaf") { "leaf" } else { "cloth" };
        let measured = record::measure_wav(&bytes, &about("sound", build, &[])).map_err(|error| error.to_string())?;
        for moment in measured.take.shots.iter().flat_map(|shot| &shot.events_s) {
            csv.push_str(&format!("{name},{moment}\n"));
        }
    }
    std::fs::write(folder().join("events.csv"), csv).map_err(|error| error.to_string())
}

fn in_the_browser() -> Result<String, String> {
    let chromium = setup::chromium()?;
    let server = serve::open(0)?;
    let address = serve::address(&server)?;
    std::thread::spawn(move || serve::answer(&server, &site::folder()));
    setup::packages("tests/browser")?;
    let run = |script: &str| {
        said(
            command("node", &[script])
                .arg(folder())
                .env("LAMPBLACK_CHROMIUM", &chromium)
                .env("LAMPBLACK_URL", &address),
        )
    };
    Ok(run("tests/bench/worker.mjs")? + &run("tests/bench/list.mjs")?)
}

/// The list of ten thousand cameras: the longest task of each thing that is done with it.
fn list_table(worker: &str) {
    const DONE: [(&str, &str); 5] = [
        ("open", "opened"),
        ("search", "searched"),
        ("sort", "sorted"),
        ("filter", "filtered"),
        ("scroll", "scrolled"),
    ];
    println!("\nThe list with 10,000 cameras, longest task in milliseconds; none of 50 or more is wanted");
    for (name, words) in DONE {
        match figure(worker, &format!("list-{name}")) {
            Some(0.0) => println!("{words:<10} under 50"),
            Some(longest) => println!("{words:<10} {longest:.0}"),
            None => println!("{words:<10} -"),
        }
    }
}

fn environment() -> Result<PathBuf, String> {
    let place = folder().join("venv");
    let python = place.join("bin/python");
    if !python.exists() {
        said(command("python3", &["-m", "venv"]).arg(&place))?;
        said(&mut command(&python.to_string_lossy(), &["-m", "pip", "install", "--quiet", "numpy", "scipy"]))?;
    }
    Ok(python)
}

/// The number behind a name in lines such as `sound 41.2`.
fn figure(lines: &str, name: &str) -> Option<f64> {
    lines.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(' ')?.trim().parse().ok())
}

fn pictures_table(native: &str, worker: &str, numpy: &str) {
    let (width, height) = pictures::SIZE;
    println!("\n{width} × {height} pixels, milliseconds, median of {RUNS}");
    println!(
        "{:<10}{:>10}{:>10}{:>8}{:>10}{:>10}{:>14}",
        "", "native", "worker", "ratio", "floor", "NumPy", "NumPy/native"
    );
    for name in ["patch", "openings", "fog"] {
        let (own, there, other) = (figure(native, name), figure(worker, name), figure(numpy, name));
        let shown = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |value| format!("{value:.1}"));
        let ratio = own.zip(there).map(|(own, there)| there / own);
        let gain = own.zip(other).map(|(own, other)| other / own);
        let floor = figure(native, &format!("floor-{name}"));
        println!(
            "{name:<10}{:>10}{:>10}{:>8}{:>10}{:>10}{:>14}",
            shown(own),
            shown(there),
            shown(ratio),
            shown(floor),
            shown(other),
            shown(gain)
        );
    }
    if let Some(judging) = figure(native, "judging") {
        let (kept, shown) = (figure(native, "working-out"), figure(native, "showing"));
        println!(
            "\n1000 inspections of the demo's kind judged natively: {judging:.0} ms; with the result that a file keeps: {:.0} ms; with all \
             that the page shows of them besides: {:.0} ms",
            kept.unwrap_or_default(),
            shown.unwrap_or_default()
        );
    }
}

fn table(native: &str, worker: &str) {
    println!("\n60 s of signal, milliseconds, median of {RUNS}");
    println!("{:<8}{:>10}{:>10}{:>8}{:>10}{:>14}", "", "native", "worker", "ratio", "floor", "NumPy (noted)");
    for (name, noted) in REFERENCE_MS {
        let (own, there) = (figure(native, name), figure(worker, name));
        let shown = |value: Option<f64>| value.map_or_else(|| "-".to_owned(), |value| format!("{value:.1}"));
        let ratio = own.zip(there).map(|(own, there)| there / own);
        let floor = figure(native, &format!("floor-{name}"));
        println!("{name:<8}{:>10}{:>10}{:>8}{:>10}{noted:>14.0}", shown(own), shown(there), shown(ratio), shown(floor));
    }
    if let Some(fewer) = figure(native, "sound-fewer") {
        println!("sound with fewer marks than shots: {fewer:.1} ms natively");
    }
    if let (Some(own), Some(there)) = (figure(native, "take"), figure(worker, "take")) {
        println!(
            "a take of {TAKE_SECONDS} s: {own:.1} ms natively, {there:.1} in the worker, {:.0} where everything takes {PHONE} times as long",
            PHONE * there
        );
    }
    for (name, ..) in SIGNALS {
        let (half, whole) = (figure(native, &format!("{name}-half")), figure(native, name));
        let twice = figure(native, &format!("{name}-twice"));
        if let (Some(half), Some(whole), Some(twice)) = (half, whole, twice) {
            println!("{name}: {half:.1} ms for 30 s, {whole:.1} for 60 s, {twice:.1} for 120 s");
        }
    }
    println!("The floor is reading the bytes once. The noted figures are of another machine: a scale, no race.");
}
