//! The entry being made as text and back: what is kept beside the job until it
//! is logged. A text that cannot be read is an empty entry.
use countback_core::codec::CodecError;
use countback_core::codec::json::{Map, Writer};
use countback_core::journal::{Figure, MeantFor, Tolerance};
use countback_core::torque::TorqueUnit;

use super::draft::*;

type Reading<T> = Result<T, CodecError>;

fn owned(text: &str) -> Option<String> {
    Some(text.to_owned())
}

fn small(map: &mut Map, field: &'static str) -> Reading<Option<u8>> {
    Ok(map.maybe_count(field)?.and_then(|n| u8::try_from(n).ok()))
}

impl Draft {
    pub fn to_text(&self) -> String {
        Writer::object(|w| {
            w.text("name", &self.name);
            w.text("lies", &self.lies);
            w.flag("aside", self.aside);
            w.each("after", &self.after, String::clone);
            w.records("whys", &self.whys, write_numbered);
            w.each("carried", &self.carried, String::clone);
            w.each("findings", &self.findings, String::clone);
            w.maybe_text("carried_by", self.carried_by.as_ref());
            w.text("note", &self.note);
            w.maybe_text("planned", self.planned.as_ref());
            w.records("fixings", &self.fixings, write_fixing);
            match &self.bag {
                DraftBag::New => {}
                DraftBag::Have(id) => w.put("bag", id),
                DraftBag::Bench => w.put("bag", BENCH),
            }
            w.count("container", self.container.into());
            w.records("connections", &self.connections, write_connection);
            w.records("items", &self.items, |w, it| {
                w.count("kind", it.kind.into());
                w.text("name", &it.name);
                w.text("size", &it.size);
                w.count("count", it.count.into());
            });
            w.each("openings", &self.openings, String::clone);
            w.records("treatments", &self.treatments, |w, it| {
                w.count("kind", it.kind.into());
                w.text("product", &it.product);
                w.count("cure_h", it.cure_h);
                w.count("cure_min", it.cure_min);
                w.count("open_min", it.open_min);
                w.flag("cover", it.cover);
                if let Some(fixing) = it.fixing {
                    w.number("fixing", fixing as i64);
                }
            });
            w.records("photos", &self.photos, write_photo);
        })
    }

    /// Reads what [`Draft::to_text`] has written.
    pub fn from_text(text: &str) -> Option<Self> {
        read(&mut Map::parse(text).ok()?).ok()
    }
}

/// Stands for the bench where else a container's id stands.
const BENCH: &str = "bench";

/// An id with a number.
fn write_numbered<N: Copy + Into<u32>>(w: &mut Writer, (id, n): &(String, N)) {
    w.text("id", id);
    w.count("n", (*n).into());
}

fn write_fixing(w: &mut Writer, it: &DraftFixing) {
    w.text("spec", &it.spec);
    w.count("count", it.count.into());
    w.count("slackened", it.slackened.into());
    w.count("found_empty", it.found_empty.into());
    w.count("broke", it.broke.into());
    w.text("place", &it.place);
    w.text("numbers", &it.numbers);
    w.flag("renew", it.renew);
    w.flag("inspect", it.inspect);
    if let Some(apart) = &it.apart {
        w.within("apart", |w| write_numbered(w, apart));
    }
    w.text("washer", &it.washer);
    w.text("spacer", &it.spacer);
    w.text("shim", &it.shim);
    w.count("washers", it.washers.into());
    w.count("spacers", it.spacers.into());
    w.count("shims", it.shims.into());
    w.flag("stud_came", it.stud_came);
    w.flag("union", it.union);
    w.count("used", it.used.into());
    w.count("used_kind", it.used_kind.into());
    w.text("used_size", &it.used_size);
    w.flag("safety", it.safety);
    w.text("tool", &it.tool);
    if let Some(way) = it.way {
        w.number("way", way.into());
    }
    w.flag("spanner_only", it.spanner_only);
    w.text("watch", &it.watch);
    w.records("stages", &it.stages, |w, (text, unit)| {
        w.text("text", text);
        w.count("unit", u32::from(*unit));
    });
    if let Some(tolerance) = it.tolerance {
        w.within("tolerance", |w| match tolerance {
            Tolerance::Percent(n) => w.number("percent", n.into()),
            Tolerance::By(by) => write_figure(w, by),
        });
    }
    if let Some(meant_for) = it.meant_for {
        w.number("oiled", (meant_for == MeantFor::Oiled).into());
    }
    if let Some(running) = it.running {
        w.within("running", |w| write_figure(w, running));
    }
    w.text("source", &it.source);
    w.each("also", &it.also, String::clone);
}

/// Degrees, or thousandths with their unit by its index.
fn write_figure(w: &mut Writer, figure: Figure) {
    match figure {
        Figure::Angle { degrees } => w.number("degrees", degrees.into()),
        Figure::Torque { milli, unit } => {
            w.number("milli", milli.into());
            let at = TorqueUnit::ALL.iter().position(|u| *u == unit);
            w.number("unit", at.unwrap_or(0) as i64);
        }
    }
}

