//! The careful look at what keeps the light out, seal by seal, and what a lamp inside shows: the risk of each seal, what to
//! replace, and the condition of the catalogue's points that follows.
//!
//! Common practice throughout: a seal that is old but neither sticky nor crumbling, and has left nothing on the edge it presses
//! on, still works. Not here: where a place lies ([`crate::drawing::back`]), what the points' conditions come to
//! ([`crate::outcome`]).

use crate::camera::Kind;
use crate::drawing::back::{self, BackMark, Place, Side};
use crate::error::Error;
use crate::finding::Condition;
use crate::words;

/// What a seal feels like under a finger or a wooden stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feel {
    /// Gives way and comes back.
    Springy,
    /// Pressed flat, dry, does not come back.
    Flat,
    /// Sticks to the finger.
    Sticky,
    /// Comes off in crumbs.
    Crumbling,
    /// Is not there any more.
    Gone,
    /// The camera never had one here.
    NotFitted,
}

impl Feel {
    /// Every feel, in the order in which they are offered.
    pub const ALL: [Feel; 6] = [Feel::Springy, Feel::Flat, Feel::Sticky, Feel::Crumbling, Feel::Gone, Feel::NotFitted];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Feel::Springy => "springy",
            Feel::Flat => "flat",
            Feel::Sticky => "sticky",
            Feel::Crumbling => "crumbling",
            Feel::Gone => "gone",
            Feel::NotFitted => "not_fitted",
        }
    }

    /// The word at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Feel::NotFitted => "never had one",
            _ => self.key(),
        }
    }

    /// A line that helps to choose.
    pub const fn help(self) -> &'static str {
        match self {
            Feel::Springy => "comes back",
            Feel::Flat => "dry, stays down",
            Feel::Sticky => "pulls at the finger",
            Feel::Crumbling => "comes off in bits",
            Feel::Gone => "nothing left",
            Feel::NotFitted => "a light trap of metal",
        }
    }

    /// The feel with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|feel| feel.key() == key)
    }
}

/// What is left on the edge that a seal presses on, the least first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Residue {
    /// Clean metal.
    None,
    /// Dry dust that wipes off.
    Dust,
    /// A sticky line.
    Smear,
    /// Strings when the door is opened.
    Strings,
}

impl Residue {
    /// Every residue, in the order in which they are offered.
    pub const ALL: [Residue; 4] = [Residue::None, Residue::Dust, Residue::Smear, Residue::Strings];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Residue::None => "none",
            Residue::Dust => "dust",
            Residue::Smear => "smear",
            Residue::Strings => "strings",
        }
    }

    /// The word at the bench.
    pub const fn words(self) -> &'static str {
        self.key()
    }

    /// A line that helps to choose.
    pub const fn help(self) -> &'static str {
        match self {
            Residue::None => "clean metal",
            Residue::Dust => "dry, wipes off",
            Residue::Smear => "a sticky line",
            Residue::Strings => "threads as it opens",
        }
    }

    /// The residue with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|residue| residue.key() == key)
    }
}

/// What was seen in the dark with a lamp behind a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lamp {
    /// Nothing, after two minutes in the dark.
    Dark,
    /// Light comes out here.
    Light,
}

impl Lamp {
    /// Both.
    pub const ALL: [Lamp; 2] = [Lamp::Dark, Lamp::Light];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Lamp::Dark => "dark",
            Lamp::Light => "light",
        }
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Lamp::Dark => "stays dark",
            Lamp::Light => "light comes out here",
        }
    }

    /// What was seen, by its key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|lamp| lamp.key() == key)
    }
}

/// What was found at one place.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Look {
    /// Key of the place, see [`back::places`].
    pub place: String,
    /// What it feels like.
    pub feel: Option<Feel>,
    /// What is left on the edge.
    pub residue: Option<Residue>,
    /// What the lamp showed.
    pub lamp: Option<Lamp>,
    /// Length that is to be covered, as the person measured it \[mm\].
    pub length_mm: Option<f64>,
    /// Depth of the channel or gap, as the person measured it \[mm\].
    pub thickness_mm: Option<f64>,
}

