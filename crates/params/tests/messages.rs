//! Guards the words of every kind of finding about a file, and the place that each points at.

use findings::Finding;

/// A small file without a finding; each case changes a little of it.
const FILE: &str = r##"format = 1
title = "Test"

[sheet.clear]
material = "cast acrylic"
thickness = 8

[box]
outside = { length = 600, width = 300, height = 350 }
sheet = "clear"
rim = { width = 40 }

[leaf.comb]
mount = "lift-out"
crest = { height = 200, teeth = { width = 8, gap = 6, depth = 30 } }

[leaf.plain]
crest = { height = 220 }
openings = [{ letterbox = { bottom = 50, width = 100, height = 30 } }]

[[along]]
chamber = "inlet"
length = 200
[[along]]
divider = "first"
leaf = "comb"
[[along]]
chamber = "middle"
length = 150
[[along]]
divider = "second"
leaf = "plain"
[[along]]
chamber = "return"
"##;

/// The system around it, as the file's end.
const SYSTEM: &str = r##"
[display]
inside = { length = 900, width = 450, height = 500 }
stands = 850
displaced = "30 L"

[display.overflow]
crest = { height = 460, width = 250, teeth = { width = 8, gap = 6, depth = 25 } }
box = { length = 260, width = 100, depth = 300 }

[[drain]]
name = "siphon"
duty = "main"
chamber = "inlet"
diameter = 32
end = 150
intake = 250
run = 1200
elbows = 2
valve = 0.5

[[drain]]
name = "spare"
duty = "emergency"
chamber = "inlet"
through = "side"
diameter = 40
end = 250
intake = 440

[[wall_fitting]]
name = "side"
wall = "inlet-end"
at = 100
height = 250
hole = 50
flange = 70

[[equipment]]
name = "lifter"
kind = "pump"
chamber = "return"
box = [90, 80, 70]
intake = 25
curve = [{ flow = 0, head = 2600 }, { flow = 1500, head = 1900 }, { flow = 3000, head = 0 }]

[[equipment]]
name = "foamer"
kind = "skimmer"
chamber = "middle"
cylinder = { diameter = 100, height = 300 }
depth = [150, 200]

[[return_line]]
pump = "lifter"
bore = 20
length = 1500
outlet = 430
break_hole = 440

[top_up]
reservoir = "20 L"
rate = "10 L/h"
low = 140
high = 150

[room]
evaporation = "3 L/day"
"##;

/// The cabinet around it, and what reaches in.
const CABINET: &str = r##"
[cabinet]
inside = { length = 900, width = 450, height = 800 }
sump_at = [150, 75]
mat = 10
opening = [{ side = "front", from = 30, to = 870, bottom = 40, top = 760 }]
post = [{ name = "left post", at = [0, 430], size = [20, 20], top = 780 }]
shelf = [{ name = "rack", at = [700, 0], size = [200, 300], height = 500 }]

[[cabinet.fixture]]
name = "socket"
box = [60, 40, 120]
at = [840, 410, 600]

[[cabinet.fixture]]
name = "hose"
pipe = 25
at = [80, 440, 800]
to = [80, 440, 420]

[[equipment]]
name = "foamer"
kind = "skimmer"
chamber = "middle"
box = [100, 120, 30]
part = [{ cylinder = { diameter = 90, height = 200 }, at = [0, 0, 30] }]
stub = [{ from = [40, 0, 60], towards = "far-end", length = 30, diameter = 25 }]

[reach]
hand = [90, 45]
tool = [{ name = "tongs", head = [20, 10], head_length = 40, handle = 10, length = 300 }]
"##;

#[track_caller]
fn check(name: &str, file: impl AsRef<str>) {
    let file = file.as_ref();
    let read = params::read(file);
    assert!(
        read.findings.iter().all(|finding| finding.span.is_some()),
        "a finding without a place"
    );
    let all: Vec<_> = read.findings.iter().map(|finding| drawn(finding, file)).collect();
    insta::assert_snapshot!(name, all.join("\n\n"));
}

/// The finding as text, with the first line of its place underlined.
fn drawn(finding: &Finding, file: &str) -> String {
    let span = finding.span.clone().expect("asserted before");
    let start = file[..span.start].rfind('\n').map_or(0, |end| end + 1);
    let line = file[start..].lines().next().unwrap_or_default();
    let number = file[..start].matches('\n').count() + 1;
    let before = file[start..span.start].chars().count();
    let width = file[span.start..span.end.min(start + line.len())].chars().count().max(1);
    format!("{finding}\n{number:>4} | {line}\n     | {}{}", " ".repeat(before), "^".repeat(width))
}

