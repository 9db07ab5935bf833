//! From what was entered to the domain: marks, numbers, keys, each refused with its place where it cannot be.
//!
//! [`settle`] fills in the numbers beside the texts; [`domain`] makes the domain's inspection. Not here: results.

use inspection::camera::{Camera, Kind, MeterShows, Resolution};
use inspection::catalogue;
use inspection::consistency::Equivalent;
use inspection::finding::{Condition, Finding};
use inspection::meter::{Level, Reading, Run};
use inspection::reference::{CARD_REFLECTANCE, Reference, ReferenceKind, Surface, Way};
use inspection::{Costs, Inspection, ReferencedRun};
use photometry::{
    C_DEFAULT, Ev, FNumberMark, FilmSpeedMark, Illuminance, K_DEFAULT, Luminance, Stops, TimeMark, ev_from_illuminance,
    ev_from_luminance, exposure_value, luminance_of_matt_surface, sky_word,
};

use super::marks;
use super::number::{decimal, optional};
use crate::error::Error;
use crate::v1;

/// Numbers of a file that differ from their texts by more than this are worth a word [stops or the like].
const DIFFERS: f64 = 1e-6;

/// The marks of the camera's dials, for places between them.
struct Dials<'a> {
    times: Vec<&'a str>,
    f_numbers: Vec<&'a str>,
}

impl<'a> Dials<'a> {
    fn of(camera: &'a v1::Camera, lens: &'a v1::Lens) -> Self {
        Self {
            times: camera.times.iter().map(String::as_str).collect(),
            f_numbers: lens.f_numbers.iter().map(String::as_str).collect(),
        }
    }
}

pub(super) fn unknown(what: &str, key: &str, allowed: &[&str]) -> Error {
    let shown: String = key.chars().take(40).collect();
    Error::new(format!("the {what} must be one of {}, and \"{shown}\" was given", allowed.join(", ")))
}

/// A setting taken apart.
struct Marks {
    time: TimeMark,
    f_number: FNumberMark,
    film_speed: FilmSpeedMark,
}

impl Marks {
    fn of(setting: &v1::Setting, dials: &Dials<'_>) -> Result<Self, Error> {
        Ok(Self {
            time: marks::time(&setting.time, &dials.times)?,
            f_number: marks::f_number(&setting.f_number, &dials.f_numbers)?,
            film_speed: marks::film_speed(&setting.film_speed)?,
        })
    }

    fn ev100(&self) -> Ev {
        exposure_value(self.f_number.exact(), self.time.exact(), self.film_speed.exact())
    }

    fn words(&self) -> String {
        format!("{} · {}", self.time.label(), self.f_number.label())
    }
}

fn setting<'s>(setting: Option<&'s v1::Setting>, what: &str) -> Result<&'s v1::Setting, Error> {
    setting.ok_or_else(|| Error::new(format!("the {what} has no setting, and it needs time, f-number and film speed")))
}

/// What one reading comes to.
fn reading(entry: &v1::Reading, dials: &Dials<'_>, film_speed: &str) -> Result<Reading, Error> {
    let way = MeterShows::from_key(&entry.way)
        .ok_or_else(|| unknown("way of reading", &entry.way, &MeterShows::ALL.map(MeterShows::key)))?;
    let resolution = |allowed: &[Resolution]| {
        Resolution::from_key(&entry.resolution).filter(|resolution| allowed.contains(resolution)).ok_or_else(|| {
            let keys: Vec<&str> = allowed.iter().map(|resolution| resolution.key()).collect();
            unknown("resolution", &entry.resolution, &keys)
        })
    };
    match way {
        MeterShows::Nothing => Err(Error::new("a camera without a meter has no readings")),
        MeterShows::Setting | MeterShows::Needle => {
            let marks = Marks::of(setting(entry.setting.as_ref(), "reading")?, dials)?;
            let step = Stops::new(resolution(&Resolution::SCALES)?.step_stops())?;
            Ok(Reading { ev100: marks.ev100(), step, words: marks.words() })
        }
        MeterShows::EnoughLight => {
            let marks = Marks::of(setting(entry.setting.as_ref(), "reading")?, dials)?;
            Ok(Reading { ev100: marks.ev100(), step: Stops::new(1.0)?, words: format!("from {}", marks.words()) })
        }
        MeterShows::Lamps => {
            let one = Marks::of(setting(entry.setting.as_ref(), "reading")?, dials)?;
            let other = Marks::of(setting(entry.other.as_ref(), "second setting of the reading")?, dials)?;
            let (a, b) = (one.ev100(), other.ev100());
            let step = a.above(b).value().abs();
            if step < 1e-9 {
                return Err(Error::new("the two settings between which the lamps change are the same"));
            }
            Ok(Reading {
                ev100: Ev::new((a.value() + b.value()) / 2.0)?,
                step: Stops::new(step)?,
                words: format!("between {} and {}", one.words(), other.words()),
            })
        }
        MeterShows::Ev => {
            let shown = decimal(&entry.typed, "EV")?;
            // An EV scale holds for the film speed that the dial is set to.
            let speed = entry.setting.as_ref().map_or(film_speed, |setting| setting.film_speed.as_str());
            let speed = marks::film_speed(if speed.trim().is_empty() { "100" } else { speed })?;
            let ev100 = Ev::new(shown - stops_above_iso100(speed.exact().value() / 100.0))?;
            let step = Stops::new(resolution(&Resolution::DISPLAYS)?.step_stops())?;
            Ok(Reading { ev100, step, words: format!("EV {}", entry.typed.trim()) })
        }
    }
}

