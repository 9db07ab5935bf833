//! A static server for the built page, on this machine only: right MIME types, no caching of what must be fresh.
//!
//! Not here: serving to other machines; any static host does that with `target/site`.

use std::io::Write;
use std::path::{Component, Path, PathBuf};

use tiny_http::{Method, Request, Server};

use crate::{setup, site};

const PORT: u16 = 8787;
const NO_PAGE: &str = "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n<title>No such page</title>\n\
                       <h1>There is no such page</h1>\n<p><a href=\"/\">To the bench</a></p>\n</html>\n";

/// Sets up, builds and serves until it is stopped.
pub fn run(arguments: &[String]) -> Result<(), String> {
    let (port, build) = wanted(arguments)?;
    if build {
        setup::build()?;
        site::run()?;
    }
    if !site::folder().join("index.html").is_file() {
        return Err(format!("there is no page in {}: 'cargo xtask site' builds it", site::folder().display()));
    }
    let server = open(port)?;
    println!("\nLampblack is at {}  (stop it with Ctrl+C)", address(&server)?);
    answer(&server, &site::folder());
    Ok(())
}

fn wanted(arguments: &[String]) -> Result<(u16, bool), String> {
    let (mut port, mut build) = (PORT, true);
    let mut rest = arguments.iter();
    while let Some(argument) = rest.next() {
        match argument.as_str() {
            "--no-build" => build = false,
            "--port" => {
                let given = rest.next().map_or("", String::as_str);
                port =
                    given.parse().map_err(|_| format!("--port wants a number from 0 to 65535, and not '{given}'"))?;
            }
            other => return Err(format!("serve knows --port N and --no-build, and not '{other}'")),
        }
    }
    Ok((port, build))
}

/// A server on a port of this machine; 0 takes any that is free.
pub fn open(port: u16) -> Result<Server, String> {
    Server::http(("127.0.0.1", port)).map_err(|error| {
        format!("port {port} cannot be had ({error}): choose another with 'cargo xtask serve --port N', or 0 for any that is free")
    })
}

/// Where the server is.
pub fn address(server: &Server) -> Result<String, String> {
    let address = server.server_addr().to_ip().ok_or("the server has no address")?;
    Ok(format!("http://{address}/"))
}

/// Answers until the server is stopped.
pub fn answer(server: &Server, folder: &Path) {
    for request in server.incoming_requests() {
        let folder = folder.to_owned();
        // A thread each: a client that does not read must not keep the others waiting. What one that went away does to its
        // answer is no matter.
        std::thread::spawn(move || respond(request, &folder));
    }
}

/// What an address gets.
#[derive(Debug, PartialEq, Eq)]
enum Answer {
    File(PathBuf),
    /// A folder without its slash: relative addresses of its page would go astray.
    Moved(String),
    Nothing,
}

fn respond(request: Request, folder: &Path) -> std::io::Result<()> {
    let found = match answer_for(folder, request.url()) {
        _ if !matches!(request.method(), Method::Get | Method::Head) => {
            let text = b"only GET and HEAD are answered\n";
            return send(request, "405 Method Not Allowed", &[("Allow", "GET, HEAD")], text);
        }
        Answer::Moved(to) => return send(request, "301 Moved Permanently", &[("Location", &to)], b""),
        Answer::File(path) => std::fs::read(&path).ok().map(|bytes| (path, bytes)),
        Answer::Nothing => None,
    };
    let nosniff = ("X-Content-Type-Options", "nosniff");
    match found {
        Some((path, bytes)) => {
            let headers = [("Content-Type", mime(&path)), ("Cache-Control", caching(&path)), nosniff];
            send(request, "200 OK", &headers, &bytes)
        }
        None => {
            let headers = [("Content-Type", "text/html; charset=utf-8"), ("Cache-Control", "no-cache"), nosniff];
            send(request, "404 Not Found", &headers, NO_PAGE.as_bytes())
        }
    }
}

/// Sends an answer and asks for the connection to be closed. The library serves each connection in a thread of its pool, and
/// one more than the pool has free may wait for ever behind connections that are kept open: a page then never finishes
/// loading. It lets nobody set that header, hence the answer by hand.
fn send(request: Request, status: &str, headers: &[(&str, &str)], body: &[u8]) -> std::io::Result<()> {
    let head_only = *request.method() == Method::Head;
    let mut head = format!("HTTP/1.1 {status}\r\nConnection: close\r\nContent-Length: {}\r\n", body.len());
    for (name, value) in headers {
        head.push_str(&format!("{name}: {value}\r\n"));
    }
    head.push_str("\r\n");
    let mut writer = request.into_writer();
    writer.write_all(head.as_bytes())?;
    if !head_only {
        writer.write_all(body)?;
    }
    writer.flush()
}

