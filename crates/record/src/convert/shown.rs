//! From the domain to what pages and sheets show: areas with their points, drawings, blocks.
//!
//! Not here: the file's shapes (`worked`).

use inspection::catalogue::{self, Area, Point};
use inspection::drawing::{self, Drawing, Shape};
use inspection::finding::Condition;
use inspection::reference::Reference;
use inspection::sheet::{Block, Sheet};
use inspection::{Examined, Inspection, round, words};
use metrology::Estimate;

use super::worked::progress;
use crate::{page, v1};

/// A drawing as it is handed over.
pub(crate) fn drawing(drawing: &Drawing) -> page::Drawing {
    page::Drawing {
        width: drawing.width,
        height: drawing.height,
        title: drawing.title.clone(),
        description: drawing.description.clone(),
        marks: drawing.marks.iter().map(mark).collect(),
    }
}

fn mark(mark: &drawing::Mark) -> page::Mark {
    let mut plain = page::Mark { role: mark.role.key().to_owned(), ..page::Mark::default() };
    match &mark.shape {
        Shape::Line { from, to } | Shape::Rectangle { from, to } => {
            let line = matches!(mark.shape, Shape::Line { .. });
            plain.shape = if line { "line" } else { "rectangle" }.to_owned();
            (plain.x, plain.y) = *from;
            (plain.x2, plain.y2) = *to;
        }
        Shape::Dot { at, radius } => {
            plain.shape = "dot".to_owned();
            (plain.x, plain.y) = *at;
            plain.x2 = *radius;
        }
        Shape::Path { points } => {
            plain.shape = "path".to_owned();
            plain.points = points.iter().flat_map(|(x, y)| [*x, *y]).collect();
        }
        Shape::Text { at, text, anchor } => {
            plain.shape = "text".to_owned();
            (plain.x, plain.y) = *at;
            plain.text.clone_from(text);
            plain.anchor = (*anchor).to_owned();
        }
    }
    plain
}

/// The sheet as it is handed over.
pub(crate) fn sheet(sheet: &Sheet) -> page::Sheet {
    page::Sheet { title: sheet.title.clone(), blocks: sheet.blocks.iter().map(block).collect(), density: sheet.density }
}

fn block(block: &Block) -> page::Block {
    let of = |kind: &str| page::Block { kind: kind.to_owned(), ..page::Block::default() };
    let text = |kind: &str, text: &str| page::Block { text: text.to_owned(), ..of(kind) };
    match block {
        Block::Title(said) => text("title", said),
        Block::Heading(said) => text("heading", said),
        Block::Paragraph(said) => text("paragraph", said),
        Block::Small(said) => text("small", said),
        Block::Outcome(key, said) => page::Block { key: (*key).to_owned(), ..text("outcome", said) },
        Block::List(items) => page::Block { items: items.clone(), ..of("list") },
        Block::Facts(facts) => page::Block {
            rows: facts.iter().map(|(name, value)| vec![name.clone(), value.clone()]).collect(),
            ..of("facts")
        },
        Block::Table(heads, rows) => page::Block { items: heads.clone(), rows: rows.clone(), ..of("table") },
        Block::Picture(id, said, over) => {
            page::Block { key: id.clone(), drawing: over.as_ref().map(drawing), ..text("picture", said) }
        }
        Block::Label(line, small, code) => {
            page::Block { items: vec![small.clone()], drawing: code.as_ref().map(drawing), ..text("label", line) }
        }
        Block::Drawing(drawn) => page::Block { drawing: Some(drawing(drawn)), ..of("drawing") },
    }
}

fn choices(point: &Point) -> Vec<page::ChoiceView> {
    Condition::ALL
        .iter()
        .map(|condition| page::ChoiceView {
            key: condition.key().to_owned(),
            words: condition.words().to_owned(),
            looks: match condition {
                Condition::Sound => point.looks[0],
                Condition::Worn => point.looks[1],
                Condition::Faulty => point.looks[2],
                Condition::Failed => point.looks[3],
                Condition::NotFitted => "this camera has none",
                Condition::NotChecked => "nobody looked yet",
            }
            .to_owned(),
        })
        .collect()
}

