//! One minimal bad input for each kind of error: the place, what is said, and that good rows survive.

mod conditions;
mod job_surfaces;
mod outlines;
mod sheets;
