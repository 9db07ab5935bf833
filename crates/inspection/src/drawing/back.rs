//! The open back of a camera as a worksheet diagram, one for each way of loading film: seen from behind, the door swung to the
//! side of its hinge, with a numbered place for every seal, door and part that light can come past.
//!
//! Sides are those seen from behind with the back open. Not here: what was found at a place ([`crate::light_tight`]), how a
//! mark looks (whoever shows it).

use super::{Drawing, Mark, Role, Shape, line, rectangle};
use crate::camera::Kind;
use crate::finding::Condition;

/// A side of the back as seen from behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards the top plate.
    Top,
    /// Towards the base plate.
    Bottom,
    /// The left hand, seen from behind.
    Left,
    /// The right hand, seen from behind.
    Right,
}

impl Side {
    /// Every side, in the order in which they are offered for a hinge.
    pub const ALL: [Side; 4] = [Side::Right, Side::Left, Side::Bottom, Side::Top];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Side::Top => "top",
            Side::Bottom => "bottom",
            Side::Left => "left",
            Side::Right => "right",
        }
    }

    /// The word at the bench.
    pub const fn words(self) -> &'static str {
        self.key()
    }

    /// The side with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|side| side.key() == key)
    }

    /// The side across.
    pub const fn across(self) -> Self {
        match self {
            Side::Top => Side::Bottom,
            Side::Bottom => Side::Top,
            Side::Left => Side::Right,
            Side::Right => Side::Left,
        }
    }
}

/// Where the hinge of such a camera usually is, seen from behind (common practice; the person says where it differs). Sheet
/// film has no hinged back.
pub const fn usual_hinge(kind: Kind) -> Option<Side> {
    match kind {
        Kind::TwinLensReflex => Some(Side::Top),
        Kind::LargeFormat => None,
        _ => Some(Side::Right),
    }
}

/// The sides on which the hinge of such a camera can be.
pub const fn hinge_sides(kind: Kind) -> &'static [Side] {
    match kind {
        Kind::LargeFormat => &[],
        Kind::TwinLensReflex => &[Side::Top, Side::Bottom, Side::Right, Side::Left],
        _ => &[Side::Right, Side::Left, Side::Bottom, Side::Top],
    }
}

/// A named place on the drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Key in a file: lower case and hyphens.
    pub key: &'static str,
    /// Name in a few words: `door channel, top`.
    pub name: &'static str,
    /// The catalogue's point that it belongs to.
    pub point: &'static str,
    /// The side of the back that it lies on, if it lies on one.
    pub side: Option<Side>,
    /// Upper left corner on the drawing.
    pub from: (f64, f64),
    /// Lower right corner on the drawing.
    pub to: (f64, f64),
}

impl Place {
    /// The middle of the place on the drawing.
    pub fn middle(&self) -> (f64, f64) {
        ((self.from.0 + self.to.0) / 2.0, (self.from.1 + self.to.1) / 2.0)
    }

    /// Where its number stands: off the middle on a long strip, where latch and hinge have theirs.
    pub fn tag(&self) -> (f64, f64) {
        const OFF: f64 = 0.27;
        let (width, height) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let (x, y) = self.middle();
        match self.side {
            Some(_) if width > 5.0 * height => (self.from.0 + OFF * width, y),
            Some(_) if height > 5.0 * width => (x, self.from.1 + OFF * height),
            _ => (x, y),
        }
    }
}

/// What is marked at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackMark {
    /// What was found there.
    Found(Condition),
    /// Light comes out here.
    LightOut,
    /// A test roll points here.
    Suspected,
    /// The place in hand.
    InHand,
}

/// Width and height that the drawing has at most.
const SIZE: (f64, f64) = (360.0, 300.0);
/// Height where the door swings to the side.
const LYING: f64 = 190.0;
/// Size of the body seen from behind, for film that runs across and for a body that stands upright or nearly square.
const ACROSS: (f64, f64) = (210.0, 110.0);
const UPRIGHT: (f64, f64) = (130.0, 130.0);
/// How far the swung door reaches out.
const DOOR: f64 = 110.0;
/// How far the latch stands out on the other side.
const LATCH: f64 = 18.0;
/// Breadth of a seal on the drawing.
const SEAL: f64 = 12.0;
/// Margin of the drawing.
const MARGIN: f64 = 14.0;

