//! As much of HTTP/1.1 as a static site needs: GET and HEAD, one request after another on a connection that is kept open, files as they
//! were compressed when the site was built.
//!
//! Not here: ports and certificates ([`super`], [`super::lan`]); ranges, ETags and dates, which no page of ours asks for.

use std::io::{Read, Write};
use std::path::{Component, Path, PathBuf};

use crate::packed;

const NO_PAGE: &str = "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>No such page</title>\n\
                       <h1>There is no such page</h1>\n<p><a href=\"/\">To the bench</a></p>\n</html>\n";
/// Longest head of a request [bytes].
const HEAD_BYTES: usize = 16 * 1024;

/// Answers every request that comes over a connection, until one of both sides ends it.
pub fn converse(mut stream: impl Read + Write, folder: &Path) -> std::io::Result<()> {
    let mut read = Vec::new();
    while let Some(head) = next_head(&mut stream, &mut read)? {
        let request = Request::read(&head);
        let keep = request.as_ref().is_some_and(|request| request.keep);
        let answer = request.as_ref().map_or_else(Answer::not_understood, |request| answer(request, folder));
        answer.send(&mut stream, request.is_some_and(|request| request.head_only), keep)?;
        if !keep {
            break;
        }
    }
    Ok(())
}

/// The text up to the next blank line; what came behind it stays for the request after. None where the other side has ended.
fn next_head(stream: &mut impl Read, read: &mut Vec<u8>) -> std::io::Result<Option<String>> {
    loop {
        if let Some(end) = read.windows(4).position(|four| four == b"\r\n\r\n") {
            let head = String::from_utf8_lossy(&read[..end]).into_owned();
            read.drain(..end + 4);
            return Ok(Some(head));
        }
        if read.len() > HEAD_BYTES {
            return Ok(Some(String::new()));
        }
        let mut more = [0; 4096];
        match stream.read(&mut more)? {
            0 => return Ok(None),
            count => read.extend_from_slice(&more[..count]),
        }
    }
}

struct Request {
    known: bool,
    head_only: bool,
    target: String,
    encodings: String,
    keep: bool,
}

impl Request {
    fn read(head: &str) -> Option<Self> {
        let mut lines = head.split("\r\n");
        let mut first = lines.next()?.split(' ');
        let (method, target, version) = (first.next()?, first.next()?, first.next()?);
        let fields: Vec<(String, &str)> = lines
            .filter_map(|line| line.split_once(':'))
            .map(|(name, value)| (name.trim().to_ascii_lowercase(), value.trim()))
            .collect();
        let field = |name: &str| fields.iter().find(|(other, _)| other == name).map_or("", |(_, value)| *value);
        let known = matches!(method, "GET" | "HEAD");
        // What would follow with another method is not read, so that nothing after it could be.
        let keep = version == "HTTP/1.1" && known && !field("connection").eq_ignore_ascii_case("close");
        Some(Self {
            known,
            head_only: method == "HEAD",
            target: target.to_owned(),
            encodings: field("accept-encoding").to_ascii_lowercase(),
            keep,
        })
    }
}

struct Answer {
    status: &'static str,
    fields: Vec<(&'static str, String)>,
    body: Vec<u8>,
}

impl Answer {
    fn not_understood() -> Self {
        Self { status: "400 Bad Request", fields: Vec::new(), body: b"this is no request\n".to_vec() }
    }

    fn send(&self, stream: &mut impl Write, head_only: bool, keep: bool) -> std::io::Result<()> {
        let connection = if keep { "keep-alive" } else { "close" };
        let mut out = format!(
            "HTTP/1.1 {}\r\nConnection: {connection}\r\nContent-Length: {}\r\nX-Content-Type-Options: nosniff\r\n",
            self.status,
            self.body.len()
        );
        for (name, value) in &self.fields {
            out.push_str(&format!("{name}: {value}\r\n"));
        }
        out.push_str("\r\n");
        let mut bytes = out.into_bytes();
        if !head_only {
            bytes.extend_from_slice(&self.body);
        }
        stream.write_all(&bytes)?;
        stream.flush()
    }
}

fn answer(request: &Request, folder: &Path) -> Answer {
    let html = ("Content-Type", "text/html; charset=utf-8".to_owned());
    let path = match found(folder, &request.target) {
        _ if !request.known => {
            let body = b"only GET and HEAD are answered\n".to_vec();
            return Answer { status: "405 Method Not Allowed", fields: vec![("Allow", "GET, HEAD".to_owned())], body };
        }
        Found::Moved(to) => {
            return Answer { status: "301 Moved Permanently", fields: vec![("Location", to)], body: Vec::new() };
        }
        Found::File(path) => path,
        Found::Nothing => PathBuf::new(),
    };
    let Ok(plain) = std::fs::read(&path) else {
        let fields = vec![html, ("Cache-Control", "no-cache".to_owned())];
        return Answer { status: "404 Not Found", fields, body: NO_PAGE.as_bytes().to_vec() };
    };
    let mut fields = vec![
        ("Content-Type", mime(&path).to_owned()),
        ("Cache-Control", caching(&path).to_owned()),
        ("Vary", "Accept-Encoding".to_owned()),
    ];
    let takes =
        |name: &str| request.encodings.split(',').any(|one| one.split(';').next().unwrap_or_default().trim() == name);
    let small =
        packed::WAYS.iter().filter(|way| takes(way.name)).find_map(|way| Some((way, packed::ready(&path, way)?)));
    let body = match small {
        Some((way, body)) => {
            fields.push(("Content-Encoding", way.name.to_owned()));
            body
        }
        None => plain,
    };
    Answer { status: "200 OK", fields, body }
}

/// What an address gets.
#[derive(Debug, PartialEq, Eq)]
enum Found {
    File(PathBuf),
    /// A folder without its slash: relative addresses of its page would go astray.
    Moved(String),
    Nothing,
}

/// Never a file outside the folder: names in the site are plain, so an address with anything else in it names nothing.
fn found(folder: &Path, url: &str) -> Found {
    let path = url.split(['?', '#']).next().unwrap_or_default();
    let Some(path) = path.strip_prefix('/') else { return Found::Nothing };
    let plain = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    if !plain || path.contains(['\\', '%', ':']) || path.contains("//") {
        return Found::Nothing;
    }
    let file = folder.join(path);
    if path.is_empty() || path.ends_with('/') {
        Found::File(file.join("index.html"))
    } else if file.is_dir() {
        Found::Moved(format!("/{path}/"))
    } else {
        Found::File(file)
    }
}

fn mime(path: &Path) -> &'static str {
    match path.extension().and_then(|ext| ext.to_str()).unwrap_or_default() {
        "html" => "text/html; charset=utf-8",
        "js" | "mjs" => "text/javascript; charset=utf-8",
        "css" => "text/css; charset=utf-8",
        "json" => "application/json",
        "wasm" => "application/wasm",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "webmanifest" => "application/manifest+json",
        _ => "application/octet-stream",
    }
}

