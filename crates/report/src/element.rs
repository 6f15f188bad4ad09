//! A tree of elements: what a document is marked up as, before it is written or built.

/// Which language an element is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// HTML.
    Html,
    /// MathML Core.
    Math,
}

/// An element. Names of elements and attributes are this crate's own words, never a user's.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// Which language it is of.
    pub kind: Kind,
    /// Its name.
    pub tag: &'static str,
    /// Attributes, with values that may be a user's text.
    pub attributes: Vec<(&'static str, String)>,
    /// What stands in it.
    pub children: Vec<Child>,
}

/// What stands in an element.
#[derive(Clone, Debug, PartialEq)]
pub enum Child {
    /// Text.
    Text(String),
    /// Another element.
    Element(Element),
}

/// An element of HTML; classes may stand behind dots: `p.remark`.
pub(crate) fn html(tag: &'static str) -> Element {
    let (tag, class) = tag.split_once('.').unwrap_or((tag, ""));
    let element = Element { kind: Kind::Html, tag, attributes: Vec::new(), children: Vec::new() };
    if class.is_empty() { element } else { element.attribute("class", class) }
}

/// An element of MathML.
pub(crate) fn math(tag: &'static str) -> Element {
    Element { kind: Kind::Math, tag, attributes: Vec::new(), children: Vec::new() }
}

impl Element {
    /// With an attribute.
    #[must_use]
    pub(crate) fn attribute(mut self, name: &'static str, value: impl Into<String>) -> Self {
        self.attributes.push((name, inert(&value.into())));
        self
    }

    /// With text in it.
    #[must_use]
    pub(crate) fn text(mut self, text: &str) -> Self {
        self.children.push(Child::Text(inert(text)));
        self
    }

    /// With another element in it.
    #[must_use]
    pub(crate) fn with(mut self, child: Self) -> Self {
        self.children.push(Child::Element(child));
        self
    }

    /// With other elements in it.
    #[must_use]
    pub(crate) fn with_all(mut self, children: impl IntoIterator<Item = Self>) -> Self {
        self.children.extend(children.into_iter().map(Child::Element));
        self
    }
}

/// Text without characters that no document may hold, or that would reorder what stands beside it: control characters
/// but for tab and line feed, and noncharacters, become U+FFFD; embeddings, overrides and isolates of the bidirectional algorithm (UAX #9)
/// go, marks of direction stay.
fn inert(text: &str) -> String {
    let shown = |letter: char| match letter {
        '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\r' => None,
        '\n' | '\t' => Some(letter),
        // Noncharacters (Unicode 23.7).
        '\u{fdd0}'..='\u{fdef}' => Some('\u{fffd}'),
        last if u32::from(last) & 0xfffe == 0xfffe => Some('\u{fffd}'),
        control if control.is_control() => Some('\u{fffd}'),
        other => Some(other),
    };
    text.chars().filter_map(shown).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_in_a_text_reorders_what_stands_beside_it() {
        assert_eq!(inert("a\u{202e}b\u{2067}c\u{200f}d\r\n\te\0\u{85}"), "abc\u{200f}d\n\te\u{fffd}\u{fffd}");
        assert_eq!(inert("\u{fdd0}\u{ffff}\u{10fffe}\u{1d4b3}"), "\u{fffd}\u{fffd}\u{fffd}\u{1d4b3}");
    }

    #[test]
    fn classes_stand_behind_the_name() {
        assert_eq!(html("p.remark"), html("p").attribute("class", "remark"));
    }
}
