//! Whole files: what is read out of JPEG, PNG and HEIF, and that no byte of theirs is a trap.
//!
//! Not here: the open corpus of odd files, which the shell's tests go through.

use proptest::prelude::*;

use super::tiff::tests::{Entry, block};
use super::*;

const ISO_400: Entry = (0x8827, 3, 1, 400);

fn plain() -> Vec<u8> {
    let second = [(0x829A, 5, 1, 0), (0x829D, 5, 1, 1), ISO_400, (0xA002, 4, 1, 4000), (0xA003, 4, 1, 3000)];
    block(&[(0x0112, 3, 1, 6)], &second, &[(1, 125), (18, 10)])
}

fn jpeg(blocks: &[&[u8]]) -> Vec<u8> {
    let mut file = vec![0xFF, 0xD8];
    for body in blocks {
        file.extend([0xFF, 0xE1]);
        file.extend((body.len() as u16 + 2).to_be_bytes());
        file.extend(*body);
    }
    // A frame of 4000 × 3000 pixels.
    file.extend([0xFF, 0xC0, 0, 11, 8, 0x0B, 0xB8, 0x0F, 0xA0, 1, 0, 0, 0, 0xFF, 0xDA, 0, 2, 0xFF, 0xD9]);
    file
}

fn with_exif(tiff: &[u8]) -> Vec<u8> {
    jpeg(&[&[b"Exif\0\0", tiff].concat()])
}

fn codes(metadata: &Metadata) -> Vec<&'static str> {
    metadata.notices.iter().map(|notice| notice.code).collect()
}

#[test]
fn the_same_block_reads_the_same_in_every_wrapping() {
    let png = [&b"\x89PNG\r\n\x1a\n"[..], &(plain().len() as u32).to_be_bytes(), b"eXIf", &plain(), &[0; 4]].concat();
    for (file, container) in [
        (with_exif(&plain()), Container::Jpeg),
        (png, Container::Png),
        (heif::tests::written(&plain(), b""), Container::Heif),
    ] {
        let metadata = Metadata::read(&file);
        assert_eq!((metadata.container, codes(&metadata)), (container, vec![]));
        assert_eq!(metadata.exposure.time.map(photometry::ExposureTime::value), Some(0.008));
        assert_eq!(metadata.exposure.f_number.map(photometry::FNumber::value), Some(1.8));
        assert_eq!(metadata.exposure.speed.map(photometry::FilmSpeed::value), Some(400.0));
        assert_eq!(metadata.orientation.tag(), 6);
    }
    assert_eq!(Metadata::read(&with_exif(&plain())).size, Size::new(4000, 3000).ok());
}

#[test]
fn what_has_no_exposure_says_so() {
    assert_eq!(codes(&Metadata::read(b"<html>")), ["unsupported_container", "no_exif"]);
    assert_eq!(codes(&Metadata::read(&jpeg(&[]))), ["no_exif"]);
    let xmp = b"http://ns.adobe.com/xap/1.0/\0<x exif:FNumber=\"18/10\" GPano:a crs:b hdrgm:c>";
    assert_eq!(codes(&Metadata::read(&jpeg(&[xmp]))), ["panorama", "edited", "hdr_gain_map", "xmp_only"]);
    let empty = Metadata::read(&with_exif(&block(&[], &[], &[])));
    assert_eq!(codes(&empty), ["missing_exposure_time", "missing_fnumber", "missing_iso"]);
}

#[test]
fn pictures_of_the_wrong_kind_are_told_by_their_tags() {
    for (entry, code) in [
        ((0xA401, 3, 1, 2), "hdr"),
        ((0xA401, 3, 1, 6), "panorama"),
        ((0xA401, 3, 1, 8), "portrait_effect"),
        ((0xA401, 3, 1, 1), "custom_rendered"),
        ((0xA406, 3, 1, 3), "night_mode"),
        ((0x9209, 3, 1, 0x19), "flash"),
        ((0xA460, 3, 1, 3), "composite"),
        ((0xA404, 5, 1, 1), "digital_zoom"),
        ((0xA002, 4, 1, 640), "resampled"),
    ] {
        let second = [(0x829A, 5, 1, 0), (0x829D, 5, 1, 1), ISO_400, entry, (0xA003, 4, 1, 3000)];
        let metadata = Metadata::read(&with_exif(&block(&[], &second, &[(1, 125), (18, 10)])));
        assert_eq!(codes(&metadata), [code]);
    }
    let shifted = block(
        &[],
        &[(0x829A, 5, 1, 0), (0x829D, 5, 1, 1), ISO_400, (0x9204, 10, 1, 2)],
        &[(1, 9), (2, 1), (u32::MAX, 1)],
    );
    let metadata = Metadata::read(&with_exif(&shifted));
    assert_eq!(codes(&metadata), ["exposure_compensation"]);
    assert!(metadata.notices[0].text.contains("1.0 stop under"), "{}", metadata.notices[0].text);
}

#[test]
fn a_calibration_knows_its_lens() {
    let phone = |lens: &str, mm| Phone { lens: Some(lens.to_owned()), focal_length_mm: Some(mm), ..Phone::default() };
    assert!(phone("back", 5.4).same_lens(&phone("back", 5.401)));
    assert!(!phone("back", 5.4).same_lens(&phone("back", 2.2)) && !phone("back", 5.4).same_lens(&phone("front", 5.4)));
}

#[test]
fn every_sentence_is_one() {
    for file in [b"<html>".to_vec(), jpeg(&[]), with_exif(b"XX"), with_exif(&block(&[], &[], &[]))] {
        for notice in Metadata::read(&file).notices {
            assert!(notice.text.ends_with('.') && notice.text.starts_with(char::is_uppercase), "{}", notice.text);
            assert!(notice.code.chars().all(|c| c.is_ascii_lowercase() || c == '_'), "{}", notice.code);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn no_change_of_bytes_is_a_trap(
        which in 0..3_usize,
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12),
        cut in any::<prop::sample::Index>(),
    ) {
        let mut file = match which {
            0 => with_exif(&plain()),
            1 => heif::tests::written(&plain(), b"<x exif:FNumber=\"18/10\">"),
            _ => [&b"\x89PNG\r\n\x1a\n"[..], &(plain().len() as u32).to_be_bytes(), b"eXIf", &plain()].concat(),
        };
        for (at, byte) in &changes {
            let at = at.index(file.len());
            file[at] = *byte;
        }
        for file in [&file[..], &file[..cut.index(file.len())]] {
            let metadata = Metadata::read(file);
            if let Some(time) = metadata.exposure.time {
                prop_assert!((1e-6..=3600.0).contains(&time.value()));
            }
            prop_assert!((1..=8).contains(&metadata.orientation.tag()));
        }
    }

    #[test]
    fn no_noise_is_a_trap(noise in prop::collection::vec(any::<u8>(), 0..600), big in any::<bool>()) {
        let head: &[u8] = if big { b"MM\0\x2a\0\0\0\x08" } else { b"II\x2a\0\x08\0\0\0" };
        Metadata::read(&with_exif(&[head, &noise].concat()));
        Metadata::read(&noise);
    }
}
