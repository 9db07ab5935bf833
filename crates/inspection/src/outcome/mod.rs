//! The outcome: one word for the camera, by rules that say why, each reason pointing at its evidence.
//!
//! The rules, in the order in which they are tried ([`word`]):
//! 1. *for parts* — only ever the person's own decision; offered where the costs they entered exceed the value they entered.
//! 2. *wants service* — something that spoils film, exposure or sharpness is faulty or failed and cannot be avoided, or the
//!    measured meter error is outside and no setting avoids it.
//! 3. *not yet known* — a point or measurement that can spoil film or exposure is unchecked, or its call is "cannot tell".
//! 4. *ready with limits* — what is off can be avoided or allowed for; the limits are spelled out.
//! 5. *ready* — everything that matters was checked and is within.
//!
//! Not here: how an error is judged ([`crate::meter`]), what points cost ([`crate::catalogue`]).

use metrology::{Call, Estimate};

use crate::catalogue::{self, Area, Point};
use crate::consistency::Consistency;
use crate::finding::{Condition, Finding};
use crate::meter::Judgement;
use crate::remedy::DialAdvice;
use crate::whole::Inspection;
use crate::words;

/// Seconds that checking the meter over five levels takes.
const METER_SECONDS: u32 = 180;

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
    /// The consistency check.
    Consistency,
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

/// What film gets in metered use at one light.
#[derive(Clone, Debug, PartialEq)]
pub struct FilmError {
    /// The light [EV at ISO 100].
    pub reference_ev100: f64,
    /// Film error [stops], + is over-exposed.
    pub error: Estimate,
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
    /// What film gets in metered use.
    pub film_error: Vec<FilmError>,
    /// What to do.
    pub remedies: Vec<Reason>,
    /// Cautions for what was found.
    pub cautions: Vec<Reason>,
    /// Whether *for parts* may be chosen.
    pub for_parts_offered: bool,
}

/// What the findings come to, sorted by what follows from them.
#[derive(Default)]
struct Weighed {
    service: Vec<Reason>,
    limits: Vec<Reason>,
    remarks: Vec<Reason>,
    open: Vec<Reason>,
    remedies: Vec<Reason>,
    cautions: Vec<Reason>,
    unchecked: Vec<Unchecked>,
}

fn about(point: &'static Point) -> Evidence {
    Evidence::Point(point.key, point.area)
}

/// `Hinge seal: faulty, sticky and sheds. “left a black line”`
fn said(finding: &Finding) -> String {
    let looks = match finding.condition {
        Condition::Worn => finding.point.looks[1],
        Condition::Faulty => finding.point.looks[2],
        Condition::Failed => finding.point.looks[3],
        _ => finding.point.looks[0],
    };
    let mut text = format!("{}: {} ({looks})", words::sentence_case(finding.point.name), finding.condition.words());
    text.push('.');
    if !finding.note.trim().is_empty() {
        text.push_str(&format!(" “{}”", finding.note.trim()));
    }
    text
}

fn weigh_points(inspection: &Inspection, weighed: &mut Weighed) {
    for point in catalogue::points_of(&inspection.camera) {
        let Some(finding) = inspection.finding(point).filter(|finding| finding.condition.is_checked()) else {
            weighed.unchecked.push(Unchecked {
                text: words::sentence_case(point.name),
                evidence: about(point),
                matters: point.costs.matters(),
                seconds: point.seconds,
            });
            continue;
        };
        let reason = |text: String| Reason { text, evidence: about(point) };
        match finding.condition {
            Condition::Worn => weighed.remarks.push(reason(said(finding))),
            condition if condition.is_bad() => {
                if point.costs.wants_service() && point.avoid.is_empty() {
                    weighed.service.push(reason(format!("{} It {}.", said(finding), point.costs.words())));
                } else if !point.avoid.is_empty() {
                    weighed.limits.push(reason(format!("{} {}", said(finding), point.avoid)));
                } else if point.costs == catalogue::Costs::Handling {
                    weighed.limits.push(reason(format!("{} It makes the camera awkward to use.", said(finding))));
                } else {
                    weighed.remarks.push(reason(said(finding)));
                }
                weighed.remedies.push(reason(format!("{}: {}", words::sentence_case(point.name), point.remedy)));
                if !point.caution.is_empty() {
                    weighed.cautions.push(reason(point.caution.to_owned()));
                }
            }
            _ => {}
        }
    }
}

