//! Words that were logged wrong are put right later, places stay empty by
//! decision, and an old seal keeps its reason. Scenarios are invented; what has
//! to follow is `common practice, no source`.
use countback_checks::bench::*;
use countback_core::audit::{Rule, Verdict};
use countback_core::caution;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::tag::TagCode;
use countback_core::view::{self, Word, WordRow};
use countback_core::words::{self, Style};

fn row(b: &Bench, about: Target, what: Target, word: Word) -> WordRow {
    let rows = view::words_of(b.job(), about);
    let mut found = rows
        .into_iter()
        .filter(|r| (r.what, r.word) == (what, word));
    found.next().expect("the word is offered")
}

fn typed(b: &mut Bench, about: Target, what: Target, word: Word, text: &str) {
    let row = row(b, about, what, word);
    let command = view::put_right(b.job(), &row, text).expect("it is read");
    b.ok(command);
}

/// Everything that hangs on a part has its words there, each is kept, and the
/// others stay as they were.
#[test]
fn every_word_of_a_part_can_be_put_right() {
    let mut b = Bench::default();
    let cover = b.part("cuver", &[("bolt | thread=M6 x 1", 3)]);
    let fixing = b.fixing(cover, 0);
    let hose = b.connection(
        "bleed hose",
        end(Some(cover), "cover", true),
        end(None, "", false),
        &[],
    );
    let gasket = b.record(Act::ItemRemoved(ItemRemoved {
        kind: ItemKind::Gasket,
        name: "gaskit".to_owned(),
        size: "100".to_owned(),
        count: 1,
        on: Target::Part(cover),
    }));
    let gasket = Target::Item(ItemId(gasket.thing(0)));
    let about = Target::Part(cover);
    let hole = Target::Fixing(fixing);
    for (what, word, text) in [
        (about, Word::Name, "cover"),
        (about, Word::Lies, "shelf 2"),
        (about, Word::Note, "heavy"),
        (hole, Word::Name, "upper"),
        (hole, Word::Numbers, "4; 7  9"),
        (hole, Word::Watch, "spring under it"),
        (hole, Word::Tool, "10 mm ring"),
        (Target::Connection(hose), Word::Name, "vent hose"),
        (Target::End(side(hose, Side::B)), Word::Name, "tank"),
        (gasket, Word::Name, "gasket"),
    ] {
        typed(&mut b, about, what, word, text);
        let now = row(&b, about, what, word).now;
        let text = if word == Word::Numbers {
            "4, 7, 9"
        } else {
            text
        };
        assert_eq!(now, text);
    }
    let it = b.job().fixings.get(fixing).unwrap();
    assert_eq!(it.numbers, [4, 7, 9]);
    assert_eq!(it.detail.watch, "spring under it");
    assert_eq!(b.job().parts.get(cover).unwrap().name, "cover");
    // Struck, it is called as before.
    b.ok(Command::StrikeLast);
    assert_eq!(row(&b, about, gasket, Word::Name).now, "gaskit");
}

/// What is of no part has its words on the page of the job.
#[test]
fn what_is_of_no_part_can_be_put_right() {
    let mut b = Bench::default();
    b.part("sump", &[("bolt | thread=M6 x 1", 3)]);
    let oil = b.record(Act::FluidDrained {
        name: "oyl".to_owned(),
        amount: String::new(),
        bleed: false,
    });
    let oil = Target::Fluid(FluidId(oil.thing(0)));
    typed(&mut b, Target::Job, oil, Word::Name, "oil");
    assert_eq!(row(&b, Target::Job, oil, Word::Name).now, "oil");
}

/// Numbers that do not fit are refused with what is wrong; nothing is dropped.
#[test]
fn numbers_of_holes_are_read_or_refused() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 3)]);
    let what = Target::Fixing(b.fixing(cover, 0));
    let row = row(&b, what, what, Word::Numbers);
    for bad in ["1-3", "1, 2, x", "0 1 2", "70000, 1, 2", "3, 3, 4"] {
        assert!(view::put_right(b.job(), &row, bad).is_err(), "{bad}");
    }
    let two = view::put_right(b.job(), &row, "1, 2").unwrap();
    assert_eq!(
        b.refused(two),
        Refusal::CountsDoNotFit {
            touched: 3,
            accounted: 2
        }
    );
    // None: counted by their turn.
    let none = view::put_right(b.job(), &row, "").unwrap();
    b.ok(none);
}