fn area(area: Area, domain: &Inspection, record: &v1::Inspection) -> page::AreaView {
    let points: Vec<page::PointView> = catalogue::points_of(&domain.camera)
        .filter(|point| point.area == area)
        .map(|point| {
            let condition = domain.condition(point);
            let entry = record.findings.iter().rev().find(|finding| finding.point == point.key);
            page::PointView {
                key: point.key.to_owned(),
                name: point.name.to_owned(),
                question: point.question.to_owned(),
                condition: condition.key().to_owned(),
                condition_words: condition.words().to_owned(),
                note: entry.map_or_else(String::new, |entry| entry.note.clone()),
                photos: entry.map_or_else(Vec::new, |entry| entry.photos.clone()),
                choices: choices(point),
                costs_words: point.costs.words().to_owned(),
                remedy: point.remedy.to_owned(),
                caution: point.caution.to_owned(),
                source: point.source.to_owned(),
                picture_helps: point.picture_helps,
                matters: point.costs.matters(),
            }
        })
        .collect();
    let keys = |wanted: &[Condition]| {
        points.iter().filter(|point| wanted.iter().any(|condition| condition.key() == point.condition)).count()
    };
    let total = points.len();
    let checked = total - keys(&[Condition::NotChecked]);
    page::AreaView {
        key: area.key().to_owned(),
        name: area.words().to_owned(),
        checked,
        total,
        progress: format!("{checked} of {total}"),
        bad: keys(&[Condition::Faulty, Condition::Failed]),
        points,
    }
}

fn film_errors(errors: impl Iterator<Item = Estimate>) -> Vec<Estimate> {
    errors
        .filter_map(|error| {
            Estimate::new(-error.value(), error.standard_uncertainty(), error.degrees_of_freedom()).ok()
        })
        .collect()
}

fn bars(errors: &[Estimate], tolerance: f64) -> Vec<page::Drawing> {
    let scale = drawing::bar_scale(errors, tolerance);
    errors.iter().map(|error| drawing(&drawing::bar(*error, tolerance, scale))).collect()
}

fn reference(reference: &Reference) -> page::ReferenceView {
    page::ReferenceView {
        name: reference.kind.words.to_owned(),
        doubts: reference.doubts(),
        why: reference.kind.why.to_owned(),
        better: reference.kind.better.to_owned(),
        constants: reference.kind.constants(),
    }
}

fn step(step: &round::Step) -> page::StepView {
    page::StepView {
        key: step.about.key().to_owned(),
        name: step.name.to_owned(),
        state: step.state.clone(),
        done: step.done,
        left_s: step.left_s,
        meanwhile: step.meanwhile.iter().map(|point| point.key.to_owned()).collect(),
    }
}

/// Everything that the pages of one inspection show besides the inspection itself.
pub(crate) fn view(record: &v1::Inspection, domain: &Inspection, examined: &Examined) -> page::View {
    let meter = examined.meter.as_ref();
    let meter_errors = film_errors(meter.into_iter().flat_map(|judged| judged.levels.iter().map(|level| level.error)));
    let effects = film_errors(examined.consistency.iter().flat_map(|result| result.effects.iter().map(|e| e.effect)));
    page::View {
        title: domain.camera.title(),
        kind_words: domain.camera.kind.words().to_owned(),
        progress: progress(domain),
        areas: Area::ALL.into_iter().map(|one| area(one, domain, record)).filter(|area| area.total > 0).collect(),
        round: round::steps(domain, examined).iter().map(step).collect(),
        meter_plot: meter.map(|judged| drawing(&drawing::meter_plot(judged))),
        meter_bars: bars(&meter_errors, meter.map_or(0.0, |judged| judged.tolerance.value())),
        references: record
            .meter
            .runs
            .iter()
            .filter_map(|run| super::references(run).ok())
            .map(|references| references.iter().map(reference).collect())
            .collect(),
        light_tight: super::light_tight::view(domain),
        test_roll: super::test_roll::view(record, domain, &examined.test_roll),
        texts: super::wording::texts(record),
        film: super::film::view(&examined.film),
        shutter: super::shutter::view(record, &domain.camera.times, examined.shutter.as_ref()),
        aperture: super::aperture::view(examined.aperture.as_ref(), record),
        consistency_bars: bars(&effects, 0.0),
        consistency_entries: domain
            .consistency
            .iter()
            .map(|setting| page::EquivalentView { words: setting.words(), ev_words: words::ev(setting.ev100()) })
            .collect(),
    }
}