/// The workers outlive a page, so a stale one would answer a new page; they are never kept.
fn caching(path: &Path) -> &'static str {
    match path.file_name().and_then(|name| name.to_str()) {
        Some("worker.js" | "sw.js") => "no-store",
        _ => "no-cache",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_address_leads_out_of_the_folder() {
        let folder = Path::new("/site");
        for bad in ["/../secret", "/a/../../b", "/%2e%2e/x", "/a\\..\\b", "//etc/passwd", "/a//b", "secret", "/c:/x"] {
            assert_eq!(found(folder, bad), Found::Nothing, "{bad}");
        }
        assert_eq!(found(folder, "/"), Found::File(folder.join("index.html")));
        assert_eq!(found(folder, "/meter.html?i=1/../2"), Found::File(folder.join("meter.html")));
        assert_eq!(found(folder, "/a/"), Found::File(folder.join("a/index.html")));
    }

    #[test]
    fn wasm_has_its_type_and_the_workers_are_never_kept() {
        assert_eq!(mime(Path::new("a.wasm")), "application/wasm");
        assert_eq!(mime(Path::new("a.js")), "text/javascript; charset=utf-8");
        assert_eq!(caching(Path::new("bench/worker.js")), "no-store");
        assert_eq!(caching(Path::new("bench/client.js")), "no-cache");
    }

    /// A connection whose other side has said all that it will say.
    struct Said<'a>(&'a [u8], Vec<u8>);

    impl Read for Said<'_> {
        fn read(&mut self, into: &mut [u8]) -> std::io::Result<usize> {
            // In small pieces, as a net may bring it.
            let count = self.0.len().min(into.len()).min(7);
            into[..count].copy_from_slice(&self.0[..count]);
            self.0 = &self.0[count..];
            Ok(count)
        }
    }

    impl Write for Said<'_> {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.1.extend_from_slice(bytes);
            Ok(bytes.len())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }

    #[test]
    fn a_connection_carries_many_requests_and_no_nonsense() -> std::io::Result<()> {
        let folder = std::env::temp_dir().join(format!("lampblack-http-{}", std::process::id()));
        std::fs::create_dir_all(&folder)?;
        std::fs::write(folder.join("index.html"), "<p>bench</p>")?;
        let ask = |text: &str| -> std::io::Result<String> {
            let mut said = Said(text.as_bytes(), Vec::new());
            converse(&mut said, &folder)?;
            Ok(String::from_utf8_lossy(&said.1).into_owned())
        };
        let two = ask("GET / HTTP/1.1\r\nHost: a\r\n\r\nHEAD /x HTTP/1.1\r\n\r\n")?;
        assert!(
            two.starts_with("HTTP/1.1 200") && two.contains("keep-alive") && two.contains("<p>bench</p>HTTP/1.1 404"),
            "{two}"
        );
        assert!(two.ends_with("\r\n\r\n"), "a HEAD has no body");
        let last = ask("GET / HTTP/1.1\r\nconnection: Close\r\n\r\nGET / HTTP/1.1\r\n\r\n")?;
        assert_eq!(last.matches("HTTP/1.1").count(), 1, "{last}");
        assert!(
            ask("POST / HTTP/1.1\r\nContent-Length: 30\r\n\r\nGET / HTTP/1.1\r\n\r\n")?.starts_with("HTTP/1.1 405")
        );
        assert_eq!(
            ask("POST / HTTP/1.1\r\nContent-Length: 30\r\n\r\nGET / HTTP/1.1\r\n\r\n")?.matches("HTTP/1.1").count(),
            1
        );
        assert!(ask("nonsense\r\n\r\n")?.starts_with("HTTP/1.1 400"));
        assert!(ask(&"x".repeat(HEAD_BYTES + 99))?.starts_with("HTTP/1.1 400"));
        assert_eq!(ask("GET / HT")?, "");
        std::fs::remove_dir_all(&folder)
    }
}