fn write_connection(w: &mut Writer, it: &DraftConnection) {
    w.count("kind", it.kind.into());
    w.text("name", &it.name);
    w.text("a", &it.a);
    w.text("b", &it.b);
    w.flag("a_here", it.a_here);
    w.text("b_on", &it.b_on);
    w.flag("a_off", it.a_off);
    w.flag("b_off", it.b_off);
    w.count("joint", it.joint.into());
    if let Some(joint) = it.b_joint {
        w.number("b_joint", joint.into());
    }
    w.text("a_clamp", &it.a_clamp);
    w.text("b_clamp", &it.b_clamp);
    w.text("route", &it.route);
    if let Some((kind, part)) = &it.route_by {
        w.within("route_by", |w| {
            w.count("kind", u32::from(*kind));
            w.text("part", part);
        });
    }
    w.text("tag", &it.tag);
}

fn write_photo(w: &mut Writer, it: &DraftPhoto) {
    w.text("hash", &it.hash);
    w.text("thumb", &it.thumb);
    w.count("width", it.width);
    w.count("height", it.height);
    w.records("marks", &it.marks, |w, (x, y, fixing)| {
        w.count("x", u32::from(*x));
        w.count("y", u32::from(*y));
        if let Some(n) = fixing.and_then(|n| i64::try_from(n).ok()) {
            w.number("fixing", n);
        }
    });
}

fn read(map: &mut Map) -> Reading<Draft> {
    Ok(Draft {
        name: map.text("name")?,
        lies: map.text("lies")?,
        aside: map.flag("aside")?,
        after: map.each("after", owned)?,
        whys: map.records("whys", |map| Ok((map.text("id")?, map.tiny("n")?)))?,
        carried: map.each("carried", owned)?,
        findings: map.each("findings", owned)?,
        carried_by: map.maybe_text("carried_by")?,
        note: map.text("note")?,
        planned: map.maybe_text("planned")?,
        fixings: map.records("fixings", read_fixing)?,
        bag: match map.maybe_text("bag")? {
            None => DraftBag::New,
            Some(bench) if bench == BENCH => DraftBag::Bench,
            Some(id) => DraftBag::Have(id),
        },
        container: small(map, "container")?.unwrap_or_default(),
        connections: map.records("connections", read_connection)?,
        items: map.records("items", |map| {
            Ok(DraftItem {
                kind: map.tiny("kind")?,
                name: map.text("name")?,
                size: map.text("size")?,
                count: map.small("count")?,
            })
        })?,
        openings: map.each("openings", owned)?,
        treatments: map.records("treatments", |map| {
            Ok(DraftTreatment {
                kind: map.tiny("kind")?,
                product: map.text("product")?,
                cure_h: map.count("cure_h")?,
                cure_min: map.count("cure_min")?,
                open_min: map.count("open_min")?,
                cover: map.flag("cover")?,
                fixing: map.maybe_count("fixing")?.map(|n| n as usize),
            })
        })?,
        photos: map.records("photos", |map| {
            Ok(DraftPhoto {
                hash: map.text("hash")?,
                thumb: map.text("thumb")?,
                width: map.count("width")?,
                height: map.count("height")?,
                marks: map.records("marks", |map| {
                    let fixing = map.maybe_count("fixing")?;
                    Ok((
                        map.small("x")?,
                        map.small("y")?,
                        fixing.and_then(|n| usize::try_from(n).ok()),
                    ))
                })?,
            })
        })?,
    })
}

fn read_fixing(map: &mut Map) -> Reading<DraftFixing> {
    Ok(DraftFixing {
        spec: map.text("spec")?,
        count: map.small("count")?,
        slackened: map.small("slackened")?,
        found_empty: map.small("found_empty")?,
        broke: map.small("broke")?,
        place: map.text("place")?,
        numbers: map.text("numbers")?,
        renew: map.flag("renew")?,
        inspect: map.flag("inspect")?,
        apart: map.within("apart", |map| Ok((map.text("id")?, map.small("n")?)))?,
        washer: map.text("washer")?,
        spacer: map.text("spacer")?,
        shim: map.text("shim")?,
        shims: map.tiny("shims")?,
        washers: map.tiny("washers")?,
        spacers: map.tiny("spacers")?,
        stud_came: map.flag("stud_came")?,
        union: map.flag("union")?,
        used: map.tiny("used")?,
        used_kind: map.tiny("used_kind")?,
        used_size: map.text("used_size")?,
        safety: map.flag("safety")?,
        tool: map.text("tool")?,
        way: small(map, "way")?,
        spanner_only: map.flag("spanner_only")?,
        watch: map.text("watch")?,
        stages: map.records("stages", |map| Ok((map.text("text")?, map.tiny("unit")?)))?,
        tolerance: map.within("tolerance", |map| match small(map, "percent")? {
            Some(n) => Ok(Tolerance::Percent(n)),
            None => read_figure(map).map(Tolerance::By),
        })?,
        meant_for: small(map, "oiled")?.map(|n| match n {
            0 => MeantFor::Dry,
            _ => MeantFor::Oiled,
        }),
        running: map.within("running", read_figure)?,
        source: map.text("source")?,
        also: map.each("also", owned)?,
    })
}

