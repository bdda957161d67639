//! Sizes the vaccine refrigerator's circuit of an invented mobile veterinary clinic van, and asks the
//! engine for more than the command prints: the same circuit over a range of lengths.

use loomwright::quantity::{ElectricPotential, FromText, Length, Power};
use loomwright::study::cable::{CableQuery, Load, size};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let refrigerator =
        Load::Power { power: Power::from_text("95 W")?, lowest_voltage: ElectricPotential::from_text("10.8 V")? };
    let system = ElectricPotential::from_text("12 V")?;
    println!("one way   conductor   fuse");
    for length in ["1 m", "3 m", "6 m", "9 m"] {
        let sized = size(&CableQuery::new(refrigerator, Length::from_text(length)?, system))?;
        let chosen = sized.chosen.ok_or("no size passes")?;
        let fuse = chosen.fuse.ok_or("no fuse carries the load")?;
        println!("{length:<9} {:<11} {} A {}", chosen.conductor.label(), fuse.rating.value, fuse.family.name());
    }
    // Every result is plain data, ready for another program.
    let sized = size(&CableQuery::new(refrigerator, Length::from_text("6 m")?, system))?;
    let record = serde_json::to_value(sized.record(false))?;
    println!(
        "verdict {} with {} assumptions to confirm",
        record["verdict"],
        record["assumptions"].as_array().map_or(0, Vec::len)
    );
    Ok(())
}
