//! Rules between modules of the page: imports only the allowed way, in no circle, and every module reached from a page.
//!
//! Not here: whether what ships is complete, vendored modules included, which the build itself checks ([`crate::site`]).

use std::collections::{BTreeMap, BTreeSet};

use super::{Tree, ending};
use crate::site::{ROOMS, SERVICE_WORKER, asked_by_page};
use crate::source::{Import, imports, resolve};

/// Which other rooms each room of the page may import from.
const MAY_KNOW: [(&str, &[&str]); 7] = [
    ("bench", &["vendor"]),
    ("offline", &["bench"]),
    ("store", &["bench", "vendor"]),
    ("capture", &["bench", "offline", "vendor"]),
    ("plot", &["vendor"]),
    ("view", &["bench", "capture", "offline", "plot", "vendor"]),
    ("pages", &["bench", "capture", "offline", "plot", "store", "vendor", "view"]),
];

pub(super) fn look(tree: &Tree, faults: &mut Vec<String>) {
    let www = || tree.texts.iter().filter_map(|(name, text)| Some((name.strip_prefix("www/")?, text)));
    let modules: BTreeMap<&str, Vec<(Import, String)>> = www()
        .filter(|(name, _)| ending(name) == "js" && ROOMS.contains(&room(name)))
        .map(|(name, text)| {
            let targets = imports(text).into_iter().map(|import| {
                let to = resolve(name, &import.of);
                (import, to)
            });
            (name, targets.collect())
        })
        .collect();
    let homeless = |name: &str| ending(name) == "js" && !ROOMS.contains(&room(name)) && name != SERVICE_WORKER;
    for (name, _) in www().filter(|(name, _)| homeless(name)) {
        faults.push(format!("www/{name}:1: in no room of the page"));
    }
    for (name, targets) in &modules {
        for (import, to) in targets {
            let at = format!("www/{name}:{}", import.line);
            if !import.of.starts_with('.') {
                faults.push(format!("{at}: '{}' has no relative address, and the browser finds no other", import.of));
            } else if room(to) != room(name) && !import.address && !may_know(room(name), room(to)) {
                faults.push(format!("{at}: {} must not import from {}", room(name), room(to)));
            } else if !import.address && leads_to(to, name, &modules, &mut BTreeSet::new()) {
                faults.push(format!("{at}: {to} leads back here: a circle of imports"));
            }
        }
    }
    heads(tree, faults);
    let pages = www().filter(|(name, _)| ending(name) == "html");
    let mut open: Vec<String> =
        pages.flat_map(|(name, text)| asked_by_page(text).into_iter().map(|to| resolve(name, &to))).collect();
    let mut reached = BTreeSet::new();
    while let Some(name) = open.pop() {
        if reached.insert(name.clone()) {
            open.extend(modules.get(name.as_str()).into_iter().flatten().map(|(_, to)| to.clone()));
        }
    }
    for name in modules.keys().filter(|name| !reached.contains(**name)) {
        faults.push(format!("www/{name}:1: no page reaches it"));
    }
}

/// What the head of every page says where the program can be installed, whichever page is opened first.
const HEAD: [&str; 3] = [
    "<link rel=\"manifest\" href=\"lampblack.webmanifest\">",
    "manifest-src 'self'",
    "<link rel=\"apple-touch-icon\" ",
];

fn heads(tree: &Tree, faults: &mut Vec<String>) {
    if !tree.sizes.contains_key("www/lampblack.webmanifest") {
        return;
    }
    for (name, text) in tree.texts.iter().filter(|(name, _)| name.starts_with("www/") && ending(name) == "html") {
        for line in HEAD.iter().filter(|line| !text.contains(**line)) {
            faults.push(format!("{name}:1: the head lacks '{line}', which every page's has"));
        }
    }
}

fn room(name: &str) -> &str {
    name.split_once('/').map_or("", |(room, _)| room)
}

fn may_know(room: &str, other: &str) -> bool {
    MAY_KNOW.iter().any(|(name, others)| *name == room && others.contains(&other))
}

fn leads_to<'a>(
    from: &'a str,
    goal: &str,
    modules: &'a BTreeMap<&str, Vec<(Import, String)>>,
    seen: &mut BTreeSet<&'a str>,
) -> bool {
    from == goal
        || seen.insert(from)
            && modules
                .get(from)
                .into_iter()
                .flatten()
                .any(|(import, to)| !import.address && leads_to(to, goal, modules, seen))
}
