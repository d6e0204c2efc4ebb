//! A cover with bolts of two lengths in turn is one pass over all of them.
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
    lines: [FixingId; 2],
    /// In each line.
    n: u16,
}

/// A cover with long and short bolts in turn, numbered clockwise: the long ones
/// odd. `short` are the stages of the short ones.
fn cover(n: u16, short: &[Figure], numbered: bool) -> Cover {
    let mut b = Bench::default();
    let mut off = take_off("cover");
    for (at, length) in [(0, 45), (1, 20)] {
        let text = format!("bolt | thread=M8 x 1.25 | length={length}");
        let mut draft = FixingDraft::new(spec(&text), n);
        draft.detail.stages = if at == 0 {
            vec![nm(10), nm(20)]
        } else {
            short.to_vec()
        };
        if numbered {
            draft.numbers = (0..n).map(|it| 2 * it + 1 + at).collect();
        }
        off.fixings.push(draft);
    }
    let part = b.take_off(off);
    let lines = [b.fixing(part, 0), b.fixing(part, 1)];
    b.place(part);
    let photo = b.photo(Target::Part(part), (1000, 1000));
    Cover { b, photo, lines, n }
}

impl Cover {
    /// Marks the holes of a line where they lie on the circle.
    fn mark(&mut self, line: usize) {
        for it in 0..self.n {
            let number = 2 * it + 1 + line as u16;
            let turn = f64::from(number - 1) / f64::from(2 * self.n);
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
        pass_page(&self.b.book, self.lines[0], false, &Tools::default(), AT).unwrap()
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
    // By choice.
    let mut it = cover(4, &[nm(10), nm(20)], true);
    it.mark(0);
    it.mark(1);
    let page = pass_page(&it.b.book, it.lines[1], true, &Tools::default(), AT).unwrap();
    assert_eq!((page.id, page.one_pass), (it.lines[1], Some(false)));
    assert_eq!(page.places.len(), 4);
}
