//! Every kind of act, command, refusal and rule by name, in lists that do not
//! compile while one is missing or stands twice.
use countback_core::audit::Rule;
use countback_core::job::{Command, Refusal};
use countback_core::journal::Act;

macro_rules! kinds {
    ($(#[$doc:meta])* $all:ident, $of:ident: $type:ident { $($kind:ident)+ }) => {
        $(#[$doc])*
        pub const $all: &[&str] = &[$(stringify!($kind)),+];
        /// Its name in the list.
        pub fn $of(it: &$type) -> &'static str {
            match it {
                $($type::$kind { .. } => stringify!($kind)),+
            }
        }
    };
}

kinds! {
    /// What can happen.
    ACTS, act: Act {
        JobOpened JobDescribed ProcedureAttached SafeStepListed SafeStepConfirmed PartOff
        PartOffAgain PartDescribed Named Numbered CameAfter WayNoted FixingUndone FixingDescribed
        AlsoHolds ExtraAdded FastenersUndone FastenerBroke PlaceRepaired ConnectionLogged Routed EndParted ItemRemoved
        ContainerNamed ContainerMoved OpeningMade PutIn TakenOut FluidDrained FluidFilled
        FluidBled LevelSeen JointHolds TreatmentPrescribed TreatmentApplied SupplyIsolated
        SupplyRestored FindingNoted Decided WorkDone BuyListed Ordered Arrived PartReplaced
        FixingRenewed OldKept LookedAt FixingMeasured HoleMeasured Moved StockAdded
        StrayFound StrayMeasured StrayIdentified StraySettled LeftOff PartPlaced Started Tightened
        AdapterSet SecondLookSet LastRoundAsked WentRound RoundSet RingSet FinalHeld Doubted
        ExtraFitted ItemFitted EndPushed EndSecured Checked AfterRunOwed AfterRunDone
        Touched WentOn MeterRead Ran PhotoTaken MarkSet NoteAdded Struck Excepted SignedOff
        Reopened
    }
}

kinds! {
    /// What a person can ask for.
    COMMANDS, command: Command {
        Open Record TakeOff AddFixing Bag PartEnd TakeOffAgain PlacePart Start Tighten
        TightenAnyway GoRound FitExtras FitOther FitItem SayLate Reached Rejoin Check Fill Run
        CheckDone Recount LeaveOff LeaveEmpty Replace Strike StrikeLast Except SignOff Reopen
    }
}

kinds! {
    /// Why it can be refused.
    REFUSALS, refusal: Refusal {
        Unknown NotOpen OpenAlready SignedOff NameMissing CountZero CountTooLarge
        CountsDoNotFit NotThere TagTaken TagWrong PartIsOff PartIsBack Circle NothingToHold
        StackIncomplete WrongThing WrongExtra ShutOver Covered FinalHeld NotFilled NoJoint
        NoLastRound BadRound PlaceUnknown PlaceIs WouldBury StillFastened EndIs WrongEnd
        Curing NotReady NotDue MeterLower AlreadySo NeedsNew RepairFirst SameName MarkStays
        TorqueAfterAngle ReasonMissing StillOwed NotOwed BuiltOn CannotStrike StruckAlready
        StillInside NotDecided NoPlaceFor StageUnknown HoldsTooLittle WouldBottom
    }
}

kinds! {
    /// What can be owed.
    RULES, rule: Rule {
        TakeOut MakeSafe RepairPlace WrongThing WouldBottom HoldsTooLittle HoleOld OldOrNew
        LookAt WrongExtra WrongEnd NotNew OldItemIn OtherPart FinalTooEarly PlacePart
        StartFasteners FitExtra Rejoin Renew Apply Tighten LastRound Secure Doubtful NotSure
        ClosedLate Curing Fill Bleed LessIn Restore Decide DoWork IndependentCheck Missing
        Stray LeftOver Unbalanced Misfit SaidTwice Circle Buried AfterRun
    }
}
