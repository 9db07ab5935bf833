//! The moments of every impact that a shot rests on, for a detector that is not ours (`tests/bench/onsets.py`).
//!
//! Not here: speed.

use super::signals::about;
use super::{signal_folder, write};

/// Writes them as a table of file and moment.
pub fn run() -> Result<(), String> {
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
    write("events.csv", csv)
}
