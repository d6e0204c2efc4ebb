//! The job as a drawing: every part a box, from the outermost at the top to
//! what lies deepest, with how it stands in word, sign and edge, and lines from
//! what came off first to what came off after it. Plain geometry in CSS pixels
//! at full size.
use super::At;
use crate::access::{self, Goal, Stand, picture};
use crate::audit::{Rule, audit};
use crate::job::{Book, Job, PartState};
use crate::journal::*;
use crate::words::{self, Names};

/// How a thing in the drawing stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum NodeState {
    /// Over something that is still owed.
    Hides,
    Can,
    Begun,
    Waiting,
    Blocked,
    LeftOff,
    /// Planned by the procedure and not off.
    StillOn,
    Done,
}

impl NodeState {
    pub const ALL: [Self; 8] = [
        Self::Hides,
        Self::Can,
        Self::Begun,
        Self::Waiting,
        Self::Blocked,
        Self::LeftOff,
        Self::StillOn,
        Self::Done,
    ];
    /// As it stands in a box.
    pub fn word(self) -> &'static str {
        match self {
            Self::Hides => "hides a miss",
            Self::Can => "can go back",
            Self::Begun => "not finished",
            Self::Waiting => "waiting",
            Self::Blocked => "blocked",
            Self::LeftOff => "left off",
            Self::StillOn => "still on",
            Self::Done => "done",
        }
    }
}

/// A box.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureNode {
    /// None for what is only planned.
    pub part: Option<PartId>,
    pub name: String,
    /// The name in lines that fit the box.
    pub lines: Vec<String>,
    pub state: NodeState,
    /// What blocks it, or what it waits for; empty when nothing does.
    pub note: String,
    pub x: i32,
    pub y: i32,
    pub w: i32,
    pub h: i32,
    /// Steps from the outermost.
    pub layer: u32,
}

/// A line, as the path of an SVG.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureLine {
    pub path: String,
    /// The inner one is not settled: it holds the outer one up.
    pub open: bool,
    /// It contradicts the others.
    pub against: bool,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct PicturePage {
    pub title: String,
    pub width: i32,
    pub height: i32,
    /// Row by row from the top, each from the left.
    pub nodes: Vec<PictureNode>,
    pub lines: Vec<PictureLine>,
    /// How many stand so, those to look at first in front.
    pub counts: Vec<(NodeState, u32)>,
    /// What is not drawn, in words; empty when all is.
    pub left_out: String,
    /// The middle of what to look at first.
    pub look: (i32, i32),
}

/// Four boxes side by side, a name of three lines; two fit a narrow phone and a state in each.
const STYLE: picture::Style = picture::Style {
    box_w: 164,
    box_h: 110,
    gap_x: 16,
    gap_y: 42,
    line_gap: 10,
    most_per_row: 4,
};
/// Room for letters in a box, in thousandths of the size of the type.
const LINE_ROOM: u32 = 8_300;
const LINES: usize = 3;
/// More than this nobody looks at, and a phone would take long to draw (own
/// choice, no source).
const MOST: usize = 250;

pub fn picture_page(book: &Book, at: At) -> PicturePage {
    let job = book.job();
    let title = job.head.as_ref().map(|h| h.title.clone());
    let mut page = PicturePage {
        title: title.unwrap_or_default(),
        ..PicturePage::default()
    };
    let back = access::back_at(job, at.now);
    let large = job.parts.len() > MOST;
    let first: rustc_hash::FxHashSet<Target> = if large {
        back.acts.iter().map(|a| a.what).take(MOST).collect()
    } else {
        rustc_hash::FxHashSet::default()
    };
    let keep = |goal: Goal| !large || matches!(goal, Goal::Thing(what) if first.contains(&what));
    let Ok((goals, graph)) = access::drawing(job, keep) else {
        return page;
    };
    if large {
        page.left_out = format!(
            "Drawn are the {} that go back first, of {}.",
            goals.len(),
            words::plural(job.parts.len() as u32, "part")
        );
    }
    let over: Vec<Target> = audit(job, at.now)
        .open
        .iter()
        .filter(|o| o.rule == Rule::Buried)
        .flat_map(|o| o.with.first().copied())
        .collect();
    let drawn = picture::draw(&graph, &STYLE);
    page.width = drawn.width;
    page.height = drawn.height;
    let mut states = Vec::with_capacity(goals.len());
    for (goal, placed) in goals.iter().zip(&drawn.boxes) {
        let (part, name, state, note) = match *goal {
            Goal::Planned(_) | Goal::PlannedConnection(..) => {
                let name = super::way_in::name(job, *goal);
                (None, name, NodeState::StillOn, String::new())
            }
            Goal::Thing(what) => {
                let (state, note) = stands(job, &back, &over, what);
                let part = access::part_of(job, what);
                (part, words::name(job, what), state, note)
            }
        };
        states.push(state);
        page.nodes.push(PictureNode {
            part,
            lines: wrap(&name),
            name,
            state,
            note,
            x: placed.x,
            y: placed.y,
            w: placed.w,
            h: placed.h,
            layer: placed.layer,
        });
    }
    let settled = |node: access::Node| {
        matches!(
            states.get(node as usize),
            Some(NodeState::Done | NodeState::LeftOff | NodeState::StillOn)
        )
    };
    page.lines = drawn
        .lines
        .iter()
        .map(|line| PictureLine {
            path: curve(&line.points),
            open: !settled(line.after),
            against: line.against,
        })
        .collect();
    // Those that are settled lie under those that say something.
    page.lines.sort_by_key(|l| (l.against, l.open));
    page.nodes.sort_by_key(|n| (n.y, n.x));
    let first = page.nodes.iter().min_by_key(|n| n.state);
    page.look = first.map_or((0, 0), |n| (n.x + n.w / 2, n.y + n.h / 2));
    page.counts = NodeState::ALL
        .into_iter()
        .map(|s| (s, states.iter().filter(|&&it| it == s).count() as u32))
        .filter(|&(_, n)| n > 0)
        .collect();
    page
}