/// The file with `from` turned into `to`.
#[track_caller]
fn with(from: &str, to: &str) -> String {
    assert_eq!(FILE.matches(from).count(), 1, "`{from}` stands in the file once");
    FILE.replace(from, to)
}

fn and(more: &str) -> String {
    format!("{FILE}{more}")
}

/// The file and the system, with `from` turned into `to`.
#[track_caller]
fn system(from: &str, to: &str) -> String {
    assert_eq!(SYSTEM.matches(from).count(), 1, "`{from}` stands in the system once");
    format!("{FILE}{}", SYSTEM.replace(from, to))
}

/// The file and the cabinet, with `from` turned into `to`.
#[track_caller]
fn cabinet(from: &str, to: &str) -> String {
    assert_eq!(CABINET.matches(from).count(), 1, "`{from}` stands in the cabinet once");
    format!("{FILE}{}", CABINET.replace(from, to))
}

macro_rules! cases {
    ($($name:ident: $file:expr;)*) => {$(
        #[test]
        fn $name() {
            check(stringify!($name), $file);
        }
    )*};
}

#[test]
fn the_file_itself_is_right() {
    assert_eq!(params::read(FILE).findings, []);
    assert_eq!(params::read(&and(SYSTEM)).findings, []);
    assert_eq!(params::read(&and(CABINET)).findings, []);
}

// TOML.
cases! {
    unit_without_quotes: with("thickness = 8", "thickness = 8 mm");
    modulus_in_gpa: with("thickness = 8", "thickness = 8\ndata_sheet = { modulus = 3.3 }");
    modulus_in_psi: with("thickness = 8", "thickness = 8\ndata_sheet = { modulus = 450000 }");
    modulus_in_ksi: with("thickness = 8", "thickness = 8\ndata_sheet = { modulus = 450 }");
    stress_with_its_unit: with("thickness = 8", "thickness = 8\ndata_sheet = { lasting_stress = \"3 MPa\" }");
    mass_of_no_person: and("[strength]\nlift = 500\n");
    inches_without_quotes: with("length = 200", "length = 7 7/8\"");
    text_without_quotes: with("\"first\"", "first");
    curly_quotes: with("\"first\"", "“first”");
    text_not_closed: with("\"first\"", "\"first");
    quotes_within_quotes: with("\"Test\"", "\"A \"big\" sump\"");
    decimal_comma: with("thickness = 8", "thickness = 7,8");
    inches_within_quotes: with("length = 200", "length = \"7 7/8\"\"");
    truth_in_capitals: with("mount = \"lift-out\"", "mount = \"lift-out\"\nfinger_holes = False");
    truth_in_other_words: with("mount = \"lift-out\"", "mount = \"lift-out\"\nfinger_holes = yes");
    comma_left_out: with("bottom = 50, width = 100", "bottom = 50 width = 100");
    wrong_escape: with("\"Test\"", "\"C:\\Sumps\"");
    control_character: with("\"Test\"", "\"Te\u{7}st\"");
    value_left_out: with("thickness = 8", "thickness =");
    comma_too_many: with("thickness = 8", "thickness = 8\nmeasured = [7.7,, 8]");
    list_not_closed: with("thickness = 8", "thickness = 8\nmeasured = [7.7, 8");
    brackets_without_end: with("thickness = 8", &format!("thickness = {}", "[".repeat(300)));
    leading_zero: with("thickness = 8", "thickness = 08");
    point_without_digits: with("thickness = 8", "thickness = 8.");
    key_twice: with("thickness = 8", "thickness = 8\nmaterial = \"PVC\"");
    salinity_as_gravity: and("[water]\nsalinity = 1.025\n");
    table_twice: and("[leaf.comb]\nmount = \"glued\"\n");
    list_item_in_single_brackets: and("[along]\nchamber = \"x\"\n");
    note_with_slashes: with("[box]", "// the box\n[box]");
    colon_for_equals: with("thickness = 8", "thickness: 8");
    brace_not_closed: with("height = 350 }", "height = 350");
    bracket_not_closed: with("[leaf.plain]", "[leaf.plain");
    line_ends_of_old_machines: FILE.replace('\n', "\r");
    two_mistakes_of_toml_and_others: with("thickness = 8", "thickness = 8 mm\nthikness = 3").replace("\"first\"", "first").replace("leaf = \"plain\"", "leaf = \"plane\"");
    empty: "";
    rubbish: "%PDF-1.7\n\u{1}\u{2}\u{3} <</Type /Catalog>>\n";
}

