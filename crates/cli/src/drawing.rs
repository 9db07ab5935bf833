//! A drawing as SVG: the marks that were handed over, each with a class for what it stands for.
//!
//! Not here: where they stand (`inspection::drawing`), what they look like (`www/style/sheet.css`).

use record::page::{Drawing, Mark};

use crate::html::escaped;

/// A position to a hundredth of a drawing unit.
fn number(value: f64) -> String {
    let text = metrology::to_decimals(value, 2);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// The drawing with its name and what it shows, for those who do not see it.
pub fn figure(drawing: &Drawing) -> String {
    let marks: String = drawing.marks.iter().map(mark).collect();
    format!(
        "<figure>\n<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-label=\"{title}\">\n<title>{title}</title>\n\
         <desc>{}</desc>\n{marks}</svg>\n</figure>\n",
        number(drawing.width),
        number(drawing.height),
        escaped(&drawing.description),
        title = escaped(&drawing.title),
    )
}

fn mark(mark: &Mark) -> String {
    let class = format!("class=\"m-{}\"", escaped(&mark.role));
    let (x, y, x2, y2) = (number(mark.x), number(mark.y), number(mark.x2), number(mark.y2));
    match mark.shape.as_str() {
        "line" => format!("<line {class} x1=\"{x}\" y1=\"{y}\" x2=\"{x2}\" y2=\"{y2}\"/>\n"),
        "rectangle" => {
            let (width, height) = (number((mark.x2 - mark.x).max(0.0)), number((mark.y2 - mark.y).max(0.0)));
            format!("<rect {class} x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/>\n")
        }
        "dot" => format!("<circle {class} cx=\"{x}\" cy=\"{y}\" r=\"{x2}\"/>\n"),
        "path" => format!("<path {class} d=\"{}\"/>\n", path(mark)),
        "text" => format!(
            "<text {class} x=\"{x}\" y=\"{y}\" text-anchor=\"{}\">{}</text>\n",
            escaped(&mark.anchor),
            escaped(&mark.text)
        ),
        _ => String::new(),
    }
}

/// A doubt is an area and is closed; every other path is a line.
fn path(mark: &Mark) -> String {
    let points: Vec<String> =
        mark.points.chunks_exact(2).map(|point| format!("{} {}", number(point[0]), number(point[1]))).collect();
    let end = if mark.role == "doubt" { "Z" } else { "" };
    if points.is_empty() { String::new() } else { format!("M{}{end}", points.join("L")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_shape_has_its_element() {
        let of = |shape: &str, role: &str| Mark {
            shape: shape.to_owned(),
            role: role.to_owned(),
            x: 1.0,
            y: 2.005,
            x2: 11.0,
            y2: 4.0,
            points: vec![0.0, 1.0, 2.0, 3.5],
            text: "<b>".to_owned(),
            anchor: "end".to_owned(),
        };
        assert_eq!(mark(&of("line", "zero")), "<line class=\"m-zero\" x1=\"1\" y1=\"2.01\" x2=\"11\" y2=\"4\"/>\n");
        assert!(mark(&of("rectangle", "band")).contains("width=\"10\" height=\"2\""));
        assert!(mark(&of("dot", "over")).contains("r=\"11\""));
        assert!(mark(&of("path", "doubt")).contains("d=\"M0 1L2 3.5Z\"") && mark(&of("path", "fit")).contains("3.5\""));
        assert!(mark(&of("text", "label")).contains("text-anchor=\"end\">&lt;b&gt;</text>"));
    }
}