fn read_figure(map: &mut Map) -> Reading<Figure> {
    let degrees = map.maybe_count("degrees")?;
    if let Some(degrees) = degrees.and_then(|n| u16::try_from(n).ok()) {
        return Ok(Figure::Angle { degrees });
    }
    let milli = map.count("milli")?;
    let unit = TorqueUnit::ALL.get(usize::from(map.tiny("unit")?)).copied();
    let unit = unit.unwrap_or_default();
    Ok(Figure::Torque { milli, unit })
}

fn read_connection(map: &mut Map) -> Reading<DraftConnection> {
    Ok(DraftConnection {
        kind: map.tiny("kind")?,
        name: map.text("name")?,
        a: map.text("a")?,
        b: map.text("b")?,
        a_here: map.flag("a_here")?,
        b_on: map.text("b_on")?,
        a_off: map.flag("a_off")?,
        b_off: map.flag("b_off")?,
        joint: map.tiny("joint")?,
        b_joint: small(map, "b_joint")?,
        a_clamp: map.text("a_clamp")?,
        b_clamp: map.text("b_clamp")?,
        route: map.text("route")?,
        route_by: map.within("route_by", |map| Ok((map.tiny("kind")?, map.text("part")?)))?,
        tag: map.text("tag")?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_with_everything_comes_back_the_same() {
        let text = || "a \"b\" \n\u{1} é".to_owned();
        let fixing = DraftFixing {
            spec: text(),
            count: 4,
            slackened: 1,
            found_empty: 2,
            broke: 1,
            place: text(),
            numbers: "1, 2".to_owned(),
            renew: true,
            inspect: true,
            apart: Some((text(), 2)),
            washer: text(),
            spacer: text(),
            shim: text(),
            shims: 3,
            washers: 1,
            spacers: 2,
            stud_came: true,
            union: true,
            used: 2,
            used_kind: 1,
            used_size: text(),
            safety: true,
            tool: text(),
            way: Some(0),
            spanner_only: true,
            watch: text(),
            stages: vec![("12,5".to_owned(), 0), (String::new(), 5)],
            tolerance: Some(Tolerance::Percent(10)),
            meant_for: Some(MeantFor::Dry),
            running: Some(Figure::Torque {
                milli: 1_500,
                unit: TorqueUnit::PoundForceInch,
            }),
            source: text(),
            also: vec![text(), String::new()],
        };
        let full = Draft {
            name: text(),
            lies: text(),
            aside: true,
            after: vec![text()],
            whys: vec![(text(), 3)],
            carried: vec![text()],
            findings: vec![text(), text()],
            carried_by: Some(String::new()),
            note: text(),
            planned: Some(text()),
            fixings: vec![
                fixing,
                DraftFixing::default(),
                DraftFixing {
                    tolerance: Some(Tolerance::By(Figure::Angle { degrees: 5 })),
                    meant_for: Some(MeantFor::Oiled),
                    ..DraftFixing::default()
                },
                DraftFixing {
                    tolerance: Some(Tolerance::By(Figure::Torque {
                        milli: 0,
                        unit: TorqueUnit::KilogramForceCentimetre,
                    })),
                    ..DraftFixing::default()
                },
            ],
            bag: DraftBag::Have(text()),
            container: 3,
            connections: vec![
                DraftConnection {
                    kind: 1,
                    name: text(),
                    a: text(),
                    b: text(),
                    a_here: true,
                    b_on: HERE.to_owned(),
                    a_off: true,
                    b_off: true,
                    joint: 2,
                    b_joint: Some(0),
                    a_clamp: text(),
                    b_clamp: text(),
                    route: text(),
                    route_by: Some((0, String::new())),
                    tag: text(),
                },
                DraftConnection::default(),
            ],
            items: vec![DraftItem {
                kind: 3,
                name: text(),
                size: text(),
                count: 7,
            }],
            openings: vec![text()],
            treatments: vec![DraftTreatment {
                kind: 2,
                product: text(),
                fixing: Some(1),
                cure_h: 24,
                cure_min: 30,
                open_min: 10,
                cover: true,
            }],
            photos: vec![DraftPhoto {
                hash: text(),
                thumb: text(),
                width: 1600,
                height: 1200,
                marks: vec![(0, 1000, Some(0)), (1, 2, None)],
            }],
        };
        let bench = Draft {
            bag: DraftBag::Bench,
            ..Draft::default()
        };
        for draft in [full, bench, Draft::default()] {
            assert_eq!(Draft::from_text(&draft.to_text()), Some(draft));
        }
        assert_eq!(Draft::from_text("["), None);
    }
}
