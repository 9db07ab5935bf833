//! The constants of the exposure equations, with their ranges and where they come from.
//!
//! ISO 2720:1974 was not read itself; its figures are taken from secondary pages (Wikipedia, Light meter). Not here: the
//! equations ([`crate::exposure`]).

/// A constant of the exposure equations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Constant {
    /// Letter.
    pub symbol: &'static str,
    /// What it belongs to.
    pub words: &'static str,
    /// Unit.
    pub unit: &'static str,
    /// Value in use here.
    pub value: f64,
    /// Least and greatest value that the standard permits.
    pub permitted: (f64, f64),
    /// Why this value.
    pub reason: &'static str,
    /// Source.
    pub source: &'static str,
}

/// Reflected-light constant K in use here \[cd·s/(m²·ISO)\].
pub const K_DEFAULT: f64 = 12.5;
/// Incident-light constant C in use here \[lx·s·ISO\].
pub const C_DEFAULT: f64 = 250.0;
/// Lens factor q of the film-plane exposure, `π/4·0.9·0.98·cos⁴10°` rounded (ISO 12232:2006, read in a secondary source).
pub const Q_DEFAULT: f64 = 0.65;
/// One foot-lambert \[cd/m²\], `1/π cd/ft²`; the unit of older tables of luminance.
pub const FOOT_LAMBERT: f64 = core::f64::consts::FRAC_1_PI / (0.3048 * 0.3048);

/// The constants in use.
pub const CONSTANTS: [Constant; 3] = [
    Constant {
        symbol: "K",
        words: "reflected light, luminance to exposure",
        unit: "cd·s/(m²·ISO)",
        value: K_DEFAULT,
        permitted: (10.6, 13.4),
        reason: "the value most makers calibrate to; 14, which others use, lies outside the range and 0.16 stop away",
        source: "ISO 2720:1974",
    },
    Constant {
        symbol: "C",
        words: "incident light on a flat receptor, illuminance to exposure",
        unit: "lx·s·ISO",
        value: C_DEFAULT,
        permitted: (240.0, 400.0),
        reason: "the usual value for a flat receptor, as a lux meter has",
        source: "ISO 2720:1974",
    },
    Constant {
        symbol: "C, dome",
        words: "incident light on a hemispherical receptor",
        unit: "lx·s·ISO",
        value: 340.0,
        permitted: (320.0, 540.0),
        reason: "the usual value for a dome, 0.44 stop from a flat receptor's; not used for a lux reading",
        source: "ISO 2720:1974",
    },
];

impl Constant {
    /// Whether a value lies in the permitted range.
    pub fn permits(&self, value: f64) -> bool {
        value >= self.permitted.0 && value <= self.permitted.1
    }

    /// `K = 12.5 cd·s/(m²·ISO), permitted 10.6 to 13.4 (ISO 2720:1974): the value …`
    pub fn sentence(&self) -> String {
        format!(
            "{} = {} {}, for {}; permitted {} to {} ({}). Why: {}.",
            self.symbol,
            self.value,
            self.unit,
            self.words,
            self.permitted.0,
            self.permitted.1,
            self.source,
            self.reason
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_in_use_is_permitted_and_fourteen_is_not() {
        for constant in &CONSTANTS {
            assert!(constant.permits(constant.value), "{}", constant.symbol);
        }
        assert!(!CONSTANTS[0].permits(14.0));
    }
}
