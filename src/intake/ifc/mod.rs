//! Building models in IFC, as exchange files of ISO 10303-21.
