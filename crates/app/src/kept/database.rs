//! The browser's database of labs: each lab in pieces, the many readings of its runs once.

use idb::{Database, DatabaseEvent, Error, Factory, KeyRange, ObjectStoreParams, TransactionMode};
use js_sys::Array;
use std::rc::Rc;
use wasm_bindgen::JsValue;

/// Several pages may share one origin, so the name holds the path that this one is hosted at.
const NAME: &str = "whorl-labs";
const LABS: &str = "labs";
const READINGS: &str = "readings";

/// Names a lab in the database.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Slot(pub(super) String);

/// Why something is not kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum NotKept {
    /// The browser has no storage for this page.
    Refused,
    /// It would not take it: most often because it is full.
    Full,
    /// The lab was opened in another tab, which keeps it now.
    Elsewhere,
}

impl From<Error> for NotKept {
    fn from(_: Error) -> Self {
        Self::Full
    }
}

/// What is known of a lab without opening it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct About {
    pub(super) slot: Slot,
    /// The tab that keeps it.
    pub(super) owner: String,
    /// When it was last changed, in milliseconds since 1970.
    pub(super) changed_ms: f64,
    pub(super) title: String,
    pub(super) runs: usize,
    /// What stood behind the page's address: who comes back by the same link goes on with the same lab.
    pub(super) address: String,
    /// Whether it holds changes that are in no file.
    pub(super) unsaved: bool,
}

/// A piece of a kept lab's text.
pub(super) enum Piece {
    Text(String),
    /// The key of readings.
    Readings(String),
}

/// Readings to be written for the first time, under a key.
pub(super) type New = (String, String);

/// The database.
#[derive(Clone)]
pub(super) struct Labs(Rc<Database>);

impl Labs {
    /// Opens it.
    pub(super) async fn open() -> Result<Self, NotKept> {
        let path = web_sys::window().and_then(|window| window.location().pathname().ok());
        let folder = path.as_deref().and_then(|path| path.rsplit_once('/')).map_or("", |(folder, _)| folder);
        let open = async || {
            let mut request = Factory::new()?.open(&format!("{NAME}{folder}"), Some(1))?;
            request.on_upgrade_needed(|event| {
                if let Ok(database) = event.database() {
                    for store in [LABS, READINGS] {
                        // It fails where there is one, which is then as good.
                        let _ = database.create_object_store(store, ObjectStoreParams::new());
                    }
                }
            });
            request.await
        };
        let mut database = open().await.map_err(|_: Error| NotKept::Refused)?;
        // A later program that needs another shape may have it.
        database.on_version_change(|event| {
            if let Some(target) = event.target()
                && let Ok(database) = Database::try_from(target)
            {
                database.close();
            }
        });
        Ok(Self(Rc::new(database)))
    }

    /// Writes a lab, unless another tab keeps it. What was kept of it before is replaced in one go or not at all.
    pub(super) async fn write(&self, about: &About, pieces: &[Piece], new: &[New]) -> Result<(), NotKept> {
        let transaction = self.0.transaction(&[LABS, READINGS], TransactionMode::ReadWrite)?;
        let labs = transaction.object_store(LABS)?;
        let readings = transaction.object_store(READINGS)?;
        let key = JsValue::from(&about.slot.0);
        let kept = labs.get(key.clone())?.await?.and_then(|record| read_about(&about.slot, &record));
        if kept.is_some_and(|kept| kept.owner != about.owner) {
            return Err(NotKept::Elsewhere);
        }
        for (key, text) in new {
            readings.put(&text.into(), Some(&key.into()))?.await?;
        }
        labs.put(&written(about, pieces), Some(&key))?.await?;
        if transaction.await?.is_committed() { Ok(()) } else { Err(NotKept::Full) }
    }

