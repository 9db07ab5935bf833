//! The openings of a lens at its marks: errors in stops, how well they repeat, blades that sit off.
//!
//! *Equation:* `e_k = log2 A_k + 2·log2 N_k − median(log2 A_j + 2·log2 N_j)` over the stopped-down marks j; A area, N the exact
//! f-number; + is too open. Absolute f-numbers cannot be told from such pictures, and distance cancels. Not here: pictures
//! ([`super::opening`]), tolerances (`inspection`).

use metrology::pooled_repeatability;
use photometry::FNumberMark;

use super::opening::Opening;
use super::shape::{BLADES, Harmonics, blades, median};
use crate::error::Error;
use crate::notice::Notice;

/// A roundness from which an opening is spoken of.
const UNEVEN: f64 = 0.012;
/// A blade's deviation from which it is spoken of.
const ODD: f64 = 0.04;
/// Two marks of one opening lie closer than this \[stops\].
const SAME: f64 = 0.10;
/// The share of an edge's doubt that is not common to all photos of a series, and so does not cancel.
const OWN_EDGE: f64 = 0.4;
/// A blade is spoken of when it is seen to be off in this share of the photos.
const SEEN: f64 = 1.0 / 3.0;
/// Winning share over the next number of blades.
const CLEAR: f64 = 1.5;
/// Most photos of a lens.
const MOST_SHOTS: usize = 1000;

/// From which side the ring was turned to the mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// Not said.
    Unknown,
    /// From the open side.
    Open,
    /// From the closed side.
    Closed,
}

/// One photo of an opening.
#[derive(Clone, Debug)]
pub struct Shot {
    /// The mark.
    pub mark: FNumberMark,
    /// From which side.
    pub from: From,
    /// What was found; nothing where the picture gave none.
    pub opening: Option<Opening>,
    /// What is to be known of it beside the opening's own notices, such as why there is none.
    pub notices: Vec<Notice>,
}

/// What one mark gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// The mark as written.
    pub mark: String,
    /// Mean area \[pixels of the plane\]; nothing where no photo gave one.
    pub area_px: Option<f64>,
    /// Error \[stops\], + is too open.
    pub error_stops: Option<f64>,
    /// Its standard uncertainty \[stops\].
    pub standard_uncertainty_stops: Option<f64>,
    /// Root mean square of harmonics 2 to 4 of the outline.
    pub roundness: Option<f64>,
    /// Whether it is the widest mark, which shows a fixed ring and not the blades.
    pub widest: bool,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

/// A blade that sits off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OddBlade {
    /// Where its middle lies in the picture of the widest mark at which it is seen \[degrees\], from the right on and clockwise.
    pub angle_deg: f64,
    /// How far, as a share of the blades' distance: + hangs back, − sticks in.
    pub deviation: f64,
}

/// What a lens gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// Mark by mark, from the widest.
    pub stops: Vec<Stop>,
    /// Number of blades, where it was told or can be.
    pub blade_count: Option<usize>,
    /// Blades that sit off.
    pub odd_blades: Vec<OddBlade>,
    /// How much wider the openings are when the ring comes from the open side \[stops\].
    pub hysteresis_stops: Option<f64>,
    /// Standard deviation of one setting \[stops\], pooled over marks and sides.
    pub repeatability_stops: Option<f64>,
    /// What was noticed of the whole.
    pub notices: Vec<Notice>,
}

/// A photo with what its outline's shape is told from.
struct Seen<'a> {
    shot: &'a Shot,
    opening: Option<(&'a Opening, Harmonics)>,
}

impl<'a> Seen<'a> {
    fn of(shot: &'a Shot) -> Self {
        Self { shot, opening: shot.opening.as_ref().map(|opening| (opening, Harmonics::of(&opening.outline_px))) }
    }
}

/// What one mark's photos come to.
struct Mark<'a> {
    mark: FNumberMark,
    shots: Vec<Seen<'a>>,
    /// `log2 A` of each good photo, with its side.
    areas: Vec<(f64, From)>,
}

