//! Characters → tokens.

use super::names::Names;
use super::{MOST_POWER, ReadingError, ReadingErrorKind};
use crate::expression::{Decimal, Span};
use crate::symbols::SymbolId;

/// A token and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Token {
    pub(super) kind: TokenKind,
    pub(super) span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum TokenKind {
    Number(Decimal),
    /// `½`: numerator and denominator.
    Fraction(u8, u8),
    Symbol(SymbolId),
    Plus,
    Minus,
    Times,
    Divide,
    /// A power, from `^2`, `**2`, `²` or `^(-1)`.
    Power(i32),
    Open(char),
    Close(char),
    Equals,
}

const FRACTIONS: [(char, u8, u8); 8] =
    [('½', 1, 2), ('⅓', 1, 3), ('⅔', 2, 3), ('¼', 1, 4), ('¾', 3, 4), ('⅕', 1, 5), ('⅙', 1, 6), ('⅛', 1, 8)];

/// Cuts the text up.
pub(super) fn tokens(text: &str, names: &Names<'_>) -> Result<Vec<Token>, ReadingError> {
    let characters: Vec<char> = text.chars().map(plain).collect();
    let mut scanner = Scanner { characters: &characters, at: 0 };
    let mut tokens = Vec::new();
    while let Some(c) = scanner.peek() {
        let start = scanner.at;
        // A sentence may end with a full stop.
        let ends = c == '.' && characters.iter().skip(start + 1).all(|c| c.is_whitespace());
        if c.is_whitespace() || ends {
            scanner.at += 1;
        } else if starts_name(c) {
            for (id, span) in names.cut(&scanner.run())? {
                tokens.push(Token { kind: TokenKind::Symbol(id), span });
            }
        } else {
            let kind = scanner.sign_or_number(c)?;
            tokens.push(Token { kind, span: start..scanner.at });
        }
    }
    Ok(tokens)
}

/// One character for all that look and mean the same.
fn plain(c: char) -> char {
    match c {
        '−' | '–' | '—' | '‐' | '‑' | '﹣' | '－' => '-',
        '·' | '×' | '⋅' | '∙' | '•' | '∗' | '✕' | '∘' | '⁢' => '*',
        '÷' | '∕' | '⁄' | '／' => '/',
        '＋' => '+',
        '＝' => '=',
        '（' => '(',
        '）' => ')',
        'µ' => 'μ',
        'ϕ' => 'φ',
        'ϑ' => 'θ',
        'ɑ' => 'α',
        // Greek capitals that cannot be told from Latin ones.
        'Α' => 'A',
        'Ι' => 'I',
        'Μ' => 'M',
        'Τ' => 'T',
        // Spaces of no width.
        '\u{200b}' | '\u{2061}' | '\u{2060}' | '\u{feff}' => ' ',
        other => other,
    }
}

fn starts_name(c: char) -> bool {
    c.is_alphabetic() && superscript(c).is_none()
}

/// A digit, or a minus, above the line.
fn superscript(c: char) -> Option<char> {
    Some(match c {
        '⁻' => '-',
        '⁺' => '+',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁰'..='⁹' => char::from_digit(u32::from(c) - 0x2070, 10)?,
        _ => return None,
    })
}

/// What stands below the line, on it.
fn subscript(c: char) -> Option<char> {
    Some(match c {
        '₀'..='₉' => char::from_digit(u32::from(c) - 0x2080, 10)?,
        'ₐ' => 'a',
        'ₑ' => 'e',
        'ₒ' => 'o',
        'ₓ' => 'x',
        'ₕ' => 'h',
        'ₖ' => 'k',
        'ₗ' => 'l',
        'ₘ' => 'm',
        'ₙ' => 'n',
        'ₚ' => 'p',
        'ₛ' => 's',
        'ₜ' => 't',
        'ᵢ' => 'i',
        'ᵣ' => 'r',
        'ᵤ' => 'u',
        _ => return None,
    })
}

struct Scanner<'a> {
    characters: &'a [char],
    at: usize,
}

