//! A block of exposure data: two directories of tags, read within bounds.
//!
//! Before the block is read, everything that is not wanted is cut out of it: the position, the thumbnail, the links to further
//! directories, and whatever would make the reader go round in circles. Not here: what the tags mean ([`super::exposure`],
//! [`super::kind`]).

use ::exif::{Exif, In, Reader, Tag, Value};

use super::xmp::fraction;

/// Most entries of a directory that are read.
const MOST_ENTRIES: usize = 1000;
/// Longest text that is kept \[letters\].
const LONGEST_TEXT: usize = 64;
const EXIF_POINTER: u16 = 0x8769;
const GPS_POINTER: u16 = 0x8825;
const INTEROP_POINTER: u16 = 0xA005;

/// What is wrong with a block as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// It does not begin as it must.
    ByteOrder,
    /// A directory lies outside it.
    OutOfRange,
}

/// The tags of a block.
pub(super) struct Tags(Exif);

/// Reads a block. There may be tags in spite of a fault.
pub(super) fn read(block: &[u8]) -> (Option<Tags>, Option<Fault>) {
    let mut bytes = block.to_vec();
    let fault = match Pruner::new(&mut bytes) {
        None => return (None, Some(Fault::ByteOrder)),
        Some(mut pruner) => pruner.prune().err(),
    };
    let exif = match Reader::new().continue_on_error(true).read_raw(bytes) {
        Ok(exif) => Some(exif),
        Err(::exif::Error::PartialResult(partial)) => Some(partial.into_inner().0),
        Err(_) => None,
    };
    (exif.filter(|exif| exif.fields().len() > 0).map(Tags), fault)
}

impl Tags {
    fn value(&self, tag: Tag) -> Option<&Value> {
        self.0.get_field(tag, In::PRIMARY).map(|field| &field.value)
    }

    /// The first number of a tag, whatever type the writer chose; nothing where it is n/0 or no number.
    pub fn number(&self, tag: Tag) -> Option<f64> {
        let ratio = |over: f64, under: f64| if under == 0.0 { None } else { Some(over / under) };
        let number = match self.value(tag)? {
            Value::Rational(list) => list.first().and_then(|r| ratio(r.num.into(), r.denom.into())),
            Value::SRational(list) => list.first().and_then(|r| ratio(r.num.into(), r.denom.into())),
            Value::Byte(list) => list.first().map(|x| f64::from(*x)),
            Value::SByte(list) => list.first().map(|x| f64::from(*x)),
            Value::Short(list) => list.first().map(|x| f64::from(*x)),
            Value::SShort(list) => list.first().map(|x| f64::from(*x)),
            Value::Long(list) => list.first().map(|x| f64::from(*x)),
            Value::SLong(list) => list.first().map(|x| f64::from(*x)),
            Value::Float(list) => list.first().map(|x| f64::from(*x)),
            Value::Double(list) => list.first().copied(),
            Value::Ascii(list) => list.first().and_then(|text| fraction(core::str::from_utf8(text).ok()?)),
            Value::Undefined(..) | Value::Unknown(..) => None,
        }?;
        number.is_finite().then_some(number)
    }

    /// A whole number of a tag.
    pub fn whole(&self, tag: Tag) -> Option<u32> {
        self.number(tag).filter(|number| *number >= 0.0 && *number <= f64::from(u32::MAX)).map(|number| number as u32)
    }

    /// A text, without what could move a cursor; nothing where it is empty.
    pub fn text(&self, tag: Tag) -> Option<String> {
        let bytes: &[u8] = match self.value(tag)? {
            Value::Ascii(list) => list.first()?,
            Value::Undefined(bytes, _) => bytes,
            _ => return None,
        };
        let bytes = bytes.get(..4 * LONGEST_TEXT).unwrap_or(bytes);
        let text: String =
            String::from_utf8_lossy(bytes).chars().filter(|c| !c.is_control()).take(LONGEST_TEXT).collect();
        let text = text.trim();
        if text.is_empty() { None } else { Some(text.to_owned()) }
    }
}

