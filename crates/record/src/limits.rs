//! How much a file may hold: named limits, checked before anything large is made of it.
//!
//! Not here: what the values may be, which the quantities themselves check.

use crate::error::Error;
use crate::v1::{Inspection, Run, Take, TestRoll};

/// Largest file [bytes].
pub const FILE_BYTES: usize = 20 * 1024 * 1024;
/// Deepest nesting of lists and objects.
pub const DEPTH: usize = 64;
/// Most inspections in a bench backup.
pub const INSPECTIONS: usize = 20_000;
/// Most runs of an inspection.
pub const RUNS: usize = 50;
/// Most references of a run.
pub const REFERENCES: usize = 20;
/// Most levels of a run.
pub const LEVELS: usize = 200;
/// Most readings of a level.
pub const READINGS: usize = 50;
/// Most settings of a consistency check.
pub const SETTINGS: usize = 200;
/// Most takes of a shutter.
pub const TAKES: usize = 50;
/// Most shots of a take.
pub const SHOTS: usize = 500;
/// Most moments, times or notices of one shot.
pub const MOMENTS: usize = 200;
/// Most photos of openings.
pub const OPENINGS: usize = 200;
/// Most rays of an outline.
pub const OUTLINE: usize = 720;
/// Most measurements of scattered light.
pub const GLARE: usize = 50;
/// Most photos of a test roll's frames, and of its walls.
pub const FRAMES: usize = 60;
/// Most rows of a density map.
pub const MAP_ROWS: usize = 100;
/// Most findings.
pub const FINDINGS: usize = 500;
/// Most pictures.
pub const PHOTOS: usize = 200;
/// Most texts that the person changed.
pub const TEXTS: usize = 16;
/// Most marks of a dial.
pub const MARKS: usize = 60;
/// Most keys kept that this version does not know.
pub const FOREIGN: usize = 200;
/// Most entries of any other list.
pub const ENTRIES: usize = 20_000;
/// Most keys of one object.
pub const KEYS: usize = 1_000;
/// Most objects of a file: what it takes in memory stays in proportion to what it says.
pub const OBJECTS: usize = 400_000;
/// Most columns of a table.
pub const COLUMNS: usize = 64;
/// Longest name [bytes].
pub const NAME_BYTES: usize = 400;
/// Longest note [bytes].
pub const NOTE_BYTES: usize = 20_000;
/// Longest text for a listing [bytes]: it may quote every note.
pub const TEXT_BYTES: usize = 400_000;
/// Longest value of an unknown key [bytes].
pub const FOREIGN_BYTES: usize = 64 * 1024;

/// How many entries the list at a key may have.
pub(crate) fn of_list(key: &str) -> usize {
    match key {
        "inspections" => INSPECTIONS,
        "runs" => RUNS,
        "more_references" => REFERENCES,
        "levels" => LEVELS,
        "readings" => READINGS,
        "consistency" => SETTINGS,
        "takes" => TAKES,
        "shots" | "asked" => SHOTS,
        "candidates_s" | "events_s" | "travel_s" | "places" => MOMENTS,
        "openings" => OPENINGS,
        "outline_px" => OUTLINE,
        "glare" => GLARE,
        "frames" | "walls" => FRAMES,
        "density_map" => MAP_ROWS,
        "profile_position" | "profile_stops" => MOMENTS,
        "findings" => FINDINGS,
        "photos" => PHOTOS,
        "texts" => TEXTS,
        "times" | "f_numbers" => MARKS,
        "foreign" => FOREIGN,
        _ => ENTRIES,
    }
}

fn most(count: usize, limit: usize, what: &str) -> Result<(), Error> {
    if count <= limit {
        Ok(())
    } else {
        Err(Error::new(format!("there are {count} {what}, and at most {limit} are taken")))
    }
}

fn short(text: &str, limit: usize, what: &str) -> Result<(), Error> {
    if text.len() <= limit {
        Ok(())
    } else {
        Err(Error::new(format!("the {what} is {} bytes long, and at most {limit} are taken", text.len())))
    }
}

