//! A text as a QR code (ISO/IEC 18004), for the printed sheet.
//!
//! Not here: what the text says ([`crate::sheet`]); the coding itself, which the `qrcodegen` crate does.

use qrcodegen::{QrCode, QrCodeEcc};

use super::{Drawing, Mark, Role, rectangle};

/// Light squares about a code, as the standard wants them.
const QUIET: i32 = 4;

/// The code of a text; `None` where the text is too long for one.
pub fn code(text: &str) -> Option<Drawing> {
    let made = QrCode::encode_text(text, QrCodeEcc::Low).ok()?;
    let size = made.size();
    let mut marks: Vec<Mark> = Vec::new();
    for row in 0..size {
        let mut column = 0;
        while column < size {
            let from = column;
            while column < size && made.get_module(column, row) {
                column += 1;
            }
            if column > from {
                // Dark squares side by side are one mark: no hairline of paper between them.
                let at = |value: i32| f64::from(value + QUIET);
                marks.push(rectangle(Role::Code, (at(from), at(row)), (at(column), at(row + 1))));
            }
            column += 1;
        }
    }
    let side = f64::from(size + 2 * QUIET);
    Some(Drawing {
        width: side,
        height: side,
        title: "Code with the line and the fingerprint".to_owned(),
        description: format!("A QR code that says: {text}"),
        marks,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    #[test]
    fn it_has_its_three_corners_and_a_quiet_edge() {
        let drawn = code("Halden 35 R: ready. 0123456789abcdef").expect("a code");
        let dark = |x: f64, y: f64| {
            drawn.marks.iter().any(|mark| match &mark.shape {
                Shape::Rectangle { from, to } => x > from.0 && x < to.0 && y > from.1 && y < to.1,
                _ => false,
            })
        };
        let far = drawn.width - 4.5;
        // Finder patterns: dark corner, light ring one in, dark middle.
        for (x, y, inward) in [(4.5, 4.5, (1.0, 1.0)), (far, 4.5, (-1.0, 1.0)), (4.5, far, (1.0, -1.0))] {
            assert!(dark(x, y) && !dark(x + inward.0, y + inward.1) && dark(x + 3.0 * inward.0, y + 3.0 * inward.1));
        }
        assert!(!dark(2.0, 2.0) && !dark(far + 2.0, 10.0));
        assert!(code(&"x".repeat(5000)).is_none());
    }
}
