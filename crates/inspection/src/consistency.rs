//! The consistency check, which needs no reference: in one steady light, the settings that a camera takes for equal must
//! share one EV.
//!
//! Model: `EV = µ + α(time) + β(f-number) + γ(film speed) + d·place`, the effects of each dial summing to zero; generalised
//! least squares over what was measured. Not here: readings against a reference ([`crate::meter`]).

use metrology::{Estimate, Fit, generalised_least_squares};
use photometry::{FNumberMark, FilmSpeedMark, Stops, TimeMark, exposure_value};

use crate::camera::step_variance;
use crate::error::Error;
use crate::words;

/// A condition (a sum of zero, no common trend) enters as an observation known to this [stops]: far below any reading's
/// doubt, and far above what the arithmetic can lose.
const CONDITION_UNCERTAINTY: f64 = 1e-4;

/// Fewer settings than this say nothing.
pub const FEWEST_SETTINGS: usize = 3;

/// One setting that the camera accepts as right.
#[derive(Clone, Debug)]
pub struct Equivalent {
    /// Time set.
    pub time: TimeMark,
    /// F-number set or read.
    pub f_number: FNumberMark,
    /// Film speed set.
    pub film_speed: FilmSpeedMark,
    /// How finely it could be set or read.
    pub step: Stops,
}

impl Equivalent {
    /// Its exposure value at ISO 100 from the exact values.
    pub fn ev100(&self) -> f64 {
        exposure_value(self.f_number.exact(), self.time.exact(), self.film_speed.exact()).value()
    }

    /// `1/125 · f/8 · ISO 100`.
    pub fn words(&self) -> String {
        format!("{} · {} · {}", self.time.label(), self.f_number.label(), self.film_speed.label())
    }

    fn mark(&self, dial: Dial) -> String {
        let text = match dial {
            Dial::Time => self.time.text(),
            Dial::FNumber => self.f_number.text(),
            Dial::FilmSpeed => self.film_speed.text(),
        };
        // A place between marks belongs to the mark before it.
        text.split('+').next().unwrap_or(text).trim().to_owned()
    }

    fn place(&self, dial: Dial) -> f64 {
        match dial {
            Dial::Time => libm::log2(self.time.exact().value()),
            Dial::FNumber => -2.0 * libm::log2(self.f_number.exact().value()),
            Dial::FilmSpeed => libm::log2(self.film_speed.exact().value()),
        }
    }
}

/// The three dials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Dial {
    /// Shutter times.
    Time,
    /// Aperture ring.
    FNumber,
    /// Film speed.
    FilmSpeed,
}

impl Dial {
    const ALL: [Dial; 3] = [Dial::Time, Dial::FNumber, Dial::FilmSpeed];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Dial::Time => "time",
            Dial::FNumber => "f_number",
            Dial::FilmSpeed => "film_speed",
        }
    }

    const fn plural(self) -> &'static str {
        match self {
            Dial::Time => "times",
            Dial::FNumber => "f-numbers",
            Dial::FilmSpeed => "film speeds",
        }
    }

    fn said(self, mark: &str) -> String {
        match self {
            Dial::Time => mark.to_owned(),
            Dial::FNumber => format!("f/{mark}"),
            Dial::FilmSpeed => format!("ISO {mark}"),
        }
    }
}

/// How far one mark of one dial is off, against the other marks of that dial.
#[derive(Clone, Debug)]
pub struct Effect {
    /// Which dial.
    pub dial: Dial,
    /// Which mark, as said.
    pub mark: String,
    /// How far the meter's reading departs there [stops], + reads high.
    pub effect: Estimate,
    /// Whether it is beyond its doubt.
    pub beyond_doubt: bool,
}

impl Effect {
    /// `1/60: 0.5 stop under, ±0.2, against the other times`.
    pub fn words(&self) -> String {
        format!(
            "{}: {}, ±{}, against the other {}",
            self.mark,
            words::film_error(-self.effect.value()),
            words::doubt(self.effect.expanded_95()),
            self.dial.plural()
        )
    }
}

/// What the check says.
#[derive(Clone, Debug)]
pub struct Consistency {
    /// One sentence.
    pub sentence: String,
    /// Effects that could be told apart, largest first.
    pub effects: Vec<Effect>,
    /// The light's own drift over the whole check.
    pub drift: Option<Estimate>,
    /// What a person should know.
    pub notices: Vec<String>,
}

struct Columns {
    dials: Vec<(Dial, Vec<String>, usize)>,
    drift: Option<usize>,
    count: usize,
}

fn columns(settings: &[Equivalent]) -> Columns {
    let mut count = 1;
    let mut dials = Vec::new();
    for dial in Dial::ALL {
        let mut marks: Vec<String> = Vec::new();
        for setting in settings {
            let mark = setting.mark(dial);
            if !marks.contains(&mark) {
                marks.push(mark);
            }
        }
        if marks.len() > 1 {
            let first = count;
            count += marks.len();
            dials.push((dial, marks, first));
        }
    }
    let taken_again = settings.len() > FEWEST_SETTINGS
        && settings.first().zip(settings.last()).is_some_and(|(first, last)| {
            first.mark(Dial::Time) == last.mark(Dial::Time) && first.mark(Dial::FilmSpeed) == last.mark(Dial::FilmSpeed)
        });
    let drift = taken_again.then(|| {
        count += 1;
        count - 1
    });
    Columns { dials, drift, count }
}

