//! Fixings and connections of the entry being made, as what is logged of them;
//! figures of tightening as typed and back. Half of it are its tests.
use countback_core::fastener::{FastenerKind, FastenerSpec};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::view::{self, TypedStages};

use super::draft::*;

impl DraftFixing {
    pub fn read_spec(&self) -> FastenerSpec {
        self.spec.parse().unwrap_or_default()
    }

    /// So many washers with each. Until another size is chosen they are for its
    /// own thread (common practice, no source).
    pub fn set_washers(&mut self, n: u8) {
        self.washers = n;
        if self.washer.is_empty() {
            let washer = FastenerSpec::of(FastenerKind::Washer);
            let thread = self.read_spec().thread;
            self.washer = FastenerSpec { thread, ..washer }.to_string();
        }
    }

    /// How thick its shims are, in micrometres; 0 where it is not known.
    pub fn set_shim(&mut self, um: u32) {
        let mut shim = read_spec(&self.shim, FastenerKind::Shim);
        super::super::sizes::set_thickness(&mut shim, um);
        self.shim = shim.to_string();
    }

    /// What its stages are as they stand typed.
    pub fn typed(&self) -> TypedStages {
        let stages = self.stages.iter();
        view::typed_stages(stages.map(|(text, unit)| (text.as_str(), torque_unit(*unit))))
    }

    /// Why the numbers of its holes cannot be taken as they are typed.
    pub fn wrong_numbers(&self) -> Option<String> {
        match view::hole_numbers(&self.numbers) {
            Err(wrong) => Some(wrong),
            Ok(it) if it.is_empty() || it.len() == usize::from(self.count) => None,
            Ok(it) => Some(format!(
                "{} numbers for {} holes. One a hole, or none.",
                it.len(),
                self.count
            )),
        }
    }

