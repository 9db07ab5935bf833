//! The lens comparison: how much light the same lens scatters before and after, or two lenses of a kind.
//!
//! A single figure never says what scatters the light, nor whether a lens is sound: it is only put against another one. Not here:
//! the measurement (`imaging::glare`), what a torch shows ([`crate::catalogue`]).

use metrology::Estimate;

use crate::error::Error;
use crate::words;

/// A difference below this says nothing, however small its doubt: taking a set-up apart and aiming anew is worth as much
/// (judged, not measured).
pub const LEAST: f64 = 0.005;

/// One measurement.
#[derive(Clone, Debug)]
pub struct Measured {
    /// `before cleaning`.
    pub label: String,
    /// Share of the field's light \[1\].
    pub index: Estimate,
    /// Whether one exposure alone gave it.
    pub rough: bool,
}

/// What two or more measurements come to.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// Each figure as shown: label and `1.8 % ± 0.4 %`.
    pub figures: Vec<(String, String)>,
    /// The last against the first, a sentence.
    pub sentence: String,
    /// What has to be known.
    pub notices: Vec<String>,
}

/// What a figure means, said before and after.
pub const MEANING: &str = "The figure says how much light is scattered, and never by what: look at the glass with a torch for that. It \
                           only holds against the same lens before and after, or another of its kind, in the same set-up.";

/// `1.8 % ± 0.4 %`.
pub fn figure(index: Estimate) -> String {
    let shown = metrology::rounded(100.0 * index.value(), 100.0 * index.expanded_95());
    format!("{} % ± {} %", shown.value, shown.uncertainty)
}

/// Compares. **Errors** never for figures that [`Estimate`] takes; nothing where there is none.
pub fn compare(measured: &[Measured]) -> Result<Option<Comparison>, Error> {
    let (Some(first), Some(last)) = (measured.first(), measured.last()) else { return Ok(None) };
    let figures = measured.iter().map(|one| (one.label.clone(), figure(one.index))).collect();
    let mut notices = vec![MEANING.to_owned()];
    if measured.iter().any(|one| one.rough) {
        notices.push(
            "A rough figure, from one exposure, is within a factor of 1.5 or so: two rough ones compare only if they lie far apart."
                .to_owned(),
        );
    }
    let sentence = if measured.len() < 2 {
        format!(
            "{}: {} of the field's light is scattered. Alone this says nothing about the lens; measure it again after cleaning, or \
             another of its kind.",
            words::sentence_case(&first.label),
            figure(first.index)
        )
    } else {
        let (a, b) = (first.index, last.index);
        let doubt = (a.standard_uncertainty() * a.standard_uncertainty()
            + b.standard_uncertainty() * b.standard_uncertainty())
        .sqrt();
        let difference = Estimate::new(b.value() - a.value(), doubt, f64::INFINITY)?;
        let beyond = difference.value().abs() > difference.expanded_95().max(LEAST);
        let points = metrology::rounded(100.0 * difference.value().abs(), 100.0 * difference.expanded_95());
        if beyond {
            format!(
                "{} it scatters {} light than {}: by {} ± {} percentage points.",
                words::sentence_case(&last.label),
                if difference.value() < 0.0 { "less" } else { "more" },
                first.label,
                points.value,
                points.uncertainty
            )
        } else {
            format!(
                "Between {} and {} no difference can be told: {} ± {} percentage points.",
                first.label, last.label, points.value, points.uncertainty
            )
        }
    };
    Ok(Some(Comparison { figures, sentence, notices }))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn measured(label: &str, index: f64, doubt: f64) -> Measured {
        let index = Estimate::new(index, doubt, f64::INFINITY).expect("an estimate");
        Measured { label: label.to_owned(), index, rough: false }
    }

    #[test]
    fn one_figure_alone_says_nothing() {
        assert_eq!(compare(&[]).expect("compared"), None);
        let one = compare(&[measured("before cleaning", 0.031, 0.003)]).expect("compared").expect("one");
        assert!(one.sentence.contains("Alone this says nothing"), "{}", one.sentence);
    }

    #[test]
    fn a_difference_is_said_only_beyond_its_doubt() {
        let said = |after: f64| {
            let both = [measured("before cleaning", 0.041, 0.003), measured("after cleaning", after, 0.003)];
            compare(&both).expect("compared").expect("two").sentence
        };
        assert!(said(0.012).starts_with("After cleaning it scatters less light than before cleaning"));
        assert!(said(0.060).contains("more light") && said(0.039).contains("no difference can be told"));
    }

    #[test]
    fn the_number_never_names_what_it_cannot_know() {
        let both = [measured("before", 0.09, 0.003), measured("after", 0.01, 0.003)];
        let said = compare(&both).expect("compared").expect("two");
        let all = format!("{} {}", said.sentence, said.notices.join(" ")).to_lowercase();
        for word in ["haze", "fungus", "dust"] {
            assert!(!all.contains(word), "{all}");
        }
    }
}
