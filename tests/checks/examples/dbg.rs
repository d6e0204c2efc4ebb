use countback_checks::dice::Dice;
use countback_checks::refit::*;
use countback_checks::whole_job::*;
use countback_core::access;
use countback_core::journal::*;
fn t(t: &Target) -> String {
    match t {
        Target::Part(p) => format!("P{}", p.0.clock),
        Target::Fixing(p) => format!("F{}", p.0.clock),
        Target::Connection(c) => format!("C{}", c.0.clock),
        Target::End(e) => format!("C{}{:?}", e.connection.0.clock, e.side),
        o => format!("{o:?}").replace("Id(Ref ", ""),
    }
}
fn main() {
    let a: Vec<String> = std::env::args().collect();
    let mut dice = Dice::new(a[1].parse().unwrap());
    let mut b = strip(
        &mut dice,
        Draw {
            parts: a[2].parse().unwrap(),
            made_safe: true,
            late: a.len() > 3,
        },
    );
    let r = std::panic::catch_unwind(std::panic::AssertUnwindSafe(|| {
        Refit {
            bench: &mut b,
            dice: &mut dice,
            omit: Omit::Nothing,
            fine: true,
            circles: 0,
        }
        .run()
    }));
    println!("{}", r.is_ok());
    for (id, p) in b.job().parts.iter() {
        println!(
            "P{} {:?} after {:?} fix {:?} ends {:?} carried {:?}",
            id.0.clock,
            p.state,
            p.after.iter().map(|n| t(&n.first)).collect::<Vec<_>>(),
            p.fixings
                .iter()
                .map(|f| (
                    f.0.clock,
                    b.job().fixings.get(*f).unwrap().finished(),
                    b.job()
                        .fixings
                        .get(*f)
                        .unwrap()
                        .parts
                        .iter()
                        .map(|p| p.0.clock)
                        .collect::<Vec<_>>()
                ))
                .collect::<Vec<_>>(),
            p.ends
                .iter()
                .map(|e| t(&Target::End(*e)))
                .collect::<Vec<_>>(),
            p.carried_by.map(|p| p.0.clock)
        );
    }
    for (id, c) in b.job().connections.iter() {
        println!(
            "C{} after {:?} a on {:?} {:?} b on {:?} {:?} route {:?}",
            id.0.clock,
            c.after.iter().map(|n| t(&n.first)).collect::<Vec<_>>(),
            c.a.end.on.map(|p| p.0.clock),
            c.a.state,
            c.b.end.on.map(|p| p.0.clock),
            c.b.state,
            c.route
                .iter()
                .map(|r| (r.kind, r.part.map(|p| p.0.clock)))
                .collect::<Vec<_>>()
        );
    }
    for a in access::back(b.job()).acts {
        println!(
            "{} begun {} {}",
            t(&a.what),
            a.begun,
            match a.stand {
                access::Stand::Blocked(v) =>
                    format!("blocked {:?}", v.iter().map(t).collect::<Vec<_>>()),
                o => format!("{o:?}"),
            }
        );
    }
    println!(
        "circle {:?}",
        access::back(b.job())
            .circle
            .iter()
            .map(t)
            .collect::<Vec<_>>()
    );
    for o in b.audit().open {
        println!(
            "{:?} {} {:?}",
            o.rule,
            t(&o.on),
            o.with.iter().map(t).collect::<Vec<_>>()
        );
    }
}