/// A name that is put right can say of a thing that it is dangerous.
#[test]
fn a_name_that_is_put_right_brings_its_caution() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[]);
    let what = Target::Part(pump);
    let row = row(&b, what, what, Word::Name);
    let command = view::put_right(b.job(), &row, "fuel pump").unwrap();
    assert_eq!(caution::before(&command, b.job()), [Hazard::Fuel]);
    assert_eq!(
        b.refused(view::put_right(b.job(), &row, "  ").unwrap()),
        Refusal::NameMissing(Kind::Part)
    );
}

/// One of four places stays empty: its bolt is counted as left off, the other
/// three are owed, and the audit is empty once they are final.
#[test]
fn one_place_stays_empty_by_decision() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 4)]);
    let fixing = b.fixing(cover, 0);
    let leave = |places: &[u16], reason: &str| Command::LeaveEmpty {
        fixing,
        places: places.to_vec(),
        reason: reason.to_owned(),
    };
    assert_eq!(b.refused(leave(&[2], " ")), Refusal::ReasonMissing);
    assert_eq!(b.refused(leave(&[], "no hole")), Refusal::CountZero);
    b.ok(leave(&[2], "no hole in the new one"));
    let it = b.job().fixings.get(fixing).unwrap();
    assert_eq!(it.wanted(), 3);
    let line = b.job().lines.get(it.wants).unwrap();
    assert_eq!((line.count(Account::LeftOff), line.loose()), (1, 3));
    assert!(matches!(
        b.refused(leave(&[2], "again")),
        Refusal::PlaceIs { place: 2, .. }
    ));
    b.place(cover);
    b.fasten(cover);
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// The reason for an old seal is in the entry that fits it: struck, both go.
#[test]
fn an_old_one_for_now_keeps_its_reason_in_one_entry() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[]);
    let gasket = b.record(Act::ItemRemoved(ItemRemoved {
        kind: ItemKind::Gasket,
        name: "gasket".to_owned(),
        size: String::new(),
        count: 1,
        on: Target::Part(cover),
    }));
    let item = ItemId(gasket.thing(0));
    let before = b.job().notes.rows().count();
    b.record(Act::ItemFitted {
        item,
        n: 1,
        old: true,
        reason: "no new one to hand".to_owned(),
    });
    let last = b.book.journal().iter().last().unwrap();
    let said = words::act(b.job(), last, Style::default());
    assert!(said.ends_with("(no new one to hand)"), "{said}");
    assert!(b.rules().contains(&(Rule::OldItemIn, Target::Item(item))));
    b.ok(Command::StrikeLast);
    assert_eq!(b.job().notes.rows().count(), before);
    assert!(!b.rules().contains(&(Rule::OldItemIn, Target::Item(item))));
}

/// The usual order: the bolt comes out, the alternator is logged with it, and
/// only then does the bracket come away. It is one bolt for two parts from then
/// on, and not final while the bracket is off.
#[test]
fn a_bolt_turns_out_to_hold_another_part() {
    let mut b = Bench::default();
    let alternator = b.part("alternator", &[("bolt | thread=M8 x 1.25 | length=70", 1)]);
    let fixing = b.fixing(alternator, 0);
    let bracket = b.part("hose bracket", &[]);
    let also = Command::Record(Act::AlsoHolds {
        fixing,
        part: bracket,
    });
    b.ok(also.clone());
    assert_eq!(b.refused(also), Refusal::AlreadySo(Target::Fixing(fixing)));
    let page = view::part_page(&b.book, bracket, at(&b)).unwrap();
    assert_eq!(page.fixings.len(), 1);
    b.place(alternator);
    b.ok(Command::Start {
        fixing,
        which: Thing::All,
        line: None,
        anyway: false,
    });
    assert!(matches!(
        b.refused(Command::Tighten {
            fixing,
            which: Thing::All,
            to: Tight::Final,
            value: None
        }),
        Refusal::StackIncomplete { part, .. } if part == bracket
    ));
    assert!(
        b.rules()
            .contains(&(Rule::PlacePart, Target::Part(bracket)))
    );
    assert_eq!(b.job().lines.rows().filter(|l| l.declared == 1).count(), 3);
}

