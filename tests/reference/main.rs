//! The check values: every row that the crates can answer is computed by their public functions and held against the row's own
//! tolerance; every row is either used or listed in `not_yet_used.txt`.
//!
//! The values themselves, what they are and how sure they are: `check_values.csv` and `README.md` beside this file. No expected
//! value is written here. Not here: statements about many random runs ([`long_run`] has the one on coverage).

mod exposure;
mod film;
mod long_run;
mod metrology;
mod pictures;
mod rows;
mod shutter;
mod sun;

use rows::{Row, Rows, beside};
use std::collections::BTreeSet;

/// Works a row's answer out from its input; other rows are at hand where it says "the same" of one of them.
pub type Answer = fn(&Row, &Rows) -> f64;

/// The same for a row that expects several numbers.
pub type Answers = fn(&Row, &Rows) -> Vec<f64>;

/// Rows that are used, so that none falls out of use unseen.
const USED: usize = 466;

/// Every answer, with the whole name of its row or the beginning of its input.
fn answers() -> impl Iterator<Item = (&'static str, Worked)> {
    let one = |&(key, answer): &(&'static str, Answer)| (key, Worked::One(answer));
    let several = |&(key, answers): &(&'static str, Answers)| (key, Worked::Several(answers));
    let single =
        [exposure::ANSWERS, film::ANSWERS, metrology::ANSWERS, pictures::ANSWERS, shutter::ANSWERS, sun::ANSWERS];
    single.into_iter().flatten().map(one).chain(sun::SEVERAL.iter().map(several))
}

/// How a row is worked out.
#[derive(Clone, Copy)]
enum Worked {
    One(Answer),
    Several(Answers),
}

/// The one answer to a row, if there is one: by its whole name, else by the beginning of its input.
fn answer(row: &Row) -> Option<Worked> {
    let mut named = None;
    let mut begun = None;
    for (key, answer) in answers() {
        let place = if row.id == key {
            &mut named
        } else if row.input.starts_with(key) {
            &mut begun
        } else {
            continue;
        };
        assert!(place.is_none(), "{} has two answers", row.id);
        *place = Some(answer);
    }
    named.or(begun)
}

fn not_yet_used() -> BTreeSet<String> {
    let text = std::fs::read_to_string(beside("not_yet_used.txt")).expect("the list");
    let mut names = BTreeSet::new();
    for line in text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
        assert!(names.insert(line.to_owned()), "{line} is listed twice");
    }
    names
}

#[test]
fn every_row_is_answered_within_its_tolerance() {
    let rows = Rows::read();
    let mut wrong = Vec::new();
    let mut used = 0;
    for row in rows.iter() {
        let Some(answer) = answer(row) else { continue };
        used += 1;
        let (found, good) = match answer {
            Worked::One(answer) => {
                let found = answer(row, &rows);
                (found.to_string(), row.accepts(found))
            }
            Worked::Several(answers) => {
                let found = answers(row, &rows);
                (format!("{found:?}"), row.accepts_all(&found))
            }
        };
        if !good {
            wrong.push(format!("{}: {found}, and {} ({}) was expected", row.id, row.expected, row.tolerance));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert_eq!(used, USED, "rows used");
}

#[test]
fn every_row_is_used_or_listed() {
    let rows = Rows::read();
    let names: BTreeSet<String> = rows.iter().map(|row| row.id.clone()).collect();
    assert_eq!(names.len(), rows.iter().count(), "a name stands twice");
    let unused: BTreeSet<String> = rows.iter().filter(|row| answer(row).is_none()).map(|row| row.id.clone()).collect();
    println!("not yet used: {}", unused.iter().map(String::as_str).collect::<Vec<_>>().join(" "));
    let listed = not_yet_used();
    assert_eq!(unused.difference(&listed).collect::<Vec<_>>(), [""; 0], "neither used nor listed");
    assert_eq!(listed.difference(&unused).collect::<Vec<_>>(), [""; 0], "listed, and used or no row at all");
}

#[test]
fn every_answer_has_a_row() {
    let rows = Rows::read();
    for (key, _) in answers() {
        assert!(rows.iter().any(|row| row.id == key || row.input.starts_with(key)), "{key} answers no row");
    }
}
