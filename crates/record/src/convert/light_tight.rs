//! The light-tight part of a file: places to the domain, the conditions that follow into the findings, and what its page shows.
//!
//! Not here: what a look comes to ([`inspection::light_tight`]).

use inspection::camera::Kind;
use inspection::catalogue;
use inspection::drawing::back::{self, Side};
use inspection::finding::Condition;
use inspection::light_tight::{self, Check, Feel, Lamp, Look, Residue, Seen};
use inspection::test_roll;
use inspection::words;

use super::choice::choice;
use super::number::optional;
use super::shown::drawing as shown;
use crate::error::Error;
use crate::{page, v1};

fn unknown(what: &str, key: &str, allowed: &[&str]) -> Error {
    let shown: String = key.chars().take(40).collect();
    Error::new(format!("the {what} must be one of {}, and \"{shown}\" was given", allowed.join(", ")))
}

/// What stands at a key, `None` where it is empty.
fn keyed<T>(key: &str, what: &str, from: impl Fn(&str) -> Option<T>, allowed: &[&str]) -> Result<Option<T>, Error> {
    if key.is_empty() {
        return Ok(None);
    }
    from(key).map(Some).ok_or_else(|| unknown(what, key, allowed))
}

fn look(entry: &v1::PlaceLook) -> Result<Look, Error> {
    let at = |error: Error| error.at(&format!("place {}", entry.place.chars().take(40).collect::<String>()));
    Ok(Look {
        place: entry.place.clone(),
        feel: keyed(&entry.feel, "feel of the seal", Feel::from_key, &Feel::ALL.map(Feel::key)).map_err(at)?,
        residue: keyed(&entry.residue, "residue", Residue::from_key, &Residue::ALL.map(Residue::key)).map_err(at)?,
        lamp: keyed(&entry.lamp, "light of the lamp", Lamp::from_key, &Lamp::ALL.map(Lamp::key)).map_err(at)?,
        length_mm: optional(&entry.length, "length of the seal in millimetres").map_err(at)?,
        thickness_mm: optional(&entry.thickness, "thickness of the seal in millimetres").map_err(at)?,
    })
}

/// The check as the domain has it.
pub(super) fn check(record: &v1::LightTight) -> Result<Check, Error> {
    Ok(Check {
        hinge: keyed(&record.hinge, "side of the hinge", Side::from_key, &Side::ALL.map(Side::key))?,
        looks: record.places.iter().map(look).collect::<Result<_, _>>()?,
    })
}

/// Fills in the numbers beside the texts, and puts what follows from the look into the findings: a condition that has changed
/// since the look last gave it is written there; one that the person changed in the round afterwards stays theirs.
pub(super) fn settle(record: &mut v1::Inspection) -> Result<(), Error> {
    // An unknown kind is refused where the camera is read.
    let Some(kind) = Kind::from_key(&record.camera.kind) else { return Ok(()) };
    let check = check(&record.light_tight)?;
    for (entry, look) in record.light_tight.places.iter_mut().zip(&check.looks) {
        entry.length_mm = look.length_mm;
        entry.thickness_mm = look.thickness_mm;
    }
    // Nothing follows where nobody looked.
    let derived = if check.looks.is_empty() { Vec::new() } else { light_tight::derived(&check.seen(kind)?) };
    let before = std::mem::take(&mut record.light_tight.derived);
    let given =
        |list: &[v1::Derived], point: &str| list.iter().find(|one| one.point == point).map(|one| one.condition.clone());
    // What the look said before and no longer says is taken back, where it still stands as the look put it.
    for old in before.iter().filter(|old| derived.iter().all(|(point, _)| *point != old.point)) {
        for finding in record.findings.iter_mut().filter(|finding| finding.point == old.point) {
            if finding.condition == old.condition {
                finding.condition = Condition::NotChecked.key().to_owned();
            }
        }
    }
    for (point, condition) in derived {
        if given(&before, point).as_deref() != Some(condition.key()) {
            let at = record.updated.clone();
            match record.findings.iter_mut().rev().find(|finding| finding.point == point) {
                Some(finding) if finding.condition == condition.key() => {}
                Some(finding) => {
                    finding.condition = condition.key().to_owned();
                    finding.at = at;
                }
                None => record.findings.push(v1::Finding {
                    point: point.to_owned(),
                    condition: condition.key().to_owned(),
                    at,
                    ..v1::Finding::default()
                }),
            }
        }
        record.light_tight.derived.push(v1::Derived { point: point.to_owned(), condition: condition.key().to_owned() });
    }
    Ok(())
}

