//! Modules and strings of them: how hot, and what they deliver.

use uom::si::heat_flux_density::watt_per_square_meter;
use uom::si::temperature_interval::kelvin;
use uom::si::velocity::meter_per_second;

use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::{
    ElectricCurrent, ElectricPotential, HeatFluxDensity, Power, Ratio, TemperatureInterval, ThermodynamicTemperature,
    Velocity, celsius, in_celsius,
};

named! {
    /// How modules are mounted, which sets how hot they get.
    Mount, "mount", {
        /// On a rack, with air behind: D. Faiman, Progress in Photovoltaics 16 (2008), 307, u₀ = 25, u₁ = 6.84.
        Rack => "rack",
        /// Glued or close to a roof, without air behind: the Sandia model, insulated back (a = −2.81, b = −0.0455).
        Roof => "roof",
    }
}

impl Mount {
    /// Temperature of the cells in this light, air and wind.
    ///
    /// ```
    /// use loomwright::quantity::{HeatFluxDensity, Velocity, celsius, in_celsius};
    /// use loomwright::{quantity::uom::si::heat_flux_density::watt_per_square_meter, source::solar::Mount};
    /// let full = HeatFluxDensity::new::<watt_per_square_meter>(1000.0);
    /// let still = Velocity::default();
    /// let [rack, roof] = [Mount::Rack, Mount::Roof].map(|mount| in_celsius(mount.cell(full, celsius(20.0), still)));
    /// assert!((rack - 60.0).abs() < 1e-9 && roof > rack); // 1000/25 K above still air
    /// ```
    pub fn cell(
        self,
        light: HeatFluxDensity,
        air: ThermodynamicTemperature,
        wind: Velocity,
    ) -> ThermodynamicTemperature {
        let (light, wind) = (light.get::<watt_per_square_meter>(), wind.get::<meter_per_second>().max(0.0));
        let rise = match self {
            Self::Rack => light / (25.0 + 6.84 * wind),
            Self::Roof => light * (-2.81 - 0.0455 * wind).exp(),
        };
        celsius(in_celsius(air) + rise)
    }
}

/// A module by its plate, at 1000 W/m² and 25 °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Module {
    /// Rated power.
    pub power: Power,
    /// Open-circuit voltage.
    pub open_voltage: ElectricPotential,
    /// Voltage at rated power.
    pub operating_voltage: ElectricPotential,
    /// Short-circuit current.
    pub short_circuit: ElectricCurrent,
    /// Change of its power per kelvin, negative.
    pub power_per_kelvin: Ratio,
    /// Change of its open-circuit voltage per kelvin, negative.
    pub voltage_per_kelvin: Ratio,
    /// Largest fuse that its maker permits in series.
    pub series_fuse: Option<ElectricCurrent>,
}

/// Modules in series, and such strings in parallel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strings {
    /// The module that all are.
    pub module: Module,
    /// How many in series.
    pub series: u16,
    /// How many such strings in parallel.
    pub parallel: u16,
}

fn above_25(temperature: ThermodynamicTemperature) -> TemperatureInterval {
    TemperatureInterval::new::<kelvin>(in_celsius(temperature) - 25.0)
}

impl Module {
    /// What it delivers: `P·(G/1000)·(1 + γ·(T − 25))`, the form of A. P. Dobos, PVWatts version 5 (NREL/TP-6A20-62641, 2014).
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, HeatFluxDensity, Power, Ratio, celsius};
    /// use loomwright::{quantity::uom::si::heat_flux_density::watt_per_square_meter, source::solar::Module};
    /// let module = Module {
    ///     power: Power::from_text("100 W")?, short_circuit: ElectricCurrent::from_text("6 A")?, series_fuse: None,
    ///     open_voltage: ElectricPotential::from_text("22 V")?, operating_voltage: ElectricPotential::from_text("18 V")?,
    ///     power_per_kelvin: Ratio::from(-0.004), voltage_per_kelvin: Ratio::from(-0.003),
    /// };
    /// let given = module.delivers(HeatFluxDensity::new::<watt_per_square_meter>(800.0), celsius(50.0));
    /// assert!((given.value - 72.0).abs() < 1e-9); // 100 W · 0.8 · (1 − 25 · 0.004)
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn delivers(&self, light: HeatFluxDensity, cell: ThermodynamicTemperature) -> Power {
        let suns = light.get::<watt_per_square_meter>() / 1000.0;
        let warm = 1.0 + self.power_per_kelvin.value * above_25(cell).get::<kelvin>();
        self.power * Ratio::from((suns * warm).max(0.0))
    }

    /// Current at rated power.
    pub fn operating_current(&self) -> ElectricCurrent {
        self.power / self.operating_voltage
    }
}

