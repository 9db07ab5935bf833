//! The frames of a clip of a shutter of known truth: a lit field seen through a leaf shutter, 240 frames a second.
//!
//! A frame's light is the share of its own exposure during which the shutter was open. Not here: what is measured in them
//! (`timing`), which camera it belongs to ([`super`]).

use record::page::FrameTable;

use super::Chance;

/// Frames a second.
pub const RATE_HZ: f64 = 240.0;
/// Share of the interval during which a frame is exposed.
pub const DUTY: f64 = 0.8;
/// Dark frames around each shot \[s\].
const PAUSE_S: f64 = 0.5;
/// Light of the open shutter and of the closed one, full scale being 1; noise of a strip's mean.
const OPEN: f64 = 0.55;
const DARK: f64 = 0.004;
const NOISE: f64 = 0.0015;

/// The frames of shots of these true times \[s\], one after another.
pub fn frames(times_s: &[f64], chance: &mut Chance) -> FrameTable {
    let mut spans = Vec::new();
    let mut at = PAUSE_S;
    for time in times_s {
        // A shot begins anywhere between two frames.
        let from = at + chance.next().abs() / RATE_HZ;
        spans.push((from, from + time));
        at = from + time + PAUSE_S;
    }
    let mut table = FrameTable { clock_step_s: 0.0, ..FrameTable::default() };
    for n in 0..(at * RATE_HZ) as usize {
        let (from, to) = (n as f64 / RATE_HZ, (n as f64 + DUTY) / RATE_HZ);
        let open: f64 = spans.iter().map(|(opens, closes)| (to.min(*closes) - from.max(*opens)).max(0.0)).sum();
        let light = DARK + (OPEN - DARK) * open / (to - from);
        table.push(from, [(); 3].map(|()| light + NOISE * (chance.next() + chance.next())), 0.0);
    }
    table
}