/// A hose was pulled before the arm that it runs behind came off; said later,
/// the arm does not go back as if the hose were free.
#[test]
fn a_hose_turns_out_to_run_behind_a_part() {
    let mut b = Bench::default();
    let hose = b.connection(
        "overflow hose",
        end(None, "tank", true),
        end(None, "pump", false),
        &[],
    );
    let arm = b.part("support arm", &[("bolt | thread=M8 x 1.25", 2)]);
    let route = Route {
        kind: RouteKind::Behind,
        part: Some(arm),
        text: String::new(),
    };
    let said = b.record(Act::Routed {
        connection: hose,
        route,
    });
    let log = b.book.journal();
    let event = log.iter().find(|e| e.id == said).unwrap();
    assert_eq!(
        words::act(b.job(), event, Style::default()),
        "overflow hose runs behind support arm"
    );
    let Refusal::WouldBury { owed, .. } = b.refused(Command::PlacePart {
        part: arm,
        anyway: false,
    }) else {
        panic!("the hose is open");
    };
    assert_eq!(owed, [Target::Connection(hose)]);
    b.join(side(hose, Side::A));
    b.place(arm);
}

/// A hose is parted, then a guard comes off, and a bracket that its own bolt
/// clamps together with the guard. The hose turns out to run behind the guard:
/// with the bracket back, that bolt waits for the guard and the guard for the
/// hose, so the hose does not wait for the bolt.
#[test]
fn a_hose_does_not_wait_for_what_clamps_its_cover() {
    let mut b = Bench::default();
    let hose = b.connection(
        "drain hose",
        end(None, "tank", true),
        end(None, "pump", false),
        &[],
    );
    let joint = side(hose, Side::A);
    let guard = b.part("guard", &[]);
    let mut off = take_off("bracket");
    let mut bolt = FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 1);
    bolt.also = vec![guard];
    off.fixings = vec![bolt];
    off.part.after = vec![Need {
        first: Target::End(joint),
        why: Why::BlocksReach,
    }];
    let bracket = b.take_off(off);
    b.record(Act::Routed {
        connection: hose,
        route: Route {
            kind: RouteKind::Through,
            part: Some(guard),
            text: String::new(),
        },
    });
    b.ok(Command::PlacePart {
        part: bracket,
        anyway: true,
    });
    assert!(!b.audit().has(Rule::Circle), "{:?}", b.rules());
    b.join(joint);
    b.place(guard);
    b.fasten(bracket);
    assert_eq!(b.audit().open, []);
}

/// Bags migrate: what lay on the bench is bagged the next day, and two of it go
/// into another one.
#[test]
fn fasteners_go_into_another_bag() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 4)]);
    let fixing = b.fixing(cover, 0);
    let line = b.job().fixings.get(fixing).unwrap().wants;
    let tag = |n| TagCode::from_payload(n).unwrap().digits();
    let bag = |from, n, to| Command::Bag {
        from,
        lines: vec![(line, n)],
        to,
    };
    let new = |n| ContainerPick::New {
        tag: tag(n),
        kind: ContainerKind::Bag,
        name: String::new(),
        lies: "shelf".to_owned(),
    };
    b.ok(bag(Account::Bench, 4, new(31)));
    let first = b.job().containers.ids().next().unwrap();
    let first = Account::Container(first);
    assert!(matches!(
        b.refused(bag(first, 5, ContainerPick::Bench)),
        Refusal::NotThere { there: 4, .. }
    ));
    b.ok(bag(first, 2, new(32)));
    let page = view::part_page(&b.book, cover, at(&b)).unwrap();
    let shares: Vec<(&str, u32)> = page
        .containers
        .iter()
        .map(|c| (c.tag.as_str(), c.n))
        .collect();
    assert_eq!(shares, [(tag(31).as_str(), 2), (tag(32).as_str(), 2)]);
    assert!(matches!(
        b.refused(bag(
            first,
            2,
            ContainerPick::Have(match first {
                Account::Container(id) => id,
                _ => unreachable!(),
            })
        )),
        Refusal::AlreadySo(_)
    ));
}

fn at(b: &Bench) -> view::At {
    view::At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    }
}

