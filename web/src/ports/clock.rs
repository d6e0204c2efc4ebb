//! The time of day as the app tells it: never backwards within a session, whatever is done to the
//! phone's clock. Order in a job goes by sequence, never by this.

use std::cell::Cell;

use super::js;

/// How far the wall clock must run ahead of the steady one before it is believed, in milliseconds:
/// while the phone sleeps, the steady clock may stand still.
const SLEPT_MS: f64 = 1_000.0;

/// A clock for one session.
#[derive(Debug)]
pub struct Clock {
    steady: Cell<Steady>,
}

/// The rule without the browser: readings in, time out. All in milliseconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    wall_at_start: f64,
    steady_at_start: f64,
    last: f64,
}

impl Steady {
    pub fn start(wall: f64, steady: f64) -> Self {
        Steady {
            wall_at_start: wall,
            steady_at_start: steady,
            last: wall,
        }
    }

    /// The time at these readings. A wall clock set back is ignored until the next start; one that
    /// ran ahead is followed, for that is what a sleep looks like.
    pub fn read(&mut self, wall: f64, steady: f64) -> f64 {
        let mut now = self.wall_at_start + (steady - self.steady_at_start);
        if wall > now + SLEPT_MS {
            self.wall_at_start = wall;
            self.steady_at_start = steady;
            now = wall;
        }
        self.last = self.last.max(now);
        self.last
    }
}

impl Clock {
    pub fn start() -> Self {
        Clock {
            steady: Cell::new(Steady::start(js_sys::Date::now(), steady_ms())),
        }
    }

    /// Milliseconds since 1970.
    pub fn now_ms(&self) -> u64 {
        let mut steady = self.steady.get();
        let now = steady.read(js_sys::Date::now(), steady_ms());
        self.steady.set(steady);
        now.max(0.0) as u64
    }
}

fn steady_ms() -> f64 {
    js::window()
        .and_then(|window| window.performance())
        .map_or(0.0, |clock| clock.now())
}

#[cfg(test)]
mod tests {
    use super::Steady;

    #[test]
    fn a_clock_set_back_does_not_turn_time_back() {
        let mut clock = Steady::start(1_000_000.0, 50.0);
        assert_eq!(clock.read(1_000_100.0, 150.0), 1_000_100.0);
        assert_eq!(clock.read(0.0, 250.0), 1_000_200.0);
        assert_eq!(clock.read(300_000.0, 260.0), 1_000_210.0);
    }

    #[test]
    fn a_sleep_in_which_the_steady_clock_stood_still_is_caught_up() {
        let mut clock = Steady::start(1_000_000.0, 50.0);
        assert_eq!(clock.read(4_600_000.0, 60.0), 4_600_000.0);
        assert_eq!(clock.read(4_600_500.0, 560.0), 4_600_500.0);
    }

    #[test]
    fn a_small_difference_between_the_clocks_is_not_followed() {
        let mut clock = Steady::start(1_000_000.0, 0.0);
        assert_eq!(clock.read(1_000_900.0, 100.0), 1_000_100.0);
    }
}
