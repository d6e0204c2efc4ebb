//! Any act at all, well-formed as a value but of no particular job: for checks
//! of what must hold whatever was logged. One entry for each act, so longer
//! than most files.
use countback_core::audit::Rule;
use countback_core::fastener::*;
use countback_core::journal::*;
use countback_core::procedure::*;
use countback_core::torque::TorqueUnit;
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;

/// A value made of fields drawn each by itself.
macro_rules! with {
    ($($field:ident in $from:expr),+ => $value:expr) => {
        ($($from,)+).prop_map(|($($field,)+)| $value).boxed()
    };
}

type Any<T> = BoxedStrategy<T>;

/// Any event: any act under any id, time and name.
pub fn any_event() -> Any<Event> {
    let id = || with!(clock in any::<u32>(), device in any::<u64>() => EventId::new(clock, DeviceId(device)));
    with!(id in id(), other in option::of(id()), at in any::<i64>(), by in text(), act in any_act() => Event {
        id, with: other.unwrap_or(id), at, by, act,
    })
}

/// Words as people and devils write them, often none.
pub fn text() -> Any<String> {
    prop_oneof![
        Just(String::new()),
        "[a-z ]{1,12}",
        any::<String>(),
        select(
            &[
                "ü ß € Ω",
                "a \"b\" \\ c",
                "two\nlines\r\n",
                "\u{2028}\u{0}\u{7f}",
                "🔧 12 N·m",
                " | text=",
                "null"
            ][..]
        )
        .prop_map(str::to_owned),
    ]
    .boxed()
}

fn thing() -> Any<Ref> {
    with!(clock in any::<u32>(), sub in any::<u16>(), device in any::<u64>() => Ref { clock, sub, device: DeviceId(device) })
}

fn id<I: Id + 'static>() -> Any<I> {
    thing().prop_map(I::from_ref).boxed()
}

fn end_id() -> Any<EndId> {
    with!(connection in id(), side in select(&[Side::A, Side::B][..]) => EndId { connection, side })
}

/// Anything that can be pointed at.
pub fn any_target() -> Any<Target> {
    prop_oneof![
        Just(Target::Job),
        id().prop_map(Target::Part),
        id().prop_map(Target::Fixing),
        id().prop_map(Target::Connection),
        end_id().prop_map(Target::End),
        id().prop_map(Target::Item),
        id().prop_map(Target::Container),
        id().prop_map(Target::Opening),
        id().prop_map(Target::Inside),
        id().prop_map(Target::Fluid),
        id().prop_map(Target::Treatment),
        id().prop_map(Target::Supply),
        id().prop_map(Target::Step),
        id().prop_map(Target::Finding),
        id().prop_map(Target::Buy),
        id().prop_map(Target::Stray),
        id().prop_map(Target::AfterRun),
        id().prop_map(Target::Line),
    ]
    .boxed()
}

fn account() -> Any<Account> {
    prop_oneof![
        id().prop_map(Account::Fixing),
        id().prop_map(Account::Item),
        id().prop_map(Account::Part),
        id().prop_map(Account::Inside),
        id().prop_map(Account::Container),
        select(
            &[
                Account::Bench,
                Account::Scrapped,
                Account::Missing,
                Account::Spare,
                Account::LeftOff
            ][..]
        ),
    ]
    .boxed()
}

fn hole() -> Any<Hole> {
    use countback_core::torque::hole::HoleMetal::*;
    let metals = [
        Steel, CastIron, Brass, Aluminium, Magnesium, Insert, Plastic,
    ];
    with!(parts_um in any::<u32>(), washers_um in any::<u32>(), depth_um in any::<u32>(), metal in option::of(select(metals.to_vec()))
        => Hole { parts_um, washers_um, depth_um, metal })
}

/// Any fastener that can be stored.
pub fn any_spec() -> Any<FastenerSpec> {
    let inch = || {
        prop_oneof![
            any::<u8>().prop_map(InchSize::Number),
            (1..u16::MAX).prop_map(InchSize::Sixtyfourths)
        ]
    };
    let thread = prop_oneof![
        (1..u32::MAX, 1..u32::MAX).prop_map(|(d, p)| Thread::metric(d, p)),
        (inch(), 1..u8::MAX).prop_map(|(size, tpi)| Thread::Unified { size, tpi }),
        (select(&PipeForm::ALL[..]), inch()).prop_map(|(form, size)| Thread::Pipe { form, size }),
    ];
    let size = prop_oneof![
        any::<u32>().prop_map(DriveSize::Um),
        inch().prop_map(DriveSize::Inch),
        any::<u8>().prop_map(DriveSize::Number),
    ];
    let head = with!(drive in select(&Drive::ALL[..]), size in option::of(size) => HeadSize { drive, size });
    with!(
        kind in select(&FastenerKind::ALL[..]), head in option::of(head), thread in option::of(thread),
        length_um in option::of(any::<u32>()), class in option::of(select(&PropertyClass::ALL[..])), text in text()
        => FastenerSpec { kind, head, thread, length_um, class, text }
    )
}

