//! German and Dutch headings.

use super::check;

#[test]
fn german() {
    check(
        "Zeit → Time -
        Zeit (s) → Time s
        Zeit in Sekunden → Time s
        Zeit [Sek.] → Time s
        Zeit t in s → Time s
        Zeit / ms → Time ms
        Fallzeit (s) → Time s
        Uhrzeit → Time -
        Zeitpunkt (ms) → Time ms
        Laufzeit (s) → Time s
        Zeiten → Time -
        Millisekunden → - ms
        Lichtschranke (s) → GateTime s
        Lichtschranke Zeit [ms] → GateTime ms
        Speiche (s) → GateTime s
        Speichendurchgang / s → GateTime s
        Flanke (µs) → GateTime µs
        Durchgangszeit (s) → GateTime s
        Ereignis → GateTime -
        Intervall (ms) → Interval ms
        Zeitdifferenz [s] → Interval s
        Dauer (s) → Interval s
        Zustand → State -
        Gatezustand → State -
        Weg (m) → Position m
        Weg s in cm → Position cm
        Weg in Zentimetern → Position cm
        Strecke [mm] → Position mm
        Fallweg / m → Position m
        Ort → Position -
        Höhe (m) → Position m
        HÖHE [CM] → Position cm
        Hoehe_cm → Position cm
        Fallhöhe → Position -
        Geschwindigkeit → Velocity -
        Geschwindigkeit (m/s) → Velocity m/s
        Geschwindigkeit in Meter pro Sekunde → Velocity m/s
        Geschw. [cm/s] → Velocity cm/s
        Fallgeschwindigkeit / (m/s) → Velocity m/s
        Beschleunigung (m/s²) → Acceleration m/s²
        Beschleunigung a in m/s^2 → Acceleration m/s²
        Winkel (°) → Angle °
        Winkel in Grad → Angle °
        Drehwinkel [rad] → Angle rad
        Drehung in Umdrehungen → Angle turns
        Winkelgeschwindigkeit → AngularVelocity -
        Winkelgeschwindigkeit (rad/s) → AngularVelocity rad/s
        Drehgeschwindigkeit [°/s] → AngularVelocity °/s
        Drehzahl → AngularVelocity -
        Drehzahl (U/min) → AngularVelocity rpm
        Drehzahl in 1/min → AngularVelocity rpm
        Drehzahl / min⁻¹ → AngularVelocity rpm
        Drehzahl (1/s) → AngularVelocity turns/s
        Winkelbeschleunigung (rad/s²) → AngularAcceleration rad/s²
        Lauf → Run -
        Versuch → Run -
        Messung Nr. → Run -
        Körper → Carries -
        Auflage → Carries -
        Beladung → Carries -
        Masse (g) → Mass g
        Masse in Gramm → Mass g
        Hängemasse [kg] → Mass kg
        Gewicht (g) → Mass g
        Richtung → Motion -
        Zeile → Index -
        lfd. Nr. → Index -
        Speiche Nr. → Index -
        Unsicherheit (s) → Uncertainty s
        Messfehler → Uncertainty -
        Standardabweichung → Uncertainty -
        Temperatur (°C) → Other ?°C
        Spannung → Other -
        Kraft (N) → Other ?N
        Drehmoment → Other -
        Trägheitsmoment → Other -
        Datum → Other -
        Bemerkung → Other -
        Geschwindigkeit (Knoten/h) → Velocity ?Knoten/h",
        true,
    );
}

#[test]
fn dutch() {
    check(
        "tijd (s) → Time s
        Tijd in seconden → Time s
        lichtpoort (ms) → GateTime ms
        tijdverschil (s) → Interval s
        toestand → State -
        positie (m) → Position m
        hoogte [cm] → Position cm
        afstand → Position -
        snelheid (m/s) → Velocity m/s
        versnelling (m/s²) → Acceleration m/s²
        hoek (graden) → Angle °
        hoeksnelheid (rad/s) → AngularVelocity rad/s
        toerental (rpm) → AngularVelocity rpm
        hoekversnelling → AngularAcceleration -
        meting → Run -
        massa (g) → Mass g
        voorwerp → Carries -
        onzekerheid → Uncertainty -",
        true,
    );
}
