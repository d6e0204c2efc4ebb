//! What was forgotten when a part came off, and is added to it now: a gasket, a
//! port, what is to be put on, what it came after. Fasteners are in `add_size`; hoses are filled in as at
//! taking off.
use countback_core::fastener::FastenerSpec;
use countback_core::job::Command;
use countback_core::journal::*;
use countback_core::view::{self, AddPage};
use countback_core::words;
use yew::prelude::*;

use super::super::cautions;
use super::super::pick::Pick;
use super::super::take_off::{DraftTreatment, treat};
use super::add_size;
use crate::app::Desk;
use crate::kit::{
    Button, ButtonKind, ChipItem, ChipRow, IArray, Icon, Readiness, Section, Sheet, State, Stepper,
    TextField,
};
use crate::part;
use crate::router;

/// What is being added.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    Fastener,
    Item,
    Opening,
    /// Sealant, lubricant or thread-locker, owed when it goes back.
    Treatment,
    After,
    /// The fasteners that a new part brings.
    Brings,
}

/// Where the fastener lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bag {
    New,
    Have(ContainerId),
    Bench,
}

/// The addition being made. It is gone when its sheet is closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Adding {
    pub what: What,
    pub spec: Option<FastenerSpec>,
    /// A size that is on no chip is put together.
    pub other_size: bool,
    pub inch: bool,
    pub count: u32,
    pub slackened: u32,
    pub bag: Bag,
    pub kind: u32,
    pub name: String,
    /// The size of a gasket.
    pub more: String,
    treatment: DraftTreatment,
    /// Ids of parts.
    after: Vec<String>,
    pub fixing: Option<FixingId>,
    pub brings: Vec<(FixingId, FastenerSpec)>,
    pub as_ordered: bool,
}

impl Adding {
    pub fn new(what: What, page: &AddPage) -> Self {
        let name = match what {
            What::Item => words::item_kind(ItemKind::Gasket),
            _ => "",
        };
        Self {
            what,
            spec: None,
            other_size: false,
            inch: page.inch,
            count: 1,
            slackened: 0,
            bag: match page.containers.first() {
                Some((id, _)) => Bag::Have(*id),
                None => Bag::New,
            },
            kind: 0,
            name: name.to_owned(),
            more: String::new(),
            treatment: DraftTreatment::default(),
            after: Vec::new(),
            fixing: page.fixings.first().map(|f| f.0),
            brings: Vec::new(),
            as_ordered: true,
        }
    }
}

/// The form of an addition: what is filled in, and where it goes.
#[derive(Clone)]
pub struct Form {
    pub desk: Desk,
    pub job: AttrValue,
    pub part: PartId,
    pub part_name: String,
    pub lies: String,
    pub page: AddPage,
    pub now: Adding,
    pub at: State<Option<Adding>>,
}

impl Form {
    /// Changes the addition by a number: a chip, a count.
    pub fn pick(&self, change: impl Fn(&mut Adding, u32) + 'static) -> Callback<u32> {
        let form = self.clone();
        Callback::from(move |n: u32| {
            let mut next = form.now.clone();
            change(&mut next, n);
            form.at.set(Some(next));
        })
    }
    /// Changes it by words.
    pub fn typed(&self, change: fn(&mut Adding, String)) -> Callback<AttrValue> {
        let form = self.clone();
        Callback::from(move |text: AttrValue| {
            let mut next = form.now.clone();
            change(&mut next, text.to_string());
            form.at.set(Some(next));
        })
    }
}

/// Rows of chips from words.
pub fn chips<'a>(labels: impl Iterator<Item = (&'a str, bool)>) -> IArray<ChipItem<u32>> {
    (0_u32..)
        .zip(labels)
        .map(|(n, (label, on))| ChipItem::new(n, label.to_owned(), on))
        .collect()
}

