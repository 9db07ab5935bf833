//! The sheet: one page about one camera, two at most, block by block, for the printer and for the file beside it.
//!
//! Holds what stands on it and in which order. Not here: markup and style, which belong to whoever prints it (`www`, `cli`).

mod test_roll;

use timing::State;

use crate::aperture;
use crate::catalogue::{self, Area};
use crate::consistency::Consistency;
use crate::drawing::{self, Drawing};
use crate::film_error::Usage;
use crate::finding::Condition;
use crate::meter::Judgement;
use crate::outcome::Reason;
use crate::reference::Reference;
use crate::remedy::DialAdvice;
use crate::shutter;
use crate::whole::{Examined, Inspection};
use crate::words;

/// The sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Title of the document.
    pub title: String,
    /// The blocks in order.
    pub blocks: Vec<Block>,
    /// How much smaller its print has to be to stay on two pages: 0 as usual, 1 small, 2 smallest.
    pub density: u8,
}

/// Letters from which the print gets smaller, and smallest; a drawing counts as so many letters (tried on A4 and Letter).
const DENSE_LETTERS: [usize; 2] = [6_500, 10_500];
const DRAWING_LETTERS: usize = 500;

impl Block {
    /// About how much room it takes, in letters.
    fn letters(&self) -> usize {
        let all = |texts: &[String]| texts.iter().map(|text| text.chars().count() + 20).sum::<usize>();
        match self {
            Block::Title(text) | Block::Heading(text) => text.chars().count() + 120,
            Block::Paragraph(text) | Block::Small(text) => text.chars().count() + 40,
            Block::Outcome(..) => 120,
            Block::List(items) => all(items),
            Block::Facts(facts) => facts.iter().map(|(name, value)| name.len().max(value.chars().count()) + 30).sum(),
            Block::Table(_, rows) => rows.len() * 90,
            Block::Drawing(_) | Block::Picture(..) => DRAWING_LETTERS,
            Block::Label(line, ..) => line.chars().count() + 200,
        }
    }
}

/// One block of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// The camera's name.
    Title(String),
    /// A heading.
    Heading(String),
    /// The outcome: key and words.
    Outcome(&'static str, &'static str),
    /// A paragraph.
    Paragraph(String),
    /// A line in small print.
    Small(String),
    /// A list.
    List(Vec<String>),
    /// Pairs of name and value.
    Facts(Vec<(String, String)>),
    /// Column heads and rows.
    Table(Vec<String>, Vec<Vec<String>>),
    /// A drawing.
    Drawing(Drawing),
    /// A kept picture by its id, what it shows, and what is laid over it.
    Picture(String, String, Option<Drawing>),
    /// The strip to cut off and fold over the box: its line, its small print, its code.
    Label(String, String, Option<Drawing>),
}

/// What is printed at the foot.
#[derive(Clone, Debug)]
pub struct Imprint {
    /// Program and version.
    pub program: String,
    /// When the sheet was made, as text.
    pub made: String,
    /// When the camera was looked at last, as text.
    pub looked_at: String,
    /// Id of the inspection.
    pub id: String,
    /// Its revision.
    pub revision: u32,
    /// The person's notes.
    pub notes: String,
    /// The line for the label, as it stands.
    pub line: String,
    /// The fingerprint of what was entered and caught.
    pub fingerprint: String,
    /// Pictures that the person wants on the sheet: id and what it shows.
    pub pictures: Vec<(String, String)>,
}

