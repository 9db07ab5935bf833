//! Building the page to `target/site`: modules and their glue, the lists, the page's own files, vendored modules, the demo, the schema, the
//! icons, the service worker with what it keeps, and a list of every file with its hash.
//!
//! Not here: building the modules ([`crate::modules`]); joining scripts ([`crate::joined`]); serving it ([`crate::serve`]).

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::shell::{root, step, target};
use crate::source::{imports, resolve};
use crate::{icons, joined, modules, packed};

/// Folders of `www` that ship, besides the HTML pages.
pub const ROOMS: [&str; 9] = ["pages", "view", "bench", "store", "capture", "plot", "offline", "style", "icons"];
/// The one module at the top of the site: a service worker answers for what stands beside and below it.
pub const SERVICE_WORKER: &str = "sw.js";
/// What a browser's tools read the sources from; no phone keeps it.
pub const MAP: &str = ".map";
/// What the build fills in there.
const NOTHING_KEPT: &str = "const SITE = { hash: \"\", files: {} };";
/// Modules of npm packages that the page imports, and where they go.
const VENDORED: [(&str, &str); 8] = [
    ("lit-html/lit-html.js", "lit-html/lit-html.js"),
    ("lit-html/directive.js", "lit-html/directive.js"),
    ("lit-html/async-directive.js", "lit-html/async-directive.js"),
    ("lit-html/directive-helpers.js", "lit-html/directive-helpers.js"),
    ("lit-html/directives/live.js", "lit-html/directives/live.js"),
    ("lit-html/directives/guard.js", "lit-html/directives/guard.js"),
    ("lit-html/directives/repeat.js", "lit-html/directives/repeat.js"),
    ("idb/build/index.js", "idb/index.js"),
];

/// What ships: each file's path from the top of the site, and what it holds.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Where the built page is.
pub fn folder() -> PathBuf {
    target().join("site")
}

/// Builds the page.
pub fn run() -> Result<(), String> {
    step("site: WASM", modules::build)?;
    let files = step("site: files", || {
        let files = gather()?;
        // Written even where something is missing, so that a page can be looked at while it is being made.
        write(&files, &folder())?;
        complete(&files)?;
        Ok(files)
    })?;
    step("site: compressing", || packed::run(files.keys().cloned()))?;
    print!("{}", sizes(&files));
    println!("   in {}", folder().display());
    Ok(())
}

fn gather() -> Result<Files, String> {
    let mut files = modules::bind()?;
    let www = root().join("www");
    for file in
        list(&www)?.iter().filter(|file| file.extension().is_some_and(|ext| ext == "html" || ext == "webmanifest"))
    {
        files.insert(below(file, &www)?, read(file)?);
    }
    for room in ROOMS {
        // Types serve the type check and do not ship.
        for file in walk(&www.join(room))?.iter().filter(|file| file.extension().is_some_and(|ext| ext != "ts")) {
            files.insert(below(file, &www)?, read(file)?);
        }
    }
    for (from, to) in VENDORED {
        let text = String::from_utf8_lossy(&read(&www.join("node_modules").join(from))?).into_owned();
        files.insert(format!("vendor/{to}"), without_source_map(&text).into_bytes());
    }
    let demo = root().join("demo");
    for file in walk(&demo)?.iter().filter(|file| file.extension().is_some_and(|ext| ext == "json")) {
        files.insert(format!("demo/{}", below(file, &demo)?), read(file)?);
    }
    files.insert("schema/lampblack-inspection-1.json".to_owned(), record::schema_text().into_bytes());
    files.insert("bench/lists.json".to_owned(), record::handed(&record::lists()).into_bytes());
    for (name, picture) in icons::pictures(&String::from_utf8_lossy(&read(&www.join("icons/mark.svg"))?))? {
        files.insert(format!("icons/{name}"), picture);
    }
    joined::join(&mut files)?;
    quicken(&mut files);
    let keeper = keeper(&String::from_utf8_lossy(&read(&www.join(SERVICE_WORKER))?), &files)?;
    files.insert(SERVICE_WORKER.to_owned(), keeper.into_bytes());
    let manifest = manifest(&files);
    files.insert("files.json".to_owned(), manifest.into_bytes());
    Ok(files)
}

