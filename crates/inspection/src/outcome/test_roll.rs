//! What a judged test roll comes to for the camera.
//!
//! Not here: how it is judged ([`crate::test_roll`]); the one word that everything comes to ([`super`]).

use super::weigh::Weighed;
use super::{Evidence, Reason, Unchecked};
use crate::catalogue;
use crate::test_roll::{Call, Judgement, State, WallCall};
use crate::words;

/// Photographing the strips \[s\] (judged, not measured).
const STRIPS_SECONDS: u32 = 300;

/// Weighs the test roll, where there is one. It need not be: a roll that was exposed and is not back yet holds nothing up.
pub(super) fn weigh(judgement: &Judgement, weighed: &mut Weighed) {
    let reason = |text: String| Reason { text, evidence: Evidence::TestRoll };
    match judgement.state {
        State::NotBegun | State::AtTheCamera => return,
        State::Waiting => {
            weighed.unchecked.push(Unchecked {
                text: format!("Test roll, {}", judgement.headline),
                evidence: Evidence::TestRoll,
                matters: false,
                seconds: STRIPS_SECONDS,
            });
            return;
        }
        State::Read => {}
    }
    for told in &judgement.told {
        match told.call {
            // A claim that stands: film is spoilt.
            Call::Light => {
                weighed.service.push(reason(format!("Test roll. {} It spoils film.", told.sentence)));
                if let Some(point) = told.point.and_then(catalogue::point) {
                    let text = format!("{}: {}", words::sentence_case(point.name), point.remedy);
                    // What the seal's own look says already is not said twice.
                    if weighed.remedies.iter().all(|remedy| remedy.text != text) {
                        weighed.remedies.push(reason(format!("Test roll: {text}")));
                    }
                }
            }
            Call::Likely | Call::CannotTell | Call::Unread => {
                weighed.open.push(reason(format!("Test roll. {}", told.sentence)));
            }
            Call::Dark => {}
        }
    }
    if !judgement.told.is_empty() && judgement.told.iter().all(|told| told.call == Call::Dark) {
        let tried: Vec<&str> = judgement.told.iter().map(|told| told.frame.words()).collect();
        weighed.remarks.push(reason(format!("Test roll: no light on the film. Tried: {}.", tried.join("; "))));
    }
    for wall in &judgement.walls {
        let text = format!("Test roll. {}", wall.sentence);
        match wall.call {
            WallCall::Even | WallCall::CannotTell => {
                weighed.remarks.push(reason(format!("{text} {}", wall.settle).trim_end().to_owned()));
            }
            // A marked time can be left out; without one there is nothing to leave out.
            WallCall::Fault if wall.mark.is_empty() => weighed.service.push(reason(text)),
            WallCall::Uneven | WallCall::Fault => {
                let left_out = if wall.mark.is_empty() { "that time".to_owned() } else { wall.mark.clone() };
                weighed.limits.push(reason(format!("{text} Leave {left_out} out where even tones matter.")));
            }
        }
        if wall.call == WallCall::Fault {
            weighed.remedies.push(reason("Test roll: have the curtains' travel set by a workshop.".to_owned()));
        }
    }
}
