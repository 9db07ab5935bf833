//! The verbs that work on numbers: exposure and meter.
//!
//! Not here: the verbs that work on inspections (`files`).

use serde_json::Value;

use super::{called, fed, written};

const HEAD: &str = "reference_ev100,reference_doubt_stops,reading_ev100,reading_step_stops\n";

fn near(value: &Value, expected: f64, within: f64) {
    let value = value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
    assert!((value - expected).abs() <= within, "{value} is not {expected}");
}

fn rows(error: impl Fn(f64) -> f64, lights: &[f64]) -> String {
    let rows = lights.iter().map(|light| format!("{light},0.1,{},0.1\n", light + error(*light)));
    format!("{HEAD}{}", rows.collect::<String>())
}

fn meter(text: &str, more: &[&str]) -> Value {
    let call = [&["meter", "-", "--shared-doubt", "0.1", "--tolerance", "0.5", "--json"], more].concat();
    fed(&call, text.as_bytes()).json()
}

#[test]
fn a_marked_exposure_counts_as_the_exact_one() {
    let json = called(&["exposure", "--f", "16", "--time", "1/125", "--speed", "100", "--json"]).json();
    near(&json["ev"], 15.0, 1e-12);
    near(&json["ev100"], 15.0, 1e-12);
    near(&json["luminance_cd_m2"], 4096.0, 1e-9);
    near(&json["illuminance_lux"], 81_920.0, 1e-9);
    let given = called(&["exposure", "--f", "16", "--time", "1/125", "--speed", "100", "--json", "--as-given"]).json();
    near(&given["time_s"], 0.008, 0.0);
    near(&given["luminance_cd_m2"], 12.5 / 100.0 * 16.0 * 16.0 * 125.0, 1e-9);
    let faster = called(&["exposure", "--f", "16", "--time", "1/125", "--speed", "400", "--json"]).json();
    near(&faster["ev"], 15.0, 1e-12);
    near(&faster["ev100"], 13.0, 1e-12);
}

#[test]
fn the_table_of_an_exposure_shows_the_card() {
    let given = called(&["exposure", "--f", "5.6+1/3", "--time", "1/60", "--speed", "100", "--k", "14"]);
    let table = given.table();
    assert!(table.contains("0.03 stop below") && table.contains("K = 14 lies outside the 10.6 to 13.4"), "{table}");
}

#[test]
fn an_exposure_that_cannot_be_has_no_outcome() {
    for (f, time, speed, what, given) in [
        ("-2", "1/125", "100", "the f-number", "-2"),
        ("16", "1/0", "100", "the time", "1/0"),
        ("16", "1/125", "0", "the film speed", "0"),
        ("NaN", "1/125", "100", "the f-number", "NaN"),
    ] {
        for more in [&[][..], &["--as-given"][..]] {
            let call = [&["exposure", "--f", f, "--time", time, "--speed", speed], more].concat();
            let refused = called(&call);
            let line = refused.refused(1);
            assert!(line.contains(what) && line.contains(given), "{line}");
        }
    }
}

#[test]
fn an_even_error_has_a_remedy_on_the_dial() {
    let json = meter(&rows(|_| -0.7, &[4.0, 6.0, 8.0, 10.0, 12.0]), &["--film-speed", "400"]);
    near(&json["offset_stops"]["value"], -0.7, 1e-9);
    near(&json["slope_stops_per_stop"]["value"], 0.0, 1e-9);
    assert!(json["offset_stops"]["standard_uncertainty"].as_f64().is_some_and(|u| u > 0.1 && u < 0.2));
    assert_eq!(json["offset_stops"]["degrees_of_freedom"], Value::Null);
    assert_eq!(json["call"], "outside");
    assert_eq!(json["settle"], "");
    assert_eq!(json["remedy"]["dial"], "640");
    near(&json["remedy"]["residual_stops"], 2.0 / 3.0 - 0.7, 1e-9);
    assert_eq!(json["levels"].as_array().map(Vec::len), Some(5));
    for key in ["reference_ev100", "error_stops", "fitted_stops", "standard_uncertainty_stops", "conformity"] {
        assert!(json["levels"][0][key].is_number(), "{key}");
    }
    assert!(json["notices"].is_array());
}

