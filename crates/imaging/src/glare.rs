//! Veiling glare: how much light a lens scatters into a black hole within a bright field.
//!
//! *Equations:* `V = light(hole)/light(field)` of one photo; with a second, longer one of R stops more `V = light(hole, long) /
//! light(field, normal) / 2^R`, where both codes are about the same, so that the phone's tone curve cancels; of the lens alone
//! `(V_with − V_without)/(1 − V_without)`. *Source:* the index of ISO 9358:1994, definition from secondary sources. *Valid* as a
//! comparison: the same lens before and after, or two of a kind; it says how much is scattered and never by what. Not here:
//! decoding, words about glass (`inspection`).

use crate::error::Error;
use crate::notice::Notice;
use crate::raster::{Layout, View};
use crate::transfer::{Curve, Transfer};

/// Radii about the hole's middle, as shares of its radius: the hole, its rim within, the field's ring.
const HOLE: f64 = 0.30;
const RIM: (f64, f64) = (0.55, 0.75);
const FIELD: (f64, f64) = (1.7, 2.3);
const SECTORS: usize = 8;
/// Codes and shares at which something is spoken of.
const FIELD_CLIPPED: (u8, f64) = (252, 0.005);
const FIELD_DARK: f64 = 140.0;
const HOLE_CRUSHED: (u8, f64) = (3, 0.20);
const LONG_CODES: (f64, f64) = (50.0, 235.0);
const UNEVEN: f64 = 0.08;
const STEEP: f64 = 1.1;
/// Smallest hole \[pixels\].
const SMALLEST: f64 = 8.0;
/// Exposure ratios that are taken \[stops\].
const RATIO: (f64, f64) = (0.5, 12.0);

/// One photo of the field with its hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// Mean light of the hole.
    pub hole: f64,
    /// Mean light of the field about it.
    pub field: f64,
    /// How far the field's eight sectors lie apart, as a share of their mean.
    pub field_spread: f64,
    /// Light near the hole's rim over that of its middle.
    pub slope: f64,
    /// Share of burnt-out pixels of the field.
    pub field_clipped: f64,
    /// Share of crushed pixels of the hole.
    pub hole_crushed: f64,
}

/// Measures a photo about a hole. **Errors** where the hole is smaller than 8 pixels or its field reaches beyond the picture.
pub fn sample(view: &View<'_>, transfer: &Transfer, centre: (f64, f64), radius: f64) -> Result<Sample, Error> {
    if !(SMALLEST..=1e5).contains(&radius) {
        return Err(Error::new(format!(
            "the hole must have a radius of {SMALLEST} pixels at least, and {radius} was given"
        )));
    }
    let (width, height) = (view.size().width(), view.size().height());
    let reach = FIELD.1 * radius;
    let fits = |at: f64, side: u32| at - reach >= -0.5 && at + reach <= f64::from(side) + 0.5;
    if !fits(centre.0, width) || !fits(centre.1, height) {
        return Err(Error::new(format!(
            "the field about the hole must lie within the picture, {reach} pixels each way, and the hole at {},{} is too near the \
             edge of {width} × {height} pixels",
            centre.0, centre.1
        )));
    }
    let (left, right) = span(centre.0, reach, width);
    let (top, bottom) = span(centre.1, reach, height);
    let (mut hole, mut rim, mut field) = (Sum::default(), Sum::default(), [Sum::default(); SECTORS]);
    let each = view.layout().bytes();
    for y in top..bottom {
        let row = view.row(y, left, right - left);
        for (x, pixel) in (left..right).zip(row.chunks_exact(each)) {
            let (dx, dy) = (f64::from(x) + 0.5 - centre.0, f64::from(y) + 0.5 - centre.1);
            let share = (dx * dx + dy * dy).sqrt() / radius;
            let sum = if share < HOLE {
                &mut hole
            } else if share > RIM.0 && share < RIM.1 {
                &mut rim
            } else if share > FIELD.0 && share < FIELD.1 {
                let turn = libm::atan2(dy, dx) / core::f64::consts::TAU + 0.5;
                &mut field[((turn * SECTORS as f64) as usize).min(SECTORS - 1)]
            } else {
                continue;
            };
            sum.take(pixel, view.layout(), transfer);
        }
    }
    let sectors = field.map(|sector| sector.mean());
    let mean = sectors.iter().sum::<f64>() / SECTORS as f64;
    let (least, most) = sectors.iter().fold((f64::INFINITY, 0.0_f64), |(l, m), s| (l.min(*s), m.max(*s)));
    let whole = field.iter().fold(Sum::default(), |whole, sector| whole.and(sector));
    let dark = hole.mean();
    if mean <= 0.0 {
        return Err(Error::new("the field about the hole must be bright, and it is black"));
    }
    Ok(Sample {
        hole: dark,
        field: mean,
        field_spread: (most - least) / mean,
        slope: rim.mean() / dark.max(1e-6),
        field_clipped: whole.clipped as f64 / whole.count.max(1) as f64,
        hole_crushed: hole.crushed as f64 / hole.count.max(1) as f64,
    })
}