impl Mark<'_> {
    fn mean(&self) -> Option<f64> {
        let count = self.areas.len();
        (count > 0).then(|| self.areas.iter().map(|(area, _)| area).sum::<f64>() / count as f64)
    }

    fn of_side(&self, side: From) -> Vec<f64> {
        self.areas.iter().filter(|(_, from)| *from == side).map(|(area, _)| *area).collect()
    }

    /// `log2 A + 2·log2 N`.
    fn reduced(&self) -> Option<f64> {
        Some(self.mean()? + 2.0 * libm::log2(self.mark.exact().value()))
    }

    fn shapes(&self) -> impl Iterator<Item = &(&Opening, Harmonics)> {
        self.shots.iter().filter_map(|seen| seen.opening.as_ref())
    }

    fn openings(&self) -> impl Iterator<Item = &Opening> {
        self.shapes().map(|(opening, _)| *opening)
    }

    /// Length of the edge over the area \[1/pixel\]: what an edge shifted by a pixel is worth.
    fn edge_share(&self) -> f64 {
        let mut shares: Vec<f64> = self.openings().map(|opening| opening.perimeter_px / opening.area_px).collect();
        median(&mut shares)
    }

    /// Standard uncertainty of the mean \[stops\], without how well the iris repeats. An edge shifted by the phone's tone curve
    /// is shifted alike in all photos: what is left of it against the middle of the series is the difference of the shares.
    fn doubt(&self, middle_share: f64) -> f64 {
        let own = self.edge_share();
        let left = ((own - middle_share) * (own - middle_share) + OWN_EDGE * OWN_EDGE * own * own).sqrt();
        let worst = |of: fn(&Opening) -> f64| self.openings().map(of).fold(0.0, f64::max);
        let shift = worst(|opening| opening.edge_doubt_px) * left;
        let noise = worst(|opening| opening.noise);
        (shift * shift + noise * noise).sqrt() / core::f64::consts::LN_2
    }
}

/// Works out a lens. `blade_count` where the person counted. **Errors** where fewer than two marks gave an opening, the count is
/// outside 5 to 16, or there are too many photos.
pub fn series(shots: &[Shot], blade_count: Option<usize>) -> Result<Series, Error> {
    if shots.len() > MOST_SHOTS {
        return Err(Error::new(format!("at most {MOST_SHOTS} photos are taken, and {} were given", shots.len())));
    }
    if let Some(count) = blade_count.filter(|count| !(BLADES.0..=BLADES.1).contains(count)) {
        return Err(Error::new(format!("the blades must be {} to {}, and {count} was given", BLADES.0, BLADES.1)));
    }
    let marks = by_mark(shots);
    let given = marks.iter().filter(|mark| !mark.areas.is_empty()).count();
    if given < 2 {
        return Err(Error::new(format!("at least 2 marks must have an opening, and {given} has")));
    }
    let mut notices = Vec::new();
    // The widest mark is rounded and shows a ring: it is put against the others and does not help to set their middle.
    let mut reduced: Vec<f64> = marks.iter().skip(1).filter_map(Mark::reduced).collect();
    let middle = median(&mut reduced);
    let repeatability = repeatability(&marks);
    let closed: Vec<&Mark<'_>> = marks.iter().skip(1).filter(|mark| !mark.areas.is_empty()).collect();
    let middle_share = median(&mut closed.iter().map(|mark| mark.edge_share()).collect::<Vec<_>>());
    let middle_doubt = {
        let mut doubts: Vec<f64> = closed.iter().map(|mark| mark.doubt(middle_share)).collect();
        // A median of n has 1.25/√n of the doubt of one.
        median(&mut doubts) * (1.25 / (closed.len().max(1) as f64).sqrt()).min(1.0)
    };
    let against = Against { middle, middle_share, middle_doubt, repeatability };
    let stops: Vec<Stop> = marks.iter().enumerate().map(|(at, mark)| stop(mark, at == 0, &against)).collect();
    same_openings(&marks, &mut notices);
    let counted = blade_count.or_else(|| counted(&marks));
    if counted.is_none() {
        notices.push(Notice::remark(
            "blade_count_unknown",
            "The number of blades cannot be told from these pictures. Count them and enter it, and each blade is looked at.",
        ));
    }
    let odd_blades = counted.map_or_else(Vec::new, |count| odd_blades(&marks, count));
    for blade in &odd_blades {
        notices.push(Notice::warning(
            "odd_blade",
            format!(
                "One blade {} by {} % of its distance, at {} degrees in the picture. Look at it through the glass while the ring \
                 is turned.",
                if blade.deviation > 0.0 { "hangs back" } else { "sticks in" },
                metrology::to_decimals(100.0 * blade.deviation.abs(), 0),
                metrology::to_decimals(blade.angle_deg, 0)
            ),
        ));
    }
    Ok(Series {
        stops,
        blade_count: counted,
        odd_blades,
        hysteresis_stops: hysteresis(&marks),
        repeatability_stops: repeatability,
        notices,
    })
}