fn weigh_meter(inspection: &Inspection, meter: Option<&Judgement>, weighed: &mut Weighed) {
    if !inspection.camera.has_meter() {
        return;
    }
    let reason = |text: String| Reason { text, evidence: Evidence::Meter };
    let Some(judgement) = meter else {
        weighed.unchecked.push(Unchecked {
            text: "Meter readings against a reference".to_owned(),
            evidence: Evidence::Meter,
            matters: true,
            seconds: METER_SECONDS,
        });
        return;
    };
    let measured = format!("Meter: {}, {}.", judgement.headline(), judgement.headline_doubt());
    match judgement.call {
        Call::Within => weighed.remarks.push(reason(format!("{measured} Within {}.", judgement.call_reason()))),
        Call::CannotTell => weighed.open.push(reason(format!(
            "{measured} It cannot be told yet whether it is within ±{} stop. {}",
            words::fraction(judgement.tolerance.value()),
            judgement.settle
        ))),
        Call::Outside => match &judgement.remedy {
            DialAdvice::Set(setting) => weighed.limits.push(reason(format!(
                "{measured} {} {} {}",
                judgement.pattern,
                setting.text(),
                setting.left_text()
            ))),
            DialAdvice::None(why) => {
                let text = format!("{measured} {} Outside {}. {why}", judgement.pattern, judgement.call_reason());
                weighed.service.push(reason(text.trim_end().to_owned()));
                weighed.remedies.push(reason(format!("Meter: {}", judgement.causes.join(" ")).trim_end().to_owned()));
            }
        },
    }
    if let DialAdvice::Set(setting) = &judgement.remedy {
        weighed.remedies.push(reason(format!("Meter: {} {}", setting.text(), setting.left_text())));
    }
}

fn weigh_consistency(consistency: Option<&Consistency>, weighed: &mut Weighed) {
    let Some(consistency) = consistency else { return };
    for effect in consistency.effects.iter().filter(|effect| effect.beyond_doubt) {
        weighed.limits.push(Reason {
            text: format!("Dials: {}. Allow for it in metered use, or use another mark.", effect.words()),
            evidence: Evidence::Consistency,
        });
    }
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
pub fn of(inspection: &Inspection, meter: Option<&Judgement>, consistency: Option<&Consistency>) -> Outcome {
    let mut weighed = Weighed::default();
    weigh_points(inspection, &mut weighed);
    weigh_meter(inspection, meter, &mut weighed);
    weigh_consistency(consistency, &mut weighed);
    weighed.unchecked.sort_by_key(|unchecked| (!unchecked.matters, unchecked.seconds));
    weighed.cautions.dedup_by(|a, b| a.text == b.text);

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
            text: format!("Not checked: {}.", lower_first(&unchecked.text)),
            evidence: unchecked.evidence,
        }));
    }
    if matches!(word, Word::ReadyWithLimits) {
        reasons.extend(weighed.limits.iter().cloned());
    }
    if word == Word::Ready {
        reasons.extend(weighed.remarks.iter().filter(|remark| remark.evidence == Evidence::Meter).cloned());
    }
    let film_error = meter
        .map(|judgement| {
            judgement
                .levels
                .iter()
                .filter_map(|level| {
                    let fitted = level.fitted;
                    Estimate::new(-fitted.value(), fitted.standard_uncertainty(), fitted.degrees_of_freedom())
                        .ok()
                        .map(|error| FilmError { reference_ev100: level.reference.value(), error })
                })
                .collect()
        })
        .unwrap_or_default();
    Outcome {
        word,
        sentence,
        reasons,
        limits: weighed.limits,
        remarks: weighed.remarks,
        unchecked: weighed.unchecked,
        film_error,
        remedies: weighed.remedies,
        cautions: weighed.cautions,
        for_parts_offered,
    }
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests;
