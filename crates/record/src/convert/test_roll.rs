//! The test roll's part of a file: frames and walls to the domain, what they come to back, and what its pages show.
//!
//! Not here: measuring a photo ([`crate::film`]), what a roll comes to ([`inspection::test_roll`]).

use imaging::evenness::{Evenness, Travel};
use imaging::film_strip::Format;
use imaging::fog::{Fog, Group, Lies, Side, Source};
use inspection::drawing::{density_map, wall_plot};
use inspection::test_roll::{self, Blank, Frame, Judgement, Roll, State, Wall, lies_words};
use inspection::words;

use super::choice::choice;
use super::number::decimal;
use super::shown::drawing as shown;
use crate::error::Error;
use crate::{page, v1};

/// Film with perforation.
const PERFORATED: &str = "135";
/// Roll film by the height of its gate \[mm\], with the usual names.
const ROLLS: [(&str, &str); 3] =
    [("56", "roll film, 6 cm high"), ("41.5", "roll film, 4.5 cm high"), ("40", "roll film, 4 cm high")];
const TRAVELS: [(&str, &str, Travel); 2] =
    [("horizontal", "along the film", Travel::Horizontal), ("vertical", "across the film", Travel::Vertical)];

fn unknown(what: &str, key: &str, allowed: &[&str]) -> Error {
    let shown: String = key.chars().take(40).collect();
    Error::new(format!("the {what} must be one of {}, and \"{shown}\" was given", allowed.join(", ")))
}

/// The film with this key.
pub(crate) fn film_format(key: &str) -> Result<Format, Error> {
    if key == PERFORATED || key.is_empty() {
        return Ok(Format::Perforated);
    }
    Ok(Format::roll(decimal(key, "height of the gate in millimetres")?)?)
}

/// The travel with this key.
pub(crate) fn film_travel(key: &str) -> Result<Travel, Error> {
    TRAVELS
        .iter()
        .find(|(own, ..)| *own == key)
        .map(|(.., travel)| *travel)
        .ok_or_else(|| unknown("travel of the curtains", key, &TRAVELS.map(|(key, ..)| key)))
}

fn optional<T>(key: &str, what: &str, from: impl Fn(&str) -> Option<T>) -> Result<Option<T>, Error> {
    if key.is_empty() { Ok(None) } else { from(key).map(Some).ok_or_else(|| unknown(what, key, &["its keys"])) }
}

fn within(value: f64, least: f64, most: f64, what: &str) -> Result<f64, Error> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(Error::new(format!("the {what} must be {least} to {most}, and {value} was given")))
    }
}

fn blank(entry: &v1::RollFrame) -> Result<Blank, Error> {
    film_format(&entry.film)?;
    let frame = Frame::from_key(&entry.frame)
        .ok_or_else(|| unknown("blank frame", &entry.frame, &Frame::ALL.map(Frame::key)))?;
    let lies = match entry.lies.as_str() {
        "" => Lies::Unknown,
        key => Lies::from_key(key).ok_or_else(|| unknown("way the strip lies", key, &Lies::ALL.map(Lies::key)))?,
    };
    let group = Group::from_key(&entry.group)
        .ok_or_else(|| unknown("light on a frame", &entry.group, &Group::ALL.map(Group::key)))?;
    Ok(Blank {
        frame,
        lies,
        fog: Fog {
            group,
            side: optional(&entry.side, "side of the gate", Side::from_key)?,
            source: optional(&entry.part, "part", Source::from_key)?,
            confidence: within(entry.confidence, 0.0, 1.0, "confidence")?,
            peak_density: within(entry.peak_density, -10.0, 10.0, "densest place")?,
            threshold_density: within(entry.threshold_density, 0.0, 10.0, "density that counts as light")?,
            notices: Vec::new(),
        },
        notes: entry.notices.iter().map(|notice| notice.text.clone()).collect(),
    })
}

fn wall(entry: &v1::RollWall, times: &[&str]) -> Result<Wall, Error> {
    const MOST: f64 = 30.0;
    let mark = match entry.time.as_str() {
        "" => None,
        text => Some(super::marks::time(text, times)?),
    };
    film_travel(&entry.travel)?;
    let stops = |value: f64, what: &str| within(value, -MOST, MOST, what);
    Ok(Wall {
        mark,
        evenness: Evenness {
            taper_stops: stops(entry.taper_stops, "difference from end to end in stops")?,
            standard_uncertainty_stops: within(entry.standard_uncertainty_stops, 0.0, MOST, "its doubt in stops")?,
            wall_stops: entry.wall_stops.map(|own| stops(own, "wall's own difference in stops")).transpose()?,
            band_stops: within(entry.band_stops, 0.0, MOST, "ripples in stops")?,
            end_drop_stops: stops(entry.end_drop_stops, "drop at an end in stops")?,
            bow_stops: stops(entry.bow_stops, "bow in stops")?,
            gamma: within(entry.gamma, 0.0, 10.0, "film's contrast")?,
            profile: Vec::new(),
            notices: Vec::new(),
        },
    })
}

