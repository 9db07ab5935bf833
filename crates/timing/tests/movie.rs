//! The reader of a clip's index against boxes built by hand: times, rates, places of frames; and against boxes that lie, are
//! cut short or are noise: an error, never a panic or a huge allocation.
//!
//! Not here: the pieces on their own (the unit tests of `movie`).

use proptest::prelude::*;
use timing::movie::{Movie, next_box, read_moov};

fn boxed(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let mut bytes = (body.len() as u32 + 8).to_be_bytes().to_vec();
    bytes.extend(kind);
    bytes.extend(body);
    bytes
}

fn numbers(values: &[u32]) -> Vec<u8> {
    values.iter().flat_map(|value| value.to_be_bytes()).collect()
}

/// A box of 4-byte numbers, the first of them version and flags.
fn table(kind: &[u8; 4], values: &[u32]) -> Vec<u8> {
    boxed(kind, &numbers(values))
}

/// What a clip is made from.
#[derive(Clone)]
struct Clip {
    scale: u32,
    durations: Vec<(u32, u32)>,
    offsets: Vec<(u32, u32)>,
    edits: Vec<(u32, i32)>,
    frames: u32,
    capture: Option<(u32, Vec<u8>)>,
    quicktime: bool,
    handler: [u8; 4],
}

/// Six frames of 240 a second on a clock of 24 000, shown in another order than decoded, the first after two intervals.
fn plain() -> Clip {
    Clip {
        scale: 24_000,
        durations: vec![(6, 100)],
        offsets: vec![(1, 200), (1, 500), (1, 200), (1, 0), (1, 100), (1, 200)],
        edits: vec![(1_000, 200)],
        frames: 6,
        capture: None,
        quicktime: false,
        handler: *b"vide",
    }
}

fn meta(clip: &Clip) -> Vec<u8> {
    let Some((kind, value)) = &clip.capture else { return Vec::new() };
    let key = |name: &[u8]| boxed(b"mdta", name);
    let keys = [numbers(&[0, 2]), key(b"com.example.other"), key(b"com.android.capture.fps")].concat();
    let data = boxed(b"data", &[numbers(&[*kind, 0]), value.clone()].concat());
    let item = [numbers(&[data.len() as u32 + 8, 2]), data].concat();
    let other = [numbers(&[8 + 16 + 4, 1]), boxed(b"data", &numbers(&[1, 0, 0x3132_3334]))].concat();
    let hdlr = boxed(b"hdlr", &[numbers(&[0, 0]), b"mdta".to_vec(), vec![0; 13]].concat());
    let version = if clip.quicktime { vec![] } else { vec![0; 4] };
    let list = boxed(b"ilst", &[other, item].concat());
    boxed(b"meta", &[version, hdlr, boxed(b"keys", &keys), list].concat())
}

fn track(clip: &Clip) -> Vec<u8> {
    let matrix = [0, 0x1_0000, 0, 0xffff_0000, 0, 0, 0, 0, 0x4000_0000];
    let tkhd = table(b"tkhd", &[&[7, 0, 0, 1, 0, 0, 0, 0, 0, 0], &matrix[..], &[0x0780_0000, 0x0438_0000]].concat());
    let edits = clip.edits.iter().flat_map(|(duration, media)| [*duration, media.cast_unsigned(), 0x1_0000]);
    let elst = table(b"elst", &[0, clip.edits.len() as u32].into_iter().chain(edits).collect::<Vec<_>>());
    let edts = if clip.edits.is_empty() { vec![] } else { boxed(b"edts", &elst) };
    let mdhd = table(b"mdhd", &[0, 0, 0, clip.scale, 600, 0]);
    let hdlr = boxed(b"hdlr", &[numbers(&[0, 0]), clip.handler.to_vec(), vec![0; 13]].concat());
    let colr = boxed(b"colr", b"nclx\0\x01\0\x01\0\x01\0");
    let config = boxed(b"avcC", &[1, 0x64, 0, 0x28, 0xff, 0xe0, 0]);
    let mut entry = vec![0; 24];
    entry.extend([0x07, 0x80, 0x04, 0x38]);
    entry.extend(vec![0; 50]);
    let stsd = boxed(b"stsd", &[numbers(&[0, 1]), boxed(b"avc1", &[entry, config, colr].concat())].concat());
    let runs = |kind, runs: &[(u32, u32)]| {
        let body = runs.iter().flat_map(|(count, value)| [*count, *value]);
        table(kind, &[0, runs.len() as u32].into_iter().chain(body).collect::<Vec<_>>())
    };
    let ctts = if clip.offsets.is_empty() { vec![] } else { runs(b"ctts", &clip.offsets) };
    let sizes: Vec<u32> = [0, 0, clip.frames].into_iter().chain((0..clip.frames).map(|k| 1_000 + k)).collect();
    // Chunks of four, then of two.
    let stsc = table(b"stsc", &[0, 2, 1, 4, 1, 2, 2, 1]);
    let chunks = clip.frames.div_ceil(2);
    let stco: Vec<u32> = [0, chunks].into_iter().chain((0..chunks).map(|k| 10_000 * (k + 1))).collect();
    let stbl = [
        stsd,
        runs(b"stts", &clip.durations),
        ctts,
        stsc,
        table(b"stsz", &sizes),
        table(b"stco", &stco),
        table(b"stss", &[0, 1, 1]),
    ];
    let minf = boxed(b"minf", &boxed(b"stbl", &stbl.concat()));
    boxed(b"trak", &[tkhd, edts, boxed(b"mdia", &[mdhd, hdlr, minf].concat())].concat())
}

