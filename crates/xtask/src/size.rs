//! How much a phone fetches: every file of the site as a host sends it, what each page asks for at its first visit, and the most that
//! each of these may be.
//!
//! Not here: compressing ([`crate::packed`]).

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use crate::modules::PLAIN;
use crate::shell::root;
use crate::site::{self, MAP, asked_by_page};
use crate::source::{imports, resolve};
use crate::{joined, packed};

/// What may be how large, compressed with brotli [bytes].
struct Cap {
    what: &'static str,
    most: u64,
}

/// The list of cameras, which needs no module.
const LIST: Cap = Cap { what: "the first visit to the list of cameras", most: 28_000 };
/// Page, scripts and looks of the largest page, with the module that most pages ask. 150 kB and 110 kB are wanted; these are what was
/// reached, so that it does not grow again: most of it are the judgements themselves and the catalogue.
const FIRST: Cap = Cap { what: "the first visit to the largest page, its module with it", most: 300_000 };
/// The same of pages that go onto paper or into files, whose module judges too.
const FIRST_ON_PAPER: Cap =
    Cap { what: "the first visit to the largest page for paper, its module with it", most: 345_000 };
const MODULE: Cap = Cap { what: "the module that most pages ask", most: 262_000 };
const OWN: Cap = Cap { what: "a page's own scripts", most: 20_000 };
/// A connection's first flight: ten segments of 1460 bytes (RFC 6928, section 2).
const JOINED: Cap = Cap { what: "a file of several pages' scripts", most: 14_600 };
/// Everything that a phone fetches once when it keeps the program: of two builds of a module the better one.
const ALL: Cap = Cap { what: "all that a phone keeps", most: 1_300_000 };

/// What the worker fetches before its first answer to most pages, and what to those that say that they want the other module.
const BENCH: [&str; 3] = ["bench/worker.js", "bench/lampblack-bench.js", "bench/lampblack-bench_bg.wasm"];
const PAPER: [&str; 3] = [BENCH[0], "bench/lampblack-paper.js", "bench/lampblack-paper_bg.wasm"];
const WANTS_PAPER: &str = "bench(\"paper\")";

/// A page with what its first visit fetches [bytes].
struct Page {
    name: String,
    /// Page, scripts, looks.
    shell: u64,
    /// Its own scripts, which no other room shares.
    own: u64,
    /// Whether it goes onto paper or into files, and so wants the module that answers for that too.
    paper: bool,
    /// The module that answers its first question, with its glue and the worker.
    module: u64,
    files: usize,
}

/// Prints the tables, and what is too large as an error.
pub fn run() -> Result<(), String> {
    let sizes = sizes()?;
    println!("{:>10} {:>10}  file", "bytes", "brotli");
    for (name, (plain, sent)) in &sizes {
        println!("{plain:>10} {sent:>10}  {name}");
    }
    let pages = pages(&sizes)?;
    println!(
        "\n{:>10} {:>10} {:>10} {:>6}  page: first visit, of it own scripts, the module when it is asked, all brotli; files",
        "bytes", "own", "module", "files"
    );
    for page in &pages {
        println!("{:>10} {:>10} {:>10} {:>6}  {}", page.shell, page.own, page.module, page.files, page.name);
    }
    println!();
    let faults: Vec<String> = judged(&sizes, &pages)
        .into_iter()
        .filter_map(|(cap, size)| {
            let fits = size <= cap.most;
            println!(
                "{:>8.1} kB of {:>7.1}  {}{}",
                kb(size),
                kb(cap.most),
                cap.what,
                if fits { "" } else { "  TOO LARGE" }
            );
            (!fits).then(|| format!("{}: {:.1} kB, and at most {:.1} kB are allowed", cap.what, kb(size), kb(cap.most)))
        })
        .collect();
    if faults.is_empty() { Ok(()) } else { Err(faults.join("\n")) }
}

