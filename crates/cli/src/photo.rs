//! `lampblack photo`: the light of a patch of a photo.
//!
//! Not here: decoding ([`crate::picture`]), what the pixels and the exposure come to (`imaging`).

use std::path::PathBuf;

use imaging::exif::Metadata;
use imaging::luminance::{Calibration, Decision, Photo, Pixels, Setup, assess};
use imaging::raster::{Region, Size, Tally};
use imaging::transfer::{Curve, Transfer};
use lexopt::{Arg, Parser};
use metrology::Estimate;
use record::shell::json;
use record::shell::photo::PhotoRead;

use crate::error::{Failure, one_line};
use crate::picture::{self, Refused};
use crate::{Answer, file, table, usage};

/// The middle of the picture, a quarter of it each way.
const MIDDLE: Wanted = Wanted::Shares([0.375, 0.375, 0.25, 0.25]);

/// Which patch.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Wanted {
    Pixels([u32; 4]),
    Shares([f64; 4]),
}

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut wanted, mut setup) = (None::<PathBuf>, None, Setup::default());
    let mut as_json = false;
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("patch") => one_patch(&mut wanted, Wanted::Pixels(whole(&usage::text(call)?)?))?,
            Arg::Long("patch-fraction") => {
                let text = usage::text(call)?;
                let shares = numbers(&text, 4, 4)
                    .and_then(|numbers| <[f64; 4]>::try_from(numbers).ok())
                    .ok_or_else(|| not_understood("--patch-fraction", "X,Y,W,H, each 0 to 1", &text))?;
                one_patch(&mut wanted, Wanted::Shares(shares))?;
            }
            Arg::Long("calibration") => setup.calibration = Some(calibration(&usage::text(call)?)?),
            Arg::Long("k") => setup.reflected_constant = usage::number(call, "--k")?,
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the photo (FILE.jpg)")?;
    let place = file::name(&path);
    let bytes = picture::read(&path)?;
    let metadata = Metadata::read(&bytes);
    let (pixels, patch) =
        measured(&bytes, &metadata, wanted.unwrap_or(MIDDLE)).map_err(|failure| failure.at(&place))?;
    let photo = assess(&metadata, &pixels, &setup)?;
    let read = PhotoRead::of(&metadata, &photo, patch);
    let answer = if as_json { json(&read)? } else { said(&read, &photo, &setup) };
    if photo.decision != Decision::Refuse {
        return Ok(answer);
    }
    let why: Vec<&str> = photo.reasons.iter().map(|reason| reason.text.as_str()).collect();
    let answer = if as_json { answer } else { String::new() };
    Err(Failure::Refused { answer, why: why.join(" ") }.at(&place))
}

fn one_patch(slot: &mut Option<Wanted>, wanted: Wanted) -> Result<(), Failure> {
    match slot.replace(wanted) {
        None => Ok(()),
        Some(_) => Err(Failure::Usage("one patch at a time, and two were given".to_owned())),
    }
}

fn not_understood(option: &str, wanted: &str, given: &str) -> Failure {
    Failure::Usage(format!("the value of {option} must be {wanted}, and \"{}\" was given", one_line(given)))
}

/// Finite numbers with commas between them.
fn numbers(text: &str, least: usize, most: usize) -> Option<Vec<f64>> {
    let numbers: Option<Vec<f64>> =
        text.split(',').map(|part| part.trim().parse::<f64>().ok().filter(|number| number.is_finite())).collect();
    numbers.filter(|numbers| (least..=most).contains(&numbers.len()))
}

fn whole(text: &str) -> Result<[u32; 4], Failure> {
    let parts: Option<Vec<u32>> = text.split(',').map(|part| part.trim().parse().ok()).collect();
    parts
        .and_then(|parts| <[u32; 4]>::try_from(parts).ok())
        .ok_or_else(|| not_understood("--patch", "X,Y,W,H in whole pixels", text))
}

fn calibration(text: &str) -> Result<Calibration, Failure> {
    let given = numbers(text, 2, 3);
    let Some([stops, doubt, slope @ ..]) = given.as_deref() else {
        return Err(not_understood("--calibration", "STOPS,DOUBT or STOPS,DOUBT,SLOPE", text));
    };
    Ok(Calibration::new(Estimate::new(*stops, *doubt, f64::INFINITY)?, slope.first().copied())?)
}