/// A photo of the whole, from before anything was touched, has a page of its
/// own, and a mark on it points at any part; one of a fixing is on its part's
/// page too, and its marks are numbered as the holes are.
#[test]
fn photos_are_of_the_whole_and_of_fixings_too() {
    let mut b = Bench::default();
    let photo = |b: &mut Bench, on| {
        let id = b.record(Act::PhotoTaken(PhotoTaken {
            hash: "ab".repeat(32),
            thumb: String::new(),
            width: 100,
            height: 80,
            on: vec![on],
            caption: String::new(),
        }));
        PhotoId(id.thing(0))
    };
    let whole = photo(&mut b, Target::Job);
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 3)]);
    let fixing = b.fixing(cover, 0);
    let what = Target::Fixing(fixing);
    let close = photo(&mut b, what);
    let page = view::photo_page(b.job(), whole, at(&b)).unwrap();
    assert_eq!((page.part, page.targets[0].0), (None, Target::Part(cover)));
    let all: Vec<PhotoId> = view::photos_of_all(b.job(), at(&b))
        .iter()
        .map(|p| p.id)
        .collect();
    assert_eq!(all, [whole]);
    let page = view::photo_page(b.job(), close, at(&b)).unwrap();
    assert_eq!(page.part, Some(cover));
    let part = view::part_page(&b.book, cover, at(&b)).unwrap();
    assert_eq!(part.photos.len(), 1);
    b.record(Act::Numbered {
        fixing,
        numbers: vec![3, 7, 9],
    });
    for wanted in [3, 7, 9, 10] {
        let number = view::mark_number(b.job(), close, what);
        assert_eq!(number, wanted);
        b.record(Act::MarkSet {
            photo: close,
            number,
            x: 100 * wanted,
            y: 500,
            what,
        });
    }
}

/// A plug had to be out before the pump came off: it is named among what was off
/// first, and goes back after the pump.
#[test]
fn a_plug_can_be_what_had_to_be_off_first() {
    let mut b = Bench::default();
    let plug = b.connection(
        "sensor plug",
        end(None, "loom", true),
        end(None, "block", false),
        &[],
    );
    let chips = view::chips(&b.book, &[]);
    let [choice] = chips.first_off.as_slice() else {
        panic!("{:?}", chips.first_off);
    };
    assert_eq!(choice.name, "sensor plug");
    let first = view::needed(&choice.id).unwrap();
    assert_eq!(first, Target::Connection(plug));
    let pump = b.part_after("pump", &[("bolt | thread=M6 x 1", 2)], &[first]);
    let back = countback_core::access::back(b.job());
    let order: Vec<Target> = back.acts.iter().map(|a| a.what).collect();
    assert_eq!(
        order,
        [Target::Part(pump), Target::End(side(plug, Side::A))]
    );
    // Of what is already said, nothing is offered again.
    let device = b.ctx.device;
    let page = view::add_page(&b.book, &[], pump, device).unwrap();
    assert!(page.after.is_empty(), "{:?}", page.after);
}

/// Four nuts were logged without their washers, which lie in the bag with them.
/// Said later, each place wants its own; what was only slackened has it still.
#[test]
fn washers_that_were_forgotten_are_owed_at_each_place() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("nut | thread=M8 x 1.25", 4)]);
    let fixing = b.fixing(cover, 0);
    let page = view::fixing_page(&b.book, fixing, at(&b)).unwrap();
    assert_eq!((page.more.under, page.more.filled), (0, 0));
    let washer = view::came_with(
        countback_core::fastener::FastenerKind::Washer,
        page.spec.thread,
    );
    let added = |under: u16, per_place: u8| {
        Command::Record(Act::ExtraAdded {
            fixing,
            extra: Extra {
                spec: washer.clone(),
                per_place,
            },
            under,
            to: page.more.to,
        })
    };
    assert_eq!(b.refused(added(1, 1)), Refusal::CountTooLarge { most: 0 });
    assert_eq!(b.refused(added(0, 0)), Refusal::CountZero);
    b.ok(added(0, 2));
    let line = b.job().fixings.get(fixing).unwrap().extras[0].0;
    let row = b.job().lines.get(line).unwrap();
    assert_eq!((row.declared, row.loose()), (8, 8));
    assert_eq!(row.count(page.more.to), 8);
    b.place(cover);
    let next = |b: &Bench| view::fixing_row(b.job(), fixing, None, at(b)).unwrap().next;
    assert_eq!(next(&b), view::NextAct::FitExtras);
    b.ok(Command::FitExtras { fixing });
    assert_eq!(next(&b), view::NextAct::Start { n: 4 });
    // Struck, last first: nothing of it is left.
    for _ in 0..3 {
        b.ok(Command::StrikeLast);
    }
    assert!(b.job().fixings.get(fixing).unwrap().extras.is_empty());
    assert!(b.job().lines.get(line).is_none());
}

