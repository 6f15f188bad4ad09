//! Words in cells and labels: gate states, the way the mass goes, an empty table.

use super::words::{among, beginning, fold, one_of, words};
use crate::torque::Motion;

const BLOCKED: &str = "blocked block closed close on high hi true yes dark covered interrupted broken active \
    zu blockiert unterbrochen geschlossen an ein hoch wahr ja dunkel verdeckt abgedunkelt bedeckt aktiv \
    bloque bloquee ferme fermee haut vrai oui coupe coupee interrompu masque occulte actif \
    bloqueado bloqueada cerrado cerrada alto verdadero si encendido activado interrumpido tapado oscuro \
    bloccato bloccata chiuso chiusa vero acceso interrotto oscurato coperto \
    fechado fechada ligado verdadeiro sim interrompido geblokkeerd dicht gesloten aan hoog waar onderbroken";

const OPEN: &str = "open opened unblocked clear free off low lo false no light uncovered inactive \
    frei offen auf aus niedrig tief falsch nein hell unverdeckt inaktiv \
    libre ouvert ouverte debloque bas faux non eteint inactif \
    abierto abierta desbloqueado bajo falso apagado despejado desactivado claro \
    libero libera aperto aperta sbloccato basso spento scoperto \
    aberto aberta livre baixo desligado nao vrij laag uit onwaar nee";

const NOT: &str = "not nicht non no niet nao";

const COASTING: &str = "coast* freewheel* free_wheel* landed slowing auslauf* ausroll* leerlauf freilauf \
    roue_libre inertie lancee inercia inerzia uitlo* uitrol*";
const RISING: &str = "ris* rose up upward* ascend* ascent climb* winding_up steig* aufwarts aufwaerts hinauf \
    rauf oben hoch monte montant montee haut sube subiendo subida ascens* arriba ascendente sale salita salendo \
    alto subindo stijg* omhoog";
const FALLING: &str = "fall* fell down downward* desc* drop* sink* faellt abwarts abwaerts hinab runter unten \
    chute tombe tombant bas baja bajando bajada cae cayendo caida abajo scend* discesa cade caduta cadendo giu \
    basso desce queda cai caindo vallen vallend valt omlaag neer daal* dalend";

const EMPTY: &str = "empty bare unloaded noload leer leere leerer leeres leertisch leermessung unbeladen \
    vide nu nue vacio vacia desnudo desnuda vuoto vuota scarico vazio vazia leeg lege onbeladen \
    none nothing nichts rien nada niente";

/// Whether the gate is blocked, by a word in a cell: `blocked`, `zu`, `not blocked`; `None` for others.
pub(in crate::readings) fn state_word(text: &str) -> Option<bool> {
    let folded = fold(beginning(text));
    let whole = folded.trim().trim_matches(['"', '\'', '.']);
    let (word, as_said) = match whole.split_once(' ') {
        Some((not, word)) if one_of(NOT, not) => (word.trim_start(), false),
        _ => (whole, true),
    };
    if word.is_empty() {
        None
    } else if one_of(BLOCKED, word) {
        Some(as_said)
    } else if one_of(OPEN, word) {
        Some(!as_said)
    } else {
        None
    }
}

/// Which way the mass goes, by a word in a cell or label.
pub(in crate::readings) fn motion_word(text: &str) -> Option<Motion> {
    let words = words(beginning(text));
    [(COASTING, Motion::Coasting), (RISING, Motion::Rising), (FALLING, Motion::Falling)]
        .into_iter()
        .find_map(|(patterns, motion)| among(patterns, &words).then_some(motion))
}

/// Whether a word of a file's name or a label says that the table carries nothing.
pub(crate) fn empty_table_word(word: &str) -> bool {
    let folded = fold(beginning(word));
    let word = folded.trim();
    !word.is_empty() && one_of(EMPTY, word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gate_states_in_words() {
        for word in [
            "blocked",
            "Closed",
            "ON",
            "high",
            "TRUE",
            "yes",
            "zu",
            "blockiert",
            "Unterbrochen",
            "bloqué",
            "fermé",
            "vrai",
            "bloqueado",
            "cerrado",
            "sí",
            "bloccato",
            "chiuso",
            "vero",
            "fechado",
            "dicht",
            " dark ",
            "not open",
            "nicht frei",
        ] {
            assert_eq!(state_word(word), Some(true), "{word}");
        }
        for word in [
            "open",
            "Unblocked",
            "OFF",
            "low",
            "False",
            "no",
            "frei",
            "offen",
            "libre",
            "ouvert",
            "faux",
            "abierto",
            "libero",
            "aperto",
            "spento",
            "aberto",
            "não",
            "vrij",
            "not blocked",
            "nicht blockiert",
            "non bloqué",
            "no bloqueado",
        ] {
            assert_eq!(state_word(word), Some(false), "{word}");
        }
        for word in ["", " ", "1", "0", "blocked?", "maybe", "not", "gate", "*"] {
            assert_eq!(state_word(word), None, "{word}");
        }
    }

    #[test]
    fn ways_of_the_mass_in_words() {
        for (words, motion) in [
            (
                Motion::Falling,
                "falling|down|Fallend|abwärts|nach unten|chute|descente|bajando|caída|discesa|queda",
            ),
            (
                Motion::Rising,
                "rising|up|steigend|aufwärts|montée|vers le haut|subiendo|salita|subindo|stijgend",
            ),
            (Motion::Coasting, "coasting|Auslauf|roue libre|por inercia|per inerzia|free-wheeling|uitloop"),
        ]
        .map(|(motion, words)| (words, motion))
        {
            for word in words.split('|') {
                assert_eq!(motion_word(word), Some(motion), "{word}");
            }
        }
        for word in ["", "sideways", "150 g", "ring"] {
            assert_eq!(motion_word(word), None, "{word}");
        }
    }

    #[test]
    fn empty_tables_in_words() {
        for word in [
            "empty", "Bare", "LEER", "vide", "vacío", "vacio", "vacía", "vuoto", "vuota", "vazio", "leeg",
            "none",
        ] {
            assert!(empty_table_word(word), "{word}");
        }
        for word in ["", " ", "ring", "leerlauf", "full", "*"] {
            assert!(!empty_table_word(word), "{word}");
        }
    }
}