fn moov(clip: &Clip) -> Vec<u8> {
    let mvhd = table(b"mvhd", &[0, 0, 0, 1_000, 1_000]);
    boxed(b"moov", &[mvhd, track(clip), meta(clip)].concat())
}

fn read(clip: &Clip) -> Movie {
    read_moov(&moov(clip)).expect("a movie")
}

#[test]
fn times_places_and_codec_of_a_plain_clip() {
    let movie = read(&plain());
    let expected: Vec<f64> = [0.0, 1.0, 2.0, 3.0, 4.0, 5.0].iter().map(|k| k / 240.0).collect();
    assert_eq!(movie.frame_times_s.len(), 6);
    for (found, expected) in movie.frame_times_s.iter().zip(&expected) {
        assert!((found - expected).abs() < 1e-12, "{:?}", movie.frame_times_s);
    }
    assert!((movie.file_rate_hz - 240.0).abs() < 1e-9 && movie.capture_rate_hz.is_none());
    let decoded: Vec<f64> = movie.samples.iter().map(|sample| (sample.time_s * 240.0).round()).collect();
    assert_eq!(decoded, [0.0, 4.0, 2.0, 1.0, 3.0, 5.0]);
    let places: Vec<(u64, u32, bool)> = movie.samples.iter().map(|s| (s.offset, s.size, s.sync)).collect();
    assert_eq!(places[..2], [(10_000, 1_000, true), (11_000, 1_001, false)]);
    assert_eq!(places[4..], [(20_000, 1_004, false), (21_004, 1_005, false)]);
    assert_eq!((movie.codec.as_str(), movie.decoder.as_deref()), ("avc1", Some("avc1.640028")));
    assert_eq!((movie.width_px, movie.height_px, movie.rotation_deg), (1920, 1080, Some(90)));
    assert_eq!(movie.description.len(), 7);
    let colour = movie.colour.expect("colours");
    assert_eq!((colour.curve().map(|curve| curve.key()), colour.full_range), (Some("bt709"), Some(false)));
    assert!(movie.notices.is_empty(), "{:?}", movie.notices);
    let bare = moov(&plain());
    assert_eq!(read_moov(&bare[8..]).expect("without its head"), movie);
}

#[test]
fn the_capture_rate_is_read_from_either_kind_of_file() {
    for (quicktime, kind, value) in [
        (false, 23, 240.0_f32.to_be_bytes().to_vec()),
        (true, 23, 240.0_f32.to_be_bytes().to_vec()),
        (false, 24, 240.0_f64.to_be_bytes().to_vec()),
        (false, 67, 240_i32.to_be_bytes().to_vec()),
        (true, 1, b"240.0".to_vec()),
    ] {
        let slow = Clip { scale: 3_000, capture: Some((kind, value)), quicktime, ..plain() };
        let movie = read(&slow);
        assert_eq!(movie.capture_rate_hz, Some(240.0));
        assert!((movie.file_rate_hz - 30.0).abs() < 1e-9);
        assert_eq!(movie.notices[0].code, "slow-motion-file");
    }
    for odd in [f32::NAN, f32::INFINITY, -240.0, 0.0, 1e9] {
        let movie = read(&Clip { capture: Some((23, odd.to_be_bytes().to_vec())), ..plain() });
        assert!(movie.capture_rate_hz.is_none() && movie.notices.is_empty());
    }
    let same = read(&Clip { capture: Some((23, 240.0_f32.to_be_bytes().to_vec())), ..plain() });
    assert!(same.capture_rate_hz.is_some() && same.notices.is_empty());
}

