//! All tests against the outside, in one binary.

mod laws;
