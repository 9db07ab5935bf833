//! The highest of many samples, eight at a time.
//!
//! By comparison, which every target has an instruction for: `f32::max` says what becomes of a NaN, and is a call where the target
//! says otherwise. Not here: what a height is evidence of.

/// Goes through values eight abreast, keeping of each what `pick` picks: it must not matter in which order.
#[inline(always)]
fn picked<T: Copy>(values: &[T], start: T, pick: impl Fn(T, T) -> T) -> T {
    let (eights, rest) = values.as_chunks::<8>();
    let mut lanes = [start; 8];
    for eight in eights {
        for (lane, &v) in lanes.iter_mut().zip(eight) {
            *lane = pick(*lane, v);
        }
    }
    lanes.iter().chain(rest).fold(start, |kept, &v| pick(kept, v))
}

/// The highest of some values; 0 where none is above it.
pub(crate) fn highest(values: &[f32]) -> f32 {
    picked(values, 0.0, |most, v| if v > most { v } else { most })
}

/// The largest size of some values, whatever their sign.
pub(crate) fn largest(values: &[f32]) -> f32 {
    picked(values, 0.0, |most, v| if v.abs() > most { v.abs() } else { most })
}

/// The greatest number; −∞ where there is none.
pub(crate) fn greatest(values: &[f64]) -> f64 {
    picked(values, f64::NEG_INFINITY, |most, v| if v > most { v } else { most })
}

/// The least number; ∞ where there is none.
pub(crate) fn least(values: &[f64]) -> f64 {
    picked(values, f64::INFINITY, |least, v| if v < least { v } else { least })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_highest_is_found_wherever_it_stands() {
        for length in 1..40 {
            for place in 0..length {
                let mut values = vec![-3.0; length];
                values[place] = 2.0;
                let others: f32 = if length == 1 { 2.0 } else { -3.0 };
                let wide: Vec<f64> = values.iter().map(|&v| f64::from(v)).collect();
                assert_eq!((highest(&values), largest(&values)), (2.0, others.abs()));
                assert_eq!((greatest(&wide), least(&wide)), (2.0, f64::from(others)));
            }
        }
        assert_eq!((highest(&[-1.0, -2.0]), highest(&[]), largest(&[])), (0.0, 0.0, 0.0));
        assert_eq!((greatest(&[]), least(&[])), (f64::NEG_INFINITY, f64::INFINITY));
    }
}