#[test]
fn an_edit_list_hides_frames_and_several_edits_are_told() {
    // From the third frame shown, after a wait of a tenth of a second.
    let cut = read(&Clip { edits: vec![(100, -1), (1_000, 400)], ..plain() });
    assert_eq!(cut.frame_times_s.len(), 4);
    assert!((cut.frame_times_s[0] - 0.1).abs() < 1e-12);
    assert_eq!(cut.samples.iter().filter(|sample| !sample.shown).count(), 2);
    let two = read(&Clip { edits: vec![(10, 200), (1_000, 500)], ..plain() });
    assert!(two.notices.iter().any(|notice| notice.code == "edited-clip"));
    let none = read(&Clip { edits: vec![], offsets: vec![], ..plain() });
    assert_eq!((none.frame_times_s[0], none.frame_times_s.len()), (0.0, 6));
}

#[test]
fn what_is_no_clip_is_said_in_a_sentence() {
    let text = |bytes: &[u8]| read_moov(bytes).expect_err("refused").to_string();
    assert!(text(&moov(&Clip { handler: *b"soun", ..plain() })).contains("no track of pictures"));
    assert!(text(&moov(&Clip { scale: 0, ..plain() })).contains("clock"));
    assert!(text(&moov(&Clip { durations: vec![(5, 100)], ..plain() })).contains("6 frames, and 5"));
    assert!(text(&moov(&Clip { edits: vec![(1_000, 20_000)], ..plain() })).contains("shows 0"));
    assert!(
        text(&moov(&Clip { durations: vec![(6, 0)], offsets: vec![], edits: vec![], ..plain() }))
            .contains("two frames")
    );
    assert!(text(b"").contains("mvhd"));
    assert!(text(&boxed(b"moov", &boxed(b"cmov", b""))).contains("compressed"));
    let empty = Clip { frames: 0, durations: vec![], offsets: vec![], ..plain() };
    let mvex = [table(b"mvhd", &[0, 0, 0, 1_000, 1_000]), track(&empty), boxed(b"mvex", b"")].concat();
    assert!(text(&boxed(b"moov", &mvex)).contains("fragments"));
    // A million and one frames of one size, in a table of 20 bytes.
    let bytes = moov(&plain());
    let at = bytes.windows(4).position(|kind| kind == b"stsz").expect("sizes");
    let mut many = bytes.clone();
    many[at + 8..at + 16].copy_from_slice(&numbers(&[9, 1_000_001]));
    assert!(text(&many).contains("at most 1000000 frames"));
    let mut lying = bytes;
    lying[at + 12..at + 16].copy_from_slice(&[0xff; 4]);
    assert!(text(&lying).contains("must fit in its box"));
}

#[test]
fn every_beginning_of_a_clip_is_an_error() {
    let whole = moov(&Clip { capture: Some((23, 240.0_f32.to_be_bytes().to_vec())), ..plain() });
    for length in 0..whole.len() {
        assert!(read_moov(&whole[..length]).is_err(), "{length} of {} bytes", whole.len());
    }
    assert!(read_moov(&whole).is_ok());
}

#[test]
fn a_long_clip_is_read_whole() {
    let frames = 200_000;
    let clip = Clip { frames, durations: vec![(frames, 100)], offsets: vec![], edits: vec![], ..plain() };
    let movie = read(&clip);
    assert_eq!((movie.samples.len(), movie.frame_times_s.len()), (200_000, 200_000));
    assert!((movie.frame_times_s[199_999] - 199_999.0 / 240.0).abs() < 1e-9);
}

proptest! {
    #[test]
    fn changed_bytes_never_panic(changes in prop::collection::vec((0..2_000_usize, any::<u8>()), 1..12)) {
        let mut bytes = moov(&Clip { capture: Some((23, 240.0_f32.to_be_bytes().to_vec())), ..plain() });
        for (at, value) in changes {
            let length = bytes.len();
            bytes[at % length] = value;
        }
        if let Ok(movie) = read_moov(&bytes) {
            prop_assert!(movie.frame_times_s.iter().all(|time| time.is_finite()));
            prop_assert!(movie.file_rate_hz.is_finite() && movie.file_rate_hz > 0.0);
            prop_assert!(movie.samples.len() <= 1_000_000);
        }
    }

    #[test]
    fn noise_never_panics(bytes in prop::collection::vec(any::<u8>(), 0..400), at in any::<u64>(), size in any::<u64>()) {
        let _ = read_moov(&bytes);
        let _ = read_moov(&boxed(b"moov", &bytes));
        if let Ok(head) = next_box(&bytes, at, size) {
            // A walk over the boxes of a file always goes forward and never beyond its end.
            prop_assert!(head.size >= head.header_len && head.end() <= size);
        }
    }
}
