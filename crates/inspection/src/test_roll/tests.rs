//! A leak put at a known seal, seen through the geometry of camera, lens and strip, comes back to that seal's place on the drawing;
//! and what the frames come to together.
//!
//! Not here: how often photos are read right (`crates/imaging/tests`).

use imaging::film_strip::{Format, lay_out};
use imaging::fog::{Fog, Group, Lies, Source, fog};
use imaging::raster::{Plane, Size};
use proptest::prelude::*;

use super::*;
use crate::camera::{Camera, Kind};
use crate::outcome::{Evidence, Word};
use crate::whole::Inspection;

const SCALE: f64 = 16.0;
const SIZE: (u32, u32) = (760, 680);
const ORIGIN: (f64, f64) = (90.0, 60.0);

/// Where a point of the photo lies on the gate as seen from behind, by how the strip lies. Said anew, by turning the strip in the
/// hand: upside down turns it by half, the dull side up turns it over sideways.
fn behind(lies: Lies, x: f64, y: f64) -> (f64, f64) {
    let (upright, over) = match lies {
        Lies::PictureUpright => (true, false),
        Lies::AsInCamera | Lies::Unknown => (false, false),
        Lies::PictureMirrored => (true, true),
        Lies::MirroredUpsideDown => (false, true),
    };
    let x = if over { 36.0 - x } else { x };
    // The lens throws the picture upside down: upright again, the film is turned by half.
    if upright { (36.0 - x, 35.0 - y) } else { (x, y) }
}

/// Photographs a strip that has a leak along a side of the gate as seen from behind, and reads it.
fn photographed(side: Side, lies: Lies) -> Fog {
    let mut light = Vec::with_capacity((SIZE.0 * SIZE.1) as usize);
    for row in 0..SIZE.1 {
        for column in 0..SIZE.0 {
            let (x, y) = ((f64::from(column) + 0.5 - ORIGIN.0) / SCALE, (f64::from(row) + 0.5 - ORIGIN.1) / SCALE);
            let hole = (x + 400.0).rem_euclid(4.75) < 1.98 && (2.01..4.80).contains(&y.min(35.0 - y));
            let (gx, gy) = behind(lies, x, y);
            let (inward, along) = match side {
                Side::Left => (gx + 2.0, gy - 17.5),
                Side::Right => (38.0 - gx, gy - 17.5),
                Side::Top => (gy, gx - 18.0),
                Side::Bottom => (35.0 - gy, gx - 18.0),
            };
            let density = 0.28 + 0.8 * libm::exp(-inward.max(0.0) / 6.0) * libm::exp(-along * along / 260.0);
            let bare = hole || !(0.0..=35.0).contains(&y);
            // A grain of a hundredth, from the place alone.
            let grain =
                f64::from((row.wrapping_mul(2_654_435_761) ^ column.wrapping_mul(40_503_661)) >> 22) / 1024.0 - 0.5;
            light.push((0.6 * libm::exp10(if bare { 0.0 } else { -density }) * (1.0 + 0.02 * grain)) as f32);
        }
    }
    let plane = Plane { size: Size::new(SIZE.0, SIZE.1).expect("a size"), light };
    let at = |x: f64, y: f64| (ORIGIN.0 + x * SCALE, ORIGIN.1 + y * SCALE);
    let corners = [at(0.0, 5.5), at(36.0, 5.5), at(36.0, 29.5), at(0.0, 29.5)];
    fog(&lay_out(&plane, &corners, Format::Perforated).expect("laid out"), Lies::AsInCamera)
}

