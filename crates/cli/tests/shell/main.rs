//! The shell as it is called: what it prints, what it says on standard error, how it ends.
//!
//! Not here: the values themselves, which the rooms below check against published ones.

mod files;
mod film;
mod lenses;
mod numbers;
mod pictures;
mod shots;
mod sun;

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// What a call gave.
struct Given {
    code: i32,
    out: String,
    err: String,
}

impl Given {
    /// The outcome as JSON.
    fn json(&self) -> serde_json::Value {
        assert_eq!((self.code, self.err.as_str()), (0, ""));
        serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}", self.out))
    }

    /// The table, within the width of a terminal.
    fn table(&self) -> &str {
        assert_eq!((self.code, self.err.as_str()), (0, ""));
        assert!(self.out.lines().all(|line| line.chars().count() <= 80), "{}", self.out);
        &self.out
    }

    /// The one line that says why there is nothing.
    fn refused(&self, code: i32) -> &str {
        assert_eq!((self.code, self.out.as_str()), (code, ""), "{}", self.err);
        assert!(self.err.starts_with("lampblack: ") && self.err.ends_with('\n'), "{}", self.err);
        assert_eq!(self.err.lines().count(), 1, "{}", self.err);
        self.err.trim_end()
    }
}

fn fed(arguments: &[&str], input: &[u8]) -> Given {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lampblack"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the shell runs");
    // A call that is refused may end before it has read anything.
    let _ = child.stdin.take().expect("an input").write_all(input);
    let output = child.wait_with_output().expect("an end");
    Given {
        code: output.status.code().expect("an exit code"),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}

fn called(arguments: &[&str]) -> Given {
    fed(arguments, b"")
}

/// A file of the records that are kept for ever.
fn record(name: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../tests/records").join(name);
    path.to_string_lossy().into_owned()
}

/// A file of this test alone.
fn written(name: &str, text: &str) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("written");
    path.to_string_lossy().into_owned()
}

#[test]
fn a_call_that_is_not_understood_ends_with_2_and_a_hint() {
    for (arguments, why) in [
        (&[][..], "no verb was given"),
        (&["polish"][..], "there is no verb \"polish\""),
        (&["exposure", "--f", "16", "--time", "1/125"][..], "the film speed (--speed 100) is missing"),
        (&["exposure", "--aperture", "16"][..], "--aperture"),
        (&["exposure", "--f"][..], "--f"),
        (&["meter", "a.csv", "--tolerance", "0.5"][..], "(--shared-doubt 0.1) is missing"),
        (&["meter", "a.csv", "--shared-doubt", "some"][..], "must be a number, and \"some\" was given"),
        (&["photo"][..], "the photo (FILE.jpg) is missing"),
        (&["photo", "a.jpg", "--patch", "1,2,3"][..], "--patch"),
        (&["photo", "a.jpg", "--patch", "1,2,3,4", "--patch-fraction", "0,0,1,1"][..], "one patch at a time"),
        (&["photo", "a.jpg", "--calibration", "0.2"][..], "STOPS,DOUBT"),
        (&["judge"][..], "the inspection (FILE.json) is missing"),
        (&["judge", "a.json", "b.json"][..], "one file at a time"),
        (&["check", "--all"][..], "--all"),
        (&["schema", "5"][..], "5"),
    ] {
        let given = called(arguments);
        let line = given.refused(2);
        assert!(line.contains(why) && line.ends_with("(\"lampblack help\" lists the calls)"), "{line}");
    }
}

#[test]
fn help_and_version_are_there() {
    for word in ["help", "--help", "-h"] {
        assert!(called(&[word]).table().contains("lampblack exposure --f 16 --time 1/125 --speed 100"));
    }
    assert!(called(&["--version"]).table().starts_with("lampblack "));
}