/// Stops between a film speed and ISO 100, by the photometry crate.
fn stops_above_iso100(ratio: f64) -> f64 {
    photometry::stops_between(ratio, 1.0).map_or(0.0, Stops::value)
}

/// What the reference of one level comes to, with illuminance and luminance where they were entered.
struct Light {
    ev100: Ev,
    illuminance_lux: Option<f64>,
    luminance_cd_m2: Option<f64>,
}

fn light(entry: &v1::ReferenceValue, reference: &Reference) -> Result<Light, Error> {
    let way = Way::from_key(&entry.way).filter(|way| reference.kind.ways.contains(way)).ok_or_else(|| {
        let keys: Vec<&str> = reference.kind.ways.iter().map(|way| way.key()).collect();
        unknown("way of entering this reference", &entry.way, &keys)
    })?;
    let plain = |ev100: Ev| Light { ev100, illuminance_lux: None, luminance_cd_m2: None };
    match way {
        Way::Setting => {
            // The reference has its own scales: its marks are read against the usual series.
            let own = Dials { times: Vec::new(), f_numbers: Vec::new() };
            Ok(plain(Marks::of(setting(entry.setting.as_ref(), "reference")?, &own)?.ev100()))
        }
        Way::Ev => Ok(plain(Ev::new(decimal(&entry.typed, "EV")?)?)),
        Way::Illuminance => {
            let lux = Illuminance::new(decimal(&entry.typed, "illuminance")?)?;
            let ev100 = match reference.surface {
                Surface::Incident => ev_from_illuminance(lux, C_DEFAULT)?,
                Surface::Card18 => ev_from_luminance(luminance_of_matt_surface(lux, CARD_REFLECTANCE)?, K_DEFAULT)?,
            };
            Ok(Light { ev100, illuminance_lux: Some(lux.value()), luminance_cd_m2: None })
        }
        Way::Luminance => {
            let luminance = Luminance::new(decimal(&entry.typed, "luminance")?)?;
            Ok(Light {
                ev100: ev_from_luminance(luminance, K_DEFAULT)?,
                illuminance_lux: None,
                luminance_cd_m2: Some(luminance.value()),
            })
        }
        Way::Sky => {
            let word = sky_word(&entry.sky).ok_or_else(|| {
                let keys: Vec<&str> = photometry::SKY_WORDS.iter().map(|word| word.key).collect();
                unknown("word for the sky", &entry.sky, &keys)
            })?;
            Ok(plain(Ev::new(word.ev100)?))
        }
    }
}

/// The reference that a level was held against. **Errors** where it counts beyond those of the run.
fn source<'a>(run: &'a v1::Run, entry: &v1::ReferenceValue) -> Result<&'a v1::Reference, Error> {
    match entry.source {
        0 => Some(&run.reference),
        n => run.more_references.get(n as usize - 1),
    }
    .ok_or_else(|| {
        let count = run.more_references.len() + 1;
        Error::new(format!("the level names reference {}, and the run has {count}", u64::from(entry.source) + 1))
    })
}

/// Every reference of a run, the first one first.
pub(crate) fn references(run: &v1::Run) -> Result<Vec<Reference>, Error> {
    std::iter::once(&run.reference).chain(&run.more_references).map(reference).collect()
}

