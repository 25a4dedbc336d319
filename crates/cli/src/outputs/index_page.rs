//! The index as a page for a browser: one file, its pictures beside it, nothing from elsewhere.

use scene::View;
use study::told::course::{Course, NOTHING};
use study::told::strength::CAUTIONS;
use study::told::table::Table;
use study::told::ways_out::{self, ToldStep, WayOut};

use super::index::{
    CHAMBERS_HEAD, Entry, Group, Index, PartRow, STRENGTH, WILL_IT_HOLD, courses_note,
};
use super::setting_out::{self, Setting};
use crate::fit_files;
use crate::html::escaped;

const STYLE: &str = include_str!("index_page.css");
/// Where the tour is.
const TOUR: &str = "tour/tour.html";

/// Writes the index.
pub(crate) fn write(index: &Index<'_>) -> String {
    let title = escaped(index.title);
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n\
         <p class=\"lead\">{outside} · {summary}</p>\n{verdict}{pictures}{tour}{not_checked}{cautions}{parts}{chambers}{rehearsals}{levels}{fit}{strength}{shop}{setting_out}{findings}{files}\
         <footer>Made by sumpwright {version} from <a href=\"{parameters}\">{parameters}</a>. The same file gives the \
         same folder, byte for byte; <a href=\"manifest.json\">manifest.json</a> lists every file with its hash.</footer>\n\
         </body>\n</html>\n",
        outside = escaped(&index.outside),
        summary = escaped(&index.summary),
        verdict = verdict(index),
        pictures = pictures(index),
        tour = tour(index),
        not_checked = not_checked(index),
        cautions = cautions(index),
        parts = parts(index),
        chambers = chambers(index),
        rehearsals = rehearsals(index),
        levels = levels(index),
        fit = fit(index),
        strength = strength(index),
        shop = shop(index),
        setting_out = setting_out(index),
        findings =
            section("Findings", "findings", &format!("<pre>{}</pre>\n", escaped(&index.findings))),
        files = section("Files", "files", &index.groups.iter().map(files).collect::<String>()),
        version = env!("CARGO_PKG_VERSION"),
        parameters = super::PARAMETERS,
    )
}

fn section(title: &str, id: &str, body: &str) -> String {
    format!("<section id=\"{id}\">\n<h2>{title}</h2>\n{body}</section>\n")
}

/// The pictures in the order of the views, the first one large.
fn pictures(index: &Index<'_>) -> String {
    let files: Vec<&Entry<'_>> = index.groups.iter().flat_map(|group| &group.files).collect();
    let of_view = |view: &View| {
        let path = format!("pictures/{}.png", view.name());
        files.iter().find(|file| file.path == path)
    };
    let figure = |file: &&Entry<'_>| {
        let (path, purpose) = (escaped(file.path), escaped(file.purpose));
        format!(
            "<figure><a href=\"{path}\"><img src=\"{path}\" alt=\"{purpose}\"></a>\
             <figcaption>{purpose}</figcaption></figure>\n"
        )
    };
    let figures: String = View::ALL.iter().filter_map(of_view).map(figure).collect();
    if figures.is_empty() {
        String::new()
    } else {
        format!("<div class=\"pictures\">\n{figures}</div>\n")
    }
}

/// The way to the tour.
fn tour(index: &Index<'_>) -> String {
    let mut files = index.groups.iter().flat_map(|group| &group.files);
    if files.all(|file| file.path != TOUR) {
        return String::new();
    }
    format!(
        "<p><a href=\"{TOUR}\">Take the tour</a>: chamber by chamber, what it is for, what to look at, and what was found.</p>\n"
    )
}

fn cautions(index: &Index<'_>) -> String {
    let item = |caution: &super::cautions::Caution| {
        format!(
            "<li><strong>{}.</strong> {}</li>\n",
            escaped(caution.title),
            escaped(&caution.text)
        )
    };
    let items: String = index.cautions.iter().map(item).collect();
    section("Before you begin", "before", &format!("<ul class=\"cautions\">\n{items}</ul>\n"))
}

