//! Terminals: what they are, and which conductors enter them.

use super::{Pin, lug, termination::Termination};
use crate::conductor::Conductor;
use crate::data::{Source, tables::clamp_currents, tables::constants, tables::stud_currents};
use crate::names::named;
use crate::quantity::{
    Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, ThermodynamicTemperature, Torque, in_mm2,
};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;

named! {
    /// How a terminal holds a conductor.
    Form, "form of terminal", {
        /// A screw presses on the conductor in a cage or under a washer.
        Screw => "screw",
        /// A spring presses on it.
        Spring => "spring",
        /// A nut or bolt presses its lug on a stud, a post or a bar.
        Stud => "stud",
    }
}

named! {
    /// The thread of a stud or bolt.
    Thread, "thread", {
        /// M3.5.
        M3_5 => "M3.5",
        /// M4.
        M4 => "M4",
        /// M5; 10-32 is close to it.
        M5 => "M5",
        /// M6.
        M6 => "M6",
        /// M8.
        M8 => "M8",
        /// M10.
        M10 => "M10",
        /// M12.
        M12 => "M12",
        /// M16.
        M16 => "M16",
        /// A quarter of an inch: its lugs are those of M6.
        Quarter => "1/4 in",
        /// Five sixteenths of an inch: its lugs are those of M8.
        FiveSixteenths => "5/16 in",
        /// Three eighths of an inch: its lugs are those of M10.
        ThreeEighths => "3/8 in",
    }
}

impl Thread {
    /// The metric thread whose lugs and torques are taken for it: itself, or the one nearest to an inch size.
    ///
    /// ```
    /// use loomwright::fitting::Thread;
    /// assert_eq!([Thread::ThreeEighths, Thread::M8].map(Thread::metric), [Thread::M10, Thread::M8]); // 9.5 mm
    /// ```
    pub fn metric(self) -> Self {
        match self {
            Self::Quarter => Self::M6,
            Self::FiveSixteenths => Self::M8,
            Self::ThreeEighths => Self::M10,
            metric => metric,
        }
    }

    /// Whether a table's cell, such as `M6 M8`, has it.
    pub(super) fn is_among(self, cell: &str) -> bool {
        cell.split_whitespace().any(|one| one.eq_ignore_ascii_case(self.metric().name()))
    }

    /// The most that a lug clamped on such a stud carries, where the stud itself carries nothing.
    pub fn clamps(self) -> Option<(ElectricCurrent, &'static Source)> {
        let row = stud_currents::ROWS.iter().find(|row| self.is_among(row.thread))?;
        Some((ElectricCurrent::new::<ampere>(row.clamped_a), row.source))
    }
}

/// What a terminal accepts and asks for. Nothing is taken for granted: what is not stated is `None`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Terminal {
    /// How it holds the conductor.
    pub form: Option<Form>,
    /// The thread of its stud.
    pub thread: Option<Thread>,
    /// The largest conductor that enters it.
    pub largest: Option<Area>,
    /// The largest solid or stranded (class 1 and 2) one, where that differs.
    pub largest_stiff: Option<Area>,
    /// The smallest that it grips.
    pub smallest: Option<Area>,
    /// Length to strip.
    pub strip: Option<Length>,
    /// Tightening torque by its maker.
    pub torque: Option<Torque>,
    /// How many conductors or lugs it takes together.
    pub takes: Option<u16>,
    /// Which of the plan's kinds of terminals it is, by index.
    pub kind: Option<usize>,
    /// How hot it may get.
    pub temperature: Option<ThermodynamicTemperature>,
}

/// A kind of terminals that a plan gives by its maker's manual.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TerminalKind {
    /// Its name in the plan.
    pub name: String,
    /// The manual as cited, where it is.
    pub source: Option<String>,
}

impl TerminalKind {
    /// What is said where its values are used.
    pub fn citation(&self) -> String {
        let source = self.source.as_ref().map(|source| format!(" ({source})")).unwrap_or_default();
        format!("the plan's terminal {}{source}", self.name)
    }
}

/// Why a conductor does not go into a terminal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Tight {
    /// Too large: the terminal accepts at most this.
    Large(Area),
    /// Too small: it grips from this up.
    Small(Area),
    /// No lug is made that takes this conductor and goes over the stud.
    NoLug(Thread),
}

impl Terminal {
    /// A stud of a thread, of which nothing else is stated.
    ///
    /// ```
    /// use loomwright::fitting::{Terminal, Thread};
    /// assert!((Terminal::stud(Thread::M8).joint().value - 1e-4).abs() < 1e-12); // one lug on a stud: 0.1 mΩ
    /// ```
    pub fn stud(thread: Thread) -> Self {
        Self { form: Some(Form::Stud), thread: Some(thread), ..Self::default() }
    }

    /// A screw terminal that accepts conductors up to a size.
    pub fn screw(largest: Area) -> Self {
        Self { form: Some(Form::Screw), largest: Some(largest), ..Self::default() }
    }

    /// The largest conductor of a build that enters it; `None` where that is not stated.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{fitting::Terminal, quantity::{CrossSection, FromText, mm2}};
    /// let terminal = Terminal { largest_stiff: Some(mm2(25.0)), ..Terminal::screw(mm2(16.0)) };
    /// let size = CrossSection::from_text("10 mm2")?;
    /// assert_eq!(terminal.accepts(&find(Kind::Iec5, Material::Copper, size)?), Some(mm2(16.0)));
    /// assert_eq!(terminal.accepts(&find(Kind::Iec2, Material::Copper, size)?), Some(mm2(25.0))); // stranded
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn accepts(&self, conductor: &Conductor) -> Option<Area> {
        if conductor.kind.is_stiff() { self.largest_stiff.or(self.largest) } else { self.largest }
    }

