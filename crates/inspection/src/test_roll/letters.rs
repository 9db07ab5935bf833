//! The density map of a frame as rows of letters, one for each square millimetre: short enough for a file, and readable in it.
//!
//! Not here: the map itself (`imaging::fog`), drawing it ([`crate::drawing::density_map`]).

use imaging::film_strip::Cells;

/// Step of density from letter to letter.
pub const STEP: f64 = 0.05;
/// The letters, and the one for a place of which nothing is known.
const LETTERS: &[u8; 36] = b"0123456789abcdefghijklmnopqrstuvwxyz";
const NOTHING: char = '.';
/// Cells of half a millimetre along a side of a square.
const CELLS: usize = 2;

/// Rows of letters, from above.
pub fn letters(cells: &Cells) -> Vec<String> {
    let (across, down) = Cells::SIZE;
    let letter = |column: usize, row: usize| {
        let own: Vec<f64> =
            (0..CELLS * CELLS).filter_map(|i| cells.at(column * CELLS + i % CELLS, row * CELLS + i / CELLS)).collect();
        if own.is_empty() {
            return NOTHING;
        }
        let mean = own.iter().sum::<f64>() / own.len() as f64;
        let step = libm::round(mean / STEP).clamp(0.0, (LETTERS.len() - 1) as f64) as usize;
        LETTERS.get(step).map_or(NOTHING, |letter| char::from(*letter))
    };
    (0..down / CELLS).map(|row| (0..across / CELLS).map(|column| letter(column, row)).collect()).collect()
}

/// Density of a letter; nothing where it stands for none.
pub fn density_of(letter: char) -> Option<f64> {
    LETTERS.iter().position(|own| char::from(*own) == letter).map(|step| step as f64 * STEP)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_lead_back_to_densities() {
        assert_eq!(
            (density_of('0'), density_of('a'), density_of('.'), density_of('A')),
            (Some(0.0), Some(0.5), None, None)
        );
    }
}
