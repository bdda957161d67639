//! How a conductor lies, with whom, and in what.

use super::HeatError;
use crate::conductor::Conductor;
use crate::data::tables::constants;
use crate::names::named;
use crate::quantity::{Length, LinearPowerDensity};
use uom::si::length::{meter, millimeter};

named! {
    /// How a conductor lies, which decides what heat it sheds. The air is still always.
    Installation, "installation", {
        /// Alone in free air, a diameter or more from walls and other cables.
        FreeAir => "free-air",
        /// Fixed to a surface, touching the conductors it is laid together with.
        Surface => "surface",
        /// In a bundle of touching conductors in free air.
        Bundle => "bundle",
        /// In a plastic conduit fixed to a surface.
        ConduitPlastic => "conduit-plastic",
        /// In a metal conduit fixed to a surface.
        ConduitMetal => "conduit-metal",
        /// In a split corrugated conduit fixed to a surface.
        ConduitSplit => "conduit-split",
        /// Between a lining and thermal insulation: heat leaves on one side only.
        Insulated => "insulated",
        /// In conduit or trunking together with its return: the IEC 60364-5-52 method B table.
        Enclosed => "enclosed",
    }
}

impl Installation {
    /// The installation in words.
    pub fn title(self) -> &'static str {
        match self {
            Self::FreeAir => "alone in free air",
            Self::Surface => "fixed to a surface",
            Self::Bundle => "bundle in free air",
            Self::ConduitPlastic => "plastic conduit",
            Self::ConduitMetal => "metal conduit",
            Self::ConduitSplit => "split corrugated conduit",
            Self::Insulated => "against thermal insulation",
            Self::Enclosed => "enclosed",
        }
    }

    /// Whether it is a conduit whose bore matters.
    pub fn is_conduit(self) -> bool {
        matches!(self, Self::ConduitPlastic | Self::ConduitMetal | Self::ConduitSplit)
    }
}

/// Conductors of other sizes or currents that lie together with one: only their heat and their room count.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Others {
    /// What all of them give off together; none when they rest.
    pub heat: LinearPowerDensity,
    /// Square root of the sum of the squares of their outer diameters.
    pub diameter: Length,
    /// The part of that which carries no current: heat must pass through it.
    pub resting: Length,
    /// The largest outer diameter among them.
    pub largest: Length,
    /// How many carry current.
    pub loaded: u16,
}

/// How a conductor lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lay {
    /// The installation.
    pub installation: Installation,
    /// Equal conductors that carry equal current and lie together, this one included: 1 to [`Lay::MOST`].
    pub together: u16,
    /// Conductors of other sizes or currents in the same bundle or conduit.
    pub others: Others,
    /// Bore of the conduit; one filled to 40 % when not stated.
    pub bore: Option<Length>,
}

impl Lay {
    /// The most equal conductors that are counted together.
    pub const MOST: u16 = 40;

    /// Alone: no other conductor near.
    pub fn alone(installation: Installation) -> Self {
        Self { installation, together: 1, others: Others::default(), bore: None }
    }

    /// Both legs of a circuit, equal and equally loaded.
    ///
    /// ```
    /// use loomwright::heat::{Installation, Lay};
    /// assert_eq!(Lay::pair(Installation::Surface).loaded(), 2 * Lay::alone(Installation::Surface).loaded());
    /// ```
    pub fn pair(installation: Installation) -> Self {
        Self { together: 2, ..Self::alone(installation) }
    }

    /// Diameter of the circle around all conductors, with `conductor` the one that lies so: what a conduit's
    /// bore must have at least.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{heat::{Installation, Lay}, quantity::{CrossSection, FromText}};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let around = Lay::pair(Installation::ConduitPlastic).contents(&cable);
    /// assert!(((around / cable.outer_diameter).value - 2.0).abs() < 1e-9); // two circles side by side
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn contents(&self, conductor: &Conductor) -> Length {
        Length::new::<meter>(contents(conductor.outer_diameter.value, self))
    }

    /// Loaded conductors together, this one included.
    pub fn loaded(&self) -> u16 {
        self.together.saturating_add(self.others.loaded)
    }
}

/// The cables as one body, and the conduit around it; metres.
#[derive(Clone, Copy, Debug)]
pub(super) struct Outline {
    /// Diameter of the circle whose surface sheds the heat of the touching cables.
    pub(super) group: f64,
    /// The same of those that carry current.
    pub(super) loaded: f64,
    /// Bore and outside diameter of the conduit.
    pub(super) conduit: Option<(f64, f64)>,
}

/// Sum of the squares of all outer diameters, m².
fn outlines(own: f64, lay: &Lay) -> f64 {
    f64::from(lay.together) * own * own + lay.others.diameter.value * lay.others.diameter.value
}

/// Diameter of the circle around all conductors, m.
fn contents(own: f64, lay: &Lay) -> f64 {
    let alone = lay.others.diameter.value == 0.0;
    let packed = PACKED.get(usize::from(lay.together).saturating_sub(1)).filter(|_| alone);
    let largest = own.max(lay.others.largest.value);
    let second = if lay.together > 1 { own } else { own.min(lay.others.largest.value) };
    let filled = (outlines(own, lay) / PACKED_FILL).sqrt();
    packed.map_or(filled.max(largest + second), |around| own * around)
}

/// Diameter of the smallest circle around n equal circles of diameter 1, to 7; packing theory, proven optimal.
const PACKED: [f64; 7] = [1.0, 2.0, 2.154_701, 2.414_214, 2.701_302, 3.0, 3.0];
/// Beyond: circles fill at most this share of a circle around them.
const PACKED_FILL: f64 = 0.8;

impl Outline {
    pub(super) fn of(conductor: &Conductor, lay: &Lay) -> Result<Self, HeatError> {
        let own = conductor.outer_diameter.value;
        let outlines = outlines(own, lay);
        // One alone is its own body; several shed through the surface around them, a little less than their hull.
        let hull = |outlines: f64| {
            if outlines <= own * own { own } else { (outlines / constants::HULL_FILL).sqrt().max(own) }
        };
        let resting = lay.others.resting.value;
        let (group, loaded) = (hull(outlines), hull(outlines - resting * resting));
        if !lay.installation.is_conduit() {
            return Ok(Self { group, loaded, conduit: None });
        }
        let contents = contents(own, lay);
        let usual = (outlines / constants::CONDUIT_FILL).sqrt().max(contents);
        let bore = lay.bore.map_or(usual, |bore| bore.value);
        if !bore.is_finite() || bore < contents * (1.0 - 1e-9) || bore > 1.0 {
            return Err(HeatError::Conduit {
                bore_mm: Length::new::<meter>(bore).get::<millimeter>(),
                contents_mm: Length::new::<meter>(contents).get::<millimeter>(),
                conductors: u32::from(lay.together) + u32::from(lay.others.loaded),
            });
        }
        let wall = match lay.installation {
            Installation::ConduitSplit => constants::CORRUGATION,
            _ => constants::CONDUIT_WALL,
        };
        // The body of a full bore would leave no gap at all: it is kept a hair smaller.
        let group = group.min(0.98 * bore);
        Ok(Self { group, loaded: loaded.min(group), conduit: Some((bore, bore * (1.0 + 2.0 * wall))) })
    }
}
