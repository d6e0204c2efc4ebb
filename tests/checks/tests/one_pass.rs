//! A cover with bolts of two or three lengths in turn is one pass over all of
//! them.
//! All figures are invented.
use countback_checks::bench::*;
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::torque::TorqueUnit;
use countback_core::view::*;
use countback_core::words::Style;

const AT: At = At {
    now: START,
    open_since: 0,
    style: Style {
        decimal: '.',
        when: |_| String::new(),
    },
};

fn nm(n: u32) -> Figure {
    let unit = TorqueUnit::NewtonMetre;
    Figure::Torque {
        milli: n * 1000,
        unit,
    }
}

struct Cover {
    b: Bench,
    photo: PhotoId,
    lines: Vec<FixingId>,
    /// In each line.
    n: u16,
}

/// A cover with long and short bolts in turn, numbered clockwise: the long ones
/// odd. `short` are the stages of the short ones.
fn cover(n: u16, short: &[Figure], numbered: bool) -> Cover {
    cover_of(&[45, 20], n, short, numbered)
}

/// The same with so many lengths in turn, the first of which is the long one.
fn cover_of(lengths: &[u16], n: u16, short: &[Figure], numbered: bool) -> Cover {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    let kinds = lengths.len() as u16;
    for (at, length) in (0..).zip(lengths) {
        let text = format!("bolt | thread=M8 x 1.25 | length={length}");
        let mut draft = FixingDraft::new(spec(&text), n);
        draft.detail.stages = if at == 0 {
            vec![nm(10), nm(20)]
        } else {
            short.to_vec()
        };
        if numbered {
            draft.numbers = (0..n).map(|it| kinds * it + 1 + at).collect();
        }
        off.fixings.push(draft);
    }
    let part = b.take_off(off);
    let lines = (0..lengths.len()).map(|at| b.fixing(part, at)).collect();
    b.place(part);
    let photo = b.photo(Target::Part(part), (1000, 1000));
    Cover { b, photo, lines, n }
}

impl Cover {
    /// Marks the holes of a line where they lie on the circle.
    fn mark(&mut self, line: usize) {
        for it in 0..self.n {
            let kinds = self.lines.len() as u16;
            let number = kinds * it + 1 + line as u16;
            let turn = f64::from(number - 1) / f64::from(kinds * self.n);
            let (sin, cos) = (turn * std::f64::consts::TAU).sin_cos();
            self.b.record(Act::MarkSet {
                photo: self.photo,
                number,
                x: (500.0 + 400.0 * sin) as u16,
                y: (500.0 - 400.0 * cos) as u16,
                what: Target::Fixing(self.lines[line]),
            });
        }
    }

    fn page(&self) -> TightenPage {
        pass_page(&self.b.book, self.lines[0], &Tools::default(), AT).unwrap()
    }

    fn tap(&mut self) -> u16 {
        let step = self.page().at(None).unwrap().clone();
        self.b.ok(step.act.unwrap().1);
        step.number
    }
}

#[test]
fn a_ring_of_two_lengths_is_one_pass() {
    for n in [2_u16, 3, 4, 6, 10] {
        let mut it = cover(n, &[nm(10), nm(20)], true);
        it.mark(0);
        it.mark(1);
        let all = 2 * n;
        let page = it.page();
        assert_eq!(page.one_pass, Some(true), "{n}: {}", page.together);
        assert_eq!(page.drawing.discs.len(), usize::from(all));
        // By hand all round, before any is tightened.
        let hand: Vec<u16> = (0..all).map(|_| it.tap()).collect();
        let mut stages = Vec::new();
        for stage in 0..2 {
            assert_eq!(it.page().stage, format!("Stage {} of 2", stage + 1));
            let mut round = Vec::new();
            for turn in 0..all {
                // The page is that of the line whose turn it is, and the phone
                // may die anywhere.
                it.b.book = Book::open(it.b.book.journal().clone());
                let page = it.page();
                let number = page.at(None).unwrap().number;
                assert_eq!(page.id, it.lines[usize::from((number + 1) % 2)]);
                assert_eq!(page.stage, format!("Stage {} of 2", stage + 1));
                assert_eq!(page.n_done, stage * u32::from(all) + u32::from(turn));
                round.push(it.tap());
                // What was tapped is what was logged, of the right line.
                let last = it.b.book.journal().iter().last().unwrap().act.clone();
                let Act::Tightened { fixing, places, .. } = last else {
                    panic!("{last:?}")
                };
                let logged = it.b.job().fixings.get(fixing).unwrap().number(places[0]);
                assert_eq!((places.len(), logged), (1, number));
            }
            stages.push(round);
        }
        assert_eq!(stages[0], stages[1]);
        assert_eq!(stages[0], hand);
        // Opposite follows opposite.
        for pair in stages[0].chunks(2) {
            assert_eq!(pair[0].abs_diff(pair[1]), n, "{:?}", stages[0]);
        }
        let mut each = stages[0].clone();
        each.sort_unstable();
        assert_eq!(each, (1..=all).collect::<Vec<_>>());
        let page = it.page();
        assert!(page.done && page.next.is_none());
        assert_eq!(page.n_done, page.n_all);
    }
}