/// The roll as the domain has it. **Errors** for what no roll can be, with its place.
pub(super) fn roll(record: &v1::Inspection) -> Result<Roll, Error> {
    let entry = &record.test_roll;
    let times: Vec<&str> = record.camera.times.iter().map(String::as_str).collect();
    if !entry.exposed.is_empty() {
        crate::time::check(&entry.exposed).map_err(|error| error.at("test roll, exposed"))?;
    }
    Ok(Roll {
        ticked: entry.steps.iter().map(|step| step.step.clone()).collect(),
        exposed: entry.exposed.get(..10).unwrap_or(&entry.exposed).to_owned(),
        blanks: entry
            .frames
            .iter()
            .enumerate()
            .map(|(i, one)| blank(one).map_err(|error| error.at(&format!("test roll, frame {}", i + 1))))
            .collect::<Result<_, _>>()?,
        walls: entry
            .walls
            .iter()
            .enumerate()
            .map(|(i, one)| wall(one, &times).map_err(|error| error.at(&format!("test roll, wall {}", i + 1))))
            .collect::<Result<_, _>>()?,
    })
}

/// What it comes to, `None` where none was begun.
pub(super) fn result(judgement: &Judgement) -> Option<v1::TestRollResult> {
    (judgement.state != State::NotBegun).then(|| v1::TestRollResult {
        state: judgement.state.key().to_owned(),
        headline: judgement.headline.clone(),
        frames: judgement
            .told
            .iter()
            .map(|told| v1::RollFrameResult {
                frame: told.frame.key().to_owned(),
                frame_words: told.frame.words().to_owned(),
                call: told.call.key().to_owned(),
                call_words: told.call.words().to_owned(),
                side: told.side.map_or("", |side| side.key()).to_owned(),
                place: told.place.unwrap_or_default().to_owned(),
                point: told.point.unwrap_or_default().to_owned(),
                confidence: told.confidence,
                sentence: told.sentence.clone(),
            })
            .collect(),
        walls: judgement
            .walls
            .iter()
            .map(|wall| v1::RollWallResult {
                call: wall.call.key().to_owned(),
                call_words: wall.call.words().to_owned(),
                mark: wall.mark.clone(),
                figure: wall.figure.clone(),
                sentence: wall.sentence.clone(),
                settle: wall.settle.clone(),
            })
            .collect(),
        missing: judgement.missing.clone(),
    })
}

