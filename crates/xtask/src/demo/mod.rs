//! The demo bench: four invented cameras, one of them before and after its service, with readings computed from a known truth by a seeded generator, written to
//! `demo/bench.json`; shutters by light, by sound and by a clip, a strip of film. The truth is told in `demo/README.md`. Not here: any real maker, model or person.

mod clip;
mod film;
mod light;
mod sound;

use record::page::TakeAbout;
use record::v1::{Finding, Inspection, Level, Reading, Reference, ReferenceValue, Run, Setting, Take};

use crate::shell::root;

/// The same demo every time.
const SEED: u64 = 0x1A3B_5C7D;

/// Numbers that look like chance and are the same everywhere (SplitMix64, S. Vigna's published constants, from memory).
struct Chance(u64);

impl Chance {
    /// Between -1 and 1.
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 52) as f64 - 1.0
    }
}

struct Camera {
    names: [&'static str; 4],
    lens: &'static str,
    /// The marks of its ring.
    f_numbers: &'static [&'static str],
    kind: &'static str,
    day: &'static str,
    /// Meter error over the light [stops].
    truth: fn(f64) -> f64,
    /// Build of the shutter, and its error over the exact time [stops]; no build: nobody measured it.
    shutter: (&'static str, fn(f64) -> f64),
    /// How it was caught.
    ways: &'static [Way],
    lights: &'static [f64],
    /// What was not sound: point, condition, note.
    findings: &'static [(&'static str, &'static str, &'static str)],
    /// Whether every other point was looked at and found sound.
    thorough: bool,
}

/// A way in which a shutter was caught.
struct Way {
    /// `light`, `sound` or `video`.
    signal: &'static str,
    /// The marked times that were fired; all of them where there is none.
    marks: &'static [&'static str],
}

const BY_LIGHT: Way = Way { signal: "light", marks: &[] };
const BY_SOUND: Way =
    Way { signal: "sound", marks: &["1/4", "1/8", "1/15", "1/30", "1/60", "1/125", "1/250", "1/500"] };
const BY_CLIP: Way = Way { signal: "video", marks: &["1/2", "1/4", "1/8", "1/15", "1/30", "1/60"] };

const CAMERAS: [Camera; 5] = [
    Camera {
        names: ["01a5b000-0000-7000-8000-000000000001", "Halden", "35 R", "41 207"],
        lens: "Halden 50 mm f/2",
        f_numbers: &["2", "2.8", "4", "5.6", "8", "11", "16"],
        kind: "single_lens_reflex",
        day: "2026-10-30T10:12:00Z",
        truth: |_| 0.05,
        shutter: ("cloth", |time| if time < 0.003 { 0.12 } else { 0.02 }),
        ways: &[BY_LIGHT, BY_SOUND],
        lights: &[5.0, 7.0, 9.0, 11.0, 13.0],
        findings: &[
            ("paint-and-leather", "worn", "brassing at the corners"),
            ("film-window", "not_fitted", ""),
            ("accessories", "sound", "leather case, front cap, strap"),
        ],
        thorough: true,
    },
    Camera {
        names: ["01a5b000-0000-7000-8000-000000000002", "Corvane", "Tessel 2", "8831"],
        lens: "Corvane 50 mm f/1.8",
        f_numbers: &["1.8", "2.8", "4", "5.6", "8", "11", "16"],
        kind: "single_lens_reflex",
        day: "2026-11-06T15:40:00Z",
        truth: |_| -0.7,
        shutter: ("cloth", |time| if time > 0.4 { 0.55 } else { -0.04 }),
        ways: &[BY_LIGHT],
        lights: &[6.0, 8.0, 10.0, 12.0, 14.0],
        findings: &[
            ("battery-fitted", "worn", "1.5 V cell where 1.35 V is wanted"),
            ("hinge-seal", "worn", ""),
            ("latch-seal", "sound", "new foam"),
        ],
        thorough: true,
    },
    // The same camera before its service: most times long, a seal gone.
    Camera {
        names: ["01a5b000-0000-7000-8000-000000000005", "Corvane", "Tessel 2", "8831"],
        lens: "Corvane 50 mm f/1.8",
        f_numbers: &["1.8", "2.8", "4", "5.6", "8", "11", "16"],
        kind: "single_lens_reflex",
        day: "2026-09-12T11:20:00Z",
        truth: |_| -0.7,
        shutter: ("cloth", |time| {
            if time < 0.0015 {
                -0.8
            } else if time > 0.03 {
                0.7
            } else {
                0.1
            }
        }),
        ways: &[BY_LIGHT],
        lights: &[6.0, 8.0, 10.0, 12.0, 14.0],
        findings: &[
            ("battery-fitted", "worn", "1.5 V cell where 1.35 V is wanted"),
            ("hinge-seal", "worn", ""),
            ("latch-seal", "failed", "crumbs in the film chamber"),
        ],
        thorough: true,
    },
    Camera {
        names: ["01a5b000-0000-7000-8000-000000000003", "Brindle", "Wayfarer C", "B 1193"],
        lens: "Brindle 40 mm f/2.8",
        f_numbers: &["2.8", "4", "5.6", "8", "11", "16"],
        kind: "fixed_lens_compact",
        day: "2026-11-13T09:05:00Z",
        truth: |light| if light < 8.0 { 0.6 * (8.0 - light) } else { 0.05 },
        shutter: ("leaf", |time| if time < 0.003 { 0.25 } else { 0.05 }),
        ways: &[BY_LIGHT],
        lights: &[4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 12.0, 14.0],
        findings: &[
            ("channel-seals", "failed", "turned to tar, black on the door"),
            ("latch-seal", "faulty", "sticky"),
            ("edge-residue", "faulty", "strings of it"),
        ],
        thorough: true,
    },
    Camera {
        names: ["01a5b000-0000-7000-8000-000000000004", "Osk", "Folio 6", ""],
        lens: "Osk 75 mm f/3.5",
        f_numbers: &["3.5", "5.6", "8", "11", "16", "22"],
        kind: "folding",
        day: "2026-11-20T17:30:00Z",
        truth: |_| 0.0,
        shutter: ("leaf", |time| if time > 0.2 { 0.3 } else { 0.06 }),
        ways: &[BY_CLIP],
        lights: &[],
        findings: &[("front-glass", "sound", ""), ("bellows-corners", "worn", "worn at two corners, looks dark")],
        thorough: false,
    },
];