/// Longest seal \[mm\].
pub const LENGTH_MM: f64 = 2000.0;
/// Thickest seal \[mm\].
pub const THICKNESS_MM: f64 = 50.0;

/// Everything that was looked at.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Check {
    /// Where the hinge is, seen from behind; `None` for the usual side.
    pub hinge: Option<Side>,
    /// Place by place; the last of one place counts.
    pub looks: Vec<Look>,
}

/// The caution before old foam is washed off.
pub const SOLVENT_CAUTION: &str = "Isopropyl alcohol for the residue takes fire from 12 °C on: no flame, no charged flash nearby, fresh air. Keep it and the \
     crumbs away from curtains, screen, mirror, plastic windows and paint. (Safety data sheets of isopropyl alcohol; common \
     practice.)";

/// Points that have foam, felt or velvet to be pressed.
const PRESSED: [&str; 7] = [
    "channel-seals",
    "hinge-seal",
    "latch-seal",
    "film-window-foam",
    "cassette-foam",
    "mirror-damper",
    "holder-light-trap",
];
/// Points that the lamp alone can tell.
const BY_LAMP: [&str; 2] = ["bellows-pinholes", "lens-board"];
/// The point about what is left on the edges.
const EDGES: &str = "edge-residue";
/// Points whose seals press on an edge of the door.
const ON_EDGES: [&str; 3] = ["channel-seals", "hinge-seal", "latch-seal"];

/// Whether there is something to be pressed at a place.
pub fn is_pressed(place: &Place) -> bool {
    PRESSED.contains(&place.point)
}

/// Whether light can be looked for at a place with the lamp behind it. A pressure plate and a damper let nothing out.
pub fn shows_light(place: &Place) -> bool {
    !matches!(place.key, "pressure-plate" | "mirror-damper" | "cassette")
}

fn worse(a: Condition, b: Condition) -> Condition {
    const fn rank(condition: Condition) -> u8 {
        match condition {
            Condition::NotFitted => 0,
            Condition::NotChecked => 1,
            Condition::Sound => 2,
            Condition::Worn => 3,
            Condition::Faulty => 4,
            Condition::Failed => 5,
        }
    }
    if rank(b) > rank(a) { b } else { a }
}

impl Look {
    fn at(place: &Place) -> Self {
        Self { place: place.key.to_owned(), ..Self::default() }
    }

    /// The condition by what is felt and what is left on the edge; without a feel nobody looked.
    fn felt(&self) -> Condition {
        let residue = self.residue.unwrap_or(Residue::None);
        match self.feel {
            None => Condition::NotChecked,
            Some(Feel::NotFitted) => Condition::NotFitted,
            Some(Feel::Gone) => Condition::Failed,
            Some(Feel::Sticky) if residue == Residue::Strings => Condition::Failed,
            Some(Feel::Sticky | Feel::Crumbling) => Condition::Faulty,
            Some(Feel::Flat | Feel::Springy) if residue >= Residue::Smear => Condition::Faulty,
            Some(Feel::Flat) => Condition::Worn,
            Some(Feel::Springy) if residue == Residue::Dust => Condition::Worn,
            Some(Feel::Springy) => Condition::Sound,
        }
    }

    /// The condition of this place. The lamp changes nothing in what a seal feels like: light that comes out is a reason of its
    /// own, and darkness makes no bad seal good, for it still sheds.
    pub fn condition(&self, place: &Place) -> Condition {
        if is_pressed(place) {
            self.felt()
        } else if BY_LAMP.contains(&place.point) {
            match self.lamp {
                Some(Lamp::Light) => Condition::Faulty,
                // Supple corners and a tight seat are more than darkness.
                Some(Lamp::Dark) if place.point == "bellows-pinholes" => Condition::Sound,
                _ => Condition::NotChecked,
            }
        } else {
            Condition::NotChecked
        }
    }