/// Makes each page ask for all that it needs at once, and for as little as can be: its styles as one file in their order, and every
/// module that its own leads to, which a browser would find only one after another; these after the styles, since what stands in the
/// page itself is read before them.
fn quicken(files: &mut Files) {
    let pages: Vec<String> = files.keys().filter(|name| name.ends_with(".html")).cloned().collect();
    for page in pages {
        let html = String::from_utf8_lossy(&files[&page]).into_owned();
        let (styles, rest): (Vec<&str>, Vec<&str>) =
            html.lines().partition(|line| line.starts_with("<link rel=\"stylesheet\""));
        let names: Vec<String> = styles.iter().flat_map(|line| asked_by_page(line)).collect();
        let short = |name: &String| name.rsplit('/').next().unwrap_or_default().trim_end_matches(".css").to_owned();
        let one = format!("style/{}.css", names.iter().map(short).collect::<Vec<_>>().join("-"));
        let looks = names.iter().filter_map(|name| files.get(name)).map(|bytes| String::from_utf8_lossy(bytes));
        let all: String = looks.map(|text| without_comments(&text)).collect();
        files.insert(one.clone(), all.into_bytes());
        let mut lines = Vec::new();
        for line in rest {
            if let Some(script) = line.starts_with("<script type=\"module\"").then(|| asked_by_page(line)).as_deref() {
                lines.push(format!("<link rel=\"stylesheet\" href=\"{one}\">"));
                let all = joined::led_to(files, script);
                lines.extend(
                    all.iter()
                        .filter(|name| !script.contains(name))
                        .map(|name| format!("<link rel=\"modulepreload\" fetchpriority=\"low\" href=\"{name}\">")),
                );
            }
            lines.push(line.to_owned());
        }
        files.insert(page, (lines.join("\n") + "\n").into_bytes());
    }
}

/// A style sheet as a browser reads it: CSS Syntax Module Level 3, section 4.3.2. None of ours has the marks of a comment in a text.
fn without_comments(css: &str) -> String {
    let mut parts = css.split("/*");
    let first = parts.next().unwrap_or_default().to_owned();
    let left = parts.filter_map(|part| part.split_once("*/")).fold(first, |all, (_, after)| all + after);
    left.lines().filter(|line| !line.trim().is_empty()).fold(String::new(), |all, line| all + line + "\n")
}

/// The maps of what was joined elsewhere do not ship, so nothing may point at them.
fn without_source_map(text: &str) -> String {
    text.lines()
        .filter(|line| !line.starts_with("//# sourceMappingURL"))
        .fold(String::new(), |all, line| all + line + "\n")
}

/// Every module that a shipped module or page asks for ships too.
fn complete(files: &Files) -> Result<(), String> {
    let mut missing = Vec::new();
    for (name, bytes) in files {
        let text = String::from_utf8_lossy(bytes);
        let asked: Vec<String> = match Path::new(name).extension().and_then(|ext| ext.to_str()) {
            // A folder is where something else is looked for.
            Some("js") => imports(&text).into_iter().map(|import| import.of).filter(|of| !of.ends_with('/')).collect(),
            Some("html") => asked_by_page(&text),
            _ => continue,
        };
        for of in asked {
            if !files.contains_key(&resolve(name, &of)) {
                missing.push(format!("{name}: asks for '{of}', which does not ship"));
            }
        }
    }
    if missing.is_empty() { Ok(()) } else { Err(missing.join("\n")) }
}

/// What a page's own tags load: scripts, styles, icons.
pub fn asked_by_page(html: &str) -> Vec<String> {
    let tags = html.split('<').filter(|tag| ["script", "link", "img"].iter().any(|name| tag.starts_with(name)));
    tags.flat_map(|tag| ["src=\"", "href=\""].map(|attribute| tag.split_once(attribute)))
        .flatten()
        .filter_map(|(_, rest)| rest.split('"').next())
        .filter(|address| !address.starts_with("data:"))
        .map(str::to_owned)
        .collect()
}

/// The service worker with everything that it keeps: every file that a page can ask for, by the hash that a browser checks.
fn keeper(text: &str, files: &Files) -> Result<String, String> {
    if text.matches(NOTHING_KEPT).count() != 1 {
        return Err(format!("www/{SERVICE_WORKER}: the line '{NOTHING_KEPT}' is wanted once"));
    }
    let lines: Vec<String> = files
        .iter()
        .filter(|(name, _)| !name.ends_with(MAP))
        .map(|(name, bytes)| format!("  \"{name}\": \"{}\",\n", base64(&Sha256::digest(bytes))))
        .collect();
    let site = format!("const SITE = {{ hash: \"{}\", files: {{\n{}}} }};", whole_hash(files), lines.concat());
    Ok(text.replace(NOTHING_KEPT, &site))
}

