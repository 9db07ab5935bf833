//! What the demo's cameras are told, word for word: texts for the listing, the sheet, the camera before and after its service. The
//! expected files were read by a person; `LAMPBLACK_WRITE_GOLDEN=1 cargo test -p tests --test golden` writes them anew, to be read
//! again before they are kept.
//!
//! Not here: whether the figures are right, which the tests of each measurement show.

use std::path::PathBuf;

use record::page::{Block, Sheet};
use record::v1::Inspection;

/// When the sheets of this test are made.
const NOW: &str = "2026-11-24T12:00:00Z";

fn top() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn demo() -> Vec<Inspection> {
    let path = top().join("../demo/bench.json");
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    record::read_file(&text).expect("the demo bench").inspections
}

/// `corvane-2026-09-12`.
fn name(inspection: &Inspection) -> String {
    format!("{}-{}", inspection.camera.maker.to_lowercase(), &inspection.updated[..10])
}

/// Holds a text against the file of that name.
fn held(name: &str, text: &str) {
    let path = top().join("golden/expected").join(name);
    if std::env::var_os("LAMPBLACK_WRITE_GOLDEN").is_some() {
        std::fs::write(&path, text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    }
    let expected = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    if text == expected {
        return;
    }
    let mut lines = text.lines().zip(expected.lines()).enumerate();
    let first = lines.find(|(_, (is, was))| is != was);
    match first {
        Some((i, (is, was))) => panic!("{name}, line {}:\n  is:       {is}\n  expected: {was}", i + 1),
        None => panic!("{name}: {} lines, and {} are expected", text.lines().count(), expected.lines().count()),
    }
}

#[test]
fn the_texts_read_as_they_were_read() {
    for inspection in demo() {
        let view = record::view(inspection.clone()).expect("a view").view;
        let texts: Vec<String> =
            view.texts.iter().map(|text| format!("== {} ==\n{}\n", text.name, text.text)).collect();
        held(&format!("{}.wording.txt", name(&inspection)), &texts.join("\n"));
    }
}

fn block(block: &Block) -> String {
    let lines = |items: &[String]| items.iter().map(|item| format!("  - {item}\n")).collect::<String>();
    match block.kind.as_str() {
        "heading" => format!("\n## {}\n", block.text),
        "list" => lines(&block.items),
        "facts" => block.rows.iter().map(|row| format!("  {}\n", row.join(": "))).collect(),
        "table" => {
            std::iter::once(&block.items).chain(&block.rows).map(|row| format!("  {}\n", row.join(" | "))).collect()
        }
        "drawing" => {
            let drawn = block.drawing.as_ref().expect("a drawing");
            format!("[{}: {}]\n", drawn.title, drawn.description)
        }
        kind => format!("{kind}: {}\n", block.text),
    }
}

fn sheet(sheet: &Sheet) -> String {
    format!("{}\n{}", sheet.title, sheet.blocks.iter().map(block).collect::<String>())
}

#[test]
fn the_sheets_read_as_they_were_read() {
    for inspection in demo() {
        let made = record::sheet(&inspection, NOW).expect("a sheet");
        held(&format!("{}.sheet.txt", name(&inspection)), &sheet(&made));
    }
}

#[test]
fn the_camera_before_and_after_its_service_reads_as_it_was_read() {
    let both: Vec<Inspection> = demo().into_iter().filter(|inspection| inspection.camera.maker == "Corvane").collect();
    assert_eq!(both.len(), 2);
    let laid = record::compare(&both[0], &both[1]).expect("laid side by side");
    let sentences = |changes: &[record::page::ChangeView]| {
        changes.iter().map(|change| format!("- {}\n", change.sentence)).collect::<String>()
    };
    let text = format!(
        "{} {}\n{} {}\n{}\n\n{}\n{}\n{}\n\n{}\n",
        laid.before.day,
        laid.before.outcome_words,
        laid.after.day,
        laid.after.outcome_words,
        laid.headline,
        sentences(&laid.measured),
        sentences(&laid.findings),
        laid.same_words,
        laid.notices.join("\n")
    );
    held("corvane.compare.txt", &text);
}
