//! What a person has set for themselves, kept beside the database so that the
//! first paint already follows it. Nothing of a job is in here.
use countback_core::codec::CodecError;
use countback_core::codec::json::{Map, Writer};
use countback_core::guard::PATIENCE_MS;
use countback_core::torque::wrench::WrenchRange;
use countback_core::torque::{Torque, TorqueUnit};
use countback_core::view::Wrench;
use countback_core::words::{self, Style};

use crate::ports::marker::Shelf;

const KEY: &str = "countback.prefs";
/// The setting that goes in with every act: what stands beside the database
/// reaches the disk late, and is lost when the phone dies before.
pub const WITH_ACT: &str = "prefs";

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// Dark on light, made for sun; the default.
    #[default]
    Light,
    Dark,
    /// As the phone is set.
    Phone,
}

impl Theme {
    const fn word(self) -> &'static str {
        match self {
            Self::Light => "light",
            Self::Dark => "dark",
            Self::Phone => "phone",
        }
    }

    fn read(word: &str) -> Option<Self> {
        [Self::Light, Self::Dark, Self::Phone]
            .into_iter()
            .find(|it| it.word() == word)
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    #[default]
    Right,
    Left,
}

/// A torque wrench of the person's, its range in thousandths of its unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MyWrench {
    pub name: String,
    pub from: u32,
    pub to: u32,
    pub unit: TorqueUnit,
}

impl MyWrench {
    /// "5 to 25 N·m".
    pub fn range(&self, style: Style) -> String {
        format!(
            "{} to {} {}",
            words::thousandths(self.from, style),
            words::thousandths(self.to, style),
            self.unit
        )
    }
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prefs {
    /// Who is at work, as it stands in the record.
    pub by: String,
    pub theme: Theme,
    pub hand: Hand,
    /// Where the person was.
    pub route: String,
    /// Torque unit for new jobs, by its stored word.
    pub torque: String,
    /// How long the app may be out of sight before it asks, in minutes.
    pub patience_min: u32,
    /// Per job, how many acts there were when a copy was last saved to a file.
    pub copied: Vec<(String, u32)>,
    /// The person's torque wrenches.
    pub wrenches: Vec<MyWrench>,
    /// How often anything of this was changed: tells the later of two.
    pub turn: u32,
}

impl Default for Prefs {
    fn default() -> Self {
        Self {
            by: String::new(),
            theme: Theme::Light,
            hand: Hand::Right,
            route: String::new(),
            torque: "N.m".to_owned(),
            patience_min: (PATIENCE_MS / 60_000) as u32,
            copied: Vec::new(),
            wrenches: Vec::new(),
            turn: 0,
        }
    }
}

impl Prefs {
    pub fn load(shelf: &dyn Shelf) -> Self {
        shelf
            .get(KEY)
            .and_then(|text| Self::read(&text).ok())
            .unwrap_or_default()
    }

    /// Those that went in with the last act, where the phone died before what
    /// stands beside the database was on its disk.
    pub fn later_of(self, with_act: Option<&str>) -> Option<Self> {
        let it = Self::read(with_act?).ok()?;
        (it.turn > self.turn).then_some(it)
    }

    pub fn save(&self, shelf: &dyn Shelf) {
        shelf.set(KEY, &self.text());
    }

    /// As they are kept.
    pub fn text(&self) -> String {
        Writer::object(|w| {
            w.text("by", &self.by);
            w.text("theme", self.theme.word());
            w.flag("left", self.hand == Hand::Left);
            w.text("route", &self.route);
            w.text("torque", &self.torque);
            w.count("patience", self.patience_min);
            w.records("copied", &self.copied, |w, (job, acts)| {
                w.text("job", job);
                w.count("acts", *acts);
            });
            w.records("wrenches", &self.wrenches, |w, it| {
                w.text("name", &it.name);
                w.count("from", it.from);
                w.count("to", it.to);
                w.text("unit", it.unit.sign());
            });
            w.count("turn", self.turn);
        })
    }

    fn read(text: &str) -> Result<Self, CodecError> {
        let mut map = Map::parse(text)?;
        Ok(Self {
            by: map.text("by")?,
            theme: map.maybe("theme", Theme::read)?.unwrap_or_default(),
            hand: if map.flag("left")? {
                Hand::Left
            } else {
                Hand::Right
            },
            route: map.text("route")?,
            torque: map
                .maybe_text("torque")?
                .unwrap_or_else(|| Self::default().torque),
            patience_min: map
                .maybe_count("patience")?
                .unwrap_or_else(|| Self::default().patience_min),
            copied: map.records("copied", |one| Ok((one.text("job")?, one.count("acts")?)))?,
            wrenches: map.records("wrenches", |one| {
                Ok(MyWrench {
                    name: one.text("name")?,
                    from: one.count("from")?,
                    to: one.count("to")?,
                    unit: one.read("unit", |text| text.parse().ok())?,
                })
            })?,
            turn: map.count("turn")?,
        })
    }

    /// The wrenches as the core takes them.
    pub fn wrenches(&self) -> Vec<Wrench> {
        let torque = Torque::from_thousandths;
        self.wrenches
            .iter()
            .map(|it| Wrench {
                name: it.name.clone(),
                range: WrenchRange {
                    min: torque(it.from, it.unit),
                    max: torque(it.to, it.unit),
                },
            })
            .collect()
    }

    /// Puts theme and hand on the page, for the styles.
    pub fn show(&self) {
        let root = web_sys::window()
            .and_then(|w| w.document())
            .and_then(|d| d.document_element());
        let Some(root) = root else { return };
        let _ = match self.theme {
            Theme::Light => root.set_attribute("data-theme", "light"),
            Theme::Dark => root.set_attribute("data-theme", "dark"),
            Theme::Phone => root.remove_attribute("data-theme"),
        };
        let hand = match self.hand {
            Hand::Right => "right",
            Hand::Left => "left",
        };
        let _ = root.set_attribute("data-hand", hand);
    }
}
