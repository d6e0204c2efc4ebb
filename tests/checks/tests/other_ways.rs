//! Parts that can be got at in several ways, on the way back: held against the
//! definition, tried out over every order of small jobs of chance.
use std::collections::{BTreeMap, BTreeSet};

use countback_checks::bench::*;
use countback_checks::dice::Dice;
use countback_core::access::{self, Pace, Under};
use countback_core::audit::Verdict;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::view::{self, At};
use countback_core::words::Style;

fn behind(parts: &[PartId]) -> Vec<Need> {
    let need = |&p| Need {
        first: Target::Part(p),
        why: Why::BlocksReach,
    };
    parts.iter().map(need).collect()
}

fn at() -> At {
    At {
        now: START,
        open_since: 0,
        style: Style::default(),
    }
}

fn part(b: &mut Bench, name: &str, after: &[PartId]) -> PartId {
    let mut off = take_off(name);
    off.part.after = behind(after);
    b.take_off(off)
}

fn note(b: &mut Bench, part: PartId, way: &[PartId]) {
    b.record(Act::WayNoted {
        what: Target::Part(part),
        needs: behind(way),
    });
}

fn place(part: PartId) -> Command {
    Command::PlacePart {
        part,
        anyway: false,
    }
}

fn now(b: &Bench) -> BTreeSet<PartId> {
    let back = access::back(b.job());
    let parts = back.now().filter_map(|a| match a.what {
        Target::Part(id) => Some(id),
        _ => None,
    });
    parts.collect()
}

