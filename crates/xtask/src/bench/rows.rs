//! A table as text that reads well as it is and is Markdown too.
//!
//! Not here: what stands in it ([`super::tables`]).

/// The number behind a name in lines such as `sound 41.2`.
pub fn figure(lines: &str, name: &str) -> Option<f64> {
    words(lines, name)?.parse().ok()
}

/// What stands behind a name.
pub fn words<'a>(lines: &'a str, name: &str) -> Option<&'a str> {
    lines.lines().find_map(|line| Some(line.strip_prefix(name)?.strip_prefix(' ')?.trim()))
}

/// Lines of two rounds as one: the lesser number of each name, but the greater of a longest task (`list-…`), and what is no number as the
/// first round said it.
pub fn least(before: &str, now: &str) -> String {
    let line = |line: &str| {
        let (name, value) = line.split_once(' ').unwrap_or((line, ""));
        match figure(before, name).zip(value.trim().parse::<f64>().ok()) {
            Some((earlier, value)) if name.starts_with("list-") => format!("{name} {}\n", earlier.max(value)),
            Some((earlier, value)) => format!("{name} {}\n", earlier.min(value)),
            None => format!("{name} {}\n", words(before, name).unwrap_or(value)),
        }
    };
    now.lines().map(line).collect()
}

/// Milliseconds with as many places as count, or a dash.
pub fn shown(value: Option<f64>) -> String {
    match value {
        Some(value) if value < 10.0 => format!("{value:.2}"),
        Some(value) if value < 100.0 => format!("{value:.1}"),
        Some(value) => format!("{value:.0}"),
        None => "–".to_owned(),
    }
}

/// How many times as much the other one is, or a dash.
pub fn ratio(one: Option<f64>, other: Option<f64>) -> String {
    match one.zip(other) {
        Some((one, other)) if one > 0.0 => format!("{:.1} ×", other / one),
        _ => "–".to_owned(),
    }
}

/// Rows of cells, the first of them the heads; every column as wide as its widest cell, numbers to the right.
pub fn table(rows: &[Vec<String>]) -> String {
    let columns = rows.first().map_or(0, Vec::len);
    let width = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0).max(3)
    };
    let widths: Vec<usize> = (0..columns).map(width).collect();
    let mut text = String::new();
    for (n, row) in rows.iter().enumerate() {
        for (column, cell) in row.iter().enumerate() {
            let room = " ".repeat(widths[column].saturating_sub(cell.chars().count()));
            text += &if column == 0 { format!("| {cell}{room} ") } else { format!("| {room}{cell} ") };
        }
        text += "|\n";
        if n == 0 {
            for (column, width) in widths.iter().enumerate() {
                let line = "-".repeat(*width);
                text += &if column == 0 { format!("| {line} ") } else { format!("| {}: ", &line[1..]) };
            }
            text += "|\n";
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_is_markdown_and_stands_in_columns() {
        let cells = |row: [&str; 2]| row.map(str::to_owned).to_vec();
        let text = table(&[cells(["", "native"]), cells(["sound", "41.2"]), cells(["light", "–"])]);
        assert_eq!(text, "|       | native |\n| ----- | -----: |\n| sound |   41.2 |\n| light |      – |\n");
    }

    #[test]
    fn of_two_rounds_the_least_of_each_counts() {
        let once = least("", "sound 3\nagree-sound 60 of 61\n");
        assert_eq!(once, "sound 3\nagree-sound 60 of 61\n");
        assert_eq!(
            least(&once, "sound 2.5\nlight 4\nagree-sound 61 of 61\n"),
            "sound 2.5\nlight 4\nagree-sound 60 of 61\n"
        );
        assert_eq!(least(&once, "sound 9\n"), "sound 3\n");
        assert_eq!(least("list-open 0\n", "list-open 57\n"), "list-open 57\n");
    }

    #[test]
    fn figures_are_found_by_their_whole_name() {
        let lines = "sound-fewer 2\nsound 1.5\nagree-sound 60 of 61\n";
        assert_eq!((figure(lines, "sound"), figure(lines, "so")), (Some(1.5), None));
        assert_eq!(words(lines, "agree-sound"), Some("60 of 61"));
        assert_eq!((shown(Some(3.456)), ratio(Some(2.0), Some(9.0))), ("3.46".to_owned(), "4.5 ×".to_owned()));
    }
}
