//! `lampblack frames`: the times of the shots in a clip, from a table of its frames' brightness.
//!
//! Not here: how a shot is found (`timing`), how a clip becomes a table (the page).

use std::path::PathBuf;

use lexopt::{Arg, Parser};
use record::limits::COLUMNS;
use record::shell;
use timing::frames::{
    About, Column, Curve, CurveKnown, MOST_FRAMES, POSITIONS, Range, Strip, Table, column, from_codes,
};
use timing::{frames, shots};

use crate::error::{Failure, one_line};
use crate::readings::{broken, number};
use crate::shutter::{REPEATS, chosen};
use crate::{Answer, file, shot_table, usage};

/// What the column of times may be called.
const TIMES: [&str; 2] = ["t", "time_s"];
/// Columns that count frames and hold nothing else.
const COUNTS: [&str; 4] = ["frame", "frames", "index", "n"];

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut marks, mut duty) = (None::<PathBuf>, Vec::new(), None);
    let (mut curve, mut range, mut as_json) = (Curve::Bt709, Range::Limited, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("marked") => marks = shot_table::marks(call)?,
            Arg::Long("duty") => duty = Some(usage::number(call, "--duty")?),
            Arg::Long("curve") => curve = chosen(call, "--curve", &Curve::ALL.map(|curve| (curve.key(), curve)))?,
            Arg::Long("range") => range = chosen(call, "--range", &Range::ALL.map(|range| (range.key(), range)))?,
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the table of frames (FILE.csv)")?;
    let place = file::name(&path);
    let table = table(&file::read(&path)?, curve, range).map_err(|failure| failure.at(&place))?;
    let marked_s: Vec<f64> = marks.iter().map(|mark| mark.exact().value()).collect();
    let curve_known = if curve == Curve::Linear { CurveKnown::Calibrated } else { CurveKnown::Assumed };
    let about = About { duty, curve_known, marked_s: marked_s.clone(), ..About::default() };
    let refused = |error: timing::Error| Failure::from(error).at(&place);
    let mut take = frames::measure(&table, &about).map_err(refused)?;
    shots::put(&mut take, &marked_s, REPEATS).map_err(refused)?;
    let result = shell::timing::frames(&take, &marks);
    if as_json {
        return Ok(shell::json(&result)?);
    }
    let rate = result.sample_rate_hz.map_or_else(|| "–".to_owned(), |rate| metrology::to_decimals(rate, 2));
    let head = format!("{} frames, {rate} a second", table.times_s().len());
    Ok(shot_table::said(&head, &take, &marks, &result))
}