/// Where the round says otherwise than the look.
fn disagreements(seen: &[Seen], domain: &inspection::Inspection) -> Vec<String> {
    light_tight::derived(seen)
        .into_iter()
        .filter_map(|(key, condition)| {
            let point = catalogue::point(key)?;
            let said = domain.condition(point);
            (said != condition).then(|| {
                format!(
                    "{}: the careful look says {}, the round says {}. The round was changed later and counts; look again \
                     where you doubt it.",
                    words::sentence_case(point.name),
                    condition.words(),
                    said.words()
                )
            })
        })
        .collect()
}

/// What it comes to, `None` where nothing was looked at.
pub(super) fn result(domain: &inspection::Inspection) -> Option<v1::LightTightResult> {
    if domain.light_tight.looks.is_empty() {
        return None;
    }
    let seen = domain.light_tight.seen(domain.camera.kind).ok()?;
    let places: Vec<v1::PlaceResult> = seen
        .iter()
        .map(|one| v1::PlaceResult {
            place: one.place.key.to_owned(),
            condition: one.condition.key().to_owned(),
            risk: one.risk(),
        })
        .filter(|one| !one.risk.is_empty())
        .collect();
    (!places.is_empty()).then(|| v1::LightTightResult {
        places,
        replace: replace(&seen),
        notices: disagreements(&seen, domain),
    })
}

fn replace(seen: &[Seen]) -> Vec<String> {
    seen.iter().map(Seen::replace).filter(|line| !line.is_empty()).collect()
}

/// What the pages of the seals show.
pub(super) fn view(domain: &inspection::Inspection) -> page::LightTightView {
    let kind = domain.camera.kind;
    let hinge = domain.light_tight.hinge_of(kind);
    // A measure that cannot be was refused before anything is shown.
    let seen = domain.light_tight.seen(kind).unwrap_or_default();
    let pressed = seen.iter().filter(|one| light_tight::is_pressed(&one.place));
    let (done, all) = pressed.fold((0, 0), |(done, all), one| (done + usize::from(one.look.feel.is_some()), all + 1));
    let replace = replace(&seen);
    let lit: Vec<&str> =
        seen.iter().filter(|one| one.look.lamp == Some(Lamp::Light)).map(|one| one.place.name).collect();
    let dark = seen.iter().filter(|one| one.look.lamp == Some(Lamp::Dark)).count();
    // Where a test roll points is marked on the same drawing.
    let roll = test_roll::judge(&domain.test_roll, kind, hinge);
    page::LightTightView {
        drawing: shown(&test_roll::drawing(kind, hinge, &seen, &roll)),
        hinge: hinge.key().to_owned(),
        hinges: back::hinge_sides(kind).iter().map(|side| choice(side.key(), side.words(), "")).collect(),
        feels: Feel::ALL.iter().map(|feel| choice(feel.key(), feel.words(), feel.help())).collect(),
        residues: Residue::ALL.iter().map(|one| choice(one.key(), one.words(), one.help())).collect(),
        lamps: Lamp::ALL.iter().map(|lamp| choice(lamp.key(), lamp.words(), "")).collect(),
        places: seen.iter().enumerate().map(|(index, one)| place(index, one)).collect(),
        progress: format!("{done} of {all} seals felt"),
        lamp_words: match (lit.as_slice(), dark) {
            ([], 0) => "not yet".to_owned(),
            ([], _) => format!("{} dark", words::count(dark, "place", "places")),
            (names, _) => format!("light comes out: {}", names.join("; ")),
        },
        caution: if replace.is_empty() { String::new() } else { light_tight::SOLVENT_CAUTION.to_owned() },
        replace,
        notices: disagreements(&seen, domain),
    }
}

