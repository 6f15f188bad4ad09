//! English headings, and symbols.

use super::check;

#[test]
fn times() {
    check(
        "t → Time -
        T → Time -
        t (s) → Time s
        t(s) → Time s
        t [s] → Time s
        t {ms} → Time ms
        t / s → Time s
        t/s → Time s
        t/ms → Time ms
        t in s → Time s
        t, s → Time s
        t_s → Time s
        t s → Time s
        time:s → Time s
        Time → Time -
        TIME (S) → Time s
        time (seconds) → Time s
        Time in seconds → Time s
        time_ms → Time ms
        timeMs → Time ms
        time (µs) → Time µs
        time (μs) → Time µs
        time_us → Time µs
        Time (min) → Time min
        elapsed → Time -
        Elapsed time (sec) → Time s
        timestamp [ms] → Time ms
        Timestamp → Time -
        clock (s) → Time s
        run time (s) → Time s
        Time (x) → Time -
        gate → GateTime -
        gate time (s) → GateTime s
        Gate (ms) → GateTime ms
        photogate time [s] → GateTime s
        edge time / ms → GateTime ms
        spoke passage (s) → GateTime s
        event_time_us → GateTime µs
        Event (s) → GateTime s
        blocked (s) → GateTime s
        time blocked (s) → GateTime s
        Δt (s) → Interval s
        ∆t / ms → Interval ms
        dt → Interval -
        dt_us → Interval µs
        delta t (s) → Interval s
        deltaT → Interval -
        interval (ms) → Interval ms
        gate interval (s) → Interval s
        lap time (s) → Interval s
        duration (s) → Interval s
        seconds → - s
        millis → - ms
        micros → - µs
        ms → - ms
        (s) → - s
        t (furlong) → Time -
        Time (HH:MM:SS) → Time ?HH:MM:SS
        t (h) → Time ?h",
        false,
    );
}

#[test]
fn motions_along_the_string() {
    check(
        "x → Position -
        s → Position -
        s / m → Position m
        s in cm → Position cm
        s (s) → Time s
        h [mm] → Position mm
        y (m) → Position m
        position → Position -
        pos_cm → Position cm
        posCm → Position cm
        Position (m) → Position m
        string position [cm] → Position cm
        distance in meters → Position m
        Distance (centimetres) → Position cm
        displacement, mm → Position mm
        height/m → Position m
        position (inch) → Position ?inch
        m → Mass -
        v → Velocity -
        v (m/s) → Velocity m/s
        v/(m/s) → Velocity m/s
        v / (m s^-1) → Velocity m/s
        v / m s-1 → Velocity m/s
        v [m·s⁻¹] → Velocity m/s
        v (ms⁻¹) → Velocity m/s
        v (m*s^-1) → Velocity m/s
        v_m_per_s → Velocity m/s
        v_mps → Velocity m/s
        v_m_s → Velocity m/s
        v_x (m/s) → Velocity m/s
        vy (cm/s) → Velocity cm/s
        m/s → - m/s
        mm/s → - mm/s
        velocity → Velocity -
        velocity m/s → Velocity m/s
        Velocity (m/s, smoothed) → Velocity m/s
        Speed [cm/s] → Velocity cm/s
        speed in mm/s → Velocity mm/s
        speed (meters per second) → Velocity m/s
        velocity (furlong/h) → Velocity ?furlong/h
        velocity (km/h) → Velocity ?km/h
        v / km/h → Velocity ?km/h
        mean velocity (m/s) → Velocity m/s
        a → Acceleration -
        A → - -
        a (m/s²) → Acceleration m/s²
        a [m/s^2] → Acceleration m/s²
        a / (m s^-2) → Acceleration m/s²
        a (m·s⁻²) → Acceleration m/s²
        acc_m_s2 → Acceleration m/s²
        acceleration (cm/s2) → Acceleration cm/s²
        acceleration (m/s/s) → Acceleration m/s²
        Linear acceleration y (meters per second squared) → Acceleration m/s²",
        false,
    );
}