impl Scanner<'_> {
    fn peek(&self) -> Option<char> {
        self.ahead(0)
    }

    fn ahead(&self, by: usize) -> Option<char> {
        self.characters.get(self.at + by).copied()
    }

    /// A run of letters with the digits and subscripts that belong to them, subscripts brought onto
    /// the line as `_x`.
    fn run(&mut self) -> Vec<(char, Span)> {
        let mut run: Vec<(char, Span)> = Vec::new();
        let mut in_braces = false;
        let mut lowered = false;
        while let Some(c) = self.peek() {
            let place = self.at..self.at + 1;
            let after_underscore = run.last().is_some_and(|(last, _)| *last == '_');
            if let Some(on_line) = subscript(c) {
                if !lowered {
                    run.push(('_', place.clone()));
                }
                lowered = true;
                run.push((on_line, place));
            } else if starts_name(c) || c.is_ascii_digit() || c == '_' {
                lowered = false;
                run.push((c, place));
            } else if (c == '{' && after_underscore) || (c == '}' && in_braces) {
                in_braces = c == '{';
                run.push((c, place));
            } else {
                break;
            }
            self.at += 1;
        }
        run
    }

    fn sign_or_number(&mut self, c: char) -> Result<TokenKind, ReadingError> {
        let here = self.at..self.at + 1;
        if c.is_ascii_digit() || (matches!(c, '.' | ',') && self.ahead(1).is_some_and(|c| c.is_ascii_digit()))
        {
            return self.number();
        }
        if let Some((_, above, below)) = FRACTIONS.iter().find(|(fraction, ..)| *fraction == c) {
            self.at += 1;
            return Ok(TokenKind::Fraction(*above, *below));
        }
        if superscript(c).is_some() {
            return self.superscripts();
        }
        self.at += 1;
        Ok(match c {
            '+' => TokenKind::Plus,
            '-' => TokenKind::Minus,
            '*' if self.peek() == Some('*') => {
                self.at += 1;
                return self.power(here);
            }
            '^' => return self.power(here),
            '*' => TokenKind::Times,
            '/' => TokenKind::Divide,
            '(' | '[' | '{' => TokenKind::Open(c),
            ')' | ']' | '}' => TokenKind::Close(c),
            '=' => TokenKind::Equals,
            '<' | '>' | '≤' | '≥' | '≈' | '≠' | '~' | '∝' | '≡' => {
                return Err(ReadingErrorKind::Comparison(c).at(here));
            }
            '.' => return Err(ReadingErrorKind::Stop.at(here)),
            '√' => return Err(ReadingErrorKind::Function("√".to_owned()).at(here)),
            other => return Err(ReadingErrorKind::Character(other).at(here)),
        })
    }

    fn number(&mut self) -> Result<TokenKind, ReadingError> {
        let start = self.at;
        let mut digits: u64 = 0;
        let mut places = None;
        let mut n_digits = 0;
        while let Some(c) = self.peek() {
            if let Some(digit) = c.to_digit(10) {
                digits = digits.saturating_mul(10).saturating_add(u64::from(digit));
                n_digits += 1;
                places = places.map(|places: u32| places + 1);
            } else if matches!(c, '.' | ',') {
                if places.is_some() {
                    return Err(ReadingErrorKind::TwoPoints.at(self.at..self.at + 1));
                }
                places = Some(0);
            } else {
                break;
            }
            self.at += 1;
        }
        if n_digits > Decimal::MOST_PLACES {
            return Err(ReadingErrorKind::NumberTooLong.at(start..self.at));
        }
        Ok(TokenKind::Number(Decimal { digits, places: places.unwrap_or(0) }))
    }

    /// `²`, `⁻¹`.
    fn superscripts(&mut self) -> Result<TokenKind, ReadingError> {
        let start = self.at;
        let mut digits = String::new();
        while let Some(c) = self.peek().and_then(superscript) {
            digits.push(c);
            self.at += 1;
        }
        whole_power(&digits).ok_or_else(|| ReadingErrorKind::Power.at(start..self.at))
    }

    /// What follows `^`: a whole number, alone or in brackets.
    fn power(&mut self, caret: Span) -> Result<TokenKind, ReadingError> {
        self.skip_spaces();
        let start = self.at;
        let close = match self.peek() {
            Some('(') => Some(')'),
            Some('{') => Some('}'),
            Some('[') => Some(']'),
            _ => None,
        };
        if close.is_some() {
            self.at += 1;
            self.skip_spaces();
        }
        let mut digits = String::new();
        while let Some(c) =
            self.peek().filter(|c| c.is_ascii_digit() || (digits.is_empty() && "+-".contains(*c)))
        {
            digits.push(c);
            self.at += 1;
        }
        let wrong =
            |end: usize| ReadingErrorKind::Power.at(if end > start { start..end } else { caret.clone() });
        // `^0.5`: the digits before the point would be taken for all of it.
        if matches!(self.peek(), Some('.' | ',')) {
            return Err(wrong(self.at + 1));
        }
        if let Some(close) = close {
            self.skip_spaces();
            if self.peek() != Some(close) {
                return Err(wrong(self.at));
            }
            self.at += 1;
        }
        whole_power(&digits).ok_or_else(|| wrong(self.at))
    }

    fn skip_spaces(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.at += 1;
        }
    }
}

fn whole_power(digits: &str) -> Option<TokenKind> {
    digits.parse().ok().filter(|power: &i32| power.abs() <= MOST_POWER).map(TokenKind::Power)
}
