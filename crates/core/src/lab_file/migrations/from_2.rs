//! Version 3 added readings of kind `sampled-acceleration`, and with it came what a run's file was: a `source` with
//! `file`, `bytes`, `sha256`, `run` and `remarks`, where older files have the name alone, as `source_file`.

use super::{Moved, runs};
use serde_json::{Value, json};

pub(super) fn step(document: &mut Value, moved: &mut Moved) {
    for (index, run) in runs(document) {
        let is_blank = |file: &Value| file.as_str().map_or(file.is_null(), |file| file.trim().is_empty());
        let Some(file) = run.remove("source_file").filter(|file| !is_blank(file)) else { continue };
        if run.get("source").is_none_or(Value::is_null) {
            run.insert("source".to_owned(), json!({ "file": file }));
            moved.note(format!("runs[{index}].source_file"), format!("runs[{index}].source.file"));
        }
    }
}
