//! What to mind where failures of water, and ways out, are told of.

use findings::{Finding, Grade};

/// Codes of findings about failures that can put water on the floor.
const FLOODS: &[&str] = &[
    "power-cut",
    "power-back",
    "drain-blocked",
    "socks-clogged",
    "leaf-missing",
    "door-off",
    "door-shut",
    "top-up-stuck",
    "check-valve-fails",
    "break-hole-blocked",
    "seam-leaks",
    "cup-overflows",
    "failures-together",
];

/// Whether a finding tells of water that runs over, or nearly.
pub fn is_flood(finding: &Finding) -> bool {
    let is_bad = matches!(finding.grade, Grade::Fails | Grade::Tight);
    is_bad && FLOODS.contains(&finding.code)
}

/// The usual caution beside estimates of levels and floods.
pub const ESTIMATES: &str = "These numbers are estimates from formulas, each with its doubt; no sump is built \
    exactly as drawn. Before you trust them, fill the system, unplug the pump by hand while you watch, then block \
    the drain that carries most, and be ready to stop it.";

/// The same where it is known which drain that is.
pub fn estimates(drain: &str) -> String {
    ESTIMATES
        .replace("the drain that carries most", &format!("the drain “{drain}”, which carries most"))
}

/// The usual caution about mains beside water.
pub const MAINS: &str = "Where water can run over it can reach mains: let every cable hang in a drip loop below \
    its socket, plug everything in through a residual-current device (RCD, GFCI), keep sockets above and beside the \
    sump, not under it, and leave fixed wiring to a licensed electrician.";

/// What to mind before a leaf, a pump or a sock is lifted out.
pub const LIFTING: &str = "Before you lift anything out: switch off pumps and heaters and pull their plugs with \
    dry hands, then let the water come to rest. Wet hands and mains do not go together. A pump, a skimmer or a sock \
    full of water is heavier than it looks: let it drain over the sump, and take a second pair of hands where one is \
    not enough. A leaf that is lifted under water lets the levels on both sides run together.";

/// What to mind where animals live in the sump.
pub const ANIMALS: &str = "Where animals live, look first where each of them is: nothing is lowered or tipped \
    onto one, and a leaf that is lifted lets it pass into the next chamber, and from there to the pump.";

/// What to mind before the sump itself is moved.
pub const MOVING: &str = "The sump is moved empty only: what its way is told for is the box alone, and a litre or \
    quart of water left in it weighs a kilogram or two pounds, and runs to one end. Lift it by the bottom, by as many people as its weight needs, \
    never by its rim or a leaf.";

/// Who comes before all of this.
pub const LOCAL: &str = "Local codes, the makers' instructions for pumps and heaters, and licensed people come \
    before anything told here.";
