//! Fixings and connections of the entry being made, as what is logged of them;
//! figures of tightening as typed and back.
use countback_core::fastener::FastenerSpec;
use countback_core::job::*;
use countback_core::journal::*;

use super::draft::*;

impl DraftFixing {
    pub fn read_spec(&self) -> FastenerSpec {
        self.spec.parse().unwrap_or_default()
    }

    pub(super) fn draft(&self) -> Option<FixingDraft> {
        use countback_core::fastener::FastenerKind;
        if self.count == 0 {
            return None;
        }
        let mut draft = FixingDraft::new(self.read_spec(), self.count);
        draft.place.clone_from(&self.place);
        draft.numbers = self
            .numbers
            .split([',', ' '])
            .filter_map(|n| n.trim().parse().ok())
            .collect();
        draft.slackened = self.slackened;
        draft.found_empty = self.found_empty;
        draft.reuse = if self.renew {
            Reuse::Renew
        } else {
            Reuse::Reuse
        };
        draft.union = self.union;
        let extra = |kind, per_place| Extra {
            spec: FastenerSpec::of(kind),
            per_place,
        };
        if self.washers > 0 {
            draft.extras.push(extra(FastenerKind::Washer, self.washers));
        }
        if self.spacers > 0 {
            draft.extras.push(extra(FastenerKind::Spacer, self.spacers));
        }
        if self.stud_came {
            draft.extras.push(extra(FastenerKind::Stud, 1));
        }
        draft.detail = FixingDetail {
            stages: self
                .stages
                .iter()
                .filter_map(|(text, unit)| read_stage(text, *unit))
                .collect(),
            tolerance: None,
            meant_for: None,
            running: None,
            source: String::new(),
            tool: self.tool.clone(),
            way: self.way.and_then(|w| WAYS.get(usize::from(w)).copied()),
            spanner_only: self.spanner_only,
            watch: self.watch.clone(),
            safety: self.safety,
        };
        draft.also = self.also.iter().filter_map(|p| p.parse().ok()).collect();
        Some(draft)
    }
}

impl DraftConnection {
    pub fn joint_a(&self) -> Joint {
        let joint = JOINTS.get(usize::from(self.joint)).copied();
        joint.unwrap_or(Joint::Clamped)
    }

    /// As at this end, until another was chosen.
    pub fn joint_b(&self) -> Joint {
        let joint = self.b_joint.and_then(|n| JOINTS.get(usize::from(n)));
        joint.copied().unwrap_or(self.joint_a())
    }

    pub(super) fn draft(&self, tag: Option<String>) -> ConnectionDraft {
        let end = |on: Option<PartId>, label: &str, joint: Joint, clamp: &str, parted| End {
            on,
            label: label.trim().to_owned(),
            joint,
            clamp: match joint {
                Joint::Clamped => clamp.to_owned(),
                _ => String::new(),
            },
            parted,
        };
        let by = self.route_by.as_ref().and_then(|(k, p)| {
            let kind = *ROUTES.get(usize::from(*k))?;
            Some(Route {
                kind,
                part: p.parse().ok(),
                text: self.route.clone(),
            })
        });
        let words = (!self.route.is_empty() && by.is_none()).then(|| Route {
            kind: RouteKind::Behind,
            part: None,
            text: self.route.clone(),
        });
        ConnectionDraft {
            logged: ConnectionLogged {
                kind: *KINDS
                    .get(usize::from(self.kind))
                    .unwrap_or(&ConnectionKind::Hose),
                name: self.name.clone(),
                a: end(None, &self.a, self.joint_a(), &self.a_clamp, self.a_off),
                b: end(
                    self.b_on.parse().ok(),
                    &self.b,
                    self.joint_b(),
                    &self.b_clamp,
                    self.b_off,
                ),
                route: by.into_iter().chain(words).collect(),
                after: Vec::new(),
                tag,
            },
            a_here: self.a_here,
            b_here: self.b_on == HERE,
        }
    }
}

