//! Lists in the order of a number.
//!
//! One sort for lists of whatever kind: a standard sort is made anew for each kind, which cost the page more than the judgements
//! that use it. Not here: lists of plain numbers or texts, which sort themselves.

/// A list from the smallest key to the largest by the total order of IEEE 754, equal ones as they came. O(n log n).
pub fn ascending<T>(list: Vec<T>, key: impl FnMut(&T) -> f64) -> Vec<T> {
    let keys: Vec<f64> = list.iter().map(key).collect();
    let mut left: Vec<Option<T>> = list.into_iter().map(Some).collect();
    places(&keys).into_iter().filter_map(|place| left[place].take()).collect()
}

/// The places of the keys from the smallest to the largest.
fn places(keys: &[f64]) -> Vec<usize> {
    let mut places: Vec<usize> = (0..keys.len()).collect();
    places.sort_by(|&a, &b| keys[a].total_cmp(&keys[b]));
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_ones_stay_as_they_came() {
        let list = vec![(2.0, 'a'), (1.0, 'b'), (2.0, 'c'), (-1.0, 'd'), (1.0, 'e')];
        let letters = |list: Vec<(f64, char)>| list.into_iter().map(|(_, letter)| letter).collect::<String>();
        assert_eq!(letters(ascending(list.clone(), |(number, _)| *number)), "dbeac");
        assert_eq!(letters(ascending(list, |(number, _)| -number)), "acbed");
        assert!(ascending(Vec::<u8>::new(), |_| 0.0).is_empty());
    }
}
