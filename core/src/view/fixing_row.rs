//! A fixing on the page of its part: its count, and the one act that comes next.
use super::At;
use crate::access;
use crate::job::{Fixing, Job, PartState, PlaceState, lies_under};
use crate::journal::*;
use crate::words::{self, Names};

#[derive(Clone, Debug, PartialEq)]
pub struct PlaceCell {
    pub index: u16,
    pub number: u16,
    pub state: PlaceState,
    pub word: String,
}

/// The one act that a fixing asks for next.
#[derive(Clone, Debug, PartialEq)]
pub enum NextAct {
    FitExtras,
    Start {
        n: u16,
    },
    Tighten {
        to: Tight,
        value: Option<Figure>,
        text: String,
    },
    /// Somebody is not sure of so many: each is looked at by itself.
    Doubt {
        n: u16,
    },
    /// Once more all round, place by place.
    LastRound,
    Check,
    Repair,
    /// Its part is off.
    PartFirst,
    Wait {
        text: String,
    },
    Done,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ExtraRow {
    pub line: LineId,
    pub text: String,
    pub n_in: u32,
    pub n: u32,
}

#[derive(Clone, Debug, PartialEq)]
pub struct FixingRow {
    pub id: FixingId,
    pub title: String,
    pub place: String,
    pub n: u32,
    pub n_in: u32,
    pub n_final: u32,
    pub cells: Vec<PlaceCell>,
    pub from: Vec<(String, u32)>,
    pub extras: Vec<ExtraRow>,
    pub stages: Vec<String>,
    pub tool: String,
    pub watch: String,
    pub safety: bool,
    pub renew: bool,
    /// The old ones are to be looked at before they go back, and nobody has said
    /// what was seen.
    pub inspect: bool,
    /// Parts it holds besides this one.
    pub also: Vec<String>,
    pub next: NextAct,
    pub short: u32,
    /// What it still owes though all are in and fast, in a few words each.
    pub lacks: Vec<&'static str>,
    /// Why its hole is to be measured again; empty where it need not be.
    pub hole_old: String,
}

/// A fixing with the one act it asks for next.
pub fn fixing_row(job: &Job, id: FixingId, page: Option<PartId>, at: At) -> Option<FixingRow> {
    let it = job.fixings.get(id)?;
    let wanted = it.wanted() as u32;
    let line = job.lines.get(it.wants);
    let loose = line.map(|l| l.loose_at()).unwrap_or_default();
    let mut tool = vec![it.detail.tool.clone()];
    tool.extend(it.detail.way.map(|w| words::way_in(w).to_owned()));
    if it.detail.spanner_only {
        tool.push("spanner only".to_owned());
    }
    tool.retain(|t| !t.is_empty());
    let extras: Vec<ExtraRow> = it
        .extras
        .iter()
        .filter_map(|(line, extra)| {
            let row = job.lines.get(*line)?;
            let label = extra.spec.label();
            Some(ExtraRow {
                line: *line,
                text: label,
                n_in: row.count(Account::Fixing(id)),
                n: row.declared + row.new_stock,
            })
        })
        .collect();
    Some(FixingRow {
        id,
        title: it.spec.label(),
        place: it.place.clone(),
        n: wanted,
        n_in: it.count_where(|p| p.state.filled()) as u32,
        n_final: it.count_where(|p| p.state >= PlaceState::Final) as u32,
        cells: (0_u16..)
            .zip(&it.places)
            .map(|(index, p)| PlaceCell {
                index,
                number: it.number(index),
                state: p.state,
                word: words::place_state(p.state),
            })
            .collect(),
        from: loose
            .iter()
            .map(|&(a, n)| (words::lying(job, a), n))
            .collect(),
        extras,
        stages: it
            .detail
            .stages
            .iter()
            .map(|&f| words::figure(f, at.style))
            .collect(),
        tool: tool.join(", "),
        watch: it.detail.watch.clone(),
        safety: it.detail.safety,
        renew: it.wants != it.old,
        inspect: it.look_owed(),
        also: it
            .parts
            .iter()
            .filter(|&&p| Some(p) != page)
            .map(|&p| words::name(job, Target::Part(p)))
            .collect(),
        next: next_act(job, id, it, at),
        lacks: match it.finished() {
            true => access::lacking(job, Target::Fixing(id))
                .into_iter()
                .map(words::lacks)
                .collect(),
            false => Vec::new(),
        },
        short: job.short_of(it),
        hole_old: it.hole_old().map_or_else(String::new, |(what, _)| {
            words::hole_old(&words::name(job, what))
        }),
    })
}

/// The name of what is to lie under the heads, new or for now the old, and is
/// not there: once they are tight it no longer goes in.
fn not_under(job: &Job, it: &Fixing) -> Option<String> {
    let items = it.items.iter().filter_map(|&i| job.items.get(i));
    let mut lacking = items.filter(|i| {
        lies_under(i.kind) && !i.left_off && i.renewed.saturating_add(i.old_in) < i.count
    });
    Some(lacking.next()?.name.clone())
}

/// The next step of a fixing: what goes with it, started all round, then each
/// stage for all before the next stage for any, then the second look.
fn next_act(job: &Job, id: FixingId, it: &Fixing, at: At) -> NextAct {
    let off = |p: &PartId| {
        job.parts
            .get(*p)
            .is_some_and(|p| matches!(p.state, PartState::Off | PartState::Aside))
    };
    if it.count_where(|p| p.state == PlaceState::Broken) > 0 {
        return NextAct::Repair;
    }
    let open = it.count_where(|p| p.state == PlaceState::Open) as u16;
    if open > 0 {
        if !it.parts.is_empty() && it.parts.iter().all(off) {
            return NextAct::PartFirst;
        }
        if let Some(name) = not_under(job, it) {
            return NextAct::Wait {
                text: format!("new {name} first"),
            };
        }
        let extras_out = it.extras.iter().any(|(l, _)| {
            let lacking = job.extras_lacking(id, it, *l).unwrap_or(0);
            lacking > 0 && job.lines.get(*l).is_some_and(|l| l.loose() > 0)
        });
        if extras_out {
            return NextAct::FitExtras;
        }
        let (short, want) = job.cannot_fill(id, it);
        let extra = match want {
            Want::Extra(line) => job.lines.get(line).and_then(|l| l.thing.spec()),
            _ => None,
        };
        return match open.saturating_sub(short.min(u32::from(u16::MAX)) as u16) {
            0 => NextAct::Wait {
                text: words::not_to_hand(extra.unwrap_or(&it.spec).kind, open),
            },
            n => NextAct::Start { n },
        };
    }
    let stages = &it.detail.stages;
    // The lowest state decides: a stage is for all before the next is for any.
    let lowest = it
        .places
        .iter()
        .map(|p| p.state)
        .filter(|s| s.filled() && *s < PlaceState::Final && *s != PlaceState::Doubtful)
        .min();
    let doubtful = it.count_where(|p| p.state == PlaceState::Doubtful) as u16;
    let Some(lowest) = lowest else {
        if doubtful > 0 {
            return NextAct::Doubt { n: doubtful };
        }
        if it.round_owed() {
            return NextAct::LastRound;
        }
        let unchecked = it.detail.safety && it.count_where(|p| p.state == PlaceState::Final) > 0;
        return if unchecked {
            NextAct::Check
        } else {
            NextAct::Done
        };
    };
    let waits: Vec<String> = it
        .parts
        .iter()
        .filter(|p| off(p))
        .map(|&p| words::name(job, Target::Part(p)))
        .collect();
    let reached = match lowest {
        PlaceState::Stage(n) => usize::from(n),
        _ => 0,
    };
    let last = stages.len() <= reached + 1;
    if last && !waits.is_empty() {
        return NextAct::Wait {
            text: format!("also holds {}, still off", Names(waits)),
        };
    }
    if let Some(until) = job.held_by(it).filter(|_| last) {
        return NextAct::Wait {
            text: format!("only {}", words::hold(until)),
        };
    }
    if let Some(name) = not_under(job, it).filter(|_| last) {
        return NextAct::Wait {
            text: format!("new {name} first"),
        };
    }
    let value = stages.get(reached).copied();
    let text = value.map_or_else(String::new, |v| words::figure(v, at.style));
    let to = if last {
        Tight::Final
    } else {
        Tight::Stage(reached as u8 + 1)
    };
    NextAct::Tighten { to, value, text }
}
