//! Guards what is said of what does not come out: the nearest cure, the service room it stands in, and what hangs in a
//! sock.

mod sump;

use design::{Design, RemovableKind, Role};
use findings::Grade;
use fit::{Cure, Fit, Verdict, Way};

/// A box that is 280 mm wide and long inside, with an opening of 200 × 200 mm in its rim.
const BOX: &str = r#"
[box]
outside = { length = 296, width = 296, height = 360 }
sheet = "clear"
rim = { width = 48, corner = 1 }
[[along]]
chamber = "all"
[fit]
search = 20
"#;

fn design(more: &str) -> Design {
    sump::sump(&format!("{BOX}{more}"))
}

fn way<'a>(fit: &'a Fit, design: &Design, name: &str) -> &'a Way {
    let named = |way: &&Way| design.removables[way.removable].name == name;
    fit.report.ways.iter().find(named).expect("it is asked for")
}

/// A body with a collar of this size around its middle, too high to be laid down.
fn collared(collar: [f64; 2]) -> String {
    let [x, y] = collar;
    format!(
        "[[equipment]]\nname = \"reactor\"\nkind = \"reactor\"\nchamber = \"all\"\nbox = [150, 150, 330]\nat = [140, 140]\npart = [{{ box = [{x}, {y}, 100], at = [0, 0, 100] }}]\n"
    )
}

#[test]
fn what_is_a_little_too_wide_comes_out_if_narrower() {
    let design = design(&collared([203.0, 190.0]));
    let fit = Fit::of(&design);
    let way = way(&fit, &design, "reactor");
    assert!(way.steps.is_empty(), "{way:#?}");
    assert!(matches!(way.alone, Verdict::NotFound { .. }), "{:?}", way.alone);
    let Some(Cure::Smaller { by_mm }) = way.cure else { panic!("{:?}", way.cure) };
    // It is 3 mm too wide, and the tries are of 1, 2, 5 and 10 mm.
    assert!((by_mm - 5.0).abs() < 1e-9, "{by_mm}");
    // What it says is so.
    let narrower = self::design(&collared([203.0 - by_mm, 190.0]));
    let fit = Fit::of(&narrower);
    assert!(!self::way(&fit, &narrower, "reactor").steps.is_empty());
    let findings = fit::grade(&Fit::of(&design), &design);
    let told = findings.iter().find(|finding| finding.code == "way-out").expect("it is told");
    assert_eq!(told.grade, Grade::NotChecked);
    let text = told.to_string();
    assert!(text.contains("this is not a proof"), "{text}");
    assert!(text.contains("it comes out if another is chosen that is 5 mm shorter"), "{text}");
}

/// A stand whose roof leaves 50 mm beside the wall, and is too large to come out; a block under it.
fn under_a_roof(service: &str) -> String {
    format!(
        "[[equipment]]\nname = \"stand\"\nkind = \"other\"\nchamber = \"all\"\nbox = [100, 260, 150]\nat = [200, 140]\npart = [{{ box = [220, 270, 20], at = [-40, 0, 150] }}]\n\
         [[equipment]]\nname = \"block\"\nkind = \"other\"\nchamber = \"all\"\nbox = [66, 66, 100]\nat = [35, 140]\n{service}"
    )
}

#[test]
fn what_stands_under_another_comes_out_with_that_further() {
    let design = design(&under_a_roof(""));
    let fit = Fit::of(&design);
    assert!(way(&fit, &design, "stand").steps.is_empty(), "the stand is too large");
    let way = way(&fit, &design, "block");
    assert!(way.steps.is_empty(), "{way:#?}");
    let Some(Cure::Moved { removable, by_mm: [x, y] }) = way.cure else { panic!("{:?}", way.cure) };
    assert_eq!(design.removables[removable].name, "stand");
    assert!((x - 20.0).abs() < 1e-9 && y.abs() < 1e-9, "{x}, {y}");
    let findings = fit::grade(&fit, &design);
    let told = findings.iter().find(|f| f.message.contains("no way out of `block`"));
    let text = told.expect("it is told").to_string();
    assert!(text.contains("`stand` stands 20 mm towards"), "{text}");
}

#[test]
fn what_stands_in_a_service_room_and_has_no_way_out_is_told() {
    let design = design(&under_a_roof("service = { above = 100 }\n"));
    let fit = Fit::of(&design);
    let alone = &way(&fit, &design, "stand").alone;
    let findings = fit::grade(&fit, &design);
    let mut told = findings.iter().filter(|finding| finding.code == "service-room");
    let text = told.find(|f| f.message.contains("`block` needs")).expect("it is told").to_string();
    assert!(matches!(alone, Verdict::NotFound { .. }), "{alone:?}");
    assert!(text.starts_with("not checked[service-room] equipment[1]"), "{text}");
    assert!(text.contains("no way out is known for it to be taken out before"), "{text}");
}

#[test]
fn a_pipe_that_ends_in_a_sock_hangs_in_it() {
    let path = format!("{}/../../params/seahorse.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the demo is there");
    let file = params::read(&text).file.expect("it reads");
    let design = design::resolve(&file).design.expect("it resolves");
    let sock = design.removables.iter().position(|r| r.kind == RemovableKind::Sock);
    let sock = sock.expect("the demo has socks");
    let of_role = |role: Role| -> Vec<usize> {
        let is_one = |id: &usize| design.pieces[design.placed[*id].piece].role == role;
        (0..design.placed.len()).filter(is_one).collect()
    };
    let pipes: Vec<usize> = of_role(Role::DrainPipe);
    let [first, second] = [0, 1].map(|k| design.placed[pipes[k]].name.clone());
    let said = |which: usize, with: &[usize]| fit::in_its_place(which, with, &design);
    assert_eq!(said(sock, &pipes[..1]), format!("`{first}` hangs in it"));
    assert_eq!(said(sock, &pipes[..2]), format!("`{first}` and `{second}` hang in it"));
    // With anything else it is a clash, and so is a pipe in anything else.
    let walls = of_role(Role::Wall);
    assert!(said(sock, &[pipes[0], walls[0]]).starts_with("in its place it shares room with"));
    let leaf = design.removables.iter().position(|r| r.kind == RemovableKind::Leaf);
    let leaf = leaf.expect("the demo has lift-out leaves");
    assert!(said(leaf, &pipes[..1]).starts_with("in its place it shares room with"));
}