#[test]
fn a_leak_at_a_known_seal_comes_back_to_it_however_the_strip_lies_and_the_back_is_hinged() {
    for side in Side::ALL {
        for lies in Lies::ALL {
            let found = photographed(side, lies);
            let blank = Blank { frame: Frame::Closed, lies, fog: found, notes: Vec::new() };
            assert_eq!(blank.fog.group, Group::Back, "{side:?} {lies:?}: {:?}", blank.fog);
            assert!(blank.fog.confidence >= judge::SURE, "{side:?} {lies:?}: {:?}", blank.fog);
            for hinge in Side::ALL {
                let wanted = back::places(Kind::SingleLensReflex, hinge)
                    .into_iter()
                    .find(|place| {
                        place.side == Some(side) && (place.point.ends_with("seal") || place.point == "channel-seals")
                    })
                    .expect("a seal on every side");
                let place = place_of(Kind::SingleLensReflex, hinge, &blank);
                if lies == Lies::Unknown {
                    assert_eq!((gate_side(&blank), place), (None, None));
                    continue;
                }
                assert_eq!(gate_side(&blank), Some(side), "{lies:?}");
                assert_eq!(place, Some(wanted.key), "{side:?} {lies:?} {hinge:?}");
                // On the drawing it stands round that place and no other.
                let roll = Roll { blanks: vec![blank.clone()], ..Roll::default() };
                let judged = judge(&roll, Kind::SingleLensReflex, hinge);
                let drawn = drawing(Kind::SingleLensReflex, hinge, &[], &judged);
                assert!(drawn.description.contains(&format!("{}: a test roll points here", wanted.name)));
                assert_eq!(drawn.description.matches("points here").count(), 1);
                assert!(
                    judged.told[0].sentence.contains(wanted.name) && judged.told[0].sentence.contains(side.words())
                );
            }
        }
    }
}

fn told_fog(group: Group, side: Option<imaging::fog::Side>, source: Option<Source>, confidence: f64) -> Fog {
    Fog { group, side, source, confidence, peak_density: 0.4, threshold_density: 0.06, notices: Vec::new() }
}

fn blank(frame: Frame, fog: Fog) -> Blank {
    Blank { frame, lies: Lies::AsInCamera, fog, notes: Vec::new() }
}

#[test]
fn the_window_lies_where_the_cassette_does() {
    use imaging::fog::Side::{Left, Right};
    let window = |side, hinge| {
        let one = blank(Frame::Closed, told_fog(Group::Back, Some(side), Some(Source::Window), 0.9));
        place_of(Kind::Rangefinder, hinge, &one)
    };
    assert_eq!(window(Left, Side::Right), Some("window-foam"));
    assert_eq!(window(Right, Side::Right), Some("hinge-seal"));
    assert_eq!(window(Right, Side::Left), Some("window-foam"));
    assert_eq!(window(Left, Side::Left), Some("hinge-seal"));
}

#[test]
fn the_front_is_the_gate_and_the_foam_above_the_mirror_only_where_there_is_one() {
    let top =
        blank(Frame::Bulb, told_fog(Group::Front, Some(imaging::fog::Side::Top), Some(Source::MirrorFoamTop), 0.9));
    assert_eq!(place_of(Kind::SingleLensReflex, Side::Right, &top), Some("mirror-damper"));
    assert_eq!(place_of(Kind::Rangefinder, Side::Right, &top), Some("gate"));
    assert_eq!(place_of(Kind::Folding, Side::Right, &top), Some("bellows"));
    // Turned by half it is the lower edge, where no such foam is.
    let turned = Blank { lies: Lies::PictureUpright, ..top };
    assert_eq!(place_of(Kind::SingleLensReflex, Side::Right, &turned), Some("gate"));
}

/// What a roll with such blanks comes to for a rangefinder of which all else is sound.
fn outcome(blanks: Vec<Blank>) -> crate::outcome::Outcome {
    let mut one = Inspection::of(Camera::of_kind(Kind::Rangefinder));
    one.test_roll = Roll { blanks, ..Roll::default() };
    crate::examine(&one).expect("examined").outcome
}

#[test]
fn a_sure_leak_wants_service_and_a_likely_one_leaves_it_open() {
    let left = Some(imaging::fog::Side::Left);
    let of =
        |confidence| outcome(vec![blank(Frame::Closed, told_fog(Group::Back, left, Some(Source::Latch), confidence))]);
    let sure = of(0.93);
    assert_eq!(sure.word, Word::WantsService);
    let reason = sure.reasons.iter().find(|reason| reason.evidence == Evidence::TestRoll).expect("a reason");
    assert!(reason.text.contains("latch-side seal") && reason.text.contains("spoils film"), "{}", reason.text);
    assert!(sure.remedies.iter().any(|remedy| remedy.evidence == Evidence::TestRoll));
    let likely = of(0.5);
    assert_eq!(likely.word, Word::NotYetKnown);
    assert!(likely.reasons.iter().any(|reason| reason.text.contains("light, likely from the back")));
    let dark = outcome(vec![blank(Frame::Closed, told_fog(Group::None, None, None, 0.9))]);
    assert!(dark.reasons.iter().all(|reason| reason.evidence != Evidence::TestRoll));
    assert!(dark.remarks.iter().any(|remark| remark.text.contains("no light on the film")));
}

