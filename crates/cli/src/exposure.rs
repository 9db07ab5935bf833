//! `lampblack exposure`: what light an f-number, a time and a film speed suit.
//!
//! Not here: the equations and the marks' exact values (`photometry`).

use lexopt::{Arg, Parser};
use photometry::{
    C_DEFAULT, CONSTANTS, ExposureTime, FNumber, FNumberMark, FilmSpeed, FilmSpeedMark, K_DEFAULT, TimeMark,
    exposure_value, exposure_value_at_speed, illuminance, incident_to_card_difference, luminance,
};
use record::shell::{Exposure, json};

use crate::error::{Failure, one_line};
use crate::{Answer, table, usage};

/// Reflectance of the usual grey card.
const CARD: f64 = inspection::reference::CARD_REFLECTANCE;

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut f, mut time, mut speed) = (None, None, None);
    let (mut k, mut c) = (K_DEFAULT, C_DEFAULT);
    let (mut as_given, mut as_json) = (false, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("f") | Arg::Short('f') => f = Some(usage::text(call)?),
            Arg::Long("time") | Arg::Short('t') => time = Some(usage::text(call)?),
            Arg::Long("speed") | Arg::Short('s') => speed = Some(usage::text(call)?),
            Arg::Long("k") => k = usage::number(call, "--k")?,
            Arg::Long("c") => c = usage::number(call, "--c")?,
            Arg::Long("as-given") => as_given = true,
            Arg::Long("json") => as_json = true,
            other => return Err(other.unexpected().into()),
        }
    }
    let f = usage::needed(f, "the f-number (--f 16)")?;
    let time = usage::needed(time, "the time (--time 1/125)")?;
    let speed = usage::needed(speed, "the film speed (--speed 100)")?;
    let (n, t, s) = if as_given { given(&f, &time, &speed)? } else { marked(&f, &time, &speed)? };
    let ev100 = exposure_value(n, t, s);
    let exposure = Exposure {
        ev: exposure_value_at_speed(n, t),
        ev100: ev100.value(),
        luminance_cd_m2: luminance(ev100, k)?.value(),
        illuminance_lux: illuminance(ev100, c)?.value(),
        f_number: n.value(),
        time_s: t.value(),
        film_speed: s.value(),
        reflected_constant: k,
        incident_constant: c,
        incident_above_card_stops: incident_to_card_difference(k, c, CARD)?.value(),
        notices: notices(k, c),
    };
    if as_json { Ok(json(&exposure)?) } else { Ok(said(&exposure)) }
}

fn marked(f: &str, time: &str, speed: &str) -> Result<(FNumber, ExposureTime, FilmSpeed), Failure> {
    Ok((
        FNumberMark::parse(f, &[])?.exact(),
        TimeMark::parse(time, &[])?.exact(),
        FilmSpeedMark::parse(speed, &[])?.exact(),
    ))
}

/// The numbers as they stand: 1/125 is a hundred-and-twenty-fifth.
fn given(f: &str, time: &str, speed: &str) -> Result<(FNumber, ExposureTime, FilmSpeed), Failure> {
    Ok((
        FNumber::new(plain(f.trim().trim_start_matches("f/"), "f-number")?)?,
        ExposureTime::new(plain(time.trim().trim_end_matches('s'), "time")?)?,
        FilmSpeed::new(plain(speed, "film speed")?)?,
    ))
}

fn plain(text: &str, what: &str) -> Result<f64, Failure> {
    let number = |part: &str| part.trim().replace(',', ".").parse::<f64>().ok();
    let value = match text.split_once('/') {
        None => number(text),
        Some((over, under)) => number(over).zip(number(under)).map(|(over, under)| over / under),
    };
    value.filter(|value| value.is_finite()).ok_or_else(|| {
        Failure::None(format!("the {what} must be a number or a fraction, and \"{}\" was given", one_line(text)))
    })
}

/// A constant beyond what the standard permits is used and spoken of.
fn notices(k: f64, c: f64) -> Vec<String> {
    [(k, &CONSTANTS[0]), (c, &CONSTANTS[1])]
        .into_iter()
        .filter(|(value, constant)| !constant.permits(*value))
        .map(|(value, constant)| {
            format!(
                "{} = {value} lies outside the {} to {} that {} permits.",
                constant.symbol, constant.permitted.0, constant.permitted.1, constant.source
            )
        })
        .collect()
}

/// A number to five figures or so.
fn figures(value: f64) -> String {
    let whole = (1..6).take_while(|&n| value.abs() >= [10.0, 100.0, 1e3, 1e4, 1e5][n - 1]).count();
    let small = if value != 0.0 && value.abs() < 0.1 { 4 } else { 0 };
    let text = metrology::to_decimals(value, 4_usize.saturating_sub(whole) + small);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

fn said(exposure: &Exposure) -> String {
    let difference = exposure.incident_above_card_stops;
    let mut text = table::facts(&[
        (
            "taken as",
            format!(
                "f/{}, {} s, ISO {}",
                figures(exposure.f_number),
                figures(exposure.time_s),
                figures(exposure.film_speed)
            ),
        ),
        ("EV", metrology::to_decimals(exposure.ev, 2)),
        ("EV at ISO 100", metrology::to_decimals(exposure.ev100, 2)),
        ("luminance", format!("{} cd/m² (K = {})", figures(exposure.luminance_cd_m2), exposure.reflected_constant)),
        ("illuminance", format!("{} lx (C = {})", figures(exposure.illuminance_lux), exposure.incident_constant)),
        (
            "grey card",
            format!(
                "in one light an incident reading lies {} stop {} the reflected reading of an 18 % card",
                metrology::to_decimals(difference.abs(), 2),
                if difference < 0.0 { "below" } else { "above" }
            ),
        ),
    ]);
    text.push_str(&table::list("To mind", exposure.notices.iter().map(String::as_str)));
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_counts_as_exact_unless_told_otherwise() {
        let exact = marked("16", "1/125", "100").expect("marks");
        assert_eq!((exact.0.value(), exact.1.value()), (16.0, 1.0 / 128.0));
        assert_eq!(given("f/16", "1/125", "100").expect("numbers").1.value(), 1.0 / 125.0);
        for bad in ["1/0", "NaN", "", "1/2/3", "-1", "0"] {
            assert!(given("16", bad, "100").is_err(), "{bad}");
        }
    }

    #[test]
    fn a_constant_out_of_its_range_is_spoken_of() {
        assert!(notices(12.5, 250.0).is_empty());
        assert!(notices(14.0, 250.0)[0].starts_with("K = 14"));
    }

    #[test]
    fn figures_say_enough_and_no_more() {
        assert_eq!(figures(1.0 / 128.0), "0.0078125");
        assert_eq!((figures(81_920.0).as_str(), figures(100.0).as_str()), ("81920", "100"));
        assert_eq!(figures(5.656_854), "5.6569");
    }
}