/// Never a file outside the folder: names in the site are plain, so an address with anything else in it names nothing.
fn answer_for(folder: &Path, url: &str) -> Answer {
    let path = url.split(['?', '#']).next().unwrap_or_default();
    let Some(path) = path.strip_prefix('/') else { return Answer::Nothing };
    let plain = Path::new(path).components().all(|part| matches!(part, Component::Normal(_)));
    if !plain || path.contains(['\\', '%', ':']) || path.contains("//") {
        return Answer::Nothing;
    }
    let file = folder.join(path);
    if path.is_empty() || path.ends_with('/') {
        Answer::File(file.join("index.html"))
    } else if file.is_dir() {
        Answer::Moved(format!("/{path}/"))
    } else {
        Answer::File(file)
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
    use std::io::Read;
    use std::net::TcpStream;
    use std::sync::Arc;

    use super::*;

    #[test]
    fn no_address_leads_out_of_the_folder() {
        let folder = Path::new("/site");
        for bad in ["/../secret", "/a/../../b", "/%2e%2e/x", "/a\\..\\b", "//etc/passwd", "/a//b", "secret", "/c:/x"] {
            assert_eq!(answer_for(folder, bad), Answer::Nothing, "{bad}");
        }
        assert_eq!(answer_for(folder, "/"), Answer::File(folder.join("index.html")));
        assert_eq!(answer_for(folder, "/meter.html?i=1/../2"), Answer::File(folder.join("meter.html")));
        assert_eq!(answer_for(folder, "/a/"), Answer::File(folder.join("a/index.html")));
    }

    #[test]
    fn wasm_has_its_type_and_the_workers_are_never_kept() {
        assert_eq!(mime(Path::new("a.wasm")), "application/wasm");
        assert_eq!(mime(Path::new("a.js")), "text/javascript; charset=utf-8");
        assert_eq!(caching(Path::new("bench/worker.js")), "no-store");
        assert_eq!(caching(Path::new("bench/client.js")), "no-cache");
    }

    #[test]
    fn flags_are_read_and_others_refused() {
        let flags = |text: &str| wanted(&text.split_whitespace().map(str::to_owned).collect::<Vec<_>>());
        assert_eq!(flags(""), Ok((PORT, true)));
        assert_eq!(flags("--no-build --port 0"), Ok((0, false)));
        assert!(flags("--port 70000").is_err_and(|text| text.contains("'70000'")));
        assert!(flags("--prot 1").is_err_and(|text| text.contains("'--prot'")));
    }

    #[test]
    fn it_answers_over_the_wire() -> Result<(), Box<dyn std::error::Error>> {
        let folder = std::env::temp_dir().join(format!("lampblack-serve-{}", std::process::id()));
        std::fs::create_dir_all(folder.join("bench"))?;
        std::fs::write(folder.join("index.html"), "<p>bench</p>")?;
        std::fs::write(folder.join("bench/worker.js"), "1")?;
        let server = Arc::new(open(0)?);
        let at = address(&server)?.trim_start_matches("http://").trim_end_matches('/').to_owned();
        let thread = std::thread::spawn({
            let (server, folder) = (Arc::clone(&server), folder.clone());
            move || answer(&server, &folder)
        });
        let ask = |method: &str, path: &str| -> std::io::Result<String> {
            let mut stream = TcpStream::connect(&at)?;
            write!(stream, "{method} {path} HTTP/1.1\r\nHost: {at}\r\nConnection: close\r\n\r\n")?;
            let mut text = String::new();
            stream.read_to_string(&mut text)?;
            Ok(text)
        };
        let page = ask("GET", "/")?;
        assert!(page.starts_with("HTTP/1.1 200") && page.ends_with("<p>bench</p>"), "{page}");
        assert!(page.contains("Cache-Control: no-cache") && page.contains("text/html"), "{page}");
        let head = ask("HEAD", "/index.html")?;
        assert!(head.contains("Content-Length: 12") && head.ends_with("\r\n\r\n"), "{head}");
        assert!(ask("GET", "/bench/worker.js")?.contains("Cache-Control: no-store"));
        assert!(ask("GET", "/bench")?.contains("Location: /bench/"));
        assert!(ask("GET", "/none.html")?.starts_with("HTTP/1.1 404"));
        assert!(ask("POST", "/")?.starts_with("HTTP/1.1 405"));
        let port = at.rsplit(':').next().unwrap_or_default().parse()?;
        assert!(open(port).is_err_and(|text| text.contains("--port")));
        server.unblock();
        assert!(thread.join().is_ok());
        std::fs::remove_dir_all(&folder)?;
        Ok(())
    }
}
