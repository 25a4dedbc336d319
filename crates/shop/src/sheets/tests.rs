//! Guards what is laid for whole files.
