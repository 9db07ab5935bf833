//! WAV files built byte by byte: every encoding, every lie in a header that is known of, and whatever else may come.
//!
//! Not here: what is kept of a long recording (the tests of `quiet`).

use proptest::prelude::*;

use super::*;
use crate::quiet::Signal;

const RATE: u32 = 48_000;

fn chunk(name: &str, bytes: &[u8]) -> Vec<u8> {
    let mut chunk = name.as_bytes().to_vec();
    chunk.extend((bytes.len() as u32).to_le_bytes());
    chunk.extend(bytes);
    if bytes.len() % 2 == 1 {
        chunk.push(0);
    }
    chunk
}

fn file(chunks: &[Vec<u8>]) -> Vec<u8> {
    let body = chunks.concat();
    [b"RIFF", &(body.len() as u32 + 4).to_le_bytes()[..], b"WAVE", &body].concat()
}

fn format(kind: u16, channels: u16, rate: u32, bits: u16) -> Vec<u8> {
    let align = channels * bits.div_ceil(8);
    let mut bytes = Vec::new();
    bytes.extend(kind.to_le_bytes());
    bytes.extend(channels.to_le_bytes());
    bytes.extend(rate.to_le_bytes());
    bytes.extend((rate * u32::from(align)).to_le_bytes());
    bytes.extend(align.to_le_bytes());
    bytes.extend(bits.to_le_bytes());
    bytes
}

fn extended(kind: u16, channels: u16, bits: u16, valid: u16) -> Vec<u8> {
    let mut bytes = format(0xFFFE, channels, RATE, bits);
    bytes.extend(22_u16.to_le_bytes());
    bytes.extend(valid.to_le_bytes());
    bytes.extend(0_u32.to_le_bytes());
    bytes.extend(kind.to_le_bytes());
    bytes.extend([0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xAA, 0, 0x38, 0x9B, 0x71]);
    bytes
}

fn pcm16(samples: &[i16]) -> Vec<u8> {
    samples.iter().flat_map(|sample| sample.to_le_bytes()).collect()
}

fn mono(samples: &[i16]) -> Vec<u8> {
    file(&[chunk("fmt ", &format(1, 1, RATE, 16)), chunk("data", &pcm16(samples))])
}

/// Everything of a file, handed over in blocks of so many bytes.
fn read_by(bytes: &[u8], block: usize) -> Result<(Vec<Vec<f32>>, Vec<&'static str>), String> {
    let mut decoder = Decoder::new();
    let mut all: Vec<Vec<f32>> = Vec::new();
    for part in bytes.chunks(block) {
        decoder.push(part).map_err(|error| error.to_string())?;
        all.resize(decoder.samples().len(), Vec::new());
        for (all, new) in all.iter_mut().zip(decoder.samples()) {
            all.extend(new);
        }
    }
    let notices = decoder.finish().map_err(|error| error.to_string())?;
    assert_eq!(decoder.frames() as usize, all[0].len());
    Ok((all, notices.iter().map(|notice| notice.code).collect()))
}

fn read(bytes: &[u8]) -> Result<(Vec<Vec<f32>>, Vec<&'static str>), String> {
    let whole = read_by(bytes, bytes.len().max(1));
    for block in [1, 7, 64] {
        assert_eq!(read_by(bytes, block), whole, "in blocks of {block}");
    }
    whole
}

fn refused(bytes: &[u8], why: &str) {
    let error = read(bytes).expect_err(why);
    assert!(error.contains(why), "{error}");
    assert!(error.starts_with(char::is_lowercase) && !error.ends_with('.'), "{error}");
}

fn changed(mut bytes: Vec<u8>, at: usize, new: &[u8]) -> Vec<u8> {
    bytes[at..at + new.len()].copy_from_slice(new);
    bytes
}

#[test]
fn every_encoding_is_read() {
    let of = |format: Vec<u8>, data: Vec<u8>| {
        let (channels, notices) = read(&file(&[chunk("fmt ", &format), chunk("data", &data)])).expect("samples");
        assert!(notices.is_empty(), "{notices:?}");
        channels
    };
    assert_eq!(of(format(1, 1, RATE, 8), vec![128, 0, 192]), [vec![0.0, -1.0, 0.5]]);
    assert_eq!(of(format(1, 2, RATE, 16), pcm16(&[16384, -32768, 0, 8192])), [vec![0.5, 0.0], vec![-1.0, 0.25]]);
    assert_eq!(of(format(1, 1, RATE, 24), vec![0, 0, 0x40, 0, 0, 0x80, 1, 0, 0]), [vec![0.5, -1.0, 1.0 / 8_388_608.0]]);
    assert_eq!(of(format(1, 1, RATE, 32), (i32::MIN / 4).to_le_bytes().to_vec()), [vec![-0.25]]);
    assert_eq!(of(format(3, 1, RATE, 32), 1.5_f32.to_le_bytes().to_vec()), [vec![1.5]]);
    assert_eq!(of(format(3, 1, RATE, 64), (-0.125_f64).to_le_bytes().to_vec()), [vec![-0.125]]);
    assert_eq!(of(extended(1, 1, 16, 16), pcm16(&[16384])), [vec![0.5]]);
    assert_eq!(of(extended(3, 1, 32, 32), 0.25_f32.to_le_bytes().to_vec()), [vec![0.25]]);
    assert_eq!(of(extended(1, 1, 32, 24), vec![0, 0, 0, 0x40]), [vec![0.5]], "24 bits in four bytes");
    assert_eq!(of(format(1, 8, 192_000, 16), pcm16(&[4096; 16])), vec![vec![0.125; 2]; 8]);
    assert_eq!(of(format(1, 1, RATE, 12), pcm16(&[16384])), [vec![0.5]], "12 bits stand to the left in two bytes");
}

