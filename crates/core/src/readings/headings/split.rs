//! A heading → name, unit and label, each cut out of the text as written.

use super::labels::{self, cut, parts, tidy};
use super::names::{Named, ends_in_symbol, named};
use super::units::{self, Read};
use super::words::{LONGEST, fold, words};
use super::{Heading, Meaning, UnitFound};

/// Units that are also names, and words that are rather names.
const RATHER_NAMES: [&str; 9] = ["s", "m", "u", "min", "h", "p", "1", "tr", "tick"];
/// Short words in brackets that are no units.
const NO_UNITS: [&str; 12] =
    ["raw", "avg", "abs", "rel", "max", "min", "std", "all", "fit", "exp", "old", "new"];

/// What was cut out so far.
struct Cutting {
    rest: String,
    unit: Read,
    /// The unit as written.
    written: String,
    labels: Vec<String>,
    comma: bool,
}

/// Reads a heading: `t (s)`, `Zeit in Sekunden`, `Run 1: v / (m/s)`, `time_ms`, `v1`.
pub(super) fn heading(text: &str) -> Heading {
    let text = text.trim().trim_matches(['"', '\'', '\u{feff}']).trim();
    // The sign of a comment before a row of headings.
    let text = text.strip_prefix("# ").map_or(text, str::trim);
    let (lone, comma) = units::read(text);
    if let Read::Ours(_) = lone
        && !RATHER_NAMES.contains(&fold(text).as_str())
    {
        let unit = units::unit(text);
        return Heading {
            name: String::new(),
            meaning: None,
            unit,
            label: None,
            decimal_comma_language: comma,
        };
    }
    if text.len() > LONGEST {
        let Named { meaning, comma, .. } = named(text);
        let name = text.to_owned();
        return Heading { name, meaning, unit: UnitFound::None, label: None, decimal_comma_language: comma };
    }
    let mut cutting = Cutting {
        rest: text.to_owned(),
        unit: Read::Nothing,
        written: String::new(),
        labels: Vec::new(),
        comma: false,
    };
    cutting.brackets();
    cutting.labels();
    cutting.behind();
    cutting.other_parts();
    cutting.behind();
    cutting.number();
    cutting.behind();
    cutting.finish(text)
}

impl Cutting {
    /// `t (s)`, `v / (m/s)`, `v (50 g)`, `v (furlong/h)`: the last bracket that holds a unit is the unit.
    fn brackets(&mut self) {
        let mut unclear = None;
        for (from, to) in bracketed(&self.rest).into_iter().rev() {
            let inner = self.rest.get(from..to).map(units::bare).unwrap_or_default().to_owned();
            let (unit, comma) = unit_in(&inner);
            if unit == Read::Nothing && inner != "1" {
                cut(&mut self.rest, from..to);
            } else if unit != Read::Unclear && unit != Read::Nothing && self.unit == Read::Nothing {
                (self.unit, self.written) = (unit, inner);
                self.comma |= comma;
                cut(&mut self.rest, from..to);
            } else if is_unit_like(&inner) {
                unclear.get_or_insert((from, to, inner));
            }
        }
        // A column of something else (a temperature, say) may have anything in brackets.
        if self.unit == Read::Nothing
            && let Some((from, to, inner)) = unclear
            && self.rest.get(..from).is_some_and(|name| has_unit(named(name).meaning))
        {
            (self.unit, self.written) = (Read::Unclear, inner);
            cut(&mut self.rest, from..to);
        }
    }

    /// `Run 1: v`, `v ring 50 g`.
    fn labels(&mut self) {
        if let Some(range) = labels::mass(&self.rest) {
            let label = cut(&mut self.rest, range);
            self.labels.push(label);
        }
        if let Some((range, comma)) = labels::run(&self.rest) {
            let label = cut(&mut self.rest, range);
            self.labels.insert(0, label);
            self.comma |= comma;
        }
        self.empty_brackets();
    }

    /// Drops brackets from which a label was cut.
    fn empty_brackets(&mut self) {
        for (from, to) in bracketed(&self.rest).into_iter().rev() {
            let inside = self.rest.get(from + 1..to.saturating_sub(1));
            if inside.is_some_and(|inside| tidy(inside).is_empty()) {
                cut(&mut self.rest, from..to);
            }
        }
    }

    /// `t / s`, `t in s`, `t, s`, `time_ms`, `v_m_per_s`: a unit behind the name, without brackets.
    fn behind(&mut self) {
        self.rest = tidy(&self.rest).to_owned();
        if self.unit != Read::Nothing {
            return;
        }
        let text = core::mem::take(&mut self.rest);
        let mut small = false;
        for (at, c) in text.char_indices() {
            let hump = small && c.is_ascii_uppercase();
            small = c.is_ascii_lowercase();
            let separates = matches!(
                c,
                ' ' | '\u{a0}' | '\u{202f}' | '_' | ',' | ':' | ';' | '-' | '.' | '/' | '∕' | '⁄'
            );
            if !hump && !separates {
                continue;
            }
            let from = at + if hump { 0 } else { c.len_utf8() };
            let (Some(left), Some(right)) = (text.get(..at), text.get(from..)) else { continue };
            let left = without_in(tidy(left));
            if left.is_empty() || right.len() > 40 {
                continue;
            }
            if let Some((unit, comma)) = unit_behind(left, c, right.trim()) {
                (self.unit, self.written) = (unit, right.trim().to_owned());
                self.comma |= comma;
                self.rest = left.to_owned();
                return;
            }
        }
        self.rest = text;
    }

