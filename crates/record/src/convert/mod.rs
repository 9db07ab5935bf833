//! The only way between the plain shapes of the file and the domain.
//!
//! `inputs` reads what was entered, its dials' marks by `marks`, `worked` writes what was worked out, `shown` makes what pages show. Not here: any
//! judgement, which is the domain's.

mod aperture;
mod choice;
mod film;
mod inputs;
mod light_tight;
mod marks;
mod number;
mod shown;
mod shutter;
mod test_roll;
mod wording;
mod worked;

pub(crate) use aperture::{kept_opening, outline, setup};
pub(crate) use choice::{choice, tolerances};
pub(crate) use inputs::{domain, level, references, settle};
pub(crate) use number::decimal;
pub(crate) use shown::{drawing, sheet, view};
pub(crate) use shutter::{build, counts_for, found_shot, timing_notice};
pub(crate) use test_roll::{film_format, film_travel};
pub(crate) use wording::texts;
pub(crate) use worked::{meter, pointing};

use crate::error::Error;
use crate::{PROGRAM, limits, v1};

/// What an inspection comes to, in the domain's own shapes.
#[derive(Clone, Debug)]
pub struct Examination {
    /// What was noticed on reading what was entered, a sentence each.
    pub notices: Vec<String>,
    /// What was entered.
    pub domain: inspection::Inspection,
    /// What it comes to.
    pub examined: inspection::Examined,
}

/// Fills in the numbers beside the texts and judges what was entered. Nothing is put into the record's result.
///
/// **Errors** where something entered cannot be, with its place; the inspection may then be filled in in part and is not to
/// be kept.
pub(crate) fn judge(record: &mut v1::Inspection) -> Result<Examination, Error> {
    limits::check(record)?;
    let notices = settle(record)?;
    let domain = domain(record)?;
    let examined = inspection::examine(&domain)?;
    Ok(Examination { notices, domain, examined })
}

/// [`judge`], and the result with its texts and the fingerprint put in.
pub(crate) fn work_out(record: &mut v1::Inspection) -> Result<Examination, Error> {
    let examination = judge(record)?;
    record.program = PROGRAM.to_owned();
    // What was worked out before counts for nothing, and need not be copied for the fingerprint.
    record.result = None;
    let mut result = worked::worked(&examination.domain, &examination.examined);
    result.fingerprint = crate::fingerprint(record);
    record.result = Some(result);
    Ok(examination)
}