#[test]
fn the_slope_is_given_where_two_lights_differ() {
    let sloped = meter(&rows(|light| 0.05 * (light - 8.0), &[4.0, 8.0, 12.0]), &[]);
    near(&sloped["slope_stops_per_stop"]["value"], 0.05, 1e-9);
    let alike = meter(&rows(|_| 0.1, &[8.0, 8.0, 8.0]), &[]);
    assert_eq!(alike["slope_stops_per_stop"], Value::Null);
    near(&alike["offset_stops"]["value"], 0.1, 1e-9);
}

#[test]
fn an_open_call_says_what_would_settle_it() {
    let json = meter(&rows(|_| 0.4, &[6.0, 9.0, 12.0]), &[]);
    assert_eq!((json["call"].as_str(), json["call_words"].as_str()), (Some("cannot_tell"), Some("cannot tell")));
    assert!(json["settle"].as_str().is_some_and(|text| text.ends_with('.') && text.len() > 10), "{json}");
}

#[test]
fn the_order_of_the_columns_does_not_matter() {
    let plain = meter(&format!("{HEAD}8,0.1,8.5,0.3\n10,0.2,10.25,0.3\n"), &[]);
    let mixed = "reading_step_stops,note,reading_ev100,reference_ev100,reference_doubt_stops\n0.3,a,8.5,8,0.1\n0.3,b,10.25,10,0.2\n";
    assert_eq!(meter(mixed, &[]), plain);
}

#[test]
fn a_table_fits_the_terminal() {
    let path = written("even.csv", &rows(|_| -0.7, &[4.0, 6.0, 8.0, 10.0, 12.0]));
    let given = called(&["meter", &path, "--shared-doubt", "0.1", "--tolerance", "0.5", "--film-speed", "400"]);
    let table = given.table();
    assert!(table.contains("0.7 stop over") && table.contains("Set the dial to 640 for ISO 400 film"), "{table}");
}

#[test]
fn a_bad_row_is_named() {
    for (text, why) in [
        (String::new(), "the column reference_ev100 is missing"),
        (HEAD.to_owned(), "there is no level in it"),
        (format!("{HEAD}8,0.1,8,0.3\n8,0.1,8\n"), "row 2: it has 3 cells, and the first line has 4"),
        (
            format!("{HEAD}8,0.1,8,0.3\n8,0.1,NaN,0.3\n"),
            "row 2: the reading_ev100 must be a number, and \"NaN\" was given",
        ),
        (
            format!("{HEAD}400,0.1,8,0.3\n"),
            "row 1: the exposure value must be between EV -30 and EV 40, and 400 was given",
        ),
        (format!("{HEAD}8,,8,0.3\n"), "row 1: the reference_doubt_stops is empty, and it must be a number"),
        (format!("{HEAD}8,-0.1,8,0.3\n"), "row 1: the reference_doubt_stops must not be below 0, and -0.1 was given"),
        (format!("{HEAD}8,0.1,8,1e400\n"), "row 1: the reading_step_stops must be a number, and \"1e400\" was given"),
    ] {
        let given = fed(&["meter", "-", "--shared-doubt", "0.1", "--tolerance", "0.5", "--json"], text.as_bytes());
        let line = given.refused(1);
        assert!(line.ends_with(why) || line.contains(why), "{line}");
    }
    for (shared, tolerance) in [("-1", "0.5"), ("0.1", "0"), ("0.1", "-1"), ("1000", "0.5")] {
        fed(&["meter", "-", "--shared-doubt", shared, "--tolerance", tolerance], rows(|_| 0.0, &[8.0]).as_bytes())
            .refused(1);
    }
    called(&["meter", "no such file.csv", "--shared-doubt", "0.1", "--tolerance", "0.5"]).refused(1);
}
