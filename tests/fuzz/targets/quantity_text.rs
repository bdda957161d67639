//! Quantity text: what is accepted is finite and survives being written and read again.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright::heat::Duty;
use loomwright::protection::Fuse;
use loomwright::quantity::{
    Angle, Area, Capacitance, CrossSection, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance,
    Energy, Frequency, FromText, JouleIntegral, Length, LineResistance, Mass, Power, RadiantExposure, Ratio,
    ThermodynamicTemperature, Time, ToText, Torque,
};
use loomwright::study::cable::DropLimit;
use loomwright_fuzz::change_pieces;

static WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let words = "A mA kA V mV mΩ ohm µΩ Ω/km Ω/m Ω/kft m mm cm km ft in mm² mm2 kcmil cmil cm² W kW mW Wh kWh J Ah mAh As °C \
        degC °F K s min h d ms r/min rpm % percent A²s kA²s mF µF F N·m Nm lbf-in lbf-ft ° rad kWh/m² MJ/m² kg g lb AWG SAE \
        2/0 4/0 6 1 -5 +3 −3 1e308 1e-308 0x1 1_0 .5 5. 12.5 nan inf in 30 class-t blade-c 60A none 16 1,5";
    words.split(' ').map(str::to_owned).collect()
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    change_pieces(data, size, max_size, seed, ' ', &WORDS)
});

fuzz_target!(|data: &[u8]| {
    let Ok(text) = std::str::from_utf8(data) else { return };
    macro_rules! each { ($($quantity:ident),+ $(,)?) => {$(
        match $quantity::from_text(text) {
            Err(error) => assert!(error.to_string().len() > 10 && error.to_string().len() < 1000, "{error}"),
            Ok(read) => {
                assert!(read.value.is_finite(), "{text:?}");
                let written = read.to_text();
                let again = $quantity::from_text(&written).unwrap_or_else(|error| panic!("{text:?}: {written:?}: {error}"));
                // Twelve digits of what is shown; a temperature is shown from another zero.
                let near = 1e-11 * read.value.abs().max(again.value.abs()) + if stringify!($quantity) == "ThermodynamicTemperature" { 1e-8 } else { f64::MIN_POSITIVE };
                assert!((again.value - read.value).abs() <= near, "{text:?}: {written:?}");
            }
        }
    )+}; }
    each!(
        Angle,
        Area,
        Capacitance,
        ElectricCharge,
        ElectricCurrent,
        ElectricPotential,
        ElectricalResistance,
        Energy,
        Frequency,
        JouleIntegral,
        Length,
        LineResistance,
        Mass,
        Power,
        RadiantExposure,
        Ratio,
        ThermodynamicTemperature,
        Time,
        Torque,
    );
    if let Ok(CrossSection::Area(area)) = CrossSection::from_text(text) {
        assert!(area.value.is_finite(), "{text:?}");
    }
    let _ = DropLimit::from_text(text);
    if let Ok(duty) = text.parse::<Duty>() {
        let share = duty.factor().value;
        assert!((0.0..=1.0).contains(&share), "{text:?}");
    }
    if let Ok(fuse) = text.parse::<Fuse>() {
        assert!(fuse.rating.value.is_finite() && fuse.rating.value > 0.0, "{text:?}");
    }
});