/// Off by way of A and B, and C alone would do as well: with C off, A and B may
/// go back first; then C is the last way, and waits.
#[test]
fn a_and_b_may_go_back_while_c_alone_is_off() {
    let mut b = Bench::default();
    let [a, cover, c] = ["A", "B", "C"].map(|name| part(&mut b, name, &[]));
    let pump = part(&mut b, "pump", &[a, cover]);
    assert_eq!(now(&b), BTreeSet::from([c, pump]));
    let blocked = b.refused(place(a));
    assert!(matches!(blocked, Refusal::WouldBury { .. }), "{blocked:?}");

    note(&mut b, pump, &[c]);
    assert_eq!(now(&b), BTreeSet::from([a, cover, c, pump]));
    let still = Under::of(b.job()).still_open(Target::Part(a));
    assert_eq!(still, [(pump, vec![Target::Part(c)])]);
    // In the order that is proposed the pump still goes first.
    let back = access::back(b.job());
    let order = access::handy(b.job(), &back, &Pace::of(&b.book, &b.at_work())).order;
    assert_eq!(order[0], Target::Part(pump));

    // The screens say by what it stays within reach.
    let says = "pump can still be reached: C is off.";
    assert_eq!(view::hides(&b.book, a, &b.at_work()).still, says);
    let page = view::put_back_page(&b.book, at(), &b.at_work());
    let rows: Vec<_> = page.now.iter().flat_map(|g| &g.rows).collect();
    let row = rows.iter().find(|r| r.what == Target::Part(a)).unwrap();
    assert!(row.note.ends_with(says), "{}", row.note);

    b.ok(place(a));
    assert!(b.job().parts.get(a).unwrap().buried.is_empty());
    // The recorded way is shut: B is in nobody's way any more, C is.
    assert_eq!(now(&b), BTreeSet::from([cover, pump]));
    let Refusal::WouldBury { owed, .. } = b.refused(place(c)) else {
        panic!("the last way was shut without a word");
    };
    assert_eq!(owed, [Target::Part(pump)]);
    b.ok(place(pump));
    b.ok(place(c));
    b.ok(place(cover));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// What lies under the part itself is no way to it, though it is off.
#[test]
fn a_way_that_has_to_be_back_first_is_none() {
    let mut b = Bench::default();
    let a = part(&mut b, "A", &[]);
    let pump = part(&mut b, "pump", &[a]);
    let under = part(&mut b, "under", &[pump]);
    note(&mut b, pump, &[under]);
    assert_eq!(now(&b), BTreeSet::from([under]));
    b.ok(place(under));
    assert_eq!(now(&b), BTreeSet::from([pump]));
}

/// A part that is on and not fast is reached as it was when off.
#[test]
fn a_part_on_and_not_fast_keeps_a_way_open() {
    let mut b = Bench::default();
    let a = part(&mut b, "A", &[]);
    let c = part(&mut b, "C", &[]);
    let mut off = take_off("pump");
    off.part.after = behind(&[a]);
    off.fixings
        .push(FixingDraft::new(spec("bolt | thread=M8 x 1.25"), 2));
    let pump = b.take_off(off);
    note(&mut b, pump, &[c]);
    b.ok(place(pump));
    b.ok(place(a));
    let Refusal::WouldBury { owed, .. } = b.refused(place(c)) else {
        panic!("its bolts are buried");
    };
    let fixing = b.job().parts.get(pump).unwrap().fixings[0];
    assert_eq!(owed, [Target::Fixing(fixing)]);
    b.fasten(pump);
    b.ok(place(c));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// Where the other way led past the part's own nuts, as what stays off for good
/// came off after them, doing them up is not what shuts it.
#[test]
fn its_own_nuts_are_not_in_the_way_of_a_part() {
    let mut b = Bench::default();
    let [a, c] = ["A", "C"].map(|name| part(&mut b, name, &[]));
    let mut off = take_off("cap");
    off.part.after = behind(&[a]);
    for kind in ["nut | thread=M8 x 1.25", "bolt | thread=M6 x 1"] {
        off.fixings.push(FixingDraft::new(spec(kind), 1));
    }
    let cap = b.take_off(off);
    let own = [0, 1].map(|n| Target::Fixing(b.fixing(cap, n)));
    let pump = b.part_after("pump", &[], &[Target::Part(c), own[0], own[1]]);
    note(&mut b, cap, &[pump]);
    b.ok(Command::LeaveOff {
        what: Target::Part(pump),
        reason: "not needed any more".to_owned(),
    });
    b.ok(place(cap));
    b.ok(place(a));
    assert_eq!(now(&b), BTreeSet::from([cap]));
    let Refusal::WouldBury { owed, .. } = b.refused(place(c)) else {
        panic!("the nuts are buried");
    };
    assert_eq!(owed, own);
    b.fasten(cap);
    b.ok(place(c));
    assert_eq!(b.audit().verdict, Verdict::Complete);
}

/// A job of chance: parts, what each came off after, other ways.
struct Small {
    bench: Bench,
    parts: Vec<PartId>,
    /// All ways to each, as bits.
    ways: Vec<Vec<u32>>,
}

fn small(dice: &mut Dice) -> Small {
    let mut bench = Bench::default();
    let n = dice.from_to(2, 7);
    let mut parts: Vec<PartId> = Vec::new();
    let mut ways = Vec::new();
    let draw = |dice: &mut Dice, among: usize| {
        let mut bits = 0_u32;
        for _ in 0..dice.below(3) {
            if among > 0 {
                bits |= 1 << dice.below(among);
            }
        }
        bits
    };
    for at in 0..n {
        let after = draw(dice, at);
        let named: Vec<PartId> = (0..at)
            .filter(|b| after >> b & 1 == 1)
            .map(|b| parts[b])
            .collect();
        parts.push(part(&mut bench, &format!("part {at}"), &named));
        ways.push(vec![after]);
    }
    for at in 0..n {
        while dice.once_in(3) {
            let way = draw(dice, n);
            let named: Vec<PartId> = (0..n)
                .filter(|b| way >> b & 1 == 1)
                .map(|b| parts[b])
                .collect();
            if !named.is_empty() {
                note(&mut bench, parts[at], &named);
                // What needs itself off is no way.
                if way >> at & 1 == 0 {
                    ways[at].push(way);
                }
            }
        }
    }
    Small { bench, parts, ways }
}

impl Small {
    /// All that is off can go back, each while a way to it is wholly off.
    fn can(&self, off: u32, known: &mut BTreeMap<u32, bool>) -> bool {
        if off == 0 {
            return true;
        }
        if let Some(&known) = known.get(&off) {
            return known;
        }
        let can = (0..self.parts.len()).any(|p| self.may(off, p, known));
        known.insert(off, can);
        can
    }
    /// This one may go back now, and all the others still can after it.
    fn may(&self, off: u32, p: usize, known: &mut BTreeMap<u32, bool>) -> bool {
        let reached = |way: &u32| way & !off == 0;
        off >> p & 1 == 1 && self.ways[p].iter().any(reached) && self.can(off & !(1 << p), known)
    }
}

/// What may go back is what the definition says, at every step of any order,
/// and the rest is refused; any such order ends with nothing owed.
#[test]
fn what_may_go_back_is_what_trying_every_order_finds() {
    let (mut freed, mut held) = (0, 0);
    for seed in 0..4_000 {
        let mut dice = Dice::new(seed);
        let mut it = small(&mut dice);
        let mut known = BTreeMap::new();
        let n = it.parts.len();
        let mut off = (1_u32 << n) - 1;
        assert!(it.can(off, &mut known), "{seed}");
        while off != 0 {
            let may: Vec<usize> = (0..n).filter(|&p| it.may(off, p, &mut known)).collect();
            let wanted: BTreeSet<PartId> = may.iter().map(|&p| it.parts[p]).collect();
            assert_eq!(now(&it.bench), wanted, "{seed} {off:b} {:?}", it.ways);
            let back = access::back(it.bench.job());
            assert_eq!(back.circle, [], "{seed}");
            // The order that is proposed can be kept to.
            let mut left = off;
            for act in &back.acts {
                let p = it
                    .parts
                    .iter()
                    .position(|&p| Target::Part(p) == act.what)
                    .unwrap();
                assert!(it.may(left, p, &mut known), "{seed}: {:?}", back.acts);
                left &= !(1 << p);
            }
            let order = access::handy(
                it.bench.job(),
                &back,
                &Pace::of(&it.bench.book, &it.bench.at_work()),
            )
            .order;
            assert_eq!(order.len(), back.acts.len(), "{seed}");
            let mut left = off;
            for what in order {
                let p = it
                    .parts
                    .iter()
                    .position(|&p| Target::Part(p) == what)
                    .unwrap();
                assert!(it.may(left, p, &mut known), "{seed}");
                left &= !(1 << p);
            }
            let under = Under::of(it.bench.job());
            for p in (0..n).filter(|p| off >> p & 1 == 1) {
                let recorded = |x: usize| off >> x & 1 == 1 && it.ways[x][0] >> p & 1 == 1;
                let in_the_way = (0..n).any(|x| x != p && recorded(x));
                if may.contains(&p) {
                    freed += u32::from(in_the_way);
                    for (x, way) in under.still_open(Target::Part(it.parts[p])) {
                        let x = it.parts.iter().position(|&p| p == x).unwrap();
                        let bits = way.iter().fold(0, |bits, w| {
                            bits | 1
                                << it
                                    .parts
                                    .iter()
                                    .position(|&p| Target::Part(p) == *w)
                                    .unwrap()
                        });
                        assert!(
                            bits & !(off & !(1 << p)) == 0 && off >> x & 1 == 1,
                            "{seed}"
                        );
                    }
                } else {
                    held += u32::from(!in_the_way);
                    let refusal = it.bench.refused(place(it.parts[p]));
                    assert!(matches!(refusal, Refusal::WouldBury { .. }), "{seed}");
                }
            }
            let p = *dice.pick(&may).unwrap();
            it.bench.ok(place(it.parts[p]));
            off &= !(1 << p);
        }
        let audit = it.bench.audit();
        assert_eq!(audit.open, [], "{seed}");
    }
    // The cases are worth something.
    assert!(freed > 500 && held > 100, "{freed} {held}");
}