fn torque_unit() -> Any<TorqueUnit> {
    use TorqueUnit::*;
    select(
        &[
            NewtonMetre,
            PoundForceFoot,
            PoundForceInch,
            KilogramForceMetre,
            KilogramForceCentimetre,
        ][..],
    )
    .boxed()
}

fn figure() -> Any<Figure> {
    prop_oneof![
        (any::<u32>(), torque_unit()).prop_map(|(milli, unit)| Figure::Torque { milli, unit }),
        any::<u16>().prop_map(|degrees| Figure::Angle { degrees }),
    ]
    .boxed()
}

fn meter() -> Any<Meter> {
    use MeterKind::*;
    with!(kind in select(&[Kilometres, Miles, Hours][..]), tenths in any::<u32>() => Meter { kind, tenths })
}

fn job_head() -> Any<JobHead> {
    let length = select(&[LengthUnit::Millimetre, LengthUnit::Inch][..]);
    let units = with!(torque in torque_unit(), length in length => Units { torque, length });
    with!(title in text(), machine in text(), aim in text(), meter in option::of(meter()), units in units
        => JobHead { title, machine, aim, meter, units })
}

fn safe_step() -> Any<SafeStep> {
    use SafeKind::*;
    let kind = select(&[BatteryOff, Supported, Cooled, PressureReleased, Other][..]);
    with!(kind in kind, text in text() => SafeStep { kind, text })
}

fn needs() -> Any<Vec<Need>> {
    use Why::*;
    let why = select(
        &[
            BlocksReach,
            Hides,
            Attached,
            SharesFixing,
            Supports,
            RoutedThrough,
        ][..],
    );
    vec(
        with!(first in any_target(), why in why => Need { first, why }),
        0..3,
    )
    .boxed()
}

fn hazards() -> Any<Vec<Hazard>> {
    use Hazard::*;
    let all = &[
        Raised,
        Fuel,
        HotCoolant,
        Battery,
        Airbag,
        Spring,
        BrakesSteering,
        Refrigerant,
        HighVoltage,
        Hydraulic,
        HotExhaust,
        Belts,
        Boat,
        Chemical,
        Dust,
        Lifting,
    ][..];
    vec(select(all), 0..3).boxed()
}

fn places() -> Any<Vec<u16>> {
    vec(any::<u16>(), 0..4).boxed()
}

fn targets() -> Any<Vec<Target>> {
    vec(any_target(), 0..3).boxed()
}

fn tolerance() -> Any<Tolerance> {
    prop_oneof![
        any::<u8>().prop_map(Tolerance::Percent),
        figure().prop_map(Tolerance::By),
    ]
    .boxed()
}

fn detail() -> Any<FixingDetail> {
    use WayIn::*;
    let way = select(&[Above, Below, Front, Behind, Side, Inside, WheelOff][..]);
    let full = with!(
        stages in vec(figure(), 0..3), tolerance in option::of(tolerance()),
        meant_for in option::of(select(&[MeantFor::Dry, MeantFor::Oiled][..])),
        running in option::of(figure()), source in text(), tool in text(), way in option::of(way),
        spanner_only in any::<bool>(), watch in text(), safety in any::<bool>()
        => FixingDetail { stages, tolerance, meant_for, running, source, tool, way, spanner_only, watch, safety }
    );
    prop_oneof![Just(FixingDetail::default()), full].boxed()
}

fn reuse() -> Any<Reuse> {
    select(&[Reuse::Reuse, Reuse::Renew, Reuse::Inspect][..]).boxed()
}

fn joint() -> Any<Joint> {
    use Joint::*;
    select(&[PushOn, Clamped, Clicked, Threaded, UnionBolt][..]).boxed()
}

fn connection_kind() -> Any<ConnectionKind> {
    use ConnectionKind::*;
    select(&[Hose, Pipe, Plug, Cable, Linkage][..]).boxed()
}