/// Composes the sheet.
pub fn compose(inspection: &Inspection, examined: &Examined, imprint: &Imprint) -> Sheet {
    let camera = &inspection.camera;
    let outcome = &examined.outcome;
    let mut blocks = vec![
        Block::Title(camera.title()),
        Block::Facts(identity(inspection, imprint)),
        Block::Outcome(outcome.word.key(), outcome.word.words()),
        Block::Paragraph(outcome.sentence.clone()),
    ];
    let listed = |blocks: &mut Vec<Block>, heading: &str, reasons: &[Reason]| {
        if !reasons.is_empty() {
            blocks.push(Block::Heading(heading.to_owned()));
            blocks.push(Block::List(reasons.iter().map(|reason| reason.text.clone()).collect()));
        }
    };
    let heads = if outcome.word == crate::outcome::Word::ReadyWithLimits { "Limits" } else { "Reasons" };
    // What was not checked has its own list below and need not stand twice.
    let reasons: Vec<Reason> =
        outcome.reasons.iter().filter(|reason| !reason.text.starts_with("Not checked")).cloned().collect();
    listed(&mut blocks, heads, &reasons);
    if outcome.word != crate::outcome::Word::ReadyWithLimits {
        listed(&mut blocks, "Limits", &outcome.limits);
    }
    listed(&mut blocks, "Remedies", &together(&outcome.remedies));
    if let (Some(judgement), Some(run)) = (&examined.meter, &inspection.meter) {
        let against: Vec<String> = run.references.iter().map(Reference::words).collect();
        meter(&mut blocks, judgement, &against.join("; "));
    }
    if let Some(judgement) = examined.shutter.as_ref().filter(|judgement| !judgement.rows.is_empty()) {
        shutter(&mut blocks, judgement);
    }
    if let Some(judgement) = examined.aperture.as_ref().filter(|judgement| !judgement.rows.is_empty()) {
        openings(&mut blocks, judgement, inspection);
    }
    film(&mut blocks, examined);
    if let Some(glare) = &examined.glare {
        blocks.push(Block::Heading("Light scattered by the lens".to_owned()));
        blocks.push(Block::Paragraph(glare.sentence.clone()));
        blocks.push(Block::Facts(glare.figures.clone()));
        blocks.push(Block::Small(glare.notices.join(" ")));
    }
    if let Some(consistency) = &examined.consistency {
        dials(&mut blocks, consistency);
    }
    seals(&mut blocks, inspection, examined);
    test_roll::add(&mut blocks, inspection, &examined.test_roll);
    findings(&mut blocks, inspection);
    if !outcome.unchecked.is_empty() {
        blocks.push(Block::Heading(format!("Not checked: {}", outcome.unchecked.len())));
        let names: Vec<String> = outcome
            .unchecked
            .iter()
            .map(
                |unchecked| {
                    if unchecked.matters { format!("{} (matters)", unchecked.text) } else { unchecked.text.clone() }
                },
            )
            .collect();
        blocks.push(Block::Paragraph(format!("{}.", names.join("; "))));
    }
    listed(&mut blocks, "Cautions", &outcome.cautions);
    if !imprint.notes.trim().is_empty() {
        blocks.push(Block::Heading("Notes".to_owned()));
        blocks.push(Block::Paragraph(imprint.notes.trim().to_owned()));
    }
    if !imprint.pictures.is_empty() {
        blocks.push(Block::Heading("Pictures".to_owned()));
        blocks.extend(imprint.pictures.iter().map(|(id, shows)| Block::Picture(id.clone(), shows.clone(), None)));
    }
    blocks.push(Block::Small(format!(
        "Over and under are what film gets. Each ± is an expanded uncertainty at 95 %. Tolerances are common practice unless \
         another source is named. Looked at {}; sheet made {} with {}. Inspection {}, revision {}, fingerprint {}: a file with the \
         same fingerprint holds what this sheet was made from.",
        imprint.looked_at, imprint.made, imprint.program, imprint.id, imprint.revision, imprint.fingerprint
    )));
    blocks.push(label(imprint));
    let letters = blocks.iter().map(Block::letters).sum::<usize>();
    let density = DENSE_LETTERS.iter().filter(|most| letters > **most).count() as u8;
    Sheet { title: format!("{} – inspection sheet", camera.title()), blocks, density }
}

/// Longest line on a code: what a phone's camera still reads from a printed square of 25 mm (judged, not measured).
const CODE_LETTERS: usize = 220;

/// The strip for the box.
fn label(imprint: &Imprint) -> Block {
    let short: String = match imprint.line.char_indices().nth(CODE_LETTERS) {
        Some((end, _)) => format!("{}…", &imprint.line[..end]),
        None => imprint.line.clone(),
    };
    let small = format!("{} · {}", imprint.looked_at, imprint.fingerprint);
    let code = drawing::code(&format!("{short} {} {}", imprint.looked_at, imprint.fingerprint));
    Block::Label(imprint.line.clone(), small, code)
}

fn identity(inspection: &Inspection, imprint: &Imprint) -> Vec<(String, String)> {
    let camera = &inspection.camera;
    let (done, all) = inspection.progress();
    let mut facts = vec![("Kind".to_owned(), camera.kind.words().to_owned())];
    let mut fact = |name: &str, value: String| {
        if !value.trim().is_empty() {
            facts.push((name.to_owned(), value));
        }
    };
    let with_serial = match camera.lens_serial.trim() {
        "" => camera.lens.clone(),
        serial => format!("{} · {serial}", camera.lens),
    };
    fact("Lens", with_serial);
    if let (Some(first), Some(last)) = (camera.times.first(), camera.times.last()) {
        fact("Marked times", format!("{} to {}", first.label(), last.label()));
    }
    if let Some((lowest, highest)) = &camera.film_speeds {
        fact("Film speeds", format!("{} to {}", lowest.text(), highest.text()));
    }
    fact("Battery wanted", camera.battery_wanted.clone());
    fact("Battery fitted", camera.battery_fitted.clone());
    if let Some(voltage) = camera.battery_voltage_v {
        fact("Under load", format!("{} V", words::plain(voltage, 2)));
    }
    fact("Looked at", format!("{}, {done} of {all} points", imprint.looked_at));
    facts
}

