//! What must hold of the advice on any job, however it was worked: numbers add
//! up, answers can be given, nothing is asked of a place that cannot have it.
use countback_checks::bench::*;
use countback_core::audit::{Rule, audit};
use countback_core::find::{Index, JobKey};
use countback_core::guard::resume;
use countback_core::handover::handover;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::permit::{Ask, due_checks, permit};
use countback_core::second::{Pace, hides_unchecked, touch_again};
use proptest::prelude::*;

/// One step of a person at work: a kind and two choices.
type Move = (u8, u8, u8);

const NAMES: [&str; 6] = [
    "brake caliper",
    "water pump",
    "timing cover",
    "fuel rail",
    "road wheel",
    "bracket",
];

fn pick<T: Copy>(all: &[T], n: u8) -> Option<T> {
    all.get(usize::from(n) % all.len().max(1)).copied()
}

/// Makes the move if the job allows it; a refusal changes nothing.
fn make(b: &mut Bench, (kind, one, two): Move) {
    let parts: Vec<PartId> = b.job().parts.ids().collect();
    let fixings: Vec<FixingId> = b.job().fixings.ids().collect();
    let ends: Vec<EndId> = b.job().ends().map(|it| it.0).collect();
    let command = match kind % 16 {
        0 | 1 => {
            let mut off = take_off(NAMES[usize::from(one) % NAMES.len()]);
            let after = pick(&parts, two).filter(|_| one > 120);
            off.part.after = after
                .map(|it| Need {
                    first: Target::Part(it),
                    why: Why::Hides,
                })
                .into_iter()
                .collect();
            let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1"), u16::from(two % 7) + 1);
            draft.detail.safety = one % 2 == 0;
            draft.slackened = u16::from(two % 2);
            if one % 3 == 0 {
                draft.numbers = (1..=draft.count).collect();
            }
            off.fixings.push(draft);
            Some(Command::TakeOff(Box::new(off)))
        }
        2 => pick(&parts, one).map(|part| Command::PlacePart {
            part,
            anyway: two % 2 == 0,
        }),
        3 | 4 => pick(&fixings, one).map(|fixing| Command::Start {
            fixing,
            which: if two % 2 == 0 {
                Thing::All
            } else {
                Thing::Next(u16::from(two % 3) + 1)
            },
            line: None,
            anyway: false,
        }),
        5..=7 => pick(&fixings, one).map(|fixing| Command::Tighten {
            fixing,
            which: if two % 4 == 0 {
                Thing::All
            } else {
                Thing::Next(u16::from(two % 3) + 1)
            },
            to: if two % 5 == 0 {
                Tight::Snug
            } else {
                Tight::Final
            },
            value: None,
        }),
        8 => pick(&fixings, one).map(|fixing| {
            Command::Record(Act::Doubted {
                what: Target::Fixing(fixing),
                places: vec![u16::from(two % 7)],
            })
        }),
        9 => Some(Command::Record(Act::ConnectionLogged(Box::new(
            ConnectionLogged {
                kind: ConnectionKind::Hose,
                name: format!("hose {one}"),
                a: end(pick(&parts, two), "here", one % 2 == 0),
                b: end(None, "there", true),
                route: Vec::new(),
                after: Vec::new(),
                tag: None,
            },
        )))),
        10 => pick(&ends, one).map(|end| Command::Rejoin {
            end,
            seat: end,
            anyway: false,
        }),
        11 => pick(&ends, one).map(|end| Command::Record(Act::EndSecured { end })),
        12 => Some(Command::Record(Act::FluidDrained {
            name: "coolant".to_owned(),
            amount: String::new(),
            bleed: one % 2 == 0,
        })),
        13 => Some(Command::Record(Act::AfterRunOwed {
            what: AfterRunKind::LeakCheck,
            on: Target::Job,
            text: String::new(),
            due: Due {
                heat_cycles: u16::from(one % 2),
                days: u32::from(two % 3),
                ..Due::default()
            },
        })),
        14 => pick(&parts, one).map(|part| Command::TakeOffAgain {
            part,
            aside: two % 2 == 0,
        }),
        _ => Some(if two % 3 == 0 {
            Command::StrikeLast
        } else {
            Command::Record(Act::Ran {
                heat_cycles: u16::from(one % 3),
            })
        }),
    };
    if let Some(command) = command {
        let _ = b.tell(command);
        // A hand is sometimes faster than the bench's minute.
        b.ctx.now -= MINUTE - i64::from(one) * 100;
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_advice_holds_on_any_job(moves in prop::collection::vec(any::<Move>(), 1..60)) {
        let mut b = Bench::default();
        for it in moves {
            make(&mut b, it);
        }
        let (job, now) = (b.job(), b.ctx.now);
        let open = audit(job, now).open;

        let page = handover(job, now);
        let it = &page.parts;
        prop_assert_eq!(it.total, job.parts.len());
        prop_assert_eq!(it.back.len() + it.left() + it.left_off.len(), it.total);
        let loose = |p: &Place| matches!(
            p.state,
            PlaceState::Slackened | PlaceState::Started | PlaceState::Snug | PlaceState::Stage(_)
        );
        let not_tight: usize = job.fixings.rows().map(|f| f.count_where(loose)).sum();
        prop_assert_eq!(page.not_tight as usize, not_tight);
        prop_assert_eq!(page.next.is_none(), countback_core::access::back(job).now().next().is_none());

        let permit = permit(job, now);
        for owed in &permit.turn {
            prop_assert!(permit.crank.contains(owed) && permit.start.contains(owed));
        }
        for ask in Ask::ALL {
            prop_assert!(permit.needs(ask).iter().all(|o| open.contains(o)));
        }
        let ready = open.iter().all(|o| matches!(o.rule, Rule::AfterRun | Rule::SaidTwice));
        prop_assert_eq!(permit.may(Ask::Start).is_ok(), ready);
        let checks = due_checks(job, now);
        prop_assert_eq!(checks.len(), open.iter().filter(|o| o.rule == Rule::AfterRun).count());
        prop_assert!(job.runs.is_empty() || !checks.is_empty() || job.after_runs.rows().all(|a| a.done));

        for again in touch_again(&b.book, Pace::default()) {
            let Target::Fixing(id) = again.what else {
                let Target::End(end) = again.what else { panic!("{:?}", again.what) };
                prop_assert_eq!(job.end(end).unwrap().state, EndState::Secured);
                continue;
            };
            let fixing = job.fixings.get(id).unwrap();
            let final_now = |p: &u16| fixing.places[usize::from(*p)].state == PlaceState::Final;
            prop_assert!(again.places.iter().all(final_now));
        }
        for (part, _) in job.parts.iter() {
            for it in hides_unchecked(job, part) {
                prop_assert!(it.marked || it.critical.is_some());
            }
        }

        let index = Index::of([(JobKey(0), job)]);
        for (part, it) in job.parts.iter() {
            let hits = index.find(&it.name, usize::MAX).hits;
            prop_assert!(hits.iter().any(|h| h.what == Target::Part(part)), "{}", it.name);
        }
    }

    /// What the guard asks can be answered, and once answered is not asked again.
    #[test]
    fn the_guard_asks_what_can_be_answered(
        moves in prop::collection::vec(any::<Move>(), 1..60),
        sure in any::<[bool; 3]>(),
    ) {
        let mut b = Bench::default();
        for it in moves {
            make(&mut b, it);
        }
        let ask = |b: &Bench| resume(&b.book, b.last_act());
        let Some(first) = ask(&b) else { return Ok(()) };
        prop_assert!((1..=3).contains(&first.touch.len()));
        for (touch, sure) in first.touch.into_iter().zip(sure) {
            let answer = touch.answer(sure);
            let told = b.tell(Command::Record(answer.clone()));
            prop_assert!(told.is_ok(), "{answer:?}: {told:?}");
        }
        prop_assert_eq!(ask(&b), None);
    }
}
