//! The dose of a leak as page and shell ask for it: how long a loaded camera may lie in which light.
//!
//! Not here: the equations and their sources (`photometry`).

use photometry::{
    ExposureTime, FilmSpeedMark, Illuminance, LEAK_DOUBT_STOPS, Lasting, SURROUNDING_DOUBT_STOPS, SURROUNDINGS,
    Surrounding, dose as dose_of, dose_above_fog, fog_exposure, fogging_illuminance, lasting, leak_in,
};

use crate::convert::decimal;
use crate::error::Error;
use crate::page::{Choice, Dose, DoseAfter, DoseAsked, DoseInLight};

/// A time to two figures in the unit that suits it.
fn spoken(seconds: f64) -> String {
    const UNITS: [(f64, &str); 5] =
        [(86_400.0 * 365.25, "years"), (86_400.0, "days"), (3600.0, "h"), (60.0, "min"), (1.0, "s")];
    let (size, unit) = UNITS.into_iter().find(|(size, _)| seconds >= 1.5 * size).unwrap_or((1.0, "s"));
    let value = seconds / size;
    if value > 1000.0 {
        return format!("more than 1000 {unit}");
    }
    let text = if value < 0.01 {
        return "less than 0.01 s".to_owned();
    } else if value >= 10.0 {
        metrology::to_decimals(value, 0)
    } else {
        metrology::to_decimals(value, if value < 1.0 { 2 } else { 1 })
    };
    format!("{text} {unit}")
}

/// The lights in which a leak can have been found.
pub(crate) fn lights() -> Vec<Choice> {
    SURROUNDINGS
        .iter()
        .map(|light| Choice {
            key: light.key.to_owned(),
            words: light.words.to_owned(),
            help: light.illuminance().map_or_else(|_| String::new(), |lux| format!("about {:.0} lx", lux.value())),
        })
        .collect()
}

fn in_light(
    light: &Surrounding,
    on_film: Illuminance,
    then: Illuminance,
    speed: photometry::FilmSpeed,
    doubt: f64,
) -> Result<DoseInLight, Error> {
    let outside = light.illuminance()?;
    let here = leak_in(on_film, then, outside)?;
    let lasts = lasting(here, speed, doubt)?;
    Ok(DoseInLight {
        key: light.key.to_owned(),
        words: light.words.to_owned(),
        outside_lux: outside.value(),
        on_film_lux: here.value(),
        time_s: lasts.time,
        time_low_s: lasts.low,
        time_high_s: lasts.high,
        time_words: spoken(lasts.time),
        low_words: spoken(lasts.low),
    })
}

fn after(
    on_film: Illuminance,
    speed: photometry::FilmSpeed,
    time: ExposureTime,
    lasts: &Lasting,
) -> Result<DoseAfter, Error> {
    let dose_lx_s = dose_of(on_film, time);
    let above = dose_above_fog(dose_lx_s, speed)?.value();
    let stops = metrology::to_decimals(above.abs(), 1);
    let verdict = if time.value() <= lasts.low {
        "does not show"
    } else if time.value() >= lasts.high {
        "shows"
    } else {
        "may show"
    };
    Ok(DoseAfter {
        time_s: time.value(),
        dose_lx_s,
        above_fog_stops: above,
        fogging_lux: fogging_illuminance(time, speed)?.value(),
        sentence: format!(
            "After {} the fog {verdict}: the dose lies {stops} stop {} where it begins to show.",
            spoken(time.value()),
            if above < 0.0 { "below" } else { "above" }
        ),
    })
}

/// How long film may lie in a leak's light before fog shows, and what a stated time comes to.
///
/// **Errors** with a sentence where a number is none or out of its range.
pub fn dose(asked: &DoseAsked) -> Result<Dose, Error> {
    let plain = |text: &str, what: &str| match text.trim() {
        "" => Ok(None),
        text => decimal(text, what).map(Some),
    };
    let illuminance = decimal(&asked.illuminance, "illuminance on the film in lux")?;
    let minutes = plain(&asked.minutes, "time in minutes")?;
    let doubt = plain(&asked.doubt, "doubt of the illuminance in stops")?;
    dose_by_numbers(illuminance, &asked.film_speed, doubt, &asked.found_in, minutes.map(|minutes| 60.0 * minutes))
}

