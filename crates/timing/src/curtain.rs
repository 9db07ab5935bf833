//! Geometry of a focal-plane shutter: curtains of constant speed v = L/T over a frame of length L in the travel time T.
//!
//! Formulas of the trade (geometry; the efficiency from memory of textbooks). Real curtains still gain speed, so these are
//! for guidance and for judging what a set-up can resolve, not for measuring. Not here: what a recording says
//! ([`crate::light_trace`], [`crate::sound`]).

use crate::error::Error;

fn above_zero(value: f64, what: &str) -> Result<f64, Error> {
    if value > 0.0 && value.is_finite() {
        Ok(value)
    } else {
        Err(Error::new(format!("the {what} must be above 0, and {value} was given")))
    }
}

/// Curtain speed `v = L/T` \[m/s\]. `length_m` frame along the travel \[m\], `travel_s` travel time \[s\], both above 0.
pub fn speed_m_s(length_m: f64, travel_s: f64) -> Result<f64, Error> {
    Ok(above_zero(length_m, "length of the frame")? / above_zero(travel_s, "travel time")?)
}

/// Width of the travelling slit `w = v·t` \[m\] for an exposure time `time_s` \[s\].
pub fn slit_width_m(length_m: f64, travel_s: f64, time_s: f64) -> Result<f64, Error> {
    Ok(speed_m_s(length_m, travel_s)? * above_zero(time_s, "exposure time")?)
}

/// How long the whole frame is open at once, `t − T` \[s\]; below 0 where it never is.
pub fn open_interval_s(travel_s: f64, time_s: f64) -> Result<f64, Error> {
    Ok(above_zero(time_s, "exposure time")? - above_zero(travel_s, "travel time")?)
}

/// Exposure time at the far edge, `t(L) = t_near + T₂ − T₁` \[s\], from that at the near edge and both travel times.
pub fn far_edge_time_s(near_s: f64, first_travel_s: f64, second_travel_s: f64) -> Result<f64, Error> {
    let far = above_zero(near_s, "time at the near edge")? + above_zero(second_travel_s, "second travel time")?
        - above_zero(first_travel_s, "first travel time")?;
    above_zero(far, "time at the far edge (the curtains close on one another)")
}

/// Efficiency `w/(w + d/N)` of a slit of width `w` \[m\] at a distance `d` \[m\] before the film, behind a lens of f-number N.
pub fn efficiency(slit_m: f64, distance_m: f64, f_number: f64) -> Result<f64, Error> {
    let slit = above_zero(slit_m, "width of the slit")?;
    Ok(slit / (slit + above_zero(distance_m, "distance of the curtain")? / above_zero(f_number, "f-number")?))
}

/// From first to last light at one point, `(w + d/N)/v` \[s\].
pub fn total_time_s(slit_m: f64, distance_m: f64, f_number: f64, speed_m_s: f64) -> Result<f64, Error> {
    let penumbra = above_zero(distance_m, "distance of the curtain")? / above_zero(f_number, "f-number")?;
    Ok((above_zero(slit_m, "width of the slit")? + penumbra) / above_zero(speed_m_s, "curtain speed")?)
}

/// How long a sensor behind a window of width `a` \[m\] along the travel sees light, `t + a/v` \[s\].
pub fn seen_through_window_s(time_s: f64, window_m: f64, speed_m_s: f64) -> Result<f64, Error> {
    let across = above_zero(window_m, "width of the window")? / above_zero(speed_m_s, "curtain speed")?;
    Ok(above_zero(time_s, "exposure time")? + across)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn curtains_that_close_on_one_another_are_refused() {
        assert!((far_edge_time_s(1.0e-3, 12.0e-3, 12.5e-3).expect("a time") - 1.5e-3).abs() < 1e-12);
        assert!(far_edge_time_s(0.4e-3, 12.5e-3, 12.0e-3).is_err());
        assert!(slit_width_m(0.036, 0.0, 1e-3).is_err() && efficiency(f64::NAN, 1.0, 2.0).is_err());
    }

    #[test]
    fn a_frame_that_is_never_all_open_has_a_negative_interval() {
        assert!(open_interval_s(12e-3, 8e-3).expect("an interval") < 0.0);
    }
}
