//! Guards the caution about sockets that wet hands and wet parts pass.

mod sump;

use findings::{Finding, Grade};
use fit::Fit;

const SUMP: &str = r#"
[box]
outside = { length = 500, width = 350, height = 300 }
sheet = "clear"
[[along]]
chamber = "all"
[[equipment]]
name = "heater"
kind = "heater"
chamber = "all"
cylinder = { diameter = 30, height = 200 }
at = [400, 160]
[cabinet]
inside = { length = 900, width = 450, height = 700 }
opening = [{ side = "front" }]
sump_at = [50, 50]
"#;

fn cautions(fixture: &str) -> Vec<Finding> {
    let design = sump::sump(&format!("{SUMP}fixture = [{{ {fixture} }}]\n"));
    let mut findings = fit::grade(&Fit::of(&design), &design);
    findings.retain(|finding| finding.code == "mains-near-water");
    findings
}

#[test]
fn a_socket_strip_over_the_sump_is_cautioned_about() {
    let strip = "name = \"socket strip\", box = [200, 40, 60], at = [300, 350, 400]";
    let found = cautions(strip);
    let [finding] = &found[..] else { panic!("{found:#?}") };
    assert_eq!((finding.grade, finding.parameter.as_str()), (Grade::Tight, "cabinet.fixture[0]"));
    let text = finding.to_string();
    // The heater's face is 50 + 8 + 160 + 15 mm behind the cabinet's front, the strip's 350 mm.
    assert!(text.contains("on its way out `heater` passes it 117 mm off"), "{text}");
    assert!(text.contains("residual-current device"), "{text}");
    assert!(text.contains("it stands where an arm reaches into the sump"), "{text}");
}

/// The gap on a straight way up is that seen from above: the heater's face at y = 50 + 8 + 160 + 15 = 233 in the cabinet.
#[test]
fn the_gap_is_that_on_the_way() {
    // As deep as the door allows no other way: a strip 100 mm behind the heater, at its height on the way.
    let found = cautions("name = \"strip\", box = [200, 40, 350], at = [360, 333, 350]");
    let text = found[0].to_string();
    let told = text.split("`heater` passes it ").nth(1).expect("it is told");
    let mm: f64 = told.split(' ').next().and_then(|mm| mm.parse().ok()).expect("a number");
    assert!((99.0..=101.0).contains(&mm), "{text}");
}

#[test]
fn what_is_not_called_so_is_only_told_with_if() {
    let found = cautions("name = \"cupboard\", box = [200, 40, 60], at = [300, 410, 400]");
    assert_eq!(found[0].grade, Grade::Holds);
    let message = &found[0].message;
    assert!(message.starts_with("if `cupboard` carries mains"), "{message}");
    assert!(message.contains("an arm that reaches into the sump may come within"), "{message}");
    let canister =
        "name = \"canister\", cylinder = { diameter = 60, height = 60 }, at = [300, 410, 400]";
    assert!(cautions(canister).is_empty());
}

#[test]
fn what_is_far_needs_no_caution() {
    let far = "name = \"power strip\", box = [40, 40, 60], at = [860, 410, 20]";
    assert!(cautions(far).is_empty(), "{:#?}", cautions(far));
}
