//! What `lampblack help` says, and the pieces of reading a call that several verbs share.
//!
//! Not here: what each verb does.

use std::path::PathBuf;

use lexopt::{Parser, ValueExt};

use crate::error::{Failure, one_line};

/// The calls in short.
pub fn help() -> String {
    format!(
        "{program}: a measuring bench for used film cameras

lampblack exposure --f 16 --time 1/125 --speed 100 [--as-given]
    EV, luminance and illuminance of an exposure. Marked values count as the
    exact ones (1/125 is 1/128 s) unless --as-given.
lampblack sun --at TIME --lat D --lon D [--altitude M --pressure HPA
        --temperature C]
    Height and direction of the sun. TIME as 2026-03-01T09:30:00Z, degrees
    north and east positive.
lampblack daylight --at TIME --lat D --lon D --sky clear|partly|cloudy
        --plane horizontal|facing-sun|upright [--altitude M]
    The light of sun and sky to expect on a surface, with its doubt, and how
    far sunny 16 is from it.
lampblack meter READINGS.csv --shared-doubt U --tolerance T [--film-speed S]
    Judges a camera's meter: offset, slope, call, what would settle it, remedy.
    Columns: reference_ev100, reference_doubt_stops, reading_ev100,
    reading_step_stops; all in EV at ISO 100 or stops. U and the doubts are
    standard uncertainties, T is half the tolerance, S the film in hand.
lampblack shutter FILE.wav --signal sound|light [--marked 1/4,1/15,1/60]
        [--kind cloth|metal|leaf] [--mirror] [--anchor 1/15=TIME,DOUBT]
    Times of the shots in a recording: of the shutter's sound, or of the light
    behind it. Marks stand in the order of shooting. --anchor is a slow time
    that light or video gave, with its standard uncertainty, both in seconds.
lampblack frames FILE.csv [--marked 1/4,1/15] [--duty D]
        [--curve bt709|srgb|linear] [--range limited|full]
    The same from the brightness of a clip's frames. Columns: t or time_s in
    seconds, then a strip each: L, M, R for mean codes, Llin, Mlin, Rlin for
    linear light, which is better. D is a frame's exposure over its interval.
lampblack photo FILE.jpg [--patch X,Y,W,H | --patch-fraction X,Y,W,H]
                [--calibration STOPS,DOUBT[,SLOPE]] [--k K]
    Light of a patch of a photo, from its exposure data and its pixels. The
    patch is in pixels of the upright picture, or in shares of it from 0 to 1;
    without it, the middle quarter each way. A calibration is what is added to
    this phone's EV, with its standard uncertainty, both in stops.
lampblack blades JOB.json
    Openings of a lens at its marks, from pictures of the lit opening:
    {{\"centre_px\": [X,Y], \"blades\": N, \"shots\": [{{\"f_number\": \"5.6\",
    \"file\": F, \"from\": \"open\"}}]}}; blades and from may be left out.
lampblack glare JOB.json
    What a lens scatters, from pictures of a black hole in a bright field:
    {{\"centre_px\": [X,Y], \"radius_px\": R, \"with_lens\": {{\"normal\": F,
    \"long\": F}}, \"without_lens\": {{\"normal\": F, \"long\": F}}}}; long and
    without_lens may be left out.
lampblack fog JOB.json [--map]
    What fogged a blank frame of a test roll, from a photo of the strip on a
    light table: {{\"file\": F, \"gate_corners_px\": [TL,TR,BR,BL],
    \"strip_lies\": \"picture-upright\" | \"as-in-camera\" | \"unknown\"}}.
    --map adds the density map to the JSON.
lampblack evenness JOB.json
    How evenly a shutter exposed the frame, from photos of an evenly lit wall
    on a test roll: {{\"travel\": \"horizontal\" | \"vertical\", \"main\":
    {{\"file\": F, \"gate_corners_px\": [TL,TR,BR,BL]}}, \"minus_one\",
    \"plus_one\", \"turned\"}}; the last three, of the same shape as main,
    may be left out.
lampblack dose --illuminance-lux E --speed S [--doubt U] [--minutes M]
        [--found-in sun|overcast|office|home|dusk]
    How long a loaded camera may lie before a leak of E lux on the film shows,
    with the doubt, and what M minutes come to. U is the standard uncertainty
    of E in stops, 1 without it; --found-in is the light that E was found in,
    and gives the same leak in the others.
lampblack judge FILE.json [--id ID]
    Outcome of an inspection with its reasons, limits and remedies, and what
    was not checked.
lampblack sheet FILE.json [-o SHEET.html] [--id ID] [--at TIME]
    The sheet, one HTML file that needs nothing else. TIME is when it is made,
    as 2026-03-01T09:30:00Z; without it, now.
lampblack wording FILE.json [--length line|paragraph|full|service] [--id ID]
    The text for the listing, in full without --length; service is the note
    for the service bench. What was changed by hand stands as it was changed.
lampblack compare ONE.json OTHER.json
    Two inspections of one camera side by side: what changed, by how much, and
    whether the change is more than the doubt.
lampblack table FILE... [--as csv|ndjson]
    One row for each measurement and finding, for any other program.
lampblack check FILE...
    What is wrong with inspection files and bench backups.
lampblack schema
    The JSON Schema of the inspection file.

--json gives one JSON object in place of a table. A file - is standard input.
Exit 0: an outcome. 1: none, with one line why. 2: the call is not understood.
",
        program = record::PROGRAM
    )
}

/// The value of an option as a number.
pub fn number(call: &mut Parser, option: &str) -> Result<f64, Failure> {
    let text = text(call)?;
    // A comma is the decimal sign in half of the world.
    match text.trim().replace(',', ".").parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(Failure::Usage(format!(
            "the value of {option} must be a number, and \"{}\" was given",
            one_line(&text)
        ))),
    }
}

/// The value of an option as text.
pub fn text(call: &mut Parser) -> Result<String, Failure> {
    Ok(call.value()?.string()?)
}

/// Keeps the one file of a call.
pub fn one_file(slot: &mut Option<PathBuf>, value: std::ffi::OsString) -> Result<(), Failure> {
    match slot.replace(PathBuf::from(value)) {
        None => Ok(()),
        Some(_) => Err(Failure::Usage("one file at a time, and two were given".to_owned())),
    }
}

/// What has to be given.
pub fn needed<T>(given: Option<T>, what: &str) -> Result<T, Failure> {
    given.ok_or_else(|| Failure::Usage(format!("{what} is missing")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_help_fits_a_terminal() {
        assert!(help().lines().all(|line| line.chars().count() <= 80));
    }

    #[test]
    fn a_value_that_is_no_number_is_named() {
        let mut call = Parser::from_iter(["lampblack", "NaN"]);
        let failure = number(&mut call, "--tolerance").expect_err("refused").to_string();
        assert!(failure.contains("--tolerance") && failure.contains("NaN"), "{failure}");
        assert_eq!(number(&mut Parser::from_iter(["lampblack", "0,5"]), "--tolerance"), Ok(0.5));
    }
}