fn place(index: usize, seen: &Seen) -> page::PlaceView {
    let place = &seen.place;
    page::PlaceView {
        key: place.key.to_owned(),
        number: (index + 1).to_string(),
        name: place.name.to_owned(),
        point: place.point.to_owned(),
        area: catalogue::point(place.point).map_or_else(String::new, |point| point.area.key().to_owned()),
        pressed: light_tight::is_pressed(place),
        shows_light: light_tight::shows_light(place),
        feel: seen.look.feel.map_or("", Feel::key).to_owned(),
        residue: seen.look.residue.map_or("", Residue::key).to_owned(),
        lamp: seen.look.lamp.map_or("", Lamp::key).to_owned(),
        condition_words: match (seen.look.lamp, seen.condition) {
            (Some(Lamp::Light), _) => Lamp::Light.words().to_owned(),
            (Some(Lamp::Dark), Condition::NotChecked) => Lamp::Dark.words().to_owned(),
            (_, condition) => condition.words().to_owned(),
        },
        risk: seen.risk(),
        replace: seen.replace(),
        x: place.from.0,
        y: place.from.1,
        x2: place.to.0,
        y2: place.to.1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: &str = "2026-03-01T09:30:00Z";

    fn with(feel: &str) -> v1::Inspection {
        let mut record = crate::new_inspection("rangefinder", "one", NOW).expect("accepted").inspection;
        record.light_tight.places.push(v1::PlaceLook {
            place: "hinge-seal".to_owned(),
            feel: feel.to_owned(),
            residue: "none".to_owned(),
            ..v1::PlaceLook::default()
        });
        record
    }

    fn condition(record: &v1::Inspection) -> String {
        record
            .findings
            .iter()
            .find(|one| one.point == "hinge-seal")
            .map_or_else(String::new, |one| one.condition.clone())
    }

    #[test]
    fn the_look_speaks_through_the_findings() {
        let accepted = crate::accept(with("crumbling"), NOW).expect("accepted");
        assert_eq!(condition(&accepted.inspection), "faulty");
        let worked = accepted.inspection.result.as_ref().expect("a result");
        assert_eq!(worked.outcome, "wants_service");
        assert!(worked.light_tight.as_ref().expect("a result").notices.is_empty());
        // Again, nothing changes.
        let again = crate::accept(accepted.inspection.clone(), NOW).expect("accepted").inspection;
        assert_eq!(
            (again.findings, again.light_tight),
            (accepted.inspection.findings, accepted.inspection.light_tight)
        );
    }

    #[test]
    fn what_the_round_says_later_counts_and_the_difference_is_shown() {
        let mut record = crate::accept(with("crumbling"), NOW).expect("accepted").inspection;
        record.findings[0].condition = "sound".to_owned();
        let later = crate::accept(record.clone(), NOW).expect("accepted");
        assert_eq!(condition(&later.inspection), "sound");
        assert!(later.view.light_tight.notices[0].contains("careful look says faulty, the round says sound"));
        // The look changed: it is the later word now.
        let mut record = later.inspection;
        record.light_tight.places[0].feel = "flat".to_owned();
        assert_eq!(condition(&crate::accept(record.clone(), NOW).expect("accepted").inspection), "worn");
    }

    #[test]
    fn a_look_taken_back_takes_its_finding_back() {
        let mut record = crate::accept(with("crumbling"), NOW).expect("accepted").inspection;
        record.light_tight.places.clear();
        assert_eq!(condition(&crate::accept(record.clone(), NOW).expect("accepted").inspection), "not_checked");
    }

    #[test]
    fn what_cannot_be_is_refused_with_its_place() {
        let refused = |change: fn(&mut v1::PlaceLook)| {
            let mut record = with("flat");
            change(&mut record.light_tight.places[0]);
            crate::accept(record.clone(), NOW).expect_err("refused").to_string()
        };
        assert!(refused(|one| one.feel = "firm".to_owned()).contains("springy"));
        assert!(refused(|one| one.length = "-3".to_owned()).contains("hinge seal"));
        assert!(refused(|one| one.thickness = "thin".to_owned()).contains("millimetres"));
    }
}