/// Where what is measured stands in a row.
struct Columns {
    time: usize,
    /// Strips of mean codes, and of linear light.
    codes: Vec<(usize, &'static str)>,
    linear: Vec<(usize, &'static str)>,
}

/// Finds the columns by their names; where no strip has a name that is known, the columns behind the time are the strips.
fn columns(heads: &csv::StringRecord) -> Result<Columns, Failure> {
    if heads.len() > COLUMNS {
        return Err(Failure::None(format!("the table has {} columns, and at most {COLUMNS} are taken", heads.len())));
    }
    let mut times = heads.iter().enumerate().filter(|(_, head)| TIMES.contains(head));
    let time = match (times.next(), times.next()) {
        (Some((time, _)), None) => time,
        (Some(_), Some(_)) => {
            return Err(Failure::None("the column of times stands twice in the first line".to_owned()));
        }
        (None, _) => {
            return Err(Failure::None(format!(
                "the column of times is missing: the first line must name {}",
                TIMES.join(" or ")
            )));
        }
    };
    let mut strips: Vec<(usize, Column)> =
        heads.iter().enumerate().filter_map(|(i, head)| Some((i, column(head)?))).collect();
    if strips.is_empty() {
        let others: Vec<(usize, bool)> = heads
            .iter()
            .enumerate()
            .skip(time + 1)
            .filter(|(_, head)| !COUNTS.contains(head))
            .map(|(i, head)| (i, head.to_ascii_lowercase().ends_with("lin")))
            .collect();
        let positions: &[&'static str] = match others.len() {
            1 => &POSITIONS[1..2],
            2 => &[POSITIONS[0], POSITIONS[2]],
            3 => &POSITIONS,
            count => {
                return Err(Failure::None(format!(
                    "the strips are not known by their names: call them L, M and R (or Llin, Mlin and Rlin for linear light), \
                     or give 1 to 3 columns behind the times, and {count} are there"
                )));
            }
        };
        let named = others.iter().zip(positions);
        strips = named.map(|(&(i, linear), &position)| (i, Column { position, linear })).collect();
    }
    let of = |linear: bool| -> Vec<(usize, &'static str)> {
        strips.iter().filter(|(_, strip)| strip.linear == linear).map(|(i, strip)| (*i, strip.position)).collect()
    };
    Ok(Columns { time, codes: of(false), linear: of(true) })
}

/// Reads the frames, each row one. Linear light is taken where it is there; the codes beside it still tell what is clipped.
fn table(text: &str, curve: Curve, range: Range) -> Result<Table, Failure> {
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
    let heads = reader.headers().map_err(|error| Failure::None(format!("the table cannot be read: {error}")))?.clone();
    let columns = columns(&heads)?;
    let mut times = Vec::new();
    let strips = |columns: &[(usize, &'static str)]| -> Vec<Strip> {
        columns.iter().map(|(_, name)| Strip { name: (*name).to_owned(), values: Vec::new() }).collect()
    };
    let (mut codes, mut linear) = (strips(&columns.codes), strips(&columns.linear));
    for (i, row) in reader.records().enumerate() {
        let place = format!("row {}", i + 1);
        if i == MOST_FRAMES {
            return Err(Failure::None(format!("the table has more than {MOST_FRAMES} rows, which is the most")));
        }
        let row = row.map_err(|error| Failure::None(format!("{place}: {}", broken(&error))))?;
        let cell = |at: usize| {
            number(row.get(at).unwrap_or_default(), &one_line(heads.get(at).unwrap_or_default()))
                .map_err(|failure| failure.at(&place))
        };
        times.push(cell(columns.time)?);
        for (strips, columns) in [(&mut codes, &columns.codes), (&mut linear, &columns.linear)] {
            for (strip, (at, _)) in strips.iter_mut().zip(columns) {
                strip.values.push(cell(*at)?);
            }
        }
    }
    if linear.is_empty() {
        return Ok(from_codes(times, codes, curve, range)?);
    }
    if let Some(alone) = codes.iter().find(|strip| linear.iter().all(|linear| linear.name != strip.name)) {
        return Err(Failure::None(format!(
            "the strips must all have linear light or none of them, and the {} one has only codes",
            alone.name
        )));
    }
    let light = Table::new(times.clone(), linear)?;
    if codes.is_empty() || curve == Curve::Linear {
        return Ok(light);
    }
    Ok(light.with_clipped_share(from_codes(times, codes, curve, range)?.clipped_share().to_vec())?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(head: &str, row: &str) -> Result<Table, Failure> {
        let rows: String = (0..20).map(|i| format!("{:.6},{row}\n", f64::from(i) / 240.0)).collect();
        table(&format!("{head}\n{rows}"), Curve::Bt709, Range::Limited)
    }

    fn names(table: &Table) -> Vec<&str> {
        table.strips().iter().map(|strip| strip.name.as_str()).collect()
    }

    fn refused(head: &str, row: &str) -> String {
        of(head, row).expect_err(head).to_string()
    }

    #[test]
    fn linear_light_is_taken_where_it_is_there() {
        let both = of("\u{feff}t,L,M,R,Llin,Mlin,Rlin", "235,16,16,0.5,0.25,0.125").expect("a table");
        assert_eq!(names(&both), ["left", "middle", "right"]);
        assert_eq!((both.strips()[0].values[3], both.clipped_share()[3]), (0.5, 1.0));
        let codes = of("time_s,M,frame", "235,7").expect("a table");
        assert_eq!((names(&codes), codes.strips()[0].values[0]), (vec!["middle"], 1.0));
        assert!(codes.notices().iter().any(|notice| notice.code == "codes-averaged-first"));
    }

    #[test]
    fn strips_without_a_known_name_stand_in_their_order() {
        assert_eq!(names(&of("t,mean", "100").expect("a table")), ["middle"]);
        assert_eq!(names(&of("t,top,bottom", "100,90").expect("a table")), ["left", "right"]);
        let light = of("t,frame,a_lin,b_lin,c_lin", "5,0.5,0.5,0.5").expect("a table");
        assert_eq!((light.strips().len(), light.strips()[2].values[0]), (3, 0.5));
    }

    #[test]
    fn what_cannot_be_is_refused_with_its_row() {
        assert!(refused("t,M", "bright").contains("row 1: the M must be a number, and \"bright\" was given"));
        assert!(refused("t,M", "").contains("the M is empty"));
        assert!(refused("t,M", "1,2").contains("row 1: it has 3 cells"));
        assert!(refused("t,M", "NaN").contains("must be a number"));
        assert!(refused("time,M", "1").contains("must name t or time_s"));
        assert!(refused("t,time_s", "1").contains("stands twice"));
        assert!(refused("t,M,M", "1,2").contains("middle was given twice"));
        assert!(refused("t,Llin,R", "0.1,16").contains("the right one has only codes"));
        assert!(refused("t,a,b,c,d", "1,1,1,1").contains("4 are there"));
        assert!(refused("t,M", "300").contains("between 0 and 255"));
        let wide = format!("t{}", ",x".repeat(COLUMNS));
        assert!(refused(&wide, "1").contains("at most 64"));
        assert!(
            table("", Curve::Bt709, Range::Full).is_err() && table("t,M\n0,1\n", Curve::Bt709, Range::Full).is_err()
        );
    }
}