fn not_checked(index: &Index<'_>) -> String {
    if index.not_checked.is_empty() {
        return String::new();
    }
    let items: String =
        index.not_checked.iter().map(|check| format!("<li>{}.</li>\n", escaped(check))).collect();
    section("Not checked", "not-checked", &format!("<ul class=\"cautions\">\n{items}</ul>\n"))
}

fn parts(index: &Index<'_>) -> String {
    let head = [
        "no",
        "part",
        "qty",
        "for",
        "material",
        "sheet to order",
        "size",
        "mass each",
        "notes",
        "files",
    ];
    let row = |part: &PartRow| {
        let PartRow { number, name, quantity, material, sheet, size, mass, role, notes, files } =
            part;
        let words = [number.as_str(), name, quantity, role, material, sheet, size, mass, notes];
        let numbers = ["no", "qty", "size", "mass each"];
        let cell = |(head, words): (&&str, &str)| cell(words, numbers.contains(head));
        let cells: String = head.iter().zip(words).map(cell).collect();
        let link = |(kind, path): &(String, String)| {
            format!("<a href=\"{}\">{}</a>", escaped(path), escaped(kind))
        };
        let links: Vec<String> = files.iter().map(link).collect();
        format!("<tr>{cells}<td>{}</td></tr>\n", links.join(" "))
    };
    let rows: String = index.parts.iter().map(row).collect();
    section("Parts", "parts", &table(&head, &rows))
}

fn chambers(index: &Index<'_>) -> String {
    let row = |cells: &[String; 5]| {
        let [name, size, water, litres, reason] = cells;
        let numbers: String = [size, water, litres].map(|words| cell(words, true)).concat();
        format!("<tr>{}{numbers}{}</tr>\n", cell(name, false), cell(reason, false))
    };
    let rows: String = index.chambers.iter().map(row).collect();
    let table = table(&CHAMBERS_HEAD, &rows);
    section("Chambers", "chambers", &format!("<p>{}</p>\n{table}", index.chambers_note))
}

/// What every failure does, and a link to the curves of each.
fn rehearsals(index: &Index<'_>) -> String {
    let Some(told) = &index.rehearsals else { return String::new() };
    let courses: String = index.courses.iter().map(course).collect();
    let body = told_table(told, &curves(index));
    let body = format!("{body}<p>One by one: {}</p>\n{courses}", escaped(&courses_note()));
    section(&escaped(&told.title), "rehearsals", &body)
}

/// One failure in full, folded away.
fn course(course: &Course) -> String {
    let event =
        |[when, what]: &[String; 2]| format!("<li>{}: {}</li>\n", escaped(when), escaped(what));
    let events: String = course.events.iter().map(event).collect();
    let events = if events.is_empty() {
        format!("<p>{NOTHING}</p>\n")
    } else {
        format!("<ul>\n{events}</ul>\n")
    };
    format!(
        "<details><summary>{}</summary>\n<p>{}</p>\n{events}{}</details>\n",
        escaped(&course.title),
        escaped(&course.words),
        told_table(&course.tanks, &[])
    )
}

/// Paths of the drawn curves, in the order of the failures.
fn curves<'a>(index: &Index<'a>) -> Vec<&'a str> {
    let files = index.groups.iter().flat_map(|group| &group.files);
    let is_curve = |path: &&str| {
        path.strip_prefix("water/").is_some_and(|name| {
            name.ends_with(".svg") && name.starts_with(|letter: char| letter.is_ascii_digit())
        })
    };
    files.map(|file| file.path).filter(is_curve).collect()
}

/// The papers, and under their titles sheets, costs and the order of gluing.
fn shop(index: &Index<'_>) -> String {
    let tables: String =
        index.shop.iter().filter(|table| !table.rows.is_empty()).map(folded).collect();
    let papers = index.groups.iter().flat_map(|group| &group.files);
    let papers = papers.filter(|file| {
        file.path.starts_with("shop/")
            && !file.path.ends_with(".svg")
            && !file.path.ends_with(".dxf")
    });
    let item = |file: &Entry<'_>| {
        let (path, purpose) = (escaped(file.path), escaped(file.purpose));
        let name = escaped(file.path.trim_start_matches("shop/"));
        format!("<li><a href=\"{path}\">{name}</a>: {purpose}</li>\n")
    };
    let list = format!("<ul>\n{}</ul>\n", papers.map(item).collect::<String>());
    section("For the shop, and for gluing", "shop", &(list + &tables))
}

