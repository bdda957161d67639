//! What checks reckon by hand, from printed tables and without the engine.

/// Ω/m of copper at a temperature from Ω/km at 20 °C: straight, and zero at −234.5 °C (IEC 60287-1-1).
pub fn copper(ohm_per_km: f64, celsius: f64) -> f64 {
    1e-3 * ohm_per_km * (234.5 + celsius) / 254.5
}

/// The length that is cut for a route: 10 % more, and 0.3 m at each end.
pub fn cut(route_m: f64) -> f64 {
    1.1 * route_m + 0.6
}

/// A row of IEC 60364-5-52 method B with the IEC 60228 resistances of its size: class 2, on which the table rests, and
/// class 5, which plans use.
pub struct Enclosed {
    /// The printed current at 70 °C in 30 °C air.
    pub table_a: f64,
    /// Ω/km at 20 °C.
    pub class_2: f64,
    /// Ω/km at 20 °C.
    pub class_5: f64,
}

impl Enclosed {
    /// Heat shed per metre and kelvin: the table's current holds 70 °C in 30 °C air, so G = I²·r2(70 °C)/40 K.
    pub fn per_kelvin(&self) -> f64 {
        self.table_a * self.table_a * copper(self.class_2, 70.0) / 40.0
    }

    /// Iz = √(G·(limit − air)/r5(limit)).
    pub fn bears(&self, limit: f64, air: f64) -> f64 {
        (self.per_kelvin() * (limit - air) / copper(self.class_5, limit)).sqrt()
    }

    /// G·(t − air) = I²·r5(t), which is linear in t.
    pub fn temperature(&self, current: f64, air: f64) -> f64 {
        let slope = 1e-3 * self.class_5 / 254.5;
        let heat = current * current;
        (self.per_kelvin() * air + heat * slope * 234.5) / (self.per_kelvin() - heat * slope)
    }

    /// Ω/m at that temperature.
    pub fn ohm_per_metre(&self, current: f64, air: f64) -> f64 {
        copper(self.class_5, self.temperature(current, air))
    }
}

/// Asserts that ours is what was reckoned by hand, within a share. Not counted: it is no outside value.
#[track_caller]
pub fn close(ours: f64, by_hand: f64, share: f64) {
    assert!((ours - by_hand).abs() <= share * by_hand.abs(), "{ours}, by hand {by_hand}");
}
