//! A document as one HTML file that stands alone: no scripts, no requests, its style and its figures inside.
//!
//! The file says so itself: its content security policy (CSP Level 3) allows figures from `data:` addresses and the one
//! style whose SHA-256 it names, and nothing else.

use crate::document::Document;
use crate::element::{Child, Element, Kind, html as element};
use crate::{STYLE, marked_up};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest as _, Sha256};

/// Margins that leave the printable area of A4 and of Letter alone.
const PAGE: &str = "@page { margin: 14mm 15mm 15mm; }\nbody { margin: 0; }\n\
    @media screen { body { max-width: 190mm; margin: 0 auto; padding: 8mm; } }\n";

/// The file.
pub fn html(document: &Document) -> String {
    let style = [PAGE, STYLE].concat();
    let policy = format!(
        "default-src 'none'; style-src 'sha256-{}'; img-src data:; base-uri 'none'; form-action 'none'",
        STANDARD.encode(Sha256::digest(style.as_bytes()))
    );
    let head = element("head")
        .with(element("meta").attribute("charset", "utf-8"))
        .with(element("meta").attribute("http-equiv", "Content-Security-Policy").attribute("content", policy))
        .with(
            element("meta")
                .attribute("name", "viewport")
                .attribute("content", "width=device-width, initial-scale=1"),
        )
        .with(element("title").text(&document.title))
        .with(element("style").text(&style));
    let page = element("html")
        .attribute("lang", document.language.code())
        .with(head)
        .with(element("body").with(element("main").with(marked_up(document))));
    let mut text = "<!doctype html>\n".to_owned();
    write(&page, &mut text);
    text.push('\n');
    text
}

/// Elements that hold nothing and have no end tag (HTML standard, 13.1.2).
const VOID: [&str; 3] = ["meta", "img", "br"];

fn write(element: &Element, text: &mut String) {
    text.push('<');
    text.push_str(element.tag);
    for (name, value) in &element.attributes {
        text.push(' ');
        text.push_str(name);
        text.push_str("=\"");
        push_escaped(value, text);
        text.push('"');
    }
    text.push('>');
    if element.kind == Kind::Html && VOID.contains(&element.tag) {
        return;
    }
    for child in &element.children {
        match child {
            // Its text is raw (HTML standard, 13.1.2.6), and it is this program's own.
            Child::Text(own) if element.tag == "style" => text.push_str(own),
            Child::Text(own) => push_escaped(own, text),
            Child::Element(own) => write(own, text),
        }
    }
    text.push_str("</");
    text.push_str(element.tag);
    text.push('>');
}

/// The one place where text goes into the file: it can end neither an element nor an attribute.
fn push_escaped(own: &str, text: &mut String) {
    for letter in own.chars() {
        match letter {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '"' => text.push_str("&quot;"),
            '\'' => text.push_str("&#39;"),
            other => text.push(other),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_ends_neither_element_nor_attribute() {
        let mut text = String::new();
        write(&element("p").attribute("title", "\"><b>").text("</p><script>&amp;]]>"), &mut text);
        assert_eq!(text, "<p title=\"&quot;&gt;&lt;b&gt;\">&lt;/p&gt;&lt;script&gt;&amp;amp;]]&gt;</p>");
    }

    #[test]
    fn the_style_ends_only_where_it_should() {
        assert!(!STYLE.contains('<') && !PAGE.contains('<'));
    }
}
