//! WAV files, read block by block as they come: what the header says, the samples, and the recording as it is measured.
//!
//! Rooms: [`Header`] (what the file says of its samples), [`Decoder`] (bytes in, samples out), [`Reader`] (bytes in, a recording
//! out whose memory stays flat however long it is). Not here: opening files, and what is quiet ([`crate::quiet`]).

mod decoder;
mod header;
mod reader;

pub use decoder::Decoder;
pub use header::{Encoding, Header, MOST_CHANNELS};
pub use reader::{Reader, Recording};

#[cfg(test)]
mod tests;
