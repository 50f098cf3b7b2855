//! Nothing: the manifest beside this file is there to be fetched.
