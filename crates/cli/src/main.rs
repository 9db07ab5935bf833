//! `lampblack`: the bench for a shell, for a shop's archive and for scripts.
//!
//! Each verb has a file of its own; this one finds the verb, prints what it gave, and ends with 0 for an outcome, 1 for none
//! (one line on standard error) and 2 for a call that cannot be understood. Not here: any rule of the bench (`inspection`),
//! any JSON (`record`).

mod blades;
mod check;
mod clock;
mod compare;
mod daylight;
mod dose;
mod drawing;
mod error;
mod evenness;
mod exposure;
mod file;
mod fog;
mod frames;
mod glare;
mod html;
mod job;
mod judge;
mod meter;
mod photo;
mod picture;
mod readings;
mod rows;
mod schema;
mod sheet;
mod shot_table;
mod shutter;
mod strip;
mod sun;
mod table;
mod usage;
mod wording;

use std::io::Write;
use std::process::ExitCode;

use error::Failure;
use lexopt::Arg;

/// What every verb gives: the text for standard output.
type Answer = Result<String, Failure>;

fn answer(mut call: lexopt::Parser) -> Answer {
    let verb = match call.next()? {
        None => return Err(Failure::Usage("no verb was given".to_owned())),
        Some(Arg::Short('h') | Arg::Long("help")) => return Ok(usage::help()),
        Some(Arg::Short('V') | Arg::Long("version")) => return Ok(format!("{}\n", record::PROGRAM)),
        Some(Arg::Value(verb)) => verb.to_string_lossy().into_owned(),
        Some(other) => return Err(other.unexpected().into()),
    };
    match verb.as_str() {
        "exposure" => exposure::run(&mut call),
        "dose" => dose::run(&mut call),
        "sun" => sun::run(&mut call),
        "daylight" => daylight::run(&mut call),
        "meter" => meter::run(&mut call),
        "shutter" => shutter::run(&mut call),
        "frames" => frames::run(&mut call),
        "photo" => photo::run(&mut call),
        "blades" => blades::run(&mut call),
        "glare" => glare::run(&mut call),
        "evenness" => evenness::run(&mut call),
        "fog" => fog::run(&mut call),
        "judge" => judge::run(&mut call),
        "sheet" => sheet::run(&mut call),
        "wording" => wording::run(&mut call),
        "compare" => compare::run(&mut call),
        "table" => rows::run(&mut call),
        "check" => check::run(&mut call),
        "schema" => schema::run(&mut call),
        "help" => Ok(usage::help()),
        other => Err(Failure::Usage(format!("there is no verb \"{}\"", error::one_line(other)))),
    }
}

/// Writes to standard output. That nobody reads on is no failure.
fn print(text: &str) -> Result<(), std::io::Error> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(error),
        _ => Ok(()),
    }
}

fn main() -> ExitCode {
    let given = answer(lexopt::Parser::from_env()).and_then(|text| {
        print(&text).map_err(|error| Failure::None(format!("standard output cannot be written: {error}")))
    });
    match given {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            if let Failure::Refused { answer, .. } = &failure {
                // A reader that is gone has at least the exit code.
                let _ = print(answer);
            }
            // Where standard error cannot be written either, the exit code is all that is left to say it.
            let _ = writeln!(std::io::stderr().lock(), "lampblack: {failure}");
            ExitCode::from(failure.code())
        }
    }
}
