//! Loading a file, at once or piece by piece.

use js_sys::{Reflect, Uint8Array};
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    Blob, FileReaderSync, ReadableStreamByobReader, ReadableStreamDefaultReader,
    ReadableStreamGetReaderOptions, ReadableStreamReaderMode,
};
use whorl_core::readings::{Choices, Incoming, MAX_BYTES};
use whorl_words as words;

/// Bytes that are asked for at a time.
const PIECE: u32 = 1 << 18;

/// All of a file at once, unless it is too large: then nothing of it is loaded.
pub(crate) fn bytes(file: &Blob) -> Result<Vec<u8>, String> {
    size(file)?;
    let buffer = FileReaderSync::new().and_then(|reader| reader.read_as_array_buffer(file));
    let buffer = buffer.map_err(|_| words::intake::file_gone())?;
    Ok(Uint8Array::new(&buffer).to_vec())
}

/// All of a file, read as it comes, unless it is too large: then nothing of it is loaded.
pub(crate) async fn load(
    file: &Blob,
    choices: &str,
    progress: &mut dyn FnMut(f64),
) -> Result<Incoming, String> {
    let size = size(file)?;
    let choices = Choices::from_text(choices).ok_or_else(words::intake::choices_make_no_sense)?;
    let mut loaded = Incoming::new(size, choices);
    let pieces = Pieces::of(file);
    let (mut piece, mut count) = (Vec::new(), 0);
    let mut used = None;
    while let Some(bytes) = pieces.next(used).await.map_err(|_| words::intake::file_gone())? {
        piece.resize(bytes.length() as usize, 0);
        bytes.copy_to(&mut piece);
        loaded.add(&piece);
        count += piece.len();
        progress(count as f64 / size as f64);
        used = Some(bytes);
    }
    Ok(loaded)
}

/// A file's bytes as the browser gives them.
enum Pieces {
    /// Into the memory of the piece before: new memory for each would cost more than the bytes themselves.
    Again(ReadableStreamByobReader),
    /// Browsers that do not know this give each piece as they like.
    Anew(ReadableStreamDefaultReader),
}

impl Pieces {
    fn of(file: &Blob) -> Self {
        let again = ReadableStreamGetReaderOptions::new();
        again.set_mode(ReadableStreamReaderMode::Byob);
        // A stream that refuses stays free for the other reader.
        let stream = file.stream();
        match js_sys::Function::from(Reflect::get(&stream, &"getReader".into()).unwrap_or_default())
            .call1(&stream, &again)
        {
            Ok(reader) => Self::Again(reader.unchecked_into()),
            Err(_) => Self::Anew(stream.get_reader().unchecked_into()),
        }
    }

    /// The next piece, `None` after the last. `used` is the one before.
    async fn next(&self, used: Option<Uint8Array>) -> Result<Option<Uint8Array>, JsValue> {
        let read = match self {
            Self::Again(reader) => {
                let memory = match used {
                    Some(used) => Uint8Array::new(&used.buffer()),
                    None => Uint8Array::new_with_length(PIECE),
                };
                reader.read_with_array_buffer_view(&memory)
            }
            Self::Anew(reader) => reader.read(),
        };
        let piece = JsFuture::from(read).await?;
        let done = Reflect::get(&piece, &"done".into())?.is_truthy();
        let bytes = Reflect::get(&piece, &"value".into())?;
        Ok(if done { None } else { bytes.dyn_into::<Uint8Array>().ok() })
    }
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a size is not negative, and below the limit when it is cast"
)]
fn size(file: &Blob) -> Result<usize, String> {
    let (size, limit) = (file.size(), MAX_BYTES as f64);
    if size > limit {
        let megabytes = |bytes: f64| words::number(bytes / 1e6, 1);
        return Err(words::intake::file_too_large(&megabytes(size), &megabytes(limit)));
    }
    Ok(size as usize)
}
