//! Papers to print, fill in and sign: self-contained pages, one file each, without script or anything from elsewhere.

mod opinion;
mod shell;

pub use opinion::opinion_html;
