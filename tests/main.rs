//! Tests from outside, in one binary: against other hands, against bad input, and of the project's own order.

mod house;
mod reference;
mod seeds;
mod support;
mod tidy;
