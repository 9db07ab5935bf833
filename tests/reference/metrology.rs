//! Answers to the rows on doubt: least squares, coverage, conformity, type A and type B.
//!
//! Not here: light ([`crate::exposure`]).

use crate::rows::{Row, Rows, first_number, numbers};
use metrology::*;

/// A row's answer, from the beginning of its input or its whole name.
pub const ANSWERS: &[(&str, crate::Answer)] = &[
    ("GUM H.3 intercept", |row, _| calibration(row).fit.coefficient(0).value()),
    ("GUM H.3 s(y1)", |row, _| calibration(row).fit.coefficient(0).standard_uncertainty()),
    ("GUM H.3 slope", |row, _| calibration(row).fit.coefficient(1).value()),
    ("GUM H.3 s(y2)", |row, _| calibration(row).fit.coefficient(1).standard_uncertainty()),
    ("GUM H.3 correlation", |row, _| calibration(row).fit.correlation(0, 1)),
    ("GUM H.3 residual s", |row, _| calibration(row).residual_deviation()),
    ("GUM H.3 predicted correction", |row, _| at_temperature(row).value()),
    ("GUM H.3 u[b(", |row, _| at_temperature(row).standard_uncertainty()),
    ("GUM H.3 degrees of freedom", |_, rows| {
        let fit = calibration(rows.named("MET-001")).fit;
        assert_eq!(fit.coefficient(0).degrees_of_freedom(), fit.residual_degrees_of_freedom() as f64);
        fit.coefficient(0).degrees_of_freedom()
    }),
    ("NIST Norris B0", |_, rows| norris(rows).fit.coefficient(0).value()),
    ("NIST Norris sd(B0)", |_, rows| norris(rows).fit.coefficient(0).standard_uncertainty()),
    ("NIST Norris B1", |_, rows| norris(rows).fit.coefficient(1).value()),
    ("NIST Norris sd(B1)", |_, rows| norris(rows).fit.coefficient(1).standard_uncertainty()),
    ("NIST Norris residual sd", |_, rows| norris(rows).residual_deviation()),
    ("NIST Norris R2", |_, rows| {
        let Regression { fit, y, .. } = norris(rows);
        let mean = y.iter().sum::<f64>() / y.len() as f64;
        let left: f64 = fit.residuals().iter().map(|e| e * e).sum();
        1.0 - left / y.iter().map(|y| (y - mean) * (y - mean)).sum::<f64>()
    }),
    ("NIST Norris residual sum of squares", |_, rows| {
        let regression = norris(rows);
        regression.fit.chi_squared() * regression.variance
    }),
    ("NIST Pontius B0", |_, rows| pontius(rows).fit.coefficient(0).value()),
    ("NIST Pontius B1", |_, rows| pontius(rows).fit.coefficient(1).value()),
    ("NIST Pontius B2", |_, rows| pontius(rows).fit.coefficient(2).value()),
    ("NIST Pontius sd(B0)", |_, rows| pontius(rows).fit.coefficient(0).standard_uncertainty()),
    ("NIST Pontius sd(B1)", |_, rows| pontius(rows).fit.coefficient(1).standard_uncertainty()),
    ("NIST Pontius sd(B2)", |_, rows| pontius(rows).fit.coefficient(2).standard_uncertainty()),
    ("NIST Pontius residual sd", |_, rows| pontius(rows).residual_deviation()),
    ("NIST NoInt1 (line through origin) B1", |row, _| through_origin(row).fit.coefficient(0).value()),
    ("NIST NoInt1 (line through origin) sd(B1)", |row, _| {
        through_origin(row).fit.coefficient(0).standard_uncertainty()
    }),
    ("NIST NoInt1 (line through origin) residual sd", |row, _| through_origin(row).residual_deviation()),
    ("conformance probability; TL=", |row, _| conformance(row, row.number("TL="), row.number("TU="))),
    ("conformance probability; upper limit", |row, _| conformance(row, f64::NEG_INFINITY, row.number("upper limit "))),
    ("conformance probability; deviation", |row, _| {
        let half = row.number("tolerance +-");
        conformance(row, -half, half)
    }),
    ("guarded rejection limit; speed limit", |row, _| {
        // The doubt grows with the speed itself: v = v0 + z·u_rel·v.
        let z = normal_quantile(row.number("confidence ")).expect("a quantile");
        row.number("speed limit ") / (1.0 - z * row.number("u_rel="))
    }),
    ("prior conformance probability", |row, _| risks(row).prior_conformity),
    ("global consumer's risk", |row, _| risks(row).consumers),
    ("global producer's risk", |row, _| risks(row).producers),
    ("JCGM 106 Table 1: z", |row, _| normal_quantile(row.number("conformance probability ")).expect("a quantile")),
    ("acceptance limit for conformity", |row, _| guarded(row, doubled(row))),
    ("rejection limit for nonconformity", |row, _| guarded(row, -doubled(row))),
    ("acceptance limit; TU=", |row, _| {
        let proof = first_number(row.after("u=0.1; ")).expect("a percentage") / 100.0;
        assert_eq!(proof, PROOF, "{}", row.id);
        guarded(row, normal_quantile(proof).expect("a quantile") * row.number("; u="))
    }),
    ("MET-073", |row, _| {
        let within = 2.0 * normal_cdf(row.number("Phi(")) - 1.0;
        student_factor(within, row.number("nu=")).expect("a factor")
    }),
    ("Student t factor; p=9", |row, _| student_factor(row.number("p=") / 100.0, row.number("nu=")).expect("a factor")),
    ("type B standard uncertainty: rectangular", |row, _| {
        type_b(Distribution::Rectangular { half_width: row.number("a=") })
    }),
    ("type B standard uncertainty: triangular", |row, _| {
        type_b(Distribution::Triangular { half_width: row.number("a=") })
    }),
    ("type B standard uncertainty: U-shaped", |row, _| type_b(Distribution::UShaped { half_width: row.number("a=") })),
    ("type B standard uncertainty: dial", |row, _| type_b(Distribution::Rectangular { half_width: row.number("a=") })),
    ("type B standard uncertainty: display", |row, _| {
        type_b(Distribution::Rectangular { half_width: row.number("a=") })
    }),
    ("type B standard uncertainty: audio 48 kHz, one edge", |row, _| edge(1000.0 / row.number("audio "))),
    ("type B standard uncertainty: audio 48 kHz, interval", |row, _| interval(1000.0 / row.number("audio "))),
    ("type B standard uncertainty: video", |row, _| interval(1000.0 / row.number("video "))),
    ("MET-083", |row, _| repeats(row).value()),
    ("MET-084", |row, _| experimental_standard_deviation(&readings(row)).expect("a scatter")),
    ("MET-085", |row, _| repeats(row).standard_uncertainty()),
    ("MET-086", |row, _| repeats(row).expanded_95()),
    ("MET-087", |row, _| {
        let exact_ms = 1000.0 * row.number("against ");
        photometry::stops_between(repeats(row).value(), exact_ms).expect("stops").value()
    }),
    ("MET-088", |row, _| {
        let mean = repeats(row);
        let sensitivity = 1.0 / (mean.value() * core::f64::consts::LN_2);
        combined(&[(sensitivity, mean.standard_uncertainty(), mean.degrees_of_freedom())]).standard_uncertainty
    }),
    ("MET-089", |row, _| reading_and_scale(row).standard_uncertainty),
    ("Welch-Satterthwaite", |_, rows| reading_and_scale(rows.named("MET-089")).degrees_of_freedom),
];