/// The camera of which a test roll was read.
const ROLL_OF: &str = "Brindle";

/// Computes and writes the demo.
pub fn run() -> Result<(), String> {
    let mut chance = Chance(SEED);
    let inspections = CAMERAS.iter().map(|camera| make(camera, &mut chance)).collect::<Result<Vec<_>, _>>()?;
    let text = record::write_bench(&inspections, CAMERAS[4].day).map_err(|error| error.to_string())?;
    let path = root().join("demo/bench.json");
    std::fs::write(&path, text).map_err(|error| format!("cannot write {}: {error}", path.display()))?;
    println!("wrote {}", path.display());
    kept(&inspections)
}

/// The kept files of version 1, which is not released yet and so follows the shapes: the demo's cameras anew, every other file read
/// and written again. From its release on they are never written again, and this goes.
fn kept(inspections: &[Inspection]) -> Result<(), String> {
    let folder = root().join("tests/records/v1");
    let listed = std::fs::read_dir(&folder).map_err(|error| format!("cannot read {}: {error}", folder.display()))?;
    for path in listed.filter_map(|entry| Some(entry.ok()?.path())) {
        let said = |error: String| format!("{}: {error}", path.display());
        let text = std::fs::read_to_string(&path).map_err(|error| said(error.to_string()))?;
        let taken = record::read_file(&text).map_err(|error| said(error.to_string()))?;
        let old = taken.inspections.first().ok_or_else(|| said("it holds no inspection".to_owned()))?;
        let new = match inspections.iter().find(|one| one.id == old.id) {
            Some(one) => one.clone(),
            None => record::view(old.clone()).map_err(|error| said(error.to_string()))?.inspection,
        };
        let text = record::write_file(&new).map_err(|error| said(error.to_string()))?;
        std::fs::write(&path, text).map_err(|error| said(error.to_string()))?;
        println!("wrote {}", path.display());
    }
    Ok(())
}

fn make(camera: &Camera, chance: &mut Chance) -> Result<Inspection, String> {
    let said = |error: record::Error| error.to_string();
    let [id, maker, model, serial] = camera.names.map(str::to_owned);
    let first = record::new_inspection(camera.kind, &id, camera.day).map_err(said)?;
    let mut made = first.inspection;
    (made.camera.maker, made.camera.model, made.camera.serial) = (maker, model, serial);
    made.lens.name = camera.lens.to_owned();
    made.camera.time_series = "modern".to_owned();
    made.camera.times = record::lists().time_series[0].marks.clone();
    made.lens.f_numbers = camera.f_numbers.iter().map(|mark| (*mark).to_owned()).collect();
    (made.camera.film_speed_lowest, made.camera.film_speed_highest) = ("25".to_owned(), "1600".to_owned());
    if !camera.lights.is_empty() {
        made.camera.meter_shows = "ev".to_owned();
        made.battery.wanted = "1.35 V, size 625".to_owned();
        made.meter.runs.push(levels(camera, chance));
    }
    if !camera.shutter.0.is_empty() {
        made.shutter.build = camera.shutter.0.to_owned();
        made.shutter.takes = takes(camera, &made.camera.times, chance)?;
    }
    let finding = |point: &str, condition: &str, note: &str| Finding {
        point: point.to_owned(),
        condition: condition.to_owned(),
        note: note.to_owned(),
        photos: Vec::new(),
        at: camera.day.to_owned(),
    };
    for point in first.view.areas.iter().flat_map(|area| &area.points) {
        match camera.findings.iter().find(|(key, ..)| *key == point.key) {
            Some((key, condition, note)) => made.findings.push(finding(key, condition, note)),
            None if camera.thorough => made.findings.push(finding(&point.key, "sound", "")),
            None => {}
        }
    }
    if camera.names[1] == ROLL_OF {
        // Chance of its own, so that no other number of the demo changes.
        made.test_roll.exposed = camera.day.to_owned();
        made.test_roll.frames.push(film::leaking(camera, &mut Chance(SEED ^ 0xF17A))?);
    }
    record::accept(made.clone(), camera.day).map(|accepted| accepted.inspection).map_err(said)
}

