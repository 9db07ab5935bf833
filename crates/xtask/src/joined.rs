//! Joining the page's modules as they ship, so that a phone asks for few files: what nearly all pages lead to becomes one file, what
//! most lead to another, and each page's module takes in all else that it leads to.
//!
//! The sources run as they are as well, and a browser's tools show them. What each shared module was called stays beside the site, in
//! `target/joined`, for the browser tests. Not here: the joining itself, which Rollup does and Terser makes small (`www/join.mjs`); what a
//! page asks for ahead ([`crate::site`]).

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use sha2::{Digest, Sha256};

use crate::shell::{call, command, root, target};
use crate::site::{Files, MAP, asked_by_page, below, hex, read, walk, write};
use crate::source::{imports, resolve};

/// A file of several modules.
pub struct Joined {
    pub name: &'static str,
    /// So many pages of a hundred lead to each of them.
    from_percent: usize,
}

/// The rarer one last.
pub const JOINED: [Joined; 2] =
    [Joined { name: "joined.js", from_percent: 90 }, Joined { name: "joined-more.js", from_percent: 50 }];
/// The page that puts the program right again; it takes nothing from the shared files, so that a fault in them does not reach it.
const ALONE: &str = "reset.html";

/// What becomes of the modules that pages lead to.
#[derive(Debug, PartialEq, Eq)]
struct Plan {
    /// The pages' own.
    pages: Vec<String>,
    /// Of these, what takes nothing from a shared file.
    alone: Vec<String>,
    /// What goes into each shared file.
    shared: BTreeMap<&'static str, Vec<String>>,
    /// All of them.
    taken: BTreeSet<String>,
}

fn plan(files: &Files) -> Plan {
    let mut planned = Plan { pages: Vec::new(), alone: Vec::new(), shared: BTreeMap::new(), taken: BTreeSet::new() };
    let mut counts = BTreeMap::<String, usize>::new();
    for (name, html) in files.iter().filter(|(name, _)| name.ends_with(".html")) {
        let own = modules_of(&String::from_utf8_lossy(html));
        let all = led_to(files, &own);
        if name == ALONE {
            planned.alone.extend(own.iter().cloned());
        } else {
            all.iter().for_each(|module| *counts.entry(module.clone()).or_default() += 1);
        }
        planned.taken.extend(all);
        planned.pages.extend(own);
    }
    let of_pages = planned.pages.len() - planned.alone.len();
    for (name, count) in counts {
        if let Some(joined) = JOINED.iter().find(|joined| 100 * count >= joined.from_percent * of_pages) {
            planned.shared.entry(joined.name).or_default().push(name);
        }
    }
    planned
}

/// The modules that a page's own tags start.
fn modules_of(html: &str) -> Vec<String> {
    html.lines().filter(|line| line.starts_with("<script type=\"module\"")).flat_map(asked_by_page).collect()
}

/// Every module that these lead to, and themselves.
pub fn led_to(files: &Files, scripts: &[String]) -> BTreeSet<String> {
    let mut open = scripts.to_vec();
    let mut found: BTreeSet<String> = scripts.iter().cloned().collect();
    while let Some(name) = open.pop() {
        let text = files.get(&name).map(|bytes| String::from_utf8_lossy(bytes)).unwrap_or_default();
        for to in imports(&text).into_iter().filter(|import| !import.address).map(|import| resolve(&name, &import.of)) {
            if found.insert(to.clone()) {
                open.push(to);
            }
        }
    }
    found
}

/// Puts the joined modules in the place of those that they were joined from.
pub fn join(files: &mut Files) -> Result<(), String> {
    let Plan { pages, alone, shared, taken } = plan(files);
    let [from, to, told] = ["apart", "joined", "joined.json"].map(|name| target().join(name));
    let apart: Files = taken.iter().filter_map(|name| Some((name.clone(), files.get(name)?.clone()))).collect();
    for folder in [&from, &to] {
        fs::create_dir_all(folder).map_err(|error| format!("cannot make {}: {error}", folder.display()))?;
    }
    write(&apart, &from)?;
    let mut hash = Sha256::new();
    for bytes in
        apart.values().chain(&[read(&root().join("www/join.mjs"))?, read(&root().join("www/package-lock.json"))?])
    {
        hash.update(Sha256::digest(bytes));
    }
    let hash = hex(&hash.finalize());
    let said = format!(
        "{{ \"from\": {from:?}, \"to\": {to:?}, \"pages\": {pages:?}, \"alone\": {alone:?}, \"shared\": {shared:?}, \"hash\": {hash:?} }}\n"
    );
    // It takes its seconds, and most builds change other things.
    let as_before = fs::read_to_string(&told).is_ok_and(|last| last == said);
    if !as_before || !to.join(JOINED[0].name).is_file() {
        write(&Files::new(), &to)?;
        // Under another name until it is done.
        let begun = told.with_extension("begun");
        fs::write(&begun, said).map_err(|error| format!("cannot write {}: {error}", begun.display()))?;
        call(command("node", &["www/join.mjs"]).arg(&begun))?;
        fs::rename(&begun, &told).map_err(|error| format!("cannot rename {}: {error}", begun.display()))?;
    }
    files.retain(|name, _| !taken.contains(name));
    let ships = |name: &str| pages.iter().any(|page| page == name) || shared.contains_key(name);
    for file in walk(&to)? {
        let name = below(&file, &to)?;
        if ships(name.trim_end_matches(MAP)) {
            files.insert(name, read(&file)?);
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_most_pages_lead_to_is_shared() {
        let page = |name: &str| format!("<script type=\"module\" src=\"pages/{name}.js\"></script>\n");
        let files: Files = [
            ("a.html", page("a")),
            ("b.html", page("b")),
            ("c.html", page("c")),
            (ALONE, page("alone")),
            ("pages/a.js", "import \"../view/all.js\"; import \"./part.js\"; import \"../capture/one.js\";".to_owned()),
            ("pages/b.js", "import \"../view/all.js\"; import \"./two.js\";".to_owned()),
            ("pages/c.js", "import \"../view/all.js\";".to_owned()),
            ("pages/alone.js", "import \"../view/below.js\";".to_owned()),
            ("pages/part.js", "import \"./two.js\";".to_owned()),
            ("pages/two.js", String::new()),
            ("capture/one.js", "new URL(\"./work.js\", import.meta.url);".to_owned()),
            ("capture/work.js", String::new()),
            ("view/all.js", "import \"./below.js\";".to_owned()),
            ("view/below.js", String::new()),
        ]
        .into_iter()
        .map(|(name, text)| (name.to_owned(), text.into_bytes()))
        .collect();
        let Plan { pages, alone, shared, taken } = plan(&files);
        assert_eq!(pages, ["pages/a.js", "pages/b.js", "pages/c.js", "pages/alone.js"]);
        assert_eq!(alone, ["pages/alone.js"]);
        let told: Vec<(&str, Vec<&str>)> =
            shared.iter().map(|(name, of)| (*name, of.iter().map(String::as_str).collect())).collect();
        assert_eq!(
            told,
            [("joined-more.js", vec!["pages/two.js"]), ("joined.js", vec!["view/all.js", "view/below.js"])]
        );
        // What is only an address runs on its own.
        assert!(taken.contains("capture/one.js") && !taken.contains("capture/work.js"));
    }
}