/// Units of a stage as typed; the last is degrees of turn.
pub const STAGE_UNITS: [&str; 6] = ["N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "degrees"];

pub fn read_stage(text: &str, unit: u8) -> Option<Figure> {
    use countback_core::torque::TorqueUnit::*;
    let number = crate::ports::locale::NumberStyle::read(text)?;
    if number <= 0.0 {
        return None;
    }
    let units = [
        NewtonMetre,
        PoundForceFoot,
        PoundForceInch,
        KilogramForceMetre,
        KilogramForceCentimetre,
    ];
    match units.get(usize::from(unit)) {
        Some(&unit) => Some(Figure::Torque {
            milli: (number * 1000.0).round() as u32,
            unit,
        }),
        None => Some(Figure::Angle {
            degrees: number.round() as u16,
        }),
    }
}

pub(super) fn stage_text(figure: Figure) -> Option<(String, u8)> {
    use countback_core::torque::TorqueUnit::*;
    Some(match figure {
        Figure::Angle { degrees } => (degrees.to_string(), 5),
        Figure::Torque { milli, unit } => {
            let units = [
                NewtonMetre,
                PoundForceFoot,
                PoundForceInch,
                KilogramForceMetre,
                KilogramForceCentimetre,
            ];
            let at = index(&units, unit)?;
            (
                countback_core::words::thousandths(milli, countback_core::words::Style::default()),
                at,
            )
        }
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use countback_core::view::{self, At, RowState};
    use countback_core::words::Style;

    fn ctx(now: i64) -> Ctx {
        Ctx {
            now,
            device: DeviceId(1),
            by: "Ann".to_owned(),
        }
    }

    /// Logs an entry, and gives back the id of its part.
    fn log(book: &mut Book, draft: &Draft) -> PartId {
        let off = draft.take_off("100019", &[]);
        let now = book.journal().len() as i64;
        let events = book.decide(Command::TakeOff(Box::new(off)), &ctx(now));
        let events = events.unwrap();
        let part = PartId(events[0].id.thing(0));
        book.append(events);
        part
    }

    #[test]
    fn the_other_end_waits_for_the_part_that_it_sits_on() {
        let mut book = Book::default();
        let head = JobHead {
            title: "Pump".to_owned(),
            machine: "van".to_owned(),
            aim: String::new(),
            meter: None,
            units: Units {
                torque: countback_core::torque::TorqueUnit::NewtonMetre,
                length: LengthUnit::Millimetre,
            },
        };
        let open = Command::Open {
            head,
            procedure: None,
        };
        let events = book.decide(open, &ctx(0)).unwrap();
        book.append(events);
        let cooler = Draft {
            name: "cooler".to_owned(),
            ..Draft::default()
        };
        let cooler = log(&mut book, &cooler);
        let hose = DraftConnection {
            name: "top hose".to_owned(),
            a: "pump".to_owned(),
            a_here: true,
            a_off: true,
            a_clamp: "spring clip".to_owned(),
            b: "cooler".to_owned(),
            b_on: cooler.to_string(),
            b_off: true,
            b_joint: JOINTS
                .iter()
                .position(|j| *j == Joint::PushOn)
                .map(|n| n as u8),
            b_clamp: "ear clip".to_owned(),
            ..DraftConnection::default()
        };
        let pump = Draft {
            name: "pump".to_owned(),
            connections: vec![hose.clone()],
            ..Draft::default()
        };
        let pump = log(&mut book, &pump);
        let it = book.job().connections.rows().next().unwrap();
        assert_eq!((it.a.end.on, it.b.end.on), (Some(pump), Some(cooler)));
        assert_eq!(
            (it.a.end.joint, it.b.end.joint),
            (Joint::Clamped, Joint::PushOn)
        );
        // A clip is told of where one holds, and nowhere else.
        assert_eq!(
            (it.a.end.clamp.as_str(), it.b.end.clamp.as_str()),
            ("spring clip", "")
        );
        let at = At {
            now: 9,
            open_since: 0,
            style: Style::default(),
        };
        // Neither end is offered by itself while what it sits on is off.
        let page = view::put_back_page(&book, at, &Default::default());
        let offered = page.now.iter().flat_map(|group| &group.rows);
        let offered: Vec<Target> = offered.map(|row| row.what).collect();
        assert!(
            !offered.iter().any(|it| matches!(it, Target::End(_))),
            "{offered:?}"
        );
        let blocked = page
            .blocked
            .iter()
            .filter(|row| matches!(row.what, Target::End(_)));
        assert!(blocked.clone().all(|row| row.state == RowState::Blocked));
        // It stands on the page of the other part too.
        let of_cooler = view::part_page(&book, cooler, at).unwrap();
        assert_eq!(of_cooler.connections.len(), 1);

        // Both ends on the part itself.
        let loop_ = DraftConnection {
            b_on: HERE.to_owned(),
            ..hose
        };
        let draft = loop_.draft(None);
        assert!(draft.a_here && draft.b_here && draft.logged.b.on.is_none());
    }
}