fn solve(settings: &[Equivalent], columns: &Columns, without_trend: bool) -> Result<Fit, metrology::Error> {
    let mut design = Vec::new();
    let mut values = Vec::new();
    let mut variances = Vec::new();
    let last = settings.len().saturating_sub(1).max(1) as f64;
    for (i, setting) in settings.iter().enumerate() {
        let mut row = vec![0.0; columns.count];
        row[0] = 1.0;
        for (dial, marks, first) in &columns.dials {
            let mark = setting.mark(*dial);
            if let Some(j) = marks.iter().position(|known| *known == mark) {
                row[first + j] = 1.0;
            }
        }
        if let Some(drift) = columns.drift {
            row[drift] = i as f64 / last - 0.5;
        }
        design.push(row);
        values.push(setting.ev100());
        variances.push(step_variance(setting.step).max(CONDITION_UNCERTAINTY));
    }
    let mut condition = |row: Vec<f64>| {
        design.push(row);
        values.push(0.0);
        variances.push(CONDITION_UNCERTAINTY * CONDITION_UNCERTAINTY);
    };
    for (_, marks, first) in &columns.dials {
        let mut row = vec![0.0; columns.count];
        row[*first..first + marks.len()].fill(1.0);
        condition(row);
    }
    if without_trend {
        // Settings that share one EV lie on a plane of the three dials; an error that grows evenly along all of them at once
        // moves nothing in that plane. The condition says that such a trend is not attributed to any dial.
        let mut row = vec![0.0; columns.count];
        for (dial, marks, first) in &columns.dials {
            let places: Vec<f64> = marks
                .iter()
                .map(|mark| settings.iter().find(|s| s.mark(*dial) == *mark).map_or(0.0, |s| s.place(*dial)))
                .collect();
            let mean = places.iter().sum::<f64>() / places.len() as f64;
            for (j, place) in places.iter().enumerate() {
                row[first + j] = place - mean;
            }
        }
        condition(row);
    }
    generalised_least_squares(&design, &values, &variances, 0.0)
}

/// Judges settings taken in one steady light.
///
/// A reading taken again at the end (time and film speed as in the first) measures the light's own drift; a straight drift
/// is taken out and its doubt is in every effect. An effect beyond its 95 % expanded uncertainty names the dial and the mark.
/// Where the combinations are too few to tell the dials apart, that is said instead.
///
/// **Errors** where there is no setting.
pub fn check(settings: &[Equivalent]) -> Result<Consistency, Error> {
    if settings.is_empty() {
        return Err(Error::new("the consistency check has no setting yet, and it needs three at least"));
    }
    let mut notices = Vec::new();
    if settings.len() < FEWEST_SETTINGS {
        return Ok(Consistency {
            sentence: format!(
                "{} taken: three or more are needed, in the same steady light.",
                words::sentence_case(&words::count(settings.len(), "setting", "settings"))
            ),
            effects: Vec::new(),
            drift: None,
            notices,
        });
    }
    let columns = columns(settings);
    if columns.drift.is_none() {
        notices.push("The light's own drift was not measured: take the first setting once more at the end.".to_owned());
    }
    let (fit, without_trend) = match solve(settings, &columns, false) {
        Ok(fit) => (Some(fit), false),
        Err(_) => (solve(settings, &columns, true).ok(), true),
    };
    let Some(fit) = fit else {
        let (sentence, told_apart) = spread(settings);
        notices.push(told_apart);
        return Ok(Consistency { sentence, effects: Vec::new(), drift: None, notices });
    };
    if without_trend && columns.dials.len() > 1 {
        notices.push(
            "Equal settings cannot show an error that grows evenly along all dials at once; only marks that are off against \
             their neighbours are seen."
                .to_owned(),
        );
    }
    let mut effects = Vec::new();
    for (dial, marks, first) in &columns.dials {
        for (j, mark) in marks.iter().enumerate() {
            let effect = fit.coefficient(first + j);
            effects.push(Effect {
                dial: *dial,
                mark: dial.said(mark),
                beyond_doubt: effect.value().abs() > effect.expanded_95()
                    && effect.value().abs() > CONDITION_UNCERTAINTY,
                effect,
            });
        }
    }
    let effects = metrology::ascending(effects, |effect: &Effect| -effect.effect.value().abs());
    let off: Vec<String> = effects.iter().filter(|effect| effect.beyond_doubt).map(Effect::words).collect();
    let sentence = match off.len() {
        0 => {
            let most = effects.first().map_or(0.0, |effect| effect.effect.expanded_95());
            format!("The dials agree with one another within their doubt, ±{} stop.", words::doubt(most))
        }
        _ => format!("Off beyond doubt: {}.", off.join("; ")),
    };
    let drift = columns.drift.map(|column| fit.coefficient(column));
    if let Some(drift) = drift.filter(|drift| drift.value().abs() > drift.expanded_95()) {
        notices.push(format!(
            "The light itself drifted by {} stop during the check; that was taken out.",
            words::plain(drift.value().abs(), 1)
        ));
    }
    Ok(Consistency { sentence, effects, drift, notices })
}

