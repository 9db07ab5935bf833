//! A few linear equations at once.
//!
//! Not here: least squares with doubts (`metrology`), whose unknowns are measured values.

/// Below this a pivot is none: the equations do not tell the unknowns apart.
const LEAST: f64 = 1e-12;

/// Gauss with the largest pivot: N unknowns from N rows of N + 1 numbers, the last of each the right side. Nothing where the rows depend
/// on one another.
pub(crate) fn solve<const N: usize, const M: usize>(mut rows: [[f64; M]; N]) -> Option<[f64; N]> {
    for i in 0..N {
        let best = (i..N).max_by(|a, b| rows[*a][i].abs().total_cmp(&rows[*b][i].abs()))?;
        rows.swap(i, best);
        if rows[i][i].abs() < LEAST {
            return None;
        }
        let pivot = rows[i];
        for row in rows.iter_mut().skip(i + 1) {
            let share = row[i] / pivot[i];
            for (value, own) in row.iter_mut().zip(pivot) {
                *value -= share * own;
            }
        }
    }
    let mut found = [0.0; N];
    for i in (0..N).rev() {
        let sum: f64 = (i + 1..N).map(|j| rows[i][j] * found[j]).sum();
        found[i] = (rows[i][N] - sum) / rows[i][i];
    }
    Some(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_lines_cross_and_parallel_ones_do_not() {
        let found = solve([[1.0, 1.0, 3.0], [1.0, -1.0, 1.0]]).expect("a crossing");
        assert!((found[0] - 2.0).abs() < 1e-12 && (found[1] - 1.0).abs() < 1e-12);
        // A pivot of nothing is passed over for the next row.
        assert_eq!(solve([[0.0, 1.0, 5.0], [1.0, 0.0, 4.0]]), Some([4.0, 5.0]));
        assert_eq!(solve([[1.0, 2.0, 3.0], [2.0, 4.0, 6.0]]), None);
    }
}
