//! What is at the end of a conductor and around it: terminals, lugs, ferrules and reducing pins, tightening torques,
//! conduits, bends and glands.
//!
//! This room says what is made and what fits; whether that will do for a plan is for [`crate::study`] to judge.
//!
//! ```
//! use loomwright::conductor::{Kind, Material, find};
//! use loomwright::fitting::{Terminal, Termination, Thread};
//! use loomwright::quantity::{CrossSection, FromText};
//! let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("35 mm2")?)?;
//! let battery = Terminal::stud(Thread::M8);
//! assert_eq!(battery.termination(&cable, None).words(), "lug 35 mm² M8");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod contact;
mod laying;
mod lug;
mod pin;
mod terminal;
mod termination;
mod torque;

pub use contact::contact_resistance;
pub use laying::{Gland, bend_radius, conduit_fill};
pub use lug::Lug;
pub use pin::Pin;
pub use terminal::{Form, Terminal, TerminalKind, Thread, Tight};
pub use termination::{Termination, ferrule_length};
pub use torque::{Joint, TorqueRange, screw_torque, torque};