/// Room for the words above body and door.
const LABELS: f64 = 24.0;

/// Height of the drawing.
const fn height_of(kind: Kind, hinge: Side) -> f64 {
    match (kind, hinge) {
        (Kind::LargeFormat, _) => SIZE.1,
        (_, Side::Left | Side::Right) => LYING,
        _ => SIZE.1,
    }
}

/// The body and door of a back with a hinge, before the places are put in.
struct Layout {
    body: ((f64, f64), (f64, f64)),
    door: ((f64, f64), (f64, f64)),
    gate: ((f64, f64), (f64, f64)),
    hinge: Side,
}

type Box2 = ((f64, f64), (f64, f64));

impl Layout {
    fn of(kind: Kind, hinge: Side) -> Self {
        let (width, height) = match kind {
            Kind::TwinLensReflex => UPRIGHT,
            _ => ACROSS,
        };
        let w = SIZE.0;
        let lying = matches!(hinge, Side::Left | Side::Right);
        let h = height_of(kind, hinge) + if lying { LABELS } else { 0.0 };
        let reach = DOOR + LATCH;
        let (all_w, all_h) = if lying { (width + reach, height) } else { (width, height + reach) };
        let (x0, y0) = ((w - all_w) / 2.0, (h - all_h) / 2.0);
        let x = match hinge {
            Side::Left => x0 + DOOR,
            Side::Right => x0 + LATCH,
            _ => x0,
        };
        let y = match hinge {
            Side::Top => y0 + DOOR,
            Side::Bottom => y0 + LATCH,
            _ => y0,
        };
        let body = ((x, y), (x + width, y + height));
        let door = match hinge {
            Side::Right => ((x + width, y), (x + width + DOOR, y + height)),
            Side::Left => ((x - DOOR, y), (x, y + height)),
            Side::Bottom => ((x, y + height), (x + width, y + height + DOOR)),
            Side::Top => ((x, y - DOOR), (x + width, y)),
        };
        let (cx, cy) = (x + width / 2.0, y + height / 2.0);
        let half = if kind == Kind::TwinLensReflex { (32.0, 32.0) } else { (38.0, 25.0) };
        let gate = ((cx - half.0, cy - half.1), (cx + half.0, cy + half.1));
        Self { body, door, gate, hinge }
    }

    /// A strip along a side of the body.
    fn strip(&self, side: Side) -> Box2 {
        let ((left, top), (right, bottom)) = self.body;
        match side {
            Side::Top => ((left + SEAL, top), (right - SEAL, top + SEAL)),
            Side::Bottom => ((left + SEAL, bottom - SEAL), (right - SEAL, bottom)),
            Side::Left => ((left, top), (left + SEAL, bottom)),
            Side::Right => ((right - SEAL, top), (right, bottom)),
        }
    }

    /// A box at `along` (0 at the hinge, 1 at the free end) and `across` (0 to 1) of the door, with its half sizes.
    fn on_door(&self, along: f64, across: f64, half_along: f64, half_across: f64) -> Box2 {
        let ((left, top), (right, bottom)) = self.door;
        let (cx, cy, hx, hy) = match self.hinge {
            Side::Right => (left + DOOR * along, top + (bottom - top) * across, half_along, half_across),
            Side::Left => (right - DOOR * along, top + (bottom - top) * across, half_along, half_across),
            Side::Bottom => (left + (right - left) * across, top + DOOR * along, half_across, half_along),
            Side::Top => (left + (right - left) * across, bottom - DOOR * along, half_across, half_along),
        };
        ((cx - hx, cy - hy), (cx + hx, cy + hy))
    }

    /// The chamber of the cassette or full roll, and that of the take-up spool: film runs across where the body lies.
    fn chambers(&self) -> (Box2, Box2) {
        let ((left, top), (right, bottom)) = self.body;
        let ((gate_left, gate_top), (gate_right, gate_bottom)) = self.gate;
        if right - left > bottom - top {
            let (top, bottom) = (top + SEAL + 6.0, bottom - SEAL - 6.0);
            let near = ((left + SEAL + 5.0, top), (gate_left - 9.0, bottom));
            let far = ((gate_right + 9.0, top), (right - SEAL - 5.0, bottom));
            // The cassette lies away from the hinge.
            if self.hinge == Side::Left { (far, near) } else { (near, far) }
        } else {
            let (left, right) = (left + SEAL + 8.0, right - SEAL - 8.0);
            let low = ((left, gate_bottom + 4.0), (right, bottom - SEAL - 2.0));
            let high = ((left, top + SEAL + 2.0), (right, gate_top - 4.0));
            (low, high)
        }
    }
}

