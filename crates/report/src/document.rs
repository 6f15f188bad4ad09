//! What a report says: sections made of few kinds of blocks.

use crate::math::Math;
use whorl_words::Language;

/// A report.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    /// The language it is in.
    pub language: Language,
    /// What the lab is called.
    pub title: String,
    /// What stands below the title, before the first section.
    pub head: Vec<Block>,
    /// The sections, in order.
    pub sections: Vec<Section>,
}

/// A heading and what stands below it.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// What stands below it.
    pub blocks: Vec<Block>,
}

/// A block.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading inside a section.
    Subheading(String),
    /// A paragraph; line ends in it are kept.
    Paragraph(String),
    /// A remark in smaller type.
    Remark(String),
    /// Something that must not be overlooked.
    Notice(String),
    /// Sentences, each with a mark before it.
    List(Vec<String>),
    /// Names with what they stand for.
    Facts(Vec<Fact>),
    /// A table.
    Table(Table),
    /// Formulas, each with what it is.
    Formulas(Vec<(String, Math)>),
    /// Figures side by side, as many in a row as fit at the given size.
    Figures(Size, Vec<Picture>),
    /// A question and its answer; line ends are kept.
    Answer {
        /// The question.
        question: String,
        /// The answer, or that there is none.
        answer: String,
    },
}

/// A name with what it stands for.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// The name.
    pub name: Label,
    /// What it stands for.
    pub value: String,
}

/// Words, and the symbol of what they name.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The words; may be empty.
    pub words: String,
    /// The symbol, where it has one.
    pub symbol: Option<Math>,
    /// What stands behind the symbol, such as a coverage probability.
    pub behind: String,
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// What it holds.
    pub caption: String,
    /// Names of the columns.
    pub head: Vec<Label>,
    /// Rows of as many cells. The first cell names its row; a row of fewer cells has its last one run to the end.
    pub rows: Vec<Vec<String>>,
    /// The first of the columns, counted from 0, that hold numbers: from there on cells are set flush right.
    pub numbers_from: usize,
}

/// A drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Picture {
    /// The drawing, an SVG document.
    pub svg: String,
    /// What it shows, in words.
    pub alternative: String,
    /// What stands below it; may be empty.
    pub caption: String,
}

/// How large figures are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// Four side by side.
    Small,
    /// As wide as the page.
    Wide,
}

impl Label {
    /// Words alone.
    pub fn words(words: impl Into<String>) -> Self {
        Self { words: words.into(), symbol: None, behind: String::new() }
    }

    /// A symbol alone.
    pub fn symbol(symbol: Math) -> Self {
        Self { symbol: Some(symbol), ..Self::words("") }
    }

    /// With a symbol behind the words.
    #[must_use]
    pub fn with(mut self, symbol: Math) -> Self {
        self.symbol = Some(symbol);
        self
    }

    /// With words behind the symbol.
    #[must_use]
    pub fn and(mut self, behind: impl Into<String>) -> Self {
        self.behind = behind.into();
        self
    }
}
