//! The fingerprint of an inspection: SHA-256 (FIPS 180-4) over the JSON text of what was entered and caught, keys in the order of the shape and without spaces, its first 16
//! hexadecimal digits, so that a printed sheet can be held against its file.
//!
//! It changes with anything that was entered and with nothing else: not with the result, the program that worked it out, the
//! revision, the time of the last change, or whether the pictures' data is in the file. Not here: the canonical writing itself
//! (`write`).

use sha2::{Digest, Sha256};

use crate::json::to_compact;
use crate::v1::Inspection;
use crate::write;

/// Bytes of the hash that are shown, two digits each.
const SHOWN_BYTES: usize = 8;

/// The fingerprint: 16 hexadecimal digits, `3f09a1c2d4e5b607`.
pub fn fingerprint(record: &Inspection) -> String {
    let hash = Sha256::digest(to_compact(&write::bare(record)));
    hash.iter().take(SHOWN_BYTES).map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::v1::{Photo, Worked};

    #[test]
    fn it_changes_with_what_was_entered_and_with_nothing_else() {
        let mut record = Inspection { id: "one".into(), photos: vec![Photo::default()], ..Inspection::default() };
        let first = fingerprint(&record);
        assert!(first.len() == 16 && first.chars().all(|digit| digit.is_ascii_hexdigit()));
        record.revision = 9;
        record.updated = "2026-03-01T09:30:00Z".into();
        record.program = "another".into();
        record.result = Some(Worked::default());
        record.photos[0].data = Some("AAAA".into());
        assert_eq!(fingerprint(&record), first);
        record.notes.push('.');
        assert_ne!(fingerprint(&record), first);
    }
}
