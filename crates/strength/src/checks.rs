//! What is found, in the words of the keeper: one module for each matter.

pub(crate) mod doors;
pub(crate) mod material;
pub(crate) mod panels;
pub(crate) mod seams;
pub(crate) mod tolerance;
pub(crate) mod weight;