/// Checks counts and lengths of an inspection.
pub fn check(inspection: &Inspection) -> Result<(), Error> {
    most(inspection.findings.len(), FINDINGS, "findings")?;
    most(inspection.photos.len(), PHOTOS, "pictures")?;
    most(inspection.meter.runs.len(), RUNS, "meter runs")?;
    most(inspection.meter.consistency.len(), SETTINGS, "settings of the consistency check")?;
    most(inspection.foreign.len(), FOREIGN, "unknown keys")?;
    most(inspection.camera.times.len(), MARKS, "marked times")?;
    most(inspection.lens.f_numbers.len(), MARKS, "marked f-numbers")?;
    let camera = &inspection.camera;
    for (text, what) in [
        (&inspection.id, "id"),
        (&camera.maker, "maker"),
        (&camera.model, "model"),
        (&camera.serial, "serial number"),
        (&inspection.lens.name, "lens"),
        (&inspection.lens.serial, "lens serial number"),
        (&inspection.battery.wanted, "battery wanted"),
        (&inspection.battery.fitted, "battery fitted"),
        (&inspection.costs.currency, "currency"),
    ] {
        short(text, NAME_BYTES, what)?;
    }
    short(&inspection.notes, NOTE_BYTES, "note")?;
    for finding in &inspection.findings {
        short(&finding.note, NOTE_BYTES, "note of a finding")?;
        most(finding.photos.len(), PHOTOS, "pictures of a finding")?;
    }
    most(inspection.texts.len(), TEXTS, "changed texts")?;
    for text in &inspection.texts {
        short(&text.text, TEXT_BYTES, "changed text")?;
        short(&text.made_from, TEXT_BYTES, "text that a changed one was made from")?;
    }
    for foreign in &inspection.foreign {
        short(&foreign.path, NAME_BYTES, "name of an unknown key")?;
        short(&foreign.json, FOREIGN_BYTES, "value of an unknown key")?;
    }
    most(inspection.light_tight.places.len(), MOMENTS, "places of the open back")?;
    most(inspection.light_tight.derived.len(), MOMENTS, "conditions from the look")?;
    for look in &inspection.light_tight.places {
        short(&look.place, NAME_BYTES, "name of a place")?;
    }
    most(inspection.shutter.takes.len(), TAKES, "takes of the shutter")?;
    inspection.shutter.takes.iter().try_for_each(check_take)?;
    most(inspection.aperture.openings.len(), OPENINGS, "photos of openings")?;
    most(inspection.lens_measurements.glare.len(), GLARE, "measurements of scattered light")?;
    for shot in &inspection.aperture.openings {
        most(shot.outline_px.len(), OUTLINE, "rays of an outline")?;
        most(shot.notices.len(), MOMENTS, "notices of a photo")?;
        short(&shot.source, NAME_BYTES, "name of a picture")?;
    }
    for one in &inspection.lens_measurements.glare {
        most(one.notices.len(), MOMENTS, "notices of a measurement")?;
        short(&one.label, NAME_BYTES, "name of a measurement")?;
    }
    check_roll(&inspection.test_roll)?;
    inspection.meter.runs.iter().try_for_each(check_run)
}

fn check_roll(roll: &TestRoll) -> Result<(), Error> {
    most(roll.steps.len(), MOMENTS, "steps of a test roll")?;
    most(roll.frames.len(), FRAMES, "frames of a test roll")?;
    most(roll.walls.len(), FRAMES, "walls of a test roll")?;
    for frame in &roll.frames {
        most(frame.density_map.len(), MAP_ROWS, "rows of a density map")?;
        most(frame.notices.len(), MOMENTS, "notices of a frame")?;
        short(&frame.source, NAME_BYTES, "name of a picture")?;
        frame.density_map.iter().try_for_each(|row| short(row, NAME_BYTES, "row of a density map"))?;
    }
    for wall in &roll.walls {
        most(wall.sources.len(), MOMENTS, "pictures of a wall")?;
        most(wall.profile_position.len().max(wall.profile_stops.len()), MOMENTS, "points of a profile")?;
        most(wall.notices.len(), MOMENTS, "notices of a wall")?;
        wall.sources.iter().try_for_each(|name| short(name, NAME_BYTES, "name of a picture"))?;
    }
    Ok(())
}

fn check_take(take: &Take) -> Result<(), Error> {
    most(take.shots.len(), SHOTS, "shots of a take")?;
    most(take.asked.len(), SHOTS, "times asked for in a take")?;
    short(&take.source, NAME_BYTES, "source of a take")?;
    take.shots.iter().try_for_each(|shot| {
        most(shot.events_s.len(), MOMENTS, "moments of a shot")?;
        most(shot.candidates_s.len(), MOMENTS, "candidates of a shot")?;
        most(shot.notices.len(), MOMENTS, "notices of a shot")
    })
}

fn check_run(run: &Run) -> Result<(), Error> {
    most(run.levels.len(), LEVELS, "levels")?;
    most(run.more_references.len(), REFERENCES, "references of a run")?;
    std::iter::once(&run.reference)
        .chain(&run.more_references)
        .try_for_each(|reference| short(&reference.note, NOTE_BYTES, "note of the reference"))?;
    run.levels.iter().try_for_each(|level| most(level.readings.len(), READINGS, "readings of a level"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn too_much_is_refused_with_its_count_and_limit() {
        let mut inspection = Inspection::default();
        assert!(check(&inspection).is_ok());
        inspection.notes = "x".repeat(NOTE_BYTES + 1);
        assert!(check(&inspection).expect_err("refused").to_string().contains("20001 bytes"));
        inspection.notes.clear();
        inspection.meter.runs = vec![Run::default(); RUNS + 1];
        assert!(check(&inspection).expect_err("refused").to_string().contains("51 meter runs"));
    }
}
