//! Reads the corpus' 16-bit recordings of one channel, and no others.
//!
//! Not here: real WAV files, whose many forms the shell and the page read.

use std::path::Path;

use timing::Waveform;

/// The one channel of a 16-bit file.
pub fn read(path: &Path) -> Waveform {
    let bytes = std::fs::read(path).expect("a recording");
    let word = |at: usize| u32::from_le_bytes([bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]) as usize;
    let (mut at, mut rate) = (12, 0.0);
    while at + 8 <= bytes.len() {
        let (key, length) = (&bytes[at..at + 4], word(at + 4));
        if key == b"fmt " {
            rate = word(at + 12) as f64;
        }
        if key == b"data" {
            let end = bytes.len().min(at + 8 + length);
            let pairs = bytes[at + 8..end].chunks_exact(2);
            let samples = pairs.map(|p| f32::from(i16::from_le_bytes([p[0], p[1]])) / 32_768.0).collect();
            return Waveform::whole(rate, samples).expect("a channel");
        }
        at += 8 + length + length % 2;
    }
    panic!("{} has no samples", path.display());
}
