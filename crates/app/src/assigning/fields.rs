//! The entries of the apparatus as people call them.

use whorl_core::entry::EntryUnit;
use whorl_core::lab::ApparatusField;
use whorl_words as words;

/// What an entry is, its symbol, and the unit it is entered in.
pub(super) fn of(field: ApparatusField) -> (&'static str, &'static str, EntryUnit) {
    use whorl_words::apparatus as told;
    match field {
        ApparatusField::DrumRadius => (told::drum(), "R", EntryUnit::MILLIMETERS),
        ApparatusField::StringDiameter => (told::string(), "d", EntryUnit::MILLIMETERS),
        ApparatusField::TravelPerSpoke => (told::travel(), "s", EntryUnit::MILLIMETERS),
        ApparatusField::Spokes => (told::spokes(), "N", EntryUnit::plain("")),
        ApparatusField::Gravity => (told::gravity(), "g", EntryUnit::METERS_PER_SECOND2),
        ApparatusField::MassScale => (told::mass_scale(), "", EntryUnit::PERCENT),
        ApparatusField::DropHeight => (told::height(), "h", EntryUnit::MILLIMETERS),
        ApparatusField::PulleyInertia => (told::pulley(), "I", EntryUnit::GRAM_CENTIMETERS2),
        ApparatusField::HangingMass => (told::each_mass(), "", EntryUnit::GRAMS),
    }
}

/// A number in its unit, as it was typed.
pub(super) fn written(si: f64, unit: EntryUnit) -> String {
    let number = whorl_core::entry::write(si, unit);
    let symbol = unit.own.symbol;
    if symbol.is_empty() { number } else { words::assigning::with_unit(&number, &symbol) }
}