/// One hash over the names and the contents of all files.
fn whole_hash(files: &Files) -> String {
    let mut whole = Sha256::new();
    for (name, bytes) in files {
        whole.update(format!("{name} {}\n", hex(&Sha256::digest(bytes))));
    }
    hex(&whole.finalize())
}

/// Sorted list of every file with size and SHA-256, and one hash over all.
fn manifest(files: &Files) -> String {
    let line = |(name, bytes): (&String, &Vec<u8>)| {
        let hash = hex(&Sha256::digest(bytes));
        format!("    {{ \"path\": \"{name}\", \"bytes\": {}, \"sha256\": \"{hash}\" }}", bytes.len())
    };
    let lines: Vec<String> = files.iter().map(line).collect();
    format!("{{\n  \"hash\": \"{}\",\n  \"files\": [\n{}\n  ]\n}}\n", whole_hash(files), lines.join(",\n"))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let group = |three: &[u8]| {
        let bits = (0..3).fold(0_usize, |bits, i| bits << 8 | usize::from(three.get(i).copied().unwrap_or_default()));
        (0..4)
            .map(move |i| if i > three.len() { '=' } else { char::from(LETTERS[bits >> (18 - 6 * i) & 63]) })
            .collect::<String>()
    };
    bytes.chunks(3).map(group).collect()
}

pub fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn sizes(files: &Files) -> String {
    let mut kinds = BTreeMap::<&str, (usize, usize)>::new();
    for (name, bytes) in files {
        let kind = kinds.entry(name.rsplit('.').next().unwrap_or_default()).or_default();
        *kind = (kind.0 + 1, kind.1 + bytes.len());
    }
    let all = (files.len(), files.values().map(Vec::len).sum());
    kinds.into_iter().chain([("in all", all)]).fold(String::new(), |table, (kind, (count, size))| {
        let plural = if count == 1 { "file" } else { "files" };
        table + &format!("   {kind:>8} {:>9.1} kB  {count} {plural}\n", size as f64 / 1000.0)
    })
}

/// Writes what is new or changed, and removes what no longer belongs: a page that is open meanwhile finds its files.
pub fn write(files: &Files, site: &Path) -> Result<(), String> {
    for (name, bytes) in files {
        let path = site.join(name);
        if fs::read(&path).is_ok_and(|old| old == *bytes) {
            continue;
        }
        if let Some(parent) = path.parent() {
            fs::create_dir_all(parent).map_err(|error| format!("cannot make {}: {error}", parent.display()))?;
        }
        fs::write(&path, bytes).map_err(|error| format!("cannot write {}: {error}", path.display()))?;
    }
    for file in walk(site)? {
        if !files.contains_key(&below(&file, site)?) {
            fs::remove_file(&file).map_err(|error| format!("cannot remove {}: {error}", file.display()))?;
        }
    }
    remove_empty(site)
}

fn remove_empty(folder: &Path) -> Result<(), String> {
    for entry in list(folder)?.iter().filter(|entry| entry.is_dir()) {
        remove_empty(entry)?;
        if list(entry)?.is_empty() {
            fs::remove_dir(entry).map_err(|error| format!("cannot remove {}: {error}", entry.display()))?;
        }
    }
    Ok(())
}

pub fn below(file: &Path, folder: &Path) -> Result<String, String> {
    let name = file.strip_prefix(folder).map_err(|error| error.to_string())?;
    Ok(name.to_string_lossy().replace('\\', "/"))
}

pub fn read(path: &Path) -> Result<Vec<u8>, String> {
    fs::read(path).map_err(|error| format!("cannot read {}: {error}", path.display()))
}

fn list(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let entries = fs::read_dir(folder).map_err(|error| format!("cannot list {}: {error}", folder.display()))?;
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| entry.ok().map(|entry| entry.path())).collect();
    paths.sort();
    Ok(paths)
}