// Keys and types.
cases! {
    unknown_key_near_a_known_one: with("thickness = 8", "thikness = 8");
    unknown_key_near_none: with("thickness = 8", "thickness = 8\nflavour = 3");
    unknown_key_that_belongs_to_the_top: with("thickness = 8", "thickness = 8\nreport = \"us\"");
    unknown_table: and("[[pumps]]\nname = \"x\"\n");
    missing_key: with("thickness = 8\n", "");
    missing_format: with("format = 1\n", "");
    missing_box: with("[box]", "[[wall_fitting]]");
    newer_format: with("format = 1", "format = 2").replace("title", "titel");
    number_where_text_is_needed: with("chamber = \"inlet\"", "chamber = 1");
    text_where_a_number_is_needed: with("[[along]]\nchamber = \"return\"", "[[along]]\nchamber = \"return\"\n[[sock_holder]]\nchamber = \"inlet\"\nheight = 250\nsocks = \"two\"\nsock = { diameter = 100, length = 150 }\nbypass = { width = 50, depth = 20 }");
    list_where_a_length_is_needed: with("thickness = 8", "thickness = [8, 9]");
    length_where_a_table_is_needed: with("rim = { width = 40 }", "rim = 40");
    table_where_a_list_is_needed: FILE.replace("[[along]]\nchamber = \"inlet\"\nlength = 200\n", "[along]\nchamber = \"inlet\"\n").split("[[along]]").next().unwrap();
    list_where_a_table_is_needed: with("[box]", "[[box]]");
    text_where_a_list_is_needed: with("leaf = \"comb\"", "slot = \"comb\"");
    truth_in_quotes: with("mount = \"lift-out\"", "mount = \"lift-out\"\nfinger_holes = \"yes\"");
    date: with("thickness = 8", "thickness = 1979-05-27");
    three_of_two: with("thickness = 8", "thickness = 8\nmeasured = [7, 8, 9]");
    neither_form: with("thickness = 8", "thickness = 8\nmeasured = true");
    opening_of_no_kind: with("{ letterbox = { bottom = 50, width = 100, height = 30 } }", "{}");
    opening_of_two_kinds: with("height = 30 } }", "height = 30 }, slots = { bottom = 20, height = 30, width = 5, gap = 5 } }");
    opening_of_an_unknown_kind: with("letterbox", "letterbocks");
}

// Values.
cases! {
    wrong_unit: with("thickness = 8", "thickness = \"8 gal\"");
    unknown_unit: with("thickness = 8", "thickness = \"8 Mm\"");
    unknown_unit_near_none: with("thickness = 8", "thickness = \"8 furlongs\"");
    comma_in_a_quantity: with("thickness = 8", "thickness = \"7,8 mm\"");
    no_number: with("thickness = 8", "thickness = \"thick\"");
    endless_quantity: with("thickness = 8", &format!("thickness = \"{}\"", "8".repeat(500)));
    too_large: with("width = 300", "width = 30000");
    too_large_in_inches: with("width = 300", "width = \"300 in\"");
    too_small_without_a_unit: with("width = 300", "width = 12");
    too_small_without_a_unit_where_reports_are_in_inches: with("width = 300", "width = 12").replace("format = 1", "format = 1\nreport = \"us\"");
    bare_inches: with("length = 200", "length = 11").replace("height = 220", "height = 11.5").replace("format = 1", "format = 1\nreport = \"us\"");
    bare_inches_in_the_cabinet: format!("report = \"us\"\n{FILE}\n[cabinet]\ninside = {{ length = \"48 in\", width = \"20 in\", height = \"33 in\" }}\n[[cabinet.opening]]\nside = \"front\"\nbottom = 2\ntop = 33\n");
    too_small_in_a_list: with("thickness = 8", "thickness = 8\nstock = [{ size = [3000, 2] }]");
    infinite: with("thickness = 8", "thickness = inf");
    not_a_number: with("thickness = 8", "thickness = nan");
    whole_number_beyond_all_bounds: with("thickness = 8", "thickness = 99999999999999999999999");
    negative_price: with("thickness = 8", "thickness = 8\nstock = [{ size = [3000, 2000], price = -1 }]");
    unknown_choice_near_a_known_one: with("\"lift-out\"", "\"liftout\"");
    unknown_choice_near_none: with("\"cast acrylic\"", "\"glass\"");
    colour: with("thickness = 8", "thickness = 8\ncolour = \"blue\"");
    empty_title: with("\"Test\"", "\"\"");
    long_title: with("\"Test\"", &format!("\"{}\"", "T".repeat(81)));
    invisible_character: with("\"Test\"", "\"Te\\u202est\"");
    name_of_a_chamber: with("\"inlet\"", "\"../inlet\"");
    name_of_a_leaf: FILE.replace("leaf.plain", "leaf.\"pl/ain\"").replace("\"plain\"", "\"pl/ain\"");
    rows_in_rows: and(&deep_rows(9));
    too_many_items: with("rim = { width = 40 }", &format!("rim = {{ width = 40, braces = [{}] }}", "{ at = 100, width = 20 }, ".repeat(21)));
}

