//! Areas of models by others, against figures that another kernel computed.

mod bad_input;
mod builder_walls;
mod fzk_haus;

mod parts;
mod shapes;
mod stored_plates;
mod stored_reference;
mod written_walls;
