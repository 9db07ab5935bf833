//! Tables and paragraphs for people, within the width of a terminal.
//!
//! Not here: what is said in them.

/// Letters in a line.
pub const WIDTH: usize = 80;

/// Rows under heads, each column as wide as its widest cell; columns from the second on stand right, if `figures`.
pub fn columns(heads: &[&str], rows: &[Vec<String>], figures: bool) -> String {
    let width = |i: usize| {
        rows.iter()
            .filter_map(|row| row.get(i))
            .map(|cell| cell.chars().count())
            .fold(heads[i].chars().count(), usize::max)
    };
    let widths: Vec<usize> = (0..heads.len()).map(width).collect();
    let line = |cells: &mut dyn Iterator<Item = &str>| {
        let cells: Vec<String> = cells
            .zip(&widths)
            .enumerate()
            .map(
                |(i, (cell, &width))| {
                    if figures && i > 0 { format!("{cell:>width$}") } else { format!("{cell:<width$}") }
                },
            )
            .collect();
        format!("{}\n", cells.join("  ").trim_end())
    };
    let mut text = line(&mut heads.iter().copied());
    for row in rows {
        text.push_str(&line(&mut row.iter().map(String::as_str)));
    }
    text
}

/// Names and values; a long value goes on under itself.
pub fn facts(facts: &[(&str, String)]) -> String {
    let indent = facts.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0) + 2;
    let mut text = String::new();
    for (name, value) in facts.iter().filter(|(_, value)| !value.is_empty()) {
        text.push_str(&wrapped(&format!("{name:<indent$}"), indent, value));
    }
    text
}

/// A heading with its sentences, each behind a dash; nothing where there are none.
pub fn list<'t>(heading: &str, items: impl IntoIterator<Item = &'t str>) -> String {
    let lines: Vec<String> = items.into_iter().map(|item| wrapped("- ", 2, item)).collect();
    if lines.is_empty() { String::new() } else { format!("\n{heading}\n{}", lines.concat()) }
}

/// A text that begins behind `first` and goes on at `indent`. Nothing in it can move a terminal's cursor.
pub fn wrapped(first: &str, indent: usize, text: &str) -> String {
    let clean: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let mut out = String::from(first);
    let mut used = first.chars().count();
    let mut begun = false;
    for word in clean.split(' ').filter(|word| !word.is_empty()) {
        let length = word.chars().count();
        if begun && used + 1 + length > WIDTH {
            out.push('\n');
            out.push_str(&" ".repeat(indent));
            used = indent;
        } else if begun {
            out.push(' ');
            used += 1;
        }
        out.push_str(word);
        used += length;
        begun = true;
    }
    out.push('\n');
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_stand_in_line() {
        let rows = vec![vec!["EV 6.0".to_owned(), "0.4".to_owned()], vec!["EV 12.0".to_owned(), "10.4".to_owned()]];
        assert_eq!(columns(&["light", "doubt"], &rows, true), "light    doubt\nEV 6.0     0.4\nEV 12.0   10.4\n");
    }

    #[test]
    fn long_texts_go_on_under_themselves() {
        let text = facts(&[("call", "word ".repeat(40)), ("none", String::new())]);
        assert!(text.lines().all(|line| line.chars().count() <= WIDTH) && text.lines().count() > 2);
        assert!(text.lines().skip(1).all(|line| line.starts_with("      word")));
        assert!(!list("Notices", ["a\u{1b}[2Jb"]).contains('\u{1b}'));
    }
}
