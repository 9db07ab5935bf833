//! The call of a verb that takes a job, a JSON file that names its pictures, and little else.
//!
//! Not here: a job's shape (`record`), its pictures ([`crate::picture`]).

use std::path::PathBuf;

use lexopt::{Arg, Parser};

use crate::error::Failure;
use crate::{file, usage};

/// What was called for.
pub struct Called<J> {
    pub job: J,
    /// Where the job stands, and its pictures beside it.
    pub path: PathBuf,
    /// The same, as it may be shown.
    pub place: String,
    pub as_json: bool,
}

/// Reads the call and the job. `own` says of an option whether it is one that this verb has beside `--json`.
pub fn called<J>(
    call: &mut Parser,
    read: impl Fn(&str) -> Result<J, record::Error>,
    mut own: impl FnMut(&str) -> bool,
) -> Result<Called<J>, Failure> {
    let (mut path, mut as_json) = (None::<PathBuf>, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("json") => as_json = true,
            Arg::Long(option) if own(option) => {}
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the job (JOB.json)")?;
    let place = file::name(&path);
    let job = read(&file::read(&path)?).map_err(|error| Failure::from(error).at(&place))?;
    Ok(Called { job, path, place, as_json })
}