/// Cuts a block down to the entries of its first directory and of the one with the exposure.
struct Pruner<'a> {
    bytes: &'a mut [u8],
    low_first: bool,
}

/// Where the entries of a directory lie.
struct Directory {
    start: usize,
    count: usize,
    end: usize,
}

impl<'a> Pruner<'a> {
    fn new(bytes: &'a mut [u8]) -> Option<Self> {
        let low_first = match bytes.get(..4)? {
            [b'I', b'I', 42, 0] => true,
            [b'M', b'M', 0, 42] => false,
            _ => return None,
        };
        Some(Self { bytes, low_first })
    }

    fn number<const N: usize>(&self, at: usize) -> Option<u32> {
        let bytes: [u8; N] = self.bytes.get(at..at.checked_add(N)?)?.try_into().ok()?;
        let join = |number: u32, byte: &u8| number << 8 | u32::from(*byte);
        Some(if self.low_first { bytes.iter().rev().fold(0, join) } else { bytes.iter().fold(0, join) })
    }

    fn write<const N: usize>(&mut self, at: usize, number: u32) {
        let all = if self.low_first { number.to_le_bytes() } else { number.to_be_bytes() };
        let part = if self.low_first { all.get(..N) } else { all.get(4 - N..) };
        if let (Some(to), Some(part)) = (at.checked_add(N).and_then(|end| self.bytes.get_mut(at..end)), part) {
            to.copy_from_slice(part);
        }
    }

    fn prune(&mut self) -> Result<(), Fault> {
        let first = self.directory(self.number::<4>(4).ok_or(Fault::OutOfRange)?)?;
        let Some(pointer) = self.clean(&first) else { return Ok(()) };
        // What overlaps the first directory could be changed into something else by the cleaning.
        let second = self.directory(pointer).and_then(|second| {
            let apart = second.start >= first.end || second.end <= first.start;
            if apart { Ok(second) } else { Err(Fault::OutOfRange) }
        });
        match second {
            Ok(second) => {
                self.clean(&second);
                Ok(())
            }
            Err(fault) => {
                self.drop_pointers(&first);
                Err(fault)
            }
        }
    }

    /// A directory at an offset, cut to the most entries, without a link to another.
    fn directory(&mut self, offset: u32) -> Result<Directory, Fault> {
        let start = offset as usize;
        let count = self.number::<2>(start).filter(|_| start >= 8).ok_or(Fault::OutOfRange)? as usize;
        let kept = count.min(MOST_ENTRIES);
        let end = start + 2 + 12 * kept;
        if kept < count {
            self.write::<2>(start, kept as u32);
        }
        self.write::<4>(end, 0);
        Ok(Directory { start, count: kept, end: end + 4 })
    }

    /// Removes every pointer but the first one to the exposure, and gives where that leads.
    fn clean(&mut self, directory: &Directory) -> Option<u32> {
        let mut kept = None;
        for at in (0..directory.count).map(|entry| directory.start + 2 + 12 * entry) {
            let Some(tag) = self.number::<2>(at) else { break };
            let exposure = tag == u32::from(EXIF_POINTER) && kept.is_none();
            if exposure && self.number::<2>(at + 2) == Some(4) && self.number::<4>(at + 4) == Some(1) {
                kept = self.number::<4>(at + 8);
            } else if [EXIF_POINTER, GPS_POINTER, INTEROP_POINTER].iter().any(|pointer| tag == u32::from(*pointer)) {
                self.erase(at);
            }
        }
        kept
    }

    fn drop_pointers(&mut self, directory: &Directory) {
        for at in (0..directory.count).map(|entry| directory.start + 2 + 12 * entry) {
            if self.number::<2>(at) == Some(EXIF_POINTER.into()) {
                self.erase(at);
            }
        }
    }

    fn erase(&mut self, entry: usize) {
        if let Some(bytes) = self.bytes.get_mut(entry..entry + 12) {
            bytes.fill(0);
        }
    }
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// A type, a count and a value or an offset.
    pub(in super::super) type Entry = (u16, u16, u32, u32);

