//! The tour as pictures with captions and as a page, for a folder of their own or for `--into`.

use std::path::Path;

use anyhow::Context;
use design::Design;
use findings::{Grade, capital};
use scene::Scene;
use show::{Finding, Show, Stop};
use study::told::one_line;
use study::told::table::{hanging, wrapped};

use crate::file_name::FileName;
use crate::html::escaped;
use crate::whole_file;

/// A file of the tour.
#[derive(Debug)]
pub(crate) struct TourFile {
    pub(crate) name: FileName,
    pub(crate) extension: &'static str,
    pub(crate) purpose: String,
    pub(crate) bytes: Vec<u8>,
}

/// Width of a picture, px.
const WIDTH: usize = 1400;
/// Letters of the page.
const STYLE: &str = include_str!("tour_page.css");

/// A picture of every stop, and the page that leads through them. `scene` is that of the design.
///
/// # Errors
/// When a picture cannot be drawn.
pub(crate) fn of(show: &Show, scene: &Scene, design: &Design) -> anyhow::Result<Vec<TourFile>> {
    let stops: Vec<scene::Stop<'_>> = show.stops.iter().map(|stop| drawn(show, stop)).collect();
    let pictures = scene::tour(scene, design, &stops, WIDTH).context("cannot draw the tour")?;
    let picture = |(k, bytes): (usize, Vec<u8>)| {
        let title = &show.stops[k].title;
        TourFile {
            name: FileName::numbered(&format!("{:02}", k + 1), title),
            extension: "png",
            purpose: format!("stop {} of the tour: {title}", k + 1),
            bytes,
        }
    };
    let mut files: Vec<TourFile> = pictures.into_iter().enumerate().map(picture).collect();
    let page = page(show, &files);
    files.push(TourFile {
        name: FileName::of("tour", "tour"),
        extension: "html",
        purpose: "the tour: chamber by chamber, what it is for, what to look at, what was found"
            .to_owned(),
        bytes: page.into_bytes(),
    });
    Ok(files)
}

/// Writes files into a folder that may hold others; those of the same name are replaced. Returns the paths.
pub(crate) fn write(folder: &Path, files: &[TourFile]) -> anyhow::Result<Vec<String>> {
    let named = files.iter().map(|file| (&file.name, file.extension, file.bytes.as_slice()));
    whole_file::write_all(folder, named)
}

/// The tour as plain text.
pub(crate) fn text(show: &Show) -> String {
    let mut text = String::new();
    for (k, stop) in show.stops.iter().enumerate() {
        let title = one_line(&format!("{}. {}", k + 1, stop.title));
        text += &format!("\n{title}\n{}\n", "-".repeat(title.chars().count()));
        text.extend(stop.text.iter().map(|words| wrapped(words)));
        for finding in found(show, stop) {
            text += &hanging("- ", &format!("{}: {}", finding.grade, finding.message));
            let hint = finding.hint.iter();
            text.extend(hint.map(|hint| hanging("  ", &format!("What to do: {hint}"))));
        }
    }
    text
}

fn found<'a>(show: &'a Show, stop: &Stop) -> impl Iterator<Item = &'a Finding> {
    stop.findings.iter().filter_map(|k| show.findings.get(*k))
}

/// A stop as it is drawn.
fn drawn<'a>(show: &Show, stop: &'a Stop) -> scene::Stop<'a> {
    let told = |finding: &Finding| (finding.grade, sentence(&finding.message));
    scene::Stop {
        title: &stop.title,
        text: &stop.text,
        findings: found(show, stop).map(told).collect(),
        about: stop.about,
        from: stop.from,
    }
}

/// A finding as a sentence of its own.
fn sentence(words: &str) -> String {
    capital(&quoted(words)) + "."
}

/// Findings quote names as the file writes them, between backticks; a caption, as a book does.
fn quoted(words: &str) -> String {
    let parts: Vec<&str> = words.split('`').collect();
    let last = parts.len() - 1;
    let quoted = |(k, part): (usize, &&str)| match k {
        k if k % 2 == 0 || k == last => (*part).to_owned(),
        _ => format!("“{part}”"),
    };
    parts.iter().enumerate().map(quoted).collect()
}

/// One page: every stop with its picture beside it. Nothing from elsewhere.
fn page(show: &Show, pictures: &[TourFile]) -> String {
    let title = escaped(&show.title);
    let stops: String = show
        .stops
        .iter()
        .zip(pictures)
        .enumerate()
        .map(|(k, (stop, picture))| section(show, k, stop, picture))
        .collect();
    let links = show.stops.iter().enumerate().map(|(k, stop)| {
        format!("<li><a href=\"#stop-{}\">{}</a></li>\n", k + 1, escaped(&capital(&stop.title)))
    });
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{title}: tour</title>\n<style>\n{STYLE}</style>\n</head>\n<body>\n<h1>{title}</h1>\n\
         <p class=\"lead\">A tour, chamber by chamber. Every picture can be opened: its caption is in it.</p>\n\
         <nav><ol>\n{}</ol></nav>\n{stops}</body>\n</html>\n",
        links.collect::<String>()
    )
}

fn section(show: &Show, k: usize, stop: &Stop, picture: &TourFile) -> String {
    let (title, number) = (escaped(&capital(&stop.title)), k + 1);
    let told: String =
        stop.text.iter().map(|words| format!("<p>{}</p>\n", escaped(words))).collect();
    let findings: String = found(show, stop).map(finding).collect();
    let findings = if findings.is_empty() { findings } else { format!("<ul>\n{findings}</ul>\n") };
    let path = format!("{}.{}", picture.name, picture.extension);
    // What is below the drawing stands beside it here.
    format!(
        "<section id=\"stop-{number}\">\n<h2><span>{number}</span> {title}</h2>\n\
         <a href=\"{path}\"><img src=\"{path}\" alt=\"{title}, cut free and seen from the front\" loading=\"lazy\"></a>\n\
         <div>\n{told}{findings}</div>\n</section>\n"
    )
}

fn finding(finding: &Finding) -> String {
    let class = match finding.grade {
        Grade::Fails => "fails",
        Grade::Tight => "tight",
        Grade::NotChecked => "unsure",
        Grade::Holds => "holds",
    };
    let hint = finding.hint.as_ref().map_or(String::new(), |hint| {
        format!("<br><em>What to do: {}.</em>", escaped(&quoted(hint)))
    });
    let line = finding.line.map_or(String::new(), |line| format!(", line {line}"));
    let place = escaped(&format!("{}{line}", finding.parameter));
    format!(
        "<li class=\"{class}\"><strong>{}.</strong> {}{hint}<br><small>{place}</small></li>\n",
        capital(&finding.grade.to_string()),
        escaped(&sentence(&finding.message))
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_quoted_as_in_a_book() {
        assert_eq!(quoted("`a b` comes after `c`; 5 mm"), "“a b” comes after “c”; 5 mm");
        assert_eq!(quoted("a stray ` stays out"), "a stray  stays out");
        assert_eq!(quoted(""), "");
    }
}