#[test]
fn a_doubt_holds_the_stage_of_the_other_length_too() {
    let mut it = cover(4, &[nm(10), nm(20)], true);
    it.mark(0);
    it.mark(1);
    for _ in 0..8 {
        it.tap();
    }
    let first = it.tap();
    let page = it.page();
    let step = page.places.iter().find(|p| p.number == first).unwrap();
    it.b.ok(step.doubt.clone().unwrap());
    for _ in 0..7 {
        assert_ne!(it.tap(), first, "it is not gone over unasked");
    }
    let page = it.page();
    assert_eq!(page.stage, "Stage 1 of 2");
    assert_eq!(page.at(None).unwrap().number, first);
    assert!(
        page.doubt.contains(&format!("bolt {first}")),
        "{}",
        page.doubt
    );
    it.tap();
    assert_eq!(it.page().stage, "Stage 2 of 2");
    // Taken back, it is where it was.
    let second = it.tap();
    let last = it.b.last_act();
    it.b.ok(Command::Strike { event: last });
    assert_eq!(it.page().at(None).unwrap().number, second);
}

#[test]
fn what_is_no_ring_is_told_and_goes_by_itself() {
    let said = |it: &Cover| {
        let page = it.page();
        assert_eq!((page.id, page.one_pass), (it.lines[0], None));
        assert_eq!(page.places.len(), usize::from(it.n));
        page.together
    };
    // Another torque.
    let mut it = cover(4, &[nm(25)], true);
    it.mark(0);
    it.mark(1);
    assert!(said(&it).contains("another figure is noted for"));
    // Not all marked.
    let mut it = cover(4, &[nm(10), nm(20)], true);
    it.mark(0);
    assert!(said(&it).contains("marked on one photo"));
    // Two would be called alike.
    let mut it = cover(4, &[nm(10), nm(20)], false);
    it.mark(0);
    it.mark(1);
    assert!(said(&it).contains("all holes numbered"));
}

impl Cover {
    fn ring(&mut self, apart: bool, order: &[(u16, u16)]) {
        let lines = self.lines.clone();
        let order = order.to_vec();
        let ring = Ring {
            lines,
            apart,
            order,
        };
        self.b.record(Act::RingSet(ring));
    }

    fn undone_order(&self) -> Vec<String> {
        let part = self.b.job().fixings.get(self.lines[0]).unwrap().parts[0];
        let told = loosen_again(self.b.job(), part);
        told.into_iter().map(|it| it.said).collect()
    }
}

#[test]
fn each_goes_by_itself_by_choice_and_the_choice_is_kept() {
    let mut it = cover(4, &[nm(10), nm(20)], true);
    it.mark(0);
    it.mark(1);
    it.ring(true, &[]);
    it.b.book = Book::open(it.b.book.journal().clone());
    let alone = |it: &Cover| pass_page(&it.b.book, it.lines[1], &Tools::default(), AT).unwrap();
    let page = alone(&it);
    assert_eq!((page.id, page.one_pass), (it.lines[1], Some(false)));
    assert_eq!(page.places.len(), 4);
    // A choice that can be struck, like any entry.
    let last = it.b.last_act();
    it.b.ok(Command::Strike { event: last });
    assert_eq!(it.page().one_pass, Some(true));
}