/// Levels and flows, folded away under their titles; the drawing of the levels open above them.
fn levels(index: &Index<'_>) -> String {
    if index.levels.is_empty() {
        return String::new();
    }
    let drawing = drawing(index, "water/levels.svg");
    let tables: String = index.levels.iter().map(folded).collect();
    section("Levels and flows", "levels", &(drawing + &tables))
}

/// A drawing with its link, if it was made.
fn drawing(index: &Index<'_>, path: &str) -> String {
    let mut files = index.groups.iter().flat_map(|group| &group.files);
    files.find(|file| file.path == path).map_or(String::new(), |file| {
        let alt = escaped(file.purpose);
        format!(
            "<figure class=\"large\" tabindex=\"0\"><a href=\"{path}\"><img src=\"{path}\" alt=\"{alt}\"></a></figure>\n"
        )
    })
}

/// A table folded away under its title.
fn folded(told: &Table) -> String {
    let title = escaped(&told.title);
    format!("<details><summary>{title}</summary>\n{}</details>\n", told_table(told, &[]))
}

/// Clearances, ways out and reach: what to mind first, then each way, its film strip with it.
fn fit(index: &Index<'_>) -> String {
    let words = &index.fit;
    let caution = |words: &&str| format!("<li>{}</li>\n", escaped(words));
    let cautions: String = fit_files::CAUTIONS.iter().map(caution).collect();
    let rescue = words.rescue.as_ref().map_or(String::new(), |told| {
        let (title, words) = (escaped(&told.title), escaped(&told.words));
        format!("<h3>{title}</h3>\n<p>{words}</p>\n{}", steps(&told.steps))
    });
    let ways = told_table(&words.ways, &[]);
    let strips = strips(index);
    let each: String =
        words.each.iter().enumerate().map(|(k, way)| way_out(k, way, &strips)).collect();
    let emptying = format!(
        "<details><summary>{}</summary>\n{}<p>{}</p></details>\n",
        ways_out::EMPTYING,
        steps(&words.emptying),
        escaped(words.left.as_deref().unwrap_or_default())
    );
    let tables = emptying + &[&words.reach, &words.clearances].map(folded).concat();
    let drawings = ["fit/plan.svg", "fit/side.svg"].map(|path| drawing(index, path)).concat();
    let body = format!(
        "<ul class=\"cautions\">\n{cautions}</ul>\n{rescue}<h3>Ways out</h3>\n{ways}{each}{tables}{drawings}"
    );
    section("Fit and access", "fit", &body)
}

/// Does it hold, what decides, what to change first, what it weighs.
fn verdict(index: &Index<'_>) -> String {
    let line = |(head, words): &(&str, String)| {
        format!("<p><strong>{}</strong> {}</p>\n", escaped(head), escaped(words))
    };
    section(WILL_IT_HOLD, "hold", &index.verdict.iter().map(line).collect::<String>())
}

/// What to mind, the tables of strength folded away under their titles, and the drawing of every panel that bends.
fn strength(index: &Index<'_>) -> String {
    let caution = |words: &&str| format!("<li>{}</li>\n", escaped(words));
    let cautions: String = CAUTIONS.iter().map(caution).collect();
    let tables: String = index.strength.iter().map(folded).collect();
    let files = index.groups.iter().flat_map(|group| &group.files);
    let drawings =
        files.filter(|file| file.path.starts_with("strength/") && file.path.ends_with(".svg"));
    let drawn = |file: &Entry<'_>| {
        let (path, purpose) = (escaped(file.path), escaped(file.purpose));
        format!(
            "<details><summary>{purpose}</summary>\n<figure class=\"large\" tabindex=\"0\"><a href=\"{path}\">\
             <img loading=\"lazy\" src=\"{path}\" alt=\"{purpose}\"></a></figure>\n</details>\n"
        )
    };
    let drawings: String = drawings.map(drawn).collect();
    let body =
        format!("<ul class=\"cautions\">\n{cautions}</ul>\n{tables}<h3>Drawings</h3>\n{drawings}");
    section(STRENGTH, "strength", &body)
}