fn place(key: &'static str, name: &'static str, point: &'static str, side: Option<Side>, (from, to): Box2) -> Place {
    Place { key, name, point, side, from, to }
}

/// A small box at the middle of a side, partly over the edge.
fn at_side(layout: &Layout, side: Side, across: f64) -> Box2 {
    let ((left, top), (right, bottom)) = layout.body;
    let half = LATCH / 2.0;
    let (cx, cy) = match side {
        Side::Left => (left - half, top + (bottom - top) * across),
        Side::Right => (right + half, top + (bottom - top) * across),
        Side::Top => (left + (right - left) * across, top - half),
        Side::Bottom => (left + (right - left) * across, bottom + half),
    };
    ((cx - half, cy - half), (cx + half, cy + half))
}

/// The names of the four seals round the body by what they are: the hinge, its opposite, and the two channels.
fn round_the_body(layout: &Layout, seals: bool) -> Vec<Place> {
    let hinge = layout.hinge;
    let mut places = Vec::new();
    if seals {
        for side in [Side::Top, Side::Bottom, Side::Left, Side::Right] {
            let (key, name, point) = if side == hinge {
                ("hinge-seal", "hinge seal", "hinge-seal")
            } else if side == hinge.across() {
                ("latch-seal", "latch-side seal", "latch-seal")
            } else {
                match side {
                    Side::Top => ("channel-top", "door channel, top", "channel-seals"),
                    Side::Bottom => ("channel-bottom", "door channel, bottom", "channel-seals"),
                    Side::Left => ("channel-left", "door channel, left", "channel-seals"),
                    Side::Right => ("channel-right", "door channel, right", "channel-seals"),
                }
            };
            places.push(place(key, name, point, Some(side), layout.strip(side)));
        }
        places.push(place("hinge", "hinge", "hinge-play", Some(hinge), layout.on_door(0.06, 0.5, 7.0, 14.0)));
    }
    let latch = hinge.across();
    places.push(place("latch", "back-door latch", "back-latch", Some(latch), at_side(layout, latch, 0.5)));
    places.push(place(
        "interlock",
        "film-door interlock",
        "film-door-interlock",
        Some(latch),
        at_side(layout, latch, 0.12),
    ));
    places
}

/// Every named place of the open back of a camera of this kind, in the order in which they are walked. A hinge that such a
/// camera cannot have is taken as the usual one.
pub fn places(kind: Kind, hinge: Side) -> Vec<Place> {
    if kind == Kind::LargeFormat {
        return sheet_film_places();
    }
    let layout = Layout::of(kind, hinge);
    let mut places = round_the_body(&layout, kind != Kind::Folding);
    let (cassette, _) = layout.chambers();
    places.push(place(
        "cassette",
        if kind == Kind::TwinLensReflex || kind == Kind::Folding { "roll chamber" } else { "cassette chamber" },
        "cassette-foam",
        None,
        cassette,
    ));
    places.push(place(
        "window-foam",
        "film-window foam",
        "film-window-foam",
        None,
        layout.on_door(0.84, 0.5, 9.0, 26.0),
    ));
    places.push(place(
        "pressure-plate",
        "pressure plate",
        "pressure-plate",
        None,
        layout.on_door(0.45, 0.5, 25.0, 30.0),
    ));
    let ((gate_left, gate_top), (gate_right, gate_bottom)) = layout.gate;
    match kind {
        Kind::SingleLensReflex => {
            places.push(place(
                "mirror-damper",
                "mirror damper, in front of the shutter",
                "mirror-damper",
                None,
                ((gate_left + 6.0, gate_top - 15.0), (gate_right - 6.0, gate_top - 5.0)),
            ));
        }
        Kind::Folding => {
            places.push(place(
                "red-window",
                "red window and its cover",
                "film-window",
                None,
                layout.on_door(0.62, 0.12, 8.0, 8.0),
            ));
            let inset = 9.0;
            places.push(place(
                "bellows-corners",
                "bellows corners",
                "bellows-corners",
                None,
                ((gate_left, gate_top), (gate_right, gate_top + inset)),
            ));
            places.push(place(
                "bellows",
                "bellows folds",
                "bellows-pinholes",
                None,
                ((gate_left, gate_top + inset), (gate_right, gate_bottom)),
            ));
            return places;
        }
        _ => {}
    }
    places.push(place("gate", "shutter behind the gate", "curtains", None, layout.gate));
    places
}

