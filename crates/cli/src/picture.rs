//! Decoding picture files for the shell; on the page the browser does that.
//!
//! JPEG and PNG, with their size looked at before anything is allocated. Not here: what is measured on the pixels (`imaging`).

use std::io::Cursor;
use std::path::{Path, PathBuf};

use imaging::exif::{Container, Metadata};
use imaging::raster::{LONGEST_SIDE, Layout, Size, View};
use zune_core::bytestream::ZCursor;
use zune_core::colorspace::ColorSpace;
use zune_core::options::DecoderOptions;
use zune_jpeg::JpegDecoder;

use crate::error::Failure;
use crate::file;

/// Longest picture file that is taken; phones write a tenth of it.
const PICTURE_BYTES: usize = 128 * 1024 * 1024;

/// The bytes of a picture file.
pub fn read(path: &Path) -> Result<Vec<u8>, Failure> {
    file::bytes(path, PICTURE_BYTES).map_err(|why| Failure::None(format!("{}: {why}", file::name(path))))
}

/// A picture that a job names, beside the job.
pub fn beside(job: &Path, name: &str) -> PathBuf {
    job.parent().map_or_else(|| PathBuf::from(name), |folder| folder.join(name))
}

/// Pixels as stored.
pub struct Pixels {
    size: Size,
    layout: Layout,
    bytes: Vec<u8>,
}

/// Why there are no pixels.
#[derive(Debug, PartialEq, Eq)]
pub enum Refused {
    /// It is of a kind that is not decoded here.
    Kind,
    /// It is damaged.
    Damaged,
    /// It is too large, in a sentence of its own.
    Size(String),
}

impl Pixels {
    /// Decodes a picture.
    pub fn decode(bytes: &[u8], metadata: &Metadata) -> Result<Self, Refused> {
        match metadata.container {
            Container::Jpeg => jpeg(bytes),
            Container::Png => png(bytes),
            Container::Heif | Container::Other => Err(Refused::Kind),
        }
    }

    /// Stored size.
    pub fn size(&self) -> Size {
        self.size
    }

    /// A view of all of them.
    pub fn view(&self) -> Result<View<'_>, imaging::Error> {
        View::new(self.size, self.layout, &self.bytes)
    }
}

/// A size that may be decoded.
fn bearable(width: usize, height: usize) -> Result<Size, Refused> {
    let side = |length: usize| u32::try_from(length).unwrap_or(u32::MAX);
    Size::new(side(width), side(height)).map_err(|error| Refused::Size(error.to_string()))
}

fn jpeg(bytes: &[u8]) -> Result<Pixels, Refused> {
    let longest = LONGEST_SIDE as usize;
    let options = DecoderOptions::new_safe()
        // Without this, what is missing at the end of a file comes out as grey.
        .set_strict_mode(true)
        .set_max_width(longest)
        .set_max_height(longest)
        .jpeg_set_out_colorspace(ColorSpace::RGB);
    let mut decoder = JpegDecoder::new_with_options(ZCursor::new(bytes), options);
    decoder.decode_headers().map_err(|_| Refused::Damaged)?;
    let info = decoder.info().ok_or(Refused::Damaged)?;
    let size = bearable(info.width.into(), info.height.into())?;
    let bytes = decoder.decode().map_err(|_| Refused::Damaged)?;
    Ok(Pixels { size, layout: Layout::Rgb, bytes })
}

fn png(bytes: &[u8]) -> Result<Pixels, Refused> {
    let mut decoder = png::Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::normalize_to_color8());
    let mut reader = decoder.read_info().map_err(|_| Refused::Damaged)?;
    let info = reader.info();
    let size = bearable(info.width as usize, info.height as usize)?;
    let mut bytes = vec![0; reader.output_buffer_size().ok_or(Refused::Damaged)?];
    let frame = reader.next_frame(&mut bytes).map_err(|_| Refused::Damaged)?;
    bytes.truncate(frame.buffer_size());
    let layout = match frame.color_type {
        png::ColorType::Grayscale => Layout::Grey,
        png::ColorType::Rgb => Layout::Rgb,
        png::ColorType::Rgba => Layout::Rgba,
        // Grey with an opacity: the opacity goes.
        png::ColorType::GrayscaleAlpha => {
            bytes = bytes.iter().step_by(2).copied().collect();
            Layout::Grey
        }
        png::ColorType::Indexed => return Err(Refused::Damaged),
    };
    Ok(Pixels { size, layout, bytes })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refused(bytes: &[u8]) -> Option<Refused> {
        Pixels::decode(bytes, &Metadata::read(bytes)).err()
    }

    /// The head of a JPEG of a size, without pixels.
    fn head(width: u16, height: u16) -> Vec<u8> {
        let mut file = vec![0xFF, 0xD8, 0xFF, 0xC0, 0, 17, 8];
        file.extend(height.to_be_bytes());
        file.extend(width.to_be_bytes());
        file.extend([3, 1, 0x22, 0, 2, 0x11, 0, 3, 0x11, 0]);
        file.extend([0xFF, 0xDA, 0, 12, 3, 1, 0, 2, 0, 3, 0, 0, 63, 0, 0xFF, 0xD9]);
        file
    }

    #[test]
    fn a_size_is_refused_before_it_is_allocated() {
        let Some(Refused::Size(text)) = refused(&head(65_000, 65_000)) else { panic!("refused for its size") };
        assert!(text.contains("at most 128 megapixels"), "{text}");
        assert_eq!(refused(&head(16, 16)), Some(Refused::Damaged));
    }

    #[test]
    fn what_is_no_picture_is_no_trap() {
        assert_eq!(refused(b"<html>"), Some(Refused::Kind));
        assert_eq!(refused(b"\x89PNG\r\n\x1a\n"), Some(Refused::Damaged));
        assert_eq!(refused(&[0xFF, 0xD8]), Some(Refused::Damaged));
    }
}
