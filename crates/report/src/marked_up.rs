//! Document → elements: which element each kind of block is, and by which classes the style knows it.

use crate::document::{Block, Document, Fact, Label, Picture, Section, Size, Table};
use crate::element::{Element, html, math};
use crate::math::Math;
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;

/// The report as one element.
pub fn marked_up(document: &Document) -> Element {
    html("article.report")
        .attribute("lang", document.language.code())
        .with(
            html("header")
                .with(html("h1").attribute("dir", "auto").text(&document.title))
                .with_all(document.head.iter().map(block)),
        )
        .with_all(document.sections.iter().map(section))
}

fn section(section: &Section) -> Element {
    html("section").with(html("h2").text(&section.heading)).with_all(section.blocks.iter().map(block))
}

fn block(block: &Block) -> Element {
    match block {
        Block::Subheading(text) => html("h3").attribute("dir", "auto").text(text),
        Block::Paragraph(text) => html("p").attribute("dir", "auto").text(text),
        Block::Remark(text) => html("p.remark").attribute("dir", "auto").text(text),
        Block::Notice(text) => html("p.notice").attribute("dir", "auto").text(text),
        Block::List(items) => {
            html("ul").with_all(items.iter().map(|item| html("li").attribute("dir", "auto").text(item)))
        }
        Block::Facts(facts) => html("dl").with_all(facts.iter().map(fact)),
        Block::Table(own) => table(own),
        Block::Formulas(all) => html("dl.formulas").with_all(all.iter().map(|(what, own)| {
            let value = html("dd").with(formula(own).attribute("displaystyle", "true"));
            html("div").with(html("dt").attribute("dir", "auto").text(what)).with(value)
        })),
        Block::Figures(size, pictures) => {
            let class = match size {
                Size::Small => "div.small-figures",
                Size::Wide => "div.wide-figures",
            };
            html(class).with_all(pictures.iter().map(figure))
        }
        Block::Answer { question, answer } => html("div.answer")
            .with(html("h3").text(question))
            .with(html("p").attribute("dir", "auto").text(answer)),
    }
}

fn fact(fact: &Fact) -> Element {
    let value = html("dd").attribute("dir", "auto").text(&fact.value);
    html("div").with(label(html("dt"), &fact.name)).with(value)
}

fn label(element: Element, label: &Label) -> Element {
    let mut element = element.attribute("dir", "auto");
    if !label.words.is_empty() {
        element = element.text(&label.words);
    }
    if let Some(symbol) = &label.symbol {
        if !label.words.is_empty() {
            element = element.text(" ");
        }
        element = element.with(formula(symbol));
    }
    if label.behind.is_empty() { element } else { element.text(&label.behind) }
}

fn formula(own: &Math) -> Element {
    math("math").attribute("aria-label", own.spoken.as_str()).with(own.tree.clone())
}

/// Tables of so many rows at most are never split between pages.
const SHORT: usize = 12;

fn table(table: &Table) -> Element {
    let columns = table.head.len();
    let aligned = |place: usize, cell: Element| {
        if place < table.numbers_from { cell } else { cell.attribute("class", "number") }
    };
    let head = table.head.iter().enumerate();
    let head = head.map(|(place, name)| label(aligned(place, html("th").attribute("scope", "col")), name));
    let row = |cells: &Vec<String>| {
        let last = cells.len().saturating_sub(1);
        let mut row = html("tr");
        for (place, cell) in cells.iter().enumerate() {
            let mut element = if place == 0 { html("th").attribute("scope", "row") } else { html("td") };
            if place == last && last + 1 < columns {
                element = element.attribute("colspan", (columns - last).to_string());
            } else {
                element = aligned(place, element);
            }
            row = row.with(element.attribute("dir", "auto").text(cell));
        }
        row
    };
    html(if table.rows.len() <= SHORT { "table.short" } else { "table" })
        .with(html("caption").attribute("dir", "auto").text(&table.caption))
        .with(html("thead").with(html("tr").with_all(head)))
        .with(html("tbody").with_all(table.rows.iter().map(row)))
}

fn figure(picture: &Picture) -> Element {
    let source = format!("data:image/svg+xml;base64,{}", STANDARD.encode(&picture.svg));
    let image = html("img").attribute("src", source).attribute("alt", picture.alternative.as_str());
    let figure = html("figure").with(image);
    if picture.caption.is_empty() {
        return figure;
    }
    figure.with(html("figcaption").attribute("dir", "auto").text(&picture.caption))
}