/// The same from numbers: illuminance \[lx\], doubt \[stops\], time \[s\].
pub fn dose_by_numbers(
    illuminance_lux: f64,
    film_speed: &str,
    doubt_stops: Option<f64>,
    found_in: &str,
    time_s: Option<f64>,
) -> Result<Dose, Error> {
    let on_film = Illuminance::new(illuminance_lux)?;
    let speed = FilmSpeedMark::parse(film_speed, &[])?.exact();
    let doubt = doubt_stops.unwrap_or(LEAK_DOUBT_STOPS);
    let lasts = lasting(on_film, speed, doubt)?;
    let mut notices = vec![
        "Fog begins to show at the speed point of ISO 6, density 0.10 above base and fog; on a print somewhat later."
            .to_owned(),
        "Film forgets part of very weak light, so long times are on the safe side.".to_owned(),
    ];
    if doubt_stops.is_none() {
        notices.push(
            "The leak's light is taken to be known to ±2 stops (95 %): enter a doubt where you know better.".to_owned(),
        );
    }
    let lights = match found_in {
        "" => Vec::new(),
        key => {
            let then = Surrounding::from_key(key).ok_or_else(|| {
                let keys: Vec<&str> = SURROUNDINGS.iter().map(|light| light.key).collect();
                let shown: String = key.chars().take(40).collect();
                Error::new(format!("the light must be one of {}, and \"{shown}\" was given", keys.join(", ")))
            })?;
            let outside = then.illuminance()?;
            // What a table says of a light is doubtful twice: where it was found and where it lies.
            SURROUNDINGS
                .iter()
                .map(|light| {
                    let tables = if light == then { 0.0 } else { SURROUNDING_DOUBT_STOPS * SURROUNDING_DOUBT_STOPS };
                    let u = (doubt * doubt + 2.0 * tables).sqrt();
                    in_light(light, on_film, outside, speed, u)
                })
                .collect::<Result<_, _>>()?
        }
    };
    let after = match time_s {
        None => None,
        Some(seconds) => Some(after(on_film, speed, ExposureTime::new(seconds)?, &lasts)?),
    };
    Ok(Dose {
        fog_exposure_lx_s: fog_exposure(speed),
        illuminance_lux: on_film.value(),
        standard_uncertainty_stops: doubt,
        film_speed: speed.value(),
        time_s: lasts.time,
        time_low_s: lasts.low,
        time_high_s: lasts.high,
        time_words: spoken(lasts.time),
        doubt_words: format!(
            "below {} it does not show, above {} it does (95 %)",
            spoken(lasts.low),
            spoken(lasts.high)
        ),
        lights,
        after,
        notices,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_an_hour_at_a_millionth_lux_just_misses() {
        let asked = DoseAsked {
            illuminance: "0,000001".to_owned(),
            film_speed: "400".to_owned(),
            found_in: "home".to_owned(),
            minutes: "30".to_owned(),
            ..DoseAsked::default()
        };
        let said = dose(&asked).expect("a dose");
        assert_eq!(said.time_words, "33 min");
        let after = said.after.expect("a time was asked for");
        assert!((after.above_fog_stops + 0.152).abs() < 1e-3 && after.sentence.contains("may show"));
        let sun = said.lights.iter().find(|light| light.key == "sun").expect("the sun");
        assert!((said.time_s / sun.time_s - 512.0).abs() < 1e-6);
        assert!(sun.time_s / sun.time_low_s > said.time_s / said.time_low_s);
        for bad in ["", "0", "-1", "NaN"] {
            assert!(dose(&DoseAsked { illuminance: bad.to_owned(), ..asked.clone() }).is_err(), "{bad}");
        }
        assert!(dose(&DoseAsked { found_in: "moon".to_owned(), ..asked }).is_err());
    }

    #[test]
    fn times_are_said_in_the_unit_that_suits_them() {
        for (seconds, said) in
            [(0.001, "less than 0.01 s"), (40.0, "40 s"), (100.0, "1.7 min"), (1e12, "more than 1000 years")]
        {
            assert_eq!(spoken(seconds), said);
        }
    }
}
