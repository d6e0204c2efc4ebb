//! What is said after the first entry: steps listed one by one, what was
//! forgotten, findings of the job, what lies elsewhere. Scenarios are invented.
use countback_checks::bench::*;
use countback_core::access::AtWork;
use countback_core::audit::Rule;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::tag::TagCode;
use countback_core::view::{self, At};
use countback_core::words::Style;

fn here(b: &Bench) -> At {
    At {
        now: b.ctx.now,
        open_since: 0,
        style: Style::default(),
    }
}

/// One step listed leaves the others on offer, each until it is listed.
#[test]
fn make_safe_steps_are_offered_until_each_is_listed() {
    let mut b = Bench::default();
    let offers = |b: &Bench| -> Vec<String> {
        let page = view::job_page(&b.book, here(b));
        page.step_offers.into_iter().map(|s| s.text).collect()
    };
    assert_eq!(offers(&b).len(), 4);
    b.record(Act::SafeStepListed(SafeStep {
        kind: SafeKind::BatteryOff,
        text: "Earth lead off".to_owned(),
    }));
    // In other words, and still the same step.
    assert!(!offers(&b).contains(&"Battery off".to_owned()));
    assert_eq!(offers(&b).len(), 3);
    b.record(Act::SafeStepListed(SafeStep {
        kind: SafeKind::Other,
        text: "Wheels chocked".to_owned(),
    }));
    assert_eq!(offers(&b).len(), 3);
    assert_eq!(b.job().steps.len(), 2);
}

/// A part was logged and put back; then a bolt, a hose and a port turn up that
/// came off with it.
#[test]
fn what_was_forgotten_of_a_part_is_added_to_it_and_owed() {
    let mut b = Bench::default();
    let tray = b.part("tray", &[]);
    let cover = b.part("cover", &[("bolt | thread=M6 x 1", 4)]);
    b.place(tray);
    b.place(cover);
    b.fasten(cover);
    assert!(b.audit().open.is_empty());
    let page = view::add_page(&b.book, &[], cover, b.ctx.device).unwrap();
    let offered: Vec<String> = page.after.into_iter().map(|it| it.id).collect();
    assert_eq!(offered, [tray.to_string()]);
    b.ok(Command::AddFixing {
        parts: vec![cover],
        draft: view::forgotten(spec("bolt | thread=M8 x 1.25"), 3, 2),
        container: ContainerPick::New {
            tag: page.tag.clone(),
            kind: ContainerKind::Bag,
            name: String::new(),
            lies: "shelf".to_owned(),
        },
    });
    let fixing = Target::Fixing(b.fixing(cover, 1));
    let owed = b.audit().open;
    let n = |rule| {
        let of = owed.iter().filter(|o| o.rule == rule && o.on == fixing);
        of.map(|o| o.n).sum::<u32>()
    };
    assert_eq!((n(Rule::StartFasteners), n(Rule::Tighten)), (1, 2));
    // The tag that was given out is not offered again.
    let again = view::add_page(&b.book, &[], cover, b.ctx.device).unwrap();
    assert_ne!(again.tag, page.tag);
    assert_eq!(again.containers.len(), 1);
    // A split pin is used once.
    let pin = view::forgotten(spec("split pin"), 1, 0);
    assert_eq!(pin.reuse, Reuse::Renew);

    let after = |part, first| {
        Command::Record(Act::CameAfter {
            what: Target::Part(part),
            needs: vec![Need {
                first: Target::Part(first),
                why: Why::BlocksReach,
            }],
        })
    };
    b.ok(after(cover, tray));
    assert!(matches!(b.refused(after(tray, cover)), Refusal::Circle(_)));
    let page = view::add_page(&b.book, &[], cover, b.ctx.device).unwrap();
    assert_eq!(page.after, vec![]);
    b.record(Act::OpeningMade {
        name: "coolant port".to_owned(),
        on: None,
        shut_by: Some(cover),
    });
    let page = view::part_page(&b.book, cover, here(&b)).unwrap();
    assert_eq!(page.came_after, ["tray (in the way)"]);
    assert_eq!(page.shuts, ["coolant port"]);
}

/// The other end of a hose is parted a day later: it is owed by itself.
#[test]
fn a_second_end_is_parted_later() {
    let mut b = Bench::default();
    let pump = b.part("pump", &[]);
    let hose = b.connection(
        "hose",
        end(Some(pump), "", true),
        end(None, "tank", false),
        &[],
    );
    let ends = |b: &Bench| -> Vec<Option<&'static str>> {
        let page = view::part_page(&b.book, pump, here(b)).unwrap();
        page.connections[0].ends.iter().map(|e| e.part).collect()
    };
    assert_eq!(ends(&b), [None, Some("Parted too")]);
    let (near, far) = (side(hose, Side::A), side(hose, Side::B));
    b.ok(Command::PartEnd { end: far });
    assert!(b.rules().contains(&(Rule::Rejoin, Target::End(far))));
    b.place(pump);
    b.join(near);
    assert_eq!(ends(&b), [Some("Parted again"), None]);
    assert!(b.rules().contains(&(Rule::Rejoin, Target::End(far))));
    b.join(far);
    assert!(b.audit().open.is_empty());
}