/// What is too large of a site that has been built; nothing where there is none.
pub fn faults() -> Vec<String> {
    let Ok(sizes) = sizes() else { return Vec::new() };
    let Ok(pages) = pages(&sizes) else { return Vec::new() };
    judged(&sizes, &pages)
        .into_iter()
        .filter(|(cap, size)| *size > cap.most)
        .map(|(cap, size)| {
            format!("target/site:1: {} is {:.1} kB, and at most {:.1} kB are allowed", cap.what, kb(size), kb(cap.most))
        })
        .collect()
}

fn kb(bytes: u64) -> f64 {
    bytes as f64 / 1000.0
}

fn judged(sizes: &Sizes, pages: &[Page]) -> Vec<(Cap, u64)> {
    let sent = |name: &str| sizes.get(name).map_or(0, |(_, sent)| *sent);
    let largest = |of: fn(&Page) -> u64| pages.iter().map(of).max().unwrap_or_default();
    let list = pages.iter().find(|page| page.name == "index.html").map_or(0, |page| page.shell);
    vec![
        (LIST, list),
        (FIRST, largest(|page| if page.paper { 0 } else { page.shell + page.module })),
        (FIRST_ON_PAPER, largest(|page| if page.paper { page.shell + page.module } else { 0 })),
        (MODULE, sent(BENCH[2])),
        (OWN, largest(|page| page.own)),
        (JOINED, joined::JOINED.iter().map(|file| sent(file.name)).max().unwrap_or_default()),
        (
            ALL,
            sizes
                .iter()
                .filter(|(name, _)| !name.contains(PLAIN) && !name.ends_with(MAP))
                .map(|(_, (_, sent))| sent)
                .sum(),
        ),
    ]
}

/// Each file's bytes, plain and as sent.
type Sizes = BTreeMap<String, (u64, u64)>;

fn sizes() -> Result<Sizes, String> {
    let listed = fs::read_to_string(site::folder().join("files.json"))
        .map_err(|error| format!("there is no site ({error}): 'cargo xtask site' builds it"))?;
    let names = listed.split("\"path\": \"").skip(1).filter_map(|rest| rest.split('"').next());
    names
        .map(|name| {
            let plain = fs::metadata(site::folder().join(name)).map_err(|error| format!("{name}: {error}"))?.len();
            Ok((name.to_owned(), (plain, packed::sent(name)?)))
        })
        .collect()
}

fn pages(sizes: &Sizes) -> Result<Vec<Page>, String> {
    sizes.keys().filter(|name| name.ends_with(".html")).map(|name| page(name, sizes)).collect()
}

fn page(name: &str, sizes: &Sizes) -> Result<Page, String> {
    let read = |name: &str| fs::read_to_string(site::folder().join(name)).map_err(|error| format!("{name}: {error}"));
    // What is shipped has other names in it.
    let written = |name: &str| fs::read_to_string(root().join("www").join(name));
    let mut open = vec![name.to_owned()];
    let mut fetched = BTreeSet::new();
    while let Some(name) = open.pop() {
        if !fetched.insert(name.clone()) {
            continue;
        }
        if name.ends_with(".html") {
            // What is for the home screen is fetched when the program is kept or installed.
            let now = |file: &String| !file.ends_with(".webmanifest") && !file.ends_with(".png");
            open.extend(asked_by_page(&read(&name)?).iter().map(|to| resolve(&name, to)).filter(now));
        } else if name.ends_with(".js") {
            open.extend(
                imports(&read(&name)?).into_iter().filter(|one| !one.address).map(|one| resolve(&name, &one.of)),
            );
        }
    }
    let sum = |wanted: &dyn Fn(&str) -> bool| {
        fetched.iter().filter(|name| wanted(name)).filter_map(|name| sizes.get(name)).map(|(_, sent)| sent).sum()
    };
    let paper = fetched
        .iter()
        .filter(|name| name.starts_with("pages/"))
        .any(|name| written(name).is_ok_and(|text| text.contains(WANTS_PAPER)));
    let module = if paper { PAPER } else { BENCH };
    Ok(Page {
        name: name.to_owned(),
        shell: sum(&|_| true),
        module: module.iter().filter_map(|name| sizes.get(*name)).map(|(_, sent)| sent).sum(),
        own: sum(&|name| name.starts_with("pages/")),
        paper,
        files: fetched.len(),
    })
}
