//! How long a minute of recording takes, printed for whoever asks; run in release with `--ignored`.
//!
//! Not here: any limit, for a machine's clock proves nothing in a test.

mod sound_maker;

use sound_maker::{Camera, Scene};
use timing::sound::{About, Shutter, listen, measure};
use timing::{Stretch, Waveform};

#[test]
#[ignore = "prints times and asserts none"]
fn a_minute_with_35_shots() {
    let scene = Scene::of(Shutter::Cloth, false);
    let ladder = [0.25, 0.125, 1.0 / 15.0, 1.0 / 30.0, 1.0 / 60.0, 1.0 / 125.0, 1.0 / 250.0];
    let marked: Vec<f64> = ladder.iter().flat_map(|&m| [m; 5]).collect();
    let (take, _) = Camera::new(scene, 3).take(&marked, 1.55);
    let about = About { shutter: Shutter::Cloth, mirror: false, marked_s: marked, anchor: None };
    let seconds = take.kept() as f64 / take.rate_hz();
    let mut times: Vec<f64> = (0..7)
        .map(|_| {
            let begin = std::time::Instant::now();
            let found = measure(vec![take.clone()], &about).expect("a take");
            assert!(found.shots.len() == 35);
            begin.elapsed().as_secs_f64() * 1e3
        })
        .collect();
    times.sort_by(f64::total_cmp);
    println!("{seconds:.1} s of recording: {:.1} ms", times[3]);
    let last: Vec<f32> = take.stretches()[0].samples[..4 * 48_000].to_vec();
    let window = Waveform::new(48_000.0, vec![Stretch { start: 0, samples: last }]).expect("a window");
    let begin = std::time::Instant::now();
    let heard = listen(&window, &About { marked_s: vec![0.25], ..about }).expect("a window");
    println!("4 s heard: {:.2} ms, {} shots", begin.elapsed().as_secs_f64() * 1e3, heard.heard.len());
}
