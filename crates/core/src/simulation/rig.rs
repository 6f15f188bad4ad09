//! What is true of the apparatus while a run is simulated.

/// Drum, table, friction, pulley and the mass on the string.
///
/// Any number may be 0 except the drum's radius, the table's moment of inertia, the mass, gravity and
/// the pulley's travel per spoke, which must be above 0. Nothing is checked: the simulator's numbers come from
/// its caller, never from a student.
#[derive(Clone, Debug, PartialEq)]
pub struct Rig {
    /// Distance R from the axis to the surface the first layer of string lies on, m.
    pub drum_radius_m: f64,
    /// Diameter d of the string, m: its middle runs at R + d/2.
    pub string_diameter_m: f64,
    /// How much further out the string lies for every turn wound on top, m; 0 for a string wound
    /// side by side, at most about d.
    pub growth_per_turn_m: f64,
    /// String wound on the drum when it is released, m. Once it has run off, the turning drum winds it up
    /// again the other way round.
    pub wound_m: f64,
    /// Local gravity g, m/s².
    pub gravity_m_per_s2: f64,
    /// Moment of inertia of all that turns with the drum, kg·m².
    pub inertia_kg_m2: f64,
    /// What resists the table.
    pub friction: Friction,
    /// The pulley between drum and mass.
    pub pulley: Pulley,
    /// Mass m on the string, kg.
    pub mass_kg: f64,
}

/// Torque that resists the table at angular velocity ω, with tension T of the string at the drum:
///
/// ```text
/// τ = τ₀ + b ω + c ω² + r √(W² + T²) + A sin(θ + φ)
/// ```
///
/// The first four always act against the motion. The root is Coulomb friction, μ at radius r_b, of a
/// bearing that carries the weight W and across it the pull T: r = μ r_b. The last is the torque of a
/// table that is not level and loaded off its axis.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Friction {
    /// τ₀, N·m.
    pub constant_n_m: f64,
    /// b, N·m·s.
    pub viscous_n_m_s: f64,
    /// c, N·m·s²: air drag on vanes or an open object.
    pub quadratic_n_m_s2: f64,
    /// r, m: friction torque for each newton of load. With W = 0 the torque is r T.
    pub bearing_arm_m: f64,
    /// W, N.
    pub bearing_weight_n: f64,
    /// A, N·m.
    pub tilt_n_m: f64,
    /// φ, rad.
    pub tilt_phase_rad: f64,
}

/// The spoked pulley; the string does not slip on it while it is taut.
#[derive(Clone, Debug, PartialEq)]
pub struct Pulley {
    /// Spokes, at least 1.
    pub spokes: usize,
    /// Travel of the string from one spoke to the next, m.
    pub travel_per_spoke_m: f64,
    /// Moment of inertia I_p, kg·m².
    pub inertia_kg_m2: f64,
    /// Friction torque τ_p of its own bearing, N·m.
    pub friction_n_m: f64,
}

impl Pulley {
    /// Radius r_p at which the string runs: N spokes make a circumference N s = 2π r_p.
    pub fn radius_m(&self) -> f64 {
        self.spokes as f64 * self.travel_per_spoke_m / core::f64::consts::TAU
    }

    /// I_p/r_p²: the mass that would be as hard to accelerate along the string.
    pub fn effective_mass_kg(&self) -> f64 {
        self.inertia_kg_m2 / (self.radius_m() * self.radius_m())
    }
}

impl Rig {
    /// Distance from the axis to the middle of a string wound in one layer, R + d/2.
    pub fn effective_radius_m(&self) -> f64 {
        self.drum_radius_m + 0.5 * self.string_diameter_m
    }

    /// Whether a falling mass keeps one acceleration, so that the closed form holds: nothing depends on
    /// speed, on the angle or on the layers. Friction by load may act: at one acceleration the load is one.
    pub fn is_uniform(&self) -> bool {
        let friction = &self.friction;
        [friction.viscous_n_m_s, friction.quadratic_n_m_s2, friction.tilt_n_m, self.growth_per_turn_m]
            .iter()
            .all(|part| *part == 0.0)
    }
}

impl Default for Rig {
    /// An empty table of 1.5 g·m² with 1 mN·m of friction, drum 25 mm, string 1 mm, ten spokes of
    /// 15 mm, 50 g on 0.9 m of string.
    fn default() -> Self {
        Self {
            drum_radius_m: 0.025,
            string_diameter_m: 0.001,
            growth_per_turn_m: 0.0,
            wound_m: 0.9,
            gravity_m_per_s2: 9.81,
            inertia_kg_m2: 1.5e-3,
            friction: Friction { constant_n_m: 1e-3, ..Friction::default() },
            pulley: Pulley { spokes: 10, travel_per_spoke_m: 0.015, inertia_kg_m2: 0.0, friction_n_m: 0.0 },
            mass_kg: 0.05,
        }
    }
}
