//! What film gets, in words: verdicts, sentences for each film, notices.
//!
//! Not here: the figures ([`super`]).

use metrology::{Call, largest_expanded_95};

use super::{Film, FilmGets, Measured, Row, Usage, Verdict};
use crate::camera::Camera;
use crate::shutter::listed;
use crate::words;

/// `0.4 over`, or `0.2 under to 0.4 over` where it depends on the f-number or the light.
pub fn range_words(row: &Row) -> String {
    let Some((least, most)) = row.ends() else { return "cannot tell".to_owned() };
    let (low, high) = (words::film_error_short(least.error.value()), words::film_error_short(most.error.value()));
    if low == high { low } else { format!("{low} to {high}") }
}

impl Row {
    /// `±0.2`, the largest of its doubts at 95 %; empty where nothing is told.
    pub fn doubt_words(&self) -> String {
        if self.cells.is_empty() {
            return String::new();
        }
        format!("±{}", words::doubt(largest_expanded_95(self.cells.iter().map(|cell| cell.error))))
    }

    /// `1/125`, or `every light that was measured`.
    pub fn label(&self) -> String {
        self.mark.as_ref().map_or_else(|| "every light measured".to_owned(), photometry::TimeMark::label)
    }
}

impl Verdict {
    /// What decides its words: verdicts with the same are said the same.
    fn gist(&self) -> (Option<Call>, Option<f64>) {
        match (self.call, self.compensation) {
            (Call::Within, _) => (Some(Call::Within), None),
            (_, Some(stops)) => (None, Some(stops)),
            (call, None) => (Some(call), None),
        }
    }

    /// `safe`, `give 2/3 stop less`, `leave it out` or `cannot tell`.
    pub fn words(&self) -> String {
        match (self.call, self.compensation) {
            (Call::Within, _) => "safe".to_owned(),
            (_, Some(stops)) => give(stops),
            (Call::Outside, None) => "leave it out".to_owned(),
            (Call::CannotTell, None) => "cannot tell".to_owned(),
        }
    }
}

fn give(stops: f64) -> String {
    let size = stops.abs();
    let whole = libm::floor(size + 1e-9);
    let rest = size - whole;
    let said = match (whole > 0.5, rest > 1e-6) {
        (true, true) => format!("{} {}", words::plain(whole, 0), words::fraction(rest)),
        (true, false) => words::plain(whole, 0),
        (false, _) => words::fraction(rest),
    };
    format!("give {said} {} {}", words::unit(size), if stops > 0.0 { "more" } else { "less" })
}

impl Film {
    /// `−1/2 to +1/2 stop`.
    pub fn latitude_words(&self) -> String {
        format!("{} under to {} over", words::fraction(self.under), words::fraction(self.over))
    }
}

impl FilmGets {
    /// The rows of a usage.
    pub fn of_usage(&self, usage: Usage) -> impl Iterator<Item = &Row> {
        self.rows.iter().filter(move |row| row.usage == usage)
    }

    /// One sentence: which times are safe for this film in this usage, and which want what. `None` where nothing is told.
    pub fn sentence(&self, usage: Usage, film: usize) -> Option<String> {
        let told: Vec<(&Row, &Verdict)> =
            self.of_usage(usage).filter_map(|row| Some((row, row.verdicts.get(film)?))).collect();
        if told.is_empty() {
            return None;
        }
        let name = words::sentence_case(self.films.get(film)?.words);
        if told.iter().all(|(row, _)| row.mark.is_none()) {
            let (_, verdict) = told.first()?;
            return Some(format!("{name}: {} in metered use, over the light that was measured.", verdict.words()));
        }
        let mut groups: Vec<(&Verdict, Vec<&Row>)> = Vec::new();
        for (row, verdict) in told {
            match groups.iter_mut().find(|(first, _)| first.gist() == verdict.gist()) {
                Some((_, rows)) => rows.push(row),
                None => groups.push((verdict, vec![row])),
            }
        }
        let groups = metrology::ascending(groups, |(verdict, _)| f64::from(u8::from(verdict.call != Call::Within)));
        if let [(verdict, rows)] = groups.as_slice()
            && rows.len() > 1
        {
            return Some(format!("{name}: {} at each of the {} times that are told.", verdict.words(), rows.len()));
        }
        let labels = |rows: &[&Row]| listed(&rows.iter().map(|row| row.label()).collect::<Vec<_>>());
        let parts: Vec<String> =
            groups.iter().map(|(verdict, rows)| format!("{} at {}", verdict.words(), labels(rows))).collect();
        Some(format!("{name}: {}.", parts.join("; ")))
    }

    /// Every sentence of a usage, film by film.
    pub fn sentences(&self, usage: Usage) -> Vec<String> {
        (0..self.films.len()).filter_map(|film| self.sentence(usage, film)).collect()
    }
}

/// What has to be known.
pub(super) fn notices(camera: &Camera, measured: &Measured<'_>, rows: &[Row]) -> Vec<String> {
    let mut notices = Vec::new();
    if camera.stepless || camera.automatic_aperture {
        let what = match (camera.stepless, camera.automatic_aperture) {
            (true, true) => "time and f-number",
            (true, false) => "time",
            _ => "f-number",
        };
        notices.push(format!(
            "The camera sets the {what} itself, so that metered use is the only row; what it really sets is in it only as far as its \
             meter shows it."
        ));
    }
    let opened = measured.aperture.is_some_and(|judged| judged.rows.iter().any(|row| row.error.is_some()));
    if opened {
        notices.push(
            "Openings are held against the lens's own series: an error that all f-numbers share is not in these figures; nor is the \
             widest mark's, which is a fixed ring."
                .to_owned(),
        );
    } else if rows.iter().any(|row| !row.cells.is_empty()) {
        notices.push("The openings were not measured and are taken as marked.".to_owned());
    }
    if measured.shutter.is_none_or(|judged| judged.rows.is_empty()) && measured.meter.is_some() && !camera.stepless {
        notices.push("The marked times were not measured and are taken as marked.".to_owned());
    }
    let missing: Vec<String> = measured
        .shutter
        .filter(|judged| !judged.rows.is_empty())
        .into_iter()
        .flat_map(|judged| judged.missing.iter().map(photometry::TimeMark::label))
        .collect();
    if !missing.is_empty() {
        notices.push(format!("Not measured, and so not told: {}.", listed(&missing)));
    }
    if measured.meter.is_some()
        && measured.dial.is_none()
        && rows.iter().any(|row| row.usage == Usage::Metered && row.mark.is_some())
    {
        notices.push(
            "The speed that the dial stood at was not entered, so that each time is held against all the light that was measured."
                .to_owned(),
        );
    }
    if rows.iter().any(|row| !row.cells.is_empty()) {
        notices.push("These are means: one exposure scatters about them as the shutter's own shots do.".to_owned());
    }
    notices
}
