//! The two files of a plan, cut from the file that wasm-bindgen wrote.
//!
//! The first has, for each function of the second that it calls or whose
//! address it takes, an import `later.SLOT`: a place in the table, which the
//! page fills with a stand-in that fetches the second file and then calls what
//! is in the table by then. The second imports the memory, the table, the
//! globals and the functions of the first that it needs from `first`, writes
//! its functions into the table and its data to where the first left it out.
//!
//! Long for a file, as both cuts must agree in every place and are read side by
//! side.

use super::plan::Plan;
use anyhow::{Context, Result, bail};
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::ops::Range;
use walrus::ir::{self, Visitor};
use walrus::{
    ConstExpr, DataKind, ElementItems, ElementKind, ExportItem, FunctionId, FunctionKind, GlobalId,
    GlobalKind, ImportedFunction, MemoryId, Module, ModuleConfig, TableId,
};

/// The module names of the imports on both sides.
const LATER: &str = "later";
const FIRST: &str = "first";

/// The names of the first file's memory and table, for the second and for the
/// page.
const MEMORY: &str = "_memory";
const TABLE: &str = "_table";

/// Both files.
pub struct Carved {
    pub first: Vec<u8>,
    pub second: Vec<u8>,
    /// Functions of the second that the first refers to, each by its place in
    /// the table and its name.
    pub stand_ins: Vec<(u64, String)>,
    /// How many functions of the first the second calls.
    pub shared: usize,
}

/// A function's, global's or table's place in the file, the same in both
/// copies of it.
type Index = usize;

pub fn carve(bound: &[u8], plan: &Plan) -> Result<Carved> {
    let mut first = Copy::parse(bound)?;
    let mut second = Copy::parse(bound)?;
    let crossing = Crossing::find(&first, plan)?;
    let carved = Carved {
        stand_ins: crossing
            .slots
            .iter()
            .map(|(&index, places)| (places[0], first.name(index)))
            .collect(),
        shared: crossing.exported.len(),
        first: Vec::new(),
        second: Vec::new(),
    };
    let pieces = first.become_first(&crossing, &plan.data)?;
    second.become_second(&crossing, pieces)?;
    Ok(Carved {
        first: first.module.emit_wasm(),
        second: second.module.emit_wasm(),
        ..carved
    })
}

/// What goes from one file to the other.
struct Crossing {
    /// By function: whether it is second.
    later: Vec<bool>,
    /// Functions of the second file that the first refers to, each with its
    /// places in the table.
    slots: BTreeMap<Index, Vec<u64>>,
    /// How long the table then is.
    table_len: u64,
    /// Functions of the first file, and of the page, that the second calls.
    shared: BTreeSet<Index>,
    /// Those of them that the first file exports, and by what name.
    exported: Vec<(String, Index)>,
    globals: BTreeSet<Index>,
    tables: BTreeSet<Index>,
}