impl Strings {
    /// How many modules.
    pub fn count(&self) -> u32 {
        u32::from(self.series) * u32::from(self.parallel)
    }

    /// Rated power of all.
    pub fn power(&self) -> Power {
        self.module.power * f64::from(self.count())
    }

    /// What all deliver.
    pub fn delivers(&self, light: HeatFluxDensity, cell: ThermodynamicTemperature) -> Power {
        self.module.delivers(light, cell) * f64::from(self.count())
    }

    /// Open-circuit voltage with the cells so cold or hot.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Power, Ratio, celsius};
    /// use loomwright::source::solar::{Module, Strings};
    /// let module = Module {
    ///     power: Power::from_text("100 W")?, short_circuit: ElectricCurrent::from_text("6 A")?, series_fuse: None,
    ///     open_voltage: ElectricPotential::from_text("22 V")?, operating_voltage: ElectricPotential::from_text("18 V")?,
    ///     power_per_kelvin: Ratio::from(-0.004), voltage_per_kelvin: Ratio::from(-0.003),
    /// };
    /// let strings = Strings { module, series: 2, parallel: 3 };
    /// assert!((strings.open_voltage(celsius(-10.0)).value - 48.62).abs() < 1e-9); // 2 · 22 V · (1 + 35 · 0.003)
    /// assert!((strings.reverse().value - 12.0).abs() < 1e-9); // two strings feed a third
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn open_voltage(&self, cell: ThermodynamicTemperature) -> ElectricPotential {
        let warm = 1.0 + self.module.voltage_per_kelvin.value * above_25(cell).get::<kelvin>();
        self.module.open_voltage * (f64::from(self.series) * warm)
    }

    /// Voltage at rated light with the cells so hot; it falls as many volts per kelvin as the open-circuit voltage.
    ///
    /// ```
    /// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Power, Ratio, celsius};
    /// use loomwright::source::solar::{Module, Strings};
    /// let module = Module {
    ///     power: Power::from_text("100 W")?, short_circuit: ElectricCurrent::from_text("6 A")?, series_fuse: None,
    ///     open_voltage: ElectricPotential::from_text("22 V")?, operating_voltage: ElectricPotential::from_text("18 V")?,
    ///     power_per_kelvin: Ratio::from(-0.004), voltage_per_kelvin: Ratio::from(-0.003),
    /// };
    /// let strings = Strings { module, series: 2, parallel: 3 };
    /// assert!((strings.operating_voltage(celsius(25.0)).value - 36.0).abs() < 1e-9); // as rated
    /// assert!(strings.operating_voltage(celsius(60.0)) < strings.operating_voltage(celsius(25.0)));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn operating_voltage(&self, cell: ThermodynamicTemperature) -> ElectricPotential {
        let lost = self.module.open_voltage * (self.module.voltage_per_kelvin.value * above_25(cell).get::<kelvin>());
        ((self.module.operating_voltage + lost) * f64::from(self.series)).max(ElectricPotential::default())
    }

    /// Short-circuit current of all strings together.
    pub fn short_circuit(&self) -> ElectricCurrent {
        self.module.short_circuit * f64::from(self.parallel)
    }

    /// What the other strings drive back into a faulty one.
    pub fn reverse(&self) -> ElectricCurrent {
        self.module.short_circuit * f64::from(self.parallel.saturating_sub(1))
    }

    /// The hottest that its cells get: full sun and still air.
    ///
    /// ```
    /// use loomwright::{quantity::celsius, source::solar::{Mount, Strings}};
    /// let [rack, roof] = [Mount::Rack, Mount::Roof].map(|mount| Strings::hottest(mount, celsius(40.0)));
    /// assert!(roof > rack && rack > celsius(40.0));
    /// ```
    pub fn hottest(mount: Mount, air: ThermodynamicTemperature) -> ThermodynamicTemperature {
        mount.cell(HeatFluxDensity::new::<watt_per_square_meter>(1000.0), air, Velocity::default())
    }

    /// The least fuse of a string: 1.4 times its short-circuit current.
    pub fn least_fuse(&self) -> ElectricCurrent {
        self.module.short_circuit * constants::STRING_FUSE
    }
}