#[test]
fn the_makers_order_goes_over_all_lengths_and_needs_no_marks() {
    let mut it = cover_of(&[60, 45, 20], 2, &[nm(10), nm(20)], true);
    assert_eq!(it.page().one_pass, None, "not marked, no order");
    let choice = it.page().ring.unwrap();
    let numbers: Vec<u16> = choice.holes.iter().map(|h| h.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4, 5, 6]);
    assert!(choice.holes[1].has.contains("45"), "{:?}", choice.holes[1]);
    // By hole: 4, 1, 6, 3, 5, 2.
    let maker: Vec<(u16, u16)> = [4, 1, 6, 3, 5, 2].map(|n| choice.holes[n - 1].at).to_vec();
    it.ring(false, &maker);
    let page = it.page();
    assert_eq!(page.one_pass, Some(true), "{}", page.together);
    assert_eq!(page.drawing.said, "The maker's order");
    assert_eq!(page.drawing.order, "4, 1, 6, 3, 5, 2");
    assert_eq!(page.drawing.loosen, "2, 5, 3, 6, 1, 4");
    assert!(page.drawing.discs.is_empty(), "nothing is marked");
    assert_eq!(page.start_rest, "All 2 M8 x 60 bolts started by hand");
    for _ in 0..3 {
        let round: Vec<u16> = (0..6).map(|_| it.tap()).collect();
        assert_eq!(round, [4, 1, 6, 3, 5, 2]);
    }
    assert!(it.page().done);
    // Coming off again it is told over all of them, once.
    let told = it.undone_order();
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].contains("2, 5, 3, 6, 1, 4"), "{told:?}");
    // With the places marked they are drawn with it.
    for line in 0..3 {
        it.mark(line);
    }
    let discs = it.page().drawing.discs;
    assert_eq!(discs.len(), 6);
    assert_eq!((discs[0].number, discs[0].turn), (4, Some(1)));
    // A later order of one line by itself parts them.
    let first = it.lines[0];
    it.b.record(Act::RoundSet(Round {
        fixing: first,
        photo: None,
        points: Vec::new(),
        order: vec![1, 0],
        maker: true,
    }));
    assert_eq!(it.page().one_pass, None);
    assert_eq!(it.undone_order().len(), 0, "two each, and no order of all");
}

#[test]
fn a_ring_that_leaves_out_a_hole_or_is_of_other_parts_is_refused() {
    let mut it = cover(3, &[nm(10), nm(20)], true);
    let other = it.b.part("guard", &[("bolt | thread=M8 x 1.25", 3)]);
    let other = it.b.fixing(other, 0);
    let [a, b] = [it.lines[0], it.lines[1]];
    let short: Vec<(u16, u16)> = vec![(0, 0), (0, 1), (0, 2), (1, 0), (1, 1)];
    let twice: Vec<(u16, u16)> = [short.clone(), vec![(1, 1)]].concat();
    for (lines, order) in [
        (vec![a, b], short),
        (vec![a, b], twice),
        (vec![a, other], vec![]),
        (vec![a, a], vec![]),
        (vec![a], vec![]),
    ] {
        let ring = Ring {
            lines,
            apart: false,
            order,
        };
        let refusal = it.b.refused(Command::Record(Act::RingSet(ring.clone())));
        assert!(
            matches!(refusal, Refusal::BadRound { .. }),
            "{ring:?}: {refusal:?}"
        );
    }
    let nowhere = Ring {
        lines: Vec::new(),
        apart: true,
        order: Vec::new(),
    };
    it.b.refused(Command::Record(Act::RingSet(nowhere)));
}

#[test]
fn a_ring_of_three_lengths_waits_for_the_one_that_broke() {
    let mut it = cover_of(&[60, 45, 20], 3, &[nm(10), nm(20)], true);
    for line in 0..3 {
        it.mark(line);
    }
    assert_eq!(it.page().one_pass, Some(true), "{}", it.page().together);
    let hand: Vec<u16> = (0..9).map(|_| it.tap()).collect();
    for _ in 0..4 {
        it.tap();
    }
    let step = it.page().at(None).unwrap().clone();
    assert_eq!(step.number, hand[4]);
    it.b.ok(step.broke.unwrap());
    // It comes first, on the page of its own line, and its thread is repaired.
    let page = it.page();
    let broken = page.at(None).unwrap();
    let line = usize::from((step.number - 1) % 3);
    assert_eq!((page.id, broken.number), (it.lines[line], step.number));
    assert_eq!(
        (broken.standing, &broken.act),
        (PlaceStanding::Broken, &None)
    );
    assert_eq!(page.stage, "Stage 1 of 2");
    it.b.ok(broken.remedy.clone().unwrap().1);
    // A bolt of that length came new; it is started before anything else.
    it.b.record(Act::StockAdded {
        line: it.b.job().fixings.get(it.lines[line]).unwrap().wants,
        to: Account::Bench,
        n: 1,
    });
    assert_eq!(it.tap(), step.number);
    let mut left: Vec<u16> = (0..5).map(|_| it.tap()).collect();
    left.sort_unstable();
    let mut wanted: Vec<u16> = hand[4..].to_vec();
    wanted.sort_unstable();
    assert_eq!(left, wanted);
    let last: Vec<u16> = (0..9).map(|_| it.tap()).collect();
    assert_eq!(last, hand);
    assert!(it.page().done);
}