/// The light of the patch, or what became of the pixels; and where the patch lies in the upright picture.
fn measured(bytes: &[u8], metadata: &Metadata, wanted: Wanted) -> Result<(Pixels, Option<Region>), Failure> {
    let pixels = match picture::Pixels::decode(bytes, metadata) {
        Ok(pixels) => pixels,
        Err(Refused::Kind) => return Ok((Pixels::Unsupported, None)),
        Err(Refused::Damaged) => return Ok((Pixels::Unreadable, None)),
        Err(Refused::Size(why)) => return Err(Failure::None(why)),
    };
    let seen: Size = metadata.orientation.upright(pixels.size());
    let patch = match wanted {
        Wanted::Pixels([x, y, width, height]) => Region::new(x, y, width, height, seen)?,
        Wanted::Shares(shares) => Region::from_shares(shares, seen)?,
    };
    let stored = metadata.orientation.stored(patch, pixels.size());
    let mut tally = Tally::new(stored, Transfer::new(Curve::Srgb, metadata.primaries));
    tally.strip(&pixels.view()?, 0, 0);
    Ok((Pixels::Patch(tally.finish()?), Some(patch)))
}

fn said(read: &PhotoRead, photo: &Photo, setup: &Setup) -> String {
    let Some(reading) = &photo.reading else { return String::new() };
    let shown = metrology::rounded(reading.ev100.value(), reading.ev100.expanded_95());
    let light = reading.luminance.value();
    // Three figures are more than the doubt carries.
    let decimals =
        [(100.0, 0), (10.0, 1), (1.0, 2), (0.1, 3)].iter().find(|(from, _)| light >= *from).map_or(4, |found| found.1);
    let exposure = &read.exposure;
    let taken = [
        exposure.f_number.map(|n| format!("f/{}", metrology::to_decimals(n, 1))),
        exposure.time_s.map(time),
        exposure.film_speed.map(|s| format!("ISO {}", metrology::to_decimals(s, 0))),
    ];
    let phone = [&read.phone.maker, &read.phone.model, &read.phone.lens];
    let mut text = table::facts(&[
        ("EV at ISO 100", format!("{} ± {} stop", shown.value, shown.uncertainty)),
        ("luminance", format!("{} cd/m² (K = {})", metrology::to_decimals(light, decimals), setup.reflected_constant)),
        ("taken with", taken.into_iter().flatten().collect::<Vec<_>>().join(", ")),
        ("taken by", phone.into_iter().flatten().map(|word| one_line(word)).collect::<Vec<_>>().join(", ")),
        (
            "patch",
            read.patch.map_or_else(String::new, |patch| {
                format!(
                    "{} × {} pixels from {},{} on, {} stop {} than mid-grey",
                    patch.width,
                    patch.height,
                    patch.x,
                    patch.y,
                    metrology::to_decimals(reading.tone_stops.abs(), 1),
                    if reading.tone_stops < 0.0 { "darker" } else { "lighter" }
                )
            }),
        ),
    ]);
    text.push('\n');
    let rows: Vec<Vec<String>> = read
        .doubt
        .iter()
        .map(|part| vec![part.name.clone(), metrology::to_decimals(part.standard_uncertainty_stops, 2)])
        .collect();
    text.push_str(&table::columns(&["doubt, by its parts", "stop"], &rows, true));
    text.push_str(&table::list("To mind", read.notices.iter().map(|notice| notice.text.as_str())));
    text
}

/// `1/125 s` or `2.0 s`.
fn time(seconds: f64) -> String {
    if seconds < 0.3 {
        format!("1/{} s", metrology::to_decimals(1.0 / seconds, 0))
    } else {
        format!("{} s", metrology::to_decimals(seconds, 1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_patch_and_a_calibration_are_read_or_named() {
        assert_eq!(whole("1, 2,3,4"), Ok([1, 2, 3, 4]));
        for bad in ["1,2,3", "1,2,3,4,5", "-1,2,3,4", "1.5,2,3,4", ""] {
            assert!(whole(bad).expect_err("refused").to_string().contains("--patch"), "{bad}");
        }
        let own = calibration("-0.25,0.15,1.2").expect("a calibration");
        assert_eq!((own.offset.value(), own.tone_slope), (-0.25, Some(1.2)));
        for bad in ["0.2", "0.2,NaN", "a,b", "1,2,3,4"] {
            assert_eq!(calibration(bad).expect_err("refused").code(), 2, "{bad}");
        }
        assert_eq!(calibration("0.2,-0.1").expect_err("refused").code(), 1);
    }

    #[test]
    fn times_are_said_as_on_a_dial() {
        assert_eq!((time(0.008).as_str(), time(2.0).as_str()), ("1/125 s", "2.0 s"));
    }
}
