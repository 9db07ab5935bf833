//! HEIF's boxes (ISO/IEC 14496-12 and 23008-12): where the exposure data and the description of an HEIC or AVIF picture lie.
//!
//! Looks at the file's own `meta` box and there only at the list of items and their places; every length is checked, nothing is
//! copied. Not here: pixels, which the browser decodes; JPEG and PNG ([`super::container`]).

use super::container::{Container, Pieces, big_endian};

/// Most boxes and most items that are looked at.
const MOST: usize = 4096;
/// Brands of still pictures and of sequences of them.
const BRANDS: [&[u8; 4]; 6] = [b"mif1", b"msf1", b"heic", b"heix", b"avif", b"mif2"];

/// A box: its name and its body.
type Box<'a> = (&'a [u8], &'a [u8]);

/// The boxes that follow one another in a body.
fn boxes(mut rest: &[u8]) -> impl Iterator<Item = Box<'_>> {
    core::iter::from_fn(move || {
        let name = rest.get(4..8)?;
        let (head, length) = match big_endian(rest, 0, 4)? {
            // To the end of the file.
            0 => (8, rest.len()),
            1 => (16, usize::try_from(big_endian(rest, 8, 8)?).ok()?),
            length => (8, length as usize),
        };
        // What says to be longer than its surroundings is taken as far as it goes.
        let end = length.min(rest.len());
        let body = rest.get(head..end)?;
        rest = rest.get(end..)?;
        Some((name, body))
    })
    .take(MOST)
}

/// Whether a file begins as a HEIF does.
pub(super) fn is_heif(bytes: &[u8]) -> bool {
    bytes.get(4..8) == Some(b"ftyp")
        && boxes(bytes).next().is_some_and(|(_, body)| {
            body.chunks_exact(4).enumerate().any(|(at, brand)| at != 1 && BRANDS.iter().any(|known| brand == *known))
        })
}

fn named<'a>(body: &'a [u8], name: &[u8; 4]) -> Option<&'a [u8]> {
    boxes(body).find(|(found, _)| found == name).map(|(_, body)| body)
}

/// Looks through a HEIF.
pub(super) fn pieces(bytes: &[u8]) -> Pieces<'_> {
    let mut pieces = Pieces::none(Container::Heif);
    // A full box begins with four bytes of version and flags.
    let Some(meta) = named(bytes, b"meta").and_then(|meta| meta.get(4..)) else { return pieces };
    let (Some(items), Some(places)) = (named(meta, b"iinf"), named(meta, b"iloc")) else { return pieces };
    let data = named(meta, b"idat").unwrap_or(&[]);
    for (id, kind) in wanted(items) {
        let Some(block) = place(places, id).and_then(|place| place.of(bytes, data)) else { continue };
        match kind {
            // Four bytes say where behind them the data begin.
            Kind::Exif => {
                let skipped = big_endian(block, 0, 4).map_or(0, |skipped| skipped as usize);
                if let Some(tiff) = skipped.checked_add(4).and_then(|from| block.get(from..)) {
                    pieces.keep_tiff(tiff);
                }
            }
            Kind::Xmp => pieces.keep_xmp(block),
        }
    }
    pieces.profile = named(meta, b"iprp")
        .and_then(|properties| named(properties, b"ipco"))
        .and_then(|properties| boxes(properties).find(|(name, body)| *name == b"colr" && body.starts_with(b"prof")))
        .map(|(_, body)| body);
    pieces
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Exif,
    Xmp,
}

/// Numbers of the items of interest, from the item information box.
fn wanted(items: &[u8]) -> Vec<(u64, Kind)> {
    let head = if items.first() == Some(&0) { 6 } else { 8 };
    let mut found = Vec::new();
    for (name, entry) in boxes(items.get(head..).unwrap_or(&[])) {
        let width = match entry.first() {
            Some(2) => 2,
            Some(3) => 4,
            _ => continue,
        };
        let (Some(id), true) = (big_endian(entry, 4, width), name == b"infe") else { continue };
        let kind = entry.get(4 + width + 2..).unwrap_or(&[]);
        if kind.starts_with(b"Exif") {
            found.push((id, Kind::Exif));
        } else if kind.starts_with(b"mime") && kind.windows(8).any(|word| word == b"rdf+xml\0") {
            found.push((id, Kind::Xmp));
        }
    }
    found.truncate(8);
    found
}

/// Where an item lies.
struct Place {
    /// Counted from the beginning of the item data box, and not of the file.
    in_data: bool,
    offset: u64,
    length: u64,
}