fn stands(job: &Job, back: &access::Back, over: &[Target], what: Target) -> (NodeState, String) {
    if over.contains(&what) {
        return (NodeState::Hides, "something under it is owed".to_owned());
    }
    let part = access::part_of(job, what).and_then(|p| job.parts.get(p));
    let act = back.acts.iter().find(|a| a.what == what);
    match (part.map(|p| p.state), act) {
        (Some(PartState::LeftOff), _) => (NodeState::LeftOff, String::new()),
        (_, None) => (NodeState::Done, String::new()),
        (_, Some(act)) if act.begun => (NodeState::Begun, String::new()),
        (_, Some(act)) => match &act.stand {
            Stand::Now => (NodeState::Can, String::new()),
            Stand::Blocked(by) => {
                let by = by.iter().map(|&t| words::name(job, t)).collect();
                (NodeState::Blocked, format!("first: {}", Names(by)))
            }
            Stand::Waiting(waits) => {
                let waits = waits.iter().map(|&w| words::wait(job, w)).collect();
                (NodeState::Waiting, format!("waits for {}", Names(waits)))
            }
        },
    }
}

/// A path through the points: straight down past boxes, in a bow between rows.
fn curve(points: &[(i32, i32)]) -> String {
    let mut path = String::new();
    let mut last: Option<(i32, i32)> = None;
    for &(x, y) in points {
        match last {
            None => path.push_str(&format!("M{x} {y}")),
            Some((from_x, _)) if from_x == x => path.push_str(&format!("V{y}")),
            Some((from_x, from_y)) => {
                let middle = (from_y + y) / 2;
                path.push_str(&format!("C{from_x} {middle} {x} {middle} {x} {y}"));
            }
        }
        last = Some((x, y));
    }
    path
}

/// Puts a name into the lines of a box, by the usual width of letters; what
/// does not fit is cut with dots.
fn wrap(name: &str) -> Vec<String> {
    let mut lines: Vec<String> = vec![String::new()];
    let mut cut = false;
    for word in name.split_whitespace() {
        let n = lines.len();
        let Some(line) = lines.last_mut() else { break };
        let joined = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width(&joined) <= LINE_ROOM {
            *line = joined;
        } else if line.is_empty() {
            cut |= fit(&joined, line);
        } else if n == LINES {
            // As much of the word as there is room for.
            cut |= fit(&joined, line);
        } else {
            let mut next = String::new();
            cut |= fit(word, &mut next);
            lines.push(next);
        }
        if cut {
            break;
        }
    }
    lines
}

/// Puts as much of `text` into `line` as there is room for; says whether it was
/// cut.
fn fit(text: &str, line: &mut String) -> bool {
    line.clear();
    let room = if width(text) <= LINE_ROOM {
        LINE_ROOM
    } else {
        LINE_ROOM - 1_000
    };
    let mut used = 0;
    for letter in text.chars() {
        used += letter_width(letter);
        if used > room {
            while line.ends_with(' ') {
                line.pop();
            }
            line.push('…');
            return true;
        }
        line.push(letter);
    }
    false
}

fn width(text: &str) -> u32 {
    text.chars().map(letter_width).sum()
}

/// How wide a letter of a strong sans face is, in thousandths of its size
/// (the wider of the usual faces,
/// measured roughly; no source).
fn letter_width(letter: char) -> u32 {
    match letter {
        'i' | 'j' | 'l' | '.' | ',' | ':' | '\'' | '|' | ' ' => 380,
        'f' | 't' | 'r' | '(' | ')' | '-' | '/' | 'I' => 480,
        'm' | 'w' | 'M' | 'W' | '@' | '%' => 1_050,
        it if it.is_uppercase() => 790,
        it if it.is_ascii() => 680,
        _ => 1_000,
    }
}

#[cfg(test)]
mod tests {
    use super::{LINE_ROOM, curve, width, wrap};

    #[test]
    fn names_fit_their_boxes_or_are_cut_with_dots() {
        for name in [
            "belt",
            "heat exchanger end cap, front",
            "raw water pump cover with a very long name indeed and more",
            "Donaudampfschifffahrtsgesellschaftskapitän",
            "",
            "ääääääääääääääääääääää 漢字漢字漢字漢字漢字漢字",
        ] {
            let lines = wrap(name);
            assert!(lines.len() <= super::LINES, "{lines:?}");
            for line in &lines {
                assert!(width(line) <= LINE_ROOM, "{line}");
            }
            let whole = lines.join(" ");
            assert!(whole == name || whole.ends_with('…'), "{whole}");
        }
    }

    #[test]
    fn lines_run_straight_past_boxes_and_bow_between_rows() {
        assert_eq!(
            curve(&[(10, 92), (50, 136), (50, 228)]),
            "M10 92C10 114 50 114 50 136V228"
        );
    }
}