#[test]
fn chunks_may_come_in_any_order_and_odd() {
    let format = chunk("fmt ", &format(1, 1, RATE, 16));
    let data = chunk("data", &pcm16(&[16384, -16384]));
    let list = chunk("LIST", b"INFOx");
    let expected = (vec![vec![0.5, -0.5]], vec![]);
    for order in [
        vec![format.clone(), data.clone()],
        vec![list.clone(), format.clone(), list.clone(), data.clone(), list.clone()],
        vec![data.clone(), format.clone()],
        vec![data.clone(), list.clone(), format.clone(), list.clone()],
        vec![chunk("JUNK", &[0; 3000]), format.clone(), data.clone()],
    ] {
        assert_eq!(read(&file(&order)).as_ref(), Ok(&expected));
    }
    let unpadded = [b"LIST\x05\0\0\0INFOx".to_vec(), format, data].concat();
    assert_eq!(read(&file(&[unpadded])), Ok(expected), "the padding may be left out");
}

#[test]
fn a_size_that_is_not_true_loses_nothing() {
    let good = mono(&[16384, -16384, 8192]);
    let expected = vec![vec![0.5, -0.5, 0.25]];
    for (size, notice) in [(0, None), (u32::MAX, None), (0x7FFF_FFFF, None), (60, Some("file-cut-short"))] {
        let lying = changed(changed(good.clone(), 40, &u32::to_le_bytes(size)), 4, &u32::to_le_bytes(size));
        // A piece of a sample or less is not worth a word.
        let lying = if size == 60 { lying } else { [lying, vec![0]].concat() };
        assert_eq!(read(&lying), Ok((expected.clone(), notice.into_iter().collect())), "{size}");
    }
    let short = changed(mono(&[16384, 1, 2, 3, 4, 5]), 40, &2_u32.to_le_bytes());
    assert_eq!(read(&short), Ok((vec![vec![0.5]], vec!["file-longer-than-said"])));
    for align in [0_u16, 1, 4, 999] {
        assert_eq!(read(&changed(good.clone(), 32, &align.to_le_bytes())).expect("samples").0, expected, "{align}");
    }
    let padded = changed(format(1, 1, RATE, 24), 12, &4_u16.to_le_bytes());
    let padded = changed(padded, 8, &(RATE * 4).to_le_bytes());
    let padded = file(&[chunk("fmt ", &padded), chunk("data", &[0, 0, 0, 0x40])]);
    assert_eq!(read(&padded).expect("samples").0, [vec![0.5]], "block size and byte rate agree on four bytes");
}

#[test]
fn long_files_have_their_sizes_elsewhere() {
    let format = chunk("fmt ", &format(1, 1, RATE, 16));
    let samples = pcm16(&[16384, -16384]);
    let sizes = [u64::MAX, samples.len() as u64, 2].map(u64::to_le_bytes).concat();
    let data = changed(chunk("data", &samples), 4, &u32::MAX.to_le_bytes());
    for mark in [b"RF64", b"BW64"] {
        let body = [chunk("ds64", &sizes), format.clone(), data.clone(), chunk("LIST", b"INFO")];
        let long = changed(file(&body), 0, mark);
        assert_eq!(read(&long), Ok((vec![vec![0.5, -0.5]], vec![])));
    }
}

#[test]
fn what_is_no_wav_file_is_named() {
    refused(b"", "the file is empty");
    refused(b"RIFF", "it ends after 4 bytes");
    refused(b"OggS\0\x02\0\0\0\0\0\0", "begins like an Ogg file");
    refused(b"ID3\x04\0\0\0\0\0\0\0\0\0", "begins like an MP3 file");
    refused(b"\0\0\0\x20ftypM4A ", "begins like an MP4 file");
    refused(b"RIFF\x04\0\0\0AVI ", "another kind of RIFF file");
    refused(b"frame,t,L,M,R\n", "does not begin with RIFF and WAVE");
    refused(&file(&[]), "ends before it says the format");
    refused(&file(&[chunk("fmt ", &format(1, 1, RATE, 16))]), "it ends before its samples");
    refused(&file(&[chunk("fmt ", &format(1, 1, RATE, 16)), chunk("data", &[])]), "there are no samples in it");
    refused(&mono(&[1; 10])[..30], "ends before it says the format");
    refused(&file(&[chunk("data", &[0; 8])]), "ends before it says the format");
}

