//! The places of the app and how they are written in the address.

use super::{decode, encode};
use yew::AttrValue;

/// One of the five screens of a job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tab {
    Job,
    TakeOff,
    PutBack,
    Audit,
    Find,
}

impl Tab {
    /// In the order of the bar.
    pub const ALL: [Tab; 5] = [Tab::Job, Tab::TakeOff, Tab::PutBack, Tab::Audit, Tab::Find];

    /// The screen's own route in a job.
    pub fn route(self, job: AttrValue) -> Route {
        match self {
            Tab::Job => Route::Job { job },
            Tab::TakeOff => Route::TakeOff { job },
            Tab::PutBack => Route::PutBack { job },
            Tab::Audit => Route::Audit { job },
            Tab::Find => Route::Find { job },
        }
    }
}

/// A place of the app. Ids are text here: the screen that opens a route asks whether the id exists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Route {
    /// All jobs on this device; the first screen.
    Jobs,
    NewJob,
    Settings,
    /// What the app is, its version, licences and cautions.
    About,
    Job {
        job: AttrValue,
    },
    /// The same, at one of its bags and boxes.
    Bag {
        job: AttrValue,
        bag: AttrValue,
    },
    /// Every act of a job, the struck ones too.
    Log {
        job: AttrValue,
    },
    /// The to-buy list.
    ToBuy {
        job: AttrValue,
    },
    TakeOff {
        job: AttrValue,
    },
    /// A part as it comes off, or as it is recorded.
    Part {
        job: AttrValue,
        part: AttrValue,
    },
    PutBack {
        job: AttrValue,
    },
    /// A part as it goes back.
    PutBackPart {
        job: AttrValue,
        part: AttrValue,
    },
    Audit {
        job: AttrValue,
    },
    SignOff {
        job: AttrValue,
    },
    Find {
        job: AttrValue,
    },
    Photo {
        job: AttrValue,
        photo: AttrValue,
    },
    /// A found or left-over fastener, measured.
    WhatBolt {
        job: AttrValue,
    },
    /// One fixing with all that is known of it.
    Fixing {
        job: AttrValue,
        fixing: AttrValue,
    },
    /// The torque pass over one fixing.
    Tighten {
        job: AttrValue,
        fixing: AttrValue,
    },
    /// The least work that reaches a part.
    WayIn {
        job: AttrValue,
    },
    /// The job as a drawing.
    Picture {
        job: AttrValue,
    },
    /// The page for whoever goes on with it.
    Handover {
        job: AttrValue,
    },
    /// Every part of the kit, to look at.
    #[cfg(feature = "gallery")]
    Gallery,
    /// An address that names no place; shown as such, with a way to the jobs.
    Lost,
}

impl Route {
    /// The route as a link: `#/job/…`.
    pub fn href(&self) -> String {
        match self {
            Route::Jobs | Route::Lost => "#/".to_owned(),
            Route::NewJob => "#/new".to_owned(),
            Route::Settings => "#/settings".to_owned(),
            Route::About => "#/about".to_owned(),
            Route::Job { job } => of_job(job, ""),
            Route::Bag { job, bag } => of_thing(job, "bag", bag),
            Route::Log { job } => of_job(job, "/log"),
            Route::ToBuy { job } => of_job(job, "/to-buy"),
            Route::TakeOff { job } => of_job(job, "/take-off"),
            Route::Part { job, part } => of_thing(job, "take-off", part),
            Route::PutBack { job } => of_job(job, "/put-back"),
            Route::PutBackPart { job, part } => of_thing(job, "put-back", part),
            Route::Audit { job } => of_job(job, "/audit"),
            Route::SignOff { job } => of_job(job, "/sign-off"),
            Route::Find { job } => of_job(job, "/find"),
            Route::Photo { job, photo } => of_thing(job, "photo", photo),
            Route::WhatBolt { job } => of_job(job, "/what-bolt"),
            Route::Fixing { job, fixing } => of_thing(job, "fixing", fixing),
            Route::Tighten { job, fixing } => of_thing(job, "tighten", fixing),
            Route::WayIn { job } => of_job(job, "/way-in"),
            Route::Picture { job } => of_job(job, "/picture"),
            Route::Handover { job } => of_job(job, "/handover"),
            #[cfg(feature = "gallery")]
            Route::Gallery => "#/gallery".to_owned(),
        }
    }