/// A published regression: all observations alike, their scatter unknown beforehand.
struct Regression {
    fit: Fit,
    y: Vec<f64>,
    variance: f64,
}

impl Regression {
    /// A stated variance far below the scatter, so that the fit scales it to what the residuals show.
    fn of(design: &[Vec<f64>], y: &[f64]) -> Self {
        let variance = 1e-10;
        let fit = generalised_least_squares(design, y, &vec![variance; y.len()], 0.0).expect("a fit");
        assert!(fit.is_scaled());
        Self { fit, y: y.to_vec(), variance }
    }

    fn residual_deviation(&self) -> f64 {
        self.fit.birge_ratio() * self.variance.sqrt()
    }
}

/// The thermometer of GUM H.3: correction against temperature above t0.
fn calibration(row: &Row) -> Regression {
    let t0 = row.number("t0=");
    let design: Vec<Vec<f64>> = row.list("tk=").iter().map(|t| vec![1.0, t - t0]).collect();
    Regression::of(&design, &row.list("bk="))
}

fn at_temperature(row: &Row) -> Estimate {
    calibration(row).fit.predict(&[1.0, row.number("b(") - row.number("t0=")])
}

fn norris(rows: &Rows) -> Regression {
    let row = rows.named("MET-010");
    let design: Vec<Vec<f64>> = row.list("x=").iter().map(|x| vec![1.0, *x]).collect();
    Regression::of(&design, &row.list("y="))
}

