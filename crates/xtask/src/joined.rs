//! Joining the page's modules as they ship, so that a phone asks for few files: what nearly all pages lead to becomes one file, what
//! most lead to another, and what one page alone leads to becomes part of that page's module. Every other module, and each that went into
//! one of the two, keeps its address.
//!
//! The sources run as they are as well, and a browser's tools show them. Not here: the joining itself, which Rollup does and Terser makes
//! small (`www/join.mjs`); what a page asks for ahead ([`crate::site`]).

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use crate::shell::{call, command, target};
use crate::site::{Files, asked_by_page, below, read, walk, write};
use crate::source::{imports, resolve};

/// A file of several modules.
struct Joined {
    name: &'static str,
    /// So many pages of a hundred lead to each of them.
    from_percent: usize,
}

/// The rarer one last: together the first flight of a connection does not hold them (ten segments: RFC 6928, section 2), each alone does.
const JOINED: [Joined; 2] =
    [Joined { name: "joined.js", from_percent: 80 }, Joined { name: "joined-more.js", from_percent: 50 }];
/// The page that puts the program right again; it stands on few modules of its own, so that a fault in the others does not reach it.
const ALONE: &str = "reset.html";

/// What becomes of the modules that pages lead to.
#[derive(Debug, PartialEq, Eq)]
struct Plan {
    /// They keep their address.
    entries: Vec<String>,
    /// Of these, what goes into each joined file and is handed on from its address.
    shared: BTreeMap<&'static str, Vec<String>>,
    /// They become part of the one page that leads to them.
    own: Vec<String>,
}

/// Modules of the room `pages` that one page leads to are its own.
fn plan(files: &Files) -> Plan {
    let scripts: Vec<Vec<String>> = files
        .iter()
        .filter(|(name, _)| name.ends_with(".html"))
        .map(|(_, html)| modules_of(&String::from_utf8_lossy(html)))
        .collect();
    let mut pages = BTreeMap::<String, usize>::new();
    for script in &scripts {
        for name in led_to(files, script) {
            *pages.entry(name).or_default() += 1;
        }
    }
    let first: BTreeSet<&String> = scripts.iter().flatten().collect();
    let alone = files.get(ALONE).map(|html| led_to(files, &modules_of(&String::from_utf8_lossy(html))));
    let stays = |name: &String| first.contains(name) || alone.as_ref().is_some_and(|those| those.contains(name));
    let is_own = |name: &String, count: usize| !stays(name) && count == 1 && name.starts_with("pages/");
    let mut planned = Plan { entries: Vec::new(), shared: BTreeMap::new(), own: Vec::new() };
    for (name, count) in pages {
        if is_own(&name, count) {
            planned.own.push(name);
            continue;
        }
        let of_all = |joined: &&Joined| 100 * count >= joined.from_percent * scripts.len();
        if let Some(joined) = JOINED.iter().find(of_all).filter(|_| !stays(&name)) {
            planned.shared.entry(joined.name).or_default().push(name.clone());
        }
        planned.entries.push(name);
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
    let Plan { entries, shared, own } = plan(files);
    let [from, to, told] = ["apart", "joined", "joined.json"].map(|name| target().join(name));
    let taken: Vec<&String> = entries.iter().chain(&own).collect();
    let apart = taken.iter().filter_map(|name| Some(((*name).clone(), files.get(*name)?.clone()))).collect();
    for folder in [&from, &to] {
        fs::create_dir_all(folder).map_err(|error| format!("cannot make {}: {error}", folder.display()))?;
    }
    write(&apart, &from)?;
    write(&Files::new(), &to)?;
    let said = format!("{{ \"from\": {from:?}, \"to\": {to:?}, \"entries\": {entries:?}, \"shared\": {shared:?} }}\n");
    fs::write(&told, said).map_err(|error| format!("cannot write {}: {error}", told.display()))?;
    call(command("node", &["www/join.mjs"]).arg(&told))?;
    files.retain(|name, _| !taken.contains(&name));
    for file in walk(&to)? {
        files.insert(below(&file, &to)?, read(&file)?);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_most_pages_lead_to_is_shared_and_what_one_leads_to_is_its_own() {
        let page = |name: &str| format!("<script type=\"module\" src=\"pages/{name}.js\"></script>\n");
        let files: Files = [
            ("a.html", page("a")),
            ("b.html", page("b")),
            ("c.html", page("c")),
            ("d.html", page("d")),
            (ALONE, page("alone")),
            (
                "pages/a.js",
                "import \"../view/most.js\"; import \"./part.js\"; import \"../offline/all.js\"; import \"../capture/one.js\";".to_owned(),
            ),
            ("pages/b.js", "import \"../view/most.js\"; import \"./two.js\"; import \"../offline/all.js\";".to_owned()),
            ("pages/c.js", "import \"./b.js\";".to_owned()),
            ("pages/d.js", "import \"../view/most.js\";".to_owned()),
            ("pages/alone.js", "import \"../offline/all.js\";".to_owned()),
            ("offline/all.js", String::new()),
            ("pages/part.js", "import \"./two.js\";".to_owned()),
            ("pages/two.js", String::new()),
            ("capture/one.js", "new URL(\"./work.js\", import.meta.url);".to_owned()),
            ("capture/work.js", String::new()),
            ("view/most.js", "import \"./below.js\";".to_owned()),
            ("view/below.js", String::new()),
        ]
        .into_iter()
        .map(|(name, text)| (name.to_owned(), text.into_bytes()))
        .collect();
        let Plan { entries, shared, own } = plan(&files);
        let told: Vec<(&str, Vec<&str>)> =
            shared.iter().map(|(name, of)| (*name, of.iter().map(String::as_str).collect())).collect();
        assert_eq!(
            told,
            [("joined-more.js", vec!["pages/two.js"]), ("joined.js", vec!["view/below.js", "view/most.js"])]
        );
        assert_eq!(own, ["pages/part.js"]);
        let kept = [
            "capture/one.js",
            "offline/all.js",
            "pages/a.js",
            "pages/alone.js",
            "pages/b.js",
            "pages/c.js",
            "pages/d.js",
        ];
        assert_eq!(entries, [&kept[..], &["pages/two.js", "view/below.js", "view/most.js"]].concat());
    }
}
