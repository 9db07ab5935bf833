//! Joining the page's modules as they ship, so that a phone asks for few files: what most pages lead to becomes one file, and what one
//! page alone leads to becomes part of that page's module. Each other module, and each that went into the one file, keeps its address.
//!
//! The sources run as they are as well, and a browser's tools show them. Not here: the joining itself, which Rollup does and Terser makes
//! small (`www/join.mjs`); what a page asks for ahead ([`crate::site`]).

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use crate::shell::{call, command, target};
use crate::site::{Files, asked_by_page, below, read, walk, write};
use crate::source::{imports, resolve};

/// The one file.
const JOINED: &str = "joined.js";
/// The page that puts the program right again; it stands on few modules of its own, so that a fault in the others does not reach it.
const ALONE: &str = "reset.html";

/// What becomes of the modules that pages lead to.
#[derive(Debug, PartialEq, Eq)]
struct Plan {
    /// They keep their address.
    entries: Vec<String>,
    /// Of these, what goes into the one file and is handed on from its address.
    shared: Vec<String>,
    /// They become part of the one page that leads to them.
    own: Vec<String>,
}

/// More than half of the pages are most; modules of the room `pages` that one page leads to are its own.
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
    let is_shared = |name: &String, count: usize| !stays(name) && 2 * count > scripts.len();
    let is_own = |name: &String, count: usize| !stays(name) && count == 1 && name.starts_with("pages/");
    let those = |wanted: &dyn Fn(&String, usize) -> bool| {
        pages.iter().filter(|(name, count)| wanted(name, **count)).map(|(name, _)| name.clone()).collect()
    };
    Plan { entries: those(&|name, count| !is_own(name, count)), shared: those(&is_shared), own: those(&is_own) }
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
    let said = format!(
        "{{ \"from\": {from:?}, \"to\": {to:?}, \"name\": {JOINED:?}, \"entries\": {entries:?}, \"shared\": {shared:?} }}\n"
    );
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
            ("pages/d.js", String::new()),
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
        assert_eq!(shared, ["pages/two.js", "view/below.js", "view/most.js"]);
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
