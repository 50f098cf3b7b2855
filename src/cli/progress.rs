//! A bar on the terminal while inputs are read, for those that take over a second.

use crate::intake::Progress;
use indicatif::{ProgressBar, ProgressStyle};
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::time::{Duration, Instant};

/// Work that ends sooner shows no bar.
const PATIENCE: Duration = Duration::from_secs(1);
/// How often the bar is drawn.
const BEAT: Duration = Duration::from_millis(100);

/// Does some work, and shows how far it has come; nothing is shown where standard error is no terminal.
pub(super) fn watched<T>(work: impl FnOnce(&Progress) -> T) -> T {
    let progress = &Progress::default();
    let (finished, waiting) = channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            let started = Instant::now();
            let mut bar: Option<ProgressBar> = None;
            while waiting.recv_timeout(BEAT) == Err(RecvTimeoutError::Timeout) {
                if started.elapsed() >= PATIENCE {
                    draw(bar.get_or_insert_with(new_bar), progress);
                }
            }
            if let Some(bar) = bar {
                bar.finish_and_clear();
            }
        });
        let outcome = work(progress);
        drop(finished);
        outcome
    })
}

fn new_bar() -> ProgressBar {
    let style =
        ProgressStyle::with_template("{msg} {bar:40} {pos}/{len}").unwrap_or_else(|_| ProgressStyle::default_bar());
    ProgressBar::new(0).with_style(style)
}

fn draw(bar: &ProgressBar, progress: &Progress) {
    let (done, total) = progress.so_far();
    // A bar of no length counts as full.
    bar.set_length(total.max(1));
    bar.set_message(if total == 0 { "reading" } else { "measuring" });
    bar.set_position(done);
}
