//! The entry being made: kept as plain text values, so that it survives the
//! page being killed, and turned into one command when it is logged.
use countback_core::fastener::{FastenerKind, FastenerSpec, common_items};
use countback_core::job::*;
use countback_core::journal::*;
use countback_core::procedure::{PlannedFixing, PlannedPart, PlannedTreatment};
use countback_core::words;

use super::draft_joints::stage_text;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Draft {
    pub name: String,
    pub lies: String,
    pub aside: bool,
    /// Parts that had to be off first.
    pub after: Vec<String>,
    /// Why, as an index of [`WHYS`], where it is not that they were in the way.
    pub whys: Vec<(String, u8)>,
    /// The part that it hangs on, as one with it.
    pub carried_by: Option<String>,
    /// Names of parts that hang on it.
    pub carried: Vec<String>,
    pub findings: Vec<String>,
    pub note: String,
    pub planned: Option<String>,
    pub fixings: Vec<DraftFixing>,
    pub bag: DraftBag,
    /// What a new bag really is, as an index of [`CONTAINERS`].
    pub container: u8,
    pub connections: Vec<DraftConnection>,
    pub items: Vec<DraftItem>,
    pub openings: Vec<String>,
    pub treatments: Vec<DraftTreatment>,
    pub photos: Vec<DraftPhoto>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub enum DraftBag {
    /// A new bag with the next free tag.
    #[default]
    New,
    Have(String),
    Bench,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct DraftFixing {
    /// The stored form of the fastener.
    pub spec: String,
    pub count: u16,
    pub slackened: u16,
    pub found_empty: u16,
    /// Broken, with their stump in the hole.
    pub broke: u16,
    pub place: String,
    pub numbers: String,
    pub renew: bool,
    /// Looked at before they go back.
    pub inspect: bool,
    /// A second container, and how many of them went into it.
    pub apart: Option<(String, u16)>,
    pub washers: u8,
    pub spacers: u8,
    pub shims: u8,
    /// The stored forms of all three.
    pub washer: String,
    pub spacer: String,
    pub shim: String,
    pub stud_came: bool,
    pub union: bool,
    /// How many used once came with each, which of [`USED_ONCE`], and their size.
    pub used: u8,
    pub used_kind: u8,
    pub used_size: String,
    pub safety: bool,
    pub tool: String,
    pub way: Option<u8>,
    pub spanner_only: bool,
    pub watch: String,
    /// Torque as typed and its unit by index; one a stage.
    pub stages: Vec<(String, u8)>,
    /// What goes with the figure: how far off it may be, what threads it is
    /// for, what self-locking nuts run with, where it is from.
    pub tolerance: Option<Tolerance>,
    pub meant_for: Option<MeantFor>,
    pub running: Option<Figure>,
    pub source: String,
    pub also: Vec<String>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct DraftConnection {
    pub kind: u8,
    pub name: String,
    pub a: String,
    pub b: String,
    pub a_here: bool,
    /// What the other end sits on: a part, [`HERE`], or the machine when empty.
    pub b_on: String,
    pub a_off: bool,
    pub b_off: bool,
    pub joint: u8,
    /// That of the other end, where it is another.
    pub b_joint: Option<u8>,
    /// What kind of clip holds each end.
    pub a_clamp: String,
    pub b_clamp: String,
    pub route: String,
    /// Route kind by index, and the part it runs by.
    pub route_by: Option<(u8, String)>,
    /// The code that is written on both ends; empty where none is.
    pub tag: String,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct DraftItem {
    pub kind: u8,
    pub name: String,
    pub size: String,
    pub count: u16,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct DraftTreatment {
    pub kind: u8,
    pub product: String,
    pub cure_h: u32,
    /// Minutes besides the hours.
    pub cure_min: u32,
    /// Minutes within which to assemble; 0 where the label does not say.
    pub open_min: u32,
    /// Covered only once it has cured.
    pub cover: bool,
    /// The fixing of this draft that it goes on, by its place; the part itself
    /// where there is none.
    pub fixing: Option<usize>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct DraftPhoto {
    pub hash: String,
    pub thumb: String,
    pub width: u32,
    pub height: u32,
    /// x and y in thousandths, and the fixing of this draft that is meant.
    pub marks: Vec<(u16, u16, Option<usize>)>,
}

/// Stands for the part being logged where else a part's id stands.
pub const HERE: &str = "here";

pub const KINDS: [ConnectionKind; 5] = [
    ConnectionKind::Hose,
    ConnectionKind::Plug,
    ConnectionKind::Pipe,
    ConnectionKind::Cable,
    ConnectionKind::Linkage,
];
pub const JOINTS: [Joint; 5] = [
    Joint::Clamped,
    Joint::Clicked,
    Joint::PushOn,
    Joint::Threaded,
    Joint::UnionBolt,
];
pub const ITEMS: [ItemKind; 9] = [
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
/// What goes with a fastener and is used once.
pub const USED_ONCE: [(ItemKind, &str); 5] = [
    (ItemKind::CrushWasher, "crush washer"),
    (ItemKind::SplitPin, "split pin"),
    (ItemKind::ORing, "O-ring"),
    (ItemKind::Other, "lock washer"),
    (ItemKind::Other, "tab washer"),
];
pub const WAYS: [WayIn; 7] = [
    WayIn::Above,
    WayIn::Below,
    WayIn::Front,
    WayIn::Behind,
    WayIn::Side,
    WayIn::Inside,
    WayIn::WheelOff,
];
pub const TREATMENTS: [TreatmentKind; 3] = [
    TreatmentKind::Sealant,
    TreatmentKind::Lubricant,
    TreatmentKind::ThreadLocker,
];
pub const CONTAINERS: [ContainerKind; 5] = [
    ContainerKind::Bag,
    ContainerKind::Tray,
    ContainerKind::Box,
    ContainerKind::Card,
    ContainerKind::Shelf,
];
pub const WHYS: [Why; 6] = [
    Why::BlocksReach,
    Why::Attached,
    Why::SharesFixing,
    Why::Hides,
    Why::Supports,
    Why::RoutedThrough,
];
pub const ROUTES: [RouteKind; 3] = [RouteKind::Behind, RouteKind::Through, RouteKind::ClippedTo];

fn of_plan(it: &PlannedTreatment) -> DraftTreatment {
    let cures = it.treatment.cure_min;
    DraftTreatment {
        kind: index(&TREATMENTS, it.treatment.kind).unwrap_or(0),
        product: it.treatment.product.clone(),
        cure_h: cures / 60,
        cure_min: cures % 60,
        open_min: it.treatment.open_min.unwrap_or(0),
        cover: it.treatment.holds_cover,
        fixing: it.fixing.map(usize::from),
    }
}

/// The numbers of its holes, where there is one for each.
fn numbers_of(f: &PlannedFixing) -> String {
    if f.numbers.len() != usize::from(f.count) {
        return String::new();
    }
    let numbers: Vec<String> = f.numbers.iter().map(u16::to_string).collect();
    numbers.join(", ")
}

/// A fixing with what a procedure says came with each; of each kind the first.
fn with_extras(extras: &[Extra]) -> DraftFixing {
    let mut draft = DraftFixing::default();
    for extra in extras.iter().rev() {
        let (n, spec) = (extra.per_place, extra.spec.to_string());
        match extra.spec.kind {
            FastenerKind::Washer => (draft.washers, draft.washer) = (n, spec),
            FastenerKind::Spacer => (draft.spacers, draft.spacer) = (n, spec),
            FastenerKind::Shim => (draft.shims, draft.shim) = (n, spec),
            FastenerKind::Stud => draft.stud_came = true,
            _ => {}
        }
    }
    draft
}

impl Draft {
    pub fn is_empty(&self) -> bool {
        let bare = Self {
            bag: self.bag.clone(),
            container: self.container,
            ..Self::default()
        };
        *self == bare
    }

    /// Takes over what the procedure expects of a part.
    pub fn plan(&mut self, planned: &PlannedPart, off: &[(PartId, Option<String>)]) {
        self.name.clone_from(&planned.name);
        self.planned = Some(planned.key.clone());
        if self.lies.is_empty() {
            self.lies.clone_from(&planned.lies);
        }
        self.note.clone_from(&planned.note);
        // By the way that is open now, where it knows several.
        let is_off = |key: &String| off.iter().any(|(_, of)| of.as_ref() == Some(key));
        let mut ways = std::iter::once(&planned.after).chain(&planned.ways);
        let way = ways.find(|way| way.iter().all(is_off));
        let way = way.unwrap_or(&planned.after);
        self.after = off
            .iter()
            .filter(|(_, key)| key.as_ref().is_some_and(|k| way.contains(k)))
            .map(|(id, _)| id.to_string())
            .collect();
        let id_of = |key: &str| {
            let part = off.iter().find(|(_, of)| of.as_deref() == Some(key));
            part.map(|(id, _)| id.to_string()).unwrap_or_default()
        };
        let ids_of = |keys: &[String]| -> Vec<String> {
            let ids = keys.iter().map(|key| id_of(key));
            ids.filter(|id| !id.is_empty()).collect()
        };
        self.fixings = planned
            .fixings
            .iter()
            .map(|f| DraftFixing {
                numbers: numbers_of(f),
                spec: f.spec.to_string(),
                count: f.count,
                place: f.place.clone(),
                renew: f.reuse == Reuse::Renew,
                inspect: f.reuse == Reuse::Inspect,
                safety: f.detail.safety,
                tool: f.detail.tool.clone(),
                watch: f.detail.watch.clone(),
                spanner_only: f.detail.spanner_only,
                way: f.detail.way.and_then(|w| index(&WAYS, w)),
                stages: f.detail.stages.iter().map(|&s| stage_text(s)).collect(),
                tolerance: f.detail.tolerance,
                meant_for: f.detail.meant_for,
                running: f.detail.running,
                source: f.detail.source.clone(),
                also: ids_of(&f.also),
                ..with_extras(&f.extras)
            })
            .collect();
        self.connections = planned
            .connections
            .iter()
            .map(|c| DraftConnection {
                kind: index(&KINDS, c.kind).unwrap_or(0),
                name: c.name.clone(),
                a: c.a.clone(),
                b: c.b.clone(),
                joint: index(&JOINTS, c.joint).unwrap_or(0),
                a_here: !c.away,
                a_off: !c.stays,
                a_clamp: c.clamp.clone(),
                b_on: match c.far.on == planned.key {
                    true => HERE.to_owned(),
                    false => id_of(&c.far.on),
                },
                b_off: c.far.off,
                b_joint: c.far.joint.and_then(|joint| index(&JOINTS, joint)),
                b_clamp: c.far.clamp.clone(),
                // By its name in words where the part itself is still on.
                route: match &c.route {
                    Some(run) if run.text.is_empty() && id_of(&run.by).is_empty() => {
                        run.by.replace('-', " ")
                    }
                    Some(run) => run.text.clone(),
                    None => String::new(),
                },
                route_by: c
                    .route
                    .as_ref()
                    .and_then(|run| Some((index(&ROUTES, run.kind)?, id_of(&run.by)))),
                tag: String::new(),
            })
            .collect();
        self.items = planned
            .items
            .iter()
            .map(|i| DraftItem {
                kind: index(&ITEMS, i.kind).unwrap_or(0),
                name: i.name.clone(),
                size: i.size.clone(),
                count: i.count,
            })
            .collect();
        self.openings.clone_from(&planned.openings);
        self.treatments = planned.treatments.iter().map(of_plan).collect();
    }

    /// Takes a fixing out, and what was to go on its threads.
    pub fn take_out_fixing(&mut self, n: usize) {
        if n >= self.fixings.len() {
            return;
        }
        self.fixings.remove(n);
        self.treatments.retain(|it| it.fixing != Some(n));
        for it in &mut self.treatments {
            it.fixing = it.fixing.map(|at| if at > n { at - 1 } else { at });
        }
    }

    /// Adds a fastener, or one more of it where it is there already.
    pub fn add_size(&mut self, spec: &FastenerSpec, count: u16) {
        let text = spec.to_string();
        match self
            .fixings
            .iter_mut()
            .find(|f| f.spec == text && f.place.is_empty())
        {
            Some(have) => have.count = have.count.saturating_add(1),
            None => self.fixings.push(DraftFixing {
                spec: text,
                count,
                renew: common_items::reuse_of(spec).0 == common_items::Reuse::Renew,
                ..DraftFixing::default()
            }),
        }
    }

    /// The first figure that is not read, and why: nothing that was typed is
    /// dropped.
    pub fn wrong_figure(&self) -> Option<String> {
        let numbers = self.fixings.iter().find_map(|it| {
            let wrong = it.wrong_numbers()?;
            Some(format!("{}: {wrong}", it.read_spec().label()))
        });
        numbers.or_else(|| self.wrong_stage())
    }

    fn wrong_stage(&self) -> Option<String> {
        self.fixings.iter().find_map(|it| {
            let (stage, why) = it.typed().wrong?;
            let why = why
                .trim_start_matches(&format!("Stage {}: ", stage + 1))
                .to_owned();
            Some(format!(
                "{}, stage {}: {why}",
                it.read_spec().label(),
                stage + 1
            ))
        })
    }

    /// What is still to be said of what hung on it: a sheet may be closed with
    /// its name taken out.
    pub fn unsaid(&self) -> Option<String> {
        let hose = self.connections.iter().find_map(|it| {
            let name = it.called();
            match (it.name.trim().is_empty(), it.a_off || it.b_off) {
                (true, _) => Some(format!("Give the {name} a name")),
                (_, false) => Some(format!("Say which end of {name} is off")),
                _ => None,
            }
        });
        hose.or_else(|| {
            let nameless = self.items.iter().find(|it| it.name.trim().is_empty());
            nameless.map(|it| format!("Give the {} a name", it.called()))
        })
    }

    /// One photo is not of this part, or came out badly.
    pub fn leave_photo_out(&mut self, hash: &str) {
        self.photos.retain(|it| it.hash != hash);
    }

    pub fn has_photo(&self, hash: &str) -> bool {
        self.photos.iter().any(|it| it.hash == hash)
    }

    pub fn container_kind(&self) -> ContainerKind {
        let kind = CONTAINERS.get(usize::from(self.container));
        kind.copied().unwrap_or(ContainerKind::Bag)
    }

    /// The part alone, without what comes off with it.
    pub fn bare(&self) -> Self {
        Self {
            name: self.name.clone(),
            planned: self.planned.clone(),
            ..Self::default()
        }
    }

    /// What is logged. `tag` is the code of a new bag.
    pub fn take_off(&self, tag: &str) -> TakeOff {
        let container = match &self.bag {
            DraftBag::New
                if self
                    .fixings
                    .iter()
                    .any(|f| !f.renew && f.count > f.slackened + f.found_empty) =>
            {
                ContainerPick::New {
                    tag: tag.to_owned(),
                    kind: self.container_kind(),
                    name: String::new(),
                    lies: self.lies.clone(),
                }
            }
            DraftBag::Have(id) => id.parse().map_or(ContainerPick::Bench, ContainerPick::Have),
            DraftBag::New | DraftBag::Bench => ContainerPick::Bench,
        };
        // Those with no number are not logged.
        let kept = (0..).zip(&self.fixings).filter(|(_, f)| f.count > 0);
        let kept: Vec<usize> = kept.map(|(n, _)| n).collect();
        TakeOff {
            part: PartOff {
                name: self.name.trim().to_owned(),
                lies: self.lies.clone(),
                aside: self.aside,
                after: self.needs(),
                carried_by: self.carried_by.as_ref().and_then(|p| p.parse().ok()),
                hazards: Vec::new(),
                note: self.note.clone(),
                planned: self.planned.clone(),
            },
            fixings: self.fixings.iter().filter_map(DraftFixing::draft).collect(),
            container,
            connections: self
                .connections
                .iter()
                .map(DraftConnection::draft)
                .collect(),
            items: self
                .items
                .iter()
                .map(|i| ItemDraft {
                    kind: *ITEMS.get(usize::from(i.kind)).unwrap_or(&ItemKind::Other),
                    name: i.name.clone(),
                    size: i.size.clone(),
                    count: i.count,
                })
                .collect(),
            photos: self
                .photos
                .iter()
                .map(|p| PhotoDraft {
                    hash: p.hash.clone(),
                    thumb: p.thumb.clone(),
                    width: p.width,
                    height: p.height,
                    caption: self.name.trim().to_owned(),
                    marks: p.marks.clone(),
                })
                .collect(),
            treatments: self
                .treatments
                .iter()
                .map(|it| TreatmentDraft {
                    treatment: it.prescribed(Target::Job),
                    fixing: it.fixing.and_then(|n| kept.iter().position(|&k| k == n)),
                })
                .collect(),
            openings: self.named_ports(),
            carried: self.carried.clone(),
            findings: self.findings.clone(),
        }
    }

    fn named_ports(&self) -> Vec<String> {
        let named = self.openings.iter().map(|it| it.trim());
        let named = named.filter(|it| !it.is_empty());
        named.map(str::to_owned).collect()
    }

    fn needs(&self) -> Vec<Need> {
        self.after
            .iter()
            .filter_map(|id| {
                let first = countback_core::view::needed(id)?;
                let why = WHYS.get(usize::from(self.why(id))).copied();
                let why = why.unwrap_or(Why::BlocksReach);
                Some(Need { first, why })
            })
            .collect()
    }

    /// Why a part had to be off first, as an index of [`WHYS`].
    pub fn why(&self, id: &str) -> u8 {
        let known = self.whys.iter().find(|(of, _)| of == id);
        known.map_or(0, |(_, why)| *why)
    }

    pub fn set_why(&mut self, id: &str, why: u8) {
        self.whys.retain(|(of, _)| of != id);
        if why > 0 {
            self.whys.push((id.to_owned(), why));
        }
    }
}

impl DraftConnection {
    /// Its name, or what kind of thing it is.
    pub fn called(&self) -> &str {
        let kind = KINDS.get(usize::from(self.kind)).copied();
        let kind = kind.unwrap_or(ConnectionKind::Hose);
        named(&self.name, words::connection_kind(kind))
    }
}

impl DraftItem {
    /// Its name, or what kind of thing it is.
    pub fn called(&self) -> &str {
        let kind = ITEMS.get(usize::from(self.kind)).copied();
        named(
            &self.name,
            words::item_kind(kind.unwrap_or(ItemKind::Other)),
        )
    }
}

fn named<'a>(name: &'a str, kind: &'a str) -> &'a str {
    if name.trim().is_empty() { kind } else { name }
}

impl DraftTreatment {
    /// Minutes until it bears.
    pub fn cures(&self) -> u32 {
        self.cure_h.saturating_mul(60).saturating_add(self.cure_min)
    }

    /// As it is prescribed; of the job where it is for the part being logged.
    pub fn prescribed(&self, on: Target) -> Treatment {
        let cures = self.cures() > 0;
        let kind = TREATMENTS.get(usize::from(self.kind)).copied();
        Treatment {
            kind: kind.unwrap_or(TreatmentKind::Sealant),
            product: self.product.clone(),
            on,
            cure_min: self.cures(),
            open_min: (self.open_min > 0).then_some(self.open_min),
            holds_fill: cures,
            holds_start: cures,
            holds_cover: self.cover && cures,
        }
    }
}

pub(super) fn index<T: PartialEq>(list: &[T], wanted: T) -> Option<u8> {
    list.iter().position(|x| *x == wanted).map(|n| n as u8)
}
