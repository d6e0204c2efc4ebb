//! The to-buy list of a job: like things together whatever part they are for,
//! with what is ordered and what came; and the same as text and as a table.
use super::At;
use crate::job::{Book, Job};
use crate::journal::*;
use crate::words;

/// One thing to get, for one or several parts.
#[derive(Clone, Debug, PartialEq)]
pub struct BuyLine {
    pub text: String,
    /// Still to be had, ordered ones among them.
    pub n: u32,
    pub on_order: u32,
    /// What it is for, each with its count.
    pub for_: Vec<String>,
    /// What an order or a delivery is booked on: what, and how many of it.
    pub wants: Vec<(Want, u32, u32)>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct ToBuyPage {
    pub title: String,
    pub lines: Vec<BuyLine>,
    /// Still to be ordered.
    pub to_order: u32,
    pub text: String,
    pub csv: String,
}

pub fn to_buy_page(book: &Book, _at: At) -> ToBuyPage {
    let job = book.job();
    let lines = lines(job);
    let title = words::name(job, Target::Job);
    ToBuyPage {
        text: as_text(&title, &lines),
        csv: as_csv(&lines),
        to_order: lines.iter().map(|l| l.n.saturating_sub(l.on_order)).sum(),
        title,
        lines,
    }
}

/// Merged by what is asked for over the counter: the same words are one line.
fn lines(job: &Job) -> Vec<BuyLine> {
    let mut lines: Vec<BuyLine> = Vec::new();
    for it in job.to_buy() {
        let text = super::job::buy_text(job, it.want);
        let what_for = super::job::buy_for(job, it.want, it.on);
        let what_for = match what_for.is_empty() {
            true => words::plural(it.n, "piece"),
            false => format!("{} for {what_for}", it.n),
        };
        let same = |l: &&mut BuyLine| l.text.trim().eq_ignore_ascii_case(text.trim());
        match lines.iter_mut().find(same) {
            Some(line) => {
                line.n += it.n;
                line.on_order += it.on_order;
                line.for_.push(what_for);
                line.wants.push((it.want, it.n, it.on_order));
            }
            None => lines.push(BuyLine {
                text,
                n: it.n,
                on_order: it.on_order,
                for_: vec![what_for],
                wants: vec![(it.want, it.n, it.on_order)],
            }),
        }
    }
    lines
}

fn as_text(title: &str, lines: &[BuyLine]) -> String {
    let mut text = format!("To buy: {title}\n");
    for line in lines {
        let order = match line.on_order {
            0 => String::new(),
            n => format!(" ({n} on order)"),
        };
        text.push_str(&format!(
            "{} × {}{order}: {}\n",
            line.n,
            line.text,
            line.for_.join("; ")
        ));
    }
    text
}

/// RFC 4180: a line ends with CR LF, a field with a comma, a quote or a line
/// end in it is quoted. What a table program would take for a formula is made
/// plain words.
fn as_csv(lines: &[BuyLine]) -> String {
    let field = |text: &str| {
        let plain = match text.starts_with(['=', '+', '-', '@']) {
            true => format!("'{text}"),
            false => text.to_owned(),
        };
        match plain.contains([',', '"', '\n', '\r']) {
            true => format!("\"{}\"", plain.replace('"', "\"\"")),
            false => plain,
        }
    };
    let mut csv = "what,to buy,on order,for\r\n".to_owned();
    for line in lines {
        csv.push_str(&format!(
            "{},{},{},{}\r\n",
            field(&line.text),
            line.n,
            line.on_order,
            field(&line.for_.join("; "))
        ));
    }
    csv
}
