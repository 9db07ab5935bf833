//! The machine that a benchmark ran on, in words: without it a number of milliseconds says nothing.
//!
//! Not here: the numbers.

use std::process::Command;

use super::others::said;

fn field(file: &str, name: &str) -> Option<String> {
    let text = std::fs::read_to_string(file).ok()?;
    let line = text.lines().find(|line| line.starts_with(name))?;
    Some(line.split_once(':')?.1.trim().to_owned())
}

fn first_line(program: &str, arguments: &[&str]) -> String {
    let lines = said(Command::new(program).args(arguments)).unwrap_or_default();
    lines.lines().next().unwrap_or_default().trim().to_owned()
}

/// Processor, memory, kernel, compiler, browser, Python and day, one line each.
pub fn lines(chromium: &str, python: &str) -> Vec<String> {
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    let processor = field("/proc/cpuinfo", "model name").unwrap_or_else(|| std::env::consts::ARCH.to_owned());
    let memory = field("/proc/meminfo", "MemTotal")
        .and_then(|text| text.split_whitespace().next()?.parse::<f64>().ok())
        .map_or_else(String::new, |kilobytes| format!(", {:.0} GB", kilobytes / 1024.0 / 1024.0));
    let all = [
        format!("{processor}, {cores} cores{memory}"),
        first_line("uname", &["-sr"]),
        first_line("rustc", &["--version"]),
        chromium.to_owned(),
        python.to_owned(),
        first_line("date", &["-u", "+%Y-%m-%d"]),
    ];
    all.into_iter().filter(|line| !line.is_empty()).collect()
}