/// Sheet film from the side: back with its holder at the left, bellows, lens board at the right.
fn sheet_film_places() -> Vec<Place> {
    vec![
        place("holder-trap", "light trap of the film holder", "holder-light-trap", None, ((48.0, 74.0), (64.0, 94.0))),
        place(
            "holder-seat",
            "seat of the holder in the back",
            "holder-light-trap",
            None,
            ((74.0, 94.0), (86.0, 206.0)),
        ),
        place("bellows-corners", "bellows corners", "bellows-corners", None, ((96.0, 84.0), (264.0, 104.0))),
        place("bellows", "bellows folds", "bellows-pinholes", None, ((96.0, 112.0), (264.0, 188.0))),
        place("lens-board", "lens board in its seat", "lens-board", None, ((276.0, 96.0), (292.0, 204.0))),
    ]
}

fn outline((from, to): Box2) -> Mark {
    Mark { role: Role::Body, shape: Shape::Rectangle { from, to } }
}

fn caption(at: (f64, f64), text: String, anchor: &'static str) -> Mark {
    Mark { role: Role::Caption, shape: Shape::Text { at, text, anchor } }
}

/// The lines of camera and door, without any place.
fn body_marks(kind: Kind, hinge: Side) -> Vec<Mark> {
    if kind == Kind::LargeFormat {
        let mut marks = vec![
            outline(((66.0, 74.0), (92.0, 226.0))),
            outline(((48.0, 94.0), (64.0, 206.0))),
            outline(((268.0, 74.0), (276.0, 226.0))),
            outline(((292.0, 128.0), (316.0, 172.0))),
            line(Role::Part, (40.0, 240.0), (320.0, 240.0)),
        ];
        for (side, mirrored) in [(84.0, 12.0), (216.0, -12.0)] {
            let points = (0..=14)
                .map(|i| (96.0 + 12.0 * f64::from(i), side + if i % 2 == 1 { mirrored } else { 0.0 }))
                .collect();
            marks.push(Mark { role: Role::Part, shape: Shape::Path { points } });
        }
        marks.push(caption((70.0, 264.0), "film side".to_owned(), "middle"));
        marks.push(caption((290.0, 264.0), "lens side".to_owned(), "middle"));
        return marks;
    }
    let layout = Layout::of(kind, hinge);
    let (cassette, take_up) = layout.chambers();
    let ((left, top), (right, bottom)) = layout.body;
    let mut marks = vec![outline(layout.body), outline(layout.door)];
    let inner = ((left + SEAL, top + SEAL), (right - SEAL, bottom - SEAL));
    for part in [inner, cassette, take_up, layout.gate] {
        marks.push(Mark { role: Role::Part, shape: Shape::Rectangle { from: part.0, to: part.1 } });
    }
    let ((gate_left, gate_top), (gate_right, gate_bottom)) = layout.gate;
    if kind == Kind::Folding {
        for (from, to) in [
            ((gate_left, gate_top), (gate_left + 14.0, gate_top + 11.0)),
            ((gate_right, gate_top), (gate_right - 14.0, gate_top + 11.0)),
            ((gate_left, gate_bottom), (gate_left + 14.0, gate_bottom - 11.0)),
            ((gate_right, gate_bottom), (gate_right - 14.0, gate_bottom - 11.0)),
        ] {
            marks.push(line(Role::Part, from, to));
        }
    }
    let ((door_left, door_top), (door_right, door_bottom)) = layout.door;
    let lying = matches!(hinge, Side::Left | Side::Right);
    marks.push(caption(
        (
            (left + right) / 2.0,
            match hinge {
                Side::Top => bottom + 36.0,
                Side::Bottom => top - 26.0,
                _ => top - 24.0,
            },
        ),
        "body".to_owned(),
        "middle",
    ));
    if lying {
        marks.push(caption(((door_left + door_right) / 2.0, door_top - 24.0), "door, open".to_owned(), "middle"));
    } else {
        marks.push(caption((door_right + 8.0, (door_top + door_bottom) / 2.0), "door".to_owned(), "start"));
    }
    marks
}

