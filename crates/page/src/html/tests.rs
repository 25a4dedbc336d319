//! Guards what stands in the page: all of it, as text that is only text, and nothing that asks the network.

use findings::Grade;
use fit::{Motion, Move, MoveKind, Rigid};
use glam::{DQuat, DVec2, DVec3};
use serde_json::Value;
use show::{
    Basin, Door, Event, Finding, Flows, Group, PartRow, Rehearsal, Rescue, Show, Slot, Step, Stop,
    Thing, WayOut,
};

use super::{Bending, write};

/// Every text of it bears its own mark, and letters that HTML would read as its own.
fn show() -> Show {
    let motion =
        Motion::turn(Rigid::HOME, DQuat::from_rotation_x(0.4), DVec3::new(1.0, 2.0, 1.0 / 3.0));
    let moved = Move {
        kind: MoveKind::Tip,
        words: "tip it <23> degrees".into(),
        begin_s: 0.0,
        end_s: 1.25,
        from: motion.from,
        to: motion.to,
        pivot: motion.pivot,
        distance_mm: 0.0,
        angle_deg: 23.0,
    };
    let step = |name: &str| Step {
        name: format!("{name} & knob"),
        things: vec![0],
        undone: vec![1],
        undo: Some("take off <its> knob".into()),
        moves: vec![moved.clone()],
        least_gap: format!("{name} 2 mm at its closest"),
    };
    let thing = |name: &str, group| Thing {
        name: name.into(),
        group,
        what: "leaf".into(),
        parameter: "chamber[1].leaf".into(),
        line: Some(12),
        size: "300 × 200 × 6 mm".into(),
        stock: None,
        mass: None,
        findings: vec![0],
        way: Some(0),
    };
    let finding = |grade, message: &str| Finding {
        grade,
        code: "code".into(),
        message: message.into(),
        hint: Some(format!("hint to {message}")),
        parameter: "fit.gap".into(),
        line: Some(7),
        things: vec![0],
    };
    Show {
        title: "Sump of <b>R&D</b>".into(),
        is_us: false,
        outside_mm: DVec3::new(900.0, 400.0, 350.0),
        floor_z_mm: 8.0,
        is_in_flow: true,
        things: vec![
            thing("leaf \"A\"", Group::Sump),
            thing("pump", Group::Equipment),
            thing("spare leaf", Group::Spare),
        ],
        basins: vec![Basin {
            name: "inlet & more".into(),
            parameter: "chamber[0]".into(),
            is_chamber: true,
            min_mm: DVec2::new(6.0, 6.0),
            max_mm: DVec2::new(200.0, 390.0),
            level_mm: 231.4,
        }],
        ways: vec![
            WayOut { name: "leaf".into(), verdict: "comes out".into(), steps: vec![step("way")] },
            WayOut { name: "stuck".into(), verdict: "no way is known".into(), steps: Vec::new() },
        ],
        before_hands: "switch <everything> off".into(),
        emptying: vec![step("emptying")],
        rescue: Some(Rescue {
            chamber: "inlet".into(),
            verdict: "reached after one".into(),
            steps: vec![step("rescue")],
        }),
        slots: vec![Slot {
            name: "first".into(),
            leaves: vec![("comb".into(), vec![0]), ("<letterbox>".into(), vec![2])],
        }],
        doors: vec![Door {
            leaf: "gate".into(),
            things: vec![0],
            lowest_mm: 180.4,
            highest_mm: 220.0,
            set_mm: 201.0,
        }],
        rehearsals: vec![Rehearsal {
            name: "power cut".into(),
            words: "the power goes, and the line of `pump` is open".into(),
            verdict: "nothing on the floor".into(),
            times_s: vec![0.0, 12.345, 5400.0],
            levels_mm: vec![vec![231.44, 240.06, 250.0]],
            display_mm: vec![500.0, 490.0, 490.0],
            spilled_l: [vec![0.0; 3], vec![0.0; 3]],
            flows: vec![Flows { name: "pump".into(), l_h: vec![1.0, 0.0, 0.0] }],
            events: vec![Event { t_s: 5400.0, words: "the siphon </script> breaks".into() }],
        }],
        stops: vec![Stop {
            title: "first stop".into(),
            text: vec!["what it is for".into()],
            findings: vec![1],
            about: [DVec3::ZERO, DVec3::ONE],
            from: -DVec3::Y,
        }],
        findings: vec![
            finding(Grade::Fails, "it is <too> low"),
            finding(Grade::Holds, "it is wide enough"),
        ],
        parts: vec![PartRow {
            number: "01".into(),
            name: "bottom".into(),
            count: 1,
            size: "900 × 400 mm".into(),
            stock: "clear 8".into(),
            mass: Some("3.4 kg".into()),
        }],
    }
}