#[test]
fn no_more_than_a_hundred_findings_are_shown() {
    let keys: String = (0..150).map(|n| format!("k{n} = 1\n")).collect();
    let read = params::read(&with("[box]", &format!("{keys}[box]")));
    assert_eq!(read.findings.len(), 101);
    assert_eq!(read.findings[100].message, "50 more findings are not shown");
}

/// Sections within sections.
fn deep_rows(depth: usize) -> String {
    let inner = (0..depth).fold(String::from("{ chamber = \"x\" }"), |inner, level| {
        let key = if (depth - level) % 2 == 1 { "along" } else { "across" };
        format!("{{ section = \"s{level}\", {key} = [{inner}] }}")
    });
    format!(
        "[[along]]\ndivider = \"third\"\nleaf = \"plain\"\n[[along]]\nsection = \"deep\"\nlength = 50\nacross = [{inner}]\n"
    )
}

// The shop.
cases! {
    kerf_of_a_router: and("[cutting]\nkerf = 0.3\n");
    passes_of_a_laser: and("[cutting]\nprocess = \"laser\"\npass_depth = 3\ntaper = 0.2\n");
    saw_that_turns: and("[cutting]\nprocess = \"saw\"\nstraight_through = false\n");
    unknown_process: and("[cutting]\nprocess = \"lazer\"\n");
    corner_sharper_than_the_kerf: and("[cutting]\nprocess = \"saw\"\ninner_corner = 1\n");
    feed_upside_down: and("[cutting]\nfeed = [\"3 m/min\", \"2 m/min\"]\n");
    feed_in_another_unit: and("[cutting]\nfeed = [\"3 m/h\", \"2 m/h\"]\n");
    hour_upside_down: and("[costs]\nmachine_hour = [90, 45]\n");
    wall_covered_twice: and("[background]\nwalls = [\"back\", \"back\"]\n");
    film_with_two_prices: and("[background]\nprice_m2 = 75\nprice_ft2 = 7\n");
    price_of_an_own_sheet: with("thickness = 8", "thickness = 8\nstock = [{ size = [900, 600], price = 9, own = true }]");
    day_that_is_none: and("[papers]\ndate = \"2026-02-30\"\n");
}

