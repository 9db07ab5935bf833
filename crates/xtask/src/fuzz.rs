//! Damaged photos for a minute, or as long as is asked for: no test, since it runs by the clock.
//!
//! Not here: the damages and what counts as an answer (`tests/fuzz`), where finds are kept for ever after.

use crate::shell::{call, cargo};

/// Runs it; an error where there was a trap.
pub fn run(flags: &[String]) -> Result<(), String> {
    let seconds = match flags {
        [] => 60,
        [flag, text] if flag == "--seconds" => {
            text.parse::<u32>().map_err(|_| format!("--seconds must be a whole number, and \"{text}\" was given"))?
        }
        other => return Err(format!("the task 'fuzz' knows only --seconds N, and '{}' was given", other.join(" "))),
    };
    let arguments = ["test", "--quiet", "--release", "-p", "tests", "--test", "fuzz", "--", "--ignored", "--nocapture"];
    call(cargo(&arguments).env("LAMPBLACK_FUZZ_S", seconds.to_string()))
}
