//! The outcome: one word for the camera, by rules that say why, each reason pointing at its evidence.
//!
//! The rules, in the order in which they are tried ([`word`]):
//! 1. *for parts* — only ever the person's own decision; offered where the costs they entered exceed the value they entered.
//! 2. *wants service* — something that spoils film, exposure or sharpness is faulty or failed and cannot be avoided, the
//!    measured meter error is outside and no setting avoids it, or most of the marked times are outside.
//! 3. *not yet known* — a point or measurement that can spoil film or exposure is unchecked, or its call is "cannot tell".
//! 4. *ready with limits* — what is off can be avoided or allowed for; the limits are spelled out.
//! 5. *ready* — everything that matters was checked and is within.
//!
//! Not here: what each finding and measurement comes to ([`weigh`]), how an error is judged ([`crate::meter`],
//! [`crate::shutter`]), what points cost ([`crate::catalogue`]).

mod aperture;
mod film;
mod next;
mod test_roll;
mod weigh;

use crate::aperture::Judgement as Aperture;
use crate::catalogue::Area;
use crate::consistency::Consistency;
use crate::film_error::FilmGets;
use crate::meter::Judgement;
use crate::shutter;
use crate::test_roll::Judgement as Roll;
use crate::whole::Inspection;
use crate::words;
use weigh::Weighed;
pub(crate) use weigh::{METER_SECONDS, SHUTTER_SECONDS, TIME_SECONDS};

/// The one word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Word {
    /// Everything that matters was checked and is within.
    Ready,
    /// What is off can be avoided or allowed for.
    ReadyWithLimits,
    /// Something that matters must be mended.
    WantsService,
    /// The person's own decision.
    ForParts,
    /// Something that matters was not checked.
    NotYetKnown,
}

impl Word {
    /// Every word, the best first.
    pub const ALL: [Word; 5] =
        [Word::Ready, Word::ReadyWithLimits, Word::WantsService, Word::ForParts, Word::NotYetKnown];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Word::Ready => "ready",
            Word::ReadyWithLimits => "ready_with_limits",
            Word::WantsService => "wants_service",
            Word::ForParts => "for_parts",
            Word::NotYetKnown => "not_yet_known",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            Word::Ready => "ready",
            Word::ReadyWithLimits => "ready with limits",
            Word::WantsService => "wants service",
            Word::ForParts => "for parts",
            Word::NotYetKnown => "not yet known",
        }
    }
}

/// What a reason points at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Evidence {
    /// A point of the catalogue.
    Point(&'static str, Area),
    /// The meter run.
    Meter,
    /// The marked times.
    Shutter,
    /// The openings at the marked f-numbers.
    Aperture,
    /// What film gets, of shutter, aperture and meter together.
    Film,
    /// The light that the lens scatters.
    Glare,
    /// The consistency check.
    Consistency,
    /// The test roll.
    TestRoll,
    /// The costs that were entered.
    Costs,
}

/// A sentence and its evidence.
#[derive(Clone, Debug, PartialEq)]
pub struct Reason {
    /// The sentence.
    pub text: String,
    /// What it points at.
    pub evidence: Evidence,
}

/// Something that was not checked.
#[derive(Clone, Debug, PartialEq)]
pub struct Unchecked {
    /// What to look at, in a few words.
    pub text: String,
    /// Where.
    pub evidence: Evidence,
    /// Whether it can spoil film or exposure.
    pub matters: bool,
    /// What it takes [s].
    pub seconds: u32,
}

/// The outcome with everything that led to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The word.
    pub word: Word,
    /// One sentence: why this word.
    pub sentence: String,
    /// Why, each pointing at its evidence.
    pub reasons: Vec<Reason>,
    /// What can be avoided or allowed for.
    pub limits: Vec<Reason>,
    /// What was seen and changes nothing.
    pub remarks: Vec<Reason>,
    /// What was not looked at: what matters first, then the cheapest.
    pub unchecked: Vec<Unchecked>,
    /// The quickest thing left that could change the word; `None` where nothing left could.
    pub next: Option<Unchecked>,
    /// What would settle the word and how long it takes, or empty.
    pub settle: String,
    /// What to do.
    pub remedies: Vec<Reason>,
    /// Cautions for what was found.
    pub cautions: Vec<Reason>,
    /// Whether *for parts* may be chosen.
    pub for_parts_offered: bool,
}