    pub(super) fn draft(&self) -> Option<FixingDraft> {
        if self.count == 0 {
            return None;
        }
        let mut draft = FixingDraft::new(self.read_spec(), self.count);
        draft.place.clone_from(&self.place);
        draft.numbers = view::hole_numbers(&self.numbers).unwrap_or_default();
        draft.slackened = self.slackened;
        draft.found_empty = self.found_empty;
        draft.broke = self.broke;
        draft.reuse = match (self.renew, self.inspect) {
            (true, _) => Reuse::Renew,
            (_, true) => Reuse::Inspect,
            _ => Reuse::Reuse,
        };
        draft.union = self.union;
        let used = USED_ONCE.get(usize::from(self.used_kind));
        draft.used = used.filter(|_| self.used > 0).map(|&(kind, name)| {
            Box::new(UsedOnce {
                kind,
                name: name.to_owned(),
                size: self.used_size.clone(),
                per_place: self.used,
            })
        });
        let extra = |spec, per_place| Extra { spec, per_place };
        if self.washers > 0 {
            let washer = read_spec(&self.washer, FastenerKind::Washer);
            draft.extras.push(extra(washer, self.washers));
        }
        if self.spacers > 0 {
            let spacer = read_spec(&self.spacer, FastenerKind::Spacer);
            draft.extras.push(extra(spacer, self.spacers));
        }
        if self.shims > 0 {
            let shim = read_spec(&self.shim, FastenerKind::Shim);
            draft.extras.push(extra(shim, self.shims));
        }
        if self.stud_came {
            let stud = FastenerSpec::of(FastenerKind::Stud);
            draft.extras.push(extra(stud, 1));
        }
        let taken_out = self
            .count
            .saturating_sub(self.slackened)
            .saturating_sub(self.found_empty);
        draft.apart = self
            .apart
            .as_ref()
            .and_then(|(id, n)| Some((id.parse().ok()?, (*n).min(taken_out))))
            .filter(|(_, n)| *n > 0);
        let read = self.typed();
        draft.detail = FixingDetail {
            stages: read.stages,
            // What was typed with the figure goes before the procedure's.
            tolerance: read.tolerance.or(self.tolerance),
            meant_for: self.meant_for,
            running: self.running,
            source: self.source.clone(),
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

/// A fastener of this kind by its stored form; only the kind where there is
/// none.
pub(super) fn read_spec(text: &str, kind: FastenerKind) -> FastenerSpec {
    let spec: FastenerSpec = text.parse().unwrap_or_default();
    FastenerSpec { kind, ..spec }
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

    /// Logs it with a part that is logged already.
    pub fn command(&self, part: PartId) -> Command {
        let draft = self.draft();
        let mut logged = draft.logged;
        if draft.a_here {
            logged.a.on = Some(part);
        }
        if draft.b_here {
            logged.b.on = Some(part);
        }
        Command::Record(Act::ConnectionLogged(Box::new(logged)))
    }

    pub(super) fn draft(&self) -> ConnectionDraft {
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
                tag: (!self.tag.is_empty()).then(|| self.tag.clone()),
            },
            a_here: self.a_here,
            b_here: self.b_on == HERE,
        }
    }
}

/// Units of a stage as typed; the last is degrees of turn.
pub const STAGE_UNITS: [&str; 6] = ["N·m", "lbf·ft", "lbf·in", "kgf·m", "kgf·cm", "degrees"];

/// Degrees stand after the units of torque.
const DEGREES: u8 = 5;

/// The unit of torque at a place among [`STAGE_UNITS`]; `None` for degrees.
pub fn torque_unit(unit: u8) -> Option<TorqueUnit> {
    TorqueUnit::ALL.get(usize::from(unit)).copied()
}

/// The place of a figure's unit among [`STAGE_UNITS`].
pub fn unit_of(figure: Figure) -> u8 {
    match figure {
        Figure::Angle { .. } => DEGREES,
        Figure::Torque { unit, .. } => index(&TorqueUnit::ALL, unit).unwrap_or(0),
    }
}

pub(super) fn stage_text(figure: Figure) -> (String, u8) {
    let style = countback_core::words::Style::default();
    let text = match figure {
        Figure::Angle { degrees } => degrees.to_string(),
        Figure::Torque { milli, .. } => countback_core::words::thousandths(milli, style),
    };
    (text, unit_of(figure))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use countback_core::view::{At, RowState};
    use countback_core::words::Style;

    use super::super::draft_checks::opened;
    use super::super::plan_checks::log;

    #[test]
    fn the_other_end_waits_for_the_part_that_it_sits_on() {
        let mut book = opened(None);
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
        let draft = loop_.draft();
        assert!(draft.a_here && draft.b_here && draft.logged.b.on.is_none());
    }

    #[test]
    fn all_that_can_be_said_of_a_part_is_logged() {
        let mut book = opened(None);
        let plain = |name: &str| Draft {
            name: name.to_owned(),
            fixings: vec![DraftFixing {
                spec: "clip".to_owned(),
                count: 1,
                ..DraftFixing::default()
            }],
            ..Draft::default()
        };
        let cover = log(&mut book, &plain("cover"));
        let (bag, _) = book.job().containers.iter().next().unwrap();
        let bolts = DraftFixing {
            spec: "bolt | thread=M8 x 1.25 | length=25".to_owned(),
            count: 6,
            slackened: 1,
            inspect: true,
            apart: Some((bag.to_string(), 2)),
            spacers: 2,
            spacer: "spacer | length=12".to_owned(),
            ..DraftFixing::default()
        };
        let mut bolts = bolts;
        bolts.set_washers(1);
        bolts.shims = 1;
        bolts.set_shim(300);
        let mut housing = Draft {
            name: "housing".to_owned(),
            after: vec![cover.to_string()],
            carried: vec!["sender".to_owned()],
            carried_by: Some(cover.to_string()),
            findings: vec!["crack".to_owned()],
            fixings: vec![bolts],
            bag: DraftBag::Bench,
            treatments: vec![DraftTreatment {
                cure_h: 24,
                cure_min: 30,
                open_min: 10,
                ..DraftTreatment::default()
            }],
            ..Draft::default()
        };
        let attached = WHYS.iter().position(|it| *it == Why::Attached).unwrap();
        housing.set_why(&cover.to_string(), attached as u8);
        let id = log(&mut book, &housing);
        let job = book.job();
        let part = job.parts.get(id).unwrap();
        assert_eq!(part.carried_by, Some(cover));
        let first = Target::Part(cover);
        assert_eq!(
            part.after,
            [Need {
                first,
                why: Why::Attached
            }]
        );
        assert!(
            job.parts
                .rows()
                .any(|it| it.name == "sender" && it.carried_by == Some(id))
        );
        assert_eq!(job.findings.rows().next().unwrap().on, Target::Part(id));
        let treatment = &job.treatments.rows().next().unwrap().treatment;
        assert_eq!(
            (treatment.cure_min, treatment.open_min),
            (24 * 60 + 30, Some(10))
        );
        let fixing = job.fixings.get(part.fixings[0]).unwrap();
        assert_eq!(fixing.reuse, Reuse::Inspect);
        let extras: Vec<String> = fixing
            .extras
            .iter()
            .map(|(_, it)| it.spec.label())
            .collect();
        assert_eq!(extras, ["M8 washer", "12 mm spacer", "0.3 mm shim"]);
        let line = job.lines.get(fixing.old).unwrap();
        let lies = (
            line.count(Account::Bench),
            line.count(Account::Container(bag)),
        );
        assert_eq!(lies, (3, 2));
        // More than came out cannot lie apart.
        let mut many = housing.fixings[0].clone();
        many.apart = Some((bag.to_string(), 9));
        assert_eq!(many.draft().unwrap().apart, Some((bag, 5)));
    }
}
