//! A thousand inspections of the demo's kind, each read as domain and judged; the same with the result as a file keeps it, texts and
//! fingerprint included; and with everything that the page shows of it.
//!
//! Not here: measuring.

use super::least_ms;
use crate::shell::root;

const COUNT: usize = 1000;

/// Three lines, as `name milliseconds`.
pub fn run() -> Result<(), String> {
    let text =
        std::fs::read_to_string(root().join("demo/bench.json")).map_err(|error| format!("demo/bench.json: {error}"))?;
    let taken = record::read_file(&text).map_err(|error| error.to_string())?;
    let mut all: Vec<_> = taken.inspections.iter().cycle().take(COUNT).cloned().collect();
    let mut judge = || all.iter_mut().filter_map(|one| record::judge(one).ok()).count();
    if judge() != COUNT {
        return Err("not every inspection of the demo could be judged".to_owned());
    }
    println!("judging {}", least_ms(&mut judge));
    println!("working-out {}", least_ms(|| all.iter_mut().filter_map(|one| record::work_out(one).ok()).count()));
    let show = || all.iter().filter(|one| record::view((*one).clone()).is_ok()).count();
    println!("showing {}", least_ms(show));
    Ok(())
}