/// Every file below a folder, sorted; none where there is no such folder.
pub fn walk(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let mut files = Vec::new();
    if folder.exists() {
        for entry in list(folder)? {
            if entry.is_dir() {
                files.extend(walk(&entry)?);
            } else {
                files.push(entry);
            }
        }
    }
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(of: &[(&str, &str)]) -> Files {
        of.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect()
    }

    #[test]
    fn a_module_that_does_not_ship_is_missed() {
        let page = "<!doctype html><script type=\"module\" src=\"./pages/a.js\"></script><a href=\"b.html\">b</a>";
        let whole = files(&[("a.html", page), ("pages/a.js", "import \"../view/b.js\";"), ("view/b.js", "")]);
        assert_eq!(complete(&whole), Ok(()));
        let part = files(&[("a.html", page), ("pages/a.js", "import \"../view/b.js\";")]);
        assert_eq!(complete(&part), Err("pages/a.js: asks for '../view/b.js', which does not ship".to_owned()));
        assert!(
            complete(&files(&[("a.html", page)]))
                .is_err_and(|text| text.starts_with("a.html: asks for './pages/a.js'"))
        );
    }

    #[test]
    fn a_page_asks_for_everything_at_once() {
        let page = "<!doctype html>\n<link rel=\"stylesheet\" href=\"style/a.css\">\n<link rel=\"stylesheet\" href=\"style/b.css\">\n\
                    <script type=\"module\" src=\"pages/a.js\"></script>\n";
        let mut site = files(&[
            ("a.html", page),
            ("style/a.css", "/* The\n   first. */\na{}\n\n"),
            ("style/b.css", "b{}"),
            ("pages/a.js", "import \"../view/b.js\";"),
            ("view/b.js", "import \"./c.js\"; new URL(\"./w.js\", import.meta.url);"),
            ("view/c.js", "import \"./b.js\";"),
            ("view/w.js", ""),
        ]);
        quicken(&mut site);
        assert_eq!(
            String::from_utf8_lossy(&site["a.html"]),
            "<!doctype html>\n<link rel=\"stylesheet\" href=\"style/a-b.css\">\n<link rel=\"modulepreload\" fetchpriority=\"low\" href=\"view/b.js\">\n\
             <link rel=\"modulepreload\" fetchpriority=\"low\" href=\"view/c.js\">\n<script type=\"module\" src=\"pages/a.js\"></script>\n"
        );
        assert_eq!(site["style/a-b.css"], b"a{}\nb{}\n");
    }

    #[test]
    fn the_list_has_every_file_with_its_hash() {
        let text = manifest(&files(&[("a.js", "abc")]));
        // SHA-256 of "abc", FIPS 180-2, B.1.
        assert!(
            text.contains("\"sha256\": \"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad\""),
            "{text}"
        );
        assert!(text.contains("\"path\": \"a.js\", \"bytes\": 3"));
        assert_ne!(manifest(&files(&[("b.js", "abc")])).lines().nth(1), text.lines().nth(1));
    }

    #[test]
    fn the_service_worker_is_told_what_it_keeps() {
        let text = format!("/** x */\n{NOTHING_KEPT}\nfoo();\n");
        let told = keeper(&text, &files(&[("a.js", "abc"), ("a.js.map", "{}")])).expect("told");
        assert!(!told.contains("a.js.map"));
        // The same hash as above in base 64.
        assert!(told.contains("\"a.js\": \"ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=\""), "{told}");
        assert!(told.ends_with("};\nfoo();\n"));
        assert_ne!(told, keeper(&text, &files(&[("a.js", "abd")])).expect("told"));
        assert!(keeper("foo();", &files(&[])).is_err());
    }

    #[test]
    fn base64_is_the_standards() {
        // RFC 4648, section 10.
        let pairs =
            [("f", "Zg=="), ("fo", "Zm8="), ("foo", "Zm9v"), ("foob", "Zm9vYg=="), ("fooba", "Zm9vYmE="), ("", "")];
        for (bytes, text) in pairs {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    #[test]
    fn what_no_longer_belongs_is_removed() -> Result<(), String> {
        let site = std::env::temp_dir().join(format!("lampblack-site-{}", std::process::id()));
        write(&files(&[("a/old.js", "1"), ("b.js", "2")]), &site)?;
        write(&files(&[("b.js", "3")]), &site)?;
        assert_eq!(list(&site)?, [site.join("b.js")]);
        assert_eq!(read(&site.join("b.js"))?, b"3");
        fs::remove_dir_all(&site).map_err(|error| error.to_string())
    }

    #[test]
    fn no_source_map_is_pointed_at() {
        assert_eq!(without_source_map("a\n//# sourceMappingURL=a.js.map\n"), "a\n");
    }
}