#[test]
fn a_spot_is_a_hole_only_where_light_stood_before_the_shutter() {
    let spot = |frame| {
        let roll = Roll { blanks: vec![blank(frame, told_fog(Group::Pinhole, None, None, 0.95))], ..Roll::default() };
        judge(&roll, Kind::Rangefinder, Side::Right).told.remove(0)
    };
    assert_eq!((spot(Frame::LensOpen).call, spot(Frame::LensOpen).place), (Call::Light, Some("gate")));
    assert_eq!((spot(Frame::Closed).call, spot(Frame::Closed).place), (Call::CannotTell, None));
}

fn wall(taper: f64, doubt: f64, paired: bool) -> Wall {
    let evenness = Evenness {
        taper_stops: taper,
        standard_uncertainty_stops: doubt,
        wall_stops: paired.then_some(0.1),
        band_stops: 0.01,
        end_drop_stops: 0.0,
        bow_stops: 0.0,
        gamma: 0.65,
        profile: Vec::new(),
        notices: Vec::new(),
    };
    Wall { mark: photometry::TimeMark::parse("1/1000", &[]).ok(), evenness }
}

#[test]
fn a_wall_is_uneven_beyond_its_doubt_only() {
    let told = |one: &Wall| wall::told(one);
    assert_eq!(told(&wall(0.1, 0.05, true)).call, WallCall::Even);
    assert_eq!(told(&wall(-0.6, 0.05, true)).call, WallCall::Uneven);
    assert_eq!(told(&wall(0.9, 0.05, true)).call, WallCall::Fault);
    let alone = told(&wall(0.35, 0.16, false));
    assert_eq!(alone.call, WallCall::CannotTell);
    assert!(alone.settle.contains("upside down"));
    let mut drops = wall(0.1, 0.05, true);
    drops.evenness.end_drop_stops = -0.6;
    assert!(told(&drops).call == WallCall::Fault && told(&drops).sentence.contains("drops off"));
    // A marked time can be left out.
    let mut one = Inspection::of(Camera::of_kind(Kind::Rangefinder));
    one.test_roll.walls = vec![wall(0.9, 0.05, true)];
    let outcome = crate::examine(&one).expect("examined").outcome;
    assert!(outcome.limits.iter().any(|limit| limit.text.contains("Leave 1/1000 out")));
    one.test_roll.walls[0].mark = None;
    assert!(crate::examine(&one).expect("examined").outcome.word == Word::WantsService);
}

#[test]
fn a_roll_that_is_on_its_way_holds_nothing_up() {
    let mut roll = Roll::default();
    assert_eq!(roll.state(), State::NotBegun);
    roll.ticked.push("load".to_owned());
    assert_eq!(roll.state(), State::AtTheCamera);
    roll.exposed = "2026-03-01".to_owned();
    assert_eq!(roll.state(), State::Waiting);
    let mut one = Inspection::of(Camera::of_kind(Kind::Rangefinder));
    one.test_roll = roll;
    let unchecked = crate::examine(&one).expect("examined").outcome.unchecked;
    let waiting = unchecked.iter().find(|one| one.evidence == Evidence::TestRoll).expect("waiting");
    assert!(!waiting.matters && waiting.text.contains("waiting for the film"));
}

#[test]
fn the_list_is_half_an_hour_and_every_blank_has_its_step() {
    let list = steps(Kind::SingleLensReflex);
    let seconds: u32 = list.iter().map(|step| step.seconds).sum();
    assert!((25 * 60..=32 * 60).contains(&seconds), "{seconds}");
    for frame in Frame::ALL {
        assert!(list.iter().any(|step| step.key == frame.key() && step.takes_frame && step.timer_s > 0));
        assert_eq!(Frame::from_key(frame.key()), Some(frame));
    }
    assert_eq!((frame_number("key-before"), frame_number("closed"), frame_number("load")), (Some(1), Some(2), None));
    assert!(steps(Kind::LargeFormat).is_empty());
}

proptest! {
    #[test]
    fn turning_the_strip_by_half_twice_changes_nothing(at in 0_usize..4, lies in 0_usize..4) {
        let side = imaging::fog::Side::ALL[at];
        let once = side.of_gate(Lies::ALL[lies]);
        prop_assert_eq!(once.and_then(|own| own.of_gate(Lies::ALL[lies])), Some(side));
    }
}