fn meter(blocks: &mut Vec<Block>, judgement: &Judgement, reference: &str) {
    blocks.push(Block::Heading("Meter".to_owned()));
    blocks.push(Block::Paragraph(format!(
        "{}, {}. {}: {}. {}",
        words::sentence_case(&judgement.headline()),
        judgement.headline_doubt(),
        words::sentence_case(judgement.call.word()),
        judgement.call_reason(),
        judgement.pattern
    )));
    if let DialAdvice::Set(setting) = &judgement.remedy {
        blocks.push(Block::Paragraph(format!("{} {}", setting.text(), setting.left_text())));
    }
    blocks.push(Block::Drawing(drawing::meter_plot(judgement)));
    let rows = judgement
        .levels
        .iter()
        .map(|level| {
            vec![
                words::ev(level.reference.value()),
                level.reading_words.clone(),
                words::film_error(-level.error.value()),
                format!("±{}", words::doubt(level.error.expanded_95())),
            ]
        })
        .collect();
    let heads = ["Light", "Camera says", "Film gets", "Doubt"].map(str::to_owned).to_vec();
    blocks.push(Block::Table(heads, rows));
    let mut lines = vec![format!("Reference: {reference}.")];
    lines.extend(judgement.notices.iter().cloned());
    blocks.push(Block::Small(lines.join(" ")));
}

fn shutter(blocks: &mut Vec<Block>, judgement: &shutter::Judgement) {
    blocks.push(Block::Heading("Shutter".to_owned()));
    blocks.push(Block::Paragraph(format!(
        "{}: {}. {}",
        words::sentence_case(judgement.call.word()),
        judgement.headline,
        judgement.pattern
    )));
    blocks.extend(drawing::shutter_plot(judgement).map(Block::Drawing));
    let rows = judgement
        .rows
        .iter()
        .map(|row| {
            let error = match (row.error, row.state >= State::Probable) {
                (Some(error), true) => words::film_error_with_doubt(error),
                (Some(error), false) => words::film_error_known(error.value(), error.expanded_95()),
                (None, _) => String::new(),
            };
            let time =
                row.time().map_or_else(|| State::CannotTell.words().to_owned(), |time| shutter::time(time.value()));
            vec![row.mark.label(), time, error, row.how_short(), row.call.word().to_owned()]
        })
        .collect();
    let heads = ["Marked", "Measured", "Film gets", "By", "Call"].map(str::to_owned).to_vec();
    blocks.push(Block::Table(heads, rows));
    let mut lines = vec![format!("Tolerance {}.", judgement.tolerance.words())];
    lines.extend(judgement.others.iter().cloned());
    lines.extend(judgement.notices.iter().cloned());
    blocks.push(Block::Small(lines.join(" ")));
}

fn openings(blocks: &mut Vec<Block>, judgement: &aperture::Judgement, inspection: &Inspection) {
    blocks.push(Block::Heading("Aperture".to_owned()));
    blocks.push(Block::Paragraph(format!(
        "{}: {}. {}",
        words::sentence_case(judgement.call.word()),
        judgement.headline,
        judgement.pattern
    )));
    blocks.extend(drawing::aperture_plot(judgement).map(Block::Drawing));
    let rows = judgement
        .rows
        .iter()
        .map(|row| {
            let error = row.error.map_or_else(String::new, words::film_error_with_doubt);
            let call = if row.widest { "fixed ring, not judged" } else { row.call.word() };
            vec![row.mark.label(), error, row.shots.to_string(), call.to_owned()]
        })
        .collect();
    let heads = ["Marked", "Film gets", "Photos", "Call"].map(str::to_owned).to_vec();
    blocks.push(Block::Table(heads, rows));
    let said: Vec<String> =
        [&judgement.same, &judgement.odd_words, &judgement.settling].into_iter().flatten().cloned().collect();
    if !said.is_empty() {
        blocks.push(Block::List(said));
    }
    let shots = inspection.aperture.as_ref().map(|check| check.shots.as_slice()).unwrap_or_default();
    if let Some((id, at)) = &inspection.aperture_picture
        && let Some(shot) = shots.get(*at)
    {
        let outline = shot
            .opening
            .as_ref()
            .map(|opening| drawing::opening_outline(opening, shot.size_px, judgement.odd_in(shot)));
        let mark = shot.mark.as_ref().map_or_else(|| "no mark".to_owned(), |mark| mark.label());
        blocks.push(Block::Picture(id.clone(), format!("The opening at {mark}, as it was measured."), outline));
    }
    let mut lines = vec![format!("Tolerance {}.", judgement.tolerance.words())];
    lines.extend(judgement.notices.iter().cloned());
    blocks.push(Block::Small(lines.join(" ")));
}

