//! The sample description: the codec's letters, the picture's size, the decoder's description, colours.
//!
//! Not here: samples and times. *Sources:* ISO/IEC 14496-12:2022, 8.5.2 and 12.1; 14496-15:2022, 5.3.3, 8.3.3 and annex E (names for
//! decoders).

use super::Colour;
use super::boxes::{Reader, children, letters};
use crate::error::Error;

/// Length of the fixed part of a picture's sample entry, after its box head.
const ENTRY: usize = 78;

/// What the first sample description says.
#[derive(Clone, Debug)]
pub(super) struct Codec {
    pub name: String,
    pub decoder: Option<String>,
    pub description: Vec<u8>,
    pub width_px: u32,
    pub height_px: u32,
    pub colour: Option<Colour>,
    /// Whether there is more than one description.
    pub several: bool,
}

/// Reads a `stsd` box.
pub(super) fn read(stsd: &[u8]) -> Result<Codec, Error> {
    let mut reader = Reader::new(stsd);
    reader.version()?;
    let count = reader.entries(8, "sample descriptions")?;
    let Some(entry) = children(reader.rest()).next() else {
        return Err(Error::new("the clip's index describes no picture (stsd is empty)"));
    };
    let (kind, entry) = entry?;
    let mut fields = Reader::new(entry);
    // Reserved, the data reference, and what older files kept of an encoder.
    fields.take(24)?;
    let (width_px, height_px) = (u32::from(fields.u16()?), u32::from(fields.u16()?));
    fields.take(ENTRY - 28)?;
    let mut codec = Codec {
        name: letters(&kind),
        decoder: None,
        description: Vec::new(),
        width_px,
        height_px,
        colour: None,
        several: count > 1,
    };
    for child in children(fields.rest()) {
        let (inner, body) = child?;
        match &inner {
            b"avcC" => {
                codec.decoder = avc(&codec.name, body);
                codec.description = body.to_vec();
            }
            b"hvcC" => {
                codec.decoder = hevc(&codec.name, body);
                codec.description = body.to_vec();
            }
            b"colr" => codec.colour = codec.colour.or(colour(body)),
            _ => {}
        }
    }
    Ok(codec)
}

/// `avc1.` and profile, constraints and level in hexadecimal.
fn avc(name: &str, record: &[u8]) -> Option<String> {
    let &[profile, constraints, level] = record.get(1..4)? else { return None };
    Some(format!("{name}.{profile:02X}{constraints:02X}{level:02X}"))
}

/// `hvc1.`, profile, compatibility flags in reverse order of bits, tier and level, constraint bytes without trailing zeros.
fn hevc(name: &str, record: &[u8]) -> Option<String> {
    let mut reader = Reader::new(record);
    let (_, general) = (reader.u8().ok()?, reader.u8().ok()?);
    let compatible = reader.u32().ok()?.reverse_bits();
    let constraints: [u8; 6] = reader.array().ok()?;
    let level = reader.u8().ok()?;
    let space = ["", "A", "B", "C"].get(usize::from(general >> 6))?;
    let tier = if general & 0x20 == 0 { 'L' } else { 'H' };
    let mut text = format!("{name}.{space}{}.{compatible:X}.{tier}{level}", general & 0x1f);
    let used = constraints.iter().rposition(|byte| *byte != 0).map_or(0, |last| last + 1);
    for byte in constraints.iter().take(used) {
        text.push_str(&format!(".{byte:X}"));
    }
    Some(text)
}

/// A `colr` box that names code points.
fn colour(body: &[u8]) -> Option<Colour> {
    let mut reader = Reader::new(body);
    let kind: [u8; 4] = reader.array().ok()?;
    if !matches!(&kind, b"nclx" | b"nclc") {
        return None;
    }
    let (primaries, transfer, matrix) = (reader.u16().ok()?, reader.u16().ok()?, reader.u16().ok()?);
    let full_range = if kind == *b"nclx" { Some(reader.u8().ok()? & 0x80 != 0) } else { None };
    Some(Colour { primaries, transfer, matrix, full_range })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_for_decoders() {
        assert_eq!(avc("avc1", &[1, 0x64, 0, 0x28, 0xff]).as_deref(), Some("avc1.640028"));
        assert_eq!(avc("avc1", &[1, 0x64]), None);
        let main = [1, 0x01, 0x60, 0, 0, 0, 0xb0, 0, 0, 0, 0, 0, 93];
        assert_eq!(hevc("hvc1", &main).as_deref(), Some("hvc1.1.6.L93.B0"));
        let high = [1, 0x62, 0x20, 0, 0, 0, 0x90, 0, 1, 0, 0, 0, 153];
        assert_eq!(hevc("hev1", &high).as_deref(), Some("hev1.A2.4.H153.90.0.1"));
        assert_eq!(hevc("hvc1", &[1, 2, 3]), None);
    }

    #[test]
    fn colours() {
        let full = colour(b"nclx\0\x01\0\x01\0\x01\x80").expect("colours");
        assert_eq!((full.transfer, full.full_range), (1, Some(true)));
        let old = colour(b"nclc\0\x01\0\x0d\0\x06").expect("colours");
        assert_eq!((old.transfer, old.full_range), (13, None));
        assert_eq!(colour(b"prof\0\0\0\0"), None);
        assert_eq!(colour(b"nclx\0\x01\0"), None);
    }
}
