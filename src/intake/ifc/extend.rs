//! A model as text to which records are to be added.

use super::container::unpack;
use super::file::File;
use crate::digest::sha256;
use crate::refusal::Refusal;
use crate::source::Place;

/// Name of the set of quantities that a takeoff is written as.
const OWN_SET: &[u8] = b"'Cavitally_Takeoff'";

/// Schema of a model, as far as the records that are written differ in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Schema {
    /// IFC2X3.
    Ifc2x3,
    /// IFC4.
    Ifc4,
    /// IFC4X3.
    Ifc4x3,
}

/// A model as text, and where records can be added to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ModelText {
    /// The exchange file, unpacked where it came in an archive.
    pub bytes: Vec<u8>,
    /// Where the records of its data section end.
    pub data_end: usize,
    /// The largest instance name.
    pub last_instance: u64,
    /// Its schema.
    pub schema: Schema,
    /// An owner history that an element has; `None` where none has one.
    pub owner_history: Option<u64>,
}

/// Reads a model again, to add records about some of its elements.
///
/// # Errors
/// A file that cannot be read any more, that is not what its checksum says, or that holds a takeoff already.
pub fn model_text(path: &str, checksum: &str, elements: &[u64]) -> Result<ModelText, Box<Refusal>> {
    let refuse = |message: String, help: &str| Box::new(Refusal::new(Place::input(path), message, help));
    let bytes = std::fs::read(path).map_err(|error| refuse(format!("the file cannot be read again: {error}"), ""))?;
    if sha256(&bytes) != checksum {
        return Err(refuse("the file has changed since it was read".to_owned(), "run the takeoff again"));
    }
    let content = unpack(path, &bytes)?;
    if memchr::memmem::find(&content, OWN_SET).is_some() {
        let message = "the model holds a saved takeoff already".to_owned();
        return Err(refuse(message, "take off the model that it was made from"));
    }
    let file = File::open(path, &content)?;
    let (data_end, last_instance) = file.end();
    let schema = match (file.is_schema("IFC2X3"), file.is_schema("IFC4X3")) {
        (true, _) => Schema::Ifc2x3,
        (_, true) => Schema::Ifc4x3,
        _ => Schema::Ifc4,
    };
    // Attribute 2 of every rooted entity.
    let owner_history = elements.iter().find_map(|id| file.record(*id).ok()?.optional_reference(1));
    Ok(ModelText { data_end, last_instance, schema, owner_history, bytes: content.into_owned() })
}