/// What can be said where the dials cannot be told apart: how far the settings depart from their mean.
fn spread(settings: &[Equivalent]) -> (String, String) {
    let n = settings.len() as f64;
    let mean = settings.iter().map(Equivalent::ev100).sum::<f64>() / n;
    let departure = |setting: &Equivalent| {
        let own = step_variance(setting.step).max(CONDITION_UNCERTAINTY) * (1.0 - 1.0 / n);
        (setting.ev100() - mean, own.sqrt())
    };
    let factor = metrology::student_factor(0.95, f64::INFINITY).unwrap_or(1.96);
    let beyond: Vec<String> = settings
        .iter()
        .filter_map(|setting| {
            let (value, doubt) = departure(setting);
            (value.abs() > factor * doubt)
                .then(|| format!("{} is {} against the others", setting.words(), words::film_error(-value)))
        })
        .collect();
    let sentence = if beyond.is_empty() {
        let most = settings.iter().map(|setting| departure(setting).0.abs()).fold(0.0, f64::max);
        format!(
            "The settings share one EV within {} stop, which is within their doubt.",
            words::plain(most.max(0.05), 2)
        )
    } else {
        format!("The settings do not share one EV: {}.", beyond.join("; "))
    };
    (
        sentence,
        "There are too few combinations to tell the dials apart: take each time with two f-numbers, by changing the film speed \
         in between."
            .to_owned(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn setting(time: &str, f_number: &str, film_speed: &str) -> Equivalent {
        Equivalent {
            time: TimeMark::parse(time, &[]).expect("a time"),
            f_number: FNumberMark::parse(f_number, &[]).expect("an f-number"),
            film_speed: FilmSpeedMark::parse(film_speed, &[]).expect("a film speed"),
            step: Stops::new(1.0 / 6.0).expect("stops"),
        }
    }

    /// All nine-and-more combinations of five times, f-numbers and three film speeds in a light of EV 12.
    fn full(off: &str) -> Vec<Equivalent> {
        let times = ["1/30", "1/60", "1/125", "1/250", "1/500"];
        let mut settings = Vec::new();
        for (speed, widest) in [("100", 0_usize), ("200", 1), ("400", 2)] {
            let numbers = ["11", "8", "5.6", "4", "2.8", "2", "1.4"];
            for (i, time) in times.iter().enumerate() {
                let number = numbers[(i + 2).saturating_sub(widest)];
                let number = if *time == off { format!("{number}+1/2") } else { number.to_owned() };
                settings.push(setting(time, &number, speed));
            }
        }
        settings
    }

    #[test]
    fn dials_that_agree_are_said_to_agree() {
        let result = check(&full("")).expect("an outcome");
        assert!(result.effects.iter().all(|effect| !effect.beyond_doubt), "{:?}", result.effects);
        assert!(result.sentence.contains("agree"), "{}", result.sentence);
    }

    #[test]
    fn one_mark_that_is_off_is_named() {
        let result = check(&full("1/125")).expect("an outcome");
        let worst = result.effects.first().expect("effects");
        assert_eq!((worst.dial, worst.mark.as_str()), (Dial::Time, "1/125"));
        assert!(worst.beyond_doubt && worst.effect.value() > 0.2, "{worst:?}");
        assert!(result.sentence.contains("1/125") && result.sentence.contains("under"), "{}", result.sentence);
    }

    #[test]
    fn too_few_combinations_are_said_and_not_guessed() {
        let settings = [setting("1/60", "8", "100"), setting("1/125", "5.6+1/2", "100"), setting("1/250", "4", "100")];
        let result = check(&settings).expect("an outcome");
        assert!(result.effects.is_empty());
        assert!(result.notices.iter().any(|notice| notice.contains("tell the dials apart")), "{:?}", result.notices);
        let none = check(&[]).expect_err("no outcome");
        assert!(none.to_string().contains("no setting"));
    }

    #[test]
    fn a_setting_taken_again_measures_the_drift() {
        let mut settings = full("");
        let n = settings.len();
        let first = settings[0].clone();
        settings.push(setting(first.time.text(), &format!("{}+1/2", first.f_number.text()), first.film_speed.text()));
        assert_eq!(settings.len(), n + 1);
        let result = check(&settings).expect("an outcome");
        let drift = result.drift.expect("a drift");
        assert!(drift.value() > 0.0 && drift.standard_uncertainty() > 0.0, "{drift:?}");
    }
}
