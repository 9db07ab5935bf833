//! The browser's worker and the scripts in Python: an environment of their own, what runs in them, and which versions those are.
//!
//! Not here: what the scripts do (`tests/bench`).

use std::path::{Path, PathBuf};
use std::process::Command;

use super::{folder, signal_folder};
use crate::shell::command;
use crate::{serve, setup, site};

/// Scripts that do the same as the native part.
pub const SCRIPTS: [&str; 6] = ["sound.py", "light.py", "frames.py", "patch.py", "openings.py", "fog.py"];

/// What a program wrote; an error with its complaint where it failed.
pub fn said(call: &mut Command) -> Result<String, String> {
    let output = call.output().map_err(|error| format!("cannot run it: {error}"))?;
    if output.status.success() {
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    } else {
        Err(format!("it failed ({}): {}", output.status, String::from_utf8_lossy(&output.stderr)))
    }
}

/// The browser's version, and what its scripts said.
pub fn in_the_browser() -> Result<(String, String), String> {
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
    let lines = ["worker", "pictures", "list"]
        .map(|script| run(&format!("tests/bench/{script}.mjs")))
        .into_iter()
        .collect::<Result<String, String>>()?;
    let version = said(Command::new(&chromium).arg("--version")).unwrap_or_default();
    Ok((version.trim().to_owned(), lines))
}

/// The Python of an environment with NumPy and SciPy, which is made where it is not there.
pub fn environment() -> Result<PathBuf, String> {
    let place = folder().join("venv");
    let python = place.join("bin/python");
    if !python.exists() {
        said(command("python3", &["-m", "venv"]).arg(&place))?;
        said(&mut command(&python.to_string_lossy(), &["-m", "pip", "install", "--quiet", "numpy", "scipy"]))?;
    }
    Ok(python)
}

/// Python, NumPy and SciPy with their versions.
pub fn versions(python: &Path) -> String {
    const ASK: &str = "import sys, numpy, scipy; print(f'Python {sys.version.split()[0]}, NumPy {numpy.__version__}, SciPy {scipy.__version__}')";
    said(command(&python.to_string_lossy(), &["-c", ASK]).arg("")).unwrap_or_default().trim().to_owned()
}

/// What a script said; it ends in an error where it does not find what the native part found.
pub fn script(python: &Path, name: &str) -> Result<String, String> {
    // One thread, as ours is: what a library splits up over cores is another comparison.
    let threads = ["OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"].map(|name| (name, "1"));
    said(command(&python.to_string_lossy(), &[&format!("tests/bench/{name}")]).arg(folder()).envs(threads))
}

/// How many of our impacts a detector of SciPy's finds.
pub fn onsets(python: &Path) -> Result<String, String> {
    said(
        command(&python.to_string_lossy(), &["tests/bench/onsets.py"])
            .arg(folder().join("events.csv"))
            .arg(signal_folder()),
    )
}
