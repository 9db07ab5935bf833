//! The site's files as a host would send them: compressed once when the site is built, beside the site and not in it, and how large
//! that makes them.
//!
//! Not here: sending them ([`crate::serve`]); what may be how large ([`crate::size`]).

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use crate::shell::target;
use crate::site;

/// A way to compress.
pub struct Way {
    /// As a browser and a server call it.
    pub name: &'static str,
    ending: &'static str,
    squeeze: fn(&[u8]) -> std::io::Result<Vec<u8>>,
}

/// The better one first.
pub const WAYS: [Way; 2] =
    [Way { name: "br", ending: "br", squeeze: brotli }, Way { name: "gzip", ending: "gz", squeeze: gzip }];

/// The hardest that it can, with the window that browsers allow.
fn brotli(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut out = Vec::new();
    let how = brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 22, ..Default::default() };
    brotli::BrotliCompress(&mut &*bytes, &mut out, &how)?;
    Ok(out)
}

fn gzip(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(bytes)?;
    encoder.finish()
}

fn place(file: &Path, way: &Way) -> Option<PathBuf> {
    let name = file.strip_prefix(site::folder()).ok()?;
    Some(target().join("packed").join(format!("{}.{}", name.display(), way.ending)))
}

/// Compresses what is new or changed of the built site; pictures are compressed already.
pub fn run(names: impl Iterator<Item = String>) -> Result<(), String> {
    let files: Vec<PathBuf> =
        names.filter(|name| !name.ends_with(".png")).map(|name| site::folder().join(name)).collect();
    let half = files.len().div_ceil(2);
    let all = |files: &[PathBuf]| files.iter().try_for_each(|file| WAYS.iter().try_for_each(|way| pack(file, way)));
    std::thread::scope(|scope| {
        let first = scope.spawn(|| all(&files[..half]));
        all(&files[half..]).and(first.join().unwrap_or_else(|_| Err("compressing came to a bad end".to_owned())))
    })
}

fn pack(file: &Path, way: &Way) -> Result<(), String> {
    let Some(place) = place(file, way) else { return Ok(()) };
    if ready(file, way).is_some() {
        return Ok(());
    }
    let said = |error: std::io::Error| format!("cannot compress {}: {error}", file.display());
    if let Some(parent) = place.parent() {
        fs::create_dir_all(parent).map_err(said)?;
    }
    let small = (way.squeeze)(&fs::read(file).map_err(said)?).map_err(said)?;
    fs::write(place, small).map_err(said)
}

/// A file as it was compressed, where that was done since it last changed and makes it smaller.
pub fn ready(file: &Path, way: &Way) -> Option<Vec<u8>> {
    let place = place(file, way)?;
    let time = |path: &Path| fs::metadata(path).and_then(|data| data.modified()).ok();
    // Asked of the clock of the files: the site writes only what has changed.
    if time(&place)? < time(file)? { None } else { fs::read(place).ok() }
}

/// What a host sends for a file of the site [bytes].
pub fn sent(name: &str) -> Result<u64, String> {
    let file = site::folder().join(name);
    let plain = fs::metadata(&file).map_err(|error| format!("cannot read {}: {error}", file.display()))?.len();
    Ok(ready(&file, &WAYS[0]).map_or(plain, |small| plain.min(small.len() as u64)))
}

#[cfg(test)]
mod tests {
    use std::io::Read;

    use super::*;

    #[test]
    fn both_ways_come_back() -> std::io::Result<()> {
        let text = "soot on paper, ".repeat(200);
        let mut back = Vec::new();
        brotli::BrotliDecompress(&mut brotli(text.as_bytes())?.as_slice(), &mut back)?;
        assert_eq!(back, text.as_bytes());
        let mut back = String::new();
        flate2::read::GzDecoder::new(gzip(text.as_bytes())?.as_slice()).read_to_string(&mut back)?;
        assert_eq!(back, text);
        assert!(brotli(text.as_bytes())?.len() < 80);
        Ok(())
    }
}