// The file as a whole.
cases! {
    names_taken: with("chamber = \"middle\"", "chamber = \"Inlet\"").replace("\"second\"", "\"inlet\"");
    names_of_leaves_taken: with("[[along]]\nchamber = \"return\"", "[leaf.Comb]\ncrest = { height = 100 }\n[[along]]\nchamber = \"return\"");
    unknown_sheet: with("sheet = \"clear\"", "sheet = \"claer\"");
    unknown_leaf: with("leaf = \"plain\"", "leaf = \"fancy\"");
    unknown_chamber: and("[[lid]]\nchamber = \"retrun\"\n");
    unused_leaf: and("[leaf.spare]\ncrest = { height = 100 }\n");
    item_of_no_kind: with("chamber = \"middle\"\n", "");
    item_of_two_kinds: with("chamber = \"middle\"", "chamber = \"middle\"\ndivider = \"mid\"");
    key_of_another_kind: with("chamber = \"middle\"", "chamber = \"middle\"\nleaf = \"comb\"").replace("leaf = \"plain\"", "leaf = \"plain\"\nlength = 20");
    width_in_a_row_along: with("length = 150", "width = 150");
    two_left_out: with("length = 150\n", "");
    divider_without_a_leaf: with("leaf = \"plain\"\n", "");
    divider_with_leaf_and_slot: with("leaf = \"plain\"", "leaf = \"plain\"\nslot = [\"comb\"]");
    slot_with_a_glued_leaf: with("leaf = \"comb\"", "slot = [\"comb\", \"plain\", \"comb\"]");
    keys_without_effect: with("leaf = \"plain\"", "leaf = \"plain\"\nguide = \"groove\"\nclearance = 1\nspacing = 20").replace("leaf = \"comb\"", "leaf = \"comb\"\njoint = \"dado\"");
    row_out_of_order: FILE.replace("[[along]]\nchamber = \"inlet\"\nlength = 200\n", "").replace("[[along]]\nchamber = \"return\"\n", "");
    chambers_side_by_side: with("[[along]]\ndivider = \"first\"\nleaf = \"comb\"\n", "");
    dividers_side_by_side: with("[[along]]\nchamber = \"middle\"\nlength = 150\n", "");
    empty_row: format!("along = []\n{}", FILE.split("[[along]]").next().unwrap());
    section_without_chambers: with("chamber = \"middle\"", "section = \"middle\"");
    section_the_wrong_way: with("chamber = \"middle\"", "section = \"middle\"\nalong = [{ chamber = \"front\" }]");
    too_many_in_all: with("chamber = \"middle\"", &format!("section = \"middle\"\nacross = [{}]", (0..99).map(|n| format!("{{ section = \"s{n}\", along = [{{ chamber = \"c{n}\" }}, {{ divider = \"d{n}\", leaf = \"plain\" }}] }},")).collect::<String>()));
    band_out_of_order: with("thickness = 8", "thickness = 8\nmeasured = [8.1, 7.9]");
    measured_far_off: with("thickness = 8", "thickness = 8\nmeasured = [6.6, 7.9]");
    measured_implausible: with("thickness = 8", "thickness = 8\nmeasured = 3");
    in_inches_for_who_reads_inches: with("title", "report = \"us\"\ntitle").replace("thickness = 8", "thickness = \"3/8 in\"\nmeasured = \"1/2 in\"").replace("depth = 30", "depth = \"8 in\"");
    corner_too_sharp: with("[box]", "[cutting]\ntool = 8\ninner_corner = 3\n[box]");
    teeth_too_deep: with("depth = 30", "depth = 200");
    no_leaf_left: with("crest = { height = 220 }", "crest = { height = 220 }\nunderflow = 220");
    holes_that_meet: with("letterbox = { bottom = 50, width = 100, height = 30 }", "holes = { bottom = 50, diameter = 20, spacing = 15, columns = 4 }");
    openings_without_number: with("letterbox = { bottom = 50, width = 100, height = 30 }", "holes = { bottom = 50, diameter = 2, spacing = 5, columns = 300, rows = 100 }");
    finger_holes_of_a_glued_leaf: with("crest = { height = 220 }", "crest = { height = 220 }\nfinger_holes = true");
    door_upside_down: with("crest = { height = 220 }", "crest = { height = 220 }\ndoor = { bottom = 50, width = 100, height = 100, lowest = 120, highest = 90 }");
    door_out_of_its_opening: with("crest = { height = 220 }", "crest = { height = 220 }\ndoor = { bottom = 50, width = 100, height = 100, lowest = 40, highest = 160, set = 170 }");
    lid_without_rim: format!("{}[[lid]]\nchamber = \"return\"\n", with("rim = { width = 40 }\n", ""));
    equipment_of_no_shape: and("[[equipment]]\nname = \"pump\"\nkind = \"pump\"\nchamber = \"return\"\n");
    equipment_of_two_shapes: and("[[equipment]]\nname = \"pump\"\nkind = \"pump\"\nchamber = \"return\"\nbox = [90, 80, 70]\ncylinder = { diameter = 60, height = 90 }\n");
    marks_upside_down: and("[[level_marks]]\nchamber = \"return\"\nfrom = 200\nto = 100\n");
    fittings_upside_down: and("[[wall_fitting]]\nname = \"overflow\"\nwall = \"back\"\nat = 100\nheight = 200\nhole = 44\nflange = 40\n[[drain]]\nname = \"Overflow\"\nduty = \"main\"\nchamber = \"inlet\"\ndiameter = 32\nwall = 16\nend = 200\ntop = 150\n");
}