fn span(middle: f64, reach: f64, side: u32) -> (u32, u32) {
    let (first, last) = ((middle - reach).floor().max(0.0), (middle + reach).ceil().min(f64::from(side)));
    (first as u32, (last as u32).max(first as u32))
}

#[derive(Clone, Copy, Default)]
struct Sum {
    light: f64,
    count: u64,
    clipped: u64,
    crushed: u64,
}

impl Sum {
    fn take(&mut self, pixel: &[u8], layout: Layout, transfer: &Transfer) {
        let (light, most) = match (layout, pixel) {
            (Layout::Grey, [grey]) => (transfer.grey(*grey), *grey),
            (_, [red, green, blue, ..]) => (transfer.luminance(*red, *green, *blue), *red.max(green).max(blue)),
            _ => return,
        };
        self.light += light;
        self.count += 1;
        self.clipped += u64::from(most >= FIELD_CLIPPED.0);
        self.crushed += u64::from(most <= HOLE_CRUSHED.0);
    }

    fn mean(&self) -> f64 {
        self.light / self.count.max(1) as f64
    }

    fn and(self, other: &Sum) -> Sum {
        Sum {
            light: self.light + other.light,
            count: self.count + other.count,
            clipped: self.clipped + other.clipped,
            crushed: self.crushed + other.crushed,
        }
    }
}

/// A normal photo, and a longer one with how much longer \[stops\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Field at mid-grey.
    pub normal: Sample,
    /// Hole at about that code, and the ratio of the exposures \[stops\].
    pub long: Option<(Sample, f64)>,
}

/// By which way the index was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// The tone curve cancels.
    TwoExposure,
    /// One photo, rough.
    Single,
}

impl Method {
    /// In a word, for programs.
    pub const fn key(self) -> &'static str {
        match self {
            Method::TwoExposure => "two-exposure",
            Method::Single => "single",
        }
    }
}

