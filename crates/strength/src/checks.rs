//! What is found, in the words of the keeper: one module for each matter.

pub(crate) mod doors;
pub(crate) mod guides;
pub(crate) mod material;
pub(crate) mod panels;
pub(crate) mod remedies;
pub(crate) mod seams;
pub(crate) mod strain;
pub(crate) mod tolerance;
pub(crate) mod verdict;
pub(crate) mod weight;