/// Two plugs alike, swapped: refused with whose seat it is, logged all the
/// same, named by the audit, parted and put right.
#[test]
fn an_end_on_the_wrong_seat_is_named_until_it_is_put_right() {
    let mut b = Bench::default();
    let head = b.part("head", &[]);
    let plug = |b: &mut Bench, name: &str| {
        let id = b.connection(
            name,
            end(Some(head), "", true),
            end(None, "loom", false),
            &[],
        );
        side(id, Side::A)
    };
    let (cam, crank) = (plug(&mut b, "cam plug"), plug(&mut b, "crank plug"));
    b.place(head);
    let seats = |b: &Bench, end| -> Vec<EndId> {
        view::other_seats(&b.book, end)
            .into_iter()
            .map(|s| s.0)
            .collect()
    };
    // An undisturbed end sits on its own seat: there is no room on it.
    assert_eq!(seats(&b, cam), [crank]);
    let wrong = |anyway| Command::Rejoin {
        end: cam,
        seat: crank,
        anyway,
    };
    assert_eq!(
        b.refused(wrong(false)),
        Refusal::WrongEnd {
            end: cam,
            seat: crank
        }
    );
    b.ok(wrong(true));
    assert!(b.rules().contains(&(Rule::WrongEnd, Target::End(cam))));
    // The cam plug's own seat is bare meanwhile.
    assert_eq!(seats(&b, crank), [cam]);
    b.ok(Command::PartEnd { end: cam });
    for end in [cam, crank] {
        b.join(end);
    }
    assert_eq!(seats(&b, crank), []);
    assert!(b.audit().open.is_empty());
}

/// A finding that is on no part is decided and settled on the Job page, and
/// its line of the audit says so.
#[test]
fn a_finding_of_the_whole_job_is_settled_on_the_job_page() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[]);
    let found = |b: &mut Bench, on, text: &str| {
        let text = text.to_owned();
        FindingId(b.record(Act::FindingNoted { on, text }).thing(0))
    };
    let frame = found(&mut b, Target::Job, "crack in the frame");
    let hose = found(&mut b, Target::Job, "hose chafed");
    let part = found(&mut b, Target::Part(cover), "bent");
    let rest = |b: &Bench| view::job_rest(&b.book, here(b)).findings;
    let line = |b: &Bench, finding| {
        let page = view::audit_page(&b.book, here(b), &AtWork::default());
        let rows = page.groups.into_iter().flat_map(|g| g.rows);
        let mut of = rows.filter(|r| r.key.on == Target::Finding(finding));
        of.next().map(|r| (r.on_job, r.part))
    };
    assert_eq!(line(&b, frame), Some((true, None)));
    assert_eq!(line(&b, part), Some((false, Some(cover))));
    let ids: Vec<FindingId> = rest(&b).iter().map(|f| f.id).collect();
    assert_eq!(ids, [frame, hose], "the part's own is on its page");
    b.record(Act::Decided {
        finding: frame,
        decision: Decision::Repair,
        reason: String::new(),
    });
    b.record(Act::WorkDone { finding: frame });
    assert_eq!(line(&b, frame), None);
    let order: Vec<(FindingId, bool)> = rest(&b).iter().map(|f| (f.id, f.done)).collect();
    assert_eq!(order, [(hose, false), (frame, true)]);
}

/// A bag was put elsewhere, a line of one's own is on the list, and the job is
/// called something else: each is said from then on.
#[test]
fn what_was_said_at_first_is_put_right() {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    off.fixings = vec![FixingDraft::new(spec("bolt | thread=M6 x 1"), 2)];
    off.container = ContainerPick::New {
        tag: TagCode::from_payload(2075).unwrap().digits(),
        kind: ContainerKind::Bag,
        name: String::new(),
        lies: "bench".to_owned(),
    };
    let cover = b.take_off(off);
    let bag = b.job().containers.ids().next().unwrap();
    b.record(Act::ContainerMoved {
        container: bag,
        lies: "drawer 2".to_owned(),
    });
    let page = view::part_page(&b.book, cover, here(&b)).unwrap();
    assert_eq!(page.containers[0].where_, "drawer 2");

    b.record(Act::BuyListed {
        what: "sealant".to_owned(),
        n: 2,
        on: Target::Job,
    });
    let list = view::to_buy_page(&b.book, here(&b));
    let lines: Vec<(&str, u32)> = list.lines.iter().map(|l| (l.text.as_str(), l.n)).collect();
    assert_eq!(lines, [("sealant", 2)]);

    let mut head = head("Pump and cover");
    head.machine = "tractor".to_owned();
    b.record(Act::JobDescribed(head.clone()));
    let card = view::job_card(&b.book, here(&b));
    assert_eq!(
        (card.title.as_str(), card.machine.as_str()),
        ("Pump and cover", "tractor")
    );
    head.title.clear();
    assert_eq!(
        b.refused(Command::Record(Act::JobDescribed(head))),
        Refusal::NameMissing(Kind::Name)
    );
}