    /// The risk in a sentence, empty where nobody looked.
    pub fn risk(&self, place: &Place) -> String {
        let lit = self.lamp == Some(Lamp::Light);
        if !is_pressed(place) {
            return match self.lamp {
                Some(Lamp::Light) => "Light comes out here.".to_owned(),
                Some(Lamp::Dark) => "Nothing seen by eye after two minutes; film sees more.".to_owned(),
                None => String::new(),
            };
        }
        let residue = self.residue.unwrap_or(Residue::None);
        let text = match self.feel {
            None if lit => return "Light comes out here.".to_owned(),
            None => return String::new(),
            Some(Feel::NotFitted) => "Nothing to wear out here.",
            Some(Feel::Gone) => "Gone: light can come in; film shows it.",
            Some(Feel::Sticky) if residue == Residue::Strings => {
                "Turned to tar: it pulls threads into the camera and tears when the door is opened."
            }
            Some(Feel::Sticky) => "Sticky: it gives way where it sticks, and what comes off reaches shutter and film.",
            Some(Feel::Crumbling) => "Crumbling: gaps will open, and crumbs reach shutter and film.",
            Some(Feel::Flat | Feel::Springy) if residue >= Residue::Smear => {
                "It leaves a sticky line although it looks whole: it has begun to turn, and sheds."
            }
            Some(Feel::Flat) if residue == Residue::Dust => {
                "Old and dry, and it has begun to dust: works for now, replace it before it crumbles."
            }
            Some(Feel::Flat) => "Old but dry, no transfer: works, will not last.",
            Some(Feel::Springy) if residue == Residue::Dust => {
                "Springy, but something dusts the edge: wipe it and look again after a few films."
            }
            Some(Feel::Springy) => "Springy and clean: works.",
        };
        if lit { format!("{text} Light comes out here.") } else { text.to_owned() }
    }

    /// What to fit in its stead, by the person's own measure; empty where nothing is to be replaced.
    pub fn replace(&self, place: &Place) -> String {
        if !is_pressed(place) || !self.condition(place).is_bad() {
            return String::new();
        }
        let stuff = match place.point {
            "hinge-seal" => "felt, or foam",
            "holder-light-trap" => "velvet or felt",
            _ => "foam of closed skin, or felt where the gap is narrow",
        };
        let number = |value: f64| {
            let text = metrology::to_decimals(value, 1);
            text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
        };
        let size = match (self.length_mm, self.thickness_mm) {
            (Some(length), Some(thick)) => format!("{} mm long, {} mm thick", number(length), number(thick)),
            (Some(length), None) => format!("{} mm long; measure how deep the channel or gap is", number(length)),
            (None, Some(thick)) => format!("{} mm thick; measure how long it has to be", number(thick)),
            (None, None) => "measure length and depth before cutting".to_owned(),
        };
        format!("{}: {stuff}, {size}.", words::sentence_case(place.name))
    }
}

/// One place with what is said of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// The place.
    pub place: Place,
    /// What was entered.
    pub look: Look,
    /// The condition that follows.
    pub condition: Condition,
}

impl Seen {
    /// [`Look::risk`] at this place.
    pub fn risk(&self) -> String {
        self.look.risk(&self.place)
    }

    /// [`Look::replace`] at this place.
    pub fn replace(&self) -> String {
        self.look.replace(&self.place)
    }
}

impl Check {
    /// The hinge that counts.
    pub fn hinge_of(&self, kind: Kind) -> Side {
        self.hinge
            .filter(|side| back::hinge_sides(kind).contains(side))
            .or(back::usual_hinge(kind))
            .unwrap_or(Side::Right)
    }

