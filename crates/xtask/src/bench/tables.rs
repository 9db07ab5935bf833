//! What a benchmark came to, as a fragment of Markdown: it is printed and may be put into the guides as it stands.
//!
//! Not here: how a table is set ([`super::rows`]).

use super::rows::{figure, ratio, shown, table, words};
use super::signals::{SECONDS, TAKE_SECONDS};
use super::{ROUNDS, RUNS, SHORT_RUNS, pictures};

/// Milliseconds of a NumPy reference on another machine, as published with the method; a remark, no race.
const NOTED_MS: [(&str, f64); 3] = [("sound", 254.0), ("light", 366.0), ("frames", 28.0)];
/// How much slower a phone is taken to be than this machine.
const PHONE: f64 = 4.0;

/// What was said natively, in the browser and in NumPy.
struct Said<'a> {
    native: &'a str,
    worker: &'a str,
    numpy: &'a str,
}

fn cells<const N: usize>(row: [&str; N]) -> Vec<String> {
    row.map(str::to_owned).to_vec()
}

impl Said<'_> {
    /// Native, WASM in the worker and as the page asks for it, NumPy and the floor, with ratios, and how many of our results the script in NumPy gives too.
    fn compared(&self, names: &[(&str, &str)]) -> String {
        let mut rows = vec![cells([
            "ms",
            "native",
            "WASM",
            "WASM/native",
            "asked",
            "NumPy",
            "NumPy/native",
            "floor",
            "same result",
        ])];
        for (name, words_of) in names {
            let own = figure(self.native, name);
            let (there, other) = (figure(self.worker, name), figure(self.numpy, name));
            rows.push(vec![
                (*words_of).to_owned(),
                shown(own),
                shown(there),
                ratio(own, there),
                shown(figure(self.worker, &format!("asked-{name}"))),
                shown(other),
                ratio(own, other),
                shown(figure(self.native, &format!("floor-{name}"))),
                words(self.numpy, &format!("agree-{name}")).unwrap_or("–").to_owned(),
            ]);
        }
        table(&rows)
    }

    /// Half, once and twice the input, natively.
    fn doubled(&self, heads: [&str; 4], names: &[&str]) -> String {
        let mut rows = vec![heads.iter().map(|head| (*head).to_owned()).chain(["twice/once".to_owned()]).collect()];
        for name in names {
            let of = |label: &str| figure(self.native, &format!("{name}{label}"));
            let (half, once, twice) = (of("-half"), of(""), of("-twice"));
            rows.push(vec![(*name).to_owned(), shown(half), shown(once), shown(twice), ratio(once, twice)]);
        }
        table(&rows)
    }

    fn remarks(&self) -> String {
        let mut text = String::new();
        if let (Some(own), Some(there)) = (figure(self.native, "take"), figure(self.worker, "asked-take")) {
            text += &format!(
                "A take of {TAKE_SECONDS} s of sound: {} ms natively, {} until the page has its answer, {} where everything takes {PHONE} times as long.\n",
                shown(Some(own)),
                shown(Some(there)),
                shown(Some(PHONE * there))
            );
        }
        let thousand = ["judging", "working-out", "showing"].map(|name| shown(figure(self.native, name)));
        let [judging, working_out, showing] = thousand;
        text += &format!(
            "1000 inspections of the demo's kind natively: {judging} ms judged; {working_out} ms with all that a file keeps of the result, texts and fingerprint included; {showing} ms with all that the page shows.\n"
        );
        let noted: Vec<String> = NOTED_MS.iter().map(|(name, ms)| format!("{name} {ms:.0} ms")).collect();
        text + &format!(
            "A NumPy reference on another machine was published with the method: {}; that is a scale, no race.\n",
            noted.join(", ")
        )
    }

    /// The list of ten thousand cameras: the longest task of each thing that is done with it.
    fn list(&self) -> String {
        const DONE: [(&str, &str); 5] = [
            ("open", "opened"),
            ("search", "searched"),
            ("sort", "sorted"),
            ("filter", "filtered"),
            ("scroll", "scrolled"),
        ];
        let mut rows = vec![cells(["list of 10,000 cameras", "longest task, ms"])];
        for (name, done) in DONE {
            let longest = match figure(self.worker, &format!("list-{name}")) {
                Some(0.0) => "under 50".to_owned(),
                longest => longest.map_or_else(|| "–".to_owned(), |longest| format!("{longest:.0}")),
            };
            rows.push(vec![done.to_owned(), longest]);
        }
        table(&rows)
    }
}