#[test]
fn motions_of_the_table() {
    check(
        "θ → Angle -
        θ (rad) → Angle rad
        φ/° → Angle °
        ϕ [deg] → Angle °
        phi_rad → Angle rad
        theta (degrees) → Angle °
        angle → Angle -
        table angle (°) → Angle °
        Angle [turns] → Angle turns
        angular position (rad) → Angle rad
        position (rad) → Angle rad
        rotation (rev) → Angle turns
        number of turns → Angle turns
        ω → AngularVelocity -
        Ω (rad/s) → AngularVelocity rad/s
        ω/(rad/s) → AngularVelocity rad/s
        ω (rad s-1) → AngularVelocity rad/s
        ω / s⁻¹ → AngularVelocity 1/s
        w (rad/s) → AngularVelocity rad/s
        omega_rad_s → AngularVelocity rad/s
        omega_deg_per_s → AngularVelocity °/s
        angular velocity → AngularVelocity -
        Angular Velocity (rad/s) → AngularVelocity rad/s
        angular speed [°/s] → AngularVelocity °/s
        rotational speed (rpm) → AngularVelocity rpm
        rotation speed (rev/min) → AngularVelocity rpm
        speed (rpm) → AngularVelocity rpm
        rotation (rad/s) → AngularVelocity rad/s
        table speed in turns/s → AngularVelocity turns/s
        gyro z (deg/s) → AngularVelocity °/s
        gyro rate [rad/s] → AngularVelocity rad/s
        n (1/min) → AngularVelocity rpm
        rotation frequency (Hz) → AngularVelocity turns/s
        RPM → - rpm
        α → AngularAcceleration -
        α (rad/s²) → AngularAcceleration rad/s²
        alpha_rad_s2 → AngularAcceleration rad/s²
        α (rad) → Angle rad
        angular acceleration (rad/s^2) → AngularAcceleration rad/s²
        rotational acceleration [°/s²] → AngularAcceleration °/s²",
        false,
    );
}

#[test]
fn whatever_else_is_in_a_table() {
    check(
        "state → State -
        gate state → State -
        blocked → State -
        Gate blocked? → State -
        status → State -
        run → Run -
        Run number → Run -
        trial → Run -
        object → Carries -
        table carries → Carries -
        configuration → Carries -
        load → Carries -
        load (g) → Mass g
        load (N) → Other ?N
        hanging mass (g) → Mass g
        hanging mass [kg] → Mass kg
        mass_g → Mass g
        m (kg) → Mass kg
        m/g → Mass g
        g → - g
        motion → Motion -
        direction → Motion -
        # → Index -
        n → Index -
        no. → Index -
        nr → Index -
        k → Index -
        index → Index -
        row → Index -
        sample → Index -
        sample number → Index -
        Event number → Index -
        spoke no. → Index -
        event # → Index -
        u(v) → Uncertainty -
        u(v) (m/s) → Uncertainty m/s
        u_v → Uncertainty -
        σ → Uncertainty -
        σ(t) (s) → Uncertainty s
        ±v → Uncertainty -
        velocity error → Uncertainty -
        v_err → Uncertainty -
        Δv (m/s) → Uncertainty m/s
        uncertainty of t (s) → Uncertainty s
        std dev v → Uncertainty -
        temperature (°C) → Other ?°C
        Room temperature → Other -
        Temp → Other -
        T (°C) → Other ?°C
        T/K → Other ?K
        voltage [V] → Other ?V
        CH1 (V) → Other ?V
        U (V) → Uncertainty ?V
        F / N → Other ?N
        force → Other -
        pressure (hPa) → Other ?hPa
        Date → Other -
        comment → Other -
        sample rate (Hz) → Other ?Hz
        moment of inertia → Other -
        M (N m) → Other ?N m
        object mass (g) → Other g
        t² (s²) → Other ?s²
        1/t → Other -
        t^2 → Other -
        a (g) → Acceleration g
        ring → - -
        ring (brass) → - -
        fast → - -",
        false,
    );
}