/// Two of four washers rolled away: they are to be bought, two bolts can be
/// started meanwhile, and the other two wait for the washers by name.
#[test]
fn lost_washers_are_bought_and_waited_for() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 4)]);
    let fixing = b.fixing(cover, 0);
    b.record(Act::ExtraAdded {
        fixing,
        extra: Extra {
            spec: "washer | thread=M6 x 1".parse().unwrap(),
            per_place: 1,
        },
        under: 0,
        to: Account::Bench,
    });
    let line = b.job().fixings.get(fixing).unwrap().extras[0].0;
    b.ok(Command::Recount {
        account: Account::Bench,
        line,
        found: 2,
        reason: String::new(),
    });
    let want = Want::Extra(line);
    let buy = |b: &Bench| -> Vec<(Want, u32, u32)> {
        let all = b.job().to_buy().into_iter();
        all.map(|l| (l.want, l.n, l.on_order)).collect()
    };
    assert_eq!(buy(&b), [(want, 2, 0)]);
    let page = view::to_buy_page(&b.book, at(&b));
    assert_eq!(page.lines[0].text, "M6 washer");
    assert_eq!(page.lines[0].for_, ["2 for cover"]);
    b.place(cover);
    b.ok(Command::FitExtras { fixing });
    let next = |b: &Bench| view::fixing_row(b.job(), fixing, None, at(b)).unwrap().next;
    assert_eq!(next(&b), view::NextAct::Start { n: 2 });
    b.ok(Command::Start {
        fixing,
        which: Thing::Next(2),
        line: None,
        anyway: false,
    });
    let text = "2 washers are not to hand".to_owned();
    assert_eq!(next(&b), view::NextAct::Wait { text });
    b.record(Act::Ordered { want, n: 2 });
    assert_eq!(buy(&b), [(want, 2, 2)]);
    b.record(Act::Arrived { want, n: 2 });
    assert_eq!(buy(&b), []);
    b.ok(Command::FitExtras { fixing });
    assert_eq!(next(&b), view::NextAct::Start { n: 2 });
}

/// A procedure is followed from the middle of a job: what is off is not asked
/// for again, its make-safe steps come in once, and no place that was opened is
/// lost. Numbers of holes and washers are in it.
#[test]
fn a_procedure_is_followed_from_the_middle_of_a_job() {
    let mut old = Bench::default();
    old.record(Act::SafeStepListed(SafeStep {
        kind: SafeKind::BatteryOff,
        text: "negative first".to_owned(),
    }));
    let mut draft = FixingDraft::new(spec("bolt | thread=M6 x 1 | length=20"), 2);
    draft.numbers = vec![3, 7];
    draft.extras = vec![Extra {
        spec: spec("washer | thread=M6 x 1"),
        per_place: 1,
    }];
    let mut off = take_off("cover");
    off.fixings = vec![draft];
    old.take_off(off);
    old.part("pump", &[("nut | thread=M8 x 1.25", 4)]);
    let plan = countback_core::procedure::procedure_from_job(old.job());
    let text = countback_core::procedure::procedure_to_json(&plan);
    let plan = countback_core::procedure::procedure_from_json(&text).unwrap();
    let planned = &plan.parts[0].fixings[0];
    assert_eq!(planned.numbers, [3, 7]);
    assert_eq!(planned.extras[0].spec.label(), "M6 washer");

    let mut b = Bench::default();
    let cover = b.part("Cover", &[("bolt | thread=M6 x 1", 2)]);
    let before = b.job().fixings.len();
    b.record(Act::ProcedureAttached(plan.clone()));
    b.record(Act::ProcedureAttached(plan));
    assert_eq!(b.job().fixings.len(), before);
    assert_eq!(b.job().parts.get(cover).unwrap().state, PartState::Off);
    assert_eq!(b.job().steps.len(), 1);
    let offered = |b: &Bench| -> Vec<String> {
        let planned = view::chips(&b.book, &[]).planned.into_iter();
        planned.map(|p| p.name).collect()
    };
    assert_eq!(offered(&b), ["pump"]);
    // What was off before stands for what has to be off first, and is not on.
    let known = countback_core::procedure::known_parts(b.job());
    assert_eq!(known, [(cover, Some("cover"))]);
    let still_on = view::way_in_page(&b.book, at(&b)).swap_remove(0);
    assert_eq!(still_on.title, "From the procedure, still on");
    let still_on = still_on.rows.into_iter().map(|row| row.name);
    assert_eq!(still_on.collect::<Vec<_>>(), ["pump"]);
    // Under another procedure with keys of its own, and two parts of one name.
    let mut other = old.job().procedure.clone().unwrap_or_default();
    for (key, name) in [("front-cover", "cover"), ("a", "bracket"), ("b", "bracket")] {
        other.parts.push(countback_core::procedure::PlannedPart {
            key: key.to_owned(),
            name: name.to_owned(),
            ..Default::default()
        });
    }
    b.part("bracket", &[]);
    b.record(Act::ProcedureAttached(other));
    assert_eq!(offered(&b), ["bracket"]);
}
