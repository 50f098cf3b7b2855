//! How far the reading of inputs has come, for somebody who watches from another thread.

use std::sync::atomic::{AtomicU64, Ordering};

/// Elements to measure, and how many are measured.
#[derive(Debug, Default)]
pub struct Progress {
    total: AtomicU64,
    done: AtomicU64,
}

impl Progress {
    /// So many elements more are to be measured.
    pub fn expect(&self, count: usize) {
        self.total.fetch_add(count as u64, Ordering::Relaxed);
    }

    /// One of them is measured.
    pub fn step(&self) {
        self.done.fetch_add(1, Ordering::Relaxed);
    }

    /// How many are measured, of how many.
    pub fn so_far(&self) -> (u64, u64) {
        (self.done.load(Ordering::Relaxed), self.total.load(Ordering::Relaxed))
    }
}