/// The whole fragment.
pub fn page(machine: &[String], native: &str, worker: &str, numpy: &str, onsets: &str) -> String {
    let said = Said { native, worker, numpy };
    let (width, height) = pictures::SIZE;
    let megapixels = |size: (u32, u32)| format!("{:.0} MP", f64::from(size.0) * f64::from(size.1) / 1e6);
    let [half, twice] = pictures::SIZES.map(|(_, size)| megapixels(size));
    let signals = said.compared(&[
        ("sound", "sound"),
        ("sound-fewer", "sound, fewer marks than shots"),
        ("light", "light trace"),
        ("frames", "frames"),
    ]);
    let pictures = said.compared(&[("patch", "patch"), ("openings", "opening"), ("fog", "fog")]);
    let lengths = said.doubled(["ms", "30 s", "60 s", "120 s"], &["sound", "light", "frames"]);
    let pixels = said.doubled(["ms", &half, &megapixels((width, height)), &twice], &["patch", "openings", "fog"]);
    let all = onsets.lines().last().unwrap_or_default().split_whitespace().collect::<Vec<_>>().join(" ");
    format!(
        "Machine: {}.\n\n\
         The least of {ROUNDS} rounds of {RUNS}, of frames of {SHORT_RUNS}, in one run on one machine. WASM is the time in the page's worker until \
         the answer stands there as JSON (of frames, ten times at once: the browser's clock goes by tenths of a millisecond), asked what passes \
         between the page's question and its answer; of a picture, which goes over strip by strip, WASM is both. NumPy is the same algorithm in \
         NumPy and SciPy (`tests/bench`), the floor is reading the input once.\n\n\
         {SECONDS} s of signal (48 kHz, mono; frames at 240 a second):\n\n{signals}\n\
         A picture of {width} × {height} pixels:\n\n{pictures}\n\
         Cost against the length and the pixels, natively:\n\n{lengths}\n{pixels}\n\
         None of the list's tasks should last 50 ms:\n\n{}\n{}\
         Impacts that a detector of SciPy's finds within 1 ms too: {all}.\n",
        machine.join("; "),
        said.list(),
        said.remarks(),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_measured_stands_beside_one_another_and_what_was_not_is_a_dash() {
        let native = "sound 40\nsound-half 20\nsound-twice 84\nfloor-sound 1.5\npatch 20\n";
        let numpy = "agree-sound 103 of 103\nsound 600\n";
        let page = page(
            &["a machine".to_owned()],
            native,
            "sound 60\nasked-sound 66\n",
            numpy,
            "a   1 of 2\nall   9 of  10\n",
        );
        let row = |name: &str| page.lines().find(|line| line.starts_with(name)).unwrap_or_default();
        let cells =
            |name: &str| row(name).split('|').map(str::trim).filter(|cell| !cell.is_empty()).collect::<Vec<_>>();
        assert_eq!(
            cells("| sound "),
            ["sound", "40.0", "60.0", "1.5 ×", "66.0", "600", "15.0 ×", "1.50", "103 of 103"]
        );
        assert_eq!(cells("| patch "), ["patch", "20.0", "–", "–", "–", "–", "–", "–", "–"]);
        assert!(page.starts_with("Machine: a machine.\n") && page.contains("finds within 1 ms too: all 9 of 10."));
        assert!(page.contains("20.0 |") && page.contains("2.1 × |"));
    }
}
