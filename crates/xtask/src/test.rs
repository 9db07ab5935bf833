//! Running every test: format, clippy, tidy, Rust, types, browser. Goes on after a failure so that everything is seen, and
//! ends in one plain line `N passed, N failed`.
//!
//! Not here: the tests.

use std::process::Command;

use crate::shell::{call, cargo, command, root, step, target, watch};
use crate::{serve, setup, site, tidy};

/// Runs everything; an error where anything failed.
pub fn run() -> Result<(), String> {
    let mut count = Count::default();
    let can_build = count.needed("setup", setup::build);
    let can_browse = count.needed("setup of the browser tests", setup::browser);
    count.one("format", || call(&mut cargo(&["fmt", "--all", "--check"])));
    count.one("tidy", tidy::run);
    count.one("clippy", || {
        call(&mut cargo(&["clippy", "--quiet", "--workspace", "--all-targets", "--keep-going", "--", "-D", "warnings"]))
    });
    // The parity test writes there what the browser tests hold against the module.
    let mut rust = cargo(&["test", "--quiet", "--workspace", "--no-fail-fast"]);
    count.many("Rust", rust.env("LAMPBLACK_TARGET", target()), cargo_counts);
    if can_build {
        count.one("types", || call(&mut command("www/node_modules/.bin/tsc", &["-p", "www"])));
    }
    if can_build && count.needed("site", site::run) && can_browse {
        browser(&mut count);
    } else {
        println!("── test: browser\n   cannot be run: something that it needs has failed");
    }
    print!("{}", count.closing());
    if count.failed == 0 { Ok(()) } else { Err(String::new()) }
}

#[derive(Default)]
struct Count {
    passed: usize,
    failed: usize,
    what_failed: Vec<String>,
}

impl Count {
    /// Something that is no test: counts only where it fails. Whether it succeeded.
    fn needed(&mut self, what: &str, work: impl FnOnce() -> Result<(), String>) -> bool {
        let result = work();
        if let Err(text) = &result {
            self.fail(what, text);
        }
        result.is_ok()
    }

    /// A test that is passed or failed as a whole.
    fn one(&mut self, what: &str, work: impl FnOnce() -> Result<(), String>) {
        match step(&format!("test: {what}"), work) {
            Ok(()) => self.passed += 1,
            Err(text) => self.fail(what, &text),
        }
    }

    /// Runs a test runner and adds what it counted; one that ran nothing, or failed without a failed test, has failed.
    fn many(&mut self, what: &str, runner: &mut Command, count: impl Fn(&str) -> Option<(usize, usize)>) {
        let (mut passed, mut failed) = (0, 0);
        let ran = step(&format!("test: {what}"), || {
            let ended_well = watch(runner, |line| {
                if let Some((more_passed, more_failed)) = count(line) {
                    passed += more_passed;
                    failed += more_failed;
                }
            })?;
            println!("   {what}: {passed} passed, {failed} failed");
            verdict(ended_well, passed, failed)
        });
        self.passed += passed;
        self.failed += failed;
        match ran {
            Ok(()) => {}
            Err(_) if failed > 0 => self.what_failed.push(what.to_owned()),
            Err(text) => self.fail(what, &text),
        }
    }

    fn fail(&mut self, what: &str, text: &str) {
        println!("{text}");
        self.failed += 1;
        self.what_failed.push(what.to_owned());
    }

    fn closing(&self) -> String {
        let what = if self.what_failed.is_empty() {
            String::new()
        } else {
            format!("failed: {}\n", self.what_failed.join(", "))
        };
        format!("\n{what}{} passed, {} failed\n", self.passed, self.failed)
    }
}

fn verdict(ended_well: bool, passed: usize, failed: usize) -> Result<(), String> {
    if failed > 0 {
        Err(format!("{failed} failed"))
    } else if !ended_well {
        Err("ended in failure, although no test failed".to_owned())
    } else if passed == 0 {
        Err("ran no test".to_owned())
    } else {
        Ok(())
    }
}

