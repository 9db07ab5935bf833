//! What fogged a blank frame: whether there is light at all, whether it came from the back or through the front, at which side of the
//! gate, and from which part, level by level and with a confidence; or that it cannot be told.
//!
//! *Physics:* light through the door reaches the film from behind or the edge, falls off along the channel and does not know the gate,
//! so that margins and gaps are fogged too; light through shutter or mirror box is cut off by the gate's edge. *Quantities:* density D
//! above the base, inner strip 0.6 to 2.6 mm inside the gate, outer strip its margin or gap, ρ = outer/inner. Valid for 135 film on a
//! light table that is not burnt out. *Source:* own derivation, its limits set on computed frames. Not here: which seal that is on this
//! camera (`inspection`), laying the film out ([`crate::film_strip`]).

mod decide;
mod map;
mod roll;

pub use decide::{Fog, Group, Lies, Side, Source};

use crate::film_strip::{Cells, Density, Format, Holes, Reference, Strip, density, holes};
use crate::notice::Notice;
use map::{Map, Rim};

/// Share of a reference that may be burnt out.
const CLIPPED: f64 = 0.02;
/// Least density that counts as light, and its multiples of noise and of what is systematic.
const LEAST: f64 = 0.05;
const TIMES: f64 = 2.5;
/// What of the total density a phone's tone curve may be off.
const TONE: f64 = 0.05;
/// Below this threshold nothing found means that there is nothing.
const SURE: f64 = 0.08;
/// A base denser than this is none of a negative: on luminance a mask comes to 0.7 at most (common practice).
const BLACK: f64 = 1.2;

/// Density of a strip, and whether it is counted from the film's own base: on roll film without bare table beside it that is all there is.
fn counted(strip: &Strip) -> (Density, bool) {
    let by_table = density(strip, Reference::Table);
    if strip.format == Format::Perforated || by_table.referenced || by_table.clipped > CLIPPED {
        return (by_table, false);
    }
    let by_base = density(strip, Reference::Base);
    if by_base.referenced { (by_base, true) } else { (by_table, false) }
}

/// Looks at a frame that should be blank. There is always an answer; what stands in the way is said in it.
pub fn fog(strip: &Strip, lies: Lies) -> Fog {
    let perforated = strip.format == Format::Perforated;
    let (density, by_base) = counted(strip);
    let mut notices = Vec::new();
    if !strip.edges_found {
        notices.push(Notice::warning(
            "film_edges_not_found",
            "The film's edges were not found: photograph the strip with the light table showing above and below it.",
        ));
    }
    if lies == Lies::Unknown {
        notices.push(Notice::remark(
            "orientation_unknown",
            "How the strip lies is not known, so the side in the camera is left open: a picture before or after the test frames tells it.",
        ));
    }
    if density.clipped > CLIPPED {
        notices.push(Notice::refusal(
            "light_table_clipped",
            "The light table is burnt out to white, and with it what density is counted from: take the photo darker, so that the holes \
             are grey.",
        ));
        return Fog::cannot_tell(notices);
    }
    let seen = if perforated { holes(strip) } else { Holes::Bright };
    if seen == Holes::Dark {
        notices.push(Notice::refusal(
            "positive",
            "The holes are darker than the film: this picture is a positive, or light fell on the film from above. Choose the photo of \
             the negative on the light table, as the camera gave it.",
        ));
        return Fog::cannot_tell(notices);
    }
    if !density.referenced || seen == Holes::None {
        notices.push(if perforated {
            Notice::refusal(
                "no_holes",
                "No perforation holes were found to count density from: photograph the whole width of the film, holes and all. A print \
                 cannot be measured.",
            )
        } else {
            Notice::refusal(
                "no_table",
                "Above and below the film no bare light table was found to count density from: photograph the whole width of the film \
                 with the table showing.",
            )
        });
        return Fog::cannot_tell(notices);
    }
    let noise = map::noise(&density.cells);
    let base = map::base(&density.cells);
    if base > BLACK {
        notices.push(Notice::refusal(
            "black_base",
            "The film is black where nothing should be on it: reversal film is, and so is film that lay open in the light. Light from a \
             leak cannot be told on it; a negative film can be used.",
        ));
        return Fog::cannot_tell(notices);
    }
    let systematic = f64::max(0.012, f64::max(1.2 * density.residual, TONE * base));
    let threshold = LEAST.max(TIMES * noise).max(TIMES * systematic);
    if threshold >= SURE {
        notices.push(Notice::remark(
            "faint_fog_hidden",
            "Noise and the light table's unevenness hide fog below the threshold: a larger, more even light table would show more.",
        ));
    }
    let map = Map::of(density.cells.less(base), strip.format);
    if !perforated {
        if by_base {
            notices.push(Notice::warning(
                "base_reference",
                "Density is counted from the film's base between the frames: light that fogged gaps and margins hides itself, so that a \
                 clean frame cannot be told. With the bare light table above and below the film it can.",
            ));
        }
        return roll::decide(&map, threshold, if by_base { 0.0 } else { SURE }, lies, notices);
    }
    decide::decide(&map, threshold, SURE, lies, notices)
}

/// The density map, for drawing: the cells above the base.
pub fn density_map(strip: &Strip) -> Option<Cells> {
    let (density, _) = counted(strip);
    let base = map::base(&density.cells);
    density.referenced.then(|| density.cells.less(base))
}

/// The four rims, in the order of [`Side::ALL`].
fn rims(map: &Map) -> [Rim; 4] {
    Side::ALL.map(|side| map.rim(side))
}
