//! Guards what is written against an independent reader of glTF.
