//! `lampblack dose`: how long a loaded camera may lie before a leak shows on the film, and the other way round.
//!
//! Not here: the equations (`photometry`), the sentences (`record`).

use lexopt::{Arg, Parser};
use record::page::Dose;
use record::shell::json_of;

use crate::{Answer, table, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut illuminance, mut speed, mut doubt, mut minutes) = (None, None, None, None);
    let (mut found_in, mut as_json) = (String::new(), false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("illuminance-lux") => illuminance = Some(usage::number(call, "--illuminance-lux")?),
            Arg::Long("speed") | Arg::Short('s') => speed = Some(usage::text(call)?),
            Arg::Long("doubt") => doubt = Some(usage::number(call, "--doubt")?),
            Arg::Long("minutes") => minutes = Some(usage::number(call, "--minutes")?),
            Arg::Long("found-in") => found_in = usage::text(call)?,
            Arg::Long("json") => as_json = true,
            other => return Err(other.unexpected().into()),
        }
    }
    let illuminance = usage::needed(illuminance, "the illuminance on the film (--illuminance-lux 0.000001)")?;
    let speed = usage::needed(speed, "the film speed (--speed 400)")?;
    let time_s = minutes.map(|minutes| 60.0 * minutes);
    let dose = record::dose_by_numbers(illuminance, &speed, doubt, &found_in, time_s)?;
    if as_json { Ok(json_of(&dose)) } else { Ok(said(&dose)) }
}

fn said(dose: &Dose) -> String {
    let mut facts = vec![
        ("shows after", dose.time_words.clone()),
        ("doubt", dose.doubt_words.clone()),
        ("fog begins at", format!("{:.3e} lx s", dose.fog_exposure_lx_s)),
    ];
    if let Some(after) = &dose.after {
        facts.push(("dose", format!("{:.3e} lx s", after.dose_lx_s)));
        facts.push(("asked for", after.sentence.clone()));
        facts.push(("shows from", format!("{:.3e} lx on the film in that time", after.fogging_lux)));
    }
    let mut text = table::facts(&facts);
    let lights: Vec<String> = dose
        .lights
        .iter()
        .map(|light| {
            format!("{}: keep below {}; it shows after about {}", light.words, light.low_words, light.time_words)
        })
        .collect();
    text.push_str(&table::list("The same leak", lights.iter().map(String::as_str)));
    text.push_str(&table::list("To mind", dose.notices.iter().map(String::as_str)));
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(call: &[&str]) -> Answer {
        run(&mut Parser::from_iter(std::iter::once("lampblack").chain(call.iter().copied())))
    }

    #[test]
    fn people_get_a_table_and_programs_units_in_the_names() {
        let call = ["--illuminance-lux", "1e-6", "--speed", "400", "--minutes", "30", "--found-in", "home"];
        let text = answer(&call).expect("an answer");
        assert!(text.contains("33 min") && text.contains("in the sun"), "{text}");
        let json = answer(&[&call[..], &["--json"]].concat()).expect("an answer");
        assert!(json.contains("\"time_s\"") && json.contains("\"dose_lx_s\""), "{json}");
    }

    #[test]
    fn what_cannot_be_is_refused() {
        for call in [&["--speed", "400"][..], &["--illuminance-lux", "0", "--speed", "400"]] {
            assert!(answer(call).is_err());
        }
    }
}