    /// Why a conductor, with its pin where it has one, does not go in; `None` where it does or nothing is stated.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::{fitting::{Pin, Terminal, Tight}, quantity::{CrossSection, FromText, mm2}};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
    /// let terminal = Terminal::screw(mm2(16.0));
    /// assert_eq!(terminal.refuses(&cable, None), Some(Tight::Large(mm2(16.0))));
    /// assert_eq!(terminal.refuses(&cable, Pin::new(mm2(35.0), mm2(16.0))), None); // a reducing pin goes in
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn refuses(&self, conductor: &Conductor, pin: Option<Pin>) -> Option<Tight> {
        // A pin is solid; a gauge a hair above a metric size enters its terminal.
        let (area, largest) =
            pin.map_or((conductor.area, self.accepts(conductor)), |pin| (pin.to, self.largest_stiff.or(self.largest)));
        if let Some(largest) = largest.filter(|largest| in_mm2(area) > in_mm2(*largest) * (1.0 + 1e-9)) {
            return Some(Tight::Large(largest));
        }
        if let Some(smallest) = self.smallest.filter(|least| in_mm2(area) < in_mm2(*least) * (1.0 - 1e-9)) {
            return Some(Tight::Small(smallest));
        }
        let thread = self.thread.filter(|_| self.form == Some(Form::Stud) && pin.is_none())?;
        lug::Lug::of(conductor, thread).is_none().then_some(Tight::NoLug(thread))
    }

    /// What goes on the end of a conductor for this terminal.
    pub fn termination(&self, conductor: &Conductor, pin: Option<Pin>) -> Termination {
        if let Some(pin) = pin {
            return Termination::Pin(pin);
        }
        match (self.form, self.thread) {
            (Some(Form::Stud), Some(thread)) => {
                lug::Lug::of(conductor, thread).map_or(Termination::NoLug(conductor.area, thread), Termination::Lug)
            }
            (Some(Form::Screw | Form::Spring), _) if conductor.kind.is_stiff() => Termination::Bare,
            (Some(Form::Screw | Form::Spring), _) => Termination::ferrule(conductor),
            _ => Termination::Unstated,
        }
    }

    /// Resistance of its joint in good order: 0.1 mΩ for a lug on a stud, and where nothing is stated; 0.2 mΩ in a screw
    /// or spring terminal (common practice, no source).
    pub fn joint(&self) -> ElectricalResistance {
        super::contact_resistance(match self.form {
            Some(Form::Screw | Form::Spring) => "screw-cage",
            Some(Form::Stud) | None => "lug-on-stud",
        })
    }

    /// The test current of a terminal rated for a cross-section, and the most that it may drop over two such terminals at
    /// a tenth of it (IEC 60947-7-1); the next smaller rated cross-section counts.
    ///
    /// ```
    /// use loomwright::{fitting::Terminal, quantity::mm2};
    /// let (current, drop) = Terminal::clamp_test(mm2(16.0)).ok_or("no such size")?;
    /// assert_eq!((current.value, drop.value), (76.0, 0.0032));
    /// # Ok::<(), &str>(())
    /// ```
    pub fn clamp_test(rated: Area) -> Option<(ElectricCurrent, ElectricPotential)> {
        let row = clamp_currents::ROWS.iter().rfind(|row| row.csa_mm2 <= in_mm2(rated) * (1.0 + 1e-9))?;
        Some((ElectricCurrent::new::<ampere>(row.current_a), ElectricPotential::new::<volt>(constants::CLAMP_DROP_V)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, find};
    use crate::quantity::{CrossSection, mm2};

    fn cable(kind: Kind, csa: f64) -> Conductor {
        find(kind, Material::Copper, CrossSection::Area(mm2(csa))).unwrap()
    }

    #[test]
    fn a_conductor_enters_what_takes_it() {
        let cage = Terminal { largest_stiff: Some(mm2(25.0)), smallest: Some(mm2(2.5)), ..Terminal::screw(mm2(16.0)) };
        assert_eq!(cage.refuses(&cable(Kind::Iec5, 16.0), None), None);
        assert_eq!(cage.refuses(&cable(Kind::Iec5, 25.0), None), Some(Tight::Large(mm2(16.0))));
        // Few strands keep their shape: the maker permits one size more.
        assert_eq!(cage.refuses(&cable(Kind::Iec2, 25.0), None), None);
        assert_eq!(cage.refuses(&cable(Kind::Iec5, 1.5), None), Some(Tight::Small(mm2(2.5))));
        let pin = Pin::new(mm2(35.0), mm2(16.0));
        assert_eq!(cage.refuses(&cable(Kind::Iec5, 35.0), pin), None);
        // No lug for 120 mm² goes over an M6 stud.
        assert_eq!(Terminal::stud(Thread::M6).refuses(&cable(Kind::Iec5, 120.0), None), Some(Tight::NoLug(Thread::M6)));
        assert_eq!(Terminal::default().refuses(&cable(Kind::Iec5, 120.0), None), None);
    }

    #[test]
    fn an_inch_thread_takes_the_lugs_of_the_metric_one_beside_it() {
        for (inch, metric) in [(Thread::Quarter, "M6"), (Thread::FiveSixteenths, "M8"), (Thread::ThreeEighths, "M10")] {
            assert_eq!(inch.metric().name(), metric);
        }
    }
}