/// A reference.
pub(crate) fn reference(entry: &v1::Reference) -> Result<Reference, Error> {
    let kind = ReferenceKind::from_key(&entry.kind).ok_or_else(|| {
        let keys: Vec<&str> = inspection::reference::REFERENCE_KINDS.iter().map(|kind| kind.key).collect();
        unknown("reference", &entry.kind, &keys)
    })?;
    let surface = match entry.surface.as_str() {
        "" => Surface::Incident,
        key => {
            Surface::from_key(key).ok_or_else(|| unknown("surface", key, &Surface::ALL.map(|surface| surface.key())))?
        }
    };
    for (doubt, what) in [(entry.each_doubt_stops, "doubt of each reading"), (entry.shared_doubt_stops, "shared doubt")]
    {
        if !(0.0..=10.0).contains(&doubt) {
            return Err(Error::new(format!("the {what} must be between 0 and 10 stops, and {doubt} was given")));
        }
    }
    if entry.each_doubt_stops == 0.0 && entry.shared_doubt_stops == 0.0 {
        return Err(Error::new("a reference without a doubt is none: enter how well it is known, in stops"));
    }
    Ok(Reference {
        kind,
        each: Stops::new(entry.each_doubt_stops)?,
        shared: Stops::new(entry.shared_doubt_stops)?,
        surface,
        note: entry.note.clone(),
    })
}

/// One level of a run.
pub(crate) fn level(record: &v1::Inspection, run: &v1::Run, entry: &v1::Level) -> Result<Level, Error> {
    let dials = Dials::of(&record.camera, &record.lens);
    let reference = reference(source(run, &entry.reference)?)?;
    let light = light(&entry.reference, &reference)?;
    let each_doubt = match entry.reference.own_doubt_stops {
        None => reference.each,
        Some(doubt) if (0.0..=10.0).contains(&doubt) => Stops::new(doubt)?,
        Some(doubt) => {
            return Err(Error::new(format!(
                "the doubt of a light must be between 0 and 10 stops, and {doubt} was given"
            )));
        }
    };
    let readings = entry
        .readings
        .iter()
        .enumerate()
        .map(|(i, one)| reading(one, &dials, &run.film_speed).map_err(|error| error.at(&format!("reading {}", i + 1))))
        .collect::<Result<Vec<_>, _>>()?;
    Ok(Level { reference: light.ev100, each_doubt, source: entry.reference.source as usize, readings })
}

fn place(run: usize, runs: usize, level: usize) -> String {
    if runs > 1 { format!("run {}, level {}", run + 1, level + 1) } else { format!("level {}", level + 1) }
}

/// A number with as many decimals as tell it apart, four at most.
fn shown(value: f64) -> String {
    let text = metrology::to_decimals(value, 4);
    let text = text.trim_end_matches('0');
    if text.ends_with('.') { format!("{text}0") } else { text.to_owned() }
}

/// Goes before a number that is an exposure value.
const EV: &str = "EV ";

/// Puts a number beside its text; a different one that stood there is worth a word.
fn put(slot: &mut Option<f64>, value: f64, unit: &str, what: impl FnOnce() -> String, notices: &mut Vec<String>) {
    if let Some(before) = slot.filter(|before| (before - value).abs() > DIFFERS * value.abs().max(1.0)) {
        let what = what();
        let mut letters = what.chars();
        let what: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
        notices.push(format!(
            "{what}: the file says {unit}{}, its marks say {unit}{}; the marks count.",
            shown(before),
            shown(value)
        ));
    }
    *slot = Some(value);
}

fn put_setting(entry: &mut v1::Setting, marks: &Marks, what: &dyn Fn() -> String, notices: &mut Vec<String>) {
    let of = |name: &'static str| move || format!("{}, {name}", what());
    put(&mut entry.f_number_exact, marks.f_number.exact().value(), "f/", of("f-number"), notices);
    put(&mut entry.time_s, marks.time.exact().value(), "", of("time in seconds"), notices);
    put(&mut entry.film_speed_exact, marks.film_speed.exact().value(), "ISO ", of("film speed"), notices);
}

