//! The sentences that a take from sound may come with, each under its code.
//!
//! Not here: when each is due.

use crate::shot::Notice;

pub(super) fn nothing_there() -> Notice {
    Notice::new(
        "nothing-there",
        "No shutter was heard: hold the microphone 5 to 30 cm from the camera and fire it again.",
    )
}

pub(super) fn ambiguous() -> Notice {
    Notice::new(
        "ambiguous",
        "Several pairs of sounds fit this shot and none stands out: fire it within a series of different times, or measure it with light.",
    )
}

pub(super) fn cannot_tell() -> Notice {
    Notice::new(
        "cannot-tell",
        "No two sounds of this shot are alike enough to be the two curtains: fire it again, closer and in silence, or measure it with light.",
    )
}

/// The code of [`assumed_offset`]: what a slow time by light or video settles later.
pub const ASSUMED_OFFSET: &str = "assumed-offset";

pub(super) fn assumed_offset() -> Notice {
    Notice::new(
        ASSUMED_OFFSET,
        "The series shows how much longer each time is than the others but not where zero lies: add one slow time measured with light or video.",
    )
}

pub(super) fn series_unconfirmed() -> Notice {
    Notice::new(
        "series-unconfirmed",
        "The series gives this time, and the shot's own two loudest sounds do not bear it out: fire it again to be sure.",
    )
}

pub(super) fn not_in_series() -> Notice {
    Notice::new(
        "not-in-series",
        "The series could not place this shot; its time rests on its own sounds alone: fire it again to be sure.",
    )
}

pub(super) fn out_of_line() -> Notice {
    Notice::new(
        "out-of-line",
        "This time lies away from the line that the other shots make: fire it again, and measure it with light if it comes out the same.",
    )
}

pub(super) fn far_from_nominal() -> Notice {
    Notice::new("far-from-nominal", "This time is more than a stop off its mark: fire it again to be sure.")
}

pub(super) fn start_hidden() -> Notice {
    Notice::new(
        "start-hidden-in-stop",
        "At this time the second curtain leaves while the first arrives, and one sound may hide the other: the doubt is a millisecond.",
    )
}

pub(super) fn single_shot() -> Notice {
    Notice::new(
        "single-shot",
        "One shot by itself cannot be relied on this fast: fire a series of different times from 1/8 or 1/4 down, or measure it with light.",
    )
}

pub(super) fn blind() -> Notice {
    Notice::new(
        "marked-time-unknown",
        "The marked time is not known, so this time is only a hint: say what the dial stood at.",
    )
}

pub(super) fn too_fast() -> Notice {
    Notice::new(
        "too-fast",
        "So fast a time lies at the end of what sound can tell: take it as a hint and measure it with light.",
    )
}

pub(super) fn leaf_fast() -> Notice {
    Notice::new(
        "leaf-blades",
        "At this time a leaf shutter's blades open and close for as long as it stands open, and sound does not show how: measure it with light.",
    )
}

pub(super) fn self_timer() -> Notice {
    Notice::new(
        "self-timer",
        "Clockwork was heard and left out: with the release or a cable the shots are told more surely.",
    )
}

pub(super) fn beep() -> Notice {
    Notice::new("beep", "Beeps were heard and left out.")
}

pub(super) fn clipped() -> Notice {
    Notice::new("clipped", "The recording is clipped: move the microphone further away or turn its level down.")
}

pub(super) fn mirror() -> Notice {
    Notice::new(
        "mirror",
        "A mirror's sounds can pass for a curtain's, so these times are only hints: lock the mirror up, or measure one slow time with light or video and give it as the anchor.",
    )
}

pub(super) fn speech() -> Notice {
    Notice::new(
        "speech",
        "Much else was heard beside the shots: repeat the series in silence, without voices or music.",
    )
}

pub(super) fn low_rate() -> Notice {
    Notice::new(
        "low-rate",
        "The recording holds nothing above 8 kHz, where shutters are told apart best: record at 44.1 or 48 kHz without noise suppression.",
    )
}

pub(super) fn waveforms_do_not_repeat() -> Notice {
    Notice::new(
        "waveforms-do-not-repeat",
        "The shots do not sound alike enough to be solved together, so each stands by itself: keep microphone and camera still between shots, and switch noise suppression off.",
    )
}

pub(super) fn too_alike() -> Notice {
    Notice::new(
        "one-time-only",
        "The shots are all of nearly the same marked time, which does not show where zero lies: add shots of 1/125 or faster and of 1/8 to 1/30 to the series.",
    )
}

pub(super) fn shot_missing(places: &[usize], marked_s: &[f64]) -> Notice {
    let named: Vec<String> = places
        .iter()
        .filter_map(|&k| marked_s.get(k).map(|s| format!("number {} ({s:.4} s)", k + 1)))
        .take(8)
        .collect();
    Notice::new(
        "shot-missing",
        format!(
            "For {} of {} marked times no shot was found: {}. Fire what is missing again.",
            places.len(),
            marked_s.len(),
            named.join(", ")
        ),
    )
}

pub(super) fn shot_extra(starts_s: &[f64]) -> Notice {
    let named: Vec<String> = starts_s.iter().map(|s| format!("{s:.1} s")).take(8).collect();
    Notice::new(
        "shot-extra",
        format!(
            "More was fired than marked times were given; what fits no mark in its order lies at {}. Give it its marked time or drop it.",
            named.join(", ")
        ),
    )
}

pub(super) fn extra() -> Notice {
    Notice::new("shot-extra", "This shot fits no marked time in the order given: give it its marked time or drop it.")
}

pub(super) fn unsure_order() -> Notice {
    Notice::new(
        "order-unsure",
        "As many shots as marked times were not found, and which is which cannot be told: fire the series again.",
    )
}

pub(super) fn anchor_unused() -> Notice {
    Notice::new(
        "anchor-unused",
        "The anchor's marked time was not found in this series, so it could not be used: fire that time in the same series.",
    )
}
