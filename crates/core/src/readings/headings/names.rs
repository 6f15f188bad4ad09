//! The name in a heading → what it says is in the column.

use super::Meaning;
use super::words::{Word, among, beginning, begins_at, fold, listed, one_of, words};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// Words for a meaning. The first list is English, or shared by languages that differ in their decimal
/// mark; the second is of languages that write `0,5`: German, Spanish, French, Italian, Portuguese, Dutch.
/// (Common practice, no source. Spanish is also written with a point, in Mexico.)
struct Row(Meaning, &'static str, &'static str);

/// In the order in which they are asked: what narrows a meaning down before what it narrows.
const ROWS: [Row; 19] = [
    Row(Meaning::Interval, "delta_t delta_time δ_t δt δtime", "delta_zeit delta_temps δzeit"),
    Row(
        Meaning::Uncertainty,
        "σ* sigma* ± error* err uncert* std stdev stddev standard_dev* sd se sem delta δ δ*",
        "*unsicher* *fehler* standardabw* *abweichung incert* erreur* erro erros errore errori desv* deviaz* scarto \
         ecart* onzeker* fout fouten",
    ),
    Row(
        Meaning::AngularVelocity,
        "omega* gyro* rpm angular_rate rotation_rate rotational_rate turn_rate rate_of_turn rate_of_rot* angular_freq* rotation*_freq*",
        "drehrate* *drehzahl* *drehungszahl* drehfreq* kreisfreq* tourenzahl toerental pulsation frequence_angul* \
         frequence_de_rotation frecuencia_angular frecuencia_de_giro frequenza_angol* frequenza_di_rot* regime",
    ),
    Row(
        Meaning::Other,
        "temperat* temp voltage* volt* current* force* tension pressure* date datetime comment* note notes remark* \
         torque* *moment moment momentum inertia energ* power* humid* radius radii frequency freq sampl*_rate \
         frame_rate ln log sqrt √ light lux field resist* capac* charge_c object_mass body_mass mass_of_object table_mass battery latitude longitude",
        "temperatur temperatura korpermasse masse_objet masa_objeto massa_oggetto spannung* strom* kraft* druck* datum kommentar* bemerkung* notiz* drehmom* tragheit* traegheit* impuls \
         *energie leistung feuchte* frequenz helligkeit abtastrate* tension* courant pression commentaire* \
         remarque* couple energie puissance humidite frequence voltaje tensao fuerza* presion fecha comentario* \
         potencia humedad frecuencia inercia tensione forza* pressione data_e_ora commento commenti coppia potenza umidita \
         frequenza inerzia forca pressao druk kracht spanning opmerking*",
    ),
    Row(
        Meaning::GateTime,
        "time_block* block*_time time_clos* time_open* time_unblock* open_time*",
        "zeitpunkt_blockiert zeit_blockiert temps_bloque",
    ),
    Row(
        Meaning::State,
        "state states status blocked unblocked logic level digital signal open opened closed",
        "*zustand *pegel blockiert unterbroch* etat* bloque niveau estado bloqueado nivel stato bloccato \
         livello sinal senal segnale toestand geblokkeerd",
    ),
    Row(Meaning::AngularAcceleration, "alpha*", ""),
    Row(
        Meaning::Velocity,
        "veloc velocity velocities vel speed*",
        "*geschw* vitess* velocidad* velocita* celerit* snelh* *snelheid rapidez",
    ),
    Row(
        Meaning::Acceleration,
        "accel acceler* acc",
        "*beschl* acelerac* aceler accelerazion* versnel* *versnelling",
    ),
    Row(
        Meaning::Angle,
        "angle* angular* angul* rotation* theta* phi",
        "*winkel* angol* angulo angulos angulaire* hoek* drehung *drehlage rotaz* rotac* draaiing",
    ),
    Row(
        Meaning::Position,
        "pos position* distance* displ* height* drop travel coord* path depth",
        "posic* posiz* positie distancia* distanz* weg *weg wege *strecke* ort lage *hohe *hoehe *abstand auslenkung \
         koord* altura hauteur altezza hoogte deplac* desplaz* despl spostam* spazio espacio espaco recorrido percorso \
         trayecto camino chemin afstand *verplaatsing plaats altitude alt",
    ),
    Row(
        Meaning::Interval,
        "interval intervals dt lap laps duration* period time_diff* time_between time_since_last gap",
        "intervall* intervalo* intervalle* *differenz zeitabst* zwischenzeit* *dauer rundenzeit* periode duree* \
         temps_entre duracion tiempo_entre durata* tempo_fra tempo_tra tempo_entre duracao tijdverschil *duur periodo",
    ),
    Row(
        Meaning::GateTime,
        "gate* *gate *gates edge* spoke* event* passage* pass photocell* trigger* pulse* crossing* tick* beam front* \
         interrupt*",
        "*schranke* *speiche* *flanke* *durchgang* *durchgange* ereignis* impuls* barriere* rayon rayons evenement* \
         cellule barrera* paso pasos radio radios fotopuerta* puerta flanco* evento* eventi pulso* fotocell* fotocel* \
         passaggi* raggio raggi fronte fronti traguard* impulso* barreira* passagem passagens raio raios *poort spaak \
         spaken doorgang*",
    ),
    Row(
        Meaning::Time,
        "time times timestamp* elapsed clock instant instants secs millis micros",
        "zeit zeiten zeitp* zeitst* *zeit *zeiten temps tiempo* tempo tempi tempos instante* instanti heure hora \
         orario tijd* *tijd tijden istante istanti horodat*",
    ),
    Row(Meaning::Run, RUNS.0, RUNS.1),
    Row(
        Meaning::Mass,
        "mass masses hanging* hanger weight",
        "*masse *massen masa masas massa masse gewicht* *gewicht poids peso pesos hangemasse",
    ),
    Row(
        Meaning::Carries,
        "object objects load loads loaded carries carry config* charge body",
        "*korper *koerper auflage* konfig* *beladung aufbau objekt objet objets objeto* carga* cuerpo lleva \
         oggett* carico corpo corps corpi voorwerp lichaam belasting",
    ),
    Row(
        Meaning::Motion,
        "motion direction movement",
        "*richtung *bewegung* mouvement sens movim* direcc* direz* direcao moto sentido senso verso beweg* richting",
    ),
    Row(
        Meaning::Index,
        "# index idx row rows line sample samples point points record entry count counter id seq sequence",
        "zeile* punkt zahler zaehler lfd muestra* fila ligne echantillon* riga campion* linha amostra* rij punto \
         indice indices numero numeros nummer meetpunt",
    ),
];