fn item_kind() -> Any<ItemKind> {
    use ItemKind::*;
    let all = &[
        Gasket,
        CrushWasher,
        ORing,
        Seal,
        SplitPin,
        StretchBolt,
        LockNut,
        Clip,
        Other,
    ][..];
    select(all).boxed()
}

fn run_kind() -> Any<AfterRunKind> {
    use AfterRunKind::*;
    select(&[LeakCheck, LevelCheck, Retighten, Other][..]).boxed()
}

fn due() -> Any<Due> {
    let full = with!(heat_cycles in any::<u16>(), km in any::<u32>(), hours in any::<u32>(), days in any::<u32>()
        => Due { heat_cycles, km, hours, days });
    prop_oneof![Just(Due::default()), full].boxed()
}

fn end() -> Any<End> {
    with!(on in option::of(id()), label in text(), joint in joint(), clamp in text(), parted in any::<bool>()
        => End { on, label, joint, clamp, parted })
}

fn route() -> Any<Route> {
    use RouteKind::*;
    let kind = select(&[Through, Behind, ClippedTo][..]);
    with!(kind in kind, part in option::of(id()), text in text() => Route { kind, part, text })
}

fn extra() -> Any<Extra> {
    with!(spec in any_spec(), per_place in any::<u8>() => Extra { spec, per_place })
}

fn want() -> Any<Want> {
    prop_oneof![
        id().prop_map(Want::Item),
        id().prop_map(Want::Fixing),
        id().prop_map(Want::Extra),
        id().prop_map(Want::Line)
    ]
    .boxed()
}

/// Any procedure whose parts have keys of their own and come off in order.
pub fn any_procedure() -> Any<Procedure> {
    let fixing = with!(spec in any_spec(), count in any::<u16>(), place in text(), numbers in vec(any::<u16>(), 0..3), extras in vec(extra(), 0..2), reuse in reuse(), detail in detail(),
        round in option::of(planned_round()), last_round in any::<bool>(), also in vec(text(), 0..2)
        => PlannedFixing { spec, count, place, numbers, extras, reuse, detail, round, last_round, also });
    let far = with!(off in any::<bool>(), on in text(), joint in option::of(joint()), clamp in text()
        => PlannedEnd { off, on, joint, clamp });
    let run_by = with!(kind in select(&[RouteKind::Through, RouteKind::Behind, RouteKind::ClippedTo][..]), by in text(), text in text()
        => PlannedRoute { kind, by, text });
    let planned_treatment = with!(it in treatment(), fixing in option::of(any::<u16>())
        => PlannedTreatment { treatment: Treatment { on: Target::Job, ..it }, fixing });
    let connection = with!(kind in connection_kind(), name in text(), a in text(), b in text(), joint in joint(),
        clamp in text(), away in any::<bool>(), stays in any::<bool>(), far in far, route in option::of(run_by)
        => PlannedConnection { kind, name, a, b, joint, clamp, away, stays, far, route, after: Vec::new(), ways: Vec::new() });
    let item = with!(kind in item_kind(), name in text(), size in text(), count in any::<u16>()
        => PlannedItem { kind, name, size, count });
    let part = with!(
        first in any::<proptest::sample::Index>(), name in text(), lies in text(), hazards in hazards(), note in text(),
        fixings in vec(fixing, 0..3), connections in vec(connection, 0..2), items in vec(item, 0..2),
        openings in vec(text(), 0..2), treatments in vec(planned_treatment, 0..2),
        others in vec(vec(any::<proptest::sample::Index>(), 0..3), 0..3)
        => (first, others, PlannedPart { key: String::new(), name, lies, after: Vec::new(), ways: Vec::new(), hazards, note, fixings, connections, items, openings, treatments })
    );
    let fluid = with!(name in text(), amount in text(), bleed in any::<bool>() => PlannedFluid { name, amount, bleed });
    let run =
        with!(kind in run_kind(), text in text(), due in due() => PlannedRun { kind, text, due });
    with!(
        title in text(), machine in text(), aim in text(), safe in vec(safe_step(), 0..3), parts in vec(part, 0..4),
        fluids in vec(fluid, 0..2), after_run in vec(run, 0..2)
        => {
            type Drawn = (proptest::sample::Index, Vec<Vec<proptest::sample::Index>>, PlannedPart);
            let keyed = |(n, (first, others, mut part)): (usize, Drawn)| {
                part.key = format!("part {n}");
                // Keys stand only for parts that there are.
                let known = |key: &mut String| {
                    if !key.is_empty() {
                        *key = format!("part {}", key.len() % (n + 1));
                    }
                };
                for fixing in &mut part.fixings {
                    fixing.also.retain(|key| !key.is_empty());
                    fixing.also.iter_mut().for_each(known);
                }
                for connection in &mut part.connections {
                    known(&mut connection.far.on);
                    connection.route.iter_mut().for_each(|run| known(&mut run.by));
                }
                if n > 0 {
                    let key = |of: &proptest::sample::Index| format!("part {}", of.index(n));
                    part.after.push(key(&first));
                    part.ways = others.iter().map(|way| way.iter().map(key).collect()).collect();
                    for connection in &mut part.connections {
                        connection.after.clone_from(&part.after);
                        connection.ways.clone_from(&part.ways);
                    }
                }
                part
            };
            let parts = parts.into_iter().enumerate().map(keyed).collect();
            Procedure { title, machine, aim, safe, parts, fluids, after_run }
        }
    )
}

