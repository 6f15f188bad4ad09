//! Forecasts as one text, kept with the lab.

use super::{About, Forecast, Slope};
use crate::lab::RunId;
use serde_json::{Value, json};
use whorl_words as words;

/// A text that holds no forecasts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{}", words::forecast::damaged())]
pub struct Damaged;

/// The text of forecasts.
pub fn save(forecasts: &[Forecast]) -> String {
    let one = |forecast: &Forecast| {
        let (next, run) = match forecast.about {
            About::NextAfter(last) => (Some(last.0), None),
            About::Run(id) => (None, Some(id.0)),
        };
        json!({
            "against": forecast.against.0,
            "next_after": next,
            "run": run,
            "slope": forecast.slope.key(),
            "factor": forecast.factor,
            "reason": forecast.reason,
            "explanation": forecast.explanation,
        })
    };
    Value::Array(forecasts.iter().map(one).collect()).to_string()
}

/// The forecasts of a text.
///
/// # Errors
/// When it holds something else.
pub fn open(text: &str) -> Result<Vec<Forecast>, Damaged> {
    let all: Value = serde_json::from_str(text).map_err(|_| Damaged)?;
    all.as_array().ok_or(Damaged)?.iter().map(|value| one(value).ok_or(Damaged)).collect()
}

fn one(value: &Value) -> Option<Forecast> {
    let id = |name: &str| Some(RunId(u32::try_from(value.get(name)?.as_u64()?).ok()?));
    let text = |name: &str| value.get(name)?.as_str();
    let about = id("run").map(About::Run).or_else(|| id("next_after").map(About::NextAfter))?;
    let factor = value.get("factor").and_then(Value::as_f64);
    let mut forecast =
        Forecast::new(id("against")?, about, Slope::from_key(text("slope")?)?, factor, text("reason")?)
            .ok()?;
    text("explanation")?.clone_into(&mut forecast.explanation);
    Some(forecast)
}
