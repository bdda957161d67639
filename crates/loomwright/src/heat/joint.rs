//! How hot a joint gets: what it makes leaves through the cables, which are long fins.
//!
//! Inside, bare numbers in SI units. The metal of a cable conducts the heat away from the joint and sheds it through the
//! insulation on the way. With q(T) what a metre sheds at a conductor temperature T, r(T) its resistance and k·A its metal,
//! k·A·T″ = q(T) − I²·r(T). Multiplied by T′ and integrated from far away, where the cable has the temperature that its own
//! current gives it, that is the heat that enters it at the joint, exactly and without a coefficient held constant:
//! P² = 2·k·A·∫ (q − I²·r) dT. With a constant coefficient it is the fin of the handbooks, P = √(h·p·k·A)·ΔT.
//!
//! Cautious everywhere: q is what the most cautious model of [`HeatPath`] leaves (the least at each temperature), the rise of
//! the cable's own resistance counts against it, beyond 250 °C the heat per kelvin is held where it was though it grows, the
//! metal is what the resistance proves and conducts as the poorest handbook says, every cable counts as warm as the hottest,
//! and the joint's own surface sheds nothing. One thing is not: the cables count as long. √(k·A/(h·p)) is 0.1 to 0.3 m
//! here, and a cable of twice that passes for a long one.

use super::HeatError;
use super::chain::CEILING_K;
use super::path::HeatPath;
use super::spot::spot_temperature;
use crate::data::tables::constants;
use crate::quantity::{
    Area, ElectricCurrent, ElectricalResistance, LineConductance, LinearPowerDensity, Power, TemperatureInterval,
    ThermalConductance, ThermalConductivity, ThermodynamicTemperature, celsius, in_celsius,
};
use uom::si::electrical_resistance::{milliohm, ohm};
use uom::si::linear_power_density::watt_per_meter;
use uom::si::power::watt;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermal_conductance::watt_per_kelvin;
use uom::si::thermodynamic_temperature::kelvin;

/// The first step of the rise along which the heat is summed, K, and by how much each step is longer than the last: small at
/// first, for what still air takes starts with a power of the rise that no parabola follows.
const FIRST: f64 = 0.02;
const LONGER: f64 = 1.25;
/// A rise over which a conductance is told when there is none, K.
const NOTHING: f64 = 1e-3;

/// A joint that carries a current, and what that makes of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointHeat {
    /// What it makes: R·I².
    pub watts: Power,
    /// How much hotter its body is than its hottest cable far from it.
    pub rise: TemperatureInterval,
    /// Its body. Where `beyond` is set it is hotter than this.
    pub body: ThermodynamicTemperature,
    /// Its contact spots, if all of its resistance lies in one contact: never cooler than they are.
    pub spot: ThermodynamicTemperature,
    /// What the cables carry away per kelvin of the rise.
    pub conductance: ThermalConductance,
    /// Whether the body would pass 1000 °C: then rise, body and spot are the least that they are.
    pub beyond: bool,
}

/// What a long fin carries away per kelvin at its root: √(h·p·k·A), `shed` being h·p, what a metre of it sheds per kelvin.
/// Any handbook of heat transfer: the infinite fin.
///
/// ```
/// use loomwright::heat::fin_conductance;
/// use loomwright::quantity::{LineConductance, ThermalConductivity, mm2, uom::si::thermal_conductivity::watt_per_meter_kelvin};
/// let per_metre = LineConductance::new::<watt_per_meter_kelvin>(0.5);
/// let copper = ThermalConductivity::new::<watt_per_meter_kelvin>(385.0);
/// // 35 mm² of copper: 0.08 W/K, so a joint of 4 W at its end is 49 K hotter than the cable.
/// assert!((fin_conductance(per_metre, copper, mm2(35.0)).value - 0.0821).abs() < 1e-4);
/// ```
pub fn fin_conductance(shed: LineConductance, conductivity: ThermalConductivity, area: Area) -> ThermalConductance {
    (shed * conductivity * area).sqrt()
}

