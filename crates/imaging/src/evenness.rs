//! How evenly a shutter exposed the frame, from a photo of a negative of an evenly lit wall: taper, banding, the drop at an end.
//!
//! *Equations:* density above the base to stops by the toe model `D = γ·log10(1 + 2^e)`; over cells of half a millimetre
//! `e(x, y) = c + v1 r² + v2 r⁴ + v3 r⁶ + S(u) + b·w`, u along the travel of the curtains in frame lengths, w across, S free for each
//! column; the lens's fall-off depends on the distance r from the middle and so is told from the shutter. *Symbols:* S \[stops\], + more
//! exposure. A wall's own gradient looks exactly like a taper: the same wall with the camera upside down takes it out, shutter = mean
//! of the two tapers, wall = half their difference. *Source:* own derivation; the toe model is common practice. Not here: what is
//! allowed (`inspection`), times (`timing`).

use crate::error::Error;
use crate::film_strip::{Cells, Density, Format, Holes, Reference, Strip, density, holes};
use crate::linear::solve;
use crate::notice::Notice;

/// Contrast of a film that was not bracketed, and the range that is searched.
const USUAL_GAMMA: f64 = 0.65;
const GAMMAS: (f64, f64) = (0.3, 1.6);
/// Doubt of the contrast, assumed and from a bracket, as a share of the taper.
const GAMMA_ASSUMED: f64 = 0.12;
const GAMMA_BRACKETED: f64 = 0.04;
/// What a wall's gradient leaves in a taper \[stops\]: with one frame, and with a turned pair.
const WALL_SINGLE: f64 = 0.16;
const WALL_PAIR: f64 = 0.05;
/// The gate's rim that does not count \[mm\].
const RIM_MM: f64 = 1.0;
/// Rounds of Huber's weights, and where they begin \[deviations\].
const ROUNDS: usize = 4;
const HUBER: f64 = 1.345;
/// Densities above the base between which a frame can be measured.
const THIN: f64 = 0.25;
const DENSE: f64 = 1.8;
/// The end that may drop \[mm\], and the part of the travel that its line is taken from.
const END_MM: f64 = 2.0;
const MIDDLE: f64 = 0.72;

/// Which way the curtains run on the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Travel {
    /// Along the film.
    Horizontal,
    /// Across it.
    Vertical,
}

/// The frames: the one that is measured, and those that tell the film's contrast and the wall.
#[derive(Clone, Copy, Debug)]
pub struct Frames<'a> {
    /// The frame.
    pub main: &'a Strip,
    /// The same with one stop less.
    pub minus_one: Option<&'a Strip>,
    /// The same with one stop more.
    pub plus_one: Option<&'a Strip>,
    /// The same wall with the camera upside down.
    pub turned: Option<&'a Strip>,
}

