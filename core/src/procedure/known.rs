//! Which planned part each part of a job stands for.
use super::PlannedPart;
use crate::job::{Job, Part};
use crate::journal::PartId;
use rustc_hash::{FxHashMap, FxHashSet};

/// For each part of the job, what its procedure calls it: by the key that it came
/// off by, else by its name, one for one, as what was off before the procedure
/// was followed has no key of it. None where the procedure does not know it.
pub fn known_parts(job: &Job) -> Vec<(PartId, Option<&str>)> {
    let plan: &[PlannedPart] = job.procedure.as_ref().map_or(&[], |it| &it.parts);
    let keys: FxHashSet<&str> = plan.iter().map(|it| it.key.as_str()).collect();
    let by_key = |part: &'_ Part| -> Option<&str> {
        let key = part.planned.as_deref()?;
        keys.get(key).copied()
    };
    let taken: FxHashSet<&str> = job.parts.rows().filter_map(by_key).collect();
    let same = |name: &str| name.trim().to_lowercase();
    let mut open: FxHashMap<String, Vec<&str>> = FxHashMap::default();
    // The first of several of one name is met first.
    for it in plan
        .iter()
        .rev()
        .filter(|it| !taken.contains(it.key.as_str()))
    {
        open.entry(same(&it.name)).or_default().push(&it.key);
    }
    let parts = job.parts.iter().map(|(id, part)| {
        let key = by_key(part).or_else(|| match open.is_empty() {
            true => None,
            false => open.get_mut(&same(&part.name))?.pop(),
        });
        (id, key)
    });
    parts.collect()
}
