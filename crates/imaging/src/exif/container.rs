//! The wrappings of a picture file: where its exposure data, its description and its colour profile lie, and how large it is.
//!
//! Walks the segments of a JPEG and the chunks of a PNG up to the pixels; every length is checked, nothing is copied. Not here:
//! HEIF's boxes ([`super::heif`]), what stands in the blocks ([`super::tiff`], [`super::xmp`]).

use super::heif;

/// Longest block that is looked at \[bytes\]; a JPEG's are shorter by their nature.
pub(super) const LONGEST_BLOCK: usize = 1 << 20;
/// Most blocks of one kind that are looked at.
const MOST_BLOCKS: usize = 16;

/// What kind of file it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Container {
    /// A JPEG.
    Jpeg,
    /// A PNG.
    Png,
    /// HEIC, AVIF and their kin.
    Heif,
    /// None of these.
    Other,
}

/// The blocks of a file.
#[derive(Debug)]
pub(super) struct Pieces<'a> {
    pub container: Container,
    /// Stored width and height, as the file says.
    pub size: Option<(u32, u32)>,
    /// Blocks of exposure data, without their heads.
    pub tiff: Vec<&'a [u8]>,
    /// Descriptions in XMP.
    pub xmp: Vec<&'a [u8]>,
    /// Beginning of the colour profile, or its name.
    pub profile: Option<&'a [u8]>,
    /// The pixels begin and do not end: the file was cut off, and a browser would show grey in place of the rest.
    pub cut_off: bool,
}

impl<'a> Pieces<'a> {
    pub fn none(container: Container) -> Self {
        Self { container, size: None, tiff: Vec::new(), xmp: Vec::new(), profile: None, cut_off: false }
    }

    /// Looks through a file.
    pub fn of(bytes: &'a [u8]) -> Self {
        if bytes.starts_with(&[0xFF, 0xD8]) {
            jpeg(bytes)
        } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            png(bytes)
        } else if heif::is_heif(bytes) {
            heif::pieces(bytes)
        } else {
            Self::none(Container::Other)
        }
    }

    pub fn keep_tiff(&mut self, block: &'a [u8]) {
        keep(&mut self.tiff, block);
    }

    pub fn keep_xmp(&mut self, block: &'a [u8]) {
        keep(&mut self.xmp, block);
    }
}

fn keep<'a>(blocks: &mut Vec<&'a [u8]>, block: &'a [u8]) {
    if blocks.len() < MOST_BLOCKS {
        blocks.push(block.get(..LONGEST_BLOCK).unwrap_or(block));
    }
}

/// A number of up to eight bytes, the highest first.
pub(super) fn big_endian(bytes: &[u8], at: usize, length: usize) -> Option<u64> {
    let bytes = bytes.get(at..at.checked_add(length)?)?;
    Some(bytes.iter().fold(0, |number, byte| number << 8 | u64::from(*byte)))
}

fn jpeg(bytes: &[u8]) -> Pieces<'_> {
    let mut pieces = Pieces::none(Container::Jpeg);
    let mut at = 2;
    while let Some(skipped) = bytes.get(at..).and_then(|rest| rest.iter().position(|byte| *byte == 0xFF)) {
        at += skipped;
        // Any number of FF may stand before a marker.
        while bytes.get(at) == Some(&0xFF) {
            at += 1;
        }
        let Some(marker) = bytes.get(at) else { break };
        at += 1;
        match marker {
            0x00 | 0x01 | 0xD0..=0xD8 => continue,
            // The pixels begin. Among them an FF is always followed by 0 or a restart, so that the end cannot be mistaken.
            0xDA => {
                pieces.cut_off = !bytes.get(at..).unwrap_or(&[]).windows(2).any(|pair| pair == [0xFF, 0xD9]);
                break;
            }
            0xD9 => break,
            _ => {}
        }
        let Some(length) = big_endian(bytes, at, 2) else { break };
        let end = at.saturating_add(length as usize).min(bytes.len());
        // What says to be longer than the file is taken as far as it goes.
        let body = bytes.get(at + 2..end).unwrap_or(&[]);
        match marker {
            0xE1 => app1(body, &mut pieces),
            0xE2 => {
                if let Some(profile) = body.strip_prefix(b"ICC_PROFILE\0") {
                    pieces.profile.get_or_insert(profile);
                }
            }
            // Start of frame, without the markers of tables between.
            0xC0..=0xCF if !matches!(marker, 0xC4 | 0xC8 | 0xCC) => {
                if let (Some(height), Some(width)) = (big_endian(body, 1, 2), big_endian(body, 3, 2)) {
                    pieces.size.get_or_insert((width as u32, height as u32));
                }
            }
            _ => {}
        }
        at = end.max(at + 1);
    }
    pieces
}

