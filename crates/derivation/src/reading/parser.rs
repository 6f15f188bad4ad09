//! Tokens → answer. The grammar stands in the module above.

use super::token::{Token, TokenKind};
use super::{Gap, MOST_NESTING, ReadingError, ReadingErrorKind};
use crate::expression::{Answer, Expression, Factor, Kind, Span, Term};

/// How `a/2R` is understood.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Division {
    /// (a/2)·R.
    LeftToRight,
    /// a/(2R).
    BareProductsFirst,
}

pub(super) fn parse(tokens: &[Token], division: Division) -> Result<Answer, ReadingError> {
    let mut parser = Parser { tokens, at: 0, nesting: 0, division };
    if tokens.is_empty() {
        return Err(ReadingErrorKind::Empty.at(0..0));
    }
    let left = parser.sum(Gap::Before)?;
    if parser.peek_kind() != Some(TokenKind::Equals) {
        parser.end()?;
        return Ok(Answer::Value(left));
    }
    parser.at += 1;
    let right = parser.sum(Gap::After("="))?;
    parser.end()?;
    Ok(Answer::Equation(left, right))
}

struct Parser<'a> {
    tokens: &'a [Token],
    at: usize,
    nesting: usize,
    division: Division,
}

impl Parser<'_> {
    fn peek(&self) -> Option<&Token> {
        self.tokens.get(self.at)
    }

    fn peek_kind(&self) -> Option<TokenKind> {
        self.peek().map(|token| token.kind)
    }

    /// Nothing may follow.
    fn end(&self) -> Result<(), ReadingError> {
        let Some(token) = self.peek() else { return Ok(()) };
        Err(match token.kind {
            TokenKind::Close(close) => ReadingErrorKind::Unopened(close),
            TokenKind::Number(_) | TokenKind::Fraction(..) => ReadingErrorKind::NumberAfter,
            // Sums end only at the end, a closing bracket, a number, a power or an equals sign.
            TokenKind::Power(_) => ReadingErrorKind::PowerOfPower,
            _ => ReadingErrorKind::SecondEquals,
        }
        .at(token.span.clone()))
    }

    /// Signs before a term: whether they come to a minus, where they stand, and what the last one is.
    fn signs(&mut self) -> Option<(bool, Span, &'static str)> {
        let mut found: Option<(bool, Span, &'static str)> = None;
        loop {
            let minus = match self.peek_kind() {
                Some(TokenKind::Minus) => true,
                Some(TokenKind::Plus) => false,
                _ => return found,
            };
            let span = self.peek().map(|token| token.span.clone()).unwrap_or_default();
            self.at += 1;
            let last = if minus { "−" } else { "+" };
            found = Some(match found {
                None => (minus, span, last),
                Some((before, first, _)) => (before != minus, first.start..span.end, last),
            });
        }
    }

    /// `gap` says where something is missing when nothing stands here.
    fn sum(&mut self, gap: Gap) -> Result<Expression, ReadingError> {
        let mut terms = Vec::new();
        let first_sign = self.signs();
        let first = self.product(first_sign.as_ref().map_or(gap, |(_, _, last)| Gap::After(last)))?;
        let start = first_sign.as_ref().map_or(first.span.start, |(_, span, _)| span.start);
        terms.push(Term { negative: first_sign.is_some_and(|(minus, ..)| minus), value: first });
        while let Some((negative, _, last)) = self.signs() {
            let value = self.product(Gap::After(last))?;
            terms.push(Term { negative, value });
        }
        let end = terms.last().map_or(start, |term| term.value.span.end);
        match terms.as_slice() {
            [Term { negative: false, value }] => Ok(value.clone()),
            _ => Ok(Expression { kind: Kind::Sum(terms), span: start..end }),
        }
    }

    fn product(&mut self, gap: Gap) -> Result<Expression, ReadingError> {
        let first = self.factor(gap)?;
        let start = first.span.start;
        // Brackets round what stands first change nothing.
        let mut factors = match first.kind {
            Kind::Product(factors) if self.factor_follows() => factors,
            _ => vec![Factor { divides: false, value: first }],
        };
        loop {
            let divides = match self.peek_kind() {
                Some(TokenKind::Times) => false,
                Some(TokenKind::Divide) => true,
                Some(TokenKind::Symbol(_) | TokenKind::Open(_)) => {
                    let value = self.factor(Gap::Before)?;
                    factors.push(Factor { divides: false, value });
                    continue;
                }
                Some(TokenKind::Number(_) | TokenKind::Fraction(..)) => {
                    let span = self.peek().map(|token| token.span.clone()).unwrap_or_default();
                    return Err(ReadingErrorKind::NumberAfter.at(span));
                }
                _ => break,
            };
            self.at += 1;
            let mut value = self.signed_factor(Gap::After(if divides { "/" } else { "*" }))?;
            if divides && self.division == Division::BareProductsFirst {
                value = self.bare_product(value)?;
            }
            factors.push(Factor { divides, value });
        }
        let end = factors.last().map_or(start, |factor| factor.value.span.end);
        match factors.as_slice() {
            [only] => Ok(only.value.clone()),
            _ => Ok(Expression { kind: Kind::Product(factors), span: start..end }),
        }
    }

    fn factor_follows(&self) -> bool {
        matches!(
            self.peek_kind(),
            Some(TokenKind::Times | TokenKind::Divide | TokenKind::Symbol(_) | TokenKind::Open(_))
        )
    }

    /// `first` and all factors that follow with nothing between.
    fn bare_product(&mut self, first: Expression) -> Result<Expression, ReadingError> {
        let start = first.span.start;
        let mut factors = vec![Factor { divides: false, value: first }];
        while let Some(TokenKind::Symbol(_) | TokenKind::Open(_)) = self.peek_kind() {
            factors.push(Factor { divides: false, value: self.factor(Gap::Before)? });
        }
        let end = factors.last().map_or(start, |factor| factor.value.span.end);
        match factors.as_slice() {
            [only] => Ok(only.value.clone()),
            _ => Ok(Expression { kind: Kind::Product(factors), span: start..end }),
        }
    }

    fn signed_factor(&mut self, gap: Gap) -> Result<Expression, ReadingError> {
        let Some((negative, signs, last)) = self.signs() else { return self.factor(gap) };
        let value = self.factor(Gap::After(last))?;
        if !negative {
            return Ok(value);
        }
        let span = signs.start..value.span.end;
        Ok(Expression { kind: Kind::Sum(vec![Term { negative, value }]), span })
    }

    fn factor(&mut self, gap: Gap) -> Result<Expression, ReadingError> {
        let mut base = self.primary(gap)?;
        if let Some(TokenKind::Power(power)) = self.peek_kind() {
            let span = base.span.start..self.peek().map_or(base.span.end, |token| token.span.end);
            self.at += 1;
            base = Expression { kind: Kind::Power(Box::new(base), power), span };
        }
        match self.peek() {
            Some(token) if matches!(token.kind, TokenKind::Power(_)) => {
                Err(ReadingErrorKind::PowerOfPower.at(token.span.clone()))
            }
            _ => Ok(base),
        }
    }

    fn primary(&mut self, gap: Gap) -> Result<Expression, ReadingError> {
        let Some(Token { kind, span }) = self.peek().cloned() else {
            // Pointed at: the last thing that was there.
            let end = self.tokens.last().map_or(0..0, |token| token.span.clone());
            return Err(ReadingErrorKind::Missing(gap).at(end));
        };
        self.at += 1;
        let kind = match kind {
            TokenKind::Number(number) => Kind::Number(number),
            TokenKind::Fraction(above, below) => Kind::Product(vec![
                Factor {
                    divides: false,
                    value: Expression { span: span.clone(), ..Expression::whole(above.into()) },
                },
                Factor {
                    divides: true,
                    value: Expression { span: span.clone(), ..Expression::whole(below.into()) },
                },
            ]),
            TokenKind::Symbol(id) => Kind::Symbol(id),
            TokenKind::Open(open) => return self.bracket(open, span),
            _ => return Err(ReadingErrorKind::Missing(gap).at(span)),
        };
        Ok(Expression { kind, span })
    }

    fn bracket(&mut self, open: char, opened: Span) -> Result<Expression, ReadingError> {
        if self.nesting == MOST_NESTING {
            return Err(ReadingErrorKind::TooDeep.at(opened));
        }
        self.nesting += 1;
        let mut inner = self.sum(Gap::Inside)?;
        self.nesting -= 1;
        let expected = match open {
            '(' => ')',
            '[' => ']',
            _ => '}',
        };
        match self.peek().cloned() {
            Some(Token { kind: TokenKind::Close(close), span }) => {
                if close != expected {
                    return Err(ReadingErrorKind::Mismatched { open, close, expected }.at(span));
                }
                self.at += 1;
                // What is marked later includes the brackets.
                inner.span = opened.start..span.end;
                Ok(inner)
            }
            _ => Err(ReadingErrorKind::Unclosed(open).at(opened)),
        }
    }
}
