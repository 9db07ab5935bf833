//! What the frames of a test roll tell, one by one and together.
//!
//! A claim stands from a confidence of [`SURE`] on: on computed strips at least 95 in 100 of those are right (see the tests); below
//! it the side and part are said as likely and settle nothing. Not here: what it comes to for the camera ([`crate::outcome`]).

use imaging::fog::{Group, Lies, Source};

use super::wall::{WallTold, told as wall_told};
use super::{Blank, Frame, Roll, State, gate_side, place_of};
use crate::camera::Kind;
use crate::drawing::back::{self, Side};
use crate::words;

/// Confidence from which a claim stands.
pub const SURE: f64 = 0.8;

/// What a blank frame comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// No light got at it.
    Dark,
    /// Light, and it is known from where.
    Light,
    /// Light, likely from there.
    Likely,
    /// Something is on it, and from where cannot be told.
    CannotTell,
    /// The photo could not be measured.
    Unread,
}

impl Call {
    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Call::Dark => "dark",
            Call::Light => "light",
            Call::Likely => "likely",
            Call::CannotTell => "cannot_tell",
            Call::Unread => "unread",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            Call::Dark => "no light",
            Call::Light => "light",
            Call::Likely => "likely light",
            Call::CannotTell => "cannot tell",
            Call::Unread => "not measured",
        }
    }
}

/// A blank frame with what it tells.
#[derive(Clone, Debug, PartialEq)]
pub struct Told {
    /// Which frame.
    pub frame: Frame,
    /// What it comes to.
    pub call: Call,
    /// Side of the gate seen from behind.
    pub side: Option<Side>,
    /// Key of the place of the open back that it points at.
    pub place: Option<&'static str>,
    /// Key of the catalogue's point of that place.
    pub point: Option<&'static str>,
    /// How sure, 0 to 1.
    pub confidence: f64,
    /// What it tells, a sentence or two.
    pub sentence: String,
}

/// What a test roll comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Judgement {
    /// How far it is.
    pub state: State,
    /// A few words for a list.
    pub headline: String,
    /// The blank frames.
    pub told: Vec<Told>,
    /// The walls.
    pub walls: Vec<WallTold>,
    /// What was not tried.
    pub missing: Vec<String>,
}

impl Judgement {
    /// Places of the open back that the roll points at.
    pub fn suspected(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.told.iter().filter(|told| matches!(told.call, Call::Light | Call::Likely)).filter_map(|told| told.place)
    }
}

/// A spot cannot be a hole in a curtain unless light stood before it.
fn contradicts(blank: &Blank) -> bool {
    blank.fog.group == Group::Pinhole && blank.frame != Frame::LensOpen
}

fn call(blank: &Blank) -> Call {
    let fog = &blank.fog;
    match fog.group {
        Group::None => Call::Dark,
        Group::CannotTell if fog.threshold_density <= 0.0 => Call::Unread,
        Group::CannotTell => Call::CannotTell,
        _ if contradicts(blank) => Call::CannotTell,
        _ if fog.confidence >= SURE => Call::Light,
        _ => Call::Likely,
    }
}

fn at_side(side: Option<Side>) -> String {
    side.map_or_else(String::new, |side| format!(", at the {} of the gate seen from behind", side.words()))
}

fn told(blank: &Blank, kind: Kind, hinge: Side) -> Told {
    let (call, fog) = (call(blank), &blank.fog);
    let claims = matches!(call, Call::Light | Call::Likely);
    let side = gate_side(blank).filter(|_| claims || call == Call::CannotTell);
    let places = back::places(kind, hinge);
    let place =
        place_of(kind, hinge, blank).filter(|_| claims).and_then(|key| places.iter().find(|place| place.key == key));
    let what = words::sentence_case(blank.frame.words());
    let density = words::plain(fog.peak_density, 2);
    let from = match fog.group {
        Group::Back => "from the back",
        Group::Front if fog.source == Some(Source::Mount) => {
            "through the front, over the whole gate: mount or mirror box"
        }
        Group::Front => "through the front, cut off by the gate's edge",
        _ => "in a spot: a hole in the shutter",
    };
    let mut sentence = match call {
        Call::Dark => {
            format!("{what}: no light on the film, nothing above density {}.", words::plain(fog.threshold_density, 2))
        }
        Call::Light => format!("{what}: light {from}{}.", at_side(side)),
        Call::Likely => format!("{what}: light, likely {from}{}.", at_side(side)),
        Call::CannotTell if contradicts(blank) => {
            format!(
                "{what}: a spot on the film. No light stood before the shutter, so it is no hole in it: dust, pressure or developing."
            )
        }
        Call::CannotTell => format!(
            "{what}: density {density} above the base{}, and where it comes from cannot be told. Look at the map.",
            at_side(side)
        ),
        Call::Unread => format!("{what}: the photo could not be measured."),
    };
    if let Some(place) = place {
        sentence.push_str(&format!(" On this camera: {}.", place.name));
    }
    if claims {
        // Nothing is certain.
        let sure = words::plain(fog.confidence.min(0.99), 2);
        sentence.push_str(&format!(" Density {density} above the base; confidence {sure}."));
        if fog.side.is_some() && blank.lies == Lies::Unknown {
            sentence.push_str(" Which side of the camera stays open until it is said how the strip lies.");
        }
        if fog.group == Group::Front && blank.frame == Frame::Closed {
            sentence.push_str(" The cap was on: it got in beside the cap, at the mount or under the finder.");
        }
    }
    if call == Call::Unread
        && let Some(why) = blank.notes.last()
    {
        sentence.push_str(&format!(" {why}"));
    }
    Told {
        frame: blank.frame,
        call,
        side,
        place: place.map(|place| place.key),
        point: place.map(|place| place.point),
        confidence: fog.confidence,
        sentence,
    }
}

fn headline(state: State, roll: &Roll, told: &[Told], walls: &[WallTold]) -> String {
    let light = told.iter().filter(|one| matches!(one.call, Call::Light | Call::Likely)).count();
    let open = told.iter().filter(|one| matches!(one.call, Call::CannotTell | Call::Unread)).count();
    match state {
        State::NotBegun => "not yet".to_owned(),
        State::AtTheCamera => "begun, in the camera".to_owned(),
        State::Waiting => format!("exposed {}, waiting for the film", roll.exposed),
        State::Read if light > 0 => {
            format!("light on {light} of {} {}", told.len(), if told.len() == 1 { "frame" } else { "frames" })
        }
        State::Read if open > 0 => format!("cannot tell: {}", words::count(open, "frame", "frames")),
        State::Read if told.is_empty() => {
            walls.last().map_or_else(|| "read".to_owned(), |wall| format!("wall {}", wall.call.words()))
        }
        State::Read => format!("no light on {}", words::count(told.len(), "frame", "frames")),
    }
}

/// Judges a test roll. `hinge` is where this camera's is, seen from behind.
pub fn judge(roll: &Roll, kind: Kind, hinge: Side) -> Judgement {
    let state = roll.state();
    let told: Vec<Told> = roll.blanks.iter().map(|blank| told(blank, kind, hinge)).collect();
    let walls: Vec<WallTold> = roll.walls.iter().map(wall_told).collect();
    let missing = Frame::ALL
        .into_iter()
        .filter(|frame| state == State::Read && roll.blanks.iter().all(|blank| blank.frame != *frame))
        .map(|frame| format!("{}: {}", frame.words(), frame.looks_for()))
        .collect();
    Judgement { state, headline: headline(state, roll, &told, &walls), told, walls, missing }
}