    fn directory(entries: &[Entry]) -> Vec<u8> {
        let mut bytes = (entries.len() as u16).to_be_bytes().to_vec();
        for (tag, kind, count, value) in entries {
            bytes.extend(tag.to_be_bytes());
            bytes.extend(kind.to_be_bytes());
            bytes.extend(count.to_be_bytes());
            // A short lies in the first half of the four bytes.
            bytes.extend(if *kind == 3 { (value << 16).to_be_bytes() } else { value.to_be_bytes() });
        }
        bytes.extend([0; 4]);
        bytes
    }

    /// A block with these entries in both directories, high byte first; rationals lie behind them.
    pub(in super::super) fn block(first: &[Entry], second: &[Entry], rationals: &[(u32, u32)]) -> Vec<u8> {
        let second_at = 8 + 2 + 12 * (first.len() as u32 + 1) + 4;
        let rationals_at = second_at + 2 + 12 * second.len() as u32 + 4;
        let pointer = [(EXIF_POINTER, 4, 1, second_at)];
        let second: Vec<Entry> = second
            .iter()
            .map(|&(tag, kind, count, value)| {
                let value = if kind == 5 || kind == 10 { rationals_at + 8 * value } else { value };
                (tag, kind, count, value)
            })
            .collect();
        let mut bytes = b"MM\0\x2a\0\0\0\x08".to_vec();
        bytes.extend(directory(&[first, &pointer].concat()));
        bytes.extend(directory(&second));
        for (over, under) in rationals {
            bytes.extend(over.to_be_bytes());
            bytes.extend(under.to_be_bytes());
        }
        bytes
    }

    #[test]
    fn the_position_is_gone_before_anything_is_read() {
        let gps = (GPS_POINTER, 4, 1, 8);
        let (tags, fault) = read(&block(&[gps], &[(0x8827, 3, 1, 400)], &[]));
        let tags = tags.expect("tags");
        assert_eq!((fault, tags.whole(Tag::PhotographicSensitivity)), (None, Some(400)));
        assert!(tags.value(Tag::GPSInfoIFDPointer).is_none());
        assert!(tags.0.fields().all(|field| field.tag.context() != ::exif::Context::Gps));
        assert!(!tags.0.buf().windows(2).any(|bytes| bytes == GPS_POINTER.to_be_bytes()));
    }

    #[test]
    fn numbers_are_taken_in_whatever_type_and_nothing_over_nothing_is_none() {
        let second = [(0x829A, 5, 1, 0), (0x829D, 5, 1, 1), (0x9204, 10, 1, 2), (0x8827, 4, 1, 70_000)];
        let (tags, _) = read(&block(&[], &second, &[(1, 125), (0, 0), (u32::MAX, 3)]));
        let tags = tags.expect("tags");
        assert_eq!(tags.number(Tag::ExposureTime), Some(0.008));
        assert_eq!((tags.number(Tag::FNumber), tags.value(Tag::FNumber).is_some()), (None, true));
        assert_eq!(tags.number(Tag::ExposureBiasValue), Some(-1.0 / 3.0));
        assert_eq!(tags.whole(Tag::PhotographicSensitivity), Some(70_000));
    }

    #[test]
    fn directories_within_directories_do_not_fill_the_memory() {
        // Every entry points to a directory that begins in the middle of another entry.
        let entries: Vec<Entry> = (0..5000_u32).map(|i| (EXIF_POINTER, 4, 1, 8 + 12 * i)).collect();
        let mut bytes = b"MM\0\x2a\0\0\0\x08".to_vec();
        bytes.extend(directory(&entries));
        let (tags, fault) = read(&bytes);
        assert_eq!(fault, Some(Fault::OutOfRange));
        assert!(tags.is_none_or(|tags| tags.0.fields().len() <= MOST_ENTRIES));
    }

    #[test]
    fn a_block_that_is_none_is_told_from_one_that_leads_nowhere() {
        assert_eq!(read(b"XX*\0\0\0\0\x08").1, Some(Fault::ByteOrder));
        assert_eq!(read(b"II*\0\xFF\xFF\xFF\xFF").1, Some(Fault::OutOfRange));
        assert_eq!(read(b"").1, Some(Fault::ByteOrder));
    }
}
