//! Board, pick list and drawing index as documents: which template, which name, which day.
//!
//! It adds nothing to them but the paper and the words for the moment.

use serde::Serialize;
use serde_json::{Value, json};

use super::{Board, Document, DrawingIndex, Edition, PickList, Thumbnails};
use crate::calendar::Moment;
use crate::job::Job;

impl Board {
    /// The board as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        document(job, "board.typ.j2", "board", self, now, &now.long())
    }
}

impl PickList {
    /// The pick list as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        document(job, "pick.typ.j2", "pick", self, now, &now.day().to_string())
    }
}

impl DrawingIndex {
    /// The drawing index as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        document(job, "drawings.typ.j2", "drawings", self, now, &now.day().to_string())
    }
}

fn document(
    job: &Job,
    template: &'static str,
    stem: &str,
    page: &impl Serialize,
    now: Moment,
    moment: &str,
) -> Document {
    let mut data = serde_json::to_value(page).expect("plain data with text keys is always a JSON value");
    if let Value::Object(fields) = &mut data {
        fields.insert("paper".into(), json!(job.project.settings.paper.value.word()));
        fields.insert("moment".into(), json!(moment));
        fields.insert("aircraft".into(), json!(job.project.aircraft.value));
        fields.insert("serial".into(), json!(job.project.serial().map(|serial| &serial.value)));
    }
    Document {
        template,
        stem: stem.to_owned(),
        paper: job.project.settings.paper.value,
        code: None,
        part: None,
        edition: Edition::default(),
        date: Some(now.day()),
        data,
        values: json!({}),
        thumbnails: Thumbnails::new(),
    }
}