// Printed fittings.
cases! {
    fitting_without_a_place: and("[[fitting]]\nkind = \"pipe-clip\"\n");
    fitting_of_two_places: and("[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\nat = 100\nheight = 100\nloose = true\n");
    fitting_on_a_wall_without_its_place_there: and("[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\n");
    fitting_on_a_rim_with_a_height: and("[[fitting]]\nkind = \"pipe-clip\"\nrim = \"back\"\nat = 100\nheight = 100\n");
    fitting_on_a_wall_at_a_spot: and("[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\nat = [100, 50]\nheight = 100\n");
    fitting_in_a_chamber_at_a_length: and("[[fitting]]\nkind = \"pipe-clip\"\nchamber = \"middle\"\nat = 100\n");
    fitting_in_an_unknown_chamber: and("[[fitting]]\nkind = \"pipe-clip\"\nchamber = \"midle\"\nat = [50, 50]\n");
    fitting_on_a_lid_at_a_length: and("[[fitting]]\nkind = \"lid-handle\"\nlid = \"middle\"\nat = 100\n");
    fitting_on_an_unknown_lid: and("[[fitting]]\nkind = \"lid-handle\"\nlid = \"midle\"\nat = [50, 50]\n");
    fitting_in_a_sock_at_a_spot: and("[[fitting]]\nkind = \"reducer\"\nchamber = \"middle\"\nsock = 1\nat = [50, 50]\n");
    fitting_on_a_wall_in_a_sock: and("[[fitting]]\nkind = \"reducer\"\nwall = \"back\"\nat = 50\nheight = 100\nsock = 1\n");
    fittings_in_one_sock: and("[[fitting]]\nkind = \"reducer\"\nchamber = \"middle\"\nsock = 1\n[[fitting]]\nkind = \"reducer\"\nchamber = \"middle\"\nsock = 1\n");
    fitting_on_a_leaf_of_no_chamber: and("[[fitting]]\nkind = \"probe-holder\"\nleaf = \"plian\"\nat = 100\n");
    fittings_at_one_place_on_a_leaf: and("[[fitting]]\nkind = \"probe-holder\"\nleaf = \"plain\"\nchamber = \"return\"\nat = 100\n[[fitting]]\nkind = \"probe-holder\"\nleaf = \"plain\"\nchamber = \"return\"\nat = 100\n[[fitting]]\nkind = \"probe-holder\"\nleaf = \"plain\"\nchamber = \"middle\"\nat = 100\n");
    loose_fitting_with_a_place: and("[[fitting]]\nkind = \"pipe-clip\"\nloose = true\nat = 100\n");
    fittings_at_one_place: and("[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\nat = 100\nheight = \"10 cm\"\n[[fitting]]\nkind = \"probe-holder\"\nwall = \"back\"\nat = \"10 cm\"\nheight = 100\n");
    fittings_of_one_name: and("[[fitting]]\nkind = \"pipe-clip\"\nname = \"low clip\"\nloose = true\n[[fitting]]\nkind = \"pipe-clip\"\nname = \"Low-clip\"\nloose = true\n");
    fitting_with_a_list_for_a_measure: and("[[fitting]]\nkind = \"pipe-clip\"\nloose = true\nmeasures = { pipe = [1, 2] }\n");
    fitting_with_a_wrong_key: and("[[fitting]]\nkind = \"pipe-clip\"\nlose = true\nmeasures = { pipe = 32 }\n");
}

// The display, drains, return lines and their pumps.
cases! {
    crest_above_the_display: system("height = 460", "height = 510");
    teeth_deeper_than_the_crest: system("depth = 25", "depth = 480");
    teeth_deeper_than_the_overflow_box: system("depth = 300", "depth = 24");
    display_full_of_rock: system("\"30 L\"", "\"200 L\"");
    drain_without_intake: system("intake = 440\n", "");
    drain_mouth_above_the_crest: system("intake = 440", "intake = 470");
    drain_mouth_below_the_overflow_box: system("intake = 250", "intake = 150");
    drain_mouth_counted_from_the_sump: system("intake = 440", "intake = 1290");
    drain_mouths_out_of_order: system("intake = 250", "intake = 445");
    secondary_mouth_above_the_emergency: system("duty = \"main\"", "duty = \"secondary\"").replace("intake = 250", "intake = \"17 1/2 in\"").replace("valve = 0.5\n", "");
    drain_mouths_at_one_height: system("intake = 250", "intake = 440");
    drain_that_ends_above_its_mouth: system("stands = 850", "stands = 0").replace("end = 150", "end = 260").replace("end = 250", "end = 400");
    drain_that_ends_above_the_rim: system("end = 150", "end = 350");
    drain_through_another_wall: system("wall = \"inlet-end\"", "wall = \"far-end\"");
    display_beside_the_sump: system("stands = 850", "stands = 300");
    display_below_the_sump: system("stands = 850", "stands = 0").replace("height = 350", "height = 500");
    drain_shorter_than_its_fall: system("run = 1200", "run = 120");
    valve_of_an_emergency_drain: system("intake = 440", "intake = 440\nvalve = 0.5");
    drain_through_a_wall_with_a_place: system("intake = 440", "intake = 440\nat = [30, 40]\ntop = 300");
    drain_through_an_unknown_fitting: system("through = \"side\"", "through = \"sied\"");
    two_drains_through_one_fitting: system("run = 1200", "through = \"side\"");
    drains_without_a_display: and(&SYSTEM[SYSTEM.find("[[drain]]").unwrap()..]);
    display_misspelt: and(SYSTEM).replace("[display", "[dispaly");
    unknown_pump: system("pump = \"lifter\"", "pump = \"liftre\"");
    return_line_of_a_skimmer: system("pump = \"lifter\"", "pump = \"foamer\"");
    return_line_to_an_unknown_chamber: system("bore = 20", "to = \"midle\"\nbore = 20");
    pump_without_a_curve: system("curve = [{ flow = 0, head = 2600 }, { flow = 1500, head = 1900 }, { flow = 3000, head = 0 }]", "flow = 3000");
    curve_of_two_points: system("{ flow = 1500, head = 1900 }, ", "");
    curve_whose_flow_falls: system("flow = 1500", "flow = 3500");
    curve_whose_head_rises: system("head = 1900", "head = 2900");
    curve_in_metres: system("head = 2600", "head = 2.6").replace("head = 1900", "head = 1.9");
    curve_in_cubic_metres: system("flow = 1500", "flow = 1.5").replace("flow = 3000", "flow = 3");
    curve_against_flow_and_head: system("intake = 25\n", "flow = 3400\nhead = 2300\n");
    curve_near_flow_and_head: system("intake = 25\n", "flow = 3300\nhead = 2350\n");
    curve_that_ends_before_its_axes: system("intake = 25\n", "flow = 4000\nhead = 1000\n").replace("flow = 0, head = 2600", "flow = 200, head = 2500").replace("head = 0 ", "head = 100 ");
    curve_of_a_skimmer: system("depth = [150, 200]", "curve = [{ flow = 0, head = 9 }, { flow = 1, head = 8 }, { flow = 2, head = 7 }]\nflow = 100");
    depth_of_a_pump: system("intake = 25\n", "depth = [100, 150]\ncup_overflow = 5\n");
    depth_upside_down: system("depth = [150, 200]", "depth = [250, 200]");
    intake_above_the_pump: system("intake = 25\n", "intake = 75\n");
    outlet_above_the_display: system("outlet = 430", "outlet = 530").replace("break_hole = 440\n", "");
    outlet_counted_from_the_sump: system("outlet = 430", "outlet = 1280").replace("break_hole = 440\n", "");
    break_hole_above_the_water: system("break_hole = 440", "break_hole = 480");
    break_hole_below_the_outlet: system("break_hole = 440", "break_hole = 400");
    return_line_shorter_than_its_rise: system("length = 1500", "length = \"12 in\"");
}