/// A person's own entry of just now is struck unasked; another's, or one that is
/// some time old, is named and asked about; how the job was opened is no entry
/// to strike, and neither is what was signed.
#[test]
fn undo_asks_about_what_is_old_or_anothers() {
    let mut b = Bench::default();
    let undo = |b: &Bench, by: &str| view::undoing(&b.book, by, here(b));
    assert_eq!(undo(&b, "Ann"), None);
    b.part("cover", &[]);
    let mine = undo(&b, " Ann ").unwrap();
    assert_eq!(mine.asks, None);
    assert!(mine.text.starts_with("Off: cover"), "{}", mine.text);
    let made = mine.made(&b.book, here(&b));
    assert!(made.ends_with("Ann"), "{made}");
    assert!(undo(&b, "Bob").unwrap().asks.is_some());
    b.ctx.now += 6 * 60_000;
    assert!(undo(&b, "Ann").unwrap().asks.is_some());
    // What is struck is what was named.
    b.ok(Command::Strike { event: mine.event });
    assert_eq!(b.job().parts.len(), 0);
    assert_eq!(undo(&b, "Ann"), None);
    b.part("guard", &[]);
    let guard = undo(&b, "Ann").unwrap();
    b.ok(Command::Strike { event: guard.event });
    b.ok(Command::SignOff);
    assert_eq!(undo(&b, "Ann"), None);
    b.ok(Command::Run {
        heat_cycles: 0,
        anyway: String::new(),
    });
    assert!(undo(&b, "Ann").is_some());
}

fn bagged(b: &mut Bench, name: &str, tag: &str) -> PartId {
    let mut off = take_off(name);
    off.fixings = vec![FixingDraft::new(spec("bolt | thread=M6 x 1"), 2)];
    off.container = ContainerPick::New {
        tag: tag.to_owned(),
        kind: ContainerKind::Bag,
        name: String::new(),
        lies: "shelf".to_owned(),
    };
    b.take_off(off)
}

/// A bag is looked up by its tag long after all of it went back.
#[test]
fn a_bag_says_what_is_in_it_or_that_it_is_empty() {
    let mut b = Bench::default();
    let cover = bagged(&mut b, "cover", "471227");
    let said = |b: &Bench| view::containers(b.job())[0].said.clone();
    assert_eq!(said(&b), "2 × M6 bolts of cover");
    b.place(cover);
    b.fasten(cover);
    assert_eq!(view::containers(b.job())[0].total, 0);
    assert_eq!(said(&b), "Empty: nothing is booked in it.");
}

/// What is in an example is of nobody's own work, and yet its tags are in use.
#[test]
fn an_example_lends_no_sizes_and_keeps_its_tags() {
    let mut b = Bench::default();
    let cover = b.part("cover", &[]);
    let rare = "bolt | thread=M30 x 3.5 | length=155";
    let lent = |b: &Bench, other: &Bench| {
        let page = view::add_page(&b.book, &[other.job()], cover, b.ctx.device).unwrap();
        let sizes = page.sizes.iter().any(|it| it.spec == spec(rare));
        (sizes, page.tag)
    };
    let (_, free) = lent(&b, &Bench::on(DeviceId(9), "Ann"));
    for (device, lends) in [(DeviceId(9), true), (EXAMPLES[0], false)] {
        let mut other = Bench::on(device, "Ann");
        other.part("gear", &[(rare, 2)]);
        bagged(&mut other, "lid", &free);
        let (sizes, tag) = lent(&b, &other);
        assert_eq!(sizes, lends);
        assert_ne!(tag, free);
        // Nor is what turns up here logged there, or the other way round.
        assert_eq!(b.job().may_share_with(other.job()), lends);
        assert_eq!(other.job().may_share_with(b.job()), lends);
    }
}

/// "Fast" reads as speed: the word fits what holds the end.
#[test]
fn what_is_tapped_at_an_end_fits_what_holds_it() {
    let mut b = Bench::default();
    for (joint, word) in [
        (Joint::Clamped, "Clip tight"),
        (Joint::Clicked, "Clicked"),
        (Joint::PushOn, "Fully on"),
        (Joint::Threaded, "Tight"),
    ] {
        let held = || End {
            joint,
            ..end(None, "rail", true)
        };
        let hose = b.connection(word, held(), held(), &[]);
        assert_eq!(view::secure(&b.book, side(hose, Side::A)), word);
    }
}