/// One way out, folded away.
fn way_out(k: usize, way: &WayOut, strips: &[&Entry<'_>]) -> String {
    let notes: String =
        way.notes.iter().map(|note| format!("<p>{}</p>\n", escaped(note))).collect();
    let number = format!("fit/{:02}-", k + 1);
    let strip = strips.iter().find(|file| file.path.starts_with(&number));
    let strip = strip.map_or(String::new(), |file| {
        let (path, purpose) = (escaped(file.path), escaped(file.purpose));
        format!(
            "<figure class=\"large\" tabindex=\"0\"><a href=\"{path}\"><img loading=\"lazy\" src=\"{path}\" alt=\"{purpose}\"></a></figure>\n"
        )
    });
    format!(
        "<details><summary>{}</summary>\n{notes}{}{strip}</details>\n",
        escaped(&way.title),
        steps(&way.steps)
    )
}

/// What is taken out, in order, each with its moves.
fn steps(steps: &[ToldStep]) -> String {
    let step = |ToldStep { head, moves }: &ToldStep| {
        let moves: String =
            moves.iter().map(|words| format!("<li>{}</li>\n", escaped(words))).collect();
        format!("<li>{}<ul>\n{moves}</ul></li>\n", escaped(head))
    };
    let items: String = steps.iter().map(step).collect();
    if items.is_empty() { String::new() } else { format!("<ol>\n{items}</ol>\n") }
}

/// The film strips.
fn strips<'a>(index: &'a Index<'_>) -> Vec<&'a Entry<'a>> {
    let files = index.groups.iter().flat_map(|group| &group.files);
    files.filter(|file| file.path.starts_with("fit/") && file.path.ends_with(".png")).collect()
}

/// A table that was told, the first cell of each row a link where there is one, with its notes.
fn told_table(told: &Table, links: &[&str]) -> String {
    let first = |k: usize, words: &str| match links.get(k) {
        Some(path) => format!("<td><a href=\"{}\">{}</a></td>", escaped(path), escaped(words)),
        None => cell(words, false),
    };
    let row = |(k, cells): (usize, &Vec<String>)| {
        let (head, rest) = cells.split_first().map_or(("", &[][..]), |(head, rest)| (head, rest));
        let rest: String = rest.iter().map(|words| cell(words, false)).collect();
        format!("<tr>{}{rest}</tr>\n", first(k, head))
    };
    let rows: String = told.rows.iter().enumerate().map(row).collect();
    let notes: String =
        told.notes.iter().map(|note| format!("<p>{}</p>\n", escaped(note))).collect();
    table(&told.head, &rows) + &notes
}

fn setting_out(index: &Index<'_>) -> String {
    let row = |setting: &Setting| {
        let cells = setting.cells().map(|words| cell(&words, false)).concat();
        format!("<tr>{cells}</tr>\n")
    };
    let rows: String = index.setting_out.iter().map(row).collect();
    let table = table(&setting_out::HEAD, &rows);
    section("Setting out", "setting-out", &format!("<p>{}</p>\n{table}", setting_out::NOTE))
}

/// Files of one group, folded away: the parts above have links to theirs.
fn files(group: &Group<'_>) -> String {
    let row = |file: &Entry<'_>| {
        let path = escaped(file.path);
        format!(
            "<tr><td><a href=\"{path}\">{path}</a></td>{}{}</tr>\n",
            cell(&file.size, true),
            cell(file.purpose, false)
        )
    };
    let rows: String = group.files.iter().map(row).collect();
    let table = table(&["file", "size", "what it is for"], &rows);
    let (title, n) = (group.title, group.files.len());
    format!("<details><summary>{title} <span>{n}</span></summary>\n{table}</details>\n")
}

fn table(head: &[&str], rows: &str) -> String {
    let head: String = head.iter().map(|cell| format!("<th>{cell}</th>")).collect();
    // What can be scrolled must be reachable by key as well.
    format!(
        "<div class=\"wide\" tabindex=\"0\"><table>\n<thead><tr>{head}</tr></thead>\n<tbody>\n{rows}</tbody>\n</table></div>\n"
    )
}

fn cell(words: &str, is_number: bool) -> String {
    let class = if is_number { " class=\"number\"" } else { "" };
    format!("<td{class}>{}</td>", escaped(words))
}