fn by_mark(shots: &[Shot]) -> Vec<Mark<'_>> {
    let mut marks: Vec<Mark<'_>> = Vec::new();
    for shot in shots {
        let exact = shot.mark.exact().value();
        let at = marks.iter().position(|mark| (mark.mark.exact().value() - exact).abs() < 1e-9 * exact);
        let at = at.unwrap_or_else(|| {
            marks.push(Mark { mark: shot.mark.clone(), shots: Vec::new(), areas: Vec::new() });
            marks.len() - 1
        });
        let Some(mark) = marks.get_mut(at) else { continue };
        // An opening that is cut off says nothing; one before a burnt-out field says less, and has more doubt.
        let good = shot.opening.as_ref().filter(|opening| !opening.has("opening_touches_frame"));
        if let Some(opening) = good.filter(|opening| opening.area_px > 0.0) {
            mark.areas.push((libm::log2(opening.area_px), shot.from));
        }
        mark.shots.push(Seen::of(shot));
    }
    metrology::ascending(marks, |one| one.mark.exact().value())
}

/// What a mark is put against.
struct Against {
    /// Median of `log2 A + 2·log2 N`.
    middle: f64,
    /// Median of the edges' shares.
    middle_share: f64,
    /// Standard uncertainty of the middle \[stops\].
    middle_doubt: f64,
    repeatability: Option<f64>,
}

fn stop(mark: &Mark<'_>, widest: bool, against: &Against) -> Stop {
    let mut notices: Vec<Notice> = Vec::new();
    for Seen { shot, .. } in &mark.shots {
        let of_opening = shot.opening.iter().flat_map(|opening| &opening.notices);
        for notice in shot.notices.iter().chain(of_opening) {
            if !notices.iter().any(|other| other.code == notice.code) {
                notices.push(notice.clone());
            }
        }
    }
    let mut rounds: Vec<f64> = mark.shapes().map(|(_, harmonics)| harmonics.roundness()).collect();
    let round = if rounds.is_empty() { None } else { Some(median(&mut rounds)) };
    if !widest && round.is_some_and(|round| round > UNEVEN) {
        notices.push(Notice::warning(
            "uneven_opening",
            "The opening is not even: a blade hangs back or sticks in, or the phone looked at the lens aslant.",
        ));
    }
    if widest {
        notices.push(Notice::remark(
            "widest_mark",
            "This is the widest mark: its opening is a fixed ring and not the blades, and its number is rounded.",
        ));
    }
    let count = mark.areas.len().max(1) as f64;
    let clipped = mark.openings().any(|opening| opening.has("background_clipped"));
    let doubt = {
        let own = mark.doubt(against.middle_share);
        let middle_doubt = against.middle_doubt;
        let repeated = against.repeatability.unwrap_or(0.0) / count.sqrt();
        // A burnt-out field shifts the edge: seen to be worth 0.1 stop over a series.
        let burnt = if clipped { 0.10 } else { 0.0 };
        (own * own + middle_doubt * middle_doubt + repeated * repeated + burnt * burnt).sqrt()
    };
    let known = mark.mean().is_some();
    Stop {
        mark: mark.mark.text().to_owned(),
        area_px: mark.mean().map(libm::exp2),
        error_stops: mark.reduced().map(|reduced| reduced - against.middle),
        standard_uncertainty_stops: if known { Some(doubt) } else { None },
        roundness: round,
        widest,
        notices,
    }
}

