//! Reading source text just far enough to judge it: what is code, what is a comment or a literal, what a module imports.
//!
//! Not here: the rules ([`crate::tidy`]), and the check that what ships is complete ([`crate::site`]).

/// What a JavaScript module asks for.
#[derive(Debug, PartialEq, Eq)]
pub struct Import {
    /// The line that asks, from 1.
    pub line: usize,
    /// The module, as it is written.
    pub of: String,
    /// Whether it is only an address (`new URL(…, import.meta.url)`): it must be there, and runs on its own.
    pub address: bool,
}

/// Rust with comments and literals blanked; lines stay where they are.
pub fn rust_code(text: &str) -> String {
    let mut reader = Reader::new(text);
    while let Some(c) = reader.peek(0) {
        let after_name = reader.at > 0 && is_name(reader.text[reader.at - 1]);
        match (c, reader.peek(1)) {
            ('/', Some('/')) => reader.blank_line(),
            ('/', Some('*')) => reader.blank_nested_comment(),
            ('"', _) => reader.blank_quoted('"'),
            ('r', Some('"' | '#')) if !after_name || reader.text[reader.at - 1] == 'b' => reader.raw_string(),
            // A character, and not a lifetime.
            ('\'', Some('\\')) => reader.blank_quoted('\''),
            ('\'', Some(_)) if reader.peek(2) == Some('\'') => reader.blank(3),
            _ => reader.keep(1),
        }
    }
    reader.out
}

/// JavaScript with comments, regular expressions and the text of templates blanked; quoted strings stay, lines too.
pub fn script_code(text: &str) -> String {
    let mut reader = Reader::new(text);
    // For each template that is open: how many braces are open in the expression that is being read.
    let mut templates: Vec<usize> = Vec::new();
    while let Some(c) = reader.peek(0) {
        match (c, reader.peek(1)) {
            ('/', Some('/')) => reader.blank_line(),
            ('/', Some('*')) => reader.blank_comment(),
            ('/', _) if reader.value_may_begin() => reader.regular_expression(),
            ('"' | '\'', _) => reader.keep_quoted(c),
            ('`', _) => {
                reader.keep(1);
                if reader.template_text() {
                    templates.push(0);
                }
            }
            ('{', _) => {
                templates.last_mut().into_iter().for_each(|open| *open += 1);
                reader.keep(1);
            }
            ('}', _) if templates.last() == Some(&0) => {
                reader.keep(1);
                if !reader.template_text() {
                    templates.pop();
                }
            }
            ('}', _) => {
                templates.last_mut().into_iter().for_each(|open| *open -= 1);
                reader.keep(1);
            }
            _ => reader.keep(1),
        }
    }
    reader.out
}

/// Every module that a JavaScript module imports, hands on, or names by an address beside itself.
pub fn imports(text: &str) -> Vec<Import> {
    let code = script_code(text);
    let mut found = Vec::new();
    for word in ["from", "import", "URL"] {
        for (at, _) in code.match_indices(word) {
            let alone = !code[..at].ends_with(|c: char| is_name(c) || c == '.');
            let mut rest = code[at + word.len()..].trim_start();
            if word != "from"
                && let Some(inside) = rest.strip_prefix('(')
            {
                rest = inside.trim_start();
            } else if word == "URL" {
                continue;
            }
            let Some(quote) = rest.chars().next().filter(|c| matches!(c, '"' | '\'')) else { continue };
            let Some((of, after)) = rest[1..].split_once(quote) else { continue };
            let beside = after.trim_start().trim_start_matches(',').trim_start().starts_with("import.meta.url");
            if alone && (word != "URL" || beside) {
                let line = code[..at].matches('\n').count() + 1;
                found.push(Import { line, of: of.to_owned(), address: word == "URL" });
            }
        }
    }
    found.sort_by_key(|import| import.line);
    found
}

/// A relative address, from the file that names it, both from the top of the page.
pub fn resolve(from: &str, to: &str) -> String {
    let mut parts: Vec<&str> = from.split('/').collect();
    parts.pop();
    for part in to.split(['?', '#']).next().unwrap_or_default().split('/') {
        match part {
            "." => {}
            ".." => drop(parts.pop()),
            name => parts.push(name),
        }
    }
    parts.join("/")
}

fn is_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_' || c == '$'
}

struct Reader {
    text: Vec<char>,
    at: usize,
    out: String,
}

impl Reader {
    fn new(text: &str) -> Self {
        Self { text: text.chars().collect(), at: 0, out: String::with_capacity(text.len()) }
    }

    fn peek(&self, ahead: usize) -> Option<char> {
        self.text.get(self.at + ahead).copied()
    }

    fn keep(&mut self, count: usize) {
        let end = (self.at + count).min(self.text.len());
        self.out.extend(&self.text[self.at..end]);
        self.at = end;
    }

    fn blank(&mut self, count: usize) {
        let end = (self.at + count).min(self.text.len());
        self.out.extend(self.text[self.at..end].iter().map(|c| if *c == '\n' { '\n' } else { ' ' }));
        self.at = end;
    }

    fn blank_line(&mut self) {
        while self.peek(0).is_some_and(|c| c != '\n') {
            self.blank(1);
        }
    }

    fn blank_comment(&mut self) {
        self.blank(2);
        while self.peek(0).is_some() && (self.peek(0), self.peek(1)) != (Some('*'), Some('/')) {
            self.blank(1);
        }
        self.blank(2);
    }