const SVG: &str = "<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\"><text>section text</text></svg>\n";

/// What the viewer reads out of the page.
fn data(page: &str) -> Value {
    serde_json::from_slice(&unpacked(page, "show")).expect("it is JSON")
}

fn unpacked(page: &str, id: &str) -> Vec<u8> {
    let begin = format!("<script type=\"text/plain\" id=\"{id}\">");
    let text = page.split(&begin).nth(1).and_then(|rest| rest.split("</script>").next());
    let digits = text.expect("it is there").bytes().filter(|b| *b != b'=').map(|b| match b {
        b'A'..=b'Z' => b - b'A',
        b'a'..=b'z' => b - b'a' + 26,
        b'0'..=b'9' => b - b'0' + 52,
        b'+' => 62,
        b'/' => 63,
        other => panic!("{other} is no digit of base 64"),
    });
    let (mut bytes, mut bits, mut count) = (Vec::new(), 0_u32, 0);
    for digit in digits {
        (bits, count) = (bits << 6 | u32::from(digit), count + 6);
        if count >= 8 {
            count -= 8;
            bytes.push(u8::try_from(bits >> count & 255).expect("a byte"));
        }
    }
    miniz_oxide::inflate::decompress_to_vec_zlib(&bytes).expect("it is packed")
}

#[test]
fn everything_is_told_as_text() {
    let page = write(&show(), b"model", SVG, &[]);
    for told in [
        "Sump of &lt;b&gt;R&amp;D&lt;/b&gt;",
        "900 mm long, 400 mm deep, 350 mm high outside; 1 failing, 0 tight",
        "inlet &amp; more",
        "231 mm",
        "tip it &lt;23&gt; degrees",
        "take off &lt;its&gt; knob",
        "way 2 mm at its closest",
        "rescue 2 mm at its closest",
        "emptying 2 mm at its closest",
        "Switch &lt;everything&gt; off",
        "No way is known",
        "The power goes",
        "Nothing on the floor",
        "<span>1.5 h</span>",
        "between 231 mm and 250 mm",
        "the siphon &lt;/script&gt; breaks",
        "First stop",
        "What it is for",
        "It is &lt;too&gt; low",
        "Hint to it is &lt;too&gt; low",
        "<code>fit.gap</code>, line 7",
        "section text",
        "3.4 kg",
        "the line of <i>pump</i>",
        "Divider first",
        "&lt;letterbox&gt;",
        "<td>180 mm</td><td>201 mm</td><td>220 mm</td>",
    ] {
        assert!(page.contains(told), "{told}");
    }
    for bare in ["<too>", "<its>", "<b>R", "<?xml", "<23>"] {
        assert!(!page.contains(bare), "{bare}");
    }
}

#[test]
fn what_has_no_way_has_nothing_to_play() {
    let page = write(&show(), b"model", SVG, &[]);
    assert!(page.contains("data-way=\"0\"") && !page.contains("data-way=\"1\""));
    for played in ["data-rescue", "data-emptying", "data-rehearsal=\"0\"", "data-stop=\"0\""] {
        assert!(page.contains(&format!("<button type=\"button\" {played}")), "{played}");
    }
}

#[test]
fn a_leaf_is_shown_in_the_place_of_the_others() {
    let page = write(&show(), b"model", SVG, &[]);
    for switch in ["data-in=\"0\" data-out=\"2\"", "data-in=\"2\" data-out=\"0\""] {
        assert!(page.contains(switch), "{switch}");
    }
    assert!(page.contains("comb, in by the file") && page.contains("works out no water"));
}

#[test]
fn spares_and_what_is_around_are_off_at_first() {
    let page = write(&show(), b"model", SVG, &[]);
    assert!(page.contains("data-thing=\"0\" checked"));
    assert!(page.contains("data-thing=\"2\" data-needs-model"));
}

