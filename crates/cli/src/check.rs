//! `lampblack check`: what is wrong with inspection files, one after another.
//!
//! That a file is not valid is an outcome; there is none only where no file could be opened. Not here: the checks (`record`).

use std::fs::File;
use std::path::{Path, PathBuf};

use lexopt::{Arg, Parser};
use record::Checked;
use record::shell::{CheckedFile, CheckedFiles, json};

use crate::error::Failure;
use crate::{Answer, file, table, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut paths, mut as_json) = (Vec::new(), false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => paths.push(PathBuf::from(value)),
            other => return Err(other.unexpected().into()),
        }
    }
    usage::needed(paths.first(), "the file to check (FILE...)")?;
    let opens = |path: &Path| path.as_os_str() == "-" || File::open(path).is_ok();
    if let (Some(path), false) = (paths.first(), paths.iter().any(|path| opens(path))) {
        return Err(match file::read(path) {
            Err(failure) => failure,
            Ok(_) => Failure::None("no file could be opened".to_owned()),
        });
    }
    let checked = CheckedFiles::of(paths.iter().map(|path| one(path)).collect());
    if as_json { Ok(json(&checked)?) } else { Ok(said(&checked)) }
}

fn one(path: &Path) -> CheckedFile {
    let checked = match file::contents(path) {
        Ok(text) => record::check(&text),
        Err(why) => Checked::refused(&why),
    };
    CheckedFile { file: file::name(path), checked }
}

fn said(checked: &CheckedFiles) -> String {
    checked
        .files
        .iter()
        .map(|file| {
            let verdict = if file.checked.valid { "valid" } else { "not valid" };
            let findings = file.checked.findings.iter().map(|finding| table::wrapped("- ", 2, finding));
            format!("{}: {verdict}\n{}", file.file, findings.collect::<String>())
        })
        .collect()
}
