//! Findings as people read them: the line of the file underlined, the reason, what to do.

use annotate_snippets::{AnnotationKind, Group, Level, Origin, Renderer, Snippet};
use findings::{Finding, Grade};

use study::report::{Report, is_missing_check};
use study::told::cautions;
use study::told::one_line;
use study::told::table::wrapped;

/// How much is drawn, and how.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Style {
    /// Colours, for a terminal. The words say the same without.
    pub(crate) is_coloured: bool,
    /// Also draws the checks that hold.
    pub(crate) with_holding: bool,
}

/// All findings, and a last line that counts them.
pub(crate) fn report(report: &Report<'_>, style: Style) -> String {
    let name = &report.source.name;
    findings(report, name, style)
        + &cautions(report)
        + &missing_checks(report)
        + &one_line(&format!("{name}: {}", report.summary()))
        + "\n"
}

/// What to mind where a failure puts water on the floor; nothing where none does.
fn cautions(report: &Report<'_>) -> String {
    if report.findings.iter().any(cautions::is_flood) {
        wrapped(cautions::ESTIMATES) + &wrapped(cautions::MAINS) + "\n"
    } else {
        String::new()
    }
}

/// The checks that are not made, under a heading; nothing when there are none.
fn missing_checks(report: &Report<'_>) -> String {
    let line = |finding: &Finding| {
        let hint = finding.hint.as_ref().map(|hint| format!("; {hint}")).unwrap_or_default();
        format!("  {}: {}\n", finding.code, one_line(&(finding.message.clone() + &hint)))
    };
    let lines: String = report.not_checked().map(line).collect();
    if lines.is_empty() { lines } else { format!("Not checked:\n{lines}\n") }
}

/// The findings alone, each with an empty line after it; `file` is what their file is called.
pub(crate) fn findings(report: &Report<'_>, file: &str, style: Style) -> String {
    let renderer = if style.is_coloured { Renderer::styled() } else { Renderer::plain() };
    let drawn = report
        .findings
        .iter()
        .filter(|finding| finding.grade != Grade::Holds && !is_missing_check(finding));
    let mut text: String =
        drawn.map(|f| draw(&renderer, &report.source.text, file, f) + "\n\n").collect();
    if style.with_holding {
        let holding = report.findings.iter().filter(|finding| finding.grade == Grade::Holds);
        let lines: String =
            holding.map(|f| renderer.render(&[Group::with_title(title(f))]) + "\n").collect();
        text += &lines;
        text += if lines.is_empty() { "" } else { "\n" };
    }
    text
}

fn draw(renderer: &Renderer, text: &str, file: &str, finding: &Finding) -> String {
    let mut group = Group::with_title(title(finding));
    // An empty file has no line to show.
    let span = finding.span.clone().filter(|_| !text.trim().is_empty());
    group = match span {
        Some(span) => {
            let mark = AnnotationKind::Primary.span(span);
            group.element(Snippet::source(text).path(file).annotation(mark))
        }
        None => group.element(Origin::path(file)),
    };
    // The renderer makes titles and the file's lines harmless, but trusts messages.
    if let Some(hint) = &finding.hint {
        group = group.element(Level::HELP.message(one_line(hint)));
    }
    if let Some(from) = &finding.source {
        group = group.element(Level::NOTE.with_name("source").message(one_line(from)));
    }
    renderer.render(&[group])
}

fn title(finding: &Finding) -> annotate_snippets::Title<'_> {
    let level = match finding.grade {
        Grade::Fails => Level::ERROR.with_name("fails"),
        Grade::Tight => Level::WARNING.with_name("tight"),
        Grade::NotChecked => Level::NOTE.with_name("not checked"),
        Grade::Holds => Level::INFO.with_name("holds"),
    };
    level.primary_title(&finding.message).id(finding.code)
}

#[cfg(test)]
mod tests {
    use params::Spans;

    use super::*;
    use study::Source;

    const TEXT: &str = "format = 1\n\n[sheet.clear]\nthickness = -8 # as ordered\n";

    fn drawn(findings: Vec<Finding>, style: Style) -> String {
        let source = Source { name: "sump.toml".into(), text: TEXT.into() };
        report(&Report::new(&source, &Spans::default(), findings), style)
    }

    fn thin() -> Finding {
        let at = TEXT.find("-8").expect("there");
        Finding::fails(
            "thin",
            "sheet.clear.thickness",
            "`thickness` is -8 mm; it must be at least 1 mm",
        )
        .with_hint("write the thickness as ordered, such as `8`")
        .with_source("common practice")
        .at(at..at + 2)
    }

    #[test]
    fn a_finding_shows_line_reason_help_and_source() {
        let expected = "\
fails[thin]: `thickness` is -8 mm; it must be at least 1 mm
 --> sump.toml:4:13
  |
4 | thickness = -8 # as ordered
  |             ^^
  |
  = help: write the thickness as ordered, such as `8`
  = source: common practice

sump.toml: 1 fails
";
        assert_eq!(drawn(vec![thin()], Style::default()), expected);
    }

    #[test]
    fn colours_add_nothing_that_words_do_not_say() {
        let styled = drawn(vec![thin()], Style { is_coloured: true, ..Style::default() });
        assert!(styled.contains("\x1b["));
        assert_eq!(without_escapes(&styled), drawn(vec![thin()], Style::default()));
    }

    #[test]
    fn what_holds_is_shown_when_asked_for() {
        let holds = || vec![Finding::holds("way-out", "", "the comb comes out"), thin()];
        assert!(!drawn(holds(), Style::default()).contains("comes out"));
        let all = drawn(holds(), Style { with_holding: true, ..Style::default() });
        assert!(
            all.ends_with(
                "\n\nholds[way-out]: the comb comes out\n\nsump.toml: 1 fails, 1 holds\n"
            ),
            "{all}"
        );
    }

    #[test]
    fn a_message_cannot_command_the_terminal() {
        let hostile =
            Finding::fails("name", "", "`\x1b]0;gotcha\x07` is no name").with_hint("\x1b[2J");
        let text = drawn(vec![hostile], Style::default());
        assert!(!text.contains(['\x1b', '\x07']), "{text:?}");
    }

    fn without_escapes(text: &str) -> String {
        let mut parts = text.split("\x1b[");
        let first = parts.next().unwrap_or_default().to_owned();
        parts.fold(first, |plain, part| plain + part.split_once('m').map_or("", |(_, rest)| rest))
    }
}
