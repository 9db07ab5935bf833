//! The sentences of the video way: one function for each code.
//!
//! Not here: when each is said (`mod`, `shot`), and errors, where there is no outcome at all.

use crate::shot::Notice;

pub(super) fn no_open_frame() -> Notice {
    Notice::new(
        "no-open-frame",
        "No frame shows the shutter standing open, so there is nothing to measure against. Take the clip again with one \
         exposure of 1/8 s or longer, or B, in it, and exposure and focus locked.",
    )
}

pub(super) fn strip_not_lit(name: &str) -> Notice {
    Notice::new(
        "strip-not-lit",
        format!(
            "The {name} strip never sees the open field. Put the patch over the lit window, a little inside its edges."
        ),
    )
}

pub(super) fn dropped_frames(missing: u64) -> Notice {
    let text = if missing == 1 {
        "One frame is missing from the clip. Shots beside it are less certain; close other programs and take it again if it \
         matters."
            .to_owned()
    } else {
        format!(
            "{missing} frames are missing from the clip. Shots beside them are less certain; close other programs and take it \
             again if it matters."
        )
    };
    Notice::new("dropped-frames", text)
}

pub(super) fn dropped_at_edge(refused: bool) -> Notice {
    Notice::new(
        "dropped-frames",
        if refused {
            "A frame is missing where the shutter opened or closed, and the time is too short to do without it. Fire this one \
             again."
        } else {
            "A frame is missing where the shutter opened or closed; the doubt says so. Fire this one again to be surer."
        },
    )
}

pub(super) fn not_steady(share: f64) -> Notice {
    Notice::new(
        "lamp-or-exposure-not-steady",
        format!(
            "The open field varies by {:.0} %. Lock exposure on the phone and use a battery torch without dimming, or \
             daylight.",
            (share * 100.0).min(999.0)
        ),
    )
}

pub(super) fn white_clipped() -> Notice {
    Notice::new(
        "white-clipped",
        "The open field is at the picture's white, so that times come out long, short ones most. Dim the lamp until the field \
         is at 60 to 85 % of white and lock exposure again.",
    )
}

pub(super) fn duty_unknown() -> Notice {
    Notice::new(
        "duty-unknown",
        "The phone's exposure time per frame was not given and had to be guessed from the frames. Enter it, and dim the \
         lamp until it is as long as the frame rate allows.",
    )
}

pub(super) fn curve_assumed() -> Notice {
    Notice::new(
        "curve-assumed",
        "The phone's tone curve was assumed, which matters for times near and below one frame. Step the lens aperture with the \
         shutter held open to find it.",
    )
}

pub(super) fn too_fast(refused: bool, interval_s: f64) -> Notice {
    let rate = (1.0 / interval_s).round();
    Notice::new(
        "too-fast-for-frames",
        if refused {
            format!(
                "This time is too short for {rate} frames a second with what is known about them. Use a light trace, or fire it \
                 again in a clip whose exposure fills the frame interval."
            )
        } else {
            format!(
                "This time is close to the limit of {rate} frames a second; the doubt says how close. Fire it five times or \
                 more, or use a light trace."
            )
        },
    )
}

pub(super) fn variable_frame_rate() -> Notice {
    Notice::new(
        "variable-frame-rate",
        "The frames do not come evenly, so times are less certain. Take the clip with a fixed high frame rate, and keep the \
         original file.",
    )
}

pub(super) fn slow_motion(file_hz: f64, true_hz: f64) -> Notice {
    Notice::new(
        "slow-motion-file",
        format!(
            "The file plays at {file_hz:.0} frames a second and was taken at {true_hz:.0}; times were put right for that. Check \
             that the phone really was set to {true_hz:.0}."
        ),
    )
}

pub(super) fn codes_averaged_first() -> Notice {
    Notice::new(
        "codes-averaged-first",
        "Codes were averaged before they were made linear, which is second best where the shutter's edge lies inside a strip: \
         short times come out up to a few per cent short.",
    )
}

pub(super) fn cut_off() -> Notice {
    Notice::new(
        "cut-off",
        "The clip begins or ends while the shutter is open here. Start the clip before the first shot and stop it after the \
         last.",
    )
}

pub(super) fn taper(left_longer: bool, difference_s: f64) -> Notice {
    let side = if left_longer { "left" } else { "right" };
    Notice::new(
        "taper",
        format!(
            "The {side} side of the picture gets {:.2} ms more than the other, beyond the doubt: the curtains do not travel \
             alike. Measure it again and compare other times.",
            difference_s * 1e3
        ),
    )
}

pub(super) fn bounce() -> Notice {
    Notice::new(
        "bounce",
        "Light came in again after the shutter had closed; it is not part of the time. Look at it with a light trace.",
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_notice_is_a_sentence_with_a_code_of_its_own_form() {
        let all = [
            no_open_frame(),
            strip_not_lit("left"),
            dropped_frames(1),
            dropped_frames(7),
            dropped_at_edge(true),
            dropped_at_edge(false),
            not_steady(0.05),
            white_clipped(),
            duty_unknown(),
            curve_assumed(),
            too_fast(true, 1.0 / 240.0),
            too_fast(false, 1.0 / 240.0),
            variable_frame_rate(),
            slow_motion(30.0, 240.0),
            codes_averaged_first(),
            cut_off(),
            taper(true, 4e-4),
            bounce(),
        ];
        for notice in all {
            assert!(notice.code.chars().all(|c| c.is_ascii_lowercase() || c == '-'), "{}", notice.code);
            assert!(notice.text.ends_with('.') && notice.text.len() > 40, "{}", notice.text);
            assert!(!notice.text.contains("  "), "{}", notice.text);
        }
        assert!(taper(true, 4e-4).text.contains("left side of the picture gets 0.40 ms"));
    }
}