#[test]
fn the_viewer_is_told_what_it_plays() {
    let show = show();
    let page = write(&show, b"the bytes of a model", SVG, &[]);
    assert_eq!(unpacked(&page, "model"), b"the bytes of a model");
    assert_eq!(unpacked(&page, "viewer"), super::VIEWER.as_bytes());
    let data = data(&page);
    let told = &data["ways"][0]["steps"][0]["moves"][0];
    let meant = &show.ways[0].steps[0].moves[0];
    assert_eq!(told["words"], meant.words.as_str());
    for (told, meant) in [
        (&told["to"]["turn"], meant.to.turn.to_array().to_vec()),
        (&told["to"]["shift"], meant.to.shift.to_array().to_vec()),
        (&told["pivot"], meant.pivot.to_array().to_vec()),
    ] {
        let told: Vec<f64> = told.as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
        assert_eq!(told.len(), meant.len());
        assert!(told.iter().zip(&meant).all(|(a, b)| (a - b).abs() < 1e-6), "{told:?} {meant:?}");
    }
    let rehearsal = &data["rehearsals"][0];
    assert_eq!(rehearsal["levels_mm"][0].to_string(), "[231.4,240.1,250]");
    assert_eq!(rehearsal["events"][0]["words"], "the siphon </script> breaks");
    assert_eq!(data["things"][2]["group"], "spare");
}

#[test]
fn drawings_of_panels_are_held_packed_in_their_order_each_at_its_thing() {
    let panel = |thing, text: &str| Bending {
        thing,
        name: format!("panel <{thing}>"),
        note: "3 mm of <4> mm".into(),
        svg: SVG.replace("section text", text),
    };
    let page = write(&show(), b"model", SVG, &[panel(2, "of the spare"), panel(0, "of the leaf")]);
    for told in [
        "data-bent=\"2\" data-drawing=\"0\"><summary>panel &lt;2&gt;<span>3 mm of &lt;4&gt; mm",
        "data-bent=\"0\" data-drawing=\"1\"><summary>panel &lt;0&gt;<span>",
        "data-pick=\"0\" data-needs-model>show leaf &quot;A&quot;<",
        "<span>2 panels</span>",
    ] {
        assert!(page.contains(told), "{told}");
    }
    assert!(!page.contains("of the spare"), "it is packed");
    let drawings: Vec<String> =
        serde_json::from_slice(&unpacked(&page, "drawings")).expect("it is JSON");
    for (drawing, text) in drawings.iter().zip(["of the spare", "of the leaf"]) {
        assert!(drawing.starts_with("<svg") && drawing.contains(text), "{drawing}");
    }
    assert_eq!(drawings.len(), 2);
}

#[test]
fn nothing_is_asked_of_the_network() {
    let page = write(&show(), b"model", SVG, &[]);
    assert!(page.contains("default-src 'none'"));
    for asks in [" src=\"", "href=\"http", "@import", "url(http", "<link"] {
        assert!(!page.contains(asks), "{asks}");
    }
    assert_eq!(page.matches("</script>").count(), 5, "nothing ends a script before its end");
}

#[test]
fn what_is_not_checked_is_told_at_the_top_and_no_part_is_hidden() {
    let mut many = show();
    assert!(!write(&many, b"model", SVG, &[]).contains("not checked"));
    let thing = many.things[0].clone();
    many.things = (0..7).map(|k| Thing { name: format!("part {k}"), ..thing.clone() }).collect();
    let mut unknown = many.findings[1].clone();
    (unknown.grade, unknown.things) = (Grade::NotChecked, (0..7).collect());
    many.findings = vec![unknown];
    let page = write(&many, b"model", SVG, &[]);
    assert!(page.contains("nothing fails, nothing is tight, 1 not checked"));
    assert!(page.contains("and 3 more: part 4, part 5, part 6"));
    assert!(page.contains("1 failure<") && !page.contains("1 failures"));
}

#[test]
fn levels_at_rest_are_not_told_as_those_in_flow() {
    let flowing = write(&show(), b"model", SVG, &[]);
    let resting = write(&Show { is_in_flow: false, ..show() }, b"model", SVG, &[]);
    let [running, still] = ["With the pumps running, above", "with nothing flowing, above"];
    assert!(flowing.contains(running) && !flowing.contains(still));
    assert!(resting.contains(still) && !resting.contains(running));
}

#[test]
fn a_page_without_water_ways_or_section_has_no_empty_cards() {
    let mut bare = show();
    (bare.basins, bare.rehearsals, bare.stops, bare.parts) = Default::default();
    (bare.slots, bare.doors) = Default::default();
    let page = write(&bare, b"model", "", &[]);
    for card in ["water", "failures", "change", "bending", "tour", "section", "parts"] {
        assert!(!page.contains(&format!("class=\"card\" id=\"{card}\"")), "{card}");
    }
    assert_eq!(page, write(&bare, b"model", "", &[]), "the same bytes twice");
}
