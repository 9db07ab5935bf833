//! Boxes: heads of 8, 16 or more bytes, the boxes inside a box, and numbers read with their bounds checked.
//!
//! Not here: what any box means. *Source:* ISO/IEC 14496-12:2022, 4.2.

use crate::error::Error;

/// The head of a box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BoxHead {
    /// Its four letters.
    pub kind: [u8; 4],
    /// Where it begins in the file.
    pub start: u64,
    /// Length of the head \[bytes\].
    pub header_len: u64,
    /// Length with the head \[bytes\].
    pub size: u64,
}

impl BoxHead {
    /// Where the next box begins.
    pub const fn end(&self) -> u64 {
        self.start.saturating_add(self.size)
    }
}

/// Reads the head of the box that begins at `at`, from the 8 bytes there (16 where there are as many) of a file of `file_size`
/// bytes.
///
/// **Errors** where fewer bytes are given than the head has, the size is less than the head, or the box does not fit in the
/// file.
pub fn next_box(header: &[u8], at: u64, file_size: u64) -> Result<BoxHead, Error> {
    let mut reader = Reader::new(header);
    let short = reader.u32()?;
    let kind = reader.array::<4>()?;
    let left = file_size.saturating_sub(at);
    let (header_len, size) = match short {
        0 => (8, left),
        1 => (16, reader.u64()?),
        short => (8, u64::from(short)),
    };
    if size < header_len || size > left {
        return Err(Error::new(format!(
            "the box {} at {at} must be {header_len} to {left} bytes long, and {size} is given: the file is cut short or is not \
             a clip",
            letters(&kind)
        )));
    }
    Ok(BoxHead { kind, start: at, header_len, size })
}

/// Four letters for a sentence; what is no plain letter becomes a dot.
pub(super) fn letters(kind: &[u8; 4]) -> String {
    kind.iter().map(|byte| if byte.is_ascii_graphic() { char::from(*byte) } else { '.' }).collect()
}

/// What a box at the beginning of `bytes` holds.
pub(super) fn inside<'a>(bytes: &'a [u8], head: &BoxHead) -> Result<&'a [u8], Error> {
    let (from, to) = (usize::try_from(head.header_len).ok(), usize::try_from(head.size).ok());
    from.zip(to).and_then(|(from, to)| bytes.get(from..to)).ok_or_else(|| cut_short(bytes.len()))
}

fn cut_short(length: usize) -> Error {
    Error::new(format!("the clip's index is cut short: more than {length} bytes are needed"))
}

/// The boxes inside a box, one after another. A last piece of fewer than 8 bytes is padding (QuickTime ends lists with 4 zero
/// bytes).
pub(super) fn children(bytes: &[u8]) -> Children<'_> {
    Children { bytes }
}

pub(super) struct Children<'a> {
    bytes: &'a [u8],
}

impl<'a> Iterator for Children<'a> {
    type Item = Result<([u8; 4], &'a [u8]), Error>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.bytes.len() < 8 {
            return None;
        }
        let read =
            next_box(self.bytes, 0, self.bytes.len() as u64).and_then(|head| Ok((head, inside(self.bytes, &head)?)));
        match read {
            Ok((head, body)) => {
                let end = usize::try_from(head.size).unwrap_or(self.bytes.len());
                self.bytes = self.bytes.get(end..).unwrap_or_default();
                Some(Ok((head.kind, body)))
            }
            Err(error) => {
                self.bytes = &[];
                Some(Err(error))
            }
        }
    }
}

/// The first box of a kind inside a box. **Errors** where a box before it does not fit.
pub(super) fn find<'a>(bytes: &'a [u8], kind: &[u8; 4]) -> Result<Option<&'a [u8]>, Error> {
    for child in children(bytes) {
        let (found, body) = child?;
        if found == *kind {
            return Ok(Some(body));
        }
    }
    Ok(None)
}

/// As [`find`], where the box has to be there.
pub(super) fn need<'a>(bytes: &'a [u8], kind: &[u8; 4]) -> Result<&'a [u8], Error> {
    find(bytes, kind)?.ok_or_else(|| Error::new(format!("the clip's index lacks the box {}", letters(kind))))
}

/// Reads numbers, the greatest byte first, and never beyond the end.
#[derive(Clone, Copy, Debug)]
pub(super) struct Reader<'a> {
    bytes: &'a [u8],
    length: usize,
}

