//! What of a plan a forecast counts: the converter before a load, what leaks away, and assumptions that are its own.

use crate::stays::{alternator, bank, battery, circuit, dc_dc, found, load, march, plan, stay, wh};
use loomwright::study::forecast::Options;
use loomwright_tests::by_hand::close;

/// 100 Ah of glass mat lose 5 % a month at rest: 0.5 Ah in three days from full, where they stand at 12.9 V to 13 V. All of
/// it is lost, and what is stored falls by that. 1 % is left for where between them.
#[test]
fn what_leaks_is_lost() {
    let stay = stay(&plan(&format!("{}{}", battery("house", "agm", 100.0, ""), march(2, 4, ""))), 96);
    let energies = bank(&stay, "house").energies;
    close(wh(energies.lost), 0.5 * 12.95, 0.01);
    close(wh(energies.stored), -wh(energies.lost), 1e-9);
}

/// Of two converters on one battery the lamp's own counts: behind the one that loses 40 % its 24 W cost more than behind the one
/// that loses 5 %, by the difference of their losses. It
/// gives 2 % more than it is rated for, and so loses up to 5 % more of what it takes.
#[test]
fn a_load_draws_through_its_own_converter() {
    let converted = |through: &str| {
        let buck = |name: &str, efficiency: &str| {
            format!(
                "[converters.{name}]\nkind = \"buck\"\noutput_current = \"2 A\"\noutput_voltage = \"12 V\"\nefficiency = \"{efficiency}\"\n{}",
                circuit(name, "house", name)
            )
        };
        let lamp = load("lamp", "house", "power = \"24 W\"")
            .replace("house.+", &format!("{through}.out+"))
            .replace("house.-", &format!("{through}.out-"));
        let parts = [
            battery("house", "agm", 100.0, ""),
            buck("thrifty", "95 %"),
            buck("wasteful", "60 %"),
            lamp,
            march(2, 2, ""),
        ];
        let stay = stay(&plan(&parts.concat()).replace("system_voltage = \"12 V\"", "system_voltage = \"24 V\""), 96);
        let energies = bank(&stay, "house").energies;
        close(wh(energies.used), 576.0, 1e-9);
        wh(energies.converted)
    };
    // With 2 % in conductors besides.
    close(converted("thrifty"), 576.0 / 0.98 / 0.95 - 576.0, 0.05);
    close(converted("wasteful"), 576.0 / 0.98 / 0.60 - 576.0, 0.05);
}

/// What a typical load is taken to draw decides how long a bank lasts, and is told; that of a load whose power is stated is not.
#[test]
fn a_typical_load_is_an_assumption() {
    let told = |says: &str| {
        let parts = [battery("house", "agm", 100.0, ""), load("cooler", "house", says), march(2, 2, "")];
        let found = found(&plan(&parts.concat()), &Options::default());
        found.assumptions.iter().any(|(text, _)| text.starts_with("load cooler: typical "))
    };
    assert!(told("typical = \"compressor-coolbox\""));
    assert!(!told("power = \"45 W\""));
}

/// From a starter battery at its floor nothing may be taken, but the alternator, 50 A at idle and 90 A hot, has what a charger of
/// 30 A asks for: driven for two hours it gives 60 Ah at 13.0 V and more.
#[test]
fn an_engine_feeds_what_its_battery_may_not() {
    let says = "output_current = \"30 A\"\nefficiency = \"91 %\"\nlock_out = \"11 V\"\nrunning_signal = true";
    let parts = [
        battery("starter", "agm", 80.0, ""),
        battery("service", "lithium-iron-phosphate", 300.0, ""),
        alternator("starter"),
        dc_dc("charger", "starter", "service", says),
        march(2, 2, "start_charge = \"50 %\"\ndriving = [\"08:00 to 10:00\"]\nbattery_temperature = \"26.7 °C\""),
    ];
    let stay = stay(&plan(&parts.concat()), 96);
    let given = wh(bank(&stay, "service").energies.charger);
    assert!((60.0 * 13.0..=60.0 * 14.4).contains(&given), "{given} Wh");
}