/// The word, by the rules at the head of this file.
fn word(for_parts: bool, weighed: &Weighed) -> Word {
    let something_open = !weighed.open.is_empty() || weighed.unchecked.iter().any(|unchecked| unchecked.matters);
    if for_parts {
        Word::ForParts
    } else if !weighed.service.is_empty() {
        Word::WantsService
    } else if something_open {
        Word::NotYetKnown
    } else if !weighed.limits.is_empty() {
        Word::ReadyWithLimits
    } else {
        Word::Ready
    }
}

fn minutes(seconds: u32) -> String {
    let minutes = seconds.div_ceil(60);
    words::count(minutes as usize, "minute", "minutes")
}

fn sentence(word: Word, weighed: &Weighed, rest: usize) -> String {
    let matters: Vec<&Unchecked> = weighed.unchecked.iter().filter(|unchecked| unchecked.matters).collect();
    let seconds: u32 = matters.iter().map(|unchecked| unchecked.seconds).sum();
    match word {
        Word::ForParts => "Your own decision.".to_owned(),
        Word::WantsService => format!(
            "{} must be mended before film is spent on it.",
            words::sentence_case(&words::count(weighed.service.len(), "thing", "things"))
        ),
        Word::NotYetKnown if matters.is_empty() => "A measurement does not settle it yet.".to_owned(),
        Word::NotYetKnown => format!(
            "{} that can spoil film or exposure {} not checked yet: about {} of looking.",
            words::sentence_case(&words::count(matters.len(), "thing", "things")),
            if matters.len() == 1 { "is" } else { "are" },
            minutes(seconds)
        ),
        Word::ReadyWithLimits => format!(
            "Everything that matters was checked; {} to be allowed for.",
            words::count(weighed.limits.len(), "thing is", "things are")
        ),
        Word::Ready if rest > 0 => format!(
            "Everything that can spoil film or exposure was checked and is within; {} not looked at.",
            words::count(rest, "smaller point was", "smaller points were")
        ),
        Word::Ready => "Everything was checked and is within.".to_owned(),
    }
}

/// The outcome of an inspection with its judged measurements.
pub fn of(
    inspection: &Inspection,
    meter: Option<&Judgement>,
    shutter: Option<&shutter::Judgement>,
    consistency: Option<&Consistency>,
    aperture: Option<&Aperture>,
    film: &FilmGets,
    roll: &Roll,
) -> Outcome {
    let mut weighed = weigh::all(inspection, meter, shutter, consistency);
    aperture::weigh(aperture, &mut weighed);
    film::weigh(film, &mut weighed);
    test_roll::weigh(roll, &mut weighed);
    let costs = &inspection.costs;
    let for_parts_offered = matches!((costs.value, costs.mending), (Some(value), Some(mending)) if mending > value);
    // The decision stands only while the figures that it was offered for do.
    let word = word(costs.for_parts && for_parts_offered, &weighed);
    let rest = weighed.unchecked.iter().filter(|unchecked| !unchecked.matters).count();
    let sentence = sentence(word, &weighed, rest);

    let mut reasons = Vec::new();
    if word == Word::ForParts {
        reasons.push(Reason {
            text: "Mending costs more than the camera is worth, by the figures entered.".to_owned(),
            evidence: Evidence::Costs,
        });
    }
    reasons.extend(weighed.service.iter().cloned());
    reasons.extend(weighed.open.iter().cloned());
    if word == Word::NotYetKnown {
        reasons.extend(weighed.unchecked.iter().filter(|unchecked| unchecked.matters).map(|unchecked| Reason {
            text: format!("Not checked: {}.", words::lower_first(&unchecked.text)),
            evidence: unchecked.evidence,
        }));
    }
    if matches!(word, Word::ReadyWithLimits) {
        reasons.extend(weighed.limits.iter().cloned());
    }
    if word == Word::Ready {
        reasons.extend(
            weighed
                .remarks
                .iter()
                .filter(|remark| matches!(remark.evidence, Evidence::Meter | Evidence::Shutter | Evidence::Aperture))
                .cloned(),
        );
    }
    let (next, settle) = (next::quickest(word, &weighed), next::settle(word, &weighed));
    Outcome {
        word,
        sentence,
        reasons,
        limits: weighed.limits,
        remarks: weighed.remarks,
        unchecked: weighed.unchecked,
        next,
        settle,
        remedies: weighed.remedies,
        cautions: weighed.cautions,
        for_parts_offered,
    }
}

#[cfg(test)]
mod tests;
