//! The verbs of the sun: where it stands, and the light to expect.
//!
//! Not here: the published positions and illuminances, which the rooms below are held against.

use serde_json::Value;

use super::called;

const SYDNEY: [&str; 6] = ["--at", "2024-12-21T02:00:00Z", "--lat", "-33.8688", "--lon", "151.2093"];

fn with<'a>(verb: &'a str, here: &[&'a str], more: &[&'a str]) -> Vec<&'a str> {
    [&[verb], here, more].concat()
}

fn number(json: &Value, key: &str) -> f64 {
    json[key].as_f64().unwrap_or_else(|| panic!("{key} in {json}"))
}

fn daylight(here: &[&str], sky: &str, plane: &str) -> Value {
    called(&with("daylight", here, &["--sky", sky, "--plane", plane, "--json"])).json()
}

#[test]
fn the_sun_stands_where_it_is_published_to_stand() {
    let json = called(&with("sun", &SYDNEY, &["--altitude", "20", "--temperature", "22", "--json"])).json();
    assert!((number(&json, "elevation_deg") - 79.464_62).abs() < 0.001, "{json}");
    assert!((number(&json, "apparent_elevation_deg") - 79.467_63).abs() < 0.001, "{json}");
    assert!((number(&json, "azimuth_deg") - 351.498_33).abs() < 0.01, "{json}");
    let thick = called(&with("sun", &SYDNEY, &["--pressure", "1100", "--temperature", "-40", "--json"])).json();
    assert!(number(&thick, "apparent_elevation_deg") > number(&json, "apparent_elevation_deg"));
    let given = called(&with("sun", &SYDNEY, &[]));
    assert!(given.table().contains("79.46°") && given.table().contains("351.5°, north"), "{}", given.table());
}

#[test]
fn a_polar_night_has_a_sun_and_no_light() {
    let tromso = ["--at", "2024-12-21T10:42:00Z", "--lat", "69.6492", "--lon", "18.9553"];
    let json = called(&with("sun", &tromso, &["--json"])).json();
    assert_eq!(json["elevation_deg"], json["apparent_elevation_deg"]);
    assert_eq!(json["notices"][1]["code"], "sun-below-horizon");
    let dark = called(&with("daylight", &tromso, &["--sky", "clear", "--plane", "upright"]));
    assert!(dark.refused(1).contains("elevation must be at least 0 degrees") && dark.refused(1).contains("-3.09"));
}

#[test]
fn light_has_its_doubt_and_its_distance_from_sunny_16() {
    let tokyo = ["--at", "2023-01-01T00:00:00Z", "--lat", "35.6762", "--lon", "139.6503"];
    let (upright, flat) = (daylight(&tokyo, "clear", "upright"), daylight(&tokyo, "clear", "horizontal"));
    for json in [&upright, &flat, &daylight(&tokyo, "clear", "facing-sun"), &daylight(&tokyo, "partly", "horizontal")] {
        let lux = number(json, "illuminance_lux");
        let light = photometry::Illuminance::new(lux).expect("lux");
        let ev100 = photometry::ev_from_illuminance(light, 250.0).expect("ev").value();
        assert!((number(json, "ev100") - ev100).abs() < 1e-9);
        assert!((number(json, "sunny16_error_stops") + number(json, "ev100") - 15.0).abs() < 1e-9);
        let u = number(json, "standard_uncertainty_stops");
        let (each, shared) = (number(json, "each_doubt_stops"), number(json, "shared_doubt_stops"));
        assert!((u * u - each * each - shared * shared).abs() < 1e-9 && u > 0.25 && u < 1.5);
    }
    // By the published table 19.5° of sun are 0.18 stop under EV 15 upright and 1.33 flat; nearest to the sun, 0.05 more.
    assert!((number(&upright, "sunny16_error_stops") - 0.13).abs() < 0.03, "{upright}");
    assert!((number(&flat, "sunny16_error_stops") - 1.28).abs() < 0.03, "{flat}");
    assert!(
        number(&daylight(&tokyo, "cloudy", "upright"), "illuminance_lux") < number(&upright, "illuminance_lux") / 5.0
    );
    let given = called(&with("daylight", &tokyo, &["--sky", "clear", "--plane", "horizontal"]));
    assert!(given.table().contains("sunny 16 reads 1.3 stops high for a flat surface"), "{}", given.table());
    assert!(given.table().contains("Never look at the sun"));
}

#[test]
fn what_cannot_be_has_no_outcome_and_names_what_was_given() {
    for (option, value, what) in [
        ("--lat", "95", "the latitude"),
        ("--lon", "-181", "the longitude"),
        ("--at", "2024-02-30T12:00:00Z", "the day"),
        ("--at", "noon", "the time"),
        ("--at", "9999-01-01T00:00:00Z", "the day"),
        ("--altitude", "1e6", "the altitude"),
        ("--pressure", "0", "the pressure"),
        ("--temperature", "-300", "the temperature"),
    ] {
        // The last value given counts.
        let given = called(&with("sun", &SYDNEY, &[option, value]));
        let line = given.refused(1);
        assert!(line.contains(what), "{line}");
    }
}

#[test]
fn a_call_about_the_sun_that_is_not_understood_ends_with_2() {
    for (arguments, why) in [
        (with("sun", &SYDNEY[2..], &[]), "the time (--at"),
        (with("sun", &SYDNEY[..4], &[]), "the longitude (--lon"),
        (with("sun", &SYDNEY, &["--sky", "clear"]), "--sky"),
        (with("sun", &SYDNEY, &["--pressure", "NaN"]), "NaN"),
        (with("daylight", &SYDNEY, &["--plane", "upright"]), "the sky (--sky"),
        (with("daylight", &SYDNEY, &["--sky", "clear"]), "the surface (--plane"),
        (with("daylight", &SYDNEY, &["--sky", "foggy"]), "clear, partly, cloudy, and \"foggy\" was given"),
        (with("daylight", &SYDNEY, &["--plane", "up"]), "horizontal, facing-sun, upright, and \"up\" was given"),
    ] {
        let given = called(&arguments);
        assert!(given.refused(2).contains(why), "{}", given.refused(2));
    }
}
