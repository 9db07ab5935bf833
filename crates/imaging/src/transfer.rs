//! From the codes of a picture to light: transfer curves, luminance weights, and tables of both.
//!
//! Light is relative, 1 being the whitest code. Not here: the places of pixels ([`crate::raster`]), what the light comes to in
//! cd/m² ([`crate::luminance`]).

/// The code that stands for the metered tone, by the standard output sensitivity of ISO 12232 (read in secondary sources).
pub const MID_TONE_CODE: u8 = 118;

/// How code values stand for light.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Curve {
    /// IEC 61966-2-1, of photographs; Display P3 has the same curve.
    Srgb,
    /// ITU-R BT.709-6 item 1.2, of video: the inverse of the camera's curve.
    Bt709,
}

impl Curve {
    /// Light in 0 to 1 of a code in 0 to 1. *sRGB:* `v/12.92` up to 0.04045, `((v + 0.055)/1.055)^2.4` above.
    /// *BT.709:* `v/4.5` below 0.081, `((v + 0.099)/1.099)^(1/0.45)` above. A code that is no number, or is outside, is held at
    /// the nearer end.
    pub fn light(self, code: f64) -> f64 {
        let v = if code > 0.0 { code.min(1.0) } else { 0.0 };
        match self {
            Curve::Srgb if v <= 0.040_45 => v / 12.92,
            Curve::Srgb => libm::pow((v + 0.055) / 1.055, 2.4),
            Curve::Bt709 if v < 0.081 => v / 4.5,
            Curve::Bt709 => libm::pow((v + 0.099) / 1.099, 1.0 / 0.45),
        }
    }

    /// The code in 0 to 1 of a light in 0 to 1, the inverse of [`Curve::light`]; what is outside is held at the nearer end.
    pub fn code(self, light: f64) -> f64 {
        let y = if light > 0.0 { light.min(1.0) } else { 0.0 };
        match self {
            Curve::Srgb if y <= 0.003_130_8 => 12.92 * y,
            Curve::Srgb => 1.055 * libm::pow(y, 1.0 / 2.4) - 0.055,
            Curve::Bt709 if y < 0.018 => 4.5 * y,
            Curve::Bt709 => 1.099 * libm::pow(y, 0.45) - 0.099,
        }
    }

    /// Light of each of the 256 codes of full range.
    pub fn table(self) -> [f64; 256] {
        core::array::from_fn(|code| self.light(code as f64 / 255.0))
    }
}

/// Which red, green and blue a picture is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Primaries {
    /// sRGB and BT.709.
    Srgb,
    /// Display P3 (SMPTE EG 432-1 primaries, white D65).
    DisplayP3,
}

impl Primaries {
    /// Shares of red, green and blue in the luminance of white: the Y row of the matrix to CIE XYZ, from the primaries.
    pub const fn luminance_weights(self) -> [f64; 3] {
        match self {
            Primaries::Srgb => [0.2126, 0.7152, 0.0722],
            Primaries::DisplayP3 => [0.2290, 0.6917, 0.0793],
        }
    }
}

/// Tables from the three codes of a pixel to its luminance.
#[derive(Clone, Debug, PartialEq)]
pub struct Transfer {
    weighted: [[f64; 256]; 3],
    plain: [f64; 256],
}

impl Transfer {
    /// The tables of a curve and its primaries.
    pub fn new(curve: Curve, primaries: Primaries) -> Self {
        let plain = curve.table();
        let weighted = primaries.luminance_weights().map(|weight| plain.map(|light| weight * light));
        Self { weighted, plain }
    }

    /// Luminance `Σ w·light(code)` of a pixel; 1 is the whitest.
    pub fn luminance(&self, red: u8, green: u8, blue: u8) -> f64 {
        let [r, g, b] = &self.weighted;
        r[usize::from(red)] + g[usize::from(green)] + b[usize::from(blue)]
    }

    /// Luminance of a grey pixel.
    pub fn grey(&self, code: u8) -> f64 {
        self.plain[usize::from(code)]
    }

    /// Luminance of the metered tone, [`MID_TONE_CODE`].
    pub fn mid_tone(&self) -> f64 {
        self.grey(MID_TONE_CODE)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_codes_give_known_light() {
        let table = Curve::Srgb.table();
        assert!((table[118] - 0.1812).abs() < 5e-5, "{}", table[118]);
        assert!((table[22] - 0.008_02).abs() < 5e-6 && (table[50] - 0.0319).abs() < 5e-5);
        assert_eq!((table[0], table[255]), (0.0, 1.0));
        // Both pieces of each curve meet, and rise.
        for curve in [Curve::Srgb, Curve::Bt709] {
            assert!(curve.table().windows(2).all(|pair| pair[0] < pair[1]));
        }
        // BT.709: the camera makes 1.099·L^0.45 − 0.099 of light L, so code 0.5 is light 0.25959.
        assert!((Curve::Bt709.light(0.5) - 0.259_59).abs() < 1e-5);
        for (curve, code) in [Curve::Srgb, Curve::Bt709].into_iter().flat_map(|c| (0..=255).map(move |code| (c, code)))
        {
            let code = f64::from(code) / 255.0;
            assert!((curve.code(curve.light(code)) - code).abs() < 1e-6, "{curve:?} {code}");
        }
        assert_eq!((Curve::Srgb.light(f64::NAN), Curve::Srgb.light(-1.0), Curve::Bt709.light(7.0)), (0.0, 0.0, 1.0));
    }

    #[test]
    fn grey_is_grey_in_every_colour_space() {
        for primaries in [Primaries::Srgb, Primaries::DisplayP3] {
            let transfer = Transfer::new(Curve::Srgb, primaries);
            for code in [0, 7, 118, 255] {
                assert!((transfer.luminance(code, code, code) - transfer.grey(code)).abs() < 1e-12);
            }
        }
        let red = |primaries| Transfer::new(Curve::Srgb, primaries).luminance(255, 0, 0);
        assert!(red(Primaries::DisplayP3) > red(Primaries::Srgb));
    }
}
