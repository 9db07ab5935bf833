//! Jobs of several pictures for the shell, and its answers about openings and glare.
//!
//! A job is one small JSON file that names its pictures; coordinates are pixels of the upright picture. Not here: opening the
//! pictures (`cli`), measuring them (`imaging`).

use imaging::blades::Series;
use imaging::glare::Glare;
use serde::{Deserialize, Serialize};

use super::photo::Told;
use crate::error::Error;
use crate::limits;

/// Most pictures of a job.
const MOST_PICTURES: usize = 1000;

/// Openings of a lens.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct BladesJob {
    /// Near the middle of the openings.
    pub centre_px: [f64; 2],
    /// Number of blades, where it was counted.
    pub blades: Option<usize>,
    /// The pictures.
    pub shots: Vec<BladesShot>,
}

/// One picture of an opening.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct BladesShot {
    /// The mark, as text or as a number.
    pub f_number: Marked,
    /// The picture.
    pub file: String,
    /// From which side the ring came: `open` or `closed`.
    pub from: Option<Side>,
}

/// A mark, as text or as a number.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(untagged)]
pub enum Marked {
    /// `"5.6"`.
    Text(String),
    /// `5.6`.
    Number(f64),
}

impl Marked {
    /// As text.
    pub fn text(&self) -> String {
        match self {
            Marked::Text(text) => text.clone(),
            Marked::Number(number) => number.to_string(),
        }
    }
}

/// From which side a ring came.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// From the open side.
    Open,
    /// From the closed side.
    Closed,
}

/// Glare of a lens.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct GlareJob {
    /// Middle of the black hole.
    pub centre_px: [f64; 2],
    /// Its radius.
    pub radius_px: f64,
    /// Pictures through the lens.
    pub with_lens: GlarePair,
    /// Pictures without it.
    pub without_lens: Option<GlarePair>,
}

/// A picture, and one that was exposed longer.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct GlarePair {
    /// Field at mid-grey.
    pub normal: String,
    /// Hole at mid-grey.
    pub long: Option<String>,
}

/// Reads a job. **Errors** where it is no JSON of that shape, too long, or names too many pictures.
pub fn blades_job(text: &str) -> Result<BladesJob, Error> {
    let job: BladesJob = job(text)?;
    if job.shots.is_empty() || job.shots.len() > MOST_PICTURES {
        return Err(Error::new(format!(
            "shots: 1 to {MOST_PICTURES} pictures are taken, and {} are named",
            job.shots.len()
        )));
    }
    Ok(job)
}

/// Reads a job. **Errors** as [`blades_job`].
pub fn glare_job(text: &str) -> Result<GlareJob, Error> {
    job(text)
}

pub(super) fn job<'t, T: Deserialize<'t>>(text: &'t str) -> Result<T, Error> {
    if text.len() > limits::FILE_BYTES {
        return Err(Error::new(format!(
            "a job must be at most {} bytes long, and this has {}",
            limits::FILE_BYTES,
            text.len()
        )));
    }
    serde_json::from_str(text).map_err(|error| Error::new(format!("it is no job: {error}")))
}

/// One mark.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StopRead {
    /// The mark as written.
    pub f_number: String,
    /// Area of the opening, in pixels of the picture; null where none was found.
    pub area_px: Option<f64>,
    /// Error, + is too open.
    pub error_stops: Option<f64>,
    /// Its standard uncertainty.
    pub standard_uncertainty_stops: Option<f64>,
    /// Root mean square of harmonics 2 to 4 of the outline, as a share of its radius.
    pub roundness: Option<f64>,
    /// What was noticed.
    pub notices: Vec<Told>,
}

/// A blade that sits off.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OddBladeRead {
    /// From the right on, clockwise as seen.
    pub angle_deg: f64,
    /// As a share of the blades' distance: + hangs back, − sticks in.
    pub deviation: f64,
}

/// A lens's openings.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BladesRead {
    /// Mark by mark.
    pub stops: Vec<StopRead>,
    /// Number of blades; null where it cannot be told.
    pub blade_count: Option<usize>,
    /// Blades that sit off.
    pub odd_blades: Vec<OddBladeRead>,
    /// How much wider the openings are when the ring comes from the open side.
    pub hysteresis_stops: Option<f64>,
    /// Standard deviation of one setting.
    pub repeatability_stops: Option<f64>,
    /// What was noticed.
    pub notices: Vec<Told>,
}

impl BladesRead {
    /// In the shell's shape; areas are scaled to pixels of the picture.
    pub fn of(series: &Series, area_scale: f64) -> Self {
        let told = |notices: &[imaging::Notice]| notices.iter().map(Told::of).collect();
        Self {
            stops: series
                .stops
                .iter()
                .map(|stop| StopRead {
                    f_number: stop.mark.clone(),
                    area_px: stop.area_px.map(|area| area * area_scale),
                    error_stops: stop.error_stops,
                    standard_uncertainty_stops: stop.standard_uncertainty_stops,
                    roundness: stop.roundness,
                    notices: told(&stop.notices),
                })
                .collect(),
            blade_count: series.blade_count,
            odd_blades: series
                .odd_blades
                .iter()
                .map(|blade| OddBladeRead { angle_deg: blade.angle_deg, deviation: blade.deviation })
                .collect(),
            hysteresis_stops: series.hysteresis_stops,
            repeatability_stops: series.repeatability_stops,
            notices: told(&series.notices),
        }
    }
}

/// A lens's glare.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GlareRead {
    /// As a fraction of the field's light.
    pub glare_index: f64,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// `two-exposure` or `single`.
    pub method: &'static str,
    /// What was noticed.
    pub notices: Vec<Told>,
}

impl GlareRead {
    /// In the shell's shape.
    pub fn of(glare: &Glare) -> Self {
        Self {
            glare_index: glare.index,
            standard_uncertainty: glare.standard_uncertainty,
            method: glare.method.key(),
            notices: glare.notices.iter().map(Told::of).collect(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_job_is_read_or_named() {
        let text = r#"{"centre_px":[4,5.5],"shots":[{"f_number":"5.6","file":"a.jpg","from":"open"},{"f_number":8,"file":"b"}]}"#;
        let job = blades_job(text).expect("a job");
        assert_eq!(
            (job.blades, job.shots[0].from, job.shots[1].f_number.text().as_str()),
            (None, Some(Side::Open), "8")
        );
        for bad in ["", "[]", r#"{"centre_px":[1],"shots":[]}"#, r#"{"centre_px":[1,2],"shots":[]}"#] {
            assert!(blades_job(bad).is_err(), "{bad}");
        }
        let pair = r#"{"centre_px":[1,2],"radius_px":30,"with_lens":{"normal":"a.jpg"}}"#;
        assert_eq!(glare_job(pair).expect("a job").without_lens, None);
    }
}
