//! Zones: where a conductor lies and how hot it is there.

use crate::data::{Source, tables::zone_ambient};
use crate::names::named;
use crate::practice::Practice;
use crate::quantity::{ThermodynamicTemperature, celsius};

named! {
    /// The kind of a zone, which gives its usual hottest air.
    ZoneKind, "kind of zone", {
        /// Living space of a vehicle.
        VanCabin => "van-cabin",
        /// Locker with converters or chargers.
        ConverterLocker => "converter-locker",
        /// Void under a sunlit roof.
        RoofVoid => "roof-void",
        /// Under the floor of a vehicle.
        UnderBody => "under-body",
        /// Under the floor beside the exhaust.
        BesideExhaust => "beside-exhaust",
        /// Engine bay of a vehicle.
        EngineBay => "engine-bay",
        /// Engine space of a boat.
        BoatEngineSpace => "boat-engine-space",
        /// Anywhere else on a boat.
        Boat => "boat",
        /// Inside a cabin or hut.
        Hut => "hut",
    }
}

impl ZoneKind {
    /// The usual hottest air of such a zone under a practice, and where that comes from.
    pub fn usual_hottest(self, practice: Practice) -> (ThermodynamicTemperature, &'static Source) {
        let row = zone_ambient::ROWS.iter().find(|row| row.kind == self.name());
        let us = row
            .filter(|_| practice == Practice::UsSmallCraft)
            .and_then(|row| Some((row.hottest_us_c?, row.us_source?)));
        let fallback = (85.0, &crate::data::tables::sources::ZONE_COMMON_PRACTICE);
        let (degrees, source) = us.or_else(|| row.map(|row| (row.hottest_c, row.source))).unwrap_or(fallback);
        (celsius(degrees), source)
    }
}

named! {
    /// What may burn in the air of a zone.
    Explosive, "explosive atmosphere", {
        /// Petrol vapour.
        Petrol => "petrol",
        /// Liquefied gas.
        Gas => "gas",
        /// Hydrogen from charging.
        BatteryGas => "battery-gas",
    }
}

/// One zone.
#[derive(Clone, Debug)]
pub struct Zone {
    /// Its name.
    pub name: String,
    /// Its kind.
    pub kind: ZoneKind,
    /// The hottest air in it.
    pub hottest: ThermodynamicTemperature,
    /// The coldest air in it.
    pub coldest: ThermodynamicTemperature,
    /// What may burn in it.
    pub explosive: Option<Explosive>,
}
