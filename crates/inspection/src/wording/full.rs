//! The full text: who it is, the outcome, what was measured, what was looked at, what was not, what comes with it.
//!
//! Not here: words of the measurements ([`super::measured`]).

use super::{Said, measured, name, outcome};
use crate::catalogue::{self, Area, Point};
use crate::finding::{Condition, Finding};
use crate::light_tight;
use crate::outcome::Evidence;
use crate::whole::{Examined, Inspection};
use crate::words;

/// The point at which times are judged by ear.
const BY_EAR: &str = "marked-times";
/// The point whose note lists what comes with the camera.
const ACCESSORIES: &str = "accessories";

fn at(point: &Point) -> Evidence {
    Evidence::Point(point.key, point.area)
}

fn plain(text: String, evidence: Vec<Evidence>) -> Said {
    Said { paragraph: 0, text, evidence }
}

/// `“brassing at the corners”`, or nothing.
fn quoted(finding: &Finding) -> String {
    match finding.note.trim() {
        "" => String::new(),
        note => format!(" “{note}”"),
    }
}

fn identity(inspection: &Inspection, examined: &Examined) -> Vec<Said> {
    let camera = &inspection.camera;
    let mut parts = vec![plain(format!("{}; {}.", name(inspection), camera.kind.words().to_lowercase()), Vec::new())];
    let wanted = camera.battery_wanted.trim();
    let fitted = camera.battery_fitted.trim();
    let load = camera.battery_voltage_v.map(|volts| format!("{} V under load", words::plain(volts, 2)));
    let battery: Vec<String> = [
        (!wanted.is_empty()).then(|| format!("wants {wanted}")),
        (!fitted.is_empty()).then(|| format!("fitted: {fitted}")),
        load,
    ]
    .into_iter()
    .flatten()
    .collect();
    if !battery.is_empty() {
        parts.push(plain(format!("Battery: {}.", battery.join("; ")), Vec::new()));
    }
    let why: Vec<Evidence> = examined.outcome.reasons.iter().map(|reason| reason.evidence).collect();
    parts.push(plain(format!("Outcome of the check: {}.", outcome(examined.outcome.word)), why));
    parts.extend(
        examined
            .outcome
            .limits
            .iter()
            .map(|limit| plain(format!("To be allowed for: {}", limit.text), vec![limit.evidence])),
    );
    parts
}

/// What was found at the seals by finger and by lamp.
fn seals(inspection: &Inspection) -> Vec<Said> {
    if inspection.light_tight.looks.is_empty() {
        return Vec::new();
    }
    let Ok(seen) = inspection.light_tight.seen(inspection.camera.kind) else { return Vec::new() };
    let evidence = |one: &light_tight::Seen| catalogue::point(one.place.point).map(at).into_iter().collect::<Vec<_>>();
    seen.iter()
        .map(|one| (one, one.risk()))
        .filter(|(_, risk)| !risk.is_empty())
        .map(|(one, risk)| plain(format!("{}: {risk}", words::sentence_case(one.place.name)), evidence(one)))
        .collect()
}

/// The points of an area that were looked at: what is off one by one, then what is in order by name.
fn area(inspection: &Inspection, area: Area) -> Vec<Said> {
    let (mut off, mut fine, mut none, mut absent) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut heard = None;
    for point in catalogue::points_of(&inspection.camera).filter(|point| point.area == area) {
        let Some(finding) = inspection.finding(point) else { continue };
        match finding.condition {
            Condition::NotChecked => {}
            _ if point.key == ACCESSORIES => {}
            Condition::Sound if point.key == BY_EAR => {
                heard = Some(plain(
                    format!("The marked times sound right by ear, which is no measurement.{}", quoted(finding)),
                    vec![at(point)],
                ));
            }
            Condition::Sound if finding.note.trim().is_empty() && point.names_fault => none.push(point),
            Condition::Sound if finding.note.trim().is_empty() => fine.push(point),
            Condition::Sound => off.push((point, finding, "in order")),
            Condition::NotFitted => absent.push(point),
            condition => off.push((point, finding, condition.words())),
        }
    }
    let mut parts: Vec<Said> = off
        .into_iter()
        .map(|(point, finding, word)| {
            let looks = match finding.condition {
                Condition::Worn => format!(" ({})", point.looks[1]),
                Condition::Faulty => format!(" ({})", point.looks[2]),
                Condition::Failed => format!(" ({})", point.looks[3]),
                _ => String::new(),
            };
            plain(format!("{}: {word}{looks}.{}", words::sentence_case(point.name), quoted(finding)), vec![at(point)])
        })
        .collect();
    let list = |points: &[&'static Point]| points.iter().map(|point| point.name).collect::<Vec<_>>().join(", ");
    let all = |points: &[&'static Point]| points.iter().map(|point| at(point)).collect::<Vec<_>>();
    if !fine.is_empty() {
        parts.push(plain(format!("Looked at and in order: {}.", list(&fine)), all(&fine)));
    }
    if !none.is_empty() {
        parts.push(plain(format!("Looked for and not found: {}.", list(&none)), all(&none)));
    }
    parts.extend(heard);
    if !absent.is_empty() {
        parts.push(plain(format!("Not on this camera: {}.", list(&absent)), all(&absent)));
    }
    if let Some(first) = parts.first_mut() {
        first.text = format!("{}. {}", area.words(), first.text);
    }
    parts
}

fn not_checked(inspection: &Inspection, examined: &Examined) -> Vec<Said> {
    let open = &examined.outcome.unchecked;
    let (done, all) = inspection.progress();
    if open.is_empty() {
        return vec![plain(format!("All {all} points of the check were looked at."), Vec::new())];
    }
    let names: Vec<String> = open.iter().map(|one| words::lower_first(&one.text)).collect();
    vec![plain(
        format!(
            "{done} of {all} points were looked at. Not checked, so that nothing is said about it: {}.",
            names.join(", ")
        ),
        open.iter().map(|one| one.evidence).collect(),
    )]
}

fn accessories(inspection: &Inspection) -> Vec<Said> {
    let Some(point) = catalogue::point(ACCESSORIES) else { return Vec::new() };
    let Some(finding) = inspection.finding(point).filter(|finding| finding.condition.is_checked()) else {
        return Vec::new();
    };
    let note = finding.note.trim();
    let text = match finding.condition {
        Condition::NotFitted | Condition::Failed if note.is_empty() => "Nothing comes with it.".to_owned(),
        _ if note.is_empty() => return Vec::new(),
        _ => format!("Comes with it: {}.", note.trim_end_matches('.')),
    };
    vec![plain(text, vec![at(point)])]
}

/// Every sentence of the full text, paragraph by paragraph.
pub(super) fn sentences(inspection: &Inspection, examined: &Examined) -> Vec<Said> {
    let mut paragraphs = vec![identity(inspection, examined)];
    paragraphs.extend(measured::in_full(inspection, examined));
    paragraphs.push(seals(inspection));
    paragraphs.extend(Area::ALL.into_iter().map(|one| area(inspection, one)));
    paragraphs.push(accessories(inspection));
    paragraphs.push(not_checked(inspection, examined));
    paragraphs.push(vec![plain(
        "Each ± is an expanded uncertainty at 95 %; tolerances are common practice unless a source is named."
            .to_owned(),
        Vec::new(),
    )]);
    paragraphs
        .into_iter()
        .filter(|paragraph| !paragraph.is_empty())
        .enumerate()
        .flat_map(|(i, paragraph)| paragraph.into_iter().map(move |said| Said { paragraph: i, ..said }))
        .collect()
}