impl HeatPath {
    /// What a metre of this conductor sheds for itself at a conductor temperature, by the most cautious model; nothing at or
    /// below ambient. Beyond 250 °C with the conductance that it has there, which is too little.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::heat::{HeatPath, Installation, Lay};
    /// use loomwright::quantity::{CrossSection, FromText, celsius};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
    /// let path = HeatPath::new(&cable, &Lay::alone(Installation::FreeAir), celsius(30.0))?;
    /// let (warm, hot) = (path.shed_at(celsius(60.0)).value, path.shed_at(celsius(90.0)).value);
    /// assert!(warm > 10.0 && hot > 2.0 * warm && path.shed_at(celsius(20.0)).value == 0.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn shed_at(&self, conductor: ThermodynamicTemperature) -> LinearPowerDensity {
        LinearPowerDensity::new::<watt_per_meter>(self.shed(conductor.value))
    }

    fn shed(&self, conductor: f64) -> f64 {
        let least = |limit: f64| {
            // The current that holds it there makes what it sheds there.
            let each = self.chains.iter().flatten().map(|chain| {
                let current = chain.current_at(limit);
                current * current * chain.resistance(limit)
            });
            each.reduce(f64::min).unwrap_or(0.0)
        };
        let rise = conductor - self.ambient_k;
        if rise <= 0.0 {
            0.0
        } else if conductor <= CEILING_K {
            least(conductor)
        } else {
            least(CEILING_K) * rise / (CEILING_K - self.ambient_k)
        }
    }

    /// Resistance per metre, Ω/m.
    fn resistance(&self, conductor: f64) -> f64 {
        self.chains.iter().flatten().next().map_or(0.0, |chain| chain.resistance(conductor))
    }

    /// What a metre sheds beyond what its own current makes in it, W/m.
    fn spare(&self, square: f64, conductor: f64) -> f64 {
        (self.shed(conductor) - square * self.resistance(conductor)).max(0.0)
    }
}

/// The cables of a joint at a current.
struct Fins<'a> {
    cables: &'a [&'a HeatPath],
    square: f64,
    /// The hottest cable, far from the joint, kelvin.
    from: f64,
}

impl<'a> Fins<'a> {
    fn of(current: ElectricCurrent, cables: &'a [&'a HeatPath]) -> Result<Self, HeatError> {
        let mut from: Option<f64> = None;
        for path in cables {
            let reached = path.temperature(current)?.value;
            from = Some(from.map_or(reached, |hottest| hottest.max(reached)));
        }
        let from = from.ok_or(HeatError::NoCable)?;
        Ok(Self { cables, square: current.value * current.value, from })
    }

    /// Follows the rise of the body step by step until `found` says so for what is carried there, or up to `most`; the body
    /// temperature within the last step, and what is carried at it.
    fn follow(&self, most: f64, found: impl Fn(f64) -> bool) -> (f64, f64) {
        let spare = |path: &HeatPath, body: f64| path.spare(self.square, body);
        let mut spans: Vec<Span> = self
            .cables
            .iter()
            .map(|path| Span { metal: path.metal, summed: 0.0, at: [spare(path, self.from); 3] })
            .collect();
        let (mut below, mut step) = (self.from, FIRST);
        while below < most {
            let above = (below + step).min(most);
            let width = above - below;
            for (path, span) in self.cables.iter().zip(&mut spans) {
                let [.., last] = span.at;
                span.at = [last, spare(path, below + 0.5 * width), spare(path, above)];
            }
            let carried = |share: f64| spans.iter().map(|span| span.carried(width, share)).sum::<f64>();
            if found(carried(1.0)) {
                // Within a step what is carried rises with the body.
                let (mut low, mut high) = (0.0, 1.0);
                for _ in 0..50 {
                    let middle = 0.5 * (low + high);
                    if found(carried(middle)) { high = middle } else { low = middle }
                }
                return (below + high * width, carried(high));
            }
            spans.iter_mut().for_each(|span| span.summed = span.integral(width, 1.0));
            (below, step) = (above, step * LONGER);
        }
        (below, spans.iter().map(|span| span.carried(0.0, 0.0)).sum())
    }
}

/// One cable over one step of the body's rise.
struct Span {
    /// k·A, W·m/K.
    metal: f64,
    /// ∫ (q − I²·r) dT up to where the step begins, W·K/m.
    summed: f64,
    /// q − I²·r at the step's beginning, middle and end, W/m.
    at: [f64; 3],
}

impl Span {
    /// The integral up to a share of the step, by the parabola through its three points: Simpson's rule at its end.
    fn integral(&self, width: f64, share: f64) -> f64 {
        let [first, middle, last] = self.at;
        let straight = 4.0 * middle - 3.0 * first - last;
        let curved = 2.0 * (first + last - 2.0 * middle);
        self.summed + width * share * (first + share * (0.5 * straight + share * curved / 3.0))
    }

    /// What the cable carries away there, W.
    fn carried(&self, width: f64, share: f64) -> f64 {
        (2.0 * self.metal * self.integral(width, share).max(0.0)).sqrt()
    }
}

