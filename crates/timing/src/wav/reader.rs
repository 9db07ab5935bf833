//! A WAV file as a recording that can be measured, whatever its length: decoded block by block, and kept where it is not quiet.
//!
//! Not here: how bytes become samples ([`super::Decoder`]), what is quiet ([`crate::quiet`]), where the bytes come from.

use super::Decoder;
use crate::error::Error;
use crate::quiet::{Keeper, Signal};
use crate::shot::Notice;
use crate::waveform::Waveform;

/// What a file held.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// The channels, each with the same stretches.
    pub channels: Vec<Waveform>,
    /// How long it is, quiet stretches included \[s\].
    pub duration_s: f64,
    /// What has to be known about the file and what was kept of it.
    pub notices: Vec<Notice>,
}

/// Bytes of a WAV file in, a recording out.
#[derive(Clone, Debug)]
pub struct Reader {
    signal: Signal,
    decoder: Decoder,
    keeper: Option<Keeper>,
}

impl Reader {
    /// A reader before the first byte of a file that holds such a signal.
    pub const fn new(signal: Signal) -> Self {
        Self { signal, decoder: Decoder::new(), keeper: None }
    }

    /// Takes the next bytes of the file in. **Errors** as [`Decoder::push`].
    pub fn push(&mut self, bytes: &[u8]) -> Result<(), Error> {
        self.decoder.push(bytes)?;
        let Some(header) = self.decoder.header() else { return Ok(()) };
        let keeper = match &mut self.keeper {
            Some(keeper) => keeper,
            none => {
                let mut keeper = Keeper::new(header.rate_hz, header.channels, self.signal)?;
                keeper.expect(self.decoder.announced());
                none.insert(keeper)
            }
        };
        keeper.push(self.decoder.samples());
        Ok(())
    }

    /// Whether nothing that may follow in the file matters any more.
    pub fn is_done(&self) -> bool {
        self.decoder.is_done()
    }

    /// The recording. **Errors** where the file ended before its samples.
    pub fn finish(self) -> Result<Recording, Error> {
        let mut notices = self.decoder.finish()?;
        let Some(keeper) = self.keeper else {
            return Err(Error::new("the WAV file holds no recording: there are no samples in it"));
        };
        let kept = keeper.finish()?;
        notices.extend(kept.notices);
        Ok(Recording { rate_hz: kept.rate_hz, channels: kept.channels, duration_s: kept.duration_s, notices })
    }
}