/// What the lens scatters.
#[derive(Clone, Debug, PartialEq)]
pub struct Glare {
    /// Veiling glare as a fraction of the field's light.
    pub index: f64,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// By which way.
    pub method: Method,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

/// Works out the glare of a lens, from photos with it and, if there are any, without it. **Errors** where the exposures do not
/// differ as they must, or nothing is left of the field.
pub fn glare(with_lens: &Pair, without_lens: Option<&Pair>) -> Result<Glare, Error> {
    let mut notices = Vec::new();
    let both_long = with_lens.long.is_some() && without_lens.is_none_or(|pair| pair.long.is_some());
    let method = if both_long { Method::TwoExposure } else { Method::Single };
    let with = index(with_lens, method, &mut notices)?;
    let without = without_lens.map(|pair| index(pair, method, &mut notices)).transpose()?;
    if without.is_some_and(|without| without >= 0.5) {
        return Err(Error::new("the hole must be darker than half the field without the lens, and it is not"));
    }
    let found = without.map_or(with, |without| (with - without) / (1.0 - without));
    if without.is_none() {
        notices.push(Notice::warning(
            "no_reference",
            "Without a pair of photos without the lens, what the phone and the box scatter is counted as the lens's own.",
        ));
    }
    if method == Method::Single {
        notices.push(Notice::warning(
            "rough",
            "One exposure gives a rough figure, within a factor of 1.5 or so. Add a photo that is 2 to 5 stops longer, with \
             everything else left as it is.",
        ));
    }
    if found < 0.0 {
        notices.push(Notice::warning(
            "less_than_nothing",
            "With the lens there is less stray light than without it, so the two set-ups differ. Take both again.",
        ));
    }
    Ok(Glare { index: found, standard_uncertainty: doubt(found, with, method, without.is_some()), method, notices })
}

/// Doubt of the index: a share of it and a floor. The floor is what taking the set-up apart and aiming anew is worth.
fn doubt(found: f64, with: f64, method: Method, reference: bool) -> f64 {
    let (share, floor) = match (method, reference) {
        (Method::TwoExposure, true) => (0.08, 0.0020),
        (Method::TwoExposure, false) => (0.08, 0.0080),
        (Method::Single, true) => (0.35, 0.0060),
        (Method::Single, false) => (0.45, 0.0100),
    };
    let scaled = share * found.abs().max(if reference { 0.3 * with } else { with });
    (scaled * scaled + floor * floor).sqrt()
}

fn index(pair: &Pair, method: Method, notices: &mut Vec<Notice>) -> Result<f64, Error> {
    let mut say = |notice: Notice| {
        if !notices.iter().any(|other| other.code == notice.code) {
            notices.push(notice);
        }
    };
    let code = |light: f64| 255.0 * Curve::Srgb.code(light);
    if pair.normal.field_clipped > FIELD_CLIPPED.1 {
        say(Notice::warning(
            "field_clipped",
            "The field is burnt out in the normal photo. Lower the exposure until it is mid-grey, and take it again.",
        ));
    }
    if pair.normal.field_spread > UNEVEN {
        say(Notice::warning(
            "field_uneven",
            "The field is not evenly lit about the hole. Light it from both sides, or move the lamp away.",
        ));
    }
    let long = pair.long.filter(|_| method == Method::TwoExposure);
    let Some((long, ratio)) = long else {
        if code(pair.normal.field) < FIELD_DARK {
            say(Notice::warning(
                "field_too_dark",
                "The field is too dark for a single photo. Raise the exposure until it is light grey, and not white.",
            ));
        }
        if pair.normal.hole_crushed > HOLE_CRUSHED.1 {
            say(Notice::warning(
                "hole_crushed",
                "The hole has come out black without detail, so its light cannot be told. Take a longer photo as well.",
            ));
        }
        return Ok(pair.normal.hole / pair.normal.field);
    };
    if !(RATIO.0..=RATIO.1).contains(&ratio) {
        return Err(Error::new(format!(
            "the long photo must be exposed {} to {} stops more than the normal one, and {ratio} was given",
            RATIO.0, RATIO.1
        )));
    }
    if code(long.hole) < LONG_CODES.0 {
        say(Notice::warning(
            "long_exposure_too_short",
            "In the long photo the hole is still too dark. Expose it longer, until it is mid-grey.",
        ));
    }
    if code(long.hole) > LONG_CODES.1 {
        say(Notice::warning(
            "long_exposure_too_long",
            "In the long photo the hole is nearly white. Expose it less, until it is mid-grey.",
        ));
    }
    if long.slope > STEEP {
        say(Notice::remark(
            "narrow_scatter",
            "The hole is brighter towards its rim: light is scattered at narrow angles too, and the true figure is higher.",
        ));
    }
    Ok(long.hole / pair.normal.field * libm::exp2(-ratio))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::Size;
    use crate::transfer::Primaries;

    /// A grey field with a darker disc.
    fn photo(field: u8, hole: u8) -> Result<Sample, Error> {
        let size = Size::new(200, 200).expect("a size");
        let bytes: Vec<u8> = (0..200 * 200)
            .map(|at| {
                let (x, y) = (f64::from(at % 200) - 99.5, f64::from(at / 200) - 99.5);
                if x * x + y * y < 40.0 * 40.0 { hole } else { field }
            })
            .collect();
        let transfer = Transfer::new(Curve::Srgb, Primaries::Srgb);
        sample(&View::new(size, Layout::Grey, &bytes).expect("a view"), &transfer, (100.0, 100.0), 40.0)
    }

    fn light(code: u8) -> f64 {
        Curve::Srgb.light(f64::from(code) / 255.0)
    }

    #[test]
    fn one_photo_gives_the_ratio_of_light() {
        let found = glare(&Pair { normal: photo(255, 22).expect("a photo"), long: None }, None).expect("glare");
        assert!((found.index - 0.008_023_2).abs() < 1e-5, "{}", found.index);
        assert_eq!(found.method, Method::Single);
        let codes: Vec<_> = found.notices.iter().map(|notice| notice.code).collect();
        assert_eq!(codes, ["field_clipped", "no_reference", "rough"]);
    }

    #[test]
    fn equal_codes_cancel_the_tone_curve() {
        let pair = |ratio| Pair {
            normal: photo(140, 12).expect("a photo"),
            long: Some((photo(250, 140).expect("a photo"), ratio)),
        };
        let found = glare(&pair(5.0), Some(&pair(6.0))).expect("glare");
        let (with, without) = (1.0 / 32.0, 1.0 / 64.0);
        assert!((found.index - (with - without) / (1.0 - without)).abs() < 1e-12);
        assert!(found.notices.is_empty() && found.method == Method::TwoExposure);
        // Without a long photo of the reference both are taken as single ones, and the same photo twice leaves nothing.
        let rough = glare(&pair(5.0), Some(&Pair { long: None, ..pair(5.0) })).expect("glare");
        assert_eq!((rough.method, rough.index), (Method::Single, 0.0));
        assert!(glare(&pair(0.1), None).is_err() && glare(&pair(f64::NAN), None).is_err());
    }

    #[test]
    fn the_field_is_taken_about_the_hole() {
        let found = photo(140, 12).expect("a photo");
        assert!((found.field - light(140)).abs() < 1e-12 && (found.hole - light(12)).abs() < 1e-12);
        assert!(found.field_spread < 1e-9 && (found.slope - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_hole_at_the_edge_or_too_small_is_refused() {
        let bytes = [100; 100 * 100];
        let view = View::new(Size::new(100, 100).expect("a size"), Layout::Grey, &bytes).expect("a view");
        let transfer = Transfer::new(Curve::Srgb, Primaries::Srgb);
        for (centre, radius) in
            [((50.0, 50.0), 30.0), ((10.0, 50.0), 10.0), ((50.0, 50.0), 3.0), ((f64::NAN, 50.0), 10.0)]
        {
            assert!(sample(&view, &transfer, centre, radius).is_err(), "{centre:?} {radius}");
        }
    }
}
