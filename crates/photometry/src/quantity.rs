//! The quantities of exposure as types, so that none is taken for another; each knows its unit and its range.
//!
//! Not here: marks on dials ([`crate::scale`]), equations between quantities ([`crate::exposure`]).

use crate::error::Error;

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $words:literal, $unit:literal, $range:expr, $limits:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            #[doc = concat!("From a number in ", $unit, ". **Errors** outside ", $limits, ".")]
            pub fn new(value: f64) -> Result<Self, Error> {
                let inside: fn(f64) -> bool = $range;
                if inside(value) {
                    Ok(Self(value))
                } else {
                    Err(Error::new(format!(
                        concat!("the ", $words, " must be ", $limits, ", and {} was given"),
                        value
                    )))
                }
            }

            #[doc = concat!("The number in ", $unit, ".")]
            pub const fn value(self) -> f64 {
                self.0
            }
        }
    };
}

quantity!(
    /// A difference of exposure: a factor of two is one stop. The unit of every error.
    Stops, "difference", "stops", |x| (-100.0..=100.0).contains(&x), "within 100 stops"
);
quantity!(
    /// Exposure value, at ISO 100 unless said otherwise.
    Ev, "exposure value", "EV", |x| (-30.0..=40.0).contains(&x), "between EV -30 and EV 40"
);
quantity!(
    /// F-number, exact.
    FNumber, "f-number", "1", |x| x > 0.0 && x <= 1024.0, "above 0 and at most 1024"
);
quantity!(
    /// Exposure time, exact.
    ExposureTime, "exposure time", "seconds", |x| x > 0.0 && x <= 1e7, "above 0 s and at most 10 000 000 s"
);
quantity!(
    /// Film speed, ISO arithmetic, exact.
    FilmSpeed, "film speed", "ISO arithmetic", |x| x > 0.0 && x <= 1e7, "above 0 and at most 10 000 000"
);
quantity!(
    /// Illuminance.
    Illuminance, "illuminance", "lux", |x| x > 0.0 && x <= 1e8, "above 0 lx and at most 100 000 000 lx"
);
quantity!(
    /// Luminance.
    Luminance, "luminance", "cd/m²", |x| x > 0.0 && x <= 1e9, "above 0 cd/m² and at most 1 000 000 000 cd/m²"
);

quantity!(
    /// Height of the sun above the horizon.
    Elevation, "elevation", "degrees", |x| (-90.0..=90.0).contains(&x), "between -90 and 90 degrees"
);

impl Elevation {
    /// The height in degrees.
    pub const fn degrees(self) -> f64 {
        self.0
    }

    pub(crate) const fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

impl Ev {
    /// A number of EV from quantities already checked, held at the ends of the range.
    pub(crate) fn held(value: f64) -> Self {
        Self(value.clamp(-30.0, 40.0))
    }

    /// How far this value lies above another, in stops.
    pub fn above(self, other: Ev) -> Stops {
        // Both lie within 70 EV of one another, which is within the range of a difference.
        Stops(self.0 - other.0)
    }

    /// The value so many stops higher. **Errors** where that leaves the range.
    pub fn plus(self, stops: Stops) -> Result<Ev, Error> {
        Ev::new(self.0 + stops.0)
    }
}

impl core::ops::Sub for Ev {
    type Output = Stops;

    fn sub(self, other: Ev) -> Stops {
        self.above(other)
    }
}

impl Stops {
    /// No difference.
    pub const ZERO: Stops = Stops(0.0);

    /// So many halvings of the light; more than the range holds count as its end.
    pub(crate) fn whole(halvings: u32) -> Stops {
        Stops(f64::from(halvings.min(100)))
    }

    /// Both together. **Errors** where that leaves the range.
    pub fn plus(self, other: Stops) -> Result<Stops, Error> {
        Stops::new(self.0 + other.0)
    }
}

impl core::ops::Neg for Stops {
    type Output = Stops;

    fn neg(self) -> Stops {
        // The range is the same on both sides.
        Stops(-self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_is_no_quantity_is_refused_with_its_name_and_limit() {
        assert_eq!(
            FNumber::new(-2.0).expect_err("refused").to_string(),
            "the f-number must be above 0 and at most 1024, and -2 was given"
        );
        assert!(Ev::new(400.0).expect_err("refused").to_string().contains("400"));
        assert!(FilmSpeed::new(0.0).is_err() && ExposureTime::new(f64::INFINITY).is_err());
        for bad in [f64::NAN, f64::NEG_INFINITY] {
            assert!(Stops::new(bad).is_err() && Luminance::new(bad).is_err() && Illuminance::new(bad).is_err());
        }
    }

    proptest! {
        #[test]
        fn stops_lead_from_one_value_to_the_other_and_back(a in -30.0..40.0_f64, b in -30.0..40.0_f64) {
            let (a, b) = (Ev::new(a).unwrap(), Ev::new(b).unwrap());
            let between = a - b;
            prop_assert!((between.plus(-between).unwrap().value()).abs() < 1e-12);
            if let Ok(back) = b.plus(between) {
                prop_assert!((back.value() - a.value()).abs() < 1e-12);
            }
        }

        #[test]
        fn no_number_makes_a_panic_or_a_quantity_beyond_its_range(x in prop::num::f64::ANY) {
            prop_assert!(Ev::new(x).is_ok() == (-30.0..=40.0).contains(&x));
            prop_assert!(Stops::new(x).is_ok() == (-100.0..=100.0).contains(&x));
            for made in [
                FNumber::new(x).map(FNumber::value), ExposureTime::new(x).map(ExposureTime::value),
                FilmSpeed::new(x).map(FilmSpeed::value), Illuminance::new(x).map(Illuminance::value),
                Luminance::new(x).map(Luminance::value),
            ].into_iter().flatten() {
                prop_assert!(made > 0.0 && made <= 1e9);
            }
        }
    }
}