/// Words for a run, which with a number label one (`Lauf 3`).
pub(super) const RUNS: (&str, &str) = (
    "run runs trial trials test tests experiment measurement measurements attempt set dataset series repetition group",
    "lauf laufe durchlauf versuch* messung* messreihe* datensatz wiederholung gruppe essai* serie series_de mesure* \
     manip ensayo* prueba* medicion* corrida corridas grupo prova prove corsa corse misura* gruppo ensaio* medida* \
     medicao tentativa meting* proef poging reeks",
);

/// Letters that are names alone, or before an axis or a short index.
const SYMBOLS: [(Meaning, &str); 12] = [
    (Meaning::Time, "t"),
    (Meaning::Interval, "dt"),
    (Meaning::Position, "x y z s h d"),
    (Meaning::Velocity, "v vx vy vz"),
    (Meaning::Acceleration, "a ax ay az"),
    (Meaning::Angle, "θ φ"),
    (Meaning::AngularVelocity, "ω ωx ωy ωz w wx wy wz"),
    (Meaning::AngularAcceleration, "α"),
    (Meaning::Mass, "m mh"),
    (Meaning::Index, "n i k no nr num"),
    (Meaning::Uncertainty, "u"),
    (Meaning::Other, "f p r l j e"),
];

/// Say that something is counted.
const NUMBERS: &str =
    "number numbers no nr num index idx # nummer nummern numero numeros anzahl nombre aantal";
/// Say that another quantity is of the turning.
const TURNING: &str =
    "angular* angul* angol* winkel* *dreh* rotat* rotaz* rotac* giro turn* hoek* draai* spin*";
/// Count turns, so that a bare `1/s` is one turn per second.
const TURNS: &str = "*zahl *zahlen drehfreq* toerental n rotation_freq* rotational_freq* frequence_de \
    frecuencia_de frequenza_di regime";

/// What a name says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Named {
    pub(super) meaning: Option<Meaning>,
    /// A word is of a language that writes `0,5`.
    pub(super) comma: bool,
    /// A rotation is counted in turns.
    pub(super) turns: bool,
    /// It is the one letter `s`, which is also a unit.
    pub(super) letter_s: bool,
}

