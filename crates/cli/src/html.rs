//! The sheet as one HTML document with its style inside: no script, no request, every text escaped.
//!
//! Not here: what stands on it (`inspection::sheet`), its look (`www/style/sheet.css`), its drawings ([`crate::drawing`]).

use record::page::{Block, Sheet};

use crate::drawing;

/// The style that the page prints its sheets with.
const STYLE: &str = concat!(include_str!("../../../www/style/sheet.css"), include_str!("../../../www/style/back.css"));

/// Text as it may stand between tags and in quoted attributes. Control characters, which HTML has no place for, become spaces.
pub fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' | '\t' => out.push(c),
            c if c.is_control() => out.push(' '),
            c => out.push(c),
        }
    }
    out
}

fn element(name: &str, text: &str) -> String {
    format!("<{name}>{}</{name}>\n", escaped(text))
}

/// The whole document.
pub fn document(sheet: &Sheet) -> String {
    let blocks: String = sheet.blocks.iter().map(block).collect();
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n\
         <title>{}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<main>\n<article class=\"{}\">\n{blocks}</article>\n\
         </main>\n</body>\n</html>\n",
        escaped(&sheet.title),
        format_args!("sheet dense-{}", sheet.density)
    )
}

fn block(block: &Block) -> String {
    match block.kind.as_str() {
        "title" => element("h1", &block.text),
        "heading" => element("h2", &block.text),
        "small" => format!("<p class=\"small\">{}</p>\n", escaped(&block.text)),
        "outcome" => format!("<p class=\"call call-{}\">{}</p>\n", escaped(&block.key), escaped(&block.text)),
        "list" => format!("<ul>\n{}</ul>\n", block.items.iter().map(|item| element("li", item)).collect::<String>()),
        "facts" => format!("<dl>\n{}</dl>\n", block.rows.iter().map(|row| fact(row)).collect::<String>()),
        "table" => table(block),
        "picture" => picture(block),
        "label" => label(block),
        "drawing" => block.drawing.as_ref().map_or_else(String::new, drawing::figure),
        _ => element("p", &block.text),
    }
}

/// A kept picture is on the phone that took it: what it shows is said, and what was measured is drawn.
fn picture(block: &Block) -> String {
    let drawn = block.drawing.as_ref().map_or_else(String::new, drawing::figure);
    format!("<div class=\"opening\">\n{drawn}{}</div>\n", element("p", &block.text))
}

/// The strip to cut off: its line, its small print, its code.
fn label(block: &Block) -> String {
    let code = block.drawing.as_ref().map_or_else(String::new, drawing::figure);
    let small: String = block.items.iter().map(|item| format!("<p class=\"small\">{}</p>\n", escaped(item))).collect();
    format!("<div class=\"label\">\n{code}<div>\n{}{small}</div>\n</div>\n", element("p", &block.text))
}

fn fact(row: &[String]) -> String {
    let cell = |i: usize| row.get(i).map_or("", String::as_str);
    format!("{}{}", element("dt", cell(0)), element("dd", cell(1)))
}

fn table(block: &Block) -> String {
    let heads: String = block.items.iter().map(|head| format!("<th scope=\"col\">{}</th>", escaped(head))).collect();
    let rows: String = block
        .rows
        .iter()
        .map(|row| {
            let cells: String = row.iter().map(|cell| format!("<td>{}</td>", escaped(cell))).collect();
            format!("<tr>{cells}</tr>\n")
        })
        .collect();
    format!("<table>\n<thead>\n<tr>{heads}</tr>\n</thead>\n<tbody>\n{rows}</tbody>\n</table>\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_script_in_a_note_stays_a_text() {
        let sheet = Sheet {
            density: 0,
            title: "</title><script>alert(1)</script>".to_owned(),
            blocks: vec![
                Block { kind: "paragraph".to_owned(), text: "<script>\u{0}".to_owned(), ..Block::default() },
                Block { kind: "outcome".to_owned(), key: "\" onload=\"x".to_owned(), ..Block::default() },
            ],
        };
        let text = document(&sheet);
        assert!(!text.contains("<script") && !text.contains("\" onload") && !text.contains('\u{0}'), "{text}");
        assert!(text.contains("&lt;script&gt; </p>"));
    }

    #[test]
    fn every_kind_of_block_has_its_element() {
        let texts = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>();
        let of = |kind: &str| Block {
            kind: kind.to_owned(),
            text: "t".to_owned(),
            items: texts(&["i"]),
            rows: vec![texts(&["a", "b"])],
            ..Block::default()
        };
        assert_eq!(block(&of("title")), "<h1>t</h1>\n");
        assert_eq!(block(&of("list")), "<ul>\n<li>i</li>\n</ul>\n");
        assert_eq!(block(&of("facts")), "<dl>\n<dt>a</dt>\n<dd>b</dd>\n</dl>\n");
        assert!(block(&of("table")).contains("<th scope=\"col\">i</th>") && block(&of("table")).contains("<td>b</td>"));
        assert_eq!(block(&of("small")), "<p class=\"small\">t</p>\n");
    }
}
