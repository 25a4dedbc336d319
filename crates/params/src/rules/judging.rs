//! Limits and rehearsals: numbers and names that must agree.

use super::{Rules, each};
use crate::words::quoted;

pub(super) fn check(rules: &mut Rules<'_>) {
    let path = "limits.trickle";
    rules.in_order(path, rules.file.limits.trickle, "share", |share| share.to_string());
    for pair in each("rehearsals.together", &rules.file.rehearsals.together) {
        let [first, second] = pair.value;
        if first == second {
            let message = format!("{} is paired with itself", quoted(first));
            let hint = "name two different failures, or delete the pair";
            rules.no_effect(&pair.path, &[], message, hint);
        }
    }
}