/// Neighbours that give the same or a reversed opening: the ring does not reach the blades.
fn same_openings(marks: &[Mark<'_>], notices: &mut Vec<Notice>) {
    for pair in marks.windows(2) {
        let [wider, closer] = pair else { continue };
        let (Some(wide), Some(close)) = (wider.mean(), closer.mean()) else { continue };
        let apart = 2.0 * libm::log2(closer.mark.exact().value() / wider.mark.exact().value());
        if wide - close < SAME * apart {
            notices.push(Notice::warning(
                "same_opening",
                format!(
                    "f/{} and f/{} give the same opening, or in the wrong order: the ring does not reach the blades there, or the \
                     pictures were mixed up.",
                    wider.mark.text(),
                    closer.mark.text()
                ),
            ));
        }
    }
}

/// Each outline but those of the widest mark votes for a number of blades.
fn counted(marks: &[Mark<'_>]) -> Option<usize> {
    let mut votes = vec![0.0; BLADES.1 + 1];
    let outlines = marks.iter().skip(1).flat_map(Mark::shapes);
    for (count, weight) in outlines.filter_map(|(_, harmonics)| harmonics.vote()) {
        if let Some(sum) = votes.get_mut(count) {
            *sum += weight;
        }
    }
    let best = votes.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1))?;
    let next = votes.iter().enumerate().filter(|(count, _)| *count != best.0).map(|(_, sum)| *sum).fold(0.0, f64::max);
    (*best.1 > CLEAR * next && *best.1 > 0.0).then_some(best.0)
}

/// Blades that sit off in enough of the photos. An iris turns as it closes, so that a blade is followed from mark to mark.
fn odd_blades(marks: &[Mark<'_>], count: usize) -> Vec<OddBlade> {
    struct Odd {
        first: f64,
        latest: f64,
        offs: Vec<f64>,
    }
    let reach = libm::cos(core::f64::consts::PI / count as f64);
    let mut seen: Vec<Odd> = Vec::new();
    let mut photos = 0;
    for (opening, harmonics) in marks.iter().skip(1).flat_map(Mark::shapes) {
        photos += 1;
        for (angle, off) in blades(&opening.outline_px, harmonics, count).into_iter().filter(|(_, off)| off.abs() > ODD)
        {
            match seen.iter_mut().find(|seen| libm::cos(angle - seen.latest) > reach) {
                Some(seen) => {
                    seen.latest = angle;
                    seen.offs.push(off);
                }
                None => seen.push(Odd { first: angle, latest: angle, offs: vec![off] }),
            }
        }
    }
    seen.into_iter()
        .filter(|seen| seen.offs.len() as f64 >= SEEN * f64::from(photos))
        .map(|mut seen| OddBlade {
            angle_deg: seen.first.to_degrees().rem_euclid(360.0),
            deviation: median(&mut seen.offs),
        })
        .collect()
}

/// Pooled scatter of one setting, within mark and side.
fn repeatability(marks: &[Mark<'_>]) -> Option<f64> {
    let sides = [From::Unknown, From::Open, From::Closed];
    let groups: Vec<Vec<f64>> = marks.iter().flat_map(|mark| sides.map(|side| mark.of_side(side))).collect();
    pooled_repeatability(&groups).map(|pooled| pooled.standard_deviation)
}

/// Mean over the marks that have both sides.
fn hysteresis(marks: &[Mark<'_>]) -> Option<f64> {
    let mean = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    let differences: Vec<f64> = marks
        .iter()
        .filter_map(|mark| {
            let (open, closed) = (mark.of_side(From::Open), mark.of_side(From::Closed));
            (!open.is_empty() && !closed.is_empty()).then(|| mean(&open) - mean(&closed))
        })
        .collect();
    (!differences.is_empty()).then(|| mean(&differences))
}
