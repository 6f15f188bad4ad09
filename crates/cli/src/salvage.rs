//! `whorl salvage`: what can be saved of a damaged lab file.

use whorl_core::lab_file::{Salvaged, salvage, save};

/// A lab file of all that is whole; what is not is told on standard error.
pub(crate) fn answer(file: &str) -> Result<String, String> {
    let bytes = std::fs::read(file).map_err(|error| format!("{file}: {error}"))?;
    let Some(Salvaged { lab, lost }) = salvage(&bytes) else {
        return Err(format!("{file}: there is nothing of a lab in this file"));
    };
    for lost in &lost {
        eprintln!("whorl: {file}: {lost}");
    }
    eprintln!("whorl: {file}: {} runs and {} objects saved", lab.runs().len(), lab.objects().len());
    Ok(save(&lab) + "\n")
}