    /// Whether the screen has a button that strikes what was done last, in words of its own or where the shell's is.
    pub fn has_an_undo_of_its_own(&self) -> bool {
        matches!(
            self,
            Route::TakeOff { .. } | Route::Fixing { .. } | Route::Tighten { .. }
        )
    }

    /// Reads a hash, with or without its `#`. An empty one is the list of jobs; one that names no place is `Lost`.
    pub fn parse(hash: &str) -> Route {
        let hash = hash.strip_prefix('#').unwrap_or(hash);
        let hash = hash.strip_prefix('/').unwrap_or(hash);
        let segments: Option<Vec<AttrValue>> = hash
            .trim_end_matches('/')
            .split('/')
            .map(|it| decode(it).map(AttrValue::from))
            .collect();
        let Some(segments) = segments else {
            return Route::Lost;
        };
        let words: Vec<&str> = segments.iter().map(AttrValue::as_str).collect();
        let id = |position: usize| segments.get(position).cloned().unwrap_or_default();
        if words.first() == Some(&"job") && words.iter().any(|word| word.is_empty()) {
            return Route::Lost;
        }
        match words.as_slice() {
            [""] => Route::Jobs,
            ["new"] => Route::NewJob,
            ["settings"] => Route::Settings,
            ["about"] => Route::About,
            ["job", _] => Route::Job { job: id(1) },
            ["job", _, "bag", _] => Route::Bag {
                job: id(1),
                bag: id(3),
            },
            ["job", _, "log"] => Route::Log { job: id(1) },
            ["job", _, "to-buy"] => Route::ToBuy { job: id(1) },
            ["job", _, "take-off"] => Route::TakeOff { job: id(1) },
            ["job", _, "take-off", _] => Route::Part {
                job: id(1),
                part: id(3),
            },
            ["job", _, "put-back"] => Route::PutBack { job: id(1) },
            ["job", _, "put-back", _] => Route::PutBackPart {
                job: id(1),
                part: id(3),
            },
            ["job", _, "audit"] => Route::Audit { job: id(1) },
            ["job", _, "sign-off"] => Route::SignOff { job: id(1) },
            ["job", _, "find"] => Route::Find { job: id(1) },
            ["job", _, "photo", _] => Route::Photo {
                job: id(1),
                photo: id(3),
            },
            ["job", _, "what-bolt"] => Route::WhatBolt { job: id(1) },
            ["job", _, "fixing", _] => Route::Fixing {
                job: id(1),
                fixing: id(3),
            },
            ["job", _, "tighten", _] => Route::Tighten {
                job: id(1),
                fixing: id(3),
            },
            ["job", _, "way-in"] => Route::WayIn { job: id(1) },
            ["job", _, "picture"] => Route::Picture { job: id(1) },
            ["job", _, "handover"] => Route::Handover { job: id(1) },
            #[cfg(feature = "gallery")]
            ["gallery"] => Route::Gallery,
            _ => Route::Lost,
        }
    }

    /// Whether its screen is in the first file of the WASM (`web/later.txt`).
    pub const fn is_in_first_file(&self) -> bool {
        matches!(self, Self::Jobs | Self::Job { .. })
    }

    /// The job a route belongs to.
    pub fn job(&self) -> Option<&AttrValue> {
        match self {
            Route::Job { job }
            | Route::Bag { job, .. }
            | Route::Log { job }
            | Route::ToBuy { job }
            | Route::TakeOff { job }
            | Route::Part { job, .. }
            | Route::PutBack { job }
            | Route::PutBackPart { job, .. }
            | Route::Audit { job }
            | Route::SignOff { job }
            | Route::Find { job }
            | Route::Photo { job, .. }
            | Route::WhatBolt { job }
            | Route::Fixing { job, .. }
            | Route::Tighten { job, .. }
            | Route::WayIn { job }
            | Route::Picture { job }
            | Route::Handover { job } => Some(job),
            Route::Jobs | Route::NewJob | Route::Settings | Route::About | Route::Lost => None,
            #[cfg(feature = "gallery")]
            Route::Gallery => None,
        }
    }