impl Crossing {
    fn find(copy: &Copy, plan: &Plan) -> Result<Self> {
        let module = &copy.module;
        let is_local = |index: Index| {
            matches!(
                module.funcs.get(copy.functions[index]).kind,
                FunctionKind::Local(_)
            )
        };
        let later: Vec<bool> = module
            .funcs
            .iter()
            .enumerate()
            .map(|(index, function)| {
                let named = function.name.as_ref();
                is_local(index) && named.is_some_and(|name| plan.later.contains(name))
            })
            .collect();
        if !later.contains(&true) {
            bail!("none of the second file's functions is there by its name");
        }
        for export in module.exports.iter() {
            if let ExportItem::Function(id) = export.item
                && later[place(&copy.functions, &id)?]
            {
                bail!("{} is exported and cannot be second", export.name);
            }
        }
        let mut called = BTreeSet::new();
        let mut shared = BTreeSet::new();
        let mut globals = BTreeSet::new();
        let mut tables = BTreeSet::from([copy.table]);
        for (index, function) in module.funcs.iter().enumerate() {
            let FunctionKind::Local(local) = &function.kind else {
                continue;
            };
            let mut uses = Uses::default();
            ir::dfs_in_order(&mut uses, local, local.entry_block());
            for id in &uses.functions {
                let to = place(&copy.functions, id)?;
                match (later[index], later[to]) {
                    (false, true) => called.insert(to),
                    (true, false) => shared.insert(to),
                    _ => false,
                };
            }
            if later[index] {
                for id in &uses.globals {
                    globals.insert(place(&copy.globals, id)?);
                }
                for id in &uses.tables {
                    tables.insert(place(&copy.tables, id)?);
                }
            }
        }
        let mut slots = copy.slots()?;
        let mut table_len = module.tables.get(copy.tables[copy.table]).initial;
        for index in called {
            slots.entry(index).or_insert_with(|| {
                table_len += 1;
                vec![table_len - 1]
            });
        }
        slots.retain(|&index, _| later[index]);
        let exported = shared
            .iter()
            .copied()
            .filter(|&index| is_local(index))
            .enumerate()
            .map(|(number, index)| (short(number), index))
            .collect();
        Ok(Self {
            later,
            slots,
            table_len,
            shared,
            exported,
            globals,
            tables,
        })
    }
}

/// One of the two copies of the file that the parts are cut from.
struct Copy {
    module: Module,
    functions: Vec<FunctionId>,
    globals: Vec<GlobalId>,
    tables: Vec<TableId>,
    /// The table of functions.
    table: Index,
    memory: MemoryId,
}

impl Copy {
    fn parse(wasm: &[u8]) -> Result<Self> {
        let mut config = ModuleConfig::new();
        config.generate_producers_section(false);
        let module = config.parse(wasm)?;
        let tables: Vec<TableId> = module.tables.iter().map(|table| table.id()).collect();
        let table = module
            .tables
            .main_function_table()?
            .context("there is no table of functions")?;
        let memories: Vec<MemoryId> = module.memories.iter().map(|it| it.id()).collect();
        let [memory] = memories[..] else {
            bail!("there are {} memories and not one", memories.len());
        };
        Ok(Self {
            functions: module.funcs.iter().map(|it| it.id()).collect(),
            globals: module.globals.iter().map(|it| it.id()).collect(),
            table: place(&tables, &table)?,
            tables,
            memory,
            module,
        })
    }

    fn name(&self, index: Index) -> String {
        let function = self.module.funcs.get(self.functions[index]);
        let name = function.name.as_deref().unwrap_or_default();
        format!("{:#}", rustc_demangle::demangle(name))
    }

    /// Leaves the second file's functions and data out, and answers the data.
    fn become_first(
        &mut self,
        crossing: &Crossing,
        data: &[Range<u32>],
    ) -> Result<Vec<(u32, Vec<u8>)>> {
        for (&index, places) in &crossing.slots {
            self.import(LATER, &places[0].to_string(), index);
        }
        for (index, &is_later) in crossing.later.iter().enumerate() {
            if is_later && !crossing.slots.contains_key(&index) {
                self.module.funcs.delete(self.functions[index]);
            }
        }
        let exports = &mut self.module.exports;
        for (name, index) in &crossing.exported {
            exports.add(name, self.functions[*index]);
        }
        for &index in &crossing.globals {
            exports.add(&format!("_global{index}"), self.globals[index]);
        }
        for &index in &crossing.tables {
            exports.add(&format!("_table{index}"), self.tables[index]);
        }
        exports.add(MEMORY, self.memory);
        exports.add(TABLE, self.tables[self.table]);
        self.lengthen_table(crossing.table_len);
        self.take_data(data)
    }

