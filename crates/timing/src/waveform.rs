//! A recording of one channel: its sampling rate and the stretches of samples that were kept, each with its place in time.
//!
//! A whole recording is one stretch; a long one keeps only what is not quiet, so that memory stays flat. Not here: reading
//! files, choosing what is quiet, and anything that is measured.

use crate::error::Error;

/// Lowest sampling rate that is taken in \[Hz\]. Slower ones do not carry an impact of a shutter.
pub const LOWEST_RATE_HZ: f64 = 8_000.0;
/// Highest sampling rate that is taken in \[Hz\].
pub const HIGHEST_RATE_HZ: f64 = 384_000.0;

/// One unbroken stretch of samples.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// Number of the first sample, counted from the beginning of the recording.
    pub start: u64,
    /// The samples; full scale is 1.
    pub samples: Vec<f32>,
}

impl Stretch {
    /// Number of the sample after the last.
    pub fn end(&self) -> u64 {
        self.start.saturating_add(self.samples.len() as u64)
    }
}

/// One channel of a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Waveform {
    rate_hz: f64,
    stretches: Vec<Stretch>,
}

impl Waveform {
    /// A channel from its stretches, in the order of time and without overlap.
    ///
    /// **Errors** where the rate is outside [`LOWEST_RATE_HZ`] to [`HIGHEST_RATE_HZ`], a sample is not finite, or stretches
    /// overlap.
    pub fn new(rate_hz: f64, stretches: Vec<Stretch>) -> Result<Self, Error> {
        if !(LOWEST_RATE_HZ..=HIGHEST_RATE_HZ).contains(&rate_hz) {
            return Err(Error::new(format!(
                "the sampling rate must be between {LOWEST_RATE_HZ} Hz and {HIGHEST_RATE_HZ} Hz, and {rate_hz} Hz was given"
            )));
        }
        if stretches.windows(2).any(|pair| pair[0].end() > pair[1].start) {
            return Err(Error::new("the stretches of a recording must follow one another, and two of them overlap"));
        }
        if !stretches.iter().all(|stretch| all_finite(&stretch.samples)) {
            return Err(Error::new("the samples must be finite numbers, and one of them is not"));
        }
        Ok(Self { rate_hz, stretches: stretches.into_iter().filter(|stretch| !stretch.samples.is_empty()).collect() })
    }

    /// A whole recording in one stretch. **Errors** as [`Waveform::new`].
    pub fn whole(rate_hz: f64, samples: Vec<f32>) -> Result<Self, Error> {
        Self::new(rate_hz, vec![Stretch { start: 0, samples }])
    }

    /// The same for a rate that lies within the limits and samples that were looked at already.
    pub(crate) fn whole_of_finite(rate_hz: f64, samples: Vec<f32>) -> Self {
        let stretches = if samples.is_empty() { Vec::new() } else { vec![Stretch { start: 0, samples }] };
        Self { rate_hz, stretches }
    }

    /// Sampling rate \[Hz\].
    pub const fn rate_hz(&self) -> f64 {
        self.rate_hz
    }

    /// The stretches in the order of time, none of them empty.
    pub fn stretches(&self) -> &[Stretch] {
        &self.stretches
    }

    /// The stretches themselves.
    pub(crate) fn into_stretches(self) -> Vec<Stretch> {
        self.stretches
    }

    /// How many samples were kept.
    pub fn kept(&self) -> usize {
        self.stretches.iter().map(|stretch| stretch.samples.len()).sum()
    }
}

/// Whether all samples are finite numbers; all of them are looked at, without a branch for each.
pub(crate) fn all_finite(samples: &[f32]) -> bool {
    samples.iter().fold(true, |good, sample| good & sample.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_recording_is_refused() {
        assert!(Waveform::whole(4_000.0, vec![0.0]).is_err());
        assert!(Waveform::whole(f64::NAN, vec![0.0]).is_err());
        assert!(Waveform::whole(48_000.0, vec![f32::NAN]).is_err());
        let stretch = |start| Stretch { start, samples: vec![0.0; 10] };
        assert!(Waveform::new(48_000.0, vec![stretch(0), stretch(9)]).is_err());
        let kept = Waveform::new(48_000.0, vec![stretch(0), stretch(10), stretch(1000)]).expect("a recording");
        assert_eq!((kept.kept(), kept.stretches().len()), (30, 3));
    }
}
