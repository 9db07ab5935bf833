//! Sets up, builds, serves, tests and tidies the project: `cargo xtask VERB`.
//!
//! One file per verb. Not here: anything that ships.

mod bench;
mod demo;
mod fuzz;
mod icons;
mod joined;
mod lighthouse;
mod modules;
mod packed;
mod serve;
mod setup;
mod shapes;
mod shell;
mod site;
mod size;
mod source;
mod test;
mod tidy;

use std::process::ExitCode;

const HELP: &str = "\
cargo xtask VERB

  serve [--port N] [--no-build]   set up, build, and serve the page on this machine
        [--lan]                   or over TLS to a phone in the same net
  test                            set up and run every test; ends in 'N passed, N failed'
  setup [--no-browser]            WASM target, npm packages, a Chromium for the browser tests
  site                            build the page to target/site
  size                            what a phone fetches, file by file and page by page, and the most it may be
  tidy                            what can be seen of the house rules
  bench                           speed native, in the browser and in NumPy; impacts against SciPy's; no test
  lighthouse [PAGE.html …]        how quickly pages show on a simulated slow phone, median of three; no test
  fuzz [--seconds N]              damage photos for a minute and keep what traps
  shapes                          write the page's types from the record's shapes
  demo                            compute the demo bench anew (demo/bench.json) and the kept files
  help                            this
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let verb = arguments.first().map_or("help", String::as_str);
    match run(verb, arguments.get(1..).unwrap_or_default()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(text) => {
            if !text.is_empty() {
                eprintln!("{text}");
            }
            ExitCode::FAILURE
        }
    }
}

fn run(verb: &str, flags: &[String]) -> Result<(), String> {
    if verb == "serve" {
        return serve::run(flags);
    }
    if verb == "lighthouse" {
        return lighthouse::run(flags);
    }
    if verb == "fuzz" {
        return fuzz::run(flags);
    }
    let no_browser = verb == "setup" && flags == ["--no-browser"];
    if !flags.is_empty() && !no_browser {
        return Err(format!("the task '{verb}' does not know '{}'\n\n{HELP}", flags.join(" ")));
    }
    match verb {
        "test" => test::run(),
        "setup" => setup::run(!no_browser),
        "site" => setup::build().and_then(|()| site::run()),
        "size" => size::run(),
        "tidy" => tidy::run(),
        "bench" => bench::run(),
        // The part of it that is built with every optimisation.
        "bench-native" => bench::native(),
        "shapes" => shapes::run(),
        "demo" => demo::run(),
        "help" | "--help" | "-h" => {
            print!("{HELP}");
            Ok(())
        }
        other => Err(format!("there is no task '{other}'\n\n{HELP}")),
    }
}
