//! Symmetric elimination L·D·Lᵀ along a known order, in place and without allocation.
//!
//! Bare numbers: siemens, amperes, volts. Positive pivots are more than a numerical nicety: with the slope of the
//! constant-power demands in the matrix they say that the point is a stable one, on the high-voltage side of collapse.

use super::order::{Order, wide};

/// A matrix and its right side, being eliminated.
#[derive(Default)]
pub(super) struct Factor {
    /// Diagonal by position; one more than there are unknowns, for grounded ends.
    pub(super) diagonal: Vec<f64>,
    /// Off-diagonal elements, as they stand in the matrix: conductances with a minus.
    pub(super) off: Vec<f64>,
    /// Currents into each position, eliminated along with the matrix.
    pub(super) right: Vec<f64>,
    /// One over each pivot.
    inverse: Vec<f64>,
}

/// A pivot is not positive: nothing holds that node, or it is past collapse.
#[derive(Clone, Copy, Debug)]
pub(super) struct NotHeld;

/// A pivot below this share of its diagonal is nothing but rounding.
const ROUNDING: f64 = 1e-13;

impl Factor {
    pub(super) fn new(order: &Order) -> Self {
        Self {
            diagonal: vec![0.0; order.unknowns + 1],
            off: vec![0.0; order.elements()],
            right: vec![0.0; order.unknowns + 1],
            inverse: vec![0.0; order.unknowns],
        }
    }

    /// Adds a conductance between two positions; `element` is theirs.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: every index is made by `Order`")]
    #[inline]
    pub(super) fn conductance(&mut self, at: [usize; 2], element: usize, siemens: f64) {
        self.diagonal[at[0]] += siemens;
        self.diagonal[at[1]] += siemens;
        self.off[element] -= siemens;
    }

    /// Adds a current into the first position and out of the second.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: every index is made by `Order`")]
    #[inline]
    pub(super) fn current(&mut self, at: [usize; 2], amperes: f64) {
        self.right[at[0]] += amperes;
        self.right[at[1]] -= amperes;
    }

    /// Eliminates matrix and right side and writes the voltages by position; the last, of grounded ends, stays 0.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: every index is made by `Order`")]
    pub(super) fn solve(&mut self, order: &Order, base: &[f64], voltages: &mut [f64]) -> Result<(), NotHeld> {
        let Self { diagonal, off, right, inverse } = self;
        let leaves = order.parent.len();
        for (at, parent) in order.parent.iter().enumerate() {
            let pivot = diagonal[at];
            if pivot.is_nan() || pivot <= ROUNDING * base[at] {
                return Err(NotHeld);
            }
            let over = 1.0 / pivot;
            inverse[at] = over;
            let share = off[at] * over;
            let parent = wide(*parent);
            diagonal[parent] -= share * off[at];
            right[parent] -= share * right[at];
        }
        let mut update = 0;
        for (at, range) in (leaves..).zip(order.starts.windows(2)) {
            let pivot = diagonal[at];
            if pivot.is_nan() || pivot <= ROUNDING * base[at] {
                return Err(NotHeld);
            }
            let over = 1.0 / pivot;
            inverse[at] = over;
            let range = wide(range[0])..wide(range[1]);
            for one in range.clone() {
                let share = off[leaves + one] * over;
                let row = wide(order.rows[one]);
                diagonal[row] -= share * off[leaves + one];
                right[row] -= share * right[at];
                for other in one + 1..range.end {
                    off[wide(order.updates[update])] -= share * off[leaves + other];
                    update += 1;
                }
            }
        }
        self.back(order, voltages);
        Ok(())
    }

    /// Voltages for other currents into each position, by the matrix eliminated last.
    #[allow(clippy::indexing_slicing, reason = "hot kernel: as above")]
    pub(super) fn again(&mut self, order: &Order, voltages: &mut [f64]) {
        let Self { off, right, inverse, .. } = self;
        let leaves = order.parent.len();
        for (at, parent) in order.parent.iter().enumerate() {
            right[wide(*parent)] -= off[at] * inverse[at] * right[at];
        }
        for (at, range) in (leaves..).zip(order.starts.windows(2)) {
            for one in wide(range[0])..wide(range[1]) {
                right[wide(order.rows[one])] -= off[leaves + one] * inverse[at] * right[at];
            }
        }
        self.back(order, voltages);
    }

    #[allow(clippy::indexing_slicing, reason = "hot kernel: as above")]
    fn back(&self, order: &Order, voltages: &mut [f64]) {
        let leaves = order.parent.len();
        voltages[order.unknowns] = 0.0;
        for at in (leaves..order.unknowns).rev() {
            let mut sum = self.right[at];
            for one in wide(order.starts[at - leaves])..wide(order.starts[at - leaves + 1]) {
                sum -= self.off[leaves + one] * voltages[wide(order.rows[one])];
            }
            voltages[at] = sum * self.inverse[at];
        }
        for (at, parent) in order.parent.iter().enumerate().rev() {
            voltages[at] = (self.right[at] - self.off[at] * voltages[wide(*parent)]) * self.inverse[at];
        }
    }
}
