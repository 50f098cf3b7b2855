//! Worked figures from outside, each with its source beside it.

mod fill;
