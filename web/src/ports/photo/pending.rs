//! The shot that was asked for and has not arrived: the page may be killed while the camera is open.
//! It lies on the shelf beside the database, where it can be put in the instant of the tap.

use countback_core::codec::json::{Map, Writer};

use crate::ports::marker::Shelf;

const KEY: &str = "countback.shot";

/// What was about to be photographed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PendingShot {
    pub job: String,
    /// What the app calls the thing, to say "the photo of … did not arrive".
    pub subject: String,
    /// Where the person was, to bring them back there.
    pub route: String,
    /// The half-typed act as it stood, in case its draft had not been written yet.
    pub draft: String,
}

pub(super) fn announce(shelf: &dyn Shelf, shot: &PendingShot) {
    let text = Writer::object(|w| {
        w.text("job", &shot.job);
        w.text("subject", &shot.subject);
        w.text("route", &shot.route);
        w.text("draft", &shot.draft);
    });
    // Without a shelf the shot goes ahead all the same; only the reminder is lost.
    shelf.set(KEY, &text);
}

/// The shot that was asked for in an earlier life of the page and never came.
pub fn not_arrived(shelf: &dyn Shelf) -> Option<PendingShot> {
    let text = shelf.get(KEY)?;
    let mut map = Map::parse(&text).ok()?;
    Some(PendingShot {
        job: map.text("job").ok()?,
        subject: map.text("subject").ok()?,
        route: map.text("route").ok()?,
        draft: map.text("draft").ok()?,
    })
}

/// The photo is stored, or was given up.
pub fn forget_shot(shelf: &dyn Shelf) {
    shelf.remove(KEY);
}

#[cfg(test)]
mod tests {
    use super::{PendingShot, announce, forget_shot, not_arrived};
    use crate::ports::marker::MemoryShelf;

    #[test]
    fn a_shot_is_pending_until_it_is_forgotten() {
        let shelf = MemoryShelf::default();
        assert_eq!(not_arrived(&shelf), None);
        let shot = PendingShot {
            job: "a".into(),
            subject: "water pump".into(),
            route: "#/off".into(),
            draft: "{}".into(),
        };
        announce(&shelf, &shot);
        assert_eq!(not_arrived(&shelf), Some(shot));
        forget_shot(&shelf);
        assert_eq!(not_arrived(&shelf), None);
    }
}