// Top-up, room, limits and rehearsals.
cases! {
    top_up_in_an_unknown_chamber: system("low = 140", "chamber = \"retrun\"\nlow = 140");
    float_upside_down: system("low = 140", "low = 160");
    float_above_the_kept_level: system("high = 150\n", "").replace("chamber = \"return\"\n\n[display]", "chamber = \"return\"\nlevel = 130\n\n[display]");
    top_up_of_gravity: system("low = 140", "salinity = 1.025\nlow = 140");
    evaporation_by_the_hour: system("\"3 L/day\"", "4");
    evaporation_in_an_unknown_unit: system("\"3 L/day\"", "\"3 L/dya\"");
    humidity_in_percent: system("evaporation", "humidity = 50\nevaporation");
    trickle_upside_down: and("[limits]\ntrickle = [0.1, 0.03]\n");
    trickle_in_percent: and("[limits]\ntrickle = [3, 10]\n");
    failures_paired_with_themselves: and("[rehearsals]\ntogether = [[\"pump stops\", \"pump stops\"]]\n");
    failures_not_in_pairs: and("[rehearsals]\ntogether = [\"pump stops\", \"power cut\"]\n");
}

// The cabinet, bodies of equipment, and what reaches in.
cases! {
    cabinet_without_an_opening: cabinet("[{ side = \"front\", from = 30, to = 870, bottom = 40, top = 760 }]", "[]");
    cabinet_of_negative_size: cabinet("length = 900", "length = -900");
    cabinet_of_no_number: cabinet("length = 900", "length = nan");
    opening_that_ends_before_it_begins: cabinet("to = 870", "to = 20");
    opening_of_no_height: cabinet("top = 760", "top = 40");
    opening_beyond_its_wall: cabinet("to = 870", "to = \"36 in\"");
    opening_that_begins_beyond_its_wall: cabinet("side = \"front\", from = 30, to = 870", "side = \"far-end\", from = 500");
    opening_above_the_ceiling: cabinet("top = 760", "top = 860");
    opening_in_no_wall: cabinet("\"front\"", "\"top\"");
    post_beside_the_cabinet: cabinet("at = [0, 430]", "at = [890, 430]");
    post_that_ends_below_its_foot: cabinet("top = 780", "bottom = 780, top = 700");
    post_through_the_ceiling: cabinet("top = 780", "top = 820");
    post_through_no_ceiling: cabinet("top = 780", "top = 820").replace("mat = 10", "ceiling = false");
    shelf_beside_the_cabinet: cabinet("size = [200, 300]", "size = [200, 500]");
    shelf_above_the_ceiling: cabinet("height = 500", "height = 790");
    fixture_of_no_shape: cabinet("box = [60, 40, 120]\n", "");
    fixture_of_two_shapes: cabinet("pipe = 25", "pipe = 25\ncylinder = { diameter = 25, height = 300 }");
    fixture_beside_the_cabinet: cabinet("at = [840, 410, 600]", "at = [840, 420, 600]");
    fixture_through_the_front: cabinet("box = [60, 40, 120]\nat = [840, 410, 600]", "cylinder = { diameter = 60, height = 100 }\nat = [840, 20, 600]");
    fixture_with_another_end: cabinet("box = [60, 40, 120]", "box = [60, 40, 120]\nto = [0, 0, 0]");
    pipe_of_one_end: cabinet("to = [80, 440, 420]\n", "");
    pipe_of_no_length: cabinet("to = [80, 440, 420]", "to = [80, 440, 800]");
    pipe_out_of_the_cabinet: cabinet("to = [80, 440, 420]", "to = [80, 480, 420]");
    names_of_the_cabinet_taken: cabinet("\"socket\"", "\"Left-post\"").replace("\"rack\"", "\"foamer\"");
    drain_that_hangs_from_nowhere: system("intake = 250", "above = \"hose\"\nintake = 250");
    drain_through_a_wall_from_a_hose: system("through = \"side\"", "above = \"hose\"\nthrough = \"side\"") + &CABINET[..CABINET.find("[[equipment]]").unwrap()];
    part_of_no_shape: cabinet("part = [{ cylinder = { diameter = 90, height = 200 }, at", "part = [{ at");
    part_within_the_body: cabinet("diameter = 90, height = 200 }, at = [0, 0, 30]", "diameter = 90, height = 20 }, at = [0, 0, 5]");
    part_apart_from_the_body: cabinet("at = [0, 0, 30]", "at = [150, 0, 30]");
    part_below_the_bottom: cabinet("at = [0, 0, 30]", "at = [0, 0, -30]");
    stub_within_the_body: cabinet("from = [40, 0, 60], towards = \"far-end\", length = 30, diameter = 25", "from = [0, 0, 15], towards = \"far-end\", length = 30, diameter = 12");
    stub_counted_from_a_corner: cabinet("from = [40, 0, 60]", "from = [140, 60, 60]");
    stub_beside_a_round_body: cabinet("from = [40, 0, 60], towards = \"far-end\", length = 30, diameter = 25", "from = [42, 42, 100], towards = \"up\", length = 30, diameter = 10");
    parts_that_only_touch_each_other: cabinet("at = [0, 0, 30] }", "at = [0, 0, 30] }, { box = [20, 20, 50], at = [100, 0, 0] }, { box = [20, 20, 50], at = [120, 0, 0] }");
    guide_height_of_a_glued_leaf: with("leaf = \"plain\"", "leaf = \"plain\"\nguide_height = 200");
    guide_height_of_a_chamber: with("chamber = \"middle\"", "chamber = \"middle\"\nguide_height = 200");
    hand_thicker_than_broad: cabinet("hand = [90, 45]", "hand = [45, 90]");
    tool_shorter_than_its_head: cabinet("head_length = 40", "head_length = 340");
    tool_called_hand: cabinet("\"tongs\"", "\"Hand\"");
    search_without_end: and("[fit]\nsearch = 1000000000\n");
    more_stress_in_water_than_in_air: with("thickness = 8", "thickness = 8\ndata_sheet = { lasting_stress = 3, lasting_stress_wet = 4 }");
    search_of_half_a_step: and("[fit]\nsearch = 0.5\nseed = -1\ngap = -2\n");
}

// Several mistakes at once, and none that only follows from another.
cases! {
    many_kinds_at_once: with("thickness = 8", "thickness = \"8 gal\"\nmeasured = [7.7, 8]")
        .replace("leaf = \"plain\"", "leef = \"plain\"")
        .replace("\"middle\"", "\"inlet\"")
        .replace("height = 350", "height = 35000")
        .replace("\"lift-out\"", "\"lifted\"");
    a_wrong_item_of_a_list_is_not_compared: with("thickness = 8", "thickness = 8\nmeasured = [7.7, 800]");
    an_item_of_no_kind_may_be_any_chamber: with("chamber = \"middle\"", "leaf = \"comb\"") + "[[lid]]\nchamber = \"middle\"\n";
    a_wrong_name_does_not_dangle: with("chamber = \"inlet\"", "chambr = \"inlet\"") + "[[lid]]\nchamber = \"inlet\"\n";
}
