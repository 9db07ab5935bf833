//! Setting up a fresh machine: the WASM target, npm packages, a Chromium for the browser tests. Installs what it can, and says
//! the exact command where it cannot.
//!
//! Not here: building ([`crate::site`]). Touches the network only for what is missing.

use std::path::Path;
use std::process::Command;

use crate::shell::{answers, call, command, root, step};

const TARGET: &str = "wasm32-unknown-unknown";
const CHROMIUMS: [&str; 5] =
    ["/usr/bin/chromium", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
/// The letters come with it, since a bare machine has none and a page without letters has no size.
const DEBIAN: [&str; 2] = ["chromium", "fonts-liberation"];

/// Sets everything up; what only the browser tests need, only where it is wanted.
pub fn run(browser: bool) -> Result<(), String> {
    build()?;
    if browser { self::browser() } else { Ok(()) }
}

/// What building the page needs.
pub fn build() -> Result<(), String> {
    step("setup: WASM target", wasm_target)?;
    step("setup: npm packages of the page", || packages("www"))
}

/// What only the browser tests need.
pub fn browser() -> Result<(), String> {
    step("setup: npm packages of the browser tests", || packages("tests/browser"))?;
    step("setup: Chromium for the browser tests", || chromium().map(|found| println!("   {found}")))?;
    step("setup: ffmpeg, which makes the clip of a browser test", || {
        clip_maker();
        Ok(())
    })
}

/// Without it one browser test is left out, and says so: no reason to stop.
fn clip_maker() {
    let there = || command("ffmpeg", &["-version"]).output().is_ok_and(|said| said.status.success());
    if !there() && is_root() && answers("apt-get") {
        // What cannot be installed is said below.
        let _ = install(&["ffmpeg"]);
    }
    if !there() {
        println!("   not here: the test of a clip is left out ('sudo apt-get install ffmpeg' on Debian brings it)");
    }
}

fn is_root() -> bool {
    Command::new("id").arg("-u").output().is_ok_and(|id| id.stdout.starts_with(b"0\n"))
}

fn install(packages: &[&str]) -> Result<(), String> {
    let apt = |arguments: &[&str]| call(command("apt-get", arguments).env("DEBIAN_FRONTEND", "noninteractive"));
    apt(&["update", "-qq"])?;
    apt(&[&["install", "-y", "-qq", "--no-install-recommends"], packages].concat())
}

fn wasm_target() -> Result<(), String> {
    let by_hand = format!("install the target with 'rustup target add {TARGET}' and try again");
    match command("rustup", &["target", "list", "--installed"]).output() {
        Ok(list) if String::from_utf8_lossy(&list.stdout).lines().any(|line| line == TARGET) => Ok(()),
        Ok(_) => {
            call(&mut command("rustup", &["target", "add", TARGET])).map_err(|error| format!("{error}: {by_hand}"))
        }
        // A toolchain that did not come by rustup may carry the target all the same; the build will say.
        Err(_) => {
            println!(
                "   rustup is not here; where the build lacks {TARGET}, add it with the tool that your Rust came by"
            );
            Ok(())
        }
    }
}

pub fn packages(folder: &str) -> Result<(), String> {
    let modified = |path: &Path| std::fs::metadata(path).and_then(|data| data.modified()).ok();
    let lock = modified(&root().join(folder).join("package-lock.json"));
    // npm writes this list last, so that it tells when the packages were complete.
    let done = modified(&root().join(folder).join("node_modules/.package-lock.json"));
    if matches!((lock, done), (Some(lock), Some(done)) if done >= lock) {
        return Ok(());
    }
    if !answers("npm") {
        return Err(
            "npm is missing: install Node.js 20 or newer with npm ('sudo apt-get install nodejs npm' on Debian)"
                .to_owned(),
        );
    }
    let by_hand = format!("run 'npm ci' in {folder} and try again");
    call(command("npm", &["ci", "--no-audit", "--no-fund"]).current_dir(root().join(folder)))
        .map_err(|error| format!("{error}: {by_hand}"))
}

/// The Chromium to test with: `LAMPBLACK_CHROMIUM`, or the first that answers, installed where that is possible.
pub fn chromium() -> Result<String, String> {
    if let Ok(named) = std::env::var("LAMPBLACK_CHROMIUM") {
        return if answers(&named) {
            Ok(named)
        } else {
            Err(format!("LAMPBLACK_CHROMIUM names '{named}', which does not run"))
        };
    }
    if let Some(found) = installed() {
        return Ok(found);
    }
    let by_hand = "no Chromium was found: install one ('sudo apt-get install chromium' on Debian), or name it in LAMPBLACK_CHROMIUM";
    if !is_root() || !answers("apt-get") {
        return Err(by_hand.to_owned());
    }
    install(&DEBIAN).map_err(|error| format!("{error}: {by_hand}"))?;
    installed().ok_or_else(|| by_hand.to_owned())
}

/// The path of the first Chromium that answers: the tests' driver does not look along PATH itself.
fn installed() -> Option<String> {
    let found = CHROMIUMS.iter().find(|name| answers(name))?;
    let along = std::env::var_os("PATH").unwrap_or_default();
    let whole = std::env::split_paths(&along).map(|folder| folder.join(found)).find(|path| path.is_file());
    Some(whole.map_or_else(|| (*found).to_owned(), |path| path.to_string_lossy().into_owned()))
}