const fn role_of(mark: Option<BackMark>) -> Role {
    match mark {
        Some(BackMark::Found(Condition::Sound)) => Role::PlaceSound,
        Some(BackMark::Found(Condition::Worn)) => Role::PlaceWorn,
        Some(BackMark::Found(Condition::Faulty | Condition::Failed)) => Role::PlaceBad,
        _ => Role::Place,
    }
}

const fn said(mark: BackMark) -> &'static str {
    match mark {
        BackMark::Found(condition) => condition.words(),
        BackMark::LightOut => "light comes out here",
        BackMark::Suspected => "a test roll points here",
        BackMark::InHand => "in hand",
    }
}

/// The open back with its places numbered in the order of [`places`], and what is marked at them. A key that this camera has
/// no place for is left out; a place can carry several marks.
pub fn back(kind: Kind, hinge: Side, marked: &[(&str, BackMark)]) -> Drawing {
    let places = places(kind, hinge);
    let mut marks = body_marks(kind, hinge);
    let mut description = match kind {
        Kind::LargeFormat => "The camera from the side.".to_owned(),
        _ => format!("The open back seen from behind, hinge {}.", hinge.words()),
    };
    // A large place would cover a small one that lies on it.
    let area = |place: &Place| (place.to.0 - place.from.0) * (place.to.1 - place.from.1);
    let order = metrology::ascending((0..places.len()).collect(), |&index: &usize| -area(&places[index]));
    let of = |key: &str| marked.iter().filter(move |(at, _)| *at == key).map(|(_, mark)| *mark).collect::<Vec<_>>();
    for index in order {
        let place = &places[index];
        let here = of(place.key);
        let found = here.iter().copied().find(|mark| matches!(mark, BackMark::Found(_)));
        marks.push(rectangle(role_of(found), place.from, place.to));
        if here.contains(&BackMark::InHand) {
            let grow = 3.0;
            let from = (place.from.0 - grow, place.from.1 - grow);
            marks.push(rectangle(Role::InHand, from, (place.to.0 + grow, place.to.1 + grow)));
        }
        if here.contains(&BackMark::Suspected) {
            let grow = 5.0;
            let from = (place.from.0 - grow, place.from.1 - grow);
            marks.push(rectangle(Role::Suspected, from, (place.to.0 + grow, place.to.1 + grow)));
        }
    }
    for (index, place) in places.iter().enumerate() {
        let (x, y) = place.tag();
        let here = of(place.key);
        marks.push(Mark { role: Role::Tag, shape: Shape::Dot { at: (x, y), radius: 8.5 } });
        marks.push(Mark {
            role: Role::Number,
            shape: Shape::Text { at: (x, y + 4.2), text: (index + 1).to_string(), anchor: "middle" },
        });
        if here.contains(&BackMark::LightOut) {
            marks.extend(rays((x, y)));
        }
    }
    for (index, place) in places.iter().enumerate() {
        let here: Vec<&str> = of(place.key).into_iter().filter(|mark| *mark != BackMark::InHand).map(said).collect();
        if !here.is_empty() {
            description.push_str(&format!(" {}, {}: {}.", index + 1, place.name, here.join(", ")));
        }
    }
    let title = if kind == Kind::LargeFormat { "Where light can come in" } else { "The open back" };
    Drawing { width: SIZE.0, height: height_of(kind, hinge), title: title.to_owned(), description, marks }
}

/// Eight short rays about a tag: light comes out here.
fn rays((x, y): (f64, f64)) -> Vec<Mark> {
    const WAYS: [(f64, f64); 8] =
        [(1.0, 0.0), (0.7, 0.7), (0.0, 1.0), (-0.7, 0.7), (-1.0, 0.0), (-0.7, -0.7), (0.0, -1.0), (0.7, -0.7)];
    WAYS.iter()
        .map(|(dx, dy)| line(Role::Ray, (x + 11.0 * dx, y + 11.0 * dy), (x + 17.0 * dx, y + 17.0 * dy)))
        .collect()
}

