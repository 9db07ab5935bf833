//! How quickly each page shows on a slow phone, as Lighthouse simulates one; no test, since it takes a quarter of an hour and an idle
//! machine.
//!
//! Not here: visiting and judging (`tests/browser/lighthouse.mjs`).

use crate::serve::lan;
use crate::shell::{call, command, target};
use crate::{setup, site};

/// Builds the site and visits its pages, or those that are named; an error where one is worse than wanted.
pub fn run(pages: &[String]) -> Result<(), String> {
    if let Some(flag) = pages.iter().find(|name| name.starts_with('-')) {
        return Err(format!("the task 'lighthouse' takes names of pages, and '{flag}' was given"));
    }
    setup::build()?;
    setup::browser()?;
    site::run()?;
    let (certificate, key) = lan::texts()?;
    call(
        command("node", &["tests/browser/lighthouse.mjs"])
            .args(pages)
            .env("LAMPBLACK_CHROMIUM", setup::chromium()?)
            .env("LAMPBLACK_SITE", site::folder())
            .env("LAMPBLACK_PACKED", target().join("packed"))
            .env("LAMPBLACK_CERTIFICATE", certificate)
            .env("LAMPBLACK_KEY", key),
    )
}