    /// Every place of such a camera with what was found there.
    ///
    /// **Errors** where a measure is not above 0 mm and within [`LENGTH_MM`] or [`THICKNESS_MM`].
    pub fn seen(&self, kind: Kind) -> Result<Vec<Seen>, Error> {
        back::places(kind, self.hinge_of(kind))
            .into_iter()
            .map(|place| {
                let look = self.looks.iter().rev().find(|look| look.place == place.key);
                let look = look.cloned().unwrap_or_else(|| Look::at(&place));
                for (measure, most, what) in
                    [(look.length_mm, LENGTH_MM, "length"), (look.thickness_mm, THICKNESS_MM, "thickness")]
                {
                    if let Some(mm) = measure.filter(|mm| !(*mm > 0.0 && *mm <= most)) {
                        return Err(Error::new(format!(
                            "the {what} of the {} must be above 0 mm and at most {most} mm, and {mm} was given",
                            place.name
                        )));
                    }
                }
                Ok(Seen { condition: look.condition(&place), place, look })
            })
            .collect()
    }
}

/// The conditions of the catalogue's points that follow from the look; a point of which a place was not looked at follows only
/// where another place of it is bad already.
pub fn derived(seen: &[Seen]) -> Vec<(&'static str, Condition)> {
    let mut points: Vec<&'static str> = Vec::new();
    for one in seen {
        if (is_pressed(&one.place) || BY_LAMP.contains(&one.place.point)) && !points.contains(&one.place.point) {
            points.push(one.place.point);
        }
    }
    let mut conditions: Vec<(&'static str, Condition)> = points
        .into_iter()
        .filter_map(|point| {
            let of = || seen.iter().filter(|one| one.place.point == point);
            let worst = of().map(|one| one.condition).reduce(worse)?;
            let whole = of().all(|one| one.condition.is_checked());
            (worst.is_bad() || (whole && worst.is_checked())).then_some((point, worst))
        })
        .collect();
    let edges: Vec<&Seen> = seen
        .iter()
        .filter(|one| ON_EDGES.contains(&one.place.point) && one.look.feel != Some(Feel::NotFitted))
        .collect();
    if let Some(most) = edges.iter().filter_map(|one| one.look.residue).max() {
        let condition = match most {
            Residue::None => Condition::Sound,
            Residue::Dust => Condition::Worn,
            Residue::Smear => Condition::Faulty,
            Residue::Strings => Condition::Failed,
        };
        if condition.is_bad() || edges.iter().all(|one| one.look.residue.is_some()) {
            conditions.push((EDGES, condition));
        }
    }
    conditions
}

/// Where light comes out and no condition of a point says so already.
pub fn leaking(seen: &[Seen]) -> impl Iterator<Item = &Seen> {
    seen.iter().filter(|one| one.look.lamp == Some(Lamp::Light) && !BY_LAMP.contains(&one.place.point))
}

/// What was found, for the drawing of the open back.
pub fn marks(seen: &[Seen]) -> Vec<(&'static str, BackMark)> {
    let mut marks = Vec::new();
    for one in seen {
        if one.condition.is_checked() {
            marks.push((one.place.key, BackMark::Found(one.condition)));
        }
        if one.look.lamp == Some(Lamp::Light) {
            marks.push((one.place.key, BackMark::LightOut));
        }
    }
    marks
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(looks: &[(&str, Feel, Residue)]) -> Check {
        let looks = looks
            .iter()
            .map(|(place, feel, residue)| Look {
                place: (*place).to_owned(),
                feel: Some(*feel),
                residue: Some(*residue),
                ..Look::default()
            })
            .collect();
        Check { hinge: None, looks }
    }

    fn conditions(check: &Check) -> Vec<(&'static str, Condition)> {
        derived(&check.seen(Kind::Rangefinder).expect("seen"))
    }

    #[test]
    fn old_but_dry_works_and_will_not_last() {
        let check = check(&[("hinge-seal", Feel::Flat, Residue::None)]);
        let seen = check.seen(Kind::Rangefinder).expect("seen");
        let hinge = seen.iter().find(|one| one.place.key == "hinge-seal").expect("a hinge seal");
        assert_eq!(hinge.condition, Condition::Worn);
        assert!(hinge.risk().contains("works, will not last") && hinge.replace().is_empty());
        assert_eq!(derived(&seen), [("hinge-seal", Condition::Worn)]);
    }

    #[test]
    fn a_point_of_two_places_waits_for_both_unless_one_is_bad() {
        assert!(conditions(&check(&[("channel-top", Feel::Springy, Residue::None)])).is_empty());
        let bad = conditions(&check(&[("channel-top", Feel::Crumbling, Residue::None)]));
        assert_eq!(bad, [("channel-seals", Condition::Faulty)]);
        let both =
            check(&[("channel-top", Feel::Springy, Residue::None), ("channel-bottom", Feel::Flat, Residue::None)]);
        assert_eq!(conditions(&both), [("channel-seals", Condition::Worn)]);
    }

    #[test]
    fn residue_on_any_edge_counts_for_the_edges() {
        let found = conditions(&check(&[("latch-seal", Feel::Sticky, Residue::Strings)]));
        assert_eq!(found, [("latch-seal", Condition::Failed), ("edge-residue", Condition::Failed)]);
    }

    #[test]
    fn the_lamp_changes_nothing_in_what_a_seal_feels_like() {
        for lamp in Lamp::ALL {
            let mut one = check(&[("hinge-seal", Feel::Crumbling, Residue::None)]);
            one.looks[0].lamp = Some(lamp);
            assert_eq!(conditions(&one), [("hinge-seal", Condition::Faulty)]);
        }
        let mut one = check(&[("hinge-seal", Feel::Springy, Residue::None)]);
        one.looks[0].lamp = Some(Lamp::Light);
        assert_eq!(conditions(&one), [("hinge-seal", Condition::Sound)]);
        let seen = one.seen(Kind::Rangefinder).expect("seen");
        assert_eq!(leaking(&seen).map(|one| one.place.key).collect::<Vec<_>>(), ["hinge-seal"]);
    }

    #[test]
    fn bellows_are_told_by_the_lamp() {
        let lit = |lamp| {
            let look = Look { place: "bellows".to_owned(), lamp: Some(lamp), ..Look::default() };
            derived(&Check { hinge: None, looks: vec![look] }.seen(Kind::LargeFormat).expect("seen"))
        };
        assert_eq!(lit(Lamp::Light), [("bellows-pinholes", Condition::Faulty)]);
        assert_eq!(lit(Lamp::Dark), [("bellows-pinholes", Condition::Sound)]);
    }

    #[test]
    fn what_to_fit_is_by_the_persons_own_measure() {
        let mut one = check(&[("channel-top", Feel::Sticky, Residue::Smear)]);
        one.looks[0].length_mm = Some(118.0);
        one.looks[0].thickness_mm = Some(1.5);
        let seen = one.seen(Kind::Rangefinder).expect("seen");
        assert!(seen[0].replace().contains("118 mm long, 1.5 mm thick"), "{}", seen[0].replace());
        one.looks[0].thickness_mm = Some(-1.0);
        assert!(one.seen(Kind::Rangefinder).expect_err("refused").to_string().contains("door channel, top"));
    }

    proptest! {
        #[test]
        fn more_residue_never_makes_it_better(feel in 0_usize..5, residue in 0_usize..3) {
            let place = back::places(Kind::Rangefinder, Side::Right)[0];
            let of = |residue| Look { feel: Some(Feel::ALL[feel]), residue: Some(Residue::ALL[residue]), ..Look::at(&place) };
            let (less, more) = (of(residue).condition(&place), of(residue + 1).condition(&place));
            prop_assert_eq!(worse(less, more), more);
        }
    }
}
