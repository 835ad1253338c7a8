//! From one snapshot to another: what both share (floor, tape, roll share) cancels, so a change is sharper than a height.

use super::Solution;
use super::wanted::Wanted;
use crate::stance::Figure;

impl Solution {
    /// A figure of snapshot `to` less the same of snapshot `from`; paths as for [`Solution::budget`].
    ///
    /// Heights that no reading tells on a floor that is not levelled may still have changed by a known amount on the same spots.
    /// `None` where one of the two has no such figure.
    pub fn change(&self, from: &str, to: &str, figure: &str) -> Option<Figure> {
        let (from, to) = (self.number(from)?, self.number(to)?);
        let ((before, nominal), (after, _)) = (self.find(from, figure)?, self.find(to, figure)?);
        let wanted = Wanted { jet: after.jet.plus(-1.0, &before.jet).merged(), half_width: None, ..after };
        let doubts = self.doubts();
        if nominal {
            return Some(doubts.figure_with(&wanted, &self.to_nominal(to).since(&self.to_nominal(from))));
        }
        Some(doubts.figure(&wanted))
    }
}
