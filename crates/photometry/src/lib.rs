//! Light and exposure: quantities, marks and the exact values they stand for, the exposure equation and its constants.
//!
//! Rooms: quantities ([`Ev`], [`Stops`], [`FNumber`], [`ExposureTime`], [`FilmSpeed`], [`Illuminance`], [`Luminance`]); marks
//! on dials ([`FNumberMark`], [`TimeMark`], [`FilmSpeedMark`]); the exposure equation in every direction ([`exposure_value`] and
//! its kin); constants with range and source ([`CONSTANTS`]); words for the sky ([`SKY_WORDS`]); film ([`FilmKind`]); the
//! sun ([`sun_position`]), the light of sun and sky ([`daylight`]); a phone's screen as a lamp ([`SCREEN_STEPS`]).
//!
//! Not here: doubt (`metrology`), cameras (`inspection`). No I/O, no clock; transcendental functions from `libm`, so that every
//! target gives the same bits.

mod constants;
mod error;
mod exposure;
mod film;
mod quantity;
mod scale;
mod screen;
mod sky;
mod sun;
mod sunny16;

pub use constants::{C_DEFAULT, CONSTANTS, Constant, FOOT_LAMBERT, K_DEFAULT, Q_DEFAULT};
pub use error::Error;
pub use exposure::{
    WHITE_PAPER, aperture_value, brightness_value, ev_from_illuminance, ev_from_luminance, exposure_value,
    exposure_value_at_speed, f_number_for, film_speed_for, illuminance, illuminance_of_matt_surface,
    implied_reflectance, incident_to_card_difference, luminance, luminance_of_matt_surface, metered_exposure,
    speed_value, time_for, time_value,
};
pub use film::{
    FOG_THRESHOLD_STOPS, FilmKind, LEAK_DOUBT_STOPS, Lasting, Latitude, SURROUNDING_DOUBT_STOPS, SURROUNDINGS,
    Surrounding, attenuation_needed, density_of, dose, dose_above_fog, fog_exposure, fogging_illuminance, lasting,
    leak_in, logarithmic_speed, stops_between,
};
pub use quantity::{Elevation, Ev, ExposureTime, FNumber, FilmSpeed, Illuminance, Luminance, Stops};
pub use scale::{
    F_NUMBER_MARKS, FILM_SPEED_MARKS, FNumberMark, FilmSpeedMark, Scale, TIME_MARKS_MODERN, TIME_MARKS_MODERN_MORE,
    TIME_MARKS_OLD, TIME_MARKS_OLD_MORE, TimeMark, TimeSeries, places,
};
pub use screen::{
    CELL_PX, SCREEN_STEPS, ScreenKind, ScreenLevel, ScreenStep, TILE_PX, field_size, screen_light, step_doubt,
};
pub use sky::{
    Coefficients, Components, DayLight, DayPoint, DaySpan, Daylight, LightDoubt, Plane, SECOND_SOLAR_ILLUMINANCE,
    SOLAR_ILLUMINANCE, SUNNY_16, Sky, components, day_of_light, daylight, extraterrestrial, good_spans, on_plane,
    second_model, sunny16_elevations, surest_plane,
};
pub use sun::{
    Air, CITIES, Celestial, City, Day, Moment, Place, SunPosition, SunTimes, celestial, sun_position, sun_times,
};
pub use sunny16::{SKY_WORDS, SkyWord, sky_word};
