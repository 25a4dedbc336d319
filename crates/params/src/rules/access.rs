//! What reaches in: a hand that is broader than thick, and tools longer than their heads.

use findings::Finding;

use super::{Rules, each};
use crate::words::quoted;

pub(super) fn check(rules: &mut Rules<'_>) {
    let path = "reach.hand";
    let [breadth, thickness] = rules.file.reach.hand;
    if breadth < thickness {
        let message = format!(
            "the hand is {} broad and {} thick",
            rules.show(breadth),
            rules.show(thickness)
        );
        let finding = Finding::fails("hand-order", path, message)
            .with_hint("write its breadth first, then its thickness");
        rules.add(&[path], finding);
    }
    for tool in each("reach.tool", &rules.file.reach.tool) {
        let what = "the tool is no longer than its head";
        rules.larger(
            [
                (tool.key("length"), tool.value.length),
                (tool.key("head_length"), tool.value.head_length),
            ],
            what,
        );
        if tool.value.name.eq_ignore_ascii_case("hand") {
            let path = tool.key("name");
            let message = format!("{} is what the bare hand is called", quoted(&tool.value.name));
            let finding = Finding::fails("name-taken", &path, message).with_hint(
                "give it a name of its own; sizes of the hand are `hand`, `arm` and `length`",
            );
            rules.add(&[&path], finding);
        }
    }
}
