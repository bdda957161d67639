//! Heat that leaves a converter: the free surface it needs, and how hot a box around it gets.

use super::error::{self, ConverterError, check};
use crate::data::tables::constants;
use crate::heat::air;
use crate::heat::{GRAVITY, STEFAN_BOLTZMANN};
use crate::quantity::{Area, Power, TemperatureInterval, ThermodynamicTemperature, celsius, in_celsius};
use uom::si::f64::HeatFluxDensity;
use uom::si::heat_flux_density::watt_per_square_meter;
use uom::si::temperature_interval::kelvin;

/// The largest rise that is computed, K: no converter works that hot.
const MOST: f64 = 100.0;

/// What each square metre of a warm surface sheds to still air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceHeat {
    /// By natural convection.
    pub convection: HeatFluxDensity,
    /// By infrared radiation to surroundings at the temperature of the air.
    pub radiation: HeatFluxDensity,
}

impl SurfaceHeat {
    fn sum(&self) -> f64 {
        self.convection.value + self.radiation.value
    }
}

/// What a surface sheds at a `rise` of 0 to 100 K above air of −60 to 100 °C.
///
/// An upright plate 1 m tall (Churchill and Chu 1975: Nu = (0.825 + 0.387·Ra^(1/6)/(1 + (0.492/Pr)^(9/16))^(8/27))²)
/// with an emissivity of 0.8. A lower plate sheds more; bare metal, a surface that faces down, or one against a wall
/// sheds less and does not count as free.
///
/// # Errors
/// [`ConverterError::OutOfRange`] outside those ranges.
///
/// ```
/// use loomwright::converter::surface_heat;
/// use loomwright::quantity::{celsius, rise};
/// let shed = surface_heat(celsius(40.0), rise(celsius(65.0), celsius(40.0)))?;
/// assert!((shed.radiation.value - 156.9).abs() < 0.1); // 0.8·σ·(338.15⁴ − 313.15⁴)
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn surface_heat(
    ambient: ThermodynamicTemperature,
    rise: TemperatureInterval,
) -> Result<SurfaceHeat, ConverterError> {
    air_range(ambient)?;
    check("a rise", rise.value, "K", "0 K to 100 K", (0.0..=MOST).contains(&rise.value))?;
    Ok(shed(ambient.value, rise.value))
}

fn air_range(ambient: ThermodynamicTemperature) -> Result<(), ConverterError> {
    let holds = ambient >= celsius(-60.0) && ambient <= celsius(100.0);
    check("an ambient", in_celsius(ambient), "°C", "−60 °C to 100 °C", holds)
}

/// Ambient and rise in kelvin.
fn shed(ambient: f64, rise: f64) -> SurfaceHeat {
    let film = ambient + 0.5 * rise;
    let of = air(ThermodynamicTemperature::new::<uom::si::thermodynamic_temperature::kelvin>(film));
    let (viscosity, prandtl, height) = (of.viscosity.value, of.prandtl.value, constants::PLATE_HEIGHT_M);
    let rayleigh = GRAVITY / film * rise * height.powi(3) * prandtl / (viscosity * viscosity);
    let damped = (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    let nusselt = (0.825 + 0.387 * rayleigh.powf(1.0 / 6.0) / damped).powi(2);
    let surface = ambient + rise;
    // T⁴ − T₀⁴ in factors, which keeps its digits for the smallest rise.
    let fourth = rise * (surface + ambient) * (surface * surface + ambient * ambient);
    SurfaceHeat {
        convection: HeatFluxDensity::new::<watt_per_square_meter>(nusselt * of.conductivity.value / height * rise),
        radiation: HeatFluxDensity::new::<watt_per_square_meter>(
            constants::CASE_EMISSIVITY * STEFAN_BOLTZMANN * fourth,
        ),
    }
}

/// The free surface that sheds `heat` while it is no hotter than `rise` above the air: see [`surface_heat`].
///
/// # Errors
/// [`ConverterError::OutOfRange`] for a negative heat, a rise that is not above 0 K and at most 100 K, air outside −60
/// to 100 °C, or one that is no finite number.
///
/// ```
/// use loomwright::converter::free_surface;
/// use loomwright::quantity::{FromText, Power, TemperatureInterval, celsius};
/// use loomwright::quantity::uom::si::temperature_interval::kelvin;
/// let area = free_surface(Power::from_text("60 W")?, celsius(40.0), TemperatureInterval::new::<kelvin>(25.0))?;
/// assert!(area.value > 0.2 && area.value < 0.3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn free_surface(
    heat: Power,
    ambient: ThermodynamicTemperature,
    rise: TemperatureInterval,
) -> Result<Area, ConverterError> {
    error::power("a heat", heat)?;
    check("a rise", rise.value, "K", "above 0 K and at most 100 K", rise.value > 0.0)?;
    let each = surface_heat(ambient, rise)?;
    Ok(heat / (each.convection + each.radiation))
}

/// A closed box without ventilation around a converter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Enclosure {
    /// The surface of its walls that faces free air.
    pub surface: Area,
    /// The air outside, −60 to 100 °C.
    pub ambient: ThermodynamicTemperature,
}

