//! The only way between the plain shapes of the file and the domain.
//!
//! `inputs` reads what was entered, `worked` writes what was worked out, `shown` makes what pages show. Not here: any
//! judgement, which is the domain's.

mod aperture;
mod film;
mod inputs;
mod light_tight;
mod number;
mod shown;
mod shutter;
mod test_roll;
mod wording;
mod worked;

pub(crate) use aperture::{kept_opening, outline, setup};
pub(crate) use inputs::{domain, level, references, settle};
pub(crate) use number::decimal;
pub(crate) use shown::{drawing, sheet, view};
pub(crate) use shutter::{build, counts_for, found_shot, timing_notice};
pub(crate) use test_roll::{film_format, film_travel};
pub(crate) use wording::texts;
pub(crate) use worked::{meter, pointing};

use crate::error::Error;
use crate::{PROGRAM, limits, v1};

/// Fills in the numbers beside the texts, works the result out and puts it in. Gives what was noticed.
///
/// **Errors** where something entered cannot be, with its place; the inspection may then be filled in in part and is not to
/// be kept.
pub(crate) fn work_out(record: &mut v1::Inspection) -> Result<Vec<String>, Error> {
    Ok(examined(record)?.notices)
}

/// What was noticed on working an inspection out, and what it was worked out by.
pub(crate) struct WorkedOut {
    pub(crate) notices: Vec<String>,
    pub(crate) domain: inspection::Inspection,
    pub(crate) examined: inspection::Examined,
}

/// [`work_out`], with the domain's own results for who goes on with them.
pub(crate) fn examined(record: &mut v1::Inspection) -> Result<WorkedOut, Error> {
    limits::check(record)?;
    let notices = settle(record)?;
    let domain = domain(record)?;
    let examined = inspection::examine(&domain)?;
    record.program = PROGRAM.to_owned();
    // What was worked out before counts for nothing, and need not be copied for the fingerprint.
    record.result = None;
    let mut result = worked::worked(&domain, &examined);
    result.fingerprint = crate::fingerprint(record)?;
    record.result = Some(result);
    Ok(WorkedOut { notices, domain, examined })
}
