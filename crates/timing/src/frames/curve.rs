//! From a code in a picture to light: tone curves and the range of the codes.
//!
//! Not here: averaging pixels (`pixels`), and finding out how far a phone's own curve is from these (`tone`).

/// How codes follow light.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// The camera curve of video: Recommendation ITU-R BT.709-6, item 1.2.
    Bt709,
    /// The curve of screens and still pictures: IEC 61966-2-1:1999, 5.2.
    Srgb,
    /// Codes are light already.
    Linear,
}

impl Curve {
    /// Every curve.
    pub const ALL: [Curve; 3] = [Curve::Bt709, Curve::Srgb, Curve::Linear];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Curve::Bt709 => "bt709",
            Curve::Srgb => "srgb",
            Curve::Linear => "linear",
        }
    }

    /// The curve with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|curve| curve.key() == key)
    }

    /// Light, 0 to 1, for a signal of 0 to 1; what lies outside counts as the nearest end.
    ///
    /// *Equations:* BT.709 `L = V/4.5` below 0.081, else `((V + 0.099)/1.099)^(1/0.45)`; sRGB `L = V/12.92` to 0.04045, else
    /// `((V + 0.055)/1.055)^2.4`.
    pub fn light(self, signal: f64) -> f64 {
        let v = signal.clamp(0.0, 1.0);
        match self {
            Curve::Bt709 if v < 0.081 => v / 4.5,
            Curve::Bt709 => libm::pow((v + 0.099) / 1.099, 1.0 / 0.45),
            Curve::Srgb if v <= 0.04045 => v / 12.92,
            Curve::Srgb => libm::pow((v + 0.055) / 1.055, 2.4),
            Curve::Linear => v,
        }
    }
}

/// Which codes stand for black and for white.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Range {
    /// 16 to 235, as video is stored.
    Limited,
    /// 0 to 255, as a page's canvas and still pictures give it.
    Full,
}

impl Range {
    /// Every range.
    pub const ALL: [Range; 2] = [Range::Limited, Range::Full];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Range::Limited => "limited",
            Range::Full => "full",
        }
    }

    /// The range with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|range| range.key() == key)
    }

    /// The signal, 0 for black to 1 for white, of a code or of a mean of codes.
    pub fn signal(self, code: f64) -> f64 {
        match self {
            Range::Limited => (code - 16.0) / 219.0,
            Range::Full => code / 255.0,
        }
    }

    /// A code above this one is taken as clipped to white.
    pub const fn white(self) -> u8 {
        match self {
            Range::Limited => 233,
            Range::Full => 252,
        }
    }

    /// A code up to this one is black and tells nothing more.
    pub const fn black(self) -> u8 {
        match self {
            Range::Limited => 16,
            Range::Full => 0,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curves_meet_the_values_of_their_standards() {
        // BT.709 forwards: L = 0.18 gives V = 1.099·0.18^0.45 − 0.099.
        let forwards = 1.099 * libm::pow(0.18, 0.45) - 0.099;
        assert!((Curve::Bt709.light(forwards) - 0.18).abs() < 1e-12);
        assert!((Curve::Srgb.light(0.5) - 0.214_041).abs() < 1e-6);
        assert!((Curve::Bt709.light(0.0805) - Curve::Bt709.light(0.0815)).abs() < 5e-4);
        for curve in Curve::ALL {
            assert_eq!((curve.light(-0.2), curve.light(1.3)), (0.0, 1.0));
            assert_eq!(Curve::from_key(curve.key()), Some(curve));
        }
        assert_eq!(
            (Range::Limited.signal(16.0), Range::Limited.signal(235.0), Range::Full.signal(255.0)),
            (0.0, 1.0, 1.0)
        );
        assert_eq!(Range::from_key("full"), Some(Range::Full));
        assert_eq!(Range::from_key("tv"), None);
    }
}