    /// All labs, the last changed first.
    pub(super) async fn list(&self) -> Result<Vec<About>, NotKept> {
        let transaction = self.0.transaction(&[LABS], TransactionMode::ReadOnly)?;
        let labs = transaction.object_store(LABS)?;
        let keys = labs.get_all_keys(None, None)?.await?;
        let records = labs.get_all(None, None)?.await?;
        let mut list: Vec<About> = keys
            .iter()
            .zip(&records)
            .filter_map(|(key, record)| read_about(&Slot(key.as_string()?), record))
            .collect();
        list.sort_by(|a, b| b.changed_ms.total_cmp(&a.changed_ms));
        Ok(list)
    }

    /// A lab's text, which from here on is kept by `owner`; `None` where there is no such lab.
    pub(super) async fn take(&self, slot: &Slot, owner: &str) -> Result<Option<(About, String)>, NotKept> {
        let transaction = self.0.transaction(&[LABS, READINGS], TransactionMode::ReadWrite)?;
        let labs = transaction.object_store(LABS)?;
        let readings = transaction.object_store(READINGS)?;
        let key = JsValue::from(&slot.0);
        let Some(record) = labs.get(key.clone())?.await? else { return Ok(None) };
        let Some(mut about) = read_about(slot, &record) else { return Ok(None) };
        let mut text = String::new();
        let pieces = read_pieces(&record);
        for piece in &pieces {
            match piece {
                Piece::Text(piece) => text += piece,
                Piece::Readings(key) => {
                    let found = readings.get(JsValue::from(key))?.await?;
                    text += &found.and_then(|found| found.as_string()).unwrap_or_else(|| "null".to_owned());
                }
            }
        }
        owner.clone_into(&mut about.owner);
        labs.put(&written(&about, &pieces), Some(&key))?.await?;
        if transaction.await?.is_committed() { Ok(Some((about, text))) } else { Err(NotKept::Full) }
    }

    /// Removes a lab and its readings.
    pub(super) async fn remove(&self, slot: &Slot) -> Result<(), NotKept> {
        let transaction = self.0.transaction(&[LABS, READINGS], TransactionMode::ReadWrite)?;
        transaction.object_store(LABS)?.delete(JsValue::from(&slot.0))?.await?;
        // Keys of readings begin with the lab's and a slash; “0” is what follows the slash.
        let [from, to] = ["/", "0"].map(|end| JsValue::from(format!("{}{end}", slot.0)));
        let all = KeyRange::bound(&from, &to, Some(false), Some(true))?;
        transaction.object_store(READINGS)?.delete(all)?.await?;
        if transaction.await?.is_committed() { Ok(()) } else { Err(NotKept::Full) }
    }
}

/// A record is an array of texts: what is known of the lab, then its pieces, text and keys in turn.
const HEAD: u32 = 6;

fn written(about: &About, pieces: &[Piece]) -> JsValue {
    let record = Array::new();
    record.push(&JsValue::from(&about.owner));
    record.push(&JsValue::from(about.changed_ms));
    record.push(&JsValue::from(&about.title));
    record.push(&JsValue::from(u32::try_from(about.runs).unwrap_or(u32::MAX)));
    record.push(&JsValue::from(about.unsaved));
    record.push(&JsValue::from(&about.address));
    for piece in pieces {
        let (is_key, text) = match piece {
            Piece::Text(text) => (false, text),
            Piece::Readings(key) => (true, key),
        };
        record.push(&JsValue::from(is_key));
        record.push(&JsValue::from(text));
    }
    record.into()
}

fn read_about(slot: &Slot, record: &JsValue) -> Option<About> {
    let record = Array::from(record);
    Some(About {
        slot: slot.clone(),
        owner: record.get(0).as_string()?,
        changed_ms: record.get(1).as_f64()?,
        title: record.get(2).as_string()?,
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count as it was written"
        )]
        runs: record.get(3).as_f64()? as usize,
        unsaved: record.get(4).as_bool()?,
        address: record.get(5).as_string()?,
    })
}

fn read_pieces(record: &JsValue) -> Vec<Piece> {
    let record = Array::from(record);
    (HEAD..record.length())
        .step_by(2)
        .filter_map(|at| {
            let text = record.get(at + 1).as_string()?;
            Some(if record.get(at).as_bool()? { Piece::Readings(text) } else { Piece::Text(text) })
        })
        .collect()
}