/// Fills in the numbers beside the texts and gives what was noticed.
pub(crate) fn settle(record: &mut v1::Inspection) -> Result<Vec<String>, Error> {
    let mut notices = Vec::new();
    if let Some(volts) = optional(&record.battery.voltage, "voltage under load")? {
        put(&mut record.battery.voltage_v, volts, "", || "voltage under load in volts".to_owned(), &mut notices);
    } else {
        record.battery.voltage_v = None;
    }
    for finding in &record.findings {
        if catalogue::point(&finding.point).is_none() {
            let shown: String = finding.point.chars().take(60).collect();
            notices.push(format!("This version has no point “{shown}”; its finding was kept and is not judged."));
        }
    }
    super::shutter::settle(&mut record.shutter)?;
    super::aperture::settle(&mut record.aperture)?;
    super::light_tight::settle(record)?;
    super::film::settle(&mut record.film)?;
    let dials = Dials::of(&record.camera, &record.lens);
    let own = Dials { times: Vec::new(), f_numbers: Vec::new() };
    let runs = record.meter.runs.len();
    for (r, run) in record.meter.runs.iter_mut().enumerate() {
        references(run).map_err(|error| error.at("the reference"))?;
        let named: Vec<Result<Reference, Error>> =
            run.levels.iter().map(|entry| source(run, &entry.reference).and_then(reference)).collect();
        for ((l, entry), held) in run.levels.iter_mut().enumerate().zip(named) {
            let here = || place(r, runs, l);
            let of_reference = || format!("{}, reference", here());
            let held = held.map_err(|error| error.at(&here()))?;
            let light = light(&entry.reference, &held).map_err(|error| error.at(&here()))?;
            put(&mut entry.reference.ev100, light.ev100.value(), EV, of_reference, &mut notices);
            entry.reference.illuminance_lux = light.illuminance_lux;
            entry.reference.luminance_cd_m2 = light.luminance_cd_m2;
            if let (Some(setting), Some(Way::Setting)) =
                (&mut entry.reference.setting, Way::from_key(&entry.reference.way))
            {
                let marks = Marks::of(setting, &own).map_err(|error| error.at(&here()))?;
                put_setting(setting, &marks, &of_reference, &mut notices);
            }
            for (i, one) in entry.readings.iter_mut().enumerate() {
                let here = || format!("{}, reading {}", here(), i + 1);
                let said = reading(one, &dials, &run.film_speed).map_err(|error| error.at(&here()))?;
                put(&mut one.ev100, said.ev100.value(), EV, here, &mut notices);
                let step = || format!("{}, step in stops", here());
                put(&mut one.step_stops, said.step.value(), "", step, &mut notices);
                if one.way != MeterShows::Ev.key() {
                    for setting in [&mut one.setting, &mut one.other].into_iter().flatten() {
                        if let Ok(marks) = Marks::of(setting, &dials) {
                            put_setting(setting, &marks, &here, &mut notices);
                        }
                    }
                }
            }
        }
    }
    for (i, entry) in record.meter.consistency.iter_mut().enumerate() {
        let here = || format!("consistency check, setting {}", i + 1);
        let marks = Marks::of(&entry.setting, &dials).map_err(|error| error.at(&here()))?;
        put_setting(&mut entry.setting, &marks, &here, &mut notices);
    }
    Ok(notices)
}

fn camera(record: &v1::Inspection) -> Result<Camera, Error> {
    let entry = &record.camera;
    let kind = Kind::from_key(&entry.kind).ok_or_else(|| unknown("kind", &entry.kind, &Kind::ALL.map(Kind::key)))?;
    let meter_shows = match entry.meter_shows.as_str() {
        "" => None,
        key => Some(
            MeterShows::from_key(key)
                .ok_or_else(|| unknown("way the meter shows", key, &MeterShows::ALL.map(MeterShows::key)))?,
        ),
    };
    match entry.meter_between.as_str() {
        "" => {}
        key if Resolution::SCALES.iter().any(|resolution| resolution.key() == key) => {}
        key => return Err(unknown("way of reading between marks", key, &Resolution::SCALES.map(Resolution::key))),
    }
    if !["", "modern", "old", "stepless"].contains(&entry.time_series.as_str()) {
        return Err(unknown("series of times", &entry.time_series, &["modern", "old", "stepless"]));
    }
    let times =
        entry.times.iter().map(|mark| marks::time(mark, &[])).collect::<Result<Vec<_>, _>>().map_err(Error::from)?;
    let f_numbers =
        record.lens.f_numbers.iter().map(|mark| marks::f_number(mark, &[])).collect::<Result<Vec<_>, _>>()?;
    let mark = |text: &str| if text.trim().is_empty() { Ok(None) } else { marks::film_speed(text).map(Some) };
    let film_speeds = match (mark(&entry.film_speed_lowest)?, mark(&entry.film_speed_highest)?) {
        (Some(lowest), Some(highest)) if lowest.exact() > highest.exact() => {
            return Err(Error::new(format!(
                "the lowest film speed must not be above the highest, and {} and {} were given",
                lowest.text(),
                highest.text()
            )));
        }
        (Some(lowest), Some(highest)) => Some((lowest, highest)),
        _ => None,
    };
    Ok(Camera {
        kind,
        maker: entry.maker.clone(),
        model: entry.model.clone(),
        serial: entry.serial.clone(),
        times,
        stepless: entry.time_series == "stepless",
        automatic_aperture: entry.automatic_aperture,
        f_numbers,
        lens: record.lens.name.clone(),
        lens_serial: record.lens.serial.clone(),
        film_speeds,
        meter_shows,
        battery_wanted: record.battery.wanted.clone(),
        battery_fitted: record.battery.fitted.clone(),
        battery_voltage_v: record.battery.voltage_v,
    })
}