fn pontius(rows: &Rows) -> Regression {
    let row = rows.named("MET-017");
    let y = row.list("y=");
    let (step, loads) = (row.number("x="), row.number("i=1..") as usize);
    let design: Vec<Vec<f64>> =
        (0..y.len()).map(|k| step * (k % loads + 1) as f64).map(|x| vec![1.0, x, x * x]).collect();
    Regression::of(&design, &y)
}

fn through_origin(row: &Row) -> Regression {
    let whole = |mark: &str| {
        let ends = row.after(mark).split(';').next().expect("a range").split_once("..").expect("a range");
        let number = |text: &str| first_number(text).expect("an end") as u32;
        (number(ends.0)..=number(ends.1)).map(f64::from).collect::<Vec<_>>()
    };
    let design: Vec<Vec<f64>> = whole("x=").into_iter().map(|x| vec![x]).collect();
    Regression::of(&design, &whole("y="))
}

fn conformance(row: &Row, lower: f64, upper: f64) -> f64 {
    let estimate = Estimate::new(row.number("y="), row.number("u="), f64::INFINITY).expect("an estimate");
    conformance_probability(estimate, Tolerance::new(lower, upper).expect("a tolerance"))
}

fn risks(row: &Row) -> GlobalRisks {
    let interval = |mark: &str| {
        let (lower, upper) = row.after(mark).split_once("..").expect("an interval");
        let number = |text: &str| first_number(text).expect("a limit");
        Tolerance::new(number(lower), number(upper)).expect("an interval")
    };
    let production = numbers(row.after("prior N"));
    let risks =
        global_risks(production[0], production[1], row.number("um="), interval("tolerance "), interval("acceptance "));
    risks.expect("risks")
}

/// Upper limit of the acceptance interval with this guard band, or of the rejection limits with a negative one.
fn guarded(row: &Row, guard: f64) -> f64 {
    let tolerance = Tolerance::symmetric(row.number("TU=")).expect("a tolerance");
    tolerance.guarded(guard).expect("an interval").upper()
}

fn doubled(row: &Row) -> f64 {
    assert!(row.input.contains("U=2u"), "{}", row.id);
    2.0 * row.number("; u=")
}

fn type_b(distribution: Distribution) -> f64 {
    distribution.standard_uncertainty().expect("a doubt")
}

/// An edge that may lie anywhere within one sample.
fn edge(sample: f64) -> f64 {
    type_b(Distribution::Rectangular { half_width: sample / 2.0 })
}

fn interval(sample: f64) -> f64 {
    let one = (1.0, edge(sample), f64::INFINITY);
    combined(&[one, (-1.0, one.1, one.2)]).standard_uncertainty
}

fn combined(parts: &[(f64, f64, f64)]) -> Combined {
    let contributions = parts
        .iter()
        .map(|&(sensitivity, standard_uncertainty, degrees_of_freedom)| Contribution {
            name: "part".to_owned(),
            sensitivity,
            standard_uncertainty,
            degrees_of_freedom,
        })
        .collect();
    Budget { contributions, correlations: Vec::new() }.combined().expect("a combination")
}

fn readings(row: &Row) -> Vec<f64> {
    row.list("repeats ")
}

fn repeats(row: &Row) -> Estimate {
    mean_of(&readings(row)).expect("a mean")
}

fn reading_and_scale(row: &Row) -> Combined {
    let scale = type_b(Distribution::Rectangular { half_width: row.number("rectangular ") });
    combined(&[(1.0, row.number("combined u of "), row.number("nu=")), (1.0, scale, f64::INFINITY)])
}