fn part_off() -> Any<PartOff> {
    with!(
        name in text(), lies in text(), aside in any::<bool>(), after in needs(), carried_by in option::of(id()),
        hazards in hazards(), note in text(), planned in option::of(text())
        => PartOff { name, lies, aside, after, carried_by, hazards, note, planned }
    )
}

fn fixing_undone() -> Any<FixingUndone> {
    with!(
        parts in vec(id(), 0..3), spec in any_spec(), place in text(), numbers in places(), count in any::<u16>(),
        slackened in any::<u16>(), found_empty in any::<u16>(), extras in vec(extra(), 0..3), reuse in reuse(),
        detail in detail(), to in vec((account(), any::<u16>()), 0..3)
        => FixingUndone { parts, spec, place, numbers, count, slackened, found_empty, extras, reuse, detail, to }
    )
}

fn connection_logged() -> Any<ConnectionLogged> {
    with!(
        kind in connection_kind(), name in text(), a in end(), b in end(), route in vec(route(), 0..3),
        after in needs(), tag in option::of(text())
        => ConnectionLogged { kind, name, a, b, route, after, tag }
    )
}

fn put_in() -> Any<PutIn> {
    use InsideKind::*;
    let kind = select(&[Rag, Tool, LockingPin, Support, Cover][..]);
    with!(
        kind in kind, name in text(), n in any::<u16>(), opening in option::of(id()), place in text(),
        hidden_by in option::of(id())
        => PutIn { kind, name, n, opening, place, hidden_by }
    )
}

fn treatment() -> Any<Treatment> {
    use TreatmentKind::*;
    let kind = select(&[Lubricant, Sealant, ThreadLocker][..]);
    with!(
        kind in kind, product in text(), on in any_target(), cure_min in any::<u32>(), open_min in option::of(any::<u32>()),
        holds_fill in any::<bool>(), holds_start in any::<bool>(), holds_cover in any::<bool>()
        => Treatment { kind, product, on, cure_min, open_min, holds_fill, holds_start, holds_cover }
    )
}

fn photo_taken() -> Any<PhotoTaken> {
    with!(
        hash in text(), thumb in text(), width in any::<u32>(), height in any::<u32>(), on in targets(), caption in text()
        => PhotoTaken { hash, thumb, width, height, on, caption }
    )
}

fn round() -> Any<Round> {
    let points = vec((any::<u16>(), any::<u16>()), 0..4);
    with!(
        fixing in id(), photo in option::of(id()), points in points, order in places(), maker in flag()
        => Round { fixing, photo, points, order, maker }
    )
}

fn adapter() -> Any<Adapter> {
    with!(wrench_mm in any::<u32>(), adapter_mm in any::<u32>(), angle in any::<u32>()
        => Adapter { wrench_mm, adapter_mm, angle })
}

fn planned_round() -> Any<PlannedRound> {
    let points = vec((any::<u16>(), any::<u16>()), 0..4);
    with!(points in points, order in places(), maker in any::<bool>() => PlannedRound { points, order, maker })
}

fn tight() -> Any<Tight> {
    prop_oneof![
        Just(Tight::Snug),
        any::<u8>().prop_map(Tight::Stage),
        Just(Tight::Final)
    ]
    .boxed()
}

fn container_kind() -> Any<ContainerKind> {
    use ContainerKind::*;
    select(&[Bag, Tray, Box, Shelf, Card][..]).boxed()
}

fn supply_kind() -> Any<SupplyKind> {
    use SupplyKind::*;
    select(&[Battery, Fuel, Air, Water, Hydraulic, Other][..]).boxed()
}