impl Enclosure {
    /// How much hotter the air inside gets than that outside, with `heat` shed for as long as it takes.
    ///
    /// The heat passes two surfaces, from the air inside to the wall and from the wall to the air outside, both as
    /// [`surface_heat`] at the temperature outside, and 12 mm of plywood between them. A metal box is cooler by what
    /// the wood would add.
    ///
    /// # Errors
    /// [`ConverterError::OutOfRange`] for a negative heat, a surface that is not above zero, air out of range, or one
    /// that is no finite number; [`ConverterError::TooHot`] for more than 100 K.
    ///
    /// ```
    /// use loomwright::converter::Enclosure;
    /// use loomwright::quantity::{Area, FromText, Power, celsius};
    /// let locker = Enclosure { surface: Area::from_text("1.2 m2")?, ambient: celsius(35.0) };
    /// let rise = locker.rise(Power::from_text("60 W")?)?;
    /// assert!(rise.value > 12.0 && rise.value < 18.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn rise(&self, heat: Power) -> Result<TemperatureInterval, ConverterError> {
        error::power("a heat", heat)?;
        check("a surface", self.surface.value, "m²", "above 0 m²", self.surface.value > 0.0)?;
        air_range(self.ambient)?;
        let each = heat.value / self.surface.value;
        let too_hot = ConverterError::TooHot { heat_w: heat.value, surface_m2: self.surface.value, most_k: MOST };
        let most = 0.5 * MOST;
        if each > shed(self.ambient.value, most).sum() {
            return Err(too_hot);
        }
        // What is shed grows with the rise: halving finds it; 60 halvings leave nothing.
        let (mut low, mut high) = (0.0, most);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            if shed(self.ambient.value, middle).sum() < each { low = middle } else { high = middle }
        }
        let rise = 2.0 * low + each * constants::BOX_WALL;
        if rise > MOST { Err(too_hot) } else { Ok(TemperatureInterval::new::<kelvin>(rise)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use uom::si::area::square_meter;
    use uom::si::power::watt;

    fn k(value: f64) -> TemperatureInterval {
        TemperatureInterval::new::<kelvin>(value)
    }

    fn watts(value: f64) -> Power {
        Power::new::<watt>(value)
    }

    fn enclosure(surface: f64, ambient: f64) -> Enclosure {
        Enclosure { surface: Area::new::<square_meter>(surface), ambient: celsius(ambient) }
    }

    #[test]
    fn a_surface_sheds_what_it_was_sized_for() {
        let area = free_surface(watts(80.0), celsius(40.0), k(30.0)).unwrap();
        let each = surface_heat(celsius(40.0), k(30.0)).unwrap();
        assert!((each.sum() * area.value - 80.0).abs() < 1e-9);
        // About 4 by air and 6 by radiation, W/(m²·K).
        assert!((3.5..5.0).contains(&(each.convection.value / 30.0)), "{each:?}");
        assert!((5.5..7.0).contains(&(each.radiation.value / 30.0)), "{each:?}");
    }

    /// Enclosure practice reckons with 5.5 W/(m²·K) through painted sheet steel and 3.5 through plastic (from memory).
    #[test]
    fn a_box_is_in_the_range_of_enclosure_practice() {
        for (heat, surface) in [(20.0, 0.5), (60.0, 1.0), (150.0, 2.0)] {
            let through = heat / surface / enclosure(surface, 30.0).rise(watts(heat)).unwrap().value;
            assert!((2.8..4.0).contains(&through), "{through} W/(m²·K)");
        }
    }

    /// Both films of the wall shed the heat of a free surface, and the wall stands between.
    #[test]
    fn a_box_is_its_two_surfaces_and_its_wall() {
        for (heat, surface) in [(20.0, 0.5), (60.0, 1.0), (150.0, 2.0)] {
            let rise = enclosure(surface, 30.0).rise(watts(heat)).unwrap().value;
            let film = 0.5 * (rise - heat / surface * constants::BOX_WALL);
            let needed = free_surface(watts(heat), celsius(30.0), k(film)).unwrap().value;
            assert!((needed / surface - 1.0).abs() < 1e-9, "{needed} m² for {surface} m²");
        }
    }

    #[test]
    fn what_is_no_heat_or_surface_is_refused() {
        assert_eq!(enclosure(1.0, 30.0).rise(watts(0.0)).unwrap().value, 0.0);
        assert!(matches!(enclosure(0.1, 30.0).rise(watts(200.0)), Err(ConverterError::TooHot { .. })));
        for bad in [-1.0, f64::NAN, f64::INFINITY] {
            assert!(enclosure(bad, 30.0).rise(watts(10.0)).is_err());
            assert!(enclosure(1.0, bad * 100.0).rise(watts(10.0)).is_err());
            assert!(enclosure(1.0, 30.0).rise(watts(bad)).is_err());
            assert!(free_surface(watts(bad), celsius(30.0), k(20.0)).is_err());
            assert!(free_surface(watts(10.0), celsius(30.0), k(bad)).is_err());
            assert!(free_surface(watts(10.0), celsius(bad * 100.0), k(20.0)).is_err());
        }
        assert!(free_surface(watts(10.0), celsius(30.0), k(0.0)).is_err());
        assert!(surface_heat(celsius(30.0), k(100.1)).is_err());
    }

    proptest! {
        #[test]
        fn more_heat_needs_more_surface_and_makes_a_box_hotter(
            heat in 0.1_f64..50.0, more in 0.01_f64..50.0, ambient in -40.0_f64..80.0, rise in 1.0_f64..99.0,
        ) {
            let area = |heat: f64, rise: f64| free_surface(watts(heat), celsius(ambient), k(rise)).unwrap();
            prop_assert!(area(heat + more, rise) > area(heat, rise));
            prop_assert!(area(heat, rise) > area(heat, rise + 1.0));
            let locker = enclosure(2.0, ambient);
            prop_assert!(locker.rise(watts(heat + more)).unwrap() > locker.rise(watts(heat)).unwrap());
        }
    }
}
