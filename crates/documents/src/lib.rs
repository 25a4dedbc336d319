//! The papers of a sump: drawings of its panels, cutting sheets, lists, the glue-up guide, the commissioning sheet, and
//! the letter to the shop.
//!
//! Knows what stands on them. Knows no file format: pages go to `export` as plain marks.