    /// The screen whose item in the bar is current.
    pub fn tab(&self) -> Option<Tab> {
        match self {
            Route::Job { .. }
            | Route::Bag { .. }
            | Route::Log { .. }
            | Route::ToBuy { .. }
            | Route::Picture { .. }
            | Route::Handover { .. } => Some(Tab::Job),
            Route::TakeOff { .. } | Route::Part { .. } | Route::WayIn { .. } => Some(Tab::TakeOff),
            Route::PutBack { .. } | Route::PutBackPart { .. } | Route::Tighten { .. } => {
                Some(Tab::PutBack)
            }
            Route::Audit { .. } | Route::SignOff { .. } => Some(Tab::Audit),
            Route::Find { .. } => Some(Tab::Find),
            Route::Jobs
            | Route::NewJob
            | Route::Settings
            | Route::About
            | Route::Photo { .. }
            | Route::WhatBolt { .. }
            | Route::Fixing { .. }
            | Route::Lost => None,
            #[cfg(feature = "gallery")]
            Route::Gallery => None,
        }
    }
}

fn of_job(job: &str, rest: &str) -> String {
    format!("#/job/{}{rest}", encode(job))
}

fn of_thing(job: &str, kind: &str, thing: &str) -> String {
    format!("#/job/{}/{kind}/{}", encode(job), encode(thing))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn every_route(job: &'static str, thing: &'static str) -> Vec<Route> {
        let job = AttrValue::from(job);
        let thing = AttrValue::from(thing);
        let mut routes: Vec<Route> = Tab::ALL.iter().map(|tab| tab.route(job.clone())).collect();
        routes.extend([
            Route::Jobs,
            Route::NewJob,
            Route::Settings,
            Route::About,
            Route::Log { job: job.clone() },
            Route::ToBuy { job: job.clone() },
            Route::SignOff { job: job.clone() },
            Route::Part {
                job: job.clone(),
                part: thing.clone(),
            },
            Route::PutBackPart {
                job: job.clone(),
                part: thing.clone(),
            },
            Route::WhatBolt { job: job.clone() },
            Route::WayIn { job: job.clone() },
            Route::Picture { job: job.clone() },
            Route::Handover { job: job.clone() },
            Route::Fixing {
                job: job.clone(),
                fixing: thing.clone(),
            },
            Route::Tighten {
                job: job.clone(),
                fixing: thing.clone(),
            },
            Route::Bag {
                job: job.clone(),
                bag: thing.clone(),
            },
            Route::Photo { job, photo: thing },
        ]);
        #[cfg(feature = "gallery")]
        routes.push(Route::Gallery);
        routes
    }

    #[test]
    fn a_printed_route_parses_to_itself() {
        for (job, thing) in [
            ("j1", "p7"),
            ("a/b", "100%"),
            ("#", "?x=1&y"),
            ("Motor Ü 2", "log"),
            (".", "take-off"),
        ] {
            for route in every_route(job, thing) {
                assert_eq!(Route::parse(&route.href()), route, "{}", route.href());
            }
        }
    }

    #[test]
    fn no_two_routes_share_an_address() {
        let mut hrefs: Vec<String> = every_route("j", "t").iter().map(Route::href).collect();
        let all = hrefs.len();
        hrefs.sort();
        hrefs.dedup();
        assert_eq!(hrefs.len(), all);
    }

    #[test]
    fn an_address_that_names_no_place_is_lost() {
        for hash in [
            "#/nowhere",
            "#/job",
            "#/job/",
            "#/job//take-off",
            "#/job/1/2/3/4",
            "#/job/%zz",
            "#/job/1/photo",
        ] {
            assert_eq!(Route::parse(hash), Route::Lost, "{hash}");
        }
    }

    #[test]
    fn an_empty_or_bare_hash_is_the_list_of_jobs() {
        for hash in ["", "#", "#/", "/"] {
            assert_eq!(Route::parse(hash), Route::Jobs, "{hash}");
        }
    }

    #[test]
    fn a_trailing_slash_changes_nothing() {
        assert_eq!(
            Route::parse("#/job/7/audit/"),
            Route::Audit { job: "7".into() }
        );
    }

    #[test]
    fn each_screen_is_current_in_its_own_tab() {
        for tab in Tab::ALL {
            assert_eq!(tab.route("j".into()).tab(), Some(tab));
        }
    }
}
