//! Photos with damaged exposure data: whatever the bytes, there is an answer or a reason, and never a trap.
//!
//! A few thousand damages from a fixed seed run with every test; `cargo xtask fuzz` goes on for a minute and keeps what it finds in
//! `tests/pictures/finds/`, which is gone through here for ever after. Not here: what is read out of a sound photo (`reference`).

use std::fs;
use std::panic::catch_unwind;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant, SystemTime};

use tests::Chance;

/// Damages that run with every test.
const USUAL: usize = 3_000;
/// How many places of a file are damaged at most, and how far into it: exposure data lies near the front.
const MOST_PLACES: usize = 24;
const FRONT: usize = 64 * 1024;
/// Where the usual run begins.
const SEED: u64 = 0x2026;

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("pictures")
}

fn files(folder: &Path) -> Vec<Vec<u8>> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| entry.ok().map(|entry| entry.path())).collect();
    paths.retain(|path| path.is_file() && path.extension().is_none_or(|end| end != "json" && end != "md"));
    paths.sort();
    paths.iter().filter_map(|path| fs::read(path).ok()).collect()
}

/// Values that lengths, counts and offsets are often wrong at.
const EDGES: [u8; 8] = [0x00, 0x01, 0x02, 0x7f, 0x80, 0xfe, 0xff, 0xe1];

fn damaged(seeds: &[Vec<u8>], chance: &mut Chance) -> Vec<u8> {
    let mut bytes = seeds[chance.below(seeds.len())].clone();
    let front = bytes.len().min(FRONT);
    for _ in 0..=chance.below(MOST_PLACES) {
        if bytes.is_empty() {
            break;
        }
        let at = chance.below(front.min(bytes.len()));
        match chance.below(6) {
            0 => bytes[at] ^= 1 << chance.below(8),
            1 => bytes[at] = EDGES[chance.below(EDGES.len())],
            2 => bytes.truncate(at),
            3 => {
                let end = (at + 1 + chance.below(16)).min(bytes.len());
                bytes.drain(at..end);
            }
            4 => {
                let other = &seeds[chance.below(seeds.len())];
                let from = chance.below(other.len().min(FRONT));
                let piece: Vec<u8> = other[from..].iter().copied().take(1 + chance.below(64)).collect();
                bytes.splice(at..at, piece);
            }
            _ => {
                for byte in bytes.iter_mut().skip(at).take(4) {
                    *byte = 0xff;
                }
            }
        }
    }
    bytes
}

/// Whether there is an answer; a trap is none.
fn answered(bytes: &[u8]) -> bool {
    catch_unwind(|| {
        let head = record::photo_head(bytes);
        let light = record::photo_light(bytes, None, None).expect("a photo that could not be opened has reasons");
        // Without pixels there is never a light, and always a sentence that says why.
        head.exposure_words.len() < 400 && !light.refusals.is_empty() && light.ev_words.is_empty()
    })
    .unwrap_or(false)
}

/// With `LAMPBLACK_FUZZ_S` it goes on for so many seconds, from another seed each time, and keeps what it finds.
#[test]
fn damaged_photos_have_an_answer() {
    let seeds = files(&folder());
    assert!(seeds.len() > 5, "{} pictures", seeds.len());
    let seconds: u64 = std::env::var("LAMPBLACK_FUZZ_S").ok().and_then(|text| text.parse().ok()).unwrap_or(0);
    let seed = match (seconds, SystemTime::now().duration_since(SystemTime::UNIX_EPOCH)) {
        (1.., Ok(since)) => since.as_nanos() as u64,
        _ => SEED,
    };
    let mut chance = Chance(seed);
    let (begun, mut count) = (Instant::now(), 0);
    while count < USUAL || begun.elapsed() < Duration::from_secs(seconds) {
        let bytes = damaged(&seeds, &mut chance);
        count += 1;
        if answered(&bytes) {
            continue;
        }
        if seconds > 0 {
            let finds = folder().join("finds");
            fs::create_dir_all(&finds).expect("a folder");
            fs::write(finds.join(format!("photo-{seed}-{count}.bin")), &bytes).expect("written");
        }
        panic!("damage {count} of seed {seed} has no answer");
    }
    println!("{count} damaged photos from seed {seed}: an answer for every one");
}

#[test]
fn what_was_found_before_stays_mended() {
    for (n, bytes) in files(&folder().join("finds")).iter().enumerate() {
        assert!(answered(bytes), "find {n}");
    }
    // The walk itself: no bytes, one byte, and only beginnings.
    for bytes in [
        &b""[..],
        b"\xff",
        b"\xff\xd8\xff\xe1\xff\xff",
        b"\x89PNG\r\n\x1a\n\xff\xff\xff\xff",
        b"\x00\x00\x00\x18ftypheic",
    ] {
        assert!(answered(bytes), "{bytes:?}");
    }
}