/// All patterns of [`ROWS`] by their first byte, those that begin with a star apart: a word is compared with
/// the few that it may fit.
struct Patterns {
    /// Pattern, row, whether it is of the row's second list.
    by_first: BTreeMap<u8, Vec<(&'static str, usize, bool)>>,
    starred: Vec<(&'static str, usize, bool)>,
}

static PATTERNS: LazyLock<Patterns> = LazyLock::new(|| {
    let mut all = Patterns { by_first: BTreeMap::new(), starred: Vec::new() };
    for (index, row) in ROWS.iter().enumerate() {
        for (list, second) in [(row.1, false), (row.2, true)] {
            for pattern in listed(list) {
                match pattern.bytes().next() {
                    Some(b'*') => all.starred.push((pattern, index, second)),
                    Some(first) => all.by_first.entry(first).or_default().push((pattern, index, second)),
                    None => {}
                }
            }
        }
    }
    all
});

/// Which rows' first and second lists have a pattern among the words.
fn rows_among(words: &[Word<'_>]) -> [Rows; 2] {
    let (mut firsts, mut seconds) = (0, 0);
    for (from, word) in words.iter().enumerate() {
        let first = word.folded.bytes().next().unwrap_or_default();
        let mine = PATTERNS.by_first.get(&first).map_or(&[][..], Vec::as_slice);
        for &(pattern, row, second) in mine.iter().chain(&PATTERNS.starred) {
            if begins_at(pattern, words, from) {
                let list = if second { &mut seconds } else { &mut firsts };
                *list |= 1 << row;
            }
        }
    }
    [Rows(firsts), Rows(seconds)]
}

/// A set of rows, a bit each.
#[derive(Clone, Copy)]
struct Rows(u32);

/// Reads a name: `angular velocity`, `Drehzahl`, `t`.
pub(super) fn named(name: &str) -> Named {
    let name = beginning(name);
    let mut words = words(name);
    words.retain(|word| !word.is_number());
    let [_, Rows(second)] = rows_among(&words);
    let comma = second != 0;
    let meaning = meaning(name, &words);
    let letter_s = words.len() == 1 && words.iter().all(|word| word.folded == "s");
    Named { meaning, comma, turns: among(TURNS, &words), letter_s }
}

fn meaning(name: &str, words: &[Word<'_>]) -> Option<Meaning> {
    let folded = fold(name);
    // `t²`, `1/t` are made of a quantity, but are not it.
    if folded.contains('²') || folded.contains("^2") || folded.starts_with("1/") {
        return Some(Meaning::Other);
    }
    let outside = name.split(['(', '[']).next().unwrap_or_default().len();
    let before = words.iter().take_while(|word| word.start < outside).count();
    if let Some(symbol) = symbol(name, words.get(..before).unwrap_or_default()) {
        return Some(symbol);
    }
    let [Rows(first), Rows(second)] = rows_among(words);
    let row = (first | second).trailing_zeros();
    let found = usize::try_from(row).ok().and_then(|row| ROWS.get(row)).map(|row| row.0);
    let turning = among(TURNING, words);
    match found {
        Some(Meaning::Uncertainty | Meaning::Other | Meaning::Run) => found,
        _ if among(NUMBERS, words) => Some(Meaning::Index),
        Some(Meaning::Velocity) if turning => Some(Meaning::AngularVelocity),
        Some(Meaning::Acceleration) if turning => Some(Meaning::AngularAcceleration),
        found => found,
    }
}

/// `both edges`, `beide Flanken`: a gate's times are those of both.
pub(in crate::readings) fn says_both(name: &str) -> bool {
    let words = words(name);
    meaning(name, &words) == Some(Meaning::GateTime)
        && among("both beide* ambos ambas deux due entramb* ambedue", &words)
}

/// `v`, `v_x`, `t rel`; `u(v)`.
fn symbol(name: &str, words: &[Word<'_>]) -> Option<Meaning> {
    let (first, rest) = words.split_first()?;
    let (meaning, _) = SYMBOLS.iter().find(|(_, letters)| one_of(letters, &first.folded))?;
    if *meaning == Meaning::Uncertainty {
        return Some(*meaning);
    }
    // Capitals number columns (A, B, C) more often than they name accelerations.
    let lettered = name.trim() == "A";
    let index = match rest {
        [] => true,
        [index] if name.get(first.end()..index.start) == Some("_") => !has_meaning(index),
        // A short index, unless it is a word with a meaning of its own: `t err`, `v max`.
        [index] => index.folded.len() <= 4 && !has_meaning(index),
        _ => false,
    };
    (index && !lettered).then_some(*meaning)
}

fn has_meaning(word: &Word<'_>) -> bool {
    let [Rows(first), Rows(second)] = rows_among(core::slice::from_ref(word));
    first | second != 0
}

/// `ring_t`, `slate disc ω`: a name that says nothing but for the letter at its end; with the letter.
pub(super) fn ends_in_symbol(name: &str) -> Option<(&str, &str)> {
    let words = words(name);
    let (last, rest) = words.split_last()?;
    let apart = rest.last().is_some_and(|word| word.end() < last.start) && last.end() == name.len();
    let symbol = apart && one_of("t v x ω θ φ α", &last.folded) && named(name).meaning.is_none();
    symbol.then(|| name.split_at_checked(last.start)).flatten()
}
