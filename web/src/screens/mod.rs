//! The screens. Each prints what the core's views say and turns taps into
//! commands; none of them knows a rule.
use crate::part;
mod again;
mod audit;
mod copies;
mod find;
mod job;
mod jobs;
mod log;
mod new_job;
mod part;
mod photo;
mod put_back;
mod settings;
mod shots;
mod take_off;

use yew::prelude::*;

use crate::kit::{Button, Empty, Icon};
use crate::router::Route;

/// The screen of a route.
pub fn show(route: &Route) -> Html {
    match route.clone() {
        Route::Jobs => html! { <jobs::Jobs /> },
        Route::NewJob => html! { <new_job::NewJob /> },
        Route::Settings => html! { <settings::Settings /> },
        Route::About => html! { <settings::About /> },
        Route::Job { job } => html! { <job::JobScreen key={job.to_string()} job={job.clone()} /> },
        Route::Log { job } => html! { <log::Log key={job.to_string()} job={job.clone()} /> },
        Route::Labels { job } | Route::ToBuy { job } => {
            html! { <job::JobScreen key={job.to_string()} job={job.clone()} /> }
        }
        Route::TakeOff { job } => {
            html! { <take_off::TakeOffScreen key={job.to_string()} job={job.clone()} /> }
        }
        Route::PutBack { job } => {
            html! { <put_back::PutBack key={job.to_string()} job={job.clone()} /> }
        }
        Route::Part { job, part } | Route::PutBackPart { job, part } => {
            html! { <part::PartScreen key={part.to_string()} job={job.clone()} part={part.clone()} /> }
        }
        Route::Audit { job } | Route::SignOff { job } => {
            html! { <audit::AuditScreen key={job.to_string()} job={job.clone()} /> }
        }
        Route::Find { job } => {
            html! { <find::FindScreen key={job.to_string()} job={job.clone()} /> }
        }
        Route::Photo { job, photo } => {
            html! { <photo::PhotoScreen key={photo.to_string()} job={job.clone()} photo={photo.clone()} /> }
        }
        #[cfg(feature = "gallery")]
        Route::Gallery => html! { <crate::kit::gallery::Gallery /> },
        Route::Lost => html! { <Lost /> },
    }
}

/// Props of every screen of a job.
#[derive(Properties, PartialEq)]
pub struct OfJob {
    pub job: AttrValue,
}

/// An address that leads nowhere, or a job that is not on this phone.
#[component]
pub fn Lost() -> Html {
    html! {
        { part!(Empty { icon: Icon::Find, title: "Nothing is here", text: "This job or page is not on this phone. If it is on another, save a copy there and open it here.", children: html! { <>
            { part!(Button { label: "All jobs", href: "#/" }) }
        </> } }) }
    }
}