/// How hot a joint of this resistance gets at a steady current, cooled by the cables that leave it: one where a cable ends on
/// a thing that cools nothing, two or more where cables meet. Each carries that current away from the joint: the cautious
/// count where several share it.
///
/// The body is the temperature of the hottest cable and the rise that the joint adds; [`spot_temperature`] of R·I stands on
/// top of it. A body beyond 1000 °C is not followed; what is told then is told to be the least.
///
/// # Errors
/// [`HeatError::Joint`] for a negative or non-finite resistance, [`HeatError::NoCable`] without cables,
/// [`HeatError::Current`] and [`HeatError::TooHot`] as [`HeatPath::temperature`], [`HeatError::Contact`] for more than 1000 V
/// across it.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::heat::{HeatPath, Installation, Lay, joint_heat};
/// use loomwright::quantity::{CrossSection, ElectricCurrent, ElectricalResistance, FromText, celsius, in_celsius};
/// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
/// let path = HeatPath::new(&cable, &Lay::alone(Installation::FreeAir), celsius(30.0))?;
/// let current = ElectricCurrent::from_text("100 A")?;
/// let good = joint_heat(ElectricalResistance::from_text("0.1 mΩ")?, current, &[&path])?;
/// let bad = joint_heat(ElectricalResistance::from_text("1 mΩ")?, current, &[&path])?;
/// assert!((good.watts.value - 1.0).abs() < 1e-9 && (bad.watts.value - 10.0).abs() < 1e-9);
/// assert!(in_celsius(good.body) < 75.0 && in_celsius(bad.body) > 130.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn joint_heat(
    resistance: ElectricalResistance,
    current: ElectricCurrent,
    cables: &[&HeatPath],
) -> Result<JointHeat, HeatError> {
    let ohms = resistance.get::<ohm>();
    if !ohms.is_finite() || ohms < 0.0 {
        return Err(HeatError::Joint { resistance_mohm: resistance.get::<milliohm>() });
    }
    let fins = Fins::of(current, cables)?;
    let contact = current * resistance;
    let watts = ohms * fins.square;
    let ceiling = celsius(constants::JOINT_CEILING_C).value;
    // What is searched for is met at once where the joint makes nothing.
    let (body, carried) = if watts > 0.0 { fins.follow(ceiling, |carried| carried >= watts) } else { (fins.from, 0.0) };
    let risen = body - fins.from;
    let per_kelvin =
        if risen > NOTHING { carried / risen } else { fins.follow(fins.from + NOTHING, |_| false).1 / NOTHING };
    let body = ThermodynamicTemperature::new::<kelvin>(body);
    Ok(JointHeat {
        watts: Power::new::<watt>(watts),
        rise: TemperatureInterval::new::<kelvins>(risen),
        body,
        spot: spot_temperature(contact, body)?,
        conductance: ThermalConductance::new::<watt_per_kelvin>(per_kelvin),
        beyond: carried < watts && in_celsius(body) >= constants::JOINT_CEILING_C - 1e-6,
    })
}

