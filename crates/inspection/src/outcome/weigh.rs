//! What findings and measurements come to one by one, sorted by what follows from them.
//!
//! Not here: the one word that they come to together ([`super`]).

use metrology::Call;

use super::{Evidence, Reason, Unchecked};
use crate::catalogue::{self, Point};
use crate::consistency::Consistency;
use crate::finding::{Condition, Finding};
use crate::light_tight;
use crate::meter;
use crate::remedy::DialAdvice;
use crate::shutter;
use crate::whole::Inspection;
use crate::words;

/// Seconds that checking the meter over five levels takes.
pub(crate) const METER_SECONDS: u32 = 180;
/// Seconds that firing through the dial takes.
pub(crate) const SHUTTER_SECONDS: u32 = 90;
/// Seconds that one more marked time takes.
pub(crate) const TIME_SECONDS: u32 = 10;

/// What the findings come to, sorted by what follows from them.
#[derive(Default)]
pub(super) struct Weighed {
    pub service: Vec<Reason>,
    pub limits: Vec<Reason>,
    pub remarks: Vec<Reason>,
    pub open: Vec<Reason>,
    pub remedies: Vec<Reason>,
    pub cautions: Vec<Reason>,
    pub unchecked: Vec<Unchecked>,
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

/// Light that comes out is light that comes in.
fn weigh_lamp(inspection: &Inspection, weighed: &mut Weighed) {
    if inspection.light_tight.looks.is_empty() {
        return;
    }
    let Ok(seen) = inspection.light_tight.seen(inspection.camera.kind) else { return };
    for one in light_tight::leaking(&seen) {
        let Some(point) = catalogue::point(one.place.point) else { continue };
        weighed.service.push(Reason {
            text: format!("With a lamp inside, light comes out here: {}. It spoils film.", one.place.name),
            evidence: about(point),
        });
    }
}

fn weigh_meter(inspection: &Inspection, meter: Option<&meter::Judgement>, weighed: &mut Weighed) {
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

fn weigh_shutter(inspection: &Inspection, shutter: Option<&shutter::Judgement>, weighed: &mut Weighed) {
    let reason = |text: String| Reason { text, evidence: Evidence::Shutter };
    let unchecked =
        |text: String, seconds: u32| Unchecked { text, evidence: Evidence::Shutter, matters: true, seconds };
    let Some(judgement) = shutter.filter(|judgement| !judgement.rows.is_empty()) else {
        // A camera that sets the time itself has no marks that could be fired through.
        if !inspection.camera.stepless {
            weighed.unchecked.push(unchecked("Marked times, measured".to_owned(), SHUTTER_SECONDS));
        }
        return;
    };
    if !judgement.missing.is_empty() {
        let missing: Vec<String> = judgement.missing.iter().map(|mark| mark.label()).collect();
        let seconds = TIME_SECONDS * u32::try_from(missing.len()).unwrap_or(u32::MAX / TIME_SECONDS);
        weighed.unchecked.push(unchecked(format!("Marked times {}, measured", shutter::listed(&missing)), seconds));
    }
    let open: Vec<String> =
        judgement.rows.iter().filter(|row| row.call == Call::CannotTell).map(|row| row.mark.label()).collect();
    if !open.is_empty() {
        weighed.open.push(reason(format!(
            "Shutter: it cannot be told yet whether {} {} within the tolerance. {}",
            shutter::listed(&open),
            if open.len() == 1 { "is" } else { "are" },
            judgement.settle
        )));
    }
    let outside: Vec<String> = judgement
        .outside()
        .filter_map(|row| Some(format!("{} gives {}", row.mark.label(), words::film_error(row.error?.value()))))
        .collect();
    if !outside.is_empty() {
        let known = judgement.rows.iter().filter(|row| row.call != Call::CannotTell).count();
        // Where most of the dial is off there is little left to avoid it with.
        if outside.len() * 2 > known {
            weighed.service.push(reason(format!("Shutter: {}. {}", outside.join(", "), judgement.pattern)));
        } else {
            weighed.limits.push(reason(format!("Shutter: {}. Leave these out, or allow for it.", outside.join(", "))));
        }
        let marks: Vec<String> = judgement.outside().map(|row| row.mark.label()).collect();
        let text =
            format!("Shutter: have {} set by a workshop. {}", shutter::listed(&marks), judgement.causes.join(" "));
        weighed.remedies.push(reason(text.trim_end().to_owned()));
    }
    let uneven: Vec<String> = judgement.rows.iter().filter(|row| row.is_uneven()).map(|row| row.mark.label()).collect();
    if !uneven.is_empty() {
        weighed.limits.push(reason(format!(
            "Shutter: {} the frame unevenly. Leave {} out where even tones matter.",
            if uneven.len() == 1 {
                format!("{} exposes", uneven[0])
            } else {
                format!("{} expose", shutter::listed(&uneven))
            },
            if uneven.len() == 1 { "it" } else { "them" }
        )));
    }
    if open.is_empty() && outside.is_empty() && uneven.is_empty() {
        weighed.remarks.push(reason(format!("Shutter: {}. {}", judgement.headline, judgement.pattern)));
    }
}

/// Weighs everything.
pub(super) fn all(
    inspection: &Inspection,
    meter: Option<&meter::Judgement>,
    shutter: Option<&shutter::Judgement>,
    consistency: Option<&Consistency>,
) -> Weighed {
    let mut weighed = Weighed::default();
    weigh_points(inspection, &mut weighed);
    weigh_lamp(inspection, &mut weighed);
    weigh_shutter(inspection, shutter, &mut weighed);
    weigh_meter(inspection, meter, &mut weighed);
    weigh_consistency(consistency, &mut weighed);
    weighed.unchecked.sort_by_key(|unchecked| (!unchecked.matters, unchecked.seconds));
    weighed.cautions.dedup_by(|a, b| a.text == b.text);
    weighed
}