/// Remedies that say the same of several points, said once: `Hinge seal, latch-side seal: Scrape out …`.
fn together(remedies: &[Reason]) -> Vec<Reason> {
    let mut said: Vec<(String, Vec<&str>, &Reason)> = Vec::new();
    for remedy in remedies {
        let (name, what) = remedy.text.split_once(": ").unwrap_or(("", &remedy.text));
        match said.iter_mut().find(|(other, names, _)| other == what && !names.is_empty() && !name.is_empty()) {
            Some((_, names, _)) => names.push(name),
            None => said.push((what.to_owned(), if name.is_empty() { Vec::new() } else { vec![name] }, remedy)),
        }
    }
    said.into_iter()
        .map(|(what, names, first)| {
            let mut names: Vec<String> = names.into_iter().map(words::lower_first).collect();
            let text = match names.first_mut() {
                None => what,
                Some(first) => {
                    *first = words::sentence_case(first);
                    format!("{}: {what}", names.join(", "))
                }
            };
            Reason { text, evidence: first.evidence }
        })
        .collect()
}

/// What film gets, in sentences: the figures stand above, measurement by measurement.
fn film(blocks: &mut Vec<Block>, examined: &Examined) {
    let gets = &examined.film;
    for usage in Usage::ALL {
        let sentences = gets.sentences(usage);
        if !sentences.is_empty() {
            blocks.push(Block::Heading(format!("What film gets: {}", words::lower_first(usage.words()))));
            blocks.push(Block::List(sentences));
        }
    }
}

fn dials(blocks: &mut Vec<Block>, consistency: &Consistency) {
    blocks.push(Block::Heading("Dials against one another".to_owned()));
    let mut lines = vec![consistency.sentence.clone()];
    lines.extend(consistency.notices.iter().cloned());
    blocks.push(Block::Paragraph(lines.join(" ")));
}

/// Area by area: what is not sound with its words, then the sound ones by name.
/// The open back with what was found, and below it each place's risk by its number.
fn seals(blocks: &mut Vec<Block>, inspection: &Inspection, examined: &Examined) {
    let kind = inspection.camera.kind;
    let Ok(seen) = inspection.light_tight.seen(kind) else { return };
    let said: Vec<String> = seen
        .iter()
        .enumerate()
        .map(|(index, one)| (index, one, one.risk()))
        .filter(|(.., risk)| !risk.is_empty())
        .map(|(index, one, risk)| format!("{} {}: {risk}", index + 1, words::sentence_case(one.place.name)))
        .collect();
    if said.is_empty() {
        return;
    }
    blocks.push(Block::Heading("Seals".to_owned()));
    // Where a test roll points is marked on the same drawing.
    let hinge = inspection.light_tight.hinge_of(kind);
    blocks.push(Block::Drawing(crate::test_roll::drawing(kind, hinge, &seen, &examined.test_roll)));
    blocks.push(Block::List(said));
    let replace: Vec<String> = seen.iter().map(|one| one.replace()).filter(|line| !line.is_empty()).collect();
    if !replace.is_empty() {
        blocks.push(Block::Paragraph(format!("To fit: {}", replace.join(" "))));
    }
}

fn findings(blocks: &mut Vec<Block>, inspection: &Inspection) {
    let mut rows = Vec::new();
    for area in Area::ALL {
        let mut off = Vec::new();
        let mut sound = Vec::new();
        for point in catalogue::points_of(&inspection.camera).filter(|point| point.area == area) {
            let Some(finding) = inspection.finding(point) else { continue };
            // What is bad stands above with its note.
            let note = match finding.note.trim() {
                "" => String::new(),
                _ if finding.condition.is_bad() => String::new(),
                note => format!(" “{note}”"),
            };
            match finding.condition {
                Condition::NotChecked => {}
                Condition::Sound if note.is_empty() => sound.push(point.name.to_owned()),
                condition => off.push(format!("{}: {}{note}", words::sentence_case(point.name), condition.words())),
            }
        }
        if off.is_empty() && sound.is_empty() {
            continue;
        }
        let mut said = off.join(". ");
        if !sound.is_empty() {
            if !said.is_empty() {
                said.push_str(". ");
            }
            said.push_str(&format!("Sound: {}", sound.join(", ")));
        }
        said.push('.');
        rows.push((area.words().to_owned(), said));
    }
    if !rows.is_empty() {
        blocks.push(Block::Heading("Findings".to_owned()));
        blocks.push(Block::Facts(rows));
    }
}