const ITEMS: [ItemKind; 9] = [
    ItemKind::Gasket,
    ItemKind::ORing,
    ItemKind::CrushWasher,
    ItemKind::Seal,
    ItemKind::SplitPin,
    ItemKind::StretchBolt,
    ItemKind::LockNut,
    ItemKind::Clip,
    ItemKind::Other,
];
/// Ports that are met most (common practice, no source).
const PORTS: [&str; 5] = [
    "coolant port",
    "oil passage",
    "intake port",
    "exhaust port",
    "fuel port",
];

pub fn at<T: Copy>(all: &[T], n: u32) -> Option<T> {
    all.get(n as usize).copied()
}

/// The sheet in which it is filled in; one tap logs it.
pub fn sheet(form: &Form, onclose: Callback<()>) -> Html {
    let now = &form.now;
    let (title, fields) = match now.what {
        What::Fastener => ("Another fastener", add_size::fastener(form)),
        What::Item => ("A gasket or seal", item(form)),
        What::Opening => ("A port laid open", opening(form)),
        What::Treatment => ("Something to put on", treatment(form)),
        What::After => ("It came after", after(form)),
        What::Brings => ("It brings other fasteners", add_size::brings(form)),
    };
    let asked = command(form);
    let (desk, job) = (&form.desk, &form.job);
    // What is touched is read about before it is logged.
    let touched = asked.as_ref().map_or(&[][..], std::slice::from_ref);
    let left = cautions::unread(desk, job, touched);
    let (readiness, command) = match asked {
        Ok(command) => (cautions::hold(&left), Some(command)),
        Err(why) => (Readiness::Blocked(why.into()), None),
    };
    let log = {
        let (desk, job) = (desk.clone(), job.clone());
        Callback::from(move |()| {
            if let Some(command) = &command {
                router::close_sheet();
                desk.tell(&job, command.clone());
            }
        })
    };
    let foot = part!(Button {
        label: "Log it",
        kind: ButtonKind::Main,
        icon: Icon::Check,
        readiness: readiness,
        onpress: log
    });
    part!(Sheet {
        title: title,
        onclose: onclose,
        foot: foot,
        children: html! { <>
            { fields }
            { cautions::cards(desk, job, &left) }
        </> }
    })
}

/// What is asked for, or what is still missing.
fn command(form: &Form) -> Result<Command, &'static str> {
    let now = &form.now;
    let part = form.part;
    let named = |why| match now.name.trim() {
        "" => Err(why),
        name => Ok(name.to_owned()),
    };
    match now.what {
        What::Fastener => add_size::fastener_command(form),
        What::Brings => add_size::brings_command(form),
        What::Item => Ok(Command::Record(Act::ItemRemoved(ItemRemoved {
            kind: at(&ITEMS, now.kind).unwrap_or(ItemKind::Other),
            name: named("Give it a name")?,
            size: now.more.trim().to_owned(),
            count: now.count as u16,
            on: Target::Part(part),
        }))),
        What::Opening => Ok(Command::Record(Act::OpeningMade {
            name: named("Say which port")?,
            on: None,
            shut_by: Some(part),
        })),
        What::Treatment => Ok(Command::Record(Act::TreatmentPrescribed(
            now.treatment.prescribed(Target::Part(part)),
        ))),
        What::After if now.after.is_empty() => Err("Choose what was off before it"),
        What::After => {
            let need = |id: &String| {
                Some(Need {
                    first: view::needed(id)?,
                    why: Why::BlocksReach,
                })
            };
            Ok(Command::Record(Act::CameAfter {
                what: Target::Part(part),
                needs: now.after.iter().filter_map(need).collect(),
            }))
        }
    }
}

fn item(form: &Form) -> Html {
    let now = &form.now;
    let kinds = chips(
        (0_u32..)
            .zip(ITEMS)
            .map(|(n, k)| (words::item_kind(k), n == now.kind)),
    );
    let kind = form.pick(|a, n| {
        let own = ITEMS.iter().any(|&k| a.name == words::item_kind(k));
        a.kind = n;
        if let (true, Some(kind)) = (own || a.name.is_empty(), at(&ITEMS, n)) {
            a.name = words::item_kind(kind).to_owned();
        }
    });
    html! {
        <>
            <p class="soft">{ "A new one is owed at put back and stands on the to-buy list." }</p>
            { part!(ChipRow::<u32> { label: "Kind", items: kinds, onpress: kind }) }
            { part!(Stepper { label: "How many", value: now.count, min: 1, onchange: form.pick(|a, n| a.count = n) }) }
            { part!(TextField { label: "Name", value: now.name.clone(), oninput: form.typed(|a, t| a.name = t) }) }
            { part!(TextField { label: "Size", value: now.more.clone(), hint: "14 x 18, 2 mm ring", oninput: form.typed(|a, t| a.more = t) }) }
        </>
    }
}