#[test]
fn what_is_not_read_is_named_with_its_limit() {
    let with = |format: Vec<u8>| file(&[chunk("fmt ", &format), chunk("data", &[0; 64])]);
    refused(&with(format(2, 1, RATE, 4)), "compressed (format 2, ADPCM)");
    refused(&with(format(0x55, 2, RATE, 16)), "compressed (format 85, MP3)");
    refused(&with(format(0x1234, 2, RATE, 16)), "compressed (format 4660, not known here)");
    refused(&with(extended(7, 1, 8, 8)), "mu-law");
    refused(&with(changed(extended(1, 1, 16, 16), 30, &[9])), "of a kind that is not known");
    refused(&with(extended(1, 1, 16, 16)[..30].to_vec()), "takes 40 bytes, and 30 are there");
    refused(&with(format(1, 0, RATE, 16)), "between 1 and 8 channels, and it says 0");
    refused(&with(format(1, 9, RATE, 16)), "and it says 9");
    refused(&with(format(1, 1, 4_000, 16)), "between 8000 Hz and 384000 Hz, and the WAV file says 4000 Hz");
    refused(&with(changed(format(1, 1, 8_000, 16), 4, &u32::MAX.to_le_bytes())), "4294967295 Hz");
    refused(&with(format(1, 1, RATE, 0)), "8, 16, 24 or 32 bits, and the WAV file says 0");
    refused(&with(format(1, 1, RATE, 64)), "says 64");
    refused(&with(format(3, 1, RATE, 16)), "32 or 64 bits, and the WAV file says 16");
    refused(&with(vec![1, 0, 1, 0]), "at least 16 bytes, and 4 are there");
    let bare = changed(chunk("data", &[0; 8]), 4, &0_u32.to_le_bytes());
    refused(&file(&[bare]), "only after them");
}

#[test]
fn a_sample_that_is_no_number_is_refused_with_its_moment() {
    for bad in [f32::NAN, f32::INFINITY, -1e30] {
        let mut samples = vec![0.5_f32; 9_600];
        samples[4_800] = bad;
        let data: Vec<u8> = samples.iter().flat_map(|sample| sample.to_le_bytes()).collect();
        let bytes = file(&[chunk("fmt ", &format(3, 2, RATE, 32)), chunk("data", &data)]);
        refused(&bytes, "the one at 0.050 s is");
    }
    let huge = file(&[chunk("fmt ", &format(3, 1, RATE, 64)), chunk("data", &1e300_f64.to_le_bytes())]);
    refused(&huge, "at 0.000 s is inf");
}

#[test]
fn a_file_becomes_a_recording() {
    let samples: Vec<i16> = (0..RATE as usize).map(|i| (i % 100) as i16).collect();
    let mut reader = Reader::new(Signal::Sound);
    for block in mono(&samples).chunks(1000) {
        reader.push(block).expect("read");
    }
    let recording = reader.finish().expect("a recording");
    assert_eq!((recording.rate_hz, recording.duration_s, recording.notices.len()), (48_000.0, 1.0, 0));
    assert_eq!((recording.channels.len(), recording.channels[0].kept()), (1, samples.len()));
    assert!(Reader::new(Signal::Light).finish().is_err());
}

proptest! {
    #[test]
    fn no_bytes_make_a_panic(bytes in prop::collection::vec(any::<u8>(), 0..400), block in 1_usize..50) {
        let _ = read_by(&bytes, block);
    }

    #[test]
    fn no_change_of_a_header_makes_a_panic(
        at in 0_usize..80, new in any::<[u8; 4]>(), cut in 0_usize..120, block in 1_usize..50, float in any::<bool>(),
    ) {
        let format = if float { extended(3, 2, 32, 32) } else { format(1, 2, RATE, 24) };
        let good = file(&[chunk("LIST", b"x"), chunk("fmt ", &format), chunk("data", &[7; 61])]);
        let mut bytes = good.clone();
        for (place, byte) in bytes.iter_mut().skip(at).zip(new) {
            *place = byte;
        }
        bytes.truncate(good.len().saturating_sub(cut % 60));
        if let Ok((channels, _)) = read_by(&bytes, block) {
            prop_assert!(channels.iter().flatten().all(|sample| sample.is_finite()));
            prop_assert!(channels.iter().all(|channel| channel.len() == channels[0].len()));
        }
    }
}
