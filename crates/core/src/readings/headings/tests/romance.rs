//! Spanish, French, Italian and Portuguese headings.

use super::check;

#[test]
fn spanish() {
    check(
        "tiempo → Time -
        tiempo (s) → Time s
        Tiempo en segundos → Time s
        tiempo (milisegundos) → Time ms
        instante (s) → Time s
        Hora → Time -
        barrera (s) → GateTime s
        paso (ms) → GateTime ms
        evento → GateTime -
        tiempo de paso (s) → GateTime s
        intervalo (s) → Interval s
        duración (s) → Interval s
        estado → State -
        posición (m) → Position m
        posición en metros → Position m
        altura [cm] → Position cm
        distancia / mm → Position mm
        desplazamiento → Position -
        velocidad (m/s) → Velocity m/s
        velocidad (metros por segundo) → Velocity m/s
        Velocidad / (cm/s) → Velocity cm/s
        aceleración (m/s²) → Acceleration m/s²
        aceleración (metros por segundo al cuadrado) → Acceleration m/s²
        ángulo (°) → Angle °
        ángulo en grados → Angle °
        ángulo (vueltas) → Angle turns
        velocidad angular (rad/s) → AngularVelocity rad/s
        velocidad de giro (rpm) → AngularVelocity rpm
        aceleración angular (rad/s²) → AngularAcceleration rad/s²
        ensayo → Run -
        medición → Run -
        masa (g) → Mass g
        masa colgante [kg] → Mass kg
        peso (g) → Mass g
        objeto → Carries -
        carga → Carries -
        sentido → Motion -
        fila → Index -
        número → Index -
        incertidumbre (s) → Uncertainty s
        temperatura → Other -
        fuerza (N) → Other ?N
        fecha → Other -",
        true,
    );
}

#[test]
fn french() {
    check(
        "temps → Time -
        Temps (s) → Time s
        temps en secondes → Time s
        temps écoulé (ms) → Time ms
        temps_ms → Time ms
        heure → Time -
        barrière (s) → GateTime s
        rayon (s) → GateTime s
        rayon (cm) → Other cm
        temps de passage (s) → GateTime s
        intervalle (ms) → Interval ms
        durée (s) → Interval s
        état → State -
        hauteur (m) → Position m
        déplacement [cm] → Position cm
        de\u{301}placement (mm) → Position mm
        vitesse → Velocity -
        vitesse (m/s) → Velocity m/s
        Vitesse (mètres par seconde) → Velocity m/s
        vitesse / (m·s⁻¹) → Velocity m/s
        accélération (mètre par seconde carrée) → Acceleration m/s²
        angle en degrés → Angle °
        angle (tours) → Angle turns
        vitesse angulaire (rad/s) → AngularVelocity rad/s
        vitesse de rotation (tr/min) → AngularVelocity rpm
        fréquence de rotation (Hz) → AngularVelocity turns/s
        accélération angulaire (rad/s²) → AngularAcceleration rad/s²
        essai → Run -
        série → Run -
        essai n° → Run -
        masse (g) → Mass g
        masse en grammes → Mass g
        objet → Carries -
        sens → Motion -
        ligne → Index -
        échantillon → Index -
        incertitude → Uncertainty -
        écart-type (s) → Uncertainty s
        tension (V) → Other ?V
        remarque → Other -",
        true,
    );
    // The same words in English.
    check(
        "instant (s) → Time s
        distance (m) → Position m
        accélération (m/s²) → Acceleration m/s²
        passage (s) → GateTime s
        charge → Carries -
        température (°C) → Other ?°C
        position (m) → Position m",
        false,
    );
}

#[test]
fn italian() {
    check(
        "tempo → Time -
        tempo (s) → Time s
        Tempo in secondi → Time s
        tempo [ms] → Time ms
        istante (s) → Time s
        fotocellula (s) → GateTime s
        passaggio (ms) → GateTime ms
        raggio (s) → GateTime s
        tempo di passaggio (s) → GateTime s
        intervallo (s) → Interval s
        durata (s) → Interval s
        stato → State -
        posizione (m) → Position m
        spostamento [cm] → Position cm
        altezza → Position -
        distanza in metri → Position m
        velocità (m/s) → Velocity m/s
        velocità (metri al secondo) → Velocity m/s
        accelerazione (m/s²) → Acceleration m/s²
        accelerazione (metri al secondo quadrato) → Acceleration m/s²
        angolo (°) → Angle °
        angolo in gradi → Angle °
        rotazione (giri) → Angle turns
        velocità angolare (rad/s) → AngularVelocity rad/s
        velocità di rotazione (giri/min) → AngularVelocity rpm
        accelerazione angolare (rad/s²) → AngularAcceleration rad/s²
        prova → Run -
        corsa → Run -
        massa (g) → Mass g
        massa appesa in grammi → Mass g
        oggetto → Carries -
        carico → Carries -
        verso → Motion -
        riga → Index -
        incertezza → Uncertainty -
        errore (m) → Uncertainty m
        temperatura (°C) → Other ?°C
        forza → Other -
        data e ora → Other -",
        true,
    );
}

#[test]
fn portuguese() {
    check(
        "tempo (segundos) → Time s
        passagem (s) → GateTime s
        posição (m) → Position m
        velocidade (m/s) → Velocity m/s
        aceleração (m/s²) → Acceleration m/s²
        ângulo (graus) → Angle °
        velocidade angular (rad/s) → AngularVelocity rad/s
        rotação (voltas) → Angle turns
        duração → Interval -
        ensaio → Run -
        medição → Run -
        massa (g) → Mass g
        objeto → Carries -
        incerteza → Uncertainty -
        força (N) → Other ?N",
        true,
    );
}
