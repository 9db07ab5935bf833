//! The sentences of the light trace, one function each, so that a code and its words stand together.
//!
//! Not here: when they are said ([`super::verdict`], [`super::channels`]).

use crate::shot::Notice;

pub(super) fn nothing_there() -> Notice {
    Notice::new(
        "nothing-there",
        "No pulse of light was found: check that the sensor is behind the shutter, that the lamp is on, and that the level moves when the shutter is held open.",
    )
}

pub(super) fn no_light_trace() -> Notice {
    Notice::new(
        "nothing-there",
        "The signal moves, but not as light behind a shutter does: check that this is the sensor's input and not a microphone.",
    )
}

pub(super) fn clipped() -> Notice {
    Notice::new(
        "clipped",
        "The signal was cut off at the top, which makes a pulse look longer than it was: turn the input down until the peak is below half of full scale, and fire again.",
    )
}

pub(super) fn pulsed_lamp() -> Notice {
    Notice::new(
        "pulsed-lamp",
        "The lamp itself goes on and off while the shutter is open: use daylight or a battery torch that is not dimmed, and fire again.",
    )
}

pub(super) fn came_twice() -> Notice {
    Notice::new(
        "pulsed-lamp",
        "The light went and came back within one release: the lamp goes on and off, or the shutter opened twice. Use a steady lamp and fire again.",
    )
}

pub(super) fn flicker(ripple: f64, refused: bool) -> Notice {
    let percent = ripple * 100.0;
    Notice::new(
        "flicker",
        if refused {
            format!(
                "The lamp swings by {percent:.0} % with the mains, too much for this time: use daylight or a battery torch."
            )
        } else {
            format!(
                "The lamp swings by {percent:.0} % with the mains, which widens the doubt: daylight or a battery torch is better."
            )
        },
    )
}

pub(super) fn not_fully_open_flickering() -> Notice {
    Notice::new(
        "not-fully-open-under-a-flickering-lamp",
        "The pulse does not reach the open level, and under a lamp that flickers nobody can tell whether the slit or the lamp is the cause: use daylight or a battery torch.",
    )
}

pub(super) fn no_open_level(refused: bool) -> Notice {
    Notice::new(
        "no-open-level",
        if refused {
            "Nothing in this recording shows the sensor fully open: fire a slower time, 1/15 to 1/2, in the same recording."
        } else {
            "Nothing slower in this recording confirms that the sensor was fully open; the time holds if its window is narrower than the slit. A shot of 1/15 to 1/2 in the same recording would settle it."
        },
    )
}

pub(super) fn no_plateau() -> Notice {
    Notice::new(
        "no-plateau",
        "The light has no flat top here and no other shot gives the open level: fire a slower time, 1/15 to 1/2, in the same recording.",
    )
}

pub(super) fn slit_narrower(part: f64) -> Notice {
    Notice::new(
        "slit-narrower-than-sensor",
        format!(
            "The slit is narrower than the sensor's window (the light reaches {:.0} % of the open level); the time is the area over the open level of the slower shots. A narrower mask makes it surer.",
            part * 100.0
        ),
    )
}

pub(super) fn half_width(half_s: f64, time_s: f64, why: &str) -> Notice {
    let percent = (half_s / time_s - 1.0) * 100.0;
    let word = if percent > 0.0 { "longer" } else { "shorter" };
    Notice::new(
        "half-width-differs",
        format!(
            "The width at half height is {:.1} % {word} than the effective time that is given: {why}.",
            percent.abs()
        ),
    )
}

pub(super) fn bounce(extra_s: f64, time_s: f64) -> Notice {
    Notice::new(
        "bounce",
        format!(
            "Light came in again after the closing, {:.1} % of the exposure; it is not part of the time. A curtain or blade bounces.",
            extra_s / time_s * 100.0
        ),
    )
}

pub(super) fn no_closing() -> Notice {
    Notice::new("no-closing", "The light came on and was not seen to go: let the recording run on after the last shot.")
}

pub(super) fn lost_in_noise() -> Notice {
    Notice::new(
        "noise",
        "The light hardly stands out of the noise: a brighter or nearer lamp, or a more sensitive input, is needed.",
    )
}

pub(super) fn not_clean() -> Notice {
    Notice::new(
        "not-a-clean-pulse",
        "The light does not go from dark to open and back to dark cleanly here: check the plug and the sensor, and fire again.",
    )
}

pub(super) fn hum(amplitude: f64, frequency_hz: f64) -> Notice {
    Notice::new(
        "hum",
        format!(
            "Hum of {frequency_hz:.1} Hz, {:.1} % of the open level, was taken away: a shorter cable or a battery supply is better.",
            amplitude * 100.0
        ),
    )
}

pub(super) fn tau_uncertain() -> Notice {
    Notice::new(
        "tau-uncertain",
        "The time constant of the input could not be told well from this recording; the edges hold, areas less. A shot of 1/15 to 1/2 followed by a second of dark would settle it.",
    )
}

pub(super) fn tail_not_exponential() -> Notice {
    Notice::new(
        "tail-not-exponential",
        "After the light goes, the signal does not return as a plain input does: automatic gain or noise suppression may be on. Turn all sound processing off.",
    )
}

pub(super) fn one_sensor() -> Notice {
    Notice::new(
        "one-sensor",
        "Only one of the two channels carries pulses of light; the times are those of that sensor.",
    )
}

pub(super) fn unmatched() -> Notice {
    Notice::new("one-sensor", "Only one of the two sensors gave a time for this shot; the time is that sensor's.")
}

pub(super) fn taper(first_s: f64, second_s: f64) -> Notice {
    Notice::new(
        "taper",
        format!(
            "The two ends of the gate differ: {:.3} ms and {:.3} ms, {:.2} stop. The curtains do not travel alike.",
            first_s * 1e3,
            second_s * 1e3,
            libm::log2(second_s / first_s).abs()
        ),
    )
}

pub(super) fn travel_differs(first_s: f64, second_s: f64) -> Notice {
    Notice::new(
        "travel-differs",
        format!(
            "Between the sensors the first curtain takes {:.3} ms and the second {:.3} ms: their tensions differ.",
            first_s * 1e3,
            second_s * 1e3
        ),
    )
}