fn opening(form: &Form) -> Html {
    let now = &form.now;
    let ports = chips(PORTS.iter().map(|&port| (port, now.name == port)));
    let pick = form.pick(|a, n| a.name = at(&PORTS, n).unwrap_or_default().to_owned());
    html! {
        <>
            <p class="soft">{ format!("{} shuts it when it goes back.", form.part_name) }</p>
            { part!(ChipRow::<u32> { label: "Usual", items: ports, onpress: pick }) }
            { part!(TextField { label: "Which port", value: now.name.clone(), hint: "coolant port, intake 2", oninput: form.typed(|a, t| a.name = t) }) }
        </>
    }
}

fn treatment(form: &Form) -> Html {
    let kind = {
        let form = form.clone();
        Callback::from(move |kind: u8| {
            let mut next = form.now.clone();
            next.treatment.kind = kind;
            form.at.set(Some(next));
        })
    };
    let change = {
        let form = form.clone();
        Callback::from(move |treatment: DraftTreatment| {
            form.at.set(Some(Adding {
                treatment,
                ..form.now.clone()
            }));
        })
    };
    let it = &form.now.treatment;
    html! {
        <>
            <p class="soft">{ format!("It is owed when {} goes back, and again each time it comes off.", form.part_name) }</p>
            { treat::kinds(Some(it.kind), kind) }
            { treat::fields(it, 0, &change) }
        </>
    }
}

fn after(form: &Form) -> Html {
    let now = &form.now;
    let offered = &form.page.after;
    if offered.is_empty() {
        return html! { <p>{ "No other part is off, or all of them are noted already." }</p> };
    }
    let flip = {
        let form = form.clone();
        Callback::from(move |id: String| {
            let mut next = form.now.clone();
            match next.after.iter().position(|it| *it == id) {
                Some(at) => {
                    next.after.remove(at);
                }
                None => next.after.push(id),
            }
            form.at.set(Some(next));
        })
    };
    html! {
        <>
            <p class="soft">{ format!("What had to be off before {} could be reached. It waits until {} is back.", form.part_name, form.part_name) }</p>
            { part!(Pick { label: "Off before it", all: offered.clone(), chosen: now.after.clone(), onpress: flip }) }
        </>
    }
}

/// What can be added, as buttons. Under a part that is back nothing is put on.
pub fn offers(placed: bool, press: impl Fn(What) -> Callback<()>) -> Html {
    let button = |what, label: &'static str, icon| {
        part!(Button {
            label: label,
            icon: icon,
            onpress: press(what)
        })
    };
    html! {
        { part!(Section { title: "Forgotten when it came off", children: html! {
            <div class="pair">
                { button(What::Fastener, "Another fastener", Icon::Bolt) }
                { button(What::Item, "A gasket or seal", Icon::Gasket) }
                { button(What::Opening, "A port laid open", Icon::Droplet) }
                if !placed { { button(What::Treatment, "Something to put on", Icon::Cure) } }
                { button(What::After, "It came after", Icon::SubAssembly) }
            </div>
        } }) }
    }
}

/// What is offered for a part, from all jobs on this phone.
pub fn page(desk: &Desk, job: &AttrValue, part: PartId) -> Option<AddPage> {
    let device = desk.ctx().device;
    desk.read_all(job, |book, others| {
        let others: Vec<_> = others.iter().map(|(_, job)| *job).collect();
        view::add_page(book, &others, part, device)
    })
    .flatten()
}
