//! The published precedence cases of tests/reference/ordering_cases.json,
//! each with its citation and whether it was `seen` there or comes from
//! `memory`, as the file says.
#![allow(dead_code)] // each test binary reads its own part of a case

use countback_core::access::{Edge, Precedence, Why};
use serde_json::Value;

pub struct Case {
    pub id: String,
    pub citation: String,
    pub seen: String,
    pub names: Vec<String>,
    pub edges: Vec<Edge>,
    pub told: Value,
}

impl Case {
    pub fn graph(&self) -> Precedence {
        Precedence::new(self.names.len(), &self.edges).unwrap()
    }

    pub fn number(&self, name: &Value) -> u32 {
        let name = text(name);
        self.names.iter().position(|n| *n == name).unwrap() as u32
    }

    pub fn numbers(&self, names: &Value) -> Vec<u32> {
        names
            .as_array()
            .unwrap()
            .iter()
            .map(|name| self.number(name))
            .collect()
    }

    pub fn sorted(&self, names: &Value) -> Vec<u32> {
        let mut numbers = self.numbers(names);
        numbers.sort_unstable();
        numbers
    }

    pub fn answer(&self, name: &str) -> &Value {
        let answer = &self.told["answers"][name];
        assert!(!answer.is_null(), "{} has no answer {name}", self.id);
        answer
    }

    /// Whole numbers told per node, in node order: `tool`, `direction`.
    pub fn per_node(&self, field: &str) -> Vec<i64> {
        let list = self.told[field].as_array().unwrap();
        list.iter().map(|v| v.as_i64().unwrap()).collect()
    }

    /// The place of each name when names are sorted, numbers as numbers: the
    /// sense in which the file calls an order the smallest.
    pub fn name_ranks(&self) -> Vec<u32> {
        let mut sorted: Vec<&String> = self.names.iter().collect();
        sorted.sort_by_key(|name| (name.parse::<i64>().unwrap_or(0), (*name).clone()));
        self.names
            .iter()
            .map(|n| sorted.iter().position(|s| *s == n).unwrap() as u32)
            .collect()
    }
}

fn text(value: &Value) -> String {
    value
        .as_str()
        .map_or_else(|| value.to_string(), str::to_owned)
}

pub fn all() -> Vec<Case> {
    let json = include_str!("../../../reference/ordering_cases.json");
    let list: Vec<Value> = serde_json::from_str(json).unwrap();
    list.into_iter()
        .map(|told| {
            let names: Vec<String> = told["nodes"].as_array().unwrap().iter().map(text).collect();
            let at = |value: &Value| {
                let name = text(value);
                names.iter().position(|n| *n == name).unwrap() as u32
            };
            let edges = told["edges_before_after"].as_array().unwrap();
            let edges = edges
                .iter()
                .map(|pair| Edge::new(at(&pair[0]), at(&pair[1]), Why::Stated))
                .collect();
            Case {
                id: text(&told["id"]),
                citation: text(&told["citation"]),
                seen: text(&told["seen"]),
                names,
                edges,
                told,
            }
        })
        .collect()
}

pub fn case(id: &str) -> Case {
    all().into_iter().find(|case| case.id == id).unwrap()
}
