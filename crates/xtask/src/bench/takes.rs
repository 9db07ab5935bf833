//! Our own results as the scripts read them (`takes.json`): a script that does not find the same shots is no comparison.
//!
//! Not here: measuring ([`super::signals`]), the holding against one another (`tests/bench/common.py`).

use photometry::TimeMark;
use record::page::MeasuredTake;

/// Results that were put down so far.
#[derive(Default)]
pub struct Takes(Vec<String>);

fn number(value: Option<f64>) -> String {
    value.filter(|value| value.is_finite()).map_or_else(|| "null".to_owned(), |value| value.to_string())
}

impl Takes {
    /// Puts down what a file gave. **Errors** for a mark that is none.
    pub fn add(&mut self, name: &str, file: &str, asked: &[&str], found: &MeasuredTake) -> Result<(), String> {
        let marked = asked
            .iter()
            .map(|mark| TimeMark::parse(mark, &[]).map(|mark| mark.exact().value().to_string()))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|error| error.to_string())?;
        let shots: Vec<String> = found
            .take
            .shots
            .iter()
            .map(|shot| format!("{{\"start_s\":{},\"time_s\":{}}}", number(Some(shot.start_s)), number(shot.time_s)))
            .collect();
        self.0.push(format!(
            "{{\"name\":\"{name}\",\"file\":\"{file}\",\"marked_s\":[{}],\"shots\":[{}]}}",
            marked.join(","),
            shots.join(",\n  ")
        ));
        Ok(())
    }

    /// All of them.
    pub fn json(&self) -> String {
        format!("[{}]\n", self.0.join(",\n"))
    }
}