fn app1<'a>(body: &'a [u8], pieces: &mut Pieces<'a>) {
    if body.starts_with(b"Exif\0") {
        // The second zero is a filler; some writers put something else there.
        pieces.keep_tiff(body.get(6..).unwrap_or(&[]));
    } else if let Some(text) = body.strip_prefix(b"http://ns.adobe.com/xap/1.0/\0") {
        pieces.keep_xmp(text);
    } else if let Some(text) = body.strip_prefix(b"http://ns.adobe.com/xmp/extension/\0") {
        pieces.keep_xmp(text);
    }
}

fn png(bytes: &[u8]) -> Pieces<'_> {
    let mut pieces = Pieces::none(Container::Png);
    let mut at = 8;
    while let Some(length) = big_endian(bytes, at, 4) {
        let (Some(name), start) = (bytes.get(at + 4..at + 8), at + 8) else { break };
        let end = start.saturating_add(length as usize).min(bytes.len());
        let body = bytes.get(start..end).unwrap_or(&[]);
        match name {
            b"IHDR" => {
                if let (Some(width), Some(height)) = (big_endian(body, 0, 4), big_endian(body, 4, 4)) {
                    pieces.size = Some((width as u32, height as u32));
                }
            }
            b"eXIf" => pieces.keep_tiff(body.strip_prefix(b"Exif\0\0").unwrap_or(body)),
            b"iTXt" if body.starts_with(b"XML:com.adobe.xmp\0") => pieces.keep_xmp(body),
            // The profile itself is packed; its name is enough.
            b"iCCP" => pieces.profile = body.split(|byte| *byte == 0).next(),
            b"IEND" => break,
            _ => {}
        }
        // Behind the body there are four bytes of check sum.
        at = end.saturating_add(4);
    }
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn segments_are_found_in_whatever_order() {
        let mut file = vec![0xFF, 0xD8, 0xFF, 0xFF, 0xE1, 0, 10];
        file.extend(b"Exif\0\0II");
        file.extend([0xFF, 0xC2, 0, 11, 8, 0, 3, 0, 5, 1, 0, 0, 0]);
        file.extend([0xFF, 0xE2, 0, 15]);
        file.extend(b"ICC_PROFILE\0\x01");
        file.extend([0xFF, 0xDA, 0, 4, 0, 0, 0xFF, 0xE1, 0, 10]);
        file.extend(b"Exif\0\0MM");
        assert!(Pieces::of(&file).cut_off);
        file.extend([0xFF, 0xD9]);
        let pieces = Pieces::of(&file);
        assert!(!pieces.cut_off);
        assert_eq!((pieces.container, pieces.size), (Container::Jpeg, Some((5, 3))));
        assert_eq!(pieces.tiff, [b"II"], "nothing is looked for behind the start of the pixels");
        assert_eq!(pieces.profile, Some(&[1][..]));
    }

    #[test]
    fn a_length_beyond_the_end_ends_the_walk() {
        let mut file = vec![0xFF, 0xD8, 0xFF, 0xE1, 0xFF, 0xFF];
        file.extend(b"Exif\0\0II*\0");
        assert_eq!(Pieces::of(&file).tiff, [b"II*\0"]);
        for length in 0..file.len() {
            Pieces::of(&file[..length]);
        }
        assert_eq!(Pieces::of(b"<html>").container, Container::Other);
        let png = [&b"\x89PNG\r\n\x1a\n\xFF\xFF\xFF\xFFeXIf"[..], &b"Exif\0\0II"[..]].concat();
        assert_eq!(Pieces::of(&png).tiff, [b"II"]);
    }
}
