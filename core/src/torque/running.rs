//! Running torque of self-locking nuts: what it takes to turn one down before
//! it seats. Rule of TM 9-2330-326-14&P, `seen`: below a third of the specified
//! torque it is passed over, otherwise it is added.

use super::amount::Torque;

/// What to set for a nut that runs with `running`, in the unit of `specified`.
/// `None` when the sum is too big to hold.
///
/// ```
/// use countback_core::torque::running::with_running_torque;
/// let set = |spec: &str, run: &str| {
///     with_running_torque(spec.parse().unwrap(), run.parse().unwrap()).unwrap().to_string()
/// };
/// assert_eq!(set("50 lbf·in", "30 lbf·in"), "80 lbf·in");
/// assert_eq!(set("50 lbf·in", "10 lbf·in"), "50 lbf·in");
/// ```
pub fn with_running_torque(specified: Torque, running: Torque) -> Option<Torque> {
    let running = running.in_unit(specified.unit())?;
    if u64::from(running.thousandths()) * 3 < u64::from(specified.thousandths()) {
        return Some(specified);
    }
    let sum = specified.thousandths().checked_add(running.thousandths())?;
    Some(Torque::from_thousandths(sum, specified.unit()))
}