fn decision() -> Any<Decision> {
    use Decision::*;
    select(&[Refit, Clean, Repair, Renew, LeaveOff][..]).boxed()
}

fn flag() -> Any<bool> {
    any::<bool>().boxed()
}

fn n() -> Any<u32> {
    any::<u32>().boxed()
}

/// Any act, each kind as often as every other.
pub fn any_act() -> Any<Act> {
    proptest::strategy::Union::new(each_act()).boxed()
}

/// A strategy for each kind of act.
pub fn each_act() -> Vec<Any<Act>> {
    let u16s = any::<u16>;
    vec![
        job_head().prop_map(Act::JobOpened).boxed(),
        job_head().prop_map(Act::JobDescribed).boxed(),
        any_procedure().prop_map(Act::ProcedureAttached).boxed(),
        safe_step().prop_map(Act::SafeStepListed).boxed(),
        with!(step in id() => Act::SafeStepConfirmed { step }),
        part_off().prop_map(|it| Act::PartOff(Box::new(it))).boxed(),
        with!(part in id(), aside in flag() => Act::PartOffAgain { part, aside }),
        with!(part in id(), name in text(), lies in text(), note in text() => Act::PartDescribed { part, name, lies, note }),
        with!(what in any_target(), name in text() => Act::Named { what, name }),
        with!(fixing in id(), numbers in places() => Act::Numbered { fixing, numbers }),
        with!(what in any_target(), needs in needs() => Act::CameAfter { what, needs }),
        with!(what in any_target(), needs in needs() => Act::WayNoted { what, needs }),
        fixing_undone()
            .prop_map(|it| Act::FixingUndone(Box::new(it)))
            .boxed(),
        with!(fixing in id(), detail in detail() => Act::FixingDescribed { fixing, detail }),
        with!(fixing in id(), part in id() => Act::AlsoHolds { fixing, part }),
        with!(fixing in id(), extra in extra(), under in any::<u16>(), to in account() => Act::ExtraAdded { fixing, extra, under, to }),
        with!(fixing in id(), places in places(), out in flag(), to in account() => Act::FastenersUndone { fixing, places, out, to }),
        with!(fixing in id(), place in u16s(), stump_in in flag() => Act::FastenerBroke { fixing, place, stump_in }),
        with!(fixing in id(), place in u16s() => Act::PlaceRepaired { fixing, place }),
        connection_logged()
            .prop_map(|it| Act::ConnectionLogged(Box::new(it)))
            .boxed(),
        with!(connection in id(), route in route() => Act::Routed { connection, route }),
        with!(end in end_id() => Act::EndParted { end }),
        with!(kind in item_kind(), name in text(), size in text(), count in u16s(), on in any_target()
            => Act::ItemRemoved(ItemRemoved { kind, name, size, count, on })),
        with!(tag in text(), kind in container_kind(), name in text(), lies in text() => Act::ContainerNamed { tag, kind, name, lies }),
        with!(container in id(), lies in text() => Act::ContainerMoved { container, lies }),
        with!(name in text(), on in option::of(id()), shut_by in option::of(id()) => Act::OpeningMade { name, on, shut_by }),
        put_in().prop_map(Act::PutIn).boxed(),
        with!(inside in id(), n in n() => Act::TakenOut { inside, n }),
        with!(name in text(), amount in text(), bleed in flag() => Act::FluidDrained { name, amount, bleed }),
        with!(fluid in id(), amount in text() => Act::FluidFilled { fluid, amount }),
        with!(fluid in id() => Act::FluidBled { fluid }),
        treatment().prop_map(Act::TreatmentPrescribed).boxed(),
        with!(treatment in id() => Act::TreatmentApplied { treatment }),
        with!(name in text(), kind in supply_kind() => Act::SupplyIsolated { name, kind }),
        with!(supply in id() => Act::SupplyRestored { supply }),
        with!(on in any_target(), text in text() => Act::FindingNoted { on, text }),
        with!(finding in id(), decision in decision(), reason in text() => Act::Decided { finding, decision, reason }),
        with!(finding in id() => Act::WorkDone { finding }),
        with!(what in text(), n in n(), on in any_target() => Act::BuyListed { what, n, on }),
        with!(want in want(), n in n() => Act::Ordered { want, n }),
        with!(want in want(), n in n() => Act::Arrived { want, n }),
        with!(part in id(), note in text(), as_ordered in flag() => Act::PartReplaced { part, note, as_ordered }),
        with!(fixing in id(), spec in any_spec(), reason in text() => Act::FixingRenewed { fixing, spec, reason }),
        with!(line in id(), from in account(), to in account(), n in n(), reason in text() => Act::Moved { line, from, to, n, reason }),
        with!(line in id(), to in account(), n in n() => Act::StockAdded { line, to, n }),
        with!(spec in any_spec(), place in text() => Act::StrayFound { spec, place }),
        with!(stray in id(), spec in any_spec() => Act::StrayMeasured { stray, spec }),
        with!(stray in id(), line in id() => Act::StrayIdentified { stray, line }),
        with!(stray in id(), reason in text() => Act::StraySettled { stray, reason }),
        with!(what in any_target(), places in places(), reason in text() => Act::LeftOff { what, places, reason }),
        with!(part in id(), buried in targets() => Act::PartPlaced { part, buried }),
        with!(fixing in id(), places in places(), line in id(), from in account() => Act::Started { fixing, places, line, from }),
        with!(fixing in id(), places in places(), to in tight(), value in option::of(figure()), set in option::of(figure())
            => Act::Tightened { fixing, places, to, value, set }),
        with!(what in any_target(), places in places() => Act::Doubted { what, places }),
        with!(fixing in id(), line in id(), from in account(), n in n() => Act::ExtraFitted { fixing, line, from, n }),
        with!(item in id(), n in n(), old in flag(), reason in text() => Act::ItemFitted { item, n, old, reason }),
        with!(end in end_id(), other in option::of(end_id()) => Act::EndPushed { end, seat: other.unwrap_or(end) }),
        with!(end in end_id() => Act::EndSecured { end }),
        with!(what in any_target(), places in places() => Act::Checked { what, places }),
        with!(what in run_kind(), on in any_target(), text in text(), due in due() => Act::AfterRunOwed { what, on, text, due }),
        with!(after_run in id(), reading in text() => Act::AfterRunDone { after_run, reading }),
        with!(what in any_target(), places in places(), sure in flag() => Act::Touched { what, places, sure }),
        meter().prop_map(Act::MeterRead).boxed(),
        with!(heat_cycles in u16s() => Act::Ran { heat_cycles }),
        photo_taken().prop_map(Act::PhotoTaken).boxed(),
        with!(photo in id(), number in u16s(), x in u16s(), y in u16s(), what in any_target() => Act::MarkSet { photo, number, x, y, what }),
        with!(on in any_target(), text in text() => Act::NoteAdded { on, text }),
        with!(clock in any::<u32>(), device in any::<u64>() => Act::Struck { event: EventId::new(clock, DeviceId(device)) }),
        with!(rule in select(&Rule::ALL[..]), on in any_target(), opened in thing(), reason in text()
            => Act::Excepted { owed: OwedKey { rule, on, opened: opened.event() }, reason }),
        with!(verdict in text() => Act::SignedOff { verdict }),
        with!(reason in text() => Act::Reopened { reason }),
        with!(fixing in id(), reason in text() => Act::OldKept { fixing, reason }),
        with!(fixing in id(), spec in any_spec() => Act::FixingMeasured { fixing, spec }),
        with!(fixing in id(), hole in hole() => Act::HoleMeasured { fixing, hole }),
        round().prop_map(Act::RoundSet).boxed(),
        with!(lines in vec(id(), 0..4), apart in flag(), order in vec((any::<u16>(), any::<u16>()), 0..5)
            => Act::RingSet(Ring { lines, apart, order })),
        with!(fixing in id(), until in select(&[Hold::Neighbours, Hold::Loaded, Hold::Hot][..]), met in flag() => Act::FinalHeld { fixing, until, met }),
        with!(fixing in id(), adapter in option::of(adapter()) => Act::AdapterSet { fixing, adapter }),
        with!(fixing in id(), asked in flag() => Act::LastRoundAsked { fixing, asked }),
        with!(fixing in id(), turned in flag(), value in option::of(figure()), set in option::of(figure())
            => Act::WentRound { fixing, turned, value, set }),
        with!(fluid in id(), amount in text() => Act::LevelSeen { fluid, amount }),
        with!(fluid in id(), on in any_target(), holds in flag() => Act::JointHolds { fluid, on, holds }),
        with!(what in any_target(), owed in flag() => Act::SecondLookSet { what, owed }),
        with!(what in any_target() => Act::WentOn { what }),
        with!(fixing in id() => Act::LookedAt { fixing }),
    ]
}
