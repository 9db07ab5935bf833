//! The test roll's part of the sheet: where it points on the open back, and what each frame tells.
//!
//! Not here: the rest of the sheet ([`super`]), what a frame tells ([`crate::test_roll`]).

use super::Block;
use crate::test_roll::{self, Judgement, State};
use crate::whole::Inspection;

/// Adds it, where strips were photographed. The drawing stands here only where that of the seals does not carry the marks already.
pub(super) fn add(blocks: &mut Vec<Block>, inspection: &Inspection, judgement: &Judgement) {
    if judgement.state != State::Read {
        return;
    }
    let kind = inspection.camera.kind;
    let seen = inspection.light_tight.seen(kind).unwrap_or_default();
    blocks.push(Block::Heading("Test roll".to_owned()));
    let drawn = seen.iter().any(|one| !one.risk().is_empty());
    if !drawn && judgement.suspected().next().is_some() {
        let hinge = inspection.light_tight.hinge_of(kind);
        blocks.push(Block::Drawing(test_roll::drawing(kind, hinge, &seen, judgement)));
    }
    let told = judgement.told.iter().map(|told| told.sentence.clone());
    let walls = judgement.walls.iter().map(|wall| format!("{} {}", wall.sentence, wall.settle).trim_end().to_owned());
    blocks.push(Block::List(told.chain(walls).collect()));
    let mut small = Vec::new();
    if !inspection.test_roll.exposed.is_empty() {
        small.push(format!("Exposed {}.", inspection.test_roll.exposed));
    }
    if !judgement.missing.is_empty() {
        small.push(format!("Not tried: {}.", judgement.missing.join("; ")));
    }
    small.push("Broken outline on the drawing: the roll points there. Sides are seen from behind.".to_owned());
    blocks.push(Block::Small(small.join(" ")));
}