    /// `ring: t`, `Time | ring`: parts beside the name that say nothing of a column label it.
    fn other_parts(&mut self) {
        let parts = parts(&self.rest);
        let (labels, names): (Vec<&str>, Vec<&str>) =
            parts.iter().partition(|part| named(part).meaning.is_none());
        // Where nothing names a column or labels a run, it is a name of its own.
        if !labels.is_empty() && (!names.is_empty() || !self.labels.is_empty()) {
            self.labels.extend(labels.iter().map(|&label| label.to_owned()));
            self.rest = names.join(", ");
        }
    }

    /// `v1`, `velocity 3`.
    fn number(&mut self) {
        if let Some((name, number)) = labels::number(&self.rest) {
            self.rest = name;
            self.labels.push(number);
        }
    }

    fn finish(mut self, text: &str) -> Heading {
        // Where something was cut out, a bar stands.
        let kept =
            self.rest.split('|').map(tidy).filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ");
        let mut name = without_in(tidy(&kept)).to_owned();
        if let Some((label, symbol)) = ends_in_symbol(&name) {
            self.labels.push(tidy(label).to_owned());
            name = symbol.to_owned();
        }
        if name.is_empty() && self.labels.is_empty() && self.unit == Read::Nothing {
            text.clone_into(&mut name);
        }
        let said = named(&name);
        let (meaning, unit) = units::join(said, self.unit, &self.written);
        let label = (!self.labels.is_empty()).then(|| self.labels.join(" "));
        Heading { name, meaning, unit, label, decimal_comma_language: said.comma || self.comma }
    }
}

/// Where the outermost brackets are, with them.
fn bracketed(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = 0;
    let mut depth = 0_usize;
    for (at, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' | '（' => {
                if depth == 0 {
                    start = at;
                }
                depth += 1;
            }
            ')' | ']' | '}' | '）' if depth > 0 => {
                depth -= 1;
                if depth == 0 {
                    found.push((start, at + c.len_utf8()));
                }
            }
            _ => {}
        }
    }
    found
}

/// A unit in brackets: alone, or beside a remark (`m/s, smoothed`).
fn unit_in(inner: &str) -> (Read, bool) {
    let whole = units::read(inner);
    if whole.0 != Read::Unclear {
        return whole;
    }
    let ours = |part| Some(units::read(part)).filter(|(unit, _)| matches!(unit, Read::Ours(_)));
    inner.split([',', ';']).find_map(ours).unwrap_or(whole)
}

/// Whether a text in brackets, which is no unit we know, must be one.
fn is_unit_like(inner: &str) -> bool {
    let folded = fold(inner);
    let short =
        folded.len() <= 3 && !folded.contains(' ') && !folded.bytes().any(|byte| byte.is_ascii_digit());
    let marked = inner.contains(['/', '^', '%', '°', '⁻', '²']);
    (marked || short && !NO_UNITS.contains(&folded.as_str())) && named(inner).meaning.is_none()
}

/// Whether a quantity is read with a unit.
fn has_unit(meaning: Option<Meaning>) -> bool {
    matches!(
        meaning,
        Some(
            Meaning::Time
                | Meaning::GateTime
                | Meaning::Interval
                | Meaning::Position
                | Meaning::Velocity
                | Meaning::Acceleration
                | Meaning::Angle
                | Meaning::AngularVelocity
                | Meaning::AngularAcceleration
                | Meaning::Mass
        )
    )
}

/// `time in` → `time`, when a unit followed.
fn without_in(left: &str) -> &str {
    let ends = [" in", " en", " em", "_in"];
    let left = ends.iter().find_map(|end| left.strip_suffix(end)).unwrap_or(left);
    tidy(left)
}

/// The unit behind a separator, if the name before it bears that out.
fn unit_behind(left: &str, separator: char, right: &str) -> Option<(Read, bool)> {
    let solidus = matches!(separator, '/' | '∕' | '⁄');
    let mut read = units::read(right);
    if read.0 == Read::Unclear && right.contains('_') {
        // `v_m_s`
        read = units::read(&right.replace('_', "/"));
    }
    let unit = match read.0 {
        Read::Ours(unit) => unit,
        Read::Foreign if solidus => return Some(read),
        Read::Untaken if solidus && has_unit(named(left).meaning) => return Some(read),
        _ => return None,
    };
    let said = named(left);
    // `gate 1 / s`
    let counted =
        said.turns || matches!(said.meaning, Some(Meaning::AngularVelocity | Meaning::AngularAcceleration));
    if right.starts_with('1') && !solidus && !counted {
        return None;
    }
    let borne_out = match units::join(said, read.0, right) {
        (Some(meaning), UnitFound::Known { fits, .. }) => units::fits(fits, meaning),
        (None, UnitFound::Known { symbol, .. }) => {
            let spelled = symbol.contains('/') || !unit.is_letter() && separator != ' ';
            spelled && words(left).iter().any(|word| !word.is_number())
        }
        _ => false,
    };
    // A solidus is clear; `x_u` and `t U` are no turns.
    ((borne_out && fold(right) != "u") || (solidus && words(left).len() == 1)).then_some(read)
}
