//! A static server for the built page: on this machine, or with `--lan` over TLS for a phone in the same net.
//!
//! Not here: what an address gets ([`http`]); the certificate and what a person is told of it ([`lan`]). Any static host does the same
//! with `target/site`.

mod http;
pub mod lan;

use std::net::{IpAddr, Ipv4Addr, TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use crate::{setup, site};

const PORT: u16 = 8787;
/// A connection on which nothing comes for so long is given back.
const PATIENCE: Duration = Duration::from_secs(60);

/// Sets up, builds and serves until it is stopped.
pub fn run(arguments: &[String]) -> Result<(), String> {
    let wanted = wanted(arguments)?;
    if wanted.build {
        setup::build()?;
        site::run()?;
    }
    if !site::folder().join("index.html").is_file() {
        return Err(format!("there is no page in {}: 'cargo xtask site' builds it", site::folder().display()));
    }
    if wanted.lan {
        let addresses = lan::addresses()?;
        let secure = Arc::new(lan::secure(&addresses)?);
        let listener = listen(Ipv4Addr::UNSPECIFIED.into(), wanted.port)?;
        let port = listener.local_addr().map_err(|error| error.to_string())?.port();
        print!("{}", lan::told(&addresses, port)?);
        each(&listener, move |stream, folder| http::converse(lan::over(stream, &secure)?, folder), &site::folder());
    } else {
        let server = open(wanted.port)?;
        println!("\nLampblack is at {}  (stop it with Ctrl+C)", address(&server)?);
        answer(&server, &site::folder());
    }
    Ok(())
}

#[derive(Debug, PartialEq, Eq)]
struct Wanted {
    port: u16,
    build: bool,
    lan: bool,
}

fn wanted(arguments: &[String]) -> Result<Wanted, String> {
    let mut wanted = Wanted { port: PORT, build: true, lan: false };
    let mut rest = arguments.iter();
    while let Some(argument) = rest.next() {
        match argument.as_str() {
            "--no-build" => wanted.build = false,
            "--lan" => wanted.lan = true,
            "--port" => {
                let given = rest.next().map_or("", String::as_str);
                wanted.port =
                    given.parse().map_err(|_| format!("--port wants a number from 0 to 65535, and not '{given}'"))?;
            }
            other => return Err(format!("serve knows --port N, --no-build and --lan, and not '{other}'")),
        }
    }
    Ok(wanted)
}

/// A server on a port of this machine; 0 takes any that is free.
pub fn open(port: u16) -> Result<TcpListener, String> {
    listen(Ipv4Addr::LOCALHOST.into(), port)
}

fn listen(on: IpAddr, port: u16) -> Result<TcpListener, String> {
    TcpListener::bind((on, port)).map_err(|error| {
        format!("port {port} cannot be had ({error}): choose another with 'cargo xtask serve --port N', or 0 for any that is free")
    })
}

/// Where the server is.
pub fn address(server: &TcpListener) -> Result<String, String> {
    let address = server.local_addr().map_err(|error| format!("the server has no address: {error}"))?;
    Ok(format!("http://{address}/"))
}

/// Answers until this program ends.
pub fn answer(server: &TcpListener, folder: &Path) {
    each(server, http::converse, folder);
}

/// A thread for each connection: a client that does not read must not keep the others waiting. What one that went away does to its
/// answer is no matter.
fn each<F>(server: &TcpListener, converse: F, folder: &Path)
where
    F: Fn(TcpStream, &Path) -> std::io::Result<()> + Send + Sync + 'static,
{
    let (converse, folder) = (Arc::new(converse), Arc::<PathBuf>::new(folder.to_owned()));
    for stream in server.incoming().flatten() {
        let (converse, folder) = (Arc::clone(&converse), Arc::clone(&folder));
        let _ = stream.set_read_timeout(Some(PATIENCE)).and_then(|()| stream.set_nodelay(true));
        std::thread::spawn(move || converse(stream, &folder));
    }
}

#[cfg(test)]
mod tests {
    use std::io::{Read, Write};

    use super::*;

    #[test]
    fn flags_are_read_and_others_refused() {
        let flags = |text: &str| wanted(&text.split_whitespace().map(str::to_owned).collect::<Vec<_>>());
        assert_eq!(flags(""), Ok(Wanted { port: PORT, build: true, lan: false }));
        assert_eq!(flags("--no-build --port 0 --lan"), Ok(Wanted { port: 0, build: false, lan: true }));
        assert!(flags("--port 70000").is_err_and(|text| text.contains("'70000'")));
        assert!(flags("--prot 1").is_err_and(|text| text.contains("'--prot'")));
    }

    #[test]
    fn it_answers_over_the_wire() -> Result<(), Box<dyn std::error::Error>> {
        let folder = std::env::temp_dir().join(format!("lampblack-serve-{}", std::process::id()));
        std::fs::create_dir_all(folder.join("bench"))?;
        std::fs::write(folder.join("index.html"), "<p>bench</p>")?;
        std::fs::write(folder.join("bench/worker.js"), "1")?;
        let server = open(0)?;
        let at = address(&server)?.trim_start_matches("http://").trim_end_matches('/').to_owned();
        // It answers until the tests end.
        std::thread::spawn({
            let folder = folder.clone();
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
        std::fs::remove_dir_all(&folder)?;
        Ok(())
    }
}