impl<'a> Reader<'a> {
    pub const fn new(bytes: &'a [u8]) -> Self {
        Self { bytes, length: bytes.len() }
    }

    /// What has not been read.
    pub const fn rest(&self) -> &'a [u8] {
        self.bytes
    }

    pub fn take(&mut self, count: usize) -> Result<&'a [u8], Error> {
        let (taken, rest) = self.bytes.split_at_checked(count).ok_or_else(|| cut_short(self.length))?;
        self.bytes = rest;
        Ok(taken)
    }

    pub fn array<const N: usize>(&mut self) -> Result<[u8; N], Error> {
        self.take(N)?.try_into().map_err(|_| cut_short(self.length))
    }

    pub fn u8(&mut self) -> Result<u8, Error> {
        Ok(u8::from_be_bytes(self.array()?))
    }

    pub fn u16(&mut self) -> Result<u16, Error> {
        Ok(u16::from_be_bytes(self.array()?))
    }

    pub fn u32(&mut self) -> Result<u32, Error> {
        Ok(u32::from_be_bytes(self.array()?))
    }

    pub fn i32(&mut self) -> Result<i32, Error> {
        Ok(i32::from_be_bytes(self.array()?))
    }

    pub fn u64(&mut self) -> Result<u64, Error> {
        Ok(u64::from_be_bytes(self.array()?))
    }

    pub fn i64(&mut self) -> Result<i64, Error> {
        Ok(i64::from_be_bytes(self.array()?))
    }

    /// The version byte of a full box; its flags are passed over.
    pub fn version(&mut self) -> Result<u8, Error> {
        let version = self.u8()?;
        self.take(3)?;
        Ok(version)
    }

    /// A count of entries of `width` bytes each that all have to be in what is left, so that nothing is set aside for a count
    /// that lies.
    pub fn entries(&mut self, width: usize, what: &str) -> Result<usize, Error> {
        let count = self.u32()? as usize;
        if count.checked_mul(width).is_none_or(|bytes| bytes > self.bytes.len()) {
            return Err(Error::new(format!(
                "the list of {what} must fit in its box of {} bytes, and {count} entries are given",
                self.length
            )));
        }
        Ok(count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_of_all_three_sizes() {
        let head = next_box(b"\0\0\0\x18ftypmp42\0\0\0\0", 0, 1_000).expect("a head");
        assert_eq!((&head.kind, head.header_len, head.size, head.end()), (b"ftyp", 8, 24, 24));
        let large = next_box(b"\0\0\0\x01mdat\0\0\0\x02\0\0\0\0", 24, 9_000_000_000).expect("a head");
        assert_eq!((large.header_len, large.size, large.end()), (16, 8_589_934_592, 8_589_934_616));
        let to_the_end = next_box(b"\0\0\0\0mdat", 24, 1_000).expect("a head");
        assert_eq!(to_the_end.end(), 1_000);
    }

    #[test]
    fn heads_that_lie_are_refused() {
        for (header, at, size) in [
            (&b"\0\0\0\x18fty"[..], 0, 1_000),
            (b"\0\0\0\x07ftyp", 0, 1_000),
            (b"\0\0\0\x18ftyp", 990, 1_000),
            (b"\0\0\0\x01mdat\0\0\0\0\0\0\0\x0f", 0, 1_000),
            (b"\0\0\0\x01mdat\xff\xff\xff\xff\xff\xff\xff\xff", 0, u64::MAX - 1),
            (b"\0\0\0\x01mdat\0\0", 0, 1_000),
            (b"\0\0\0\0mdat", 2_000, 1_000),
        ] {
            assert!(next_box(header, at, size).is_err(), "{header:?}");
        }
    }

    #[test]
    fn boxes_inside_end_where_they_should() {
        let bytes = b"\0\0\0\x0aabcdxy\0\0\0\x08efgh\0\0\0\0";
        let kinds: Vec<_> = children(bytes).map(|child| child.expect("a box")).collect();
        assert_eq!(kinds, [(*b"abcd", &b"xy"[..]), (*b"efgh", &b""[..])]);
        assert_eq!(children(b"\0\0\0\x0aabcdx").count(), 1);
        assert!(children(b"\0\0\0\x0aabcdx").all(|child| child.is_err()));
        assert!(need(bytes, b"zzzz").expect_err("missing").to_string().contains("zzzz"));
    }
}