impl Place {
    fn of<'a>(&self, file: &'a [u8], data: &'a [u8]) -> Option<&'a [u8]> {
        let whole = if self.in_data { data } else { file };
        let start = usize::try_from(self.offset).ok()?;
        let end = match self.length {
            0 => whole.len(),
            length => start.checked_add(usize::try_from(length).ok()?)?.min(whole.len()),
        };
        whole.get(start..end)
    }
}

/// The place of an item, from the item location box. An item in several pieces is none of exposure data.
fn place(places: &[u8], wanted: u64) -> Option<Place> {
    let version = *places.first()?;
    let nibble =
        |at: usize, high: bool| places.get(at).map(|byte| usize::from(if high { byte >> 4 } else { byte & 15 }));
    let (offset_width, length_width, base_width) = (nibble(4, true)?, nibble(4, false)?, nibble(5, true)?);
    let index_width = if version == 0 { 0 } else { nibble(5, false)? };
    if [offset_width, length_width, base_width, index_width].iter().any(|width| !matches!(width, 0 | 4 | 8)) {
        return None;
    }
    let id_width = if version < 2 { 2 } else { 4 };
    let mut at = 6 + id_width;
    for _ in 0..big_endian(places, 6, id_width)?.min(MOST as u64) {
        let mut next = |width: usize| {
            let number = big_endian(places, at, width);
            at += width;
            number
        };
        let id = next(id_width)?;
        let method = if version == 0 { 0 } else { next(2)? & 15 };
        let elsewhere = next(2)? != 0;
        let base = next(base_width)?;
        let extents = next(2)?;
        if id != wanted {
            at += extents as usize * (index_width + offset_width + length_width);
            continue;
        }
        next(index_width)?;
        let (offset, length) = (next(offset_width)?, next(length_width)?);
        if elsewhere || extents != 1 || method > 1 {
            return None;
        }
        return Some(Place { in_data: method == 1, offset: base.checked_add(offset)?, length });
    }
    None
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    fn boxed(name: &[u8; 4], body: &[u8]) -> Vec<u8> {
        [&(body.len() as u32 + 8).to_be_bytes()[..], name, body].concat()
    }

    /// A HEIF that holds nothing but a block of exposure data and a description.
    pub(in super::super) fn written(tiff: &[u8], xmp: &[u8]) -> Vec<u8> {
        let exif = [&6_u32.to_be_bytes()[..], b"Exif\0\0", tiff].concat();
        let infe =
            |id: u16, kind: &[u8]| boxed(b"infe", &[&[2, 0, 0, 0][..], &id.to_be_bytes(), &[0, 0], kind].concat());
        let items = [infe(1, b"hvc1\0"), infe(2, b"Exif\0"), infe(3, b"mime\0application/rdf+xml\0")].concat();
        let iinf = boxed(b"iinf", &[&[0, 0, 0, 0, 0, 3][..], &items].concat());
        let entry = |id: u16, method: u16, offset: u32, length: usize| {
            [
                &id.to_be_bytes()[..],
                &method.to_be_bytes(),
                &[0, 0, 0, 1],
                &offset.to_be_bytes(),
                &(length as u32).to_be_bytes(),
            ]
            .concat()
        };
        let ftyp = boxed(b"ftyp", b"heic\0\0\0\0mif1heic");
        // The place in the file is known only when everything before it is: its length does not depend on it.
        let meta = |offset: u32| {
            let iloc = [
                &[1, 0, 0, 0, 0x44, 0, 0, 3][..],
                &entry(1, 0, 0, 1),
                &entry(2, 0, offset, exif.len()),
                &entry(3, 1, 0, xmp.len()),
            ]
            .concat();
            boxed(b"meta", &[&[0; 4][..], &iinf, &boxed(b"iloc", &iloc), &boxed(b"idat", xmp)].concat())
        };
        let offset = (ftyp.len() + meta(0).len() + 8) as u32;
        [ftyp, meta(offset), boxed(b"mdat", &exif)].concat()
    }

    #[test]
    fn items_are_found_at_their_places() {
        let file = written(b"II*\0tags", b"<x:xmpmeta/>");
        let pieces = Pieces::of(&file);
        assert_eq!(pieces.container, Container::Heif);
        assert_eq!(pieces.tiff, [b"II*\0tags"]);
        assert_eq!(pieces.xmp, [b"<x:xmpmeta/>"]);
    }

    #[test]
    fn a_heif_cut_off_anywhere_or_with_any_byte_changed_is_no_trap() {
        let file = written(b"II*\0tags", b"<x:xmpmeta/>");
        for at in 0..file.len() {
            Pieces::of(&file[..at]);
            for byte in [0, 1, 0x80, 0xFF] {
                let mut changed = file.clone();
                changed[at] = byte;
                Pieces::of(&changed);
            }
        }
    }
}
