//! What the shell says of a recording or a clip of a shutter: its shots with their times, as one JSON object.
//!
//! Not here: how a shot is found (`timing`), what its error means for a camera (`inspection`), tables for people (`cli`).

use photometry::TimeMark;
use serde::Serialize;
use timing::shots::error_stops;

/// A code for programs and a sentence for people.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Notice {
    /// `no-open-level`.
    pub code: String,
    /// A sentence.
    pub text: String,
}

/// The time at one place of the frame.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Place {
    /// `left`, `middle`, `right` for strips; `first`, `second` for sensors.
    pub position: String,
    /// Time in seconds.
    pub time_s: f64,
}

/// One release of the shutter.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shot {
    /// Where it begins in the recording, in seconds: the opening; for sound the first curtain's start, or the first impact heard.
    pub start_s: f64,
    /// Effective time (ISO 516) in the middle of the frame in seconds; `null` where it cannot be told.
    pub time_s: Option<f64>,
    /// Its standard uncertainty in seconds.
    pub standard_uncertainty_s: Option<f64>,
    /// `measured`, `probable`, `indicative` or `cannot tell`.
    pub state: String,
    /// The mark that it was put against; `null` where there is none.
    pub marked: Option<String>,
    /// `log2(time/exact time of the mark)`: above 0 it is open too long.
    pub error_stops: Option<f64>,
    /// Times that would also fit, where one of them cannot be told from the others.
    pub candidates_s: Vec<f64>,
    /// Times at several places of the frame.
    pub places: Vec<Place>,
    /// What has to be known about the shot.
    pub notices: Vec<Notice>,
}

/// Everything that was found in a recording or clip.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shots {
    /// The shots in the order of time.
    pub shots: Vec<Shot>,
    /// What has to be known about all of it.
    pub notices: Vec<Notice>,
    /// Samples in a second; for a clip frames in a second, as they were taken.
    pub sample_rate_hz: Option<f64>,
    /// Time constants of the input's coupling in seconds; only for a light trace.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub coupling_s: Option<Vec<f64>>,
}

fn notices(notices: &[timing::Notice]) -> Vec<Notice> {
    notices.iter().map(|notice| Notice { code: notice.code.to_owned(), text: notice.text.clone() }).collect()
}

fn shot(shot: &timing::Shot, marks: &[TimeMark]) -> Shot {
    let mark = shot.marked.and_then(|mark| marks.get(mark));
    Shot {
        start_s: shot.start_s,
        time_s: shot.time.map(|time| time.value()),
        standard_uncertainty_s: shot.time.map(|time| time.standard_uncertainty()),
        state: shot.state.words().to_owned(),
        marked: mark.map(|mark| mark.text().to_owned()),
        error_stops: shot.time.zip(mark).and_then(|(time, mark)| error_stops(time.value(), mark.exact().value())),
        candidates_s: shot.candidates_s.clone(),
        places: shot
            .places
            .iter()
            .map(|place| Place { position: place.position.to_owned(), time_s: place.time.value() })
            .collect(),
        notices: notices(&shot.notices),
    }
}

/// What was found in a recording. `marks` are those that were handed in, in the order of shooting; `light` where it is a light
/// trace and has a coupling.
pub fn recording(take: &timing::Take, marks: &[TimeMark], sample_rate_hz: f64, light: bool) -> Shots {
    Shots {
        shots: take.shots.iter().map(|found| shot(found, marks)).collect(),
        notices: notices(&take.notices),
        sample_rate_hz: Some(sample_rate_hz),
        coupling_s: light.then(|| take.coupling_s.clone()),
    }
}

/// What was found in the frames of a clip.
pub fn frames(take: &timing::Take, marks: &[TimeMark]) -> Shots {
    Shots {
        shots: take.shots.iter().map(|found| shot(found, marks)).collect(),
        notices: notices(&take.notices),
        sample_rate_hz: take.frame_interval_s.map(|interval| 1.0 / interval).filter(|rate| rate.is_finite()),
        coupling_s: None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use metrology::Estimate;
    use timing::State;

    #[test]
    fn keys_are_there_whatever_was_found() {
        let marks = [TimeMark::parse("1/60", &[]).expect("a mark")];
        let mut found = timing::Shot::at(1.0);
        found.marked = Some(0);
        found.time = Some(Estimate::new(1.0 / 32.0, 1e-4, f64::INFINITY).expect("a time"));
        found.state = State::Measured;
        let unknown =
            timing::Shot { notices: vec![timing::Notice::new("mirror", "A mirror.")], ..timing::Shot::at(2.0) };
        let take =
            timing::Take { shots: vec![found, unknown], frame_interval_s: Some(0.005), ..timing::Take::default() };
        let json = serde_json::to_value(recording(&take, &marks, 48_000.0, true)).expect("JSON");
        assert_eq!(json["coupling_s"], serde_json::json!([]));
        assert_eq!(json["sample_rate_hz"], 48_000.0);
        assert_eq!((&json["shots"][0]["marked"], &json["shots"][0]["error_stops"]), (&"1/60".into(), &1.0.into()));
        assert_eq!(json["shots"][1]["state"], "cannot tell");
        assert_eq!(json["shots"][1]["notices"][0], serde_json::json!({"code": "mirror", "text": "A mirror."}));
        let keys = [
            "start_s",
            "time_s",
            "standard_uncertainty_s",
            "state",
            "marked",
            "error_stops",
            "candidates_s",
            "places",
            "notices",
        ];
        for shot in json["shots"].as_array().expect("shots") {
            let shot = shot.as_object().expect("a shot");
            assert!(shot.len() == keys.len() && keys.iter().all(|key| shot.contains_key(*key)), "{shot:?}");
        }
        let clip = serde_json::to_value(frames(&take, &[])).expect("JSON");
        assert!(
            clip.get("coupling_s").is_none() && clip["sample_rate_hz"] == 200.0 && clip["shots"][0]["marked"].is_null()
        );
    }
}