/// The domain's inspection.
pub(crate) fn domain(record: &v1::Inspection) -> Result<Inspection, Error> {
    let camera = camera(record)?;
    let mut findings = Vec::with_capacity(record.findings.len());
    for entry in &record.findings {
        let condition = Condition::from_key(&entry.condition)
            .ok_or_else(|| unknown("condition", &entry.condition, &Condition::ALL.map(Condition::key)))
            .map_err(|error| error.at(&format!("point {}", entry.point.chars().take(40).collect::<String>())))?;
        // A point of another version is kept in the record and not judged; `settle` says so.
        if let Some(point) = catalogue::point(&entry.point) {
            findings.push(Finding { point, condition, note: entry.note.clone() });
        }
    }
    let runs = record.meter.runs.len();
    let mut meter = None;
    for (r, run) in record.meter.runs.iter().enumerate() {
        let held = references(run).map_err(|error| error.at("the reference"))?;
        let levels = run
            .levels
            .iter()
            .enumerate()
            .map(|(l, entry)| level(record, run, entry).map_err(|error| error.at(&place(r, runs, l))))
            .collect::<Result<Vec<_>, _>>()?;
        if !(run.tolerance_stops > 0.0 && run.tolerance_stops <= 10.0) {
            return Err(Error::new(format!(
                "the tolerance must be above 0 and at most 10 stops, and {} was given",
                run.tolerance_stops
            )));
        }
        let film_speed = match run.film_speed.trim() {
            "" => None,
            text => Some(marks::film_speed(text)?),
        };
        if !levels.is_empty() {
            let run = Run {
                levels,
                shared_doubts: held.iter().map(|reference| reference.shared).collect(),
                tolerance: Stops::new(run.tolerance_stops)?,
                film_speed,
                dial: camera.film_speeds.clone(),
            };
            meter = Some(ReferencedRun { references: held, run });
        }
    }
    let dials = Dials::of(&record.camera, &record.lens);
    let consistency = record
        .meter
        .consistency
        .iter()
        .enumerate()
        .map(|(i, entry)| {
            let marks = Marks::of(&entry.setting, &dials)?;
            let resolution = Resolution::from_key(&entry.resolution)
                .filter(|resolution| Resolution::SCALES.contains(resolution))
                .ok_or_else(|| unknown("resolution", &entry.resolution, &Resolution::SCALES.map(Resolution::key)))
                .map_err(|error| error.at(&format!("consistency check, setting {}", i + 1)))?;
            Ok(Equivalent {
                time: marks.time,
                f_number: marks.f_number,
                film_speed: marks.film_speed,
                step: Stops::new(resolution.step_stops())?,
            })
        })
        .collect::<Result<Vec<_>, Error>>()?;
    let amount = |text: &str, what: &str| {
        optional(text, what).and_then(|amount| match amount {
            Some(amount) if amount < 0.0 => {
                Err(Error::new(format!("the {what} must not be below 0, and {amount} was given")))
            }
            amount => Ok(amount),
        })
    };
    let costs = Costs {
        value: amount(&record.costs.value, "value")?,
        mending: amount(&record.costs.mending, "cost of mending")?,
        currency: record.costs.currency.clone(),
        for_parts: record.costs.for_parts,
    };
    let shutter = super::shutter::check(record, &camera.times)?;
    let (aperture, aperture_picture) = super::aperture::check(record, &camera.f_numbers)?;
    let glare = super::aperture::glare(record)?;
    let light_tight = super::light_tight::check(&record.light_tight)?;
    let test_roll = super::test_roll::roll(record)?;
    let film = super::film::in_hand(&record.film)?;
    super::wording::check(record)?;
    Ok(Inspection {
        camera,
        findings,
        meter,
        shutter,
        aperture,
        glare,
        aperture_picture,
        consistency,
        costs,
        light_tight,
        test_roll,
        film,
    })
}
