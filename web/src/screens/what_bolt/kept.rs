//! What is being measured as text and back: kept on the phone until it is
//! logged, so that a page loaded anew goes on with it. A text that cannot be
//! read is an empty entry.
use countback_core::codec::CodecError;
use countback_core::codec::json::{Map, Writer};
use countback_core::fastener::FastenerSpec;
use countback_core::fastener::identify::{Measure, Measured, PitchCount};

/// Where it is kept for a job.
pub fn key(job: &str) -> String {
    format!("what-bolt.{job}")
}

/// The entry being made.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Entry {
    pub found: Measured,
    /// Where it turned up.
    pub place: String,
    /// The id of the stray that is being measured, when it is logged already.
    pub stray: Option<String>,
}

impl Entry {
    /// Empty where nothing is entered.
    pub fn to_text(&self) -> String {
        if *self == Self::default() {
            return String::new();
        }
        let m = &self.found;
        let named = FastenerSpec {
            kind: m.kind,
            head: m.head,
            thread: m.thread,
            length_um: None,
            class: m.class,
            text: String::new(),
        };
        Writer::object(|w| {
            w.put("spec", &named.to_string());
            measure(w, "outside", m.outside);
            measure(w, "bore", m.bore);
            measure(w, "length", m.length);
            if let Some(p) = m.pitch {
                w.count("threads", u32::from(p.threads));
                measure(w, "over", Some(p.over));
            }
            if let Some(tapers) = m.tapers {
                w.number("tapers", tapers.into());
            }
            w.text("place", &self.place);
            w.maybe_text("stray", self.stray.as_ref());
        })
    }

    pub fn from_text(text: &str) -> Self {
        Map::parse(text)
            .and_then(|mut map| read(&mut map))
            .unwrap_or_default()
    }
}

fn measure(w: &mut Writer, field: &'static str, it: Option<Measure>) {
    if let Some(it) = it {
        w.within(field, |w| {
            w.count("um", it.um);
            w.count("give", it.uncertainty_um);
        });
    }
}

fn read(map: &mut Map) -> Result<Entry, CodecError> {
    let named: FastenerSpec = map.read("spec", |text| text.parse().ok())?;
    let mut length = |field| {
        map.within(field, |map| {
            Ok(Measure {
                um: map.count("um")?,
                uncertainty_um: map.count("give")?,
            })
        })
    };
    let (outside, bore, long, over) = (
        length("outside")?,
        length("bore")?,
        length("length")?,
        length("over")?,
    );
    let threads = map.small("threads")?;
    let tapers = map.maybe_count("tapers")?.map(|n| n > 0);
    Ok(Entry {
        found: Measured {
            outside,
            bore,
            length: long,
            tapers,
            pitch: over.map(|over| PitchCount { threads, over }),
            ..Measured::from_spec(&named)
        },
        place: map.text("place")?,
        stray: map.maybe_text("stray")?,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn what_was_measured_is_there_again() {
        let at = |um| Measure {
            um,
            uncertainty_um: 50,
        };
        let spec: FastenerSpec = "bolt | head=hex 13 mm | class=8.8".parse().unwrap();
        let entry = Entry {
            found: Measured {
                outside: Some(at(7_938)),
                length: Some(at(30_000)),
                tapers: Some(false),
                pitch: Some(PitchCount {
                    threads: 10,
                    over: at(12_500),
                }),
                ..Measured::from_spec(&spec)
            },
            place: "floor".to_owned(),
            stray: Some("x".to_owned()),
        };
        assert_eq!(Entry::from_text(&entry.to_text()), entry);
        assert_eq!(Entry::default().to_text(), "");
        assert_eq!(
            Entry::from_text("{\"spec\":\"bolt\",\"odd\":1"),
            Entry::default()
        );
    }
}