    /// Keeps the second file's functions and data, and imports all else.
    fn become_second(&mut self, crossing: &Crossing, data: Vec<(u32, Vec<u8>)>) -> Result<()> {
        let module = &mut self.module;
        module.start = None;
        let old: Vec<_> = module.exports.iter().map(|export| export.id()).collect();
        old.into_iter().for_each(|id| module.exports.delete(id));
        let old: Vec<_> = module.elements.iter().map(|element| element.id()).collect();
        old.into_iter().for_each(|id| module.elements.delete(id));
        let old: Vec<_> = module.data.iter().map(|data| data.id()).collect();
        old.into_iter().for_each(|id| module.data.delete(id));
        for table in module.tables.iter_mut() {
            table.elem_segments.clear();
        }

        for (name, index) in &crossing.exported {
            self.import(FIRST, name, *index);
        }
        for (index, &id) in self.functions.iter().enumerate() {
            if crossing.later[index] || crossing.shared.contains(&index) {
                continue;
            }
            if let FunctionKind::Import(import) = &self.module.funcs.get(id).kind {
                let import = import.import;
                self.module.imports.delete(import);
            }
            self.module.funcs.delete(id);
        }
        let module = &mut self.module;
        for &index in &crossing.globals {
            let id = self.globals[index];
            let import = module.imports.add(FIRST, &format!("_global{index}"), id);
            module.globals.get_mut(id).kind = GlobalKind::Import(import);
        }
        for &index in &crossing.tables {
            let id = self.tables[index];
            let import = module.imports.add(FIRST, &format!("_table{index}"), id);
            module.tables.get_mut(id).import = Some(import);
        }
        let import = module.imports.add(FIRST, MEMORY, self.memory);
        let memory = module.memories.get_mut(self.memory);
        memory.import = Some(import);
        memory.data_segments.clear();
        self.lengthen_table(crossing.table_len);
        for (address, bytes) in data {
            self.add_data(address, bytes);
        }
        let table = self.tables[self.table];
        for (start, run) in runs(&crossing.slots) {
            let functions = run.iter().map(|&index| self.functions[index]).collect();
            let offset = constant(u32::try_from(start)?);
            let kind = ElementKind::Active { table, offset };
            let elements = &mut self.module.elements;
            let id = elements.add(kind, ElementItems::Functions(functions));
            let table = self.module.tables.get_mut(table);
            table.elem_segments.insert(id);
        }
        walrus::passes::gc::run(&mut self.module);
        Ok(())
    }

    /// Makes a function one that comes from elsewhere.
    fn import(&mut self, from: &str, name: &str, index: Index) {
        let id = self.functions[index];
        let ty = self.module.funcs.get(id).ty();
        let import = self.module.imports.add(from, name, id);
        let function = self.module.funcs.get_mut(id);
        function.kind = FunctionKind::Import(ImportedFunction { import, ty });
    }

    fn lengthen_table(&mut self, len: u64) {
        let table = self.module.tables.get_mut(self.tables[self.table]);
        table.initial = len;
        table.maximum = table.maximum.map(|maximum| maximum.max(len));
    }

    /// In which places of the table each function stands.
    fn slots(&self) -> Result<BTreeMap<Index, Vec<u64>>> {
        let mut slots: BTreeMap<Index, Vec<u64>> = BTreeMap::new();
        for element in self.module.elements.iter() {
            let start = match &element.kind {
                ElementKind::Active { table, offset } if *table == self.tables[self.table] => {
                    address(offset)?
                }
                ElementKind::Active { .. } | ElementKind::Declared => continue,
                ElementKind::Passive => bail!("a list of functions without a place"),
            };
            let ElementItems::Functions(functions) = &element.items else {
                bail!("a list of functions that are not plain ones");
            };
            for (at, id) in functions.iter().enumerate() {
                let index = place(&self.functions, id)?;
                let slots = slots.entry(index).or_default();
                slots.push(u64::from(start) + at as u64);
            }
        }
        Ok(slots)
    }

