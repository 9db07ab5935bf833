//! Files coming in and going out, with their size looked at before they are read.
//!
//! Not here: what stands in them (`record`).

use std::fs::File;
use std::io::Read;
use std::path::Path;

use record::limits::FILE_BYTES;

use crate::error::{Failure, one_line};

/// How much of a recording is read in one go.
const BLOCK_BYTES: usize = 256 * 1024;

/// A file's name as it may be shown.
pub fn name(path: &Path) -> String {
    one_line(&path.to_string_lossy())
}

/// The text of a file, or of standard input for `-`.
pub fn read(path: &Path) -> Result<String, Failure> {
    contents(path).map_err(|why| Failure::None(format!("{}: {why}", name(path))))
}

/// The same, with the bare reason where there is none.
pub fn contents(path: &Path) -> Result<String, String> {
    String::from_utf8(read_bytes(path)?)
        .map_err(|error| format!("it is not text in UTF-8 (byte {})", error.utf8_error().valid_up_to() + 1))
}

fn read_bytes(path: &Path) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    let limit = FILE_BYTES as u64;
    let refused = |error: std::io::Error| format!("it cannot be read: {error}");
    if path.as_os_str() == "-" {
        std::io::stdin().lock().take(limit + 1).read_to_end(&mut bytes).map_err(refused)?;
    } else {
        let file = File::open(path).map_err(|error| format!("it cannot be opened: {error}"))?;
        let size = file.metadata().map_err(refused)?.len();
        if size > limit {
            return Err(too_large(size));
        }
        // What grows while it is read, or has no size of its own, is cut off at the limit all the same.
        file.take(limit + 1).read_to_end(&mut bytes).map_err(refused)?;
    }
    if bytes.len() > FILE_BYTES { Err(too_large(bytes.len() as u64)) } else { Ok(bytes) }
}

/// Hands a file, or standard input for `-`, over block by block, whatever its size. `take` says whether it wants more.
pub fn blocks(path: &Path, mut take: impl FnMut(&[u8]) -> Result<bool, Failure>) -> Result<(), Failure> {
    let refused = |error: std::io::Error| Failure::None(format!("it cannot be read: {error}"));
    let mut source: Box<dyn Read> = if path.as_os_str() == "-" {
        Box::new(std::io::stdin().lock())
    } else {
        Box::new(File::open(path).map_err(|error| Failure::None(format!("it cannot be opened: {error}")))?)
    };
    let mut block = vec![0; BLOCK_BYTES];
    loop {
        match source.read(&mut block) {
            Ok(0) => return Ok(()),
            Ok(count) if !take(block.get(..count).unwrap_or_default())? => return Ok(()),
            Ok(_) => {}
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) => return Err(refused(error)),
        }
    }
}

fn too_large(size: u64) -> String {
    const MEGABYTE: u64 = 1024 * 1024;
    format!("it is {} MB or more long, and at most {} MB are taken", size / MEGABYTE, FILE_BYTES as u64 / MEGABYTE)
}

/// Writes a text to a file.
pub fn write(path: &Path, text: &str) -> Result<(), Failure> {
    std::fs::write(path, text).map_err(|error| Failure::None(format!("{}: it cannot be written: {error}", name(path))))
}

/// The one inspection of a file that a verb is about: the only one, or the one with this id.
pub fn inspection(path: &Path, id: Option<&str>) -> Result<(record::v1::Inspection, Vec<String>), Failure> {
    let place = name(path);
    let taken = record::read_file(&read(path)?).map_err(|error| Failure::from(error).at(&place))?;
    let count = taken.inspections.len();
    let mut wanted: Vec<_> =
        taken.inspections.into_iter().filter(|inspection| id.is_none_or(|id| inspection.id == id)).collect();
    match (wanted.len(), wanted.pop(), id) {
        (1, Some(inspection), _) => Ok((inspection, taken.findings)),
        (0, _, Some(id)) => Err(Failure::None(format!("{place}: it holds no inspection with the id {}", one_line(id)))),
        (0, ..) => Err(Failure::None(format!("{place}: it holds no inspection"))),
        (_, _, None) => Err(Failure::None(format!("{place}: it holds {count} inspections: choose one with --id"))),
        (n, ..) => Err(Failure::None(format!("{place}: it holds {n} inspections with this id"))),
    }
}
