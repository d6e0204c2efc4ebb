//! Whether an act that does not fit only says again what another phone had
//! said. That is harmless and set down apart; a contradiction is not.
use super::*;

impl Job {
    /// Whether what `act` says already holds, judged where it was refused.
    pub(crate) fn says_again(&self, act: &Act, why: &Refusal) -> bool {
        match (act, why) {
            (_, Refusal::AlreadySo(_))
            | (Act::PartPlaced { .. }, Refusal::PartIsBack(_))
            | (
                Act::FastenersUndone { .. },
                Refusal::PlaceIs {
                    state: PlaceState::Open,
                    ..
                },
            )
            | (
                Act::FastenerBroke { .. },
                Refusal::PlaceIs {
                    state: PlaceState::Broken,
                    ..
                },
            )
            | (
                Act::LeftOff { .. },
                Refusal::PlaceIs {
                    state: PlaceState::LeftEmpty,
                    ..
                },
            )
            | (
                Act::Checked { .. },
                Refusal::PlaceIs {
                    state: PlaceState::Checked,
                    ..
                },
            )
            | (
                Act::EndParted { .. },
                Refusal::EndIs {
                    state: EndState::Parted,
                    ..
                },
            )
            | (
                Act::LeftOff { .. },
                Refusal::EndIs {
                    state: EndState::LeftOff,
                    ..
                },
            )
            | (
                Act::Checked { .. },
                Refusal::EndIs {
                    state: EndState::Checked,
                    ..
                },
            ) => true,
            (Act::PartOffAgain { part, .. }, Refusal::PartIsOff(_)) => {
                self.parts.get(*part).is_some_and(Part::off)
            }
            // The same thing in the same place; another would be a swap.
            (
                Act::Started {
                    fixing,
                    places,
                    line,
                    ..
                },
                Refusal::PlaceIs { state, .. },
            ) => {
                *state > PlaceState::Slackened
                    && places.iter().all(|&place| {
                        let held = self
                            .fixings
                            .get(*fixing)
                            .and_then(|f| f.places.get(usize::from(place)))
                            .and_then(|p| p.holds);
                        held.is_none_or(|held| held == *line)
                    })
            }
            (Act::Tightened { .. }, Refusal::PlaceIs { state, .. }) => state.filled(),
            (Act::PlaceRepaired { .. }, Refusal::PlaceIs { state, .. }) => {
                *state == PlaceState::Open || state.filled()
            }
            (Act::EndPushed { end, seat }, Refusal::EndIs { state, .. }) => {
                let on = self.end(*end).and_then(|e| e.elsewhere).unwrap_or(*end);
                *state >= EndState::Pushed && on == *seat
            }
            (Act::EndSecured { .. }, Refusal::EndIs { state, .. }) => {
                *state >= EndState::Secured && *state != EndState::LeftOff
            }
            _ => false,
        }
    }
}