    fn blank_nested_comment(&mut self) {
        let mut open = 0;
        while self.peek(0).is_some() {
            match (self.peek(0), self.peek(1)) {
                (Some('/'), Some('*')) => open += 1,
                (Some('*'), Some('/')) => open -= 1,
                _ => {
                    self.blank(1);
                    continue;
                }
            }
            self.blank(2);
            if open == 0 {
                break;
            }
        }
    }

    fn blank_quoted(&mut self, quote: char) {
        self.blank(1);
        while let Some(c) = self.peek(0).filter(|c| *c != quote) {
            self.blank(if c == '\\' { 2 } else { 1 });
        }
        self.blank(1);
    }

    fn keep_quoted(&mut self, quote: char) {
        self.keep(1);
        while let Some(c) = self.peek(0).filter(|c| *c != quote && *c != '\n') {
            self.keep(if c == '\\' { 2 } else { 1 });
        }
        self.keep(1);
    }

    /// `r"…"` or `r#"…"#`; the `r` of a name like `r#type` is kept.
    fn raw_string(&mut self) {
        let marks = self.text[self.at + 1..].iter().take_while(|c| **c == '#').count();
        if self.peek(1 + marks) != Some('"') {
            return self.keep(1);
        }
        self.blank(2 + marks);
        let end: Vec<char> = std::iter::once('"').chain(std::iter::repeat_n('#', marks)).collect();
        while self.at < self.text.len() && !self.text[self.at..].starts_with(&end) {
            self.blank(1);
        }
        self.blank(end.len());
    }

    /// Blanks a template's text; true where it stopped at an expression, false at the end of the template.
    fn template_text(&mut self) -> bool {
        while let Some(c) = self.peek(0) {
            match c {
                '\\' => self.blank(2),
                '`' => {
                    self.keep(1);
                    return false;
                }
                '$' if self.peek(1) == Some('{') => {
                    self.keep(2);
                    return true;
                }
                _ => self.blank(1),
            }
        }
        false
    }

    /// Whether a slash here begins a regular expression, and is not a division.
    fn value_may_begin(&self) -> bool {
        let before = self.out.trim_end();
        before.ends_with("return")
            || !before.ends_with(|c: char| is_name(c) || matches!(c, ')' | ']' | '}' | '"' | '\'' | '`'))
    }

    fn regular_expression(&mut self) {
        let mut in_class = false;
        self.blank(1);
        while let Some(c) = self.peek(0).filter(|c| *c != '\n') {
            match c {
                '\\' => self.blank(1),
                '[' => in_class = true,
                ']' => in_class = false,
                _ => {}
            }
            self.blank(1);
            if c == '/' && !in_class {
                break;
            }
        }
        // A value stood here: what follows is not another regular expression.
        self.out.push('0');
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_comments_and_literals_are_no_code() {
        let code = rust_code(
            "// std::fs\nlet a = \"std::fs \\\" std::fs\"; /* a /* std::fs */ b */ let c = 'x'; let d: &'a str = r#\"std::fs\"#;\nuse std::fs;\n",
        );
        assert_eq!(code.matches("std::fs").count(), 1);
        assert!(code.lines().nth(2).is_some_and(|line| line.contains("std::fs")));
        assert!(code.contains("&'a str"));
        assert!(rust_code("let q = '\"'; let s = '\\''; use std::fs;").contains("std::fs"));
        assert!(rust_code("let r#type = 1; use std::fs;").contains("r#type = 1; use std::fs"));
    }

    #[test]
    fn what_a_module_imports_is_found() {
        let text = "/** import(\"./no.js\") */\nimport a, { b } from \"./a.js\";\nimport './b.js';\nimport {\n  c,\n} from \"../c.js\";\n\
                    export { d } from \"./d.js\";\nconst w = new URL(\"./w.js\", import.meta.url);\nconst u = new URL(\"x.js\", base);\n\
                    const e = await import(\"./e.js\");\n";
        let found: Vec<_> = imports(text).into_iter().map(|import| (import.line, import.of, import.address)).collect();
        let wanted = [
            (2, "./a.js", false),
            (3, "./b.js", false),
            (6, "../c.js", false),
            (7, "./d.js", false),
            (8, "./w.js", true),
            (10, "./e.js", false),
        ];
        assert_eq!(found, wanted.map(|(line, of, address)| (line, of.to_owned(), address)));
    }

    #[test]
    fn templates_and_regular_expressions_hide_what_they_hold() {
        let text = "const t = html`from \"./no.js\" ${list.map((x) => html`<p>it's ${{ x }} from './no.js'</p>`)} import \"./no.js\"`;\n\
                    const r = /[\"'/]`/.test(a) ? b / c : d; import \"./yes.js\";\n";
        let found: Vec<_> = imports(text).into_iter().map(|import| import.of).collect();
        assert_eq!(found, ["./yes.js"]);
    }

    #[test]
    fn minified_modules_are_read() {
        let found =
            imports("import{noChange as r}from\"../lit-html.js\";import{x}from'./y.js';export{z}from\"./z.js\";");
        let names: Vec<_> = found.iter().map(|import| import.of.as_str()).collect();
        assert_eq!(names, ["../lit-html.js", "./y.js", "./z.js"]);
    }

    #[test]
    fn addresses_are_resolved_from_the_file_that_names_them() {
        assert_eq!(resolve("pages/meter.js", "../view/shell.js"), "view/shell.js");
        assert_eq!(resolve("index.html", "./pages/index.js?x"), "pages/index.js");
        assert_eq!(resolve("bench/client.js", "./error.js"), "bench/error.js");
    }
}