/// The resistance of a joint whose body is hotter than its cables by `rise` at a steady current: the inverse of
/// [`joint_heat`]. Without current no resistance heats: `None`.
///
/// # Errors
/// As [`joint_heat`]. A rise that is negative, no number or ends beyond 1000 °C counts as the nearest that is followed.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::heat::{HeatPath, Installation, Lay, joint_heat, resistance_at_rise};
/// use loomwright::quantity::{CrossSection, ElectricCurrent, FromText, TemperatureInterval, celsius};
/// use loomwright::quantity::uom::si::temperature_interval::kelvin;
/// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
/// let path = HeatPath::new(&cable, &Lay::alone(Installation::FreeAir), celsius(30.0))?;
/// let current = ElectricCurrent::from_text("100 A")?;
/// let limit = resistance_at_rise(TemperatureInterval::new::<kelvin>(45.0), current, &[&path])?.ok_or("no current")?;
/// assert!((joint_heat(limit, current, &[&path])?.rise.value - 45.0).abs() < 0.01);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn resistance_at_rise(
    rise: TemperatureInterval,
    current: ElectricCurrent,
    cables: &[&HeatPath],
) -> Result<Option<ElectricalResistance>, HeatError> {
    let fins = Fins::of(current, cables)?;
    let ceiling = celsius(constants::JOINT_CEILING_C).value;
    let body = (fins.from + rise.value.max(0.0)).min(ceiling);
    let (_, carried) = fins.follow(body, |_| false);
    Ok((fins.square > 0.0).then(|| ElectricalResistance::new::<ohm>(carried / fins.square)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, series};
    use crate::heat::{Installation, Lay};
    use proptest::prelude::*;
    use uom::si::electric_current::ampere;

    fn path(index: usize, installation: Installation, ambient_c: f64) -> Option<HeatPath> {
        HeatPath::new(&series(Kind::Iec5, Material::Copper).nth(index)?, &Lay::alone(installation), celsius(ambient_c))
            .ok()
    }

    fn mohm(value: f64) -> ElectricalResistance {
        ElectricalResistance::new::<milliohm>(value)
    }

    fn amps(value: f64) -> ElectricCurrent {
        ElectricCurrent::new::<ampere>(value)
    }

    #[test]
    fn what_cannot_be_followed_is_said() {
        let path = path(10, Installation::FreeAir, 40.0).unwrap();
        assert_eq!(joint_heat(mohm(1.0), amps(10.0), &[]), Err(HeatError::NoCable));
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(matches!(joint_heat(mohm(bad), amps(10.0), &[&path]), Err(HeatError::Joint { .. })), "{bad}");
            assert!(matches!(joint_heat(mohm(1.0), amps(bad), &[&path]), Err(HeatError::Current { .. })), "{bad}");
        }
        assert!(matches!(joint_heat(mohm(1.0), amps(1e5), &[&path]), Err(HeatError::TooHot { .. })));
        let glowing = joint_heat(mohm(5000.0), amps(20.0), &[&path]).unwrap();
        assert!(glowing.beyond && (in_celsius(glowing.body) - 1000.0).abs() < 1e-6 && glowing.spot > glowing.body);
        assert!(glowing.conductance.value.is_finite());
    }

    #[test]
    fn nothing_made_is_nothing_risen() {
        let path = path(10, Installation::FreeAir, 40.0).unwrap();
        let still = joint_heat(mohm(1.0), amps(0.0), &[&path]).unwrap();
        assert_eq!((still.watts.value, still.rise.value), (0.0, 0.0));
        assert_eq!(in_celsius(still.body), in_celsius(celsius(40.0)));
        assert!(still.conductance.value > 0.0 && still.conductance.value.is_finite() && !still.beyond);
        assert_eq!(resistance_at_rise(TemperatureInterval::new::<kelvins>(45.0), amps(0.0), &[&path]), Ok(None));
    }

    #[test]
    fn a_table_cable_is_the_fin_of_the_handbooks() {
        // Method B sheds in proportion to the rise, and a small current hardly heats: P = √(h·p·k·A)·ΔT.
        let conductor =
            series(Kind::Iec2, Material::Copper).find(|made| made.area == crate::quantity::mm2(16.0)).unwrap();
        let path = HeatPath::new(&conductor, &Lay::pair(Installation::Enclosed), celsius(30.0)).unwrap();
        let heat = joint_heat(mohm(100.0), amps(1.0), &[&path]).unwrap();
        let shed = LineConductance::new::<uom::si::thermal_conductivity::watt_per_meter_kelvin>(
            path.shed_at(celsius(70.0)).value / 40.0,
        );
        let data = conductor.material.data();
        let metal = Area::new::<uom::si::area::square_meter>(super::super::withstand::metal(&conductor));
        let fin = fin_conductance(shed, data.conductivity, metal);
        assert!((heat.conductance.value / fin.value - 1.0).abs() < 2e-3, "{:?} {:?}", heat.conductance, fin);
    }

    proptest! {
        /// More resistance, current or hotter air never gives a cooler joint, more cables never a hotter one.
        #[test]
        fn more_is_never_cooler(
            index in 4_usize..18,
            installation in proptest::sample::select(Installation::ALL),
            ambient in -30.0..80.0_f64,
            resistance in 0.0..30.0_f64,
            share in 0.0..1.0_f64,
            more in 1.0..2.0_f64,
        ) {
            let Some(here) = path(index, installation, ambient) else { return Ok(()) };
            let current = here.ampacity(celsius(ambient.max(20.0) + 60.0)).unwrap() * share;
            let (r, watched) = (mohm(resistance), joint_heat(mohm(resistance), current, &[&here]).unwrap());
            let body = watched.body.value - 1e-5;
            prop_assert!(watched.spot >= watched.body && watched.rise.value >= 0.0 && watched.conductance.value > 0.0);
            prop_assert!(joint_heat(r * more, current, &[&here]).unwrap().body.value >= body);
            if let Ok(hotter) = joint_heat(r, current * more, &[&here]) {
                prop_assert!(hotter.body.value >= body);
            }
            let warmer = path(index, installation, ambient + 10.0 * (more - 1.0)).unwrap();
            prop_assert!(joint_heat(r, current, &[&warmer]).unwrap().body.value >= body);
            prop_assert!(joint_heat(r, current, &[&here, &here]).unwrap().body.value <= watched.body.value + 1e-5);
            if !watched.beyond && watched.rise.value > 0.1 && current.value > 0.1 {
                let back = resistance_at_rise(watched.rise, current, &[&here]).unwrap().unwrap();
                prop_assert!((back / r).value > 0.999 && (back / r).value < 1.001, "{:?} {:?}", back, r);
            }
        }
    }
}
