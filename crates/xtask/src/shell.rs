//! Running other programs, and saying what is being done and how long it took.
//!
//! Not here: what is to be run, which each verb knows.

use std::io::{BufRead, BufReader};
use std::path::PathBuf;
use std::process::{Command, Stdio};
use std::time::Instant;

/// The top of the checkout: told by cargo at run time, since a built task may have come from another checkout.
pub fn root() -> PathBuf {
    let here =
        std::env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    here.ancestors().nth(2).map_or(here.clone(), PathBuf::from)
}

/// Where cargo puts what it builds.
pub fn target() -> PathBuf {
    root().join(std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| PathBuf::from("target"), PathBuf::from))
}

/// The cargo that runs this task.
pub fn cargo(arguments: &[&str]) -> Command {
    command(&std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()), arguments)
}

/// A program with arguments, at the top of the checkout.
pub fn command(program: &str, arguments: &[&str]) -> Command {
    let mut command = Command::new(program);
    command.args(arguments).current_dir(root());
    command
}

/// Says what is done, does it, and says how long it took.
pub fn step<T>(what: &str, work: impl FnOnce() -> Result<T, String>) -> Result<T, String> {
    println!("── {what}");
    let begun = Instant::now();
    let result = work();
    let took = begun.elapsed().as_secs_f64();
    match &result {
        Ok(_) => println!("   done: {what} ({took:.1} s)"),
        Err(_) => println!("   failed: {what} ({took:.1} s)"),
    }
    result
}

/// Runs a program, its output shown; an error where it cannot be run or fails.
pub fn call(command: &mut Command) -> Result<(), String> {
    let line = written(command);
    let status = command.status().map_err(|error| format!("cannot run '{line}': {error}"))?;
    if status.success() { Ok(()) } else { Err(format!("'{line}' failed ({status})")) }
}

/// Runs a program with its standard output shown line by line and handed to `see`; whether it succeeded.
pub fn watch(command: &mut Command, mut see: impl FnMut(&str)) -> Result<bool, String> {
    let line = written(command);
    let mut child = command.stdout(Stdio::piped()).spawn().map_err(|error| format!("cannot run '{line}': {error}"))?;
    if let Some(output) = child.stdout.take() {
        let mut lines = BufReader::new(output);
        let mut bytes = Vec::new();
        while lines.read_until(b'\n', &mut bytes).is_ok_and(|read| read > 0) {
            let text = String::from_utf8_lossy(&bytes);
            println!("{}", text.trim_end());
            see(text.trim_end());
            bytes.clear();
        }
    }
    child.wait().map(|status| status.success()).map_err(|error| error.to_string())
}

/// Whether a program answers to `--version`.
pub fn answers(program: &str) -> bool {
    let quiet = || Stdio::null();
    Command::new(program)
        .arg("--version")
        .stdin(quiet())
        .stdout(quiet())
        .stderr(quiet())
        .status()
        .is_ok_and(|s| s.success())
}

/// A command as a person would type it.
fn written(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    words.map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" ")
}