/// The rim of the body and door round which a diagram is kept.
const _: () = assert!(ACROSS.0 + DOOR + LATCH + MARGIN < SIZE.0 && UPRIGHT.1 + DOOR + LATCH + MARGIN < SIZE.1);

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue;

    fn all() -> impl Iterator<Item = (Kind, Side)> {
        Kind::ALL.into_iter().flat_map(|kind| Side::ALL.into_iter().map(move |side| (kind, side)))
    }

    #[test]
    fn every_place_is_in_the_drawing_and_belongs_to_a_point_of_the_catalogue() {
        for (kind, hinge) in all() {
            let places = places(kind, hinge);
            for (i, place) in places.iter().enumerate() {
                let point = catalogue::point(place.point).expect(place.point);
                assert!(point.kinds.contains(&kind), "{} of {}", place.key, kind.key());
                assert!(place.from.0 < place.to.0 && place.from.1 < place.to.1, "{}", place.key);
                assert!(place.from.0 >= 0.0 && place.from.1 >= 0.0, "{} {hinge:?} {kind:?}", place.key);
                assert!(
                    place.to.0 <= SIZE.0 && place.to.1 <= height_of(kind, hinge),
                    "{} {hinge:?} {kind:?}",
                    place.key
                );
                assert!(places[..i].iter().all(|other| other.key != place.key), "{} twice", place.key);
            }
        }
    }

    #[test]
    fn every_seal_of_the_catalogue_has_a_place() {
        for kind in Kind::ALL {
            let places = places(kind, usual_hinge(kind).unwrap_or(Side::Right));
            for point in
                catalogue::points().filter(|point| point.area == catalogue::Area::Seals && point.kinds.contains(&kind))
            {
                // Residue is asked for at each seal.
                assert!(
                    point.key == "edge-residue" || places.iter().any(|place| place.point == point.key),
                    "{} of {}",
                    point.key,
                    kind.key()
                );
            }
        }
    }

    #[test]
    fn the_hinge_seal_lies_between_body_and_door() {
        for hinge in Side::ALL {
            let places = places(Kind::Rangefinder, hinge);
            let of = |key: &str| places.iter().find(|place| place.key == key).expect(key);
            let (seal, latch) = (of("hinge-seal"), of("latch-seal"));
            assert_eq!(seal.side, Some(hinge));
            assert_eq!(latch.side, Some(hinge.across()));
            let (s, l) = (seal.middle(), latch.middle());
            match hinge {
                Side::Right => assert!(s.0 > l.0),
                Side::Left => assert!(s.0 < l.0),
                Side::Bottom => assert!(s.1 > l.1),
                Side::Top => assert!(s.1 < l.1),
            }
            // The window in the door faces the cassette once the door is shut: it is at the door's free end.
            let (window, hinge_at) = (of("window-foam").middle(), of("hinge").middle());
            // No number covers another.
            for (i, a) in places.iter().enumerate() {
                for b in &places[..i] {
                    let apart = libm::hypot(a.tag().0 - b.tag().0, a.tag().1 - b.tag().1);
                    assert!(apart > 14.0, "{} and {} with the hinge {hinge:?}", a.key, b.key);
                }
            }
            let far = libm::hypot(window.0 - hinge_at.0, window.1 - hinge_at.1);
            assert!(far > DOOR * 0.6);
        }
    }

    #[test]
    fn what_is_marked_is_said_and_drawn() {
        let drawing = back(
            Kind::SingleLensReflex,
            Side::Right,
            &[
                ("hinge-seal", BackMark::Found(Condition::Faulty)),
                ("hinge-seal", BackMark::Suspected),
                ("channel-top", BackMark::LightOut),
                ("bellows", BackMark::LightOut),
            ],
        );
        assert!(drawing.description.contains("hinge seal: faulty, a test roll points here"));
        assert!(drawing.description.contains("door channel, top: light comes out here"));
        assert!(!drawing.description.contains("bellows"));
        assert_eq!(drawing.marks.iter().filter(|mark| mark.role == Role::PlaceBad).count(), 1);
        assert_eq!(drawing.marks.iter().filter(|mark| mark.role == Role::Suspected).count(), 1);
        assert_eq!(drawing.marks.iter().filter(|mark| mark.role == Role::Ray).count(), 8);
    }
}