/// What the pages show.
pub(super) fn view(
    record: &v1::Inspection,
    domain: &inspection::Inspection,
    judgement: &Judgement,
) -> page::TestRollView {
    let kind = domain.camera.kind;
    let hinge = domain.light_tight.hinge_of(kind);
    let seen = domain.light_tight.seen(kind).unwrap_or_default();
    let steps = test_roll::steps(kind);
    let done = |key: &str| domain.test_roll.ticked.iter().any(|ticked| ticked == key);
    let left: u32 = steps.iter().filter(|step| !done(step.key)).map(|step| step.seconds).sum();
    let minutes = |seconds: u32| seconds.div_ceil(60);
    let exposed = !domain.test_roll.exposed.is_empty();
    page::TestRollView {
        drawing: shown(&test_roll::drawing(kind, hinge, &seen, judgement)),
        points: judgement.suspected().next().is_some(),
        state: judgement.state.key().to_owned(),
        headline: judgement.headline.clone(),
        steps: steps
            .iter()
            .map(|step| page::RollStepView {
                key: step.key.to_owned(),
                name: step.name.to_owned(),
                text: step.text.to_owned(),
                minutes_words: format!("{} min", minutes(step.seconds)),
                timer_s: step.timer_s,
                frame_words: test_roll::frame_number(step.key).map_or_else(String::new, |n| format!("frame {n}")),
                done: done(step.key),
            })
            .collect(),
        left_words: if left == 0 || exposed {
            String::new()
        } else {
            format!("about {} left", words::count(minutes(left) as usize, "minute", "minutes"))
        },
        blanks: Frame::ALL.iter().map(|frame| choice(frame.key(), frame.words(), frame.looks_for())).collect(),
        lies: Lies::ALL.iter().map(|lies| choice(lies.key(), lies_words(*lies), "")).collect(),
        films: std::iter::once(choice(PERFORATED, "135, with perforation", ""))
            .chain(ROLLS.iter().map(|(key, words)| choice(key, words, "")))
            .collect(),
        travels: TRAVELS.iter().map(|(key, words, _)| choice(key, words, "")).collect(),
        times: domain.camera.times.iter().map(|mark| choice(mark.text(), &mark.label(), "")).collect(),
        maps: record.test_roll.frames.iter().map(|one| density_map(&one.density_map).as_ref().map(shown)).collect(),
        profiles: record
            .test_roll
            .walls
            .iter()
            .map(|one| wall_plot(&one.profile_position, &one.profile_stops).as_ref().map(shown))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: &str = "2026-03-01T09:30:00Z";

    fn with(change: impl Fn(&mut v1::TestRoll)) -> v1::Inspection {
        let mut record = crate::new_inspection("single_lens_reflex", "one", NOW).expect("accepted").inspection;
        change(&mut record.test_roll);
        record
    }

    fn leak(roll: &mut v1::TestRoll) {
        roll.frames.push(v1::RollFrame {
            frame: "closed".to_owned(),
            lies: "picture-upright".to_owned(),
            film: "135".to_owned(),
            group: "back".to_owned(),
            side: "left".to_owned(),
            part: "latch".to_owned(),
            confidence: 0.91,
            peak_density: 0.44,
            threshold_density: 0.06,
            density_map: vec!["012".to_owned()],
            ..v1::RollFrame::default()
        });
    }

    #[test]
    fn a_leak_at_the_left_of_an_upright_strip_is_the_hinge_and_follows_it_to_the_other_side() {
        let accepted = crate::accept(with(leak), NOW).expect("accepted");
        let result = accepted.inspection.result.as_ref().expect("a result");
        let told = &result.test_roll.as_ref().expect("a roll").frames[0];
        // Turned by half, the left of the photo is the right of the gate, where the hinge usually is.
        assert_eq!((told.call.as_str(), told.side.as_str(), told.place.as_str()), ("light", "right", "hinge-seal"));
        assert_eq!(result.outcome, "wants_service");
        assert!(result.reasons.iter().any(|reason| reason.about == "test_roll" && reason.text.contains("hinge seal")));
        assert!(accepted.view.test_roll.points && accepted.view.test_roll.maps[0].is_some());
        // Said otherwise how it lies, or where the hinge is, it follows.
        let place = |lies: &str, hinge: &str| {
            let mut record = with(leak);
            record.test_roll.frames[0].lies = lies.to_owned();
            record.light_tight.hinge = hinge.to_owned();
            let result = crate::accept(record.clone(), NOW).expect("accepted").inspection.result.expect("a result");
            result.test_roll.expect("a roll").frames[0].place.clone()
        };
        assert_eq!(place("as-in-camera", "right"), "latch-seal");
        assert_eq!(place("picture-mirrored", "right"), "latch-seal");
        assert_eq!(place("picture-upright", "left"), "latch-seal");
        assert_eq!(place("unknown", "right"), "");
    }

    #[test]
    fn the_wait_is_kept() {
        let record = with(|roll| roll.exposed = NOW.to_owned());
        let accepted = crate::accept(record.clone(), NOW).expect("accepted");
        assert_eq!(accepted.view.test_roll.headline, "exposed 2026-03-01, waiting for the film");
        let result = accepted.inspection.result.expect("a result");
        assert!(result.unchecked.iter().any(|one| one.about == "test_roll" && !one.matters));
        // A camera without a roll says nothing about one.
        let none = crate::accept(with(|_| {}), NOW).expect("accepted").inspection.result.expect("a result");
        assert!(none.test_roll.is_none());
    }

    #[test]
    fn what_cannot_be_is_refused_with_its_place() {
        let refused = |change: fn(&mut v1::RollFrame)| {
            let record = with(|roll| {
                leak(roll);
                change(&mut roll.frames[0]);
            });
            crate::accept(record.clone(), NOW).expect_err("refused").to_string()
        };
        for text in [
            refused(|one| one.frame = "last".to_owned()),
            refused(|one| one.lies = "sideways".to_owned()),
            refused(|one| one.group = "all".to_owned()),
            refused(|one| one.side = "up".to_owned()),
            refused(|one| one.confidence = 1.5),
            refused(|one| one.film = "127 mm".to_owned()),
            refused(|one| one.film = "4".to_owned()),
        ] {
            assert!(text.contains("test roll, frame 1"), "{text}");
        }
        let record = with(|roll| roll.exposed = "soon".to_owned());
        assert!(crate::accept(record.clone(), NOW).expect_err("refused").to_string().contains("exposed"));
        let record = with(|roll| roll.walls.push(v1::RollWall { travel: "up".to_owned(), ..v1::RollWall::default() }));
        assert!(crate::accept(record.clone(), NOW).expect_err("refused").to_string().contains("test roll, wall 1"));
    }
}
