//! Computed strips of film on a light table, each with what is true of it: where light got in, how evenly it was exposed.
//!
//! Not here: the corpora of pictures, which the shell's tests go through.

use imaging::evenness::{Frames, Travel, evenness};
use imaging::film_strip::{Format, Strip, lay_out};
use imaging::fog::{Group, Lies, Side, Source, fog};
use imaging::raster::{Plane, Size};

/// Pixels of a millimetre, and the place of the film's corner on the photo.
const SCALE: f64 = 18.0;
const ORIGIN: (f64, f64) = (160.0, 120.0);
const SIZE: (u32, u32) = (960, 900);

/// Chance from a seed (SplitMix64, constants from memory).
struct Chance(u64);

impl Chance {
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// Whether a place of the film \[mm\] is a perforation hole.
fn hole(x: f64, y: f64) -> bool {
    let along = (x + 400.0).rem_euclid(4.75);
    let edge = y.min(35.0 - y);
    along < 1.98 && (2.01..4.80).contains(&edge)
}

/// A photo of a strip with a density above its base, laid out by corners that were clicked a little off.
fn strip(density: impl Fn(f64, f64) -> f64, seed: u64) -> Strip {
    const BASE: f64 = 0.28;
    let mut chance = Chance(seed);
    let mut light = Vec::with_capacity((SIZE.0 * SIZE.1) as usize);
    for row in 0..SIZE.1 {
        for column in 0..SIZE.0 {
            let (x, y) = ((f64::from(column) + 0.5 - ORIGIN.0) / SCALE, (f64::from(row) + 0.5 - ORIGIN.1) / SCALE);
            // An uneven table, as they are.
            let table = 0.62 * (1.0 - 0.0003 * (x - 18.0) * (x - 18.0)) * (1.0 + 0.002 * (y - 17.0));
            let film = if !(0.0..=35.0).contains(&y) || hole(x, y) { 0.0 } else { BASE + density(x, y).max(0.0) };
            let noise = 1.0 + 0.01 * chance.normal();
            light.push((table * libm::pow(10.0, -film) * noise) as f32);
        }
    }
    let plane = Plane { size: Size::new(SIZE.0, SIZE.1).expect("a size"), light };
    let mut at = |x: f64, y: f64| {
        (ORIGIN.0 + x * SCALE + 3.0 * (chance.uniform() - 0.5), ORIGIN.1 + y * SCALE + 3.0 * (chance.uniform() - 0.5))
    };
    let corners = [at(0.0, 5.5), at(36.0, 5.5), at(36.0, 29.5), at(0.0, 29.5)];
    lay_out(&plane, &corners, Format::Perforated).expect("laid out")
}

/// How far a place lies inward from a side of the gate as it is on the photo \[mm\], negative outside, and its place along it.
fn from_side(side: Side, x: f64, y: f64) -> (f64, f64) {
    match side {
        Side::Left => (x, y - 17.5),
        Side::Right => (36.0 - x, y - 17.5),
        Side::Top => (y - 5.5, x - 18.0),
        Side::Bottom => (29.5 - y, x - 18.0),
    }
}

/// Light from behind: falls off along the film's channel and does not know the gate.
fn door(side: Side) -> impl Fn(f64, f64) -> f64 {
    move |x, y| {
        let (inward, along) = from_side(side, x, y);
        let reach = inward + if matches!(side, Side::Left | Side::Right) { 2.0 } else { 5.5 };
        0.7 * libm::exp(-reach.max(0.0) / 6.0) * libm::exp(-along * along / 260.0)
    }
}

/// Light through the mirror box: cut off by the gate.
fn foam(side: Side) -> impl Fn(f64, f64) -> f64 {
    move |x, y| {
        let (inward, along) = from_side(side, x, y);
        let gate = x > 0.0 && x < 36.0 && y > 5.5 && y < 29.5;
        if gate { 0.4 * libm::exp(-inward / 4.0) * libm::exp(-along * along / 120.0) } else { 0.0 }
    }
}

#[test]
fn clean_film_is_never_called_fogged() {
    for seed in 0..12 {
        let found = fog(&strip(|_, _| 0.0, seed), Lies::PictureUpright);
        assert_eq!(found.group, Group::None, "seed {seed}: {found:?}");
    }
}

#[test]
fn every_side_is_found_whichever_way_the_strip_lies() {
    for side in Side::ALL {
        for (n, lies) in [Lies::PictureUpright, Lies::AsInCamera, Lies::Unknown].into_iter().enumerate() {
            let found = fog(&strip(door(side), 40 + n as u64), lies);
            assert_eq!(found.group, Group::Back, "{side:?} {lies:?}: {found:?}");
            assert_eq!(found.side, side.of_gate(lies), "{side:?} {lies:?}");
            let part = found.side.map(|gate| match gate {
                Side::Top => Source::DoorTop,
                Side::Bottom => Source::DoorBottom,
                Side::Left => Source::Latch,
                Side::Right => Source::Hinge,
            });
            assert_eq!(found.source, part, "{side:?} {lies:?}");
        }
    }
}

#[test]
fn what_the_gate_cuts_off_came_through_the_front() {
    for (side, part) in [(Side::Top, Source::MirrorFoamTop), (Side::Bottom, Source::MirrorFoamBottom)] {
        let found = fog(&strip(foam(side), 7), Lies::AsInCamera);
        assert_eq!((found.group, found.side, found.source), (Group::Front, Some(side), Some(part)), "{found:?}");
    }
    // A whole mirror box of light is no edge of it.
    let mount = |x: f64, y: f64| if x > 0.0 && x < 36.0 && y > 5.5 && y < 29.5 { 0.4 } else { 0.0 };
    let found = fog(&strip(mount, 8), Lies::AsInCamera);
    assert_eq!((found.group, found.side, found.source), (Group::Front, None, Some(Source::Mount)), "{found:?}");
}

#[test]
fn a_hole_in_a_curtain_is_a_spot_and_a_scratch_is_nothing() {
    let spot = |x: f64, y: f64| 0.9 * libm::exp(-((x - 12.0) * (x - 12.0) + (y - 15.0) * (y - 15.0)) / 2.0);
    assert_eq!(fog(&strip(spot, 9), Lies::AsInCamera).group, Group::Pinhole);
    let scratch = |_: f64, y: f64| if (y - 16.0).abs() < 0.15 { 0.8 } else { 0.0 };
    assert_eq!(fog(&strip(scratch, 10), Lies::AsInCamera).group, Group::CannotTell);
}

#[test]
fn a_table_that_is_burnt_out_is_no_reference() {
    let mut plane = Plane { size: Size::new(960, 900).expect("a size"), light: vec![1.0; 864_000] };
    let corners = [(160.0, 219.0), (808.0, 219.0), (808.0, 651.0), (160.0, 651.0)];
    assert_eq!(
        fog(&lay_out(&plane, &corners, Format::Perforated).expect("laid out"), Lies::AsInCamera).group,
        Group::CannotTell
    );
    // Nothing but grey: no holes, no answer.
    plane.light.fill(0.3);
    let found = fog(&lay_out(&plane, &corners, Format::Perforated).expect("laid out"), Lies::AsInCamera);
    assert!(found.group == Group::CannotTell && found.notices.iter().any(|notice| notice.code == "no_holes"));
}

/// A frame of a wall: exposure in stops along the travel, a wall's own gradient, a lens's fall-off, a film of contrast 0.7.
fn wall(taper: f64, gradient: f64, exposure: f64, seed: u64) -> Strip {
    strip(
        move |x, y| {
            if !(x > 0.0 && x < 36.0 && y > 5.5 && y < 29.5) {
                return 0.0;
            }
            let (dx, dy) = (x - 18.0, y - 17.5);
            let e = 1.6 + exposure + (taper + gradient) * dx / 36.0 - 0.5 * (dx * dx + dy * dy) / 468.0;
            0.7 * libm::log10(1.0 + libm::exp2(e))
        },
        seed,
    )
}

#[test]
fn a_taper_is_told_from_the_wall_and_the_lens_within_its_doubt() {
    let mut inside = 0;
    const TRIES: u64 = 8;
    for n in 0..TRIES {
        let mut chance = Chance(900 + n);
        let (taper, gradient) = (1.6 * (chance.uniform() - 0.5), 0.6 * (chance.uniform() - 0.5));
        let frames = [(0.0, gradient), (-1.0, gradient), (1.0, gradient), (0.0, -gradient)]
            .map(|(exposure, gradient)| wall(taper, gradient, exposure, 1000 + n));
        let [main, minus, plus, turned] = &frames;
        let all = Frames { main, minus_one: Some(minus), plus_one: Some(plus), turned: Some(turned) };
        let found = evenness(&all, Travel::Horizontal).expect("measured");
        inside += u64::from((found.taper_stops - taper).abs() < 2.0 * found.standard_uncertainty_stops);
        assert!((found.taper_stops - taper).abs() < 0.15, "{taper}: {found:?}");
        assert!((found.wall_stops.expect("a wall") - gradient).abs() < 0.15 && (found.gamma - 0.7).abs() < 0.12);
        assert!(found.band_stops < 0.03 && found.end_drop_stops > -0.15);
        // One frame by itself has the wall in it, and says so.
        let alone = evenness(&Frames { minus_one: None, plus_one: None, turned: None, ..all }, Travel::Horizontal);
        let alone = alone.expect("measured");
        assert!(alone.wall_stops.is_none() && alone.standard_uncertainty_stops > 0.15);
        assert!(alone.notices.iter().any(|notice| notice.code == "wall_unknown"));
    }
    assert!(inside + 1 >= TRIES, "{inside} of {TRIES} within 95 %");
}

#[test]
fn a_blank_frame_has_no_evenness() {
    let blank = strip(|_, _| 0.0, 77);
    let frames = Frames { main: &blank, minus_one: None, plus_one: None, turned: None };
    assert!(evenness(&frames, Travel::Horizontal).is_err());
}