    /// Takes `ranges` out of the data and answers them with their bytes.
    fn take_data(&mut self, ranges: &[Range<u32>]) -> Result<Vec<(u32, Vec<u8>)>> {
        let mut taken = Vec::new();
        let segments: Vec<_> = self.module.data.iter().map(|data| data.id()).collect();
        for id in segments {
            let data = self.module.data.get(id);
            let DataKind::Active { offset, .. } = &data.kind else {
                bail!("a segment of data without a place");
            };
            let start = address(offset)?;
            let bytes = data.value.clone();
            let end = start + u32::try_from(bytes.len())?;
            let inside = |range: &&Range<u32>| range.start >= start && range.end <= end;
            let cut: Vec<_> = ranges.iter().filter(inside).collect();
            if cut.is_empty() {
                continue;
            }
            let slice = |bytes: &[u8], from: u32, to: u32| {
                bytes[(from - start) as usize..(to - start) as usize].to_vec()
            };
            self.module.data.delete(id);
            let memory = self.module.memories.get_mut(self.memory);
            memory.data_segments.remove(&id);
            let mut at = start;
            for range in cut {
                if range.start > at {
                    self.add_data(at, slice(&bytes, at, range.start));
                }
                taken.push((range.start, slice(&bytes, range.start, range.end)));
                at = range.end;
            }
            if at < end {
                self.add_data(at, slice(&bytes, at, end));
            }
        }
        let moved: u32 = ranges.iter().map(|range| range.end - range.start).sum();
        if taken.iter().map(|(_, bytes)| bytes.len()).sum::<usize>() != moved as usize {
            bail!("some of the second file's data lies in no segment");
        }
        Ok(taken)
    }

    fn add_data(&mut self, at: u32, bytes: Vec<u8>) {
        let kind = DataKind::Active {
            memory: self.memory,
            offset: constant(at),
        };
        let id = self.module.data.add(kind, bytes);
        let memory = self.module.memories.get_mut(self.memory);
        memory.data_segments.insert(id);
    }
}

/// What a function refers to.
#[derive(Default)]
struct Uses {
    functions: HashSet<FunctionId>,
    globals: HashSet<GlobalId>,
    tables: HashSet<TableId>,
}

impl Visitor<'_> for Uses {
    fn visit_function_id(&mut self, id: &FunctionId) {
        self.functions.insert(*id);
    }
    fn visit_global_id(&mut self, id: &GlobalId) {
        self.globals.insert(*id);
    }
    fn visit_table_id(&mut self, id: &TableId) {
        self.tables.insert(*id);
    }
}

/// The place of an id among all, which come in order.
fn place<T: Ord>(ids: &[T], id: &T) -> Result<Index> {
    ids.binary_search(id)
        .map_err(|_| anyhow::anyhow!("something refers to what is not there"))
}

/// The places in order, joined where one follows the other.
fn runs(slots: &BTreeMap<Index, Vec<u64>>) -> Vec<(u64, Vec<Index>)> {
    let mut places: Vec<(u64, Index)> = slots
        .iter()
        .flat_map(|(&index, places)| places.iter().map(move |&place| (place, index)))
        .collect();
    places.sort_unstable();
    let mut runs: Vec<(u64, Vec<Index>)> = Vec::new();
    for (place, index) in places {
        match runs.last_mut() {
            Some((start, run)) if *start + run.len() as u64 == place => run.push(index),
            _ => runs.push((place, vec![index])),
        }
    }
    runs
}

fn address(offset: &ConstExpr) -> Result<u32> {
    match offset {
        ConstExpr::Value(ir::Value::I32(value)) => Ok(value.cast_unsigned()),
        _ => bail!("a place that is no plain number"),
    }
}

fn constant(value: u32) -> ConstExpr {
    ConstExpr::Value(ir::Value::I32(value.cast_signed()))
}

/// A short name for an export, with a mark that wasm-bindgen's have not.
fn short(mut number: usize) -> String {
    let mut name = String::new();
    loop {
        name.push(char::from(b'a' + (number % 26) as u8));
        number /= 26;
        if number == 0 {
            return format!("_{name}");
        }
    }
}
