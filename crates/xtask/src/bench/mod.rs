//! Benchmarks, apart from the tests: each measurement native, in the browser's worker and as the same algorithm in NumPy and SciPy,
//! in one run on one machine, with ratios; the floor, reading the input once; half and twice the input; and impacts of the
//! shutter's sound against a detector that is not ours.
//!
//! Rooms: `signals`, `pictures`, `film`, `judging`, `onsets` (the native part), `takes` (our results for the scripts), `others` (browser
//! and Python), `machine`, `rows`, `tables`. Not here: anything that decides whether the project is sound ([`crate::test`]); the scripts
//! (`tests/bench`).

mod film;
mod judging;
mod machine;
mod onsets;
mod others;
mod pictures;
mod rows;
mod signals;
mod tables;
mod takes;

use std::hint::black_box;
use std::path::PathBuf;
use std::time::Instant;

use crate::shell::{cargo, root, step, target};
use crate::{setup, site};

/// Times that each is measured; the least counts, since whatever else a machine does only adds to it.
const RUNS: usize = 9;
/// All of it is gone through so often, the least of each counting again: a machine that others use too has slow minutes, and what is
/// held against one another should not stand on different ones.
const ROUNDS: usize = 3;
/// The same as the first for what takes a millisecond: by then a browser has compiled it as well as it can.
const SHORT_RUNS: usize = 99;

fn folder() -> PathBuf {
    target().join("bench")
}

fn signal_folder() -> PathBuf {
    root().join("tests/signals/timing")
}

fn write(name: &str, bytes: impl AsRef<[u8]>) -> Result<(), String> {
    let out = folder().join(name);
    std::fs::write(&out, bytes).map_err(|error| format!("{}: {error}", out.display()))
}

fn least_ms<T>(work: impl FnMut() -> T) -> f64 {
    least_of(RUNS, work)
}

fn least_of<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    let times = (0..runs).map(|_| {
        let begun = Instant::now();
        drop(black_box(work()));
        begun.elapsed().as_secs_f64() * 1e3
    });
    times.fold(f64::INFINITY, f64::min)
}

/// Runs all of it, prints the tables, and writes them as Markdown to `target/bench/results.md`.
pub fn run() -> Result<(), String> {
    let here = folder();
    std::fs::create_dir_all(&here).map_err(|error| format!("cannot make {}: {error}", here.display()))?;
    step("bench: signals of 60 s", signals::make)?;
    setup::build()?;
    step("bench: site", site::run)?;
    let python = step("bench: SciPy, in an environment of its own", others::environment)?;
    let [mut native, mut worker, mut numpy] = [const { String::new() }; 3];
    let mut chromium = String::new();
    for round in 1..=ROUNDS {
        let of = |what: &str| format!("bench: {what}, {round} of {ROUNDS}");
        let native_now = step(&of("native"), || {
            others::said(&mut cargo(&["run", "--release", "-q", "-p", "xtask", "--", "bench-native"]))
        })?;
        let (version, worker_now) = step(&of("in the browser's worker"), others::in_the_browser)?;
        let mut numpy_now = String::new();
        for script in others::SCRIPTS {
            numpy_now += &step(&of(&format!("the same in NumPy, {script}")), || others::script(&python, script))?;
        }
        native = rows::least(&native, &native_now);
        worker = rows::least(&worker, &worker_now);
        numpy = rows::least(&numpy, &numpy_now);
        chromium = version;
    }
    let onsets = step("bench: impacts against SciPy's", || others::onsets(&python))?;
    let page = tables::page(&machine::lines(&chromium, &others::versions(&python)), &native, &worker, &numpy, &onsets);
    write("results.md", &page)?;
    println!("\n{page}\nwritten to {}", here.join("results.md").display());
    Ok(())
}

/// The native part, which [`run`] has built with every optimisation: one line for each as `name milliseconds`, and files for the scripts.
pub fn native() -> Result<(), String> {
    signals::run()?;
    pictures::run()?;
    film::run()?;
    judging::run()?;
    onsets::run()
}