/// What is known of a take of this camera before it is measured.
fn about(camera: &Camera, signal: &str, source: &str, capture: &str, asked: &[String]) -> TakeAbout {
    TakeAbout {
        started: camera.day.to_owned(),
        signal: signal.to_owned(),
        source: source.to_owned(),
        capture: vec![capture.to_owned()],
        build: camera.shutter.0.to_owned(),
        asked: asked.to_vec(),
        ..TakeAbout::default()
    }
}

/// True times of these marks \[s\], each fired so often.
fn fired(
    camera: &Camera,
    marks: &[String],
    often: usize,
    chance: &mut Chance,
) -> Result<(Vec<String>, Vec<f64>), String> {
    const SPREAD_STOPS: f64 = 0.02;
    let asked: Vec<String> = marks.iter().flat_map(|mark| vec![mark.clone(); often]).collect();
    let times = asked
        .iter()
        .map(|mark| {
            let exact = photometry::TimeMark::parse(mark, &[]).map_err(|error| error.to_string())?.exact().value();
            Ok(exact * libm::exp2((camera.shutter.1)(exact) + SPREAD_STOPS * chance.next()))
        })
        .collect::<Result<Vec<f64>, String>>()?;
    Ok((asked, times))
}

/// The shutter of a camera as it was caught: two shots of every marked time by each way.
fn takes(camera: &Camera, marks: &[String], chance: &mut Chance) -> Result<Vec<Take>, String> {
    camera
        .ways
        .iter()
        .map(|way| {
            let heard: Vec<String> = marks
                .iter()
                .filter(|mark| way.marks.is_empty() || way.marks.contains(&mark.as_str()))
                .cloned()
                .collect();
            let (asked, times) = fired(camera, &heard, 2, chance)?;
            let measured = match way.signal {
                "video" => {
                    let about = TakeAbout {
                        duty: clip::DUTY.to_string(),
                        ..about(camera, "video", "clip of the open back", "240 frames a second, computed", &asked)
                    };
                    record::measure_frames(&clip::frames(&times, chance), &about)
                }
                "sound" => {
                    let about = about(camera, "sound", "microphone", "48 kHz, computed; mirror locked up", &asked);
                    record::measure_recording(vec![sound::series(&times, chance)], sound::RATE_HZ, &about)
                }
                _ => {
                    let about = about(camera, "light", "photocell in the film gate", "48 kHz, computed", &asked);
                    record::measure_recording(vec![light::trace(&times, chance)], light::RATE_HZ, &about)
                }
            };
            measured.map(|measured| measured.take).map_err(|error| error.to_string())
        })
        .collect()
}

fn levels(camera: &Camera, chance: &mut Chance) -> Run {
    let shared = 0.08 * chance.next();
    let levels = camera
        .lights
        .iter()
        .map(|light| {
            let reference = light + shared + 0.1 * chance.next();
            let shown = light + (camera.truth)(*light) + 0.05 * chance.next();
            Level {
                at: camera.day.to_owned(),
                reference: ReferenceValue {
                    way: "ev".to_owned(),
                    typed: format!("{reference:.1}"),
                    ..ReferenceValue::default()
                },
                readings: vec![Reading {
                    way: "ev".to_owned(),
                    typed: format!("{shown:.1}"),
                    resolution: "0.1".to_owned(),
                    setting: Some(Setting { film_speed: "100".to_owned(), ..Setting::default() }),
                    ..Reading::default()
                }],
            }
        })
        .collect();
    Run {
        started: camera.day.to_owned(),
        reference: Reference {
            kind: "meter".to_owned(),
            each_doubt_stops: 0.1,
            shared_doubt_stops: 0.05,
            surface: String::new(),
            note: "checked against a lamp in September".to_owned(),
        },
        more_references: Vec::new(),
        tolerance_stops: 0.5,
        film_speed: "400".to_owned(),
        levels,
    }
}