/// What a frame shows.
#[derive(Clone, Debug, PartialEq)]
pub struct Evenness {
    /// Change of exposure from one end of the travel to the other \[stops\], + more at its end.
    pub taper_stops: f64,
    /// Its standard uncertainty \[stops\].
    pub standard_uncertainty_stops: f64,
    /// What of a single frame's taper is the wall \[stops\]; nothing without a turned frame.
    pub wall_stops: Option<f64>,
    /// Half the height of what ripples along the travel \[stops\].
    pub band_stops: f64,
    /// The deeper end against the line of the middle \[stops\], − where it drops.
    pub end_drop_stops: f64,
    /// Middle against the mean of the ends \[stops\].
    pub bow_stops: f64,
    /// Contrast that was used.
    pub gamma: f64,
    /// Exposure along the travel: place \[frame lengths from the middle\], stops.
    pub profile: Vec<(f64, f64)>,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

/// Measures a frame. **Errors** where the film's base cannot be found, or the frame is too thin or too dense to say anything.
pub fn evenness(frames: &Frames<'_>, travel: Travel) -> Result<Evenness, Error> {
    if frames.main.format != Format::Perforated {
        return Err(Error::new(
            "evenness must be measured on film with perforation: roll film without it shows too little of its base",
        ));
    }
    if holes(frames.main) == Holes::Dark {
        return Err(Error::new(
            "the holes are darker than the film, so this picture is a positive: choose the photo of the negative on the light table",
        ));
    }
    let main = density(frames.main, Reference::Base);
    if !main.referenced {
        return Err(Error::new(
            "the film's base between the frames and beside the holes was not found: photograph the strip whole",
        ));
    }
    let centre = middle(&main).ok_or_else(|| Error::new("the frame has no middle that could be measured"))?;
    let mut notices = Vec::new();
    if centre < 0.05 {
        return Err(Error::new(format!(
            "the frame must be denser than the film's base by 0.05 at least, and {centre:.2} was found: it is blank, or a positive"
        )));
    }
    if centre < THIN {
        notices
            .push(Notice::warning("too_thin", "The frame is thin: a stop more exposure would tell the ends better."));
    } else if centre > DENSE {
        notices.push(Notice::warning(
            "too_dense",
            "The frame is very dense: a stop or two less exposure would tell it better.",
        ));
    }
    let bracket = |strip: Option<&Strip>| {
        strip.map(|strip| density(strip, Reference::Base)).filter(|own| own.referenced).and_then(|own| middle(&own))
    };
    let found = contrast(bracket(frames.minus_one), centre, bracket(frames.plus_one));
    if found.is_none() {
        notices.push(Notice::remark(
            "gamma_assumed",
            "The film's contrast was assumed: a frame with one stop less and one with one stop more would tell it.",
        ));
    }
    let gamma = found.unwrap_or(USUAL_GAMMA);
    let own = profile(&main, travel, gamma).ok_or_else(|| Error::new("too little of the frame could be measured"))?;
    let turned = frames
        .turned
        .map(|strip| density(strip, Reference::Base))
        .filter(|other| other.referenced)
        .and_then(|other| profile(&other, travel, gamma));
    if turned.is_none() {
        notices.push(Notice::warning(
            "wall_unknown",
            "A wall that is brighter at one side looks exactly like an uneven shutter: the same wall with the camera upside down \
             would tell the two apart.",
        ));
    }
    let (taper, wall) = match &turned {
        Some(other) => ((own.taper + other.taper) / 2.0, Some((own.taper - other.taper) / 2.0)),
        None => (own.taper, None),
    };
    let share = if found.is_some() { GAMMA_BRACKETED } else { GAMMA_ASSUMED };
    let rest = if turned.is_some() { WALL_PAIR } else { WALL_SINGLE };
    let parts = [share * taper, rest, 4.0 * own.noise];
    let end_drop = turned.as_ref().map_or(own.end_drop, |other| own.end_drop.max(other.end_drop));
    Ok(Evenness {
        taper_stops: taper,
        standard_uncertainty_stops: parts.iter().map(|part| part * part).sum::<f64>().sqrt(),
        wall_stops: wall,
        band_stops: turned.as_ref().map_or(own.band, |other| own.band.min(other.band)),
        end_drop_stops: end_drop,
        bow_stops: own.bow,
        gamma,
        profile: own.points,
        notices,
    })
}

/// Median density in the middle fifth of the gate.
fn middle(density: &Density) -> Option<f64> {
    let mut values: Vec<f64> = density
        .cells
        .each()
        .filter(|(column, row, _)| {
            let (x, y) = Cells::place(*column, *row);
            (x - 18.0).abs() < 3.6 && (y - 17.5).abs() < 2.4
        })
        .map(|(.., density)| density)
        .collect();
    values.sort_by(f64::total_cmp);
    values.get(values.len() / 2).copied()
}

/// Stops of a density above the base, the inverse of the toe model.
fn stops(density: f64, gamma: f64) -> Option<f64> {
    let light = libm::exp10(density / gamma) - 1.0;
    (light > 1e-6).then(|| libm::log2(light))
}

/// The contrast that makes the bracket's frames one stop apart; nothing without one.
fn contrast(minus: Option<f64>, main: f64, plus: Option<f64>) -> Option<f64> {
    const STEPS: usize = 260;
    let miss = |gamma: f64| -> Option<f64> {
        let here = stops(main, gamma)?;
        let below = minus.map(|density| stops(density, gamma).map(|own| here - own - 1.0));
        let above = plus.map(|density| stops(density, gamma).map(|own| own - here - 1.0));
        let mut sum = 0.0;
        for part in [below, above].into_iter().flatten() {
            let part = part?;
            sum += part * part;
        }
        Some(sum)
    };
    if minus.is_none() && plus.is_none() {
        return None;
    }
    (0..=STEPS)
        .map(|i| GAMMAS.0 + (GAMMAS.1 - GAMMAS.0) * i as f64 / STEPS as f64)
        .filter_map(|gamma| miss(gamma).map(|miss| (gamma, miss)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(gamma, _)| gamma)
}

struct Profile {
    points: Vec<(f64, f64)>,
    taper: f64,
    bow: f64,
    band: f64,
    end_drop: f64,
    noise: f64,
}

/// The shutter's part of a frame: columns by the travel, the lens's fall-off and a cross gradient taken out together.
fn profile(density: &Density, travel: Travel, gamma: f64) -> Option<Profile> {
    let (length, across) = match travel {
        Travel::Horizontal => (36.0, 24.0),
        Travel::Vertical => (24.0, 36.0),
    };
    struct Point {
        column: usize,
        e: f64,
        rows: [f64; 4],
        weight: f64,
    }
    let count = (length / 0.5) as usize;
    let mut points = Vec::new();
    for (column, row, value) in density.cells.each() {
        let (x, y) = Cells::place(column, row);
        let (dx, dy) = (x - 18.0, y - 17.5);
        if dx.abs() > 18.0 - RIM_MM || dy.abs() > 12.0 - RIM_MM {
            continue;
        }
        let (u, w) = if travel == Travel::Horizontal { (dx, dy) } else { (dy, dx) };
        let Some(e) = stops(value.max(1e-3), gamma) else { continue };
        let r2 = (dx * dx + dy * dy) / (21.6 * 21.6);
        let rows = [r2, r2 * r2, r2 * r2 * r2, w / across];
        points.push(Point { column: ((u + length / 2.0) / 0.5) as usize, e, rows, weight: 1.0 });
    }
    if points.len() < 500 {
        return None;
    }
    let mut columns = vec![None; count];
    let mut spread = f64::INFINITY;
    for _ in 0..=ROUNDS {
        // Each column's own mean goes out first, so that only four unknowns are left.
        let mut means = vec![([0.0; 4], 0.0, 0.0); count];
        for point in &points {
            let mean = means.get_mut(point.column)?;
            for (sum, own) in mean.0.iter_mut().zip(point.rows) {
                *sum += point.weight * own;
            }
            mean.1 += point.weight * point.e;
            mean.2 += point.weight;
        }
        for mean in means.iter_mut().filter(|mean| mean.2 > 0.0) {
            mean.0 = mean.0.map(|sum| sum / mean.2);
            mean.1 /= mean.2;
        }
        let mut normal = [[0.0; 5]; 4];
        for point in &points {
            let mean = means.get(point.column)?;
            let own: Vec<f64> = point.rows.iter().zip(mean.0).map(|(a, b)| a - b).collect();
            for i in 0..4 {
                for j in 0..4 {
                    normal[i][j] += point.weight * own[i] * own[j];
                }
                normal[i][4] += point.weight * own[i] * (point.e - mean.1);
            }
        }
        let lens = solve(normal)?;
        columns = means
            .iter()
            .map(|mean| (mean.2 > 5.0).then(|| mean.1 - mean.0.iter().zip(lens).map(|(a, b)| a * b).sum::<f64>()))
            .collect();
        let residual = |point: &Point| {
            let own = columns.get(point.column).copied().flatten().unwrap_or(point.e);
            point.e - own - point.rows.iter().zip(lens).map(|(a, b)| a * b).sum::<f64>()
        };
        let mut sizes: Vec<f64> = points.iter().map(|point| residual(point).abs()).collect();
        sizes.sort_by(f64::total_cmp);
        spread = 1.4826 * sizes.get(sizes.len() / 2).copied().unwrap_or(0.0);
        let weights: Vec<f64> = points
            .iter()
            .map(|point| {
                let size = residual(point).abs() / spread.max(1e-6);
                if size > HUBER { HUBER / size } else { 1.0 }
            })
            .collect();
        for (point, weight) in points.iter_mut().zip(weights) {
            point.weight = weight;
        }
    }
    let raw: Vec<(f64, f64)> = columns
        .iter()
        .enumerate()
        .filter_map(|(i, own)| own.map(|own| (((i as f64 + 0.5) * 0.5 - length / 2.0) / length, own)))
        .collect();
    if raw.len() < count / 2 {
        return None;
    }
    let mean = raw.iter().map(|(_, s)| s).sum::<f64>() / raw.len() as f64;
    let points: Vec<(f64, f64)> = raw.iter().map(|(u, s)| (*u, s - mean)).collect();
    let all = quadratic(&points)?;
    let rest: Vec<f64> = points.iter().map(|(u, s)| s - all[0] - all[1] * u - all[2] * u * u).collect();
    let smooth: Vec<f64> = rest.windows(3).map(|three| (three[0] + 2.0 * three[1] + three[2]) / 4.0).collect();
    let mut sorted = smooth.clone();
    sorted.sort_by(f64::total_cmp);
    let at = |share: f64| sorted.get(((sorted.len() - 1) as f64 * share).round() as usize).copied().unwrap_or(0.0);
    // The ends against the line of the middle.
    let inner: Vec<(f64, f64)> = points.iter().copied().filter(|(u, _)| u.abs() <= MIDDLE / 2.0).collect();
    let (offset, slope) = line(&inner)?;
    let outer = 0.5 - (RIM_MM + END_MM) / length;
    let end = |sign: f64| {
        let own: Vec<f64> =
            points.iter().filter(|(u, _)| u * sign >= outer).map(|(u, s)| s - offset - slope * u).collect();
        if own.is_empty() { 0.0 } else { own.iter().sum::<f64>() / own.len() as f64 }
    };
    let whole = line(&points)?;
    let steps: Vec<f64> = points.windows(2).map(|pair| (pair[1].1 - pair[0].1).abs()).collect();
    let mut sorted_steps = steps;
    sorted_steps.sort_by(f64::total_cmp);
    let noise = sorted_steps.get(sorted_steps.len() / 2).copied().unwrap_or(0.0) / 0.954 / (points.len() as f64).sqrt();
    Some(Profile {
        taper: whole.1,
        bow: -all[2] / 4.0,
        band: (at(0.97) - at(0.03)) / 2.0,
        end_drop: end(-1.0).min(end(1.0)),
        noise: noise.max(spread / (points.len() as f64 * 20.0).sqrt()),
        points,
    })
}

fn line(points: &[(f64, f64)]) -> Option<(f64, f64)> {
    let n = points.len() as f64;
    let (mx, my) = (points.iter().map(|p| p.0).sum::<f64>() / n, points.iter().map(|p| p.1).sum::<f64>() / n);
    let below: f64 = points.iter().map(|p| (p.0 - mx) * (p.0 - mx)).sum();
    (below > 0.0).then(|| {
        let slope = points.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum::<f64>() / below;
        (my - slope * mx, slope)
    })
}

fn quadratic(points: &[(f64, f64)]) -> Option<[f64; 3]> {
    let mut normal = [[0.0; 4]; 3];
    for (u, s) in points {
        let terms = [1.0, *u, u * u];
        for i in 0..3 {
            for j in 0..3 {
                normal[i][j] += terms[i] * terms[j];
            }
            normal[i][3] += terms[i] * s;
        }
    }
    solve(normal)
}