/// `test result: ok. 12 passed; 0 failed; …`
fn cargo_counts(line: &str) -> Option<(usize, usize)> {
    let (_, rest) = line.strip_prefix("test result: ")?.split_once(". ")?;
    let number = |part: Option<&str>, word: &str| part?.trim().strip_suffix(word)?.trim().parse().ok();
    let mut parts = rest.split(';');
    Some((number(parts.next(), "passed")?, number(parts.next(), "failed")?))
}

/// `ℹ pass 12`, `ℹ fail 0` or `ℹ cancelled 0`; a test that was cancelled has not passed.
fn node_counts(line: &str) -> Option<(usize, usize)> {
    let (word, number) = line.strip_prefix("ℹ ").or_else(|| line.strip_prefix("# "))?.split_once(' ')?;
    let number = number.trim().parse().ok()?;
    match word {
        "pass" => Some((number, 0)),
        "fail" | "cancelled" => Some((0, number)),
        _ => None,
    }
}

fn browser(count: &mut Count) {
    let begun = setup::chromium().and_then(|chromium| {
        let server = serve::open(0)?;
        let address = serve::address(&server)?;
        Ok((chromium, server, address))
    });
    let (chromium, server, address) = match begun {
        Ok(begun) => begun,
        Err(text) => return count.fail("browser", &text),
    };
    // It answers until this program ends.
    std::thread::spawn(move || serve::answer(&server, &site::folder()));
    let mut tests: Vec<String> = std::fs::read_dir(root().join("tests/browser"))
        .into_iter()
        .flatten()
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".test.mjs"))
        .map(|name| format!("tests/browser/{name}"))
        .collect();
    tests.sort();
    if tests.is_empty() {
        // Without a name the runner would go looking for tests elsewhere.
        return count.fail("browser", "there are no tests in tests/browser");
    }
    let mut node = command("node", &["--test", "--test-concurrency=1", "--test-reporter=spec"]);
    node.args(&tests)
        .env("LAMPBLACK_CHROMIUM", chromium)
        .env("LAMPBLACK_URL", address)
        .env("LAMPBLACK_SITE", site::folder())
        .env("LAMPBLACK_TARGET", target());
    if let Ok(this) = std::env::current_exe() {
        node.env("LAMPBLACK_XTASK", this);
    }
    count.many("browser", &mut node, node_counts);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn closing_lines_are_counted() {
        assert_eq!(cargo_counts("test result: ok. 12 passed; 3 failed; 0 ignored; 0 measured"), Some((12, 3)));
        assert_eq!(cargo_counts("test result: FAILED. 1 passed; 20 failed; 0 ignored"), Some((1, 20)));
        assert_eq!(cargo_counts("running 3 tests"), None);
        assert_eq!(node_counts("ℹ pass 7"), Some((7, 0)));
        assert_eq!(node_counts("# fail 2"), Some((0, 2)));
        assert_eq!(node_counts("ℹ cancelled 1"), Some((0, 1)));
        assert_eq!(node_counts("ℹ tests 9"), None);
        assert_eq!(node_counts("ℹ duration_ms 900"), None);
    }

    #[test]
    fn a_runner_that_ran_nothing_has_failed() {
        assert_eq!(verdict(true, 3, 0), Ok(()));
        assert!(verdict(true, 0, 0).is_err_and(|text| text.contains("no test")));
        assert!(verdict(false, 3, 0).is_err());
        assert!(verdict(true, 3, 1).is_err());
    }

    #[test]
    fn it_ends_in_one_plain_line() {
        let mut count = Count::default();
        count.one("a", || Ok(()));
        assert_eq!(count.closing(), "\n1 passed, 0 failed\n");
        assert!(!count.needed("b", || Err("no".to_owned())));
        count.one("c", || Err("no".to_owned()));
        assert_eq!(count.closing(), "\nfailed: b, c\n1 passed, 2 failed\n");
    }
}
